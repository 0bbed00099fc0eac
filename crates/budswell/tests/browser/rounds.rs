//! A round on a telephone: one tap a pot, a sweep with an exception, two hands at once, a shift, a scale.

use crate::{
    served::Served,
    window::{PHONE, Window, unwanted},
};

fn july() -> Served {
    Served::start(["demo", "--today", "2026-07-14"])
}

/// How many pots the page says are to be watered.
fn to_water(window: &Window) -> i64 {
    window.ask("return Number(document.querySelector('.sums b').innerText)").as_i64().unwrap()
}

#[test]
fn one_tap_waters_a_pot_and_can_be_taken_back() {
    if unwanted() {
        return;
    }
    let demo = july();
    let window = Window::open(demo.address(), PHONE);
    window.go("/round");
    let before = to_water(&window);
    assert!(before > 5, "{before}");
    window.follow("button[value=\"broom-maple/watered/dry\"]");
    assert_eq!(to_water(&window), before - 1);
    let row = ".pot-row:has(a[href=\"/trees/broom-maple#water\"])";
    assert!(window.text(&format!("{row} .was")).contains("watered 06:30"), "{}", window.text(row));
    window.go("/trees/broom-maple");
    assert!(window.text("#water").contains("leave") || window.text("#water").contains("even when watered"));
    window.go("/round");
    window.follow(&format!("{row} .was button"));
    assert_eq!(to_water(&window), before);
    assert_eq!(window.errors(), Vec::<String>::new());
}

#[test]
fn a_place_is_swept_with_an_exception_and_a_second_telephone_changes_nothing() {
    if unwanted() {
        return;
    }
    let demo = july();
    let window = Window::open(demo.address(), PHONE);
    window.go("/round");
    let (first, second) = window.second_tab(PHONE);
    for tab in [&second, &first] {
        window.turn_to(tab);
        window.go("/round");
    }
    let ticked = "return document.querySelectorAll('#at-long-bench ~ form input[name=tree]:checked').length";
    let swept = window.ask(ticked).as_i64().unwrap();
    let before = to_water(&window);
    window.tap("label.pick:has(input[value=\"broom-maple\"])");
    window.press("All ticked on Long bench are watered");
    assert_eq!(to_water(&window), before - (swept - 1), "the exception was swept too");
    window.turn_to(&second);
    window.follow("button[value=\"stone-elm/watered/right\"], button[value=\"old-trident/watered/right\"]");
    assert_eq!(to_water(&window), before - (swept - 1), "one watering was counted twice");
    assert!(window.text("main").contains("it counts once") || window.text("main").contains("watered 06:30"));
}

#[test]
fn a_shift_changes_the_next_visit_and_a_bad_weight_is_named() {
    if unwanted() {
        return;
    }
    let demo = july();
    let window = Window::open(demo.address(), PHONE);
    window.go("/round#away");
    assert!(window.text("main .big").contains("19:00"), "{}", window.text("main .big"));
    window.ask("document.querySelectorAll('details').forEach(it => { it.open = true; })");
    window.fill("form[action=\"/round/away\"] input[name=words]", "Course");
    window.ask(
        "const form = document.querySelector('form[action=\"/round/away\"]');
        form.first.value = '2026-07-14'; form.leaves.value = '08:00'; form.back.value = '21:30';",
    );
    window.follow("form[action=\"/round/away\"] button");
    window.go("/round");
    let next = window.text("main .big");
    assert!(next.contains("21:30") && next.contains("Course"), "{next}");
    window.go("/trees/stone-elm");
    window.fill("#water input[name=weight]", "-2 kg");
    window.follow("#water form button");
    assert!(window.text("main").contains("-2 kg"), "{}", window.text("main"));
}
