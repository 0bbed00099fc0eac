//! One season of a plant: cuts at rest, the spring flush, wood, cuts in summer, what answers them, and the rest of the wood.

use std::f64::consts::PI;

use super::{
    dice::Dice,
    flux::{Flow, NONE, Rows, Sharing},
    habit::{ALONG_SHOOT, Habit},
    knife::Knife,
    plan::{Plan, When},
    plant::Plant,
    shadow::{Cells, USUAL},
    sprout::{From, side_way, sprout},
};
use crate::thickness::{WOOD_PER_LEAF, per_leaf};

/// Vigour carried over by the roots past a cut at rest, and past a cut in summer.
const CARRIED: [f64; 2] = [0.7, 0.3];

/// Chance that a bud of old wood wakes by itself, and behind a hard cut.
const OLD_BUDS: [f64; 2] = [0.05, 0.3];

/// How much wood of the season is laid by the cut in summer, seven to eight weeks after bud break: `counted(0.3, 0.4)` over
/// `counted(1, 0.4)`.
const BY_SUMMER: f64 = 0.206;

/// What each later flush has of the strength of the one before.
const LATER: f64 = 0.5;

/// A bud at the end of a shoot is stronger by this share for each node that the shoot made, up to so many.
const RUNS_ON: f64 = 0.25;
const LONGEST: u8 = 12;

/// Leaves grow with their internode, up to so many times those of the shortest.
const LARGEST: f64 = 4.0;

/// Buds of this year's nodes that come through their first winter.
const FIRST_WINTER: f64 = 0.9;

/// Side buds on flat branches are stronger above and weaker below by this share.
const UPPER_SIDE: f64 = 0.3;

/// Grows plants of one habit, year by year; keeps its working space between seasons.
#[derive(Clone, Debug)]
pub struct Grower {
    habit: Habit,
    vigour: f64,
    wood: f64,
    dice: Dice,
    flow: Flow,
    cells: Cells,
    knife: Knife,
    main_bud: Vec<f64>,
    side_buds: Vec<f64>,
    light: Vec<f64>,
    /// Side buds that break, and the node's place down its shoot.
    breaking: Vec<u8>,
    down: Vec<u8>,
    /// Nodes of its shoot up to each metamer.
    run: Vec<u8>,
    feed: Vec<f64>,
    path: Vec<f64>,
}

/// A flush: its part of the year's strength, what the roots carry over past a cut, and whether it comes in summer.
#[derive(Clone, Copy)]
struct Flush {
    part: f64,
    carried: f64,
    summer: bool,
}

impl Grower {
    /// A grower with a habit, the vigour of the tree, and a seed.
    pub fn new(habit: Habit, vigour: f64, seed: u64) -> Grower {
        let dice = Dice::new(seed);
        Grower {
            habit,
            vigour: vigour.clamp(0.2, 5.0),
            wood: vigour.clamp(0.2, 5.0),
            dice,
            flow: Flow::default(),
            cells: Cells::default(),
            knife: Knife::default(),
            main_bud: Vec::new(),
            side_buds: Vec::new(),
            light: Vec::new(),
            breaking: Vec::new(),
            down: Vec::new(),
            run: Vec::new(),
            feed: Vec::new(),
            path: Vec::new(),
        }
    }

    /// The same grower with so many times the usual wood from a leaf; without it, as many as its vigour.
    pub fn with_wood(self, wood: f64) -> Grower {
        Grower { wood: wood.clamp(0.02, 50.0), ..self }
    }

    /// Readies a plant of the start: buds of old wood die as their years would have it.
    pub fn settle(&mut self, plant: &mut Plant) {
        plant.settle(&self.habit, &mut self.dice);
    }

    /// Light gathered by the plant at its last flush.
    pub fn light(&self) -> f64 {
        if self.flow.main.is_empty() { 0.0 } else { self.flow.light(0) }
    }

    /// Lets a plant grow for a season.
    pub fn season(&mut self, plant: &mut Plant, plan: &Plan) {
        if plant.is_empty() {
            return;
        }
        plant.now = 0;
        let before = self.cut(plant, plan, When::Dormant);
        self.flush(plant, Flush { part: 1.0, carried: CARRIED[0], summer: false }, before);
        self.lay_wood(plant, BY_SUMMER);
        self.summer(plant, plan);
        self.lay_wood(plant, 1.0 - BY_SUMMER);
        for at in 0..plant.len() {
            let lives = if plant.born[at] == plant.year { FIRST_WINTER } else { self.habit.survives };
            plant.buds[at] = self.dice.of(plant.buds[at], lives);
        }
        plant.year += 1;
    }

