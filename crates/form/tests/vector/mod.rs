//! Reading the check data of this room.
#![allow(dead_code, unused_imports, reason = "each check uses its own part")]

use form::skeleton::{Edge, Segment, Skeleton};
use measure::quantity::{Degrees, Millimetre};
use serde_json::Value;

#[path = "../../../../checks/vector.rs"]
mod shared;

pub use shared::*;

/// Agreement to nine digits: the files store ten.
pub fn nine(stored: f64) -> f64 {
    1e-9 * stored.abs().max(1e-9)
}

/// Our own tree of eighteen segments, which checks of our own rules stand on whatever folder is read, with the names of its segments.
pub fn worked_tree() -> (Skeleton, Vec<String>) {
    let text = std::fs::read_to_string(own_file("form/orders.json")).expect("the worked tree is ours");
    tree_of(&serde_json::from_str(&text).expect("it is JSON"))
}

/// The tree of a file of orders, with the names of its segments.
pub fn tree_of(file: &Value) -> (Skeleton, Vec<String>) {
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
