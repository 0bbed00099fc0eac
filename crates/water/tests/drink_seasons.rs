//! Thousands of made-up seasons: how often the filter cries too early, and how late it comes.
//!
//! `wake_detection_mc.json` (800 seasons a row) and `wake_detection_prior_mc.json` (600): the reference set's own Monte
//! Carlo. It states: a season of 120 days, 8 earlier observations, use rising e^0.115 a day to e^1.6 from the waking day,
//! gaps of one day plus a gamma, false alarms counted on seasons without waking, and forecasts whose middle is drawn with
//! the stated error about the true day. Not stated, and taken so here: gamma of shape 2 (its mean makes up the named gap),
//! waking day even between 30 and 80, winter level 0, the rise averaged over the interval, heavy tails scaled to the same
//! spread, forecasts as normal shares of the days. Rates and median delays must agree within three standard errors of both
//! Monte Carlos together.

mod vector;

use measure::quantity::Days;
use rand_distr::{Distribution, Gamma, StandardNormal, StudentT};
use rand_pcg::{
    Pcg64Mcg,
    rand_core::{Rng, SeedableRng},
};
use vector::{counted, json, number};
use water::drink::{Belief, Season, Use, WakePrior};

const SEASONS: usize = 1500;

/// How a made-up season is observed.
#[derive(Clone, Copy)]
struct Way {
    gap: f64,
    spread: f64,
    heavy: bool,
    related: f64,
}

/// How far ahead the waking is foretold.
#[derive(Clone, Copy)]
enum Foretold {
    Not,
    Within(f64),
}

struct Dice(Pcg64Mcg, f64);

impl Dice {
    fn even(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        StandardNormal.sample(&mut self.0)
    }

    fn error(&mut self, way: Way) -> f64 {
        let fresh = if way.heavy {
            StudentT::new(4.0).unwrap().sample(&mut self.0) / 2.0_f64.sqrt()
        } else {
            self.normal()
        };
        self.1 = way.related * self.1 + (1.0 - way.related * way.related).sqrt() * fresh;
        way.spread * self.1
    }
}

/// Rise of ln(use) since waking.
fn rise(day: f64, wake: f64) -> f64 {
    (0.115 * (day - wake)).clamp(0.0, 1.6)
}

/// First day each level of chance is passed.
fn alarms(dice: &mut Dice, way: Way, wake: f64, foretold: Foretold, levels: &[f64]) -> Vec<Option<f64>> {
    let prior = match foretold {
        Foretold::Not => WakePrior::any_day(1.0 / 90.0, 121),
        Foretold::Within(spread) => {
            let middle = wake + spread * dice.normal();
            WakePrior::about(Days(middle), Days(spread), 121)
        }
    };
    let mut season = Season::new(prior.unwrap(), Belief::default()).unwrap();
    dice.1 = dice.normal();
    for _ in 0..8 {
        season.winter(dice.error(way), way.spread).unwrap();
    }
    let gaps = Gamma::new(2.0, (way.gap - 1.0) / 2.0).unwrap();
    let (mut day, mut first) = (0.0, vec![None; levels.len()]);
    loop {
        let before = day;
        day += 1.0 + gaps.sample(&mut dice.0);
        if day > 120.0 {
            return first;
        }
        let log_ratio = f64::midpoint(rise(day, wake), rise(before, wake)) + dice.error(way);
        let standing = season.seen(Use { day: Days(day), log_ratio, spread: way.spread }).unwrap();
        for (first, level) in first.iter_mut().zip(levels) {
            if first.is_none() && standing.awake.0 > *level {
                *first = Some(day);
            }
        }
    }
}

/// Rate agrees with a rate of `theirs` seasons.
fn same_rate(what: &str, ours: f64, stored: f64, theirs: f64) {
    let both = (ours * SEASONS as f64 + stored * theirs) / (SEASONS as f64 + theirs);
    let error = (both * (1.0 - both) * (1.0 / SEASONS as f64 + 1.0 / theirs)).sqrt().max(1e-9);
    println!("{what}: {ours:.4}, stored {stored:.4}, {:+.1} standard errors", (ours - stored) / error);
    assert!((ours - stored).abs() <= 3.0 * error, "{what}: ours {ours}, stored {stored}");
}

/// Median delay agrees; its error from the stored spread between one in ten and nine in ten.
fn same_delay(what: &str, delays: &mut [f64], row: &serde_json::Value, name: &str, theirs: f64) {
    delays.sort_by(f64::total_cmp);
    let (ours, stored) = (delays[delays.len() / 2], number(row, name));
    let spread = (number(row, "p90") - number(row, "p10")) / 2.563;
    let error = 1.253 * spread * (1.0 / delays.len() as f64 + 1.0 / theirs).sqrt();
    println!("{what}: median {ours:.2} d, stored {stored}, {:+.1} standard errors", (ours - stored) / error);
    assert!((ours - stored).abs() <= 3.0 * error + 0.05, "{what}: ours {ours}, stored {stored}");
}

