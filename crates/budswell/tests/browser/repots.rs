//! A repot on a telephone: logged in full and taken back, asked about over the limit; a glaze read off a photo; the shed counted.

use std::path::PathBuf;

use image::{ImageFormat, Rgb, RgbImage};
use serde_json::json;

use crate::{
    limbs::on_screen,
    served::Served,
    window::{PHONE, Window, unwanted},
};

/// A photo as a telephone takes it: a green wall, a tree of sorts, no two alike.
fn photo(folder: &tempfile::TempDir) -> PathBuf {
    let file = folder.path().join("at the bench.jpg");
    let picture = RgbImage::from_fn(900, 1200, |x, y| {
        let trunk = (430..470).contains(&x) && y > 300;
        if trunk { Rgb([92, 70, 52]) } else { Rgb([120, (140 + (x + y) % 40) as u8, 110]) }
    });
    picture.save_with_format(&file, ImageFormat::Jpeg).unwrap();
    file
}

/// Logs the larch into its planned pot, with this share of its roots cut.
fn log(window: &Window, cut: &str, file: Option<&PathBuf>) {
    window.fill("#log input[name=cut]", cut);
    window.choose("#log select[name=pot]", "dark-rectangle-44-cm");
    window.choose("#log select[name=mix]", "open-mix");
    window.fill("#log input[name=proud]", "12");
    window.fill("#log input[name=found]", "roots to the wall, old soil at the core");
    window.fill("#log input[name=took]", "95");
    if let Some(file) = file {
        window.choose_file("#log input[type=file]", file);
    }
    window.press("It is repotted");
}

/// The row of the larch on the round, wherever it is.
fn on_the_round(window: &Window) -> String {
    window.go("/round");
    window.ask("document.querySelectorAll('details').forEach(it => { it.open = true; })");
    window.text(".pot-row:has(a[href^=\"/trees/lone-larch\"])")
}

#[test]
fn a_repot_is_logged_in_full_heeded_everywhere_and_taken_back() {
    if unwanted() {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    let at = |path: &str, css: &str| {
        window.go(path);
        window.text(css)
    };
    assert!(at("/pots/dark-rectangle-44-cm", "main .big").contains("free"));
    assert!(!on_the_round(&window).contains("after its repot"));
    window.go("/tonight");
    let by_night = "return [...document.querySelectorAll('main li:has(a[href=\"/trees/lone-larch\"])')].map(it => it.textContent).join(' ')";
    let before = window.ask(by_night);

    window.go("/trees/lone-larch/repot");
    let told = window.text("main");
    for words in [
        "goes this season",
        "The most today",
        "40 %",
        "Dark rectangle 44 cm",
        "Tie wires",
        "if it is done today",
    ] {
        assert!(told.contains(words), "{words}: {told}");
    }
    assert!(told.contains("the flare stood 4 mm above the rim"), "last time's depth is not told: {told}");
    log(&window, "30", Some(&photo(&folder)));
    let told = window.text("main");
    for words in [
        "repotted on 28 Mar, 30 % of the roots cut",
        "the flare stood 12 mm above the rim",
        "took 95 minutes",
        "old soil at the core",
    ] {
        assert!(told.contains(words), "{words}: {told}");
    }
    let now = window.text(".care .now-care");
    assert!(now.starts_with("28 Mar") && now.contains("under less than half the sun"), "{now}");
    let care = window.text(".care");
    for words in ["25 Apr to 9 May a first feed at half strength", "frost", "31 Mar push the trunk"] {
        assert!(care.contains(words), "{words}: {care}");
    }
    let drawn =
        "const it = document.querySelector('figure.angle image'); return it && it.getAttribute('href')";
    assert_eq!(
        window.ask(drawn),
        json!("/photos/lone-larch-2026-03-28/full"),
        "the photo is not on the page"
    );
    let row = on_the_round(&window);
    assert!(row.contains("after its repot: out of the wind, under half the sun; no feed for"), "{row}");
    assert!(row.contains("roots cut by 30 % on 28 Mar"), "{row}");
    window.go("/tonight");
    assert_ne!(window.ask(by_night), before, "the night does not know of it");
    let pot = at("/pots/dark-rectangle-44-cm", "main .big");
    assert!(pot.contains("in use") && pot.contains("Lone larch stands in it"), "{pot}");
    assert!(at("/pots/brown-rectangle-40-cm", "main .big").contains("free"), "its old pot is not free");
    let repots = at("/repots", "main");
    assert!(repots.contains("After their repot 1") || repots.contains("0 days after its repot"), "{repots}");

    window.go("/trees/lone-larch/repot");
    window.tap("#say > details:last-of-type > summary");
    window.follow("button[aria-label=\"Take back the repot of 28 Mar\"]");
    assert!(window.text("main").contains("if it is done today"), "{}", window.text("main"));
    assert!(at("/pots/dark-rectangle-44-cm", "main .big").contains("free"));
    assert!(at("/pots/brown-rectangle-40-cm", "main .big").contains("Lone larch stands in it"));
    assert!(!on_the_round(&window).contains("after its repot"));
    window.go("/tonight");
    assert_eq!(window.ask(by_night), before);
    assert_eq!(window.errors(), Vec::<String>::new());
}

#[test]
fn a_cut_over_the_limit_is_asked_about_and_goes_with_a_reason() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    window.go("/trees/lone-larch/repot");
    log(&window, "55", None);
    let asked = window.text("#refused");
    assert!(
        asked.contains("55 % of the roots is more than the 40 %") && asked.contains("Say why"),
        "{asked}"
    );
    for (field, typed) in
        [("cut", "55"), ("proud", "12"), ("found", "roots to the wall, old soil at the core"), ("took", "95")]
    {
        assert_eq!(window.value(&format!("#log input[name={field}]")), typed, "{field} is lost");
    }
    assert_eq!(window.value("#log select[name=pot]"), "dark-rectangle-44-cm");
    assert_eq!(window.value("#log select[name=mix]"), "open-mix");
    let errors = window.errors();
    assert!(errors.len() == 1 && errors[0].contains("409 (Conflict)"), "{errors:?}");
    window.fill("#log input[name=despite]", "half of them were rotten");
    window.press("It is repotted");
    let told = window.text("main");
    assert!(told.contains("55 % of the roots cut") && told.contains("half of them were rotten"), "{told}");
    assert_eq!(window.errors(), Vec::<String>::new());
}

