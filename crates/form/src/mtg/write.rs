//! Writing a skeleton as a tree file.

use std::fmt::Write;

use super::FEATURES;
use crate::skeleton::{Edge, Segment, Skeleton};

/// Writes a skeleton as a multiscale tree graph: what branches off is written before its line goes on.
///
/// ```
/// use form::{mtg, skeleton::{Edge, Segment, Skeleton}};
/// use measure::quantity::{Degrees, Millimetre};
///
/// let [length, base, tip] = [70.0, 42.0, 36.5].map(Millimetre);
/// let (azimuth, inclination) = (Degrees(0.0), Degrees(84.0));
/// let tree = Skeleton::new(vec![Segment { bearer: None, edge: Edge::Root, axis: 1, length, base, tip, azimuth, inclination }])?;
/// let text = mtg::write(&tree);
/// assert!(text.ends_with("/P1\t\t\n\t/A1\t\n\t^/S1\t70\t42\t36.5\t0\t84\n"));
/// assert_eq!(mtg::read(&text)?, tree);
/// # Ok::<(), form::error::Error>(())
/// ```
pub fn write(tree: &Skeleton) -> String {
    let depths = depths(tree);
    let columns = depths.iter().max().map_or(2, |deepest| deepest + 2);
    let mut text = String::from(
        "CODE:\tFORM-A\n\nCLASSES:\nSYMBOL\tSCALE\tDECOMPOSITION\tINDEXATION\tDEFINITION\n$\t0\tFREE\tFREE\tIMPLICIT\n\
         P\t1\tCONNECTED\tFREE\tEXPLICIT\nA\t2\t<-LINEAR\tFREE\tEXPLICIT\nS\t3\t<-LINEAR\tFREE\tEXPLICIT\n\n\
         DESCRIPTION:\nLEFT\tRIGHT\tRELTYPE\tMAX\nA\tA\t+\t?\nS\tS\t+\t?\nS\tS\t<\t1\n\nFEATURES:\nNAME\tTYPE\n",
    );
    for feature in FEATURES {
        let _ = writeln!(text, "{feature}\tREAL");
    }
    let tabs = |count: usize| "\t".repeat(count);
    let _ = writeln!(text, "\nMTG:\nENTITY-CODE{}{}", tabs(columns), FEATURES.join("\t"));
    let _ = writeln!(text, "/P1{}", tabs(columns));
    let mut waiting = vec![(0, 1)];
    while let Some((at, place)) = waiting.pop() {
        let segment = &tree.segments()[at];
        let indent = depths[at] + 1;
        if segment.edge != Edge::Follows {
            let sign = if segment.edge == Edge::Root { '/' } else { '+' };
            let _ = writeln!(text, "{}{sign}A{}{}", tabs(indent), segment.axis, tabs(columns - indent));
        }
        let sign = if segment.edge == Edge::Follows { '<' } else { '/' };
        let _ = write!(text, "{}^{sign}S{place}{}", tabs(indent), tabs(columns - indent));
        text.push_str(&figures(segment));
        let borne = tree.borne(at).iter().copied();
        let next = |child: usize| tree.segments()[child].edge == Edge::Follows;
        waiting.extend(borne.clone().filter(|&child| next(child)).map(|child| (child, place + 1)));
        waiting.extend(borne.rev().filter(|&child| !next(child)).map(|child| (child, 1)));
    }
    text
}

fn figures(segment: &Segment) -> String {
    let Segment { length, base, tip, azimuth, inclination, .. } = segment;
    format!("{}\t{}\t{}\t{}\t{}\n", length.0, base.0, tip.0, azimuth.0, inclination.0)
}

/// How many axes lie below the axis of each segment.
fn depths(tree: &Skeleton) -> Vec<usize> {
    let mut depths: Vec<usize> = Vec::with_capacity(tree.segments().len());
    for segment in tree.segments() {
        let below = segment.bearer.map_or(0, |bearer| depths[bearer]);
        depths.push(below + usize::from(segment.edge == Edge::Branches));
    }
    depths
}
