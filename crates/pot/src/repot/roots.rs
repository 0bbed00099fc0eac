//! How much root may go: the usual and the most for a taxon, and why today differs.

use measure::{
    quantity::Share,
    range::OutOfRange,
    sourced::{Sourced, Standing},
};

use super::{
    ROOT_WORK,
    insult::{Insult, Objection, Past, Strength, left, objections},
};

/// How old a tree is, as the trade counts it for repotting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Age {
    /// Growing on.
    Young,
    /// Refined.
    Middle,
    /// Old, or of long standing in its pot.
    Old,
}

/// Whether the roots may be washed or shaken bare.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bare {
    /// They may.
    Yes,
    /// In part.
    Partial,
    /// Never; halves by turns.
    No,
}

/// Root work of a taxon.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RootWork {
    /// Its key in the house's table of taxa.
    pub key: &'static str,
    /// Years between repots when young, refined, and old.
    pub interval: [u8; 3],
    /// Roots usually removed, %.
    pub typical: u8,
    /// Most that are removed, %.
    pub most: u8,
    /// Whether the roots may be bared.
    pub bare: Bare,
    /// How far to trust the row.
    pub standing: Standing,
}

impl RootWork {
    /// The row of a taxon.
    pub fn of(key: &str) -> Option<&'static RootWork> {
        ROOT_WORK.iter().find(|row| row.key == key)
    }
}

/// Usual and most of an old tree that is repotted every five years or less often.
pub const OLD: Sourced<[Share; 2]> =
    Sourced { value: [Share(0.20), Share(0.25)], standing: Standing::Practice };
/// Years between repots from which a tree counts as such.
pub const OLD_FROM: u8 = 5;

/// Why today's cut is not the usual one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// An old tree that is repotted seldom.
    OldTree,
    /// So much is left of the year's points.
    PointsLeft(f64),
    /// Not a major today: a major may not be done, and a cut of this size is none.
    NoMajorToday,
    /// Sick: rescue only.
    Sick,
    /// Never bare.
    NeverBare,
    /// Bare in part only.
    BareInPart,
}

impl Reason {
    /// Whether it sets how much may go. The others say how roots are handled, as [`Today::bare`] does too.
    ///
    /// ```
    /// use pot::repot::roots::Reason;
    ///
    /// assert!(Reason::OldTree.is_limit() && !Reason::NeverBare.is_limit());
    /// ```
    pub fn is_limit(&self) -> bool {
        !matches!(self, Reason::NeverBare | Reason::BareInPart)
    }
}

/// How much root may go today.
#[derive(Clone, Debug, PartialEq)]
pub struct Today {
    /// The taxon's usual cut.
    pub typical: Share,
    /// The taxon's most.
    pub most: Share,
    /// What to aim for today.
    pub advised: Share,
    /// The most today.
    pub limit: Share,
    /// Whether the roots may be bared today.
    pub bare: Bare,
    /// Why today differs: of the limits only those that bite, and how the roots are handled; [`Reason::is_limit`] tells them apart.
    pub reasons: Vec<Reason>,
}

/// How much root may go today, with the reasons where it is less than usual.
///
/// # Errors
///
/// [`OutOfRange`] when something in the book is not such.
///
/// # Example
///
/// ```
/// use pot::repot::{insult::Strength, roots::{Age, RootWork, today}};
///
/// let maple = RootWork::of("acer-palmatum").unwrap();
/// let told = today(maple, Age::Middle, Strength::Normal, &[])?;
/// assert_eq!([told.typical.0, told.most.0, told.advised.0], [0.35, 0.60, 0.35]);
/// assert_eq!(format!("{:.2}", told.limit.0), "0.53", "the year bears no more than 0.8 points");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn today(work: &RootWork, age: Age, strength: Strength, book: &[Past]) -> Result<Today, OutOfRange> {
    let [typical, most] = [work.typical, work.most].map(|percent| f64::from(percent) / 100.0);
    let (mut advised, mut limit, mut bare) = (typical, most, work.bare);
    let mut reasons = Vec::new();
    let [old_typical, old_most] = OLD.value;
    let is_old = age == Age::Old && work.interval[age as usize] >= OLD_FROM;
    if is_old {
        reasons.push(Reason::OldTree);
        (advised, limit, bare) = (advised.min(old_typical.0), limit.min(old_most.0), Bare::No);
    }
    if strength == Strength::Sick {
        reasons.push(Reason::Sick);
        limit = 0.0;
    }
    let points = left(strength, book)?.max(0.0);
    if points / PER_CUT < limit {
        reasons.push(Reason::PointsLeft(points));
        limit = points / PER_CUT;
    }
    let cut = Share((limit - 1e-9).clamp(0.0, 0.7));
    let against = objections(Insult::RepotFull { cut, bare: false }, strength, book)?;
    if against.iter().any(|objection| !matches!(objection, Objection::OverBudget { .. })) {
        reasons.push(Reason::NoMajorToday);
        limit = limit.min(MAJOR_FROM / PER_CUT - 0.01);
    }
    // What a narrower limit has overtaken does not bite.
    reasons.retain(|reason| match reason {
        Reason::OldTree => {
            (old_most.0 < most && old_most.0 <= limit) || (old_typical.0 < typical && advised <= limit)
        }
        Reason::PointsLeft(points) => points / PER_CUT <= limit,
        _ => true,
    });
    match bare {
        Bare::No => reasons.push(Reason::NeverBare),
        Bare::Partial => reasons.push(Reason::BareInPart),
        Bare::Yes => {}
    }
    let advised = advised.min(limit);
    Ok(Today {
        typical: Share(typical),
        most: Share(most),
        advised: Share(advised),
        limit: Share(limit),
        bare,
        reasons,
    })
}

