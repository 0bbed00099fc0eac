//! Fits the needs of all taxa to everything dated under `data/` and writes `src/needs.csv`: `cargo run -p dormancy --example fit_needs`.

mod fit;
mod stages;
mod table;
#[path = "../../tests/truth/mod.rs"]
mod truth;

use std::path::PathBuf;

fn main() -> truth::Fallible<()> {
    let fit = fit::fit(&truth::everything()?)?;
    let stages = stages::fit(&truth::harvard_trees()?, &truth::harvard_days()?, &fit)?;
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("src/needs.csv");
    let text = table::table(&fit, &stages);
    std::fs::write(&path, &text)?;
    println!(
        "{} rows and {} unknowns gave {} lines of {}",
        fit.rows,
        fit.unknowns,
        text.lines().count(),
        path.display()
    );
    Ok(())
}
