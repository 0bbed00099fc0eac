//! The demo's pots, mixes and crowns: one pot a tree, each of its own measures, and the pots that stand empty.

use std::fmt::Write;

/// One tree's pot and crown.
type Potting = (&'static str, &'static str, [f64; 3], &'static str, char, [f64; 2]);

/// One tree's pot: its name, outline, length, width and height in cm, its wall, the mix it is filled with (f fine, s standard, o open), and the
/// crown's long and short way across in cm; in the order of the trees.
pub const POTS: [Potting; 42] = [
    ("Celadon oval 46 cm", "oval", [46.0, 34.0, 8.0], "glazed", 's', [72.0, 61.0]),
    ("Grey-blue oval 38 cm", "stadium", [38.0, 26.0, 6.0], "glazed", 's', [44.0, 40.0]),
    ("Brown round 24 cm", "round", [24.0, 24.0, 7.0], "stoneware", 's', [30.0, 28.0]),
    ("Iron-black oval 52 cm", "oval", [52.0, 39.0, 9.0], "glazed", 's', [84.0, 70.0]),
    ("Cream soft rectangle 36 cm", "rounded-rectangle", [36.0, 27.0, 7.5], "glazed", 's', [52.0, 46.0]),
    ("Pale blue oval 33 cm", "oval", [33.0, 25.0, 6.5], "glazed", 's', [48.0, 45.0]),
    ("Cream oval 48 cm", "oval", [48.0, 33.0, 6.0], "glazed", 's', [66.0, 52.0]),
    ("Brown rectangle 30 cm", "rectangle", [30.0, 22.0, 8.0], "stoneware", 's', [42.0, 36.0]),
    ("Cobalt rectangle 21 cm", "rectangle", [21.0, 16.0, 6.0], "glazed", 'f', [26.0, 22.0]),
    ("Turquoise round 13 cm", "round", [13.0, 13.0, 5.0], "glazed", 'f', [15.0, 14.0]),
    ("Copper-green hexagon 28 cm", "hexagon", [28.0, 28.0, 12.0], "glazed", 's', [40.0, 33.0]),
    ("Lavender round 18 cm", "round", [18.0, 18.0, 8.0], "glazed", 's', [24.0, 20.0]),
    ("Grey rectangle 42 cm", "rectangle", [42.0, 30.0, 11.0], "stoneware", 's', [58.0, 50.0]),
    ("Ochre oval 22 cm", "oval", [22.0, 17.0, 6.0], "glazed", 'f', [28.0, 24.0]),
    ("Moss-green tray 64 cm", "stadium", [64.0, 40.0, 4.5], "glazed", 's', [78.0, 48.0]),
    ("Brown rectangle 40 cm", "rectangle", [40.0, 29.0, 10.0], "stoneware", 'o', [54.0, 46.0]),
    ("Brown oval 30 cm", "oval", [30.0, 22.0, 6.0], "stoneware", 's', [38.0, 30.0]),
    ("Celadon oval 54 cm", "oval", [54.0, 40.0, 9.0], "glazed", 's', [80.0, 72.0]),
    ("Cream rectangle 34 cm", "rectangle", [34.0, 25.0, 8.0], "glazed", 's', [46.0, 40.0]),
    ("Ash-grey oval 44 cm", "oval", [44.0, 32.0, 7.5], "glazed", 's', [60.0, 56.0]),
    ("Grey rectangle 39 cm", "rectangle", [39.0, 28.0, 9.0], "stoneware", 's', [56.0, 50.0]),
    ("Cream tray 50 cm", "stadium", [50.0, 34.0, 5.0], "glazed", 's', [58.0, 42.0]),
    ("Celadon oval 26 cm", "oval", [26.0, 20.0, 6.5], "glazed", 's', [34.0, 30.0]),
    ("Pale green oval 40 cm", "oval", [40.0, 30.0, 6.0], "glazed", 's', [64.0, 62.0]),
    ("Cobalt round 12 cm", "round", [12.0, 12.0, 4.5], "glazed", 'f', [16.0, 15.0]),
    ("Iron-black rectangle 20 cm", "rectangle", [20.0, 15.0, 6.0], "glazed", 'f', [24.0, 22.0]),
    ("Ochre oval 36 cm", "stadium", [36.0, 24.0, 5.5], "glazed", 's', [40.0, 34.0]),
    ("Red-brown rectangle 32 cm", "rectangle", [32.0, 24.0, 9.0], "stoneware", 's', [46.0, 38.0]),
    ("Iron-red oval 30 cm", "oval", [30.0, 23.0, 7.0], "glazed", 's', [40.0, 30.0]),
    ("Celadon oval 34 cm", "oval", [34.0, 26.0, 7.5], "glazed", 's', [44.0, 42.0]),
    ("Earthen rectangle 46 cm", "rectangle", [46.0, 33.0, 12.0], "earthenware", 's', [66.0, 58.0]),
    ("Copper-green octagon 30 cm", "octagon", [30.0, 30.0, 11.0], "glazed", 's', [44.0, 42.0]),
    ("Turquoise round 26 cm", "round", [26.0, 26.0, 8.0], "glazed", 's', [36.0, 32.0]),
    ("Grey rectangle 20 cm", "rectangle", [20.0, 15.0, 7.0], "stoneware", 'f', [26.0, 22.0]),
    ("Cobalt round 34 cm", "round", [34.0, 34.0, 12.0], "glazed", 's', [48.0, 40.0]),
    ("Brown rectangle 44 cm", "rectangle", [44.0, 32.0, 12.0], "stoneware", 'o', [70.0, 58.0]),
    ("Grey mokko 36 cm", "superellipse", [36.0, 28.0, 9.0], "stoneware", 'o', [56.0, 40.0]),
    ("Tall brown hexagon 24 cm", "hexagon", [24.0, 24.0, 22.0], "stoneware", 'o', [58.0, 34.0]),
    ("Red-brown rectangle 34 cm", "rectangle", [34.0, 25.0, 9.0], "stoneware", 'o', [46.0, 40.0]),
    ("Celadon oval 22 cm", "oval", [22.0, 17.0, 7.0], "glazed", 's', [28.0, 26.0]),
    ("Earthen round 27 cm", "round", [27.0, 27.0, 13.0], "earthenware", 'o', [40.0, 36.0]),
    ("Cobalt rectangle 28 cm", "rectangle", [28.0, 20.0, 9.0], "glazed", 's', [44.0, 38.0]),
];

/// Pots that stand empty, and at the end the training boxes: name, outline, length, width and height in cm, wall.
#[rustfmt::skip]
pub const EMPTY: [(&str, &str, [f64; 3], &str); 23] = [
    ("Black soft rectangle 37 cm", "rounded-rectangle", [37.0, 27.0, 8.0], "glazed"),
    ("Dark rectangle 44 cm", "rectangle", [44.0, 32.0, 11.0], "stoneware"),
    ("Grey slab 70 cm", "superellipse", [70.0, 42.0, 3.6], "stoneware"),
    ("Grey rectangle 50 cm", "rectangle", [50.0, 36.0, 13.0], "stoneware"),
    ("Lavender oval 24 cm", "oval", [24.0, 18.0, 6.5], "glazed"),
    ("Brown oval 24 cm", "oval", [24.0, 19.0, 7.5], "stoneware"),
    ("Moss oval 42 cm", "oval", [42.0, 31.0, 9.5], "glazed"),
    ("Cobalt square 6 cm", "rectangle", [6.0, 6.0, 4.5], "glazed"),
    ("Ochre drum 10 cm", "round", [10.0, 10.0, 7.0], "glazed"),
    ("Tall brown square 16 cm", "rectangle", [16.0, 16.0, 24.0], "stoneware"),
    ("Copper-green hexagon 20 cm", "hexagon", [20.0, 20.0, 9.0], "glazed"),
    ("Celadon mokko 28 cm", "superellipse", [28.0, 22.0, 6.0], "glazed"),
    ("White free form 22 cm", "superellipse", [22.0, 19.0, 7.0], "stoneware"),
    ("Cobalt round 45 cm", "round", [45.0, 45.0, 14.0], "glazed"),
    ("Pale blue oval 60 cm", "oval", [60.0, 45.0, 10.0], "glazed"),
    ("Iron-red rectangle 38 cm", "rectangle", [38.0, 27.0, 8.0], "glazed"),
    ("Water bowl 40 cm", "oval", [40.0, 30.0, 6.0], "glazed"),
    ("Earthen rectangle 34 cm", "rectangle", [34.0, 26.0, 9.0], "earthenware"),
    ("Training box 18 cm", "rectangle", [18.0, 14.0, 9.0], "earthenware"),
    ("Training box 26 cm", "rectangle", [26.0, 20.0, 10.0], "earthenware"),
    ("Training box 36 cm", "rectangle", [36.0, 28.0, 12.0], "earthenware"),
    ("Training box 50 cm", "rectangle", [50.0, 38.0, 14.0], "earthenware"),
    ("Training box 64 cm", "rectangle", [64.0, 50.0, 16.0], "earthenware"),
];

/// Pots that were filled with water, their holes taped: litres to the rim.
const MEASURED: [(&str, &str); 5] = [
    ("Celadon oval 46 cm", "6.0"),
    ("Ochre oval 36 cm", "2.6"),
    ("Dark rectangle 44 cm", "9.8"),
    ("Copper-green hexagon 20 cm", "1.9"),
    ("Lavender oval 24 cm", "1.25"),
];

/// Key letter, name and line of each mix; the standard mix went through the bucket.
const MIXES: [(char, &str, &str); 3] = [
    ('f', "Fine mix", "1,3,,,,,,"),
    ('s', "Standard mix", "3,6,12,2,1180,2480,1900,0.22"),
    ('o', "Open mix", "4,9,,,,,,"),
];

/// The four sheets: pots, mixes, trees in pots, crowns.
pub struct Sheets {
    pub pots: String,
    pub mixes: String,
    pub potted: String,
    pub crowns: String,
}

/// What each sheet holds for trees of these names, in their order.
pub fn sheets<'a>(names: impl Iterator<Item = &'a str>) -> Sheets {
    let mut all = Sheets {
        pots: "name,outline,length,width,height,bottom_length,bottom_width,feet,floor,thick,gap,shape,measured,wall\n".into(),
        mixes: "name,grain_low,grain_high,height,volume,dry,flooded,drained,inside\n".into(),
        potted: "tree,day,pot,mix\n".into(),
        crowns: "tree,day,length,width\n".into(),
    };
    for (_, name, line) in MIXES {
        writeln!(all.mixes, "{name},{line}").expect("a string takes all");
    }
    for (tree, (name, outline, size, wall, mix, crown)) in names.zip(POTS) {
        all.pots.push_str(&line(name, outline, size, wall));
        let mix = MIXES.iter().find(|(key, ..)| *key == mix).map_or("", |(_, name, _)| *name);
        writeln!(all.potted, "{tree},2023-05-20,{name},{mix}").expect("a string takes all");
        writeln!(all.crowns, "{tree},2024-07-14,{},{}", crown[0], crown[1]).expect("a string takes all");
        if crown[0] > 50.0 {
            writeln!(all.crowns, "{tree},2026-06-21,{},{}", crown[0] + 4.0, crown[1] + 3.0)
                .expect("a string takes all");
        }
    }
    for (name, outline, size, wall) in EMPTY {
        all.pots.push_str(&line(name, outline, size, wall));
    }
    all
}

