//! What the grower typed into *Feed and spray*, and each field read or refused by name.

use measure::{
    quantity::{
        DecisiemensPerMetre, GramsPerLitre, Litre, MillilitresPerLitre, OneTo, PartsPerMillion, Percent,
        Units,
    },
    range::{OutOfRange, within},
};
use water::feed::{Label, Measured, MeterScale};

/// Every field: its word in addresses and on the command line, and its name on the page.
const FIELDS: [(&str, &str); 15] = [
    ("ppm", "ppm N wanted"),
    ("nitrogen", "N on the label"),
    ("phosphate", "P2O5 on the label"),
    ("potash", "K2O on the label"),
    ("density", "Density of a liquid"),
    ("volume", "Feed to make"),
    ("ratio", "Stock thinned 1 in"),
    ("reading", "Meter reading"),
    ("meter", "Meter shows"),
    ("water", "EC of your water"),
    ("bag", "EC at 100 ppm N"),
    ("fed", "ppm N in this feed"),
    ("label", "Figure on the label"),
    ("spray", "Volume for today"),
    ("label-in", "Label figure is in"),
];

/// A field that cannot be used.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{field}: “{value}” {why}")]
pub struct FieldError {
    /// The field's name on the page.
    pub field: &'static str,
    /// What was typed.
    pub value: String,
    /// Why not.
    pub why: String,
}

/// The fields as typed; nothing is filled in for the grower.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Typed {
    /// Litres and grams, or US gallons and ounces.
    pub units: Units,
    fields: Vec<(&'static str, String)>,
    measured: String,
}

impl Typed {
    /// The fields that `of` gives by their words.
    ///
    /// ```
    /// use view::feed::Typed;
    ///
    /// let typed = Typed::of(measure::quantity::Units::Metric, |name| if name == "ppm" { " 50".into() } else { String::new() });
    /// assert_eq!(typed.text("ppm"), "50");
    /// ```
    pub fn of(units: Units, of: impl Fn(&str) -> String) -> Typed {
        let fields = FIELDS.iter().map(|&(key, _)| (key, of(key).trim().to_string())).collect();
        Typed { units, fields, measured: of("measured").trim().to_string() }
    }

    /// A field as typed; empty where nothing was.
    pub fn text(&self, key: &str) -> &str {
        if key == "measured" {
            return &self.measured;
        }
        self.fields.iter().find(|(name, _)| *name == key).map_or("", |(_, text)| text)
    }

    /// Whether any of these fields was filled.
    pub(super) fn any(&self, keys: &[&str]) -> bool {
        keys.iter().any(|key| !self.text(key).is_empty())
    }

    fn wrong(&self, key: &str, why: impl Into<String>) -> FieldError {
        let field = FIELDS.iter().find(|(name, _)| *name == key).map_or("Measured", |(_, field)| field);
        FieldError { field, value: self.text(key).into(), why: why.into() }
    }

    /// A field's number, if it was filled. One comma is a decimal comma unless it could part thousands.
    pub(super) fn number(&self, key: &str) -> Result<Option<f64>, FieldError> {
        let text = self.text(key);
        if text.is_empty() {
            return Ok(None);
        }
        let plain = match text.split_once(',') {
            Some((_, after)) if after.len() == 3 => {
                return Err(self.wrong(
                    key,
                    "could be thousands or decimals; write it with a point, or without a comma",
                ));
            }
            Some(_) => text.replacen(',', ".", 1),
            None => text.to_string(),
        };
        let number = plain.parse::<f64>().ok().filter(|number| number.is_finite());
        number.map(Some).ok_or_else(|| self.wrong(key, "is not a number"))
    }

    /// A field's number where an answer cannot do without.
    pub(super) fn needed(&self, key: &str) -> Result<f64, FieldError> {
        self.number(key)?.ok_or_else(|| self.wrong(key, "is empty, and the sum needs it"))
    }

    /// Per cent of an oxide.
    pub(super) fn share(&self, key: &str) -> Result<Option<Percent>, FieldError> {
        let Some(percent) = self.number(key)? else { return Ok(None) };
        self.check(key, within("per cent", percent, 0.0, 100.0)).map(|percent| Some(Percent(percent)))
    }

    /// A volume in the grower's units.
    pub(super) fn volume(&self, key: &str) -> Result<Option<Litre>, FieldError> {
        Ok(self.number(key)?.map(|volume| match self.units {
            Units::Metric => Litre(volume),
            Units::Imperial => Litre::from_gallons(volume),
        }))
    }

    /// A volume where an answer cannot do without.
    pub(super) fn needed_volume(&self, key: &str) -> Result<Litre, FieldError> {
        self.volume(key)?.ok_or_else(|| self.wrong(key, "is empty, and the sum needs it"))
    }

    /// What a formula gave, its refusal told by field and value.
    pub(super) fn check<T>(&self, key: &str, told: Result<T, OutOfRange>) -> Result<T, FieldError> {
        told.map_err(|why| self.wrong(key, format!("cannot be used: {why}")))
    }

    /// The meter's reading as conductivity.
    pub(super) fn conducts(&self) -> Result<Option<DecisiemensPerMetre>, FieldError> {
        let Some(reading) = self.number("reading")? else { return Ok(None) };
        Ok(Some(match self.text("meter") {
            "ds" => DecisiemensPerMetre(reading),
            "us" => DecisiemensPerMetre::from_microsiemens_per_centimetre(reading),
            "ppm500" => MeterScale::Of500.conducts(PartsPerMillion(reading)),
            "ppm700" => MeterScale::Of700.conducts(PartsPerMillion(reading)),
            _ => return Err(self.wrong("meter", "says no unit: choose ds, us, ppm500 or ppm700")),
        }))
    }

    /// The strength of a product that is weighed; none for a liquid.
    pub(super) fn dry(&self, rate: f64) -> Result<Option<GramsPerLitre>, FieldError> {
        match self.text("label-in") {
            "" => Err(self.wrong("label-in", "says no unit: choose the one the label prints")),
            "g-per-l" => Ok(Some(GramsPerLitre(rate))),
            "oz-per-gal" => Ok(Some(GramsPerLitre::from_ounces_per_gallon(rate))),
            _ => Ok(None),
        }
    }

    /// A liquid's label.
    pub(super) fn label(&self, rate: f64) -> Result<Label, FieldError> {
        match self.text("label-in") {
            "ml-per-l" => Ok(Label::PerLitre(MillilitresPerLitre(rate))),
            "floz-per-gal" => Ok(Label::PerLitre(MillilitresPerLitre::from_fluid_ounces_per_gallon(rate))),
            "one-in" => Ok(Label::OneIn(OneTo(rate))),
            "one-to" => Ok(Label::OneToWater(OneTo(rate))),
            _ => Err(self.wrong(
                "label-in",
                "is no unit of a label: ml-per-l, g-per-l, floz-per-gal, oz-per-gal, one-in or one-to",
            )),
        }
    }

    /// Which volume was named; finished spray where nothing is said.
    pub(super) fn measured(&self) -> Result<Measured, FieldError> {
        match self.measured.as_str() {
            "" | "finished" => Ok(Measured::Finished),
            "water" => Ok(Measured::Water),
            _ => Err(self.wrong("measured", "is neither finished nor water")),
        }
    }
}