#[test]
fn a_pot_held_for_another_tree_is_asked_about_at_the_bench() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    window.go("/trees/lone-larch/repot");
    window.fill("#log input[name=cut]", "20");
    window.choose("#log select[name=pot]", "grey-rectangle-50-cm");
    window.press("It is repotted");
    let asked = window.text("#refused");
    assert!(asked.contains("the pot is held for Oak from seed in 2026"), "{asked}");
    window.fill("#log input[name=despite]", "the oak waits a year");
    window.press("It is repotted");
    window.go("/pots/grey-rectangle-50-cm");
    assert!(window.text("main .big").contains("Lone larch stands in it"), "{}", window.text("main .big"));
}

/// sRGB of a grey that sends back 18 % of the light (IEC 61966-2-1: 118 of 255 is 0.181), and of a glaze.
const CARD: [u8; 3] = [118; 3];
const GLAZE: [u8; 3] = [120, 160, 140];

/// Sends a photo of a pot's front with a grey card beside it, and goes to where both are marked.
pub fn send_card(window: &Window) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("front.png");
    let picture = RgbImage::from_fn(800, 600, |x, y| match (x, y) {
        (100..=299, 200..=399) => Rgb(CARD),
        (400..=699, 150..=449) => Rgb(GLAZE),
        _ => Rgb([60, 55, 50]),
    });
    picture.save_with_format(&file, ImageFormat::Png).unwrap();
    window.go("/pots/dark-rectangle-44-cm");
    window.choose_file("#photos input[type=file]", &file);
    window.choose("#photos select[name=side]", "front");
    window.press("Send");
    window.follow("#photos a[href$=\"/colour\"]");
}

