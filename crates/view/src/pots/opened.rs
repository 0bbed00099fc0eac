//! A pot opened against a tree: its card with drawing, weight and water, its rules and colours one by one, and the words of a refusal.

use collection::{potting::Pot, ware::Ware};
use measure::{
    quantity::{Centimetre, Units},
    sourced::Standing,
};
use pot::{
    colour::score::Part,
    fit::{limit::Refusal, rule::RuleId, sitter::Winter},
};
use season::{
    repot::{frame::frame, offer::choose::Candidate},
    tonight::carry::{Load, Recorded},
};

use super::{
    long,
    preview::{self, Preview},
    shared, unit, volume,
};
use crate::{
    repots::case,
    water,
    whole::{TreeWhole, Whole},
};

/// A rule of a score, opened.
#[derive(Clone, Debug, PartialEq)]
pub struct GradeRow {
    /// The rule's key, to switch it off by.
    pub key: &'static str,
    /// The rule in a few words.
    pub name: &'static str,
    /// What is measured.
    pub rule: &'static str,
    /// What was found.
    pub found: String,
    /// The span that keeps it in full.
    pub span: String,
    /// How well it is kept, 0 to 100.
    pub mark: u8,
    /// What it counts.
    pub weight: String,
    /// What it stands on.
    pub standing: String,
}

/// The glaze beside one colour of the tree.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ColourRow {
    /// What carries the colour.
    pub season: &'static str,
    /// The colour of the tree.
    pub own: String,
    /// The colour of the pot.
    pub glaze: String,
    /// What it counts, in per cent.
    pub share: String,
    /// Separation, hue, dominance, lightness, harmony in per cent.
    pub parts: Vec<String>,
    /// Together.
    pub score: String,
    /// How the hues stand to each other.
    pub relation: String,
}

/// A pot that the tree may have.
#[derive(Clone, Debug, PartialEq)]
pub struct PairCard {
    /// The pot's key.
    pub key: String,
    /// The pot's name.
    pub name: String,
    /// Its size and the soil it takes.
    pub size: String,
    /// How it stands, and when it comes free.
    pub state: String,
    /// Its score, 0 to 100.
    pub score: String,
    /// Why it is not the first: what costs it the most against that one.
    pub second_to: Option<String>,
    /// The drawing.
    pub preview: Preview,
    /// Wet weight and who lifts it.
    pub weight: String,
    /// What it does with the mix: water, air, wet layer.
    pub water: String,
    /// The rules, opened.
    pub grades: Vec<GradeRow>,
    /// The colour, opened.
    pub colours: Vec<ColourRow>,
    /// What was taken for granted or left out.
    pub caveats: Vec<String>,
    /// The word that stands for this pair.
    pub said: Option<&'static str>,
    /// The version of the pot's record.
    pub revision: u32,
    /// The tree stands in it now.
    pub is_own: bool,
    /// A tree that stays this season stands in it.
    pub is_taken: bool,
}

/// A rule in a few words.
pub(crate) fn rule_words(id: RuleId) -> &'static str {
    match id {
        RuleId::Length => "length",
        RuleId::Across => "width across",
        RuleId::Depth => "depth",
        RuleId::Width => "width beside length",
        RuleId::CascadeHeight => "height of a cascade's pot",
        RuleId::Feel => "feel",
        RuleId::Formality => "formality",
        RuleId::Finish => "finish",
        RuleId::Brightness => "strength of the glaze",
        RuleId::LightStep => "step of lightness from the bark",
        RuleId::Colour => "colour",
        RuleId::OneFeature => "strong features",
        RuleId::RootRoom => "room for roots",
        RuleId::Price => "price of the pot beside the tree's",
    }
}

