//! Forms as they stand on the pages: where they go, their fields, and what can be chosen.

use std::collections::BTreeMap;

/// A field and what a browser could send for it; the first value is what it holds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Field {
    pub name: String,
    pub values: Vec<String>,
    pub is_file: bool,
}

/// A form.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Form {
    pub action: String,
    pub is_post: bool,
    pub is_parts: bool,
    pub fields: Vec<Field>,
}

fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    tag.split_once(&format!(" {name}=\""))?.1.split('"').next()
}

/// Text as it was before it was written as HTML.
pub fn plain(text: &str) -> String {
    let named = [
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&#34;", "\""),
        ("&#39;", "'"),
        ("&#38;", "&"),
        ("&#60;", "<"),
        ("&#62;", ">"),
        ("&amp;", "&"),
    ];
    named.iter().fold(text.to_string(), |text, (from, to)| text.replace(from, to))
}

/// Where a page's links and pictures lead within the house.
pub fn links(page: &str) -> Vec<String> {
    let mut found = Vec::new();
    for tag in page.split('<').skip(1) {
        for name in ["href", "src"] {
            let to = attribute(tag.split('>').next().unwrap_or(""), name);
            found.extend(to.filter(|to| to.starts_with('/')).map(plain));
        }
    }
    found
}

/// The forms of a page; fields that stand outside their form are found by its id.
pub fn forms(page: &str) -> Vec<Form> {
    let mut forms: Vec<Form> = Vec::new();
    let mut by_id: BTreeMap<String, usize> = BTreeMap::new();
    let mut outside: Vec<(String, Field)> = Vec::new();
    let (mut open, mut choice): (Option<usize>, Option<(Option<String>, Field)>) = (None, None);
    for piece in page.split('<').skip(1) {
        let (tag, text) = piece.split_once('>').unwrap_or((piece, ""));
        let word = tag.split([' ', '\n']).next().unwrap_or("");
        let value = |otherwise: &str| plain(attribute(tag, "value").unwrap_or(otherwise));
        let named = |values: Vec<String>| Field {
            name: attribute(tag, "name").unwrap_or("").into(),
            values,
            is_file: attribute(tag, "type") == Some("file"),
        };
        let owner = attribute(tag, "form").map(str::to_string);
        let done = match word {
            "form" => {
                let form = Form {
                    action: plain(attribute(tag, "action").unwrap_or("")),
                    is_post: attribute(tag, "method") == Some("post"),
                    is_parts: attribute(tag, "enctype").is_some(),
                    fields: Vec::new(),
                };
                by_id.extend(attribute(tag, "id").map(|id| (id.to_string(), forms.len())));
                open = Some(forms.len());
                forms.push(form);
                None
            }
            "/form" => {
                open = None;
                None
            }
            "input" if matches!(attribute(tag, "type"), Some("checkbox" | "radio")) => {
                Some((owner, named(vec![value("on")])))
            }
            "input" | "button" => Some((owner, named(vec![value("")]))),
            "textarea" => Some((owner, named(vec![plain(text.trim_start_matches('\n'))]))),
            "select" => {
                choice = Some((owner, named(Vec::new())));
                None
            }
            "option" => {
                if let Some((_, field)) = &mut choice {
                    let at = if tag.contains(" selected") { 0 } else { field.values.len() };
                    field.values.insert(at, value(text));
                }
                None
            }
            "/select" => choice.take(),
            _ => None,
        };
        match done {
            Some((Some(owner), field)) => outside.push((owner, field)),
            Some((None, field)) => open.into_iter().for_each(|at| add(&mut forms[at], field.clone())),
            None => {}
        }
    }
    for (owner, field) in outside {
        by_id.get(&owner).into_iter().for_each(|&at| add(&mut forms[at], field.clone()));
    }
    forms
}

/// Radio buttons and repeated boxes of one name are one field with many values.
fn add(form: &mut Form, field: Field) {
    if field.name.is_empty() {
        return;
    }
    match form.fields.iter_mut().find(|it| it.name == field.name) {
        Some(stands) => stands.values.extend(field.values),
        None => form.fields.push(field),
    }
}
