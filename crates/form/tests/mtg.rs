//! The worked tree as a tree file, and trees made up by chance through the file and back.
//!
//! `example.mtg` was parsed with openalea.mtg (source of 2025-12) by the reference set: parents, edges and diameters agree there.

mod vector;

use std::collections::BTreeMap;

use form::{
    mtg,
    skeleton::{Edge, Segment, Skeleton},
};
use measure::quantity::{Degrees, Millimetre};
use proptest::prelude::*;
use vector::{counted, json, rows, text, tree_of, worked_tree};

/// Each segment by its axis and its place on it, hung on the same.
type Placed = BTreeMap<(u32, usize), (Option<(u32, usize)>, [f64; 5])>;

fn placed(tree: &Skeleton) -> Placed {
    let mut names = vec![(0, 0); tree.segments().len()];
    for axis in tree.axes() {
        for (place, &at) in axis.segments.iter().enumerate() {
            names[at] = (axis.id, place);
        }
    }
    let figures = |s: &Segment| [s.length.0, s.base.0, s.tip.0, s.azimuth.0, s.inclination.0];
    let row = |(at, segment): (usize, &Segment)| {
        (names[at], (segment.bearer.map(|at| names[at]), figures(segment)))
    };
    tree.segments().iter().enumerate().map(row).collect()
}

#[test]
fn the_example_is_the_worked_tree() {
    let (Some(text), Some(orders), Some(expected)) =
        (text("form/example.mtg"), json("form/orders.json"), json("form/example_mtg_expected.json"))
    else {
        return;
    };
    let read = mtg::read(&text).unwrap();
    let (worked, names) = tree_of(&orders);
    assert_eq!(read.segments().len() as u64, expected["counts"]["scale3"].as_u64().unwrap());
    assert_eq!(read.axes().len() as u64, expected["counts"]["scale2"].as_u64().unwrap());
    let placed = placed(&read);
    let label = |name: &str| {
        let label = rows(&expected["segment_to_mtg_label"][name]);
        let number = |at: usize| label[at].as_str().unwrap()[1..].parse::<u32>().unwrap();
        (number(0), number(1) as usize - 1)
    };
    for (name, segment) in names.iter().zip(worked.segments()) {
        let (bearer, figures) = placed[&label(name)];
        assert_eq!(bearer, segment.bearer.map(|at| label(&names[at])), "{name}");
        let [length, base, tip] = [segment.length.0, segment.base.0, segment.tip.0];
        assert_eq!(figures, [length, base, tip, segment.azimuth.0, segment.inclination.0], "{name}");
    }
    for axis in read.axes() {
        let bearer = axis.bearer.map(|at| format!("A{}", read.segments()[at].axis));
        let stored = expected["axis_parent_axis"][format!("A{}", axis.id)].as_str();
        assert_eq!(bearer.as_deref(), stored);
    }
    counted("form/example.mtg: segments", placed.len(), 18);
}

fn any_tree() -> impl Strategy<Value = Skeleton> {
    let figures = || (0.01..500.0_f64, 0.1..90.0_f64, 0.1..90.0_f64, -400.0..400.0_f64, -90.0..=90.0_f64);
    proptest::collection::vec((any::<prop::sample::Index>(), any::<bool>(), figures()), 0..40).prop_map(
        |pieces| {
            let piece = |bearer, edge, axis, (length, base, tip, azimuth, inclination)| {
                let [length, base, tip] = [length, base, tip].map(Millimetre);
                let (azimuth, inclination) = (Degrees(azimuth), Degrees(inclination));
                Segment { bearer, edge, axis, length, base, tip, azimuth, inclination }
            };
            let mut segments = vec![piece(None, Edge::Root, 1, (50.0, 30.0, 20.0, 0.0, 90.0))];
            let (mut goes_on, mut axes) = (vec![false], 1);
            for (bearer, follow, figures) in pieces {
                let bearer = bearer.index(segments.len());
                let follow = follow && !std::mem::replace(&mut goes_on[bearer], true);
                let edge = if follow { Edge::Follows } else { Edge::Branches };
                axes += u32::from(!follow);
                let axis = if follow { segments[bearer].axis } else { axes };
                segments.push(piece(Some(bearer), edge, axis, figures));
                goes_on.push(false);
            }
            Skeleton::new(segments).unwrap()
        },
    )
}

proptest! {
    #[test]
    fn what_is_written_is_read_again(tree in any_tree()) {
        let text = mtg::write(&tree);
        let again = mtg::read(&text).unwrap();
        prop_assert_eq!(placed(&again), placed(&tree));
        prop_assert_eq!(mtg::write(&again), text);
    }

    #[test]
    fn no_text_breaks_the_reader(text in "\\PC{0,200}") {
        let _ = mtg::read(&text);
    }

    #[test]
    fn no_rows_break_the_reader(rows in "([/<+^]{0,2}[PAS]?[0-9]{0,3}[\t\n]{0,2}){0,40}[0-9.\te-]{0,30}") {
        let (tree, _) = worked_tree();
        let head = mtg::write(&tree);
        let head = &head[..head.find("/P1").unwrap()];
        let _ = mtg::read(&format!("{head}{rows}"));
    }

    #[test]
    fn a_damaged_file_is_read_or_refused(at in any::<prop::sample::Index>(), put in "\\PC{0,3}") {
        let mut text = mtg::write(&worked_tree().0);
        let at = at.index(text.len());
        text.replace_range(at..=at, &put);
        let _ = mtg::read(&text);
    }
}
