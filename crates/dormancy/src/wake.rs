//! A taxon's way from cold to green: how its need is set, and the course of one season against that need.

use measure::sourced::{Sourced, Standing};

use crate::{forecast::Course, table::Figures};

/// How a taxon wakes: warmth counts fully only when the cold it needs has been received.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wake {
    /// Day number from which warmth counts: autumn warmth moves no bud.
    pub start: i32,
    /// Daily means above this temperature count as warmth, °C.
    pub base: f64,
    /// Warmth to the first green tip, degree-days above the base.
    pub need: f64,
    /// Chilling hours after which warmth counts in full.
    pub cold: f64,
    /// Exponent on day length over 14 hours; 0 where day length does not matter.
    pub light: f64,
}

/// Day number from which warmth counts: autumn warmth moves no bud. Our estimate.
pub const START: i32 = -15;

/// Share of warmth that counts before any cold has been received; our estimate.
const FLOOR: f64 = 0.1;

/// Day length at which a long-day tree keeps the pace of its need, hours; our estimate.
const LONG_DAY: f64 = 14.0;

/// Where the figures of [`Wake::of`] come from.
const BASIS: Standing = Standing::Estimate(
    "warmth from the taxon's place in the order of waking; cold from its planning figure; not fitted to pots",
);

impl Wake {
    /// The planning figures of a taxon, to be moved by the grower's own looks.
    ///
    /// ```
    /// use dormancy::{table::Figures, wake::Wake};
    ///
    /// let quince = Wake::of(Figures::of("chaenomeles-speciosa").unwrap()).value;
    /// let elm = Wake::of(Figures::of("zelkova-serrata").unwrap()).value;
    /// assert!(quince.need < elm.need);
    /// ```
    pub fn of(figures: &Figures) -> Sourced<Wake> {
        let wake = Wake {
            start: START,
            base: 4.0,
            need: 65.0 + 2.3 * f64::from(figures.order),
            cold: figures.cold.value,
            light: if figures.long_days { 2.0 } else { 0.0 },
        };
        Sourced { value: wake, standing: BASIS }
    }
}

/// One day as a bud feels it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BudDay {
    /// Mean temperature, °C.
    pub mean: f64,
    /// Chilling hours received that day.
    pub cold: f64,
    /// Hours of light, sky or lamp.
    pub light: f64,
}

/// The course of one season for one taxon, from the first day given.
///
/// ```text
/// K(d) = 0.1 + 0.9 · min(1, cold(d) / cold needed)
/// progress(d) = Σ K · max(T − base, 0) · (light / 14)^k / need,   summed from day `start`
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | T | `BudDay::mean` | daily mean temperature | °C |
/// | cold | `BudDay::cold`, summed | chilling hours so far | h |
/// | k | `Wake::light` | exponent on day length | – |
///
/// **Holds** for daily means of open air, rooms and frames alike.
/// **Error** not known for trees in pots.
/// **Source** parallel model after Landsberg 1974 and Hänninen 1990; day length after Blümel and Chmielewski 2012.
/// **Checked** nothing yet for this combination; its parts in `tests/phenology.rs`.
///
/// # Example
///
/// ```
/// use dormancy::wake::{BudDay, Wake, course};
///
/// let wake = Wake { start: 1, base: 4.0, need: 50.0, cold: 0.0, light: 0.0 };
/// let warm = [BudDay { mean: 14.0, cold: 0.0, light: 9.0 }; 10];
/// assert_eq!(course(&wake, 1, &warm).day_reaching(1.0), Some(5));
/// ```
pub fn course(wake: &Wake, first_day: i32, days: &[BudDay]) -> Course {
    let (mut cold, mut progress) = (0.0, 0.0);
    let progress = days
        .iter()
        .zip(first_day..)
        .map(|(day, number)| {
            cold += day.cold;
            if number < wake.start {
                return 0.0;
            }
            let met = if wake.cold > 0.0 { (cold / wake.cold).min(1.0) } else { 1.0 };
            let light = if wake.light > 0.0 { (day.light / LONG_DAY).powf(wake.light) } else { 1.0 };
            progress += (FLOOR + (1.0 - FLOOR) * met) * (day.mean - wake.base).max(0.0) * light / wake.need;
            progress
        })
        .collect();
    Course { first_day, progress }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WAKE: Wake = Wake { start: 0, base: 4.0, need: 100.0, cold: 800.0, light: 0.0 };

    fn season(cold_days: usize, warm_days: usize) -> Vec<BudDay> {
        let cold = BudDay { mean: 3.0, cold: 24.0, light: 9.0 };
        let warm = BudDay { mean: 12.0, cold: 0.0, light: 11.0 };
        [vec![cold; cold_days], vec![warm; warm_days]].concat()
    }

    #[test]
    fn a_tree_short_of_cold_takes_longer_to_open_in_the_same_warmth() {
        let short = course(&WAKE, 0, &season(10, 90)).day_reaching(1.0).unwrap() - 10;
        let met = course(&WAKE, 0, &season(40, 60)).day_reaching(1.0).unwrap() - 40;
        assert!(short > met + 10, "short of cold {short}, met {met}");
    }

    #[test]
    fn autumn_warmth_moves_no_bud() {
        let early = course(&WAKE, -40, &season(0, 40));
        assert_eq!(early.progress.last(), Some(&0.0));
    }

    #[test]
    fn cold_below_the_base_moves_no_bud() {
        assert_eq!(course(&WAKE, 0, &season(60, 0)).progress.last(), Some(&0.0));
    }

    #[test]
    fn a_long_day_tree_sleeps_on_under_a_short_lamp() {
        let beech = Wake { light: 2.0, ..WAKE };
        let dim: Vec<BudDay> = season(40, 60).into_iter().map(|day| BudDay { light: 6.0, ..day }).collect();
        let open = course(&beech, 0, &season(40, 60)).day_reaching(1.0).unwrap();
        assert!(course(&beech, 0, &dim).day_reaching(1.0).is_none_or(|day| day > open + 10));
    }
}
