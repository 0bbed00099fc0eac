//! The pots on the shelf and under the trees: found by size, colour, maker, mark, and by when they come free.

pub mod lists;
pub mod opened;
pub mod pairs;
pub mod preview;
pub mod record;
pub mod share;
pub mod shared;
pub mod taste;
pub mod unfit;
pub mod wanted;

use collection::{
    potting::Pot,
    reserve::{Reservation, Said},
    ware::{Told, Ware, Whereabouts},
};
use jiff::civil::Date;
use measure::quantity::{Centimetre, Litre, Units};
use pot::{
    colour::{
        difference::between,
        swatch::{Kind, Swatch},
    },
    fit::frame::Finish,
};

use crate::{
    water::stands_in,
    whole::{TreeWhole, Whole},
};

/// What the address asks for; an empty word asks for nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct Asked<'a> {
    /// Part of a name, a maker, a mark, a kiln or a note.
    pub words: &'a str,
    /// The least outer length.
    pub from: &'a str,
    /// The greatest outer length.
    pub to: &'a str,
    /// The name of a usual colour.
    pub colour: &'a str,
    /// Free on this day.
    pub free: &'a str,
}

/// How a pot stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// On the shelf and nobody's.
    Free,
    /// On the shelf, and held for a tree.
    Held,
    /// A tree stands in it.
    InUse,
    /// Lent, gone or broken.
    Away,
}

impl State {
    /// In one word.
    pub fn words(self) -> &'static str {
        match self {
            State::Free => "free",
            State::Held => "held",
            State::InUse => "in use",
            State::Away => "away",
        }
    }
}

/// A pot in the list.
#[derive(Clone, Debug, PartialEq)]
pub struct PotLine {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Outer length, width and height.
    pub size: String,
    /// The soil it takes, and whether that was measured.
    pub soil: String,
    /// Shape and finish.
    pub look: String,
    /// Its colour as `#rrggbb`, and where it comes from.
    pub colour: Option<(String, String)>,
    /// Maker and mark.
    pub maker: String,
    /// How it stands.
    pub state: State,
    /// Where it is, or who stands in it.
    pub place: String,
    /// When it comes free, and why then.
    pub free: Option<String>,
    /// What was said of it for this season.
    pub said: Vec<SaidLine>,
    /// It has no hole for water, as was counted.
    pub no_hole: bool,
    /// What is not known and matters to a fit.
    pub unknown: Vec<&'static str>,
}

/// A word on a pot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SaidLine {
    /// What was said, as a sentence begins.
    pub said: &'static str,
    /// The tree's key.
    pub tree: String,
    /// The tree's name.
    pub name: String,
    /// Why.
    pub why: String,
}

/// Training pots of a size.
#[derive(Clone, Debug, PartialEq)]
pub struct TrainingLine {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls them.
    pub name: String,
    /// Size and soil.
    pub size: String,
    /// How many there are.
    pub count: u16,
    /// How many have a tree in them.
    pub used: u16,
}

/// The list.
#[derive(Clone, Debug, PartialEq)]
pub struct PotsPage {
    /// The pots that were asked for.
    pub pots: Vec<PotLine>,
    /// How many there are in all, without training pots.
    pub all: usize,
    /// How many of them are free today.
    pub free: usize,
    /// Training pots and boxes.
    pub training: Vec<TrainingLine>,
    /// Usual colours to ask for: name and words.
    pub colours: Vec<(&'static str, String)>,
    /// Unit of lengths.
    pub unit: &'static str,
    /// Why something asked for was not understood.
    pub not_understood: Option<String>,
    /// Today, for forms.
    pub today: Date,
}

impl PotsPage {
    /// How many of the pots stand in one of these ways.
    pub fn many(&self, states: &[State; 2]) -> usize {
        self.pots.iter().filter(|pot| states.contains(&pot.state)).count()
    }
}

/// A length of a pot in the grower's units.
pub(crate) fn long(units: Units, it: Centimetre) -> String {
    match units {
        Units::Metric => format!("{}", (it.0 * 10.0).round() / 10.0),
        Units::Imperial => format!("{:.1}", it.0 / 2.54),
    }
}

/// The unit of lengths of pots.
pub(crate) fn unit(units: Units) -> &'static str {
    match units {
        Units::Metric => "cm",
        Units::Imperial => "in",
    }
}

/// A volume in the grower's units.
pub(crate) fn volume(units: Units, it: Litre) -> String {
    match units {
        Units::Metric => format!("{:.2} L", it.0),
        Units::Imperial => units.water(it),
    }
}

