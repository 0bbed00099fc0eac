//! What a planned repot uses up: mix by component, mesh and tie wire.

pub mod order;

use collection::{
    potting::{Mix, Pot},
    stock::{Blend, Item},
    ware::Ware,
};
use jiff::civil::Date;
use measure::{
    quantity::{Litre, Millimetre, Share},
    range::OutOfRange,
    sourced::{Sourced, Standing},
    taxon::Kind,
};
use pot::{
    fit::frame::Size,
    repot::materials::{self, Buy, Ties},
    table::{Between, Component, Grade, Recipe, SizeClass},
};

use super::{
    frame::{Framed, frame},
    record::Record,
};

/// What a tree goes into.
#[derive(Clone, Copy, Debug)]
pub enum Into<'a> {
    /// A pot of the shelf.
    Pot(&'a Pot, &'a Ware),
    /// A training pot; none where nobody chose one: one of one and a half times the soil is taken.
    Training(Option<(&'a Pot, &'a Ware)>),
}

/// A planned repot.
#[derive(Clone, Copy, Debug)]
pub struct Job<'a> {
    /// The tree.
    pub record: &'a Record<'a>,
    /// Its number, by which shortfalls name it.
    pub tree: usize,
    /// Share of its roots to be cut.
    pub cut: Share,
    /// What it goes into.
    pub into: Into<'a>,
    /// The grower's own mix with what it is made of; none where the usual one of its kind is taken.
    pub mix: Option<(&'a Mix, Option<&'a Blend>)>,
    /// The likely day.
    pub day: Date,
}

/// What the mix is made of.
#[derive(Clone, Debug, PartialEq)]
pub enum Made {
    /// The usual mix of the house's table.
    Usual(&'static Recipe),
    /// The grower's own, by its key.
    Own(String),
    /// The grower's own, by its key, but nobody wrote down what it is made of: nothing can be ordered for it.
    Unknown(String),
}

/// What of the goods is taken for granted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Assumed {
    /// No old pot is written down: nothing is kept of the old soil.
    OldPot,
    /// Nobody chose a training pot.
    TrainingPot,
    /// Nobody counted the holes for water.
    Holes,
    /// Nobody measured them.
    HoleWidth,
    /// What the sieve takes of a component is not known: nothing is added for it.
    SieveLoss,
    /// Nobody measured the tree: kifu is taken.
    TreeSize,
}

impl Assumed {
    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Assumed::OldPot => "no old pot is written down; all of the soil is taken to be new",
            Assumed::TrainingPot => "nobody chose a training pot; one and a half times the old soil is taken",
            Assumed::Holes => "nobody counted the holes; one for every 15 cm is taken",
            Assumed::HoleWidth => "nobody measured the holes; 12 mm is taken",
            Assumed::SieveLoss => {
                "what the sieve takes of one part of the mix is not known; nothing is added for it"
            }
            Assumed::TreeSize => "nobody measured the tree; a middling one is taken",
        }
    }
}

/// Why nothing can be said of the goods.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum NoGoods {
    /// Neither the old pot nor the new one is known.
    #[error("neither the pot that the tree leaves nor the one that it gets is written down")]
    NoPot,
    /// A measure is not that of a pot.
    #[error(transparent)]
    Pot(#[from] pot::error::Error),
    /// A figure is out of its span.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

/// So much of an item for a tree, by a day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Need {
    /// Whose.
    pub tree: usize,
    /// What.
    pub item: Item,
    /// How much, in the item's unit.
    pub amount: f64,
    /// By when.
    pub day: Date,
}

/// What a repot uses up.
#[derive(Clone, Debug, PartialEq)]
pub struct Goods {
    /// What the mix is made of.
    pub made: Made,
    /// Between which sieves its grains lie.
    pub grains: Between<Millimetre>,
    /// How much mix.
    pub mix: Litre,
    /// Of it each component, and out of the bag; empty where nobody knows what the mix is made of.
    pub parts: Vec<Buy>,
    /// The wires that tie the tree down.
    pub ties: Ties,
    /// Pieces of mesh, and their side.
    pub mesh: (u8, Millimetre),
    /// All of it as it leaves the shed.
    pub needs: Vec<Need>,
    /// What was taken for granted.
    pub assumed: Vec<Assumed>,
}

/// A hole that nobody measured.
pub const HOLE: Sourced<Millimetre> = Sourced { value: Millimetre(12.0), standing: Standing::Practice };
/// The wire that holds mesh.
pub const STAPLE_GAUGE: Sourced<Millimetre> =
    Sourced { value: Millimetre(1.5), standing: Standing::Practice };
/// Soil of a training pot, in volumes of the pot before it: the low end of one and a half to two.
pub const TRAINING_ROOM: Sourced<f64> = Sourced { value: 1.5, standing: Standing::Practice };
/// One hole for such a stretch of the pot where nobody counted them, cm.
const PER_HOLE: f64 = 15.0;

