//! Whether a repot is due; whether the tree is ready for it is another question.

use measure::{
    quantity::Years,
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};

use super::roots::{Age, RootWork};
use crate::table::SizeClass;

/// A sign that a tree wants a new pot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sign {
    /// The last of three passes of water takes more than half a minute to drain.
    DrainsSlowly,
    /// Needs water twice a day for a week in mild weather.
    TwiceADay,
    /// Has lifted itself in the pot, or rocks.
    Rocks,
    /// Years since the last repot, against the interval of taxon and age.
    Years,
    /// Roots at the holes or round the surface.
    RootsSeen,
    /// The top two centimetres have crumbled to mud.
    Crumbled,
    /// Pot, front or angle must change for a show within two years.
    Show,
    /// Vigour falling for two seasons, and no pest.
    Falling,
}

/// What has been seen of a tree in its pot.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Seen {
    pub drains_slowly: bool,
    pub twice_a_day: bool,
    pub rocks: bool,
    pub roots: bool,
    pub crumbled: bool,
    pub show: bool,
    pub falling: bool,
    /// Since the last repot; none when nobody wrote it down.
    pub years: Option<Years>,
}

/// What the signs come to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Leave it.
    Leave,
    /// Watch it.
    Watch,
    /// Plan it.
    Plan,
}

/// Whether a repot is due, opened into its signs.
#[derive(Clone, Debug, PartialEq)]
pub struct Due {
    /// Each sign that speaks for it, with its points.
    pub signs: Vec<(Sign, u8)>,
    /// Their sum.
    pub points: u8,
    /// What they come to.
    pub verdict: Verdict,
    /// The interval that was reckoned with.
    pub interval: Years,
    /// Nobody wrote down the last repot: its points are wanting.
    pub years_unknown: bool,
}

/// What the points stand on.
pub const STANDING: Standing = Standing::Estimate("points made for planning; tune them on your own trees");
/// From how many points it is watched, and planned.
pub const FROM: Sourced<[u8; 2]> = Sourced { value: [4, 6], standing: STANDING };
/// Shares of the interval that earn a point each.
pub const SHARES: Sourced<[f64; 3]> = Sourced { value: [0.75, 1.0, 1.25], standing: STANDING };

impl Sign {
    /// Points of the sign; of the years, the most that they can come to.
    pub fn points(self) -> u8 {
        match self {
            Sign::DrainsSlowly | Sign::Years => 3,
            Sign::TwiceADay | Sign::Rocks | Sign::Show => 2,
            Sign::RootsSeen | Sign::Crumbled | Sign::Falling => 1,
        }
    }
}

/// Whether a repot is due.
///
/// # Errors
///
/// [`OutOfRange`] when the years since the last repot are not such.
///
/// # Example
///
/// ```
/// use measure::quantity::Years;
/// use pot::{repot::{due::{Seen, Verdict, due}, roots::{Age, RootWork}}, table::SizeClass};
///
/// let maple = RootWork::of("acer-palmatum").unwrap();
/// let seen = Seen { drains_slowly: true, roots: true, years: Some(Years(2.0)), ..Seen::default() };
/// let told = due(maple, Age::Middle, SizeClass::Kifu, &seen)?;
/// assert_eq!((told.points, told.verdict), (6, Verdict::Plan));
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn due(work: &RootWork, age: Age, size: SizeClass, seen: &Seen) -> Result<Due, OutOfRange> {
    let interval = interval(work, age, size);
    let years =
        seen.years.map(|years| within("years since the last repot", years.0, 0.0, 100.0)).transpose()?;
    let passed = |years: f64| SHARES.value.iter().filter(|share| years / interval.0 >= **share).count() as u8;
    let flags = [
        (Sign::DrainsSlowly, seen.drains_slowly),
        (Sign::TwiceADay, seen.twice_a_day),
        (Sign::Rocks, seen.rocks),
        (Sign::RootsSeen, seen.roots),
        (Sign::Crumbled, seen.crumbled),
        (Sign::Show, seen.show),
        (Sign::Falling, seen.falling),
    ];
    let mut signs: Vec<(Sign, u8)> =
        flags.into_iter().filter(|flag| flag.1).map(|(sign, _)| (sign, sign.points())).collect();
    signs.extend(years.map(|years| (Sign::Years, passed(years))).filter(|(_, points)| *points > 0));
    let points = signs.iter().map(|(_, points)| points).sum();
    let [watch, plan] = FROM.value;
    let verdict = match points {
        points if points >= plan => Verdict::Plan,
        points if points >= watch => Verdict::Watch,
        _ => Verdict::Leave,
    };
    Ok(Due { signs, points, verdict, interval, years_unknown: years.is_none() })
}

/// Years between repots; the smallest trees go by the next younger age.
pub fn interval(work: &RootWork, age: Age, size: SizeClass) -> Years {
    let step = if size == SizeClass::Mame { 1 } else { 0 };
    Years(f64::from(work.interval[(age as usize).saturating_sub(step)]))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(years: Option<f64>, seen: Seen) -> Due {
        let pine = RootWork::of("pinus-parviflora").unwrap();
        let seen = Seen { years: years.map(Years), ..seen };
        due(pine, Age::Middle, SizeClass::Chuhin, &seen).unwrap()
    }

    #[test]
    fn years_earn_up_to_three_points_by_their_share_of_the_interval() {
        let points = [2.9, 3.0, 4.0, 5.0, 30.0].map(|years| told(Some(years), Seen::default()).points);
        assert_eq!(points, [0, 1, 2, 3, 3], "an interval of 4 years");
    }

    #[test]
    fn four_points_watch_and_six_plan() {
        let slow = Seen { drains_slowly: true, ..Seen::default() };
        assert_eq!(told(None, slow).verdict, Verdict::Leave);
        assert_eq!(told(None, Seen { roots: true, ..slow }).verdict, Verdict::Watch);
        assert_eq!(told(None, Seen { roots: true, show: true, ..slow }).verdict, Verdict::Plan);
    }

    #[test]
    fn an_unwritten_repot_is_said_and_a_mame_comes_sooner() {
        assert!(told(None, Seen::default()).years_unknown);
        let pine = RootWork::of("pinus-parviflora").unwrap();
        let years = |age, size| interval(pine, age, size).0;
        assert_eq!(years(Age::Old, SizeClass::Mame), years(Age::Middle, SizeClass::Large));
        assert_eq!(years(Age::Young, SizeClass::Mame), years(Age::Young, SizeClass::Large));
    }

    #[test]
    fn years_that_are_none_are_refused() {
        let seen = Seen { years: Some(Years(-1.0)), ..Seen::default() };
        assert!(due(RootWork::of("acer-palmatum").unwrap(), Age::Old, SizeClass::Kifu, &seen).is_err());
    }
}
