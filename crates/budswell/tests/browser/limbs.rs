//! Branches at the bench: a tree traced with a finger, wishes and cuts that speak against them, a card on one page, a tree turned.

use std::{fs, path::Path};

use serde_json::{Value, json};

use crate::{
    served::Served,
    window::{DESK, PHONE, Window, unwanted},
};

fn may() -> Served {
    Served::start(["demo", "--today", "2026-05-04"])
}

fn photo() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../demo/photos/grey-beech-2025-12-14.jpg")
        .canonicalize()
        .unwrap()
}

/// Sends a photo of a tree; the page that answers is the tracing page, or says no.
fn send(window: &Window, tree: &str, file: &Path) {
    window.go(&format!("/trees/{tree}/limbs"));
    window.choose_file("form[action$=\"/photos\"] input[type=file]", file);
    window.press("Send and trace");
}

/// Where spots of the photo lie on the screen.
pub fn on_screen(window: &Window, spots: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let script = format!(
        "const canvas = document.querySelector('#canvas'); canvas.scrollIntoView({{ block: 'center' }});
        const to = canvas.getScreenCTM();
        return {}.map(([x, y]) => {{ const it = new DOMPoint(x, y).matrixTransform(to); return [it.x, it.y]; }})",
        json!(spots)
    );
    serde_json::from_value(window.ask(&script)).unwrap()
}

/// Taps spots of the photo with one finger, one after the other.
fn tap_photo(window: &Window, spots: &[[f64; 2]]) {
    for spot in on_screen(window, spots) {
        window.touch(&[spot], &[]);
    }
}

fn traced(window: &Window) -> Value {
    window.ask("return [...document.querySelectorAll('#lines .trace-line')].map(it => it.points.length)")
}

#[test]
fn ten_branches_are_traced_with_a_finger() {
    if unwanted() {
        return;
    }
    let demo = may();
    let window = Window::open(demo.address(), PHONE);
    window.touchable();
    send(&window, "ginkgo", &photo());
    assert!(window.text("#say").contains("Tap 2 more ends"), "{}", window.text("#say"));
    tap_photo(&window, &[[150.0, 1020.0], [850.0, 1020.0]]);
    window.fill("#scale-long", "340 mm");
    window.tap("[data-tool=soil]");
    tap_photo(&window, &[[500.0, 1000.0]]);
    window.tap("[data-tool=limb]");
    tap_photo(&window, &[[500.0, 1000.0], [480.0, 800.0], [510.0, 500.0], [500.0, 200.0]]);
    for branch in 0..10 {
        window.tap("#next");
        let (y, side) = (750.0 - 50.0 * f64::from(branch), if branch % 2 == 0 { -1.0 } else { 1.0 });
        tap_photo(&window, &[[495.0 + side * 12.0, y], [495.0 + side * 150.0, y - 60.0]]);
    }
    let points = traced(&window);
    assert_eq!(points.as_array().map(Vec::len), Some(11), "{points}");
    // A spot too many is taken back, and two fingers come closer without adding one.
    tap_photo(&window, &[[600.0, 300.0]]);
    window.tap("#undo");
    assert_eq!(traced(&window), points);
    let middle = on_screen(&window, &[[480.0, 600.0], [520.0, 600.0]]);
    window.touch(&middle, &[[middle[0][0] - 60.0, middle[0][1]], [middle[1][0] + 60.0, middle[1][1]]]);
    let seen = window.ask("return document.querySelector('#canvas').viewBox.baseVal.width");
    assert!(seen.as_f64().is_some_and(|wide| wide < 900.0), "{seen}");
    assert_eq!(traced(&window), points);
    window.ask("document.querySelectorAll('#limbs li')[1].querySelector('[data-field=clock]').focus()");
    window.choose("#limbs li:nth-child(2) [data-field=clock]", "9");
    window.fill("#limbs li:nth-child(1) [data-field=thick]", "41,5");
    window.press("Keep what is traced");
    let page = window.text("main");
    assert!(
        page.contains("11 branches without a wish of their own") && page.contains("base 41.5 mm"),
        "{page}"
    );
    window.tap("#limb-1 > details > summary");
    assert!(window.text("#limb-1").contains("towards the left"), "{}", window.text("#limb-1"));
    assert_eq!(window.ask("return document.querySelectorAll('.limb-rows > li').length"), json!(11));
    assert_eq!(window.ask("return document.querySelectorAll('.bare .wood').length"), json!(1));
    assert_eq!(
        window.ask("return sessionStorage.length + location.search"),
        json!("0"),
        "the draft outlived its keeping"
    );
    assert_eq!(window.errors(), Vec::<String>::new());
}

