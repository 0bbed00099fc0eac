//! How warm the nights of a place are over the fortnight ahead: what the roots of tropicals wait for.

use measure::{quantity::Celsius, winter::Winter};

use crate::ground::{Ground, HORIZON};

/// Nights that must be warm after a root cut.
const FORTNIGHT: i32 = 14;

/// Mean of the coldest of each of the coming fourteen nights.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nights {
    /// One year in ten is colder.
    pub cold: Celsius,
    /// The middle of years.
    pub middle: Celsius,
}

/// The coming fortnight's nights of a place: the days known, and past years beyond them; late in the season, where no past year's course
/// runs on, the last fortnight.
pub fn nights(ground: &Ground, place: usize) -> Option<Nights> {
    let place = &ground.places[place];
    let mean = |lows: &[f64]| lows.iter().sum::<f64>() / lows.len() as f64;
    let mut means: Vec<f64> = if ground.today > HORIZON - FORTNIGHT {
        let lows: Vec<f64> =
            place.this.days.iter().rev().map(|day| day.low).filter(|low| low.is_finite()).take(14).collect();
        if lows.len() < 7 { Vec::new() } else { vec![mean(&lows)] }
    } else {
        let of_year = |winter: &crate::ground::PlaceWinter| {
            let low = |day: i32| {
                let days = if day <= ground.known_to { &place.this.days } else { &winter.days };
                days.get((day - Winter::FIRST_DAY) as usize).map(|day| day.low).filter(|low| low.is_finite())
            };
            let lows: Option<Vec<f64>> = (ground.today..ground.today + FORTNIGHT).map(low).collect();
            lows.map(|lows| mean(&lows))
        };
        place.past.iter().filter_map(of_year).collect()
    };
    if means.is_empty() {
        return None;
    }
    means.sort_by(f64::total_cmp);
    Some(Nights { cold: Celsius(means[means.len() / 10]), middle: Celsius(means[means.len() / 2]) })
}