/// The mix that a tree gets when the grower names none: for a broadleaf deciduous tree that is grown on, a coarse one; where trees are
/// left alone for long, one that holds more water, but not under pines, junipers and other trees that want it dry or sour.
///
/// Common practice, no source; see [`Recipe::usual`].
pub fn recipe(record: &Record<'_>) -> &'static Recipe {
    let usual = Recipe::usual(record.tree.taxon);
    let kind = record.tree.taxon.kind;
    let is_broadleaf = kind == Kind::SemiDeciduous || (kind.is_bare_in_winter() && kind != Kind::LarchGinkgo);
    let code = match usual.code {
        _ if record.is_growing_on() && is_broadleaf && usual.code != "MX-AZA" => "MX-DEV",
        "MX-DEC" | "MX-FLW" | "MX-TRO" | "MX-EVG" if record.thirsty => "MX-HEAT",
        code => code,
    };
    Recipe::of(code).expect("a mix of the table")
}

/// The grains that a mix of the table wants for a tree of this size.
fn grains(recipe: &Recipe, size: SizeClass) -> Between<Millimetre> {
    let at = |class: SizeClass| class.grains().main;
    match recipe.grade {
        Grade::AsThePot | Grade::FinerTop => at(size),
        Grade::Coarser => at(SizeClass::ALL[(size as usize + 1).min(SizeClass::ALL.len() - 1)]),
        Grade::Middling => Between { low: Millimetre(3.0), high: Millimetre(6.0) },
    }
}

/// What a planned repot uses up.
///
/// Mix, bags, mesh and ties as in [`materials`]; where a span of pieces is usual, the most is taken.
///
/// # Errors
///
/// [`NoGoods`] when no pot is known or a measure is none.
pub fn needs(job: &Job<'_>) -> Result<Goods, NoGoods> {
    let record = job.record;
    let mut assumed = Vec::new();
    let old = record.stands_in.map(|it| frame(it.pot, it.ware)).transpose()?;
    if old.is_none() {
        assumed.push(Assumed::OldPot);
    }
    let (inner, soil, ware) = room(job, old.as_ref(), &mut assumed)?;
    let size = record.stature().map_or_else(
        || {
            assumed.push(Assumed::TreeSize);
            SizeClass::Kifu
        },
        |it| SizeClass::of_height(it.height),
    );
    let mix = materials::mix(old.map_or(Litre(0.0), |old| old.frame.soil), soil, job.cut)?;
    let (made, grains, parts) = parts(job, size, mix);
    if parts.iter().any(|buy| materials::sieve_loss(buy.component).is_none()) {
        assumed.push(Assumed::SieveLoss);
    }
    let holes = ware.and_then(|it| it.drain_holes).unwrap_or_else(|| {
        assumed.push(Assumed::Holes);
        (inner.length.0 / PER_HOLE).ceil().clamp(1.0, 255.0) as u8
    });
    let hole = ware.and_then(|it| it.hole).unwrap_or_else(|| {
        assumed.push(Assumed::HoleWidth);
        HOLE.value
    });
    let mesh = (holes, materials::mesh(hole));
    let ties = materials::ties(inner, size);
    assumed.sort_unstable();
    let need = |item: Item, amount: f64| Need { tree: job.tree, item, amount, day: job.day };
    let mut needs: Vec<Need> =
        parts.iter().map(|buy| need(Item::Soil(buy.component), buy.from_bag.0)).collect();
    needs.push(need(Item::Mesh, f64::from(holes) * (mesh.1.0 / 10.0).powi(2)));
    let staples = f64::from(holes) * materials::STAPLE.value[1].0 / 10.0;
    let tied = f64::from(ties.pieces[1]) * ties.each.0;
    if ties.thick[0] == STAPLE_GAUGE.value {
        needs.push(need(Item::Tie(ties.thick[0]), tied + staples));
    } else {
        needs.extend([need(Item::Tie(ties.thick[0]), tied), need(Item::Tie(STAPLE_GAUGE.value), staples)]);
    }
    needs.retain(|need| need.amount > 0.0);
    Ok(Goods { made, grains, mix, parts, ties, mesh, needs, assumed })
}

/// What each component comes to out of the bag, by the grains that it is sieved to, given the goods of each tree; by component and from
/// fine to coarse.
pub fn by_grains(all: &[(usize, Goods)]) -> Vec<(Component, Between<Millimetre>, Litre)> {
    let mut told: Vec<(Component, Between<Millimetre>, Litre)> = Vec::new();
    for (_, goods) in all {
        for buy in &goods.parts {
            match told.iter_mut().find(|it| (it.0, it.1) == (buy.component, goods.grains)) {
                Some(it) => it.2.0 += buy.from_bag.0,
                None => told.push((buy.component, goods.grains, buy.from_bag)),
            }
        }
    }
    let size = |it: &Between<Millimetre>| [it.low.0, it.high.0].map(|mm| (1000.0 * mm).round() as i64);
    told.sort_by_key(|(component, grains, _)| (*component as u8, size(grains)));
    told
}

/// The inside and the soil of what the tree goes into.
fn room<'a>(
    job: &Job<'a>,
    old: Option<&Framed>,
    assumed: &mut Vec<Assumed>,
) -> Result<(Size, Litre, Option<&'a Ware>), NoGoods> {
    let (Into::Pot(pot, ware) | Into::Training(Some((pot, ware)))) = job.into else {
        assumed.push(Assumed::TrainingPot);
        let frame = old.ok_or(NoGoods::NoPot)?.frame;
        let more = |side: measure::quantity::Centimetre| {
            measure::quantity::Centimetre(side.0 * TRAINING_ROOM.value.cbrt())
        };
        let Size { length, width, depth } = frame.inner;
        let inner = Size { length: more(length), width: more(width), depth: more(depth) };
        return Ok((inner, Litre(frame.soil.0 * TRAINING_ROOM.value), None));
    };
    let framed = frame(pot, ware)?;
    Ok((framed.frame.inner, framed.frame.soil, Some(ware)))
}