#[test]
fn a_tap_on_a_traced_tree_does_nothing_and_lines_outlive_a_lost_connection() {
    if unwanted() {
        return;
    }
    let demo = may();
    let window = Window::open(demo.address(), PHONE);
    window.touchable();
    window.go("/photos/old-trident-2025-12-14/trace");
    let whole = traced(&window);
    let count = whole.as_array().map_or(0, Vec::len);
    assert!(count > 3, "{whole}");
    assert!(window.text("#say").contains("No branch is chosen"), "{}", window.text("#say"));
    tap_photo(&window, &[[300.0, 300.0]]);
    assert_eq!(traced(&window), whole, "a stray tap drew something");
    window.tap("#undo");
    assert!(window.text("#say").contains("Nothing to undo"), "{}", window.text("#say"));
    let names =
        || window.ask("return document.querySelectorAll('#lines .trace-word').length").as_u64().unwrap();
    let far = names();
    assert!(far > 0 && far < count as u64, "{far} numbers of {count}");
    window.tap("#closer");
    window.tap("#closer");
    assert_eq!(names(), count as u64, "close by, a limb lacks its number");
    window.tap("#further");
    window.tap("#further");
    window.tap("#limbs li:nth-child(2) [data-clear]");
    assert!(window.text("#say").contains("Its old line stays kept"), "{}", window.text("#say"));
    assert_eq!(traced(&window)[1], json!(0));
    window.tap("#undo");
    assert_eq!(traced(&window), whole);
    // The house cannot be reached while the drawing is sent: its lines are there when the page is opened again.
    window.tap("#limbs li:nth-child(2) [data-choose]");
    tap_photo(&window, &[[300.0, 300.0]]);
    let drawn = traced(&window);
    assert_ne!(drawn, whole);
    window.ask("const form = document.querySelector('#keep'); form.addEventListener('submit', event => event.preventDefault()); form.requestSubmit();");
    window.go("/trees/old-trident/limbs");
    window.go("/photos/old-trident-2025-12-14/trace");
    assert_eq!(traced(&window), drawn, "the lines are lost");
    window.press("Keep what is traced");
    window.go("/photos/old-trident-2025-12-14/trace");
    assert_eq!(traced(&window), drawn);
    assert_eq!(window.ask("return sessionStorage.length"), json!(0));
    assert_eq!(window.errors(), Vec::<String>::new());
}

#[test]
fn a_drawing_that_cannot_be_is_shown_again_whole() {
    if unwanted() {
        return;
    }
    let demo = may();
    let window = Window::open(demo.address(), DESK);
    send(&window, "ginkgo", &photo());
    window.ask(
        "const box = document.querySelector('[name=traced]'); const form = document.querySelector('#keep');
        box.value = JSON.stringify({ scale: [[1, 1], [200, 1]], scale_kind: 'line', long: 'about a foot', soil: null, at: 0,
            limbs: [{ number: 0, bearer: null, name: 'trunk', clock: '', tips: '', points: [[500, 900], [500, 300]], thick: '' }] });
        HTMLFormElement.prototype.submit.call(form);",
    );
    assert!(window.text("[role=alert]").contains("about a foot"), "{}", window.text("[role=alert]"));
    assert_eq!(traced(&window), json!([2]));
    assert_eq!(window.value("#scale-long"), "about a foot");
}

