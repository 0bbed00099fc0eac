//! A tree of known shape, seen from the front as a photo shows it, traced and raised again.
//!
//! Nothing outside stands behind the whole; the convention of azimuth and clock is that of `proportions.json`, checked here.

mod vector;

use std::collections::BTreeMap;

use form::{
    skeleton::{Edge, Skeleton, direction},
    traced::{Caliper, Caveat, Clock, Depth, Raised, Rule, Thickness, TipClass, TracedLimb, raise},
};
use measure::quantity::{Degrees, Millimetre};
use proptest::prelude::*;
use vector::{Tally, json, number, rows, worked_tree};

fn limb(id: u32, bearer: Option<u32>, points: &[[f64; 2]]) -> TracedLimb {
    TracedLimb { id, bearer, points: points.to_vec(), clock: None, calipers: vec![], tips: None }
}

fn caliper(along: f64, diameter: f64) -> Caliper {
    Caliper { along: Millimetre(along), diameter: Millimetre(diameter) }
}

fn clock(hour: u8) -> Option<Clock> {
    Some(Clock::new(hour).unwrap())
}

fn trunk() -> TracedLimb {
    TracedLimb {
        calipers: vec![caliper(0.0, 40.0), caliper(200.0, 20.0)],
        ..limb(1, None, &[[0.0, 0.0], [0.0, 400.0]])
    }
}

fn tips_of(raised: &Raised, axis: u32) -> [f64; 3] {
    let last = *raised.skeleton.axis(axis).unwrap().segments.last().unwrap();
    let end = raised.skeleton.ends()[last];
    [end.x.0, end.y.0, end.z.0]
}

#[test]
fn clock_positions_and_directions() {
    let Some(file) = json("form/proportions.json") else { return };
    let mut tally = Tally::default();
    for row in rows(&file["clock_positions"]["examples"]) {
        let hour = row["clock"].as_u64().unwrap() as u8;
        tally.agrees(Clock::new(hour).unwrap().azimuth().0, number(row, "azimuth_deg"), 0.0);
    }
    let vector = &file["clock_positions"]["vector"];
    let ours = direction(Degrees(number(vector, "azimuth_deg")), Degrees(number(vector, "inclination_deg")));
    for (ours, stored) in ours.iter().zip(rows(&vector["xyz"])) {
        tally.agrees(*ours, stored.as_f64().unwrap(), 1e-10);
    }
    assert!(Clock::new(0).is_err() && Clock::new(13).is_err());
    tally.tell("form/proportions.json: clock and direction", 10);
}

/// What a level photo from the front shows of a skeleton's axis whose limb keeps one azimuth.
fn seen(tree: &Skeleton, axis: &form::skeleton::Axis) -> Vec<[f64; 2]> {
    let ends = tree.ends();
    let foot = axis.bearer.map_or([0.0, 0.0], |at| [ends[at].x.0, ends[at].z.0]);
    std::iter::once(foot).chain(axis.segments.iter().map(|&at| [ends[at].x.0, ends[at].z.0])).collect()
}

#[test]
fn a_tree_seen_from_the_front_is_raised_as_it_was() {
    // The worked tree with every limb turned to the nearest hour that the photo shows, and the trunk in its plane.
    let (tree, _) = worked_tree();
    let mut hours = BTreeMap::new();
    let mut segments = tree.segments().to_vec();
    for segment in &mut segments {
        if segment.axis == 1 {
            let right = segment.azimuth.0 > 180.0;
            segment.azimuth = Degrees(if right { 270.0 } else { 90.0 });
        } else {
            let hour = *hours.entry(segment.axis).or_insert_with(|| {
                let hour = ((segment.azimuth.0 / 30.0).round() as u8 + 6) % 12;
                if hour.is_multiple_of(6) { hour + 1 } else { hour }
            });
            segment.azimuth = Clock::new(hour).unwrap().azimuth();
        }
    }
    let tree = Skeleton::new(segments).unwrap();
    let mut limbs = Vec::new();
    for axis in tree.axes() {
        let (mut along, mut calipers) = (0.0, vec![caliper(0.0, tree.segments()[axis.segments[0]].base.0)]);
        for &at in &axis.segments {
            along += tree.segments()[at].length.0;
            calipers.push(caliper(along, tree.segments()[at].tip.0));
        }
        limbs.push(TracedLimb {
            id: axis.id,
            bearer: axis.bearer.map(|at| tree.segments()[at].axis),
            points: seen(&tree, &axis),
            clock: hours.get(&axis.id).map(|&hour| Clock::new(hour).unwrap()),
            calipers,
            tips: None,
        });
    }
    let raised = raise(&limbs).unwrap();
    assert_eq!(raised.caveats, []);
    assert_eq!(raised.skeleton.axes().len(), tree.axes().len());
    let mut tally = Tally::default();
    let ends = tree.ends();
    for axis in tree.axes() {
        let end = ends[*axis.segments.last().unwrap()];
        for (ours, was) in tips_of(&raised, axis.id).into_iter().zip([end.x.0, end.y.0, end.z.0]) {
            // Small bends are smoothed away: up to 1.2 % of a line, here 2.6 mm of the trunk's.
            tally.agrees(ours, was, 2.6);
        }
    }
    assert!((raised.skeleton.length().0 - tree.length().0).abs() < 3.0, "{:?}", raised.skeleton.length());
    tally.tell("ends of axes raised", 30);
}

