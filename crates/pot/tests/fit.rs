//! Rules, limits and caps of a pot beside the reference set's tables.
//!
//! No authority: the rows are common practice without a source, and these checks only hold ours to what the set says. The
//! numbers are read out of its words, so a changed word fails here.

mod vector;

use measure::quantity::Centimetre;
use pot::{
    fit::{
        grade::{DEPTHS, ROOT_ROOM},
        limit::Limits,
        rule::{CAPS, RuleId},
    },
    table::{SizeClass, TALLEST},
};
use vector::{Row, counted, json, not_ours, number, rows, table};

/// Every number in a text, in its order.
fn numbers(text: &str) -> Vec<f64> {
    let parts = text.split(|c: char| !c.is_ascii_digit() && c != '.');
    parts.filter_map(|part| part.trim_matches('.').parse().ok()).collect()
}

/// The numbers of a rule, if the set has it.
fn said(rules: &[Row], id: &str) -> Option<Vec<f64>> {
    rules.iter().find(|row| row["id"] == id).map(|row| numbers(&row["formula_or_value"]))
}

#[test]
fn spans_are_those_of_the_sets_rules_of_form() {
    let Some(stored) = json("form/proportions.json") else { return };
    let mut seen = 0;
    for rule in rows(&stored["rules"]) {
        let ours = match rule["id"].as_str() {
            Some("pot_length") => RuleId::Length,
            Some("pot_depth") => RuleId::Depth,
            Some("pot_width_round") => RuleId::Across,
            _ => continue,
        };
        let [low, high] = ours.rule().span;
        assert_eq!([low, high], [0, 1].map(|at| rule["range"][at].as_f64().unwrap()), "{rule}");
        assert!((low..=high).contains(&number(rule, "target")));
        seen += 1;
    }
    counted("form/proportions.json: rules of pots", seen, 3);
}

#[test]
fn spans_and_limits_are_those_of_the_sets_rules_of_pots() {
    let limits = Limits::default();
    let Some(rules) = table("trade/pot_rules.csv") else { return };
    type Holds<'a> = &'a dyn Fn(&[f64]) -> bool;
    let holds: [(&str, Holds<'_>); 10] = [
        ("P07", &|said| said[..2] == RuleId::Width.rule().span),
        ("P06", &|said| said[..2] == RuleId::CascadeHeight.rule().span),
        ("P04", &|said| (said[0]..=said[1]).contains(&DEPTHS[0])),
        ("P05", &|said| (said[0]..=said[1]).contains(&DEPTHS[1]) && said[2] == 10.0 * DEPTHS[2]),
        ("P08", &|said| said == ROOT_ROOM),
        // The longest stretch for one hole.
        ("P18", &|said| said[2] == limits.per_hole.0),
        ("P19", &|said| said[0] == f64::from(limits.ties)),
        ("P21", &|said| said[0] == limits.feet.0),
        ("P23", &|said| said[0] / 100.0 == RuleId::Price.rule().span[1]),
        // 20 mm at each end.
        ("P24", &|said| 2.0 * said[0] == 10.0 * limits.beside.0),
    ];
    let mut seen = 0;
    for (id, holds) in holds {
        let Some(said) = said(&rules, id) else { continue };
        assert!(holds(&said), "{id}: the set says {said:?}");
        seen += 1;
    }
    counted("trade/pot_rules.csv: rules", seen, 10);
}

#[test]
fn caps_of_glaze_are_those_of_the_set() {
    let Some(stored) = table("trade/pot_colour_caps.csv") else { return };
    let mut seen = 0;
    for row in &stored {
        let name = row["size_class"].replace('_', "");
        let ours = CAPS.iter().find(|cap| format!("{:?}", cap.class).to_lowercase() == name);
        let Some(ours) = ours else {
            not_ours(&name);
            continue;
        };
        assert_eq!(row["max_chroma_cielab_c"].parse(), Ok(ours.chroma));
        assert_eq!(row["max_lightness_step_from_bark"].parse(), Ok(ours.step));
        seen += 1;
    }
    counted("trade/pot_colour_caps.csv: caps", seen, CAPS.len());
}

/// The set's own scheme; its two published tables differ from it and from each other.
#[test]
fn sizes_of_trees_are_those_of_the_sets_own_scheme() {
    let Some(stored) = table("trade/size_classes.csv") else { return };
    // From mame on; what is smaller counts as mame, and the last class has no end.
    let own = stored.iter().filter(|row| row["scheme"] == "project");
    let from_mame: Vec<_> = own.skip_while(|row| row["name"] != "mame").collect();
    let tallest: Vec<f64> = from_mame.iter().map(|row| row["max_cm"].parse().unwrap()).collect();
    let classes = tallest.len().min(TALLEST.len());
    assert_eq!(tallest[..classes], TALLEST.map(|tallest| tallest.0)[..classes]);
    counted("trade/size_classes.csv: classes", classes, TALLEST.len());
    for (at, tallest) in TALLEST.into_iter().enumerate() {
        assert_eq!(SizeClass::of_height(tallest), SizeClass::ALL[at]);
        assert_eq!(SizeClass::of_height(Centimetre(tallest.0 + 0.1)), SizeClass::ALL[at + 1]);
    }
}
