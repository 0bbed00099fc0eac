//! The light of a day from a lamp, and where little light begins, beside the reference set's tables.
//!
//! `water/dli.csv`: closed form by script, tolerance half of the last digit stored. `dormancy/light.csv`: the sum of one lamp as read
//! in a text, and the least and the good light of a woken tree, which are common practice without a source; its other rows are
//! ranges of places and plants that the product says nothing about.

mod vector;

use climate::light::daily_light;
use measure::quantity::{Hours, PhotonFlux};
use season::what_if::{DIM, GOOD};
use vector::{Tally, cell, counted, table};

#[test]
fn lamps_give_the_light_of_the_closed_form() {
    let Some(file) = table("water/dli.csv") else { return };
    let mut tally = Tally::default();
    for row in file.iter().filter(|row| row["kind"] == "ppfd") {
        let ours = daily_light(PhotonFlux(cell(row, "ppfd_umol")), Hours(cell(row, "hours"))).0;
        tally.agrees(ours, cell(row, "dli_mol"), 0.005_001);
    }
    tally.tell("water/dli.csv", 5);
}

#[test]
fn little_and_good_light_begin_where_the_set_says() {
    let Some(file) = table("dormancy/light.csv") else { return };
    let mut seen = 0;
    for row in &file {
        match row["item"].as_str() {
            "constant_light" => {
                let ours = daily_light(PhotonFlux(1.0), Hours(24.0)).0;
                assert!((ours - cell(row, "low")).abs() < 5.001e-5, "{ours} of {row:?}");
            }
            "woken_deciduous_minimum" => assert_eq!(DIM, cell(row, "low")),
            "woken_deciduous_target" => assert_eq!(GOOD, [cell(row, "low"), cell(row, "high")]),
            _ => continue,
        }
        seen += 1;
    }
    counted("dormancy/light.csv: rows", seen, 3);
}