#[test]
fn limbs_join_where_they_start_and_lines_split_there() {
    let branch = TracedLimb { clock: clock(3), ..limb(2, Some(1), &[[5.0, 150.0], [105.0, 150.0]]) };
    let raised = raise(&[branch, trunk()]).unwrap();
    let axis = raised.skeleton.axis(1).unwrap();
    assert_eq!(axis.segments.len(), 2);
    let foot = raised.skeleton.axis(2).unwrap().bearer.unwrap();
    assert_eq!(raised.skeleton.segments()[foot].length.0, 150.0);
    assert_eq!(raised.skeleton.segments()[foot].tip.0, 25.0);
    assert_eq!(tips_of(&raised, 2), [105.0, tips_of(&raised, 2)[1], 150.0]);
    assert!(tips_of(&raised, 2)[1].abs() < 1e-12);
}

#[test]
fn how_each_thickness_was_had_is_told() {
    let mut trunk = trunk();
    trunk.points = vec![[0.0, 0.0], [20.0, 60.0], [0.0, 120.0], [20.0, 180.0], [0.0, 400.0]];
    let branch = TracedLimb {
        tips: Some(TipClass::TenToNineteen),
        clock: clock(9),
        ..limb(7, Some(1), &[[-2.0, 300.0], [-90.0, 320.0]])
    };
    let raised = raise(&[trunk, branch]).unwrap();
    let had = |at: usize| raised.had[at].diameter;
    assert_eq!(had(0), Thickness::Measured);
    assert_eq!(had(1), Thickness::Interpolated);
    let beyond = raised.skeleton.axis(1).unwrap().segments[4];
    assert_eq!(had(beyond), Thickness::Inferred(Rule::TaperToTip));
    let first = raised.skeleton.axis(7).unwrap().segments[0];
    assert_eq!(had(first), Thickness::Inferred(Rule::ShareOfBearer));
    assert_eq!(raised.had[first].depth, Depth::FromClock);
    // Fourteen of the fifteen tips above the joint: a thick limb, but thinner than what carries it.
    let below = raised.skeleton.axis(7).unwrap().bearer.unwrap();
    let [branch, bearer] = [first, below].map(|at| raised.skeleton.segments()[at]);
    assert!(branch.base.0 <= 0.95 * bearer.tip.0 && branch.base.0 > 0.8 * bearer.tip.0);
    assert_eq!(branch.edge, Edge::Branches);
}

#[test]
fn a_limb_towards_the_viewer_gets_the_reach_of_the_others() {
    let side = TracedLimb { clock: clock(3), ..limb(2, Some(1), &[[0.0, 150.0], [80.0, 160.0]]) };
    let other = TracedLimb { clock: clock(8), ..limb(3, Some(1), &[[0.0, 170.0], [-60.0, 190.0]]) };
    let front = TracedLimb { clock: clock(6), ..limb(4, Some(1), &[[0.0, 160.0], [2.0, 140.0]]) };
    let flat = limb(5, Some(1), &[[0.0, 300.0], [40.0, 310.0]]);
    let raised = raise(&[trunk(), side, other, front, flat]).unwrap();
    let reach = 0.5 * (80.0 + 60.0 / 60.0_f64.to_radians().sin());
    assert!((tips_of(&raised, 4)[1] + reach).abs() < 1e-9, "{:?}", tips_of(&raised, 4));
    assert_eq!(raised.caveats, [Caveat::ReachNotSeen { limb: 4 }, Caveat::NoClock { limb: 5 }]);
    let first = raised.skeleton.axis(4).unwrap().segments[0];
    assert_eq!(raised.had[first].depth, Depth::Inferred);
    assert!(tips_of(&raised, 5)[1].abs() < 1e-9);
}

