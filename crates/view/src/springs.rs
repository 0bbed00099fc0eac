//! Answers of `budswell calc fit` and `predict`: waking models fitted to dated springs, and the days they expect.

mod gathered;
mod named;

use dormancy::{
    fit::{Fitted, NEVER, TooFew, TreeYear, rmse},
    model::Model,
};
pub use gathered::{Filled, LeftOut, Record, Sighting, Spring, Station};
use jiff::civil::Date;
use measure::winter::Winter;
pub use named::{BadParameter, Kind, parameters};

/// One model fitted, with its error on springs it had not seen.
#[derive(Clone, Debug, PartialEq)]
pub struct ModelFit {
    /// Which.
    pub kind: Kind,
    /// The fit: its best model, that model's error and its blend.
    pub fitted: Fitted,
    /// Error of the blend on its own springs, days.
    pub blend_rmse: f64,
    /// Errors on the springs left out, days: of the blend, and of the best model alone.
    pub held_out: Option<(f64, f64)>,
}

/// Models fitted to a record.
#[derive(Clone, Debug, PartialEq)]
pub struct FitAnswer {
    /// Springs fitted to: station and year, one for each tree.
    pub training: Vec<(String, i16)>,
    /// Springs left out of the fit to score it.
    pub held_out: Vec<(String, i16)>,
    /// Error on those of the mean of the station's own training days.
    pub station_mean_rmse: Option<f64>,
    /// Every model asked for.
    pub models: Vec<ModelFit>,
    /// Springs that could be neither fitted to nor scored.
    pub left_out: Vec<LeftOut>,
    /// What weakens the answer.
    pub caveats: Vec<String>,
}

/// A model could not be fitted.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{model}: {why}")]
pub struct NotFitted {
    /// Which, by its word.
    pub model: &'static str,
    /// Why.
    pub why: TooFew,
}

/// Fits each model to the sightings of a record whose years `is_held` does not hold, and scores it on the others.
///
/// # Errors
///
/// [`NotFitted`] when too few springs can be fitted to.
pub fn fit(
    kinds: &[Kind],
    record: &Record,
    sightings: &[Sighting],
    is_held: impl Fn(i16) -> bool,
) -> Result<FitAnswer, NotFitted> {
    let (dated, mut left_out) = record.dated(sightings);
    left_out.extend(record.unseen(sightings));
    let (held, training): (Vec<Dated>, Vec<Dated>) =
        dated.into_iter().partition(|(spring, _)| is_held(spring.winter.spring_year));
    let (seen, unseen) = (years_of(&training), years_of(&held));
    let (to_fit, to_score) = (tree_years(&training), tree_years(&held));
    let models = kinds
        .iter()
        .map(|&kind| {
            let fitted = kind.fit(&to_fit).map_err(|why| NotFitted { model: kind.key(), why })?;
            let held_out = (!to_score.is_empty())
                .then(|| (fitted.blend_rmse(&to_score), rmse(&fitted.model, &to_score)));
            Ok(ModelFit { kind, blend_rmse: fitted.blend_rmse(&to_fit), fitted, held_out })
        })
        .collect::<Result<Vec<_>, _>>()?;
    let station_mean_rmse = station_mean(&training, &held);
    let mut answer = FitAnswer {
        training: seen,
        held_out: unseen,
        station_mean_rmse,
        models,
        left_out,
        caveats: Vec::new(),
    };
    answer.caveats = fit_caveats(&answer);
    Ok(answer)
}

type Dated<'a> = (&'a Spring, i32);

fn tree_years<'a>(dated: &[Dated<'a>]) -> Vec<TreeYear<'a>> {
    dated.iter().map(|&(spring, observed)| TreeYear { season: spring.season(), observed }).collect()
}

fn years_of(dated: &[Dated<'_>]) -> Vec<(String, i16)> {
    dated.iter().map(|(spring, _)| (spring.station.clone(), spring.winter.spring_year)).collect()
}

/// Error of the mean of a station's own training days; of all training days where a station has none.
fn station_mean(training: &[Dated<'_>], held: &[Dated<'_>]) -> Option<f64> {
    let mean = |station: Option<&str>| {
        let own = training.iter().filter(|(spring, _)| station.is_none_or(|name| name == spring.station));
        let days: Vec<f64> = own.map(|(_, day)| f64::from(*day)).collect();
        (!days.is_empty()).then(|| days.iter().sum::<f64>() / days.len() as f64)
    };
    let errors: Option<Vec<f64>> = held
        .iter()
        .map(|(spring, day)| Some(mean(Some(&spring.station)).or_else(|| mean(None))? - f64::from(*day)))
        .collect();
    root_mean_square(&errors?)
}

fn root_mean_square(errors: &[f64]) -> Option<f64> {
    let squares: f64 = errors.iter().map(|days| days * days).sum();
    (!errors.is_empty()).then(|| (squares / errors.len() as f64).sqrt())
}

fn fit_caveats(answer: &FitAnswer) -> Vec<String> {
    /// Fewer years than this settle little; own.
    const FEW_YEARS: usize = 10;
    let different = |springs: &[(String, i16)], of: fn(&(String, i16)) -> String| {
        springs.iter().map(of).collect::<std::collections::BTreeSet<_>>()
    };
    let stations = different(&answer.training, |spring| spring.0.clone());
    let years = different(&answer.training, |spring| spring.1.to_string());
    let mut caveats = vec![format!(
        "fitted to trees in the ground at {} station(s); a tree in a pot, or elsewhere, may keep other days",
        stations.len()
    )];
    if years.len() < FEW_YEARS {
        caveats.push(format!("{} years settle little; {FEW_YEARS} and more are better", years.len()));
    }
    if answer.held_out.is_empty() {
        caveats.push("no spring was left out, so the error on springs to come is not known".to_string());
    }
    let mut strangers = different(&answer.held_out, |spring| spring.0.clone());
    strangers.retain(|station| !stations.contains(station));
    for station in strangers {
        caveats
            .push(format!("{station} has no spring to fit to; the mean of all stations stands for its own"));
    }
    let mean = answer.station_mean_rmse.unwrap_or(f64::INFINITY);
    for model in &answer.models {
        if model.held_out.is_some_and(|(blend, _)| blend >= mean) {
            let name = model.kind.key();
            caveats
                .push(format!("{name} does no better on the springs left out than the station's own mean"));
        }
    }
    caveats.push(never_reached());
    caveats
}

/// How a spring counts in which a model never arrives.
pub fn never_reached() -> String {
    format!("in every root mean square, a spring in which the need is never reached counts {NEVER} days")
}

/// A model of a blend and how often it counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Peer {
    /// How often.
    pub times: usize,
    /// The model.
    pub model: Model,
}

