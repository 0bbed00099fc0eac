//! Daily files and observations as arguments name them, and years in words such as `1997-2012,2014`.

use std::{
    collections::BTreeMap,
    fs,
    ops::RangeInclusive,
    path::{Path, PathBuf},
    str::FromStr,
};

use anyhow::{Context, bail};
use clap::Args;
use intake::springs::Observed;
use measure::{quantity::Degrees, winter::Hemisphere};
use view::springs::{Filled, LeftOut, Record, Sighting, Station};

use super::not_read;

/// Which stations.
#[derive(Args)]
pub struct Stations {
    /// CSV of a station's daily means, as NAME=FILE or FILE, once for each; kma_NAME_daily.csv names itself. Columns
    /// `date` with `tavg_x10` or `tavg`, or `year`, `doy` with `temperature`.
    #[arg(long, required = true, value_name = "NAME=FILE")]
    daily: Vec<Daily>,
    /// Degrees north of a station; under 0 its winter lies around July. Without it, around January.
    #[arg(long, value_name = "NAME=DEGREES", allow_hyphen_values = true)]
    latitude: Vec<Latitude>,
}

/// A daily file and the name of its station.
#[derive(Clone, Debug)]
struct Daily {
    name: String,
    file: PathBuf,
}

/// Where a station lies.
#[derive(Clone, Debug)]
struct Latitude {
    name: String,
    degrees: Degrees,
}

/// Years and spans of years.
#[derive(Clone, Debug)]
pub struct Years(Vec<RangeInclusive<i16>>);

impl FromStr for Daily {
    type Err = String;

    fn from_str(shown: &str) -> Result<Daily, String> {
        let named = shown.split_once('=').filter(|(name, _)| !name.contains(['/', '\\']));
        let (name, file) = match named {
            Some((name, file)) => (name.trim().to_string(), PathBuf::from(file)),
            None => (own_name(Path::new(shown)), PathBuf::from(shown)),
        };
        if name.is_empty() || file.as_os_str().is_empty() {
            return Err("a station is given as NAME=FILE".to_string());
        }
        Ok(Daily { name, file })
    }
}

/// The middle of `source_NAME_daily.csv`, or the whole stem of another name.
fn own_name(file: &Path) -> String {
    let stem = file.file_stem().unwrap_or_default().to_string_lossy();
    let middle = stem.strip_suffix("_daily").and_then(|stem| stem.split_once('_'));
    middle.map_or(stem.as_ref(), |(_, name)| name).to_string()
}

impl FromStr for Latitude {
    type Err = String;

    fn from_str(shown: &str) -> Result<Latitude, String> {
        let (name, degrees) = shown.split_once('=').ok_or("a latitude is given as NAME=DEGREES")?;
        match degrees.parse() {
            Ok(degrees) if (-90.0..=90.0).contains(&degrees) => {
                Ok(Latitude { name: name.to_string(), degrees: Degrees(degrees) })
            }
            _ => Err(format!("{degrees} is not a latitude from -90 to 90")),
        }
    }
}

impl FromStr for Years {
    type Err = String;

    fn from_str(shown: &str) -> Result<Years, String> {
        let year = |part: &str| match part.trim().parse::<i16>() {
            Ok(year) if (1000..=3000).contains(&year) => Ok(year),
            _ => Err(format!("{part} is not a year; years are given as 1997-2012,2014")),
        };
        let span = |part: &str| {
            let (from, to) = part.split_once('-').unwrap_or((part, part));
            let (from, to) = (year(from)?, year(to)?);
            if from <= to { Ok(from..=to) } else { Err(format!("{part} runs backwards")) }
        };
        shown.split(',').map(span).collect::<Result<_, _>>().map(Years)
    }
}

impl Years {
    /// Whether a year is among them.
    pub fn hold(&self, year: i16) -> bool {
        self.0.iter().any(|span| span.contains(&year))
    }

    /// Every year named.
    pub fn each(&self) -> impl Iterator<Item = i16> + Clone {
        self.0.iter().flat_map(Clone::clone)
    }
}

impl Stations {
    /// The stations with their days.
    pub fn read(&self) -> anyhow::Result<Vec<Station>> {
        let lower = |name: &str| name.to_lowercase();
        for latitude in &self.latitude {
            if !self.daily.iter().any(|daily| lower(&daily.name) == lower(&latitude.name)) {
                bail!("--latitude names {}, for which no daily file is given", latitude.name);
            }
        }
        let mut stations: Vec<Station> = Vec::new();
        for daily in &self.daily {
            if stations.iter().any(|other| lower(&other.name) == lower(&daily.name)) {
                bail!("two daily files are given for {}", daily.name);
            }
            let latitude = self.latitude.iter().find(|latitude| lower(&latitude.name) == lower(&daily.name));
            let hemisphere = latitude.map_or(Hemisphere::North, |latitude| Hemisphere::of(latitude.degrees));
            let text = text_of(&daily.file)?;
            let means = intake::springs::means(&text).map_err(|refused| not_read(&daily.file, &refused))?;
            stations.push(Station { name: daily.name.clone(), hemisphere, means });
        }
        Ok(stations)
    }
}

