//! Bare temperature series for `calc`: one CSV of hours or of daily lows and highs, told apart by its header.

use jiff::civil::Date;

use crate::{
    logger::Scale,
    refusal::Refusal,
    weather::{
        Note, Why,
        note::Tally,
        unit::{is_temperature, scale},
    },
};

/// One day's low and high, °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayExtremes {
    /// Which day.
    pub date: Date,
    /// Lowest temperature, °C.
    pub low: f64,
    /// Highest temperature, °C.
    pub high: f64,
}

/// What a file held.
#[derive(Clone, Debug, PartialEq)]
pub enum Series {
    /// Temperatures hour by hour, °C.
    Hours(Vec<f64>),
    /// Lows and highs day by day, in order; days may be absent.
    Days(Vec<DayExtremes>),
}

/// Where in a row the numbers stand, and how to read them.
enum Layout {
    Hourly { column: usize, scale: Scale },
    Daily { date: usize, low: usize, high: usize, unit: Unit },
}

/// What a low and a high are in.
#[derive(Clone, Copy)]
enum Unit {
    On(Scale),
    Tenths,
}

impl Unit {
    fn celsius(self, value: f64) -> f64 {
        match self {
            Unit::On(scale) => scale.celsius(value),
            Unit::Tenths => value / 10.0,
        }
    }
}

/// Reads a series whose header names a temperature with its unit, as `temp_c`, `temp_f` or `T [°C]` (hours), or `date`
/// with `tmin` and `tmax`, `temp_min` and `temp_max` (°C), `tmin_f` and `tmax_f`, or `tmin_x10` and `tmax_x10` (days,
/// the last in tenths of °C). A day with an empty low or high is absent; of two rows for one day the first stands.
///
/// # Errors
///
/// Every line that cannot be taken, with its number and value; then nothing is read.
///
/// # Example
///
/// ```
/// use intake::series::{read, Series};
///
/// assert_eq!(read("temp_f\n32\n50\n").unwrap(), Series::Hours(vec![0.0, 10.0]));
/// let refused = read("temp_c\n3.1\nwarm\n").unwrap_err();
/// assert_eq!(refused[0].line, 3);
/// ```
pub fn read(text: &str) -> Result<Series, Vec<Refusal>> {
    read_with_notes(text).map(|(series, _)| series)
}

/// Reads a series, with what was left out or is in doubt.
///
/// # Errors
///
/// As [`read`].
pub fn read_with_notes(text: &str) -> Result<(Series, Vec<Note>), Vec<Refusal>> {
    let text = text.trim_start_matches('\u{feff}');
    let mut rows = csv::ReaderBuilder::new().flexible(true).trim(csv::Trim::All).from_reader(text.as_bytes());
    let header: Vec<String> = match rows.headers() {
        Ok(names) => names.iter().map(String::from).collect(),
        Err(why) => return Err(vec![refusal(1, "", &why.to_string())]),
    };
    let Some(layout) = layout(&header) else {
        let why = if header.iter().any(|name| is_temperature(name)) {
            "the header does not say °C or °F; write it there, as temp_c or temp_f"
        } else {
            "the header names neither temp_c or temp_f, nor date with a low and a high"
        };
        return Err(vec![refusal(1, &header.join(","), why)]);
    };
    let (mut hours, mut days, mut refused) = (Vec::new(), Vec::<DayExtremes>::new(), Vec::new());
    let mut tally = Tally::default();
    for row in rows.records() {
        match row {
            Ok(row) => {
                let line = row.position().map_or(0, |place| place.line() as usize);
                match take(&layout, &row, line, days.last()) {
                    Ok(Taken::Hour(hour)) => hours.push(hour),
                    Ok(Taken::Day(day)) => match days.last() {
                        Some(before) if *before == day => tally.add(Why::SameTwice, 1),
                        Some(before) if before.date == day.date => {
                            let apart = (before.low - day.low).abs().max((before.high - day.high).abs());
                            tally.add_gap(Why::DoublesFirst, apart);
                        }
                        _ => days.push(day),
                    },
                    Ok(Taken::Absent) => {}
                    Err(why) => refused.push(why),
                }
            }
            Err(why) => {
                let line = why.position().map_or(0, |place| place.line() as usize);
                refused.push(refusal(line, "", &why.to_string()));
            }
        }
    }
    match (refused.is_empty(), layout) {
        (false, _) => Err(refused),
        (true, _) if hours.is_empty() && days.is_empty() => {
            Err(vec![refusal(2, "", "the file holds a header and no rows")])
        }
        (true, Layout::Hourly { .. }) => Ok((Series::Hours(hours), tally.notes())),
        (true, Layout::Daily { .. }) => Ok((Series::Days(days), tally.notes())),
    }
}

enum Taken {
    Hour(f64),
    Day(DayExtremes),
    /// A day whose low or high was left empty.
    Absent,
}

