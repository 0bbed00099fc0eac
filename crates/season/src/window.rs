//! A tree's repotting window from a weather record, its taxon and its bud looks.

use climate::{
    hours::{Extremes, HoursError, from_extremes},
    light::{DayLength, day_length},
};
use collection::event::{Look, Sureness};
use dormancy::{
    chill::{ChillModel, sum},
    forecast::{Course, Evidence, Forecast, Pace, forecast},
    table::Figures,
    wake::{BudDay, Wake, course},
};
use jiff::civil::Date;
use measure::{
    quantity::Degrees,
    taxon::Taxon,
    winter::{Hemisphere, Winter},
};

/// Most past years to splice on; older ones are colder and help no more.
pub const MOST_YEARS: i16 = 20;

/// Last day of a season that a course must reach: late July in the north.
const HORIZON: i32 = 205;

/// A tree's pace before anything is known of it: a third either way, because the taxon's need is a planning
/// figure; the 3 to 4 days between trees of one kind are small beside that. Our estimate.
pub const PRIOR: Pace = Pace { mean: 0.0, sd: 0.35 };

/// Lows and highs of the place where a tree stands, day by day without a gap.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// Degrees north.
    pub latitude: Degrees,
    /// Date of the first day.
    pub first: Date,
    /// One entry per day.
    pub days: Vec<Extremes>,
}

/// Why there is no answer at all.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// The record cannot be made into hours.
    #[error(transparent)]
    Hours(#[from] HoursError),
    /// Today lies outside the record.
    #[error("the record runs from {first} to {last}, which does not hold {today}")]
    TodayOutside {
        /// First day of the record.
        first: Date,
        /// Last day of the record.
        last: Date,
        /// The day asked for.
        today: Date,
    },
    /// No past year reaches from today's date to the end of its season.
    #[error("no earlier year in the record runs on past today's date; at least one is needed")]
    NoPastYear,
    /// The taxon keeps no winter rest, so no cold is counted and no window of this kind exists.
    #[error("{0} keeps no winter rest; its repotting is set by warmth, not by this forecast")]
    NoRest(&'static str),
}

/// The season so far and the years that may follow, as a bud at the place feels them.
///
/// Compute it once per place; every taxon and tree there shares it.
#[derive(Clone, Debug, PartialEq)]
pub struct Seasons {
    /// Which winter.
    pub winter: Winter,
    /// Day number of today.
    pub today: i32,
    /// Day number of the first day known this winter.
    pub first_day: i32,
    /// One possible course per past year; all agree up to today.
    pub years: Vec<Vec<BudDay>>,
}

/// Splices each past year on to this season's observed days.
///
/// # Errors
///
/// [`Error`] when today lies outside the record, no past year can follow, or a low is above its high.
pub fn seasons(record: &Record, today: Date) -> Result<Seasons, Error> {
    let hours = from_extremes(record.latitude, record.first, &record.days)?;
    let mut date = record.first;
    let mut days = Vec::with_capacity(record.days.len());
    for day in hours.as_chunks::<24>().0 {
        let light = day_length(DayLength::Spencer, record.latitude, date.day_of_year() as u16);
        days.push(BudDay {
            mean: day.iter().sum::<f64>() / 24.0,
            cold: sum(ChillModel::HoursC, day),
            light: light.map_err(HoursError::from)?.0,
        });
        date = date.tomorrow().unwrap_or(date);
    }
    let at = |date: Date| -> Option<usize> {
        let since = (date - record.first).get_days();
        usize::try_from(since).ok().filter(|&at| at < days.len())
    };
    let last = date.yesterday().unwrap_or(date);
    let now = at(today).ok_or(Error::TodayOutside { first: record.first, last, today })?;
    let winter = Winter::holding(today, Hemisphere::of(record.latitude));
    let begin = at(winter.first_date()).unwrap_or(0);
    let today_number = winter.day_number(today);
    let observed = &days[begin..=now];
    let years = (1..=MOST_YEARS)
        .filter_map(|ago| {
            let past = winter.earlier(ago);
            let (from, to) =
                (at(past.date(today_number + 1))?, at(past.date(HORIZON.max(today_number + 1)))?);
            Some([observed, &days[from..=to]].concat())
        })
        .collect::<Vec<_>>();
    if years.is_empty() {
        return Err(Error::NoPastYear);
    }
    Ok(Seasons { winter, today: today_number, first_day: today_number - (now - begin) as i32, years })
}

/// What is told of one tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// Stages, chances today, pace and caveats; days are numbers of [`Seasons::winter`].
    pub forecast: Forecast,
    /// Chilling hours received so far this winter.
    pub cold: f64,
    /// The planning figures used.
    pub figures: &'static Figures,
    /// True where the record begins after the winter did, so that early cold is missing from the count.
    pub cold_cut_short: bool,
}

