//! What stands now beside what was typed, read off the form as it is drawn for either: its own labels, its own words.

use std::collections::BTreeMap;

/// A field of a form where what stands and what was typed differ.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Differs {
    /// Its label.
    pub field: String,
    /// What stands now.
    pub now: String,
    /// What was typed.
    pub yours: String,
}

/// What an empty field shows.
const NOTHING: &str = "nothing";

/// The fields in which a form on its fresh page differs from the same form with what was typed; none where the page no longer has it.
/// A form that starts empty is told by `stands`, what stands now in words, beside all that was typed.
pub fn differing(fresh: &str, typed: &str, chosen: &[(&str, &str)], stands: Option<String>) -> Vec<Differs> {
    let Some((rank, yours)) = refused_form(typed, chosen) else { return Vec::new() };
    let (before, after) = (form_at(fresh, rank).map(controls).unwrap_or_default(), controls(yours));
    let button = after.iter().find(|it| it.is_button && chosen.contains(&(&it.name, &it.value)));
    if let Some(stands) = stands {
        let own = after.iter().filter(|it| !it.is_button && !matches!(it.words.as_str(), "" | "no"));
        let own = own.map(|it| format!("{}: {}", it.label, it.words));
        let yours: Vec<String> = button.map(|it| it.label.clone()).into_iter().chain(own).collect();
        return vec![Differs { field: "The record".into(), now: stands, yours: yours.join("; ") }];
    }
    let stood: BTreeMap<&str, &Control> = before.iter().map(|it| (it.name.as_str(), it)).collect();
    let said = |words: &str| if words.is_empty() { NOTHING.to_string() } else { words.to_string() };
    let mut rows = Vec::new();
    for it in after.iter().filter(|it| !it.is_button) {
        let now = stood.get(it.name.as_str()).map_or("", |stood| stood.words.as_str());
        if now != it.words {
            rows.push(Differs { field: it.label.clone(), now: said(now), yours: said(&it.words) });
        }
    }
    rows
}

/// The form that follows the reason it was refused for and holds what was typed, and how many forms stand before it.
fn refused_form<'a>(page: &'a str, chosen: &[(&str, &str)]) -> Option<(usize, &'a str)> {
    let reason = page.find("id=\"refused\"")?;
    let forms = page.match_indices("<form").enumerate().filter(|(_, (start, _))| *start > reason);
    let holds = |form: &str| controls(form).iter().any(|it| chosen.iter().any(|(name, _)| *name == it.name));
    forms.map(|(rank, (start, _))| (rank, upto(&page[start..], "</form>"))).find(|(_, form)| holds(form))
}

fn form_at(page: &str, rank: usize) -> Option<&str> {
    let (start, _) = page.match_indices("<form").nth(rank)?;
    Some(upto(&page[start..], "</form>"))
}

fn upto<'a>(text: &'a str, end: &str) -> &'a str {
    text.split(end).next().unwrap_or(text)
}

/// Something that a form is filled in by.
#[derive(Debug, Default)]
struct Control {
    name: String,
    label: String,
    value: String,
    /// What it shows: a text, the words of the choice taken, yes for a tick.
    words: String,
    is_button: bool,
}

/// The visible controls of a form, in their order.
fn controls(form: &str) -> Vec<Control> {
    let mut found: Vec<Control> = Vec::new();
    let mut label = String::new();
    for (at, _) in form.match_indices('<') {
        let tag = upto(&form[at..], ">");
        let after = || upto(form[at..].split_once('>').map_or("", |(_, rest)| rest), "<");
        let of = |name| attribute(tag, name).unwrap_or_default();
        let kind = of("type");
        match tag.split([' ', '\n']).next().unwrap_or("") {
            "<label" => label = words(after()),
            "<input" if kind == "hidden" => {}
            "<input" if kind == "checkbox" => found.push(Control {
                name: of("name"),
                label: words(after()),
                value: of("value"),
                words: if tag.contains(" checked") { "yes".into() } else { "no".into() },
                is_button: false,
            }),
            "<input" if kind == "radio" && !tag.contains(" checked") => {}
            "<input" if kind == "radio" => {
                let (name, value) = (of("name"), of("value"));
                let label = name.clone();
                found.push(Control { name, label, value, words: words(after()), is_button: false });
            }
            "<input" | "<textarea" | "<select" => {
                let written = if tag.starts_with("<textarea") { words(after()) } else { of("value") };
                let (name, label) = (of("name"), label.clone());
                found.push(Control { name, label, words: written, ..Control::default() });
            }
            "<option" => {
                let Some(list) = found.last_mut() else { continue };
                // The first is taken where none is marked.
                let is_first = list.value.is_empty() && list.words.is_empty();
                if tag.contains(" selected") || is_first {
                    list.value = format!("={}", of("value"));
                    list.words = words(after());
                }
            }
            "<button" => found.push(Control {
                name: of("name"),
                label: words(after()),
                value: of("value"),
                words: String::new(),
                is_button: true,
            }),
            _ => {}
        }
    }
    found
}

