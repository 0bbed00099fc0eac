//! One update over all looks of a collection: its place, each kind, each tree and each spring learn together.

use std::collections::HashMap;

use nalgebra::{Cholesky, DMatrix, DVector};

use crate::forecast::Pace;

/// Spreads of the levels, standard deviations of the logarithm of the need.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Levels {
    /// Between trees of one kind.
    pub tree: f64,
    /// Between springs, common to all trees.
    pub year: f64,
    /// Between springs of one kind beside that.
    pub kind_year: f64,
    /// Between springs of one tree beside that.
    pub tree_year: f64,
}

/// Trees in the ground: Harvard Forest (`truth.md` section 3).
pub const GROUND: Levels = Levels { tree: 0.07, year: 0.08, kind_year: 0.09, tree_year: 0.12 };

/// Trees in pots: between potted saplings of one kind 0.15 and 0.21 at two places; the rest as in the ground, untested in pots.
pub const POTS: Levels = Levels { tree: 0.18, ..GROUND };

/// What the looks of one tree in one season said of its pace, apart from what was thought before.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// The tree's place in [`Collection::kind_of`].
    pub tree: usize,
    /// How many springs ago; 0 is this one.
    pub years_ago: u32,
    /// Logarithm of its need over its kind's.
    pub residual: f64,
    /// How well that is known, standard deviation.
    pub sd: f64,
    /// Share of its certainty that age and repotting leave, from 0 to 1.
    pub weight: f64,
}

/// The trees and what is thought of them before any look.
#[derive(Clone, Copy, Debug)]
pub struct Collection<'a> {
    /// The pace that the place lends to all.
    pub site: Pace,
    /// Each kind's pace beside it.
    pub kinds: &'a [Pace],
    /// Each tree's kind, as a place in `kinds`.
    pub kind_of: &'a [usize],
}

/// What was learned.
#[derive(Clone, Debug, PartialEq)]
pub struct Learned {
    /// Each tree's pace this season, by everything but its own looks of this season.
    pub paces: Vec<Pace>,
    /// The pace that the place lends to all.
    pub site: Pace,
}

/// Rounds in which odd looks lose weight.
const ROUNDS: usize = 4;

/// Degrees of freedom of the noise of a look: a slip is rare and may be large.
const TAIL: f64 = 4.0;

/// Least standard deviation of a season's pace.
const LEAST: f64 = 1e-3;

/// One season of one tree: the unknowns it is a sum of, its value, the variance of its noise.
struct Row {
    at: Vec<usize>,
    value: f64,
    noise: f64,
}

/// The unknowns above the trees, with their priors.
struct Above {
    index: HashMap<(u8, usize, u32), usize>,
    prior: Vec<Pace>,
}

impl Above {
    fn put(&mut self, key: (u8, usize, u32), prior: Pace) -> usize {
        let next = self.prior.len();
        *self.index.entry(key).or_insert_with(|| {
            self.prior.push(prior);
            next
        })
    }
}

/// The keys of a season's unknowns: site, kind, spring, spring of the kind.
fn keys(kind: usize, years_ago: u32) -> [(u8, usize, u32); 4] {
    [(0, 0, 0), (1, kind, 0), (2, 0, years_ago), (3, kind, years_ago)]
}

/// The pace of each tree this season, told by everything but its own looks of this season.
///
/// ```text
/// θ(t,y) = site + kind(k) + tree(t) + year(y) + kind_year(k,y) + tree_year(t,y)
/// r = θ + noise,   all normal;   answer: θ(t, this season) given every r but the tree's own of this season
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | r, noise | `Seen::residual`, `Seen::sd` | what a season's looks said | log of need |
/// | site, kind | [`Collection`] | priors | log of need |
/// | tree … | [`Levels`] | spreads about 0 | log of need |
///
/// A season's variance, noise and `tree_year` together, is divided by its `weight`. Trees are summed out one by one, so the dense part
/// holds the place, the kinds and springs that were looked at, and no tree.
///
/// **Holds** for normal levels; a residual that is not a number, and a tree beyond the list, are passed over.
/// **Error** exact: within 1e-9 of the joint normal.
/// **Source** Gelman et al., Bayesian Data Analysis, hierarchical normal model; leaving rows out by the Woodbury identity.
/// **Checked** `tests/levels.rs`: the joint normal put together from its definition, numpy, and the sampler emcee.
///
/// # Example
///
/// ```
/// use dormancy::{forecast::Pace, learn::levels::{Collection, POTS, Seen, learn}};
///
/// let kinds = [Pace { mean: 0.0, sd: 0.3 }; 2];
/// let trees = Collection { site: Pace { mean: 0.0, sd: 0.2 }, kinds: &kinds, kind_of: &[0, 0, 1] };
/// let late = Seen { tree: 0, years_ago: 0, residual: 0.4, sd: 0.1, weight: 1.0 };
/// let told = learn(&POTS, &trees, &[late]).paces;
/// assert!(told[0].mean.abs() < 1e-9 && told[1].mean > told[2].mean && told[2].mean > 0.0);
/// ```
pub fn learn(levels: &Levels, of: &Collection<'_>, seen: &[Seen]) -> Learned {
    solve(levels, of, seen, &vec![1.0; seen.len()]).0
}

