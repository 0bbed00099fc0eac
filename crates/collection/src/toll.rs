//! The words by which what a tree had to bear is kept.

use measure::quantity::Share;
use pot::repot::insult::Insult;

/// What the number beside a toll is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Amount {
    /// There is none.
    None,
    /// A share, 0 to 1.
    Share,
    /// A whole number: limbs, branches or weeks.
    Count,
}

/// A toll that can be written down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kind {
    /// The word used in files.
    pub key: &'static str,
    /// In plain words.
    pub words: &'static str,
    /// What its number is.
    pub amount: Amount,
}

const fn k(key: &'static str, words: &'static str, amount: Amount) -> Kind {
    Kind { key, words, amount }
}

/// Every toll that can be written down. Repots and layers have records of their own.
#[rustfmt::skip]
pub const KINDS: [Kind; 17] = [
    k("hard-prune", "pruned hard: share of the wood with leaves", Amount::Share),
    k("trim", "trimmed: share of the twigs", Amount::Share),
    k("pinch", "tips pinched", Amount::None),
    k("defoliate-full", "every leaf taken", Amount::None),
    k("defoliate-partial", "leaves taken in part: share", Amount::Share),
    k("decandle", "candles taken", Amount::None),
    k("wire", "wired into structure: branches", Amount::Count),
    k("heavy-bend", "bent hard: major limbs", Amount::Count),
    k("carve", "dead wood carved", Amount::None),
    k("carve-live", "carved into a live edge", Amount::None),
    k("graft", "grafted", Amount::None),
    k("pest", "pest: share of the leaf lost", Amount::Share),
    k("drought-wilt", "wilted", Amount::None),
    k("drought-crisp", "dried until leaves went crisp", Amount::None),
    k("frost-leaf", "leaf lost to frost", Amount::None),
    k("frost-root", "roots thought hurt by frost", Amount::None),
    k("show", "indoors at a show: weeks", Amount::Count),
];

/// The insult of this word and number; none where the word is unknown, or the number is not of its kind.
///
/// ```
/// use collection::toll::{insult, key};
///
/// let told = insult("pest", Some(0.3)).unwrap();
/// assert_eq!(key(told), Some(("pest", Some(0.3))));
/// assert!(insult("pest", None).is_none() && insult("heavy-bend", Some(1.5)).is_none());
/// ```
pub fn insult(key: &str, amount: Option<f64>) -> Option<Insult> {
    let kind = KINDS.iter().find(|kind| kind.key == key)?;
    let share = || amount.filter(|share| (0.0..=1.0).contains(share)).map(Share);
    let count = || amount.filter(|count| (1.0..=500.0).contains(count) && count.fract() == 0.0);
    let fits = match kind.amount {
        Amount::None => amount.is_none(),
        Amount::Share => share().is_some(),
        Amount::Count => count().is_some(),
    };
    if !fits {
        return None;
    }
    let count = count().map(|count| count as u16);
    Some(match key {
        "hard-prune" => Insult::HardPrune(share()?),
        "trim" => Insult::Trim(share()?),
        "pinch" => Insult::Pinch,
        "defoliate-full" => Insult::DefoliateFull,
        "defoliate-partial" => Insult::DefoliatePartial(share()?),
        "decandle" => Insult::Decandle,
        "wire" => Insult::WireStructural(count?),
        "heavy-bend" => Insult::HeavyBend(count?),
        "carve" => Insult::Carve { live_edge: false },
        "carve-live" => Insult::Carve { live_edge: true },
        "graft" => Insult::RepairGraft,
        "pest" => Insult::Pest(share()?),
        "drought-wilt" => Insult::Drought { crisp: false },
        "drought-crisp" => Insult::Drought { crisp: true },
        "frost-leaf" => Insult::Frost { roots: false },
        "frost-root" => Insult::Frost { roots: true },
        "show" => Insult::Show(count?),
        _ => return None,
    })
}

/// The word and number of an insult; none for those that have records of their own.
pub fn key(insult: Insult) -> Option<(&'static str, Option<f64>)> {
    let share = |Share(share): Share| Some(share);
    let count = |count: u16| Some(f64::from(count));
    Some(match insult {
        Insult::HardPrune(part) => ("hard-prune", share(part)),
        Insult::Trim(part) => ("trim", share(part)),
        Insult::Pinch => ("pinch", None),
        Insult::DefoliateFull => ("defoliate-full", None),
        Insult::DefoliatePartial(part) => ("defoliate-partial", share(part)),
        Insult::Decandle => ("decandle", None),
        Insult::WireStructural(branches) => ("wire", count(branches)),
        Insult::HeavyBend(limbs) => ("heavy-bend", count(limbs)),
        Insult::Carve { live_edge: false } => ("carve", None),
        Insult::Carve { live_edge: true } => ("carve-live", None),
        Insult::RepairGraft => ("graft", None),
        Insult::Pest(part) => ("pest", share(part)),
        Insult::Drought { crisp: false } => ("drought-wilt", None),
        Insult::Drought { crisp: true } => ("drought-crisp", None),
        Insult::Frost { roots: false } => ("frost-leaf", None),
        Insult::Frost { roots: true } => ("frost-root", None),
        Insult::Show(weeks) => ("show", count(weeks)),
        Insult::RepotFull { .. }
        | Insult::RepotLight { .. }
        | Insult::SlipPot
        | Insult::WireDetail
        | Insult::LayerOn
        | Insult::LayerOffParent
        | Insult::LayerOffNew
        | Insult::Collect => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_toll_reads_back_as_what_it_was() {
        for kind in KINDS {
            let amount = match kind.amount {
                Amount::None => None,
                Amount::Share => Some(0.25),
                Amount::Count => Some(3.0),
            };
            let told = insult(kind.key, amount).unwrap_or_else(|| panic!("{}", kind.key));
            assert_eq!(key(told), Some((kind.key, amount)));
        }
    }
}
