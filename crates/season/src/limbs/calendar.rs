//! The calendar of a tree's growth: which season a date lies in, how far that has gone, and how much of a ring is laid between two dates.

use form::thickness::laid;
use jiff::{ToSpan, civil::Date};
use measure::{
    quantity::Share,
    winter::{Hemisphere, Winter},
};

use crate::leaves::Leaves;

/// A tree's year of leaves on its half of the Earth.
#[derive(Clone, Copy, Debug)]
pub struct Calendar {
    /// Its year of leaves.
    pub leaves: Leaves,
    /// Which half of the Earth.
    pub hemisphere: Hemisphere,
}

impl Calendar {
    /// The year of the spring that begins the season a date lies in or before, and the share of it gone.
    pub fn moment(&self, date: Date) -> (i16, f64) {
        let winter = Winter::holding(date, self.hemisphere);
        let day = winter.day_number(date);
        let share = self.leaves.season(day);
        // In autumn a date belongs to the winter to come, and to the season of the spring before it.
        let year = if day < 0 && share > 0.0 { winter.spring_year - 1 } else { winter.spring_year };
        (year, share)
    }

    /// The date at which a season has gone so far.
    pub fn date(&self, year: i16, share: f64) -> Date {
        Winter { spring_year: year, hemisphere: self.hemisphere }.date(self.leaves.day_of(share))
    }

    /// Days of a season of growth.
    pub fn length(&self) -> f64 {
        f64::from(self.leaves.day_of(1.0) - self.leaves.day_of(0.0))
    }

    /// The date after so many days of growth from another; winters do not count.
    pub fn after(&self, from: Date, days: f64) -> Date {
        let (year, now) = self.moment(from);
        let share = now + days / self.length();
        let seasons = share.floor();
        if share < 1.0 && now > 0.0 {
            // Within a season days of growth are days.
            return from.saturating_add((days.round() as i64).days());
        }
        self.date(year + seasons as i16, share - seasons)
    }

    /// Days of growth between two dates.
    pub fn days(&self, from: Date, to: Date) -> f64 {
        let ((year, share), (last, end)) = (self.moment(from), self.moment(to));
        (f64::from(last - year) + end - share) * self.length()
    }

    /// How many seasons' rings are laid between two dates: 1 from winter to winter, nothing within one.
    pub fn rings(&self, from: Date, to: Date) -> f64 {
        let ((year, share), (last, end)) = (self.moment(from), self.moment(to));
        f64::from(last - year) + laid(Share(end)).0 - laid(Share(share)).0
    }

    /// Whether a day lies before the first shoots harden, and not yet in the leaves' fall.
    pub fn is_early(&self, day: Date) -> bool {
        /// Shoots have hardened by then, as a share of the season, our estimate.
        const HARDENED: f64 = 0.2;
        self.moment(day).1 < HARDENED
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use measure::taxon::Taxon;

    fn maple(hemisphere: Hemisphere) -> Calendar {
        Calendar { leaves: Leaves::of(Taxon::of("acer-palmatum").unwrap(), None), hemisphere }
    }

    #[test]
    fn a_ring_is_laid_in_a_summer_and_none_in_a_winter() {
        let north = maple(Hemisphere::North);
        assert!((north.rings(date(2024, 11, 30), date(2025, 11, 22)) - 1.0).abs() < 1e-9);
        assert_eq!(north.rings(date(2024, 11, 30), date(2025, 3, 1)), 0.0);
        let summer = north.rings(date(2025, 5, 1), date(2025, 11, 22));
        assert!((0.9..=1.0).contains(&summer), "{summer}");
    }

    #[test]
    fn the_southern_year_is_half_a_year_on() {
        let (north, south) = (maple(Hemisphere::North), maple(Hemisphere::South));
        assert!(north.is_early(date(2026, 3, 1)) && !north.is_early(date(2026, 7, 1)));
        assert!(south.is_early(date(2026, 9, 1)) && !south.is_early(date(2027, 1, 1)));
        assert!((south.rings(date(2025, 6, 1), date(2026, 6, 1)) - 1.0).abs() < 1e-9);
    }
}
