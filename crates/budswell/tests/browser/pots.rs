//! The shelf on a telephone: a pot found and written down, matched, promised, argued over, bought in thought.

use serde_json::json;

use crate::{
    served::Served,
    window::{PHONE, Window, unwanted},
};

/// Names of the pots that the shelf shows.
fn found(window: &Window) -> Vec<String> {
    let names =
        window.ask("return [...document.querySelectorAll('.cards.ware h3')].map(it => it.textContent)");
    serde_json::from_value(names).unwrap()
}

/// The card of a pot on a tree's page of pots, as a selector.
fn card(pot: &str) -> String {
    format!("article:has(h3 a[href=\"/pots/{pot}\"])")
}

#[test]
fn the_shelf_is_searched_by_colour_length_maker_and_day() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    window.go("/pots");
    let all = found(&window);
    assert_eq!(all.len(), 60);
    assert!(window.text("main .big").starts_with("60 pots, "), "{}", window.text("main .big"));

    window.tap("details.find summary");
    window.choose("select[name=colour]", "pot_celadon");
    window.fill("input[name=from]", "30");
    window.fill("input[name=to]", "50");
    window.press("Find");
    let celadon = found(&window);
    assert!((2..20).contains(&celadon.len()), "{celadon:?}");
    assert!(celadon.iter().any(|name| name == "Celadon oval 46 cm"), "{celadon:?}");
    let long = window.ask(
        "return [...document.querySelectorAll('.cards.ware .what')].map(it => parseFloat(it.innerText))",
    );
    let long: Vec<f64> = serde_json::from_value(long).unwrap();
    assert!(long.iter().all(|cm| (30.0..=50.0).contains(cm)), "{long:?}");
    assert_eq!(window.value("input[name=from]"), "30", "what was asked for is forgotten");

    window.go("/pots");
    window.tap("details.find summary");
    window.fill("input[name=words]", "quarry steps");
    window.press("Find");
    let quarry = found(&window);
    let makers = window.ask("return [...document.querySelectorAll('.cards.ware .quiet')].every(it => it.innerText.includes('Quarry Steps'))");
    assert!(makers == json!(true) && quarry.len() > 3 && quarry.len() < 60, "{quarry:?}");

    // By its day: what is in use until summer is not free in spring, and free in autumn.
    let on = |day: &str| {
        window.go(&format!("/pots?words=&from=&to=&colour=&free={day}"));
        found(&window)
    };
    let (spring, autumn) = (on("2026-04-01"), on("2026-10-01"));
    assert!(spring.iter().any(|name| name == "Ochre drum 10 cm"), "{spring:?}");
    assert!(!spring.iter().any(|name| name == "Celadon oval 46 cm"), "Old trident stands in it");
    assert!(!spring.is_empty() && spring.len() < 60 && !autumn.is_empty());

    window.go("/pots?words=&from=long&to=&colour=&free=");
    assert!(window.text("[role=alert]").contains("“long” is no length"), "{}", window.text("[role=alert]"));
    assert_eq!(window.errors(), Vec::<String>::new());
}

#[test]
fn a_pot_with_few_measures_is_written_down_and_says_what_is_not_known() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    window.go("/pots");
    window.follow("a[href=\"/pots/new\"]");
    window.fill("input[name=name]", "Speckled oval");
    window.choose("select[name=shape]", "oval");
    window.fill("input[name=length]", "31");
    window.fill("input[name=width]", "24");
    window.fill("input[name=height]", "7,5");
    window.choose("select[name=finish]", "gloss");
    window.choose("select[name=swatch]", "pot_cobalt");
    window.press("Keep it");
    assert_eq!(window.text("h1"), "Speckled oval");
    let told = window.text("main");
    for words in
        ["31 × 24 × 7.5 cm", "cobalt, picked", "firing not known", "not counted, not counted", "free"]
    {
        assert!(told.contains(words), "{words}: {told}");
    }
    window.go("/pots?words=speckled&from=&to=&colour=&free=");
    let row = window.text(".cards.ware");
    assert!(row.contains("Not known: drain holes, tie holes, how hard it was fired, feel"), "{row}");
    assert!(window.text("main .big").starts_with("61 pots"), "{}", window.text("main .big"));
    assert_eq!(window.errors(), Vec::<String>::new());
}

