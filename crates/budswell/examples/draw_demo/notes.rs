//! What the demo's grower has written down about the limbs.

use std::fmt::Write;

use crate::{SITTERS, Sitter, wood::Built};

/// How much thicker a limb was read after a season: those let run more than those kept short.
fn growth(sitter: &Sitter, limb: u32) -> f64 {
    let runs =
        WISHES.iter().any(|it| it.0 == sitter.name && it.1 == limb && it.2 == 2025 && it.3 == "let-run");
    match (limb, runs) {
        (0, _) => 1.022,
        (_, true) => 1.19,
        _ => 1.035 + f64::from(limb % 3) * 0.008,
    }
}

/// Two autumns of diameters of trunk and main branches, to a tenth of a millimetre.
pub fn measured(sheet: &mut String, sitter: &Sitter, built: &Built) {
    for limb in built.limbs.iter().filter(|limb| limb.bearer.is_none_or(|bearer| bearer == 0)) {
        // The uppermost branches are too thin to be worth the caliper.
        if limb.number as usize + 2 > sitter.branches {
            continue;
        }
        for (day, factor) in [("2024-11-30", growth(sitter, limb.number)), ("2025-11-22", 1.0)] {
            let _ = writeln!(sheet, "{},{},{day},0,{:.1}", sitter.name, limb.number, limb.base / factor);
        }
    }
    let (name, trunk) = (sitter.name, &built.limbs[0]);
    let half = (trunk.seen_length() * 0.5).round();
    for (day, factor) in [("2024-11-30", 1.02), ("2025-11-22", 1.0)] {
        let _ = writeln!(sheet, "{name},0,{day},{half},{:.1}", (trunk.base + trunk.tip) * 0.5 / factor);
    }
}

/// Trees whose limbs are named and not traced yet.
const UNDRAWN: [&str; 10] = [
    "Trident on rock",
    "Slender trident",
    "Field maple",
    "Hedge thorn",
    "Lone larch",
    "Garden hornbeam",
    "Hedge elm",
    "Crab apple",
    "Scots pine",
    "Juniper cascade",
];

/// A trunk and four branches for each of these.
pub fn undrawn(sheet: &mut String) {
    for tree in UNDRAWN {
        let _ = writeln!(sheet, "{tree},0,,trunk,,20+,2024-11-30");
        for (number, name, clock) in
            [(1, "first left", 9), (2, "second right", 3), (3, "third back", 12), (4, "apex", 7)]
        {
            let _ = writeln!(sheet, "{tree},{number},0,{name},{clock},10-19,2024-11-30");
        }
    }
}

/// Tree, limb, season, wish, until which share of today's base, nodes, by, which shoots, why, made, ended, how it ended.
type Wished = (
    &'static str,
    u32,
    i16,
    &'static str,
    Option<f64>,
    &'static str,
    &'static str,
    &'static str,
    &'static str,
    &'static str,
    &'static str,
);

