//! What invented weather must look like.

use super::*;

const YEARS: usize = 40;

fn town() -> SynthClimate {
    SynthClimate::temperate(Degrees(47.4), Celsius(9.5), 9.5)
}

fn long() -> Vec<f64> {
    hours(&town(), Date::constant(1981, 1, 1), YEARS * 365, 11)
}

/// Expected mean of a day, counted from 0.
fn expected(day: usize) -> f64 {
    9.5 - 9.5 * (2.0 * PI * (day as f64 + 1.0 - COLDEST_DAY) / YEAR).cos()
}

fn departures(hours: &[f64]) -> Vec<f64> {
    let mean = |day: &[f64]| day.iter().sum::<f64>() / 24.0;
    hours.chunks_exact(24).enumerate().map(|(day, hours)| mean(hours) - expected(day)).collect()
}

#[test]
fn the_same_seed_is_the_same_weather_and_another_is_not() {
    let of = |seed| hours(&town(), Date::constant(2025, 1, 1), 400, seed);
    assert_eq!(of(3), of(3));
    assert_ne!(of(3), of(4));
    assert_eq!(of(3).len(), 9600);
}

#[test]
fn months_keep_their_means_over_forty_years() {
    let mut months = [(0.0, 0.0); 12];
    for (day, off) in departures(&long()).into_iter().enumerate() {
        let month = &mut months[(day as f64 % YEAR / (YEAR / 12.0)) as usize % 12];
        *month = (month.0 + off, month.1 + 1.0);
    }
    let off: Vec<f64> = months.iter().map(|(sum, count)| sum / count).collect();
    println!("{off:.2?}");
    assert!(off.iter().all(|off| off.abs() < 0.8), "{off:?}");
}

#[test]
fn a_day_remembers_three_quarters_of_yesterday() {
    let off = departures(&long());
    let square: f64 = off.iter().map(|off| off * off).sum();
    let product: f64 = off.windows(2).map(|pair| pair[0] * pair[1]).sum();
    let memory = product / square;
    println!("lag-1 {memory:.3}");
    assert!((0.70..0.85).contains(&memory), "{memory}");
}

#[test]
fn winter_weather_spreads_wider_than_summer_s() {
    let spread = |from: usize| {
        let off = departures(&long());
        let days: Vec<f64> =
            off.chunks_exact(365).flat_map(|year| year[from..from + 40].iter().copied()).collect();
        (days.iter().map(|off| off * off).sum::<f64>() / days.len() as f64).sqrt()
    };
    let (winter, summer) = (spread(0), spread(185));
    println!("winter {winter:.2}, summer {summer:.2}");
    assert!((3.2..4.6).contains(&winter) && (2.2..3.2).contains(&summer), "{winter} {summer}");
}

#[test]
fn years_differ_by_some_tenths() {
    let off = departures(&long());
    let means: Vec<f64> = off.chunks_exact(365).map(|year| year.iter().sum::<f64>() / 365.0).collect();
    let mean = means.iter().sum::<f64>() / YEARS as f64;
    let spread = (means.iter().map(|year| (year - mean).powi(2)).sum::<f64>() / (YEARS - 1) as f64).sqrt();
    println!("yearly spread {spread:.2}");
    assert!((0.4..1.2).contains(&spread), "{spread}");
}

#[test]
fn days_range_wider_in_summer_and_the_low_comes_near_sunrise() {
    let hours = long();
    let days = daily(&hours);
    let range = |from: usize| {
        let days: Vec<f64> = days
            .chunks_exact(365)
            .flat_map(|year| year[from..from + 60].iter().map(|day| day.high.0 - day.low.0))
            .collect();
        days.iter().sum::<f64>() / days.len() as f64
    };
    let (winter, summer) = (range(0), range(180));
    println!("range winter {winter:.1}, summer {summer:.1}");
    assert!((5.0..9.5).contains(&winter) && (10.0..13.0).contains(&summer), "{winter} {summer}");
}

#[test]
fn the_coldest_night_is_cold_but_not_absurd() {
    let yearly: Vec<f64> = daily(&long())
        .chunks_exact(365)
        .map(|year| year.iter().map(|day| day.low.0).fold(f64::INFINITY, f64::min))
        .collect();
    let mean = yearly.iter().sum::<f64>() / YEARS as f64;
    println!("coldest night of a year {mean:.1}");
    assert!((-18.0..-9.0).contains(&mean), "{mean}");
}

#[test]
fn seasons_turn_over_in_the_south() {
    let south = SynthClimate { latitude: Degrees(-37.8), ..town() };
    let year = hours(&south, Date::constant(2025, 1, 1), 365, 5);
    let mean = |from: usize| year[from * 24..(from + 31) * 24].iter().sum::<f64>() / 744.0;
    assert!(mean(0) > mean(181) + 10.0);
}

#[test]
fn no_hour_jumps_at_midnight_more_than_at_other_times() {
    let hours = long();
    let jump = |clock: usize| {
        let jumps = hours.windows(2).enumerate().filter(|(at, _)| at % 24 == clock);
        jumps.map(|(_, pair)| (pair[1] - pair[0]).abs()).fold(0.0, f64::max)
    };
    let (midnight, evening) = (jump(23), jump(20));
    println!("largest change at midnight {midnight:.1}, at 20 h {evening:.1}");
    assert!(midnight < 1.3 * evening);
}
