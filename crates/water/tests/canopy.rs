//! Use of a tree in its pot, outdoors and in a room.
//!
//! `tree_use.json`, `indoor_use.json`: the reference set's own script of the same rule, so they check our arithmetic and
//! not the rule. Tolerance is half the last digit stored.

mod vector;

use measure::quantity::{Hours, Kilopascal, Millimetre, Share, SquareMetre};
use vector::{SIXTH, Tally, json, number, rows};
use water::{
    canopy::Canopy,
    indoors::{Room, indoor_use},
    supply::Supply,
};

#[test]
fn trees_on_the_bench() {
    let mut tally = Tally::default();
    let Some(file) = json("water/tree_use.json") else { return };
    for case in rows(&file) {
        let number = |name: &str| number(case, name);
        let or_full = |name: &str| Share(case.get(name).and_then(|it| it.as_f64()).unwrap_or(1.0));
        let tree = Canopy {
            crown: SquareMetre(number("Ac")),
            surface: SquareMetre(number("As")),
            wall: None,
            crown_factor: number("kt"),
            soil_factor: number("ke"),
            shade: Share(number("shade")),
            leaves: number("s"),
            exposure: number("x"),
            coefficient: 1.0,
        };
        let supply = Supply { leaves: or_full("Ks"), soil: or_full("Kr") };
        let drawn = tree.draws(Millimetre(number("et0")), supply).unwrap();
        tally.agrees(drawn.leaves.0, number("transpiration_l"), SIXTH);
        tally.agrees(drawn.soil.0, number("evaporation_l"), SIXTH);
        // Stored as the sum of the two rounded figures in one row.
        tally.agrees(drawn.total().0, number("total_l"), 2.0 * SIXTH);
        let breathing = Canopy { wall: Some(SquareMetre(0.1)), ..tree };
        let more = breathing.draws(Millimetre(number("et0")), supply).unwrap().total().0 - drawn.total().0;
        assert!((more - number("et0") * 0.1 * 0.2 * number("x")).abs() < 1e-12);
    }
    tally.tell("water/tree_use.json", 12);
}

#[test]
fn trees_in_a_room() {
    let mut tally = Tally::default();
    let Some(file) = json("water/indoor_use.json") else { return };
    for case in rows(&file["cases"]) {
        let room = Room {
            conductance: number(case, "g"),
            deficit: Kilopascal(number(case, "vpd")),
            pressure: Kilopascal(number(case, "P")),
            crown: SquareMetre(number(case, "area")),
            hours: Hours(number(case, "hours")),
        };
        tally.agrees(indoor_use(&room).unwrap().0, number(case, "litres"), SIXTH);
    }
    tally.tell("water/indoor_use.json", 3);
}