/// Why a pot may not be used, in words.
pub(crate) fn refusal(it: &Refusal, units: Units) -> String {
    let both = |what: &str, has: Centimetre, least: Centimetre| {
        format!("{what} {} inside, {} {} needed", long(units, has), long(units, least), unit(units))
    };
    let winter = |winter: &Winter| match winter {
        Winter::FrostFree => "where it never freezes",
        Winter::Sheltered => "where it freezes lightly",
        Winter::Open => "where it freezes through",
    };
    match it {
        Refusal::TooSmall { soil, least } => {
            format!("too little soil: {}, the roots want {}", volume(units, *soil), volume(units, *least))
        }
        Refusal::TooLarge { soil, most } => {
            format!(
                "so much soil that it stays wet: {}, at most {}",
                volume(units, *soil),
                volume(units, *most)
            )
        }
        Refusal::TooShort { inner, least } => both("too short:", *inner, *least),
        Refusal::TooNarrow { inner, least } => both("too narrow:", *inner, *least),
        Refusal::TooShallow { inner, least } => both("too shallow:", *inner, *least),
        Refusal::TrunkTooWide { inner, least } => both("the trunk would fill it:", *inner, *least),
        Refusal::NoDrain => "no hole for water".into(),
        Refusal::FewDrains { holes, least } => format!("{holes} holes for water, {least} needed"),
        Refusal::FewTies { holes, least } => format!("{holes} holes for tie wire, {least} needed"),
        Refusal::FeetTooLow { feet, least } => match units {
            Units::Metric => format!("feet of {:.0} mm, {:.0} mm needed", feet.0, least.0),
            Units::Imperial => {
                format!("feet of {:.2} in, {:.2} in needed", feet.0 / 25.4, least.0 / 25.4)
            }
        },
        Refusal::WallTooSoft { fired, winter: where_ } => {
            format!("{}: it would crack {}", fired.words(), winter(where_))
        }
        Refusal::WallUnknown { winter: where_ } => {
            format!("nobody knows how hard it was fired, and it would stand {}", winter(where_))
        }
    }
}

pub(super) fn card(whole: &Whole, tree: &TreeWhole, it: &Candidate, first: Option<&Candidate>) -> PairCard {
    let (pot, ware) = (&whole.pots[it.pot], &whole.shelf.wares[it.pot]);
    let front = tree.shape.fronts.iter().find(|front| front.rank == 0);
    let mix = mix_for(whole, tree);
    let line = super::line(whole, it.pot);
    let own = water::stands_in(tree).is_some_and(|(own, _)| own == it.pot);
    let second_to = first
        .filter(|first| first.pot != it.pot)
        .and_then(|first| it.held.fit.second_to(&first.held.fit))
        .map(|rule| rule_words(rule).to_string());
    let mut caveats: Vec<String> = frame(pot, ware)
        .map_or_else(|_| Vec::new(), |it| it.assumed.iter().map(|it| it.words().to_string()).collect());
    if it.held.other_currency {
        caveats.push("worth and price are of different currencies, so the price does not count".into());
    }
    if !it.held.waived.is_empty() {
        caveats.push("the roots are reckoned from this very pot, so its size does not forbid it".into());
    }
    if ware.glaze.is_none() {
        caveats.push("its colour was neither measured nor picked; the drawing shows a usual one, the score leaves it out".into());
    }
    PairCard {
        key: pot.key.clone(),
        name: pot.name.clone(),
        size: format!("{}, {}", line.size, line.soil),
        state: line.free.unwrap_or(if own { String::new() } else { line.place }),
        score: format!("{:.0}", it.points as f64 / 10.0),
        second_to,
        preview: preview::preview(whole, tree, (pot, ware), mix.map(|mix| &whole.mixes[mix]), front),
        weight: weight(whole, tree, pot, mix),
        water: mix.map_or("no mix is written down".into(), |mix| held(whole, pot, mix)),
        grades: it.held.fit.grades.iter().map(grade).collect(),
        colours: it
            .held
            .fit
            .colour
            .iter()
            .flat_map(|score| &score.beside)
            .map(|row| colour(row, ware))
            .collect(),
        caveats,
        said: super::said(whole, &pot.key).find(|it| it.tree == tree.tree.key).map(|it| it.said.words()),
        revision: ware.revision,
        is_own: own,
        is_taken: !own && shared::is_taken(whole, it.pot),
    }
}

/// The mix that is meant for a tree, else the one it stands in.
pub(crate) fn mix_for(whole: &Whole, tree: &TreeWhole) -> Option<usize> {
    let season = shared::season(whole);
    let meant = tree.standing.meant.iter().find(|it| it.season == season).and_then(|it| it.mix.as_ref());
    let named = meant.and_then(|key| whole.mixes.iter().position(|mix| &mix.key == key));
    named.or(water::stands_in(tree).map(|(_, mix)| mix))
}

/// Wet weight, and who lifts it.
pub(crate) fn weight(whole: &Whole, tree: &TreeWhole, pot: &Pot, mix: Option<usize>) -> String {
    let told = mix.and_then(|mix| {
        let held = &whole.water()?.mixes[mix];
        let recorded = Recorded { pot, mix: &whole.mixes[mix], held, crown: tree.crown.as_ref() };
        Load::of(&recorded).ok()
    });
    let Some(load) = told else { return "its weight is not known".into() };
    let Some(weight) = load.weight else { return "its weight is not known".into() };
    let kilos = super::record::weight(whole.units(), weight.value.0 * 1000.0);
    let lift = load.carry(measure::shelter::Shelter::OpenBench).ok().flatten();
    let who = match lift {
        Some(lift) if lift.wants_help() => ", for two to lift",
        Some(_) => ", one can lift it",
        None => "",
    };
    format!("about {kilos} wet{who}")
}

