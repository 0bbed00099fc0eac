//! What answers a cut: buds that break behind it, how far they run, back-budding on old wood, and tips over the years.

use measure::{
    quantity::Millimetre,
    range::{OutOfRange, within},
};

/// How buds break behind a cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Breaking {
    /// Chance of the bud nearest to the cut (p1).
    pub nearest: f64,
    /// Each node further down it falls by this factor (q).
    pub falls: f64,
    /// Buds on a node: 1 alternate, 2 opposite.
    pub buds: u32,
}

/// A cut: the nodes left below it, the length that its shoots will share, and the weight of the tips that grow beside them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// Nodes left.
    pub nodes: u32,
    /// Length that all shoots of the season share.
    pub length: Millimetre,
    /// Weight of the other growing tips.
    pub others: f64,
    /// The usual internode.
    pub internode: Millimetre,
}

/// What is to be expected at one node.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtNode {
    /// Chance that one of its buds breaks.
    pub breaks: f64,
    /// How long its shoot becomes.
    pub length: Millimetre,
    /// In how many internodes.
    pub internodes: u32,
}

/// What is to be expected of a cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Reply {
    /// The nodes from the cut down.
    pub nodes: Vec<AtNode>,
    /// Shoots expected in all.
    pub shoots: f64,
    /// Chance that nothing breaks.
    pub nothing: f64,
}

impl Breaking {
    /// Chance that a bud of the k-th node below the cut breaks; the nearest node is 1.
    pub fn at(&self, node: u32) -> f64 {
        self.nearest * self.falls.powi(node as i32 - 1)
    }

    /// What is to be expected of a cut.
    ///
    /// ```text
    /// P(k) = p1·q^(k−1);   shoots = b·ΣP;   nothing = Π(1 − P)^b;   E_k = E·P(k)/(b·ΣP + w);   n = max(1, round(E_k/l))
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | p1, q, b | [`Breaking`] | nearest bud, fall, buds on a node | 1 |
    /// | E, w, l | [`Cut`] | length shared, other tips, internode | mm, 1, mm |
    /// | P, E_k, n | [`AtNode`] | chance, length, internodes | 1, mm, 1 |
    ///
    /// **Holds** for cuts into wood with living buds. **Error** no published counts for bonsai: learn p1 from your own.
    /// **Source** ours; that the uppermost buds break is measured (Brown, McAlpine and Kormanik 1967, abstract).
    /// **Checked** `tests/growth.rs` (arithmetic only).
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] for a chance outside 0 to 1, no bud, or lengths that are none.
    pub fn reply(&self, cut: &Cut) -> Result<Reply, OutOfRange> {
        within("chance of the nearest bud", self.nearest, 0.0, 1.0)?;
        within("fall from node to node", self.falls, 0.0, 1.0)?;
        within("buds on a node", f64::from(self.buds), 1.0, 6.0)?;
        within("nodes left", f64::from(cut.nodes), 0.0, 500.0)?;
        within("length shared, mm", cut.length.0, 0.0, 1e6)?;
        within("internode, mm", cut.internode.0, 0.1, 1e4)?;
        let chances: Vec<f64> = (1..=cut.nodes).map(|node| self.at(node)).collect();
        let shoots = f64::from(self.buds) * chances.iter().sum::<f64>();
        let all = shoots + cut.others;
        let node = |&breaks: &f64| {
            let length = if all > 0.0 { cut.length.0 * breaks / all } else { 0.0 };
            let internodes = (length / cut.internode.0).round().max(1.0) as u32;
            AtNode { breaks, length: Millimetre(length), internodes }
        };
        let nothing = chances.iter().map(|chance| (1.0 - chance).powi(self.buds as i32)).product();
        Ok(Reply { nodes: chances.iter().map(node).collect(), shoots, nothing })
    }
}

/// The chance of the nearest bud after so many broke of so many watched, from a prior of nine that broke and one that did not.
///
/// ```
/// assert_eq!(form::growth::cut::learned(7, 10), 0.8);
/// ```
pub fn learned(broke: u32, watched: u32) -> f64 {
    let (broke, watched) = (f64::from(broke.min(watched)), f64::from(watched));
    (9.0 + broke) / (10.0 + watched)
}

/// Nodes of one age of wood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OldWood {
    /// Its age in years; 1 for last year's.
    pub age: u32,
    /// Its nodes.
    pub nodes: u32,
}

/// Buds to be expected on each age of wood behind a hard cut.
///
/// ```text
/// nodes·p0·s^(age − 1)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | p0 | `first` | chance of a bud of last year's wood: 0.3 after a hard cut on a strong tree, 0.05 otherwise | 1 |
/// | s | `survives` | buds that live on for another year: 0.5 willing, 0.2 shy, 0 on bare wood of pine, spruce, juniper | 1 |
///
/// **Holds** for wood with nodes. **Error** not known for bonsai. **Source** ours; half to nine tenths of an oak's buds die in their
/// second year (abstract read in the reference set). **Checked** `tests/growth.rs` (arithmetic only).
pub fn back_buds(wood: &[OldWood], first: f64, survives: f64) -> Vec<f64> {
    let buds = |row: &OldWood| f64::from(row.nodes) * first * survives.powi(row.age.max(1) as i32 - 1);
    wood.iter().map(buds).collect()
}

/// How a crown is cut year by year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ramifying {
    /// Shoots that a cut makes of one tip.
    pub shoots: f64,
    /// Flushes cut in a season.
    pub flushes: u32,
    /// Tips lost in a year, as a share.
    pub lost: f64,
}

/// Tips at the start and after each year.
///
/// ```text
/// tips(y + 1) = tips(y)·r^flushes·(1 − loss)
/// ```
///
/// **Holds** while light lets all tips live; r tends to 1 as a crown fills. **Error** not known. **Source** ours.
/// **Checked** `tests/growth.rs` (arithmetic only).
pub fn tips_by_year(start: f64, by: Ramifying, years: usize) -> Vec<f64> {
    let factor = by.shoots.powi(by.flushes as i32) * (1.0 - by.lost);
    std::iter::successors(Some(start), |tips| Some(tips * factor)).take(years + 1).collect()
}
