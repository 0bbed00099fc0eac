//! The night as a picture: hours across, the air of each place that matters, and the lines of the trees at risk there.

use std::collections::BTreeMap;

use dormancy::frost::{Limit, Part};
use jiff::{Timestamp, ToSpan};
use measure::quantity::Celsius;
use season::tonight::{
    place::PlaceNight,
    share_out::{Told, Verdict},
};

use super::{Page, gather::Gathered, say};
use crate::words::count;

/// Width and height of the picture in its own units.
const SIZE: (f64, f64) = (700.0, 240.0);

/// Left free on the left, on the right for names, and below for the hours.
const MARGIN: (f64, f64, f64) = (52.0, 128.0, 24.0);

/// A night this cold shows where freezing lies, °C.
const NEAR_FROST: f64 = 5.0;

/// Distance of two lines of words.
const LINE: f64 = 14.0;

/// Most places and most lines drawn; the table has them all.
const MOST: usize = 5;

/// The air of one place.
#[derive(Clone, Debug, PartialEq)]
pub struct AirLine {
    /// What the grower calls it.
    pub name: String,
    /// Which dashes it is drawn in, from 1.
    pub dashes: usize,
    /// The line.
    pub points: String,
    /// Where its name stands.
    pub y: String,
    /// Its name with its low.
    pub words: String,
}

/// The line of trees at risk.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitLine {
    /// Where it lies.
    pub y: String,
    /// Where its words stand.
    pub words_y: String,
    /// Whose it is.
    pub words: String,
    /// True where it is one for root balls.
    pub is_root: bool,
}

/// The picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// The places.
    pub airs: Vec<AirLine>,
    /// The lines of trees at risk.
    pub limits: Vec<LimitLine>,
    /// Hours with their place.
    pub hours: Vec<(String, String)>,
    /// Temperatures with their place.
    pub levels: Vec<(String, String)>,
    /// The same in words, a line for each place with trees at risk.
    pub words: Vec<String>,
    /// The names of the places of the table.
    pub columns: Vec<String>,
    /// The table: hour, and the air of each place.
    pub table: Vec<(String, Vec<String>)>,
    /// Every line of the trees at risk, warmest first.
    pub lines: Vec<String>,
    /// The picture in one sentence.
    pub sentence: String,
}

fn is_root(limit: &Limit) -> bool {
    matches!(limit.part, Part::Roots | Part::CutRoots(_) | Part::WokenRoots)
}

/// A tree at risk: where it stands, its limit, its name.
struct AtRisk<'a> {
    place: usize,
    limit: Limit,
    name: &'a str,
}

