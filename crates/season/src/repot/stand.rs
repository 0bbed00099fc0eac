//! Where a tree stands after root work: by what it needs in the weeks after, and how to keep it where no place serves.

use dormancy::frost::Facts;
use measure::{
    quantity::Celsius,
    shelter::Shelter,
    sourced::{Sourced, Standing},
    taxon::{Kind, Taxon},
    winter::Winter,
};

use crate::{
    advice::MILD,
    ground::{Ground, HORIZON},
    tonight::{
        carry::Lifting,
        judge::is_hardy,
        share_out::{Protection, is_heated},
    },
    what_if::DIM,
};

/// Weeks looked ahead, in days: those in which frost counts a stage stricter.
const WEEKS: i32 = 28;

/// A place through the weeks to come.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ahead {
    /// Its mean.
    pub mean: Celsius,
    /// Its lowest, colder in one year of ten only.
    pub low: Celsius,
}

/// What a place does through the next four weeks, by this season's known days and the past years after them.
///
/// None where no year tells. Past the season's horizon the last four weeks speak for those to come.
pub fn ahead(ground: &Ground, place: usize) -> Option<Ahead> {
    let place = ground.places.get(place)?;
    let from = ground.today.min(HORIZON - WEEKS + 1);
    let is_late = ground.today > HORIZON - WEEKS + 1;
    let mut lows: Vec<f64> = Vec::new();
    let (mut sum, mut count) = (0.0, 0.0);
    for past in &place.past {
        let of = |day: i32| {
            let winter = if day <= ground.known_to || is_late { &place.this } else { past };
            winter.days.get(usize::try_from(day - Winter::FIRST_DAY).ok()?)
        };
        let days: Vec<_> = (from..from + WEEKS).filter_map(of).filter(|day| day.low.is_finite()).collect();
        if days.is_empty() {
            continue;
        }
        lows.push(days.iter().map(|day| day.low).fold(f64::INFINITY, f64::min));
        sum += days.iter().map(|day| day.bud.mean).sum::<f64>();
        count += days.len() as f64;
    }
    lows.sort_by(f64::total_cmp);
    let low = *lows.get(lows.len() / 10)?;
    Some(Ahead { mean: Celsius(sum / count), low: Celsius(low) })
}

/// A place that a tree could stand in after root work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Its shelter.
    pub shelter: Shelter,
    /// The weeks to come there.
    pub ahead: Ahead,
    /// Light a day, mol/m², where a figure can be given.
    pub light: Option<f64>,
    /// Whether it takes one more tree.
    pub has_room: bool,
    /// Lifting the tree there, where its weight is known.
    pub lift: Option<Lifting>,
}

/// Where a tree stands after root work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stand {
    /// It stays: its own place serves.
    Stays,
    /// It goes to another place, by steps where that is much warmer or brighter.
    Goes {
        /// The place, as a rank.
        to: usize,
        /// True where the change is too great for one day.
        by_steps: bool,
    },
    /// No place is mild enough all day: it stays where it is and goes in on each night that would freeze its pot.
    NightsIn {
        /// The place for those nights, as a rank.
        to: usize,
    },
    /// No place on record keeps its pot above freezing.
    Protect(Protection),
}

/// A ball lags the air: a short low this far below its line does not bring it there, K.
const LAG: Sourced<f64> = Sourced {
    value: 1.0,
    standing: Standing::Estimate("a ball of some litres stays a degree above the low of a short night"),
};

/// A place this much warmer than where the tree stood is come to by steps, K; our estimate.
const STEP: f64 = 8.0;

/// Least light of an evergreen in the weeks after root work, mol/m² a day (common practice).
const EVERGREEN: f64 = 5.0;

/// Whether cut roots of a tree may stand under a shelter of this mean: a hardy tree is never sent to a heated room.
pub fn suits(taxon: &Taxon, shelter: Shelter, mean: Celsius) -> bool {
    !(is_hardy(taxon) && is_heated(shelter, mean))
}

