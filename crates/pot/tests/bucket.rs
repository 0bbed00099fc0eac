//! The bucket test: what weighings say, the draw solved from them, and other depths.
//!
//! `bucket_test_calibration.json`: the reference set's own script (scipy's quadrature and root). Tolerance is half the last
//! digit stored.

mod vector;

use measure::quantity::{Centimetre, Gram, SquareCentimetre};
use pot::{
    bucket::{Bucket, Soaked},
    column::Column,
    granule::{Cut, PENDULAR},
};
use serde_json::Value;
use vector::{counted, fields, json, rows};

#[test]
fn weighings_tell_other_depths() {
    let Some(file) = json("water/bucket_test_calibration.json") else { return };
    let mut checks = 0;
    for case in rows(&file) {
        let number = |of: &Value| of.as_f64().expect("a number");
        let mut agrees = |what: &str, ours: f64, expected: &Value, tolerance: f64| {
            let gap = (ours - number(expected)).abs();
            println!("{what}: gap {gap:.1e}");
            checks += 1;
            assert!(gap <= tolerance * 1.00001, "{what}: ours {ours}, expected {expected}");
        };
        let (height, volume) = (number(&case["H_cm"]), number(&case["V_ml"]));
        let column = |height: f64| {
            Column::straight(Centimetre(height), SquareCentimetre(volume / number(&case["H_cm"]))).unwrap()
        };
        let bucket = Bucket {
            fill: column(height),
            vessel: Gram(0.0),
            dry: Gram(number(&case["dry_g"])),
            saturated: Gram(number(&case["saturated_g"])),
            drained: Gram(number(&case["drained_g"])),
        };
        let weighed = bucket.weighed().unwrap();
        agrees("density", weighed.density.0, &case["bulk_density"], 1e-12);
        agrees("pores", weighed.porosity.0, &case["TP"], 1e-12);
        agrees("capacity", weighed.capacity.0, &case["CC"], 1e-12);
        agrees("air", weighed.air.0, &case["AS"], 1e-12);
        let assumed = &case["assumed"];
        assert_eq!(number(&assumed["theta_r"]), PENDULAR.0);
        assert_eq!(number(&assumed["n"]), Cut::Narrow.sharpness());
        // A hundred grams of grains that take up the assumed water.
        let wet = Gram(100.0 * (1.0 + number(&assumed["theta_in"]) / weighed.density.0));
        let mix = bucket.retention(Soaked { dry: Gram(100.0), wet }, Cut::Narrow).unwrap().value;
        agrees("alpha", 1.0 / mix.draw().0, &case["alpha_fit"], 5e-7);
        for (depth, expected) in fields(&case["predicted_CC"]) {
            let ours = mix.capacity(&column(depth.parse().unwrap())).capacity.0;
            agrees(depth, ours, expected, 5e-6);
        }
    }
    counted("water/bucket_test_calibration.json: figures", checks, 9);
}
