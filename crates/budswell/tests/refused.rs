//! A form that is refused comes back with the reason and with every field as it was typed; nothing is written.

mod served;

use std::{
    io::{Read, Write},
    net::TcpStream,
};

use served::Served;

fn say(at: &str, first: &str, body: &str) -> String {
    let mut line = TcpStream::connect(at).unwrap();
    let head = format!(
        "{first} HTTP/1.1\r\nHost: {at}\r\nContent-Type: application/x-www-form-urlencoded\r\nConnection: close\r\nContent-Length: {}\r\n\r\n",
        body.len()
    );
    line.write_all(format!("{head}{body}").as_bytes()).unwrap();
    let mut answer = String::new();
    line.read_to_string(&mut answer).unwrap();
    answer
}

/// As a browser writes a form.
fn encoded(fields: &[(&str, &str)]) -> String {
    let letter = |byte: u8| match byte {
        b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' => char::from(byte).to_string(),
        other => format!("%{other:02X}"),
    };
    let pair =
        |(name, value): &(&str, &str)| format!("{name}={}", value.bytes().map(letter).collect::<String>());
    fields.iter().map(pair).collect::<Vec<_>>().join("&")
}

/// The form that posts to an address and holds this field.
fn form<'a>(page: &'a str, action: &str, field: &str) -> &'a str {
    let opening = format!("<form action=\"{action}\" method=\"post\"");
    let name = format!("name=\"{field}\"");
    let forms = page.split(&opening).skip(1).filter_map(|rest| rest.split_once("</form>"));
    // The tree's page has two forms for a move; the one in the diary is the last.
    forms
        .map(|(form, _)| form)
        .filter(|form| form.contains(&name))
        .last()
        .unwrap_or_else(|| panic!("no form to {action} with {field}"))
}

/// Whether a field of a form holds what was typed, whatever kind of field it is.
fn holds(form: &str, field: &str, typed: &str) -> bool {
    let (name, value) = (format!("name=\"{field}\""), format!("value=\"{typed}\""));
    let mut tags = form.split('<').filter(|tag| tag.contains(&name));
    if form.contains(&format!("<select {name}")) {
        let (_, rest) = form.split_once(&format!("<select {name}")).unwrap();
        return rest.split_once("</select>").unwrap().0.contains(&format!("{value} selected"));
    }
    tags.any(|tag| {
        let is_choice = tag.contains("type=\"radio\"") || tag.contains("type=\"checkbox\"");
        tag.contains(&value) && (!is_choice || tag.contains(" checked"))
    })
}

/// Posts a form and looks for every field in what comes back.
#[track_caller]
fn comes_back(at: &str, path: &str, why: &str, fields: &[(&str, &str)]) {
    let answer = say(at, &format!("POST {path}"), &encoded(fields));
    assert!(answer.starts_with("HTTP/1.1 422"), "{path}: {}", answer.lines().next().unwrap_or(""));
    assert!(answer.contains("Not taken: ") && answer.contains(why), "{path} does not say {why}");
    assert!(answer.contains("id=\"refused\""), "{path} does not show where");
    let form = form(&answer, path, fields[0].0);
    for (field, typed) in fields {
        assert!(holds(form, field, typed), "{path}: {field} lost “{typed}” in {form}");
    }
}

#[test]
fn every_form_of_a_tree_comes_back_as_it_was_typed() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let before = say(at, "GET /site", "");
    comes_back(
        at,
        "/trees/red-lantern/look",
        "has not come yet",
        &[("stage", "7"), ("day", "2027-01-01"), ("note", "tips of the left branch")],
    );
    comes_back(
        at,
        "/trees/red-lantern/work",
        "is not a date",
        &[("kind", "hard-prune"), ("day", "yesterday"), ("note", "cut 30 % of the roots")],
    );
    comes_back(
        at,
        "/moves",
        "has not come yet",
        &[("tree", "red-lantern"), ("place", "north-wall"), ("day", "2027-02-03")],
    );
    comes_back(
        at,
        "/trees/red-lantern/edit",
        "is no taxon we know",
        &[
            ("name", "Red lantern of the gate"),
            ("taxon", "apple pie"),
            ("confidence", "guess"),
            ("worth", "training"),
            ("since", "2009-10-18"),
            ("note", "from the market"),
            ("revision", "0"),
        ],
    );
    comes_back(
        at,
        "/round/weigh",
        "-2 kg",
        &[("weight", "-2 kg"), ("tree", "red-lantern"), ("deed", "weighed-full")],
    );
    let log = |page: &str| page.split_once("What was done last").unwrap().1.to_string();
    assert_eq!(log(&say(at, "GET /site", "")), log(&before), "something was written");
}

