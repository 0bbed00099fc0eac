//! Draws the demo's trees: invented skeletons, pictures of them that stand in for photos, the lines traced on these, and two seasons
//! of diameters, wishes, cuts, wires and layers.
//!
//! Run with `cargo run -p budswell --example draw_demo`. It takes seconds, and the same seed makes the same files on every machine.

mod notes;
mod paint;
mod wood;

use std::{fmt::Write, fs, path::Path};

use wood::{Built, build};

/// One drawn tree: its name, its taxon, its height and the thickness of its trunk in mm, its way of growing, its number of branches, its pot's
/// length and height in cm.
#[allow(missing_docs)]
pub struct Sitter {
    pub name: &'static str,
    pub key: &'static str,
    pub taxon: &'static str,
    pub high: f64,
    pub trunk: f64,
    pub way: Way,
    pub branches: usize,
    pub pot: [f64; 2],
}

/// How a tree grows.
#[derive(Clone, Copy, PartialEq)]
pub enum Way {
    /// A moving trunk with branches in turn.
    Curved,
    /// A straight trunk that splits into a fan.
    Broom,
    /// A trunk that leans.
    Leaning,
    /// A pine: level branches.
    Level,
}

/// The trees that are drawn, in the order of the collection.
pub const SITTERS: [Sitter; 8] = [
    Sitter {
        name: "Old trident",
        key: "old-trident",
        taxon: "acer-buergerianum",
        high: 520.0,
        trunk: 88.0,
        way: Way::Curved,
        branches: 11,
        pot: [46.0, 8.0],
    },
    Sitter {
        name: "Red lantern",
        key: "red-lantern",
        taxon: "acer-palmatum",
        high: 610.0,
        trunk: 82.0,
        way: Way::Curved,
        branches: 12,
        pot: [52.0, 9.0],
    },
    Sitter {
        name: "Mountain maple",
        key: "mountain-maple",
        taxon: "acer-palmatum",
        high: 430.0,
        trunk: 52.0,
        way: Way::Leaning,
        branches: 9,
        pot: [36.0, 7.5],
    },
    Sitter {
        name: "Leaning thorn",
        key: "leaning-thorn",
        taxon: "crataegus-monogyna",
        high: 260.0,
        trunk: 38.0,
        way: Way::Leaning,
        branches: 8,
        pot: [22.0, 6.0],
    },
    Sitter {
        name: "Grey beech",
        key: "grey-beech",
        taxon: "fagus-sylvatica",
        high: 680.0,
        trunk: 78.0,
        way: Way::Curved,
        branches: 12,
        pot: [54.0, 9.0],
    },
    Sitter {
        name: "Broom elm",
        key: "broom-elm",
        taxon: "zelkova-serrata",
        high: 480.0,
        trunk: 64.0,
        way: Way::Broom,
        branches: 9,
        pot: [40.0, 6.0],
    },
    Sitter {
        name: "Stone elm",
        key: "stone-elm",
        taxon: "ulmus-parvifolia",
        high: 330.0,
        trunk: 50.0,
        way: Way::Curved,
        branches: 9,
        pot: [36.0, 5.5],
    },
    Sitter {
        name: "Black pine",
        key: "black-pine",
        taxon: "pinus-thunbergii",
        high: 620.0,
        trunk: 92.0,
        way: Way::Level,
        branches: 10,
        pot: [44.0, 12.0],
    },
];

/// The day of the photos.
const DAY: &str = "2025-12-14";

/// The day of the older photo of the first tree.
const DAY_BEFORE: &str = "2024-12-08";

fn main() -> std::io::Result<()> {
    let out = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
    fs::create_dir_all(out.join("photos"))?;
    let mut limbs = String::from("tree,number,bearer,name,clock,tips,since\n");
    let mut traces = String::from("photo,limb,points\n");
    let mut scales = String::from("photo,scale,soil\n");
    let mut calipers = String::from("tree,limb,day,along,thick\n");
    let all: Vec<Built> =
        SITTERS.iter().enumerate().map(|(at, sitter)| build(sitter, at as u64 + 5)).collect();
    for (at, (sitter, built)) in SITTERS.iter().zip(&all).enumerate() {
        write_limbs(&mut limbs, sitter, built);
        notes::measured(&mut calipers, sitter, built);
        let days = if at == 0 { vec![DAY_BEFORE, DAY] } else { vec![DAY] };
        for day in days {
            let frame = paint::Frame::of(sitter, built);
            let key = format!("{}-{day}", sitter.key);
            let younger = day == DAY_BEFORE;
            fs::write(
                out.join("photos").join(format!("{key}.jpg")),
                paint::picture(sitter, built, &frame, younger),
            )?;
            let (from, to) = frame.rim(sitter);
            let _ =
                writeln!(scales, "{key},\"line {from} {to} {}\",{:.1}", sitter.pot[0] * 10.0, frame.soil());
            for limb in &built.limbs {
                let spots: Vec<String> = limb.points.iter().map(|place| frame.spot(*place)).collect();
                let _ = writeln!(traces, "{key},{},\"{}\"", limb.number, spots.join(" "));
            }
        }
    }
    notes::undrawn(&mut limbs);
    for (name, text) in [
        ("limbs.csv", limbs),
        ("traces.csv", traces),
        ("scales.csv", scales),
        ("calipers.csv", calipers),
        ("fronts.csv", notes::FRONTS.into()),
        ("aims.csv", notes::AIMS.into()),
        ("intentions.csv", notes::wishes(&all)),
        ("cuts.csv", notes::CUTS.into()),
        ("wires.csv", notes::WIRES.into()),
        ("coils.csv", notes::COILS.into()),
        ("layers.csv", notes::LAYERS.into()),
        ("wounds.csv", notes::WOUNDS.into()),
    ] {
        fs::write(out.join(name), text)?;
    }
    Ok(())
}

fn write_limbs(sheet: &mut String, sitter: &Sitter, built: &Built) {
    for limb in &built.limbs {
        let bearer = limb.bearer.map_or_else(String::new, |bearer| bearer.to_string());
        let clock = limb.clock.map_or_else(String::new, |hour| hour.to_string());
        let (name, number, tips) = (&limb.name, limb.number, limb.tips);
        let _ = writeln!(sheet, "{},{number},{bearer},{name},{clock},{tips},2024-11-30", sitter.name);
    }
}