    /// Cuts every flush as the plan says; then what was cut answers and what runs goes on, for as many flushes as the kind has.
    fn summer(&mut self, plant: &mut Plant, plan: &Plan) {
        let mut part = LATER;
        for next in 1..=self.habit.flushes {
            if next == self.habit.flushes {
                self.knife.follow(plant, plan, When::Summer);
                break;
            }
            let before = self.cut(plant, plan, When::Summer);
            plant.now = next as u8;
            self.flush(plant, Flush { part, carried: CARRIED[1], summer: true }, before);
            part *= LATER;
        }
    }

    /// Cuts what the plan says for this moment; tells the light gathered before, where something was cut.
    fn cut(&mut self, plant: &mut Plant, plan: &Plan, when: When) -> Option<f64> {
        let asked = plan.orders.iter().any(|order| order.when == when);
        let before = if asked { self.gather(plant, when == When::Summer) } else { 0.0 };
        self.knife.follow(plant, plan, when);
        self.knife.cut.then_some(before)
    }

    /// The light that all buds of the plant gather as it stands.
    fn gather(&mut self, plant: &Plant, summer: bool) -> f64 {
        self.knife.behind.clear();
        self.knife.behind.resize(plant.len(), 0);
        (self.knife.cut, self.knife.hard) = (false, false);
        self.shine(plant);
        self.count_buds(plant, summer);
        self.share(plant, 1.0, 0.0, None);
        self.flow.light(0)
    }

    fn flush(&mut self, plant: &mut Plant, flush: Flush, before: Option<f64>) {
        self.shine(plant);
        self.count_buds(plant, flush.summer);
        let reserve = if before.is_some() { flush.carried } else { 0.0 };
        self.share(plant, flush.part, reserve, before);
        self.sprout_all(plant);
    }

    /// Light at the end of every metamer, shaded by what carries leaf: this year's wood and last year's.
    fn shine(&mut self, plant: &Plant) {
        let cell = self.habit.running.0;
        let at = |place: &[f64; 3]| place.map(|part| (part / cell).floor() as i32);
        let (mut low, mut high) = ([i32::MAX; 3], [i32::MIN; 3]);
        for place in plant.end.iter().map(at) {
            (0..3).for_each(|k| (low[k], high[k]) = (low[k].min(place[k]), high[k].max(place[k])));
        }
        self.cells.clear(low, high, &USUAL);
        let leafy = |at: usize| plant.year - plant.born[at] <= 1;
        let weight = |at: usize| (plant.length[at] / cell).min(1.0);
        for (metamer, place) in plant.end.iter().enumerate().filter(|(metamer, _)| leafy(*metamer)) {
            self.cells.put(at(place), weight(metamer));
        }
        self.cells.throw_all(&USUAL);
        self.light.clear();
        for (metamer, place) in plant.end.iter().enumerate() {
            let own = if leafy(metamer) { weight(metamer) } else { 0.0 };
            self.light.push(self.cells.light(at(place), own, &USUAL));
        }
    }

    /// Which buds break, and what light each place has. In summer those behind a cut, and the tips that run this year.
    fn count_buds(&mut self, plant: &Plant, summer: bool) {
        let count = plant.len();
        self.main_bud.clear();
        self.main_bud.resize(count, 0.0);
        self.side_buds.clear();
        self.side_buds.resize(count, 0.0);
        self.breaking.clear();
        self.breaking.resize(count, 0);
        self.down.clear();
        self.down.resize(count, 0);
        let Habit { breaking, acrotony, .. } = self.habit;
        self.run.clear();
        for at in 0..count {
            let bearer = plant.bearer[at];
            let on = bearer != NONE && plant.follows[at] && plant.born[bearer as usize] == plant.born[at];
            self.run.push(if on { self.run[bearer as usize].saturating_add(1) } else { 1 });
        }
        for at in (0..count).rev() {
            if plant.follows[at] {
                let bearer = plant.bearer[at] as usize;
                if plant.born[bearer] == plant.born[at] {
                    self.down[bearer] = self.down[at].saturating_add(1);
                }
            }
            let age = plant.year - plant.born[at];
            if plant.apex[at] && !plant.followed[at] && !(summer && age > 0) {
                self.main_bud[at] =
                    self.light[at] * (1.0 + RUNS_ON * f64::from(self.run[at].min(LONGEST) - 1));
            }
            let (chance, weight) = match (self.knife.behind[at], age) {
                (0, ..=0) => continue,
                (0, _) if summer => continue,
                (0, 1) => (1.0, acrotony.powi(i32::from(self.down[at]) + 1)),
                // Buds on old wood that still live: few wake by themselves.
                (0, _) => (OLD_BUDS[usize::from(self.knife.hard)], 0.5),
                // Old wood holds fewer living buds, but those that live break alike.
                (node, _) => (breaking.at(u32::from(node)), breaking.falls.powi(i32::from(node) - 1)),
            };
            let breaks = self.dice.of(plant.buds[at], chance);
            self.breaking[at] = breaks;
            if breaks == 0 {
                continue;
            }
            let one = self.light[at] * weight * self.upper(plant, at);
            let heir = plant.heir[at] && !plant.followed[at];
            if heir {
                self.main_bud[at] = one;
            }
            self.side_buds[at] = f64::from(breaks - u8::from(heir)) * one;
        }
    }

