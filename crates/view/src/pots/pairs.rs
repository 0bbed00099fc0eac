//! One tree held against the pots: the three best drawn to one scale, each score opened into its rules, and why the others will not do.

use measure::quantity::{Centimetre, Units};
use pot::fit::rule::RULES;
use season::repot::offer::choose::candidates;

use super::{
    long,
    opened::{PairCard, card, refusal},
    preview::{self, Preview},
    shared, unit, volume,
};
use crate::{
    repots::case,
    whole::{TreeWhole, Whole},
};

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
    /// Better ones in which trees stand that stay: name, and its score with who stands in it.
    pub taken: Vec<(String, String)>,
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

/// The page of a tree.
pub fn pairs(whole: &Whole, tree: &TreeWhole) -> PairsPage {
    let units = whole.units();
    let thirsty = case::is_left_alone(whole);
    let record = case::record(whole, tree, thirsty);
    let ask = shared::ask(whole);
    let mut page = blank(whole, tree);
    let cut = season::repot::cut::today(&record, whole.today, ask.hemisphere);
    let cut = cut.map_or(measure::quantity::Share(0.0), |told| told.planned);
    let own = crate::water::stands_in(tree).map(|(pot, _)| pot);
    let pots = shared::pots(whole);
    let mut told = match candidates(&record, cut, &pots, &whole.shelf.reservations, &ask) {
        Ok(told) => told,
        Err(missing) => {
            page.missing = missing.iter().map(|it| it.words()).collect();
            return page;
        }
    };
    // What can be had this season comes first; a pot that a staying tree fills is told apart.
    let free: Vec<usize> =
        (0..pots.len()).filter(|&at| own == Some(at) || !shared::is_taken(whole, at)).collect();
    let at_hand: Vec<_> = free.iter().map(|&at| pots[at]).collect();
    if let Ok(mut first) = candidates(&record, cut, &at_hand, &whole.shelf.reservations, &ask) {
        first.best.iter_mut().chain(first.plainer.as_mut()).for_each(|it| it.pot = free[it.pot]);
        // Three stand beside each other; where fewer can be had, better ones are shown and said not to be free.
        let mut taken = told.best.iter().filter(|it| !free.contains(&it.pot)).cloned();
        while first.best.len() < 3 {
            let Some(it) = taken.next() else { break };
            first.best.push(it);
        }
        page.taken =
            taken.map(|it| (whole.pots[it.pot].name.clone(), super::opened::taken(whole, &it))).collect();
        (told.best, told.more, told.plainer) = (first.best, first.more, first.plainer);
    }
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
        taken: Vec::new(),
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

impl PairsPage {
    /// What a form starts from in a field.
    pub fn of(&self, name: &str) -> &str {
        self.known.iter().find(|(field, _)| *field == name).map_or("", |(_, value)| value)
    }
}
