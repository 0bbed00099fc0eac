//! Told against seen: every first green of past springs, as the springs before it would have told it.

use measure::winter::Winter;

use crate::{whole::Whole, words};

/// One first green of a past spring.
#[derive(Clone, Debug, PartialEq)]
pub struct Dot {
    /// From the left, by the day told, 0 to 100.
    pub x: f64,
    /// From the top, by the day seen, 0 to 100.
    pub y: f64,
    /// Tree, spring, days.
    pub words: String,
}

/// A day along an edge of the picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Tick {
    /// From the left, or from the bottom, 0 to 100.
    pub at: f64,
    /// The day without its year.
    pub words: String,
}

/// The picture, with how far off it was.
#[derive(Clone, Debug, PartialEq)]
pub struct Hindsight {
    /// All first greens that looks date.
    pub dots: Vec<Dot>,
    /// Days along the edges.
    pub ticks: Vec<Tick>,
    /// Mean miss, and whether it told too early or too late.
    pub says: String,
    /// What the picture leaves open.
    pub doubt: &'static str,
}

/// Days from one tick to the next.
const TICK: i32 = 20;

/// Days that a picture is wide at least.
const LEAST: i32 = 40;

/// Told against seen over all past springs; none where no look dates one.
pub fn hindsight(whole: &Whole) -> Option<Hindsight> {
    let ground = whole.ground.as_ref().ok()?;
    let mut days: Vec<(i32, i32, String)> = Vec::new();
    for tree in &whole.trees {
        let Ok(told) = &tree.told else { continue };
        for past in &told.past {
            let Some((told, seen)) = past.broke.and_then(|it| Some((it.told?, it.seen))) else { continue };
            let ago = i16::try_from(past.years_ago).unwrap_or(i16::MAX);
            let winter: Winter = ground.winter.earlier(ago);
            let day = |number: i32| words::day(winter.date(number), whole.today);
            days.push((told, seen, format!("{}: told {}, seen {}", tree.tree.name, day(told), day(seen))));
        }
    }
    let first = days.iter().map(|it| it.0.min(it.1)).min()? - 3;
    let last = (days.iter().map(|it| it.0.max(it.1)).max()? + 3).max(first + LEAST);
    let along = |day: i32| 100.0 * f64::from(day - first) / f64::from(last - first);
    let ticks = (first..=last).filter(|day| day.rem_euclid(TICK) == 0);
    let ticks = ticks.map(|day| Tick {
        at: along(day),
        words: words::day(ground.winter.date(day), ground.winter.date(day)),
    });
    let count = days.len() as f64;
    let miss = days.iter().map(|it| f64::from((it.0 - it.1).abs())).sum::<f64>() / count;
    let late = days.iter().map(|it| f64::from(it.0 - it.1)).sum::<f64>() / count;
    let leans = match late.round() as i32 {
        0 => "neither early nor late on the whole".to_string(),
        days if days > 0 => format!("on the whole {} too late", words::count(days, "day", "days")),
        days => format!("on the whole {} too early", words::count(-days, "day", "days")),
    };
    Some(Hindsight {
        says: format!(
            "{} of past springs: {} off on average, {leans}",
            words::count(days.len() as i32, "first green", "first greens"),
            words::count(miss.round() as i32, "day", "days")
        ),
        dots: days
            .into_iter()
            .map(|(told, seen, words)| Dot { x: along(told), y: 100.0 - along(seen), words })
            .collect(),
        ticks: ticks.collect(),
        doubt: "Each is told by that spring's weather and by what the springs before had taught, not by its own looks; the day seen lies between two looks, up to three weeks apart.",
    })
}
