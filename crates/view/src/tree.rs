//! A tree's page: its diary, its forecast, its cold, and what a move would change.

use collection::event::WorkKind;
use jiff::civil::Date;
use measure::{ladder::Ladder, stage::Stage};
use season::{
    ground::{Ground, Stay},
    window::{Outlook, Told},
};

use crate::{
    dry_down::{TreeWaterPart, tree_part},
    incidents::Kept,
    leaf::{LeafRow, leaf},
    second::{SecondOpinion, second},
    trial::{Trial, Try, shifts, trial},
    verdicts,
    waking::{Row, row},
    whole::{TreeWhole, Whole, facts},
    words::{self, Days},
};

/// A stage and when it is passed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StageLine {
    /// Code and words.
    pub stage: String,
    /// When, or none where too few courses reach it.
    pub days: Option<Days>,
    /// Chance that the tree stands at it today.
    pub today: String,
}

/// Cold in one unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ColdRow {
    /// The model.
    pub model: &'static str,
    /// Received.
    pub received: String,
    /// Needed, in the same unit.
    pub need: String,
    /// "met", "short" or "no need known in this unit".
    pub verdict: &'static str,
    /// Where the need comes from.
    pub standing: String,
}

/// A line of the diary.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DiaryLine {
    /// When.
    pub day: String,
    /// What.
    pub words: String,
    /// What it is, for taking it back: look, work or move.
    pub kind: &'static str,
    /// Its number, or the day of a move.
    pub id: String,
}

/// What one place would do from today on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlaceEffect {
    /// The place.
    pub place: String,
    /// Its key.
    pub key: String,
    /// When buds would be full.
    pub opens: Option<Days>,
    /// Days sooner or later than leaving it.
    pub shift: String,
    /// When it closes.
    pub closes: Option<Days>,
    /// May it be moved there today.
    pub may: verdicts::Line,
}

/// The page.
#[derive(Clone, Debug)]
pub struct TreePage {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Botanical name.
    pub taxon: &'static str,
    /// Everyday name.
    pub common: &'static str,
    /// Key of the taxon.
    pub taxon_key: &'static str,
    /// How sure the name is.
    pub confidence: &'static str,
    /// What it may be as well, with semicolons between.
    pub candidates: String,
    /// What its drying out would cost, as the form's word.
    pub worth: &'static str,
    /// In the collection since, for the form.
    pub since: String,
    /// The note.
    pub note: String,
    /// The version the page was made from.
    pub revision: u32,
    /// Today for the form.
    pub today: String,
    /// What the list says of it.
    pub row: Option<Row>,
    /// Why there is no forecast.
    pub untold: String,
    /// Its leaves, from September in the north until green shows.
    pub leaf: Option<LeafRow>,
    /// Stages.
    pub stages: Vec<StageLine>,
    /// Cold.
    pub cold: Vec<ColdRow>,
    /// True where models that know a need disagree.
    pub cold_disputed: bool,
    /// What another model says of leaf-out.
    pub second: Option<SecondOpinion>,
    /// What weakens the answer, and what is not known.
    pub caveats: Vec<String>,
    /// What its past seasons taught.
    pub pace: String,
    /// Whose layer it is: the parent's key and name, and the lean it shall have.
    pub parent: Option<(String, String, String)>,
    /// Limbs that must not be cut, to see before any work is written down: name and what is meant.
    pub spared: Vec<(String, String)>,
    /// Bad days of places that it stood in, as they were kept.
    pub bad_days: Vec<Kept>,
    /// Its diary, newest first.
    pub diary: Vec<DiaryLine>,
    /// What each other place would do from today.
    pub effects: Vec<PlaceEffect>,
    /// A move tried out.
    pub trial: Option<Trial>,
    /// Its water.
    pub water: Option<TreeWaterPart>,
    /// What to be careful of with its kind.
    pub cautions: Option<crate::cautions::Cautions>,
    /// What may be done to it today.
    pub may: Vec<verdicts::Line>,
    /// Places to choose from: key, name, whether it stands there.
    pub places: Vec<(String, String, bool)>,
    /// What its spring is seen by.
    pub ladder: Ladder,
    /// The stage taken to be likeliest, for the form.
    pub likely: u8,
}

