//! Cutting a plant: shoots kept short, lines shortened, limbs taken off, nodes thinned.

use super::{
    flux::NONE,
    plan::{Act, Order, Plan, When},
    plant::Plant,
};

/// What cutting leaves to be known: which nodes stand behind a cut, and whether anything was cut.
#[derive(Clone, Debug, Default)]
pub(super) struct Knife {
    dead: Vec<bool>,
    /// Nodes down from a cut; 0 where none is near.
    pub(super) behind: Vec<u8>,
    pub(super) cut: bool,
    /// A limb or a line was cut, not shoots alone.
    pub(super) hard: bool,
    place: Vec<u32>,
    node: Vec<u32>,
    sides: Vec<(u32, u32)>,
}

/// Nodes behind a cut that answer it.
const ANSWERS: u8 = 8;

impl Knife {
    /// Cuts what the plan says for this moment of a year. Calls that are made once are made in year 0.
    pub(super) fn follow(&mut self, plant: &mut Plant, plan: &Plan, when: When) {
        self.dead.clear();
        self.dead.resize(plant.len(), false);
        self.behind.clear();
        self.behind.resize(plant.len(), 0);
        (self.cut, self.hard) = (false, false);
        for order in plan.orders.iter().filter(|order| order.when == when) {
            self.one(plant, order);
        }
        if self.cut {
            self.take_away(plant);
        }
    }

    fn one(&mut self, plant: &mut Plant, order: &Order) {
        let once = plant.year == 0;
        match order.act {
            Act::Run => {}
            Act::KeepShort { nodes } => self.keep_short(plant, order, nodes.max(1)),
            Act::Shorten { keep } if once => self.shorten(plant, order.limb, keep.clamp(0.0, 1.0)),
            Act::Remove if once => {
                let first = (1..plant.len()).find(|&at| plant.axis[at] == order.limb);
                if let Some(first) = first {
                    self.kill(first);
                    self.hard = true;
                    let bearer = plant.bearer[first] as usize;
                    self.mark_behind(plant, bearer);
                }
            }
            Act::Thin { shoots } => self.thin(plant, order.limb, shoots),
            Act::Shorten { .. } | Act::Remove => {}
        }
    }

    fn kill(&mut self, at: usize) {
        self.dead[at] = true;
        self.cut = true;
    }

    /// Cuts a line just above a node: what follows falls, what leaves the node to the side stays.
    fn cut_above(&mut self, plant: &mut Plant, at: usize) {
        if let Some(next) =
            (at + 1..plant.len()).find(|&next| plant.bearer[next] == at as u32 && plant.follows[next])
        {
            self.kill(next);
            self.end_at(plant, at);
        }
    }

    fn end_at(&mut self, plant: &mut Plant, at: usize) {
        plant.followed[at] = false;
        plant.apex[at] = false;
        plant.heir[at] = true;
        self.mark_behind(plant, at);
    }

    fn mark_behind(&mut self, plant: &Plant, from: usize) {
        let (mut at, mut node) = (from, 1);
        while node <= ANSWERS {
            let here = &mut self.behind[at];
            *here = if *here == 0 { node } else { (*here).min(node) };
            if !plant.follows[at] || plant.bearer[at] == NONE {
                break;
            }
            (at, node) = (plant.bearer[at] as usize, node + 1);
        }
    }

    /// Cuts the shoots of the last flush in summer, those of last year at rest.
    fn keep_short(&mut self, plant: &mut Plant, order: &Order, nodes: u32) {
        let summer = order.when == When::Summer;
        let year = if summer { plant.year } else { plant.year - 1 };
        // What answers in summer is cut to its first node.
        let nodes = if summer && plant.now > 0 { 1 } else { nodes };
        self.node.clear();
        self.node.resize(plant.len(), 0);
        for at in 1..plant.len() {
            let past = plant.born[at] != year || (summer && plant.flush[at] != plant.now);
            if plant.limb[at] != order.limb || past {
                continue;
            }
            let bearer = plant.bearer[at] as usize;
            let same = plant.born[bearer] == year && plant.flush[bearer] == plant.flush[at];
            let goes_on = plant.follows[at] && same;
            self.node[at] = if goes_on { self.node[bearer] + 1 } else { 1 };
            if goes_on && self.node[at] == nodes + 1 && !self.dead[at] {
                self.kill(at);
                self.end_at(plant, bearer);
            }
        }
    }

