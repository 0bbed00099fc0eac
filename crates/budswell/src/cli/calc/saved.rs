//! A fit as it is printed, saved and read back.

use std::{collections::BTreeMap, path::Path};

use anyhow::{Context, bail};
use intake::refusal::Refusal;
use serde::{Deserialize, Serialize};
use view::springs::{Kind, ModelFit, Peer, parameters};

use super::{
    not_read,
    record::{YearsByStation, text_of},
};

/// A fit of one phase of one species.
#[derive(Serialize, Deserialize)]
pub struct SavedFit {
    /// The species as the observations name it.
    pub species: Option<String>,
    /// The phase.
    pub phase: String,
    /// Springs fitted to.
    pub training: SavedSprings,
    /// Springs left out to score the fit.
    pub held_out: Option<SavedSprings>,
    /// Error of the mean of the station's training days on the springs left out.
    pub station_mean_rmse_days: Option<f64>,
    /// Each model fitted.
    pub models: Vec<SavedModel>,
    /// Days that were filled, by station.
    #[serde(default)]
    pub days_filled: BTreeMap<String, Vec<String>>,
    /// Springs neither fitted to nor scored.
    #[serde(default)]
    pub left_out: Vec<serde_json::Value>,
    /// What weakens the fit.
    #[serde(default)]
    pub caveats: Vec<String>,
}

/// Springs, and how many trees were seen in them.
#[derive(Serialize, Deserialize)]
pub struct SavedSprings {
    /// One for each tree of each spring.
    pub observations: usize,
    /// Years by station.
    pub years: YearsByStation,
}

/// One model with its peers.
#[derive(Serialize, Deserialize)]
pub struct SavedModel {
    /// Its word.
    pub model: String,
    /// What it says.
    #[serde(default)]
    pub means: String,
    /// The parameters with the least error.
    pub parameters: BTreeMap<String, f64>,
    /// Their error on the training springs.
    pub training_rmse_days: f64,
    /// Error of the blend on the training springs.
    pub training_rmse_of_blend_days: f64,
    /// Error of the blend on the springs left out.
    pub held_out_rmse_days: Option<f64>,
    /// Error of the best model alone on them.
    pub held_out_rmse_of_best_alone_days: Option<f64>,
    /// The models whose days are averaged.
    pub blend: Vec<SavedPeer>,
}

/// One model of a blend.
#[derive(Serialize, Deserialize)]
pub struct SavedPeer {
    /// How often it counts.
    pub times: usize,
    /// Its parameters.
    pub parameters: BTreeMap<String, f64>,
}

impl SavedModel {
    /// A model as it is saved.
    pub fn of(fit: &ModelFit) -> SavedModel {
        let named =
            |model| parameters(model).into_iter().map(|(name, number)| (name.to_string(), number)).collect();
        let peers = view::springs::peers(&fit.fitted);
        SavedModel {
            model: fit.kind.key().to_string(),
            means: fit.kind.words().to_string(),
            parameters: named(&fit.fitted.model),
            training_rmse_days: fit.fitted.rmse,
            training_rmse_of_blend_days: fit.blend_rmse,
            held_out_rmse_days: fit.held_out.map(|(blend, _)| blend),
            held_out_rmse_of_best_alone_days: fit.held_out.map(|(_, best)| best),
            blend: peers
                .iter()
                .map(|peer| SavedPeer { times: peer.times, parameters: named(&peer.model) })
                .collect(),
        }
    }

    /// The blend it holds.
    pub fn peers(&self) -> anyhow::Result<(Kind, Vec<Peer>)> {
        /// More members than any blend of ours has.
        const MOST: usize = 10_000;
        let kind =
            Kind::of_key(&self.model).with_context(|| format!("“{}” is no model we fit", self.model))?;
        let total = self.blend.iter().fold(0_usize, |sum, peer| sum.saturating_add(peer.times));
        if !(1..=MOST).contains(&total) {
            bail!("the blend of {} holds {total} models, not 1 to {MOST}", self.model);
        }
        let one = |(at, peer): (usize, &SavedPeer)| {
            let model = kind
                .model(|name| peer.parameters.get(name).copied())
                .with_context(|| format!("{}, number {} of its blend", self.model, at + 1))?;
            Ok(Peer { times: peer.times, model })
        };
        Ok((kind, self.blend.iter().enumerate().map(one).collect::<anyhow::Result<_>>()?))
    }
}

impl SavedFit {
    /// A saved fit read back.
    pub fn read(file: &Path) -> anyhow::Result<SavedFit> {
        let text = text_of(file)?;
        let fit: SavedFit = serde_json::from_str(&text).map_err(|why| {
            let line = why.line();
            let value = text.lines().nth(line.saturating_sub(1)).unwrap_or("").trim();
            let value = value.chars().take(60).collect();
            not_read(file, &[Refusal { line, value, why: format!("cannot be read as a fit: {why}") }])
        })?;
        if fit.models.is_empty() {
            bail!("{} holds no model", file.display());
        }
        Ok(fit)
    }

    /// Whether a spring was among those fitted to.
    pub fn was_fitted_to(&self, station: &str, year: i16) -> bool {
        let mut own =
            self.training.years.iter().filter(|(name, _)| name.to_lowercase() == station.to_lowercase());
        own.any(|(_, years)| years.contains(&year))
    }
}