/// Which places matter: where trees at risk stand and where they are carried; with none at risk the coldest that holds trees.
fn mattering(
    at_risk: &[AtRisk<'_>],
    told: &[Told],
    trees: &[Gathered<'_>],
    nights: &[PlaceNight],
) -> Vec<usize> {
    let carried = told.iter().filter_map(|told| told.carry.map(|carry| carry.to));
    let mut places: Vec<usize> = at_risk.iter().map(|it| it.place).chain(carried).collect();
    if places.is_empty() {
        let coldest = trees.iter().map(|it| it.place);
        places.extend(coldest.min_by(|&a, &b| nights[a].low.0.total_cmp(&nights[b].low.0)));
    }
    places.sort_unstable();
    places.dedup();
    places
}

/// From temperatures and hours to the picture.
#[derive(Clone, Copy)]
struct Scale {
    low: f64,
    high: f64,
    hours: usize,
}

impl Scale {
    fn x(self, hour: usize) -> f64 {
        let wide = SIZE.0 - MARGIN.0 - MARGIN.1;
        MARGIN.0 + wide * hour as f64 / (self.hours.max(2) - 1) as f64
    }

    fn y(self, celsius: f64) -> f64 {
        let share = (self.high - celsius.clamp(self.low, self.high)) / (self.high - self.low);
        6.0 + share * (SIZE.1 - MARGIN.2 - 6.0)
    }
}

/// The picture of a night; none where no tree stands anywhere.
pub(super) fn chart(
    page: &Page<'_>,
    trees: &[Gathered<'_>],
    told: &[Told],
    nights: &[PlaceNight],
) -> Option<Chart> {
    let at_risk: Vec<AtRisk<'_>> = trees
        .iter()
        .zip(told)
        .filter(|(_, told)| told.verdict != Verdict::Stay)
        .map(|(it, told)| AtRisk {
            place: it.place,
            limit: told.judged.deciding().limit,
            name: &it.tree.tree.name,
        })
        .collect();
    let places = mattering(&at_risk, told, trees, nights);
    let first = nights.get(*places.first()?)?;
    let hours = first.night().len();
    let stand = |place: &usize| at_risk.is_empty() || at_risk.iter().any(|it| it.place == *place);
    let drawn = places.iter().filter(|place| stand(place)).flat_map(|&place| nights[place].night());
    let lines = at_risk.iter().map(|it| &it.limit.line.value.0);
    let of_all =
        |start: f64, pick: fn(f64, f64) -> f64| drawn.clone().chain(lines.clone()).copied().fold(start, pick);
    // Freezing is in the picture on any night that comes near it.
    let (coldest, warmest) = (of_all(f64::INFINITY, f64::min), of_all(f64::NEG_INFINITY, f64::max));
    let low = if coldest < NEAR_FROST { coldest.min(0.0) } else { coldest } - 1.0;
    let high = warmest.max(low + 3.0) + 1.0;
    let scale = Scale { low, high, hours };
    let names = |place: &usize| page.whole.places[*place].place.name.clone();
    let clock = |hour: usize| say::clock(page, first.from() + (hour as i64).hours());
    let groups = groups(&at_risk);
    Some(Chart {
        airs: airs(page, &places, nights, scale),
        limits: limits(page, &groups, scale),
        hours: ticks(page, first.from(), hours).map(|(hour, words)| (figure(scale.x(hour)), words)).collect(),
        levels: levels(low, high)
            .map(|it| (figure(scale.y(it)), page.units.temperature(Celsius(it))))
            .collect(),
        words: places.iter().filter_map(|&place| words(page, place, &at_risk, &nights[place])).collect(),
        columns: places.iter().map(names).collect(),
        table: (0..hours)
            .map(|hour| {
                let air = |place: &usize| nights[*place].night().get(hour).copied().unwrap_or(f64::NAN);
                (
                    clock(hour),
                    places.iter().map(|place| page.units.temperature(Celsius(air(place)))).collect(),
                )
            })
            .collect(),
        lines: groups
            .iter()
            .map(|(limit, names)| format!("{}: {}", line_words(page, *limit), names.join(", ")))
            .collect(),
        sentence: format!(
            "The night by the hour in {}, with the lines of {} at risk; the figures stand in the table below",
            count(places.len(), "place", "places"),
            count(at_risk.len(), "tree", "trees")
        ),
    })
}

fn figure(at: f64) -> String {
    format!("{at:.1}")
}

/// Every third hour of the clock, counted from the night's beginning.
fn ticks(page: &Page<'_>, from: Timestamp, hours: usize) -> impl Iterator<Item = (usize, String)> {
    let clock: Vec<String> = (0..hours).map(|hour| say::clock(page, from + (hour as i64).hours())).collect();
    let third = |words: &str| words[..2].parse::<u32>().is_ok_and(|hour| hour % 3 == 0);
    clock.into_iter().enumerate().filter(move |(_, words)| third(words))
}

/// Round temperatures between two, not more than seven.
fn levels(low: f64, high: f64) -> impl Iterator<Item = f64> {
    let step = [1.0, 2.0, 5.0, 10.0].into_iter().find(|step| (high - low) / step <= 7.0).unwrap_or(20.0);
    (0..)
        .map(move |rank| (low / step).ceil() * step + f64::from(rank) * step)
        .take_while(move |it| *it <= high)
}

/// A limit in tenths of a degree, and whether it is one for roots.
type Group = (i64, bool);

/// The trees of each limit, the warmest limit first.
fn groups<'a>(at_risk: &[AtRisk<'a>]) -> Vec<(Group, Vec<&'a str>)> {
    let mut groups: BTreeMap<Group, Vec<&'a str>> = BTreeMap::new();
    for it in at_risk {
        let tenths = (it.limit.line.value.0 * 10.0).round() as i64;
        groups.entry((tenths, is_root(&it.limit))).or_default().push(it.name);
    }
    groups.into_iter().rev().collect()
}

fn line_words(page: &Page<'_>, (tenths, is_root): Group) -> String {
    let part = if is_root { ", roots" } else { "" };
    format!("{}{part}", page.units.temperature(Celsius(tenths as f64 / 10.0)))
}

/// Moves heights apart that lie closer than a line of words, in their order, within the picture.
fn apart(mut heights: Vec<f64>) -> Vec<f64> {
    let mut order: Vec<usize> = (0..heights.len()).collect();
    order.sort_by(|&a, &b| heights[a].total_cmp(&heights[b]));
    let mut least = LINE - 2.0;
    for &at in &order {
        heights[at] = heights[at].max(least);
        least = heights[at] + LINE;
    }
    let mut most = SIZE.1 - MARGIN.2 - 2.0;
    for &at in order.iter().rev() {
        heights[at] = heights[at].min(most);
        most = heights[at] - LINE;
    }
    heights
}

fn airs(page: &Page<'_>, places: &[usize], nights: &[PlaceNight], scale: Scale) -> Vec<AirLine> {
    let shown = || places.iter().take(MOST).map(|&place| (place, &nights[place]));
    let last = |night: &PlaceNight| scale.y(night.night().last().copied().unwrap_or(0.0)) + 4.0;
    let heights = apart(shown().map(|(_, night)| last(night)).collect());
    shown()
        .zip(heights)
        .enumerate()
        .map(|(rank, ((place, night), y))| {
            let name = page.whole.places[place].place.name.clone();
            let point =
                |(hour, &celsius): (usize, &f64)| format!("{:.1},{:.1}", scale.x(hour), scale.y(celsius));
            AirLine {
                dashes: rank + 1,
                points: night.night().iter().enumerate().map(point).collect::<Vec<_>>().join(" "),
                y: figure(y),
                words: format!("{name} {}", page.units.temperature(night.low)),
                name,
            }
        })
        .collect()
}

fn limits(page: &Page<'_>, groups: &[(Group, Vec<&str>)], scale: Scale) -> Vec<LimitLine> {
    let shown = || groups.iter().take(MOST);
    let height = |(tenths, _): Group| scale.y(tenths as f64 / 10.0);
    let heights = apart(shown().map(|(limit, _)| height(*limit) - 3.0).collect());
    shown()
        .zip(heights)
        .map(|((limit, names), words_y)| LimitLine {
            y: figure(height(*limit)),
            words_y: figure(words_y),
            words: match names.as_slice() {
                [name] => format!("{}: {name}", line_words(page, *limit)),
                names => format!("{}: {}", line_words(page, *limit), count(names.len(), "tree", "trees")),
            },
            is_root: limit.1,
        })
        .collect()
}

/// What the night does in a place with trees at risk, or that it spares those who are carried there.
fn words(page: &Page<'_>, place: usize, at_risk: &[AtRisk<'_>], night: &PlaceNight) -> Option<String> {
    let here: Vec<&AtRisk<'_>> = at_risk.iter().filter(|it| it.place == place).collect();
    let name = &page.whole.places[place].place.name;
    let low =
        format!("{name} goes to {} about {}", page.units.temperature(night.low), say::clock(page, night.at));
    let warmest = here.iter().max_by(|a, b| a.limit.line.value.0.total_cmp(&b.limit.line.value.0));
    let Some(warmest) = warmest else { return Some(low) };
    let line = warmest.limit.line.value;
    let under = |hour: &f64| *hour < line.0;
    let trees = count(here.len(), "tree at risk", "trees at risk");
    let first = night.night().iter().position(under);
    let last = night.night().iter().rposition(under);
    let spell = match first.zip(last) {
        Some((first, last)) => {
            let at = |hour: usize| say::clock(page, night.from() + (hour as i64).hours());
            format!("under it from {} to {}", at(first), at(last))
        }
        None => "the air stays above it, but may be off".into(),
    };
    Some(format!(
        "{low}; {trees}, the first line that of {} at {}: {spell}",
        warmest.name,
        page.units.temperature(line)
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_never_lie_on_each_other_and_stay_in_the_picture() {
        let heights = apart(vec![100.0, 101.0, 99.0, 230.0, 229.0]);
        let mut sorted = heights.clone();
        sorted.sort_by(f64::total_cmp);
        assert!(sorted.windows(2).all(|pair| pair[1] - pair[0] >= LINE - 1e-9), "{heights:?}");
        assert!(sorted[4] <= SIZE.1 - MARGIN.2 && sorted[0] > 0.0, "{heights:?}");
        assert!(heights[2] < heights[0] && heights[0] < heights[1], "their order is lost: {heights:?}");
    }

    #[test]
    fn levels_are_round_and_few() {
        let told: Vec<f64> = levels(-3.4, 12.2).collect();
        assert_eq!(told, [0.0, 5.0, 10.0]);
        assert_eq!(levels(-2.2, 1.5).collect::<Vec<_>>(), [-2.0, -1.0, 0.0, 1.0]);
    }
}
