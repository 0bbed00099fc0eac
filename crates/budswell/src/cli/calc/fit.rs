//! `budswell calc fit`: waking models fitted to dated springs, scored on years left out.

use std::path::PathBuf;

use anyhow::bail;
use clap::{Args, builder::PossibleValuesParser};
use view::springs::{Kind, Record};

use super::{
    record::{Stations, Years, by_station, filled_caveat, filled_days, left_out_rows, sightings},
    saved::{SavedFit, SavedModel, SavedSprings},
};

/// What to fit.
#[derive(Args)]
pub struct Fit {
    #[command(flatten)]
    stations: Stations,
    /// CSV of `station`, `year`, `species` and a column such as `first_flower_doy`, 1 being 1 January; or of `year`,
    /// `doy`, `phenophase`.
    #[arg(long)]
    observations: PathBuf,
    /// The species as the observations name it; needed where they name any.
    #[arg(long)]
    species: Option<String>,
    /// The phase, such as first_flower or budburst.
    #[arg(long)]
    phase: String,
    /// Which models; several with commas.
    #[arg(long, default_value = "all", value_delimiter = ',', value_parser = keys())]
    model: Vec<String>,
    /// Leave out every so many years, as every-4 for those divisible by four, and score the fit on them.
    #[arg(long, value_name = "every-N", value_parser = every, conflicts_with = "train_years")]
    leave_out: Option<i16>,
    /// Fit to these years only, as 1997-2012,2014, and score the fit on the others.
    #[arg(long, value_name = "YEARS")]
    train_years: Option<Years>,
}

fn keys() -> PossibleValuesParser {
    PossibleValuesParser::new(Kind::ALL.map(Kind::key).into_iter().chain(["all"]))
}

fn every(shown: &str) -> Result<i16, String> {
    let number = shown.strip_prefix("every-").unwrap_or(shown);
    match number.parse() {
        Ok(number) if number >= 2 => Ok(number),
        _ => Err("years are left out as every-N, N being 2 or more".to_string()),
    }
}

impl Fit {
    fn kinds(&self) -> Vec<Kind> {
        let asked = |kind: &Kind| self.model.iter().any(|key| key == "all" || key == kind.key());
        Kind::ALL.into_iter().filter(asked).collect()
    }

    fn is_held(&self, year: i16) -> bool {
        let by_number = self.leave_out.is_some_and(|number| year.rem_euclid(number) == 0);
        by_number || self.train_years.as_ref().is_some_and(|years| !years.hold(year))
    }
}

/// Fits and prints.
pub fn run(asked: Fit) -> anyhow::Result<()> {
    let stations = asked.stations.read()?;
    let seen = sightings(&asked.observations, asked.species.as_deref(), &asked.phase, &stations)?;
    let record = Record::gather(&stations, |_| true);
    if record.dated(&seen).0.is_empty() {
        let why = left_out_rows(&record.dated(&seen).1);
        bail!("no spring has both a full record and an observed day: {}", serde_json::Value::from(why));
    }
    let told = view::springs::fit(&asked.kinds(), &record, &seen, |year| asked.is_held(year))?;
    let springs = |springs: &[(String, i16)]| SavedSprings {
        observations: springs.len(),
        years: by_station(springs.iter().map(|(station, year)| (station.as_str(), *year))),
    };
    let mut caveats = told.caveats;
    caveats.extend(filled_caveat(&record));
    let saved = SavedFit {
        species: asked.species,
        phase: asked.phase,
        training: springs(&told.training),
        held_out: (!told.held_out.is_empty()).then(|| springs(&told.held_out)),
        station_mean_rmse_days: told.station_mean_rmse,
        models: told.models.iter().map(SavedModel::of).collect(),
        days_filled: filled_days(&record.filled),
        left_out: left_out_rows(&told.left_out),
        caveats,
    };
    super::print(&serde_json::to_value(saved)?)
}
