//! A form that is refused comes back with the reason and with every field as it was typed; nothing is written.

mod posted;
mod served;

use posted::{comes_back, encoded, first_after, form, holds, in_parts, say};
use served::Served;

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
        &[("tree", "ginkgo"), ("pot", "celadon-oval-22-cm"), ("mix", "open-mix"), ("day", "2027-01-01")],
    );
    comes_back(
        at,
        "/mixes/crown",
        "wide",
        &[("tree", "ginkgo"), ("length", "55 cm"), ("width", "wide"), ("day", "2026-03-02")],
    );
}

#[test]
fn every_form_of_a_trees_branches_comes_back_as_it_was_typed() {
    let demo = Served::start(["demo", "--today", "2026-05-24"]);
    let at = demo.address();
    let before = say(at, "GET /site", "");
    let wish = [
        ("limb", "4"),
        ("wish", "keep-short"),
        ("until", "8 mm"),
        ("nodes", "a few"),
        ("by", "2026-06-15"),
        ("which", "the two outer ones"),
        ("why", "left side is thin"),
    ];
    comes_back(at, "/trees/grey-beech/intentions", "a few", &wish);
    comes_back(
        at,
        "/trees/grey-beech/calipers",
        "about a thumb",
        &[("limb", "4"), ("thick", "about a thumb"), ("along", "12 mm"), ("day", "2026-05-20")],
    );
    let record = encoded(&[("name", "the long left"), ("clock", "9"), ("tips", "many")]);
    let answer = say(at, "POST /trees/grey-beech/limbs/4", &record);
    assert!(answer.starts_with("HTTP/1.1 422") && answer.contains("“many”"), "{answer}");
    let shown = form(answer.split_once("id=\"refused\"").unwrap().1, "/trees/grey-beech/limbs/4", "name");
    assert!(holds(shown, "name", "the long left") && holds(shown, "clock", "9"), "{shown}");
    let cut = [
        ("limb", "7"),
        ("kind", "trim"),
        ("nodes", "2"),
        ("wound", "wide"),
        ("sealed", "yes"),
        ("day", "2026-05-23"),
        ("despite", "wind"),
        ("note", "in the rain"),
    ];
    comes_back(at, "/trees/grey-beech/cuts", "wide", &cut);
    let plans = say(at, "GET /trees/old-trident/plans", "");
    let count = first_after(&plans, "<form action=\"/trees/old-trident/cuts/");
    comes_back(at, &format!("/trees/old-trident/cuts/{count}/count"), "9", &[("broke", "9"), ("of", "3")]);
    let front =
        [("clock", "8"), ("rank", "2"), ("sideways", "80"), ("forward", "4"), ("why", "a better base")];
    comes_back(at, "/trees/red-lantern/front", "80", &front);
    let log = |page: &str| page.split_once("What was done last").unwrap().1.to_string();
    assert_eq!(log(&say(at, "GET /site", "")), log(&before), "something was written");
}

#[test]
fn every_form_of_wires_and_layers_comes_back_as_it_was_typed() {
    let demo = Served::start(["demo", "--today", "2026-06-20"]);
    let at = demo.address();
    let before = say(at, "GET /site", "");
    let wire = [
        ("limb", "2"),
        ("metal", "copper"),
        ("gauge", "fine"),
        ("strands", "2"),
        ("thick", "8 mm"),
        ("bend", "90 mm"),
        ("on", "2026-05-20"),
        ("note", "over raffia"),
    ];
    comes_back(at, "/trees/stone-elm/wires", "fine", &wire);
    comes_back(at, "/wires/shelf", "a roll", &[("metal", "copper"), ("gauge", "2 mm"), ("left", "a roll")]);
    let own = [("tree", "stone-elm"), ("metal", "copper"), ("gauge", "2 mm"), ("left", "a roll")];
    comes_back(at, "/wires/shelf", "a roll", &own);
    let begun = [("way", "air-layer"), ("limb", "2"), ("day", "2027-01-01"), ("note", "in moss")];
    comes_back(at, "/trees/field-maple/layers", "has not come yet", &begun);
    let page = say(at, "GET /trees/field-maple/layers", "");
    let layer = first_after(&page, "<form action=\"/trees/field-maple/layers/");
    let at_layer = |what: &str| format!("/trees/field-maple/layers/{layer}/{what}");
    comes_back(at, &at_layer("look"), "has not come yet", &[("roots", "few"), ("day", "2027-01-01")]);
    let apart = [
        ("name", "Crab apple the second"),
        ("place", "cold-frame"),
        ("lean", "a little"),
        ("day", "2026-06-20"),
        ("despite", "the ring dries out"),
    ];
    comes_back(at, &at_layer("apart"), "a little", &apart);
    let log = |page: &str| page.split_once("What was done last").unwrap().1.to_string();
    assert_eq!(log(&say(at, "GET /site", "")), log(&before), "something was written");
}

