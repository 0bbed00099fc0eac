//! What a grower likes, learned from choices between two pots: how much each part of the colour counts.

use measure::sourced::{Sourced, Standing};
use nalgebra::{SMatrix, SVector};

use super::score::{Part, Score, Weights};

type Vector = SVector<f64, 5>;
type Square = SMatrix<f64, 5, 5>;

/// Two glazes held against one tree, part by part, of which the first was liked better.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Choice {
    /// The parts of the one that was liked, in the order of [`Part::ALL`].
    pub liked: [Option<f64>; 5],
    /// The parts of the other.
    pub over: [Option<f64>; 5],
}

impl Choice {
    /// The choice of one glaze over another, both scored against the same tree.
    pub fn between(liked: &Score, over: &Score) -> Choice {
        Choice { liked: parts(liked), over: parts(over) }
    }

    /// What the liked one has more of; nothing of a part that does not apply to both.
    fn difference(&self) -> [f64; 5] {
        std::array::from_fn(|at| self.liked[at].zip(self.over[at]).map_or(0.0, |(liked, over)| liked - over))
    }
}

/// Each part over all the colours of the tree, by their shares; none where it applies to none of them.
pub fn parts(score: &Score) -> [Option<f64>; 5] {
    std::array::from_fn(|at| {
        let told = || score.beside.iter().filter_map(|one| Some((one.share, one.parts[at]?)));
        let whole: f64 = told().map(|(share, _)| share).sum();
        let sum: f64 = told().map(|(share, part)| share * part).sum();
        (whole > 0.0).then(|| sum / whole)
    })
}

/// How strongly the weights are held to equal ones: as strongly as some dozen choices pull.
pub const RIDGE: Sourced<f64> =
    Sourced { value: 4.0, standing: Standing::Estimate("a choice of ours: a dozen choices weigh as much") };

/// Under so many choices the weights barely move.
pub const FEW: usize = 8;

/// What was learned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taste {
    /// How much each part counts; 1 is as before, and all together are 5.
    pub weights: Weights,
    /// How far each may be off (standard deviation), in the order of [`Part::ALL`].
    pub spread: [f64; 5],
    /// From so many choices.
    pub choices: usize,
}

impl Taste {
    /// Fewer than [`FEW`] choices: the weights barely move yet.
    pub fn barely_moves(&self) -> bool {
        self.choices < FEW
    }

    /// What is learned of each part, in the order of [`Part::ALL`].
    pub fn told(&self) -> [(Part, f64, f64); 5] {
        std::array::from_fn(|at| (Part::ALL[at], self.weights.0[at], self.spread[at]))
    }
}

/// How much each part of the colour counts for this grower: by [`weigh`] around equal weights, then set so that all together are 5.
///
/// ```
/// use pot::colour::taste::{Choice, taste};
///
/// // Six times the pot was liked that answers in hue, though it was the less quiet one.
/// let choice = Choice {
///     liked: [Some(0.8), Some(1.0), Some(0.4), Some(0.9), Some(0.5)],
///     over: [Some(0.8), Some(0.4), Some(0.9), Some(0.9), Some(0.5)],
/// };
/// let told = taste(&[choice; 6]);
/// assert!(told.weights.0[1] > 1.0 && told.weights.0[2] < 1.0 && told.barely_moves());
/// assert_eq!(taste(&[]).weights.0, [1.0; 5]);
/// ```
pub fn taste(choices: &[Choice]) -> Taste {
    let differences: Vec<[f64; 5]> = choices.iter().map(Choice::difference).collect();
    let fitted = weigh(&differences, 1.0, RIDGE.value);
    let whole: f64 = fitted.weights.iter().sum();
    // Should every part be disliked there is nothing to set in proportion: equal weights stand.
    let (weights, by) = if whole > 1e-6 { (fitted.weights, 5.0 / whole) } else { ([1.0; 5], 1.0) };
    Taste {
        weights: Weights(weights.map(|weight| weight * by)),
        spread: fitted.spread.map(|spread| spread * by),
        choices: choices.len(),
    }
}

