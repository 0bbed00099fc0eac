//! A mix's page: the steps of its bucket test, its own numbers, and what each pot holds with it.

use collection::potting::Mix;
use measure::{
    quantity::{Degrees, Units},
    sourced::Standing,
};
use season::{bench::filled, potting};

use super::{MixLine, line, per_cent, refusal, units, wet_layer};
use crate::whole::Whole;

/// What one pot holds with the mix.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PotLine {
    /// The pot's key.
    pub key: String,
    /// The pot.
    pub name: String,
    /// Water held, for roots, air, wet layer; or why not.
    pub told: Result<[String; 4], String>,
}

/// A mix's page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BucketPage {
    /// The mix.
    pub mix: MixLine,
    /// Its numbers: what and how much; or why there are none.
    pub numbers: Result<Vec<(&'static str, String)>, String>,
    /// Where they come from.
    pub standing: String,
    /// What weakens them.
    pub caveats: Vec<&'static str>,
    /// The pots.
    pub pots: Vec<PotLine>,
    /// Examples of a height, a volume and a weight as this reader writes them.
    pub examples: [&'static str; 3],
}

/// A mix's page, or none of that name.
pub fn bucket(whole: &Whole, key: &str) -> Option<BucketPage> {
    let mix = whole.mixes.iter().find(|mix| mix.key == key)?;
    let units = units(whole);
    let told = potting::retention(mix);
    Some(BucketPage {
        mix: line(mix),
        numbers: numbers(mix, units),
        standing: told.as_ref().map_or_else(|_| String::new(), |told| standing(told.standing)),
        caveats: told
            .map_or_else(|_| Vec::new(), |told| told.caveats.iter().map(|caveat| caveat.words()).collect()),
        pots: whole
            .pots
            .iter()
            .map(|pot| PotLine {
                key: pot.key.clone(),
                name: pot.name.clone(),
                told: filled(pot, mix, Degrees(0.0)).map_err(|why| refusal(&why, units)).map(|it| {
                    [
                        format!("{}, {}", units.water(it.water), per_cent(it.capacity)),
                        units.water(it.for_roots),
                        per_cent(it.air),
                        wet_layer(&it, units),
                    ]
                }),
            })
            .collect(),
        examples: match units {
            Units::Metric => ["12 cm", "2 l", "1240 g"],
            Units::Imperial => ["4.7 in", "2.1 qt", "2.7 lb"],
        },
    })
}

fn standing(standing: Standing) -> String {
    match standing {
        Standing::Measured => "from your own weighings".into(),
        other => other.words(),
    }
}

fn numbers(mix: &Mix, units: Units) -> Result<Vec<(&'static str, String)>, String> {
    let told = potting::retention(mix).map_err(|why| refusal(&why, units))?;
    let density = potting::density(mix).map_err(|why| refusal(&why, units))?;
    let mut rows = vec![("Weighs, dry", units.density(density.value))];
    if let (Some(test), Ok(Some(weighed))) = (mix.tested, potting::weighed(mix)) {
        rows.push(("Takes up when flooded", per_cent(weighed.porosity)));
        let deep = units.span(test.height);
        rows.push(("Holds after draining", format!("{}, {deep} deep", per_cent(weighed.capacity))));
        rows.push(("Air then", per_cent(weighed.air)));
        if let Some(inside) = test.inside {
            rows.push(("Of that inside the soaked grains", per_cent(inside)));
        }
    } else {
        rows.push(("Takes up when flooded", per_cent(told.value.porosity())));
    }
    rows.push(("Its gaps draw water up to", units.span(told.value.draw())));
    Ok(rows)
}
