//! Where the stages of spring lie on the way: shares of the need before the buds break, heat added after.

use measure::stage::Stage;

/// Where one stage is passed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rung {
    /// The stage.
    pub stage: Stage,
    /// Share of the tree's need, up to 1 at first broken buds.
    pub share: f64,
    /// Heat added after broken buds as a share of the taxon's need: about as many degree-days for early kinds as for late ones.
    pub added: f64,
    /// Spread of the share or of what is added between trees and springs, logarithm.
    pub sd: f64,
}

/// Where all stages after hard buds lie for one taxon.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rungs(pub [Rung; 8]);

/// Heat from first broken buds to each later stage, degree-days, and its spread: to flat blades 105 and 110 in cool and warm chambers,
/// to leaves of three quarters of their size 260 at Harvard Forest (`truth.md` section 3); between them by even steps.
pub const ADDED: [(Stage, f64, f64); 5] = [
    (Stage::GreenTip, 28.0, 0.6),
    (Stage::Separating, 62.0, 0.5),
    (Stage::Unfolded, 108.0, 0.4),
    (Stage::SeveralUnfolded, 175.0, 0.35),
    (Stage::Grown, 330.0, 0.3),
];

impl Rungs {
    /// The rungs of a taxon of this need whose buds swell and are full at these shares of it.
    ///
    /// ```
    /// use dormancy::ladder::Rungs;
    /// use measure::stage::Stage;
    ///
    /// let rungs = Rungs::new(270.0, 0.5, 0.73, 0.2);
    /// assert_eq!(rungs.edge(Stage::Breaking), 1.0);
    /// assert!(rungs.edge(Stage::Unfolded) > 1.3 && rungs.edge(Stage::Dormant) == 0.0);
    /// ```
    pub fn new(need: f64, swelling: f64, full: f64, sd: f64) -> Rungs {
        let before = |stage, share, sd| Rung { stage, share, added: 0.0, sd };
        let after = ADDED.map(|(stage, heat, sd)| Rung { stage, share: 1.0, added: heat / need, sd });
        Rungs([
            before(Stage::Swelling, swelling, 1.4 * sd),
            before(Stage::Full, full, sd),
            before(Stage::Breaking, 1.0, 0.0),
            after[0],
            after[1],
            after[2],
            after[3],
            after[4],
        ])
    }

    /// The rung of a stage; none for hard buds.
    pub fn of(&self, stage: Stage) -> Option<&Rung> {
        stage.rank().checked_sub(1).and_then(|at| self.0.get(at))
    }

    /// Progress at which a middling tree passes a stage; 0 for hard buds.
    pub fn edge(&self, stage: Stage) -> f64 {
        self.of(stage).map_or(0.0, |rung| rung.share + rung.added)
    }
}

/// The rungs of a middling kind: what a page draws where no taxon is meant.
pub const MIDDLING: f64 = 270.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn edges_rise_with_the_stages_for_early_and_late_kinds() {
        for need in [90.0, 270.0, 700.0] {
            let rungs = Rungs::new(need, 0.5, 0.73, 0.2);
            assert!(rungs.0.windows(2).all(|pair| pair[0].stage < pair[1].stage));
            assert!(Stage::ALL.windows(2).all(|pair| rungs.edge(pair[0]) < rungs.edge(pair[1])), "{need}");
        }
    }
}