/// The page of one tree at a moment (seconds since 1970), or none of that name.
pub fn tree(whole: &Whole, key: &str, attempt: Option<Try<'_>>, now: i64) -> Option<TreePage> {
    let it = whole.trees.iter().find(|tree| tree.tree.key == key)?;
    let places = whole
        .places
        .iter()
        .enumerate()
        .map(|(rank, place)| (place.place.key.clone(), place.place.name.clone(), it.place == Some(rank)))
        .collect();
    let mut page = TreePage {
        key: it.tree.key.clone(),
        name: it.tree.name.clone(),
        taxon: it.tree.taxon.name,
        common: it.tree.taxon.common,
        taxon_key: it.tree.taxon.key,
        confidence: it.tree.name_confidence.key(),
        candidates: it.tree.candidates.iter().map(|taxon| taxon.name).collect::<Vec<_>>().join("; "),
        worth: it.tree.worth.key(),
        since: it.tree.since.map_or_else(String::new, |day| day.to_string()),
        note: it.tree.note.clone(),
        revision: it.tree.revision,
        today: whole.today.to_string(),
        row: None,
        untold: it.told.as_ref().err().cloned().unwrap_or_default(),
        leaf: leaf(whole, it),
        stages: Vec::new(),
        cold: Vec::new(),
        cold_disputed: false,
        second: None,
        caveats: Vec::new(),
        pace: String::new(),
        parent: crate::limbs::layers::parent(whole, it),
        bad_days: crate::incidents::of_tree(whole, &it.tree.key),
        spared: crate::limbs::bench::spared(whole, it),
        diary: diary(whole, it),
        effects: Vec::new(),
        trial: None,
        water: tree_part(whole, it, now),
        cautions: crate::cautions::of(whole, it),
        may: verdicts::lines(verdicts::of(whole, it), whole.today, whole.units()),
        places,
        ladder: Ladder::of(it.tree.taxon),
        likely: 0,
    };
    if let (Ok(told), Ok(ground)) = (&it.told, &whole.ground) {
        fill(&mut page, whole, it, told, ground);
        let mut outlook = Outlook::new(ground);
        page.effects = effects(whole, it, told, &mut outlook);
        page.trial = attempt.and_then(|attempt| trial(whole, it, attempt, &mut outlook));
    }
    Some(page)
}

fn fill(page: &mut TreePage, whole: &Whole, it: &TreeWhole, told: &Told, ground: &Ground) {
    page.row = Some(row(whole, it, told, ground.winter, ground.today));
    page.likely = told.forecast.stage_today().code();
    // While old leaves are on, closed buds are none that a page calls the tree's stage.
    let still_on =
        if ground.today < dormancy::wake::START && !told.leaf.is_evergreen { told.leaf.on() } else { 0.0 };
    let ladder = Ladder::of(it.tree.taxon);
    let asleep = StageLine {
        stage: ladder.told(Stage::Dormant),
        days: None,
        today: words::percent(told.forecast.today[Stage::Dormant.rank()] * (1.0 - still_on)),
    };
    page.stages = std::iter::once(asleep)
        .chain(told.forecast.stages.iter().map(|&(stage, spread)| StageLine {
            stage: ladder.told(stage),
            days: spread.map(|spread| words::days(ground.winter, spread, whole.today)),
            today: words::percent(told.forecast.today[stage.rank()]),
        }))
        .collect();
    page.cold = told
        .cold
        .iter()
        .map(|line| ColdRow {
            model: line.model.words(),
            received: words::amount(line.model, line.received),
            need: line.need.map_or_else(String::new, |need| words::amount(line.model, need.value)),
            verdict: match line.met() {
                Some(true) => "met",
                Some(false) => "short",
                None => "no need known in this unit",
            },
            standing: line.need.map_or_else(String::new, |need| need.standing.words()),
        })
        .collect();
    page.cold_disputed = season::cold::disagree(&told.cold);
    page.second = second(told, ground.winter, whole.today);
    page.caveats = caveats(whole, it, told);
    page.pace = pace(told);
}

/// Pull of the light, logarithm for four hours, from which a page names it: of 204 kinds that were measured *Fagus sylvatica* alone has more.
const LIGHT_COUNTS: f64 = 0.2;

fn caveats(whole: &Whole, it: &TreeWhole, told: &Told) -> Vec<String> {
    let mut caveats: Vec<String> =
        told.forecast.caveats.iter().map(|&caveat| words::caveat(caveat)).collect();
    if told.cold_cut_short {
        caveats.push("the weather record begins after this winter did; cold before it is not counted".into());
    }
    if told.cold_met.is_none() && told.cold_short > 0.0 {
        caveats.push(
            "it gets less cold than planned for; how a tree wakes then is uneven and poorly known, whatever the dates say"
                .into(),
        );
    }
    if it.moves.is_empty() {
        caveats.push("its place was never recorded, so the open air was taken".into());
    }
    if let Some(place) = it.place
        && let Some(air) = &whole.places[place].air
        && air.logged == 0
        && whole.places[place].place.shelter != measure::shelter::Shelter::OpenBench
    {
        caveats.push(format!(
            "no logger in {}; its temperature is a default, {}",
            whole.places[place].place.name,
            air.model.standing.words()
        ));
    }
    if it.tree.name_confidence == collection::tree::NameConfidence::Guess {
        caveats.push("the name is a guess, and so is its need".into());
        if it.tree.candidates.is_empty() {
            caveats.push("say which other names it may have: until then the tenderest of its whole kind sets its lines in frost".into());
        }
    }
    if told.needs.wake.light > LIGHT_COUNTS {
        caveats.push("long days quicken it much: under a short lamp or short days it sleeps on (measured on cut twigs)".into());
    }
    caveats.push(format!("the warmth and cold of {}: {}", it.tree.taxon.name, told.needs.words()));
    caveats.push("the order of the stages is certain; how far apart they lie is that of other trees, in the ground and in chambers".into());
    caveats
}

