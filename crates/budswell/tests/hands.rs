//! Two hands on one record: whoever is slower is shown both values, nothing of theirs is saved unseen, and no form can be forgotten.

#[path = "hands/edit.rs"]
mod edit;
#[path = "hands/table.rs"]
mod table;

mod posted;
mod served;

use std::{collections::BTreeSet, fs, path::Path};

use posted::{comes_back, encoded, first_after, form, holds, in_parts, say, say_as_is, version};
use served::Served;
use table::{ADDRESSES, Class, Edit};

fn status(answer: &str) -> u16 {
    answer.split(' ').nth(1).and_then(|code| code.parse().ok()).unwrap_or_else(|| panic!("{answer}"))
}

/// What was done last, as the site's page tells it.
fn log(at: &str) -> String {
    say(at, "GET /site", "").split_once("What was done last").unwrap().1.to_string()
}

fn source(path: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    fs::read_to_string(&path).unwrap_or_else(|why| panic!("{}: {why}", path.display()))
}

/// An address with `{}` for whatever stands in braces, one pair or two.
fn blank(address: &str) -> String {
    let mut shown = String::new();
    let mut depth = 0;
    for letter in address.chars() {
        match letter {
            '{' if depth == 0 => {
                shown.push_str("{}");
                depth += 1;
            }
            '{' => depth += 1,
            '}' => depth -= 1,
            letter if depth == 0 => shown.push(letter),
            _ => {}
        }
    }
    shown
}

#[test]
fn every_address_that_takes_a_form_is_in_the_table() {
    let router = source("src/web.rs");
    let mut known = BTreeSet::new();
    for route in router.split(".route(\"").skip(1) {
        let (address, handlers) = route.split_once('"').unwrap();
        let handlers = handlers.split("\n").next().unwrap();
        if handlers.contains("post(") {
            known.insert(address.to_string());
        }
    }
    let lines = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/web/table.rs");
    let table = fs::read_to_string(lines).unwrap_or_default();
    for line in table.lines().filter_map(|line| line.trim().strip_prefix("post \"")) {
        known.insert(line.split_once('"').unwrap().0.to_string());
    }
    let told: BTreeSet<String> = ADDRESSES.iter().map(|(address, _)| address.to_string()).collect();
    assert!(known.len() > 50, "the router could not be read: {known:?}");
    assert_eq!(told, known, "left: in the table here; right: in the router");
}

/// The line of the table for an address: the very one, or one with blanks where it has words.
fn known(address: &str) -> Option<&'static (&'static str, Class)> {
    let fits = |known: &str| {
        let (blanks, words): (Vec<&str>, Vec<&str>) =
            (known.split('/').collect(), address.split('/').collect());
        blanks.len() == words.len()
            && blanks.iter().zip(&words).all(|(blank, word)| *blank == "{}" || blank == word)
    };
    let same = ADDRESSES.iter().find(|(known, _)| blank(known) == address);
    same.or_else(|| ADDRESSES.iter().find(|(known, _)| fits(&blank(known))))
}

/// The forms of a template that post: address and markup.
fn forms(template: &str) -> Vec<(String, &str)> {
    let tags = template.match_indices("<form ").map(|(start, _)| &template[start..]);
    let posting = tags.filter(|rest| {
        rest.split_once('>').is_some_and(|_| {
            // A value in a tag may hold a sign of its own, so the tag is read up to its address and method.
            let head = &rest[..rest.len().min(400)];
            head.split("><").next().unwrap_or("").contains("method=\"post\"")
        })
    });
    posting
        .map(|rest| {
            let (_, address) = rest.split_once("action=\"").expect("a form says where it goes");
            let address = address.split('"').next().unwrap();
            (blank(address), rest.split("</form>").next().unwrap())
        })
        .collect()
}

