//! A typical year: no record of any season, but a stand-in for past years where the station has none; only a whole one.

use jiff::{ToSpan, civil::Date, tz::TimeZone};

use super::{Contents, Preview, WeatherContents, date_of, kept_note, range_note};
use crate::{
    refusal::Refusal,
    weather::{Format, WeatherFile},
};

/// Hours that a day must have before its low and high are believed.
const WHOLE_DAY: u32 = 20;

/// A leap year, on which the days are numbered.
const YEAR: i16 = 2024;

/// One day of the year while it is gathered.
#[derive(Clone, Copy)]
struct Gathered {
    low: f64,
    high: f64,
    hours: u32,
}

pub(super) fn preview(file: WeatherFile) -> Preview {
    let mut notes: Vec<String> = file.notes.iter().map(ToString::to_string).collect();
    notes.extend(range_note(file.hours.iter().map(|hour| hour.temperature)));
    let mut refused = file.refused;
    let nothing = Gathered { low: f64::INFINITY, high: f64::NEG_INFINITY, hours: 0 };
    let mut days = vec![nothing; 366];
    for hour in &file.hours {
        // The stamp is the hour's end; the middle of the hour tells its day.
        let Some(date) = date_of(hour.at - 1800 + file.offset, &TimeZone::UTC) else { continue };
        let day = &mut days[rank(date.month(), date.day())];
        *day = Gathered {
            low: day.low.min(hour.temperature),
            high: day.high.max(hour.temperature),
            hours: day.hours + 1,
        };
    }
    let leap = rank(2, 29);
    if days[leap].hours < WHOLE_DAY {
        days[leap] = days[leap - 1];
    }
    let missing: Vec<usize> = (0..days.len()).filter(|at| days[*at].hours < WHOLE_DAY).collect();
    let held = days.len() - missing.len();
    if !missing.is_empty() {
        refused.push(Refusal {
            line: 0,
            value: format!("{held} of 366 days"),
            why: format!(
                "a typical year stands in for whole past years and must hold every day; missing, or with under {WHOLE_DAY} \
                 hours: {}",
                spans(&missing)
            ),
        });
    }
    let twice = days.iter().filter(|day| day.hours > 24).count();
    if twice > 0 {
        refused.push(Refusal {
            line: 0,
            value: format!("{twice} days with more than 24 hours"),
            why: "the file holds more than one year; bring in one".into(),
        });
    }
    let short = days.iter().filter(|day| (WHOLE_DAY..24).contains(&day.hours)).count();
    if short > 0 {
        notes.push(format!("days with 20 to 23 hours, taken as whole: {short}"));
    }
    notes.push(
        "a typical year is stitched from many years: it stands in for past years and for days nobody measured, and \
         never counts as a record"
            .into(),
    );
    notes.extend(kept_note(&[], &file.elements));
    let whole = missing.is_empty() && twice == 0;
    Preview {
        format: Format::Epw.words().into(),
        rows: held,
        span: None,
        notes,
        questions: Vec::new(),
        refused,
        contents: whole.then(|| {
            Contents::Weather(WeatherContents::Typical {
                days: days.iter().map(|day| (day.low, day.high)).collect(),
                elements: file.elements,
            })
        }),
    }
}

/// The rank of a day in a leap year.
fn rank(month: i8, day: i8) -> usize {
    Date::constant(YEAR, month, day).day_of_year() as usize - 1
}

/// Days of the year as spans: “1 January to 9 January, 3 March”.
fn spans(ranks: &[usize]) -> String {
    let shown = |rank: usize| {
        let date = Date::constant(YEAR, 1, 1) + (rank as i64).days();
        date.strftime("%-d %B").to_string()
    };
    let spans = ranks.chunk_by(|a, b| a + 1 == *b).map(|run| match run {
        [only] => shown(*only),
        [first, .., last] => format!("{} to {}", shown(*first), shown(*last)),
        [] => String::new(),
    });
    spans.collect::<Vec<_>>().join(", ")
}
