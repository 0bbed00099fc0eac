//! Shared learning against the joint normal put together from its definition, against numpy, and against a sampler.
//!
//! `reference/levels_expected.json` was written by `reference/levels_expected.py` with numpy (exact conditional of the joint normal) and the
//! affine-invariant sampler emcee (Foreman-Mackey et al. 2013), versions in the file.

use std::{error::Error, fs};

use dormancy::{
    forecast::Pace,
    learn::levels::{Collection, GROUND, Levels, POTS, Seen, learn, learn_sturdy},
};
use nalgebra::{DMatrix, DVector};

/// A small generator of its own, so that every run tests the same collections.
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn below(&mut self, count: usize) -> usize {
        (self.next() * count as f64) as usize
    }
}

/// The same answer by the whole covariance matrix of all paces and looks.
fn dense(levels: &Levels, of: &Collection<'_>, seen: &[Seen]) -> Vec<Pace> {
    let square = |x: f64| x * x;
    let covariance = |(t, y): (usize, u32), (u, z): (usize, u32)| {
        let (k, l) = (of.kind_of[t], of.kind_of[u]);
        let mut sum = square(of.site.sd);
        sum += if k == l { square(of.kinds[k].sd) } else { 0.0 };
        sum += if y == z { square(levels.year) } else { 0.0 };
        sum += if k == l && y == z { square(levels.kind_year) } else { 0.0 };
        sum + if t == u { square(levels.tree) } else { 0.0 }
    };
    (0..of.kind_of.len())
        .map(|tree| {
            let used: Vec<&Seen> = seen.iter().filter(|it| it.tree != tree || it.years_ago > 0).collect();
            let mean = |tree: usize| of.site.mean + of.kinds[of.kind_of[tree]].mean;
            let prior = covariance((tree, 0), (tree, 0)) + square(levels.tree_year);
            if used.is_empty() {
                return Pace { mean: mean(tree), sd: prior.sqrt() };
            }
            let within = DMatrix::from_fn(used.len(), used.len(), |a, b| {
                let own = if a == b {
                    (square(used[a].sd) + square(levels.tree_year)) / used[a].weight
                } else {
                    0.0
                };
                covariance((used[a].tree, used[a].years_ago), (used[b].tree, used[b].years_ago)) + own
            });
            let across = DVector::from_iterator(
                used.len(),
                used.iter().map(|it| covariance((tree, 0), (it.tree, it.years_ago))),
            );
            let missed =
                DVector::from_iterator(used.len(), used.iter().map(|it| it.residual - mean(it.tree)));
            let solved = within.lu();
            let told = mean(tree) + across.dot(&solved.solve(&missed).expect("a positive matrix"));
            let variance = prior - across.dot(&solved.solve(&across).expect("a positive matrix"));
            Pace { mean: told, sd: variance.sqrt() }
        })
        .collect()
}

#[test]
fn a_hundred_collections_agree_with_the_joint_normal() {
    let mut dice = Dice(7);
    for round in 0..100 {
        let kinds: Vec<Pace> =
            (0..1 + dice.below(5)).map(|_| Pace { mean: 0.0, sd: 0.1 + 0.4 * dice.next() }).collect();
        let kind_of: Vec<usize> = (0..1 + dice.below(12)).map(|_| dice.below(kinds.len())).collect();
        let of = Collection { site: Pace { mean: -0.14, sd: 0.2 }, kinds: &kinds, kind_of: &kind_of };
        let mut seen = Vec::new();
        for tree in 0..kind_of.len() {
            for years_ago in 0..4 {
                if dice.next() < 0.5 {
                    let (residual, sd) = (dice.next() - 0.5, 0.05 + 0.5 * dice.next());
                    seen.push(Seen { tree, years_ago, residual, sd, weight: 0.3 + 0.7 * dice.next() });
                }
            }
        }
        let levels = if round % 2 == 0 { POTS } else { GROUND };
        for (ours, theirs) in learn(&levels, &of, &seen).paces.iter().zip(dense(&levels, &of, &seen)) {
            let off = (ours.mean - theirs.mean).abs().max((ours.sd - theirs.sd).abs());
            assert!(off < 1e-9, "round {round}: {ours:?} {theirs:?}");
        }
    }
}

