//! Our tables of materials, mixes and sizes beside those of the reference set, row by row.
//!
//! `substrate_measured.csv`, `material_props.csv`, `mixes.csv`, `particle_sizes.csv`, `handling_weight.csv`: figures as written
//! there, so equal. The files are themselves no authority: each row's standing says what it rests on.

use std::{env, path::PathBuf};

use measure::{quantity::Share, sourced::Standing, taxon::Taxon};
use pot::table::{BAGS, Between, GRAINS, Grade, HANDLING, MATERIALS, RECIPES, Recipe};

fn rows(name: &str) -> Vec<csv::StringRecord> {
    let own = || PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/vectors"));
    let path = env::var_os("BUDSWELL_VECTORS").map_or_else(own, PathBuf::from).join(name);
    csv::Reader::from_path(path).expect("the vectors are there").records().map(Result::unwrap).collect()
}

/// A figure or a range as the files write it; nothing where there is nothing.
fn range(text: &str) -> Option<(f64, f64)> {
    let number = |text: &str| text.parse::<f64>().unwrap();
    match text.split_once('-') {
        Some((low, high)) => Some((number(low), number(high))),
        None => (!text.is_empty()).then(|| (number(text), number(text))),
    }
}

#[test]
fn materials_as_measured_and_remembered() {
    let file = rows("water/substrate_measured.csv");
    assert_eq!(file.len(), MATERIALS.len());
    for (row, ours) in file.iter().zip(MATERIALS) {
        assert_eq!((&row[0], &row[1]), (ours.name, ours.grade));
        let share = |between: Option<Between<Share>>| between.map(|it| (it.low.0, it.high.0));
        assert_eq!(range(&row[2]), ours.density.map(|it| (it.low.0, it.high.0)), "{row:?}");
        assert_eq!(range(&row[3]), share(ours.water), "{row:?}");
        assert_eq!(range(&row[4]), share(ours.air), "{row:?}");
        assert_eq!(range(&row[5]), share(ours.porosity), "{row:?}");
        assert_eq!(row[6].parse().ok(), ours.depth.map(|depth| depth.0), "{row:?}");
        let remembered = matches!(ours.standing, Standing::Unverified(_));
        assert_eq!(&row[7] == "from memory not verified", remembered, "{row:?}");
    }
}

#[test]
fn materials_in_the_bag() {
    let file = rows("trade/material_props.csv");
    assert_eq!(file.len(), BAGS.len());
    for (row, ours) in file.iter().zip(BAGS) {
        let number = |at: usize| row[at].parse::<f64>().unwrap();
        assert_eq!(&row[0], ours.name);
        assert_eq!([number(1), number(2), number(3)], [ours.dry.0, ours.wet.0, ours.water.0], "{row:?}");
        let lasts =
            ours.lasts.1.map_or(format!("{}+", ours.lasts.0), |most| format!("{}-{most}", ours.lasts.0));
        assert_eq!((&row[4], &row[5]), (lasts.as_str(), ours.acidity));
        assert!((number(6) / 100.0 - ours.sieved_off.0).abs() < 1e-12, "{row:?}");
        assert!(&row[7] == "same" || row[7].starts_with("remembered"));
        assert!(matches!(ours.standing, Standing::Unverified(_)));
    }
}

#[test]
fn named_mixes() {
    let file = rows("trade/mixes.csv");
    assert_eq!(file.len(), RECIPES.len());
    for (row, ours) in file.iter().zip(RECIPES) {
        assert_eq!((&row[0], &row[1], &row[10]), (ours.code, ours.purpose, ours.note));
        let parts: Vec<u8> = (2..8).map(|at| row[at].parse().unwrap()).collect();
        assert_eq!(parts, ours.parts, "{row:?}");
        let grade = match &row[9] {
            "by size class" => Grade::AsThePot,
            "one class coarser" => Grade::Coarser,
            "one class finer top" => Grade::FinerTop,
            "3-6 mm" => Grade::Middling,
            other => panic!("no grade {other}"),
        };
        assert_eq!(grade, ours.grade, "{row:?}");
        let of_the_trade = row[11].starts_with('C');
        assert_eq!(of_the_trade, ours.standing == Standing::Practice, "{row:?}");
    }
}

#[test]
fn grains_and_weights_by_size() {
    let file = rows("trade/particle_sizes.csv");
    assert_eq!(file.len(), GRAINS.len());
    for (row, ours) in file.iter().zip(GRAINS) {
        let theirs: Vec<f64> = (1..7).map(|at| row[at].parse().unwrap()).collect();
        let all = [ours.main, ours.bottom, ours.top];
        assert_eq!(theirs, all.map(|it| [it.low.0, it.high.0]).concat(), "{row:?}");
    }
    let file = rows("trade/handling_weight.csv");
    assert_eq!(file.len(), HANDLING.len());
    for (row, ours) in file.iter().zip(HANDLING) {
        let theirs: Vec<f64> = (1..4).map(|at| row[at].parse().unwrap()).collect();
        assert_eq!(theirs, [ours.pot.0, ours.wet.0, f64::from(ours.people)], "{row:?}");
        assert_eq!(&row[4], ours.note);
    }
}

#[test]
fn the_usual_mix_of_each_taxon() {
    let path = env::var_os("BUDSWELL_VECTORS")
        .map_or_else(|| PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/vectors")), PathBuf::from)
        .join("trade/species.csv");
    let mut reader = csv::Reader::from_path(path).expect("the vectors are there");
    let heads = reader.headers().unwrap().clone();
    let column = |name: &str| heads.iter().position(|head| head == name).expect("a column of that name");
    let (id, mix) = (column("id"), column("mix"));
    let file: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(file.len(), 171);
    for row in file {
        let taxon = Taxon::of(&row[id]).expect("a taxon of the house");
        assert_eq!(&row[mix], Recipe::usual(taxon).code, "{}", taxon.key);
    }
}
