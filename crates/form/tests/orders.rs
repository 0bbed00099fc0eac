//! The worked tree of eighteen segments: orders, streams, branching points, wood.
//!
//! `orders.json`, by the reference set's own script; integers equal, figures to nine digits (ten are stored).

mod vector;

use form::{joint::Joint, order};
use vector::{Tally, counted, fields, json, nine, number, rows, tree_of, words};

#[test]
fn every_order_of_every_segment() {
    let Some(file) = json("form/orders.json") else { return };
    let ((tree, names), expected) = (tree_of(&file), &file["expected"]);
    let mut count = 0;
    for (kind, ours) in [
        ("strahler", order::strahler(&tree)),
        ("shreve_magnitude", order::shreve(&tree)),
        ("gravelius", order::gravelius(&tree)),
        ("weibel_generation", order::weibel(&tree)),
        ("horton", order::horton(&tree)),
    ] {
        for (name, ours) in names.iter().zip(ours) {
            assert_eq!(Some(u64::from(ours)), expected[kind][name].as_u64(), "{kind} of {name}");
            count += 1;
        }
    }
    counted("form/orders.json: orders", count, 5 * 18);
    let tips: Vec<_> = tree.tips().into_iter().map(|at| names[at].clone()).collect();
    let stored: Vec<_> = rows(&expected["tips"]).iter().map(|name| name.as_str().unwrap()).collect();
    assert_eq!(tips.len(), stored.len());
    assert!(stored.iter().all(|name| tips.iter().any(|tip| tip == name)));
}

#[test]
fn streams_and_their_ratios() {
    let Some(file) = json("form/orders.json") else { return };
    let ((tree, _), expected) = (tree_of(&file), &file["expected"]);
    let streams = order::streams(&tree);
    let mut tally = Tally::default();
    for order in &streams.orders {
        let key = order.order.to_string();
        assert_eq!(Some(u64::from(order.count)), expected["stream_count"][&key].as_u64());
        let length = number(&expected["stream_mean_length_mm"], &key);
        tally.agrees(order.length.0, length, nine(length));
        let base = number(&expected["stream_mean_base_diameter_mm"], &key);
        tally.agrees(order.base.0, base, nine(base));
    }
    let pairs = streams.pairwise();
    let stored = fields(&expected["Rb_pairwise"]);
    assert_eq!(pairs.len(), stored.len());
    for (pair, stored) in stored {
        let below: usize = pair.split_once('/').unwrap().0.parse().unwrap();
        tally.agrees(pairs[below - 1], stored.as_f64().unwrap(), 1e-12);
    }
    let ratios = streams.ratios.unwrap();
    for (ours, name) in [
        (ratios.branching, "Rb_regression"),
        (ratios.length, "RL_regression"),
        (ratios.diameter, "RD_regression"),
    ] {
        let stored = number(expected, name);
        tally.agrees(ours, stored, nine(stored));
    }
    assert_eq!(streams.orders.len(), fields(&expected["stream_count"]).len());
    tally.tell("form/orders.json: streams", 14);
}

#[test]
fn branching_points_and_sums() {
    let Some(file) = json("form/orders.json") else { return };
    let ((tree, names), expected) = (tree_of(&file), &file["expected"]);
    let joints = Joint::of(&tree);
    let points = rows(&expected["branch_points"]);
    assert_eq!(joints.len(), points.len());
    let mut tally = Tally::default();
    for point in points {
        let (_, joint) = joints.iter().find(|(at, _)| names[*at] == words(point, "node")).unwrap();
        for (ours, name) in [
            (joint.area_ratio(), "area_ratio"),
            (joint.cube_ratio(), "murray_ratio"),
            (joint.exponent().unwrap(), "davinci_exponent"),
        ] {
            tally.agrees(ours, number(point, name), nine(number(point, name)));
        }
    }
    for (ours, name) in [
        (tree.wood().0, "wood_volume_mm3"),
        (tree.bark().0, "bark_surface_mm2"),
        (tree.length().0, "total_length_mm"),
    ] {
        tally.agrees(ours, number(expected, name), nine(number(expected, name)));
    }
    tally.tell("form/orders.json: branching points, wood, bark, length", 27);
}
