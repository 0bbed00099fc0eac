//! The truth that the demo's buds follow and the product does not see, of another form than its own: units of warmth along a curve, cold
//! counted in days, a place and a kind that run early or late, and springs of their own. So the demo can miss.

use dormancy::{
    needs::Needs,
    wake::{BudDay, Lit, Release},
};
use measure::{stage::Stage, winter::Winter};
use season::ground::HORIZON;

use super::Dice;

/// Warmth per day: half its most at this mean, °C, and how steeply it rises, 1/K.
const MIDDLE: f64 = 8.0;
const STEEP: f64 = 0.25;

/// Degree-days that a unit of warmth is worth near the middle: how the shipped needs are turned into units.
const WORTH: f64 = 16.0;

/// Days of cold (means from −1 to 8 °C) that bring the need down by most of what cold can do.
const COLD_DAYS: f64 = 38.0;

/// Units from broken buds to each later stage: green tips, tips apart, flat, several flat, grown.
const AFTER: [f64; 5] = [1.6, 3.6, 6.5, 10.0, 19.0];

/// What each place does to all of its trees, logarithm: bench, wall, frame, room, south sill, kitchen sill.
const PLACES: [f64; 6] = [-0.12, -0.16, -0.08, -0.05, -0.2, -0.1];

/// Repots of the two springs before the last: tree, day, roots cut in hundredths.
pub const SPRINGS: [(&str, &str, u32); 23] = [
    ("Old trident", "2025-04-21", 37),
    ("Trident on rock", "2024-03-24", 37),
    ("Slender trident", "2025-04-27", 26),
    ("Mountain maple", "2025-04-08", 30),
    ("Broom maple", "2024-04-22", 22),
    ("Clump of five", "2024-06-01", 26),
    ("Field maple", "2025-04-20", 33),
    ("Winter quince", "2024-03-28", 24),
    ("First plum", "2024-05-10", 22),
    ("Second plum", "2025-04-25", 39),
    ("Hedge thorn", "2024-04-12", 33),
    ("Leaning thorn", "2025-03-27", 42),
    ("Lone larch", "2024-04-17", 44),
    ("Larch twins", "2025-03-10", 34),
    ("White beech", "2025-05-05", 44),
    ("Garden hornbeam", "2024-04-26", 26),
    ("Far hornbeam", "2025-04-15", 41),
    ("Little lime", "2024-05-04", 26),
    ("Cherry of May", "2024-03-28", 38),
    ("Blackthorn", "2025-04-10", 24),
    ("Ginkgo", "2025-06-11", 27),
    ("Black pine", "2025-03-27", 30),
    ("Juniper cascade", "2024-05-03", 41),
];

/// A die of its own for a name, so that no other draw moves when buds do.
fn dice_of(name: &str, year: i16) -> Dice {
    let seed = name
        .bytes()
        .fold(1_469_598_103_u64, |seed, byte| (seed ^ u64::from(byte)).wrapping_mul(1_099_511_628_211));
    Dice(seed.wrapping_add(year.unsigned_abs().into()) | 1)
}

/// The day on which each stage after hard buds is passed in one winter, for a tree that stood through these days.
pub fn passed(
    name: &str,
    taxon: &str,
    winter: Winter,
    pace: f64,
    place: usize,
    days: &[BudDay],
) -> Vec<Option<i32>> {
    let Some(needs) = Needs::of(taxon) else { return vec![None; 8] };
    let (mut kind, mut year) = (dice_of(taxon, 0), dice_of(taxon, winter.spring_year));
    let mut own = dice_of(name, winter.spring_year);
    let mut common = dice_of("spring", winter.spring_year);
    let shift = 0.8 * needs.log_sd.min(0.3) * kind.normal()
        + pace
        + PLACES.get(place).copied().unwrap_or(0.0)
        + 0.08 * common.normal()
        + 0.07 * year.normal()
        + 0.1 * own.normal();
    let need = needs.wake.need / WORTH * shift.exp();
    let start = 35.0 + 4.0 * own.normal();
    let by_cold = match needs.wake.release {
        Release::Day => None,
        Release::Cold(portions) | Release::Either(portions) => Some(1.15 * portions + 2.0 * own.normal()),
    };
    let [swelling, full] = [(Stage::Swelling, 0.12), (Stage::Full, 0.08)]
        .map(|(stage, sd)| (needs.rungs.edge(stage) * (sd * own.normal()).exp()).min(0.95));
    let spread = (0.2 * own.normal()).exp();
    let edges: Vec<f64> = [swelling * need, full * need, need]
        .into_iter()
        .chain(AFTER.map(|units| need + units * spread))
        .collect();
    let (mut cold, mut units) = (0.0_f64, 0.0);
    let mut passed = vec![None; 8];
    for (day, number) in days.iter().zip(Winter::FIRST_DAY..) {
        if (-1.0..8.0).contains(&day.mean) && number > -90 {
            cold += 1.0;
        }
        let released = by_cold.map_or(f64::from(number) >= start, |need| cold >= need);
        let in_room = matches!(day.lit, Lit::Window | Lit::Lamp) && day.mean > 10.0 && number > -45;
        let counts = if released {
            1.0
        } else if in_room {
            0.5
        } else {
            0.0
        };
        let slowed = 1.0 / (1.0 + 1.3 * needs.wake.slope / 0.1 * (-cold / COLD_DAYS).exp());
        units += counts * slowed / (1.0 + (-STEEP * (day.mean - MIDDLE)).exp());
        for (at, edge) in passed.iter_mut().zip(&edges) {
            if at.is_none() && units >= *edge && number <= HORIZON {
                *at = Some(number);
            }
        }
    }
    passed
}
