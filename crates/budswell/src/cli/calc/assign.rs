//! `budswell calc assign`: pots shared out over the trees of a file, with the order of the repots.

use std::{fs, path::PathBuf, time::Instant};

use anyhow::Context;
use intake::instance::{self, Instance};
use season::shelf::{
    assign::{Choice, Place, Shelf, Tree, plan},
    steps::{Step, carry_out},
};
use serde_json::{Value, json};

/// What to share out.
#[derive(clap::Args)]
pub struct Assign {
    /// JSON of trees, pots, and which tree may have which pot.
    file: PathBuf,
}

/// The best plan, its order, and how long it took to find.
pub fn run(asked: &Assign) -> anyhow::Result<Value> {
    let file = &asked.file;
    let text = fs::read_to_string(file).with_context(|| format!("cannot read {}", file.display()))?;
    let instance = instance::read(&text).map_err(|refused| super::not_read(file, &refused))?;
    let shelf = shelf(&instance);
    let start = Instant::now();
    let told = plan(&shelf)?;
    let seconds = start.elapsed().as_secs_f64();
    let done = carry_out(&shelf, &told.steps).context("the order cannot be carried out")?;
    let tree = |at: usize| instance.trees[at].id;
    let place = |place: Place| match place {
        Place::Pot(pot) => json!(instance.pots[pot]),
        Place::Training => json!("training"),
    };
    let steps = told.steps.iter().map(|&step| match step {
        Step::Park { tree: at } => json!({ "do": "park", "tree": tree(at) }),
        Step::Pot { tree: at, into } => json!({ "do": "pot", "tree": tree(at), "into": place(into) }),
    });
    let trees = told.into.iter().enumerate();
    let trees = trees.map(|(at, &into)| json!({ "tree": tree(at), "into": place(into) }));
    Ok(json!({
        "value": told.value,
        "proven": told.proven(),
        "no_plan_has_more_than": told.bound,
        "value_if_swaps_were_free": told.free_swaps,
        "rings": told.rings,
        "temporary_boxes_at_once": done.boxes,
        "trees": trees.collect::<Vec<_>>(),
        "steps": steps.collect::<Vec<_>>(),
        "part_plans_looked_at": told.looked_at,
        "seconds": seconds
    }))
}

fn shelf(instance: &Instance) -> Shelf {
    let trees = instance.trees.iter();
    let options = instance.options.iter();
    Shelf {
        trees: trees.map(|tree| Tree { stands_in: tree.pot, training: tree.training }).collect(),
        pots: instance.pots.len(),
        choices: options
            .map(|option| Choice { tree: option.tree, pot: option.pot, points: option.points })
            .collect(),
        ring_price: instance.ring_price,
        boxes: instance.boxes,
    }
}
