//! What was left out of a file or taken with a doubt, counted per reason.

use std::{collections::BTreeMap, fmt};

/// Why a value was left out, or what weakens it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// The format's own mark for no value, or an empty cell.
    Missing,
    /// The keeper of the record flagged the value.
    Flagged,
    /// A trace of rain, taken as none.
    Trace,
    /// Kinds of measurement that have no use here.
    NotUsed,
    /// Day rows read in the morning.
    MorningReading,
    /// Days from the first to the last without both a low and a high.
    DaysMissing,
    /// Hours between the first and the last without a temperature.
    HoursMissing,
    /// Hours of a typical year.
    TypicalYear,
    /// The same reading twice.
    SameTwice,
    /// Readings that stand after a later one.
    OutOfOrder,
    /// A row without a temperature.
    Empty,
    /// A row of the logger about itself.
    EventRow,
    /// Columns of temperature beside the first.
    OtherColumns,
    /// A cell that says NaN.
    NotANumber,
    /// −9999 and its kin.
    NoValueMark,
    /// −127: the sensor was unplugged.
    Unplugged,
    /// 85.0: the sensor had just been switched on.
    PowerOn,
    /// −40 alone among warmer readings.
    LoneMinus40,
    /// Stamps in the repeated autumn hour, told apart by their order.
    AutumnHourByOrder,
    /// Stamps in the repeated autumn hour that came once.
    AutumnHourUnclear,
    /// Jumps of more than 8 °C in ten minutes.
    Spike,
    /// Stretches of more than three hours without a reading.
    LongGap,
    /// Dates whose year has two digits.
    ShortYear,
    /// Moments with different readings, of which the mean was taken.
    DoublesMean,
    /// Moments or days with different values, of which the first was taken.
    DoublesFirst,
    /// Values of another element that cannot be.
    ElementImpossible,
    /// Second values of another element for one moment.
    ElementTwice,
    /// Columns of another element whose unit is not named.
    ElementUnit,
    /// Days that the sender cut with the other season's clock.
    DayShifted,
}

impl Why {
    /// The reason in words, to stand before its count.
    pub fn words(self) -> &'static str {
        match self {
            Why::Missing => "missing",
            Why::Flagged => "flagged by the keeper of the record",
            Why::Trace => "a trace of rain, taken as none",
            Why::NotUsed => "of a kind that is not used here",
            Why::MorningReading => "read in the morning, so the high is mostly that of the day before",
            Why::DaysMissing => "days without both a low and a high",
            Why::HoursMissing => "hours in between without a temperature",
            Why::TypicalYear => "of a typical year pieced together, no record of a real season",
            Why::SameTwice => "same reading twice",
            Why::OutOfOrder => "out of order, sorted",
            Why::Empty => "rows without a temperature",
            Why::EventRow => "rows of the logger about itself",
            Why::OtherColumns => "further columns of temperature, left out",
            Why::NotANumber => "marked NaN",
            Why::NoValueMark => "sentinel for no value (−9999, 9999, −999, 999 or 999.9)",
            Why::Unplugged => "sentinel −127 (sensor unplugged)",
            Why::PowerOn => "sentinel 85 (sensor just switched on)",
            Why::LoneMinus40 => "sentinel −40 (alone among warmer readings)",
            Why::AutumnHourByOrder => "in the repeated autumn hour, told apart by their order",
            Why::AutumnHourUnclear => "in the autumn hour that comes twice, taken as summer time",
            Why::Spike => "jumps of more than 8 °C in ten minutes, kept",
            Why::LongGap => "gaps of more than three hours",
            Why::ShortYear => "dates with a year of two digits, taken as the last of the three numbers",
            Why::DoublesMean => "times with different readings, their mean taken",
            Why::DoublesFirst => "times or days with different values, the first one taken",
            Why::ElementImpossible => "values of humidity, wind, sun or rain that cannot be, left out",
            Why::ElementTwice => "second values of humidity, wind, sun or rain for one hour, left out",
            Why::ElementUnit => {
                "columns of humidity, wind, sun or rain without a unit that is known, left out"
            }
            Why::DayShifted => "days cut an hour off, past a change of clocks",
        }
    }
}

/// A reason and how often it applied.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Note {
    /// The reason.
    pub why: Why,
    /// How often.
    pub count: usize,
    /// The largest difference between values for one moment, in their unit.
    pub largest: Option<f64>,
}

impl fmt::Display for Note {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.why.words(), self.count)?;
        self.largest.map_or(Ok(()), |gap| write!(f, ", at most {gap:.1} apart"))
    }
}

/// Counts reasons while a file is read.
#[derive(Debug, Default)]
pub(crate) struct Tally(BTreeMap<Why, (usize, Option<f64>)>);

impl Tally {
    pub(crate) fn add(&mut self, why: Why, count: usize) {
        if count > 0 {
            self.0.entry(why).or_default().0 += count;
        }
    }

    /// Counts one moment with different values, and keeps the largest difference.
    pub(crate) fn add_gap(&mut self, why: Why, gap: f64) {
        let (count, largest) = self.0.entry(why).or_default();
        *count += 1;
        *largest = Some(largest.map_or(gap, |before| before.max(gap)));
    }

    pub(crate) fn notes(self) -> Vec<Note> {
        self.0.into_iter().map(|(why, (count, largest))| Note { why, count, largest }).collect()
    }
}
