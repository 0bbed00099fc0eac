//! Which pots run dry while the grower is away, and whether to water them.
//!
//! `decisions/triage/dryout.json`: the reference set's script. Tolerance is half the last digit stored (1e-8 of a saving).

mod vector;

use measure::quantity::{Hours, Litre};
use vector::{Tally, json, number, rows};
use water::triage::{Left, Stake, chance_dry, rank};

#[test]
fn chances_and_what_watering_saves() {
    let (file, mut tally, mut stakes) = (json("decisions/triage/dryout.json"), Tally::default(), Vec::new());
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
    tally.tell("triage");
    let mut order = Vec::new();
    let worth = rank(&stakes, stakes.len(), &mut order);
    assert_eq!(worth, stakes.iter().filter(|stake| stake.water()).count());
    let stored: Vec<f64> = order.iter().map(|&at| number(&file["rows"][at], "expected_saving")).collect();
    assert!(stored.is_sorted_by(|a, b| a >= b));
}