/// Weights as they were fitted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fitted {
    /// The weights.
    pub weights: [f64; 5],
    /// Their standard deviations; 0 for one that is held at 0.
    pub spread: [f64; 5],
    /// What was brought down as far as it goes.
    pub loss: f64,
}

/// The weights that best tell which of two glazes was liked: a logistic on the differences of their parts, held to one centre.
///
/// ```text
/// min Σ_i ln(1 + exp(−w·x_i)) + λ/2·Σ_k (w_k − c)²,   w_k ≥ 0
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | x | `differences` | parts of the liked glaze less those of the other | 1 |
/// | w | [`Fitted::weights`] | how much each part counts | 1 |
/// | λ, c | `ridge`, `centre` | how strongly the weights are held, and to what | 1 |
///
/// The least is found by Newton's steps for each set of weights that may be held at 0; of 32 such sets the best counts. Nothing is
/// drawn by chance.
///
/// **Holds** for choices that do not hang together. **Error** [`Fitted::spread`], from the curvature at the least. **Source**
/// logistic regression with a ridge, textbook; the use of it here and the ridge are ours. **Checked** `tests/taste.rs`.
///
/// # Example
///
/// ```
/// use pot::colour::taste::weigh;
///
/// let told = weigh(&[[0.5, 0.0, -0.2, 0.0, 0.1]; 3], 1.0, 4.0);
/// assert_eq!(told.weights.map(|weight| format!("{weight:.2}")), ["1.14", "1.00", "0.94", "1.00", "1.03"]);
/// ```
pub fn weigh(differences: &[[f64; 5]], centre: f64, ridge: f64) -> Fitted {
    let rows: Vec<Vector> = differences.iter().map(|row| Vector::from_row_slice(row)).collect();
    let ridge = ridge.max(1e-9);
    let mut best: Option<Fitted> = None;
    for set in 0..32_u32 {
        let free: [bool; 5] = std::array::from_fn(|at| set >> at & 1 == 0);
        let told = newton(&rows, centre, ridge, free);
        let is_allowed = told.weights.iter().all(|weight| *weight >= 0.0);
        if is_allowed && best.is_none_or(|best| told.loss < best.loss) {
            best = Some(told);
        }
    }
    best.expect("with every weight held at 0 the set is allowed")
}

/// Most steps; a handful is usual.
const STEPS: usize = 200;

fn newton(rows: &[Vector], centre: f64, ridge: f64, free: [bool; 5]) -> Fitted {
    let mut weights = Vector::from_fn(|at, _| if free[at] { centre } else { 0.0 });
    let mut loss = loss_of(rows, &weights, centre, ridge);
    for _ in 0..STEPS {
        let (slope, curve) = slopes(rows, &weights, centre, ridge, free);
        let step = curve.cholesky().map(|it| it.solve(&slope)).unwrap_or_default();
        let mut along = 1.0;
        let (next, less) = loop {
            let next = weights - step * along;
            let less = loss_of(rows, &next, centre, ridge);
            if less <= loss || along < 1e-12 {
                break (next, less);
            }
            along /= 2.0;
        };
        let moved = (next - weights).amax();
        (weights, loss) = (next, less.min(loss));
        if moved < 1e-13 {
            break;
        }
    }
    let (_, curve) = slopes(rows, &weights, centre, ridge, free);
    let inverse = curve.try_inverse().unwrap_or_default();
    Fitted {
        weights: std::array::from_fn(|at| weights[at]),
        spread: std::array::from_fn(|at| if free[at] { inverse[(at, at)].sqrt() } else { 0.0 }),
        loss,
    }
}