#[test]
fn a_glaze_is_read_beside_a_grey_card_with_two_strokes_of_a_finger() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    window.touchable();
    send_card(&window);
    assert_eq!(
        window.ask("return document.querySelector('#canvas').dataset.ready"),
        json!("yes"),
        "no script"
    );
    let drag = |from: [f64; 2], to: [f64; 2]| {
        let spots = on_screen(&window, &[from, to]);
        window.touch(&[spots[0]], &[spots[1]]);
    };
    drag([120.0, 220.0], [280.0, 380.0]);
    assert_eq!(
        window.ask("return document.querySelector('[data-box=pot]').getAttribute('aria-pressed')"),
        json!("true")
    );
    drag([430.0, 180.0], [670.0, 420.0]);
    let boxes = window.ask(
        "return [...document.querySelectorAll('#boxes input[required]')].map(it => it.name + ' ' + it.value)",
    );
    let near = |name: &str, pixels: f64| {
        let typed: f64 = window.value(&format!("#boxes input[name={name}]")).parse().unwrap();
        assert!((typed - pixels).abs() <= 8.0, "{name}: {typed} for {pixels}; {boxes}");
    };
    for (name, pixels) in
        [("card_left", 120.0), ("card_wide", 160.0), ("pot_left", 430.0), ("pot_high", 240.0)]
    {
        near(name, pixels);
    }
    window.press("Read the colour");
    let told = window.text("[role=status]");
    assert!(told.contains("The colour was read and is kept"), "{told}");
    let facts = window.text(".two-up");
    assert!(facts.contains("off a photo"), "{facts}");
    let shown = window.ask("return document.querySelector('.ware-who .glaze path').getAttribute('fill')");
    let hex = shown.as_str().unwrap().trim_start_matches('#');
    for (channel, painted) in GLAZE.into_iter().enumerate() {
        let read = u8::from_str_radix(&hex[2 * channel..2 * channel + 2], 16).unwrap();
        assert!(read.abs_diff(painted) <= 3, "painted {GLAZE:?}, read {shown}");
    }
    // A box off the card reads no grey that could be believed.
    window.go("/pots/dark-rectangle-44-cm");
    window.follow("#photos a[href$=\"/colour\"]");
    for (name, pixels) in
        [("card_left", "250"), ("card_top", "220"), ("card_wide", "100"), ("card_high", "150")]
    {
        window.fill(&format!("#boxes input[name={name}]"), pixels);
    }
    for (name, pixels) in [("pot_left", "430"), ("pot_top", "180"), ("pot_wide", "200"), ("pot_high", "200")]
    {
        window.fill(&format!("#boxes input[name={name}]"), pixels);
    }
    window.press("Read the colour");
    assert!(window.text("#refused").contains("not evenly lit"), "{}", window.text("#refused"));
    assert_eq!(window.value("#boxes input[name=card_left]"), "250");
    let errors = window.errors();
    assert!(errors.len() == 1 && errors[0].contains("422"), "{errors:?}");
}

#[test]
fn what_is_counted_in_the_shed_changes_what_to_order() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    window.go("/soil");
    let lava = "li.card:has(input[name=item][value=lava])";
    let told = window.text(lava);
    assert!(told.contains("short") && told.contains("28 Mar: 9 days on the way"), "{told}");
    assert!(window.text("main .big").contains("4 things run short"), "{}", window.text("main .big"));
    window.tap(&format!("{lava} summary"));
    window.fill(&format!("{lava} input[name=left]"), "40");
    window.follow(&format!("{lava} button"));
    let told = window.text(lava);
    assert!(!told.contains("Short") && told.contains("40.00 L, counted 28 Mar"), "{told}");
    assert!(window.text("main .big").contains("3 things run short"), "{}", window.text("main .big"));
    assert_eq!(window.errors(), Vec::<String>::new());
}

/// What a repot took out of the bags since they were counted is not there any more.
#[test]
fn the_soil_of_a_repot_is_gone_from_the_shed() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    let short = || {
        window.go("/soil");
        let told = window.text("li.card:has(input[name=item][value=lava])");
        let (_, rest) = told.split_once("Short\n").unwrap_or_else(|| panic!("{told}"));
        rest.split(' ').next().unwrap().parse::<f64>().unwrap()
    };
    let before = short();
    window.go("/trees/lone-larch/repot");
    log(&window, "25", None);
    let after = short();
    assert!(
        after >= before - 0.5,
        "short of {before} L of lava, and of {after} L once 3 L of it are in a pot"
    );
}
