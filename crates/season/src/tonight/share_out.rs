//! Who moves tonight and where to: the greatest loss first, each to the place with room that spares it and is nearest along the round;
//! then the order of carrying.

use measure::{quantity::Share, shelter::Shelter, stage::Stage};

use super::{
    carry::Lifting,
    judge::{Judged, TreeNight, judge, worth_carrying},
    place::PlaceNight,
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
    /// No place with room spares it: cover it on the ground.
    Cover,
}

/// A way in for the night.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carry {
    /// The place, as a rank.
    pub to: usize,
    /// Chance of harm there.
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

/// The chance of harm that a new place may leave, as a part of what carrying is worth.
const SPARED: f64 = 0.5;

/// Tells every tree's night and shares out the room; spaces come in walking order, trees with the rank of the place they stand in.
pub fn share_out(trees: &[(TreeNight, usize)], spaces: &[Space<'_>]) -> Vec<Told> {
    let mut told: Vec<Told> = trees
        .iter()
        .map(|(tree, place)| {
            let judged = judge(tree, spaces[*place].night);
            let verdict = if judged.wants_watch(tree.worth) { Verdict::Watch } else { Verdict::Stay };
            Told { judged, verdict, carry: None }
        })
        .collect();
    let mut free: Vec<Option<usize>> = spaces.iter().map(|space| space.free).collect();
    let loss = |rank: usize| told[rank].judged.chance.0 * trees[rank].0.worth.loss_over_cost();
    let mut endangered: Vec<usize> =
        (0..trees.len()).filter(|&rank| told[rank].judged.is_endangered(trees[rank].0.worth)).collect();
    endangered.sort_by(|&a, &b| loss(b).total_cmp(&loss(a)).then(a.cmp(&b)));
    // First all that some place spares; then the rest, each to where it is least cold.
    for spared in [true, false] {
        for &rank in &endangered {
            if told[rank].carry.is_none() {
                let (tree, from) = &trees[rank];
                let way = Way { tree, from: *from, chance: told[rank].judged.chance, spared };
                let carry = way.nearest(spaces, &free);
                if let Some(carry) = carry {
                    free[carry.to] = free[carry.to].map(|room| room - 1);
                }
                told[rank].verdict = if carry.is_some() { Verdict::Move } else { Verdict::Cover };
                told[rank].carry = carry;
            }
        }
    }
    give_turns(trees, &mut told);
    told
}

/// Places along the round that standing wrongly for one night counts as.
pub const WRONG: f64 = 4.0;

/// How far a place is from another: places further along the round, spaces being given in walking order.
fn along(from: usize, to: usize) -> f64 {
    from.abs_diff(to) as f64
}

/// A place must be this much less cold than where the tree stands to be worth the way though it does not spare it, K.
const LESS_COLD: f64 = 1.0;

/// A tree that looks for a place.
struct Way<'a> {
    tree: &'a TreeNight,
    from: usize,
    chance: Share,
    spared: bool,
}

impl Way<'_> {
    /// The nearest place with room that spares the tree; or the least cold that does not.
    fn nearest(&self, spaces: &[Space<'_>], free: &[Option<usize>]) -> Option<Carry> {
        let has_room = |&rank: &usize| rank != self.from && free[rank].is_none_or(|room| room > 0);
        let ways = (0..spaces.len()).filter(has_room).filter_map(|rank| self.to(rank, spaces));
        ways.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, carry)| carry)
    }

    /// How far a place is, and the carry there; none where it does not serve.
    fn to(&self, rank: usize, spaces: &[Space<'_>]) -> Option<(f64, Carry)> {
        let (tree, space) = (self.tree, &spaces[rank]);
        let most = (worth_carrying(tree.worth).0 * SPARED).min(self.chance.0 * SPARED);
        let lift = tree.load.carry(space.shelter).ok().flatten();
        let carry = Carry {
            to: rank,
            chance: judge(tree, space.night).chance,
            lift,
            only_tonight: is_wrong(tree, space.shelter),
            is_spared: self.spared,
            turn: 0,
        };
        if !self.spared {
            let less_cold = space.night.low.0 >= spaces[self.from].night.low.0 + LESS_COLD;
            return less_cold.then_some((-space.night.low.0, carry));
        }
        let effort = lift.map_or(1.0, |lift| lift.index.unwrap_or(3.0));
        let way = along(self.from, rank) + effort + if carry.only_tonight { WRONG } else { 0.0 };
        (carry.chance.0 <= most).then_some((way, carry))
    }
}

/// Awake in the dark, or a tree at rest in the warm.
fn is_wrong(tree: &TreeNight, shelter: Shelter) -> bool {
    let taxon = tree.facts.taxon;
    let is_awake = !taxon.kind.rests() || tree.facts.stage.is_some_and(|stage| stage >= Stage::Full);
    match shelter {
        Shelter::ColdRoom => is_awake,
        Shelter::WarmSill => taxon.kind.rests() && !is_awake,
        _ => false,
    }
}

/// From this chance on a tree is among the first carried.
const LIKELY: f64 = 0.5;

/// The order of carrying: those likely harmed first; among them small pots first, for they freeze first and go quickly; pots for two
/// together at the end, so that a helper comes once. An unknown weight counts as middling.
fn give_turns(trees: &[(TreeNight, usize)], told: &mut [Told]) {
    let key = |rank: usize, carry: &Carry| {
        let weight = trees[rank].0.load.weight.map_or(5.0, |weight| weight.value.0);
        let for_two = carry.lift.is_some_and(|lift| lift.wants_help());
        (told[rank].judged.chance.0 < LIKELY, for_two, weight)
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
