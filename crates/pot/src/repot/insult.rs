//! What work and bad luck cost a tree, and what it can still bear this year.

use measure::{
    quantity::{Days, Share, Weeks},
    range::{OutOfRange, within},
    sourced::Standing,
};

/// How strong a tree is, judged by two checks that agree, else by the lower.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strength {
    /// Twigs dying back, or a pest or rot not under control.
    Sick,
    /// Last flush under half its own mean.
    Weak,
    /// Last flush within a fifth of its own mean.
    Normal,
    /// Last flush longer than its own mean.
    Strong,
}

/// What a tree of that strength can bear in twelve months.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Budget {
    /// How strong.
    pub strength: Strength,
    /// Points in twelve months.
    pub points: f64,
    /// Majors in twelve months.
    pub majors: u8,
    /// Between two majors; none where there is no major at all.
    pub gap: Option<Weeks>,
    /// How far to trust the row.
    pub standing: Standing,
}

/// What the points stand on.
pub const STANDING: Standing =
    Standing::Estimate("one major insult a year, none on a weak tree, put in numbers for planning");

const fn b(strength: Strength, points: f64, majors: u8, gap: Option<Weeks>) -> Budget {
    Budget { strength, points, majors, gap, standing: STANDING }
}

/// One row per [`Strength`], in its order.
pub const BUDGETS: [Budget; 4] = [
    b(Strength::Sick, 0.0, 0, None),
    b(Strength::Weak, 0.25, 0, None),
    b(Strength::Normal, 0.8, 1, Some(Weeks(20.0))),
    b(Strength::Strong, 1.2, 1, Some(Weeks(16.0))),
];

impl Strength {
    /// What it can bear.
    pub fn budget(self) -> &'static Budget {
        &BUDGETS[self as usize]
    }
}

/// Which part of the tree is hurt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Part {
    Root,
    Branch,
    Foliage,
    None,
}

/// Work or bad luck that costs a tree strength.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Insult {
    /// Roots cut and raked out; wholly bare or not.
    RepotFull {
        /// Share of the roots removed.
        cut: Share,
        /// Washed or shaken bare.
        bare: bool,
    },
    /// Edge and bottom only, up to a fifth.
    RepotLight {
        /// Share of the roots removed.
        cut: Share,
    },
    /// Into a larger pot, no root cut.
    SlipPot,
    /// Wood with leaves cut off.
    HardPrune(Share),
    /// Twigs shortened.
    Trim(Share),
    /// Tips pinched.
    Pinch,
    /// Every leaf taken.
    DefoliateFull,
    /// So much of the leaf taken.
    DefoliatePartial(Share),
    /// Candles taken.
    Decandle,
    /// So many branches wired into structure.
    WireStructural(u16),
    /// Fine twigs wired.
    WireDetail,
    /// So many major limbs bent hard.
    HeavyBend(u16),
    /// Dead wood carved, or a live edge opened.
    Carve {
        /// A live edge was opened.
        live_edge: bool,
    },
    /// An air layer set on a branch.
    LayerOn,
    /// An air layer taken off: what it costs the parent.
    LayerOffParent,
    /// An air layer taken off: what it costs the new tree.
    LayerOffNew,
    /// Collected.
    Collect,
    /// A graft to mend a gap.
    RepairGraft,
    /// So much of the leaf lost to a pest.
    Pest(Share),
    /// Wilted, or leaves crisp.
    Drought {
        /// Leaves went crisp.
        crisp: bool,
    },
    /// Leaves lost to frost, or roots thought hurt.
    Frost {
        /// Roots are thought hurt.
        roots: bool,
    },
    /// So many weeks indoors at a show.
    Show(u16),
}