#[test]
fn an_hour_against_the_picture_and_a_trunk_without_calliper_are_named() {
    let wrong = TracedLimb { clock: clock(9), ..limb(2, Some(1), &[[0.0, 150.0], [80.0, 160.0]]) };
    let bare = TracedLimb { calipers: vec![], ..trunk() };
    let raised = raise(&[bare, wrong]).unwrap();
    assert_eq!(raised.caveats, [Caveat::ClockAgainstPicture { limb: 2 }, Caveat::TrunkNotMeasured]);
    assert_eq!(raised.had[0].diameter, Thickness::Inferred(Rule::TipsCarried));
}

#[test]
fn what_is_no_tree_is_refused_by_the_number_of_the_limb() {
    let two = |bearer| limb(2, bearer, &[[0.0, 50.0], [30.0, 60.0]]);
    for (limbs, fault) in [
        (
            vec![trunk(), limb(2, Some(1), &[[0.0, 50.0]])],
            "limb 2: it needs two points or more that lie apart",
        ),
        (vec![trunk(), limb(2, Some(1), &[[0.0, 50.0], [f64::NAN, 1.0]])], "limb 2: a point is no number"),
        (vec![trunk(), two(Some(9))], "limb 2: the limb that it leaves is not there"),
        (vec![trunk(), two(None)], "limb 2: it is a second trunk: tell which limb it leaves"),
        (vec![trunk(), two(Some(2))], "limb 2: it and its bearers bear one another in a circle"),
        (vec![two(Some(2))], "limb 2: no limb is the trunk: each leaves another"),
        (vec![trunk(), trunk()], "limb 1: its number is given twice"),
        (
            vec![TracedLimb { calipers: vec![caliper(5.0, 0.0)], ..trunk() }],
            "limb 1: a thickness must be above 0",
        ),
    ] {
        assert_eq!(raise(&limbs).unwrap_err().to_string(), fault);
    }
    assert_eq!(raise(&[]), Err(form::error::Error::Empty));
}

fn any_limbs() -> impl Strategy<Value = Vec<TracedLimb>> {
    let point = || [(-100i32..100).prop_map(f64::from), (-20i32..300).prop_map(f64::from)];
    let hour = proptest::option::of((1..=12u8).prop_map(|hour| Clock::new(hour).unwrap()));
    let one = (
        any::<prop::sample::Index>(),
        proptest::collection::vec(point(), 2..6),
        hour,
        proptest::collection::vec((0.0..400.0_f64, 0.3..60.0_f64), 0..3),
        proptest::option::of(proptest::sample::select(vec![
            TipClass::One,
            TipClass::FiveToNine,
            TipClass::TwentyOrMore,
        ])),
    );
    proptest::collection::vec(one, 1..12).prop_map(|rows| {
        let limb = |(at, (bearer, points, clock, calipers, tips)): (
            usize,
            (prop::sample::Index, _, _, Vec<_>, _),
        )| {
            let bearer = (at > 0).then(|| bearer.index(at.max(1)) as u32);
            let calipers = calipers.into_iter().map(|(along, diameter)| caliper(along, diameter)).collect();
            TracedLimb { id: at as u32, bearer, points, clock, calipers, tips }
        };
        rows.into_iter().enumerate().map(limb).collect()
    })
}

proptest! {
    #[test]
    fn any_scribble_is_a_tree_or_is_refused(limbs in any_limbs()) {
        match raise(&limbs) {
            Ok(raised) => {
                prop_assert_eq!(raised.had.len(), raised.skeleton.segments().len());
                prop_assert_eq!(raised.skeleton.axes().len(), limbs.len());
            }
            Err(error) => prop_assert!(matches!(error, form::error::Error::Limb { .. }), "{}", error),
        }
    }
}