fn pace(told: &Told) -> String {
    let percent = ((told.before.mean.exp() - 1.0) * 100.0).round() as i32;
    match (told.past.len(), percent) {
        (0, _) => "no look in a past spring: the taxon's planning figures alone".into(),
        (seasons, -2..=2) => format!("{} with looks: keeps the taxon's pace", springs(seasons)),
        (seasons, 3..) => {
            format!("{} with looks: needs about {percent} % more warmth than planned", springs(seasons))
        }
        (seasons, _) => {
            format!("{} with looks: needs about {} % less warmth than planned", springs(seasons), -percent)
        }
    }
}

fn springs(seasons: usize) -> String {
    words::count(seasons, "past spring", "past springs")
}

fn diary(whole: &Whole, it: &TreeWhole) -> Vec<DiaryLine> {
    let mut lines: Vec<(Date, DiaryLine)> = Vec::new();
    let mut push = |day: Date, text: String, kind: &'static str, id: String| {
        lines.push((day, DiaryLine { day: words::day(day, whole.today), words: text, kind, id }));
    };
    for &(day, place) in &it.moves {
        push(day, format!("moved to {}", whole.places[place].place.name), "move", day.to_string());
    }
    for (id, look) in &it.looks {
        let note = if look.note.is_empty() { String::new() } else { format!(": {}", look.note) };
        push(
            look.day,
            match Ladder::of(it.tree.taxon) {
                Ladder::Leaf => format!("buds {} ({}){note}", words::stage(look.stage), look.sureness.key()),
                own => format!("{} ({}){note}", own.words(look.stage), look.sureness.key()),
            },
            "look",
            id.to_string(),
        );
    }
    for (id, look) in &it.leaf_looks {
        let note = if look.note.is_empty() { String::new() } else { format!(": {}", look.note) };
        let words = format!("leaves: {} ({}){note}", look.leaf.words(), look.sureness.key());
        push(look.day, words, "look", id.to_string());
    }
    for (id, work) in &it.works {
        let note = if work.note.is_empty() { String::new() } else { format!(": {}", work.note) };
        let logged = it.standing.repots.iter().find(|repot| repot.day == work.day).map(|repot| repot.cut);
        let roots = logged.or(work.roots).filter(|cut| work.kind == WorkKind::Repot && cut.0 > 0.0);
        let roots = roots.map_or(String::new(), |cut| format!(", {:.0} % of the roots cut", cut.0 * 100.0));
        push(work.day, format!("{}{roots}{note}", work.kind.words()), "work", id.to_string());
    }
    lines.sort_by_key(|line| std::cmp::Reverse(line.0));
    lines.into_iter().map(|(_, line)| line).collect()
}

fn effects(whole: &Whole, it: &TreeWhole, told: &Told, outlook: &mut Outlook<'_>) -> Vec<PlaceEffect> {
    let (facts, today) = (facts(it, whole), outlook.ground.today);
    let winter = outlook.ground.winter;
    whole
        .places
        .iter()
        .enumerate()
        .filter(|(rank, _)| it.place != Some(*rank))
        .filter_map(|(rank, place)| {
            let go = outlook.tell_if(&facts, Stay { from: today, place: rank }).ok()?;
            Some(PlaceEffect {
                place: place.place.name.clone(),
                key: place.place.key.clone(),
                opens: go.forecast.window().map(|window| words::days(winter, window.opens, whole.today)),
                closes: go.forecast.window().map(|window| words::days(winter, window.closes, whole.today)),
                shift: shifts(told, &go).words(),
                may: verdicts::line(
                    &verdicts::moving(whole, it, rank, whole.today),
                    whole.today,
                    whole.units(),
                ),
            })
        })
        .collect()
}

/// The stages to choose from in a form: code, words, signs.
pub fn choices(ladder: Ladder) -> Vec<(u8, &'static str, &'static str)> {
    Stage::ALL.into_iter().map(|stage| (stage.code(), ladder.words(stage), ladder.signs(stage))).collect()
}
