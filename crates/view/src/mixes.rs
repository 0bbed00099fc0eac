//! The mix bench: one pot and two mixes side by side, and a mix's own numbers by the bucket.

mod bucket;
mod draw;

use collection::potting::{Mix, Pot};
use measure::quantity::{Centimetre, Degrees, Gram, Kilogram, Share, Units};
use pot::error::Error;
use season::bench::{self, Filled, LAYERS};

pub use bucket::{BucketPage, PotLine, bucket};
pub use draw::{Band, Drawing, Mark};
pub use season::bench::filled;

use crate::{whole::Whole, words};

/// What the address asks for; an empty word takes the first that fits.
#[derive(Clone, Copy, Debug, Default)]
pub struct Asked<'a> {
    /// The pot's key.
    pub pot: &'a str,
    /// The two mixes' keys.
    pub mixes: [&'a str; 2],
    /// Degrees of tilt as typed.
    pub tilt: &'a str,
}

/// A line of a list to choose from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// True where it is the one shown.
    pub is_chosen: bool,
}

/// A mix of the grower's.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MixLine {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Its sieves.
    pub grain: String,
    /// True where it was put to the bucket test.
    pub is_tested: bool,
}

/// One mix in the pot.
#[derive(Clone, Debug, PartialEq)]
pub struct Side {
    /// The mix.
    pub mix: MixLine,
    /// The pot cut open.
    pub drawing: Drawing,
    /// Where the figures come from.
    pub standing: Vec<String>,
    /// What weakens them.
    pub caveats: Vec<&'static str>,
}

/// The pot with both mixes.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// Both sides.
    pub sides: Vec<Side>,
    /// The figures: what, and of each mix.
    pub figures: Vec<(&'static str, Vec<String>)>,
    /// Water and air by height: which layer, and of each mix.
    pub layers: Vec<(usize, Vec<String>)>,
}

/// The mix bench.
#[derive(Clone, Debug, PartialEq)]
pub struct Bench {
    /// The pots.
    pub pots: Vec<Choice>,
    /// The mixes, once for each side.
    pub sides: [Vec<Choice>; 2],
    /// Degrees of tilt as typed.
    pub tilt: String,
    /// Whether the pot can be tipped here.
    pub can_tip: bool,
    /// Whether it is tipped and its sides lean, so that it is taken for a box.
    pub is_boxed: bool,
    /// The pot, its soil and who stands in it.
    pub pot: String,
    /// The comparison, or why there is none; none where a pot or a mix is wanting.
    pub told: Option<Result<Compared, String>>,
    /// Every mix.
    pub mixes: Vec<MixLine>,
    /// The trees, for the forms.
    pub trees: Vec<(String, String)>,
    /// Today.
    pub today: String,
    /// How lengths are typed.
    pub length_unit: &'static str,
}

/// The units of the site.
pub fn units(whole: &Whole) -> Units {
    whole.site.as_ref().map_or(Units::Metric, |site| site.units)
}

fn per_cent(share: Share) -> String {
    format!("{:.0} %", share.0 * 100.0)
}

fn line(mix: &Mix) -> MixLine {
    MixLine {
        key: mix.key.clone(),
        name: mix.name.clone(),
        grain: format!("{} to {} mm", mix.grain[0].0, mix.grain[1].0),
        is_tested: mix.tested.is_some(),
    }
}

/// The mix bench with what was asked for; none where a pot or a mix of that name is not in the collection.
pub fn mixes(whole: &Whole, asked: Asked<'_>) -> Option<Bench> {
    let pot = whole.pots.iter().find(|pot| asked.pot.is_empty() || pot.key == asked.pot);
    let side = |side: usize| {
        let key = asked.mixes[side];
        let spare = whole.mixes.get(side.min(whole.mixes.len().saturating_sub(1)));
        if key.is_empty() { spare } else { whole.mixes.iter().find(|mix| mix.key == key) }
    };
    let chosen = [side(0), side(1)];
    let unknown = |key: &str, is_found: bool| !key.is_empty() && !is_found;
    if unknown(asked.pot, pot.is_some()) || (0..2).any(|it| unknown(asked.mixes[it], chosen[it].is_some())) {
        return None;
    }
    let can_tip = pot.is_some_and(bench::can_tip);
    let tilt = if can_tip && !asked.tilt.trim().is_empty() { asked.tilt.trim() } else { "0" };
    let told = match (pot, chosen) {
        (Some(pot), [Some(one), Some(other)]) => Some(compared(whole, pot, [one, other], tilt)),
        _ => None,
    };
    Some(Bench {
        pots: whole.pots.iter().map(|it| choice(&it.key, &it.name, pot.map(|pot| &pot.key))).collect(),
        sides: chosen.map(|mix| {
            whole.mixes.iter().map(|it| choice(&it.key, &it.name, mix.map(|mix| &mix.key))).collect()
        }),
        tilt: tilt.into(),
        can_tip,
        is_boxed: pot.is_some_and(|pot| bench::is_tapered(pot) && degrees(tilt).is_ok_and(|it| it.0 > 0.0)),
        pot: pot.map_or_else(String::new, |pot| pot_words(whole, pot)),
        told,
        mixes: whole.mixes.iter().map(line).collect(),
        trees: whole.trees.iter().map(|it| (it.tree.key.clone(), it.tree.name.clone())).collect(),
        today: whole.today.to_string(),
        length_unit: if units(whole) == Units::Metric { "cm" } else { "in" },
    })
}

