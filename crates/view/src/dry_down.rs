//! A tree's water on its page: the dry-down curve, what was learned, what was written down.

use collection::drink::{Deed, Remark};
use jiff::Timestamp;
use measure::quantity::Units;
use season::watering::{
    curve::{Point, curve},
    log::Story,
    pots::DRY,
};
use water::leaf::LeafClass;

use crate::{
    after_cut::{AfterCutPart, part},
    round::{RoundRow, row},
    water::{planner, tree_water},
    whole::{TreeWhole, Whole},
    words,
};

/// Width and height of the curve in its own units.
pub const SIZE: (f64, f64) = (700.0, 180.0);

/// Left free for the words of the scale.
const MARGIN: f64 = 34.0;

/// Lines of the log shown.
const SHOWN: usize = 24;

/// A line of the log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LogLine {
    /// When.
    pub at: String,
    /// What.
    pub words: String,
    /// Its number.
    pub id: i64,
}

/// The drawn curve.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// The span between the quick and the slow drinker, as a polygon.
    pub span: String,
    /// The middle, as a polyline.
    pub middle: String,
    /// Now, where it lies.
    pub now: String,
    /// The line under which it is dry.
    pub dry: String,
    /// Days with their place.
    pub days: Vec<(String, String)>,
    /// The table behind it: moment, quick, middle, slow.
    pub table: Vec<(String, String, String, String)>,
    /// The curve in one sentence.
    pub sentence: String,
}

/// The part of a tree's page.
#[derive(Clone, Debug, PartialEq)]
pub struct TreeWaterPart {
    /// What the round says of it.
    pub row: RoundRow,
    /// The curve, where the pot was seen full.
    pub curve: Option<Curve>,
    /// What it draws since its roots were cut, where that is not long ago.
    pub after_cut: Option<AfterCutPart>,
    /// What it holds, in words.
    pub store: String,
    /// What was learned in each state of leaf: state, times the rule, spread, lines behind it.
    pub learned: Vec<(String, String, String)>,
    /// The log, newest first.
    pub log: Vec<LogLine>,
    /// Readings of its scale that are left out of what is learned, newest first.
    pub odd: Vec<String>,
}

/// A tree's water at a moment; none while there is no weather or its place is unknown.
pub fn tree_part(whole: &Whole, tree: &TreeWhole, now: i64) -> Option<TreeWaterPart> {
    let water = whole.water()?;
    let hour = water.thirst.hour(now);
    let (mut planner, _) = planner(whole, water, now);
    let row = row(whole, water, tree, &mut planner, now).ok()?;
    let forecast = tree.told.as_ref().ok().map(|told| &told.forecast);
    let own = tree_water(whole, water, tree, forecast, now)?;
    let story = own.story(&water.thirst).ok()?;
    let units = whole.site.as_ref().map_or(Units::Metric, |site| site.units);
    let moment = |hour: f64| {
        let at = Timestamp::from_second(water.thirst.moment(hour)).unwrap_or_default();
        let local = water.zone.to_datetime(at);
        format!("{} {}", words::day(local.date(), whole.today), local.strftime("%H:%M"))
    };
    let points = curve(&own, &water.thirst, &story, hour);
    Some(TreeWaterPart {
        curve: drawn(&points, hour, moment),
        after_cut: part(whole, water, &own, &story, hour),
        store: format!(
            "{} of soil, of which {} is water that roots can take when it has drained",
            units.water(own.facts.soil),
            units.water(own.facts.store.holds())
        ),
        learned: learned(&story),
        log: log(whole, tree, now, units),
        odd: odd(whole, tree, now, units),
        row,
    })
}

fn learned(story: &Story) -> Vec<(String, String, String)> {
    let classes = [
        (LeafClass::Bare, "bare or in bud"),
        (LeafClass::Growing, "leaves growing"),
        (LeafClass::Full, "leaves full"),
        (LeafClass::Winter, "evergreen in winter"),
    ];
    classes
        .into_iter()
        .map(|(class, words)| {
            let belief = story.of(class);
            let (low, high) = ((belief.mean - belief.spread).exp(), (belief.mean + belief.spread).exp());
            let seen = match belief.seen {
                0 => "nothing yet: a planning figure".into(),
                seen => words::count(seen, "line", "lines"),
            };
            (words.to_string(), format!("{:.2} ({low:.2} to {high:.2})", belief.mean.exp()), seen)
        })
        .collect()
}