/// Where a tree stands in the weeks after root work: above its line, mild, bright enough, with room, and not heated where it is a hardy
/// tree. Open air, frame and glasshouse come before a sill; then the easier lift, then the shorter way along the round.
///
/// `facts` are the tree's with its roots freshly cut, `from` is the rank of the place it stands in.
pub fn stand(facts: &Facts, from: Option<usize>, spots: &[Spot]) -> Stand {
    let tree = Tree { facts, line: facts.roots().line.value.0 };
    if from.is_some_and(|rank| spots.get(rank).is_some_and(|spot| tree.lives(spot))) {
        return Stand::Stays;
    }
    let serve = |rank: &usize| Some(*rank) != from && spots[*rank].has_room;
    let best = |lives: &dyn Fn(&Spot) -> bool| {
        let ranks = (0..spots.len()).filter(serve).filter(|&rank| lives(&spots[rank]));
        ranks.min_by(|&a, &b| tree.cost(from, a, &spots[a]).total_cmp(&tree.cost(from, b, &spots[b])))
    };
    if let Some(to) = best(&|spot| tree.lives(spot)) {
        let here = from.and_then(|rank| spots.get(rank));
        let by_steps = here.is_some_and(|here| spots[to].ahead.mean.0 - here.ahead.mean.0 > STEP);
        return Stand::Goes { to, by_steps };
    }
    match best(&|spot| tree.sleeps(spot)) {
        Some(to) => Stand::NightsIn { to },
        None if tree.line > LIVES_IN_WARMTH => Stand::Protect(Protection::HeatedRoom),
        None => Stand::Protect(Protection::FrostFreeRoom),
    }
}

/// A line at the root above which a tree wants warmth and not only a room without frost, °C; our estimate.
const LIVES_IN_WARMTH: f64 = 8.0;

struct Tree<'a> {
    facts: &'a Facts,
    line: f64,
}

impl Tree<'_> {
    /// Whether a place keeps its pot above the line for a night.
    fn sleeps(&self, spot: &Spot) -> bool {
        spot.ahead.low.0 >= self.line - LAG.value && suits(self.facts.taxon, spot.shelter, spot.ahead.mean)
    }

    /// Whether its roots heal there, day and night.
    fn lives(&self, spot: &Spot) -> bool {
        let least = match self.facts.taxon.kind {
            kind if kind.is_bare_in_winter() || kind == Kind::SemiDeciduous => DIM,
            _ => EVERGREEN,
        };
        let is_bright = match spot.light {
            Some(light) => light >= least,
            None => spot.shelter != Shelter::ColdRoom,
        };
        self.sleeps(spot) && spot.ahead.mean.0 >= MILD && is_bright
    }

    fn cost(&self, from: Option<usize>, rank: usize, spot: &Spot) -> f64 {
        let indoors = match spot.shelter {
            Shelter::OpenBench | Shelter::ShadedBench | Shelter::ColdFrame | Shelter::ColdGlasshouse => 0.0,
            Shelter::ColdRoom | Shelter::CoolSill => 100.0,
            Shelter::WarmSill => 200.0,
        };
        let lift = spot.lift.map_or(1.0, |lift| lift.index.unwrap_or(3.0));
        indoors + 10.0 * lift + from.map_or(0.0, |from| from.abs_diff(rank) as f64)
    }
}

#[cfg(test)]
mod tests {
    use dormancy::frost::{Candidates, RootAge};
    use measure::stage::Stage;

    use super::*;

    fn tree(key: &str, stage: Stage) -> Facts {
        let taxon = Taxon::of(key).unwrap();
        Facts { taxon, candidates: Candidates::None, stage: Some(stage), roots: RootAge::Fresh }
    }

    fn spot(shelter: Shelter, mean: f64, low: f64) -> Spot {
        let ahead = Ahead { mean: Celsius(mean), low: Celsius(low) };
        Spot { shelter, ahead, light: None, has_room: true, lift: None }
    }

