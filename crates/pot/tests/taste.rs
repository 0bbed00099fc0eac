//! The weights learned from choices, beside two libraries of general use.
//!
//! `decisions/colour/taste.json`: made-up choices. Free weights around nothing by scikit-learn's `LogisticRegression` (each choice
//! twice, mirrored; no intercept; made up so that all come out above nothing), by two of its solvers. Weights held at or above
//! nothing and around one by scipy's bounded L-BFGS-B, with spreads by numpy from the curvature there. Versions stand in the file.
//! The tolerance is what the two solvers of the first library differ by, rounded up.

mod vector;

use pot::colour::taste::{Fitted, weigh};
use serde_json::Value;
use vector::{Tally, json, number, rows};

const TOLERANCE: f64 = 1e-7;

fn five(value: &Value) -> [f64; 5] {
    let all: Vec<f64> = rows(value).iter().map(|it| it.as_f64().unwrap()).collect();
    all.try_into().expect("five figures")
}

fn ours(case: &Value) -> Fitted {
    let differences: Vec<[f64; 5]> = rows(&case["differences"]).iter().map(five).collect();
    weigh(&differences, number(case, "centre"), number(case, "ridge"))
}

#[test]
fn free_weights_are_those_of_scikit_learn() {
    let Some(file) = json("decisions/colour/taste.json") else { return };
    let (mut tally, mut apart) = (Tally::default(), Tally::default());
    for case in rows(&file["free"]) {
        let (own, theirs, others) = (ours(case).weights, five(&case["weights"]), five(&case["other_solver"]));
        for at in 0..5 {
            tally.agrees(own[at], theirs[at], TOLERANCE);
            apart.agrees(others[at], theirs[at], TOLERANCE);
        }
    }
    apart.tell("decisions/colour/taste.json: one solver of scikit-learn beside the other", 15);
    tally.tell("decisions/colour/taste.json: scikit-learn, free weights", 15);
}

#[test]
fn held_weights_their_spread_and_loss_are_those_of_scipy() {
    let Some(file) = json("decisions/colour/taste.json") else { return };
    let (mut tally, mut loss, mut at_nothing) = (Tally::default(), Tally::default(), 0);
    for case in rows(&file["held"]) {
        let (own, weights, spread) = (ours(case), five(&case["weights"]), five(&case["spread"]));
        for at in 0..5 {
            tally.agrees(own.weights[at], weights[at], TOLERANCE);
            tally.agrees(own.spread[at], spread[at], TOLERANCE);
            at_nothing += usize::from(own.weights[at] == 0.0);
            assert_eq!(own.weights[at] == 0.0, weights[at] == 0.0, "held at nothing");
        }
        loss.agrees(own.loss, number(case, "loss"), 1e-9);
    }
    tally.tell("decisions/colour/taste.json: scipy, weights and spreads", 30);
    loss.tell("decisions/colour/taste.json: scipy, loss", 3);
    println!("{at_nothing} held at nothing");
}