const WISHES: [Wished; 38] = [
    (
        "Old trident",
        0,
        2026,
        "keep-short",
        None,
        "2",
        "",
        "",
        "in refinement: what has no other wish is cut back to two nodes",
        "2026-02-15",
        "",
    ),
    ("Red lantern", 0, 2026, "keep-short", None, "2", "", "", "in refinement", "2026-02-20", ""),
    ("Broom elm", 0, 2026, "keep-short", None, "2", "", "", "in refinement", "2026-02-28", ""),
    ("Grey beech", 0, 2026, "keep-short", None, "2", "", "", "in refinement", "2026-03-05", ""),
    (
        "Old trident",
        2,
        2025,
        "let-run",
        Some(1.15),
        "",
        "",
        "",
        "right side is too thin for its height",
        "2025-02-20",
        "2025-11-22|thick enough for this year",
    ),
    (
        "Old trident",
        1,
        2025,
        "keep-short",
        None,
        "2",
        "",
        "",
        "already heavy",
        "2025-02-20",
        "2026-02-15|another was made",
    ),
    (
        "Old trident",
        9,
        2025,
        "remove",
        None,
        "",
        "2025-06-15",
        "",
        "straight up behind the apex",
        "2025-02-20",
        "2026-02-15|another was made",
    ),
    ("Old trident", 1, 2026, "keep-short", None, "2", "", "", "already heavy", "2026-02-15", ""),
    (
        "Old trident",
        2,
        2026,
        "let-run",
        Some(1.12),
        "",
        "",
        "",
        "one more season of running, then cut back to the second fork",
        "2026-02-15",
        "",
    ),
    (
        "Old trident",
        3,
        2026,
        "leave-alone",
        None,
        "",
        "",
        "",
        "gives the depth; weak after last year",
        "2026-02-15",
        "",
    ),
    (
        "Old trident",
        9,
        2026,
        "remove",
        None,
        "",
        "2026-06-15",
        "",
        "still there from last year: straight up behind the apex",
        "2026-02-15",
        "",
    ),
    (
        "Old trident",
        11,
        2026,
        "keep-short",
        None,
        "1",
        "",
        "",
        "the apex runs away from the rest",
        "2026-02-15",
        "",
    ),
    (
        "Old trident",
        13,
        2026,
        "thin",
        None,
        "",
        "2026-05-20",
        "keep the two outermost, take the fifth of the cluster",
        "five shoots on one knuckle",
        "2026-02-15",
        "",
    ),
    (
        "Red lantern",
        3,
        2025,
        "let-run",
        Some(1.1),
        "",
        "",
        "",
        "back branch must carry depth",
        "2025-03-02",
        "2026-02-20|another was made",
    ),
    (
        "Red lantern",
        4,
        2026,
        "let-run",
        Some(1.14),
        "",
        "",
        "",
        "thicken before it is bent",
        "2026-02-20",
        "",
    ),
    (
        "Red lantern",
        3,
        2026,
        "remove",
        None,
        "",
        "2026-06-20",
        "",
        "shades the one below; the sixth takes its place",
        "2026-02-20",
        "",
    ),
    ("Red lantern", 12, 2026, "keep-short", None, "1", "", "", "apex stays fine", "2026-02-20", ""),
    (
        "Red lantern",
        1,
        2026,
        "guy",
        None,
        "",
        "2026-05-10",
        "",
        "down by a hand's breadth, too thick for wire",
        "2026-02-20",
        "",
    ),
    (
        "Red lantern",
        5,
        2026,
        "shorten",
        None,
        "3",
        "2026-06-01",
        "",
        "longer than the branch below it",
        "2026-02-20",
        "",
    ),
    (
        "Mountain maple",
        1,
        2026,
        "let-run",
        Some(1.2),
        "",
        "",
        "",
        "counterweight to the lean",
        "2026-03-01",
        "",
    ),
    (
        "Mountain maple",
        2,
        2026,
        "wire",
        None,
        "",
        "2026-06-10",
        "",
        "level it before it hardens",
        "2026-03-01",
        "",
    ),
    ("Mountain maple", 5, 2026, "keep-short", None, "2", "", "", "", "2026-03-01", ""),
    ("Mountain maple", 9, 2026, "keep-short", None, "1", "", "", "apex stays fine", "2026-03-01", ""),
    ("Leaning thorn", 1, 2026, "leave-alone", None, "", "", "", "flower spurs for May", "2026-02-25", ""),
    ("Leaning thorn", 3, 2026, "shorten", None, "2", "2026-06-20", "", "after flowering", "2026-02-25", ""),
    (
        "Grey beech",
        2,
        2025,
        "let-run",
        Some(1.1),
        "",
        "",
        "",
        "thin for its height",
        "2025-03-10",
        "2026-03-05|another was made",
    ),
    (
        "Grey beech",
        2,
        2026,
        "let-run",
        Some(1.1),
        "",
        "",
        "",
        "thin for its height; beech answers once a year",
        "2026-03-05",
        "",
    ),
    ("Grey beech", 5, 2026, "keep-short", None, "2", "", "", "", "2026-03-05", ""),
    ("Grey beech", 7, 2026, "remove", None, "", "2026-03-31", "", "crosses the sixth", "2026-03-05", ""),
    ("Grey beech", 12, 2026, "keep-short", None, "1", "", "", "apex stays fine", "2026-03-05", ""),
    ("Broom elm", 4, 2026, "keep-short", None, "2", "", "", "", "2026-02-28", ""),
    ("Broom elm", 1, 2026, "keep-short", None, "2", "", "", "", "2026-02-28", ""),
    (
        "Broom elm",
        3,
        2026,
        "thin",
        None,
        "",
        "2026-05-15",
        "two of each cluster stay",
        "inside is dark",
        "2026-02-28",
        "",
    ),
    ("Stone elm", 2, 2026, "wire", None, "", "2026-05-15", "", "down and forward", "2026-03-08", ""),
    (
        "Stone elm",
        4,
        2026,
        "let-run",
        Some(1.15),
        "",
        "",
        "",
        "sacrifice for the trunk above the stone",
        "2026-03-08",
        "",
    ),
    (
        "Black pine",
        1,
        2026,
        "leave-alone",
        None,
        "",
        "",
        "",
        "weak side: keep every needle",
        "2026-03-10",
        "",
    ),
    (
        "Black pine",
        4,
        2026,
        "guy",
        None,
        "",
        "2026-04-30",
        "",
        "old wood, bend over two years",
        "2026-03-10",
        "",
    ),
    (
        "Black pine",
        10,
        2026,
        "keep-short",
        None,
        "",
        "",
        "",
        "candles of the apex are twice those below",
        "2026-03-10",
        "",
    ),
];

