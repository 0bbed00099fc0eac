//! What each taxon needs to wake, fitted to everything that was dated and to nothing in pots but three kinds of sapling.

use std::{collections::HashMap, sync::LazyLock};

use measure::sourced::Standing;

use crate::{
    ladder::Rungs,
    wake::{FULL_COLD, Release, Wake},
};

/// How a taxon's need is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measured {
    /// Dated on trees that stood outdoors.
    Outdoors {
        /// Springs of a place, or treatments.
        springs: u32,
    },
    /// Dated on cut twigs in chambers alone.
    Chambers {
        /// Treatments.
        treatments: u32,
    },
    /// Others of its genus were dated.
    Genus,
    /// None of its genus was: by its place in the order of waking.
    Order,
}

/// How a taxon wakes, with the doubt about it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Needs {
    /// The taxon's key, or the botanical name of one that is none of ours.
    pub name: &'static str,
    /// Need, slowing, light and release.
    pub wake: Wake,
    /// Standard deviation of the logarithm of the need.
    pub log_sd: f64,
    /// Where its stages lie.
    pub rungs: Rungs,
    /// How it is known.
    pub measured: Measured,
}

/// What a lack of cold makes of the heat needed where a taxon counts as short of it: half as much again.
const SHORT: f64 = 1.5;

/// Least and most portions that a taxon is said to need: below and above no chamber tells.
const SAID: [f64; 2] = [10.0, 90.0];

impl Needs {
    /// The needs of a taxon by its key or botanical name; of another species of a genus that was dated, that of no species.
    ///
    /// ```
    /// use dormancy::needs::Needs;
    ///
    /// let beech = Needs::of("fagus-sylvatica").unwrap();
    /// assert!(beech.wake.light > 0.2 && Needs::of("fagus-crenata").unwrap().wake.light < 0.15);
    /// assert!(Needs::of("Quercus rubra").is_some() && Needs::of("ficus-microcarpa").is_none());
    /// ```
    pub fn of(name: &str) -> Option<&'static Needs> {
        TABLE.get(name)
    }

    /// Chill portions under which its buds need half as much heat again, or which release it.
    ///
    /// ```text
    /// C = 115 − 10 · ln 1.5 / s,   held between 10 and 90
    /// ```
    pub fn cold(&self) -> f64 {
        if let Release::Cold(portions) = self.wake.release {
            return portions;
        }
        let [least, most] = SAID;
        (FULL_COLD - 10.0 * SHORT.ln() / self.wake.slope.max(1e-3)).clamp(least, most)
    }

    /// How far its figures are to be trusted.
    pub fn standing(&self) -> Standing {
        Standing::Estimate(match self.measured {
            Measured::Outdoors { .. } => "fitted by us to springs of trees outdoors, not to pots",
            Measured::Chambers { .. } => "fitted by us to cut twigs in chambers, not to trees in pots",
            Measured::Genus => "of its genus, fitted by us; this kind itself was never dated",
            Measured::Order => "by its place in the order of waking; no kind of its genus was ever dated",
        })
    }

    /// The standing in a grower's words.
    ///
    /// ```
    /// use dormancy::needs::Needs;
    ///
    /// let words = Needs::of("quercus-robur").unwrap().words();
    /// assert!(words.starts_with("measured on trees outdoors"), "{words}");
    /// ```
    pub fn words(&self) -> String {
        match self.measured {
            Measured::Outdoors { springs } => {
                format!("measured on trees outdoors ({springs} springs or treatments), not on bonsai in pots")
            }
            Measured::Chambers { treatments } => {
                format!("measured on cut twigs in warm chambers ({treatments} treatments), never on a tree in a pot")
            }
            Measured::Genus => "never measured itself; taken from its relatives in the genus, so the days are wide".into(),
            Measured::Order => {
                "never measured, nor any of its genus; set by its usual place in the order of waking, so the days are very wide"
                    .into()
            }
        }
    }
}

/// The generated file: `cargo run -p dormancy --example fit_needs` writes it.
const FILE: &str = include_str!("needs.csv");

static TABLE: LazyLock<HashMap<&'static str, Needs>> = LazyLock::new(|| {
    let mut table = HashMap::new();
    for line in FILE.lines().skip(1) {
        if let Some((needs, botanical)) = row(line) {
            table.entry(botanical).or_insert(needs);
            table.insert(needs.name, needs);
        }
    }
    table
});

/// One line of the file; none where it is not as the fit writes it, which `tests/needs.rs` rules out.
fn row(line: &'static str) -> Option<(Needs, &'static str)> {
    let cells: Vec<&'static str> = line.split(',').collect();
    let [
        name,
        botanical,
        need,
        log_sd,
        slope,
        light,
        release,
        portions,
        swelling,
        full,
        share_sd,
        standing,
        chambers,
        outdoors,
    ] = cells[..]
    else {
        return None;
    };
    let number = |cell: &str| cell.parse::<f64>().ok();
    let count = |cell: &str| cell.parse::<u32>().ok();
    let wake = Wake {
        need: number(need)?,
        slope: number(slope)?,
        light: number(light)?,
        release: match release {
            "day" => Release::Day,
            "cold" => Release::Cold(number(portions)?),
            "either" => Release::Either(number(portions)?),
            _ => return None,
        },
    };
    let measured = match standing {
        "ground" => Measured::Outdoors { springs: count(outdoors)? },
        "chambers" => Measured::Chambers { treatments: count(chambers)? },
        "genus" => Measured::Genus,
        "order" => Measured::Order,
        _ => return None,
    };
    let rungs = Rungs::new(wake.need, number(swelling)?, number(full)?, number(share_sd)?);
    Some((Needs { name, wake, log_sd: number(log_sd)?, rungs, measured }, botanical))
}
