//! The alternating model: cold and warmth run side by side, and cold lowers the warmth needed.

use crate::{
    fit::{
        dice::Dice,
        search::{Candidate, Family, Leaning},
        springs::{Springs, Sums, Warmth},
    },
    model::Model,
};

/// The family, searched from 1 November for cold and from about 1 January for warmth.
pub(super) struct Alternating;

/// First day of cold: 1 November.
const COLD_START: i32 = -60;

/// What is left of the need that cold can remove, by days of cold.
struct Easing(Vec<f64>);

impl Easing {
    fn new(decay: f64, days: usize) -> Easing {
        Easing((0..=days).map(|cold| (decay * cold as f64).exp()).collect())
    }
}

/// Cold counted in the springs, with its start.
struct Cold {
    sums: Sums,
    from: Vec<u32>,
}

impl Cold {
    fn below(springs: &Springs, below: f64) -> Cold {
        Cold { sums: springs.sum(|t| f64::from(u8::from(t <= below))), from: springs.woken_on(COLD_START) }
    }
}

/// Level and scale of the need that suit the springs, and the error.
fn score(
    springs: &Springs,
    (cold, easing): (&Cold, &Easing),
    woken: &[u32],
    warmth: &Warmth,
    limit: f64,
) -> Option<(f64, f64, f64)> {
    const STEPS: usize = 3;

    let (mut w, mut x, mut y, mut xx, mut xy) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (at, (row, chill)) in warmth.sums.rows().zip(cold.sums.rows()).enumerate() {
        let year = &springs.years[at];
        let place = (year.place(year.observed + 1.0).round() as usize).min(year.days());
        let eased = easing.0[(chill[place] - chill[cold.from[at] as usize]).max(0.0) as usize];
        let heat = warmth.seen[at] - row[woken[at] as usize];
        let weight = warmth.weight[at];
        w += weight;
        x += weight * eased;
        y += weight * heat;
        xx += weight * eased * eased;
        xy += weight * eased * heat;
    }
    let spread = (xx - x * x / w).max(1e-12);
    let scale = ((xy - x * y / w) / spread).max(0.0);
    let mut least = (y - scale * x) / w;
    let mut best: Option<(f64, f64, f64)> = None;
    for _ in 0..STEPS {
        if least.is_nan() {
            break;
        }
        let (error, late) = exact(springs, (cold, easing), woken, warmth, (least, scale), 1.5 * limit);
        if error < best.map_or(limit, |(_, _, error)| error) {
            best = Some((least, scale, error));
        }
        if error.is_infinite() || late.abs() < 0.1 {
            break;
        }
        least -= late * warmth.middling;
    }
    best
}

/// Sum of squared errors in whole days and the mean error; endless once it passes `limit`.
fn exact(
    springs: &Springs,
    (cold, easing): (&Cold, &Easing),
    woken: &[u32],
    warmth: &Warmth,
    (least, scale): (f64, f64),
    limit: f64,
) -> (f64, f64) {
    let (mut error, mut late) = (springs.unexplained, 0.0);
    for (at, (row, chill)) in warmth.sums.rows().zip(cold.sums.rows()).enumerate() {
        let year = &springs.years[at];
        let (from, cold_from) = (woken[at] as usize, chill[cold.from[at] as usize]);
        let reached = year.reached(from, |days| {
            let cold = (chill[days] - cold_from).max(0.0) as usize;
            row[days] - row[from] >= least + scale * easing.0[cold]
        });
        let gap = year.gap(reached);
        error += year.trees * gap * gap;
        late += year.trees * gap;
        if error > limit {
            return (f64::INFINITY, 0.0);
        }
    }
    (error, late / springs.trees)
}

impl Family for Alternating {
    fn grid(&self, springs: &Springs, leaning: &Leaning, keep: &mut dyn FnMut(Candidate) -> f64) {
        const DECAYS: [f64; 7] = [-0.004, -0.008, -0.016, -0.025, -0.035, -0.05, -0.1];
        const BELOW: [f64; 5] = [0.0, 3.0, 5.0, 7.0, 10.0];

        let longest = springs.years.iter().map(|year| year.days()).max().unwrap_or(0);
        let easings = DECAYS.map(|decay| (decay, Easing::new(decay, longest)));
        let warmths: Vec<(f64, Warmth)> =
            (-6..=12).map(f64::from).map(|base| (base, springs.warmth(|t| (t - base).max(0.0)))).collect();
        let starts = [-15, 1, 32].map(|start| (start, springs.woken_on(start)));
        let mut limit = f64::INFINITY;
        for below in BELOW {
            let cold = Cold::below(springs, below);
            for (decay, easing) in &easings {
                for (base, warmth) in &warmths {
                    for (start, woken) in &starts {
                        let found = score(springs, (&cold, easing), woken, warmth, limit);
                        let Some((least, scale, error)) = found else { continue };
                        let model = Model::Alternating {
                            cold_start: COLD_START,
                            cold_below: below,
                            start: *start,
                            base: *base,
                            least,
                            scale,
                            decay: *decay,
                        };
                        let lean = leaning.base(*base) + leaning.decay(*decay);
                        limit = keep(Candidate { model, error, lean });
                    }
                }
            }
        }
    }

    fn nudged(&self, model: &Model, dice: &mut Dice, reach: f64) -> Model {
        let mut model = *model;
        if let Model::Alternating { cold_below, start, base, decay, .. } = &mut model {
            *cold_below += dice.about(2.0 * reach);
            *start += dice.about(10.0 * reach).round() as i32;
            *base += dice.about(reach);
            *decay *= dice.about(0.5 * reach).exp();
        }
        model
    }

    fn tried(&self, springs: &Springs, leaning: &Leaning, model: &Model, limit: f64) -> Option<Candidate> {
        let Model::Alternating { cold_below, start, base, decay, .. } = *model else { return None };
        let longest = springs.years.iter().map(|year| year.days()).max().unwrap_or(0);
        let (cold, easing) = (Cold::below(springs, cold_below), Easing::new(decay, longest));
        let warmth = springs.warmth(|t| (t - base).max(0.0));
        let woken = springs.woken_on(start);
        let (least, scale, error) = score(springs, (&cold, &easing), &woken, &warmth, limit)?;
        let cold_start = COLD_START;
        let model = Model::Alternating { cold_start, cold_below, start, base, least, scale, decay };
        Some(Candidate { model, error, lean: leaning.base(base) + leaning.decay(decay) })
    }
}
