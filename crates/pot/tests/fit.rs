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
use vector::{json, number, rows, table};

/// Every number in a text, in its order.
fn numbers(text: &str) -> Vec<f64> {
    let parts = text.split(|c: char| !c.is_ascii_digit() && c != '.');
    parts.filter_map(|part| part.trim_matches('.').parse().ok()).collect()
}

fn said(id: &str) -> Vec<f64> {
    let rules = table("trade/pot_rules.csv");
    let row = rules.iter().find(|row| row["id"] == id).unwrap_or_else(|| panic!("no rule {id}"));
    numbers(&row["formula_or_value"])
}

#[test]
fn spans_are_those_of_the_sets_rules_of_form() {
    let stored = json("form/proportions.json");
    for (ours, theirs) in
        [(RuleId::Length, "pot_length"), (RuleId::Depth, "pot_depth"), (RuleId::Across, "pot_width_round")]
    {
        let rule = rows(&stored["rules"]).iter().find(|rule| rule["id"] == theirs).unwrap();
        let [low, high] = ours.rule().span;
        assert_eq!([low, high], [0, 1].map(|at| rule["range"][at].as_f64().unwrap()), "{theirs}");
        assert!((low..=high).contains(&number(rule, "target")));
    }
}

#[test]
fn spans_and_limits_are_those_of_the_sets_rules_of_pots() {
    let limits = Limits::default();
    assert_eq!(said("P07")[..2], RuleId::Width.rule().span);
    assert_eq!(said("P06")[..2], RuleId::CascadeHeight.rule().span);
    let flowers = said("P04");
    assert!((flowers[0]..=flowers[1]).contains(&DEPTHS[0]), "{flowers:?}");
    let group = said("P05");
    assert!((group[0]..=group[1]).contains(&DEPTHS[1]) && group[2] == 10.0 * DEPTHS[2], "{group:?}");
    assert_eq!(said("P08"), ROOT_ROOM);
    assert_eq!(said("P18")[2], limits.per_hole.0, "the longest stretch for one hole");
    assert_eq!(said("P19")[0], f64::from(limits.ties));
    assert_eq!(said("P21")[0], limits.feet.0);
    assert_eq!(said("P23")[0] / 100.0, RuleId::Price.rule().span[1]);
    assert_eq!(2.0 * said("P24")[0], 10.0 * limits.beside.0, "20 mm at each end");
}

#[test]
fn caps_of_glaze_are_those_of_the_set() {
    let stored = table("trade/pot_colour_caps.csv");
    assert_eq!(stored.len(), CAPS.len());
    for (row, ours) in stored.iter().zip(CAPS) {
        assert_eq!(row["max_chroma_cielab_c"].parse(), Ok(ours.chroma));
        assert_eq!(row["max_lightness_step_from_bark"].parse(), Ok(ours.step));
        let name = format!("{:?}", ours.class).to_lowercase();
        assert_eq!(row["size_class"].replace('_', ""), name);
    }
}

/// The set's own scheme; its two published tables differ from it and from each other.
#[test]
fn sizes_of_trees_are_those_of_the_sets_own_scheme() {
    let stored = table("trade/size_classes.csv");
    let own = stored.iter().filter(|row| row["scheme"] == "project");
    let tallest: Vec<f64> = own.map(|row| row["max_cm"].parse().unwrap()).collect();
    assert_eq!(
        tallest[2..7],
        TALLEST.map(|tallest| tallest.0),
        "from mame on; what is smaller counts as mame"
    );
    for (at, tallest) in TALLEST.into_iter().enumerate() {
        assert_eq!(SizeClass::of_height(tallest), SizeClass::ALL[at]);
        assert_eq!(SizeClass::of_height(Centimetre(tallest.0 + 0.1)), SizeClass::ALL[at + 1]);
    }
}
