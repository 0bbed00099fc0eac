//! New shoots: which way they leave, and how long their internodes are.

use super::{
    dice::Dice,
    direction::{Pull, normal, shoot_direction},
    flux::shoot,
    habit::{ALONG_SHOOT, BRANCH_ANGLE, Habit},
    plant::{Metamer, Plant},
};

/// How strongly shoots seek the bright side, and rise.
const PULL: Pull = Pull { free: 0.2, all: 0.12 };

/// How much a shoot strays at each node, radians.
const STRAYS: f64 = 0.08;

/// Where a shoot comes from.
#[derive(Clone, Copy, Debug)]
pub(super) struct From {
    pub(super) at: usize,
    pub(super) vigour: f64,
    /// In the line of its bearer.
    pub(super) follows: bool,
    /// Whether it comes from a bud on the side, even if it takes the line over.
    pub(super) side: bool,
    /// Which of the buds of the node.
    pub(super) bud: u32,
    /// Which way it gets lighter.
    pub(super) bright: [f64; 3],
}

/// Lets a bud grow; tells whether it did.
pub(super) fn sprout(plant: &mut Plant, habit: &Habit, dice: &mut Dice, from: From) -> bool {
    let (count, long) = shoot(from.vigour);
    if count == 0 {
        return false;
    }
    let at = from.at;
    let opposite = f64::from(from.bud) * std::f64::consts::PI;
    let mut roll = plant.roll[at] + opposite;
    let mut way = plant.way[at];
    if from.side {
        let [mean, spread] = BRANCH_ANGLE.value;
        let angle = (mean + spread * dice.normal()).clamp(20.0, 100.0);
        // A bud that takes the line over stands up more.
        let angle = if from.follows { 0.5 * angle } else { angle };
        way = side_way(way, roll, angle.to_radians());
        roll = std::f64::consts::FRAC_PI_2;
    }
    let bright = normal(from.bright).unwrap_or([0.0; 3]);
    let axis = if from.follows {
        plant.axis[at]
    } else {
        plant.next_axis += 1;
        plant.next_axis - 1
    };
    let (limb, born) = (plant.limb[at], plant.year);
    let mut bearer = at as u32;
    for node in 0..count {
        let own = [0, 1, 2].map(|k| way[k] + STRAYS * dice.normal());
        way = shoot_direction(normal(own).unwrap_or(way), bright, [0.0, 0.0, 1.0], PULL);
        way = normal(way).unwrap_or([0.0, 0.0, 1.0]);
        roll += habit.turn.0.to_radians();
        let later = ALONG_SHOOT.value[(node as usize / 5).min(2)];
        bearer = plant.push(Metamer {
            bearer,
            follows: from.follows || node > 0,
            axis,
            limb,
            born,
            length: habit.running.0 * long * later,
            thick: 0.5,
            way,
            roll,
            buds: habit.breaking.buds as u8,
        });
    }
    plant.apex[bearer as usize] = true;
    true
}

/// A way that leaves a line at an angle, on the side that `roll` tells; 0 is the upper side.
pub(super) fn side_way(line: [f64; 3], roll: f64, angle: f64) -> [f64; 3] {
    let up = [0, 1, 2].map(|k| f64::from(u8::from(k == 2)) - line[2] * line[k]);
    let upper = normal(up).filter(|_| line[2].abs() < 0.999).unwrap_or([1.0, 0.0, 0.0]);
    let across = [
        line[1] * upper[2] - line[2] * upper[1],
        line[2] * upper[0] - line[0] * upper[2],
        line[0] * upper[1] - line[1] * upper[0],
    ];
    let side = [0, 1, 2].map(|k| upper[k] * roll.cos() + across[k] * roll.sin());
    [0, 1, 2].map(|k| line[k] * angle.cos() + side[k] * angle.sin())
}