/// What a pot does with a mix.
pub(crate) fn held(whole: &Whole, pot: &Pot, mix: usize) -> String {
    let mix = &whole.mixes[mix];
    let told = match season::bench::filled(pot, mix, measure::quantity::Degrees(0.0)) {
        Ok(told) => told,
        Err(why) => return why.to_string(),
    };
    let tested = if told.standing == Standing::Measured { "bucket test" } else { "estimate from its grains" };
    format!(
        "with {} ({tested}): {} of water for roots, {:.0} % air, wet up to {} {} from the floor",
        mix.name,
        volume(whole.units(), told.for_roots),
        told.air.0 * 100.0,
        long(whole.units(), told.wet_layer),
        unit(whole.units())
    )
}

fn grade(it: &pot::fit::grade::Grade) -> GradeRow {
    let figure = |it: f64| if it.fract() == 0.0 { format!("{it:.0}") } else { format!("{it:.2}") };
    let span = match it.rule.span {
        [low, high] if low == f64::NEG_INFINITY => format!("up to {}", figure(high)),
        [low, high] if high == f64::INFINITY => format!("from {}", figure(low)),
        [low, high] if low == high => figure(low),
        [low, high] => format!("{} to {}", figure(low), figure(high)),
    };
    GradeRow {
        key: it.rule.key,
        name: rule_words(it.rule.id),
        rule: it.rule.measure,
        found: figure(it.found),
        span,
        mark: (it.mark * 100.0).round() as u8,
        weight: figure(it.weight),
        standing: it.rule.standing.words(),
    }
}

fn colour(row: &pot::colour::score::Beside, ware: &Ware) -> ColourRow {
    let percent = |it: Option<f64>| it.map_or("–".to_string(), |it| format!("{:.0}", it * 100.0));
    let glaze = ware.glaze.map_or(row.target.colour, |it| it.colour);
    ColourRow {
        season: row.target.season.words(),
        own: preview::hex(row.target.colour),
        glaze: preview::hex(glaze),
        share: percent(Some(row.share)),
        parts: (0..Part::ALL.len()).map(|at| percent(row.parts[at])).collect(),
        score: percent(row.score),
        relation: super::taste::relation(glaze, row.target.colour),
    }
}

/// How well a pot suits a tree in a few words, with what costs the most.
pub(crate) fn fit_words(whole: &Whole, tree: &TreeWhole, pot: usize) -> String {
    let record = case::record(whole, tree, case::is_left_alone(whole));
    let ask = shared::ask(whole);
    let cut = season::repot::cut::today(&record, whole.today, ask.hemisphere);
    let cut = cut.map_or(measure::quantity::Share(0.0), |told| told.planned);
    let sat = match season::repot::sitter::sitter(&record, cut, whole.today) {
        Ok(sat) => sat,
        Err(missing) => return missing.iter().map(|it| it.words()).collect::<Vec<_>>().join("; "),
    };
    let framed = match frame(&whole.pots[pot], &whole.shelf.wares[pot]) {
        Ok(framed) => framed,
        Err(why) => return why.to_string(),
    };
    let held = season::repot::held::hold(&whole.pots[pot].key, &framed, &sat, &ask.ruling);
    if !held.fit.refusals.is_empty() {
        let all: Vec<String> = held.fit.refusals.iter().map(|it| refusal(it, whole.units())).collect();
        return format!("it does not fit: {}", all.join("; "));
    }
    let score = held.fit.score.map_or("not graded".into(), |it| format!("{:.0} of 100", it.0 * 100.0));
    let most = held
        .fit
        .losses()
        .first()
        .map_or(String::new(), |(rule, _)| format!("; it loses most by its {}", rule_words(*rule)));
    let waived = if held.waived.is_empty() {
        ""
    } else {
        "; its size was not held against it, for the roots are reckoned from this very pot"
    };
    format!("it fits, {score}{most}{waived}")
}

/// A pot that a staying tree fills, with its score.
pub(super) fn taken(whole: &Whole, it: &Candidate) -> String {
    let who = super::inside(whole, it.pot)
        .next()
        .map_or(String::new(), |tree| format!("; {} stays in it", tree.tree.name));
    format!("{:.0} of 100{who}", it.points as f64 / 10.0)
}
