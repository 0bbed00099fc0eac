//! A tree at the end of a season, and how long until a branch or the trunk has the thickness that is wanted.

use measure::{
    quantity::{Millimetre, Share, SquareCentimetre, SquareMillimetre, Weeks},
    range::within,
};

use super::{Likely, Vigour, WOOD_PER_LEAF, counted, laid, leaf_area, per_leaf, ring_between, thicker};
use crate::{error::Error, skeleton::Skeleton};

/// The leaves at one tip through a season.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaf {
    /// The segment that carries them at its end.
    pub at: usize,
    /// Their area when all are out.
    pub area: SquareCentimetre,
    /// For a shoot let run: when its leaves are all out. None for a tip that comes out at once.
    pub full: Option<Share>,
    /// When it is cut off, if it is.
    pub cut: Option<Share>,
}

impl Leaf {
    /// Leaves that come out at once and stay.
    pub fn standing(at: usize, area: SquareCentimetre) -> Leaf {
        Leaf { at, area, full: None, cut: None }
    }

    /// How much of a season's wood it has laid by a moment.
    fn counted(&self, moment: f64) -> f64 {
        let until = Share(self.cut.map_or(moment, |cut| cut.0.min(moment)));
        self.full.map_or_else(|| laid(until), |full| counted(until, full)).0
    }
}

/// The leaves that a tree carries by the thickness of its tips at their foot.
pub fn leaves(tree: &Skeleton) -> Vec<Leaf> {
    let leaf = |at: usize| Leaf::standing(at, leaf_area(tree.segments()[at].base, per_leaf().value.middle));
    tree.tips().into_iter().map(leaf).collect()
}

/// The same leaves with one tip let run instead: its own leaves are left out.
///
/// ```
/// use form::thickness::{Leaf, with_runner};
/// use measure::quantity::{Share, SquareCentimetre};
///
/// let leaves = [Leaf::standing(3, SquareCentimetre(120.0)), Leaf::standing(4, SquareCentimetre(90.0))];
/// let runner = Leaf { at: 3, area: SquareCentimetre(1500.0), full: Some(Share(0.4)), cut: Some(Share(0.5)) };
/// assert_eq!(with_runner(&leaves, runner), [leaves[1], runner]);
/// ```
pub fn with_runner(leaves: &[Leaf], runner: Leaf) -> Vec<Leaf> {
    let others = leaves.iter().copied().filter(|leaf| leaf.at != runner.at);
    others.chain([runner]).collect()
}

/// A season: how long it is, and how far on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Season {
    /// From bud break to leaf fall.
    pub length: Weeks,
    /// How much of it has passed.
    pub passed: Share,
}

/// The rings of a season, segment by segment.
///
/// ```text
/// ΔA_i = ε·v·Σ_j f_j·a_j/l_j      over the leaves above segment i
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | ε | `wood_per_leaf` | wood for a square metre of leaf in a season | cm³/m² |
/// | v | `vigour` | of this tree | 1 |
/// | f_j, a_j | `leaves` | share of the season counted, area | 1, m² |
/// | l_j | [`Skeleton::path`] | way from the leaf to the collar | m |
/// | ΔA_i | returned | ring of a segment | mm² |
///
/// **Holds** for leaves that hang on segments of the tree. **Error** ε is plausible from 40 to 250; years differ up to eightfold on
/// one site. **Source** ours: each leaf's wood laid evenly along its way to the roots (stem area follows leaf area, and
/// thickening is local to the way down, by abstracts read in the reference set). **Checked** `tests/thickening.rs`.
///
/// # Errors
///
/// [`Error::Hanging`] for a leaf that hangs on no segment; [`Error::OutOfRange`] for an area that is none.
pub fn ring_areas(
    tree: &Skeleton,
    leaves: &[Leaf],
    wood_per_leaf: f64,
    vigour: f64,
) -> Result<Vec<SquareMillimetre>, Error> {
    let feeds = feeds(tree, leaves, 1.0)?;
    Ok(feeds.into_iter().map(|feed| SquareMillimetre(wood_per_leaf * vigour * feed)).collect())
}