#[test]
fn every_form_of_every_page_is_in_the_table_and_an_edit_names_its_version() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates");
    let mut seen = BTreeSet::new();
    let mut faults = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let (text, name) =
            (fs::read_to_string(&path).unwrap(), path.file_name().unwrap().to_string_lossy().to_string());
        for (address, markup) in forms(&text) {
            if name == "clock.html" && address == "{}" {
                // A form that is asked about goes again to its own address with all its fields, its version too.
                assert!(markup.contains("{% for (name, value) in fields %}"), "{name} leaves fields out");
                continue;
            }
            let known = known(&address);
            match known {
                None => faults.push(format!("{name}: the form to {address} is not in the table")),
                Some((_, Class::Edits(_) | Class::Undoes)) if !markup.contains("name=\"revision\"") => {
                    faults.push(format!("{name}: the form to {address} names no version"));
                }
                Some(_) => {}
            }
            seen.extend(known.map(|(address, _)| *address));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    let without: Vec<&str> =
        ADDRESSES.iter().map(|(address, _)| *address).filter(|it| !seen.contains(it)).collect();
    assert_eq!(without, ["/api/readings"], "no page has a form to these");
}

/// One edit, its address found on its page.
struct Try<'a> {
    at: &'a str,
    edit: &'a Edit,
    to: String,
    /// The version its form on the page names.
    from: String,
}

impl<'a> Try<'a> {
    fn open(at: &'a str, edit: &'a Edit) -> Try<'a> {
        let page = say(at, &format!("GET {}", edit.page), "");
        assert_eq!(status(&page), 200, "{}", edit.page);
        let to = match edit.number {
            "" => edit.to.to_string(),
            before => edit.to.replace("{}", first_after(&page, before)),
        };
        let from = Try::named(&page, &to);
        Try { at, edit, to, from }
    }

    /// The version that the first form to an address names.
    fn named(page: &str, to: &str) -> String {
        let (_, rest) =
            page.split_once(&format!("action=\"{to}\"")).unwrap_or_else(|| panic!("no form to {to}: {page}"));
        first_after(rest, "name=\"revision\" value=\"").to_string()
    }

    fn send(&self, own: &[(&str, &str)], version: Option<&str>) -> String {
        let version = version.map(|version| ("revision", version));
        let fields: Vec<(&str, &str)> = self.edit.both.iter().chain(own).copied().chain(version).collect();
        match self.edit.parts {
            true if version.is_some() => in_parts(self.at, &self.to, &fields, b""),
            true => in_parts(self.at, &self.to, &[&fields[..], &[("revision", "")]].concat(), b""),
            false => say_as_is(self.at, &format!("POST {}", self.to), &encoded(&fields)),
        }
    }
}

/// The reason on a page, with all that is told beside it.
fn reason(answer: &str) -> &str {
    let from = answer
        .find("id=\"refused\"")
        .or_else(|| answer.find("role=\"alert\""))
        .unwrap_or_else(|| panic!("{answer}"));
    let end = answer[from..].find("<form").unwrap_or(answer.len() - from);
    &answer[from..from + end]
}

fn two_hands(at: &str, edit: &Edit) {
    let page = Try::open(at, edit);
    for version in [None, Some("soon"), Some("")] {
        let before = log(at);
        let lacking = page.send(edit.second, version);
        assert_eq!(status(&lacking), 422, "{} with the version {version:?}: {}", page.to, reason(&lacking));
        assert!(reason(&lacking).contains("which version"), "{}: {}", page.to, reason(&lacking));
        assert_eq!(log(at), before, "{} wrote without a version", page.to);
    }
    let first = page.send(edit.first, Some(&page.from));
    assert_eq!(
        status(&first),
        303,
        "{}: {}",
        page.to,
        if status(&first) == 303 { "" } else { reason(&first) }
    );
    let before = log(at);
    let second = page.send(edit.second, Some(&page.from));
    assert_eq!(status(&second), 409, "{}", page.to);
    assert_eq!(log(at), before, "{} wrote over the first hand", page.to);
    let told = reason(&second);
    assert!(told.contains("changed on another device meanwhile"), "{}: {told}", page.to);
    for words in edit.words {
        assert!(told.contains(words), "{} does not show “{words}”: {told}", page.to);
    }
    if edit.again {
        let (_, below) = second.split_once(told).unwrap();
        let fresh = Try::named(below, &page.to);
        assert_ne!(fresh, page.from, "{}", page.to);
        let saved = page.send(edit.second, Some(&fresh));
        assert_eq!(
            status(&saved),
            303,
            "{}: {}",
            page.to,
            if status(&saved) == 303 { "" } else { reason(&saved) }
        );
        assert_ne!(log(at), before, "{} was not saved", page.to);
    }
}

