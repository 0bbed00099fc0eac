//! Exponents of branching points, taper, profiles and the greatest free height.
//!
//! `allometry.json`, by the reference set's own script (Bessel zero by scipy); nine digits of the ten stored.

mod vector;

use form::{
    joint::{Joint, carrier},
    taper::{Profile, Reading, greatest_height},
};
use measure::quantity::{KilogramPerLitre, Megapascal, Millimetre};
use vector::{Tally, fields, json, nine, number, numbers as list, rows};

fn profile(heights: &[f64], thick: &[f64]) -> Profile {
    let reading =
        |(&along, &thick): (&f64, &f64)| Reading { along: Millimetre(along), thickness: Millimetre(thick) };
    Profile::new(heights.iter().zip(thick).map(reading).collect()).unwrap()
}

#[test]
fn nodes_balance_where_the_script_says() {
    let mut tally = Tally::default();
    let Some(file) = json("form/allometry.json") else { return };
    for node in rows(&file["nodes"]) {
        let above: Vec<_> = list(&node["children"]).into_iter().map(Millimetre).collect();
        let joint = Joint::new(Millimetre(number(node, "parent")), &above).unwrap();
        for (ours, name) in [
            (joint.area_ratio(), "area_ratio"),
            (joint.cube_ratio(), "murray_ratio"),
            (joint.exponent().unwrap(), "exponent"),
        ] {
            tally.agrees(ours, number(node, name), nine(number(node, name)));
        }
        for (n, below) in fields(&node["parent_from_children"]) {
            let below = below.as_f64().unwrap();
            tally.agrees(carrier(&above, n.parse().unwrap()).0, below, nine(below));
        }
    }
    tally.tell("form/allometry.json: nodes", 5 * 8);
}

#[test]
fn power_laws_and_profiles() {
    let Some(file) = json("form/allometry.json") else { return };
    let mut tally = Tally::default();
    for row in rows(&file["taper"]) {
        let fitted = profile(&list(&row["z"]), &list(&row["diameter"]))
            .power(Millimetre(number(row, "height")))
            .unwrap();
        tally.agrees(fitted.power, number(row, "p"), nine(number(row, "p")));
        tally.agrees(fitted.base.0, number(row, "D0_fit"), nine(number(row, "D0_fit")));
    }
    for row in rows(&file["profile"]) {
        let profile = profile(&list(&row["z_mm"]), &list(&row["d_mm"]));
        let reverse: Vec<f64> = profile.reverse().into_iter().map(|at| at as f64).collect();
        assert_eq!(reverse, list(&row["reverse_taper_at_index"]));
        tally.agrees(profile.mean_taper(), number(row, "mean_taper_mm_per_mm"), 1e-10);
        tally.agrees(profile.height_to_base(), number(row, "height_to_base_diameter"), 1e-9);
    }
    tally.tell("form/allometry.json: taper and profiles", 8);
}

#[test]
fn heights_at_which_a_stem_bows() {
    let mut tally = Tally::default();
    let Some(file) = json("form/allometry.json") else { return };
    for row in rows(&file["greenhill"]) {
        let ours = greatest_height(
            Megapascal(number(row, "E_Pa") / 1e6),
            KilogramPerLitre(number(row, "rho") / 1000.0),
            Millimetre(number(row, "D_m") * 1000.0),
        )
        .unwrap();
        let stored = number(row, "H_crit_m");
        tally.agrees(ours.0, stored, nine(stored));
        // McMahon's rule, 0.79·(E/(ρg))^(1/3)·D^(2/3), is the same thing to a per cent.
        let rule = 0.79
            * (number(row, "E_Pa") / (number(row, "rho") * 9.806_65)).cbrt()
            * number(row, "D_m").powf(2.0 / 3.0);
        assert!((rule / ours.0 - 1.0).abs() < 0.01);
    }
    tally.tell("form/allometry.json: greatest heights", 3);
}
