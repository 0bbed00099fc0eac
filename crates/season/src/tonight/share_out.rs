//! Who moves tonight and where to: the room is shared out so that the least is lost in all, each to a place that spares it, near along
//! the round; then the order of carrying.

use measure::{
    quantity::{Celsius, Share},
    shelter::Shelter,
    stage::Stage,
};

use super::{
    carry::Lifting,
    judge::{Judged, TreeNight, is_hardy, judge},
    place::PlaceNight,
    room::give_room,
};

/// A place to stand or to be carried to.
#[derive(Clone, Copy, Debug)]
pub struct Space<'a> {
    /// Its night.
    pub night: &'a PlaceNight,
    /// Its shelter.
    pub shelter: Shelter,
    /// Trees it still takes; none where no room is written down.
    pub free: Option<usize>,
}

/// What to do with a tree tonight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It stays.
    Stay,
    /// It stays, and is looked at again at dusk.
    Watch,
    /// It is carried.
    Move,
    /// No place with room serves: it is protected where it stands.
    Protect(Protection),
}

/// How a tree for which no place has room gets through the night; common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Protection {
    /// Any heated room: nothing laid over it would do.
    HeatedRoom,
    /// Any room that stays above freezing and is not heated: its pot must not freeze at all.
    FrostFreeRoom,
    /// Both the pot packed in and the crown covered.
    PotAndCrown,
    /// The pot on the ground, pot to pot, packed in: its ball must not go so cold.
    PackThePot,
    /// Fleece over the crown.
    CoverTheCrown,
}

/// A way in for the night.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carry {
    /// The place, as a rank.
    pub to: usize,
    /// Chance of passing the line that decides there.
    pub chance: Share,
    /// Whether one person should lift it; none where the weight is not known or the equation does not hold.
    pub lift: Option<Lifting>,
    /// True where it may stay only for the night: awake in the dark, or asleep in the warm.
    pub only_tonight: bool,
    /// False where it is only less cold there: it is covered there too.
    pub is_spared: bool,
    /// Turn in the order of carrying, from 1.
    pub turn: usize,
}

/// A tree's night.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Told {
    /// Where it stands.
    pub judged: Judged,
    /// What to do.
    pub verdict: Verdict,
    /// Where it is carried, where it is.
    pub carry: Option<Carry>,
}

/// Judges every tree's night and shares out the room; spaces come in walking order, trees with the rank of the place they stand in.
///
/// The room goes where most is kept that would be lost: by worth, by how surely and how far a line is passed, and by what goes with the
/// part, roots before leaves before flowers ([`Judged::at_stake`]). A hardy tree at rest is never sent to a heated room.
pub fn share_out(trees: &[(TreeNight, usize)], spaces: &[Space<'_>]) -> Vec<Told> {
    let mut told: Vec<Told> = trees
        .iter()
        .map(|(tree, place)| {
            let judged = judge(tree, spaces[*place].night);
            let verdict = if judged.wants_watch(tree.worth) { Verdict::Watch } else { Verdict::Stay };
            Told { judged, verdict, carry: None }
        })
        .collect();
    let endangered: Vec<usize> =
        (0..trees.len()).filter(|&rank| told[rank].judged.is_endangered(trees[rank].0.worth)).collect();
    let ways: Vec<Vec<Option<(f64, Carry)>>> = endangered
        .iter()
        .map(|&rank| {
            let (tree, from) = &trees[rank];
            let way = Way { tree, from: *from, here: &told[rank].judged };
            (0..spaces.len()).map(|to| way.to(to, spaces)).collect()
        })
        .collect();
    let gains: Vec<Vec<Option<f64>>> =
        ways.iter().map(|row| row.iter().map(|way| way.map(|(gain, _)| gain)).collect()).collect();
    let free: Vec<usize> =
        spaces.iter().map(|space| space.free.unwrap_or(trees.len()).min(trees.len())).collect();
    for ((&rank, to), ways) in endangered.iter().zip(give_room(&gains, &free)).zip(&ways) {
        let carry = to.and_then(|to| ways[to]).map(|(_, carry)| carry);
        told[rank].carry = carry;
        told[rank].verdict = match carry {
            Some(_) => Verdict::Move,
            None => Verdict::Protect(protection(&trees[rank].0, &told[rank].judged)),
        };
    }
    give_turns(trees, &mut told);
    told
}

/// How a tree without a place is protected where it stands.
fn protection(tree: &TreeNight, judged: &Judged) -> Protection {
    let warmest = judged
        .threats()
        .filter(|it| it.is_worth_carrying(tree.worth))
        .map(|it| it.limit.line.value.0)
        .fold(f64::NEG_INFINITY, f64::max);
    if warmest > COOL {
        return Protection::HeatedRoom;
    }
    if warmest > 0.0 {
        return Protection::FrostFreeRoom;
    }
    let crown = judged.above.iter().chain(&judged.flowers).any(|it| it.is_worth_carrying(tree.worth));
    match (judged.roots.is_worth_carrying(tree.worth), crown) {
        (true, true) => Protection::PotAndCrown,
        (true, false) => Protection::PackThePot,
        _ => Protection::CoverTheCrown,
    }
}

/// Warmest line that an unheated room above freezing keeps, °C; our estimate.
const COOL: f64 = 3.0;

/// Places along the round that standing wrongly for one night counts as.
pub const WRONG: f64 = 4.0;

/// What each place further along the round takes from what is kept, in the units of [`Judged::at_stake`].
const STEP: f64 = 0.02;

/// What each degree of a line says where all else is equal: the tenderer first.
const TENDERER: f64 = 0.001;

/// A place that spares a tree is worth this more than one that does not.
const SPARES: f64 = 0.25;

/// What a heated room counts for a hardy tree in leaf, as a part of what it keeps: any cooler place that spares it comes first.
const IN_THE_WARM: f64 = 0.5;

/// A place that does not spare a tree must take away this part of what is at stake.
const WORTH_THE_WAY: f64 = 0.5;

/// Air that no unheated room has in a frost, °C; our estimate.
const HEATED: f64 = 13.0;

/// How far a place is from another: places further along the round, spaces being given in walking order.
fn along(from: usize, to: usize) -> f64 {
    from.abs_diff(to) as f64
}

/// Whether a place is a heated room: a sill in a lived-in room, or one as warm.
///
/// ```
/// use measure::{quantity::Celsius, shelter::Shelter};
/// use season::tonight::share_out::is_heated;
///
/// assert!(is_heated(Shelter::WarmSill, Celsius(9.0)) && is_heated(Shelter::CoolSill, Celsius(16.0)));
/// assert!(!is_heated(Shelter::CoolSill, Celsius(10.0)) && !is_heated(Shelter::OpenBench, Celsius(20.0)));
/// ```
pub fn is_heated(shelter: Shelter, mean: Celsius) -> bool {
    shelter == Shelter::WarmSill || (shelter == Shelter::CoolSill && mean.0 >= HEATED)
}

/// A tree that looks for a place.
struct Way<'a> {
    tree: &'a TreeNight,
    from: usize,
    here: &'a Judged,
}

