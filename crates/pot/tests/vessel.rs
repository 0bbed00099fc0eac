//! Ten pots of seven outlines: inside, soil, surface and clay.
//!
//! `pot_volume.csv`: the reference set's own script (prismoidal rule, set there beside quadrature). Tolerance is half the last
//! digit stored.

mod vector;

use measure::quantity::Centimetre;
use pot::{outline::Outline, vessel::Vessel};
use vector::{counted, text};

fn outline(shape: &str, length: f64, width: f64, extra: f64) -> Outline {
    let (length, width) = (Centimetre(length), Centimetre(width));
    match shape {
        "rect" => Outline::Rectangle { length, width },
        "oval" => Outline::Oval { length, width },
        "stadium" => Outline::Stadium { length, width },
        "round" => Outline::Round { diameter: length },
        "round_rect" => Outline::RoundedRectangle { length, width, corner: Centimetre(extra) },
        "superellipse" => Outline::Superellipse { length, width, exponent: extra },
        "hexagon" => Outline::Hexagon { flats: length },
        "octagon" => Outline::Octagon { flats: length },
        other => panic!("no outline {other}"),
    }
}

#[test]
fn pots_hold_what_their_measures_say() {
    let Some(file) = text("water/pot_volume.csv") else { return };
    let mut reader = csv::Reader::from_reader(file.as_bytes());
    let (mut checks, mut largest) = (0, 0.0_f64);
    for row in reader.records() {
        let row = row.unwrap();
        let number = |at: usize| row[at].parse::<f64>().unwrap();
        let length = |at: usize| Centimetre(number(at));
        let pot = Vessel {
            top: outline(&row[1], number(2), number(3), number(12)),
            middle: None,
            bottom: outline(&row[1], number(4), number(5), number(12)),
            height: length(6),
            feet: length(7),
            floor: length(8),
            wall: length(9),
            lip: length(10),
            gap: length(11),
            measured: None,
        };
        let ours = [
            pot.inner_height().unwrap().0,
            pot.inner_volume().unwrap().0 * 1000.0,
            pot.soil().unwrap().volume().0 * 1000.0,
            pot.surface().unwrap().0,
            pot.clay().unwrap().0 * 1000.0,
        ];
        for (at, ours) in (13..).zip(ours) {
            let gap = (ours - number(at)).abs();
            (checks, largest) = (checks + 1, largest.max(gap));
            assert!(gap <= 5.0001e-4, "{} column {at}: ours {ours}, expected {}", &row[0], &row[at]);
        }
    }
    println!("largest gap {largest:.1e} mL, cm or cm²");
    counted("water/pot_volume.csv: figures", checks, 50);
}
