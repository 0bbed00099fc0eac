//! Colours beside their published pairs, the reference set's 50-digit script and three libraries.
//!
//! `decisions/colour`: 34 pairs of Sharma, Wu and Dalal 2005 with their steps; 40 more on which the reference set's script,
//! colour-science 0.4.7 and scikit-image 0.26.0 agree; conversions, contrast and the two-colour model by script. `palette` 0.7
//! is run here beside ours. Tolerances are those that the files state, or half of the last digit stored.

mod vector;

use palette::{IntoColor, color_difference::Ciede2000};
use pot::colour::{
    difference::{between, steps},
    harmony::ou_luo,
    space::{Lab, Linear, Srgb, WHITE, contrast, encoded, linear},
    swatch::{SWATCHES, Swatch},
};
use serde_json::Value;
use vector::{Tally, counted, json, not_ours, number, rows, table, words};

fn three(value: &Value) -> [f64; 3] {
    [0, 1, 2].map(|at| value[at].as_f64().expect("three numbers"))
}

fn lab(value: &Value) -> Lab {
    let [l, a, b] = three(value);
    Lab { l, a, b }
}

fn pixel(value: &Value) -> Srgb {
    Srgb([0, 1, 2].map(|at| u8::try_from(value[at].as_u64().unwrap()).unwrap()))
}

#[test]
fn published_pairs_differ_as_printed() {
    let (mut printed, mut script, mut parts) = (Tally::default(), Tally::default(), Tally::default());
    let Some(file) = json("decisions/colour/ciede2000_sharma34.json") else { return };
    for pair in rows(&file["pairs"]) {
        let (a, b) = (lab(&pair["lab1"]), lab(&pair["lab2"]));
        printed.agrees(between(a, b), number(pair, "dE_published"), 5e-5);
        printed.agrees(between(b, a), number(pair, "dE_published"), 5e-5);
        script.agrees(between(a, b), number(pair, "dE_ref"), 1e-8);
        script.agrees(between(b, a), number(pair, "dE_ref_swapped"), 1e-8);
        let ours = steps(a, b, 1.0);
        let stored = &pair["parts"];
        for (ours, name) in [
            (ours.g, "G"),
            (ours.hue_1, "hp1"),
            (ours.hue_2, "hp2"),
            (ours.hue_mean, "hbar"),
            (ours.t, "T"),
            (ours.s_l, "SL"),
            (ours.s_c, "SC"),
            (ours.s_h, "SH"),
            (ours.r_t, "RT"),
        ] {
            parts.agrees(ours, number(stored, name), 5.001e-9);
        }
    }
    printed.tell("decisions/colour/ciede2000_sharma34.json: printed differences", 68);
    script.tell("decisions/colour/ciede2000_sharma34.json: 50-digit differences", 68);
    parts.tell("decisions/colour/ciede2000_sharma34.json: steps", 306);
}

#[test]
fn forty_more_pairs_differ_as_three_programs_say() {
    let (mut tally, mut kept) = (Tally::default(), Tally::default());
    let Some(file) = json("decisions/colour/ciede2000_random40.json") else { return };
    for pair in rows(&file["pairs"]) {
        let (a, b) = (lab(&pair["lab1"]), lab(&pair["lab2"]));
        tally.agrees(between(a, b), number(pair, "dE00"), 1e-7);
        tally.agrees(steps(a, b, 2.0).difference, number(pair, "dE00_kL2"), 1e-7);
        let theirs = |c: Lab| palette::Lab::<palette::white_point::D65, f64>::new(c.l, c.a, c.b);
        kept.agrees(between(a, b), theirs(a).difference(theirs(b)), 1e-6);
    }
    tally.tell("decisions/colour/ciede2000_random40.json: three programs", 80);
    kept.tell("decisions/colour/ciede2000_random40.json: palette", 40);
}