#[test]
fn three_pots_stand_to_one_scale_and_a_score_opens_into_its_rules() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    window.go("/trees/lone-larch/pots");
    let drawn = window.ask(
        "return [...document.querySelectorAll('.three svg.preview')].map(it => it.getAttribute('viewBox'))",
    );
    let drawn = drawn.as_array().unwrap();
    assert!(drawn.len() == 3 && drawn.iter().all(|frame| frame == &drawn[0]), "not to one scale: {drawn:?}");
    // What is drawn lies in its frame: the pot's clay is seen, in the colour of its record, and the soil line over it.
    let seen = window.ask(
        "return [...document.querySelectorAll('.three svg.preview')].map(it => {
            const [frame, clay, soil] = [it, it.querySelector('.clay-own'), it.querySelector('.soil-line')].map(it => it.getBoundingClientRect());
            return clay.width > 15 && clay.left >= frame.left - 1 && clay.right <= frame.right + 1 && soil.width > 20
                && it.querySelector('.wood, .crown') !== null;
        })",
    );
    assert_eq!(seen, json!([true, true, true]));
    let first = ".three article:first-child";
    window.tap(&format!("{first} details summary"));
    let told = window.text(&format!("{first} details"));
    for words in [
        "outer length over the larger of height and spread",
        "common practice, no source",
        "0.55 to 0.80",
        "two-colour model",
    ] {
        assert!(told.contains(words), "{words}: {told}");
    }
    let told = window.text(first);
    assert!(
        told.contains("wet, ") && told.contains("wet up to"),
        "weight or water layer is not said: {told}"
    );
    assert_eq!(window.errors(), Vec::<String>::new());
}

#[test]
fn a_pot_is_promised_seen_everywhere_and_taken_back() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    window.go("/trees/lone-larch/pots");
    let dark = card("dark-rectangle-44-cm");
    window.fill(&format!("{dark} input[name=why]"), "it outgrew its own");
    window.follow(&format!("{dark} button[value=promised]"));
    assert!(window.text(&dark).contains("promised to it"), "{}", window.text(&dark));
    window.go("/pots/share");
    let row = window.text("li.card:has(a[href=\"/trees/lone-larch/pots\"])");
    assert!(row.contains("Dark rectangle 44 cm promised to it"), "{row}");
    window.go("/pots/dark-rectangle-44-cm");
    let said = window.text("#said .diary");
    assert!(said.contains("Promised to Lone larch: it outgrew its own"), "{said}");
    assert!(window.text("main .big").contains("held"), "{}", window.text("main .big"));

    // Promised from the plan, and taken back on the pot's own page.
    window.go("/pots/share");
    window.follow("li.card:has(a[href=\"/trees/scots-pine/pots\"]) button");
    assert!(window.text("li.card:has(a[href=\"/trees/scots-pine/pots\"])").contains("promised to it"));
    window.go("/pots/dark-rectangle-44-cm");
    window.follow("#said .diary button");
    assert!(window.text("#said").contains("Nothing yet"), "{}", window.text("#said"));
    assert_eq!(window.errors(), Vec::<String>::new());
}

/// Names a second choice for the larch, on the pot's own page.
fn name_a_second(window: &Window) {
    window.go("/pots/brown-rectangle-40-cm");
    window.choose("#said select[name=said]", "second");
    window.choose("#said select[name=tree]", "lone-larch");
    window.fill("#said input[name=why]", "should the dark one crack");
    window.press("Write down");
    assert!(
        window.text("#said .diary").contains("Second choice of Lone larch: should the dark one crack"),
        "{}",
        window.text("#said")
    );
}

fn row_of_the_larch(window: &Window) -> String {
    window.go("/pots/share");
    window.text("li.card:has(a[href=\"/trees/lone-larch/pots\"])")
}

#[test]
fn a_second_choice_is_named_and_says_what_it_is_second_for() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    name_a_second(&window);
    let row = row_of_the_larch(&window);
    assert!(row.contains("Second: Brown rectangle 40 cm, as you named it"), "{row}");
}

#[test]
fn the_grower_s_own_reason_can_be_read_again() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    name_a_second(&window);
    window.go("/pots/brown-rectangle-40-cm");
    let said = window.text("#said .diary");
    assert!(said.contains("should the dark one crack"), "the reason is lost: {said}");
}