#[test]
fn of_two_hands_on_one_record_the_slower_is_shown_both_and_can_save_then() {
    let demo = Served::start(["demo", "--today", "2026-06-20"]);
    let edits = ADDRESSES.iter().filter_map(|(_, class)| match class {
        Class::Edits(edits) => Some(*edits),
        _ => None,
    });
    let (mut tried, mut faults) = (0, Vec::new());
    for edit in edits.flatten() {
        tried += 1;
        // Each is told by its own panic; the rest are tried all the same.
        if std::panic::catch_unwind(|| two_hands(demo.address(), edit)).is_err() {
            faults.push(edit.to);
        }
    }
    assert!(faults.is_empty(), "{faults:?}");
    assert!(tried >= 28, "{tried}");
}

/// Both hands undo the same thing from one page: it goes once, and the second is told.
fn undone_once(at: &str, page: &str, to: &str, fields: &[(&str, &str)]) {
    let drawn = say(at, &format!("GET {page}"), "");
    let from = Try::named(&drawn, to);
    let fields: Vec<(&str, &str)> = fields.iter().copied().chain([("revision", from.as_str())]).collect();
    let send = || say_as_is(at, &format!("POST {to}"), &encoded(&fields));
    let first = send();
    assert_eq!(status(&first), 303, "{to}: {first}");
    let before = log(at);
    let second = status(&send());
    assert!(matches!(second, 404 | 409 | 422), "{to}: {second}");
    assert_eq!(log(at), before, "{to} undid something else");
}

#[test]
fn a_number_used_again_is_not_taken_for_the_line_that_was_undone() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let work = |note: &str| encoded(&[("kind", "other"), ("day", "2026-03-20"), ("note", note)]);
    assert_eq!(status(&say(at, "POST /trees/olive/work", &work("by the first hand"))), 303);
    let page = say(at, "GET /trees/olive", "");
    let (_, line) = page.split_once("by the first hand").unwrap();
    let (id, from) =
        (first_after(line, "name=\"id\" value=\""), first_after(line, "name=\"revision\" value=\""));
    let undo = encoded(&[("kind", "work"), ("id", id), ("revision", from)]);
    assert_eq!(status(&say_as_is(at, "POST /trees/olive/take-back", &undo)), 303);
    assert_eq!(status(&say(at, "POST /trees/olive/work", &work("by the second hand"))), 303);
    let late = say_as_is(at, "POST /trees/olive/take-back", &undo);
    assert_eq!(status(&late), 409, "{late}");
    assert!(say(at, "GET /trees/olive", "").contains("by the second hand"), "the wrong line went");
    let lacking = encoded(&[("kind", "work"), ("id", id)]);
    assert_eq!(status(&say_as_is(at, "POST /trees/olive/take-back", &lacking)), 422);
}

#[test]
fn an_undo_goes_once() {
    let demo = Served::start(["demo", "--today", "2026-06-20"]);
    let at = demo.address();
    let front =
        [("rank", "2"), ("clock", "8"), ("sideways", "4"), ("forward", "2"), ("why", "a better base")];
    assert_eq!(status(&say(at, "POST /trees/red-lantern/front", &encoded(&front))), 303);
    undone_once(at, "/trees/red-lantern/front", "/trees/red-lantern/front/drop", &[("rank", "2")]);
    let limbs = say(at, "GET /trees/grey-beech/limbs", "");
    let (_, line) = limbs.split_once("action=\"/trees/grey-beech/written/").unwrap();
    let to = format!("/trees/grey-beech/written/{}", line.split('"').next().unwrap());
    undone_once(at, "/trees/grey-beech/limbs", &to, &[]);
    let photo = first_after(&say(at, "GET /trees/red-lantern/limbs", ""), "action=\"/photos/").to_string();
    undone_once(at, "/trees/red-lantern/limbs", &format!("/photos/{photo}/drop"), &[]);
    let tap =
        say(at, "POST /round", &encoded(&[("one", "olive/watered/"), ("hand", "9"), ("at", "morning")]));
    assert_eq!(status(&tap), 303);
    let tree = say(at, "GET /trees/olive", "");
    let id = first_after(tree.split_once("action=\"/round/take-back\"").unwrap().1, "name=\"id\" value=\"")
        .to_string();
    undone_once(at, "/trees/olive", "/round/take-back", &[("id", &id)]);
    let round = say(at, "GET /round?at=morning", "");
    let (_, away) = round.split_once("action=\"/round/come-back\"").unwrap();
    let uid = first_value(away, "uid");
    let start = first_value(away, "from");
    undone_once(at, "/round?at=morning", "/round/come-back", &[("uid", &uid), ("from", &start)]);
    let vigour = [("strength", "weak"), ("why", "short flush"), ("day", "2026-06-01")];
    assert_eq!(status(&say(at, "POST /trees/olive/repot/vigour", &encoded(&vigour))), 303);
    let to = "/trees/olive/repot/vigour/2026-06-01/back";
    let now = version(at);
    let undo = encoded(&[("revision", now.as_str())]);
    let again = encoded(&[("strength", "strong"), ("why", "long flush"), ("day", "2026-06-01")]);
    assert_eq!(status(&say(at, "POST /trees/olive/repot/vigour", &again)), 303);
    let late = say_as_is(at, &format!("POST {to}"), &undo);
    assert_eq!(status(&late), 409, "what was judged anew went with the old");
}

