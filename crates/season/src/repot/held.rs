//! A pot of the grower's held against a tree of the grower's.

use pot::fit::{Fit, Ruling, fit, limit::Refusal};

use super::{frame::Framed, sitter::Sat};

/// A pot held against a tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// The rules opened.
    pub fit: Fit,
    /// What would forbid the pot by the reckoned roots, but does not count: the roots came out of this very pot.
    pub waived: Vec<Refusal>,
    /// Worth and price are of different currencies, so the price rule is left out.
    pub other_currency: bool,
}

/// Holds a pot, by its key and frame, against a tree.
///
/// The rule of price is left out where worth and price are of different currencies. Roots that were reckoned from a pot always lie
/// in that pot: what is cut at the bench decides, not the guess. A cut that leaves too little for so much soil still speaks against it.
pub fn hold(key: &str, pot: &Framed, tree: &Sat, ruling: &Ruling) -> Held {
    let other_currency =
        matches!((pot.value, tree.asked), (Some(worth), Some(asked)) if worth.currency != asked.currency);
    let mut frame = pot.frame;
    if other_currency {
        frame.value = None;
    }
    let mut fit = fit(&frame, &tree.sitter, ruling);
    let mut waived = Vec::new();
    if tree.comes_from(key) {
        let (room, kept) = std::mem::take(&mut fit.refusals).into_iter().partition(|it| {
            matches!(it, Refusal::TooShort { .. } | Refusal::TooNarrow { .. } | Refusal::TooShallow { .. })
        });
        (waived, fit.refusals) = (room, kept);
    }
    Held { fit, waived, other_currency }
}

#[cfg(test)]
mod tests {
    use collection::{money::Money, standing::Grown};
    use jiff::civil::date;
    use measure::quantity::Share;
    use pot::fit::{
        frame::{Coins, Frame},
        rule::RuleId,
    };

    use super::*;
    use crate::repot::{
        frame::frame,
        record::{
            Record, StandsIn,
            tests::{TODAY, mix, stature, tray, tree},
        },
        sitter::sitter,
    };

    fn at_a_third(record: &Record<'_>) -> Sat {
        sitter(record, Share(0.35), TODAY).unwrap()
    }

    #[test]
    fn its_own_pot_is_never_too_short_for_the_roots_that_came_out_of_it() {
        let own = tree("larch", "larix-decidua");
        let ((pot, ware), mix) = (tray("oval", [13.0, 10.0, 5.0]), mix());
        let statures = [stature("larch", 15.0, 2.0)];
        let stands_in = Some(StandsIn { pot: &pot, ware: &ware, mix: &mix, since: date(2025, 3, 1) });
        let record = Record { statures: &statures, stands_in, ..Record::of(&own) };
        let sat = sitter(&record, Share(0.2), TODAY).unwrap();
        let framed = frame(&pot, &ware).unwrap();
        let ruling = Ruling::default();
        let stays = hold("oval", &framed, &sat, &ruling);
        assert!(stays.fit.refusals.is_empty() && !stays.waived.is_empty(), "{stays:?}");
        let other = hold("twin", &framed, &sat, &ruling);
        assert!(!other.fit.refusals.is_empty() && other.waived.is_empty());
        let dry = Framed { frame: Frame { drain_holes: 0, ..framed.frame }, ..framed };
        assert_eq!(hold("oval", &dry, &sat, &ruling).fit.refusals, [Refusal::NoDrain]);
    }

    #[test]
    fn worth_in_one_currency_is_not_held_against_a_price_in_another() {
        let own = tree("maple", "acer-palmatum");
        let ((pot, mut ware), mix) = (tray("oval", [25.0, 18.5, 6.0]), mix());
        ware.paid = Money::from_words("300 CHF");
        let statures = [stature("maple", 32.0, 5.0)];
        let stands_in = Some(StandsIn { pot: &pot, ware: &ware, mix: &mix, since: date(2025, 3, 1) });
        let framed = frame(&pot, &ware).unwrap();
        let graded = |asked: &str| {
            let grown = Grown { asked: Money::from_words(asked), ..Grown::default() };
            let sat = at_a_third(&Record {
                statures: &statures,
                stands_in,
                grown: Some(&grown),
                ..Record::of(&own)
            });
            let held = hold("oval", &framed, &sat, &Ruling::default());
            let price = held.fit.grades.iter().find(|grade| grade.rule.id == RuleId::Price);
            (price.map(|grade| grade.found), held.other_currency)
        };
        assert_eq!(graded("600 CHF"), (Some(0.5), false));
        assert_eq!(graded("600 EUR"), (None, true));
        assert_eq!(framed.frame.value, Some(Coins(30_000)));
    }
}
