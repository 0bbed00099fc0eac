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
    window.follow("button[value=\"white-beech/watered/dry\"]");
    assert_eq!(to_water(&window), before - 1);
    let row = ".pot-row:has(a[href=\"/trees/white-beech#water\"])";
    assert!(window.text(&format!("{row} .was")).contains("watered 06:30"), "{}", window.text(row));
    window.go("/trees/white-beech");
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
    window.tap("label.pick:has(input[value=\"white-beech\"])");
    window.press("All ticked on Long bench are watered");
    assert_eq!(to_water(&window), before - (swept - 1), "the exception was swept too");
    window.turn_to(&second);
    window.follow("button[value=\"hedge-thorn/watered/right\"]");
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

#[test]
fn a_sulking_tree_is_told_apart_from_a_thirsty_one_on_round_and_page() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo", "--today", "2026-04-28"]);
    let window = Window::open(demo.address(), PHONE);
    window.go("/round");
    window.ask("document.querySelectorAll('details').forEach(it => { it.open = true; })");
    window.follow("a[href=\"/trees/trident-on-rock#after-cut\"]");
    let told = window.text("#after-cut");
    for words in ["after a cut of 55 %", "roots, not thirst", "no feed until 14 May", "look again on 5 May"] {
        assert!(told.contains(words), "{words}: {told}");
    }
    let drawn = window.ask(
        "const box = it => document.querySelector('#after-cut ' + it).getBoundingClientRect();
        const bars = [...document.querySelectorAll('#after-cut .use-bar')].map(it => it.getBoundingClientRect());
        const [span, cut] = [box('.dry-span'), box('.cut-line')];
        return [bars.length, bars.filter(it => it.left > cut.left && it.top > span.bottom).length, bars.some(it => it.right < cut.left)]",
    );
    let drawn = drawn.as_array().unwrap();
    assert!(
        drawn[0].as_i64() > Some(8) && drawn[1].as_i64() > Some(5),
        "bars, and bars below what is expected: {drawn:?}"
    );
    assert_eq!(drawn[2], true, "nothing is drawn from before the cut");
    window.go("/trees/broom-elm");
    assert!(window.text("#after-cut").contains("as it should be"), "{}", window.text("#after-cut"));
    assert_eq!(window.errors(), Vec::<String>::new());
}
