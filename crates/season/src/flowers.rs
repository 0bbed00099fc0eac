//! When each taxon flowers and on which wood, so that the shears know what a cut costs. Months of the north, put together from memory.

use jiff::{ToSpan, civil::Date};
use measure::{sourced::Standing, taxon::Taxon, winter::Hemisphere};

/// The wood that bears the flowers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wood {
    /// Last summer's: the buds are there over winter.
    LastYears,
    /// This spring's shoots.
    ThisYears,
}

/// How a taxon flowers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Flowers {
    /// On which wood.
    pub wood: Wood,
    /// Month in which the buds begin to form.
    pub formed: i8,
    /// Months of bloom, first and last.
    pub bloom: [i8; 2],
}

/// What the rows stand on: bloom differs by weeks from place to place and year to year.
pub const STANDING: Standing =
    Standing::Unverified("months of bloom from memory and the trade's calendar; your own place decides");

/// What a cut at a moment costs in flowers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cost {
    /// The buds are there; the usual bloom begins and ends on these days.
    Buds {
        /// First and last day of the usual months of bloom.
        bloom: [Date; 2],
    },
    /// It flowers now, in the usual months.
    InFlower {
        /// The last day of them.
        until: Date,
    },
}

const fn old(formed: i8, bloom: [i8; 2]) -> Flowers {
    Flowers { wood: Wood::LastYears, formed, bloom }
}

const fn new(formed: i8, bloom: [i8; 2]) -> Flowers {
    Flowers { wood: Wood::ThisYears, formed, bloom }
}

impl Flowers {
    /// How a taxon flowers; none where its flowers are not what it is grown for.
    ///
    /// ```
    /// use measure::taxon::Taxon;
    /// use season::flowers::Flowers;
    ///
    /// assert_eq!(Flowers::of(Taxon::of("prunus-mume").unwrap()).unwrap().bloom, [1, 3]);
    /// assert!(Flowers::of(Taxon::of("larix-decidua").unwrap()).is_none());
    /// ```
    pub fn of(taxon: &Taxon) -> Option<Flowers> {
        Some(match taxon.key {
            "prunus-mume" => old(7, [1, 3]),
            "prunus-incisa" | "prunus-persica" | "prunus-spinosa" => old(7, [3, 4]),
            "prunus-cerasifera" => old(7, [2, 4]),
            "prunus-serrulata" => old(7, [4, 5]),
            "pyrus-calleryana" => old(7, [3, 4]),
            "crataegus-monogyna" | "crataegus-laevigata" | "crataegus-cuneata" => old(7, [5, 6]),
            "chaenomeles-speciosa" => old(7, [2, 4]),
            "chaenomeles-japonica" => old(7, [3, 5]),
            "pyracantha" => old(8, [5, 6]),
            "pseudocydonia-sinensis" => old(7, [4, 5]),
            "rhododendron-indicum" => old(7, [5, 6]),
            "rhododendron-kurume" => old(7, [4, 5]),
            "cornus-officinalis" | "cornus-mas" => old(7, [2, 3]),
            "cornus-kousa" => old(7, [5, 6]),
            "wisteria-floribunda" => old(7, [4, 5]),
            "forsythia" => old(7, [3, 4]),
            "jasminum-nudiflorum" => old(8, [1, 3]),
            "enkianthus-perulatus" => old(7, [4, 5]),
            "camellia-japonica" => old(6, [1, 4]),
            "camellia-sasanqua" => old(6, [10, 12]),
            "styrax-japonicus" | "stewartia-monadelpha" => old(7, [5, 6]),
            "lagerstroemia-indica" => new(5, [7, 9]),
            "punica-granatum" => new(4, [6, 8]),
            "diospyros-rhombifolia" => new(4, [5, 6]),
            "callicarpa-japonica" => new(5, [6, 7]),
            _ if taxon.genus() == "Malus" => old(7, [4, 5]),
            _ => return None,
        })
    }