    fn shorten(&mut self, plant: &mut Plant, limb: u32, keep: f64) {
        let line = |at: &usize| plant.axis[*at] == limb;
        let whole: f64 = (0..plant.len()).filter(line).map(|at| plant.length[at]).sum();
        let mut along = 0.0;
        let mut last = None;
        for at in (0..plant.len()).filter(line) {
            along += plant.length[at];
            last = last.or_else(|| (along >= keep * whole).then_some(at));
        }
        if let Some(at) = last {
            self.cut_above(plant, at);
            self.hard = true;
        }
    }

    /// Leaves the thickest shoots at each node.
    fn thin(&mut self, plant: &Plant, limb: u32, shoots: u32) {
        let mut sides = std::mem::take(&mut self.sides);
        sides.clear();
        let leaves = |&at: &usize| plant.limb[at] == limb && plant.axis[at] != limb && !plant.follows[at];
        sides.extend((1..plant.len()).filter(leaves).map(|at| (plant.bearer[at], at as u32)));
        let thick = |at: u32| plant.thick[at as usize];
        sides.sort_by(|one, other| one.0.cmp(&other.0).then(thick(other.1).total_cmp(&thick(one.1))));
        let (mut node, mut left) = (NONE, 0);
        for &(bearer, at) in &sides {
            left = if bearer == node { left + 1 } else { 1 };
            node = bearer;
            if left > shoots {
                self.kill(at as usize);
            }
        }
        self.sides = sides;
    }

    /// Takes the dead away with all that they bear.
    fn take_away(&mut self, plant: &mut Plant) {
        let count = plant.len();
        self.place.clear();
        self.place.resize(count, NONE);
        let mut kept = 0;
        for at in 0..count {
            let bearer = plant.bearer[at];
            if self.dead[at] || (bearer != NONE && self.dead[bearer as usize]) {
                self.dead[at] = true;
                continue;
            }
            self.place[at] = kept as u32;
            plant.bearer[kept] = if bearer == NONE { NONE } else { self.place[bearer as usize] };
            plant.follows[kept] = plant.follows[at];
            plant.axis[kept] = plant.axis[at];
            plant.limb[kept] = plant.limb[at];
            plant.born[kept] = plant.born[at];
            plant.flush[kept] = plant.flush[at];
            plant.length[kept] = plant.length[at];
            plant.thick[kept] = plant.thick[at];
            plant.end[kept] = plant.end[at];
            plant.way[kept] = plant.way[at];
            plant.roll[kept] = plant.roll[at];
            plant.apex[kept] = plant.apex[at];
            plant.heir[kept] = plant.heir[at];
            plant.buds[kept] = plant.buds[at];
            plant.followed[kept] = plant.followed[at];
            self.behind[kept] = self.behind[at];
            kept += 1;
        }
        plant.truncate(kept);
        self.behind.truncate(kept);
    }
}

impl Plant {
    fn truncate(&mut self, count: usize) {
        self.bearer.truncate(count);
        self.follows.truncate(count);
        self.axis.truncate(count);
        self.limb.truncate(count);
        self.born.truncate(count);
        self.flush.truncate(count);
        self.length.truncate(count);
        self.thick.truncate(count);
        self.end.truncate(count);
        self.way.truncate(count);
        self.roll.truncate(count);
        self.apex.truncate(count);
        self.heir.truncate(count);
        self.buds.truncate(count);
        self.followed.truncate(count);
    }
}
