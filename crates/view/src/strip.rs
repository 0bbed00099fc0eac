//! A tree's spring as a strip: stages side by side, the window with its spread, and today.

use dormancy::forecast::Forecast;
use jiff::civil::Date;
use measure::{ladder::Ladder, stage::Stage, winter::Winter};

use crate::words::{self, Days};

/// Width of the strip in its own units.
pub const WIDE: i32 = 1000;

/// A place on the strip as SVG takes it, in per cent of its width.
pub fn percent(units: i32) -> String {
    format!("{}.{}%", units / 10, units % 10)
}

/// A stage's stretch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// BBCH code with two digits, for the colour.
    pub code: String,
    /// The code as it is shown; empty on trees whose stages are not those of leaf buds.
    pub shown: String,
    /// Words for the table and for readers by ear.
    pub words: &'static str,
    /// Left edge.
    pub x: i32,
    /// Width.
    pub wide: i32,
    /// Whether the code fits in.
    pub roomy: bool,
}

impl Stretch {
    /// Left edge in per cent.
    pub fn left(&self) -> String {
        percent(self.x)
    }

    /// Width in per cent.
    pub fn width(&self) -> String {
        percent(self.wide)
    }

    /// Middle in per cent.
    pub fn middle(&self) -> String {
        percent(self.x + self.wide / 2)
    }
}

impl Tick {
    /// Its place in per cent.
    pub fn left(&self) -> String {
        percent(self.x)
    }
}

/// A first of the month or a middle of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tick {
    /// Where.
    pub x: i32,
    /// Its name.
    pub label: String,
}

/// The repotting window on the strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WindowSpan {
    /// One in ten opens earlier.
    pub from: i32,
    /// Opens in the middle.
    pub opens: i32,
    /// Closes in the middle.
    pub closes: i32,
    /// One in ten closes later.
    pub to: i32,
}

impl WindowSpan {
    /// Left end of the line, one in ten opens earlier, in per cent.
    pub fn line_from(&self) -> String {
        percent(self.from)
    }

    /// Right end of the line, one in ten closes later, in per cent.
    pub fn line_to(&self) -> String {
        percent(self.to)
    }

    /// Left edge of the block in per cent.
    pub fn left(&self) -> String {
        percent(self.opens)
    }

    /// Width of the block in per cent, at least a hair.
    pub fn width(&self) -> String {
        percent((self.closes - self.opens).max(6))
    }

    /// Whether any of it lies in the frame.
    pub fn is_seen(&self) -> bool {
        self.from < WIDE && self.to > 0
    }
}

impl Strip {
    /// Today in per cent.
    pub fn today_at(&self) -> Option<String> {
        self.today.map(percent)
    }
}

/// A strip with everything on it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Strip {
    /// The stages by their middle dates.
    pub stretches: Vec<Stretch>,
    /// The window.
    pub window: Option<WindowSpan>,
    /// Today, where it lies in the frame.
    pub today: Option<i32>,
    /// Months.
    pub ticks: Vec<Tick>,
    /// The strip in one sentence, for readers by ear.
    pub sentence: String,
    /// The table behind it: each stage and when it is reached, none where too few courses reach it.
    pub dates: Vec<(String, Option<Days>)>,
}

/// First and last day of the strip, as day numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Frame {
    /// First day.
    pub from: i32,
    /// Last day.
    pub to: i32,
}

impl Frame {
    /// A hundred days that hold today in spring, and the coming or past spring in the rest of the year.
    pub fn around(today: i32) -> Frame {
        let from = (today - 14).clamp(15, 80);
        Frame { from, to: from + 100 }
    }

    /// Whether a day lies in it.
    pub fn holds(self, day: i32) -> bool {
        (self.from..=self.to).contains(&day)
    }

    fn x(self, day: i32) -> i32 {
        ((day - self.from) * WIDE / (self.to - self.from)).clamp(0, WIDE)
    }
}

/// The strip of a forecast.
pub fn strip(forecast: &Forecast, ladder: Ladder, winter: Winter, today: i32, frame: Frame) -> Strip {
    let mut edges: Vec<(Stage, i32)> = vec![(Stage::Dormant, frame.from)];
    for stage in Stage::ALL.into_iter().skip(1) {
        if let Some(spread) = forecast.of(stage) {
            edges.push((stage, spread.middle));
        }
    }
    let stretches = edges
        .iter()
        .enumerate()
        .map(|(at, &(stage, from))| {
            let to = edges.get(at + 1).map_or(frame.to, |&(_, day)| day);
            let (x, end) = (frame.x(from), frame.x(to));
            Stretch {
                code: format!("{:02}", stage.code()),
                shown: if ladder == Ladder::Leaf { format!("{:02}", stage.code()) } else { String::new() },
                words: ladder.words(stage),
                x,
                wide: end - x,
                roomy: end - x >= 62,
            }
        })
        .filter(|stretch| stretch.wide > 0)
        .collect();
    // What is repotted by its months has no window by its buds.
    let window = forecast.window().filter(|_| ladder.has_window()).map(|window| WindowSpan {
        from: frame.x(window.opens.early),
        opens: frame.x(window.opens.middle),
        closes: frame.x(window.closes.middle + 1),
        to: frame.x(window.closes.late + 1),
    });
    let today_date = winter.date(today);
    let sentence = match forecast.window() {
        Some(window) if !ladder.has_window() => {
            format!("{} about {}", ladder.ready(), words::day(winter.date(window.opens.middle), today_date))
        }
        Some(window) => format!(
            "buds full about {}, green tips after {}",
            words::day(winter.date(window.opens.middle), today_date),
            words::day(winter.date(window.closes.middle), today_date)
        ),
        None => "no window in sight".into(),
    };
    Strip {
        stretches,
        window,
        today: frame.holds(today).then(|| frame.x(today)),
        ticks: ticks(winter, frame, today_date),
        sentence,
        dates: forecast
            .stages
            .iter()
            .map(|&(stage, spread)| {
                (ladder.told(stage), spread.map(|spread| words::days(winter, spread, today_date)))
            })
            .collect(),
    }
}

/// The first days of months in a frame.
pub fn ticks(winter: Winter, frame: Frame, today: Date) -> Vec<Tick> {
    (frame.from..frame.to)
        .map(|day| (day, winter.date(day)))
        .filter(|(_, date)| date.day() == 1)
        .map(|(day, date)| {
            let label = words::day(date, today).split(' ').nth(1).unwrap_or("").to_string();
            Tick { x: frame.x(day), label }
        })
        .collect()
}
