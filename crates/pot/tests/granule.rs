//! Draw of grains by size, and the printed table of what they hold by depth.
//!
//! `capillary_height.csv`: closed form by the reference set's own script; the table of water.md 3.3 as printed there. Both
//! check our arithmetic, not the soil. Tolerance is half the last digit stored or printed.

mod vector;

use measure::quantity::{Centimetre, KilogramPerLitre, Millimetre, Share, SquareCentimetre};
use pot::{
    column::Column,
    granule::{Cut, Granules, capillary_rise},
};
use vector::{counted, text};

#[test]
fn grains_draw_water() {
    let Some(file) = text("water/capillary_height.csv") else { return };
    let mut reader = csv::Reader::from_reader(file.as_bytes());
    let (mut count, mut largest) = (0, 0.0_f64);
    for row in reader.records() {
        let row = row.unwrap();
        let number = |at: usize| row[at].parse::<f64>().unwrap();
        let ours = capillary_rise(Millimetre(number(0)), Share(number(1)), number(2)).unwrap().0;
        let gap = (ours - number(3)).abs();
        (count, largest) = (count + 1, largest.max(gap));
        assert!(gap <= 5.0001e-5, "{row:?} ours {ours}");
    }
    println!("largest gap {largest:.1e} cm");
    counted("water/capillary_height.csv: heights", count, 30);
}

#[test]
fn grains_hold_by_depth() {
    let printed = [
        (1.5, [0.64, 0.60, 0.55, 0.47, 0.40, 0.36]),
        (3.0, [0.57, 0.47, 0.41, 0.36, 0.32, 0.30]),
        (5.0, [0.47, 0.39, 0.34, 0.31, 0.28, 0.27]),
        (8.0, [0.39, 0.33, 0.30, 0.28, 0.26, 0.26]),
    ];
    let mut largest = 0.0_f64;
    for (size, row) in printed {
        let granules = Granules {
            grain: Millimetre(size),
            inside: Share(0.2),
            between: Share(0.45),
            shape: 0.75,
            cut: Cut::Narrow,
            density: KilogramPerLitre(0.7),
        };
        let mix = granules.retention().unwrap().value;
        for (height, printed) in [3.0, 5.0, 7.0, 10.0, 15.0, 20.0].into_iter().zip(row) {
            let soil = Column::straight(Centimetre(height), SquareCentimetre(100.0)).unwrap();
            let gap = (mix.capacity(&soil).capacity.0 - printed).abs();
            largest = largest.max(gap);
            assert!(gap <= 5.0001e-3, "{size} mm at {height} cm: gap {gap}");
        }
    }
    println!("24 shares, largest gap {largest:.1e}");
}