/// The forecast of one tree at a place.
///
/// # Errors
///
/// [`Error::NoRest`] for tropicals and succulents.
pub fn window(seasons: &Seasons, taxon: &'static Taxon, looks: &[Look]) -> Result<Told, Error> {
    let figures = Figures::of(taxon.key).filter(|_| taxon.kind.rests()).ok_or(Error::NoRest(taxon.common))?;
    let wake = Wake::of(figures).value;
    let courses: Vec<Course> =
        seasons.years.iter().map(|days| course(&wake, seasons.first_day, days)).collect();
    let evidence: Vec<Evidence> = looks
        .iter()
        .map(|look| Evidence {
            day: seasons.winter.day_number(look.day),
            stage: look.stage,
            noise: match look.sureness {
                Sureness::Sure => 0.05,
                Sureness::Fair => 0.1,
                Sureness::Doubtful => 0.2,
            },
        })
        .filter(|look| (seasons.first_day..=seasons.today).contains(&look.day))
        .collect();
    let so_far = (seasons.today - seasons.first_day + 1) as usize;
    Ok(Told {
        forecast: forecast(&courses, seasons.today, PRIOR, &evidence),
        cold: seasons.years[0][..so_far].iter().map(|day| day.cold).sum(),
        figures,
        cold_cut_short: seasons.first_day > Winter::FIRST_DAY,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use measure::{quantity::Celsius, stage::Stage};

    /// Thirteen invented years of a cool temperate place, each a little different.
    fn record(latitude: f64) -> Record {
        let first = date(2012, 1, 1);
        let south = if latitude < 0.0 { 182.6 } else { 0.0 };
        let days = (0..365 * 13)
            .map(|day| {
                let day = f64::from(day);
                let season = -((day - 18.0 - south) * std::f64::consts::TAU / 365.25).cos();
                let mean = 9.0 + 9.5 * season + 2.5 * (day / 9.0).sin() + 1.5 * (day / 401.0).sin();
                Extremes { low: Celsius(mean - 4.0), high: Celsius(mean + 4.0) }
            })
            .collect();
        Record { latitude: Degrees(latitude), first, days }
    }

    fn taxon(key: &str) -> &'static Taxon {
        Taxon::of(key).unwrap()
    }

    fn opens(seasons: &Seasons, key: &str, looks: &[Look]) -> i32 {
        window(seasons, taxon(key), looks).unwrap().forecast.window().expect("a window").opens.middle
    }

    #[test]
    fn quince_opens_before_maple_and_maple_before_beech() {
        let seasons = seasons(&record(47.4), date(2024, 2, 1)).unwrap();
        let days: Vec<i32> = ["chaenomeles-speciosa", "acer-palmatum", "fagus-sylvatica"]
            .iter()
            .map(|key| opens(&seasons, key, &[]))
            .collect();
        assert!(days[0] < days[1] && days[1] < days[2], "{days:?}");
        assert!(days[0] > 0 && days[2] < 150, "{days:?}");
    }

    #[test]
    fn buds_seen_further_on_open_the_window_sooner() {
        let seasons = seasons(&record(47.4), date(2024, 3, 25)).unwrap();
        let seen = |stage| Look {
            tree: "old-maple".into(),
            day: date(2024, 3, 25),
            stage,
            sureness: Sureness::Sure,
            note: String::new(),
        };
        let [hard, swelling, full] = [Stage::Dormant, Stage::Swelling, Stage::Full]
            .map(|stage| opens(&seasons, "acer-palmatum", &[seen(stage)]));
        assert!(full < swelling && swelling < hard, "{full} {swelling} {hard}");
    }

    #[test]
    fn the_southern_winter_gives_the_same_season_half_a_year_on() {
        let north = seasons(&record(47.4), date(2024, 2, 1)).unwrap();
        let south = seasons(&record(-47.4), date(2024, 8, 1)).unwrap();
        let (north, south) = (opens(&north, "acer-palmatum", &[]), opens(&south, "acer-palmatum", &[]));
        assert!((north - south).abs() <= 14, "north {north}, south {south}");
    }

    #[test]
    fn thin_records_and_tropicals_are_told_apart_from_answers() {
        let record = record(47.4);
        assert!(matches!(seasons(&record, date(2030, 1, 1)), Err(Error::TodayOutside { .. })));
        assert_eq!(seasons(&record, date(2012, 2, 1)), Err(Error::NoPastYear));
        let seasons = seasons(&record, date(2024, 2, 1)).unwrap();
        assert!(matches!(window(&seasons, taxon("ficus-rubiginosa"), &[]), Err(Error::NoRest(_))));
    }
}