/// As [`learn`], but a season far from what all other trees lead to expect loses weight, as under Student's t of 4 degrees of freedom.
///
/// ```text
/// w = min(1, (4 + 1) / (4 + z²)),   z against what every tree but its own says, in four rounds
/// ```
///
/// **Holds** as [`learn`]; with one tree nothing else can call its looks strange.
/// **Error** a known fault: the weight of the round before widens the spread that z is measured by, so an absurd look keeps some weight. One
/// of 3 in the logarithm moves a place of twenty trees by 0.02, one of 10 by 0.07; measured by the look's own spread it would be 0.005 and 0.002.
/// **Source** iteratively reweighted least squares for t errors: Lange, Little & Taylor 1989.
/// **Checked** by own rules in `tests/levels.rs`.
pub fn learn_sturdy(levels: &Levels, of: &Collection<'_>, seen: &[Seen]) -> Learned {
    let mut weights = vec![1.0; seen.len()];
    for _ in 0..ROUNDS {
        let (_, strange) = solve(levels, of, seen, &weights);
        weights = strange.iter().map(|z| ((TAIL + 1.0) / (TAIL + z * z)).min(1.0)).collect();
    }
    solve(levels, of, seen, &weights).0
}

/// The answer, and for each season how strange it is beside what all other trees say.
fn solve(levels: &Levels, of: &Collection<'_>, seen: &[Seen], weights: &[f64]) -> (Learned, Vec<f64>) {
    let mut above = Above { index: HashMap::new(), prior: Vec::new() };
    let site = above.put((0, 0, 0), of.site);
    let priors = |kind: usize| {
        let spread = |sd| Pace { mean: 0.0, sd };
        [of.site, of.kinds[kind], spread(levels.year), spread(levels.kind_year)]
    };
    let is_known = |tree: usize| of.kind_of.get(tree).copied().filter(|kind| *kind < of.kinds.len());
    // Rows by tree: which of the seasons given, and the row itself; the last of a tree's are this season's.
    let mut rows: Vec<Vec<(usize, Row)>> = (0..of.kind_of.len()).map(|_| Vec::new()).collect();
    for (which, (it, sturdy)) in seen.iter().zip(weights).enumerate() {
        let Some(kind) = is_known(it.tree).filter(|_| it.residual.is_finite() && it.weight * sturdy > 1e-9)
        else {
            continue;
        };
        let sd = if it.sd.is_nan() { continue } else { it.sd.max(LEAST) };
        let at = keys(kind, it.years_ago)
            .into_iter()
            .zip(priors(kind))
            .map(|(key, prior)| above.put(key, prior))
            .collect();
        let noise = (sd * sd + levels.tree_year * levels.tree_year) / (it.weight.min(1.0) * sturdy);
        rows[it.tree].push((which, Row { at, value: it.residual, noise }));
    }
    let (middle, spread) = posterior(&above.prior, &rows, levels.tree);
    let mut strange = vec![0.0; seen.len()];
    let paces = of.kind_of.iter().enumerate().map(|(tree, &kind)| {
        if kind >= of.kinds.len() {
            return of.site;
        }
        let mut own = levels.tree_year * levels.tree_year;
        let mut mean = 0.0;
        let mut at = Vec::with_capacity(4);
        for (key, prior) in keys(kind, 0).into_iter().zip(priors(kind)) {
            match above.index.get(&key) {
                Some(&known) => at.push(known),
                None => {
                    own += prior.sd * prior.sd;
                    mean += prior.mean;
                }
            }
        }
        let group =
            Group { rows: &rows[tree], tree: levels.tree * levels.tree, middle: &middle, spread: &spread };
        let (pace, odd) = group.left_out(&at, mean, own, |which| seen[which].years_ago > 0);
        for ((which, _), z) in rows[tree].iter().zip(odd) {
            strange[*which] = z;
        }
        pace
    });
    let paces = paces.collect();
    let site = Pace { mean: middle[site], sd: spread[(site, site)].max(0.0).sqrt() };
    (Learned { paces, site }, strange)
}

