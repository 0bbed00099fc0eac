//! What can be wrong with weighings, beside a figure out of its span.

use measure::range::OutOfRange;

/// Why weighings tell nothing.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// A figure is not that of a mix or a vessel.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Two weighings stand the wrong way round.
    #[error(
        "{lighter} weighs {lighter_grams} g and {heavier} weighs {heavier_grams} g; the second must be the heavier"
    )]
    WrongWayRound {
        /// What must be lighter.
        lighter: &'static str,
        /// Its weight, g.
        lighter_grams: f64,
        /// What must be heavier.
        heavier: &'static str,
        /// Its weight, g.
        heavier_grams: f64,
    },
    /// No draw of the gaps fits: the drained mix holds as little as its grains alone, or as much as when flooded.
    #[error(
        "the drained mix holds {capacity} of its volume, which must lie between {low} (grains alone) and {high} (flooded)"
    )]
    NoCurve {
        /// Water held after draining, share.
        capacity: f64,
        /// What the grains hold alone at this depth, share.
        low: f64,
        /// What the flooded mix holds, share.
        high: f64,
    },
}
