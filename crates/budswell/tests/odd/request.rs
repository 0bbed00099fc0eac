//! One odd request after another: a seed and a number tell which, so that any of them can be sent again.

use super::{
    forms::{Field, Form},
    routes::Route,
};

/// What no page may ever show as it came.
pub const MARK: &str = "<b data-odd>";

/// What fingers, scripts and other programs leave in a field.
const ODD: [&str; 74] = [
    "",
    " ",
    "0",
    "-0",
    "1",
    "-1",
    "2.7",
    "0.1",
    "1e308",
    "-1e308",
    "1e-308",
    "1e400",
    "NaN",
    "inf",
    "-inf",
    "1,5",
    "1.2.3",
    "99999999999999999999",
    "9223372036854775807",
    "-9223372036854775808",
    "4294967296",
    "0x10",
    "١٢",
    "１２",
    "½",
    "٢٠٢٦-٠٣-٠٨",
    "2026-02-30",
    "2026-13-01",
    "9999-12-31",
    "9999-12-31T23:59",
    "0000-01-01",
    "-000001-01-01",
    "-9999-01-01",
    "1969-12-31",
    "1899-12-31",
    "2026-03-08",
    "2026-03-09",
    "2027-01-01",
    "2026-03-29T02:30",
    "2026-03-08T05:00",
    "2026-03-08 05:00\n",
    "2026-W10-7",
    "20260308",
    "24:00",
    "23:59:60",
    "25:00",
    "-2 kg",
    "1e30 kg",
    "80 CHF",
    "-80 CHF",
    "101 %",
    "-5 %",
    "1 mile",
    "12 in",
    "0 mm",
    "<b data-odd>",
    "\"><b data-odd>",
    "'><b data-odd>",
    "</textarea><b data-odd>",
    "<script>alert(1)</script>",
    "' OR 1=1 --",
    "'; DROP TABLE tree; --",
    "%00",
    "\0",
    "\u{1b}[31mred\u{1b}[0m",
    "\u{202e}abc\u{2066}",
    "\u{200f}",
    "\u{feff}",
    "a\r\nSet-Cookie: a=b",
    "line\nline",
    "../../../etc/passwd",
    "//elsewhere.example/",
    "!!!",
    "e\u{301}\u{301}\u{301}",
];

/// Numbers of our own that a form may name.
const KEYS: [&str; 30] = [
    "old-trident",
    "red-lantern",
    "stone-elm",
    "field-maple",
    "olive",
    "nobody",
    "cold-frame",
    "long-bench",
    "attic",
    "open-mix",
    "fine-mix",
    "celadon-oval-22-cm",
    "celadon-oval-46-cm",
    "acer-palmatum",
    "repot",
    "trim",
    "remove",
    "watered",
    "copper",
    "aluminium",
    "air-layer",
    "keep-short",
    "promised",
    "yes",
    "now",
    "morning",
    "evening",
    "gone",
    "broken",
    "2026",
];

/// A source of choices (splitmix64, Steele, Lea and Flood 2014).
pub struct Chance(u64);

impl Chance {
    /// The choices of one case of a seed.
    pub fn new(seed: u64, case: u64) -> Chance {
        Chance(seed.wrapping_mul(0x2545_f491_4f6c_dd1d) ^ case.wrapping_mul(0x9e37_79b9_7f4a_7c15))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    pub fn below(&mut self, count: usize) -> usize {
        (self.next() % count.max(1) as u64) as usize
    }

    /// True so many times of a hundred.
    pub fn of_100(&mut self, times: usize) -> bool {
        self.below(100) < times
    }

    pub fn one<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[self.below(list.len())]
    }

    fn odd(&mut self) -> String {
        match self.below(20) {
            0 => "x".repeat(1 << (6 + self.below(12))),
            1 => format!("{}{MARK}", self.one(&KEYS)),
            2..=4 => self.one(&KEYS).to_string(),
            _ => self.one(&ODD).to_string(),
        }
    }
}

/// A request as it goes over the line, and how a reader may see it.
pub struct Sent {
    pub bytes: Vec<u8>,
    pub shown: String,
}

/// As a browser writes a value in an address or a form.
pub fn encoded(text: &str) -> String {
    let letter = |byte: u8| match byte {
        b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' => char::from(byte).to_string(),
        other => format!("%{other:02X}"),
    };
    text.bytes().map(letter).collect()
}

/// An address with some of its parts changed.
fn address(chance: &mut Chance, path: &str, route: &Route) -> String {
    let (path, query) = path.split_once('?').map_or((path, None), |(path, query)| (path, Some(query)));
    let path = path.split('#').next().unwrap_or("");
    let swap = |(ours, theirs): (&str, &str)| {
        let is_name = ours.starts_with('{');
        if is_name && chance.of_100(8) {
            encoded(&chance.odd()).replace("%2E", ".")
        } else {
            theirs.to_string()
        }
    };
    let parts: Vec<String> = route.path.split('/').zip(path.split('/')).map(swap).collect();
    let path = parts.join("/");
    query.map_or(path.clone(), |query| format!("{path}?{query}"))
}

