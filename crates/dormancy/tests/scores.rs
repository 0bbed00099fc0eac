//! Scores and a tree's own offset against properscoring 0.1, scoringrules 0.10.0 and the closed forms.
//!
//! The programs print every digit they carry; what may differ is the order of summation.

mod vector;

use dormancy::{
    learn::offset,
    score::{crps_ensemble, crps_fair, crps_gaussian},
};
use serde_json::Value;
use vector::{counted, json, number, numbers, rows};

const TOLERANCE: f64 = 1e-14;

#[track_caller]
fn agrees(what: &str, ours: f64, expected: f64) {
    let gap = (ours - expected).abs();
    println!("{what}: gap {gap:e}");
    assert!(gap <= TOLERANCE, "{what}: ours {ours}, expected {expected}");
}

fn cases(key: &str, own: usize) -> Vec<Value> {
    let Some(file) = json("dormancy/scores_and_update_expected.json") else { return Vec::new() };
    counted(&format!("dormancy/scores_and_update_expected.json, {key}"), rows(&file[key]).len(), own);
    rows(&file[key]).to_vec()
}

#[test]
fn score_of_an_ensemble_and_its_fair_form() {
    for case in cases("crps_ensemble", 5) {
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
    for case in cases("crps_gaussian", 5) {
        let ours = crps_gaussian(number(&case, "mu"), number(&case, "sigma"), number(&case, "obs")).unwrap();
        agrees("normal CRPS", ours, number(&case, "crps"));
        agrees("normal CRPS, second program", ours, number(&case, "scoringrules"));
    }
}

#[test]
fn a_trees_offset_after_its_seasons() {
    for case in cases("normal_normal_update", 5) {
        let residuals = numbers(&case["residuals"]);
        let ours = offset(number(&case, "tau"), number(&case, "sigma"), &residuals).unwrap();
        agrees("weight", ours.weight, number(&case, "weight"));
        agrees("mean", ours.mean, number(&case, "post_mean"));
        agrees("sd", ours.sd(), number(&case, "post_sd"));
        agrees("predictive sd", ours.predictive_sd(), number(&case, "predictive_sd"));
        assert_eq!(ours.seasons, residuals.len());
    }
}

/// `scores.json`: 30 made-up ensembles of hours; the mean CRPS by properscoring and scoringrules. Its Brier and log scores have nothing
/// of ours beside them: the product gives no yes-or-no score.
#[test]
fn mean_score_of_thirty_ensembles() {
    let Some(file) = json("decisions/triage/scores.json") else { return };
    let mut seen = 0;
    for set in rows(&file["sets"]) {
        let crps = &set["crps"];
        let (ensembles, observed) = (rows(&crps["ensemble_hours_to_dry"]), numbers(&crps["observed"]));
        assert_eq!(ensembles.len(), observed.len());
        let scores = ensembles
            .iter()
            .zip(&observed)
            .map(|(members, &seen)| crps_ensemble(&numbers(members), seen).unwrap());
        let mean = scores.sum::<f64>() / observed.len() as f64;
        let stored = number(crps, "mean_crps");
        assert!((mean - stored).abs() <= 5.001e-10, "mean CRPS: ours {mean}, expected {stored}");
        seen += ensembles.len();
    }
    counted("decisions/triage/scores.json: ensembles", seen, 30);
}
