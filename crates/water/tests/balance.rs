//! A week of weather, watering and rain, and books that balance whatever happens.
//!
//! `scenario_week.json`: the reference set's own day loop. Tolerance is half the last digit stored, the pot's water being
//! stored in six decimals.

mod vector;

use measure::quantity::{Days, Litre, LitresPerDay, Millimetre, Share, SquareMetre};
use rand_pcg::{
    Pcg64Mcg,
    rand_core::{Rng, SeedableRng},
};
use vector::{SIXTH, Tally, json, number, rows};
use water::{
    balance::{Stretch, Watering, rain_into, through},
    canopy::Canopy,
    dry_down::Pot,
    supply::Supply,
};

#[test]
fn a_week_on_the_bench() {
    let Some(week) = json("water/scenario_week.json") else { return };
    let get = |name: &str| number(&week, name);
    let pot = Pot::of_substrate(
        Litre(get("soil_ml") / 1000.0),
        Share(get("container_capacity")),
        Share(get("theta_unavailable")),
        Share(get("p")),
    )
    .unwrap();
    let tree = Canopy {
        crown: SquareMetre(get("Ac_m2")),
        surface: SquareMetre(get("As_m2")),
        wall: None,
        crown_factor: get("kt"),
        soil_factor: get("ke"),
        shade: Share(get("shade")),
        leaves: get("leaf_state"),
        exposure: get("exposure"),
        coefficient: get("tree_coefficient"),
    };
    let (mut tally, mut hours) = (Tally::default(), Tally::default());
    tally.agrees(pot.holds().0, get("TTW_l"), 2.0 * SIXTH);
    let mut left = Share(get("ftsw_start"));
    for day in rows(&week["trace"]) {
        let demand = tree.draws(Millimetre(number(day, "et0_mm")), Supply::FULL).unwrap().total();
        let watered = week["waterings"].get(day["day"].to_string()).is_some();
        let stretch = Stretch {
            watering: watered.then_some(Watering::Thorough),
            rain: rain_into(tree.surface, Millimetre(number(day, "rain_mm"))),
            demand,
            span: Days(1.0),
        };
        let books = through(&pot, left, &stretch).unwrap();
        let start = Share(books.filled.0 / pot.holds().0);
        left = books.left(&pot);
        tally.agrees(demand.0, number(day, "demand_l"), SIXTH);
        tally.agrees(start.0, number(day, "ftsw_start"), 2.0 * SIXTH);
        tally.agrees(left.0, number(day, "ftsw_end"), 2.0 * SIXTH);
        tally.agrees(books.used.0, number(day, "used_l"), 2.0 * SIXTH);
        let dry = pot.time_to(start, demand, Share(get("threshold"))).filter(|dry| dry.0 <= 1.0);
        match day["hours_until_threshold"].as_f64() {
            Some(stored) => hours.agrees(dry.unwrap().0 * 24.0, stored, 5.001e-5),
            None => assert!(dry.is_none()),
        }
    }
    tally.tell("water/scenario_week.json: a week's books", 29);
    if hours.count > 0 {
        hours.tell("water/scenario_week.json: hours to the threshold", 6);
    }
}

#[test]
fn no_water_is_lost_in_any_sequence() {
    let mut dice = Pcg64Mcg::seed_from_u64(20_260_301);
    let mut draw =
        |low: f64, high: f64| low + (high - low) * (dice.next_u64() >> 11) as f64 / (1_u64 << 53) as f64;
    let mut largest = 0.0_f64;
    for _ in 0..300 {
        let pot = Pot::new(Litre(draw(0.02, 8.0)), Share(draw(0.1, 0.8))).unwrap();
        let mut left = Share(draw(0.0, 1.0));
        let first = left.0 * pot.holds().0;
        let (mut came, mut went) = (0.0, 0.0);
        for _ in 0..60 {
            let kind = draw(0.0, 3.0);
            let stretch = Stretch {
                watering: match kind as u8 {
                    0 => None,
                    1 => Some(Watering::Thorough),
                    _ => Some(Watering::Measured(Litre(draw(0.0, 2.0)))),
                },
                rain: Litre(if draw(0.0, 1.0) < 0.3 { draw(0.0, 2.0) } else { 0.0 }),
                demand: LitresPerDay(draw(0.0, 3.0)),
                span: Days(draw(0.0, 4.0)),
            };
            let books = through(&pot, left, &stretch).unwrap();
            largest = largest.max(books.missing().0.abs());
            came += books.watered.0 + books.rained.0;
            went += books.drained.0 + books.used.0;
            assert!(books.used.0 >= 0.0 && books.drained.0 >= 0.0);
            left = books.left(&pot);
            assert!((0.0..=1.0 + 1e-12).contains(&left.0), "{left:?}");
            left = Share(left.0.min(1.0));
        }
        assert!((first + came - went - left.0 * pot.holds().0).abs() < 1e-9);
    }
    println!("18,000 stretches, largest gap {largest:.1e} L");
}
