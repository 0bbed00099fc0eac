//! Effective height of a tipped box.
//!
//! `tilt.json`: plane geometry by the reference set's own script. Tolerance is half the last digit stored.

use std::{env, fs, path::PathBuf};

use measure::quantity::{Centimetre, Degrees};
use pot::tilt::TiltedBox;
use serde_json::Value;

#[test]
fn a_tipped_box_stands_taller() {
    let own = || PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/vectors"));
    let root = env::var_os("BUDSWELL_VECTORS").map_or_else(own, PathBuf::from);
    let text = fs::read_to_string(root.join("water/tilt.json")).expect("the vectors are there");
    let file: Value = serde_json::from_str(&text).unwrap();
    let (mut count, mut largest) = (0, 0.0_f64);
    for case in file["cases"].as_array().unwrap() {
        let number = |name: &str| case[name].as_f64().unwrap_or_else(|| panic!("{name} is not a number"));
        let tray = TiltedBox {
            length: Centimetre(number("L_cm")),
            width: Centimetre(20.0),
            depth: Centimetre(number("H_cm")),
            angle: Degrees(number("a_deg")),
        };
        let gap = (tray.effective_height().unwrap().0 - number("H_eff_cm")).abs();
        (count, largest) = (count + 1, largest.max(gap));
        assert!(gap <= 5.0001e-6, "{case}: gap {gap}");
    }
    println!("{count} heights, largest gap {largest:.1e} cm");
    assert!(count > 0);
}
