//! The wood of an invented tree: trunk and branches laid by hand, and all finer wood grown on them by our own growth model.

use std::f64::consts::PI;

use form::{
    growth::{Act, Plan, Plant, Question, When, forecast, habit::Habit},
    skeleton::{Segment, Skeleton},
    thickness::Vigour,
    traced::{Caliper, Clock, TipClass, TracedLimb, raise},
};
use measure::{quantity::Millimetre, taxon::Taxon};

use crate::{Sitter, Way};

/// A place in mm: right, away from the viewer, up.
pub type Spot = [f64; 3];

/// A limb that is traced.
pub struct Limb {
    pub number: u32,
    pub bearer: Option<u32>,
    pub name: String,
    pub clock: Option<u8>,
    pub tips: &'static str,
    pub points: Vec<Spot>,
    /// How thick it is at its base.
    pub base: f64,
    /// How thick it is at its tip.
    pub tip: f64,
}

impl Limb {
    /// How long it is as the camera sees it.
    pub fn seen_length(&self) -> f64 {
        self.points.windows(2).map(|pair| (pair[1][0] - pair[0][0]).hypot(pair[1][2] - pair[0][2])).sum()
    }
}

/// A piece of wood to be painted: both ends and how thick it is there.
pub type Piece = (Spot, Spot, [f64; 2]);

/// A built tree.
pub struct Built {
    pub limbs: Vec<Limb>,
    /// The flare of the roots, which nobody traces.
    pub flare: Vec<Piece>,
    /// The tree as it stood for the older photo and for the newer one.
    pub stood: [Vec<Piece>; 2],
}

/// A small generator: the same tree on every machine.
pub struct Dice(u64);

impl Dice {
    fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn about(&mut self, middle: f64, by: f64) -> f64 {
        middle + (self.next() * 2.0 - 1.0) * by
    }
}

/// The hours that branches take in turn from the base up; none looks straight at the viewer low on the trunk.
const HOURS: [u8; 12] = [9, 3, 12, 8, 4, 1, 10, 2, 11, 5, 7, 6];

const ORDINALS: [&str; 12] = [
    "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
    "eleventh", "twelfth",
];

fn side(hour: u8) -> &'static str {
    match hour {
        12 | 11 | 1 => "back",
        5..=7 => "front",
        8..=10 => "left",
        _ => "right",
    }
}

fn towards(hour: u8) -> [f64; 2] {
    let azimuth = (f64::from(hour) - 6.0) * PI / 6.0;
    [-azimuth.sin(), -azimuth.cos()]
}

fn trunk(sitter: &Sitter, dice: &mut Dice) -> Vec<Spot> {
    let phase = dice.about(0.0, 0.6);
    let sway = match sitter.way {
        Way::Curved => 0.075,
        Way::Leaning | Way::Level => 0.05,
        Way::Broom => 0.004,
    };
    let top = if sitter.way == Way::Broom { 0.42 } else { 1.0 };
    (0..=14)
        .map(|step| {
            let t = f64::from(step) / 14.0;
            let lean = if sitter.way == Way::Leaning { 0.34 * t.powf(0.9) } else { 0.05 * t };
            let x = sitter.high * (lean + sway * ((phase + t * 6.3).sin() - phase.sin()) * (1.0 - 0.45 * t));
            let y = sitter.high * sway * 0.5 * ((t * 5.1).sin()) - sitter.high * 0.04 * t * t;
            [x, y, sitter.high * top * t]
        })
        .collect()
}

/// A place on a line, by the share of its points.
fn on(line: &[Spot], share: f64) -> Spot {
    let at = share.clamp(0.0, 1.0) * (line.len() - 1) as f64;
    let (low, part) = (at.floor() as usize, at.fract());
    let high = (low + 1).min(line.len() - 1);
    [0, 1, 2].map(|axis| line[low][axis] * (1.0 - part) + line[high][axis] * part)
}

