//! Root balls in steady air: lag, hours to freezing, plateau and end.
//!
//! `pot_thermal.json`: the reference set's own script, a second writing of the same lumped balance, so it checks our
//! arithmetic and not the physics. Tolerance is half the last digit stored.

use std::{env, fs, path::PathBuf};

use climate::root::{RootState, Rootball};
use measure::quantity::{Celsius, Hours};
use serde_json::Value;

#[test]
fn balls_in_steady_air() {
    let own = || PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/vectors"));
    let root = env::var_os("BUDSWELL_VECTORS").map_or_else(own, PathBuf::from);
    let text = fs::read_to_string(root.join("water/pot_thermal.json")).expect("the vectors are there");
    let file: Value = serde_json::from_str(&text).unwrap();
    let (mut checks, mut largest) = (0, 0.0_f64);
    for case in file["cases"].as_array().unwrap() {
        let number = |name: &str| case[name].as_f64().unwrap_or_else(|| panic!("{name} is not a number"));
        let ball = Rootball::new(
            number("V_l"),
            number("bulk_density"),
            number("theta"),
            number("area_m2"),
            number("h_w_m2k"),
        )
        .unwrap();
        let mut agrees = |what: &str, ours: f64| {
            let gap = (ours - number(what)).abs();
            (checks, largest) = (checks + 1, largest.max(gap));
            assert!(gap <= 5.0001e-7, "{what}: ours {ours}, expected {}", number(what));
        };
        let (start, air) = (Celsius(number("t_start")), Celsius(number("t_air")));
        agrees("tau_h", ball.lag().0);
        let start_state = RootState { temperature: start, ice: 0.0 };
        agrees("t_end", ball.after(start_state, air, Hours(number("hours"))).temperature.0);
        if case.get("hours_to_0C").is_some() {
            agrees("hours_to_0C", ball.hours_to_freezing(start, air).unwrap().0);
            agrees("freezing_plateau_h", ball.freezing_plateau(air).unwrap().0);
        } else {
            assert!(ball.hours_to_freezing(start, air).is_none() && ball.freezing_plateau(air).is_none());
        }
    }
    println!("{checks} figures, largest gap {largest:.1e}");
    assert!(checks > 0);
}
