//! Daily means of a station and the days on which its trees passed a phase, as a waking model is fitted to.

mod cells;

use std::collections::BTreeMap;

use cells::{Bad, cell, celsius, counted, dated, day_of_year, phase_name, spring_year};
use csv::StringRecord;
use jiff::civil::Date;

use crate::refusal::Refusal;

/// A station's daily mean temperatures, °C; days without a number are absent.
pub type Means = BTreeMap<Date, f64>;

/// One row of the observations: when a phase was passed in one spring.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Observed {
    /// The station's name as written; none where the file has no such column.
    pub station: Option<String>,
    /// Year of the spring.
    pub year: i16,
    /// The species as written; none where the file has no such column.
    pub species: Option<String>,
    /// The phase: `budburst` for a column `budburst_doy`.
    pub phase: String,
    /// Day of that year, 1 being 1 January; none where the cell is empty.
    pub day: Option<i16>,
}

/// Reads daily means: `date` with `tavg_x10` (tenths of °C) or `tavg`, or `year`, `doy` with `temperature`.
///
/// In the second layout `doy` counts on from the year before, day 0 being 31 December. A mean that is empty or `NA`
/// leaves its day absent; nothing is filled here.
///
/// # Errors
///
/// Every line that cannot be taken, with its number and value; then nothing is read.
///
/// # Example
///
/// ```
/// use intake::springs::means;
/// use jiff::civil::date;
///
/// let read = means("date,tavg_x10\n20200101,-31\n").unwrap();
/// assert_eq!(read[&date(2020, 1, 1)], -3.1);
/// assert_eq!(means("date,tavg_x10\n20200101,mild\n").unwrap_err()[0].line, 2);
/// ```
pub fn means(text: &str) -> Result<Means, Vec<Refusal>> {
    let sheet = Sheet::open(text)?;
    let dated = |scale| move |cell: &StringRecord, at: [usize; 3]| Ok((dated(cell, at[0])?, at[2], scale));
    if let (Some(date), Some(mean)) = (sheet.at("date"), sheet.at("tavg_x10")) {
        return sheet.days([date, date, mean], dated(10.0));
    }
    if let (Some(date), Some(mean)) = (sheet.at("date"), sheet.at("tavg")) {
        return sheet.days([date, date, mean], dated(1.0));
    }
    if let (Some(year), Some(doy), Some(mean)) = (sheet.at("year"), sheet.at("doy"), sheet.at("temperature"))
    {
        return sheet.days([year, doy, mean], |row, at| Ok((counted(row, at[0], at[1])?, at[2], 1.0)));
    }
    sheet.unknown("the header names neither date with tavg_x10 or tavg, nor year and doy with temperature")
}

/// Reads observations: `year` with columns such as `budburst_doy`, or `year`, `doy` with `phenophase`; `station` and
/// `species` where the file has them.
///
/// Of the numbered phases, 371 is called `budburst` and 501 `first_flower`. An empty or `NA` day is kept as none.
///
/// # Errors
///
/// Every line that cannot be taken, with its number and value; then nothing is read.
///
/// # Example
///
/// ```
/// use intake::springs::observations;
///
/// let read = observations("station,year,species,first_flower_doy\nSeoul,2020,prunus_yedoensis,87\n").unwrap();
/// assert_eq!((read[0].phase.as_str(), read[0].day), ("first_flower", Some(87)));
/// ```
pub fn observations(text: &str) -> Result<Vec<Observed>, Vec<Refusal>> {
    let sheet = Sheet::open(text)?;
    let columns: Vec<(String, usize)> = (sheet.header.iter().enumerate())
        .filter_map(|(at, name)| Some((name.strip_suffix("_doy")?.to_string(), at)))
        .collect();
    let Some(year) = sheet.at("year") else { return sheet.unknown("the header has no column year") };
    let numbered = sheet.at("doy").zip(sheet.at("phenophase"));
    if columns.is_empty() && numbered.is_none() {
        return sheet
            .unknown("the header names neither a phase such as first_flower_doy, nor doy and phenophase");
    }
    let (mut read, mut refused) = (Vec::new(), Vec::new());
    let mut first_line: BTreeMap<(String, i16, String), usize> = BTreeMap::new();
    for (line, row) in &sheet.rows {
        match sheet.observed(row, year, &columns, numbered) {
            Ok(rows) => {
                let Some(first) = rows.first().filter(|_| numbered.is_none()) else {
                    read.extend(rows);
                    continue;
                };
                let name = |name: &Option<String>| name.clone().unwrap_or_default().to_lowercase();
                let key = (name(&first.station), first.year, name(&first.species));
                let before = *first_line.entry(key).or_insert(*line);
                if before == *line {
                    read.extend(rows);
                } else {
                    let why = format!("this spring already stands in line {before}");
                    refused.push(Refusal { line: *line, value: first.year.to_string(), why });
                }
            }
            Err(why) => refused.push(why.on(*line)),
        }
    }
    whole(read, refused)
}

/// Header in lower case and the rows under it, each with its line.
struct Sheet {
    header: Vec<String>,
    rows: Vec<(usize, StringRecord)>,
}

