//! May wood be cut, wired or layered today?

use measure::{stage::Stage, taxon::Kind};
use season::work_months::{Months, WorkMonths};

use super::{months, roots, stress};
use crate::{
    facts::{Facts, Foliage},
    reason::Reason,
};

/// Genera that bleed while their sap rises (common practice; extension texts agree on the first five).
const BLEEDERS: [&str; 7] = ["Acer", "Betula", "Carpinus", "Juglans", "Vitis", "Ostrya", "Cladrastis"];

/// A chance under which something is left out of account.
const SMALL: f64 = 0.1;

/// Months in which the flower buds of those that flower from last summer's wood are formed and not yet open.
const FLOWER_BUDS: Months = Months(&[[7, 2]]);

/// Months in which an air layer is begun, once leaves have hardened.
const LAYER: Months = Months(&[[5, 7]]);

/// Weeks after a root cut in which only running tips are trimmed, in days.
const SETTLING: i32 = 56;

fn bears_flower_buds(facts: &Facts) -> bool {
    use Kind::{AppleFamily, Azalea, FloweringDeciduous, StoneFruit};
    matches!(facts.taxon.kind, AppleFamily | Azalea | FloweringDeciduous | StoneFruit)
}

fn flower_buds(facts: &Facts) -> Option<Reason> {
    let formed = FLOWER_BUDS.hold(facts.today, facts.hemisphere);
    (bears_flower_buds(facts) && formed).then_some(Reason::FlowerBuds)
}

/// Roots cut within the last eight weeks.
pub(super) fn settling(facts: &Facts) -> Option<Reason> {
    let cut = facts.root_cut.filter(|cut| cut.share.0 > 0.0)?;
    (0..SETTLING)
        .contains(&facts.days_since(cut.day))
        .then(|| Reason::RootsSettling { day: cut.day, until: stress::after(cut.day, SETTLING) })
}

pub(super) fn hard_prune(facts: &Facts) -> Vec<Reason> {
    let row = WorkMonths::of(facts.taxon.kind);
    let mut found = Vec::new();
    found.push(if row.no_prune.hold(facts.today, facts.hemisphere) {
        Reason::OutOfSeason { next: row.hard_prune.next_start(facts.today, facts.hemisphere) }
    } else {
        months::of(row.hard_prune, facts)
    });
    found.extend(roots::cut_this_season(facts));
    found.extend(flower_buds(facts));
    if BLEEDERS.contains(&facts.taxon.genus()) && sap_rises(facts) {
        found.push(Reason::Bleeds);
    }
    found
}

/// Between swelling buds and leaves that are out, on the whole spread.
fn sap_rises(facts: &Facts) -> bool {
    facts.buds.is_some_and(|buds| {
        let out = buds.at_least(Stage::SeveralUnfolded);
        buds.at_least(Stage::Swelling) > SMALL && out < 1.0 - SMALL
    })
}

pub(super) fn trim(facts: &Facts) -> Vec<Reason> {
    let row = WorkMonths::of(facts.taxon.kind);
    let mut found = vec![months::of(row.trim, facts)];
    found.extend(settling(facts));
    found.extend(flower_buds(facts));
    found
}

pub(super) fn wire(facts: &Facts) -> Vec<Reason> {
    let row = WorkMonths::of(facts.taxon.kind);
    let mut found = vec![months::of(row.wire, facts)];
    found.extend(settling(facts));
    let swells = |stage: Stage| facts.buds.map_or(0.0, |buds| buds.at_least(stage));
    if swells(Stage::Full) - swells(Stage::Unfolded) > SMALL {
        found.push(Reason::BudsRubOff);
    }
    found
}

pub(super) fn unwire(facts: &Facts) -> Vec<Reason> {
    if facts.wires == 0 { vec![Reason::NoWire] } else { Vec::new() }
}

pub(super) fn layer(facts: &Facts) -> Vec<Reason> {
    let mut found = vec![months::of(LAYER, facts)];
    if facts.foliage == Foliage::Soft {
        found.push(Reason::LeavesSoft);
    }
    found.extend(roots::cut_this_season(facts));
    found
}
