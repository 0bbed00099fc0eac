//! What a tree in store does, when cut roots could heal in a place, and how firm a window is.

use dormancy::forecast::{Caveat, Spread};
use measure::{shelter::Shelter, stage::Stage, winter::Winter};

use crate::{
    ground::{Ground, HORIZON},
    window::Told,
};

/// What to do about a tree that opens where it is stored.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InStore {
    /// Not stored, or still asleep.
    Fine,
    /// At full buds or further in the dark: move it or hold it colder, and look twice a week.
    Opening(Stage),
}

/// Whether a stored tree has come too far for the dark.
pub fn in_store(told: &Told, shelter: Shelter) -> InStore {
    let stage = told.forecast.stage_today();
    let dark = shelter == Shelter::ColdRoom;
    if dark && stage >= Stage::Full { InStore::Opening(stage) } else { InStore::Fine }
}

/// Mean temperature that cut roots need to heal, °C (common practice: 10 to 20; the lower edge is ours).
pub(crate) const MILD: f64 = 7.0;

/// Days in a row that must be mild and without frost.
const HEALING: i32 = 14;

/// The first day from today on which a place is mild and free of frost for the fortnight that cut roots need, in
/// four of five courses; none in this season.
pub fn recovery_day(ground: &Ground, place: usize) -> Option<i32> {
    let years = ground.years();
    let good = |day: i32| {
        let fits = (0..years).filter(|&year| mild(ground, place, year, day)).count();
        fits * 5 >= years * 4
    };
    if ground.today > HORIZON - HEALING {
        // The season's courses end here; the last fortnight speaks for the days to come.
        let days = ground.places[place].this.days.iter().rev().take(HEALING as usize);
        let (frost_free, total) =
            days.fold((true, 0.0), |(free, sum), day| (free && day.low > 0.0, sum + day.bud.mean));
        return (frost_free && total / f64::from(HEALING) >= MILD).then_some(ground.today);
    }
    (ground.today..=HORIZON - HEALING).find(|&day| good(day))
}

fn mild(ground: &Ground, place: usize, year: usize, from: i32) -> bool {
    let place = &ground.places[place];
    let mut total = 0.0;
    for day in from..from + HEALING {
        let winter = if day <= place.told_to { &place.this } else { &place.past[year] };
        let day = winter.days[(day - Winter::FIRST_DAY) as usize];
        if day.low <= 0.0 {
            return false;
        }
        total += day.bud.mean;
    }
    total / f64::from(HEALING) >= MILD
}

/// How firm a window is, by the spread of its opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Firmness {
    /// Within about four days either way.
    Firm,
    /// Within about eight days either way.
    Fair,
    /// Wider.
    Loose,
}

/// How firm an opening is; loose where the looks surprise or stand ahead, too few years were measured or the place is unrecorded.
pub fn firmness(told: &Told, opens: Spread) -> Firmness {
    let thin = |caveat: &Caveat| {
        matches!(caveat, Caveat::LooksSurprise | Caveat::BehindLook(_) | Caveat::FewYears(_))
    };
    if !told.recorded || told.forecast.caveats.iter().any(thin) {
        return Firmness::Loose;
    }
    match opens.late - opens.early {
        ..=8 => Firmness::Firm,
        9..=16 => Firmness::Fair,
        _ => Firmness::Loose,
    }
}
