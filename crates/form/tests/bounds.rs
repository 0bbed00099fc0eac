//! Masks, plants and thicknesses made up by chance: counted pixel by pixel, or held to what must always be so.
//!
//! Nothing outside stands behind these: they guard the quick ways of counting and the growing against strange input.

use std::collections::BTreeSet;

use form::{
    growth::{
        Act, Grower, Order, Plan, Plant, When,
        habit::{BEECH, ELM, Habit, LARCH, MAPLE, PINE},
    },
    silhouette::{Mask, boxes, canopy, end_points, parts, shape, sides, thinned, upright},
    skeleton::{Edge, Segment, Skeleton},
};
use measure::quantity::{Degrees, Millimetre};
use proptest::prelude::*;

fn any_mask() -> impl Strategy<Value = (usize, usize, Vec<bool>)> {
    // Widths on both sides of a machine word.
    (prop_oneof![1..20_usize, 60..70_usize, 126..131_usize], 1..14_usize, 0.1..0.9_f64).prop_flat_map(
        |(width, height, share)| {
            let pixels = proptest::collection::vec(proptest::bool::weighted(share), width * height);
            (Just(width), Just(height), pixels)
        },
    )
}

/// Pieces of pixels that are `wanted`, by flooding; with a rim around the picture that is unset.
fn flood(width: usize, height: usize, on: &[bool], wanted: bool, corners: bool) -> Vec<BTreeSet<(i64, i64)>> {
    let (w, h) = (width as i64, height as i64);
    let at = |x: i64, y: i64| (0..w).contains(&x) && (0..h).contains(&y) && on[(y * w + x) as usize];
    let rim = i64::from(!wanted);
    let (mut seen, mut pieces) = (BTreeSet::new(), Vec::new());
    for y in -rim..h + rim {
        for x in -rim..w + rim {
            if at(x, y) != wanted || seen.contains(&(x, y)) {
                continue;
            }
            let (mut piece, mut waiting) = (BTreeSet::new(), vec![(x, y)]);
            while let Some((x, y)) = waiting.pop() {
                let inside = (-rim..w + rim).contains(&x) && (-rim..h + rim).contains(&y);
                if !inside || at(x, y) != wanted || !seen.insert((x, y)) {
                    continue;
                }
                piece.insert((x, y));
                for (dx, dy) in [(1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (1, -1), (-1, 1), (-1, -1)] {
                    if corners || dx == 0 || dy == 0 {
                        waiting.push((x + dx, y + dy));
                    }
                }
            }
            pieces.push(piece);
        }
    }
    pieces
}

proptest! {
    #[test]
    fn quick_counts_are_those_pixel_by_pixel((width, height, on) in any_mask()) {
        let mask = Mask::new(width, height, &on).unwrap();
        let set = on.iter().filter(|on| **on).count();
        prop_assert_eq!(mask.area(), set as u64);
        let pieces = flood(width, height, &on, true, true);
        prop_assert_eq!(parts::pieces(&mask), pieces.len());
        // A hole is background that does not hang together with the rim.
        let holes = flood(width, height, &on, false, false).into_iter().filter(|piece| !piece.contains(&(-1, -1)));
        let holes: Vec<_> = holes.collect();
        prop_assert_eq!(parts::holes(&mask), holes.len());
        let filled: usize = holes.iter().map(BTreeSet::len).sum();
        prop_assert_eq!(parts::filled(&mask).area() as usize, set + filled);
        let largest = pieces.iter().map(BTreeSet::len).max().unwrap_or(0);
        let kept: usize = pieces.iter().map(BTreeSet::len).filter(|size| *size == largest).sum();
        prop_assert_eq!(parts::largest(&mask, 1.0).area() as usize, kept);
        let at = |x: i64, y: i64| x >= 0 && y >= 0 && mask.on(x as usize, y as usize);
        let mut crack = 0;
        for y in -1..=height as i64 {
            for x in -1..=width as i64 {
                crack += u64::from(at(x, y) != at(x + 1, y)) + u64::from(at(x, y) != at(x, y + 1));
            }
        }
        prop_assert_eq!(shape::crack(&mask), crack);
        for side in [1, 3, 8] {
            let boxes = boxes::boxes(&mask, side).unwrap();
            let any = (0..height.div_ceil(side)).flat_map(|by| (0..width.div_ceil(side)).map(move |bx| (bx, by)));
            let any = any.filter(|&(bx, by)| {
                (by * side..(by + 1) * side).any(|y| (bx * side..(bx + 1) * side).any(|x| mask.on(x, y)))
            });
            prop_assert_eq!(boxes.any, any.count() as u64);
        }
    }

    #[test]
    fn shapes_keep_their_bounds((width, height, on) in any_mask(), radius in 0..6_usize) {
        let mask = Mask::new(width, height, &on).unwrap();
        if mask.area() > 0 {
            let shape = shape::shape(&mask).unwrap();
            prop_assert!(0.0 < shape.solidity && shape.solidity <= 1.0 + 1e-12);
            prop_assert!(shape.hull_around > 0.0 && shape.edge > 0.0);
            // Folded on the middle of the picture, mask and mirror have the same sides.
            let axis = width as f64 / 2.0;
            let mirrored = Mask::by(width, height, |x, y| mask.on(width - 1 - x, y));
            let (one, other) = (sides::sides(&mask, axis).unwrap(), sides::sides(&mirrored, axis).unwrap());
            prop_assert!((one.mirror - other.mirror).abs() < 1e-12);
            prop_assert!((0.0..=1.0).contains(&one.mirror) && (0.0..=1.0).contains(&one.rows));
            prop_assert!((one.balance + other.balance).abs() < 1e-9);
        }
        // Closing covers the mask, and closing again changes nothing.
        let closed = canopy::closed(&mask, radius);
        for y in 0..height {
            for x in 0..width {
                prop_assert!(!mask.on(x, y) || closed.on(x, y));
            }
        }
        prop_assert_eq!(canopy::canopy(&mask, radius).outline.area() >= closed.area(), true);
        let lines = thinned(&mask);
        prop_assert!(lines.area() <= mask.area() && end_points(&lines) as u64 <= lines.area());
        // Zhang and Suen drop a lone block of two by two, but never part a piece.
        prop_assert!(parts::pieces(&lines) <= parts::pieces(&mask));
    }

    #[test]
    fn turning_there_and_back_changes_nothing(width in 1..9_usize, height in 1..9_usize, orientation in 1..=8_u16) {
        let pixels: Vec<usize> = (0..width * height).collect();
        let (wide, high, turned) = upright(width, height, &pixels, orientation).unwrap();
        let back = match orientation { 6 => 8, 8 => 6, other => other };
        prop_assert_eq!(upright(wide, high, &turned, back).unwrap(), (width, height, pixels));
    }
}

fn any_tree() -> impl Strategy<Value = Skeleton> {
    let figures = (5.0..120.0_f64, 1.0..30.0_f64, 0.0..360.0_f64, -40.0..=90.0_f64);
    proptest::collection::vec((any::<prop::sample::Index>(), any::<bool>(), figures), 0..14).prop_map(
        |pieces| {
            let piece =
                |bearer, edge, axis, (length, base, azimuth, inclination): (f64, f64, f64, f64)| Segment {
                    bearer,
                    edge,
                    axis,
                    length: Millimetre(length),
                    base: Millimetre(base),
                    tip: Millimetre(0.8 * base),
                    azimuth: Degrees(azimuth),
                    inclination: Degrees(inclination),
                };
            let mut segments = vec![piece(None, Edge::Root, 1, (60.0, 30.0, 0.0, 85.0))];
            let (mut goes_on, mut axes) = (vec![false], 1);
            for (bearer, follow, figures) in pieces {
                let bearer = bearer.index(segments.len());
                let follow = follow && !std::mem::replace(&mut goes_on[bearer], true);
                axes += u32::from(!follow);
                let axis = if follow { segments[bearer].axis } else { axes };
                let edge = if follow { Edge::Follows } else { Edge::Branches };
                segments.push(piece(Some(bearer), edge, axis, figures));
                goes_on.push(false);
            }
            Skeleton::new(segments).unwrap()
        },
    )
}

fn any_plan() -> impl Strategy<Value = Plan> {
    let act = prop_oneof![
        Just(Act::Run),
        (0..4_u32).prop_map(|nodes| Act::KeepShort { nodes }),
        (0.0..=1.0_f64).prop_map(|keep| Act::Shorten { keep }),
        Just(Act::Remove),
        (0..3_u32).prop_map(|shoots| Act::Thin { shoots }),
    ];
    let when = prop_oneof![Just(When::Dormant), Just(When::Summer)];
    proptest::collection::vec((1..12_u32, act, when), 0..10).prop_map(|orders| Plan {
        orders: orders.into_iter().map(|(limb, act, when)| Order { limb, act, when }).collect(),
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn any_plan_on_any_tree_leaves_a_tree(
        tree in any_tree(),
        plan in any_plan(),
        habit in proptest::sample::select(vec![ELM, MAPLE, BEECH, LARCH, PINE]),
        seed in any::<u64>(),
    ) {
        let habit: Habit = habit;
        let mut plant = Plant::from_skeleton(&tree, &[(2, 5)], &habit);
        let mut grower = Grower::new(habit, 1.0, seed);
        grower.settle(&mut plant);
        let mut below = 0.0;
        for _ in 0..3 {
            grower.season(&mut plant, &plan);
            let grown = plant.skeleton().unwrap();
            // Wood is laid on, never taken from what stays: the collar does not thin.
            let base = grown.segments()[0].base.0;
            prop_assert!(base >= below && base.is_finite());
            below = base;
            prop_assert!(plant.tips() >= 1 && plant.tips() <= plant.len());
        }
    }
}
