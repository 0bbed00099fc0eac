//! Odd records are asked about and saved only after "yes, that is so"; what waits on Today is answered by one tap.

mod posted;
mod served;

use posted::{encoded, first_after, say, with_file};
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

/// A sheet of moves, looked through: the page with its question, and the number to answer by.
fn look_through(at: &str, sheet: &str) -> (String, String) {
    let head = "name=\"file\"; filename=\"moves.csv\"\r\nContent-Type: text/csv";
    let page = with_file(at, "/bring", &[("kind", "moves")], (head, sheet.as_bytes()));
    let number = first_after(&page, "name=\"number\" value=\"").to_string();
    (page, number)
}

#[test]
fn a_sheet_of_past_moves_that_changes_a_winter_is_taken_in_only_after_yes() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let sheet = format!("tree,place,day\n{TREE},Kitchen sill,2025-12-20\n");
    let (page, number) = look_through(at, &sheet);
    assert!(page.contains("name=\"winters\" value=\"yes\"") && page.contains("chill portion"), "{page}");
    let answer = |number: &str, winters: &str| {
        say(at, "POST /bring/yes", &encoded(&[("number", number), ("winters", winters)]))
    };
    let without = answer(&number, "");
    assert!(without.starts_with("HTTP/1.1 422"), "{without}");
    let tree = || say(at, &format!("GET /trees/{TREE}"), "");
    assert!(!tree().contains("value=\"2025-12-20\""), "moved before it was answered");
    let (_, number) = look_through(at, &sheet);
    assert!(answer(&number, "yes").starts_with("HTTP/1.1 200"));
    assert!(tree().contains("value=\"2025-12-20\""));
    let (again, _) = look_through(at, &sheet);
    assert!(!again.contains("name=\"winters\""), "what stands already is not asked about");
}

#[test]
fn a_bad_day_is_kept_with_one_tap_and_undone() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let place = || say(at, "GET /places/cold-room", "");
    let undo = |page: &str| {
        let to = format!("/places/cold-room/incidents/{}/undo", first_after_id(page));
        assert!(is_saved(&say(at, &format!("POST {to}"), "")), "{to}");
    };
    // The demo's own.
    undo(&place());
    let page = place();
    let warm = page.split_once("hours too warm").expect("the demo's warm hours of January").1;
    let [since, until] =
        ["since", "until"].map(|name| first_after(warm, &format!("name=\"{name}\" value=\"")).to_string());
    let keep = |said: &str, since: &str| {
        let fields = [("since", since), ("until", &until), ("said", said)];
        say(at, "POST /places/cold-room/incidents", &encoded(&fields))
    };
    assert!(keep("perhaps", &since).starts_with("HTTP/1.1 422"), "no answer we know");
    assert!(keep("happened", "1").starts_with("HTTP/1.1 422"), "no such stretch");
    for said in ["happened", "logger"] {
        assert!(is_saved(&keep(said, &since)), "{said}");
        let page = place();
        assert!(page.contains("Bad days kept"), "{said}");
        assert_eq!(
            page.contains("The logger alone was wrong</button>"),
            page.contains("It happened: keep it")
        );
        assert_eq!(page.contains("alone was wrong: these hours are left out"), said == "logger");
        let tree = say(at, &format!("GET /trees/{TREE}"), "");
        assert_eq!(tree.contains("Bad days where it stood"), said == "happened");
        undo(&page);
        assert!(!place().contains("Bad days kept"));
    }
}

/// What follows the address of the first answer that can be undone.
fn first_after_id(page: &str) -> String {
    first_after(page, "action=\"/places/cold-room/incidents/").to_string()
}

#[test]
fn a_check_in_ice_water_stands_beside_its_sensor_and_is_undone() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    assert!(say(at, "GET /places/cold-room", "").contains("right by its ice check of 3 Nov"));
    let check = |shown: &str| {
        let fields = [("sensor", ""), ("day", "2025-11-03"), ("shown", shown)];
        say(at, "POST /places/cold-room/ice", &encoded(&fields))
    };
    assert!(check("9").starts_with("HTTP/1.1 422"));
    assert!(is_saved(&check("0.4")));
    let page = say(at, "GET /places/cold-room", "");
    assert!(page.contains("corrected by \u{2212}0.4") && page.contains("ice check of 3 Nov"), "{page}");
    let undo =
        format!("/places/cold-room/ice/{}/undo", first_after(&page, "action=\"/places/cold-room/ice/"));
    assert!(is_saved(&say(at, &format!("POST {undo}"), "")));
    let page = say(at, "GET /places/cold-room", "");
    assert!(page.contains("not checked in ice water") && !page.contains("ice check of"));
}
