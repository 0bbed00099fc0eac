//! One winter and the spring it leads to, with days numbered alike in both hemispheres.

use jiff::{ToSpan, civil::Date};

/// Which half of the Earth a place lies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Hemisphere {
    /// Winter around January.
    North,
    /// Winter around July.
    South,
}

impl Hemisphere {
    /// The hemisphere of a latitude in degrees north; the equator counts as north.
    pub fn of(latitude: crate::quantity::Degrees) -> Hemisphere {
        if latitude.0 < 0.0 { Hemisphere::South } else { Hemisphere::North }
    }
}

/// A winter named by the year of its spring.
///
/// Day 1 is 1 January in the north and 1 July in the south; day 0 is the day before, day −60 is
/// 1 November (1 May in the south). A winter holds days −121 to 243 or 244.
///
/// ```
/// use jiff::civil::date;
/// use measure::winter::{Hemisphere, Winter};
///
/// let winter = Winter::holding(date(2025, 11, 1), Hemisphere::North);
/// assert_eq!(winter.spring_year, 2026);
/// assert_eq!(winter.day_number(date(2025, 11, 1)), -60);
/// assert_eq!(winter.date(1), date(2026, 1, 1));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Winter {
    /// Calendar year in which the buds open.
    pub spring_year: i16,
    /// Where.
    pub hemisphere: Hemisphere,
}

impl Winter {
    /// Number of the first day that belongs to a winter: 1 September in the north.
    pub const FIRST_DAY: i32 = -121;

    /// The winter that a date belongs to.
    pub fn holding(date: Date, hemisphere: Hemisphere) -> Winter {
        let spring_year = match hemisphere {
            Hemisphere::North if date.month() >= 9 => date.year() + 1,
            Hemisphere::North => date.year(),
            Hemisphere::South if date.month() >= 3 => date.year(),
            Hemisphere::South => date.year() - 1,
        };
        Winter { spring_year, hemisphere }
    }

    /// The date of day 1.
    pub fn day_one(self) -> Date {
        let month = if self.hemisphere == Hemisphere::North { 1 } else { 7 };
        Date::constant(self.spring_year, month, 1)
    }

    /// First date of the winter.
    pub fn first_date(self) -> Date {
        self.date(Winter::FIRST_DAY)
    }

    /// Last day number of the winter.
    pub fn last_day(self) -> i32 {
        let next = Winter { spring_year: self.spring_year + 1, ..self };
        self.day_number(next.first_date()) - 1
    }

    /// Number of a date in this winter's count.
    pub fn day_number(self, date: Date) -> i32 {
        let span = date - self.day_one();
        span.get_days() + 1
    }

    /// The date that carries a number.
    pub fn date(self, day: i32) -> Date {
        self.day_one() + (day - 1).days()
    }

    /// The winter `years` earlier.
    pub fn earlier(self, years: i16) -> Winter {
        Winter { spring_year: self.spring_year - years, ..self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn the_first_of_november_is_day_minus_sixty_in_every_year() {
        for year in 1997..2030 {
            let winter = Winter { spring_year: year, hemisphere: Hemisphere::North };
            assert_eq!(winter.date(-60), date(year - 1, 11, 1));
            assert_eq!(winter.first_date(), date(year - 1, 9, 1));
            assert_eq!(winter.date(winter.last_day()), date(year, 8, 31));
        }
    }

    #[test]
    fn southern_winters_run_half_a_year_apart() {
        let winter = Winter::holding(date(2026, 5, 1), Hemisphere::South);
        assert_eq!(winter.day_one(), date(2026, 7, 1));
        assert_eq!(winter.day_number(date(2026, 5, 1)), -60);
        let late = Winter::holding(date(2027, 2, 28), Hemisphere::South);
        assert_eq!(late.spring_year, 2026);
    }
}
