//! Windows in the sharing out: a tree gets no pot whose own tree is ready only long after that tree's window has closed.

use measure::sourced::{Sourced, Standing};

use super::Offered;
use crate::{
    repot::record::days,
    shelf::{
        assign::{Choice, Shelf},
        word::Word,
    },
};

const OURS: Standing =
    Standing::Estimate("a choice of ours: a few days after the likely end the buds are seldom further");

/// Days after its window has closed for which a tree may still wait for a pot.
pub const WAITS: Sourced<i32> = Sourced { value: 7, standing: OURS };
/// Points that each such day costs.
pub const WAIT_PRICE: Sourced<i64> = Sourced { value: 10, standing: OURS };

impl Offered {
    /// Days from the end of a tree's window until the window of the tree opens that stands in a pot; none where that is not after
    /// it, where the pot stands empty or is the tree's own, or where a window is not known.
    pub fn waits(&self, tree: usize, pot: usize) -> Option<i32> {
        let stands = |it: &crate::shelf::assign::Tree| it.stands_in == Some(pot);
        let other = self.shelf.trees.iter().position(stands).filter(|other| *other != tree)?;
        let (_, closes) = self.trees[tree].window?;
        let (opens, _) = self.trees[other].window?;
        Some(days(closes, opens)).filter(|late| *late > 0)
    }

    /// The shelf with the windows in its choices.
    ///
    /// ```text
    /// wait = opens(tree in the pot) − closes(tree)
    /// points − 10·wait for 1 to 7 days; no choice beyond
    /// ```
    ///
    /// Where the two trees may have each other's pots, the choice costs nothing: in such a swap the one that opens first is lifted in
    /// its own window and waits in a box. That counts by the two trees alone. In a longer ring each repot but the parked one's is
    /// priced by itself, and in a chain the early one of two that might have swapped can come late: its turn says so. A promise is kept
    /// at the price of its days, however many.
    pub(super) fn in_time(&self, shelf: &Shelf, words: &[Word]) -> Shelf {
        let has: std::collections::BTreeSet<(usize, usize)> =
            shelf.choices.iter().map(|it| (it.tree, it.pot)).collect();
        let swaps = |tree: usize, pot: usize| {
            let other = shelf.trees.iter().position(|it| it.stands_in == Some(pot));
            other.zip(shelf.trees[tree].stands_in).is_some_and(|pair| has.contains(&pair))
        };
        let promised = |tree, pot| words.contains(&Word::Promised { tree, pot });
        let priced = |choice: &Choice| {
            let &Choice { tree, pot, points } = choice;
            match self.waits(tree, pot) {
                None => Some(*choice),
                Some(_) if swaps(tree, pot) => Some(*choice),
                Some(wait) if wait <= WAITS.value || promised(tree, pot) => {
                    Some(Choice { points: points - WAIT_PRICE.value * i64::from(wait), ..*choice })
                }
                Some(_) => None,
            }
        };
        Shelf { choices: shelf.choices.iter().filter_map(priced).collect(), ..shelf.clone() }
    }
}

#[cfg(test)]
mod tests {
    use collection::reserve::{Reservation, Said};
    use jiff::{
        ToSpan,
        civil::{Date, date},
    };

    use super::{
        super::{
            Unkept, offer,
            tests::{Grower, ask, word},
        },
        *,
    };
    use crate::{repot::record::Record, shelf::assign::Place};

    const OPENS: Date = date(2027, 3, 10);
    const CLOSES: Date = date(2027, 3, 24);

    /// The first tree opens in March, the second so many days after the first has closed; a third pot is empty.
    fn offered(lengths: &[f64], after: Option<i64>, said: &[Reservation]) -> Offered {
        let grower = Grower::new(&[36.0, 36.0], lengths);
        let later = after.map(|after| (CLOSES + after.days(), CLOSES + (after + 14).days()));
        let records: Vec<Record<'_>> = grower
            .records()
            .into_iter()
            .zip([Some((OPENS, CLOSES)), later])
            .map(|(record, window)| Record { window, ..record })
            .collect();
        offer(&records, &grower.shelf(), said, &ask()).unwrap()
    }

    fn points(told: &Offered, tree: usize, pot: usize) -> Option<i64> {
        let choice = told.shelf.choices.iter().find(|it| (it.tree, it.pot) == (tree, pot));
        choice.map(|it| it.points)
    }

    /// Only the first may have the other's pot: its own is not for the second.
    fn one_way() -> [Reservation; 1] {
        [word(Said::Never, 1, 0)]
    }

    #[test]
    fn a_pot_that_comes_free_after_the_window_costs_by_the_day_and_is_out_after_a_week() {
        let plain = points(&offered(&[27.0, 27.5, 28.0], None, &one_way()), 0, 1).unwrap();
        let at = |after: i64| points(&offered(&[27.0, 27.5, 28.0], Some(after), &one_way()), 0, 1);
        assert_eq!(
            [-5, 0, 1, 7, 8, 60].map(at),
            [Some(plain), Some(plain), Some(plain - 10), Some(plain - 70), None, None]
        );
        let told = offered(&[27.0, 27.5, 28.0], Some(8), &one_way());
        assert_eq!(
            [told.waits(0, 1), told.waits(1, 0), told.waits(0, 2), told.waits(0, 0)],
            [Some(8), None, None, None]
        );
    }

    #[test]
    fn two_that_may_swap_are_not_priced_for_the_early_one_waits_in_a_box() {
        let free = offered(&[27.0, 27.2, 28.0], None, &[]);
        let apart = offered(&[27.0, 27.2, 28.0], Some(60), &[]);
        assert_eq!(points(&apart, 0, 1), points(&free, 0, 1));
        let vetoed = offered(&[27.0, 27.2, 28.0], Some(60), &one_way());
        assert_eq!(points(&vetoed, 0, 1), None, "the word has broken the swap");
    }

    #[test]
    fn a_promise_that_the_windows_forbid_is_told_and_the_pot_kept_for_nobody_else() {
        // The pot of the first is too small for the second, so that no swap is possible.
        let said = [word(Said::Promised, 0, 1)];
        let lengths = [27.0, 27.5, 28.0];
        let late = offered(&lengths, Some(30), &said);
        assert_eq!(late.unkept, [(0, Unkept::ComesTooLate(30))]);
        assert!(late.words.contains(&Word::Withheld { pot: 1 }));
        assert!(late.plan().unwrap().into[0] != Place::Pot(1));
        let kept = offered(&lengths, Some(5), &said);
        assert!(kept.unkept.is_empty() && kept.plan().unwrap().into[0] == Place::Pot(1));
    }

    #[test]
    fn what_is_promised_in_a_swap_stays_promised_when_another_word_breaks_it() {
        let said = [word(Said::Promised, 0, 1), word(Said::Never, 1, 0)];
        let told = offered(&[27.0, 27.2, 28.0], Some(30), &said);
        let plan = told.plan().unwrap();
        assert_eq!(plan.into[0], Place::Pot(1));
        let free = points(&offered(&[27.0, 27.2, 28.0], None, &said), 0, 1).unwrap();
        assert_eq!(points(&told, 0, 1), Some(free - 300));
    }
}
