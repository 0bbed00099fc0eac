//! The page *Feed and spray*: sums on the figures of a label, each with its standing, and what to heed beside them.

mod typed;

pub use typed::{FieldError, Typed};

use measure::{
    quantity::{
        DecisiemensPerMetre, Gram, GramsPerLitre, KilogramPerLitre, Litre, MillilitresPerLitre, OneTo,
        PartsPerMillion, Percent, Units,
    },
    sourced::Standing,
};
use water::feed::{self, Label, MeterScale};

/// One answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// Its word for programs.
    pub key: &'static str,
    /// What it is.
    pub name: String,
    /// How much, unrounded.
    pub amount: f64,
    /// In which unit.
    pub unit: &'static str,
    /// How far to trust it.
    pub standing: String,
}

impl Figure {
    /// The amount to four digits with its unit.
    ///
    /// ```
    /// let figure = view::feed::Figure {
    ///     key: "feed", name: "Fertiliser".into(), amount: 1.25, unit: "g per litre", standing: String::new(),
    /// };
    /// assert_eq!(figure.shown(), "1.25 g per litre");
    /// ```
    pub fn shown(&self) -> String {
        let whole_digits = self.amount.abs().max(1e-6).log10().floor() as i32 + 1;
        let decimals = (4 - whole_digits).clamp(0, 8) as usize;
        let text = format!("{:.decimals$}", self.amount);
        let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
        format!("{} {}", text.replace('-', "−"), self.unit)
    }
}

/// A part of the page: its answers, or what keeps it from one.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Part {
    /// Answers, in order; none where nothing was typed.
    pub figures: Vec<Figure>,
    /// What was typed that cannot be used.
    pub wrong: Option<FieldError>,
    /// What to heed, each with its standing.
    pub cautions: Vec<(&'static str, String)>,
}

/// The page.
#[derive(Clone, Debug, PartialEq)]
pub struct Feed {
    /// What was typed, shown again.
    pub typed: Typed,
    /// Fertiliser for a feed, and its stock.
    pub feed: Part,
    /// Conductivity and its scales.
    pub salts: Part,
    /// Product and water of a spray.
    pub spray: Part,
}

/// The page for what was typed.
pub fn page(typed: Typed) -> Feed {
    Feed {
        feed: part(feed_figures(&typed), &feed::FEEDING),
        salts: part(salt_figures(&typed), &feed::SALTS),
        spray: part(spray_figures(&typed), &feed::SPRAYING),
        typed,
    }
}

