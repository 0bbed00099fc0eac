//! One odd request after another: a seed and a number tell which, so that any of them can be sent again.

use super::{
    chance::Chance,
    forms::{Field, Form},
    routes::Route,
};

/// What no page may ever show as it came.
pub const MARK: &str = "<b data-odd>";

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
    const OFTEN: [&str; 8] = ["at", "day", "tree", "place", "hours", "plan", "season", "limb"];
    let pairs: Vec<String> = (0..chance.below(4))
        .map(|_| {
            let name = if chance.of_100(40) { chance.one(&OFTEN) } else { chance.one(names).as_str() };
            format!("{}={}", encoded(name), encoded(&chance.odd().chars().take(2000).collect::<String>()))
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
            3 | 4 => fields.push((field.name.clone(), chance.hung_on(&usual))),
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