/// The sheet of wishes; thicknesses are shares of what the limbs measured in autumn.
pub fn wishes(all: &[Built]) -> String {
    let mut sheet = String::from("tree,limb,season,wish,until,nodes,by,which,why,made,ended,end\n");
    for (tree, limb, season, wish, until, nodes, by, which, why, made, ended) in WISHES {
        let at = SITTERS.iter().position(|sitter| sitter.name == tree).expect("a drawn tree");
        let base = all[at].limbs.iter().find(|it| it.number == limb).map_or(0.0, |it| it.base);
        let until = until.map_or_else(String::new, |share| format!("{:.0}", (base * share).round()));
        let (ended, end) = ended.split_once('|').unwrap_or(("", ""));
        let _ = writeln!(
            sheet,
            "{tree},{limb},{season},{wish},{until},{nodes},{by},\"{which}\",\"{why}\",{made},{ended},{end}"
        );
    }
    sheet
}

pub const FRONTS: &str = "tree,rank,clock,sideways,forward,why
Old trident,0,6,0,0,widest flare and the only clear view of the first curve
Old trident,1,7,3,2,hides the old scar on the right
Red lantern,0,6,0,0,
Mountain maple,0,6,-4,0,leans less than it did
Grey beech,0,6,0,0,
Stone elm,0,6,-3,4,brings the head over the stone
Stone elm,1,5,0,3,shows more of the stone
";

pub const AIMS: &str = "tree,high,trunk,words,needles,shown
Old trident,540,95,\"old, wide, calm; branches that divide early\",,
Red lantern,600,90,autumn colour in a fine crown,,
Mountain maple,420,58,wind from the left,,
Grey beech,660,85,a beech on a meadow,,
Broom elm,480,66,the fan of an old street tree,,
Black pine,600,100,,40,2026-11-14
";

pub const CUTS: &str = "tree,limb,day,kind,nodes,broke,buds,despite,note
Old trident,1,2025-06-02,trim,2,7,8,,
Old trident,11,2025-06-02,trim,1,3,4,,
Old trident,1,2025-07-20,trim,2,6,8,,second growth
Old trident,2,2025-11-22,shorten,4,,,,to the second fork
Red lantern,12,2025-05-28,pinch,1,5,6,,
Red lantern,5,2025-05-28,trim,2,4,6,,
Mountain maple,5,2025-06-08,trim,2,5,6,,
Mountain maple,9,2025-06-08,trim,1,2,4,,
Grey beech,5,2025-05-20,pinch,2,4,6,,
Broom elm,4,2025-06-01,trim,2,9,9,,
Broom elm,1,2025-06-01,trim,2,8,9,,
Broom elm,4,2025-08-03,trim,2,7,9,,
";

