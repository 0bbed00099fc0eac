//! Why a pot cannot hold a tree by the hard limits, asked before it is promised or potted.

use season::repot::{cut, frame::frame, held::hold, sitter::sitter};

use super::{opened::refusal, rank_of, shared};
use crate::{
    repots::case::{is_left_alone, record},
    whole::Whole,
};

/// Why a pot cannot hold a tree after the planned cut; none where it can, and where tree or pot are not known well enough to say.
pub fn unfit(whole: &Whole, tree: &str, pot: &str) -> Option<String> {
    let rank = rank_of(whole, pot)?;
    let ware = &whole.shelf.wares[rank];
    if ware.training {
        return None;
    }
    let record = record(whole, whole.tree(tree)?, is_left_alone(whole));
    let ask = shared::ask(whole);
    let cut = cut::today(&record, whole.today, ask.hemisphere).ok()?.planned;
    let sat = sitter(&record, cut, whole.today).ok()?;
    let framed = frame(&whole.pots[rank], ware).ok()?;
    let held = hold(pot, &framed, &sat, &ask.ruling);
    let why: Vec<String> = held.fit.refusals.iter().map(|it| refusal(it, whole.units())).collect();
    (!why.is_empty()).then(|| why.join("; "))
}
