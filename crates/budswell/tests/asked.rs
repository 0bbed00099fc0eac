//! Work against the verdict: every form that records it asks first, saves nothing meanwhile, and keeps the reason.

mod posted;
mod served;

use posted::{encoded, say};
use served::Served;

const DAY: (&str, &str) = ("day", "2026-03-28");

/// A form, the words of the question, and the page on which the reason then stands.
type Door = (&'static str, &'static [(&'static str, &'static str)], &'static str, &'static str);

/// One form of each kind of work, on trees of the demo that must not have it on 28 March: trimmed before May, pinched without leaves, cut
/// hard while it bleeds, wired before May, layered before May, its leaves taken when it has none, candles of a pine that makes none twice,
/// feed for a tree without leaves.
const DOORS: [Door; 8] = [
    (
        "/trees/river-birch/work",
        &[("kind", "hard-prune"), DAY],
        "it bleeds while its sap rises",
        "/trees/river-birch",
    ),
    (
        "/trees/mountain-maple/work",
        &[("kind", "defoliate"), DAY],
        "it has no leaves now",
        "/trees/mountain-maple",
    ),
    (
        "/trees/grey-beech/cuts",
        &[("limb", "3"), ("kind", "trim"), DAY],
        "the next begin 1 May",
        "/trees/grey-beech/bench",
    ),
    (
        "/trees/stone-elm/wires",
        &[("limb", "2"), ("metal", "copper"), ("gauge", "2 mm"), ("on", "2026-03-28")],
        "the next begin 1 May",
        "/trees/stone-elm/wires",
    ),
    (
        "/trees/field-maple/layers",
        &[("limb", "2"), ("way", "air-layer"), DAY],
        "the next begin 1 May",
        "/trees/field-maple/layers",
    ),
    ("/trees/scots-pine/repot/toll", &[("what", "decandle"), DAY], "not done on this kind of tree", ""),
    ("/trees/mountain-maple/repot/toll", &[("what", "defoliate-full"), DAY], "it has no leaves now", ""),
    ("/round/fed", &[("tree", "river-birch"), DAY], "it has no leaves now", "/trees/river-birch"),
];

fn log(at: &str) -> String {
    say(at, "GET /site", "").split_once("What was done last").unwrap().1.to_string()
}

#[test]
fn every_form_of_work_asks_first_and_keeps_the_reason() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    for (path, fields, why, page) in DOORS {
        let before = log(at);
        let answer = say(at, &format!("POST {path}"), &encoded(fields));
        assert!(answer.starts_with("HTTP/1.1 409"), "{path}: {}", answer.lines().next().unwrap());
        assert!(answer.contains("is not advised that day") || answer.contains("Nor is it advised"), "{path}");
        assert!(answer.contains(why) && answer.contains("name=\"despite\""), "{path} does not say {why}");
        assert_eq!(log(at), before, "{path} saved something");
        let reason: Vec<_> = fields.iter().copied().chain([("despite", "a gale broke it")]).collect();
        let answer = say(at, &format!("POST {path}"), &encoded(&reason));
        assert!(answer.starts_with("HTTP/1.1 303"), "{path}: {}", answer.lines().next().unwrap());
        assert_ne!(log(at), before, "{path} saved nothing");
        if !page.is_empty() {
            let shown = say(at, &format!("GET {page}"), "");
            assert!(shown.contains("though asked: a gale broke it"), "{page} lost the reason");
        }
    }
    // A session at the same tree is asked about once.
    let next = [("limb", "3"), ("metal", "copper"), ("gauge", "2 mm"), ("on", "2026-03-28")];
    assert!(say(at, "POST /trees/stone-elm/wires", &encoded(&next)).starts_with("HTTP/1.1 303"));
    // What lies more than a year back is history, and work in its season is asked about on no form.
    let old = [("kind", "hard-prune"), ("day", "2025-03-01")];
    assert!(say(at, "POST /trees/white-beech/work", &encoded(&old)).starts_with("HTTP/1.1 303"));
    let due = [("limb", "3"), ("kind", "remove"), DAY];
    assert!(say(at, "POST /trees/stone-elm/cuts", &encoded(&due)).starts_with("HTTP/1.1 303"));
}