#[test]
fn photos_that_are_none_are_named_and_leave_nothing_behind() {
    if unwanted() {
        return;
    }
    let demo = may();
    let window = Window::open(demo.address(), PHONE);
    let folder = tempfile::tempdir().unwrap();
    let whole = fs::read(photo()).unwrap();
    let picture = |wide: u32, high: u32| {
        let mut bytes = std::io::Cursor::new(Vec::new());
        image::GrayImage::new(wide, high).write_to(&mut bytes, image::ImageFormat::Png).unwrap();
        bytes.into_inner()
    };
    let bad: [(&str, Vec<u8>, &str); 5] = [
        ("empty.jpg", Vec::new(), "the file is empty"),
        ("dot.png", picture(1, 1), "1 × 1 pixels"),
        ("text.jpg", b"this is a letter, not a photo".to_vec(), "no JPEG or PNG"),
        ("huge.png", picture(10_000, 6_000), "60 million pixels"),
        ("half.jpg", whole[..whole.len() / 2].to_vec(), "breaks off"),
    ];
    for (name, bytes, why) in bad {
        let file = folder.path().join(name);
        fs::write(&file, bytes).unwrap();
        send(&window, "ginkgo", &file);
        let told = window.text("main");
        assert!(told.contains(why), "{name}: {told}");
        window.go("/trees/ginkgo/limbs");
        assert_eq!(
            window.ask("return document.querySelectorAll('.photo-list li').length"),
            json!(0),
            "{name}"
        );
    }
}

#[test]
fn a_wish_is_seen_on_the_card_and_a_cut_against_it_is_asked_about() {
    if unwanted() {
        return;
    }
    let demo = may();
    let window = Window::open(demo.address(), PHONE);
    window.go("/trees/grey-beech/limbs");
    let form = "#limb-4 form[action$=\"/intentions\"]";
    window.tap("details:has(> .folded) > summary");
    window.tap("#limb-4 > details > summary");
    window.tap("#limb-4 details:has(> form[action$=\"/intentions\"]) > summary");
    assert_eq!(window.value(&format!("{form} select[name=wish]")), "", "a wish is chosen for the grower");
    window.choose(&format!("{form} select[name=wish]"), "let-run");
    window.fill(&format!("{form} input[name=until]"), "24 mm");
    window.fill(&format!("{form} input[name=why]"), "left side is thin");
    window.follow(&format!("{form} button"));
    assert!(window.text("#limb-4").contains("let run until 24.0 mm"));
    assert!(window.text("#limb-4").contains("Until that thick"), "{}", window.text("#limb-4"));
    window.go("/trees/grey-beech/bench");
    let spared = window.text(".bench-spare");
    assert!(spared.contains("fourth left") && spared.contains("left side is thin"), "{spared}");
    let [limb, kind] = ["limb", "kind"].map(|name| window.value(&format!("#cut select[name={name}]")));
    assert_eq!((limb.as_str(), kind.as_str()), ("", ""), "a cut is chosen for the grower");
    window.choose("#cut select[name=limb]", "4");
    window.choose("#cut select[name=kind]", "trim");
    window.fill("#cut input[name=nodes]", "2");
    window.follow("#cut button");
    let warned = window.text("[role=alert]");
    assert!(warned.contains("Stop") && warned.contains("left side is thin"), "{warned}");
    assert_eq!(window.value("#cut input[name=nodes]"), "2", "what was typed was lost");
    assert!(!window.text("#cut").contains("4 May: fourth left trimmed"), "it was written down unasked");
    window.fill("#cut input[name=despite]", "broken by the wind");
    window.follow("#cut button");
    let cuts = window.text("#cut");
    assert!(cuts.contains("fourth left trimmed, though asked: broken by the wind"), "{cuts}");
    // A limb taken off ends its wish and leaves the tree with all it bears.
    window.choose("#cut select[name=limb]", "7");
    window.choose("#cut select[name=kind]", "remove");
    window.fill("#cut input[name=wound]", "9 mm");
    window.follow("#cut button");
    // A weeks-old tree in leaf is asked about by the verdict too.
    window.fill("#cut input[name=despite]", "dead since winter");
    window.follow("#cut button");
    assert!(!window.text(".bench-list:last-of-type").contains("seventh left"));
    window.go("/trees/grey-beech/layers");
    assert!(window.text("main").contains("9.0 mm wide on trunk"), "{}", window.text("main"));
    // Taken back, the limb stands again and its wound is gone.
    window.go("/trees/grey-beech/limbs");
    let limbs = || window.ask("return document.querySelectorAll('.limb-rows > li').length").as_u64().unwrap();
    let without = limbs();
    window.tap("#written summary");
    window.follow("#written button[aria-label*=\"seventh left\"][aria-label*=\"4 May\"]");
    assert!(limbs() > without, "the limb is still gone");
    window.go("/trees/grey-beech/layers");
    assert!(!window.text("main").contains("9.0 mm wide on trunk"), "{}", window.text("main"));
    let errors = window.errors();
    assert!(errors.len() == 2 && errors.iter().all(|it| it.contains("409 (Conflict)")), "{errors:?}");
}

