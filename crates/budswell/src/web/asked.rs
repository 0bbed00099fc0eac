//! What speaks against work, a move or a weighing that is to be recorded: one question for every form.

use std::sync::Arc;

use collection::{event::WorkKind, intention::CutKind};
use intake::{
    import::{ImportQuestion, Options, Preview},
    round::RoundLine,
};
use jiff::civil::Date;
use state::work::Work;
use view::whole::Whole;

use crate::web::{App, answer::Answer};

/// Work longer ago than this is entered without a question, days: it is history.
const LONG_AGO: i32 = 365;

/// The collection on a day as typed, an empty one being today; none where it is no day that is asked about.
fn whole_on(app: &App, day: &str) -> Result<Option<Arc<Whole>>, Answer> {
    let today = app.today()?;
    let day = match day.trim() {
        "" => today,
        typed => match typed.parse::<Date>() {
            Ok(day) => day,
            Err(_) => return Ok(None),
        },
    };
    let is_asked = day <= today && (today - day).get_days() <= LONG_AGO;
    is_asked.then(|| app.whole_on(day)).transpose()
}

/// What speaks against a kind of work on a tree on a day as typed; none where nothing does, the day is not one, or the question was
/// answered for the same work of that day already.
pub fn against(app: &App, key: &str, work: Work, day: &str) -> Result<Option<String>, Answer> {
    let Some(whole) = whole_on(app, day)? else { return Ok(None) };
    let tree = whole.tree(key).filter(|tree| !view::verdicts::is_answered(tree, work, whole.today));
    Ok(tree.and_then(|tree| view::verdicts::against(&whole, tree, work)))
}

/// The same for a word that may stand for work.
pub fn against_word(app: &App, key: &str, work: Option<Work>, day: &str) -> Result<Option<String>, Answer> {
    work.map_or(Ok(None), |work| against(app, key, work, day))
}

/// What speaks against cutting a layer off on a day as typed.
pub fn against_apart(app: &App, key: &str, id: i64, day: &str) -> Result<Option<String>, Answer> {
    let Some(whole) = whole_on(app, day)? else { return Ok(None) };
    Ok(whole.tree(key).and_then(|tree| view::limbs::layers::wait(&whole, tree, id)))
}

/// What speaks against moving trees to a place on a day as typed, each by its name: the verdict of that day, and what a day in the past
/// changes of a winter.
pub fn against_moves(app: &App, trees: &[String], place: &str, day: &str) -> Result<Option<String>, Answer> {
    let mut told: Vec<String> = Vec::new();
    if let Some(whole) = whole_on(app, day)? {
        let known = trees.iter().filter_map(|key| whole.tree(key));
        told.extend(known.filter_map(|tree| {
            let why = view::verdicts::against_move(&whole, tree, place)?;
            Some(if trees.len() == 1 { why } else { format!("{}: {why}", tree.tree.name) })
        }));
    }
    told.extend(moved(app, trees, place, day)?);
    Ok((!told.is_empty()).then(|| told.join(". ")))
}

/// Why a weighing cannot be right.
pub fn weight(whole: &Whole, line: &RoundLine<'_>, at: i64) -> Option<String> {
    let odd = view::water::odd_weight(whole, line.tree, intake::round::grams(line)?, at);
    odd.map(|why| format!("is {why}"))
}

/// What a move dated in the past changes of the winter of its trees.
fn moved(app: &App, trees: &[String], place: &str, day: &str) -> Result<Option<String>, Answer> {
    let whole = app.whole()?;
    let Ok(day) = day.trim().parse::<Date>() else { return Ok(None) };
    if day >= whole.today {
        return Ok(None);
    }
    let of_then = app.whole_on(view::moved_before::counted_on(&whole, day))?;
    let changed = trees
        .iter()
        .filter_map(|key| view::moved_before::changed(&of_then, of_then.tree(key)?, place, day, whole.today));
    let told: Vec<String> = changed.map(|it| it.words).collect();
    Ok((!told.is_empty()).then(|| format!("it changes the winter of {}", told.join("; "))))
}

/// What speaks against feeding trees on a day as typed, each by its name.
pub fn against_feed(app: &App, trees: &[String], day: &str) -> Result<Option<String>, Answer> {
    let Some(whole) = whole_on(app, day)? else { return Ok(None) };
    let told = trees.iter().filter_map(|key| {
        let tree = whole.tree(key)?;
        let why = view::verdicts::against(&whole, tree, Work::Feed)?;
        Some(if trees.len() == 1 { why } else { format!("{}: {why}", tree.tree.name) })
    });
    let told: Vec<String> = told.collect();
    Ok((!told.is_empty()).then(|| told.join(". ")))
}

/// What a sheet of moves dated in the past changes of winters, as a question before it is taken in; none where that was answered.
pub fn winters(app: &App, told: &Preview, options: &Options) -> Result<Option<ImportQuestion>, Answer> {
    let moves = told.moves();
    if options.winters || moves.is_empty() {
        return Ok(None);
    }
    let now = app.whole()?;
    let changed = view::moved_before::of_sheet(&now, &moves, |day| app.whole_on(day))?;
    let words: Vec<String> = changed.into_iter().map(|it| it.words).collect();
    Ok((!words.is_empty()).then(|| ImportQuestion::winters(&words)))
}

/// The kind of work that a line of the diary tells of, where a verdict is given for it.
pub fn work_of(kind: &str) -> Option<Work> {
    Some(match WorkKind::from_key(kind)? {
        WorkKind::Repot => Work::Repot,
        WorkKind::HardPrune => Work::HardPrune,
        WorkKind::Trim => Work::Trim,
        WorkKind::Wire => Work::Wire,
        WorkKind::Defoliate => Work::Defoliate,
        WorkKind::Fed => Work::Feed,
        WorkKind::SlipPot | WorkKind::Other => return None,
    })
}

/// The kind of work that a cut is.
pub fn work_of_cut(kind: &str) -> Option<Work> {
    CutKind::from_key(kind).map(view::verdicts::work_of_cut)
}

/// The kind of work that a line of the stress log tells of, where a verdict is given for it.
pub fn work_of_toll(what: &str) -> Option<Work> {
    Some(match what {
        "hard-prune" => Work::HardPrune,
        "trim" => Work::Trim,
        "pinch" => Work::Pinch,
        "defoliate-full" | "defoliate-partial" => Work::Defoliate,
        "decandle" => Work::Decandle,
        "wire" | "heavy-bend" => Work::Wire,
        _ => return None,
    })
}