/// Readings of its scale that cannot be of its pot.
fn odd(whole: &Whole, tree: &TreeWhole, now: i64, units: Units) -> Vec<String> {
    let Some(water) = whole.water() else { return Vec::new() };
    let lines = tree.odd_weights.iter().rev().filter(|(at, _)| *at <= now).take(SHOWN);
    lines
        .map(|(at, weight)| {
            let at = water.zone.to_datetime(Timestamp::from_second(*at).unwrap_or_default());
            format!(
                "{} {}: {}",
                words::day(at.date(), whole.today),
                at.strftime("%H:%M"),
                units.weight(*weight)
            )
        })
        .collect()
}

fn log(whole: &Whole, tree: &TreeWhole, now: i64, units: Units) -> Vec<LogLine> {
    let Some(water) = whole.water() else { return Vec::new() };
    let lines = tree.drinks.iter().rev().filter(|(_, drink)| drink.at <= now).take(SHOWN);
    lines
        .map(|(id, drink)| {
            let at = water.zone.to_datetime(Timestamp::from_second(drink.at).unwrap_or_default());
            let deed = match drink.deed {
                Deed::Watered => "watered".into(),
                Deed::Left => "left".into(),
                Deed::Weighed(grams) => format!("weighed {}", units.weight(grams)),
                Deed::WeighedFull(grams) => format!("watered, then weighed {}", units.weight(grams)),
            };
            let remark = match drink.remark {
                Some(Remark::Wet) => ", was still wet",
                Some(Remark::Right) => ", was right",
                Some(Remark::Dry) => ", was dry",
                None => "",
            };
            LogLine {
                at: format!("{} {}", words::day(at.date(), whole.today), at.strftime("%H:%M")),
                words: format!("{deed}{remark}"),
                id: *id,
            }
        })
        .collect()
}

fn drawn(points: &[Point], now: f64, moment: impl Fn(f64) -> String) -> Option<Curve> {
    // A pot that waited for weeks shows its last ten days.
    let points: Vec<&Point> = points.iter().filter(|point| point.hour >= now - 240.0).collect();
    let (first, last) = (points.first()?.hour, points.last()?.hour);
    let x = |hour: f64| MARGIN + (hour - first) / (last - first).max(1.0) * (SIZE.0 - MARGIN);
    let y = |share: f64| 8.0 + (1.0 - share) * (SIZE.1 - 34.0);
    let pair = |hour: f64, share: f64| format!("{:.1},{:.1}", x(hour), y(share));
    let line = |rank: usize| -> Vec<String> {
        points.iter().map(|point| pair(point.hour, point.left[rank].0)).collect()
    };
    let mut span = line(0);
    span.extend(line(2).into_iter().rev());
    let days = (first.div_euclid(24.0) as i64 + 1..=last.div_euclid(24.0) as i64)
        .map(|day| day as f64 * 24.0)
        .filter(|&hour| x(hour) < SIZE.0 - MARGIN)
        .map(|hour| {
            let words = moment(hour + 6.0);
            (format!("{:.1}", x(hour)), words.split(' ').take(2).collect::<Vec<_>>().join(" "))
        });
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    let table = points.iter().step_by(2).map(|point| {
        let [quick, middle, slow] = point.left.map(|left| percent(left.0));
        (moment(point.hour), quick, middle, slow)
    });
    let at = points.iter().find(|point| point.hour >= now).or(points.last())?;
    Some(Curve {
        span: span.join(" "),
        middle: line(1).join(" "),
        now: format!("{:.1}", x(now)),
        dry: format!("{:.1}", y(DRY.0)),
        days: days.collect(),
        table: table.collect(),
        sentence: format!("{} of its water is left now", percent(at.left[1].0)),
    })
}