fn layout(header: &[String]) -> Option<Layout> {
    let at = |name: &str| header.iter().position(|column| column.eq_ignore_ascii_case(name));
    const PAIRS: [(&str, &str, Unit); 6] = [
        ("tmin", "tmax", Unit::On(Scale::Celsius)),
        ("temp_min", "temp_max", Unit::On(Scale::Celsius)),
        ("tmin_c", "tmax_c", Unit::On(Scale::Celsius)),
        ("tmin_f", "tmax_f", Unit::On(Scale::Fahrenheit)),
        ("tmin_x10", "tmax_x10", Unit::Tenths),
        ("temp_min_f", "temp_max_f", Unit::On(Scale::Fahrenheit)),
    ];
    let daily = at("date").and_then(|date| {
        PAIRS
            .into_iter()
            .find_map(|(low, high, unit)| Some(Layout::Daily { date, low: at(low)?, high: at(high)?, unit }))
    });
    daily.or_else(|| {
        let named = |column: usize| {
            let name = &header[column];
            is_temperature(name).then(|| scale(name)).flatten()
        };
        (0..header.len()).find_map(|column| Some(Layout::Hourly { column, scale: named(column)? }))
    })
}

fn take(
    layout: &Layout,
    row: &csv::StringRecord,
    line: usize,
    before: Option<&DayExtremes>,
) -> Result<Taken, Refusal> {
    match *layout {
        Layout::Hourly { column, scale } => {
            let read = number(row, column, line)?;
            Ok(Taken::Hour(possible(scale.celsius(read), read, line)?))
        }
        Layout::Daily { date, low, high, unit } => {
            let shown = row.get(date).unwrap_or("");
            let day: Date = shown
                .parse()
                .or_else(|_| Date::strptime("%Y%m%d", shown))
                .map_err(|_| refusal(line, shown, "not a date written as 2026-03-08 or 20260308"))?;
            if [low, high].iter().any(|cell| row.get(*cell) == Some("")) {
                return Ok(Taken::Absent);
            }
            let (low, high) = (number(row, low, line)?, number(row, high, line)?);
            let (low, high) = (unit.celsius(low), unit.celsius(high));
            possible(low, low, line)?;
            possible(high, high, line)?;
            if low > high {
                return Err(refusal(line, &format!("{low} and {high}"), "the low is above the high"));
            }
            if let Some(before) = before
                && day < before.date
            {
                let why = format!("stands after {}; days must come in their order", before.date);
                return Err(refusal(line, shown, &why));
            }
            Ok(Taken::Day(DayExtremes { date: day, low, high }))
        }
    }
}

fn number(row: &csv::StringRecord, column: usize, line: usize) -> Result<f64, Refusal> {
    let shown = row.get(column).unwrap_or("");
    match shown.parse::<f64>() {
        Ok(number) if number.is_finite() => Ok(number),
        _ => Err(refusal(line, shown, "not a number")),
    }
}

fn possible(celsius: f64, shown: f64, line: usize) -> Result<f64, Refusal> {
    if (-60.0..=60.0).contains(&celsius) {
        Ok(celsius)
    } else {
        Err(refusal(
            line,
            &shown.to_string(),
            "no air is that cold or hot; is it another unit or a sensor fault?",
        ))
    }
}

fn refusal(line: usize, value: &str, why: &str) -> Refusal {
    Refusal { line, value: value.to_string(), why: why.to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_with_an_empty_cell_is_absent() {
        let Ok(Series::Days(days)) = read("date,tmin,tmax\n2026-01-01,0,5\n2026-01-02,,5\n2026-01-03,1,\n")
        else {
            panic!("not days");
        };
        assert_eq!(days.len(), 1);
    }

    #[test]
    fn a_day_out_of_order_is_named_by_its_line() {
        let refused = read("date,tmin,tmax\n2026-01-03,0,5\n2026-01-02,0,5\n").unwrap_err();
        assert_eq!((refused[0].line, refused[0].value.as_str()), (3, "2026-01-02"));
    }

    #[test]
    fn of_a_day_that_stands_twice_the_first_counts_and_the_difference_is_reported() {
        let text = "date,tmin,tmax\n2026-01-03,0,5\n2026-01-03,0,5\n2026-01-03,1,7\n";
        let (series, notes) = read_with_notes(text).unwrap();
        let Series::Days(days) = series else { panic!("days were expected") };
        assert_eq!((days.len(), days[0].high, notes.len()), (1, 5.0, 2));
        let doubles = notes.iter().find(|note| note.why == Why::DoublesFirst).unwrap();
        assert_eq!((doubles.count, doubles.largest), (1, Some(2.0)));
    }

    #[test]
    fn hours_name_their_unit_in_any_spelling_or_are_refused() {
        assert_eq!(read("T [°F]\n50\n").unwrap(), Series::Hours(vec![10.0]));
        assert_eq!(read("degC\n5\n").unwrap(), Series::Hours(vec![5.0]));
        assert!(read("temperature\n5\n").unwrap_err()[0].why.contains("°C or °F"));
    }

    #[test]
    fn tenths_are_read_as_tenths() {
        let Series::Days(days) = read("date,tavg_x10,tmin_x10,tmax_x10\n19960901,227,190,274\n").unwrap()
        else {
            panic!("days were expected")
        };
        assert_eq!((days[0].low, days[0].high), (19.0, 27.4));
    }

    #[test]
    fn a_low_above_its_high_is_refused() {
        assert!(read("date,tmin,tmax\n2026-01-01,6,5\n").is_err());
    }
}
