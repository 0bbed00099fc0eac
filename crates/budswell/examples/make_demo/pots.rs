//! The demo's pots, mixes and crowns: one pot a tree, each of its own measures.

use std::fmt::Write;

/// One tree's pot and crown.
type Potting = (&'static str, [f64; 3], &'static str, char, [f64; 2]);

/// One tree's pot: its outline, length, width and height in cm, its wall, the mix it is filled with (f fine, s standard, o open), and the
/// crown's long and short way across in cm; in the order of the trees.
pub const POTS: [Potting; 42] = [
    ("oval", [46.0, 34.0, 8.0], "glazed", 's', [72.0, 61.0]),
    ("stadium", [38.0, 26.0, 6.0], "glazed", 's', [44.0, 40.0]),
    ("round", [24.0, 24.0, 7.0], "stoneware", 's', [30.0, 28.0]),
    ("oval", [52.0, 39.0, 9.0], "glazed", 's', [84.0, 70.0]),
    ("rounded-rectangle", [36.0, 27.0, 7.5], "glazed", 's', [52.0, 46.0]),
    ("oval", [33.0, 25.0, 6.5], "glazed", 's', [48.0, 45.0]),
    ("oval", [48.0, 33.0, 6.0], "glazed", 's', [66.0, 52.0]),
    ("rectangle", [30.0, 22.0, 8.0], "stoneware", 's', [42.0, 36.0]),
    ("rectangle", [21.0, 16.0, 6.0], "glazed", 'f', [26.0, 22.0]),
    ("round", [13.0, 13.0, 5.0], "glazed", 'f', [15.0, 14.0]),
    ("hexagon", [28.0, 28.0, 12.0], "glazed", 's', [40.0, 33.0]),
    ("round", [18.0, 18.0, 8.0], "glazed", 's', [24.0, 20.0]),
    ("rectangle", [42.0, 30.0, 11.0], "stoneware", 's', [58.0, 50.0]),
    ("oval", [22.0, 17.0, 6.0], "glazed", 'f', [28.0, 24.0]),
    ("stadium", [64.0, 40.0, 4.5], "glazed", 's', [78.0, 48.0]),
    ("rectangle", [40.0, 29.0, 10.0], "stoneware", 'o', [54.0, 46.0]),
    ("oval", [30.0, 22.0, 6.0], "stoneware", 's', [38.0, 30.0]),
    ("oval", [54.0, 40.0, 9.0], "glazed", 's', [80.0, 72.0]),
    ("rectangle", [34.0, 25.0, 8.0], "glazed", 's', [46.0, 40.0]),
    ("oval", [44.0, 32.0, 7.5], "glazed", 's', [60.0, 56.0]),
    ("rectangle", [39.0, 28.0, 9.0], "stoneware", 's', [56.0, 50.0]),
    ("stadium", [50.0, 34.0, 5.0], "glazed", 's', [58.0, 42.0]),
    ("oval", [26.0, 20.0, 6.5], "glazed", 's', [34.0, 30.0]),
    ("oval", [40.0, 30.0, 6.0], "glazed", 's', [64.0, 62.0]),
    ("round", [12.0, 12.0, 4.5], "glazed", 'f', [16.0, 15.0]),
    ("rectangle", [20.0, 15.0, 6.0], "glazed", 'f', [24.0, 22.0]),
    ("stadium", [36.0, 24.0, 5.5], "glazed", 's', [40.0, 34.0]),
    ("rectangle", [32.0, 24.0, 9.0], "stoneware", 's', [46.0, 38.0]),
    ("oval", [30.0, 23.0, 7.0], "glazed", 's', [40.0, 30.0]),
    ("oval", [34.0, 26.0, 7.5], "glazed", 's', [44.0, 42.0]),
    ("rectangle", [46.0, 33.0, 12.0], "earthenware", 's', [66.0, 58.0]),
    ("octagon", [30.0, 30.0, 11.0], "glazed", 's', [44.0, 42.0]),
    ("round", [26.0, 26.0, 8.0], "glazed", 's', [36.0, 32.0]),
    ("rectangle", [20.0, 15.0, 7.0], "stoneware", 'f', [26.0, 22.0]),
    ("round", [34.0, 34.0, 12.0], "glazed", 's', [48.0, 40.0]),
    ("rectangle", [44.0, 32.0, 12.0], "stoneware", 'o', [70.0, 58.0]),
    ("superellipse", [36.0, 28.0, 9.0], "stoneware", 'o', [56.0, 40.0]),
    ("hexagon", [24.0, 24.0, 22.0], "stoneware", 'o', [58.0, 34.0]),
    ("rectangle", [34.0, 25.0, 9.0], "stoneware", 'o', [46.0, 40.0]),
    ("oval", [22.0, 17.0, 7.0], "glazed", 's', [28.0, 26.0]),
    ("round", [27.0, 27.0, 13.0], "earthenware", 'o', [40.0, 36.0]),
    ("rectangle", [28.0, 20.0, 9.0], "glazed", 's', [44.0, 38.0]),
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
    for (name, (outline, [length, width, height], wall, mix, crown)) in names.zip(POTS) {
        let taper = if height > 15.0 { 0.8 } else { 0.9 };
        let (feet, thick) = (if length > 20.0 { 1.0 } else { 0.5 }, if length > 40.0 { 1.1 } else { 0.7 });
        let shape = match outline {
            "rounded-rectangle" => "3",
            "superellipse" => "3",
            _ => "",
        };
        // Two pots were filled with water and their holes taped.
        let measured = match name {
            "Old trident" => "6.0",
            "Stone elm" => "2.6",
            _ => "",
        };
        writeln!(
            all.pots,
            "Pot of {name},{outline},{length},{width},{height},{:.1},{:.1},{feet},{thick},{thick},0.6,{shape},{measured},{wall}",
            length * taper,
            width * taper
        )
        .expect("a string takes all");
        let mix = MIXES.iter().find(|(key, ..)| *key == mix).map_or("", |(_, name, _)| *name);
        writeln!(all.potted, "{name},2023-05-20,Pot of {name},{mix}").expect("a string takes all");
        writeln!(all.crowns, "{name},2024-07-14,{},{}", crown[0], crown[1]).expect("a string takes all");
        if crown[0] > 50.0 {
            writeln!(all.crowns, "{name},2026-06-21,{},{}", crown[0] + 4.0, crown[1] + 3.0)
                .expect("a string takes all");
        }
    }
    all
}
