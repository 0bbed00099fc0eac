//! Forms as a browser posts them, and what comes back when one is refused.
#![allow(dead_code)]

use std::{
    io::{Read, Write},
    net::TcpStream,
};

/// The version that forms of a page drawn now start from.
pub fn version(at: &str) -> String {
    first_after(&say_as_is(at, "GET /site", ""), "name=\"revision\" value=\"").to_string()
}

/// Sends a request with a form's body, and reads the whole answer; a form posted without a version is one of a page drawn just now.
pub fn say(at: &str, first: &str, body: &str) -> String {
    if !first.starts_with("POST") || body.contains("revision=") {
        return say_as_is(at, first, body);
    }
    let joined = if body.is_empty() { "" } else { "&" };
    say_as_is(at, first, &format!("{body}{joined}{}", encoded(&[("revision", &version(at))])))
}

/// Sends a request with a form's body as it is.
pub fn say_as_is(at: &str, first: &str, body: &str) -> String {
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
pub fn encoded(fields: &[(&str, &str)]) -> String {
    let letter = |byte: u8| match byte {
        b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' => char::from(byte).to_string(),
        other => format!("%{other:02X}"),
    };
    let pair =
        |(name, value): &(&str, &str)| format!("{name}={}", value.bytes().map(letter).collect::<String>());
    fields.iter().map(pair).collect::<Vec<_>>().join("&")
}

/// The form that posts to an address and holds this field.
pub fn form<'a>(page: &'a str, action: &str, field: &str) -> &'a str {
    let opening = format!("<form action=\"{action}\" method=\"post\"");
    let name = format!("name=\"{field}\"");
    let forms = page.split(&opening).skip(1).filter_map(|rest| rest.split_once("</form>"));
    forms
        .map(|(form, _)| form)
        .find(|form| form.contains(&name))
        .unwrap_or_else(|| panic!("no form to {action} with {field}"))
}

/// Whether a field of a form holds what was typed, whatever kind of field it is.
pub fn holds(form: &str, field: &str, typed: &str) -> bool {
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
pub fn comes_back(at: &str, path: &str, why: &str, fields: &[(&str, &str)]) {
    let answer = say(at, &format!("POST {path}"), &encoded(fields));
    assert!(answer.starts_with("HTTP/1.1 422"), "{path}: {}", answer.lines().next().unwrap_or(""));
    assert!(answer.contains("Not taken: ") && answer.contains(why), "{path} does not say {why}");
    assert!(answer.contains("id=\"refused\""), "{path} does not show where");
    assert_eq!(answer.matches("id=\"refused\"").count(), 1, "{path} says it of more than one form");
    // Many rows have the same form: the one that follows the reason is the one that was typed into.
    let (_, below) = answer.split_once("id=\"refused\"").unwrap();
    let form = form(below, path, fields[0].0);
    for (field, typed) in fields {
        assert!(holds(form, field, typed), "{path}: {field} lost “{typed}” in {form}");
    }
}

/// What is there before a row's own form is found by its link, so that the demo may grow.
pub fn first_after<'a>(page: &'a str, start: &str) -> &'a str {
    let (_, rest) = page.split_once(start).unwrap_or_else(|| panic!("no {start} on the page"));
    rest.split(['/', '"']).next().unwrap()
}

/// As a browser writes a form that can carry a photo, of a page drawn just now unless it names its version.
pub fn in_parts(at: &str, path: &str, fields: &[(&str, &str)], photo: &[u8]) -> String {
    let head = "name=\"photo\"; filename=\"photo.jpg\"\r\nContent-Type: image/jpeg";
    with_file(at, path, fields, (head, photo))
}

/// The same with any file, by the head of its part.
pub fn with_file(at: &str, path: &str, fields: &[(&str, &str)], (head, file): (&str, &[u8])) -> String {
    let now = version(at);
    let own = fields.iter().any(|(name, _)| *name == "revision");
    let mut body = Vec::new();
    let fields = fields.iter().copied().chain((!own).then_some(("revision", now.as_str())));
    for (name, value) in fields {
        let head = format!("--edge\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n");
        body.extend(head.bytes());
    }
    body.extend(format!("--edge\r\nContent-Disposition: form-data; {head}\r\n\r\n").bytes());
    body.extend(file);
    body.extend(b"\r\n--edge--\r\n");
    let mut line = TcpStream::connect(at).unwrap();
    let head = format!(
        "POST {path} HTTP/1.1\r\nHost: {at}\r\nContent-Type: multipart/form-data; boundary=edge\r\nConnection: close\r\nContent-Length: {}\r\n\r\n",
        body.len()
    );
    line.write_all(head.as_bytes()).unwrap();
    line.write_all(&body).unwrap();
    let mut answer = String::new();
    line.read_to_string(&mut answer).unwrap();
    answer
}