impl Insult {
    /// Which part it hurts.
    pub fn part(self) -> Part {
        match self {
            Insult::RepotFull { .. }
            | Insult::RepotLight { .. }
            | Insult::SlipPot
            | Insult::LayerOffParent
            | Insult::LayerOffNew
            | Insult::Collect
            | Insult::Drought { .. } => Part::Root,
            Insult::HardPrune(_)
            | Insult::Trim(_)
            | Insult::WireStructural(_)
            | Insult::WireDetail
            | Insult::HeavyBend(_)
            | Insult::Carve { .. }
            | Insult::LayerOn
            | Insult::RepairGraft => Part::Branch,
            Insult::Pinch
            | Insult::DefoliateFull
            | Insult::DefoliatePartial(_)
            | Insult::Decandle
            | Insult::Pest(_)
            | Insult::Frost { .. } => Part::Foliage,
            Insult::Show(_) => Part::None,
        }
    }

    /// What it costs.
    ///
    /// ```text
    /// repot 1.5·cut (+0.2 bare), light 1.0·cut, hard prune 1.2·f, trim 0.2·f, leaves 0.6·f, wire 0.15 + 0.02·(n − 10) ≤ 0.4
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | cut, f | shares of the variants | roots, wood or leaf removed | 1 |
    /// | n | branches wired | over ten cost more | 1 |
    /// | | returned | points | 1 |
    ///
    /// **Holds** for cuts that a tree survives: of the roots up to 0.7, in a light repot 0.2. **Error** unknown. **Source** an
    /// estimate of the reference set for planning. **Checked** `tests/repot.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a share is not within what the rule was made for.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::Share;
    /// use pot::repot::insult::Insult;
    ///
    /// let repot = Insult::RepotFull { cut: Share(0.35), bare: false };
    /// assert_eq!(format!("{:.3}", repot.points()?), "0.525");
    /// assert!(repot.is_major()?);
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn points(self) -> Result<f64, OutOfRange> {
        let whole = |share: Share| within("share removed", share.0, 0.0, 1.0);
        Ok(match self {
            Insult::RepotFull { cut, bare } => {
                let cut = within("share of the roots cut", cut.0, 0.0, 0.7)?;
                1.5 * cut + if bare { 0.2 } else { 0.0 }
            }
            Insult::RepotLight { cut } => within("share of the roots cut lightly", cut.0, 0.0, 0.2)?,
            Insult::SlipPot | Insult::Pinch | Insult::WireDetail => 0.05,
            Insult::HardPrune(share) => 1.2 * whole(share)?,
            Insult::Trim(share) => 0.2 * whole(share)?,
            Insult::DefoliateFull => 0.6,
            Insult::DefoliatePartial(share) => 0.6 * whole(share)?,
            Insult::Decandle => 0.5,
            Insult::WireStructural(branches) => {
                (0.15 + 0.02 * f64::from(branches.saturating_sub(10))).min(0.4)
            }
            Insult::HeavyBend(limbs) => 0.4 * f64::from(limbs),
            Insult::Carve { live_edge } => {
                if live_edge {
                    0.4
                } else {
                    0.1
                }
            }
            Insult::LayerOn => 0.3,
            Insult::LayerOffParent | Insult::RepairGraft => 0.2,
            Insult::LayerOffNew => 0.8,
            Insult::Collect => 1.0,
            Insult::Pest(share) => 0.2 + 0.4 * whole(share)?,
            Insult::Drought { crisp } => {
                if crisp {
                    0.6
                } else {
                    0.2
                }
            }
            Insult::Frost { roots } => {
                if roots {
                    0.6
                } else {
                    0.3
                }
            }
            Insult::Show(weeks) => 0.1 * f64::from(weeks),
        })
    }

    /// Whether it is one of the year's majors.
    ///
    /// # Errors
    ///
    /// As [`Insult::points`].
    pub fn is_major(self) -> Result<bool, OutOfRange> {
        let points = self.points()?;
        Ok(match self {
            Insult::RepotFull { .. } | Insult::Pest(_) | Insult::Frost { .. } => points >= 0.4,
            Insult::HardPrune(_) | Insult::WireStructural(_) => points >= 0.35,
            Insult::DefoliatePartial(share) => share.0 > 0.6,
            Insult::DefoliateFull
            | Insult::Decandle
            | Insult::HeavyBend(_)
            | Insult::LayerOffNew
            | Insult::Collect => true,
            Insult::Carve { live_edge } => live_edge,
            Insult::Drought { crisp } => crisp,
            _ => false,
        })
    }
}

