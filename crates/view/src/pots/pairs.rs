//! One tree held against the pots: the three best drawn to one scale, each score opened into its rules, and why the others will not do.

use collection::{
    potting::{Pot, Wall},
    ware::{Glaze, Told, Ware},
};
use measure::{
    quantity::{Centimetre, Litre, Units},
    sourced::Standing,
};
use pot::{
    colour::{score::Part, swatch::Swatch},
    fit::{
        frame::{Finish, Fired, Shape},
        limit::Refusal,
        rule::{RULES, RuleId},
        sitter::Winter,
    },
    outline::Outline,
    vessel::Vessel,
};
use season::{
    repot::{
        frame::{Framed, frame},
        offer::choose::{Candidate, candidates},
    },
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
}

/// A rule to switch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RuleSwitch {
    /// Its key.
    pub key: &'static str,
    /// What it measures.
    pub words: &'static str,
    /// Whether it is switched off.
    pub off: bool,
}

/// The page.
#[derive(Clone, Debug, PartialEq)]
pub struct PairsPage {
    /// The tree's key.
    pub key: String,
    /// The tree's name.
    pub name: String,
    /// The year of the season.
    pub season: i16,
    /// The tree as the rules see it: what, and the figure.
    pub tree: Vec<(&'static str, String)>,
    /// What must be written down first.
    pub missing: Vec<&'static str>,
    /// The best pots.
    pub best: Vec<PairCard>,
    /// How many more would do.
    pub more: usize,
    /// A plainer pot that does not swallow the price.
    pub plainer: Option<PairCard>,
    /// Notes of the trade.
    pub notes: Vec<&'static str>,
    /// Why other pots will not do: pot, reasons.
    pub refused: Vec<(String, String)>,
    /// Pots held for others: pot, words.
    pub spoken_for: Vec<(String, String)>,
    /// What was taken for granted.
    pub assumed: Vec<&'static str>,
    /// The rules, to switch.
    pub rules: Vec<RuleSwitch>,
    /// What the likings taught.
    pub taste: String,
    /// The pot of the plan, in words.
    pub plan: Option<String>,
    /// Unit of lengths.
    pub unit: &'static str,
    /// Today, for forms.
    pub today: String,
    /// Where the forms start from: style, kind, feel, age, shown, asked, height, trunk.
    pub known: Vec<(&'static str, String)>,
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
        Refusal::FeetTooLow { feet, least } => format!("feet of {:.0} mm, {:.0} mm needed", feet.0, least.0),
        Refusal::WallTooSoft { fired, winter: where_ } => {
            format!("{}: it would crack {}", fired.words(), winter(where_))
        }
        Refusal::WallUnknown { winter: where_ } => {
            format!("nobody knows how hard it was fired, and it would stand {}", winter(where_))
        }
    }
}

/// The page of a tree.
pub fn pairs(whole: &Whole, tree: &TreeWhole) -> PairsPage {
    let units = whole.units();
    let thirsty = case::is_left_alone(whole);
    let record = case::record(whole, tree, thirsty);
    let ask = shared::ask(whole);
    let mut page = blank(whole, tree);
    let cut = season::repot::cut::today(&record, whole.today, ask.hemisphere);
    let cut = cut.map_or(measure::quantity::Share(0.0), |told| told.planned);
    let pots = shared::pots(whole);
    let told = match candidates(&record, cut, &pots, &whole.shelf.reservations, &ask) {
        Ok(told) => told,
        Err(missing) => {
            page.missing = missing.iter().map(|it| it.words()).collect();
            return page;
        }
    };
    let sitter = &told.sat.sitter;
    let cm = |it: Centimetre| format!("{} {}", long(units, it), unit(units));
    let pad = &sitter.roots;
    page.tree = vec![
        ("High", cm(sitter.height)),
        ("Wide", cm(sitter.spread)),
        ("Trunk", cm(sitter.trunk)),
        (
            "Roots after the cut",
            format!(
                "{} × {} × {}, {}",
                long(units, pad.length),
                long(units, pad.width),
                cm(pad.depth),
                volume(units, pad.filled())
            ),
        ),
        ("Planned cut", case::share(cut)),
        ("Grown as", format!("{}, {}", sitter.style.words(), sitter.kind.words())),
        ("Feel", sitter.feel.map_or("not judged".into(), |it| it.words().to_string())),
    ];
    page.tree.extend(asked(units, sitter));
    if let Some(asked) = told.sat.asked {
        page.tree.push(("Asked for both", asked.words()));
    }
    page.assumed = told.sat.assumed.iter().map(|it| it.words()).collect();
    page.more = told.more;
    page.notes = told.notes.iter().map(|it| it.words()).collect();
    let first = told.best.first();
    page.best = told.best.iter().map(|it| card(whole, tree, it, first)).collect();
    page.plainer = told.plainer.as_ref().map(|it| card(whole, tree, it, None));
    let mut drawn: Vec<Preview> =
        page.best.iter().chain(page.plainer.as_ref()).map(|card| card.preview.clone()).collect();
    preview::beside(&mut drawn);
    let cards = page.best.iter_mut().chain(page.plainer.as_mut());
    cards.zip(drawn).for_each(|(card, preview)| card.preview = preview);
    let name = |at: usize| whole.pots[at].name.clone();
    page.refused = told
        .refused
        .iter()
        .map(|(at, why)| (name(*at), why.iter().map(|it| refusal(it, units)).collect::<Vec<_>>().join("; ")))
        .collect();
    page.spoken_for = told
        .spoken_for
        .iter()
        .map(|(at, word)| {
            let said = &whole.shelf.reservations[*word];
            let other = whole.tree(&said.tree).map_or(said.tree.as_str(), |tree| tree.tree.name.as_str());
            (name(*at), format!("{} {other}", said.said.words()))
        })
        .collect();
    page
}

/// What looks ask for and what roots ask for, side by side.
fn asked(units: Units, sitter: &pot::fit::sitter::Sitter) -> Vec<(&'static str, String)> {
    let told = pot::fit::asked::asked(sitter);
    let span = |[low, high]: [Centimetre; 2]| {
        format!("{} to {} {}", long(units, low), long(units, high), unit(units))
    };
    let mut lines = Vec::new();
    if let (Some(length), Some(across), Some(depth)) = (told.length, told.across, told.depth) {
        let words =
            format!("{} long, or {} across if round; {} deep", span(length), span(across), span(depth));
        lines.push(("Looks ask for", words));
    }
    if let Some(soil) = told.soil {
        let why = if sitter.thirsty { "left alone for long" } else { "seen every day" };
        lines.push((
            "To last between visits",
            format!("{} of soil at least, {why} (a planning figure)", volume(units, soil)),
        ));
    }
    lines
}

fn blank(whole: &Whole, tree: &TreeWhole) -> PairsPage {
    PairsPage {
        key: tree.tree.key.clone(),
        name: tree.tree.name.clone(),
        season: shared::season(whole),
        tree: Vec::new(),
        missing: Vec::new(),
        best: Vec::new(),
        more: 0,
        plainer: None,
        notes: Vec::new(),
        refused: Vec::new(),
        spoken_for: Vec::new(),
        assumed: Vec::new(),
        rules: RULES
            .iter()
            .map(|rule| RuleSwitch {
                key: rule.key,
                words: rule.measure,
                off: whole.shelf.rules_off.iter().any(|it| it == rule.key),
            })
            .collect(),
        taste: super::taste::words(whole),
        plan: shared::of_tree(whole, &tree.tree.key).map(|it| it.words),
        unit: unit(whole.units()),
        today: whole.today.to_string(),
        known: known(whole, tree),
    }
}

fn known(whole: &Whole, tree: &TreeWhole) -> Vec<(&'static str, String)> {
    let grown = tree.standing.grown.clone().unwrap_or_default();
    let stature = tree.standing.statures.last();
    let length = |it: Option<Centimetre>| it.map_or(String::new(), |it| long(whole.units(), it));
    vec![
        ("style", grown.style.map_or(String::new(), |it| it.key().into())),
        ("kind", grown.kind.map_or(String::new(), |it| it.key().into())),
        ("feel", grown.feel.map_or(String::new(), |it| it.key().into())),
        ("age", grown.age.map_or(String::new(), |it| it.key().into())),
        ("shown", grown.shown.map_or(String::new(), |it| it.key().into())),
        ("asked", grown.asked.map_or(String::new(), |it| it.words())),
        ("height", length(stature.map(|it| it.height))),
        ("trunk", length(stature.map(|it| it.trunk))),
    ]
}

fn card(whole: &Whole, tree: &TreeWhole, it: &Candidate, first: Option<&Candidate>) -> PairCard {
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
        state: line.free.unwrap_or(if own { "it stands in it".into() } else { line.place }),
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

/// A pot to think of buying, as typed.
#[derive(Clone, Copy, Debug, Default)]
pub struct Wanted<'a> {
    /// Its shape.
    pub shape: &'a str,
    /// Outer length.
    pub length: &'a str,
    /// Outer width.
    pub width: &'a str,
    /// Height.
    pub height: &'a str,
    /// Its finish.
    pub finish: &'a str,
    /// A usual colour.
    pub swatch: &'a str,
}

impl Wanted<'_> {
    /// The pot as a frame: feet of 8 mm, a wall of a fortieth of its length, two tie holes, fired high.
    ///
    /// # Errors
    ///
    /// What was typed that cannot be.
    pub fn framed(&self, units: Units) -> Result<Framed, String> {
        let number = |name: &str, text: &str| {
            let told =
                text.trim().replace(',', ".").parse::<f64>().ok().filter(|it| (1.0..=300.0).contains(it));
            let cm = told.map(|it| if units == Units::Metric { it } else { it * 2.54 });
            cm.map(Centimetre).ok_or_else(|| format!("{name} “{text}” is no length of a pot"))
        };
        let length = number("length", self.length)?;
        let width = if self.width.trim().is_empty() { length } else { number("width", self.width)? };
        let height = number("height", self.height)?;
        let shape = Shape::from_key(self.shape).ok_or_else(|| format!("“{}” is no shape", self.shape))?;
        let finish =
            Finish::from_key(self.finish).ok_or_else(|| format!("“{}” is no finish", self.finish))?;
        let top = match shape {
            Shape::Rectangle | Shape::SoftRectangle | Shape::Square | Shape::Slab => {
                Outline::Rectangle { length, width }
            }
            _ => Outline::Oval { length, width },
        };
        let wall = Centimetre((length.0 / 40.0).clamp(0.4, 1.5));
        let pot = Pot {
            key: "wanted".into(),
            name: "the new pot".into(),
            wall: if finish == Finish::Unglazed { Wall::Stoneware } else { Wall::Glazed },
            vessel: Vessel {
                top,
                middle: None,
                bottom: top,
                height,
                feet: Centimetre(0.8_f64.min(height.0 / 6.0)),
                floor: wall,
                wall,
                lip: Centimetre(0.0),
                gap: Centimetre(0.6_f64.min(height.0 / 8.0)),
                measured: None::<Litre>,
            },
        };
        let glaze = Swatch::of(self.swatch).map(|it| Glaze { colour: it.lab, told: Told::Picked });
        let ware =
            Ware { shape, finish, fired: Fired::High, tie_holes: Some(2), glaze, ..Ware::unknown(&pot) };
        frame(&pot, &ware).map_err(|why| why.to_string())
    }
}