/// A branch of seven pieces from a foot: out by `reach` towards a direction seen from above, rising by `rise` and levelling out.
fn branch(foot: Spot, out: [f64; 2], reach: f64, rise: f64, pieces: usize, dice: &mut Dice) -> Vec<Spot> {
    let mut line = vec![foot];
    let mut heading = out[1].atan2(out[0]);
    let mut at = foot;
    for step in 1..=pieces {
        heading += dice.about(0.0, 0.16);
        let t = step as f64 / pieces as f64;
        let long = reach / pieces as f64;
        at = [
            at[0] + heading.cos() * long,
            at[1] + heading.sin() * long,
            at[2] + long * (rise * (1.0 - 0.75 * t) + dice.about(0.0, 0.12)),
        ];
        line.push(at);
    }
    line
}

/// What the growth model makes of the limbs: cut back to two nodes each summer for two seasons; the twigs of the second apart.
fn grown(limbs: &[Limb], taxon: &str, seed: u64) -> [Vec<Piece>; 2] {
    let traced: Vec<TracedLimb> = limbs
        .iter()
        .map(|limb| TracedLimb {
            id: limb.number,
            bearer: limb.bearer,
            points: limb.points.iter().map(|[x, _, z]| [*x, *z]).collect(),
            clock: limb.clock.and_then(|hour| Clock::new(hour).ok()),
            calipers: [(0.0, limb.base), (limb.seen_length(), limb.tip)]
                .map(|(along, thick)| Caliper { along: Millimetre(along), diameter: Millimetre(thick) })
                .to_vec(),
            tips: TipClass::from_key(limb.tips),
        })
        .collect();
    let raised = raise(&traced).expect("the limbs hang together");
    let habit = Habit::of(Taxon::of(taxon).expect("a taxon we know")).value;
    let tips: Vec<(u32, u32)> =
        limbs.iter().map(|limb| (limb.number, if limb.bearer == Some(0) { 14 } else { 6 })).collect();
    let plan = Plan::all(limbs.iter().map(|limb| limb.number), Act::KeepShort { nodes: 2 }, When::Summer);
    let start = Plant::from_skeleton(&raised.skeleton, &tips, &habit);
    let stands = |seasons| {
        let question = Question {
            start: &start,
            plan: &plan,
            habit,
            vigour: Vigour::learn(&[]),
            wood: 0.4,
            seasons,
            seed,
            plants: 1,
        };
        forecast(&question).pictures.swap_remove(0)
    };
    [stands(1), stands(2)].map(|tree| drawn(&tree))
}

/// A skeleton as pieces to paint.
fn drawn(tree: &Skeleton) -> Vec<Piece> {
    let ends: Vec<Spot> = tree.ends().into_iter().map(|it| [it.x.0, it.y.0, it.z.0]).collect();
    let foot = |bearer: Option<usize>| bearer.map_or([0.0; 3], |bearer| ends[bearer]);
    let piece =
        |(segment, end): (&Segment, &Spot)| (foot(segment.bearer), *end, [segment.base.0, segment.tip.0]);
    tree.segments().iter().zip(&ends).map(piece).collect()
}

