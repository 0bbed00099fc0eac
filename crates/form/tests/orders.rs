//! The worked tree of eighteen segments: orders, streams, branching points, wood.
//!
//! `orders.json`, by the reference set's own script; integers equal, figures to nine digits (ten are stored).

mod vector;

use form::{joint::Joint, order};
use vector::{Tally, json, nine, number, rows, worked_tree};

#[test]
fn every_order_of_every_segment() {
    let (tree, names) = worked_tree();
    let expected = &json("form/orders.json")["expected"];
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
    assert_eq!(count, 5 * 18);
    let tips: Vec<_> = tree.tips().into_iter().map(|at| names[at].clone()).collect();
    let stored: Vec<_> = rows(&expected["tips"]).iter().map(|name| name.as_str().unwrap()).collect();
    assert_eq!(tips.len(), stored.len());
    assert!(stored.iter().all(|name| tips.iter().any(|tip| tip == name)));
}

#[test]
fn streams_and_their_ratios() {
    let (tree, _) = worked_tree();
    let expected = &json("form/orders.json")["expected"];
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
    for (ours, pair) in pairs.iter().zip(["1/2", "2/3", "3/4"]) {
        tally.agrees(*ours, number(&expected["Rb_pairwise"], pair), 1e-12);
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
    assert_eq!((streams.orders.len(), pairs.len()), (4, 3));
    tally.tell("streams");
}

#[test]
fn branching_points_and_sums() {
    let (tree, names) = worked_tree();
    let expected = &json("form/orders.json")["expected"];
    let joints = Joint::of(&tree);
    let points = rows(&expected["branch_points"]);
    assert_eq!(joints.len(), points.len());
    let mut tally = Tally::default();
    for point in points {
        let (_, joint) = joints.iter().find(|(at, _)| names[*at] == point["node"].as_str().unwrap()).unwrap();
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
    tally.tell("branching points, wood, bark, length");
}
