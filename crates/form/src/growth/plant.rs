//! A growing plant as rows of metamers, bearers before what they bear.

use measure::quantity::{Degrees, Millimetre};

use super::{dice::Dice, flux::NONE, habit::Habit};
use crate::{
    error::Error,
    order::shreve,
    skeleton::{Edge, Segment, Skeleton, bearing, direction},
};

/// A growing plant: for every metamer, an internode with the node at its end, one row.
#[derive(Clone, Debug, Default)]
pub struct Plant {
    pub(super) bearer: Vec<u32>,
    /// Whether it goes on in the line of its bearer.
    pub(super) follows: Vec<bool>,
    /// The number of its line.
    pub(super) axis: Vec<u32>,
    /// The limb of the start that it belongs to.
    pub(super) limb: Vec<u32>,
    /// The year it grew in; the start is year 0, so all wood of the start is below.
    pub(super) born: Vec<i32>,
    /// The flush of that year, 0 in spring.
    pub(super) flush: Vec<u8>,
    pub(super) length: Vec<f64>,
    pub(super) thick: Vec<f64>,
    pub(super) end: Vec<[f64; 3]>,
    pub(super) way: Vec<[f64; 3]>,
    /// How far round its line the bud stands, in radians.
    pub(super) roll: Vec<f64>,
    /// Whether a living bud stands at its end.
    pub(super) apex: Vec<bool>,
    /// Whether the line was cut here, so that a side bud takes it over.
    pub(super) heir: Vec<bool>,
    /// Living buds at its node.
    pub(super) buds: Vec<u8>,
    /// Whether something follows it.
    pub(super) followed: Vec<bool>,
    pub(super) next_axis: u32,
    pub(super) year: i32,
    /// The flush that is on.
    pub(super) now: u8,
}

/// A metamer to be added.
pub(super) struct Metamer {
    pub(super) bearer: u32,
    pub(super) follows: bool,
    pub(super) axis: u32,
    pub(super) limb: u32,
    pub(super) born: i32,
    pub(super) length: f64,
    pub(super) thick: f64,
    pub(super) way: [f64; 3],
    pub(super) roll: f64,
    pub(super) buds: u8,
}

/// Wood of the start is a year older every so many millimetres down its line: our estimate for a crown that is kept.
const YEAR: f64 = 30.0;

/// No bud of the start is taken to be older, years.
const OLDEST: i32 = 30;

impl Plant {
    /// A shoot of one metamer, upright.
    pub fn seedling(habit: &Habit) -> Plant {
        let mut plant = Plant { next_axis: 2, ..Plant::default() };
        plant.push(Metamer {
            bearer: NONE,
            follows: false,
            axis: 1,
            limb: 1,
            born: -1,
            length: habit.running.0,
            thick: 2.0,
            way: [0.0, 0.0, 1.0],
            roll: 0.0,
            buds: habit.breaking.buds as u8,
        });
        plant.apex[0] = true;
        plant
    }

