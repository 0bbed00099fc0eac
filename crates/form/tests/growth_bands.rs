//! Plants grown without a knife against one digitised walnut, and what cutting does to a plant of the worked tree.
//!
//! `digitised_trees.json`: statistics of a measured walnut (openalea/mtg data, computed by the reference set), the one whole tree
//! there. The bands are the reference set's, drawn around that one tree; a single tree has no spread, so they are not the span of trees,
//! nor of walnuts: another digitised walnut was reported at RL 2.67 and RD 2.06 (not in the set, not worked out here), outside two of
//! them. Our habits were tuned on these bands, so agreement proves the tuning and no more. The plants are ours.

mod vector;

use form::{
    growth::{
        Act, Forecast, Grower, LimbForecast, Order, Plan, Plant, Question, When, forecast,
        habit::{ELM, HORNBEAM, Habit},
    },
    order::streams,
    thickness::Vigour,
};
use serde_json::Value;
use vector::{counted, fields, json, not_ours, number, worked_tree};

/// Rb, RL, RD: the bands drawn around one walnut's, which are that tree's and nobody else's.
const BANDS: [[f64; 2]; 3] = [[2.8, 4.5], [1.1, 2.0], [1.4, 2.0]];

#[test]
fn fifty_plants_of_fifteen_seasons_branch_like_the_one_walnut() {
    let names = ["Rb", "RL", "RD"];
    let Some(file) = json("form/digitised_trees.json") else { return };
    let trees: Vec<&Value> =
        fields(&file).into_iter().map(|(_, tree)| tree).filter(|tree| tree["Rb"].is_number()).collect();
    counted("form/digitised_trees.json: trees", trees.len(), 1);
    let outside = |tree: &&&Value| {
        BANDS.iter().zip(names).any(|(band, name)| !(band[0]..=band[1]).contains(&number(tree, name)))
    };
    for tree in trees.iter().filter(outside) {
        // Of another folder: said, for then the bands are narrower than trees are.
        not_ours(&format!("a tree of Rb, RL, RD {:?}", names.map(|name| number(tree, name))));
    }
    let (mut sums, mut within) = ([0.0; 4], [0; 3]);
    for seed in 0..50 {
        let mut plant = Plant::seedling(&HORNBEAM);
        let mut grower = Grower::new(HORNBEAM, 1.0, seed);
        for _ in 0..15 {
            grower.season(&mut plant, &Plan::let_run());
        }
        let tree = plant.skeleton().unwrap();
        let ratios = streams(&tree).ratios.unwrap();
        let forks = (0..tree.segments().len()).map(|at| tree.borne(at).len()).filter(|borne| *borne > 1);
        let (all, two) = forks.fold((0, 0), |(all, two), borne| (all + 1, two + u32::from(borne == 2)));
        let ratios = [ratios.branching, ratios.length, ratios.diameter];
        for (k, band) in BANDS.iter().enumerate() {
            within[k] += u32::from((band[0]..=band[1]).contains(&ratios[k]));
            sums[k] += ratios[k] / 50.0;
        }
        sums[3] += f64::from(two) / f64::from(all) / 50.0;
    }
    println!("mean Rb, RL, RD, share of two-child nodes {sums:.3?}; plants within {within:?} of 50");
    for (mean, band) in sums.iter().zip(BANDS) {
        assert!((band[0]..=band[1]).contains(mean), "{mean} outside {band:?}");
    }
    assert!(sums[3] >= 0.9);
    // Single plants stray out of a band now and then, as single crowns do.
    assert!(within.iter().all(|within| *within >= 45), "{within:?}");
}

fn start(habit: &Habit) -> Plant {
    let (tree, _) = worked_tree();
    let tips: Vec<(u32, u32)> =
        tree.axes().iter().filter(|axis| axis.id > 1).map(|axis| (axis.id, 6)).collect();
    Plant::from_skeleton(&tree, &tips, habit)
}

fn ask(plan: &Plan, seasons: u32) -> Forecast {
    let start = start(&ELM);
    forecast(&Question {
        start: &start,
        plan,
        habit: ELM,
        vigour: Vigour::learn(&[]),
        wood: 1.0,
        seasons,
        seed: 7,
        plants: 20,
    })
}

fn limb(told: &Forecast, limb: u32) -> LimbForecast {
    *told.limbs.iter().find(|one| one.limb == limb).unwrap()
}

fn all_limbs() -> Vec<u32> {
    worked_tree().0.axes().iter().map(|axis| axis.id).filter(|&axis| axis > 1).collect()
}