/// The value of the first field of a name.
fn first_value(markup: &str, name: &str) -> String {
    let (_, rest) = markup.split_once(&format!("name=\"{name}\" value=\"")).unwrap();
    rest.split('"').next().unwrap().replace("&#38;", "&")
}

#[test]
fn a_form_refused_for_a_field_keeps_the_version_it_was_typed_on() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let old = version(at);
    let times = |morning: &str, evening: &str, from: &str| {
        say_as_is(
            at,
            "POST /round/times",
            &encoded(&[("morning", morning), ("evening", evening), ("revision", from)]),
        )
    };
    // The second hand mistypes first: the page that comes back still names the version it was typed on.
    let typed = [("morning", "06:15"), ("evening", "late"), ("revision", old.as_str())];
    comes_back(at, "/round/times", "late", &typed);
    assert_eq!(status(&times("05:30", "19:30", &old)), 303);
    assert_eq!(status(&times("06:15", "20:15", &old)), 409);
    let round = say(at, "GET /round", "");
    assert!(holds(form(&round, "/round/times", "morning"), "morning", "05:30"));
}

#[test]
fn a_drawing_and_paint_of_the_slower_hand_are_kept_on_the_page() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let limbs = say(at, "GET /trees/grey-beech/limbs", "");
    let photo = first_after(&limbs, "action=\"/photos/").to_string();
    let (trace, outline) = (format!("/photos/{photo}/trace"), format!("/photos/{photo}/outline"));
    let page = say(at, &format!("GET {trace}"), "");
    let from = Try::named(&page, &trace);
    let (_, known) = page.split_once("id=\"known\">").unwrap();
    let known: serde_json::Value = serde_json::from_str(known.split_once("</script>").unwrap().0).unwrap();
    let drawing = |name: &str| {
        let mut drawing = known["drawing"].clone();
        let limbs = drawing["limbs"].as_array_mut().unwrap();
        limbs.retain(|limb| limb["points"].as_array().is_some_and(|points| points.len() > 1));
        limbs[1]["name"] = name.into();
        drawing.to_string()
    };
    let send = |to: &str, fields: &[(&str, &str)]| say_as_is(at, &format!("POST {to}"), &encoded(fields));
    let first = send(&trace, &[("traced", &drawing("low left of the first hand")), ("revision", &from)]);
    assert_eq!(status(&first), 303, "{first}");
    let before = log(at);
    let second = send(&trace, &[("traced", &drawing("low left of the second hand")), ("revision", &from)]);
    assert_eq!(status(&second), 409);
    let told = reason(&second);
    assert!(
        told.contains("low left of the first hand") && told.contains("low left of the second hand"),
        "{told}"
    );
    assert_eq!(log(at), before);
    assert!(
        second.split_once("id=\"known\">").unwrap().1.contains("low left of the second hand"),
        "the drawing is lost"
    );
    let fresh = Try::named(&second, &trace);
    let saved = send(&trace, &[("traced", &drawing("low left of the second hand")), ("revision", &fresh)]);
    assert_eq!(status(&saved), 303);

    let from = Try::named(&say(at, &format!("GET {outline}"), ""), &outline);
    let painted = "on 7 100,100 120,130";
    assert_eq!(status(&send(&outline, &[("strokes", painted), ("revision", &from)])), 303);
    let mine = "off 5 300,310 320,330; on 4 10,10 20,20";
    let second = send(&outline, &[("strokes", mine), ("revision", &from)]);
    assert_eq!(status(&second), 409);
    assert!(reason(&second).contains("Saved now: 1 stroke") && reason(&second).contains("Yours: 2 stroke"));
    assert!(second.contains(&format!("name=\"strokes\" value=\"{mine}\"")), "the paint is lost");
    let fresh = Try::named(&second, &outline);
    assert_eq!(status(&send(&outline, &[("strokes", mine), ("revision", &fresh)])), 303);
    assert_eq!(status(&send(&outline, &[("strokes", painted)])), 422);
}

