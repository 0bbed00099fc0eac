//! What a grower does with the demo: reads today, looks at buds, brings a logger, tries a move, edits in two tabs.

use std::fs;

use crate::{
    served::Served,
    window::{DESK, PHONE, Window, unwanted},
};

#[test]
fn today_names_trees_and_complains_of_nothing() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), DESK);
    window.go("/");
    let day = window.text("h1");
    assert!(day.contains("Saturday, 28 Mar") && day.contains("2026"), "{day}");
    let names = window
        .ask("return [...document.querySelectorAll('main a[href^=\"/trees/\"]')].map(it => it.textContent)");
    let names = names.as_array().unwrap();
    assert!(!names.is_empty() && names.iter().all(|name| name != ""), "{names:?}");
    for page in ["/waking", "/places", "/bring", "/site"] {
        window.go(page);
    }
    assert_eq!(window.errors(), Vec::<String>::new());
}

/// The day in the middle of a forecast, under a heading of the tree's page.
fn forecast(window: &Window, heading: &str) -> String {
    let script = format!(
        "return [...document.querySelectorAll('#forecast dt')].find(it => it.innerText === '{heading}')
            ?.nextElementSibling.innerText"
    );
    window.ask(&script).as_str().unwrap_or_else(|| panic!("no {heading} on the page")).to_string()
}

#[test]
fn a_bud_look_takes_two_taps_and_can_be_taken_back() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    window.go("/trees/red-lantern");
    let (before, diary) = (forecast(&window, "Buds full"), window.text("#diary .diary"));
    assert!(!diary.starts_with("28 Mar"), "{diary}");

    window.tap(".stages label:has(input[value=\"1\"])");
    window.press("Sure, close up");

    let after = forecast(&window, "Buds full");
    assert_ne!(after, before, "the look changed nothing");
    let diary_after = window.text("#diary .diary");
    assert!(diary_after.starts_with("28 Mar") && diary_after.contains("swelling"), "{diary_after}");

    window.follow("#diary .diary li:has(form) button");
    assert_eq!(window.text("#diary .diary"), diary);
    assert_eq!(forecast(&window, "Buds full"), before);
}

/// Brings a file through the form as a grower does.
pub fn bring(window: &Window, kind: &str, place: &str, file: &std::path::Path) {
    window.go("/bring");
    window.choose("select[name=kind]", kind);
    if !place.is_empty() {
        window.choose("select[name=place]", place);
    }
    window.choose_file("input[type=file]", file);
    window.press("Look through");
}

/// The lines of the log on the site's page, newest first.
fn log(window: &Window) -> String {
    window.go("/site");
    window.text("main .diary")
}

#[test]
fn a_bad_line_is_named_and_left_out_only_on_a_yes() {
    if unwanted() {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("frame in may.csv");
    let lines = ["time,temp_c", "2026-05-20T00:00,9.5", "2026-05-20T01:00,ninety", "2026-05-20T02:00,8.5"];
    fs::write(&file, lines.join("\n")).unwrap();
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    let before = log(&window);

    bring(&window, "logger", "cold-frame", &file);
    let refused = window.text("section.alarm");
    assert!(refused.contains("frame in may.csv, line 3") && refused.contains("ninety"), "{refused}");
    assert!(refused.contains("Nothing has been written"), "{refused}");
    assert_eq!(log(&window), before, "something was written before the yes");

    bring(&window, "logger", "cold-frame", &file);
    window.press("Take the rest, leave these lines out");
    assert_eq!(window.text("h1"), "Taken in");
    let done = window.text("main");
    assert!(done.contains("1 lines left out") || done.contains("1 line left out"), "{done}");
    assert!(!done.contains(" 0 new"), "{done}");
    let taken = log(&window);
    assert!(taken.contains("imported frame in may.csv"), "{taken}");

    bring(&window, "logger", "cold-frame", &file);
    window.press("Take the rest, leave these lines out");
    let again = window.text("main");
    assert!(again.contains(" 0 new or changed"), "{again}");
    assert_eq!(log(&window), taken, "the same file twice was written twice");
}

#[test]
fn a_move_is_tried_side_by_side() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), DESK);
    let before = log(&window);
    window.go("/places/cold-room");
    window.follow("main a[href^=\"/trees/\"]");
    window.choose("#what-if select[name=place]", "kitchen-sill");
    window.press("Try it");
    let trial = window.text(".trial");
    assert!(trial.contains("Kitchen sill from") && trial.contains("sooner"), "{trial}");
    let strips = window.ask(
        "return [...document.querySelectorAll('.trial .beside svg.strip')].map(it => it.getBoundingClientRect())",
    );
    let strips = strips.as_array().unwrap();
    assert_eq!(strips.len(), 2);
    assert_eq!(strips[0]["top"], strips[1]["top"], "they do not stand side by side");
    assert!(strips[0]["right"].as_f64() < strips[1]["left"].as_f64(), "they lie on each other");
    assert_eq!(log(&window), before, "a trial was written down");
}

#[test]
fn fahrenheit_is_a_choice_of_the_site() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), DESK);
    let lines_with = |unit: &str| -> Vec<String> {
        window.go("/places");
        window.text("main").lines().filter(|line| line.contains(unit)).map(String::from).collect()
    };
    assert!(lines_with("°C").len() >= 6);
    assert_eq!(lines_with("°F"), Vec::<String>::new());
    window.go("/site");
    window.choose("select[name=units]", "imperial");
    window.press("Keep");
    assert_eq!(lines_with("°C"), Vec::<String>::new());
    assert!(lines_with("°F").len() >= 6);
}

#[test]
fn of_two_tabs_the_second_is_told_and_the_first_stands() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), DESK);
    let note = "form[action$=\"/edit\"] input[name=note]";
    let write = |words: &str| {
        window.fill(note, words);
        window.press("Keep");
    };
    let open = || {
        window.go("/trees/olive");
        window.ask("document.querySelector('form[action$=\"/edit\"]').closest('details').open = true");
    };
    open();
    let (first, second) = window.second_tab(DESK);
    open();
    window.turn_to(&first);
    write("Wired in the first tab");
    assert_eq!(window.text("h1"), "Olive");
    window.turn_to(&second);
    write("Pinched in the second tab");
    let told = window.text("main");
    assert!(told.contains("Not saved: this was changed on another device meanwhile"), "{told}");
    assert!(told.contains("Wired in the first tab"), "what stands is not shown: {told}");
    assert_eq!(window.value(note), "Pinched in the second tab", "what was typed is lost");
    open();
    assert_eq!(window.value(note), "Wired in the first tab");
}