/// What feeds each segment by a moment of the season: leaf over way, m² a metre, weighed with the wood it has laid.
fn feeds(tree: &Skeleton, leaves: &[Leaf], moment: f64) -> Result<Vec<f64>, Error> {
    let mut feeds = vec![0.0; tree.segments().len()];
    for leaf in leaves {
        if leaf.at >= feeds.len() {
            return Err(Error::Hanging {
                segment: leaf.at,
                fault: "a leaf hangs on a segment that is not there",
            });
        }
        let area = within("leaf area, cm²", leaf.area.0, 0.0, 1e7)? / 1e4;
        feeds[leaf.at] += leaf.counted(moment) * area / (tree.path(leaf.at).0 / 1000.0);
    }
    for at in (1..feeds.len()).rev() {
        if let Some(bearer) = tree.segments()[at].bearer {
            feeds[bearer] += feeds[at];
        }
    }
    Ok(feeds)
}

/// A segment at the end of a season.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thickened {
    /// Thickness at its base.
    pub base: Likely<Millimetre>,
    /// Thickness at its end.
    pub tip: Likely<Millimetre>,
    /// The ring that was laid.
    pub ring: Likely<SquareMillimetre>,
}

/// The tree at the end of the season, segment by segment; eight seasons in ten end within the span.
///
/// # Errors
///
/// As [`ring_areas`], and [`Error::OutOfRange`] for a season that is none.
pub fn season_end(
    tree: &Skeleton,
    leaves: &[Leaf],
    season: Season,
    vigour: &Vigour,
) -> Result<Vec<Thickened>, Error> {
    let passed = within("share of the season passed", season.passed.0, 0.0, 1.0)?;
    let (whole, so_far) = (feeds(tree, leaves, 1.0)?, feeds(tree, leaves, passed)?);
    let vigour = vigour.likely();
    let row = |(segment, (whole, so_far)): (&crate::skeleton::Segment, (f64, f64))| {
        let ring = vigour.map(|v| SquareMillimetre(WOOD_PER_LEAF.value.middle * v * (whole - so_far)));
        Thickened {
            base: ring.map(|ring| thicker(segment.base, ring)),
            tip: ring.map(|ring| thicker(segment.tip, ring)),
            ring,
        }
    };
    Ok(tree.segments().iter().zip(whole.into_iter().zip(so_far)).map(row).collect())
}

/// What is asked of a segment: how thick it shall be at its base.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thickness {
    /// The segment.
    pub segment: usize,
    /// The thickness wanted at its base.
    pub wanted: Millimetre,
}

/// How long a wanted thickness takes, in weeks of growth; winters are not counted. None beyond twenty seasons.
pub type Until = Likely<Option<Weeks>>;

/// No answer looks further than this many seasons.
const SEASONS: usize = 20;

/// How many weeks of growth it takes until a segment is as thick as wanted, if every season carries these leaves.
///
/// Ask it twice, with a branch let run and with it cut, to see what the sacrifice brings, and for which pieces of the tree. The
/// low end is the vigorous season: fewest weeks.
///
/// # Errors
///
/// As [`season_end`]; [`Error::Hanging`] for a segment that is not there.
pub fn weeks_until(
    tree: &Skeleton,
    leaves: &[Leaf],
    asked: Thickness,
    season: Season,
    vigour: &Vigour,
) -> Result<Until, Error> {
    let Some(segment) = tree.segments().get(asked.segment) else {
        return Err(Error::Hanging { segment: asked.segment, fault: "there is no such segment" });
    };
    within("length of the season, weeks", season.length.0, 1.0, 53.0)?;
    let passed = within("share of the season passed", season.passed.0, 0.0, 1.0)?;
    let feed = |moment: f64| -> Result<f64, Error> { Ok(feeds(tree, leaves, moment)?[asked.segment]) };
    let (whole, so_far) = (feed(1.0)?, feed(passed)?);
    let needed = ring_between(segment.base, asked.wanted).0;
    let weeks = |vigour: f64| -> Result<Option<Weeks>, Error> {
        let mut left = needed / (WOOD_PER_LEAF.value.middle * vigour);
        if left <= 0.0 {
            return Ok(Some(Weeks(0.0)));
        }
        let (mut start, mut used, mut seasons) = (passed, so_far, 0.0);
        for _ in 0..SEASONS {
            if left <= whole - used {
                let (mut low, mut high) = (start, 1.0);
                for _ in 0..60 {
                    let middle = 0.5 * (low + high);
                    if feed(middle)? - used < left { low = middle } else { high = middle }
                }
                return Ok(Some(Weeks((seasons + high - start) * season.length.0)));
            }
            left -= whole - used;
            seasons += 1.0 - start;
            (start, used) = (0.0, 0.0);
        }
        Ok(None)
    };
    let vigour = vigour.likely();
    Ok(Likely { low: weeks(vigour.high)?, middle: weeks(vigour.middle)?, high: weeks(vigour.low)? })
}