    /// A bench in frost, a dark cold room, and two sills of which the second is in a lived-in room.
    fn house() -> Vec<Spot> {
        vec![
            spot(Shelter::OpenBench, 7.5, -5.0),
            spot(Shelter::ColdRoom, 4.0, 1.5),
            Spot { light: Some(30.0), ..spot(Shelter::CoolSill, 11.5, 7.0) },
            Spot { light: Some(18.0), ..spot(Shelter::WarmSill, 19.0, 15.0) },
        ]
    }

    const HARDY: [&str; 5] =
        ["larix-kaempferi", "pinus-sylvestris", "crataegus-monogyna", "carpinus-betulus", "acer-palmatum"];

    #[test]
    fn no_hardy_tree_at_rest_is_sent_to_a_heated_room() {
        for key in HARDY {
            let facts = tree(key, Stage::Full);
            assert_eq!(stand(&facts, Some(0), &house()), Stand::Goes { to: 2, by_steps: false }, "{key}");
            // The cool sill is as warm as a lived-in room, or full: the nights are spent in the cold room.
            for change in [
                |spot: &mut Spot| spot.ahead.mean = Celsius(17.0),
                |spot: &mut Spot| spot.has_room = false,
                |spot: &mut Spot| spot.light = Some(3.0),
            ] {
                let mut spots = house();
                change(&mut spots[2]);
                let told = stand(&facts, Some(0), &spots);
                assert!(matches!(told, Stand::NightsIn { to: 1 | 2 }), "{key}: {told:?}");
            }
            let two = [house()[0], house()[3]];
            assert_eq!(stand(&facts, Some(0), &two), Stand::Protect(Protection::FrostFreeRoom), "{key}");
        }
    }

    #[test]
    fn a_glasshouse_without_frost_comes_before_any_sill_and_the_own_place_before_all() {
        let mut spots = house();
        spots.push(spot(Shelter::ColdGlasshouse, 10.0, 0.5));
        let larch = tree("larix-kaempferi", Stage::Full);
        assert_eq!(stand(&larch, Some(0), &spots), Stand::Goes { to: 4, by_steps: false });
        assert_eq!(stand(&larch, Some(4), &spots), Stand::Stays);
        assert_eq!(stand(&larch, Some(1), &spots), Stand::Goes { to: 4, by_steps: false });
        spots[0].ahead = Ahead { mean: Celsius(12.0), low: Celsius(3.0) };
        assert_eq!(stand(&larch, Some(0), &spots), Stand::Stays, "a mild month on the bench");
    }

    #[test]
    fn a_tender_tree_is_sent_where_it_is_warm() {
        let fig = Facts { stage: None, ..tree("ficus-microcarpa", Stage::Dormant) };
        let mut spots = house();
        assert_eq!(stand(&fig, Some(0), &spots), Stand::Protect(Protection::HeatedRoom), "17 °C are nowhere");
        spots[3].ahead = Ahead { mean: Celsius(21.0), low: Celsius(17.5) };
        assert_eq!(stand(&fig, Some(0), &spots), Stand::Goes { to: 3, by_steps: true });
    }

    #[test]
    fn of_two_places_alike_the_easier_lift_wins() {
        let low = Lifting { limit: measure::quantity::Kilogram(9.0), index: Some(1.6) };
        let mut spots = house();
        spots[2].has_room = false;
        spots.push(Spot { lift: Some(low), ..spot(Shelter::ColdFrame, 9.0, 1.0) });
        spots.push(Spot {
            lift: Some(Lifting { index: Some(0.7), ..low }),
            ..spot(Shelter::ColdGlasshouse, 9.0, 1.0)
        });
        let thorn = tree("crataegus-monogyna", Stage::Full);
        assert_eq!(stand(&thorn, Some(0), &spots), Stand::Goes { to: 5, by_steps: false });
    }
}
