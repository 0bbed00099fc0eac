//! `budswell calc`: one computation from a file, printed as JSON.

mod assign;
mod feed;
mod fit;
mod mix;
mod predict;
mod record;
mod saved;
mod waking;

use std::{
    fs,
    io::Write,
    path::{Path, PathBuf},
};

use anyhow::{Context, bail};
use clap::Subcommand;
use climate::record::StationDay;
use collection::event::Look;
use intake::{
    refusal::Refusal,
    series::{self, Series},
    sheet,
};
use jiff::civil::Date;
use measure::taxon::Taxon;
use serde_json::json;
use view::calc::Stretch;

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
    /// One tree's bud stages and repotting window, from a place's weather record and the tree's looks.
    Window {
        /// CSV with `date` and `tmin`, `tmax`: this season up to today, and past years to follow it.
        file: PathBuf,
        /// Degrees north.
        #[arg(long, allow_negative_numbers = true)]
        latitude: f64,
        /// The tree's taxon, by key, botanical or everyday name.
        #[arg(long)]
        taxon: String,
        /// The day to answer for.
        #[arg(long)]
        today: Date,
        /// CSV of bud looks with `tree`, `day`, `stage`; goes with --tree.
        #[arg(long, requires = "tree")]
        looks: Option<PathBuf>,
        /// Whose looks to take.
        #[arg(long)]
        tree: Option<String>,
    },
    /// Waking models fitted to a station's dated springs; what is printed can be saved and given to `predict`.
    Fit(fit::Fit),
    /// The days a saved fit expects, and its error where the days were seen.
    Predict(predict::Predict),
    /// Trees and winters of a file, each stage with its spread, by the needs that the pages use.
    Waking(waking::Waking),
    /// Feed, salts and spray from the figures of a label; volumes, never a dose.
    Feed(Box<feed::Feed>),
    /// Water, air and weight of each pot with each mix, and their profile from the floor up.
    Mix(mix::Mix),
    /// Pots shared out over trees: the best sum, the order of the repots, and the time it took.
    Assign(assign::Assign),
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
            let mut told = told_by_stretch(&days, from, to, |stretch| {
                Ok(json!({ "celsius": view::calc::hours_of(latitude, stretch.first, &stretch.days)? }))
            })?;
            told["clock"] = json!("local solar time");
            told
        }
        What::Window { file, latitude, taxon, today, looks, tree } => {
            let looks = looks_of(looks.as_ref(), tree.as_deref())?;
            let taxon =
                Taxon::meant(&taxon).with_context(|| format!("no taxon we know is called “{taxon}”"))?;
            window(&file, latitude, taxon, today, &looks)?
        }
        What::Fit(asked) => return fit::run(asked),
        What::Predict(asked) => return predict::run(asked),
        What::Waking(asked) => return waking::run(&asked),
        What::Feed(asked) => feed::told(&asked)?,
        What::Mix(asked) => mix::run(&asked)?,
        What::Assign(asked) => assign::run(&asked)?,
        What::Daylength { latitude, date } => {
            let rows = view::calc::day_lengths(latitude, date)?;
            let rows = rows.iter().map(|row| json!({ "formula": row.formula, "hours": row.hours }));
            json!({ "latitude": latitude, "date": date.to_string(), "rows": rows.collect::<Vec<_>>() })
        }
    };
    print(&answer)
}

/// Prints an answer; a reader that closes early, as `head` does, is no fault.
fn print(answer: &serde_json::Value) -> anyhow::Result<()> {
    match writeln!(std::io::stdout(), "{}", super::say::shown(&format!("{answer:#}"))) {
        Err(why) if why.kind() == std::io::ErrorKind::BrokenPipe => Ok(()),
        done => Ok(done?),
    }
}

fn chill(
    file: &PathBuf,
    latitude: Option<f64>,
    from: Option<Date>,
    to: Option<Date>,
) -> anyhow::Result<serde_json::Value> {
    let mut told = match read(file)? {
        Series::Hours(hours) if from.is_none() && to.is_none() => cold_rows(&hours),
        Series::Hours(_) => bail!("--from and --to need a file with dates; this one holds bare hours"),
        Series::Days(days) => {
            let latitude = latitude.context("a file of daily lows and highs needs --latitude")?;
            told_by_stretch(&days, from, to, |stretch| {
                Ok(cold_rows(&view::calc::hours_of(latitude, stretch.first, &stretch.days)?))
            })?
        }
    };
    told["note"] = json!("each row is in its own unit; no factor turns one into another");
    Ok(told)
}

