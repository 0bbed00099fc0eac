//! A second opinion on leaf-out: a published model beside ours, over the same years, never mixed into it.

use dormancy::{forecast::Spread, menzel::Row, model::Season, wake::BudDay};
use measure::{sourced::Standing, winter::Winter};

/// What another model says of leaf-out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Second {
    /// The species and form it speaks of.
    pub species: &'static str,
    /// How far to trust it.
    pub standing: Standing,
    /// Day of leaf-out over the years that may follow, or none where most years never reach it. It holds the
    /// years' differences alone, no doubt about the model or the tree.
    pub leaves: Option<Spread>,
}

/// First day that Menzel's model counts: 1 November in the north.
const COUNTS_FROM: i32 = -60;

/// Most cold days that a leaf-out is believed with: all days from November to April. Beyond, the model's need runs
/// out, and it opens a tree that was never warm. Our own guard.
const MOST_COLD: usize = 181;

/// Menzel's leaf-out for a taxon of his table, over the possible courses of one season from [`Winter::FIRST_DAY`];
/// none where the table has no row for it, or the record misses days that the model counts.
pub fn second(taxon: &str, years: &[Vec<BudDay>], first_known: i32) -> Option<Second> {
    let row = Row::of(taxon).filter(|_| first_known <= COUNTS_FROM)?;
    let model = row.model();
    let reached = years.iter().filter_map(|days| {
        let mean: Vec<f64> = days.iter().map(|day| day.mean).collect();
        let season = Season { first_day: Winter::FIRST_DAY, mean: &mean, day_length: None };
        let day = model.value.day_reached(&season)?;
        let counted = &mean[(COUNTS_FROM - Winter::FIRST_DAY) as usize..=(day - Winter::FIRST_DAY) as usize];
        (counted.iter().filter(|mean| **mean <= row.cold_below).count() <= MOST_COLD).then_some(day)
    });
    let leaves = over_years(reached.collect(), years.len());
    Some(Second { species: row.species, standing: model.standing, leaves })
}

/// One in ten, the middle and nine in ten of days reached; none unless most of the years reach one.
pub(crate) fn over_years(mut days: Vec<i32>, years: usize) -> Option<Spread> {
    days.sort_unstable();
    let most = !days.is_empty() && days.len() * 2 > years;
    most.then(|| Spread {
        early: days[days.len() / 10],
        middle: days[days.len() / 2],
        late: days[(days.len() * 9 / 10).min(days.len() - 1)],
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Eleven springs, each half a degree warmer than the one before.
    fn years() -> Vec<Vec<BudDay>> {
        (0..11)
            .map(|year| {
                let mean = |day: i32| if day < 40 { 3.0 } else { 9.0 + 0.5 * f64::from(year) };
                (Winter::FIRST_DAY..=200)
                    .map(|day| BudDay { mean: mean(day), light: 12.0, ..BudDay::default() })
                    .collect()
            })
            .collect()
    }

    #[test]
    fn beech_has_a_second_opinion_and_its_japanese_cousin_none() {
        let told = second("fagus-sylvatica", &years(), Winter::FIRST_DAY).expect("a row");
        let leaves = told.leaves.expect("leaf-out");
        assert!(leaves.early < leaves.middle && leaves.middle < leaves.late, "{leaves:?}");
        assert_eq!(second("fagus-crenata", &years(), Winter::FIRST_DAY), None);
    }

    #[test]
    fn a_record_that_misses_cold_days_gives_none() {
        assert!(second("fagus-sylvatica", &years(), COUNTS_FROM).is_some());
        assert_eq!(second("fagus-sylvatica", &years(), COUNTS_FROM + 1), None);
    }

    #[test]
    fn a_tree_kept_cold_into_summer_is_given_no_day() {
        let cold: Vec<Vec<BudDay>> = years()
            .into_iter()
            .map(|days| days.into_iter().map(|day| BudDay { mean: 2.0, ..day }).collect())
            .collect();
        assert_eq!(second("fagus-sylvatica", &cold, Winter::FIRST_DAY).map(|told| told.leaves), Some(None));
    }
}