/// What the mix is made of, its grains, and each component.
fn parts(job: &Job<'_>, size: SizeClass, mix: Litre) -> (Made, Between<Millimetre>, Vec<Buy>) {
    let Some((own, blend)) = job.mix else {
        let recipe = recipe(job.record);
        return (Made::Usual(recipe), grains(recipe, size), materials::bags(recipe, mix));
    };
    let [low, high] = own.grain;
    let key = own.key.clone();
    let shares = blend.map(shares).unwrap_or_default();
    let made = if shares.is_empty() { Made::Unknown(key) } else { Made::Own(key) };
    (made, Between { low, high }, materials::bags_of(shares.into_iter(), mix))
}

/// Each component with its share of the volume.
fn shares(blend: &Blend) -> Vec<(Component, f64)> {
    let whole: f64 = blend.parts.iter().map(|(_, parts)| parts).sum();
    let each = blend.parts.iter().filter(|(_, parts)| *parts > 0.0);
    if whole > 0.0 {
        each.map(|&(component, parts)| (component, parts / whole)).collect()
    } else {
        Vec::new()
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;
    use crate::repot::{
        offer::tests::Grower,
        record::tests::{mix, stature, tray, tree},
    };

    const DAY: Date = date(2027, 3, 12);

    fn amount(goods: &Goods, item: Item) -> f64 {
        goods.needs.iter().filter(|need| need.item == item).map(|need| need.amount).sum()
    }

    #[test]
    fn a_kifu_maple_back_into_its_oval_takes_what_the_bench_rules_say() {
        let grower = Grower::new(&[32.0], &[30.0]);
        let records = grower.records();
        let (pot, ware) = &grower.pots[0];
        let job = Job {
            record: &records[0],
            tree: 7,
            cut: Share(0.35),
            into: Into::Pot(pot, ware),
            mix: None,
            day: DAY,
        };
        let told = needs(&job).unwrap();
        let soil = frame(pot, ware).unwrap().frame.soil.0;
        let by_hand = (soil - soil * 0.65 * 0.85) * 1.15;
        assert!(
            (told.mix.0 - by_hand).abs() < 1e-12 && told.made == Made::Usual(Recipe::of("MX-DEC").unwrap())
        );
        let akadama = amount(&told, Item::Soil(Component::Akadama));
        assert!((akadama - by_hand / 2.0 / 0.8).abs() < 1e-12);
        assert!((amount(&told, Item::Mesh) - 3.0 * 3.7 * 3.7).abs() < 1e-9);
        assert!((amount(&told, Item::Tie(Millimetre(1.5))) - 24.0).abs() < 1e-9, "three staples of 8 cm");
        assert!((amount(&told, Item::Tie(Millimetre(2.0))) - 2.0 * told.ties.each.0).abs() < 1e-12);
        assert!(told.assumed.is_empty() && told.needs.iter().all(|need| (need.tree, need.day) == (7, DAY)));
        assert_eq!(told.grains, SizeClass::Kifu.grains().main);
    }

    #[test]
    fn a_mame_is_tied_with_the_wire_that_holds_its_mesh() {
        let grower = Grower::new(&[11.0], &[12.0]);
        let records = grower.records();
        let (pot, ware) = &grower.pots[0];
        let into = Into::Pot(pot, ware);
        let job = Job { record: &records[0], tree: 0, cut: Share(0.3), into, mix: None, day: DAY };
        let told = needs(&job).unwrap();
        let ties = told.needs.iter().filter(|need| matches!(need.item, Item::Tie(_)));
        assert_eq!(ties.count(), 1);
        assert!((amount(&told, Item::Tie(Millimetre(1.5))) - 2.0 * told.ties.each.0 - 24.0).abs() < 1e-9);
    }

    #[test]
    fn the_growers_own_mix_is_bought_by_its_own_parts_or_not_at_all() {
        let grower = Grower::new(&[32.0], &[30.0]);
        let records = grower.records();
        let (pot, ware) = &grower.pots[0];
        let own = mix();
        let parts = vec![(Component::Pumice, 3.0), (Component::Perlite, 1.0)];
        let blend = Blend { mix: "own".into(), parts };
        let job = |blend| Job {
            record: &records[0],
            tree: 0,
            cut: Share(0.35),
            into: Into::Pot(pot, ware),
            mix: Some((&own, blend)),
            day: DAY,
        };
        let told = needs(&job(Some(&blend))).unwrap();
        assert_eq!((&told.made, &told.assumed[..]), (&Made::Own("own".into()), &[Assumed::SieveLoss][..]));
        let pumice = amount(&told, Item::Soil(Component::Pumice));
        assert!((pumice - told.mix.0 * 0.75 / 0.85).abs() < 1e-12);
        let told = needs(&job(None)).unwrap();
        assert!(told.parts.is_empty() && told.made == Made::Unknown("own".into()) && told.mix.0 > 0.0);
    }

    #[test]
    fn the_order_by_grains_is_the_sum_of_the_trees() {
        let grower = Grower::new(&[11.0, 32.0, 33.0, 60.0], &[12.0, 27.0, 28.0, 50.0]);
        let records = grower.records();
        let goods = |at: usize| {
            let (pot, ware) = &grower.pots[at];
            let into = Into::Pot(pot, ware);
            let job = Job { record: &records[at], tree: at, cut: Share(0.35), into, mix: None, day: DAY };
            (at, needs(&job).unwrap())
        };
        let all: Vec<(usize, Goods)> = (0..4).map(goods).collect();
        let told = by_grains(&all);
        let akadama: Vec<_> = told.iter().filter(|it| it.0 == Component::Akadama).collect();
        assert_eq!(akadama.len(), 3, "two of the four trees are of one size: {told:?}");
        assert!(akadama.is_sorted_by_key(|it| it.1.low.0));
        for (component, grains, litres) in &told {
            let own = all.iter().filter(|(_, it)| it.grains == *grains).flat_map(|(_, it)| &it.needs);
            let sum: f64 = own.filter(|it| it.item == Item::Soil(*component)).map(|it| it.amount).sum();
            assert!((litres.0 - sum).abs() < 1e-12);
        }
        assert!(by_grains(&[]).is_empty());
    }

    #[test]
    fn a_training_pot_nobody_chose_is_half_as_large_again() {
        let grower = Grower::new(&[32.0], &[30.0]);
        let records = grower.records();
        let job = |record| Job {
            record,
            tree: 0,
            cut: Share(0.35),
            into: Into::Training(None),
            mix: None,
            day: DAY,
        };
        let told = needs(&job(&records[0])).unwrap();
        let soil = frame(&grower.pots[0].0, &grower.pots[0].1).unwrap().frame.soil.0;
        assert!((told.mix.0 - (1.5 * soil - soil * 0.65 * 0.85) * 1.15).abs() < 1e-12);
        assert_eq!(told.assumed, [Assumed::TrainingPot, Assumed::Holes, Assumed::HoleWidth]);
        let own = tree("maple", "acer-palmatum");
        let homeless = Record::of(&own);
        assert_eq!(needs(&job(&homeless)), Err(NoGoods::NoPot));
    }

    #[test]
    fn phase_and_thirst_change_the_mix_but_not_under_a_pine() {
        let code = |taxon: &str, growing_on: bool, thirsty: bool| {
            let own = tree("tree", taxon);
            let ((pot, ware), mix) = (tray("box", [30.0, 22.0, 8.0]), mix());
            let ware = Ware { training: growing_on, ..ware };
            let stands_in =
                Some(super::super::record::StandsIn { pot: &pot, ware: &ware, mix: &mix, since: DAY });
            let statures = [stature("tree", 30.0, 4.0)];
            let record = Record { stands_in, thirsty, statures: &statures, ..Record::of(&own) };
            recipe(&record).code
        };
        assert_eq!(code("acer-palmatum", true, true), "MX-DEV");
        assert_eq!(code("acer-palmatum", false, true), "MX-HEAT");
        assert_eq!(code("pinus-thunbergii", true, true), "MX-PINE");
        assert_eq!(code("rhododendron-indicum", true, true), "MX-AZA");
        assert_eq!(code("larix-decidua", true, false), "MX-CON");
    }
}
