//! What must hold of the pages of any day: no two disagree, no tree is lost, nothing is advised out of season.

use std::{collections::BTreeMap, ops::RangeInclusive};

use jiff::{ToSpan, civil::Date};
use measure::{
    leaf::Leaf,
    shelter::Shelter,
    stage::Stage,
    taxon::{Kind, Taxon},
    winter::{Hemisphere, Winter},
};
use season::watering::plan::Verdict;
use state::work::Work;
use view::{
    limbs::grows,
    repots::case,
    today,
    whole::{TreeWhole, Whole},
};
use water::leaf::LeafState;

use super::{Claim, Roots, Says};

/// Two pages that say different things of one tree.
pub fn disagreements(whole: &Whole, claims: &[Claim]) -> Vec<String> {
    let mut by: BTreeMap<(&str, String), Vec<&Claim>> = BTreeMap::new();
    for claim in claims {
        by.entry((&claim.tree, claim.says.about())).or_default().push(claim);
    }
    let mut found = Vec::new();
    for ((tree, about), claims) in by {
        if about == "goes" {
            continue;
        }
        let other = claims.iter().find(|it| it.says != claims[0].says);
        if let Some(other) = other {
            let first = claims[0];
            found.push(format!(
                "{} {tree}, {about}: {} says {:?}, {} says {:?}",
                whole.today, first.page, first.says, other.page, other.says
            ));
        }
    }
    found
}

/// Trees of which a page that speaks of all trees says nothing, and roots of trees under care that should be cut.
pub fn lost(whole: &Whole, claims: &[Claim]) -> Vec<String> {
    let mut found = Vec::new();
    for tree in &whole.trees {
        let key = &tree.tree.key;
        let says = |page: &str, wanted: fn(&Says) -> bool| {
            claims.iter().any(|it| it.page == page && it.tree == *key && wanted(&it.says))
        };
        let is_told = tree.told.is_ok();
        for page in ["Repots", "repot bench", "tree"] {
            let is_said =
                says(page, |it| matches!(it, Says::Roots(_) | Says::NoPot | Says::May(Work::Repot, _)));
            if !is_said {
                found.push(format!("{} {key}: nothing of its roots on {page}", whole.today));
            }
        }
        let is_now = says("Waking", |it| matches!(it, Says::Roots(Roots::Now)));
        if says("Repots", |it| *it == Says::NoPot) && !is_now {
            found.push(format!(
                "{} {key}: its pot is called late while its roots may not be cut",
                whole.today
            ));
        }
        if is_told && !says("Waking", |it| matches!(it, Says::Roots(_))) {
            found.push(format!("{} {key}: not on Waking", whole.today));
        }
        let cares = says("Today", |it| matches!(it, Says::UnderCare));
        if cares && says("Waking", |it| matches!(it, Says::Roots(Roots::Now | Roots::Soon | Roots::Look))) {
            found.push(format!(
                "{} {key}: under care after a repot, and its roots asked for again",
                whole.today
            ));
        }
    }
    let page = today::today(whole);
    let lists = [&page.repot, &page.look_first, &page.wait, &page.ready];
    let listed: usize = lists.iter().map(|rows| rows.len()).sum();
    let in_store = page.in_store.iter().filter(|row| Roots::of(row.advice).is_some_and(|it| it != Roots::No));
    let counted =
        listed + in_store.count() + page.late + page.not_this_year + page.asleep + page.untold.len();
    if counted != whole.trees.len() {
        found.push(format!("{}: {counted} trees on Today of {}", whole.today, whole.trees.len()));
    }
    found
}

/// Leaves that water and work take for something else than frost and the pages do, and trees bare in summer or green in the depth of winter.
pub fn leaves(whole: &Whole, claims: &[Claim]) -> Vec<String> {
    let month = north(whole).month();
    let winter = Winter::holding(whole.today, case::hemisphere(whole));
    let mut found = Vec::new();
    for tree in whole.trees.iter().filter(|tree| goes_by_buds(tree.tree.taxon.kind)) {
        let (key, drinks) = (&tree.tree.key, grows::leaves(tree).on(winter.day_number(whole.today)));
        let is_bare = matches!(drinks, LeafState::Leafless | LeafState::Swollen);
        let said = claims.iter().find_map(|it| match it.says {
            Says::Leaves(leaf) if it.tree == *key => Some(leaf),
            _ => None,
        });
        let is_wrong = match said {
            // Bare is taken for bare once it is sure; until then it drinks as in autumn.
            Some(Leaf::Bare) => drinks == LeafState::Mature,
            Some(_) => is_bare,
            None => false,
        };
        if is_wrong {
            found.push(format!("{} {key}: told {said:?}, drinks as {drinks:?}", whole.today));
        }
        let is_outdoors = tree.place.is_none_or(|it| whole.places[it].place.shelter.is_outdoors());
        if is_outdoors && (7..=9).contains(&month) && (is_bare || said == Some(Leaf::Bare)) {
            found.push(format!("{} {key}: bare in summer, {said:?}, {drinks:?}", whole.today));
        }
        let keeps = tree.in_leaf.keeps.is_some();
        if is_outdoors && !keeps && month == 1 && (!is_bare || said.is_some_and(|it| it != Leaf::Bare)) {
            found.push(format!("{} {key}: in leaf in January, {said:?}, {drinks:?}", whole.today));
        }
    }
    found
}

/// Seconds that *Round ahead* looks ahead.
pub const AHEAD: i64 = 12 * 3600;

