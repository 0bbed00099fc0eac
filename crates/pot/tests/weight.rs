//! Two potted trees, wet and dry.
//!
//! `pot_weight.json`: the reference set's own script. Tolerance is half the last digit stored.

mod vector;

use measure::quantity::{Kilogram, KilogramPerLitre, Litre, Share};
use pot::weight::Potted;
use vector::{counted, json, rows};

#[test]
fn potted_trees_wet_and_dry() {
    let Some(file) = json("water/pot_weight.json") else { return };
    let (mut count, mut grams, mut kilograms) = (0, 0.0_f64, 0.0_f64);
    for case in rows(&file) {
        let number = |name: &str| case[name].as_f64().unwrap_or_else(|| panic!("{name} is not a number"));
        let potted = Potted {
            soil: Litre(number("soil_ml") / 1000.0),
            density: KilogramPerLitre(number("bulk_density")),
            clay: Litre(number("ceramic_ml") / 1000.0),
            fired: KilogramPerLitre(number("ceramic_density")),
            tree: Kilogram(number("tree_g") / 1000.0),
            other: Kilogram(0.0),
        };
        for (state, theta) in [("wet", "theta_wet"), ("dry", "theta_dry")] {
            let ours = potted.weight(Share(number(theta))).unwrap();
            let expected = |name: &str| case[state][name].as_f64().unwrap();
            for (name, ours) in [("soil_dry_g", ours.soil), ("water_g", ours.water), ("pot_g", ours.pot)] {
                let gap = (ours.0 * 1000.0 - expected(name)).abs();
                (count, grams) = (count + 1, grams.max(gap));
                assert!(gap <= 0.050_001, "{state} {name}: ours {} kg", ours.0);
            }
            let gap = (ours.total.0 - expected("total_kg")).abs();
            (count, kilograms) = (count + 1, kilograms.max(gap));
            assert!(gap <= 5.0001e-5, "{state} total: ours {}", ours.total.0);
        }
    }
    println!("largest gaps {grams:.1e} g, {kilograms:.1e} kg");
    counted("water/pot_weight.json: weights", count, 16);
}
