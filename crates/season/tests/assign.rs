//! The whole shelf at once, beside five proven instances and two other ways of solving small ones.
//!
//! `decisions/assignment`: P1 to P5 of the reference set, proven there by scipy and OR-Tools min-cost flow (free swaps) and by
//! CP-SAT and HiGHS (rings priced). The assignment alone is held beside the `pathfinding` crate's Hungarian method; small
//! shelves beside every possible plan. Values are compared, never the plan itself: several may be best.

mod vector;

use pathfinding::{kuhn_munkres::kuhn_munkres, matrix::Matrix};
use proptest::prelude::*;
use season::shelf::{
    assign::{Choice, Error, Place, Shelf, Tree, plan},
    steps::{Step, carry_out, in_order, rings},
    what_if::bought,
};
use serde_json::Value;
use vector::{counted, file, json, names};

/// Every instance of the folder, by its name.
fn instances() -> Vec<(String, Value)> {
    let all = names("decisions/assignment", ".json");
    let read = |name: String| Some((name.clone(), json(&format!("decisions/assignment/{name}"))?));
    let all: Vec<_> = all.into_iter().filter_map(read).collect();
    if file("decisions/assignment").is_some() {
        counted("decisions/assignment: instances", all.len(), 5);
    }
    all
}

fn whole(value: &Value) -> usize {
    usize::try_from(value.as_u64().expect("a whole number")).unwrap()
}

fn shelf(told: &Value) -> Shelf {
    let list = |name: &str| told[name].as_array().expect("a list");
    let tree = |tree: &Value| Tree {
        stands_in: tree["pot"].as_u64().map(|_| whole(&tree["pot"])),
        training: tree["training_score"].as_i64(),
    };
    let choice =
        |row: &Value| Choice { tree: whole(&row[0]), pot: whole(&row[1]), points: row[2].as_i64().unwrap() };
    Shelf {
        trees: list("trees").iter().map(tree).collect(),
        pots: list("pots").len(),
        choices: list("options").iter().map(choice).collect(),
        ring_price: told["cycle_penalty"].as_i64().unwrap(),
        boxes: whole(&told["temp_containers"]),
    }
}

/// The steps that the reference set stored.
fn stored_steps(told: &Value) -> Vec<Step> {
    let steps = told["expected"]["steps_B"].as_array().unwrap();
    let step = |step: &Value| match (step[0].as_str(), step[2].as_i64()) {
        (Some("park"), _) => Step::Park { tree: whole(&step[1]) },
        (_, Some(-1)) => Step::Pot { tree: whole(&step[1]), into: Place::Training },
        _ => Step::Pot { tree: whole(&step[1]), into: Place::Pot(whole(&step[2])) },
    };
    steps.iter().map(step).collect()
}

#[test]
fn five_instances_have_their_proven_values() {
    for (name, told) in instances() {
        let shelf = shelf(&told);
        let ours = plan(&shelf).unwrap();
        let expected = &told["expected"];
        println!(
            "{name}: {} of at most {}, {} rings, {} part-plans",
            ours.value, ours.bound, ours.rings, ours.looked_at
        );
        assert_eq!(Some(ours.free_swaps), expected["optimum_A_no_cycle_cost"].as_i64(), "{name}");
        assert_eq!(Some(ours.value), expected["optimum_B"].as_i64(), "{name}");
        assert!(ours.proven(), "{name}");
        let done = carry_out(&shelf, &ours.steps).unwrap();
        assert_eq!((done.value, &done.into), (ours.value, &ours.into), "{name}");
        assert!(done.boxes <= 1, "{name}: one box serves all rings");
    }
}

/// Our bench carries out the reference set's own steps, to the same value.
#[test]
fn stored_steps_come_to_the_stored_value() {
    for (name, told) in instances() {
        let done = carry_out(&shelf(&told), &stored_steps(&told)).unwrap();
        assert_eq!(Some(done.value), told["expected"]["optimum_B"].as_i64(), "{name}");
    }
}

/// Turned round, the same steps pot a tree into a pot that is still taken.
#[test]
fn the_same_steps_in_the_wrong_order_are_refused() {
    for (name, told) in instances() {
        let mut steps = stored_steps(&told);
        steps.reverse();
        assert!(carry_out(&shelf(&told), &steps).is_err(), "{name}");
    }
}

fn shelves(trees: usize, pots: usize) -> impl Strategy<Value = Shelf> {
    let standing = prop::collection::vec(0..2 * pots, trees);
    let training = prop::collection::vec(prop::option::weighted(0.8, -5..20_i64), trees);
    let points = prop::collection::vec(prop::option::weighted(0.6, -10..60_i64), trees * pots);
    (standing, training, points, 0..30_i64, 0..3_usize).prop_map(
        move |(standing, training, points, ring_price, boxes)| {
            let mut taken = vec![false; pots];
            let stands_in = standing
                .into_iter()
                .map(|pot| (pot < pots && !std::mem::replace(&mut taken[pot], true)).then_some(pot));
            let trees: Vec<Tree> =
                stands_in.zip(training).map(|(stands_in, training)| Tree { stands_in, training }).collect();
            let choices = points.iter().enumerate().filter_map(|(at, points)| {
                points.map(|points| Choice { tree: at / pots, pot: at % pots, points })
            });
            Shelf { trees, pots, choices: choices.collect(), ring_price, boxes }
        },
    )
}