/// An attribute of the first tag of a piece of markup.
fn attribute(markup: &str, name: &str) -> Option<String> {
    let (_, rest) = upto(markup, ">").split_once(&format!(" {name}=\""))?;
    Some(plain(upto(rest, "\"")))
}

fn words(markup: &str) -> String {
    plain(markup.trim())
}

/// Text as it was before it was escaped for the page.
fn plain(text: &str) -> String {
    let marks = [
        ("&#60;", "<"),
        ("&#62;", ">"),
        ("&#34;", "\""),
        ("&#39;", "'"),
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&#38;", "&"),
        ("&amp;", "&"),
    ];
    marks.iter().fold(text.to_string(), |text, (escaped, mark)| text.replace(escaped, mark))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page(refused: bool, name: &str, units: &str, tick: bool) -> String {
        let told = if refused { "<p id=\"refused\">Not saved.</p>" } else { "" };
        let chosen = |key| if key == units { " selected" } else { "" };
        format!(
            "<form action=\"/other\"><input name=\"x\" value=\"1\"></form>{told}<form action=\"/site\" method=\"post\">\
             <input type=\"hidden\" name=\"revision\" value=\"4\"><label>Name <input name=\"name\" value=\"{name}\"></label>\
             <label>Units <select name=\"units\"><option value=\"metric\"{}>°C, metric</option>\
             <option value=\"imperial\"{}>°F, imperial</option></select></label>\
             <label><input type=\"checkbox\" name=\"show\" value=\"yes\"{}> a show pot</label><button>Save</button></form>",
            chosen("metric"),
            chosen("imperial"),
            if tick { " checked" } else { "" },
        )
    }

    #[test]
    fn each_field_that_differs_is_told_in_the_words_of_the_page() {
        let fresh = page(false, "Bench &#38; yard", "metric", false);
        let typed = page(true, "Roof", "imperial", true);
        let told = differing(&fresh, &typed, &[("name", "Roof")], None);
        let row = |field: &str, now: &str, yours: &str| Differs {
            field: field.into(),
            now: now.into(),
            yours: yours.into(),
        };
        let expected = [
            row("Name", "Bench & yard", "Roof"),
            row("Units", "°C, metric", "°F, imperial"),
            row("a show pot", "no", "yes"),
        ];
        assert_eq!(told, expected);
        assert!(
            differing(&fresh, &page(true, "Bench &#38; yard", "metric", false), &[("name", "")], None)
                .is_empty()
        );
    }

    #[test]
    fn the_first_choice_is_taken_where_none_is_marked_and_nothing_is_called_so() {
        let told =
            differing(&page(false, "", "", false), &page(true, "Roof", "", false), &[("name", "Roof")], None);
        assert_eq!(told, [Differs { field: "Name".into(), now: "nothing".into(), yours: "Roof".into() }]);
    }

    #[test]
    fn a_form_that_starts_empty_says_what_stands() {
        let form = |told: &str, roots: &str| {
            format!(
                "{told}<form><label>Roots <select name=\"roots\"><option value=\"\">choose…</option>\
                 <option value=\"white\"{roots}>white</option></select></label><button name=\"what\" value=\"closed\">It has closed</button></form>"
            )
        };
        let typed = form("<p id=\"refused\"></p>", " selected");
        let told = differing(&form("", ""), &typed, &[("what", "closed")], Some("not looked at yet".into()));
        assert_eq!(told[0].now, "not looked at yet");
        assert_eq!(told[0].yours, "It has closed; Roots: white");
    }

    #[test]
    fn a_form_that_is_gone_has_nothing_to_compare() {
        assert!(differing(&page(false, "Roof", "metric", false), "<p>none</p>", &[], None).is_empty());
    }
}