/// Outer length, width and height.
pub(crate) fn size(units: Units, pot: &Pot) -> String {
    let [length, width] = pot.vessel.top.key().1;
    let [length, width, height] = [length, width, pot.vessel.height].map(|it| long(units, it));
    format!("{length} × {width} × {height} {}", unit(units))
}

/// The soil a pot takes, in words.
pub(crate) fn soil(units: Units, pot: &Pot) -> String {
    let how = if pot.vessel.measured.is_some() { "measured with water" } else { "from its sides" };
    match pot.vessel.soil() {
        Ok(column) => format!("{} of soil, {how}", volume(units, column.volume())),
        Err(_) => "its measures leave no room for soil".into(),
    }
}

/// A usual colour's name in plain words.
pub(crate) fn swatch_words(key: &str) -> String {
    key.split_once('_').map_or(key, |(_, rest)| rest).replace('_', " ").replace("flambe", "flambé")
}

/// The nearest usual colour of a pot, in words.
pub(crate) fn colour_words(ware: &Ware) -> Option<String> {
    let glaze = ware.glaze?;
    let near = Swatch::kind(Kind::Pot)
        .min_by(|a, b| between(a.lab, glaze.colour).total_cmp(&between(b.lab, glaze.colour)))?;
    let name = swatch_words(near.key);
    // Bare clay is called so already.
    let name =
        if ware.finish == Finish::Unglazed { name.trim_start_matches("unglazed ").to_string() } else { name };
    Some(match glaze.told {
        Told::Picked => format!("{name}, picked"),
        Told::Measured { spread } => format!("nearest to {name}, off a photo, spread {spread:.1}"),
    })
}

/// The trees that stand in a pot today, by its rank.
pub(crate) fn inside(whole: &Whole, pot: usize) -> impl Iterator<Item = &TreeWhole> {
    whole.trees.iter().filter(move |tree| stands_in(tree).is_some_and(|(own, _)| own == pot))
}

/// Words on a pot for the season that is on or comes next.
pub(crate) fn said<'a>(whole: &'a Whole, pot: &str) -> impl Iterator<Item = &'a Reservation> {
    let season = shared::season(whole);
    whole.shelf.reservations.iter().filter(move |it| it.pot == pot && it.season == season)
}

/// How a pot stands today.
pub fn state(whole: &Whole, pot: usize) -> State {
    let ware = &whole.shelf.wares[pot];
    if inside(whole, pot).next().is_some() {
        State::InUse
    } else if ware.whereabouts != Whereabouts::Shelf {
        State::Away
    } else if said(whole, &ware.pot).any(|it| it.said.holds()) {
        State::Held
    } else {
        State::Free
    }
}

fn place(whole: &Whole, pot: usize) -> String {
    let ware = &whole.shelf.wares[pot];
    if let Some(tree) = inside(whole, pot).next() {
        let away = match ware.whereabouts {
            Whereabouts::Shelf => String::new(),
            other => format!("{}; ", other.words()),
        };
        return format!("{away}{} stands in it", tree.tree.name);
    }
    let spot = if ware.spot.is_empty() { String::new() } else { format!(", {}", ware.spot) };
    format!("{}{spot}", ware.whereabouts.words())
}

fn unknown(ware: &Ware) -> Vec<&'static str> {
    use pot::fit::frame::Fired;
    [
        (ware.drain_holes.is_none(), "drain holes"),
        (ware.tie_holes.is_none(), "tie holes"),
        (ware.fired == Fired::Unknown, "how hard it was fired"),
        (ware.glaze.is_none(), "colour"),
        (ware.feel.is_none(), "feel"),
    ]
    .into_iter()
    .filter(|(unknown, _)| *unknown)
    .map(|(_, words)| words)
    .collect()
}

fn maker(ware: &Ware) -> String {
    let mark = if ware.mark.is_empty() { String::new() } else { format!("mark “{}”", ware.mark) };
    let parts = [ware.maker.clone(), mark, ware.kiln.clone()];
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" · ")
}

/// What was said, as a sentence begins.
pub(crate) fn opening(it: Said) -> &'static str {
    match it {
        Said::Promised => "Promised to",
        Said::KeptFor => "Kept for",
        Said::Second => "Second choice of",
        Said::Never => "Never for",
    }
}

/// A pot as a line.
pub fn line(whole: &Whole, rank: usize) -> PotLine {
    let (pot, ware, units) = (&whole.pots[rank], &whole.shelf.wares[rank], whole.units());
    let name = |key: &str| whole.tree(key).map_or_else(|| key.to_string(), |tree| tree.tree.name.clone());
    PotLine {
        key: pot.key.clone(),
        name: pot.name.clone(),
        size: size(units, pot),
        soil: soil(units, pot),
        look: format!("{}, {}", ware.shape.words(), ware.finish.words()),
        colour: ware.glaze.and_then(|glaze| Some((preview::hex(glaze.colour), colour_words(ware)?))),
        maker: maker(ware),
        state: state(whole, rank),
        place: place(whole, rank),
        free: shared::comes_free(whole, rank).map(|free| free.words),
        said: said(whole, &pot.key)
            .map(|it| SaidLine {
                said: opening(it.said),
                tree: it.tree.clone(),
                name: name(&it.tree),
                why: it.why.clone(),
            })
            .collect(),
        no_hole: ware.drain_holes == Some(0),
        unknown: unknown(ware),
    }
}