    /// How much stronger a bud is for standing on the upper side of a flat branch.
    fn upper(&self, plant: &Plant, at: usize) -> f64 {
        if plant.way[at][2].abs() > std::f64::consts::FRAC_1_SQRT_2 {
            return 1.0;
        }
        1.0 + UPPER_SIDE * side_way(plant.way[at], plant.roll[at], PI / 2.0)[2]
    }

    fn share(&mut self, plant: &Plant, part: f64, reserve: f64, before: Option<f64>) {
        let rows = Rows {
            bearer: &plant.bearer,
            follows: &plant.follows,
            main_bud: &self.main_bud,
            side_buds: &self.side_buds,
        };
        let strength = self.habit.strength * self.vigour.sqrt() * part;
        self.flow.run(rows, Sharing { apical: self.habit.apical, strength, reserve, before });
    }

    fn sprout_all(&mut self, plant: &mut Plant) {
        let count = plant.len();
        plant.reserve(count);
        for at in 0..count {
            let cell = plant.end[at].map(|part| (part / self.habit.running.0).floor() as i32);
            let heir = plant.heir[at] && !plant.followed[at] && self.breaking[at] > 0;
            let apex = plant.apex[at] && !plant.followed[at];
            let sides = self.breaking[at] - u8::from(heir);
            if !heir && !apex && sides == 0 {
                continue;
            }
            let bright = self.cells.brighter(cell);
            let from = From { at, vigour: self.flow.to_main[at], follows: true, side: heir, bud: 0, bright };
            if (heir || apex) && self.main_bud[at] > 0.0 && sprout(plant, &self.habit, &mut self.dice, from) {
                plant.apex[at] = false;
                plant.heir[at] = false;
                plant.buds[at] -= u8::from(heir);
            }
            if sides > 0 && self.flow.side[at] > 0.0 {
                let one = self.flow.to_side[at] * self.side_buds[at] / self.flow.side[at] / f64::from(sides);
                for bud in 0..u32::from(sides) {
                    let bud = bud + u32::from(heir);
                    let from = From { vigour: one, follows: false, side: true, bud, ..from };
                    if sprout(plant, &self.habit, &mut self.dice, from) {
                        plant.buds[at] -= 1;
                    }
                }
            }
        }
    }

    /// Lays part of a season's wood on everything that carries this year's leaves; new shoots are as thick as their leaves need.
    fn lay_wood(&mut self, plant: &mut Plant, part: f64) {
        let count = plant.len();
        self.path.clear();
        for at in 0..count {
            let below = if plant.bearer[at] == NONE { 0.0 } else { self.path[plant.bearer[at] as usize] };
            self.path.push(below + plant.length[at] / 1000.0);
        }
        let (leaf, eps) = (self.habit.leaf.0, WOOD_PER_LEAF.value.middle);
        let short = ALONG_SHOOT.value[0] * self.habit.running.0;
        // Leaf above each piece, m² over its way; then leaf of this year's shoot alone, cm².
        self.feed.clear();
        self.feed.resize(count, 0.0);
        self.main_bud.clear();
        self.main_bud.resize(count, 0.0);
        for at in (0..count).rev() {
            if plant.born[at] == plant.year {
                let runs = (plant.length[at] / short).clamp(1.0, LARGEST);
                let leaves = leaf * runs * f64::from(self.habit.breaking.buds);
                self.feed[at] += leaves / 1e4 / self.path[at];
                self.main_bud[at] += leaves;
            }
            let bearer = plant.bearer[at];
            if bearer != NONE {
                self.feed[bearer as usize] += self.feed[at];
                if plant.born[bearer as usize] == plant.year {
                    self.main_bud[bearer as usize] += self.main_bud[at];
                }
            }
        }
        for at in 0..count {
            if plant.born[at] == plant.year {
                let needs = (4.0 / PI * per_leaf().value.middle * self.main_bud[at]).sqrt();
                plant.thick[at] = plant.thick[at].max(needs);
            } else {
                let ring = eps * self.wood * part * self.feed[at];
                plant.thick[at] = (plant.thick[at].powi(2) + 4.0 * ring / PI).sqrt();
            }
        }
    }
}
