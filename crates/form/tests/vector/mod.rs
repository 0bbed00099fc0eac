//! Reading the check data, from this folder or from the one the environment names.
#![allow(dead_code, reason = "each check uses its own part")]

use std::{collections::BTreeMap, env, fs, path::PathBuf};

use form::skeleton::{Edge, Segment, Skeleton};
use measure::quantity::{Degrees, Millimetre};
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

/// Agreement to nine digits: the files store ten.
pub fn nine(stored: f64) -> f64 {
    1e-9 * stored.abs().max(1e-9)
}

/// The tree of eighteen segments that most checks stand on, with the names of its segments.
pub fn worked_tree() -> (Skeleton, Vec<String>) {
    let file = json("form/orders.json");
    let mut names: Vec<String> = Vec::new();
    let mut axes: Vec<u32> = Vec::new();
    let mut segments = Vec::new();
    for row in rows(&file["segments"]) {
        let bearer = row["parent"].as_str().map(|name| names.iter().position(|own| own == name).unwrap());
        let edge = match row["edge"].as_str().unwrap() {
            "/" => Edge::Root,
            "<" => Edge::Follows,
            "+" => Edge::Branches,
            other => panic!("no edge {other}"),
        };
        let axis = match edge {
            Edge::Follows => axes[bearer.unwrap()],
            _ => axes.iter().max().map_or(1, |axis| axis + 1),
        };
        names.push(row["id"].as_str().unwrap().to_string());
        axes.push(axis);
        segments.push(Segment {
            bearer,
            edge,
            axis,
            length: Millimetre(number(row, "length")),
            base: Millimetre(number(row, "d_base")),
            tip: Millimetre(number(row, "d_tip")),
            azimuth: Degrees(number(row, "azimuth_deg")),
            inclination: Degrees(number(row, "inclination_deg")),
        });
    }
    (Skeleton::new(segments).unwrap(), names)
}