/// Something in the tree's book: what, and how long ago.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Past {
    /// What.
    pub insult: Insult,
    /// How long ago.
    pub ago: Days,
}

/// Why a tree should not bear it now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Objection {
    /// More than is left of the twelve months' points.
    OverBudget {
        /// What it costs.
        costs: f64,
        /// What is left.
        left: f64,
    },
    /// No major at that strength.
    NoMajors(Strength),
    /// The year's majors are spent.
    MajorsSpent,
    /// Too soon after the last major.
    TooSoon {
        /// Time to wait.
        wait: Days,
    },
}

/// Days that count against the year's points.
const YEAR: f64 = 365.25;

/// What is left of the twelve months' points; below 0 when more was spent than the tree could bear.
///
/// # Errors
///
/// As [`Insult::points`].
pub fn left(strength: Strength, book: &[Past]) -> Result<f64, OutOfRange> {
    let mut left = strength.budget().points;
    for past in book.iter().filter(|past| past.ago.0 < YEAR) {
        left -= past.insult.points()?;
    }
    Ok(left)
}

/// Everything that speaks against doing it now; empty when nothing does.
///
/// # Errors
///
/// As [`Insult::points`].
///
/// # Example
///
/// ```
/// use measure::quantity::{Days, Share};
/// use pot::repot::insult::{Insult, Objection, Past, Strength, objections};
///
/// let repot = Past { insult: Insult::RepotFull { cut: Share(0.35), bare: false }, ago: Days(80.0) };
/// let leaves = Insult::DefoliatePartial(Share(0.5));
/// let told = objections(leaves, Strength::Normal, &[repot])?;
/// assert!(matches!(told[..], [Objection::OverBudget { .. }]), "0.30 of the 0.27 that are left");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn objections(planned: Insult, strength: Strength, book: &[Past]) -> Result<Vec<Objection>, OutOfRange> {
    let (budget, costs) = (strength.budget(), planned.points()?);
    let left = left(strength, book)?;
    let mut found = Vec::new();
    if costs > left + 1e-9 {
        found.push(Objection::OverBudget { costs, left });
    }
    if !planned.is_major()? {
        return Ok(found);
    }
    let Some(gap) = budget.gap else {
        found.push(Objection::NoMajors(strength));
        return Ok(found);
    };
    let mut majors = Vec::new();
    for past in book {
        if past.insult.is_major()? {
            majors.push(past.ago.0);
        }
    }
    if majors.iter().filter(|ago| **ago < YEAR).count() >= usize::from(budget.majors) {
        found.push(Objection::MajorsSpent);
    }
    let wait = 7.0 * gap.0 - majors.iter().copied().fold(f64::INFINITY, f64::min);
    if wait > 0.0 {
        found.push(Objection::TooSoon { wait: Days(wait) });
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn budgets_stand_in_the_order_of_strength() {
        assert!(BUDGETS.iter().enumerate().all(|(at, row)| row.strength as usize == at));
    }

    #[test]
    fn a_second_major_waits_for_its_year_and_a_weak_tree_bears_none() {
        let bend = Insult::HeavyBend(1);
        let repot =
            |days| [Past { insult: Insult::RepotFull { cut: Share(0.3), bare: false }, ago: Days(days) }];
        let told = objections(bend, Strength::Strong, &repot(100.0)).unwrap();
        assert_eq!(told, [Objection::MajorsSpent, Objection::TooSoon { wait: Days(12.0) }]);
        assert_eq!(objections(bend, Strength::Strong, &repot(400.0)).unwrap(), []);
        let weak = objections(bend, Strength::Weak, &[]).unwrap();
        assert!(matches!(weak[..], [Objection::OverBudget { .. }, Objection::NoMajors(Strength::Weak)]));
    }
}
