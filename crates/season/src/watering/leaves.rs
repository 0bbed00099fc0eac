//! The state of a tree's leaves on any day of the year, from its forecast in spring and the calendar in autumn.

use dormancy::forecast::Forecast;
use measure::{
    stage::Stage,
    taxon::{Kind, Taxon},
    winter::Winter,
};
use water::leaf::LeafState;

/// Day number on which leaves begin to colour: about 10 October in the north (common practice, no source).
const COLOURS: i32 = -82;

/// Day number on which a deciduous tree stands bare: about 5 November in the north (common practice, no source).
const BARE: i32 = -56;

/// Day numbers between which an evergreen keeps its winter (common practice, no source).
const WINTER: std::ops::Range<i32> = -45..75;

/// When leaves come, by day number, where a forecast does not tell.
const USUAL: [i32; 4] = [75, 95, 110, 135];

/// A tree's year of leaves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Leaves {
    kind: Year,
    /// Day numbers of swelling, of first green, of unfolding and of full growth.
    spring: [i32; 4],
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Year {
    Bare,
    Evergreen,
    Always,
}

impl Leaves {
    /// Of a taxon, with this season's forecast where there is one.
    pub fn of(taxon: &Taxon, forecast: Option<&Forecast>) -> Leaves {
        let kind = match taxon.kind {
            kind if !kind.rests() => Year::Always,
            kind if kind.is_bare_in_winter() || kind == Kind::SemiDeciduous => Year::Bare,
            _ => Year::Evergreen,
        };
        let stages = [Stage::Swelling, Stage::Breaking, Stage::Unfolded, Stage::Grown];
        let mut spring = USUAL;
        if let Some(forecast) = forecast {
            let mut least = i32::MIN;
            for (day, stage) in spring.iter_mut().zip(stages) {
                *day = forecast.of(stage).map_or(*day, |spread| spread.middle).max(least);
                least = *day;
            }
        }
        Leaves { kind, spring }
    }

    /// The state on a day number of the season the forecast was made for; days before it are those of the year before.
    pub fn on(&self, day: i32) -> LeafState {
        let day = if day < Winter::FIRST_DAY { day + 365 } else { day };
        match self.kind {
            Year::Always => LeafState::Mature,
            Year::Evergreen if WINTER.contains(&day) => LeafState::WinterGreen,
            Year::Evergreen => LeafState::Mature,
            Year::Bare => self.deciduous(day),
        }
    }

    fn deciduous(&self, day: i32) -> LeafState {
        let [swells, breaks, unfolds, grown] = self.spring;
        match day {
            day if day < COLOURS => LeafState::Mature,
            day if day < BARE => LeafState::Autumn,
            day if day < swells => LeafState::Leafless,
            day if day < breaks => LeafState::Swollen,
            day if day < unfolds => LeafState::Opening,
            day if day < grown => LeafState::HalfSize,
            _ => LeafState::Mature,
        }
    }

    /// How far the season of growth has gone on a day number: 0 at first green, 1 at leaf fall, and 0 again while it rests.
    pub fn season(&self, day: i32) -> f64 {
        let [from, to] = self.growth();
        // Before the last leaf fall it is the season before.
        let day = if day < to - 365 { day + 365 } else { day };
        (f64::from(day - from) / f64::from(to - from)).clamp(0.0, 1.0)
    }

    /// The day number on which the season of growth has gone so far.
    pub fn day_of(&self, season: f64) -> i32 {
        let [from, to] = self.growth();
        from + (f64::from(to - from) * season).round() as i32
    }

    /// Day numbers of first green and of leaf fall, in one season of the forecast.
    fn growth(&self) -> [i32; 2] {
        match self.kind {
            Year::Always => [0, 365],
            Year::Evergreen => [WINTER.end, WINTER.start + 365],
            Year::Bare => [self.spring[1].min(BARE + 365 - 30), BARE + 365],
        }
    }

    /// Whether the leaves stay as they are for so many days.
    pub fn hold(&self, from: i32, days: i32) -> bool {
        self.on(from) == self.on(from + days)
    }

    /// The same tree with the days its leaves came, where they are known.
    pub fn in_spring(self, days: [Option<i32>; 4]) -> Leaves {
        let mut spring = self.spring;
        for (day, known) in spring.iter_mut().zip(days) {
            *day = known.unwrap_or(*day);
        }
        Leaves { spring, ..self }
    }

    /// The same tree if spring never came.
    pub fn asleep(self) -> Leaves {
        Leaves { spring: [i32::MAX; 4], ..self }
    }

    /// Whether it stands bare in winter, so that drinking again means waking.
    pub fn is_bare_in_winter(&self) -> bool {
        self.kind == Year::Bare
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_maple_is_bare_in_january_and_full_in_july_of_this_year_and_the_last() {
        let maple = Leaves::of(Taxon::of("acer-palmatum").unwrap(), None);
        assert_eq!(maple.on(10), LeafState::Leafless);
        assert_eq!(maple.on(200), LeafState::Mature);
        assert_eq!(maple.on(200 - 365), LeafState::Mature);
        assert_eq!(maple.on(-70), LeafState::Autumn);
        assert!(maple.hold(150, 14) && !maple.hold(90, 14));
    }

    #[test]
    fn a_season_runs_from_first_green_to_leaf_fall() {
        let maple = Leaves::of(Taxon::of("acer-palmatum").unwrap(), None);
        assert_eq!((maple.season(20), maple.season(95), maple.season(308).round()), (0.0, 0.0, 1.0));
        assert!(maple.season(-100) > 0.75 && maple.season(-30) == 0.0);
        assert!(
            (maple.season(maple.day_of(0.25)) - 0.25).abs() < 0.5 / 200.0,
            "a day is as near as days come"
        );
    }

    #[test]
    fn a_pine_stays_green_and_a_fig_never_rests() {
        let of = |key| Leaves::of(Taxon::of(key).unwrap(), None);
        assert_eq!(of("pinus-sylvestris").on(10), LeafState::WinterGreen);
        assert_eq!(of("ficus-microcarpa").on(10), LeafState::Mature);
    }
}