pub const WIRES: &str = "tree,limb,on,metal,gauge,strands,thick,bend,seen,off,outcome,grown_in,note
Stone elm,2,2026-04-30,aluminium,2.5,1,8.1,90,,,,no,
Stone elm,5,2026-05-12,aluminium,2,1,5.6,60,,,,no,
Mountain maple,3,2026-05-02,aluminium,2.5,1,7.4,80,,,,no,
Mountain maple,6,2025-06-10,aluminium,2,1,5.9,70,2025-07-30,2025-08-16,held,no,
Red lantern,7,2025-06-14,copper,2.05,1,7.8,90,2025-07-25,2025-08-09,marked,no,marks on the upper side
Old trident,6,2025-05-24,aluminium,3,1,9.8,120,2025-06-20,2025-07-05,sprang-back,no,too short a time
Old trident,7,2026-05-23,aluminium,3,2,11.5,140,,,,no,
Trident on rock,1,2026-05-03,aluminium,2.5,1,7.2,80,,,,no,
Trident on rock,2,2026-05-03,aluminium,2.5,1,6.8,80,,,,no,
Slender trident,1,2026-05-16,aluminium,1.5,1,4.1,50,,,,no,
Slender trident,2,2026-05-16,aluminium,1.5,1,3.8,50,,,,no,
Field maple,1,2026-04-26,aluminium,3,1,9.5,110,,,,no,
Field maple,3,2026-04-26,aluminium,2,1,5.2,70,,,,no,
Hedge thorn,1,2025-11-15,aluminium,3.5,1,11.0,160,,,,no,
Lone larch,1,2026-03-29,copper,2.59,1,9.2,110,,,,no,
Lone larch,2,2026-03-29,copper,2.59,1,8.8,110,,,,no,
Garden hornbeam,1,2026-04-12,aluminium,3,1,9.0,130,,,,no,
Garden hornbeam,2,2026-04-12,aluminium,3,1,8.6,130,,,,no,
Hedge elm,1,2026-05-05,aluminium,2.5,1,7.7,80,,,,no,
Hedge elm,2,2026-05-05,aluminium,2,1,6.0,80,,,,no,
Crab apple,2,2026-05-09,aluminium,2,1,6.3,90,,,,no,
Scots pine,1,2025-10-18,copper,2.59,1,10.4,140,2026-05-24,,,no,
Scots pine,2,2025-10-18,copper,2.59,1,9.7,140,,,,no,
Scots pine,3,2024-10-12,copper,3.26,1,13.0,160,2025-09-20,2025-10-04,held,yes,a turn grew in at the fork and stayed
Juniper cascade,1,2026-05-10,copper,3.26,2,18.0,220,,,,no,
Juniper cascade,2,2025-10-25,copper,2.05,1,8.4,120,,,,no,
Black pine,2,2025-11-08,copper,3.26,1,14.5,200,,,,no,
Black pine,3,2025-11-08,copper,2.59,1,11.0,160,,,,no,
";

pub const COILS: &str = "metal,gauge,grams
aluminium,1,180
aluminium,1.5,240
aluminium,2,90
aluminium,2.5,310
aluminium,3,60
aluminium,4,420
copper,2.05,150
copper,2.59,35
copper,3.26,260
";

pub const LAYERS: &str = "tree,limb,way,day,seen,roots,apart,child,lean,note
Field maple,4,air-layer,2026-06-02,2026-08-10,branched,,,,roots seen on the bag's shady side
Crab apple,3,air-layer,2026-05-30,2026-08-01,few,,,,a first white root
";

pub const WOUNDS: &str = "tree,limb,day,wide,sealed,closed,note
Old trident,0,2023-03-04,14,yes,,where the old second branch was
Old trident,2,2025-11-22,6.5,yes,,second fork
Red lantern,0,2024-11-16,9,yes,,
Broom elm,0,2022-02-26,11,yes,2025-09-14,
Grey beech,0,2024-02-10,16,no,,knife slipped at the collar
Hedge thorn,0,2025-02-22,8,yes,,
Hedge thorn,0,2026-02-21,12,no,,low shoot taken off
";