/// Points for each share of the roots, and those from which a repot is a major.
const PER_CUT: f64 = 1.5;
const MAJOR_FROM: f64 = 0.4;

#[cfg(test)]
mod tests {
    use measure::quantity::Days;

    use super::*;

    fn told(key: &str, age: Age, strength: Strength, book: &[Past]) -> Today {
        today(RootWork::of(key).unwrap(), age, strength, book).unwrap()
    }

    #[test]
    fn a_strong_trident_may_lose_its_most_and_a_normal_one_may_not() {
        assert_eq!(told("acer-buergerianum", Age::Young, Strength::Strong, &[]).limit.0, 0.7);
        let normal = told("acer-buergerianum", Age::Young, Strength::Normal, &[]);
        assert!((normal.limit.0 - 0.8 / 1.5).abs() < 1e-12 && normal.reasons == [Reason::PointsLeft(0.8)]);
    }

    #[test]
    fn an_old_conifer_loses_little_and_is_never_bared() {
        let pine = told("pinus-parviflora", Age::Old, Strength::Normal, &[]);
        assert_eq!((pine.limit.0, pine.bare), (0.25, Bare::No));
        assert!(pine.reasons.contains(&Reason::OldTree));
    }

    #[test]
    fn weak_and_sick_trees_are_left_nearly_alone() {
        let weak = told("acer-palmatum", Age::Middle, Strength::Weak, &[]);
        assert!(weak.limit.0 < 0.17 && weak.advised.0 == weak.limit.0);
        let sick = told("acer-palmatum", Age::Middle, Strength::Sick, &[]);
        assert_eq!((sick.limit.0, sick.reasons[0]), (0.0, Reason::Sick));
    }

    #[test]
    fn after_a_major_only_a_small_cut_is_left() {
        let bent = [Past { insult: Insult::HeavyBend(1), ago: Days(60.0) }];
        let told = told("acer-palmatum", Age::Middle, Strength::Strong, &bent);
        assert!(told.reasons.contains(&Reason::NoMajorToday) && told.limit.0 < 0.27, "{told:?}");
    }

    #[test]
    fn only_limits_that_bite_are_told() {
        let limits = |key: &str, age, strength, book: &[Past]| -> Vec<Reason> {
            told(key, age, strength, book).reasons.into_iter().filter(Reason::is_limit).collect()
        };
        // 0.60 points are left, 40 % of the roots by them; but only 26 % are no major.
        let bent = [Past { insult: Insult::HeavyBend(1), ago: Days(60.0) }];
        assert_eq!(limits("acer-palmatum", Age::Middle, Strength::Strong, &bent), [Reason::NoMajorToday]);
        assert_eq!(limits("acer-palmatum", Age::Middle, Strength::Strong, &[]), []);
        assert_eq!(limits("acer-palmatum", Age::Middle, Strength::Normal, &[]), [Reason::PointsLeft(0.8)]);
        let weak = limits("pinus-parviflora", Age::Old, Strength::Weak, &[]);
        assert_eq!(weak, [Reason::PointsLeft(0.25)], "a sixth of the roots is less than an old tree's fifth");
        assert_eq!(limits("pinus-parviflora", Age::Old, Strength::Sick, &[]), [Reason::Sick]);
        assert_eq!(limits("pinus-parviflora", Age::Old, Strength::Normal, &[]), [Reason::OldTree]);
    }

    #[test]
    fn a_reason_told_is_one_without_which_more_might_go() {
        let books: [&[Past]; 3] = [
            &[],
            &[Past { insult: Insult::HeavyBend(1), ago: Days(60.0) }],
            &[Past { insult: Insult::Trim(Share(0.3)), ago: Days(30.0) }],
        ];
        for work in &ROOT_WORK {
            for age in [Age::Young, Age::Middle, Age::Old] {
                for strength in [Strength::Sick, Strength::Weak, Strength::Normal, Strength::Strong] {
                    for book in books {
                        let told = today(work, age, strength, book).unwrap();
                        let differs = told.limit < told.most || told.advised < told.typical;
                        assert_eq!(told.reasons.iter().any(Reason::is_limit), differs, "{work:?} {told:?}");
                        for reason in &told.reasons {
                            if let Reason::PointsLeft(points) = reason {
                                assert!(
                                    (points / PER_CUT - told.limit.0).abs() < 1e-12 && told.limit < told.most
                                );
                            }
                        }
                    }
                }
            }
        }
    }
}