#[test]
fn the_bench_card_prints_on_one_page() {
    if unwanted() {
        return;
    }
    let demo = may();
    let window = Window::open(demo.address(), PHONE);
    for tree in ["old-trident", "red-lantern", "black-pine"] {
        window.go(&format!("/trees/{tree}/bench"));
        assert_eq!(window.printed_pages(), 1, "{tree}");
    }
    window.go("/trees/black-pine/limbs");
    assert!(window.printed_pages() > 1, "a long page is counted as one");
}

#[test]
fn a_tree_is_turned_and_a_candidate_kept_beside_the_front() {
    if unwanted() {
        return;
    }
    let demo = may();
    let window = Window::open(demo.address(), PHONE);
    window.go("/trees/red-lantern/front");
    let picture = || {
        window.ask("return document.querySelector('#round-view').toDataURL().length + ' ' + document.querySelector('#round-view').toDataURL().slice(-4000)")
    };
    window.ask_and_wait("const done = arguments[arguments.length - 1]; setTimeout(() => done(1), 300)");
    let front = picture();
    window.tap("[data-turn=\"90\"]");
    window.ask_and_wait("const done = arguments[arguments.length - 1]; setTimeout(() => done(1), 300)");
    assert_ne!(picture(), front, "it did not turn");
    assert_eq!(window.value("#seen-from"), "9");
    assert!(window.text("#turned").contains("9 o'clock"));
    window.fill("#sideways", "6");
    window.fill("form[action$=\"/front\"] input[name=why]", "hides the straight part");
    window.press("Keep");
    let kept = window.text("main");
    assert!(kept.contains("leant 6° to the right: hides the straight part"), "{kept}");
    assert_eq!(window.ask("return document.querySelectorAll('.three figure').length"), json!(2));
    window.press("drop it");
    assert_eq!(window.ask("return document.querySelectorAll('.three figure').length"), json!(1));
    assert_eq!(window.errors(), Vec::<String>::new());
}

#[test]
fn a_wire_is_seen_and_taken_off_and_a_piece_that_grew_in_stays_on_the_record() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo", "--today", "2026-05-24"]);
    let window = Window::open(demo.address(), PHONE);
    window.go("/trees/stone-elm/wires");
    let first = ".wire-rows > li:nth-child(1)";
    assert!(window.text(first).contains("second right") && window.text(first).contains("14 days ago"));
    window.follow(&format!("{first} button[value=seen]"));
    window.tap("details:has(> .wire-rows) > summary");
    let later = window.text("details > .wire-rows");
    assert!(later.contains("Last looked at 24 May; next look 31 May"), "{later}");
    let row = ".wire-rows > li:has(form):nth-child(1)";
    window.tap(&format!("{row} details summary"));
    window.tap(&format!("{row} input[name=grown_in]"));
    let limb = window.text(&format!("{row} h3"));
    window.follow(&format!("{row} button[value=marked]"));
    let told = window.text(".wire-rows");
    assert!(told.contains("still in the wood"), "{limb}: {told}");
    window.press("The last piece is out");
    assert!(!window.text("main").contains("still in the wood"));
    assert_eq!(window.errors(), Vec::<String>::new());
}