/// Builds a tree from its seed.
pub fn build(sitter: &Sitter, seed: u64) -> Built {
    let mut dice = Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15));
    for _ in 0..8 {
        dice.next();
    }
    let line = trunk(sitter, &mut dice);
    let mut built = Built { limbs: Vec::new(), flare: Vec::new(), stood: [Vec::new(), Vec::new()] };
    let top = if sitter.way == Way::Broom { sitter.trunk * 0.7 } else { sitter.trunk * 0.07 };
    let thick = |t: f64| (sitter.trunk - top) * (1.0 - t).powf(1.15) + top;
    // The flare of the roots, which nobody traces.
    for (way, long) in [(-1.0, 0.62), (-0.55, 0.5), (0.2, 0.45), (0.6, 0.52), (1.0, 0.66)] {
        let out = sitter.trunk * long * way;
        built.flare.push((
            [out * 0.35, -2.0, sitter.trunk * 0.22],
            [out * 1.35, -2.0, -2.0],
            [sitter.trunk * 0.34, sitter.trunk * 0.16],
        ));
    }
    built.limbs.push(Limb {
        number: 0,
        bearer: None,
        name: "trunk".into(),
        clock: None,
        tips: "20+",
        points: line.clone(),
        base: sitter.trunk,
        tip: top,
    });
    let count = sitter.branches;
    let mut seconds = count as u32 + 1;
    for at in 0..count {
        let t = at as f64 / count as f64;
        let (share, hour) = match sitter.way {
            Way::Broom => (dice.about(0.93, 0.06), [9, 3, 12, 10, 2, 8, 4, 11, 1][at % 9]),
            _ => (0.29 + 0.66 * t.powf(0.85), HOURS[at % 12]),
        };
        let foot = on(&line, share);
        let reach = sitter.high * (0.4 * (1.0 - share).powf(0.8) + 0.06) * dice.about(1.0, 0.12);
        let (reach, rise) = match sitter.way {
            Way::Broom => (sitter.high * dice.about(0.3, 0.07), dice.about(2.4, 0.8)),
            Way::Level => (reach * 1.05, 0.06),
            _ => (reach, 0.38 + 0.8 * share * share),
        };
        let number = at as u32 + 1;
        let base = (thick(share) * dice.about(0.36, 0.05)).max(3.0);
        let points = branch(foot, towards(hour), reach, rise, 7, &mut dice);
        let is_apex = at + 1 == count && sitter.way != Way::Broom;
        let name = if is_apex { "apex".into() } else { format!("{} {}", ORDINALS[at % 12], side(hour)) };
        built.limbs.push(Limb {
            number,
            bearer: Some(0),
            name,
            clock: Some(hour),
            tips: if at < 4 { "20+" } else { "10-19" },
            points: points.clone(),
            base,
            tip: base * 0.3,
        });
        second(&points, base, number, at < 4, &mut seconds, &mut dice, &mut built);
    }
    built.stood = grown(&built.limbs, sitter.taxon, seed);
    built
}

/// The branches of a branch, left and right in turn; those of the lowest are traced.
fn second(
    bearer: &[Spot],
    base: f64,
    number: u32,
    traced: bool,
    next: &mut u32,
    dice: &mut Dice,
    built: &mut Built,
) {
    let out = [bearer[7][0] - bearer[0][0], bearer[7][1] - bearer[0][1]];
    let reach = out[0].hypot(out[1]).max(20.0);
    for at in 0..5 {
        let share = 0.28 + 0.15 * f64::from(at);
        let way = if at % 2 == 0 { 1.0 } else { -1.0 };
        let spread: f64 = dice.about(0.75, 0.15) * way;
        let heading = [
            (out[0] * spread.cos() - out[1] * spread.sin()) / reach,
            (out[0] * spread.sin() + out[1] * spread.cos()) / reach,
        ];
        let long = reach * (0.62 - 0.4 * share) * dice.about(1.0, 0.15);
        let points = branch(on(bearer, share), heading, long, 0.35, 4, dice);
        let thick = base * (0.5 - 0.25 * share);
        if traced && at < 3 {
            let hour = ((6.0 + (-heading[0]).atan2(-heading[1]) * 6.0 / PI).round() as i32).rem_euclid(12);
            built.limbs.push(Limb {
                number: *next,
                bearer: Some(number),
                name: format!("{} on {number}", ["inner", "middle", "outer"][at as usize]),
                clock: Some(if hour == 0 { 12 } else { hour as u8 }),
                tips: "5-9",
                points,
                base: thick,
                tip: thick * 0.45,
            });
            *next += 1;
        }
    }
}
