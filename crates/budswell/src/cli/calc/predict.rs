//! `budswell calc predict`: the days a saved fit expects, and its error where they were seen.

use std::path::PathBuf;

use anyhow::Context;
use clap::Args;
use serde_json::{Value, json};
use view::springs::{Predicted, Record, Score, Sighting, predict, score};

use super::{
    record::{Stations, Years, filled_caveat, filled_days, left_out_rows, sightings},
    saved::{SavedFit, SavedModel},
};

/// What to predict.
#[derive(Args)]
pub struct Predict {
    /// What `calc fit` printed.
    #[arg(long)]
    fit: PathBuf,
    #[command(flatten)]
    stations: Stations,
    /// CSV of the days seen, as for `calc fit`; then the error is told.
    #[arg(long)]
    observations: Option<PathBuf>,
    /// These years only, as 1997-2012,2014.
    #[arg(long)]
    years: Option<Years>,
}

/// Predicts and prints.
pub fn run(asked: Predict) -> anyhow::Result<()> {
    let fit = SavedFit::read(&asked.fit)?;
    let stations = asked.stations.read()?;
    let is_asked = |year| asked.years.as_ref().is_none_or(|years| years.hold(year));
    let seen: Vec<Sighting> = match &asked.observations {
        Some(file) => sightings(file, fit.species.as_deref(), &fit.phase, &stations)?,
        None => Vec::new(),
    };
    let seen: Vec<Sighting> = seen.into_iter().filter(|sighting| is_asked(sighting.year)).collect();
    let record = Record::gather(&stations, is_asked);
    let (dated, mut left_out) = record.dated(&seen);
    if let Some(years) = &asked.years {
        left_out.extend(record.lacking(years.each()));
        left_out.sort();
        left_out.dedup();
    }
    let models = fit.models.iter().map(|model| {
        let (kind, peers) = model.peers().with_context(|| format!("{} was not read", asked.fit.display()))?;
        let days = predict(&peers, &record, &dated);
        Ok(shown(&fit, model, kind.words(), &days))
    });
    let models = models.collect::<anyhow::Result<Vec<_>>>()?;
    let mut caveats = vec![view::springs::never_reached()];
    let known =
        record.springs().filter(|spring| fit.was_fitted_to(&spring.station, spring.winter.spring_year));
    let known = known.count();
    if known > 0 {
        caveats.push(format!("{known} of the springs were fitted to; on these the error flatters"));
    }
    caveats.extend(filled_caveat(&record));
    let answer = json!({
        "fit": asked.fit.display().to_string(),
        "species": fit.species,
        "phase": fit.phase,
        "models": models,
        "days_filled": filled_days(&record.filled),
        "left_out": left_out_rows(&left_out),
        "caveats": caveats
    });
    super::print(&answer)
}

fn shown(fit: &SavedFit, model: &SavedModel, words: &str, days: &[Predicted]) -> Value {
    let is_new = |spring: &Predicted| !fit.was_fitted_to(&spring.station, spring.winter.spring_year);
    json!({
        "model": model.model,
        "means": words,
        "springs": days.iter().map(|spring| spring_row(spring, !is_new(spring))).collect::<Vec<_>>(),
        "score": score(days, |_| true).map(score_row),
        "score_on_springs_not_fitted_to": score(days, is_new).map(score_row)
    })
}

fn spring_row(spring: &Predicted, fitted_to: bool) -> Value {
    let observed = spring.observed.iter().map(|seen| {
        let date = spring.winter.date(*seen);
        let late = spring.day.map(|day| day - f64::from(*seen));
        json!({ "day_of_year": date.day_of_year(), "date": date.to_string(), "expected_minus_observed": late })
    });
    json!({
        "station": spring.station,
        "year": spring.winter.spring_year,
        "day_of_year": spring.date.map(|date| date.day_of_year()),
        "date": spring.date.map(|date| date.to_string()),
        "day_of_year_unrounded": spring.day_of_year_unrounded(),
        "why_none": spring.date.is_none().then_some("the days given end before most of the blend reach their need"),
        "fitted_to": fitted_to,
        "observed": observed.collect::<Vec<_>>()
    })
}

fn score_row(score: Score) -> Value {
    json!({
        "rmse_days": score.rmse,
        "bias_days": score.bias,
        "count": score.count,
        "never_reached": score.never_reached
    })
}