    /// A plant from a skeleton: nodes every refined internode, buds at its tips and, fewer with age, along its wood. `tips` tells for
    /// an axis how many tips it carries itself where not all were drawn; the rest are added as twigs along its outer two thirds.
    pub fn from_skeleton(tree: &Skeleton, tips: &[(u32, u32)], habit: &Habit) -> Plant {
        let most = tree.segments().iter().map(|segment| segment.axis).max().unwrap_or(0);
        let mut plant = Plant { next_axis: most.saturating_add(1), ..Plant::default() };
        let mut last: Vec<u32> = Vec::with_capacity(tree.segments().len());
        for segment in tree.segments() {
            let count = (segment.length.0 / habit.refined.0).round().max(1.0) as u32;
            let way = direction(segment.azimuth, segment.inclination);
            let mut bearer = segment.bearer.map_or(NONE, |bearer| last[bearer]);
            for piece in 1..=count {
                let share = f64::from(piece) / f64::from(count);
                let first = piece == 1;
                let follows = !first || segment.edge == Edge::Follows;
                if first && segment.edge == Edge::Branches {
                    let buds = &mut plant.buds[bearer as usize];
                    *buds = buds.saturating_sub(1);
                }
                bearer = plant.push(Metamer {
                    bearer,
                    follows,
                    axis: segment.axis,
                    limb: segment.axis,
                    born: 0,
                    length: segment.length.0 / f64::from(count),
                    thick: segment.base.0 + share * (segment.tip.0 - segment.base.0),
                    way,
                    roll: if follows && bearer != NONE {
                        plant.roll[bearer as usize] + habit.turn.0.to_radians()
                    } else {
                        1.57
                    },
                    buds: habit.breaking.buds as u8,
                });
            }
            last.push(bearer);
        }
        let bears = plant.bears();
        for (apex, bears) in plant.apex.iter_mut().zip(bears) {
            *apex = !bears;
        }
        plant.age();
        let drawn = shreve(tree);
        for axis in tree.axes() {
            let Some((_, wanted)) = tips.iter().find(|(id, _)| *id == axis.id) else { continue };
            let twigs = wanted.saturating_sub(drawn[axis.segments[0]]);
            plant.add_twigs(axis.id, twigs.min(200), habit);
        }
        plant
    }

    /// How thick the first piece of a limb of the start is; none where it is gone.
    pub fn thickness(&self, limb: u32) -> Option<Millimetre> {
        let first = (0..self.len()).find(|&at| self.axis[at] == limb && self.limb[at] == limb)?;
        Some(Millimetre(self.thick[first]))
    }

    /// How many metamers it has.
    pub fn len(&self) -> usize {
        self.bearer.len()
    }

    /// Whether nothing is left of it.
    pub fn is_empty(&self) -> bool {
        self.bearer.is_empty()
    }

    /// How many tips it has.
    pub fn tips(&self) -> usize {
        self.bears().iter().filter(|bears| !**bears).count()
    }

    /// The skeleton of the plant: from one branching point to the next.
    ///
    /// # Errors
    ///
    /// [`Error::Empty`] when nothing is left.
    pub fn skeleton(&self) -> Result<Skeleton, Error> {
        let mut borne = vec![0_u32; self.len()];
        for &bearer in self.bearer.iter().filter(|&&bearer| bearer != NONE) {
            borne[bearer as usize] += 1;
        }
        let mut of = vec![0; self.len()];
        let mut pieces: Vec<(Option<usize>, usize, usize)> = Vec::new();
        for at in 0..self.len() {
            let bearer = self.bearer[at];
            of[at] = if bearer != NONE && self.follows[at] && borne[bearer as usize] == 1 {
                let piece = of[bearer as usize];
                pieces[piece].2 = at;
                piece
            } else {
                pieces.push(((bearer != NONE).then(|| of[bearer as usize]), at, at));
                pieces.len() - 1
            };
        }
        let segment = |&(bearer, first, last): &(Option<usize>, usize, usize)| {
            let foot = self.foot(first);
            let (azimuth, inclination) = bearing([0, 1, 2].map(|k| self.end[last][k] - foot[k]));
            let length = (0..3).map(|k| (self.end[last][k] - foot[k]).powi(2)).sum::<f64>().sqrt().max(1e-3);
            let edge = match (bearer, self.follows[first]) {
                (None, _) => Edge::Root,
                (_, true) => Edge::Follows,
                _ => Edge::Branches,
            };
            let axis = self.axis[first];
            let [length, base, tip] = [length, self.thick[first], self.thick[last]].map(Millimetre);
            Segment {
                bearer,
                edge,
                axis,
                length,
                base,
                tip,
                azimuth,
                inclination: Degrees(inclination.0.clamp(-90.0, 90.0)),
            }
        };
        Skeleton::new(pieces.iter().map(segment).collect())
    }

    pub(super) fn foot(&self, at: usize) -> [f64; 3] {
        if self.bearer[at] == NONE { [0.0; 3] } else { self.end[self.bearer[at] as usize] }
    }

