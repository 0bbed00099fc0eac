//! Retention curves at heights, and container capacity of straight and tapered pots.
//!
//! `substrate_vg.csv`: published parameters and the reference set's estimates; `vg_point_checks.csv`: closed form;
//! `container_capacity.csv`: scipy's adaptive quadrature. Tolerance is half the last digit stored.

mod vector;

use std::collections::HashMap;

use measure::quantity::{Centimetre, PerCentimetre, Share, SquareCentimetre};
use pot::{
    column::Column,
    retention::{Curve, Retention},
};
use vector::{counted, text};

fn rows(name: &str) -> Option<Vec<csv::StringRecord>> {
    let file = text(name)?;
    Some(csv::Reader::from_reader(file.as_bytes()).records().map(Result::unwrap).collect())
}

fn mixes() -> Option<HashMap<String, Retention>> {
    let read = |row: &csv::StringRecord| {
        let number = |at: usize| row[at].parse::<f64>().unwrap();
        let curve = Curve {
            inside: Share(number(1)),
            residual: Share(number(2)),
            between: Share(number(3)),
            alpha: PerCentimetre(number(4)),
            n: number(5),
            m: None,
        };
        // The file's m is 1 − 1/n, printed to six digits; given freely it must lead to the same place.
        let free = Retention::new(Curve { m: Some(number(6)), ..curve }).unwrap();
        let bound = Retention::new(curve).unwrap();
        let gap = free.water_at(Centimetre(7.0)).0 - bound.water_at(Centimetre(7.0)).0;
        assert!(gap.abs() < 5e-7, "{} {gap:e}", &row[0]);
        (row[0].to_string(), bound)
    };
    let file = rows("water/substrate_vg.csv")?;
    counted("water/substrate_vg.csv: curves", file.len(), 11);
    Some(file.iter().map(read).collect())
}

#[test]
fn water_at_heights() {
    let (Some(mixes), Some(rows)) = (mixes(), rows("water/vg_point_checks.csv")) else { return };
    let (mut count, mut largest) = (0, 0.0_f64);
    for row in rows {
        let ours = mixes[&row[0]].water_at(Centimetre(row[1].parse().unwrap())).0;
        let gap = (ours - row[2].parse::<f64>().unwrap()).abs();
        (count, largest) = (count + 1, largest.max(gap));
        assert!(gap <= 5.0001e-7, "{row:?} ours {ours}");
    }
    println!("largest gap {largest:.1e}");
    counted("water/vg_point_checks.csv: points", count, 77);
}

/// The soil of a row: a straight column, or a cone frustum by its radii.
fn soil(row: &csv::StringRecord) -> Column {
    let height = Centimetre(row[3].parse().unwrap());
    if &row[1] == "prism" {
        return Column::straight(height, SquareCentimetre(100.0)).unwrap();
    }
    let radii: Vec<f64> =
        row[2].split(';').map(|part| part.split_once('=').unwrap().1.parse().unwrap()).collect();
    let disc = |radius: f64| SquareCentimetre(std::f64::consts::PI * radius * radius);
    let middle = f64::midpoint(radii[0], radii[1]);
    Column::through(height, disc(radii[0]), disc(middle), disc(radii[1])).unwrap()
}

#[test]
fn capacity_of_pots() {
    let (Some(mixes), Some(rows)) = (mixes(), rows("water/container_capacity.csv")) else { return };
    let (mut count, mut largest) = (0, 0.0_f64);
    for row in rows {
        let mix = mixes[&row[0]];
        let held = mix.capacity(&soil(&row));
        let figures = [(4, mix.porosity().0), (5, held.capacity.0), (6, held.air.0)];
        for (at, ours) in figures {
            let gap = (ours - row[at].parse::<f64>().unwrap()).abs();
            (count, largest) = (count + 1, largest.max(gap));
            assert!(gap <= 5.0001e-6, "{row:?} column {at} ours {ours}");
        }
    }
    println!("largest gap {largest:.1e}");
    counted("water/container_capacity.csv: figures", count, 297);
}
