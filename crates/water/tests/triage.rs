//! Which pots run dry while the grower is away, and whether to water them.
//!
//! `decisions/triage/dryout.json`, `scores.json`: the reference set's script. Tolerance is half the last digit stored (1e-8 of a saving).

mod vector;

use measure::quantity::{Hours, Litre, Share};
use vector::{Tally, json, number, numbers, rows};
use water::triage::{Left, Stake, chance_dry, rank};

#[test]
fn chances_and_what_watering_saves() {
    let Some(file) = json("decisions/triage/dryout.json") else { return };
    let (mut tally, mut stakes) = (Tally::default(), Vec::new());
    for row in rows(&file["rows"]) {
        let pot = Left {
            water: Litre(number(row, "water_ml") / 1000.0),
            hourly: Litre(number(row, "median_ml_per_h") / 1000.0),
            spread: number(row, "sigma_ln"),
        };
        let dry = chance_dry(&pot, Hours(number(row, "hours"))).unwrap();
        let stake = Stake { dry, cost: number(row, "cost"), loss: number(row, "loss") };
        tally.agrees(dry.0, number(row, "p_dry"), 5.001e-11);
        tally.agrees(stake.threshold(), number(row, "alpha"), 1e-15);
        tally.agrees(stake.saving(), number(row, "expected_saving"), 5.001e-9);
        assert_eq!(stake.water(), row["act"].as_bool().unwrap());
        stakes.push(stake);
    }
    tally.tell("decisions/triage/dryout.json", 24);
    let mut order = Vec::new();
    let worth = rank(&stakes, stakes.len(), &mut order);
    assert_eq!(worth, stakes.iter().filter(|stake| stake.water()).count());
    let stored: Vec<f64> = order.iter().map(|&at| number(&file["rows"][at], "expected_saving")).collect();
    assert!(stored.is_sorted_by(|a, b| a >= b));
}

/// `scores.json`: 200 made-up chances of drying out and what came; each threshold's mean expense is a closed form by script.
#[test]
fn watering_by_the_threshold_costs_what_the_forecasts_are_worth() {
    let Some(file) = json("decisions/triage/scores.json") else { return };
    let mut tally = Tally::default();
    for set in rows(&file["sets"]) {
        let (chances, dried) = (numbers(&set["p"]), numbers(&set["y"]));
        assert_eq!(chances.len(), dried.len());
        for row in rows(&set["cost_loss"]) {
            let cost = number(row, "alpha");
            let expense = chances.iter().zip(&dried).map(|(&chance, &dried)| {
                let stake = Stake { dry: Share(chance), cost, loss: 1.0 };
                if stake.water() { cost } else { dried }
            });
            let mean = expense.sum::<f64>() / dried.len() as f64;
            tally.agrees(mean, number(row, "expense_forecast"), 5.001e-9);
        }
    }
    tally.tell("decisions/triage/scores.json: mean expense by threshold", 6);
}