#[test]
fn two_plans_stand_side_by_side_and_a_count_teaches_the_next() {
    if unwanted() {
        return;
    }
    let demo = may();
    let window = Window::open(demo.address(), PHONE);
    window.go("/trees/old-trident/plans");
    window.choose("select[name=plan]", "one");
    window.choose("select[name=limb]", "2");
    window.choose("select[name=wish]", "keep-short");
    window.press("Grow both");
    assert!(window.text("main").contains("as meant, but second right: keep short"));
    let frames = window.ask("return [...document.querySelectorAll('main > .plans > figure svg')].map(it => it.getAttribute('viewBox'))");
    let frames = frames.as_array().unwrap();
    assert!(
        frames.len() == 5 && frames.iter().all(|frame| frame == &frames[0]),
        "not to one scale: {frames:?}"
    );
    let [meant, other] = [3, 4].map(|at| {
        let cell = format!("tbody tr:has(th:first-child):nth-child(3) td:nth-of-type({at})");
        window.text(&cell).split(' ').next().unwrap().parse::<f64>().unwrap()
    });
    assert!(meant > other, "let run {meant}, kept short {other}");
    let told = window.text("main");
    assert!(told.contains("never tried on bonsai") && told.contains("20 seeds"), "{told}");
    window.go("/trees/old-trident/plans");
    let before = window.text("main");
    assert!(before.contains("16 of 20 buds broke"), "{before}");
    window.fill("#count ~ ul li:first-child input[name=broke]", "1");
    window.fill("#count ~ ul li:first-child input[name=of]", "6");
    window.follow("#count ~ ul li:first-child button");
    assert!(window.text("main").contains("17 of 26 buds broke"), "{}", window.text("main"));
    assert_eq!(window.errors(), Vec::<String>::new());
}

#[test]
fn an_outline_is_mended_with_a_brush_and_measured_beside_last_year() {
    if unwanted() {
        return;
    }
    let demo = may();
    let window = Window::open(demo.address(), DESK);
    window.touchable();
    window.go("/photos/old-trident-2025-12-14/outline");
    let row = |window: &Window, at: usize| {
        let words = window.text(&format!("#years ~ .scroll tbody tr:nth-child({at})"));
        words.split_whitespace().map(str::to_string).collect::<Vec<_>>()
    };
    let (now, past) = (row(&window, 1), row(&window, 2));
    assert!(now.len() > 10 && past.join(" ").contains("8 Dec 2024"), "{now:?} {past:?}");
    window.ask("const it = document.querySelector('#brush'); it.value = 60;");
    let [from, to] = {
        let spots = on_screen(&window, &[[150.0, 150.0], [700.0, 150.0]]);
        [spots[0], spots[1]]
    };
    window.touch(&[from], &[to]);
    assert!(
        window.value("#keep [name=strokes]").starts_with("on 30 "),
        "{}",
        window.value("#keep [name=strokes]")
    );
    window.press("Keep what was painted");
    assert_ne!(row(&window, 1), now, "the paint changed nothing");
    assert_eq!(row(&window, 2), past);
    window.press("Take all paint off");
    assert_eq!(row(&window, 1), now);
    assert_eq!(window.errors(), Vec::<String>::new());
}

#[test]
fn a_tree_graph_comes_in_and_goes_out_again() {
    if unwanted() {
        return;
    }
    let demo = may();
    let window = Window::open(demo.address(), PHONE);
    let folder = tempfile::tempdir().unwrap();
    let graph = "return fetch('/trees/stone-elm/tree.mtg').then(it => it.text())";
    window.go("/trees/ginkgo/limbs");
    let text = window.ask(graph).as_str().unwrap().to_string();
    let file = folder.path().join("elm.mtg");
    fs::write(&file, &text).unwrap();
    window.tap("details:has(input[accept^=\".mtg\"]) summary");
    window.choose_file("input[accept^=\".mtg\"]", &file);
    window.press("Bring it");
    let limbs = |tree: &str| {
        window.go(&format!("/trees/{tree}/limbs"));
        window.ask("return document.querySelectorAll('.limb-rows > li').length")
    };
    assert_eq!(limbs("ginkgo"), limbs("stone-elm"));
    window.go("/trees/broom-maple/limbs");
    fs::write(&file, text.replace("FORM-A", "FORM-Z")).unwrap();
    window.tap("details:has(input[accept^=\".mtg\"]) summary");
    window.choose_file("input[accept^=\".mtg\"]", &file);
    window.press("Bring it");
    assert!(window.text("main").contains("line "), "{}", window.text("main"));
    assert_eq!(limbs("broom-maple"), json!(0));
}