impl Feed {
    /// The three parts with their words for programs.
    pub fn parts(&self) -> [(&'static str, &Part); 3] {
        [("feed", &self.feed), ("salts", &self.salts), ("spray", &self.spray)]
    }
}

type Figures = Result<Vec<Figure>, FieldError>;

fn part(figures: Figures, cautions: &[feed::Caution]) -> Part {
    let cautions = cautions.iter().map(|it| (it.value, it.standing.words())).collect();
    match figures {
        Ok(figures) => Part { figures, wrong: None, cautions },
        Err(wrong) => Part { figures: Vec::new(), wrong: Some(wrong), cautions },
    }
}

fn figure(
    key: &'static str,
    name: impl Into<String>,
    (amount, unit): (f64, &'static str),
    standing: Standing,
) -> Figure {
    Figure { key, name: name.into(), amount, unit, standing: standing.words() }
}

fn feed_figures(typed: &Typed) -> Figures {
    let phosphate = typed.share("phosphate")?;
    let potash = typed.share("potash")?;
    let mut figures = Vec::new();
    let strength = if wants_feed(typed) { Some(mixing(typed, &mut figures)?) } else { None };
    let held = [
        ("phosphorus", "ppm_p", "P", phosphate.map(feed::phosphorus), feed::PHOSPHORUS.standing),
        ("potassium", "ppm_k", "K", potash.map(feed::potassium), feed::POTASSIUM.standing),
    ];
    for (key, key_in_feed, element, held, standing) in held {
        let Some(held) = held else { continue };
        figures.push(figure(key, format!("{element} on the label"), (held.0, "%"), standing));
        if let Some(strength) = strength {
            let brought = (feed::brings(strength, held).0, "ppm");
            figures.push(figure(key_in_feed, format!("{element} in the feed"), brought, standing));
        }
    }
    Ok(figures)
}

/// Whether a feed is asked for; a label alone may only want its oxides turned into elements.
fn wants_feed(typed: &Typed) -> bool {
    let oxides = typed.any(&["phosphate", "potash"]);
    typed.any(&["ppm", "density", "volume", "ratio"]) || (typed.any(&["nitrogen"]) && !oxides)
}

/// The strength, what a volume takes, the stock, and the same as a liquid.
fn mixing(typed: &Typed, figures: &mut Vec<Figure>) -> Result<GramsPerLitre, FieldError> {
    let units = typed.units;
    let (ppm, nitrogen) = (PartsPerMillion(typed.needed("ppm")?), Percent(typed.needed("nitrogen")?));
    typed.check("nitrogen", feed::grams_per_litre(PartsPerMillion(1.0), nitrogen))?;
    let strength = typed.check("ppm", feed::grams_per_litre(ppm, nitrogen))?;
    figures.push(figure("feed", "Fertiliser in the feed", by_weight(units, strength), feed::STRENGTH));
    if let Some(volume) = typed.volume("volume")? {
        let weight = typed.check("volume", feed::weighed(strength, volume))?;
        let name = format!("For {} {}", typed.text("volume"), volume_in(units, volume).1);
        figures.push(figure("batch", name, weight_in(units, weight), feed::STRENGTH));
    }
    if let Some(ratio) = typed.number("ratio")?.map(OneTo) {
        let stock = typed.check("ratio", feed::stock(strength, ratio))?;
        let name = format!("Stock for 1 in {}", ratio.0);
        figures.push(figure("stock", name, by_weight(units, stock), feed::STRENGTH));
    }
    if let Some(density) = typed.number("density")?.map(KilogramPerLitre) {
        let liquid = typed.check("density", feed::millilitres_per_litre(ppm, nitrogen, density))?;
        figures.push(figure("liquid", "As a liquid", by_volume(units, liquid), feed::STRENGTH));
    }
    Ok(strength)
}

fn salt_figures(typed: &Typed) -> Figures {
    let mut figures = Vec::new();
    let water = typed.number("water")?.map(DecisiemensPerMetre);
    if let Some(conducts) = typed.conducts()? {
        let net = feed::net_of_water(conducts, DecisiemensPerMetre(0.0));
        typed.check("reading", net)?;
        figures.push(figure("ec", "EC", (conducts.0, "dS/m (mS/cm)"), Standing::Practice));
        let fine = conducts.microsiemens_per_centimetre();
        figures.push(figure("ec_fine", "The same", (fine, "µS/cm"), Standing::Practice));
        for (scale, key) in MeterScale::ALL.into_iter().zip(["ppm_500", "ppm_640", "ppm_700"]) {
            let name = format!("On the {} scale", scale.at_one().0);
            figures.push(figure(key, name, (scale.reads(conducts).0, "“ppm”"), Standing::Practice));
        }
        if let Some(water) = water {
            let net = typed.check("water", feed::net_of_water(conducts, water))?;
            figures.push(figure("ec_net", "Net of the water", (net.0, "dS/m"), Standing::Practice));
        }
    }
    if typed.any(&["bag"]) {
        let (water, ppm) = (DecisiemensPerMetre(typed.needed("water")?), typed.needed("fed")?);
        let bag = DecisiemensPerMetre(typed.needed("bag")?);
        let feed = typed.check("bag", feed::with_feed(water, bag, PartsPerMillion(ppm)))?;
        let name = format!("Expected of a feed at {ppm} ppm N");
        figures.push(figure("ec_expected", name, (feed.0, "dS/m"), Standing::Practice));
    }
    Ok(figures)
}

/// How far a spray's sum is to be trusted.
const AS_TYPED: &str = "the label figure you typed, times your volume";

fn spray_figures(typed: &Typed) -> Figures {
    if !typed.any(&["label", "spray"]) {
        return Ok(Vec::new());
    }
    let (rate, volume) = (typed.needed("label")?, typed.needed_volume("spray")?);
    let figure = |key, name: &str, (amount, unit)| Figure {
        key,
        name: name.into(),
        amount,
        unit,
        standing: AS_TYPED.into(),
    };
    typed.check("spray", feed::weighed(GramsPerLitre(1.0), volume))?;
    let units = typed.units;
    if let Some(strength) = typed.dry(rate)? {
        let weight = typed.check("label", feed::weighed(strength, volume))?;
        return Ok(vec![
            figure("product", "Product", (weight.0, "g")),
            figure("product_imperial", "The same", weight_in(Units::Imperial, weight)),
            figure("total", "Spray to make", volume_in(units, volume)),
        ]);
    }
    let label: Label = typed.label(rate)?;
    let spray = typed.check("label", feed::mixed(label, volume, typed.measured()?))?;
    let millilitres = spray.product.0 * 1000.0;
    Ok(vec![
        figure("product", "Product", (millilitres, "ml")),
        figure("product_imperial", "The same", (spray.product.fluid_ounces(), "US fl oz")),
        figure("water", "Water", volume_in(units, spray.water)),
        figure("total", "Together", volume_in(units, spray.total)),
    ])
}

fn by_weight(units: Units, strength: GramsPerLitre) -> (f64, &'static str) {
    match units {
        Units::Metric => (strength.0, "g per litre"),
        Units::Imperial => (strength.ounces_per_gallon(), "oz per US gal"),
    }
}

fn by_volume(units: Units, strength: MillilitresPerLitre) -> (f64, &'static str) {
    match units {
        Units::Metric => (strength.0, "ml per litre"),
        Units::Imperial => (strength.fluid_ounces_per_gallon(), "fl oz per US gal"),
    }
}

fn weight_in(units: Units, weight: Gram) -> (f64, &'static str) {
    match units {
        Units::Metric => (weight.0, "g"),
        Units::Imperial => (weight.ounces(), "oz"),
    }
}

fn volume_in(units: Units, volume: Litre) -> (f64, &'static str) {
    match units {
        Units::Metric => (volume.0, "litres"),
        Units::Imperial => (volume.gallons(), "US gal"),
    }
}

#[cfg(test)]
mod tests;
