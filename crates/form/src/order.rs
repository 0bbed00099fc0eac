//! The orders of a branching tree, and how numbers, lengths and thicknesses go from one order to the next.

use measure::quantity::Millimetre;

use crate::skeleton::{Edge, Skeleton};

/// Order counted from the trunk: 1 along the trunk, one more at every line that leaves (Gravelius). Primaries carry 2.
pub fn gravelius(tree: &Skeleton) -> Vec<u32> {
    from_below(tree, 1, |at, below| below + u32::from(tree.segments()[at].edge == Edge::Branches))
}

/// How many branching points lie below each segment (Weibel).
pub fn weibel(tree: &Skeleton) -> Vec<u32> {
    let forks = |at: usize| tree.segments()[at].bearer.is_some_and(|bearer| tree.borne(bearer).len() > 1);
    from_below(tree, 0, |at, below| below + u32::from(forks(at)))
}

/// How many tips each segment carries, itself included where it is one (Shreve).
pub fn shreve(tree: &Skeleton) -> Vec<u32> {
    from_above(tree, |borne| borne.iter().sum::<u32>().max(1))
}

/// Order counted from the tips: 1 at a tip, the highest of what is borne, one more where that stands at least twice (Strahler).
pub fn strahler(tree: &Skeleton) -> Vec<u32> {
    from_above(tree, |borne| {
        let highest = borne.iter().copied().max().unwrap_or(0);
        let twice = borne.iter().filter(|&&order| order == highest).count() > 1;
        highest + u32::from(twice || borne.is_empty())
    })
}

/// Strahler's order of its foot carried out along each main line (Horton). The main line goes on in the child of the highest
/// order, the thicker one where two are equal.
pub fn horton(tree: &Skeleton) -> Vec<u32> {
    let strahler = strahler(tree);
    let heir = |bearer: usize| {
        tree.borne(bearer).iter().copied().reduce(|best, other| {
            let rank = |at: usize| (strahler[at], tree.segments()[at].base.0);
            if rank(other) > rank(best) { other } else { best }
        })
    };
    let top = strahler[0];
    from_below(tree, top, |at, below| {
        let inherits = tree.segments()[at].bearer.and_then(heir) == Some(at);
        if inherits { below } else { strahler[at] }
    })
}

/// All streams of one order: the longest runs of segments of that Strahler order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Order {
    /// The order.
    pub order: u32,
    /// How many streams it has.
    pub count: u32,
    /// Mean length of one.
    pub length: Millimetre,
    /// Mean over the streams of the mean thickness of their segments, each taken at its base.
    pub base: Millimetre,
}

/// The streams of a tree and how they go from order to order.
#[derive(Clone, Debug, PartialEq)]
pub struct Streams {
    /// The orders, lowest first.
    pub orders: Vec<Order>,
    /// How the whole goes from one order to the next; none with a single order.
    pub ratios: Option<Ratios>,
}

/// Ratios over all orders, by a straight line through the logarithms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ratios {
    /// Streams of one order for each of the next.
    pub branching: f64,
    /// Length of the next order over that of one.
    pub length: f64,
    /// Thickness of the next order over that of one.
    pub diameter: f64,
}

impl Streams {
    /// Streams of each order for each stream of the next.
    pub fn pairwise(&self) -> Vec<f64> {
        self.orders.windows(2).map(|pair| f64::from(pair[0].count) / f64::from(pair[1].count)).collect()
    }
}

/// The streams of a tree, with the ratios of number, length and thickness.
///
/// ```text
/// Rb = 10^(−slope of log10 N on k),   RL, RD = 10^(slope of log10 of mean length, mean base thickness on k)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | k | `order` | Strahler order | 1 |
/// | N | `count` | streams of an order | 1 |
/// | Rb, RL, RD | `ratios` | branching, length and diameter ratio, least squares over all orders | 1 |
///
/// **Holds** for any tree with two orders or more. **Error** none of its own; Rb differs within one crown and says nothing about a
/// species (Borchert and Slade 1981, abstract read in the reference set). **Source** Strahler's streams, as the reference set
/// writes them down. **Checked** `tests/orders.rs`.
pub fn streams(tree: &Skeleton) -> Streams {
    let strahler = strahler(tree);
    let top = strahler[0] as usize;
    let mut sums = vec![(0_u32, 0.0, 0.0); top];
    for (at, segment) in tree.segments().iter().enumerate() {
        if segment.bearer.is_none_or(|bearer| strahler[bearer] != strahler[at]) {
            let stream: Vec<_> = std::iter::successors(Some(at), |&at| {
                tree.borne(at).iter().copied().find(|&child| strahler[child] == strahler[at])
            })
            .map(|at| tree.segments()[at])
            .collect();
            let sum = &mut sums[strahler[at] as usize - 1];
            sum.0 += 1;
            sum.1 += stream.iter().map(|segment| segment.length.0).sum::<f64>();
            sum.2 += stream.iter().map(|segment| segment.base.0).sum::<f64>() / stream.len() as f64;
        }
    }
    let orders: Vec<Order> = (1..)
        .zip(&sums)
        .map(|(order, &(count, length, base))| {
            let [length, base] = [length, base].map(|sum| Millimetre(sum / f64::from(count)));
            Order { order, count, length, base }
        })
        .collect();
    let ratio = |of: fn(&Order) -> f64| {
        let logs: Vec<_> = orders.iter().map(|order| (f64::from(order.order), of(order).log10())).collect();
        10_f64.powf(slope(&logs))
    };
    let ratios = (top > 1).then(|| Ratios {
        branching: 1.0 / ratio(|order| f64::from(order.count)),
        length: ratio(|order| order.length.0),
        diameter: ratio(|order| order.base.0),
    });
    Streams { orders, ratios }
}

/// The slope of the straight line of least squares.
pub(crate) fn slope(points: &[(f64, f64)]) -> f64 {
    let n = points.len() as f64;
    let (mean_x, mean_y) =
        (points.iter().map(|p| p.0).sum::<f64>() / n, points.iter().map(|p| p.1).sum::<f64>() / n);
    let rise: f64 = points.iter().map(|p| (p.0 - mean_x) * (p.1 - mean_y)).sum();
    rise / points.iter().map(|p| (p.0 - mean_x).powi(2)).sum::<f64>()
}

fn from_below(tree: &Skeleton, foot: u32, step: impl Fn(usize, u32) -> u32) -> Vec<u32> {
    let mut told = Vec::with_capacity(tree.segments().len());
    for (at, segment) in tree.segments().iter().enumerate() {
        told.push(segment.bearer.map_or(foot, |bearer| step(at, told[bearer])));
    }
    told
}

fn from_above(tree: &Skeleton, step: impl Fn(&[u32]) -> u32) -> Vec<u32> {
    let mut told = vec![0; tree.segments().len()];
    let mut borne = Vec::new();
    for at in (0..told.len()).rev() {
        borne.clear();
        borne.extend(tree.borne(at).iter().map(|&child| told[child]));
        told[at] = step(&borne);
    }
    told
}
