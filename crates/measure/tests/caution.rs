//! Cautions by taxon beside the reference set's lists of the trade.
//!
//! `trade/toxicity.csv`, `trade/species.csv` (its codes), `trade/invasive_examples.csv`, `trade/cites.csv`: no authority, the set says of
//! most rows that they are remembered. The check only holds our tables to what the set says.

mod vector;

use std::collections::BTreeSet;

use measure::{
    caution::{self, Caution, First, RustSide},
    sourced::Standing,
    taxon::{TAXA, Taxon},
};
use vector::{counted, not_ours, table};

/// The genera of a cell, without what it says of their parts.
fn genera(cell: &str) -> BTreeSet<String> {
    let plain = cell.replace('(', ",").replace(')', "").replace(" and ", ", ");
    let names = plain.split(',').map(|name| name.split_whitespace().next().unwrap_or_default().to_string());
    names.filter(|name| name.starts_with(char::is_uppercase)).collect()
}

#[test]
fn poisons_are_those_of_the_set() {
    let Some(rows) = table("trade/toxicity.csv") else { return };
    let mut seen = 0;
    for row in rows.iter().filter(|row| row["code"] != "none listed") {
        let Some(ours) = caution::poisons().iter().find(|ours| ours.code == row["code"]) else {
            not_ours(&row["code"]);
            continue;
        };
        let mut own: BTreeSet<String> = ours.genera.iter().map(ToString::to_string).collect();
        if ours.code == "LATEX" {
            assert!(own.remove("Morus"), "the set's codes by taxon have it");
        }
        let mut told = genera(&row["genera"]);
        // An older name of the same genus.
        told.remove("Schefflera");
        assert_eq!(own, told, "{}", ours.code);
        assert_eq!([ours.part, ours.effect], [&*row["part"], &*row["effect_general"]]);
        let first = match row["first_rule"].as_str() {
            "ask a poison centre at once" => First::PoisonCentreAtOnce,
            "ask a poison centre" | "ask" => First::PoisonCentre,
            "ask a vet" => First::Vet,
            "rinse" => First::Rinse,
            "rinse, ask" => First::RinseAndAsk,
            "gloves" => First::Gloves,
            other => panic!("{other}"),
        };
        assert_eq!(ours.first, first, "{}", ours.code);
        seen += 1;
    }
    counted("trade/toxicity.csv", seen, caution::poisons().len());
}

/// The codes that a caution answers to in the set.
fn codes(taxon: &Taxon) -> BTreeSet<String> {
    let code = |it: Caution| match it {
        Caution::Poison(poison) => Some(poison.code.to_string()),
        Caution::Thorns => Some("THORN".into()),
        Caution::Listed(_) => Some("INV".into()),
        Caution::Cites(row) => row.appendix.map(|appendix| format!("CITES-{appendix}")),
        Caution::WildProtected => Some("WILD".into()),
        Caution::Dust | Caution::Rust(_) => None,
    };
    Caution::of(taxon).into_iter().filter_map(code).collect()
}

#[test]
fn each_taxon_has_the_codes_of_the_set() {
    let Some(rows) = table("trade/species.csv") else { return };
    // What we have beyond the set's codes by taxon: its own table of poisons names apples, which its codes leave out, and all figs;
    // two thorny quinces are our addition.
    let more = |taxon: &Taxon, code: &str| {
        matches!((taxon.genus(), code), ("Malus", "TOX-CYAN") | ("Chaenomeles", "THORN"))
    };
    let mut seen = 0;
    for row in &rows {
        let Some(taxon) = Taxon::of(&row["id"]) else {
            not_ours(&row["id"]);
            continue;
        };
        let told: BTreeSet<String> = row["caution_codes"]
            .split(';')
            .filter(|code| !code.is_empty())
            .map(ToString::to_string)
            .collect();
        let own: BTreeSet<String> = codes(taxon).into_iter().filter(|code| !more(taxon, code)).collect();
        assert_eq!(own, told, "{}", taxon.key);
        seen += 1;
    }
    counted("trade/species.csv", seen, TAXA.len());
}

#[test]
fn lists_that_were_read_are_the_sets() {
    let rows = table("trade/invasive_examples.csv").unwrap_or_default();
    // A name as the set abbreviates it within a row: "E. angustifolia", "sinense".
    let of = |name: &str| {
        rows.iter().find(|row| {
            let (genus, epithet) = name.split_once(' ').unwrap_or((name, ""));
            row["taxon"].starts_with(genus) && row["taxon"].contains(epithet)
                || row["taxon"].contains(name)
                || epithet.is_empty() && row["taxon"].contains(genus)
        })
    };
    let mut read = 0;
    for ours in caution::listed() {
        let taxon = Taxon::of(ours.taxon).expect("a taxon of ours");
        match of(taxon.name) {
            Some(row) => assert_eq!(ours.read, row["status"] == "read", "{}", taxon.key),
            None => assert!(!ours.read, "{} is on no list that was read", taxon.key),
        }
        read += usize::from(ours.read);
    }
    if !rows.is_empty() {
        counted("trade/invasive_examples.csv, rows read of taxa of ours", read, 9);
    }
    let rows = table("trade/cites.csv").unwrap_or_default();
    let mut seen = 0;
    for ours in caution::cites() {
        let taxon = Taxon::of(ours.taxon).expect("a taxon of ours");
        let epithet = taxon.name.split(' ').nth(1).unwrap_or_default();
        let of_it = |row: &&vector::Row| {
            let name = &row["taxon"];
            name.starts_with(taxon.genus()) && (name.contains(epithet) || name.contains("species"))
                || taxon.genus() == "Portulacaria" && name == "Didiereaceae"
        };
        let Some(row) = rows.iter().find(of_it) else {
            assert!(rows.is_empty(), "{} is not in the set", taxon.key);
            continue;
        };
        if let Some(appendix) = ours.appendix {
            assert_eq!(row["appendix"].split(',').next().unwrap(), appendix, "{}", taxon.key);
        }
        assert!(ours.note.is_empty() || row["note"].contains(ours.note), "{}: {}", taxon.key, ours.note);
        assert!(!ours.read || row["status"].starts_with("read"), "{}", taxon.key);
        seen += 1;
    }
    if !rows.is_empty() {
        counted("trade/cites.csv, rows of taxa of ours", seen, caution::cites().len());
    }
}

#[test]
fn no_caution_is_shown_as_published_that_is_remembered() {
    for taxon in TAXA {
        for it in Caution::of(taxon) {
            let published = matches!(it.standing(), Standing::Published(_));
            let read = matches!(it, Caution::Listed(row) if row.read)
                || matches!(it, Caution::Cites(row) if row.read);
            assert_eq!(published, read, "{} {it:?}", taxon.key);
        }
    }
}

#[test]
fn rust_passes_between_junipers_and_the_apple_family_alone() {
    let sides: Vec<(&str, RustSide)> = TAXA
        .iter()
        .filter_map(|taxon| Some((taxon.genus(), RustSide::of(taxon)?)))
        .collect::<BTreeSet<_>>()
        .into_iter()
        .collect();
    let apples = ["Chaenomeles", "Cotoneaster", "Crataegus", "Malus", "Pseudocydonia", "Pyrus"];
    let expected: Vec<(&str, RustSide)> = apples
        .map(|genus| (genus, RustSide::AppleFamily))
        .into_iter()
        .chain([("Juniperus", RustSide::Juniper)])
        .collect();
    let mut sides = sides;
    sides.sort_by_key(|(genus, side)| (*side == RustSide::Juniper, *genus));
    assert_eq!(sides, expected);
}
