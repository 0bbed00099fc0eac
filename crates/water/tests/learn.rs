//! Learning a tree's coefficient from weighings and from remarks.
//!
//! `coef_kalman.json`, `coef_grid.json`: the reference set's own scripts of the same rules. Tolerance is half the last
//! digit stored.

mod vector;

use measure::quantity::{Days, Litre};
use vector::{SIXTH, Tally, json, number, rows};
use water::learn::{Coefficient, Feel, Grid, Observed, Remark};

#[test]
fn weighings() {
    let Some(file) = json("water/coef_kalman.json") else { return };
    let mut tally = Tally::default();
    let mut learned = Coefficient::new(number(&file, "m0"), number(&file, "P0"), number(&file, "q")).unwrap();
    let mut last = 0.0;
    for step in rows(&file["trace"]) {
        let day = number(step, "t_day");
        let noise = Observed::Variance(number(&file, "R"));
        learned = learned.waited(Days(day - last)).seen(number(step, "ratio"), noise).unwrap();
        last = day;
        tally.agrees(learned.mean_log(), number(step, "m"), SIXTH);
        tally.agrees(learned.variance(), number(step, "P"), SIXTH);
        tally.agrees(learned.value(), number(step, "c"), SIXTH);
        tally.agrees(learned.spread(), number(step, "sd_log"), SIXTH);
    }
    tally.tell("water/coef_kalman.json: weighings", 20);
}

#[test]
fn remarks() {
    let Some(file) = json("water/coef_grid.json") else { return };
    let mut tally = Tally::default();
    let mut learned = Grid::new(number(&file, "prior_sd")).unwrap();
    for step in rows(&file["trace"]) {
        let feel = match step["state"].as_str().unwrap() {
            "wet" => Feel::Wet,
            "ok" => Feel::Right,
            "dry" => Feel::Dry,
            other => panic!("{other}"),
        };
        let (predicted, holds) = (Litre(number(step, "pred_l")), Litre(number(step, "TTW_l")));
        learned = learned.told(&Remark { predicted, holds, feel }).unwrap();
        tally.agrees(learned.mean_log(), number(step, "mean_log"), SIXTH);
        tally.agrees(learned.spread(), number(step, "sd_log"), SIXTH);
    }
    tally.tell("water/coef_grid.json: remarks", 8);
}