    /// Whether each metamer bears another.
    fn bears(&self) -> Vec<bool> {
        let mut bears = vec![false; self.len()];
        for &bearer in self.bearer.iter().filter(|&&bearer| bearer != NONE) {
            bears[bearer as usize] = true;
        }
        bears
    }

    pub(super) fn push(&mut self, one: Metamer) -> u32 {
        let foot = if one.bearer == NONE { [0.0; 3] } else { self.end[one.bearer as usize] };
        if one.follows && one.bearer != NONE {
            self.followed[one.bearer as usize] = true;
        }
        self.bearer.push(one.bearer);
        self.follows.push(one.follows);
        self.axis.push(one.axis);
        self.limb.push(one.limb);
        self.born.push(one.born);
        self.flush.push(self.now);
        self.length.push(one.length);
        self.thick.push(one.thick);
        self.end.push([0, 1, 2].map(|k| foot[k] + one.length * one.way[k]));
        self.way.push(one.way);
        self.roll.push(one.roll);
        self.apex.push(false);
        self.heir.push(false);
        self.buds.push(one.buds);
        self.followed.push(false);
        (self.len() - 1) as u32
    }

    /// Makes room for so many metamers more.
    pub(super) fn reserve(&mut self, more: usize) {
        self.bearer.reserve(more);
        self.follows.reserve(more);
        self.axis.reserve(more);
        self.limb.reserve(more);
        self.born.reserve(more);
        self.flush.reserve(more);
        self.length.reserve(more);
        self.thick.reserve(more);
        self.end.reserve(more);
        self.way.reserve(more);
        self.roll.reserve(more);
        self.apex.reserve(more);
        self.heir.reserve(more);
        self.buds.reserve(more);
        self.followed.reserve(more);
    }

    /// Tells the wood of the start its age, by how far it lies below the tip of its line; bearers are never younger.
    fn age(&mut self) {
        let mut beyond = vec![0.0_f64; self.len()];
        for at in (0..self.len()).rev() {
            let age = 1 + (beyond[at] / YEAR) as i32;
            self.born[at] = self.born[at].min(-age.min(OLDEST));
            let bearer = self.bearer[at];
            if bearer != NONE {
                let bearer = bearer as usize;
                self.born[bearer] = self.born[bearer].min(self.born[at]);
                if self.follows[at] {
                    beyond[bearer] = beyond[at] + self.length[at];
                }
            }
        }
    }

    fn add_twigs(&mut self, limb: u32, twigs: u32, habit: &Habit) {
        let line: Vec<usize> = (0..self.len()).filter(|&at| self.axis[at] == limb).collect();
        for twig in 0..twigs {
            let share = 1.0 / 3.0 + 2.0 / 3.0 * (f64::from(twig) + 0.5) / f64::from(twigs);
            let at = line[((share * line.len() as f64) as usize).min(line.len() - 1)];
            let roll = self.roll[at] + f64::from(twig) * std::f64::consts::PI;
            let way = super::sprout::side_way(self.way[at], roll, 50_f64.to_radians());
            let mut bearer = at as u32;
            self.next_axis += 1;
            for piece in 0..3 {
                bearer = self.push(Metamer {
                    bearer,
                    follows: piece > 0,
                    axis: self.next_axis - 1,
                    limb,
                    born: -1,
                    length: habit.refined.0,
                    thick: self.thick[at].min(1.5),
                    way,
                    roll: roll + f64::from(piece) * habit.turn.0.to_radians(),
                    buds: habit.breaking.buds as u8,
                });
            }
            self.apex[bearer as usize] = true;
        }
    }

    /// Lets the buds of old wood die as their years would have it.
    pub(super) fn settle(&mut self, habit: &Habit, dice: &mut Dice) {
        for at in 0..self.len() {
            let years = (self.year - self.born[at] - 1).max(0);
            if years > 0 {
                self.buds[at] = dice.of(self.buds[at], habit.survives.powi(years));
            }
        }
    }
}
