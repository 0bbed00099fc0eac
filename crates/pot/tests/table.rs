//! Our tables of materials, mixes and sizes beside those of the reference set, row by row.
//!
//! `substrate_measured.csv`, `material_props.csv`, `mixes.csv`, `particle_sizes.csv`, `handling_weight.csv`: figures as written
//! there, so equal. The files are themselves no authority: each row's standing says what it rests on.

mod vector;

use measure::{quantity::Share, sourced::Standing, taxon::Taxon};
use pot::table::{BAGS, Between, GRAINS, Grade, HANDLING, MATERIALS, Material, RECIPES, Recipe};
use vector::{counted, not_ours, table, text};

/// Each row of a file beside ours of the same key; rows without one are named, and our own folder has one for each of ours.
fn beside<'a, T>(
    name: &str,
    ours: &'a [T],
    same: impl Fn(&csv::StringRecord, &T) -> bool,
) -> Option<Vec<(csv::StringRecord, &'a T)>> {
    let file = text(name)?;
    let mut pairs = Vec::new();
    for row in csv::Reader::from_reader(file.as_bytes()).records() {
        let row = row.unwrap();
        match ours.iter().find(|ours| same(&row, ours)) {
            Some(ours) => pairs.push((row, ours)),
            None => not_ours(&format!("{name}: {}", &row[0])),
        }
    }
    counted(name, pairs.len(), ours.len());
    Some(pairs)
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
    let same = |row: &csv::StringRecord, ours: &_| {
        let Material { name, grade, .. } = ours;
        (&row[0], &row[1]) == (*name, *grade)
    };
    let Some(file) = beside("water/substrate_measured.csv", MATERIALS, same) else { return };
    for (row, ours) in file {
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
    let Some(file) = beside("trade/material_props.csv", BAGS, |row, ours| &row[0] == ours.name) else {
        return;
    };
    for (row, ours) in file {
        let number = |at: usize| row[at].parse::<f64>().unwrap();
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
    let Some(file) = beside("trade/mixes.csv", RECIPES, |row, ours| &row[0] == ours.code) else { return };
    for (row, ours) in file {
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
    let classes = ["mame", "shohin", "kifu", "chuhin", "large", "very_large"];
    let at = |row: &csv::StringRecord| classes.iter().position(|class| *class == &row[0]);
    let grains: Vec<_> = GRAINS.iter().enumerate().collect();
    let file = beside("trade/particle_sizes.csv", &grains, |row, ours| at(row) == Some(ours.0));
    for (row, (_, ours)) in file.unwrap_or_default() {
        let theirs: Vec<f64> = (1..7).map(|at| row[at].parse().unwrap()).collect();
        let all = [ours.main, ours.bottom, ours.top];
        assert_eq!(theirs, all.map(|it| [it.low.0, it.high.0]).concat(), "{row:?}");
    }
    let weights: Vec<_> = HANDLING.iter().enumerate().collect();
    let file = beside("trade/handling_weight.csv", &weights, |row, ours| at(row) == Some(ours.0));
    for (row, (_, ours)) in file.unwrap_or_default() {
        let theirs: Vec<f64> = (1..4).map(|at| row[at].parse().unwrap()).collect();
        assert_eq!(theirs, [ours.pot.0, ours.wet.0, f64::from(ours.people)], "{row:?}");
        assert_eq!(&row[4], ours.note);
    }
}

#[test]
fn the_usual_mix_of_each_taxon() {
    let Some(file) = table("trade/species.csv") else { return };
    let mut seen = 0;
    for row in file {
        let Some(taxon) = Taxon::of(&row["id"]) else {
            not_ours(&row["id"]);
            continue;
        };
        assert_eq!(row["mix"], Recipe::usual(taxon).code, "{}", taxon.key);
        seen += 1;
    }
    counted("trade/species.csv: usual mixes", seen, 171);
}
