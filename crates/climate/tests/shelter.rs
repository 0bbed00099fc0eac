//! Places made up by the reference set: a cold frame, a cold room, one lag step by step, and sines through a lag.
//!
//! `coldframe_fit`, `coldroom_fit`, `lag_step.json`, `lag_sinusoid.csv`: the reference set's own scripts, so a second
//! writing of the same recipe, on air temperature and sun of a station with known places and noise added. Tolerance is
//! half the last digit stored; of a fit the last digit itself, as both sides end a search.

mod vector;

use climate::shelter::{ShelterModel, fit, one_pole, swing_left};
use measure::quantity::Hours;
use serde_json::Value;
use vector::{counted, json, numbers, text};

fn number(value: &Value, pointer: &str) -> f64 {
    value.pointer(pointer).and_then(Value::as_f64).unwrap_or_else(|| panic!("{pointer} is not a number"))
}

/// Outside, sun and inside, one row an hour.
fn log(name: &str) -> Option<[Vec<f64>; 3]> {
    let file = text(name)?;
    let mut reader = csv::Reader::from_reader(file.as_bytes());
    let mut columns = [const { Vec::new() }; 3];
    for row in reader.records() {
        let row = row.unwrap();
        for (at, column) in columns.iter_mut().enumerate() {
            column.push(row[at + 1].parse().unwrap());
        }
    }
    Some(columns)
}

fn place(name: &str) {
    let (Some([outside, sun, inside]), Some(expected)) =
        (log(&format!("{name}.csv")), json(&format!("{name}.json")))
    else {
        return;
    };
    let tell = |what: &str, ours: f64, expected: f64, tolerance: f64| {
        let gap = (ours - expected).abs();
        println!("{name} {what}: ours {ours:.5}, expected {expected}, gap {gap:.1e}");
        assert!(gap <= tolerance, "{name} {what}: ours {ours}, expected {expected}");
    };

    let train = number(&expected, "/train_hours") as usize;
    let ShelterModel { lag, offset, share, sun: warmth } =
        fit(&outside[..train], &sun[..train], &inside[..train]).unwrap().model;
    tell("tau", lag.0, number(&expected, "/fit/tau_h"), 0.001);
    tell("c0", offset, number(&expected, "/fit/c0"), 0.0001);
    tell("c1", share, number(&expected, "/fit/c1"), 0.0001);
    tell("c2", warmth, number(&expected, "/fit/c2"), 0.0001);

    let whole = fit(&outside, &sun, &inside).unwrap();
    let digit = 0.0001;
    tell("rmse", whole.free_run_rmse, number(&expected, "/valid_rmse"), digit);
    tell("low", whole.low_error, number(&expected, "/valid_daily_min_mae"), digit);
    tell("high", whole.high_error, number(&expected, "/valid_daily_max_mae"), digit);
    tell("as outside", whole.as_outside_rmse, number(&expected, "/valid_rmse_outdoor_as_is"), digit);
    tell("constant", whole.constant_offset_rmse, number(&expected, "/valid_rmse_constant_offset"), digit);
    assert!(whole.accepted());
    let truth = number(&expected, "/truth/tau");
    assert!((whole.model.lag.0 / truth - 1.0).abs() < 0.02, "{} against {truth}", whole.model.lag.0);
    counted(&format!("{name}: hours"), outside.len(), 672);
}

#[test]
fn the_cold_frame() {
    place("water/coldframe_fit");
}

#[test]
fn the_cold_room() {
    place("water/coldroom_fit");
}

#[test]
fn a_lag_step_by_step() {
    let Some(expected) = json("water/lag_step.json") else { return };
    let [lag, step, start] = ["/tau_h", "/dt_h", "/x0"].map(|name| number(&expected, name));
    let ours = one_pole(Hours(lag), Hours(step), start, &numbers(&expected["u"]));
    let theirs = numbers(&expected["x"]);
    assert_eq!(ours.len(), theirs.len());
    let mut largest = 0.0_f64;
    for (ours, theirs) in ours.iter().zip(theirs) {
        largest = largest.max((ours - theirs).abs());
        assert!((ours - theirs).abs() <= 5.0001e-9, "ours {ours}, expected {theirs}");
    }
    println!("largest gap {largest:.1e}");
    counted("water/lag_step.json: steps", ours.len(), 10);
}

#[test]
fn sines_through_a_lag() {
    let Some(file) = text("water/lag_sinusoid.csv") else { return };
    let mut reader = csv::Reader::from_reader(file.as_bytes());
    let (mut rows, mut largest) = (0, [0.0_f64; 3]);
    for row in reader.records() {
        let row = row.unwrap();
        let number = |at: usize| row[at].parse::<f64>().unwrap();
        let (lag, period) = (Hours(number(0)), Hours(number(1)));
        let (left, late) = swing_left(lag, period);
        let gaps = [(left - number(2)).abs(), (late.0 - number(3)).abs(), (run(lag, period) - left).abs()];
        for (largest, gap) in largest.iter_mut().zip(gaps) {
            *largest = largest.max(gap);
        }
        assert!(gaps[0] <= 5.0001e-7 && gaps[1] <= 5.0001e-7, "{row:?} ours {left} {late:?}");
        assert!(gaps[2] <= 1e-3, "{row:?}: a fine run leaves {}", run(lag, period));
        rows += 1;
    }
    println!("largest gaps {largest:?}");
    counted("water/lag_sinusoid.csv: sines", rows, 18);
}

/// The swing that a finely stepped lag leaves once its start is forgotten.
fn run(lag: Hours, period: Hours) -> f64 {
    const STEPS: usize = 20_000;
    let step = period.0 / STEPS as f64;
    let periods = 2 + (10.0 * lag.0 / period.0).ceil() as usize;
    let wave = |k: usize| (2.0 * std::f64::consts::PI * k as f64 / STEPS as f64).sin();
    let input: Vec<f64> = (0..periods * STEPS).map(wave).collect();
    let output = one_pole(lag, Hours(step), 0.0, &input);
    output[(periods - 1) * STEPS..].iter().copied().fold(f64::NEG_INFINITY, f64::max)
}