fn choice(key: &str, name: &str, chosen: Option<&String>) -> Choice {
    Choice { key: key.into(), name: name.into(), is_chosen: chosen.is_some_and(|chosen| chosen == key) }
}

fn pot_words(whole: &Whole, pot: &Pot) -> String {
    let units = units(whole);
    let soil = season::potting::soil(pot).map_or_else(
        |why| format!("its soil cannot be told: {why}"),
        |soil| format!("{} of soil, {} deep", units.water(soil.volume()), units.span(soil.height())),
    );
    let tenants: Vec<String> = whole
        .trees
        .iter()
        .filter_map(|tree| Some((tree, tree.potted.last()?)))
        .filter(|(_, (_, it, _))| whole.pots[*it].key == pot.key)
        .map(|(tree, (day, _, mix))| {
            format!(
                "{} stands in it since {}, in {}",
                tree.tree.name,
                words::day(*day, whole.today),
                whole.mixes[*mix].name
            )
        })
        .collect();
    [vec![soil], tenants].concat().join(" · ")
}

fn degrees(tilt: &str) -> Result<Degrees, String> {
    let typed = tilt.replace(',', ".").parse();
    typed.map(Degrees).map_err(|_| format!("tilt: “{tilt}” is not a number of degrees"))
}

fn compared(whole: &Whole, pot: &Pot, mixes: [&Mix; 2], tilt: &str) -> Result<Compared, String> {
    let units = units(whole);
    let angle = degrees(tilt)?;
    let told = mixes
        .into_iter()
        .map(|mix| filled(pot, mix, angle).map_err(|why| format!("{}: {}", mix.name, refusal(&why, units))))
        .collect::<Result<Vec<Filled>, String>>()?;
    Ok(Compared {
        sides: mixes.iter().zip(&told).map(|(mix, told)| side(pot, mix, told, angle, units)).collect(),
        figures: figures(&told, units),
        layers: (0..LAYERS)
            .rev()
            .map(|at| (at + 1, told.iter().map(|told| layer(told, at, units)).collect()))
            .collect(),
    })
}

fn side(pot: &Pot, mix: &Mix, told: &Filled, angle: Degrees, units: Units) -> Side {
    let held = told.standing.words();
    let weight = told.weight_standing.words();
    let mut standing = vec![format!("water and air: {held}")];
    standing.push(format!("weight of the mix: {weight}"));
    Side {
        mix: line(mix),
        drawing: draw::cut(pot, told, angle, units, &mix.name),
        standing,
        caveats: told.caveats.iter().map(|caveat| caveat.words()).collect(),
    }
}

/// How high the wet layer stands, in words.
fn wet_layer(told: &Filled, units: Units) -> String {
    match told.wet_layer {
        Centimetre(top) if top < 0.05 => "none".into(),
        top if top >= told.height => "all of it".into(),
        top => units.span(top),
    }
}

fn figures(told: &[Filled], units: Units) -> Vec<(&'static str, Vec<String>)> {
    let load = |weight: Kilogram| units.weight(Gram(weight.0 * 1000.0));
    let row = |what, tell: &dyn Fn(&Filled) -> String| (what, told.iter().map(tell).collect());
    vec![
        row("Water held when drained", &|it| {
            format!("{}, {} of the soil", units.water(it.water), per_cent(it.capacity))
        }),
        row("Air then", &|it| per_cent(it.air)),
        row("Water for roots", &|it| units.water(it.for_roots)),
        row("Wet layer, air under 10 %", &|it| wet_layer(it, units)),
        row("Weight without the tree, drained", &|it| load(it.drained)),
        row("The same, roots' water used up", &|it| load(it.used_up)),
    ]
}

fn layer(told: &Filled, at: usize, units: Units) -> String {
    let height = |at: usize| Centimetre(told.height.0 * at as f64 / LAYERS as f64);
    let (low, high) = (units.span_figure(height(at)), units.span(height(at + 1)));
    let water = told.layers[at];
    let air = Share(told.porosity.0 - water.0);
    format!("{} water, {} air ({low} to {high})", per_cent(water), per_cent(air))
}

/// Why weighings or measures tell nothing, in the reader's units.
pub fn refusal(why: &Error, units: Units) -> String {
    match *why {
        Error::WrongWayRound { lighter, lighter_grams, heavier, heavier_grams } => format!(
            "{lighter} weighs {} and {heavier} weighs {}: the second must be the heavier. Weigh both again, or look whether \
             they stand in each other's place",
            units.weight(Gram(lighter_grams)),
            units.weight(Gram(heavier_grams))
        ),
        Error::NoCurve { capacity, low, high } => format!(
            "by the drained weighing the mix holds {} of its volume, which must lie between {}, what its grains hold alone, \
             and {}, what it took up when flooded",
            per_cent(Share(capacity)),
            per_cent(Share(low)),
            per_cent(Share(high))
        ),
        Error::OutOfRange(why) => why.to_string(),
    }
}
