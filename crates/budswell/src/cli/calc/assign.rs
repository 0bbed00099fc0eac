//! `budswell calc assign`: pots shared out over the trees of a file, with the order of the repots.

use std::{fs, path::PathBuf, time::Instant};

use anyhow::Context;
use intake::instance;
use serde_json::{Value, json};
use view::shelf::{Move, shared_out};

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
    let it = instance::read(&text).map_err(|refused| super::not_read(file, &refused))?;
    let start = Instant::now();
    let told = shared_out(&it.shelf, &it.trees, &it.pots)?;
    let seconds = start.elapsed().as_secs_f64();
    let pot = |pot: Option<i64>| pot.map_or_else(|| json!("training"), |pot| json!(pot));
    let steps = told.steps.iter().map(|step| match *step {
        Move::Park { tree } => json!({ "do": "park", "tree": tree }),
        Move::Pot { tree, into } => json!({ "do": "pot", "tree": tree, "into": pot(into) }),
    });
    let trees = told.into.iter().map(|&(tree, into)| json!({ "tree": tree, "into": pot(into) }));
    Ok(json!({
        "value": told.value,
        "proven": told.proven,
        "no_plan_has_more_than": told.bound,
        "value_if_swaps_were_free": told.free_swaps,
        "rings": told.rings,
        "temporary_boxes_at_once": told.boxes,
        "trees": trees.collect::<Vec<_>>(),
        "steps": steps.collect::<Vec<_>>(),
        "part_plans_looked_at": told.looked_at,
        "seconds": seconds
    }))
}
