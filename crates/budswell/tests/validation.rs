//! VALIDATION.md, held to itself and to the tests it speaks of: every row has its basis, the counts on top are those of the rows.

use std::{
    collections::BTreeMap,
    fs,
    path::{Path, PathBuf},
};

/// What a row may rest on, from the strongest to the weakest.
const BASES: [&str; 4] = ["observed", "independent", "script", "none"];

const HEAD: &str = "| check | basis | source | quantity | count | largest gap | tolerance |";

/// Signs in a test's text that it reads files of the reference set.
const READS_VECTORS: [&str; 4] = ["vectors", "BUDSWELL_VECTORS", "mod vector;", "mod reference;"];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize().unwrap()
}

fn validation() -> String {
    fs::read_to_string(root().join("VALIDATION.md")).unwrap()
}

/// A row of the table of checks.
struct Row {
    line: usize,
    file: String,
    basis: String,
}

/// The rows of the table of checks; a row that begins with `"` speaks of the file above it.
fn rows(text: &str) -> Vec<Row> {
    let first = text.lines().position(|line| line == HEAD);
    let first =
        first.unwrap_or_else(|| panic!("VALIDATION.md: the table of checks must begin with “{HEAD}”"));
    let mut rows: Vec<Row> = Vec::new();
    for (at, line) in text.lines().enumerate().skip(first + 2) {
        let Some(inside) = line.strip_prefix("| ").and_then(|line| line.strip_suffix(" |")) else { break };
        let (cells, line): (Vec<&str>, usize) = (inside.split(" | ").collect(), at + 1);
        assert_eq!(
            cells.len(),
            7,
            "VALIDATION.md line {line} has {} cells, not 7: {inside}\nA row is: check | basis | source | quantity | \
             count | largest gap | tolerance; the basis is one of {BASES:?}, as the table on top says",
            cells.len()
        );
        let file = match cells[0] {
            "\"" => rows.last().unwrap_or_else(|| panic!("line {line}: no row above")).file.clone(),
            named => named.trim_matches('`').to_string(),
        };
        rows.push(Row { line, file, basis: cells[1].to_string() });
    }
    assert!(rows.len() > 100, "only {} rows found: the reading of the table is broken", rows.len());
    rows
}

/// The counts printed on top, by basis.
fn printed(text: &str) -> BTreeMap<String, usize> {
    let found = text.lines().filter_map(|line| {
        let mut cells = line.strip_prefix("| ")?.split(" | ");
        let (basis, count) = (cells.next()?, cells.next()?);
        BASES.contains(&basis).then(|| (basis.to_string(), count.parse().expect("a count of rows")))
    });
    found.collect()
}

#[test]
fn every_row_has_a_basis_and_the_counts_on_top_are_right() {
    let text = validation();
    let mut counted: BTreeMap<String, usize> = BASES.map(|basis| (basis.to_string(), 0)).into();
    for Row { line, file, basis } in rows(&text) {
        let count = counted.get_mut(&basis);
        *count.unwrap_or_else(|| {
            panic!("VALIDATION.md line {line} ({file}): “{basis}” is none of {BASES:?}")
        }) += 1;
    }
    let printed = printed(&text);
    let say = |counts: &BTreeMap<String, usize>| {
        BASES.map(|basis| format!("{basis} {}", counts.get(basis).copied().unwrap_or(0))).join(", ")
    };
    assert!(
        printed == counted,
        "VALIDATION.md, table on top: printed {}; write {}",
        say(&printed),
        say(&counted)
    );
}

#[test]
fn every_row_names_a_test_that_is_there() {
    for Row { line, file, .. } in rows(&validation()) {
        let there = file.starts_with("crates/") && file.ends_with(".rs") && root().join(&file).is_file();
        assert!(there, "VALIDATION.md line {line}: there is no test {file}");
    }
}

/// Tests that only take the files of the reference set as seeds for damage compare nothing with them.
#[test]
fn every_test_that_reads_vectors_has_a_row() {
    let rows = rows(&validation());
    let (mut seen, mut lacking) = (0, Vec::new());
    for room in fs::read_dir(root().join("crates")).unwrap() {
        let room = room.unwrap().file_name().into_string().unwrap();
        let Ok(tests) = fs::read_dir(root().join("crates").join(&room).join("tests")) else { continue };
        for path in tests.map(|test| test.unwrap().path()) {
            let name = path.file_name().unwrap().to_str().unwrap();
            if !name.ends_with(".rs") || name.starts_with("never_panics") || name == "validation.rs" {
                continue;
            }
            let text = fs::read_to_string(&path).unwrap();
            if READS_VECTORS.iter().any(|sign| text.contains(sign)) {
                let shown = format!("crates/{room}/tests/{name}");
                seen += 1;
                if !rows.iter().any(|row| row.file == shown) {
                    lacking.push(shown);
                }
            }
        }
    }
    assert!(lacking.is_empty(), "VALIDATION.md has no row for {lacking:#?}");
    assert!(seen > 40, "only {seen} tests that read vectors found: the walk is broken");
}
