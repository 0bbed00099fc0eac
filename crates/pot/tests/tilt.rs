//! Effective height of a tipped box.
//!
//! `tilt.json`: plane geometry by the reference set's own script. Tolerance is half the last digit stored.

mod vector;

use measure::quantity::{Centimetre, Degrees};
use pot::tilt::TiltedBox;
use vector::{counted, json, rows};

#[test]
fn a_tipped_box_stands_taller() {
    let Some(file) = json("water/tilt.json") else { return };
    let (mut count, mut largest) = (0, 0.0_f64);
    for case in rows(&file["cases"]) {
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
    println!("largest gap {largest:.1e} cm");
    counted("water/tilt.json: heights", count, 4);
}