#[test]
fn a_colour_read_beside_another_edit_of_the_pot_is_not_kept() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/photos/grey-beech-2025-12-14.jpg");
    let sent = in_parts(
        at,
        "/pots/dark-rectangle-44-cm/photos",
        &[("side", "front"), ("day", "2026-03-20")],
        &fs::read(file).unwrap(),
    );
    assert_eq!(status(&sent), 303, "{sent}");
    let pot = || say(at, "GET /pots/dark-rectangle-44-cm", "");
    let photo = first_after(&pot(), "action=\"/pots/photos/").to_string();
    let to = format!("/pots/photos/{photo}/colour");
    let from = Try::named(&say(at, &format!("GET {to}"), ""), &to);
    let moved = [("where", "shelf"), ("spot", "top board"), ("into", ""), ("revision", from.as_str())];
    assert_eq!(status(&say(at, "POST /pots/dark-rectangle-44-cm/where", &encoded(&moved))), 303);
    let before = log(at);
    let boxes =
        ["card_left", "card_top", "card_wide", "card_high", "pot_left", "pot_top", "pot_wide", "pot_high"];
    let marks = ["11", "12", "40", "40", "101", "102", "40", "40"];
    let marked: Vec<(&str, &str)> = boxes.into_iter().zip(marks).chain([("reflectance", "18")]).collect();
    let send = |version: &[(&str, &str)]| {
        say_as_is(at, &format!("POST {to}"), &encoded(&[&marked[..], version].concat()))
    };
    let late = send(&[("revision", from.as_str())]);
    assert_eq!(status(&late), 409);
    assert!(
        reason(&late).contains("meanwhile") && reason(&late).contains("Card, from the left: 11"),
        "{}",
        reason(&late)
    );
    assert_eq!(status(&send(&[])), 422);
    assert_eq!(log(at), before, "a colour was kept");
    assert!(
        late.contains("name=\"pot_left\" inputmode=\"numeric\" required value=\"101\""),
        "the boxes are lost"
    );
    undone_once(at, "/pots/dark-rectangle-44-cm", &format!("/pots/photos/{photo}/drop"), &[]);
    let said = [("tree", "yew"), ("season", "2026"), ("said", "never"), ("why", "too shallow")];
    let now = Try::named(&pot(), "/pots/dark-rectangle-44-cm/reserve");
    let said = [&said[..], &[("revision", now.as_str())]].concat();
    assert_eq!(status(&say(at, "POST /pots/dark-rectangle-44-cm/reserve", &encoded(&said))), 303);
    let word = [("tree", "yew"), ("season", "2026")];
    undone_once(at, "/pots/dark-rectangle-44-cm", "/pots/dark-rectangle-44-cm/unreserve", &word);
}

#[test]
fn a_switch_set_twice_stands_as_it_was_set() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let pages = say(at, "GET /trees/grey-beech/limbs", "");
    let (_, form) = pages.split_once("action=\"/trees/grey-beech/rules\"").unwrap();
    let rule = first_value(form, "rule");
    let off = encoded(&[("rule", rule.as_str()), ("on", "no")]);
    assert_eq!(status(&say(at, "POST /trees/grey-beech/rules", &off)), 303);
    let before = log(at);
    assert_eq!(status(&say(at, "POST /trees/grey-beech/rules", &off)), 303);
    assert_eq!(log(at), before, "the same switch was logged twice");
}