#[test]
fn what_was_typed_is_shown_as_text_and_nothing_else() {
    let demo = Served::start(["demo"]);
    let body = encoded(&[("kind", "trim"), ("day", "2027-01-01"), ("note", "\"><script>alert(1)</script>")]);
    let answer = say(demo.address(), "POST /trees/red-lantern/work", &body);
    assert!(answer.starts_with("HTTP/1.1 422") && !answer.contains("<script>alert"), "the note runs");
    assert!(answer.contains("alert(1)"), "the note is lost");
}

#[test]
fn a_place_the_site_and_a_first_tree_come_back_as_they_were_typed() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let place = [
        ("name", "Lean-to"),
        ("shelter", "cold-glasshouse"),
        ("facing", "west"),
        ("lamp_flux", "40"),
        ("lamp_hours", "many"),
        ("capacity", "7"),
    ];
    comes_back(at, "/places", "lamp hours", &place);
    let site = [
        ("name", "Yard"),
        ("latitude", "147.3"),
        ("longitude", "9.2"),
        ("elevation", "1000 ft"),
        ("zone", "Europe/Zurich"),
        ("units", "imperial"),
    ];
    comes_back(at, "/site", "latitude", &site);
    comes_back(at, "/site", "latitude", &[site.as_slice(), &[("back", "start")]].concat());
    let starts = [
        ("name", "Porch"),
        ("shelter", "cool-sill"),
        ("facing", "south"),
        ("capacity", "few"),
        ("back", "start"),
    ];
    comes_back(at, "/places", "room for trees", &starts);
    comes_back(
        at,
        "/trees",
        "is no taxon we know",
        &[
            ("name", "New one"),
            ("taxon", "oka"),
            ("confidence", "sure"),
            ("place", "cold-frame"),
            ("day", "2026-03-01"),
        ],
    );
}

#[test]
fn shifts_round_times_and_the_mix_bench_come_back_as_they_were_typed() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let away = [
        ("words", "Course"),
        ("first", "2026-04-10"),
        ("last", "2026-04-01"),
        ("weekday", "2"),
        ("weekday", "4"),
        ("leaves", "08:05"),
        ("back", "21:30"),
    ];
    comes_back(at, "/round/away", "2026-04-01", &away);
    comes_back(at, "/round/times", "late", &[("morning", "05:45"), ("evening", "late")]);
    comes_back(at, "/mixes", "coarse", &[("name", "Coarse"), ("low", "6"), ("high", "coarse")]);
    comes_back(
        at,
        "/mixes/potted",
        "has not come yet",
        &[("tree", "ginkgo"), ("pot", "pot-of-box"), ("mix", "open-mix"), ("day", "2027-01-01")],
    );
    comes_back(
        at,
        "/mixes/crown",
        "wide",
        &[("tree", "ginkgo"), ("length", "55 cm"), ("width", "wide"), ("day", "2026-03-02")],
    );
}

/// Where the record moved on meanwhile, the whole of what was typed is shown.
#[test]
fn a_record_that_moved_on_shows_every_field_that_was_typed() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let typed = |note: &'static str| {
        encoded(&[
            ("revision", "1"),
            ("name", "Olive"),
            ("taxon", "Olea europaea"),
            ("confidence", "likely"),
            ("worth", "show"),
            ("since", "2019-06-16"),
            ("note", note),
        ])
    };
    let first = say(at, "POST /trees/olive/edit", &typed("first"));
    assert!(first.starts_with("HTTP/1.1 303"), "{}", first.lines().next().unwrap());
    let second = say(at, "POST /trees/olive/edit", &typed("second"));
    assert!(second.starts_with("HTTP/1.1 409"), "{}", second.lines().next().unwrap());
    for line in [
        "name: Olive",
        "taxon: Olea europaea",
        "confidence: likely",
        "worth: show",
        "since: 2019-06-16",
        "note: second",
    ] {
        assert!(second.contains(line), "{line} is lost");
    }
}