/// The best value over every plan there is, swaps priced and free.
fn by_hand(shelf: &Shelf) -> Option<(i64, i64)> {
    fn place(
        shelf: &Shelf,
        into: &mut Vec<Place>,
        taken: &mut Vec<bool>,
        points: i64,
        best: &mut [Option<i64>; 2],
    ) {
        let tree = into.len();
        if tree == shelf.trees.len() {
            best[1] = best[1].max(Some(points));
            let rings = rings(shelf, into).len();
            if rings <= shelf.boxes {
                best[0] = best[0].max(Some(points - shelf.ring_price * rings as i64));
            }
            return;
        }
        if let Some(training) = shelf.trees[tree].training {
            into.push(Place::Training);
            place(shelf, into, taken, points + training, best);
            into.pop();
        }
        for choice in shelf.choices.iter().filter(|choice| choice.tree == tree) {
            if !std::mem::replace(&mut taken[choice.pot], true) {
                into.push(Place::Pot(choice.pot));
                place(shelf, into, taken, points + choice.points, best);
                into.pop();
                taken[choice.pot] = false;
            }
        }
    }
    let mut best = [None; 2];
    place(shelf, &mut Vec::new(), &mut vec![false; shelf.pots], 0, &mut best);
    Some((best[0]?, best[1]?))
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(512) })]

    #[test]
    fn small_shelves_have_the_best_of_all_plans(shelf in shelves(6, 6)) {
        match (plan(&shelf), by_hand(&shelf)) {
            (Ok(ours), Some((value, free))) => {
                prop_assert_eq!((ours.value, ours.free_swaps), (value, free));
                prop_assert!(ours.proven() && ours.rings <= shelf.boxes);
                let done = carry_out(&shelf, &ours.steps).unwrap();
                prop_assert_eq!((done.value, done.into), (ours.value, ours.into));
            }
            (Err(Error::NoPlace { .. }), None) => {}
            (ours, all) => prop_assert!(false, "ours {ours:?}, all plans {all:?}"),
        }
    }

    /// No training pot, and no more pots than trees: each pot is taken.
    #[test]
    fn small_shelves_without_a_place_to_spare_have_the_best_of_all_plans(shelf in shelves(5, 5)) {
        let trees = shelf.trees.iter().map(|tree| Tree { training: None, ..*tree }).collect();
        let choices = (0..25).map(|at| {
            let given = shelf.choices.iter().find(|choice| (choice.tree, choice.pot) == (at / 5, at % 5));
            given.copied().unwrap_or(Choice { tree: at / 5, pot: at % 5, points: at as i64 % 7 })
        });
        let shelf = Shelf { trees, choices: choices.filter(|choice| choice.tree != choice.pot).collect(), ..shelf };
        match (plan(&shelf), by_hand(&shelf)) {
            (Ok(ours), Some((value, free))) => {
                prop_assert_eq!((ours.value, ours.free_swaps), (value, free));
                prop_assert!(ours.proven() && ours.rings <= shelf.boxes);
                prop_assert_eq!(carry_out(&shelf, &ours.steps).unwrap().value, value);
            }
            (Err(Error::NoPlace { .. }), None) => {}
            (ours, all) => prop_assert!(false, "ours {ours:?}, all plans {all:?}"),
        }
    }

    /// The order in which choices stand in a file changes no value.
    #[test]
    fn choices_in_any_order_have_the_same_value(shelf in shelves(8, 8)) {
        let mut turned = shelf.clone();
        turned.choices.reverse();
        let value = |shelf| plan(shelf).map(|plan| (plan.value, plan.bound, plan.free_swaps));
        prop_assert_eq!(value(&shelf), value(&turned));
    }

    #[test]
    fn a_ring_left_out_of_its_box_is_refused(shelf in shelves(6, 6)) {
        let Ok(ours) = plan(&Shelf { ring_price: 0, boxes: 9, ..shelf.clone() }) else { return Ok(()) };
        let steps = in_order(&shelf, &ours.into);
        let bare: Vec<Step> = steps.iter().copied().filter(|step| !matches!(step, Step::Park { .. })).collect();
        let done = carry_out(&Shelf { boxes: 1, ..shelf.clone() }, &bare);
        prop_assert_eq!(done.is_err(), ours.rings > 0);
    }

    #[test]
    fn a_pot_more_never_makes_the_shelf_worse(shelf in shelves(5, 5), points in prop::collection::vec(-10..60_i64, 5)) {
        let offered: Vec<(usize, i64)> = points.into_iter().enumerate().collect();
        if let Ok(told) = bought(&shelf, &offered) {
            prop_assert!(told.gain() >= 0);
        }
    }

    #[test]
    fn larger_shelves_with_free_swaps_are_solved_as_pathfinding_does(shelf in shelves(30, 40)) {
        let shelf = Shelf { ring_price: 0, boxes: 99, ..shelf };
        const BARRED: i64 = -1_000_000;
        let mut matrix = Matrix::new(30, 70, BARRED);
        for choice in &shelf.choices {
            matrix[(choice.tree, choice.pot)] = choice.points;
        }
        for (at, tree) in shelf.trees.iter().enumerate() {
            matrix[(at, 40 + at)] = tree.training.unwrap_or(BARRED);
        }
        let (theirs, _) = kuhn_munkres(&matrix);
        match plan(&shelf) {
            Ok(ours) => prop_assert_eq!(ours.value, theirs),
            Err(_) => prop_assert!(theirs < BARRED / 2),
        }
    }
}
