//! A second opinion on leaf-out in the reader's words: both days and how far apart they are, never their mean.

use jiff::civil::Date;
use measure::{stage::Stage, winter::Winter};
use season::window::Told;

use crate::words::{self, Days};

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
    let their_days = second.leaves.map_or_else(
        || "no leaves in most years".into(),
        |spread| {
            let Days { early, middle, late, .. } = words::days(winter, spread, today);
            format!("leaves out {middle} ({early} to {late}, the years' differences alone)")
        },
    );
    let our_day = ours.map_or_else(
        || "ours finds no day in most years".into(),
        |spread| format!("ours says {}", words::days(winter, spread, today).middle),
    );
    let gap = second.leaves.zip(ours).map_or_else(String::new, |(a, b)| apart(a.middle - b.middle));
    let words = format!("{source}: {their_days}; {our_day}{gap}");
    Some(SecondOpinion { words, standing: second.standing.words() })
}

/// How far the other day lies from ours, as the end of a sentence.
fn apart(days: i32) -> String {
    match days {
        0 => ", the same".into(),
        days => format!(", {} apart", words::count(days.abs(), "day", "days")),
    }
}
