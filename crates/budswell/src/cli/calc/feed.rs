//! `budswell calc feed`: the sums of *Feed and spray* as JSON, each figure with its standing.

use anyhow::{anyhow, bail};
use clap::Args;
use measure::quantity::Units;
use serde_json::{Value, json};
use view::feed::{Figure, Typed, page};

/// The figures of a label, a bag or a meter; there are no defaults but the units.
#[derive(Args)]
pub struct Feed {
    /// metric (litres, grams) or imperial (US gallons, ounces).
    #[arg(long, default_value = "metric")]
    units: String,
    /// Parts per million of nitrogen wanted in the feed.
    #[arg(long, allow_hyphen_values = true)]
    ppm: Option<String>,
    /// Per cent N on the label.
    #[arg(long, allow_hyphen_values = true)]
    nitrogen: Option<String>,
    /// Per cent P2O5 on the label.
    #[arg(long, allow_hyphen_values = true)]
    phosphate: Option<String>,
    /// Per cent K2O on the label.
    #[arg(long, allow_hyphen_values = true)]
    potash: Option<String>,
    /// Density of a liquid fertiliser, kg per litre.
    #[arg(long, allow_hyphen_values = true)]
    density: Option<String>,
    /// Feed to make, litres or US gallons.
    #[arg(long, allow_hyphen_values = true)]
    volume: Option<String>,
    /// The stock is thinned one part in this many.
    #[arg(long, allow_hyphen_values = true)]
    ratio: Option<String>,
    /// What the meter reads.
    #[arg(long, allow_hyphen_values = true)]
    reading: Option<String>,
    /// What the meter shows: ds, us, ppm500 or ppm700.
    #[arg(long)]
    meter: Option<String>,
    /// EC of your water, dS/m.
    #[arg(long, allow_hyphen_values = true)]
    water: Option<String>,
    /// EC that 100 ppm N of the fertiliser adds, from the bag, dS/m.
    #[arg(long, allow_hyphen_values = true)]
    bag: Option<String>,
    /// Parts per million of nitrogen in the feed whose EC is asked.
    #[arg(long, allow_hyphen_values = true)]
    fed: Option<String>,
    /// The figure on the spray's label.
    #[arg(long, allow_hyphen_values = true)]
    label: Option<String>,
    /// What the label's figure is in: ml-per-l, g-per-l, floz-per-gal, oz-per-gal, one-in, one-to.
    #[arg(long)]
    label_in: Option<String>,
    /// Spray for today's need, litres or US gallons.
    #[arg(long, allow_hyphen_values = true)]
    spray: Option<String>,
    /// Whether the volume is of the finished spray or of the water: finished, water.
    #[arg(long)]
    measured: Option<String>,
}

impl Feed {
    fn field(&self, name: &str) -> String {
        let typed = match name {
            "ppm" => &self.ppm,
            "nitrogen" => &self.nitrogen,
            "phosphate" => &self.phosphate,
            "potash" => &self.potash,
            "density" => &self.density,
            "volume" => &self.volume,
            "ratio" => &self.ratio,
            "reading" => &self.reading,
            "meter" => &self.meter,
            "water" => &self.water,
            "bag" => &self.bag,
            "fed" => &self.fed,
            "label" => &self.label,
            "label-in" => &self.label_in,
            "spray" => &self.spray,
            "measured" => &self.measured,
            _ => &None,
        };
        typed.clone().unwrap_or_default()
    }
}

/// What was asked, with what to heed.
pub fn told(asked: &Feed) -> anyhow::Result<Value> {
    let units = Units::from_key(&asked.units)
        .ok_or_else(|| anyhow!("units: “{}” is neither metric nor imperial", asked.units))?;
    let page = page(Typed::of(units, |name| asked.field(name)));
    let mut told = json!({ "units": units.key() });
    for (key, part) in page.parts() {
        if let Some(wrong) = &part.wrong {
            bail!("{wrong}");
        }
        if !part.figures.is_empty() {
            let figures: Vec<Value> = part.figures.iter().map(figure).collect();
            let cautions: Vec<Value> = part
                .cautions
                .iter()
                .map(|(words, standing)| json!({ "words": words, "standing": standing }))
                .collect();
            told[key] = json!({ "figures": figures, "cautions": cautions });
        }
    }
    if told.as_object().is_some_and(|parts| parts.len() == 1) {
        bail!(
            "nothing to reckon: give --ppm and --nitrogen, --reading and --meter, or --label, --label-in and --spray"
        );
    }
    Ok(told)
}

fn figure(figure: &Figure) -> Value {
    json!({
        "key": figure.key,
        "means": figure.name,
        "amount": figure.amount,
        "unit": figure.unit,
        "standing": figure.standing
    })
}