impl PairsPage {
    /// What a form starts from in a field.
    pub fn of(&self, name: &str) -> &str {
        self.known.iter().find(|(field, _)| *field == name).map_or("", |(_, value)| value)
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
    match held.fit.losses().first() {
        Some((rule, _)) => format!("it fits, {score}; most lost by {}", rule_words(*rule)),
        None => format!("it fits, {score}"),
    }
}

/// Lists to describe a tree by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TreeLists {
    /// Styles.
    pub styles: Vec<(&'static str, &'static str)>,
    /// Kinds of tree as the choice of a pot sees them.
    pub kinds: Vec<(&'static str, &'static str)>,
    /// Feels.
    pub feels: Vec<(&'static str, &'static str)>,
    /// Ages for repotting.
    pub ages: Vec<(&'static str, &'static str)>,
    /// What carries a colour.
    pub seasons: Vec<(&'static str, &'static str)>,
    /// Usual colours of trees.
    pub tints: Vec<(&'static str, String)>,
    /// How strong.
    pub strengths: Vec<(&'static str, &'static str)>,
    /// What a tree may have to bear: key and words with what its number is.
    pub tolls: Vec<(&'static str, &'static str)>,
}

/// The lists to describe a tree by.
pub fn tree_lists() -> TreeLists {
    use pot::{
        colour::{
            score::Season,
            swatch::{Kind, SWATCHES},
        },
        fit::{
            frame::Feel,
            sitter::{Kind as Grown, Style},
        },
        repot::{insult::Strength, roots::Age},
    };
    TreeLists {
        styles: Style::ALL.map(|it| (it.key(), it.words())).to_vec(),
        kinds: Grown::ALL.map(|it| (it.key(), it.words())).to_vec(),
        feels: Feel::ALL.map(|it| (it.key(), it.words())).to_vec(),
        ages: Age::ALL.map(|it| (it.key(), it.words())).to_vec(),
        seasons: Season::ALL.map(|it| (it.key(), it.words())).to_vec(),
        tints: SWATCHES
            .iter()
            .filter(|it| it.kind != Kind::Pot)
            .map(|it| (it.key, it.key.replace('_', " ")))
            .collect(),
        strengths: Strength::ALL.map(|it| (it.key(), it.words())).to_vec(),
        tolls: collection::toll::KINDS.iter().map(|it| (it.key, it.words)).collect(),
    }
}
