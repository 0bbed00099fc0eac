//! Drying under a steady demand.
//!
//! `drydown.json`: the reference set's closed form, which an ODE solver met within 4e-10. `ks_kr.json`: its script;
//! pyfao56 1.4.3 confirmed Ks row by row. Tolerance is half the last digit stored.

mod vector;

use measure::quantity::{Days, Hours, Litre, LitresPerDay, Millimetre, Share};
use vector::{SIXTH, Tally, fields, json, number, rows};
use water::{
    dry_down::{DryTime, Pot},
    supply::{from_surface, to_roots},
};

#[test]
fn pots_dry_and_their_times() {
    let (mut left, mut times, mut spread) = (Tally::default(), Tally::default(), Tally::default());
    let Some(file) = json("water/drydown.json") else { return };
    for case in rows(&file) {
        let pot = Pot::new(Litre(number(case, "TTW_l")), Share(number(case, "p"))).unwrap();
        let demand = LitresPerDay(number(case, "D_l_per_day"));
        for (days, stored) in fields(&case["ftsw"]) {
            let (ours, used) = pot.after(Share(1.0), demand, Days(days.parse().unwrap()));
            left.agrees(ours.0, stored.as_f64().unwrap(), SIXTH);
            assert!((used.0 - (1.0 - ours.0) * pot.holds().0).abs() < 1e-12);
        }
        for (until, stored) in fields(&case["time_to"]) {
            let ours = pot.time_to(Share(1.0), demand, Share(until.parse().unwrap())).unwrap();
            times.agrees(ours.0, stored.as_f64().unwrap(), SIXTH);
        }
        let median = pot.time_to(Share(1.0), demand, Share(0.3)).unwrap();
        let dry = DryTime::new(median, number(case, "lognormal_cv")).unwrap();
        for (part, stored) in fields(&case["time_to_0.3_quantiles"]) {
            spread.agrees(dry.quantile(Share(part.parse().unwrap())).0, stored.as_f64().unwrap(), SIXTH);
        }
        for (hours, stored) in fields(&case["p_dry_before_hours"]) {
            spread.agrees(
                dry.chance_within(Hours(hours.parse().unwrap())).0,
                stored.as_f64().unwrap(),
                SIXTH,
            );
        }
    }
    left.tell("water/drydown.json: share left", 20);
    times.tell("water/drydown.json: time to a share", 24);
    spread.tell("water/drydown.json: quantiles and chances", 36);
}

#[test]
fn what_roots_and_surface_still_get() {
    let Some(file) = json("water/ks_kr.json") else { return };
    let mut tally = Tally::default();
    for row in rows(&file["Ks"]) {
        let depth = |name: &str| Millimetre(number(row, name));
        tally.agrees(
            to_roots(depth("TAW"), depth("Dr"), Share(number(row, "p"))).0,
            number(row, "Ks"),
            SIXTH,
        );
    }
    for row in rows(&file["Kr"]) {
        let depth = |name: &str| Millimetre(number(row, name));
        tally.agrees(from_surface(depth("TEW"), depth("REW"), depth("De")).0, number(row, "Kr"), SIXTH);
    }
    tally.tell("water/ks_kr.json: Ks and Kr", 9);
}

#[test]
fn many_short_steps_are_one_long_step_and_time_undoes_drying() {
    let pot = Pot::new(Litre(0.7), Share(0.35)).unwrap();
    for start in [1.0, 0.6, 0.35, 0.2] {
        let (whole, used) = pot.after(Share(start), LitresPerDay(0.3), Days(2.5));
        let steps = (0..1000).fold((start, 0.0), |(left, sum), _| {
            let (left, used) = pot.after(Share(left), LitresPerDay(0.3), Days(0.0025));
            (left.0, sum + used.0)
        });
        assert!((whole.0 - steps.0).abs() < 1e-12 && (used.0 - steps.1).abs() < 1e-12);
        let back = pot.time_to(Share(start), LitresPerDay(0.3), whole).unwrap();
        assert!((back.0 - 2.5).abs() < 1e-9);
    }
}