impl Way<'_> {
    /// What a place keeps of the tree, and the carry there; none where it does not serve.
    fn to(&self, rank: usize, spaces: &[Space<'_>]) -> Option<(f64, Carry)> {
        let (tree, space) = (self.tree, &spaces[rank]);
        if rank == self.from || (tree.is_resting() && is_heated(space.shelter, space.night.mean())) {
            return None;
        }
        let there = judge(tree, space.night);
        let is_spared = there.is_spared(tree.worth);
        let (stake, left) = (self.here.at_stake(tree.worth), there.at_stake(tree.worth));
        let lift = tree.load.carry(space.shelter).ok().flatten();
        let carry = Carry {
            to: rank,
            chance: there.chance(),
            lift,
            only_tonight: is_wrong(tree, space.shelter),
            is_spared,
            turn: 0,
        };
        let is_worth_it = if is_spared { left < stake } else { left <= stake * WORTH_THE_WAY };
        let effort = lift.map_or(1.0, |lift| lift.index.unwrap_or(3.0));
        let way = along(self.from, rank) + effort + if carry.only_tonight { WRONG } else { 0.0 };
        let spares = if is_spared { SPARES } else { 0.0 };
        let tenderer = TENDERER * self.here.deciding().limit.line.value.0;
        let is_warm = is_hardy(tree.facts.taxon) && is_heated(space.shelter, space.night.mean());
        let kept = (stake - left) * if is_warm { IN_THE_WARM } else { 1.0 };
        let gain = kept * (1.0 + spares) + tenderer - STEP * way;
        is_worth_it.then_some((gain.max(TENDERER), carry))
    }
}

/// Awake in the dark, or a tree at rest in the warm.
fn is_wrong(tree: &TreeNight, shelter: Shelter) -> bool {
    let taxon = tree.facts.taxon;
    let is_awake = !taxon.kind.rests() || tree.facts.stage.is_some_and(|stage| stage >= Stage::Full);
    match shelter {
        Shelter::ColdRoom => is_awake,
        Shelter::WarmSill => taxon.kind.rests(),
        _ => false,
    }
}

/// From this chance on a tree is among the first carried.
const LIKELY: f64 = 0.5;

/// The order of carrying: those likely to pass a line first; among them small pots first, for they freeze first and go quickly; pots for two
/// together at the end, so that a helper comes once. An unknown weight counts as middling.
fn give_turns(trees: &[(TreeNight, usize)], told: &mut [Told]) {
    let key = |rank: usize, carry: &Carry| {
        let weight = trees[rank].0.load.weight.map_or(5.0, |weight| weight.value.0);
        let for_two = carry.lift.is_some_and(|lift| lift.wants_help());
        (told[rank].judged.chance().0 < LIKELY, for_two, weight)
    };
    let mut movers: Vec<(usize, (bool, bool, f64))> =
        (0..told.len()).filter_map(|rank| Some((rank, key(rank, told[rank].carry.as_ref()?)))).collect();
    movers.sort_by(|(a, x), (b, y)| (x.0, x.1).cmp(&(y.0, y.1)).then(x.2.total_cmp(&y.2)).then(a.cmp(b)));
    for (turn, (rank, _)) in movers.into_iter().enumerate() {
        if let Some(carry) = &mut told[rank].carry {
            carry.turn = turn + 1;
        }
    }
}