fn cold_rows(hours: &[f64]) -> serde_json::Value {
    let rows = view::calc::cold(hours)
        .into_iter()
        .map(|row| json!({ "model": row.model, "means": row.words, "unit": row.unit, "amount": row.amount }));
    json!({ "hours": hours.len(), "cold": rows.collect::<Vec<_>>() })
}

/// One answer where the days run without a gap; else one for each stretch, so that no sum runs across a gap.
fn told_by_stretch(
    days: &[series::DayExtremes],
    from: Option<Date>,
    to: Option<Date>,
    tell: impl Fn(&Stretch) -> anyhow::Result<serde_json::Value>,
) -> anyhow::Result<serde_json::Value> {
    let asked = |day: &&series::DayExtremes| {
        from.is_none_or(|from| from <= day.date) && to.is_none_or(|to| day.date <= to)
    };
    let days: Vec<(Date, f64, f64)> =
        days.iter().filter(asked).map(|day| (day.date, day.low, day.high)).collect();
    let told = view::calc::stretches(&days)
        .iter()
        .map(|stretch| {
            let mut told = tell(stretch)?;
            told["from"] = json!(stretch.first.to_string());
            told["to"] = json!(stretch.last().to_string());
            told["days_filled"] = json!(stretch.filled.iter().map(Date::to_string).collect::<Vec<_>>());
            Ok(told)
        })
        .collect::<anyhow::Result<Vec<_>>>()?;
    match <[_; 1]>::try_from(told) {
        Ok([only]) => Ok(only),
        Err(none) if none.is_empty() => bail!("no day lies between those dates"),
        Err(several) => Ok(json!({ "stretches": several })),
    }
}

fn looks_of(file: Option<&PathBuf>, tree: Option<&str>) -> anyhow::Result<Vec<Look>> {
    let (Some(file), Some(tree)) = (file, tree) else { return Ok(Vec::new()) };
    let text = fs::read_to_string(file).with_context(|| format!("cannot read {}", file.display()))?;
    let key = collection::key::from_name(tree);
    let looks = sheet::looks(&text).whole().map_err(|refused| not_read(file, &refused))?;
    let own: Vec<Look> = looks.into_iter().filter(|look| look.tree == key).collect();
    if own.is_empty() {
        bail!("{} holds no look at “{tree}”", file.display());
    }
    Ok(own)
}

fn window(
    file: &PathBuf,
    latitude: f64,
    taxon: &'static Taxon,
    today: Date,
    looks: &[Look],
) -> anyhow::Result<serde_json::Value> {
    let Series::Days(days) = read(file)? else {
        bail!("a window needs dates; {} holds bare hours", file.display())
    };
    let days: Vec<StationDay> =
        days.iter().map(|day| StationDay::of_extremes(day.date, day.low, day.high)).collect();
    let told = view::window::answer(latitude, &days, today, taxon, looks)?;
    let dates = |dates: view::window::Dates| {
        json!({
            "one_in_ten_earlier": dates.early.to_string(),
            "middle": dates.middle.to_string(),
            "one_in_ten_later": dates.late.to_string()
        })
    };
    let stages = told
        .stages
        .iter()
        .map(|row| json!({ "stage": row.stage, "passed": row.dates.map(dates), "chance_today": row.today }));
    Ok(json!({
        "taxon": told.taxon,
        "today": today.to_string(),
        "stage_today": told.stage_today,
        "window": told.window.map(|(opens, closes)| json!({ "opens": dates(opens), "closes": dates(closes) })),
        "stages": stages.collect::<Vec<_>>(),
        "cold": {
            "received_portions": told.cold.0,
            "needed_portions": told.cold.1,
            "standing_of_need": told.cold_standing,
            "counted": "chill portions of the Dynamic Model since the winter's first day"
        },
        "past_years": told.years,
        "looks": looks.len(),
        "caveats": told.caveats
    }))
}

fn read(file: &PathBuf) -> anyhow::Result<Series> {
    let text = fs::read_to_string(file).with_context(|| format!("cannot read {}", file.display()))?;
    let (series, notes) = series::read_with_notes(&text).map_err(|refused| not_read(file, &refused))?;
    notes.iter().for_each(|note| super::say::refuse!("{}: {note}", file.display()));
    Ok(series)
}

fn not_read(file: &Path, refused: &[Refusal]) -> anyhow::Error {
    let lines: Vec<String> = refused.iter().map(|refusal| format!("  {refusal}")).collect();
    anyhow::anyhow!("{} was not read:\n{}", file.display(), lines.join("\n"))
}