#[test]
fn the_start_is_the_tree_that_was_drawn() {
    let (tree, _) = worked_tree();
    let plant = Plant::from_skeleton(&tree, &[], &ELM);
    let again = plant.skeleton().unwrap();
    assert_eq!((plant.tips(), again.axes().len()), (10, 10));
    assert!((again.length().0 - tree.length().0).abs() < 1e-6);
    assert!((again.height().0 - tree.height().0).abs() < 1e-9);
}

#[test]
fn the_same_seed_grows_the_same_plants() {
    let plan = Plan::all(all_limbs(), Act::KeepShort { nodes: 2 }, When::Summer);
    assert_eq!(ask(&plan, 2), ask(&plan, 2));
    assert_ne!(ask(&plan, 2), {
        let start = start(&ELM);
        forecast(&Question {
            start: &start,
            plan: &plan,
            habit: ELM,
            vigour: Vigour::learn(&[]),
            wood: 1.0,
            seasons: 2,
            seed: 99,
            plants: 20,
        })
    });
}

#[test]
fn what_rings_have_told_narrows_the_forecast() {
    let (start, plan) = (start(&ELM), Plan::let_run());
    let span = |vigour| {
        let told = forecast(&Question {
            start: &start,
            plan: &plan,
            habit: ELM,
            vigour,
            wood: vigour.value,
            seasons: 2,
            seed: 7,
            plants: 30,
        });
        let trunk = limb(&told, 1).thickness;
        (trunk.high.0 - trunk.low.0, trunk.middle.0)
    };
    let (unknown, known, strong) =
        (span(Vigour::learn(&[])), span(Vigour::learn(&[1.0; 6])), span(Vigour::learn(&[2.0; 6])));
    assert!(known.0 < 0.8 * unknown.0, "{known:?} {unknown:?}");
    assert!(strong.1 > known.1);
}

#[test]
fn a_limb_let_run_thickens_and_one_kept_short_ramifies_more_on_less_length() {
    let limbs = all_limbs();
    let runner = named("p3");
    let mut plan = Plan::all(limbs.into_iter().chain([1]), Act::KeepShort { nodes: 2 }, When::Summer);
    let kept = ask(&plan, 3);
    plan.orders.retain(|order| order.limb != runner);
    let run = ask(&plan, 3);
    let (short, long) = (limb(&kept, runner), limb(&run, runner));
    assert!(long.thickness.middle.0 > short.thickness.middle.0, "{long:?} {short:?}");
    assert!(long.length.middle.0 > 2.0 * short.length.middle.0, "{long:?} {short:?}");
    // The trunk gains below the runner.
    assert!(limb(&run, 1).thickness.middle.0 > limb(&kept, 1).thickness.middle.0);
    assert!(short.tips.middle >= 6.0, "{short:?}");
}

/// A limb of the worked tree by the name of its first segment.
fn named(name: &str) -> u32 {
    let (tree, names) = worked_tree();
    tree.segments()[names.iter().position(|own| own == name).unwrap()].axis
}

#[test]
fn a_limb_taken_off_is_gone_and_the_others_answer() {
    // p3 bears no limb of its own.
    let gone = named("p3");
    let run = ask(&Plan::let_run(), 1);
    let off = ask(&Plan { orders: vec![Order { limb: gone, act: Act::Remove, when: When::Dormant }] }, 1);
    let told = limb(&off, gone);
    assert_eq!((told.thickness.high.0, told.tips.high, told.weakens.0), (0.0, 0.0, 1.0));
    let length = |told: &Forecast| -> f64 {
        told.limbs.iter().filter(|one| one.limb != gone).map(|one| one.length.middle.0).sum()
    };
    assert!(length(&off) > length(&run), "{} {}", length(&off), length(&run));
}

#[test]
fn a_line_cut_back_is_shorter_and_breaks_behind_the_cut() {
    let limb_cut = named("p3");
    let cut =
        Plan { orders: vec![Order { limb: limb_cut, act: Act::Shorten { keep: 0.6 }, when: When::Dormant }] };
    let (cut, run) = (ask(&cut, 1), ask(&Plan::let_run(), 1));
    assert!(limb(&cut, limb_cut).length.middle.0 < limb(&run, limb_cut).length.middle.0);
    assert!(limb(&cut, limb_cut).shoots.middle >= 1.0);
}

#[test]
fn thinning_leaves_fewer_shoots() {
    let thin = ask(&Plan::all(all_limbs(), Act::Thin { shoots: 0 }, When::Dormant), 2);
    let run = ask(&Plan::let_run(), 2);
    let tips = |told: &Forecast| told.limbs.iter().map(|one| one.tips.middle).sum::<f64>();
    assert!(tips(&thin) < tips(&run));
}