impl Sheet {
    fn open(text: &str) -> Result<Sheet, Vec<Refusal>> {
        let text = text.trim_start_matches('\u{feff}');
        let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(text.as_bytes());
        let unreadable = |why: csv::Error| {
            let line = why.position().map_or(1, |place| place.line() as usize);
            Refusal { line, value: String::new(), why: why.to_string() }
        };
        let header = reader.headers().map_err(|why| vec![unreadable(why)])?;
        let header = header.iter().map(str::to_lowercase).collect();
        let (mut rows, mut refused) = (Vec::new(), Vec::new());
        for row in reader.records() {
            match row {
                Ok(row) => rows.push((row.position().map_or(0, |place| place.line() as usize), row)),
                Err(why) => refused.push(unreadable(why)),
            }
        }
        if rows.is_empty() && refused.is_empty() {
            let why = "the file holds no row under its header".to_string();
            refused.push(Refusal { line: 1, value: String::new(), why });
        }
        whole(Sheet { header, rows }, refused)
    }

    fn at(&self, name: &str) -> Option<usize> {
        self.header.iter().position(|column| column == name)
    }

    fn unknown<T>(&self, why: &str) -> Result<T, Vec<Refusal>> {
        Err(vec![Refusal { line: 1, value: self.header.join(","), why: why.to_string() }])
    }

    /// Every day's mean; `place` gives a row's date, the column of its mean, and what that is divided by.
    fn days(
        &self,
        at: [usize; 3],
        place: impl Fn(&StringRecord, [usize; 3]) -> Result<(Date, usize, f64), Bad>,
    ) -> Result<Means, Vec<Refusal>> {
        let (mut means, mut refused) = (Means::new(), Vec::new());
        let mut lines: BTreeMap<Date, usize> = BTreeMap::new();
        for (line, row) in &self.rows {
            let taken = place(row, at).and_then(|(date, column, scale)| {
                let before = *lines.entry(date).or_insert(*line);
                if before != *line {
                    let why = format!("this day already stands in line {before}");
                    return Err(Bad::new(&date.to_string(), why));
                }
                Ok((date, celsius(cell(row, column), scale)?))
            });
            match taken {
                Ok((date, Some(mean))) => means.extend([(date, mean)]),
                Ok((_, None)) => {}
                Err(bad) => refused.push(bad.on(*line)),
            }
        }
        whole(means, refused)
    }

    /// What one row says: one phase for each column, or the one it names.
    fn observed(
        &self,
        row: &StringRecord,
        year: usize,
        columns: &[(String, usize)],
        numbered: Option<(usize, usize)>,
    ) -> Result<Vec<Observed>, Bad> {
        let named = |column: &str| self.at(column).map(|at| cell(row, at).to_string());
        let (station, species) = (named("station"), named("species"));
        for (column, name) in [("station", &station), ("species", &species)] {
            if name.as_ref().is_some_and(String::is_empty) {
                return Err(Bad::new("", format!("{column} is empty")));
            }
        }
        let year = spring_year(cell(row, year))?;
        let phases: Vec<(String, usize)> = match numbered {
            Some((doy, phase)) => vec![(phase_name(cell(row, phase)), doy)],
            None => columns.to_vec(),
        };
        let one = |(phase, at): (String, usize)| {
            let day = day_of_year(cell(row, at), year)?;
            Ok(Observed { station: station.clone(), year, species: species.clone(), phase, day })
        };
        phases.into_iter().map(one).collect()
    }
}

fn whole<T>(read: T, refused: Vec<Refusal>) -> Result<T, Vec<Refusal>> {
    if refused.is_empty() { Ok(read) } else { Err(refused) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn days_counted_from_the_year_before_find_their_dates() {
        let read = means("year,doy,temperature,daylength\n1990,-65,13.1,10.24\n1990,0,2,9\n").unwrap();
        assert_eq!(read.keys().copied().collect::<Vec<_>>(), [date(1989, 10, 27), date(1989, 12, 31)]);
    }

    #[test]
    fn an_empty_mean_leaves_its_day_absent() {
        assert_eq!(means("date,tavg_x10\n20200101,\n20200102,NA\n20200103,5\n").unwrap().len(), 1);
    }

    #[test]
    fn a_day_that_stands_twice_is_refused_with_both_lines() {
        let refused = means("date,tavg\n2020-01-01,1\n2020-01-01,2\n").unwrap_err();
        assert_eq!((refused[0].line, refused[0].why.as_str()), (3, "this day already stands in line 2"));
    }

    #[test]
    fn a_spring_that_stands_twice_is_refused_where_trees_are_not_numbered() {
        let twice = observations("station,year,species,budburst_doy\nA,2000,x,90\na,2000,x,91\n");
        assert_eq!(twice.unwrap_err()[0].line, 3);
        let shrubs = observations("year,doy,phenophase\n1991,100,371\n1991,100,371\n").unwrap();
        assert_eq!((shrubs.len(), shrubs[1].phase.as_str()), (2, "budburst"));
    }

    #[test]
    fn days_beyond_their_year_and_impossible_means_are_refused() {
        assert!(observations("year,budburst_doy\n2001,366\n").is_err());
        assert_eq!(observations("year,budburst_doy\n2000,366.0\n").unwrap()[0].day, Some(366));
        assert_eq!(means("date,tavg_x10\n20200101,900\n").unwrap_err()[0].value, "900");
        assert_eq!(means("date,tavg_x10\n20200101\n").unwrap_err()[0].line, 2);
    }
}
