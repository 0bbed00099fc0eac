//! The first visit: an empty folder, four steps, an answer.

use std::path::Path;

use crate::{
    acts::bring,
    pages::{Looks, judge},
    served::Served,
    window::{PHONE, Window, unwanted},
};

#[test]
fn a_newcomer_gets_an_answer_in_four_steps() {
    if unwanted() {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("trees of mine");
    let house = Served::start(["serve", "--data", data.to_str().unwrap(), "--today", "2026-03-08"]);
    let window = Window::open(house.address(), PHONE);
    window.go("/");
    assert!(window.text("h1").contains("first answer"), "{}", window.text("h1"));
    assert_eq!(judge(&window, "/start, empty", &[Looks { size: PHONE, dark: false }]), Vec::<String>::new());

    for (field, words) in [
        ("name", "Yard behind the shop"),
        ("latitude", "47.3"),
        ("longitude", "9.1"),
        ("elevation", "560"),
        ("zone", "Europe/Zurich"),
    ] {
        window.fill(&format!("form[action=\"/site\"] input[name={field}]"), words);
    }
    window.follow("form[action=\"/site\"] button");

    window.fill("form[action=\"/places\"] input[name=name]", "Lean-to");
    window.choose("form[action=\"/places\"] select[name=shelter]", "cold-frame");
    window.follow("form[action=\"/places\"] button");

    window.fill("form[action=\"/trees\"] input[name=name]", "Father's maple");
    window.fill("form[action=\"/trees\"] input[name=taxon]", "Acer palmatum");
    window.follow("form[action=\"/trees\"] button");
    assert_eq!(window.ask("return document.querySelectorAll('.steps .done').length"), 3);

    let weather = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/station.csv");
    bring(&window, "weather", "", &weather.canonicalize().unwrap());
    assert!(window.text("main").contains("8120 rows"), "{}", window.text("main"));
    window.press("Take it in");
    assert_eq!(window.text("h1"), "Taken in");

    window.go("/");
    let day = window.text("h1");
    assert!(day.contains("Sunday, 8 Mar") && day.contains("2026"), "{day}");
    window.go("/waking");
    let row = window.text(".rows .row");
    assert!(row.contains("Father's maple") && row.contains("Opens "), "{row}");
    assert!(row.contains("Lean-to"), "{row}");
    assert_eq!(window.errors(), Vec::<String>::new());
}