#[test]
fn a_look_at_a_wire_comes_back_and_its_photo_stays_with_the_wire_that_holds_it() {
    let demo = Served::start(["demo", "--today", "2026-05-24"]);
    let at = demo.address();
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/photos/grey-beech-2025-12-14.jpg");
    let coil = std::fs::read(file).unwrap();
    let page = say(at, "GET /trees/stone-elm/wires", "");
    let wire = first_after(&page, "<form action=\"/trees/stone-elm/wires/");
    let path = format!("/trees/stone-elm/wires/{wire}");
    let photos = || say(at, "GET /trees/stone-elm/limbs", "").matches("/drop\"").count();
    let before = photos();
    let look = |day: &str, photo: &[u8]| {
        in_parts(
            at,
            &path,
            &[("what", "seen"), ("day", day), ("note", "room for a nail"), ("back", "all")],
            photo,
        )
    };
    let no_photo = look("2026-05-24", b"a letter");
    assert!(no_photo.starts_with("HTTP/1.1 422"), "{}", no_photo.lines().next().unwrap());
    let too_early = look("1950-01-01", &coil);
    for answer in [&no_photo, &too_early] {
        assert!(answer.starts_with("HTTP/1.1 422"), "{}", answer.lines().next().unwrap());
        let (_, below) = answer.split_once("id=\"refused\"").unwrap();
        assert!(holds(form(below, &path, "note"), "note", "room for a nail"), "the note is lost");
    }
    assert_eq!(photos(), before, "a look that was refused left its photo behind");
    assert!(look("2026-05-24", &coil).starts_with("HTTP/1.1 303"));
    assert_eq!(photos(), before + 1);
    let limbs = say(at, "GET /trees/stone-elm/limbs", "");
    let drops = limbs.split("action=\"/photos/").skip(1).filter_map(|rest| rest.split_once("/drop\""));
    let answers: Vec<String> =
        drops.map(|(key, _)| say(at, &format!("POST /photos/{key}/drop"), "")).collect();
    let held: Vec<&String> = answers.iter().filter(|answer| answer.starts_with("HTTP/1.1 409")).collect();
    assert_eq!(held.len(), 1, "one photo hangs on a wire");
    assert!(held[0].contains("record holds it"), "no reason is given");
    assert_eq!(photos(), 1, "the photo that hangs on a wire went all the same");
}

/// Where the record moved on meanwhile, the form comes back with the whole of what was typed.
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
    let (_, below) = second.split_once("id=\"refused\"").unwrap();
    let shown = form(below, "/trees/olive/edit", "note");
    for (field, typed) in [
        ("name", "Olive"),
        ("taxon", "Olea europaea"),
        ("confidence", "likely"),
        ("worth", "show"),
        ("since", "2019-06-16"),
        ("note", "second"),
        ("revision", "2"),
    ] {
        assert!(holds(shown, field, typed), "{field} is lost");
    }
    assert!(second.contains("<td>first</td><td>second</td>"), "both notes stand side by side");
}
