//! What a place does in the fortnight after a day: how cold, how warm, on the safe side of what may come.

use jiff::civil::Date;
use measure::{quantity::Celsius, winter::Winter};

use crate::ground::{Ground, HORIZON, PlaceDay, PlaceWinter};

/// Days looked ahead: after them the place is asked again.
pub const AHEAD: i32 = 14;

/// Nights behind a day that still say what the place may do.
const BEHIND: i32 = 7;

/// A place in the fortnight to come.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coming {
    /// Its lowest air: of the nights read in the last week and forecast, and of the past years' nights after them, the coldest year in ten.
    pub low: Celsius,
    /// The day of that low, where it was read or is forecast.
    pub on: Option<Date>,
    /// Its coldest day's mean, which a wet ball of some litres goes to.
    pub ball: Celsius,
    /// Its highest air: the warmest year in ten.
    pub high: Celsius,
    /// Its mean.
    pub mean: Celsius,
}

/// A stretch of days: lowest, coldest mean, highest, sum of the means and their number.
#[derive(Clone, Copy)]
struct Stretch {
    low: (f64, Option<i32>),
    ball: f64,
    high: f64,
    sum: f64,
    count: f64,
}

fn stretch(winter: &PlaceWinter, days: std::ops::RangeInclusive<i32>) -> Stretch {
    let of = |number: i32| {
        let at = usize::try_from(number - Winter::FIRST_DAY).ok()?;
        winter.days.get(at).filter(|day| day.low.is_finite()).map(|day| (number, day))
    };
    let none = Stretch {
        low: (f64::INFINITY, None),
        ball: f64::INFINITY,
        high: f64::NEG_INFINITY,
        sum: 0.0,
        count: 0.0,
    };
    days.filter_map(of).fold(none, |so_far, (number, day): (i32, &PlaceDay)| Stretch {
        low: if day.low < so_far.low.0 { (day.low, Some(number)) } else { so_far.low },
        ball: so_far.ball.min(day.bud.mean),
        high: so_far.high.max(day.high),
        sum: so_far.sum + day.bud.mean,
        count: so_far.count + 1.0,
    })
}

/// What a place does in the fortnight from a day number on; none where nothing tells.
///
/// Past the season's last day the last fortnight that was read speaks for the one to come.
pub fn coming(ground: &Ground, place: usize, from: i32) -> Option<Coming> {
    let place = ground.places.get(place)?;
    let until = (from + AHEAD).min(HORIZON);
    let behind = if from > HORIZON - AHEAD { AHEAD } else { BEHIND };
    let known = stretch(&place.this, from - behind..=until.min(ground.known_to));
    let unknown = from.max(ground.known_to + 1)..=until;
    let mut years: Vec<Stretch> = place.past.iter().map(|year| stretch(year, unknown.clone())).collect();
    years.retain(|year| year.count > 0.0);
    let tenth = years.len() / 10;
    let mut of = |value: fn(&Stretch) -> f64| {
        years.sort_by(|a, b| value(a).total_cmp(&value(b)));
        years.get(tenth).map(value)
    };
    let low = of(|year| year.low.0).unwrap_or(f64::INFINITY);
    let ball = of(|year| year.ball).unwrap_or(f64::INFINITY).min(known.ball);
    let high = of(|year| -year.high).map_or(f64::NEG_INFINITY, |high| -high).max(known.high);
    let (sum, count) =
        years.iter().fold((known.sum, known.count), |(sum, count), it| (sum + it.sum, count + it.count));
    (count > 0.0).then(|| Coming {
        low: Celsius(low.min(known.low.0)),
        on: known.low.1.filter(|_| known.low.0 <= low).map(|day| ground.winter.date(day)),
        ball: Celsius(ball),
        high: Celsius(high),
        mean: Celsius(sum / count),
    })
}
