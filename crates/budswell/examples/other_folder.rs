//! Makes other folders of the reference set's layout out of our own check data, for `checks/other_folder`.
//!
//! `list` prints the files, their tests and that figure, `whole DIR` copies all, `half DIR` drops the last half of every list of
//! cases, `renamed DIR` gives stations, segments and keys other names, and `wrong FILE DIR` copies all and makes one expected figure of
//! one file wrong. Which lists and which figure: `checks/read.csv`.

use std::{
    collections::BTreeMap,
    env,
    error::Error,
    fs,
    path::{Path, PathBuf},
};

use serde_json::Value;

type Done = Result<(), Box<dyn Error>>;

/// What another set may call by other names: in texts, and in the names of files.
const NAMES: [(&str, &str); 4] = [
    ("Seoul", "Harbour"),
    ("seoul", "harbour"),
    ("\"p1a\"", "\"limb\""),
    ("published_from_memory", "published"),
];

struct Row {
    tests: String,
    cases: String,
    figure: String,
    /// Where our own copy stands.
    own: PathBuf,
}

/// The files that tests read, each from the first room that has it.
fn list(root: &Path) -> Result<BTreeMap<String, Row>, Box<dyn Error>> {
    let mut rows = BTreeMap::new();
    for row in csv::Reader::from_path(root.join("checks/read.csv"))?.records() {
        let row = row?;
        let Some(test) = row[1].split(';').find(|test| !test.is_empty()) else { continue };
        let room = Path::new(test).ancestors().nth(2).ok_or("a test stands in a room")?;
        let own = root.join(room).join("tests/vectors").join(&row[0]);
        rows.insert(
            row[0].to_string(),
            Row { tests: row[1].to_string(), cases: row[3].to_string(), figure: row[4].to_string(), own },
        );
    }
    Ok(rows)
}

fn write(folder: &Path, name: &str, bytes: &[u8]) -> Done {
    let path = folder.join(name);
    fs::create_dir_all(path.parent().ok_or("a file stands in a folder")?)?;
    Ok(fs::write(path, bytes)?)
}

fn records(text: &[u8]) -> Result<Vec<csv::StringRecord>, csv::Error> {
    csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text).records().collect()
}

fn sheet(records: &[csv::StringRecord]) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
    for record in records {
        writer.write_record(record)?;
    }
    Ok(writer.into_inner()?)
}

/// The first half of a list or of an object's fields; of one, the one.
fn halved(value: &mut Value) {
    match value {
        Value::Array(list) => list.truncate(list.len().div_ceil(2)),
        Value::Object(fields) => {
            let keep = fields.len().div_ceil(2);
            *fields = std::mem::take(fields).into_iter().take(keep).collect();
        }
        _ => {}
    }
}

fn half(name: &str, row: &Row) -> Result<Vec<u8>, Box<dyn Error>> {
    let bytes = fs::read(&row.own)?;
    if row.cases.is_empty() {
        return Ok(bytes);
    }
    if name.ends_with(".csv") {
        let mut all = records(&bytes)?;
        all.truncate(1 + (all.len() - 1).div_ceil(2));
        return sheet(&all);
    }
    let mut value: Value = serde_json::from_slice(&bytes)?;
    if row.cases == "rows" {
        halved(&mut value);
    } else {
        for pointer in row.cases.split(';') {
            halved(value.pointer_mut(pointer).ok_or_else(|| format!("{name} has no {pointer}"))?);
        }
    }
    Ok(serde_json::to_vec_pretty(&value)?)
}

fn wrong(name: &str, row: &Row) -> Result<Vec<u8>, Box<dyn Error>> {
    let bytes = fs::read(&row.own)?;
    if name.ends_with(".csv") {
        let mut all = records(&bytes)?;
        let (line, column) = row.figure.split_once('/').ok_or("row/column")?;
        let record = &mut all[1 + line.parse::<usize>()?];
        let column: usize = column.parse()?;
        let changed = format!("{}", record[column].parse::<f64>()? * 1.375 + 1.0);
        *record =
            record.iter().enumerate().map(|(at, cell)| if at == column { &changed } else { cell }).collect();
        return sheet(&all);
    }
    let mut value: Value = serde_json::from_slice(&bytes)?;
    let figure = value.pointer_mut(&row.figure).ok_or_else(|| format!("{name} has no {}", row.figure))?;
    *figure = match figure.as_i64() {
        Some(whole) => Value::from(whole + 1),
        None => Value::from(figure.as_f64().ok_or("a number")? * 1.375 + 1.0),
    };
    Ok(serde_json::to_vec_pretty(&value)?)
}

fn renamed(text: &str) -> String {
    NAMES.iter().fold(text.to_string(), |text, (from, to)| text.replace(from, to))
}

fn main() -> Done {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).ancestors().nth(2).ok_or("crates/budswell")?;
    let list = list(root)?;
    let words: Vec<String> = env::args().skip(1).collect();
    match words.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        ["list"] => {
            for (name, row) in &list {
                println!("{name}\t{}\t{}", row.tests, row.figure);
            }
        }
        ["whole", folder] => {
            for (name, row) in &list {
                write(Path::new(folder), name, &fs::read(&row.own)?)?;
            }
        }
        ["half", folder] => {
            for (name, row) in &list {
                write(Path::new(folder), name, &half(name, row)?)?;
            }
        }
        ["renamed", folder] => {
            for (name, row) in &list {
                let bytes = fs::read(&row.own)?;
                let bytes =
                    String::from_utf8(bytes.clone()).map_or(bytes, |text| renamed(&text).into_bytes());
                write(Path::new(folder), &renamed(name), &bytes)?;
            }
        }
        ["wrong", file, folder] => {
            for (name, row) in &list {
                let bytes = if name == file { wrong(name, row)? } else { fs::read(&row.own)? };
                write(Path::new(folder), name, &bytes)?;
            }
        }
        _ => return Err("other_folder list | whole DIR | half DIR | renamed DIR | wrong FILE DIR".into()),
    }
    Ok(())
}
