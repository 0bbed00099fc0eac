//! The state of a tree's leaves on any day of the year: by its looks and the weather in autumn, by the forecast of its buds in spring.

use dormancy::forecast::Forecast;
use measure::{leaf::Leaf, stage::Stage, taxon::Taxon, winter::Winter};
use water::leaf::LeafState;

use crate::autumn::{InLeaf, Keeps, USUAL, drops_leaves};

/// Day numbers between which an evergreen keeps its winter, where no weather tells (common practice, no source).
const WINTER: std::ops::Range<i32> = -45..75;

/// When leaves come, by day number, where a forecast does not tell.
const SPRING: [i32; 4] = [75, 95, 110, 135];

/// A day that does not come.
const NEVER: i32 = i32::MAX;

/// A tree's year of leaves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Leaves {
    kind: Year,
    /// Day numbers of swelling, of first green, of unfolding and of full growth.
    spring: [i32; 4],
    /// Day numbers of colouring, and of the day on which it is as likely bare as not.
    autumn: [i32; 2],
    /// Day number about which they are down: the end of growth.
    fall: i32,
    /// Day numbers between which leaves that stay on rest.
    rest: [i32; 2],
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Year {
    Bare,
    /// It drops its leaves, but not this winter.
    Kept,
    Evergreen,
    Always,
}

impl Leaves {
    /// Of a taxon, with this season's forecast where there is one; its autumn is the usual one until [`Leaves::in_autumn`] tells it.
    pub fn of(taxon: &Taxon, forecast: Option<&Forecast>) -> Leaves {
        let kind = match taxon.kind {
            kind if !kind.rests() => Year::Always,
            kind if drops_leaves(kind) => Year::Bare,
            _ => Year::Evergreen,
        };
        let stages = [Stage::Swelling, Stage::Breaking, Stage::Unfolded, Stage::Grown];
        let mut spring = SPRING;
        if let Some(forecast) = forecast {
            let mut least = i32::MIN;
            for (day, stage) in spring.iter_mut().zip(stages) {
                *day = forecast.of(stage).map_or(*day, |spread| spread.middle).max(least);
                least = *day;
            }
        }
        let ([colours, _, down], _) = USUAL;
        Leaves { kind, spring, autumn: [colours, down], fall: down, rest: [WINTER.start, WINTER.end] }
    }

    /// The same tree with this autumn as its looks and its places tell it.
    #[must_use]
    pub fn in_autumn(self, leaf: &InLeaf) -> Leaves {
        if self.kind == Year::Always {
            return self;
        }
        let [colours, _, down] = leaf.turns;
        let rest = down.map_or(NEVER, |it| it.middle);
        if self.kind == Year::Evergreen {
            return Leaves { rest: [rest, self.spring[0]], ..self };
        }
        match (leaf.keeps, leaf.seen) {
            (Some(Keeps::SemiEvergreen), Some((day, Leaf::Colouring | Leaf::Falling))) => {
                Leaves { autumn: [day, NEVER], fall: USUAL.0[2], ..self }
            }
            (Some(_), _) => {
                let rest = if leaf.is_hardened { [WINTER.start, self.spring[0]] } else { [NEVER; 2] };
                Leaves { kind: Year::Kept, fall: USUAL.0[2], rest, ..self }
            }
            (None, _) => {
                let autumn = [colours.map_or(NEVER, |it| it.middle), down.map_or(NEVER, |it| it.middle)];
                Leaves { autumn, fall: down.map_or(USUAL.0[2], |it| it.middle), ..self }
            }
        }
    }

    /// The state on a day number of the season the forecast was made for; days before it are those of the year before.
    pub fn on(&self, day: i32) -> LeafState {
        let day = if day < Winter::FIRST_DAY { day + 365 } else { day };
        let rests = (self.rest[0]..self.rest[1]).contains(&day);
        match self.kind {
            Year::Always => LeafState::Mature,
            Year::Evergreen if rests => LeafState::WinterGreen,
            Year::Evergreen => LeafState::Mature,
            Year::Kept if day < self.spring[1] => {
                if rests {
                    LeafState::WinterGreen
                } else {
                    LeafState::Mature
                }
            }
            Year::Bare | Year::Kept => self.deciduous(day),
        }
    }

    fn deciduous(&self, day: i32) -> LeafState {
        let [swells, breaks, unfolds, grown] = self.spring;
        let [colours, bare] = self.autumn;
        match day {
            day if day >= grown => LeafState::Mature,
            day if day >= unfolds => LeafState::HalfSize,
            day if day >= breaks => LeafState::Opening,
            day if day < colours => LeafState::Mature,
            day if day < bare => LeafState::Autumn,
            day if day >= swells => LeafState::Swollen,
            _ => LeafState::Leafless,
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
            Year::Bare | Year::Kept => [self.spring[1].min(self.fall + 365 - 30), self.fall + 365],
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
        self.kind == Year::Bare && self.autumn[1] < NEVER
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
        assert_eq!(maple.on(-50), LeafState::Autumn);
        assert!(maple.hold(150, 14) && !maple.hold(90, 14));
    }

    #[test]
    fn a_season_runs_from_first_green_to_leaf_fall() {
        let maple = Leaves::of(Taxon::of("acer-palmatum").unwrap(), None);
        assert_eq!((maple.season(20), maple.season(95), maple.season(308).round()), (0.0, 0.0, 1.0));
        assert!(maple.season(-100) > 0.7 && maple.season(-30) == 0.0);
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