fn loss_of(rows: &[Vector], weights: &Vector, centre: f64, ridge: f64) -> f64 {
    let held: f64 = weights.iter().map(|weight| (weight - centre).powi(2)).sum();
    let told: f64 = rows.iter().map(|row| soft(-weights.dot(row))).sum();
    told + ridge / 2.0 * held
}

/// ln(1 + exp(z)) without overflow.
fn soft(z: f64) -> f64 {
    z.max(0.0) + (-z.abs()).exp().ln_1p()
}

/// Slope and curvature; those held at 0 neither slope nor lean on the rest.
fn slopes(rows: &[Vector], weights: &Vector, centre: f64, ridge: f64, free: [bool; 5]) -> (Vector, Square) {
    let mut slope = Vector::from_fn(|at, _| ridge * (weights[at] - centre));
    let mut curve = Square::identity() * ridge;
    for row in rows {
        let wrong = 1.0 / (1.0 + weights.dot(row).exp());
        slope -= row * wrong;
        curve += row * row.transpose() * (wrong * (1.0 - wrong));
    }
    for at in (0..5).filter(|at| !free[*at]) {
        slope[at] = 0.0;
        for other in 0..5 {
            let own = if at == other { 1.0 } else { 0.0 };
            (curve[(at, other)], curve[(other, at)]) = (own, own);
        }
    }
    (slope, curve)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::{
        score::{Manner, Season, Target, glaze},
        space::Lab,
    };

    #[test]
    fn a_part_that_is_always_against_the_choice_ends_at_nothing_not_below() {
        let row = [0.3, 0.0, -0.9, 0.0, 0.0];
        let told = weigh(&[row; 200], 1.0, 1.0);
        assert_eq!((told.weights[2], told.spread[2]), (0.0, 0.0));
        assert!(told.weights[0] > 1.0 && told.weights[1] == 1.0);
    }

    #[test]
    fn the_more_choices_the_further_and_the_surer() {
        let choice = Choice {
            liked: [Some(0.5), Some(0.9), None, Some(0.5), Some(0.5)],
            over: [Some(0.5), Some(0.4), Some(1.0), Some(0.5), Some(0.5)],
        };
        let of = |count: usize| taste(&vec![choice; count]);
        let hue: Vec<f64> = [0, 4, 20, 60].map(|count| of(count).weights.0[1]).to_vec();
        assert!(hue.is_sorted_by(|a, b| a < b), "{hue:?}");
        assert!(hue[1] < 1.2 && of(4).barely_moves() && !of(8).barely_moves());
        let sum: f64 = of(20).weights.0.iter().sum();
        assert!((sum - 5.0).abs() < 1e-12 && of(60).spread[1] < of(4).spread[1] * hue[3]);
        assert_eq!(of(20), of(20), "nothing is drawn by chance");
    }

    #[test]
    fn a_part_that_one_of_the_two_lacks_teaches_nothing() {
        let choice = Choice { liked: [None; 5], over: [Some(1.0); 5] };
        assert_eq!(taste(&[choice; 30]).weights.0, [1.0; 5]);
    }

    #[test]
    fn parts_of_a_tree_are_the_mean_over_its_colours() {
        let target = |season, l, a, b| Target { season, colour: Lab { l, a, b } };
        let tree = [target(Season::Bark, 51.0, 3.0, 12.0), target(Season::Autumn, 40.0, 50.0, 34.0)];
        let quiet = Manner { light_pot_may_rise: false };
        let told = glaze(Lab { l: 71.0, a: -17.0, b: 6.0 }, &tree, quiet, Weights::default()).unwrap();
        let mean = parts(&told);
        let by_hand: f64 = told.beside.iter().map(|one| one.share * one.parts[0].unwrap()).sum();
        assert!((mean[0].unwrap() - by_hand).abs() < 1e-12);
        assert_eq!(mean[1], told.beside[1].parts[1], "only the autumn is judged by its hue");
        assert_eq!(mean[3], None, "no leaf, so no crown to be lighter than");
    }
}
