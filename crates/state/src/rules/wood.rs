//! May wood be cut, wired or layered today?

use measure::{stage::Stage, taxon::Kind};
use season::{
    flowers::{Cost, Flowers, months_to},
    work_months::{Months, WorkMonths},
};

use super::{
    leaf::{self, DECANDLE},
    months, roots, stress,
};
use crate::{
    facts::{Facts, Foliage},
    reason::{ByKind, Disease, Reason},
};

/// Genera that bleed while their sap rises (common practice; extension texts agree on the first five).
const BLEEDERS: [&str; 7] = ["Acer", "Betula", "Carpinus", "Juglans", "Vitis", "Ostrya", "Cladrastis"];

/// A chance under which something is left out of account.
const SMALL: f64 = 0.1;

/// Months in which an air layer is begun, once leaves have hardened.
const LAYER: Months = Months(&[[5, 7]]);

/// Weeks after a root cut in which only running tips are trimmed, in days.
const SETTLING: i32 = 56;

/// What a cut costs in flowers.
fn flower_buds(facts: &Facts) -> Option<Reason> {
    let told = match Flowers::of(facts.taxon)?.cost(facts.today, facts.hemisphere)? {
        Cost::Buds { bloom } => ByKind::FlowerBuds { months: months_to(facts.today, bloom[0]), bloom },
        Cost::InFlower { until } => ByKind::InFlower { until },
    };
    Some(Reason::ByKind(told))
}

/// Months in which fresh cuts on oaks and elms draw what carries their diseases, where those occur (from memory, not verified).
const FLIGHT: Months = Months(&[[4, 7]]);

fn disease(facts: &Facts) -> Option<Reason> {
    let it = match facts.taxon.genus() {
        "Quercus" => Disease::OakWilt,
        "Ulmus" => Disease::DutchElm,
        _ => return None,
    };
    FLIGHT.hold(facts.today, facts.hemisphere).then_some(Reason::ByKind(ByKind::Disease(it)))
}

/// Roots cut within the last eight weeks.
pub(super) fn settling(facts: &Facts) -> Option<Reason> {
    let cut = facts.root_cut.filter(|cut| cut.share.0 > 0.0)?;
    (0..SETTLING)
        .contains(&facts.days_since(cut.day))
        .then(|| Reason::RootsSettling { day: cut.day, until: stress::after(cut.day, SETTLING) })
}

pub(super) fn hard_prune(facts: &Facts) -> Vec<Reason> {
    let row = WorkMonths::of(facts.taxon);
    let mut found = Vec::new();
    found.push(if row.no_prune.hold(facts.today, facts.hemisphere) {
        Reason::OutOfSeason {
            next: row.hard_prune.next_start(facts.today, facts.hemisphere),
            why: row.hard_why,
        }
    } else {
        months::of(row.hard_prune, row.hard_why, facts)
    });
    found.extend(disease(facts));
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
    let row = WorkMonths::of(facts.taxon);
    let is_summer = DECANDLE.hold(facts.today, facts.hemisphere);
    if facts.taxon.kind == Kind::TwoFlushPine && is_summer {
        // What is cut on such a pine in summer is its candles.
        return leaf::decandle(facts);
    }
    let now = months::of(row.trim, row.trim_why, facts);
    // A wisteria's whips are shortened above the buds that flower.
    let spares = facts.taxon.key == "wisteria-floribunda" && matches!(now, Reason::InSeason { .. });
    let mut found = vec![now];
    found.extend(settling(facts));
    found.extend(flower_buds(facts).filter(|_| !spares));
    if facts.taxon.kind == Kind::Azalea {
        // In the year of its repot its top is left alone.
        found.extend(roots::cut_this_season(facts));
        found.extend(roots::azalea_year(facts));
    }
    found
}

pub(super) fn wire(facts: &Facts) -> Vec<Reason> {
    let row = WorkMonths::of(facts.taxon);
    let mut found = vec![months::of(row.wire, row.wire_why, facts)];
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
    let mut found =
        vec![months::of(LAYER, "once leaves have hardened, with warm weeks ahead for roots", facts)];
    if facts.foliage == Foliage::Soft {
        found.push(Reason::LeavesSoft);
    }
    found.extend(roots::cut_this_season(facts));
    found
}