/// Pots that wait half a day and then need nothing though nobody watered them, under a roof; and wires that Today counts otherwise than
/// their page.
pub fn waits(whole: &Whole, claims: &[Claim]) -> Vec<String> {
    let mut found = Vec::new();
    for tree in &whole.trees {
        let key = &tree.tree.key;
        let is_dry = tree.place.is_some_and(|it| !whole.places[it].place.shelter.is_outdoors());
        let of = |wanted: fn(&Says) -> Option<Verdict>| {
            claims.iter().filter(|it| it.tree == *key).find_map(|it| wanted(&it.says))
        };
        let now = of(|it| if let Says::Water(it) = it { Some(*it) } else { None });
        let later = of(|it| if let Says::WaterAhead(it) = it { Some(*it) } else { None });
        // The log of the demo goes on after the moment that is looked at.
        let at = view::tonight::afternoon(whole).as_second();
        let is_logged = tree.drinks.iter().any(|(_, it)| (at..at + AHEAD).contains(&it.at));
        if is_dry && !is_logged && now == Some(Verdict::Water) && later == Some(Verdict::Leave) {
            found.push(format!("{} {key}: to water, and half a day on to leave", whole.today));
        }
    }
    let (today, wires) = (today::today(whole).limbs.wires, view::limbs::wires::page(whole, None, 2.0).due);
    if today != wires {
        found.push(format!("{}: {today} wires on Today, {wires} on their page", whole.today));
    }
    found
}

/// A date as the northern half of the Earth would have it.
pub fn north(whole: &Whole) -> Date {
    match case::hemisphere(whole) {
        Hemisphere::North => whole.today,
        Hemisphere::South => whole.today + 182.days(),
    }
}

/// Trees that lose their leaves in winter and are repotted by their buds.
pub fn goes_by_buds(kind: Kind) -> bool {
    use Kind::*;
    let by_buds = [HardyDeciduous, Maple, Elm, BeechHornbeam, Oak, LarchGinkgo, AppleFamily];
    by_buds.contains(&kind)
}

/// Repotted in autumn, against crown gall.
const QUINCE: &str = "Chaenomeles";

/// Months of the northern half in which roots may ever be cut, wider than any rule of the product (common practice, no source).
fn root_months(taxon: &Taxon) -> Vec<RangeInclusive<i8>> {
    use Kind::*;
    match taxon.kind {
        _ if taxon.genus() == QUINCE => vec![2..=4, 9..=11],
        HardyDeciduous | Maple | Elm | BeechHornbeam | Oak | LarchGinkgo | AppleFamily => vec![2..=6],
        Juniper | TwoFlushPine | OneFlushPine | SpruceHemlock | YewCypress => vec![2..=6, 8..=10],
        StoneFruit | FloweringDeciduous | SemiDeciduous => vec![1..=7],
        Azalea => vec![2..=7],
        BroadleafEvergreen => vec![3..=9],
        Tropical | Succulent => vec![4..=9],
    }
}

/// A kind that needs a winter out of heated rooms.
pub fn is_hardy(kind: Kind) -> bool {
    use Kind::*;
    !matches!(kind, Tropical | Succulent | BroadleafEvergreen | Azalea)
}

/// Whether it is at rest: green is out with less than one chance in ten.
fn rests(tree: &TreeWhole) -> bool {
    let green = Stage::GreenTip.rank();
    tree.told.as_ref().is_ok_and(|told| told.forecast.today[green..].iter().sum::<f64>() < 0.1)
}

/// Advice out of season: months of the northern half, common practice, no source.
pub fn out_of_season(whole: &Whole, claims: &[Claim]) -> Vec<String> {
    let month = north(whole).month();
    let wrong = |claim: &Claim| {
        let tree = whole.tree(&claim.tree)?;
        let kind = tree.tree.taxon.kind;
        let is_kept_warm = tree.place.is_some_and(|it| {
            matches!(whole.places[it].place.shelter, Shelter::CoolSill | Shelter::WarmSill)
        });
        let is_quince = tree.tree.taxon.genus() == QUINCE;
        let why = match claim.says {
            Says::Roots(it)
                if it != Roots::No
                    && goes_by_buds(kind)
                    && !is_quince
                    && !is_kept_warm
                    && !(1..=6).contains(&month) =>
            {
                "root work in the second half of the year"
            }
            Says::Roots(Roots::Now)
                if !is_kept_warm
                    && !root_months(tree.tree.taxon).iter().any(|months| months.contains(&month)) =>
            {
                "root work in a month that is none of its kind's"
            }
            Says::May(Work::Defoliate, true) if !(5..=8).contains(&month) => {
                "leaves taken off outside summer"
            }
            Says::May(Work::Decandle, true) if !(5..=8).contains(&month) || kind != Kind::TwoFlushPine => {
                "candles cut out of season, or of a tree without a second flush"
            }
            Says::May(Work::Layer, true) if !(3..=8).contains(&month) && goes_by_buds(kind) => {
                "a layer begun outside spring and summer"
            }
            Says::Goes(Shelter::WarmSill) if is_hardy(kind) && rests(tree) => {
                "a hardy tree sent into a heated room in winter"
            }
            Says::Stage(ref it)
                if it.starts_with("00")
                    && goes_by_buds(kind)
                    && (6..=8).contains(&month)
                    && !is_kept_warm =>
            {
                "buds closed and hard in midsummer"
            }
            _ => return None,
        };
        Some(format!("{} {} on {}: {why} ({:?})", whole.today, claim.tree, claim.page, claim.says))
    };
    claims.iter().filter_map(wrong).collect()
}
