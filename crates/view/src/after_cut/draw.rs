//! The use before and after a root cut as a picture: the level before, the break, the span expected, and what was seen.

use season::watering::after_cut::Used;

use super::{Told, per_cent};

/// Width and height of the picture in its own units.
pub const SIZE: (f64, f64) = (700.0, 190.0);

/// Left free for the words of the scale, and below for the days.
const MARGIN: (f64, f64) = (44.0, 26.0);

/// Days before the cut and after it that are shown.
const SHOWN: (f64, f64) = (-28.0, 84.0);

/// The most that is drawn, share of the use before.
const TOP: f64 = 1.4;

/// A use as a bar.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// Left and right end.
    pub ends: [String; 2],
    /// Height.
    pub y: String,
    /// Whether it was on the scale.
    pub weighed: bool,
    /// What it says.
    pub words: String,
}

/// The picture.
#[derive(Clone, Debug, PartialEq)]
pub struct CutCurve {
    /// The span expected, as a polygon.
    pub span: String,
    /// The middle of it, from the level before over the break, as a polyline.
    pub middle: String,
    /// Where the cut lies.
    pub cut: String,
    /// What is written beside it.
    pub cut_words: String,
    /// Where today lies.
    pub now: String,
    /// Levels: their place and words.
    pub levels: Vec<(String, &'static str)>,
    /// Days with their place.
    pub days: Vec<(String, String)>,
    /// What was seen.
    pub bars: Vec<Bar>,
    /// The picture in one sentence.
    pub sentence: String,
}

fn x(days: f64) -> f64 {
    MARGIN.0 + (days - SHOWN.0) / (SHOWN.1 - SHOWN.0) * (SIZE.0 - MARGIN.0)
}

fn y(share: f64) -> f64 {
    6.0 + (1.0 - share.min(TOP) / TOP) * (SIZE.1 - MARGIN.1 - 6.0)
}

fn figure(at: f64) -> String {
    format!("{at:.1}")
}

/// The picture at an hour of the thirst.
pub(super) fn curve(told: &Told<'_>, now: f64) -> CutCurve {
    let it = told.it;
    let pair = |days: f64, share: f64| format!("{:.1},{:.1}", x(days), y(share));
    let ahead: Vec<f64> = (0..=42).map(|step| f64::from(step) * 2.0).collect();
    let left = |days: f64| it.cut.left(it.cut.hour + days * 24.0);
    let low: Vec<String> = ahead.iter().map(|&day| pair(day, left(day).low.0)).collect();
    let high = ahead.iter().rev().map(|&day| pair(day, left(day).high.0));
    let before = [pair(SHOWN.0, 1.0), pair(0.0, 1.0)];
    let middle = ahead.iter().map(|&day| pair(day, left(day).middle.0));
    let shown = |used: &&Used| it.cut.days(used.to) > SHOWN.0 && it.cut.days(used.from) < SHOWN.1;
    CutCurve {
        span: low.into_iter().chain(high).collect::<Vec<_>>().join(" "),
        middle: before.into_iter().chain(middle).collect::<Vec<_>>().join(" "),
        cut: figure(x(0.0)),
        cut_words: match it.cut.roots.is_noted() {
            true => format!("{} of the roots cut", per_cent(it.cut.roots.likely)),
            false => "repotted".into(),
        },
        now: figure(x(it.cut.days(now).min(SHOWN.1))),
        levels: [(1.0, "100 %"), (0.5, "50 %"), (0.0, "0")]
            .map(|(share, words)| (figure(y(share)), words))
            .to_vec(),
        days: (-2..6)
            .map(|fortnight| f64::from(fortnight) * 14.0)
            .map(|days| (figure(x(days)), told.day_after(days)))
            .collect(),
        bars: it.uses.iter().filter(shown).map(|used| bar(told, used)).collect(),
        sentence: super::say::answer(told),
    }
}

fn bar(told: &Told<'_>, used: &Used) -> Bar {
    let ends = [used.from, used.to].map(|hour| told.it.cut.days(hour).clamp(SHOWN.0, SHOWN.1));
    Bar {
        ends: [figure(x(ends[0])), figure(x(ends[1]).max(x(ends[0]) + 3.0))],
        y: figure(y(used.share().0)),
        weighed: used.weighed,
        words: format!(
            "{} to {}: {} of its use before",
            told.day(used.from),
            told.day(used.to),
            per_cent(used.share())
        ),
    }
}