    /// What a cut on a day costs in flowers; none from the end of bloom until buds form again.
    ///
    /// ```
    /// use jiff::civil::date;
    /// use measure::{taxon::Taxon, winter::Hemisphere};
    /// use season::flowers::{Cost, Flowers};
    ///
    /// let plum = Flowers::of(Taxon::of("prunus-mume").unwrap()).unwrap();
    /// let august = plum.cost(date(2026, 8, 15), Hemisphere::North);
    /// assert_eq!(august, Some(Cost::Buds { bloom: [date(2027, 1, 1), date(2027, 3, 31)] }));
    /// assert_eq!(plum.cost(date(2026, 5, 15), Hemisphere::North), None);
    /// ```
    pub fn cost(self, today: Date, hemisphere: Hemisphere) -> Option<Cost> {
        let [first, last] = self.bloom;
        let northern = |date: Date| match hemisphere {
            Hemisphere::North => date.month(),
            Hemisphere::South => (date.month() + 5) % 12 + 1,
        };
        let month = northern(today);
        let ahead = |to: i8| i64::from((to - month).rem_euclid(12));
        let length = i64::from((last - first).rem_euclid(12));
        let begin = |months: i64| today.first_of_month().saturating_add(months.months());
        let bloom = |first: Date| [first, first.saturating_add(length.months()).last_of_month()];
        if ahead(last) <= length {
            return Some(Cost::InFlower { until: begin(ahead(last)).last_of_month() });
        }
        // Between the month in which buds form and that of bloom, over the turn of the year where need be.
        let wait = i64::from((first - self.formed).rem_euclid(12));
        (ahead(first) <= wait).then(|| Cost::Buds { bloom: bloom(begin(ahead(first))) })
    }
}

/// Whole months from a day to another, rounded; 0 within half a month.
///
/// ```
/// use jiff::civil::date;
/// use season::flowers::months_to;
///
/// assert_eq!(months_to(date(2026, 8, 15), date(2027, 1, 1)), 5);
/// ```
pub fn months_to(today: Date, day: Date) -> i32 {
    (f64::from((day - today).get_days()) / 30.44).round() as i32
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn of(key: &str) -> Flowers {
        Flowers::of(Taxon::of(key).unwrap()).unwrap()
    }

    #[test]
    fn every_month_of_every_row_agrees_half_a_year_on_in_the_south() {
        for taxon in measure::taxon::TAXA {
            let Some(it) = Flowers::of(taxon) else { continue };
            for month in 1..=12 {
                let north = it.cost(date(2026, month, 15), Hemisphere::North);
                let south = it.cost(date(2026, month, 15).saturating_add(6.months()), Hemisphere::South);
                let turn = |cost: Cost| match cost {
                    Cost::Buds { bloom } => Cost::Buds {
                        bloom: [
                            bloom[0].saturating_add(6.months()),
                            bloom[1].first_of_month().saturating_add(6.months()).last_of_month(),
                        ],
                    },
                    Cost::InFlower { until } => Cost::InFlower {
                        until: until.first_of_month().saturating_add(6.months()).last_of_month(),
                    },
                };
                assert_eq!(north.map(turn), south, "{} {month}", taxon.key);
            }
        }
    }

    #[test]
    fn buds_of_last_summer_are_told_until_bloom_and_nothing_between_bloom_and_the_next() {
        let north = |key: &str, month| of(key).cost(date(2026, month, 15), Hemisphere::North);
        assert_eq!(north("wisteria-floribunda", 5), Some(Cost::InFlower { until: date(2026, 5, 31) }));
        assert_eq!(north("wisteria-floribunda", 6), None);
        assert_eq!(
            north("wisteria-floribunda", 11),
            Some(Cost::Buds { bloom: [date(2027, 4, 1), date(2027, 5, 31)] })
        );
        assert_eq!(
            north("camellia-sasanqua", 7),
            Some(Cost::Buds { bloom: [date(2026, 10, 1), date(2026, 12, 31)] })
        );
        assert_eq!(north("lagerstroemia-indica", 2), None, "it flowers on this year's shoots");
        assert!(north("lagerstroemia-indica", 6).is_some());
    }
}
