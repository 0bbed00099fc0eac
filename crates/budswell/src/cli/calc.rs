//! `budswell calc`: one computation from a file, printed as JSON.

use std::{fs, path::PathBuf};

use anyhow::{Context, bail};
use clap::Subcommand;
use intake::series::{self, Series};
use jiff::civil::Date;
use serde_json::json;

/// What to compute.
#[derive(Subcommand)]
pub enum What {
    /// Cold received over a file of hours, or of daily lows and highs, in every model's own unit.
    Chill {
        /// CSV with `temp_c` or `temp_f`, or with `date` and `tmin`, `tmax`.
        file: PathBuf,
        /// Degrees north; needed for daily files.
        #[arg(long, allow_negative_numbers = true)]
        latitude: Option<f64>,
        /// First day to count, for daily files.
        #[arg(long)]
        from: Option<Date>,
        /// Last day to count, for daily files.
        #[arg(long)]
        to: Option<Date>,
    },
    /// Hour-by-hour temperatures rebuilt from daily lows and highs.
    Hours {
        /// CSV with `date` and `tmin`, `tmax`.
        file: PathBuf,
        /// Degrees north.
        #[arg(long, allow_negative_numbers = true)]
        latitude: f64,
        /// First day.
        #[arg(long)]
        from: Option<Date>,
        /// Last day.
        #[arg(long)]
        to: Option<Date>,
    },
    /// Day length by three published formulas.
    Daylength {
        /// Degrees north.
        #[arg(long, allow_negative_numbers = true)]
        latitude: f64,
        /// Which day.
        #[arg(long)]
        date: Date,
    },
}

/// Computes and prints.
pub fn run(what: What) -> anyhow::Result<()> {
    let answer = match what {
        What::Chill { file, latitude, from, to } => chill(&file, latitude, from, to)?,
        What::Hours { file, latitude, from, to } => {
            let Series::Days(days) = read(&file)? else { bail!("{} already holds hours", file.display()) };
            json!({ "clock": "local solar time", "celsius": rebuilt(latitude, &within(days, from, to))? })
        }
        What::Daylength { latitude, date } => {
            let rows = view::calc::day_lengths(latitude, date)?;
            let rows = rows.iter().map(|row| json!({ "formula": row.formula, "hours": row.hours }));
            json!({ "latitude": latitude, "date": date.to_string(), "rows": rows.collect::<Vec<_>>() })
        }
    };
    println!("{answer:#}");
    Ok(())
}

fn chill(
    file: &PathBuf,
    latitude: Option<f64>,
    from: Option<Date>,
    to: Option<Date>,
) -> anyhow::Result<serde_json::Value> {
    let hours = match read(file)? {
        Series::Hours(hours) if from.is_none() && to.is_none() => hours,
        Series::Hours(_) => bail!("--from and --to need a file with dates; this one holds bare hours"),
        Series::Days(days) => {
            let latitude = latitude.context("a file of daily lows and highs needs --latitude")?;
            rebuilt(latitude, &within(days, from, to))?
        }
    };
    let rows: Vec<_> = view::calc::cold(&hours)
        .iter()
        .map(|row| json!({ "model": row.model, "means": row.words, "unit": row.unit, "amount": row.amount }))
        .collect();
    Ok(json!({
        "hours": hours.len(),
        "note": "each row is in its own unit; no factor turns one into another",
        "cold": rows
    }))
}

fn read(file: &PathBuf) -> anyhow::Result<Series> {
    let text = fs::read_to_string(file).with_context(|| format!("cannot read {}", file.display()))?;
    series::read(&text).map_err(|refused| {
        let lines: Vec<String> = refused.iter().map(|refusal| format!("  {refusal}")).collect();
        anyhow::anyhow!("{} was not read:\n{}", file.display(), lines.join("\n"))
    })
}

fn within(days: Vec<series::DayExtremes>, from: Option<Date>, to: Option<Date>) -> Vec<series::DayExtremes> {
    days.into_iter()
        .filter(|day| from.is_none_or(|from| from <= day.date) && to.is_none_or(|to| day.date <= to))
        .collect()
}

fn rebuilt(latitude: f64, days: &[series::DayExtremes]) -> anyhow::Result<Vec<f64>> {
    let first = days.first().context("no day lies between those dates")?.date;
    let pairs: Vec<(f64, f64)> = days.iter().map(|day| (day.low, day.high)).collect();
    Ok(view::calc::hours_of(latitude, first, &pairs)?)
}