/// A file's text.
pub fn text_of(file: &Path) -> anyhow::Result<String> {
    fs::read_to_string(file).with_context(|| format!("cannot read {}", file.display()))
}

/// What a file of observations tells of one species and phase.
pub fn sightings(
    file: &Path,
    species: Option<&str>,
    phase: &str,
    stations: &[Station],
) -> anyhow::Result<Vec<Sighting>> {
    let rows = intake::springs::observations(&text_of(file)?).map_err(|refused| not_read(file, &refused))?;
    let shown = file.display();
    let of_species = |row: &Observed, name: &str| {
        row.species.as_ref().is_none_or(|own| own.to_lowercase() == name.to_lowercase())
    };
    let all_species = distinct(rows.iter().filter_map(|row| row.species.as_deref()));
    let rows: Vec<Observed> = match species {
        None if !all_species.is_empty() => bail!("{shown} holds {all_species}; --species says which"),
        None => rows,
        Some(name) => {
            let own: Vec<Observed> = rows.into_iter().filter(|row| of_species(row, name)).collect();
            if own.is_empty() {
                bail!("{shown} has no row of the species “{name}”; it holds {all_species}");
            }
            own
        }
    };
    let phases = distinct(rows.iter().map(|row| row.phase.as_str()));
    let own: Vec<&Observed> = rows.iter().filter(|row| row.phase.eq_ignore_ascii_case(phase)).collect();
    if own.is_empty() {
        bail!("{shown} has no phase “{phase}”; it holds {phases}");
    }
    own.into_iter()
        .map(|row| {
            let station = match (&row.station, stations) {
                (Some(name), _) => name.clone(),
                (None, [only]) => only.name.clone(),
                _ => bail!("{shown} names no stations, so it goes with one daily file"),
            };
            Ok(Sighting { station, year: row.year, day_of_year: row.day })
        })
        .collect()
}

fn distinct<'a>(names: impl Iterator<Item = &'a str>) -> String {
    let names: std::collections::BTreeSet<&str> = names.collect();
    names.into_iter().collect::<Vec<_>>().join(", ")
}

/// Years by station, each once.
pub type YearsByStation = BTreeMap<String, Vec<i16>>;

/// Springs as years by station.
pub fn by_station<'a>(springs: impl Iterator<Item = (&'a str, i16)>) -> YearsByStation {
    let mut years = YearsByStation::new();
    for (station, year) in springs {
        let own = years.entry(station.to_string()).or_default();
        if let Err(at) = own.binary_search(&year) {
            own.insert(at, year);
        }
    }
    years
}

/// Springs left out, gathered by reason.
pub fn left_out_rows(left_out: &[LeftOut]) -> Vec<serde_json::Value> {
    let mut rows: BTreeMap<(&str, &str), Vec<i16>> = BTreeMap::new();
    for out in left_out {
        rows.entry((&out.station, &out.why)).or_default().push(out.year);
    }
    rows.into_iter()
        .map(|((station, why), years)| serde_json::json!({ "station": station, "years": years, "why": why }))
        .collect()
}

/// Days filled, by station.
pub fn filled_days(filled: &[Filled]) -> BTreeMap<String, Vec<String>> {
    let mut days: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for day in filled {
        days.entry(day.station.clone()).or_default().push(day.date.to_string());
    }
    days
}

/// That days were filled, if any were.
pub fn filled_caveat(record: &Record) -> Option<String> {
    let count = record.filled.len();
    let said = "day(s) absent alone were given the mean of the day before and the day after";
    (count > 0).then(|| format!("{count} {said}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn years_and_spans_are_read_and_others_named() {
        let years: Years = "1997-1999,2014".parse().expect("years");
        assert_eq!(years.each().collect::<Vec<_>>(), [1997, 1998, 1999, 2014]);
        assert!(years.hold(1998) && !years.hold(2000));
        assert!("1997-19x9".parse::<Years>().expect_err("no year").contains("19x9"));
        assert!("2012-1997".parse::<Years>().is_err());
    }

    #[test]
    fn a_station_is_named_by_its_file_or_by_the_grower() {
        let name = |shown: &str| shown.parse::<Daily>().expect("a file").name;
        assert_eq!(name("data/kma_seoul_daily.csv"), "seoul");
        assert_eq!(name("Home=kma_seoul_daily.csv"), "Home");
        assert_eq!(name("my_garden.csv"), "my_garden");
    }
}
