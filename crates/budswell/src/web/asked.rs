//! What speaks against work that is to be recorded, on the day it was done.

use collection::event::WorkKind;
use jiff::civil::Date;
use state::work::Work;

use crate::web::{App, answer::Answer};

/// Work longer ago than this is entered without a question, days: it is history.
const LONG_AGO: i32 = 365;

/// What speaks against a kind of work on a tree on a day as typed; none where nothing does or the day is not one.
pub fn against(app: &App, key: &str, work: Work, day: &str) -> Result<Option<String>, Answer> {
    let today = app.today()?;
    let Ok(day) = day.trim().parse::<Date>() else { return Ok(None) };
    let is_asked = day <= today && (today - day).get_days() <= LONG_AGO;
    if !is_asked {
        return Ok(None);
    }
    let whole = app.whole_on(day)?;
    Ok(whole.tree(key).and_then(|tree| view::verdicts::against(&whole, tree, work)))
}

/// The kind of work that a line of the diary tells of, where a verdict is given for it.
pub fn work_of(kind: &str) -> Option<Work> {
    Some(match WorkKind::from_key(kind)? {
        WorkKind::Repot => Work::Repot,
        WorkKind::HardPrune => Work::HardPrune,
        WorkKind::Trim => Work::Trim,
        WorkKind::Wire => Work::Wire,
        WorkKind::Defoliate => Work::Defoliate,
        WorkKind::SlipPot | WorkKind::Other => return None,
    })
}
