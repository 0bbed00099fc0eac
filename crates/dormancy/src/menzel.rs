//! Menzel's table of forest trees: another way to tell leaf-out, fitted by another hand to other trees.

use measure::sourced::{Sourced, Standing};

use crate::model::Model;

/// One row of the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// Botanical name, with the form where the table tells forms apart.
    pub species: &'static str,
    /// Key of the very same species among our taxa, where we keep it.
    pub taxon: Option<&'static str>,
    /// Warmest cold day, °C.
    pub cold_below: f64,
    /// Base of warmth, °C.
    pub base: f64,
    /// Degree-days at one cold day.
    pub level: f64,
    /// Change of the need per ln(cold days).
    pub slope: f64,
}

/// Where the rows come from.
const STANDING: Standing = Standing::Published(
    "Menzel 1997, Forstl. Forschungsber. München, as carried in vegperiod 0.4.0; trees in the ground in Europe",
);

impl Row {
    /// The row of a taxon; a near relative has none.
    ///
    /// ```
    /// use dormancy::menzel::Row;
    ///
    /// assert_eq!(Row::of("picea-abies").unwrap().species, "Picea abies (early)");
    /// assert!(Row::of("fagus-crenata").is_none());
    /// ```
    pub fn of(taxon: &str) -> Option<&'static Row> {
        TABLE.iter().find(|row| row.taxon == Some(taxon))
    }

    /// The row as a model, with its standing.
    ///
    /// ```
    /// use dormancy::{menzel::Row, model::Season};
    ///
    /// let beech = Row::of("fagus-sylvatica").unwrap().model().value;
    /// let cold_then_mild: Vec<f64> = (-60..150).map(|day| if day < 60 { 2.0 } else { 14.0 }).collect();
    /// let season = Season { first_day: -60, mean: &cold_then_mild, day_length: None };
    /// assert_eq!(beech.day_reached(&season), Some(91));
    /// ```
    pub fn model(&self) -> Sourced<Model> {
        let Row { cold_below, base, level, slope, .. } = *self;
        Sourced { value: Model::Menzel { cold_below, base, level, slope }, standing: STANDING }
    }
}

const fn row(species: &'static str, taxon: Option<&'static str>, numbers: [f64; 4]) -> Row {
    let [cold_below, base, level, slope] = numbers;
    Row { species, taxon, cold_below, base, level, slope }
}

/// All ten rows. Of the three forms of Norway spruce the early one stands for our taxon: vegperiod's own makers use it
/// where the form is not known.
#[rustfmt::skip]
pub const TABLE: [Row; 10] = [
    row("Larix decidua", Some("larix-decidua"), [7.0, 3.0, 1372.0, -246.0]),
    row("Picea abies (early)", Some("picea-abies"), [9.0, 4.0, 1848.0, -317.0]),
    row("Picea abies (late)", None, [9.0, 5.0, 1616.0, -274.0]),
    row("Picea abies (northern)", None, [9.0, 4.0, 2084.0, -350.0]),
    row("Picea omorika", None, [7.0, 3.0, 2833.0, -484.0]),
    row("Pinus sylvestris", Some("pinus-sylvestris"), [9.0, 5.0, 1395.0, -223.0]),
    row("Betula pubescens", None, [9.0, 5.0, 1438.0, -261.0]),
    row("Quercus robur", Some("quercus-robur"), [9.0, 4.0, 1748.0, -298.0]),
    row("Quercus petraea", None, [9.0, 3.0, 1741.0, -282.0]),
    row("Fagus sylvatica", Some("fagus-sylvatica"), [9.0, 6.0, 1922.0, -348.0]),
];

#[cfg(test)]
mod tests {
    use super::*;
    use measure::taxon::Taxon;

    #[test]
    fn a_row_speaks_for_the_very_same_species_alone() {
        let spoken_for: Vec<&Row> = TABLE.iter().filter(|row| row.taxon.is_some()).collect();
        assert_eq!(spoken_for.len(), 5);
        for row in spoken_for {
            let taxon = row.taxon.and_then(Taxon::of).expect("a taxon of ours");
            assert_eq!(row.species.split(" (").next(), Some(taxon.name));
        }
    }
}
