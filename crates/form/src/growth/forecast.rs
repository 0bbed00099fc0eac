//! What comes of a plan: many plants grown from one start, limb by limb.

use measure::quantity::{Millimetre, Share};

use super::{dice::Dice, habit::Habit, plan::Plan, plant::Plant, season::Grower};
use crate::{
    skeleton::Skeleton,
    thickness::{Likely, Vigour},
};

/// What is asked.
#[derive(Clone, Copy, Debug)]
pub struct Question<'a> {
    /// The plant as it stands at rest.
    pub start: &'a Plant,
    /// What is done with it.
    pub plan: &'a Plan,
    /// How it grows.
    pub habit: Habit,
    /// What is known of the tree's vigour. Each plant draws one within its spread, the same under every plan.
    pub vigour: Vigour,
    /// Wood from a leaf against the usual in a middling season, where rings told more of it than the vigour does.
    pub wood: f64,
    /// Seasons ahead.
    pub seasons: u32,
    /// The first seed.
    pub seed: u64,
    /// How many plants are grown.
    pub plants: u32,
}

/// What comes of one limb. The spans hold eight plants in ten.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LimbForecast {
    /// The limb.
    pub limb: u32,
    /// Its thickness at its base; 0 where it is gone.
    pub thickness: Likely<Millimetre>,
    /// The length of its line.
    pub length: Likely<Millimetre>,
    /// The tips that it carries, with all that grew on it.
    pub tips: Likely<f64>,
    /// The shoots that grew on it and are still there.
    pub shoots: Likely<f64>,
    /// The share of plants on which it is gone or bears no shoot of the last year: it weakens.
    pub weakens: Share,
}

/// What comes of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Forecast {
    /// The limbs, in the order of their numbers.
    pub limbs: Vec<LimbForecast>,
    /// Plants to be drawn: the first three seeds.
    pub pictures: Vec<Skeleton>,
    /// Metamers grown in all, for the bench.
    pub metamers: u64,
}

#[derive(Clone, Copy, Default)]
struct Grown {
    thickness: f64,
    length: f64,
    tips: f64,
    shoots: f64,
    last: bool,
}

/// Keeps the throws for vigour apart from those of growing.
const OF_VIGOUR: u64 = 0x9e37_79b9_7f4a_7c15;

/// Grows many plants from one start under one plan. Ask it with one seed for two plans, and the same plants meet both.
pub fn forecast(question: &Question) -> Forecast {
    let mut limbs: Vec<u32> = question.start.limb.clone();
    limbs.sort_unstable();
    limbs.dedup();
    let mut grown: Vec<Vec<Grown>> = vec![Vec::with_capacity(question.plants as usize); limbs.len()];
    let (mut pictures, mut metamers) = (Vec::new(), 0);
    for number in 0..question.plants {
        let mut plant = question.start.clone();
        let seed = question.seed.wrapping_add(u64::from(number));
        let season = question.vigour.season(Dice::new(seed ^ OF_VIGOUR).normal());
        let mut grower = Grower::new(question.habit, question.vigour.value * season, seed)
            .with_wood(question.wood * season);
        grower.settle(&mut plant);
        for _ in 0..question.seasons {
            grower.season(&mut plant, question.plan);
            metamers += plant.len() as u64;
        }
        for (rows, one) in grown.iter_mut().zip(measure(&plant, &limbs)) {
            rows.push(one);
        }
        if pictures.len() < 3
            && let Ok(picture) = plant.skeleton()
        {
            pictures.push(picture);
        }
    }
    let limbs = limbs.into_iter().zip(&grown).map(|(limb, rows)| told(limb, rows)).collect();
    Forecast { limbs, pictures, metamers }
}

fn measure(plant: &Plant, limbs: &[u32]) -> Vec<Grown> {
    let mut told = vec![Grown::default(); limbs.len()];
    let mut bears = vec![false; plant.len()];
    for at in (0..plant.len()).rev() {
        let Ok(row) = limbs.binary_search(&plant.limb[at]) else { continue };
        let one = &mut told[row];
        if plant.axis[at] == plant.limb[at] {
            one.length += plant.length[at];
            one.thickness = plant.thick[at];
        }
        one.tips += f64::from(u8::from(!bears[at]));
        let bearer = plant.bearer[at];
        let starts = bearer == super::flux::NONE
            || !plant.follows[at]
            || plant.born[bearer as usize] != plant.born[at];
        one.shoots += f64::from(u8::from(plant.born[at] >= 0 && starts));
        one.last |= plant.born[at] == plant.year - 1;
        if bearer != super::flux::NONE {
            bears[bearer as usize] = true;
        }
    }
    told
}

fn told(limb: u32, rows: &[Grown]) -> LimbForecast {
    let of = |value: fn(&Grown) -> f64| {
        let mut values: Vec<f64> = rows.iter().map(value).collect();
        values.sort_by(f64::total_cmp);
        let at = |share: f64| {
            values.get((share * (values.len().max(1) - 1) as f64).round() as usize).copied().unwrap_or(0.0)
        };
        Likely { low: at(0.1), middle: at(0.5), high: at(0.9) }
    };
    let weak = rows.iter().filter(|row| !row.last).count() as f64 / rows.len().max(1) as f64;
    LimbForecast {
        limb,
        thickness: of(|row| row.thickness).map(Millimetre),
        length: of(|row| row.length).map(Millimetre),
        tips: of(|row| row.tips),
        shoots: of(|row| row.shoots),
        weakens: Share(weak),
    }
}
