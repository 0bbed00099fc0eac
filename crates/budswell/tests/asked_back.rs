//! Odd records are asked about and saved only after "yes, that is so"; what waits on Today is answered by one tap.

mod posted;
mod served;

use posted::{encoded, say};
use served::Served;

const TREE: &str = "first-plum";

fn weigh(at: &str, weight: &str, sure: &str) -> String {
    let body = encoded(&[("tree", TREE), ("deed", "weighed"), ("weight", weight), ("sure", sure)]);
    say(at, "POST /round/weigh", &body)
}

/// Whether a form was saved: it leads on.
fn is_saved(answer: &str) -> bool {
    answer.starts_with("HTTP/1.1 303")
}

#[test]
fn a_weight_that_its_pot_cannot_have_is_saved_only_when_it_is_said_to_be_so() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let odd: Vec<bool> =
        ["17 kg", "500 g", "30 kg"].iter().map(|typed| is_saved(&weigh(at, typed, ""))).collect();
    let page = say(at, &format!("GET /trees/{TREE}"), "");
    assert!(!odd.contains(&true), "all of a small pot's weights were taken: {odd:?}");
    assert!(!page.contains("weighed 17"), "written before it was answered");
    let asked = weigh(at, "30 kg", "");
    assert!(asked.starts_with("HTTP/1.1 422") && asked.contains("Is that so?"), "{asked}");
    assert!(asked.contains("name=\"sure\" value=\"yes\"") && asked.contains("value=\"30 kg\""));
    assert!(is_saved(&weigh(at, "30 kg", "yes")));
    let page = say(at, &format!("GET /trees/{TREE}"), "");
    assert!(
        page.contains("weighed 30") && page.contains("you said that is right, so it counts"),
        "kept and counted"
    );
}

#[test]
fn a_move_dated_into_the_winter_is_saved_with_the_reason_why() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let go = |day: &str, despite: &str| {
        let fields = [("tree", TREE), ("place", "kitchen-sill"), ("day", day), ("despite", despite)];
        say(at, "POST /moves", &encoded(&fields))
    };
    let asked = go("2025-12-20", "");
    assert!(!is_saved(&asked) && asked.contains("of cold"), "{asked}");
    assert!(asked.contains("name=\"despite\""));
    assert!(is_saved(&go("2025-12-20", "it stood there, and nobody entered it")));
}

#[test]
fn cuts_left_open_are_covered_by_one_tap_on_today() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let page = say(at, "GET /", "");
    let part = page.split_once("Cuts not covered").map(|it| it.1);
    let Some(part) = part else { panic!("no cut waits on Today in the demo") };
    let quoted = |start: &str| part.split_once(start).unwrap().1.split('"').next().unwrap().to_string();
    let (to, version) = (quoted("action=\""), quoted("name=\"revision\" value=\""));
    let body =
        encoded(&[("what", "sealed"), ("back", "today"), ("day", "2026-03-28"), ("revision", &version)]);
    assert!(is_saved(&say(at, &format!("POST {to}"), &body)));
    assert!(!say(at, "GET /", "").contains(&format!("action=\"{to}\"")));
}
