//! Root balls in steady air: lag, hours to freezing, plateau and end.
//!
//! `pot_thermal.json`: the reference set's own script, a second writing of the same lumped balance, so it checks our
//! arithmetic and not the physics. Tolerance is half the last digit stored.

mod vector;

use climate::root::{RootState, Rootball};
use measure::quantity::{Celsius, Hours};
use vector::{Tally, json, rows};

#[test]
fn balls_in_steady_air() {
    let Some(file) = json("water/pot_thermal.json") else { return };
    let mut tally = Tally::default();
    for case in rows(&file["cases"]) {
        let number = |name: &str| case[name].as_f64().unwrap_or_else(|| panic!("{name} is not a number"));
        let ball = Rootball::new(
            number("V_l"),
            number("bulk_density"),
            number("theta"),
            number("area_m2"),
            number("h_w_m2k"),
        )
        .unwrap();
        let mut agrees = |what: &str, ours: f64| tally.agrees(ours, number(what), 5.0001e-7);
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
    tally.tell("water/pot_thermal.json", 18);
}
