//! Rings of the worked tree, seasons, leaf area and vigour.
//!
//! `thickening.json`, by the reference set's own script of the same model (it checks arithmetic, not the model); nine digits of
//! the ten stored.

mod vector;

use form::thickness::{
    Leaf, Season, Thickness, Vigour, WOOD_PER_LEAF, counted, laid, leaf_area, ring_areas, season_end,
    thicker, weeks_until,
};
use measure::quantity::{Millimetre, Share, SquareCentimetre, Weeks};
use serde_json::Value;
use vector::{Tally, fields, json, nine, number, own_file, rows, tree_of, worked_tree};

#[test]
fn moments_of_the_season() {
    let mut tally = Tally::default();
    let Some(file) = json("form/thickening.json") else { return };
    for row in rows(&file["season"]) {
        let [cut, full] = ["cut_at_s", "leaf_full_at_s"].map(|name| Share(number(row, name)));
        tally.agrees(laid(cut).0, number(row, "C_of_s"), 1e-10);
        tally.agrees(counted(cut, full).0, number(row, "effective_fraction_of_season"), 1e-10);
    }
    tally.tell("form/thickening.json: season", 16);
}

/// Cut and full leaf of a stored share of the season: a case stores the share alone, the file's table of seasons has the moments.
fn moments_of(file: &Value, share: f64) -> [Share; 2] {
    let gap = |row: &&Value| (number(row, "effective_fraction_of_season") - share).abs();
    let row = rows(&file["season"]).iter().min_by(|a, b| gap(a).total_cmp(&gap(b))).expect("a season");
    ["cut_at_s", "leaf_full_at_s"].map(|name| Share(number(row, name)))
}

#[test]
fn rings_of_four_years() {
    let (Some(file), Some(orders)) = (json("form/thickening.json"), json("form/orders.json")) else { return };
    let (tree, names) = tree_of(&orders);
    let mut tally = Tally::default();
    let at = |name: &str| names.iter().position(|own| own == name).unwrap();
    for case in rows(&file["cases"]) {
        let mut leaves = Vec::new();
        for (name, area) in fields(&case["leaf_cm2"]) {
            let area = area.as_f64().unwrap();
            let moments = case["season_fraction"][name].as_f64().map(|stored| {
                let moments = moments_of(&file, stored);
                tally.agrees(counted(moments[0], moments[1]).0, stored, 1e-10);
                moments
            });
            let (cut, full) = (moments.map(|it| it[0]), moments.map(|it| it[1]));
            leaves.push(Leaf { at: at(name), area: SquareCentimetre(area), full, cut });
            let path = number(&case["path_length_m"], name);
            tally.agrees(tree.path(at(name)).0 / 1000.0, path, nine(path));
        }
        let rings = ring_areas(&tree, &leaves, number(case, "eps"), number(case, "v")).unwrap();
        for (name, row) in fields(&case["result"]) {
            let (ring, segment) = (rings[at(name)], tree.segments()[at(name)]);
            let base = thicker(segment.base, ring);
            for (ours, field) in [
                (ring.0, "ring_area_mm2"),
                (base.0, "d_base_new"),
                (thicker(segment.tip, ring).0, "d_tip_new"),
                (0.5 * (base.0 - segment.base.0), "ring_width_base"),
            ] {
                tally.agrees(ours, number(row, field), 1e-9 * number(row, field).max(1.0));
            }
        }
    }
    tally.tell("form/thickening.json: rings", 4 * (10 + 18 * 4) + 1);
}

#[test]
fn leaf_of_a_shoot_and_vigour_of_a_tree() {
    let Some(file) = json("form/thickening.json") else { return };
    let mut tally = Tally::default();
    for row in rows(&file["leaf_area_from_shoot"]) {
        let ours = leaf_area(Millimetre(number(row, "d_base_mm")), number(row, "huber_mm2_per_cm2"));
        tally.agrees(ours.0, number(row, "leaf_area_cm2"), nine(number(row, "leaf_area_cm2")));
    }
    for row in rows(&file["vigour"]) {
        let ratios: Vec<f64> =
            rows(&row["observed_over_predicted"]).iter().map(|ratio| ratio.as_f64().unwrap()).collect();
        let ours = Vigour::learn(&ratios);
        tally.agrees(ours.value, number(row, "vigour"), 1e-9);
        tally.agrees(ours.spread, number(row, "sd_log"), 1e-9);
    }
    tally.tell("form/thickening.json: leaf and vigour", 10);
}

fn year(runner: f64) -> (form::skeleton::Skeleton, Vec<String>, Vec<Leaf>) {
    let (tree, names) = worked_tree();
    let text = std::fs::read_to_string(own_file("form/thickening.json")).unwrap();
    let file: Value = serde_json::from_str(&text).unwrap();
    let areas = file["cases"][0]["leaf_cm2"].as_object().unwrap().clone();
    let leaves = areas
        .iter()
        .map(|(name, area)| {
            let area = if name == "q111" { runner } else { area.as_f64().unwrap() };
            Leaf::standing(names.iter().position(|own| own == name).unwrap(), SquareCentimetre(area))
        })
        .collect();
    (tree, names, leaves)
}

#[test]
fn a_runner_thickens_what_carries_it_and_nothing_else() {
    let season = Season { length: Weeks(28.0), passed: Share(0.0) };
    let vigour = Vigour::learn(&[]);
    let (tree, names, cut) = year(30.0);
    let (_, _, run) = year(1500.0);
    let at = |name: &str| names.iter().position(|own| own == name).unwrap();
    let until = |leaves: &[Leaf], name: &str, wanted: f64| {
        let asked = Thickness { segment: at(name), wanted: Millimetre(wanted) };
        weeks_until(&tree, leaves, asked, season, &vigour).unwrap()
    };
    // The reference set's figures for one season: p1a 14 to 17.44 with the runner; so that thickness takes one season.
    let branch = until(&run, "p1a", 17.444_518_08);
    assert!((branch.middle.unwrap().0 - 28.0).abs() < 0.1, "{branch:?}");
    assert!(branch.low.unwrap().0 < 28.0 && branch.high.unwrap().0 > 28.0);
    assert!(until(&cut, "p1a", 17.4).middle.unwrap().0 > 100.0);
    // The trunk below thickens faster, the trunk above does not.
    assert!(until(&run, "t1", 43.0).middle.unwrap().0 < until(&cut, "t1", 43.0).middle.unwrap().0);
    assert_eq!(until(&run, "t2", 35.0), until(&cut, "t2", 35.0));
    assert_eq!(until(&cut, "p5", 60.0).middle, None);
    assert_eq!(until(&cut, "p5", 5.0).middle, Some(Weeks(0.0)));
}

#[test]
fn a_season_half_gone_lays_what_is_left() {
    let (tree, _, leaves) = year(120.0);
    let vigour = Vigour::learn(&[1.0, 1.0]);
    let end = |passed| {
        let season = Season { length: Weeks(28.0), passed: Share(passed) };
        season_end(&tree, &leaves, season, &vigour).unwrap()
    };
    let (whole, half) = (end(0.0), end(0.5));
    let rings = ring_areas(&tree, &leaves, WOOD_PER_LEAF.value.middle, 1.0).unwrap();
    for (at, ring) in rings.iter().enumerate() {
        assert!((whole[at].ring.middle.0 - ring.0).abs() < 1e-9);
        assert!((half[at].ring.middle.0 - 0.3125 * ring.0).abs() < 1e-9);
        assert!(whole[at].ring.low.0 < ring.0 && ring.0 < whole[at].ring.high.0);
    }
}