#[test]
fn false_alarms_and_delays_without_a_forecast() {
    let Some(file) = json("water/wake_detection_mc.json") else { return };
    let (theirs, mut seen) = (number(&file, "N"), 0);
    let weighed = Way { gap: 4.0, spread: 0.35, heavy: false, related: 0.0 };
    for (name, way) in [
        ("weighed ~4 d, sd .35", weighed),
        ("weighed ~2 d, sd .35", Way { gap: 2.0, ..weighed }),
        ("by feel ~7 d, sd .60", Way { gap: 7.0, spread: 0.6, ..weighed }),
        ("weighed ~4 d, heavy tails t4", Way { heavy: true, ..weighed }),
        ("weighed ~4 d, AR(1) .3", Way { related: 0.3, ..weighed }),
    ] {
        let row = |level: &f64| &file["results"][name][format!("one-change Bayes P>{level}")];
        let levels: Vec<f64> = [0.8, 0.95, 0.99].into_iter().filter(|level| row(level).is_object()).collect();
        if levels.is_empty() {
            continue;
        }
        let mut dice = Dice(Pcg64Mcg::seed_from_u64(3), 0.0);
        let calm: Vec<_> =
            (0..SEASONS).map(|_| alarms(&mut dice, way, 1e9, Foretold::Not, &levels)).collect();
        let waking: Vec<_> = (0..SEASONS)
            .map(|_| {
                let wake = dice.even(30.0, 80.0);
                (wake, alarms(&mut dice, way, wake, Foretold::Not, &levels))
            })
            .collect();
        for (at, level) in levels.iter().enumerate() {
            let row = row(level);
            seen += 1;
            let what = format!("{name} P>{level}");
            let cried = calm.iter().filter(|first| first[at].is_some()).count();
            let rate = cried as f64 / SEASONS as f64;
            same_rate(&format!("{what} false"), rate, number(row, "false_alarm_per_tree_season"), theirs);
            let early =
                waking.iter().filter(|(wake, first)| first[at].is_some_and(|day| day < *wake)).count();
            let rate = early as f64 / SEASONS as f64;
            same_rate(&format!("{what} early"), rate, number(row, "early_alarm_frac"), theirs);
            let mut delays: Vec<f64> = waking
                .iter()
                .filter_map(|(wake, first)| first[at].map(|day| day - wake))
                .filter(|delay| *delay >= 0.0)
                .collect();
            same_delay(&what, &mut delays, row, "median_delay_days", theirs);
        }
    }
    counted("water/wake_detection_mc.json: rows", seen, 15);
}

#[test]
fn delays_with_a_forecast() {
    let Some(file) = json("water/wake_detection_prior_mc.json") else { return };
    let mut seen = 0;
    let weighed = Way { gap: 4.0, spread: 0.35, heavy: false, related: 0.0 };
    for (name, way, foretold) in [
        ("weighed ~4 d, sd .35 | flat hazard", weighed, Foretold::Not),
        ("weighed ~4 d, sd .35 | forecast sd 7 d", weighed, Foretold::Within(7.0)),
        ("weighed ~2 d, sd .35 | forecast sd 14 d", Way { gap: 2.0, ..weighed }, Foretold::Within(14.0)),
        ("by feel ~4 d, sd .60 | forecast sd 7 d", Way { spread: 0.6, ..weighed }, Foretold::Within(7.0)),
    ] {
        let row = |level: &f64| &file["results"][format!("{name} | P>{level}")];
        let levels: Vec<f64> = [0.5, 0.8, 0.95].into_iter().filter(|level| row(level).is_object()).collect();
        if levels.is_empty() {
            continue;
        }
        let mut dice = Dice(Pcg64Mcg::seed_from_u64(5), 0.0);
        let waking: Vec<_> = (0..SEASONS)
            .map(|_| {
                let wake = dice.even(30.0, 80.0);
                (wake, alarms(&mut dice, way, wake, foretold, &levels))
            })
            .collect();
        for (at, level) in levels.iter().enumerate() {
            let row = row(level);
            seen += 1;
            let what = format!("{name} P>{level}");
            let early =
                waking.iter().filter(|(wake, first)| first[at].is_some_and(|day| day < *wake)).count();
            same_rate(
                &format!("{what} early"),
                early as f64 / SEASONS as f64,
                number(row, "early_frac"),
                600.0,
            );
            let mut delays: Vec<f64> = waking
                .iter()
                .filter_map(|(wake, first)| first[at].map(|day| day - wake))
                .filter(|delay| *delay >= 0.0)
                .collect();
            same_delay(&what, &mut delays, row, "median_delay_d", 600.0);
        }
    }
    counted("water/wake_detection_prior_mc.json: rows", seen, 12);
}