#[test]
fn numpy_and_a_sampler_say_the_same() -> Result<(), Box<dyn Error>> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/levels_expected.json");
    let file: serde_json::Value = serde_json::from_str(&fs::read_to_string(path)?)?;
    let list = |value: &serde_json::Value| -> Vec<f64> {
        value
            .as_array()
            .map_or_else(Vec::new, |list| list.iter().filter_map(serde_json::Value::as_f64).collect())
    };
    let kinds: Vec<Pace> = list(&file["kind_sd"]).into_iter().map(|sd| Pace { mean: 0.0, sd }).collect();
    let kind_of: Vec<usize> = list(&file["kind_of"]).into_iter().map(|kind| kind as usize).collect();
    let site = list(&file["site"]);
    let of = Collection { site: Pace { mean: site[0], sd: site[1] }, kinds: &kinds, kind_of: &kind_of };
    let seen: Vec<Seen> = file["seen"]
        .as_array()
        .ok_or("seen")?
        .iter()
        .map(list)
        .map(|it| Seen {
            tree: it[0] as usize,
            years_ago: it[1] as u32,
            residual: it[2],
            sd: it[3],
            weight: it[4],
        })
        .collect();
    let told = learn(&POTS, &of, &seen).paces;
    let (exact_mean, exact_sd) = (list(&file["exact_mean"]), list(&file["exact_sd"]));
    let (sampled_mean, sampled_sd, error) =
        (list(&file["sampled_mean"]), list(&file["sampled_sd"]), list(&file["sampled_error"]));
    assert_eq!([told.len(), exact_mean.len(), sampled_mean.len(), error.len()], [7; 4]);
    for (at, pace) in told.iter().enumerate() {
        assert!(
            (pace.mean - exact_mean[at]).abs() < 1e-9 && (pace.sd - exact_sd[at]).abs() < 1e-9,
            "{at} {pace:?}"
        );
        assert!((pace.mean - sampled_mean[at]).abs() < 4.0 * error[at], "{at} {pace:?} {}", sampled_mean[at]);
        assert!((pace.sd / sampled_sd[at] - 1.0).abs() < 0.05, "{at} {pace:?} {}", sampled_sd[at]);
    }
    Ok(())
}

/// Ten maples and ten elms.
fn twenty() -> (Vec<Pace>, Vec<usize>) {
    (vec![Pace { mean: 0.0, sd: 0.3 }; 2], (0..20).map(|tree| tree / 10).collect())
}

const SITE: Pace = Pace { mean: 0.0, sd: 0.2 };

fn look(tree: usize, residual: f64, sd: f64) -> Seen {
    Seen { tree, years_ago: 0, residual, sd, weight: 1.0 }
}

#[test]
fn a_look_at_one_maple_moves_its_sisters_a_little_and_elms_less() {
    let (kinds, kind_of) = twenty();
    let of = Collection { site: SITE, kinds: &kinds, kind_of: &kind_of };
    let told = learn(&POTS, &of, &[look(0, 0.3, 0.08)]).paces;
    assert!(told[0].mean.abs() < 1e-12);
    assert!(0.1 < told[1].mean && told[1].mean < 0.25, "{:?}", told[1]);
    assert!(0.02 < told[15].mean && told[15].mean < told[1].mean / 2.0, "{:?}", told[15]);
}

#[test]
fn a_doubtful_look_weighs_less_than_ten_sure_ones_and_none_weighs_nothing() {
    let (kinds, kind_of) = twenty();
    let of = Collection { site: SITE, kinds: &kinds, kind_of: &kind_of };
    let doubtful = learn(&POTS, &of, &[look(0, 0.3, 0.6)]).paces[1].mean;
    let sure: Vec<Seen> = (0..10).map(|tree| look(tree, 0.3, 0.06)).collect();
    let ten = learn(&POTS, &of, &sure).paces[1].mean;
    assert!(ten > 3.0 * doubtful && doubtful > 0.0, "{ten} {doubtful}");
    let none = learn(&POTS, &of, &[]);
    assert!(none.paces.iter().all(|pace| pace.mean == 0.0) && none.site == SITE);
}

#[test]
fn one_absurd_look_does_not_move_the_place() {
    let (kinds, kind_of) = twenty();
    let of = Collection { site: SITE, kinds: &kinds, kind_of: &kind_of };
    let mut seen: Vec<Seen> = (0..20).map(|tree| look(tree, 0.0, 0.08)).collect();
    let before = learn_sturdy(&POTS, &of, &seen).site.mean;
    seen[3].residual = 3.0;
    let (sturdy, plain) = (learn_sturdy(&POTS, &of, &seen).site.mean, learn(&POTS, &of, &seen).site.mean);
    assert!((sturdy - before).abs() < 0.03 && sturdy < plain, "{sturdy} {plain}");
}

#[test]
fn odd_input_is_passed_over() {
    let (kinds, kind_of) = twenty();
    let of = Collection { site: SITE, kinds: &kinds, kind_of: &kind_of };
    let odd = [
        look(99, 0.3, 0.1),
        look(1, f64::NAN, 0.1),
        look(2, 0.3, f64::NAN),
        Seen { weight: 0.0, ..look(3, 0.3, 0.1) },
    ];
    assert_eq!(learn(&POTS, &of, &odd), learn(&POTS, &of, &[]));
    let surest = learn(&POTS, &of, &[look(0, 0.2, -1.0), look(0, 0.2, 1e3)]);
    assert!(surest.paces.iter().all(|pace| pace.mean.is_finite() && pace.sd > 0.0));
}