/// Mean and covariance of the unknowns above the trees, trees summed out.
fn posterior(prior: &[Pace], rows: &[Vec<(usize, Row)>], tree: f64) -> (DVector<f64>, DMatrix<f64>) {
    let size = prior.len();
    let (mut normal, mut right) = (DMatrix::<f64>::zeros(size, size), DVector::<f64>::zeros(size));
    for (at, prior) in prior.iter().enumerate() {
        let certainty = 1.0 / prior.sd.max(LEAST).powi(2);
        normal[(at, at)] += certainty;
        right[at] += certainty * prior.mean;
    }
    for group in rows {
        // The inverse of diag(noise) + tree² · 11ᵀ (Sherman and Morrison).
        let total: f64 = group.iter().map(|(_, row)| 1.0 / row.noise).sum();
        let shared = tree * tree / (1.0 + tree * tree * total);
        for (i, (_, one)) in group.iter().enumerate() {
            for (j, (_, other)) in group.iter().enumerate() {
                let own = if i == j { 1.0 / one.noise } else { 0.0 };
                let weight = own - shared / (one.noise * other.noise);
                for &a in &one.at {
                    right[a] += weight * other.value;
                    for &b in &other.at {
                        normal[(a, b)] += weight;
                    }
                }
            }
        }
    }
    match Cholesky::new(normal) {
        Some(solved) => (solved.solve(&right), solved.inverse()),
        // Priors keep the matrix positive; if rounding breaks it, nothing was learned.
        None => (
            DVector::from_iterator(size, prior.iter().map(|it| it.mean)),
            DMatrix::from_diagonal(&DVector::from_iterator(size, prior.iter().map(|it| it.sd * it.sd))),
        ),
    }
}

/// The seasons of one tree beside what is known of everything above it.
struct Group<'a> {
    rows: &'a [(usize, Row)],
    /// Variance between trees.
    tree: f64,
    middle: &'a DVector<f64>,
    spread: &'a DMatrix<f64>,
}

impl Group<'_> {
    fn mean(&self, at: &[usize]) -> f64 {
        at.iter().map(|&a| self.middle[a]).sum()
    }

    fn covariance(&self, one: &[usize], other: &[usize]) -> f64 {
        one.iter().flat_map(|&a| other.iter().map(move |&b| self.spread[(a, b)])).sum()
    }

    /// The tree's pace by all other trees and by those of its own seasons that are kept, and how strange each of its seasons is beside the
    /// other trees.
    fn left_out(
        &self,
        target: &[usize],
        mean: f64,
        own: f64,
        is_kept: impl Fn(usize) -> bool,
    ) -> (Pace, Vec<f64>) {
        let count = self.rows.len();
        let all: Vec<&[usize]> = self.rows.iter().map(|(_, row)| &row.at[..]).chain([target]).collect();
        let mut middle = DVector::from_iterator(count + 1, all.iter().map(|at| self.mean(at)));
        let mut spread = DMatrix::from_fn(count + 1, count + 1, |a, b| self.covariance(all[a], all[b]));
        if count > 0 {
            // Take the tree's own rows out of what is known above it (Woodbury).
            let noise = DMatrix::from_fn(count, count, |a, b| {
                self.tree + if a == b { self.rows[a].1.noise } else { 0.0 } - spread[(a, b)]
            });
            let Some(solved) = noise.lu().try_inverse() else {
                return (Pace { mean, sd: own.sqrt() }, vec![0.0; count]);
            };
            let across = spread.columns(0, count).into_owned();
            let missed =
                DVector::from_iterator(count, (0..count).map(|at| self.rows[at].1.value - middle[at]));
            middle -= &across * &solved * missed;
            spread += &across * &solved * across.transpose();
        }
        let odd = (0..count).map(|at| {
            let variance = spread[(at, at)] + self.tree + self.rows[at].1.noise;
            (self.rows[at].1.value - middle[at]) / variance.max(1e-12).sqrt()
        });
        let odd: Vec<f64> = odd.collect();
        let kept: Vec<usize> = (0..count).filter(|&at| is_kept(self.rows[at].0)).collect();
        let (mut told, mut variance) = (mean + middle[count], own + self.tree + spread[(count, count)]);
        if !kept.is_empty() {
            let within = DMatrix::from_fn(kept.len(), kept.len(), |a, b| {
                let noise = if a == b { self.rows[kept[a]].1.noise } else { 0.0 };
                spread[(kept[a], kept[b])] + self.tree + noise
            });
            let across =
                DVector::from_iterator(kept.len(), kept.iter().map(|&at| spread[(at, count)] + self.tree));
            let missed =
                DVector::from_iterator(kept.len(), kept.iter().map(|&at| self.rows[at].1.value - middle[at]));
            if let Some(solved) = Cholesky::new(within) {
                told += across.dot(&solved.solve(&missed));
                variance -= across.dot(&solved.solve(&across));
            }
        }
        (Pace { mean: told, sd: variance.max(LEAST * LEAST).sqrt() }, odd)
    }
}
