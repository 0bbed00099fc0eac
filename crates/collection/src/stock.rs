//! Soil, mesh and wire in the shed, what they take to come, and what the grower's mixes are made of.

use jiff::civil::Date;
use measure::quantity::Millimetre;
use pot::table::Component;

/// Something that a repot uses up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Item {
    /// A component of a mix, in litres out of the bag.
    Soil(Component),
    /// Mesh, in square centimetres.
    Mesh,
    /// Tie wire of a gauge, in centimetres.
    Tie(Millimetre),
}

impl Item {
    /// The word used in files: `akadama`, `mesh`, `tie-2`.
    ///
    /// ```
    /// use collection::stock::Item;
    ///
    /// assert!(["akadama", "mesh", "tie-2.5"].iter().all(|key| Item::from_key(key).unwrap().key() == *key));
    /// assert!(Item::from_key("tie-0").is_none() && Item::from_key("peat").is_none());
    /// ```
    pub fn key(self) -> String {
        match self {
            Item::Soil(component) => component.key().to_string(),
            Item::Mesh => "mesh".to_string(),
            Item::Tie(gauge) => format!("tie-{}", gauge.0),
        }
    }

    /// The one that goes by this word.
    pub fn from_key(key: &str) -> Option<Item> {
        match key.strip_prefix("tie-") {
            Some(gauge) => {
                let gauge: f64 = gauge.parse().ok()?;
                (0.5..=8.0).contains(&gauge).then_some(Item::Tie(Millimetre(gauge)))
            }
            None if key == "mesh" => Some(Item::Mesh),
            None => Component::from_key(key).map(Item::Soil),
        }
    }

    /// The unit that its amounts are in.
    pub fn unit(self) -> &'static str {
        match self {
            Item::Soil(_) => "L",
            Item::Mesh => "cm²",
            Item::Tie(_) => "cm",
        }
    }
}

/// How much of an item stands in the shed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stock {
    /// What.
    pub item: Item,
    /// How much, in the item's unit.
    pub left: f64,
    /// How much a bag or a coil holds, where it is sold so.
    pub pack: Option<f64>,
    /// Days from the order to the door; none where nobody wrote it down.
    pub delivery: Option<u16>,
    /// When it was counted.
    pub day: Date,
}

/// What a mix is made of, by volume.
#[derive(Clone, Debug, PartialEq)]
pub struct Blend {
    /// The mix's key.
    pub mix: String,
    /// Each component with its parts.
    pub parts: Vec<(Component, f64)>,
}