#[test]
fn pixels_become_light_and_the_eyes_order_and_come_back() {
    let Some(stored) = json("decisions/colour/srgb_lab_lch.json") else { return };
    let (mut script, mut libraries) = (Tally::default(), Tally::default());
    let white = &stored["white_xyz"];
    for (ours, at) in [WHITE.x, WHITE.y, WHITE.z].into_iter().zip(0..) {
        script.agrees(ours, white[at].as_str().unwrap().parse().unwrap(), 1e-15);
    }
    for row in rows(&stored["vectors"]) {
        let from = pixel(&row["srgb8"]);
        let xyz = linear(from).xyz();
        for (ours, theirs) in [xyz.x, xyz.y, xyz.z].into_iter().zip(three(&row["xyz"])) {
            script.agrees(ours, theirs, 5.001e-10);
        }
        let ours = Lab::of(from);
        for (ours, theirs) in [ours.l, ours.a, ours.b].into_iter().zip(three(&row["lab"])) {
            script.agrees(ours, theirs, 1e-5);
        }
        let (lch, [_, chroma, hue]) = (ours.lch(), three(&row["lch"]));
        script.agrees(lch.chroma, chroma, 1e-5);
        if let Some(ours) = lch.hue {
            script.agrees(ours.0, hue, 1e-5);
        } else {
            assert!(chroma < 1.0, "{row}");
        }
        assert_eq!(encoded(ours.xyz().linear()), Some(from));
        let of = from.0;
        let theirs: palette::Lab<palette::white_point::D65, f64> =
            palette::Srgb::new(of[0], of[1], of[2]).into_format::<f64>().into_linear().into_color();
        let palette = [theirs.l, theirs.a, theirs.b];
        for theirs in [three(&row["lab_colour_science"]), three(&row["lab_scikit_image"]), palette] {
            for (ours, theirs) in [ours.l, ours.a, ours.b].into_iter().zip(theirs) {
                libraries.agrees(ours, theirs, 0.03);
            }
        }
    }
    script.tell("decisions/colour/srgb_lab_lch.json: conversions by script", 236);
    libraries.tell("decisions/colour/srgb_lab_lch.json: three libraries with other whites", 270);
}

/// The screen's matrix follows from its primaries and its white.
#[test]
fn primaries_and_white_give_the_screens_matrix() {
    for (primary, [x, y]) in
        [([1.0, 0.0, 0.0], [0.64, 0.33]), ([0.0, 1.0, 0.0], [0.30, 0.60]), ([0.0, 0.0, 1.0], [0.15, 0.06])]
    {
        let of = Linear(primary).xyz();
        let sum = of.x + of.y + of.z;
        assert!((of.x / sum - x).abs() < 1e-14 && (of.y / sum - y).abs() < 1e-14);
    }
    let white = Linear([1.0; 3]).xyz();
    let sum = white.x + white.y + white.z;
    assert!((white.x / sum - 0.3127).abs() < 1e-14 && (white.y / sum - 0.3290).abs() < 1e-14);
}

#[test]
fn contrast_on_a_screen_is_that_of_the_guidelines() {
    let mut tally = Tally::default();
    let Some(file) = json("decisions/colour/contrast_wcag.json") else { return };
    for pair in rows(&file["pairs"]) {
        tally.agrees(contrast(pixel(&pair["a"]), pixel(&pair["b"])), number(pair, "ratio"), 1e-6);
    }
    tally.tell("decisions/colour/contrast_wcag.json", 9);
}

#[test]
fn harmony_has_the_terms_of_the_model() {
    let mut tally = Tally::default();
    let Some(file) = json("decisions/colour/harmony_ou_luo.json") else { return };
    for pair in rows(&file["pairs"]) {
        let ours = ou_luo(lab(&pair["lab1"]), lab(&pair["lab2"]));
        tally.agrees(ours.whole(), number(pair, "CH"), 1e-6);
        let parts = &pair["parts"];
        for (ours, name) in [
            (ours.chroma, "HC"),
            (ours.light_sum, "HLsum"),
            (ours.light_gap, "HdL"),
            (ours.hue[0], "HSY1"),
            (ours.hue[1], "HSY2"),
        ] {
            tally.agrees(ours, number(parts, name), 1e-6);
        }
    }
    tally.tell("decisions/colour/harmony_ou_luo.json", 72);
}

