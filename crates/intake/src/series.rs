//! Bare temperature series for `calc`: one CSV of hours or of daily lows and highs, told apart by its header.

use jiff::civil::Date;
use measure::quantity::Fahrenheit;

use crate::refusal::Refusal;

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
    Hourly { column: usize, fahrenheit: bool },
    Daily { date: usize, low: usize, high: usize, tenths: bool },
}

/// Reads a series whose header names `temp_c` or `temp_f` (hours), or `date` with `tmin` and `tmax`,
/// `temp_min` and `temp_max`, or `tmin_x10` and `tmax_x10` (days, the last in tenths of °C). A day with an empty low
/// or high is absent.
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
    let text = text.trim_start_matches('\u{feff}');
    let mut rows = csv::ReaderBuilder::new().flexible(true).trim(csv::Trim::All).from_reader(text.as_bytes());
    let header: Vec<String> = match rows.headers() {
        Ok(names) => names.iter().map(str::to_lowercase).collect(),
        Err(why) => return Err(vec![refusal(1, "", &why.to_string())]),
    };
    let Some(layout) = layout(&header) else {
        let why = "the header names neither temp_c or temp_f, nor date with a low and a high";
        return Err(vec![refusal(1, &header.join(","), why)]);
    };
    let (mut hours, mut days, mut refused) = (Vec::new(), Vec::new(), Vec::new());
    for row in rows.records() {
        match row {
            Ok(row) => {
                let line = row.position().map_or(0, |place| place.line() as usize);
                match take(&layout, &row, line, days.last()) {
                    Ok(Taken::Hour(hour)) => hours.push(hour),
                    Ok(Taken::Day(day)) => days.push(day),
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
        (true, Layout::Hourly { .. }) => Ok(Series::Hours(hours)),
        (true, Layout::Daily { .. }) => Ok(Series::Days(days)),
    }
}

enum Taken {
    Hour(f64),
    Day(DayExtremes),
    /// A day whose low or high was left empty.
    Absent,
}

fn layout(header: &[String]) -> Option<Layout> {
    let at = |name: &str| header.iter().position(|column| column == name);
    if let Some(column) = at("temp_c") {
        return Some(Layout::Hourly { column, fahrenheit: false });
    }
    if let Some(column) = at("temp_f") {
        return Some(Layout::Hourly { column, fahrenheit: true });
    }
    let date = at("date")?;
    let pairs = [("tmin", "tmax", false), ("temp_min", "temp_max", false), ("tmin_x10", "tmax_x10", true)];
    pairs
        .into_iter()
        .find_map(|(low, high, tenths)| Some(Layout::Daily { date, low: at(low)?, high: at(high)?, tenths }))
}

fn take(
    layout: &Layout,
    row: &csv::StringRecord,
    line: usize,
    before: Option<&DayExtremes>,
) -> Result<Taken, Refusal> {
    match *layout {
        Layout::Hourly { column, fahrenheit } => {
            let read = number(row, column, line)?;
            let celsius = if fahrenheit { Fahrenheit(read).celsius().0 } else { read };
            Ok(Taken::Hour(possible(celsius, read, line)?))
        }
        Layout::Daily { date, low, high, tenths } => {
            let shown = row.get(date).unwrap_or("");
            let day: Date = shown
                .parse()
                .or_else(|_| Date::strptime("%Y%m%d", shown))
                .map_err(|_| refusal(line, shown, "not a date written as 2026-03-08 or 20260308"))?;
            if [low, high].iter().any(|cell| row.get(*cell) == Some("")) {
                return Ok(Taken::Absent);
            }
            let parts = if tenths { 10.0 } else { 1.0 };
            let (low, high) = (number(row, low, line)? / parts, number(row, high, line)? / parts);
            possible(low, low, line)?;
            possible(high, high, line)?;
            if low > high {
                return Err(refusal(line, &format!("{low} and {high}"), "the low is above the high"));
            }
            if let Some(before) = before
                && day <= before.date
            {
                let why = format!("stands after {}; days must come in their order, each once", before.date);
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
    fn a_day_out_of_order_or_twice_is_named_by_its_line() {
        for second in ["2026-01-02", "2026-01-03"] {
            let refused = read(&format!("date,tmin,tmax\n2026-01-03,0,5\n{second},0,5\n")).unwrap_err();
            assert_eq!((refused[0].line, refused[0].value.as_str()), (3, second));
        }
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