#[test]
fn a_second_choice_stays_in_sight_when_the_first_is_promised() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    name_a_second(&window);
    window.go("/trees/lone-larch/pots");
    window.follow(&format!("{} button[value=promised]", card("dark-rectangle-44-cm")));
    let row = row_of_the_larch(&window);
    assert!(row.contains("Dark rectangle 44 cm promised to it"), "{row}");
    assert!(row.contains("Second: Brown rectangle 40 cm"), "the second choice is gone: {row}");
}

#[test]
fn a_rule_switched_off_changes_the_score_and_a_liking_the_taste() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    window.go("/trees/lone-larch/pots");
    let scores = || window.ask("return [...document.querySelectorAll('.three h3')].map(it => it.innerText)");
    let before = scores();
    let taste = || {
        window.ask("return [...document.querySelectorAll('.part .quiet')].map(it => it.innerText).find(it => it.includes('choices of yours')) ?? ''")
    };
    let had = taste();
    assert!(had.as_str().unwrap().starts_with("After 12 choices"), "{had}");
    window.tap("#rules summary");
    let rule = "soil over what the crown drinks from";
    window.follow(&format!("button[aria-label=\"switch off: {rule}\"]"));
    let after = scores();
    assert_ne!(after, before, "the rule still counts");
    window.tap("#rules summary");
    window.follow(&format!("button[aria-label=\"switch on: {rule}\"]"));
    assert_eq!(scores(), before);

    window.choose("select[name=liked]", "dark-rectangle-44-cm");
    window.choose("select[name=over]", "brown-rectangle-40-cm");
    window.press("Keep my taste");
    let has = taste();
    assert!(has.as_str().unwrap().starts_with("After 13 choices") && has != had, "{has}");
    assert_eq!(window.errors(), Vec::<String>::new());
}

#[test]
fn a_pot_to_buy_is_tried_and_nothing_is_written() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    let log = |window: &Window| {
        window.go("/site");
        window.text("main .diary")
    };
    let before = log(&window);
    window.go("/pots/share");
    let form = "form[action=\"/pots/share#buy\"]";
    let ask = |long: &str, wide: &str, high: &str| {
        window.choose(&format!("{form} select[name=shape]"), "soft-rectangle");
        for (field, typed) in [("length", long), ("width", wide), ("height", high)] {
            window.fill(&format!("{form} input[name={field}]"), typed);
        }
        window.choose(&format!("{form} select[name=finish]"), "unglazed");
        window.choose(&format!("{form} select[name=swatch]"), "pot_unglazed_brown");
        window.press("What would it change");
        window.text("#buy")
    };
    let told = ask("40", "30", "9");
    assert!(told.contains("Yew would get it, and the season's sum would rise by"), "{told}");
    assert!(told.contains("Yew: Grey rectangle 39 cm → the new pot"), "{told}");
    let small = ask("8", "6", "4");
    assert!(small.contains("nobody would get it"), "{small}");
    let wrong = ask("huge", "6", "4");
    assert!(wrong.contains("“huge” is no length of a pot"), "{wrong}");
    assert_eq!(window.value(&format!("{form} input[name=length]")), "huge");
    assert_eq!(log(&window), before, "a thought was written down");
    assert_eq!(window.errors(), Vec::<String>::new());
}

#[test]
fn of_two_telephones_on_one_pot_the_second_is_told_and_the_first_stands() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    let promise = |tree: &str, why: &str| {
        window.choose("#said select[name=tree]", tree);
        window.fill("#said input[name=why]", why);
        window.press("Write down");
    };
    window.go("/pots/dark-rectangle-44-cm");
    let (first, second) = window.second_tab(PHONE);
    window.go("/pots/dark-rectangle-44-cm");
    window.turn_to(&first);
    promise("lone-larch", "it outgrew its own");
    window.turn_to(&second);
    promise("hedge-thorn", "older bark");
    assert!(
        window.text("[role=alert]").contains("changed on another device meanwhile"),
        "{}",
        window.text("main")
    );
    assert_eq!(window.value("#said input[name=why]"), "older bark", "what was typed is lost");
    window.go("/pots/dark-rectangle-44-cm");
    let said = window.text("#said .diary");
    assert!(said.contains("Lone larch") && !said.contains("Scots pine"), "{said}");
    let errors = window.errors();
    assert!(errors.len() == 1 && errors[0].contains("409 (Conflict)"), "{errors:?}");
}