#[test]
fn every_pot_beside_every_colour_of_a_tree() {
    let (mut differs, mut goes) = (Tally::default(), Tally::default());
    let Some(file) = json("decisions/colour/swatch_matrix.json") else { return };
    // A swatch that is not ours has its colour in the file of swatches.
    let swatches = json("decisions/colour/swatches.json").unwrap_or_default();
    for row in rows(&file["rows"]) {
        let of = |name: &str| {
            let key = words(row, name);
            let stored = || rows(&swatches["swatches"]).iter().find(|swatch| swatch["name"] == key);
            let ours = Swatch::of(key).map(|swatch| swatch.lab);
            ours.or_else(|| stored().map(|swatch| lab(&swatch["lab"])))
        };
        let (Some(pot), Some(target)) = (of("pot"), of("target")) else { panic!("no swatch of {row}") };
        differs.agrees(between(pot, target), number(row, "dE00"), 1e-3);
        goes.agrees(ou_luo(pot, target).whole(), number(row, "CH"), 1e-4);
    }
    differs.tell("decisions/colour/swatch_matrix.json: apart", 176);
    goes.tell("decisions/colour/swatch_matrix.json: together", 176);
}

#[test]
fn swatches_are_those_of_the_set_and_show_as_it_says() {
    let Some(stored) = json("decisions/colour/swatches.json") else { return };
    let mut ours = 0;
    for row in rows(&stored["swatches"]) {
        let (colour, name) = (lab(&row["lab"]), words(row, "name"));
        let (shown, theirs) = (colour.shown(), pixel(&row["srgb8"]));
        assert!(shown.0.iter().zip(theirs.0).all(|(a, b)| a.abs_diff(b) <= 1), "{name} {shown:?}");
        if let Some(swatch) = Swatch::of(name) {
            assert_eq!((swatch.munsell, swatch.lab), (words(row, "munsell"), colour));
            ours += 1;
        } else {
            not_ours(name);
        }
    }
    counted("decisions/colour/swatches.json: swatches of ours", ours, SWATCHES.len());
}

/// The spans of hue of the reference set, from its rows: each span's middle and its ends on our side of the line.
#[test]
fn relations_of_hue_are_those_of_the_set() {
    use pot::colour::relation::{Relation, relation};
    let at = |degrees: f64, l: f64| {
        let (b, a) = degrees.to_radians().sin_cos();
        Lab { l, a: 30.0 * a, b: 30.0 * b }
    };
    let told = |gap: f64| relation(at(20.0, 50.0), at(20.0 + gap, 50.0));
    let Some(rows) = table("trade/pot_hue_rules.csv") else { return };
    let mut seen = 0;
    for row in &rows {
        let span = row["hue_angle_difference_deg"].as_str();
        let (expected, ends) = match row["relation"].as_str() {
            "echo" => (Relation::Echo, (0.0, 30.0)),
            "near complement" => (Relation::NearComplement, (140.0, 220.0)),
            "split contrast" => (Relation::Split, (90.0, 140.0)),
            "avoid" => (Relation::Muddy, (30.0, 60.0)),
            "neutral" => {
                assert_eq!(span, "chroma under 8");
                let grey = Lab { l: 50.0, a: 7.9, b: 0.0 };
                assert_eq!(relation(grey, at(90.0, 50.0)), Relation::Neutral);
                assert_ne!(relation(Lab { a: 8.1, ..grey }, at(90.0, 50.0)), Relation::Neutral);
                seen += 1;
                continue;
            }
            other => panic!("no relation {other}"),
        };
        let (low, high) = span.split_once('-').expect("a span");
        let (high, only) = high.split_once(' ').unwrap_or((high, ""));
        assert_eq!((low.parse::<f64>(), high.parse::<f64>()), (Ok(ends.0), Ok(ends.1)), "{row:?}");
        for gap in [ends.0 + 0.1, f64::midpoint(ends.0, ends.1), ends.1 - 0.1] {
            assert_eq!(told(gap), expected, "{gap}");
        }
        if !only.is_empty() {
            assert_eq!(only, "with similar lightness");
            assert_eq!(relation(at(20.0, 50.0), at(65.0, 80.0)), Relation::None);
        }
        seen += 1;
    }
    assert_eq!(told(75.0), Relation::None);
    counted("trade/pot_hue_rules.csv: relations", seen, 5);
}
