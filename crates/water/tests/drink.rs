//! A season of weighings, step by step.
//!
//! `one_change_filter.json`: the reference set's filter, equal to a brute-force multivariate normal evidence (scipy) within
//! 1e-9. Its observations are stored to four decimals; tolerance 1e-6 as the reference set states, median days equal.

mod vector;

use measure::quantity::Days;
use vector::{Tally, json, number, rows};
use water::drink::{Belief, Season, Use, WakePrior};

#[test]
fn a_season_step_by_step() {
    let Some(file) = json("water/one_change_filter.json") else { return };
    let mut tally = Tally::default();
    let belief = Belief {
        level_variance: number(&file, "P0"),
        rise: (number(&file, "D0"), number(&file, "Dv")),
        ramp: Days(number(&file, "ramp_days")),
    };
    let prior = WakePrior::any_day(number(&file, "hazard_per_day"), 121).unwrap();
    let (mut season, spread) = (Season::new(prior, belief).unwrap(), number(&file, "noise_sd"));
    for log_ratio in rows(&file["baseline_obs_at_t_minus_1"]) {
        season.winter(log_ratio.as_f64().unwrap(), spread).unwrap();
    }
    for step in rows(&file["trace"]) {
        let used = Use { day: Days(number(step, "t_day")), log_ratio: number(step, "y"), spread };
        let standing = season.seen(used).unwrap();
        tally.agrees(standing.awake.0, number(step, "p_awake"), 1e-6);
        assert_eq!(standing.began.unwrap().1.0, number(step, "median_wake_day_given_awake"), "{step}");
    }
    tally.tell("water/one_change_filter.json: chance awake", 31);
}
