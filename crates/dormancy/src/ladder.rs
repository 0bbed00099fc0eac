//! How much of the heat to bud break each stage takes.

use measure::stage::Stage;

/// Share of the heat to the first green tip at which each stage is passed.
///
/// Our own estimate, made for planning: the order is certain, the shares are not; a grower's looks move them.
pub const LADDER: [(Stage, f64); 8] = [
    (Stage::Swelling, 0.62),
    (Stage::Full, 0.82),
    (Stage::Breaking, 1.0),
    (Stage::GreenTip, 1.1),
    (Stage::Separating, 1.18),
    (Stage::Unfolded, 1.32),
    (Stage::SeveralUnfolded, 1.6),
    (Stage::Grown, 2.3),
];

/// The share for a stage; 0 for dormant buds.
///
/// ```
/// use dormancy::ladder::share;
/// use measure::stage::Stage;
///
/// assert_eq!(share(Stage::Breaking), 1.0);
/// ```
pub fn share(stage: Stage) -> f64 {
    match stage.rank() {
        0 => 0.0,
        rank => LADDER[rank - 1].1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_rise_with_the_stages() {
        assert!(LADDER.windows(2).all(|pair| pair[0].1 < pair[1].1 && pair[0].0 < pair[1].0));
    }
}