/// One line of the sheet of pots.
fn line(name: &str, outline: &str, [length, width, height]: [f64; 3], wall: &str) -> String {
    let taper = if height > 15.0 { 0.8 } else { 0.9 };
    let feet = match (length, height) {
        (_, height) if height < 4.0 => 0.4,
        (length, _) if length > 20.0 => 1.0,
        _ => 0.5,
    };
    let thick = match length {
        length if length > 40.0 => 1.1,
        length if length > 10.0 => 0.7,
        _ => 0.4,
    };
    let shape = match outline {
        "rounded-rectangle" | "superellipse" => "3",
        _ => "",
    };
    let measured = MEASURED.iter().find(|(pot, _)| *pot == name).map_or("", |(_, litres)| *litres);
    format!(
        "{name},{outline},{length},{width},{height},{:.1},{:.1},{feet},{thick},{thick},0.6,{shape},{measured},{wall}\n",
        length * taper,
        width * taper
    )
}

/// Mix in which each tree stands, and its pot, by the rank of the tree.
pub fn stands(rank: usize) -> (&'static str, &'static str) {
    let (pot, _, _, _, mix, _) = POTS[rank];
    (pot, MIXES.iter().find(|(key, ..)| *key == mix).map_or("", |(_, name, _)| *name))
}
