//! Scores and a tree's own offset against properscoring 0.1, scoringrules 0.10.0 and the closed forms.
//!
//! The programs print every digit they carry; what may differ is the order of summation.

mod reference;

use dormancy::{
    learn::offset,
    score::{crps_ensemble, crps_fair, crps_gaussian},
};
use reference::{json, number};
use serde_json::Value;

const TOLERANCE: f64 = 1e-14;

#[track_caller]
fn agrees(what: &str, ours: f64, expected: f64) {
    let gap = (ours - expected).abs();
    println!("{what}: gap {gap:e}");
    assert!(gap <= TOLERANCE, "{what}: ours {ours}, expected {expected}");
}

fn cases(key: &str) -> Vec<Value> {
    let cases = json("scores_and_update_expected.json")[key].as_array().unwrap().clone();
    assert!(!cases.is_empty());
    cases
}

fn numbers(list: &Value) -> Vec<f64> {
    list.as_array().unwrap().iter().map(|x| x.as_f64().unwrap()).collect()
}

#[test]
fn score_of_an_ensemble_and_its_fair_form() {
    for case in cases("crps_ensemble") {
        let (members, seen) = (numbers(&case["members"]), number(&case, "obs"));
        let plain = crps_ensemble(&members, seen).unwrap();
        agrees("CRPS", plain, number(&case, "crps_ensemble"));
        agrees("CRPS, second program", plain, number(&case, "properscoring"));
        let fair = case["fair_estimator_closed_form"].as_f64();
        assert_eq!(crps_fair(&members, seen).is_some(), fair.is_some());
        if let (Some(ours), Some(expected)) = (crps_fair(&members, seen), fair) {
            agrees("fair CRPS", ours, expected);
        }
    }
}

#[test]
fn score_of_a_normal_forecast() {
    for case in cases("crps_gaussian") {
        let ours = crps_gaussian(number(&case, "mu"), number(&case, "sigma"), number(&case, "obs")).unwrap();
        agrees("normal CRPS", ours, number(&case, "crps"));
        agrees("normal CRPS, second program", ours, number(&case, "scoringrules"));
    }
}

#[test]
fn a_trees_offset_after_its_seasons() {
    for case in cases("normal_normal_update") {
        let residuals = numbers(&case["residuals"]);
        let ours = offset(number(&case, "tau"), number(&case, "sigma"), &residuals).unwrap();
        agrees("weight", ours.weight, number(&case, "weight"));
        agrees("mean", ours.mean, number(&case, "post_mean"));
        agrees("sd", ours.sd(), number(&case, "post_sd"));
        agrees("predictive sd", ours.predictive_sd(), number(&case, "predictive_sd"));
        assert_eq!(ours.seasons, residuals.len());
    }
}