/// The members of a blend, those that stand next to their like as one.
pub fn peers(fitted: &Fitted) -> Vec<Peer> {
    fitted
        .blend
        .chunk_by(|one, next| one == next)
        .filter_map(|alike| Some(Peer { times: alike.len(), model: *alike.first()? }))
        .collect()
}

/// The day one model expects of one spring.
#[derive(Clone, Debug, PartialEq)]
pub struct Predicted {
    /// Where.
    pub station: String,
    /// When; its numbers become dates by [`Winter::date`].
    pub winter: Winter,
    /// Day number, 1 being 1 January (1 July in the south); none when most of the blend never arrives.
    pub day: Option<f64>,
    /// The date, to the nearest day.
    pub date: Option<Date>,
    /// Day numbers on which the phase was seen, one for each tree.
    pub observed: Vec<i32>,
}

impl Predicted {
    /// The day expected as a day of its calendar year, not rounded.
    pub fn day_of_year_unrounded(&self) -> Option<f64> {
        let (day, date) = (self.day?, self.date?);
        Some(f64::from(date.day_of_year()) + day - day.round())
    }
}

/// Error over springs, days.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Score {
    /// Root mean square error; a spring never reached counts [`NEVER`].
    pub rmse: f64,
    /// Mean of expected minus observed, over springs reached.
    pub bias: Option<f64>,
    /// Observations scored.
    pub count: usize,
    /// Of these, those of springs never reached.
    pub never_reached: usize,
}

/// The day a blend expects of every spring of a record, beside the days seen.
pub fn predict(peers: &[Peer], record: &Record, seen: &[(&Spring, i32)]) -> Vec<Predicted> {
    let blend: Vec<Model> =
        peers.iter().flat_map(|peer| std::iter::repeat_n(peer.model, peer.times)).collect();
    let Some(&model) = blend.first() else { return Vec::new() };
    let fitted = Fitted { model, rmse: 0.0, blend };
    record
        .springs()
        .map(|spring| {
            let day = fitted.day_expected(&spring.season());
            let own = seen.iter().filter(|(other, _)| std::ptr::eq(*other, spring));
            Predicted {
                station: spring.station.clone(),
                winter: spring.winter,
                day,
                date: day.map(|day| spring.winter.date(day.round() as i32)),
                observed: own.map(|(_, day)| *day).collect(),
            }
        })
        .collect()
}

/// Error of predictions over the springs that were seen and that `counts`; none when there are none.
pub fn score(predicted: &[Predicted], counts: impl Fn(&Predicted) -> bool) -> Option<Score> {
    let counted = predicted.iter().filter(|spring| counts(spring));
    let gaps: Vec<Option<f64>> = counted
        .flat_map(|spring| spring.observed.iter().map(|seen| Some(spring.day? - f64::from(*seen))))
        .collect();
    let reached: Vec<f64> = gaps.iter().flatten().copied().collect();
    let all: Vec<f64> = gaps.iter().map(|gap| gap.unwrap_or(NEVER)).collect();
    Some(Score {
        rmse: root_mean_square(&all)?,
        bias: (!reached.is_empty()).then(|| reached.iter().sum::<f64>() / reached.len() as f64),
        count: gaps.len(),
        never_reached: gaps.len() - reached.len(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use measure::winter::Hemisphere;

    fn expected(day: Option<f64>, observed: &[i32]) -> Predicted {
        let winter = Winter { spring_year: 2000, hemisphere: Hemisphere::North };
        Predicted { station: "A".to_string(), winter, day, date: None, observed: observed.to_vec() }
    }

    #[test]
    fn a_spring_never_reached_counts_in_the_error_and_not_in_the_bias() {
        let springs = [expected(Some(92.0), &[90, 91]), expected(None, &[100]), expected(Some(80.0), &[])];
        let told = score(&springs, |_| true).expect("three were seen");
        assert_eq!((told.count, told.never_reached, told.bias), (3, 1, Some(1.5)));
        assert!((told.rmse - (3605.0_f64 / 3.0).sqrt()).abs() < 1e-12);
        assert_eq!(score(&springs[2..], |_| true), None);
    }
}
