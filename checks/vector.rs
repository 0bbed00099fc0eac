//! Reading the check data, from the room's own `tests/vectors` or from the folder the environment names.
#![allow(dead_code, reason = "each check uses its own part")]

use std::{collections::BTreeMap, env, fs, path::PathBuf};

use serde_json::Value;

pub fn file(name: &str) -> PathBuf {
    let own = || PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/vectors"));
    env::var_os("BUDSWELL_VECTORS").map_or_else(own, PathBuf::from).join(name)
}

pub fn json(name: &str) -> Value {
    serde_json::from_str(&fs::read_to_string(file(name)).expect("the vectors are there")).unwrap()
}

pub fn table(name: &str) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::Reader::from_path(file(name)).expect("the vectors are there");
    reader.deserialize().map(|row| row.unwrap()).collect()
}

pub fn rows(value: &Value) -> &[Value] {
    value.as_array().expect("a list")
}

pub fn number(value: &Value, name: &str) -> f64 {
    value[name].as_f64().unwrap_or_else(|| panic!("{name} of {value}"))
}

/// How many figures agreed, and the largest gap among them.
#[derive(Default)]
pub struct Tally {
    pub count: u32,
    pub largest: f64,
}

impl Tally {
    #[track_caller]
    pub fn agrees(&mut self, ours: f64, stored: f64, tolerance: f64) {
        let gap = (ours - stored).abs();
        assert!(gap <= tolerance, "ours {ours}, stored {stored}, gap {gap:.1e}");
        (self.count, self.largest) = (self.count + 1, self.largest.max(gap));
    }

    pub fn tell(&self, what: &str) {
        println!("{what}: {} figures, largest gap {:.1e}", self.count, self.largest);
        assert!(self.count > 0, "{what}");
    }
}
