//! `budswell calc mix`: what pots hold of mixes, from their two sheets.

use std::{
    fs,
    path::{Path, PathBuf},
};

use anyhow::{Context, bail};
use collection::{
    key,
    potting::{Mix as Own, Pot},
};
use intake::sheet::{Read, potting};
use measure::quantity::Degrees;
use serde_json::{Value, json};

/// What to tell.
#[derive(clap::Args)]
pub struct Mix {
    /// CSV of pots, as `import pots` takes it.
    #[arg(long)]
    pots: PathBuf,
    /// CSV of mixes, as `import mixes` takes it.
    #[arg(long)]
    mixes: PathBuf,
    /// Only the pot of this name.
    #[arg(long)]
    pot: Option<String>,
    /// Only the mix of this name.
    #[arg(long)]
    mix: Option<String>,
    /// Degrees that the pots are tipped; rectangular pots only.
    #[arg(long, default_value_t = 0.0)]
    tilt: f64,
}

/// Every pot with every mix that was asked for; one that cannot be told says why.
pub fn run(asked: &Mix) -> anyhow::Result<Value> {
    let pots = sheet(&asked.pots, potting::pots)?;
    let mixes = sheet(&asked.mixes, potting::mixes)?;
    let meant =
        |name: &Option<String>, key: &str| name.as_ref().is_none_or(|name| key::from_name(name) == key);
    let rows: Vec<Value> = pots
        .iter()
        .filter(|pot| meant(&asked.pot, &pot.key))
        .flat_map(|pot| mixes.iter().map(move |mix| (pot, mix)))
        .filter(|(_, mix)| meant(&asked.mix, &mix.key))
        .map(|(pot, mix)| row(pot, mix, Degrees(asked.tilt)))
        .collect();
    if rows.is_empty() {
        bail!("no pot or no mix of that name stands in the sheets");
    }
    Ok(json!({ "tilt_degrees": asked.tilt, "rows": rows }))
}

fn row(pot: &Pot, mix: &Own, tilt: Degrees) -> Value {
    let told = match view::mixes::filled(pot, mix, tilt) {
        Ok(told) => told,
        Err(why) => return json!({ "pot": pot.name, "mix": mix.name, "untold": why.to_string() }),
    };
    let step = told.height.0 / told.layers.len() as f64;
    let profile = told.layers.iter().enumerate().map(|(at, water)| {
        json!({
            "from_cm": step * at as f64,
            "to_cm": step * (at as f64 + 1.0),
            "water": water.0,
            "air": told.porosity.0 - water.0
        })
    });
    json!({
        "pot": pot.name,
        "mix": mix.name,
        "soil_l": told.soil.0,
        "height_cm": told.height.0,
        "capacity": told.capacity.0,
        "air": told.air.0,
        "water_l": told.water.0,
        "water_for_roots_l": told.for_roots.0,
        "wet_layer_cm": told.wet_layer.0,
        "drained_kg": told.drained.0,
        "used_up_kg": told.used_up.0,
        "profile_from_floor": profile.collect::<Vec<_>>(),
        "standing": told.standing.words(),
        "caveats": told.caveats.iter().map(|caveat| caveat.words()).collect::<Vec<_>>()
    })
}

fn sheet<T>(file: &Path, read: fn(&str) -> Read<T>) -> anyhow::Result<Vec<T>> {
    let text = fs::read_to_string(file).with_context(|| format!("cannot read {}", file.display()))?;
    read(&text).whole().map_err(|refused| super::not_read(file, &refused))
}