/// A page asked for with an odd query.
pub fn get(chance: &mut Chance, host: &str, route: &Route, path: &str, names: &[String]) -> Sent {
    let mut address = address(chance, path.split('?').next().unwrap_or(""), route);
    let pairs: Vec<String> = (0..chance.below(4))
        .map(|_| {
            format!(
                "{}={}",
                encoded(chance.one(names).as_str()),
                encoded(&chance.odd().chars().take(2000).collect::<String>())
            )
        })
        .collect();
    if !pairs.is_empty() {
        address = format!("{address}?{}", pairs.join("&"));
    }
    let text = format!("GET {address} HTTP/1.1\r\nHost: {host}\r\n\r\n");
    Sent { bytes: text.clone().into_bytes(), shown: text }
}

/// A form filled in: mostly as it should be with one thing odd, at times all odd, at times nothing.
pub fn post(chance: &mut Chance, host: &str, route: &Route, form: &Form, files: &[Vec<u8>]) -> Sent {
    let path = address(chance, &form.action, route);
    let fields = filled(chance, form);
    let (mut kind, mut body) = if form.is_parts {
        ("multipart/form-data; boundary=edge".to_string(), parts(chance, form, &fields, files))
    } else {
        let pairs: Vec<String> =
            fields.iter().map(|(name, value)| format!("{}={}", encoded(name), encoded(value))).collect();
        ("application/x-www-form-urlencoded".to_string(), pairs.join("&").into_bytes())
    };
    match chance.below(60) {
        0 => kind = "text/plain".into(),
        1 => kind = "multipart/form-data".into(),
        2 => kind = "multipart/form-data; boundary=other".into(),
        3 => kind = "application/json".into(),
        4 => kind = "application/x-www-form-urlencoded; charset=utf-16".into(),
        5 => body = b"%%%=%ZZ&=&&a".to_vec(),
        6 => body.truncate(body.len() / 2),
        7 => body.clear(),
        8 => body.extend([0xff, 0xfe, 0x00]),
        _ => {}
    }
    let head = format!(
        "POST {path} HTTP/1.1\r\nHost: {host}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\n\r\n",
        body.len()
    );
    let told: String =
        fields.iter().map(|(name, value)| format!("  {name} = {:?}\n", short(value))).collect();
    Sent {
        bytes: [head.as_bytes(), &body].concat(),
        shown: format!("POST {path} ({kind}, {} bytes)\n{told}", body.len()),
    }
}

/// A form of many parts as a browser sends it, with one photo.
pub fn whole(host: &str, form: &Form, fields: &[(String, String)], photo: &[u8]) -> Vec<u8> {
    let body = written(form, fields, |_| (photo.to_vec(), "photo.jpg"));
    let head = format!(
        "POST {} HTTP/1.1\r\nHost: {host}\r\nContent-Type: multipart/form-data; boundary=edge\r\nContent-Length: {}\r\n\r\n",
        form.action,
        body.len()
    );
    [head.as_bytes(), &body].concat()
}

fn short(value: &str) -> String {
    value.chars().take(200).collect()
}

fn filled(chance: &mut Chance, form: &Form) -> Vec<(String, String)> {
    let odd_one = chance.below(form.fields.len());
    let share = match chance.below(10) {
        0 => 0,
        1..=7 => 100,
        _ => 60,
    };
    let mut fields = Vec::new();
    for (at, field) in form.fields.iter().enumerate().filter(|(_, field)| !field.is_file) {
        let usual = chance.one(&field.values).clone();
        let is_odd = if share == 60 { chance.of_100(60) } else { share == 100 && at == odd_one };
        if !is_odd {
            fields.push((field.name.clone(), usual));
            continue;
        }
        match chance.below(8) {
            0 => {}
            1 => fields.extend([usual, chance.odd()].map(|value| (field.name.clone(), value))),
            2 => fields.push((format!("{}[]", field.name), usual)),
            _ => fields.push((field.name.clone(), chance.odd())),
        }
    }
    if chance.of_100(5) {
        fields.push((chance.odd().chars().take(100).collect(), chance.odd()));
    }
    fields
}

fn parts(chance: &mut Chance, form: &Form, fields: &[(String, String)], files: &[Vec<u8>]) -> Vec<u8> {
    const NAMES: [&str; 5] = ["photo.jpg", "", "../../a.csv", "<b data-odd>.csv", "long\u{202e}name.csv"];
    written(form, fields, |_| {
        let file = match chance.below(5) {
            0 => Vec::new(),
            1 => {
                let whole = chance.one(files);
                whole[..chance.below(whole.len())].to_vec()
            }
            2 => format!("name,taxon\n{},acer-palmatum\n", chance.odd()).into_bytes(),
            3 => chance.odd().into_bytes(),
            _ => chance.one(files).clone(),
        };
        (file, *chance.one(&NAMES))
    })
}

/// A form of many parts, with what `file` gives for each field of a file.
fn written(
    form: &Form,
    fields: &[(String, String)],
    mut file: impl FnMut(&str) -> (Vec<u8>, &'static str),
) -> Vec<u8> {
    let mut body = Vec::new();
    for (name, value) in fields {
        let name = name.replace(['"', '\r', '\n'], "_");
        let part = format!("--edge\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n");
        body.extend(part.bytes());
    }
    for Field { name, .. } in form.fields.iter().filter(|field| field.is_file) {
        let (bytes, called) = file(name);
        let head =
            format!("--edge\r\nContent-Disposition: form-data; name=\"{name}\"; filename=\"{called}\"");
        body.extend(format!("{head}\r\nContent-Type: image/jpeg\r\n\r\n").bytes());
        body.extend(bytes);
        body.extend(b"\r\n");
    }
    body.extend(b"--edge--\r\n");
    body
}