/// Glazes no further than this from a usual colour are found by it, in steps of difference; a choice of ours.
const LIKE: f64 = 18.0;

/// The list as asked for.
pub fn pots(whole: &Whole, asked: Asked<'_>) -> PotsPage {
    let units = whole.units();
    let mut not_understood = None;
    let mut length = |text: &str| {
        let text = text.trim();
        if text.is_empty() {
            return None;
        }
        let told = text.replace(',', ".").parse::<f64>().ok().filter(|it| (0.0..=300.0).contains(it));
        if told.is_none() {
            not_understood = Some(format!("“{text}” is no length"));
        }
        told.map(|it| if units == Units::Metric { it } else { it * 2.54 })
    };
    let (from, to) = (length(asked.from), length(asked.to));
    let colour = Swatch::of(asked.colour);
    let day = asked.free.trim();
    let free: Option<Date> = day.parse().ok();
    if free.is_none() && !day.is_empty() {
        not_understood = Some(format!("“{day}” is no date"));
    }
    let own = |rank: &usize| !whole.shelf.wares[*rank].training;
    let mut found: Vec<(f64, usize)> = (0..whole.pots.len())
        .filter(own)
        .filter(|&rank| is_named(&whole.pots[rank], &whole.shelf.wares[rank], asked.words))
        .filter(|&rank| {
            let Centimetre(length) = whole.pots[rank].vessel.top.key().1[0];
            from.is_none_or(|from| from <= length) && to.is_none_or(|to| length <= to)
        })
        .filter(|&rank| free.is_none_or(|day| shared::is_free_on(whole, rank, day)))
        .filter_map(|rank| {
            let Some(colour) = colour else { return Some((0.0, rank)) };
            let off = between(whole.shelf.wares[rank].glaze?.colour, colour.lab);
            (off <= LIKE).then_some((off, rank))
        })
        .collect();
    found.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| order(whole, a.1).cmp(&order(whole, b.1))));
    PotsPage {
        pots: found.into_iter().map(|(_, rank)| line(whole, rank)).collect(),
        all: (0..whole.pots.len()).filter(own).count(),
        free: (0..whole.pots.len()).filter(own).filter(|&rank| state(whole, rank) == State::Free).count(),
        training: (0..whole.pots.len()).filter(|rank| !own(rank)).map(|rank| training(whole, rank)).collect(),
        colours: Swatch::kind(Kind::Pot).map(|it| (it.key, swatch_words(it.key))).collect(),
        unit: unit(units),
        not_understood,
        today: whole.today,
    }
}

/// Free pots first, the longest first within.
fn order(whole: &Whole, rank: usize) -> (u8, i64) {
    let length = whole.pots[rank].vessel.top.key().1[0].0;
    (state(whole, rank) as u8, -(length * 10.0) as i64)
}

fn is_named(pot: &Pot, ware: &Ware, words: &str) -> bool {
    let all = [&pot.name, &ware.maker, &ware.mark, &ware.kiln, &ware.origin, &ware.era, &ware.note];
    let all = all.map(|it| it.to_lowercase()).join(" ");
    words.to_lowercase().split_whitespace().all(|word| all.contains(word))
}

fn training(whole: &Whole, rank: usize) -> TrainingLine {
    let pot = &whole.pots[rank];
    TrainingLine {
        key: pot.key.clone(),
        name: pot.name.clone(),
        size: format!("{}, {}", size(whole.units(), pot), soil(whole.units(), pot)),
        count: whole.shelf.wares[rank].count,
        used: inside(whole, rank).count().try_into().unwrap_or(u16::MAX),
    }
}

/// What a pot or a tree of this key is called; the key where neither is known.
pub fn name_of(whole: &Whole, key: &str) -> String {
    let pot = rank_of(whole, key).map(|rank| whole.pots[rank].name.clone());
    let tree = || whole.tree(key).map(|tree| tree.tree.name.clone());
    pot.or_else(tree).unwrap_or_else(|| key.to_string())
}

/// A pot by its key.
pub fn rank_of(whole: &Whole, key: &str) -> Option<usize> {
    whole.pots.iter().position(|pot| pot.key == key)
}
