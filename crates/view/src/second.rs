//! A second opinion on leaf-out in the reader's words: both days and how far apart they are, never their mean.

use jiff::civil::Date;
use measure::{stage::Stage, winter::Winter};
use season::window::Told;

use crate::words;

/// Another model's leaf-out beside ours.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SecondOpinion {
    /// Both days.
    pub words: String,
    /// Where the other model comes from.
    pub standing: String,
}

/// What the other model says; none where no other knows the taxon.
pub fn second(told: &Told, winter: Winter, today: Date) -> Option<SecondOpinion> {
    let second = told.second?;
    let source = format!("Menzel's table (1997) for {}, fitted to trees in the ground", second.species);
    let ours = told.forecast.of(Stage::Unfolded);
    let our_day = ours.map(|spread| words::days(winter, spread, today).middle);
    let words = match (second.leaves, ours, our_day) {
        (Some(theirs), ours, our_day) => {
            let days = words::days(winter, theirs, today);
            let beside = match (ours, our_day) {
                (Some(ours), Some(day)) => format!("ours says {day}: {}", apart(theirs.middle - ours.middle)),
                _ => "ours finds no day in most years".into(),
            };
            format!(
                "{source}: leaves out {} ({} to {}, the years' differences alone); {beside}",
                days.middle, days.early, days.late
            )
        }
        (None, _, Some(day)) => format!("{source}: no leaves in most years; ours says {day}"),
        (None, _, None) => format!("{source}: no leaves in most years; ours finds no day either"),
    };
    Some(SecondOpinion { words, standing: second.standing.words() })
}

/// How far the other day lies from ours.
fn apart(days: i32) -> String {
    match days {
        0 => "the same day".into(),
        days => format!("{} apart", words::count(days.abs(), "day", "days")),
    }
}
