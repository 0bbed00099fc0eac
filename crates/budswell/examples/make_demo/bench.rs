//! The demo's bench: repots with what was found, looks into pots, what is meant, what was promised, what trees had to bear, the shed.

use std::fmt::Write;

use crate::{Dice, TREES, pots};

/// Meant for a season: tree, season, repot, share to cut, mix, whether a pot is wanted, why.
const MEANT: &str = "\
tree,season,repot,cut,mix,show,why
Old trident,2025,yes,0.37,Standard mix,yes,
Mountain maple,2025,yes,0.3,Standard mix,yes,
Black pine,2025,yes,0.3,Open mix,yes,roots at the holes
Ginkgo,2025,no,,,yes,moved to June when the buds were late
Red lantern,2026,yes,0.35,Standard mix,yes,to stand in celadon again
Grey beech,2026,yes,0.35,Standard mix,yes,\"the dark oval suits its weight; one size less, so cut more than usual\"
Little lime,2026,yes,0.25,Standard mix,yes,a larger pot was bought for it
River birch,2026,yes,0.3,Standard mix,yes,
Lone larch,2026,yes,0.25,Open mix,yes,outgrew its pot
Scots pine,2026,yes,0.2,Open mix,yes,
Yew,2026,yes,0.3,Open mix,yes,rocks in the wind
Oak from seed,2026,yes,0.25,Standard mix,yes,its pot flakes
Winter quince,2026,yes,0.3,Fine mix,yes,
Trident on rock,2026,yes,0.5,Standard mix,yes,stays where its rock was fitted
Broom elm,2026,yes,0.4,Standard mix,yes,
Stone elm,2026,yes,0.3,Standard mix,yes,water stands; lean it as agreed and set it lower
Small zelkova,2026,yes,0.45,Fine mix,no,into a box to thicken
Sleeping beech,2026,no,,,yes,woken in the kitchen; leave it alone
Garden hornbeam,2026,yes,0.25,Standard mix,yes,a softer pot was found for it
Old trident,2027,yes,0.35,Standard mix,yes,
Red lantern,2027,yes,0.35,Standard mix,yes,put off: the spring was too short for a swap
Grey beech,2027,yes,0.35,Standard mix,yes,put off with the lantern
Little lime,2027,yes,0.25,Standard mix,yes,put off
River birch,2027,yes,0.3,Standard mix,yes,put off
Lone larch,2027,yes,0.25,Open mix,yes,put off
Scots pine,2027,yes,0.2,Open mix,yes,put off
Yew,2027,yes,0.3,Open mix,yes,still rocks
Oak from seed,2027,yes,0.25,Standard mix,yes,another winter in a pot that flakes
Garden hornbeam,2027,yes,0.25,Standard mix,yes,put off
Larch twins,2027,no,,,yes,for sale as it stands
Juniper cascade,2027,yes,0.2,Open mix,yes,
";

/// Looks into pots: tree, day, seconds to drain, water twice a day, rocks, roots, crumbled, falling, note.
const LOOKS: &str = "\
tree,day,drained,twice_a_day,rocks,roots,crumbled,falling,note
Black pine,2024-10-12,38,no,no,yes,no,no,
Mountain maple,2024-10-12,31,no,no,no,yes,no,
Box,2025-09-20,48,no,no,yes,yes,no,water stands on it
Market elm,2025-09-20,41,yes,no,yes,no,no,
Stone elm,2025-09-20,44,no,no,no,no,no,
River birch,2025-09-20,36,yes,no,no,no,no,
Red lantern,2025-09-20,42,no,no,yes,no,no,
Grey beech,2025-09-20,35,no,no,yes,no,no,
Lone larch,2025-09-20,33,no,no,yes,no,no,
Yew,2025-10-04,22,no,yes,no,no,no,
Scots pine,2025-10-04,26,no,no,yes,no,no,
Oak from seed,2025-10-04,29,no,no,yes,no,no,flakes of the wall in the saucer
Second plum,2025-10-25,12,no,no,no,no,yes,scale all summer
Crab apple,2026-02-28,24,no,no,no,no,no,
Trident on rock,2026-02-28,52,no,no,yes,yes,no,
Broom elm,2026-02-28,33,no,no,yes,no,no,
Olive,2026-05-16,40,no,no,yes,no,no,
Fig of the window,2026-08-22,27,yes,no,yes,no,no,
Hedge elm,2026-09-19,43,no,yes,yes,no,no,
Sleeping beech,2026-09-19,18,no,no,no,no,no,
";

/// What trees had to bear: tree, day, what, how much, note.
const TOLLS: &str = "\
tree,day,what,amount,note
Old trident,2025-06-02,trim,0.3,
Second plum,2025-07-20,pest,0.3,scale
Black pine,2024-06-22,decandle,,
Broom maple,2025-06-08,defoliate-partial,0.5,outer leaves only
Leaning thorn,2025-08-14,drought-wilt,,the door was left shut over a long shift
First plum,2025-04-05,hard-prune,0.2,after the flowers
Red lantern,2025-11-08,show,1,
Juniper cascade,2025-09-13,carve,,
Larch twins,2025-11-15,heavy-bend,1,
Garden hornbeam,2025-06-11,pinch,,
Field maple,2025-06-21,wire,6,
Trident on rock,2026-04-23,frost-leaf,,new leaves black by morning
Hedge thorn,2026-06-06,trim,0.4,
Black pine,2026-06-27,decandle,,
";

/// Words on pots and trees: pot, tree, season, what, why, when.
const RESERVATIONS: &str = "\
pot,tree,season,said,why,made
Lavender oval 24 cm,Winter quince,2026,promised,red flowers over lavender at the spring table,2025-05-03
Grey rectangle 50 cm,Oak from seed,2026,kept-for,bought for it,2025-10-18
Grey rectangle 50 cm,Oak from seed,2027,kept-for,,2026-09-26
Grey mokko 36 cm,Sleeping beech,2027,second,should the cream one crack,2025-12-28
Cobalt round 45 cm,Red lantern,2026,never,blue under red shouts,2025-12-28
Iron-red oval 30 cm,Stone elm,2026,never,,2025-12-28
Grey mokko 36 cm,Yew,2026,never,its soft lobes do not go with so straight a trunk,2025-12-28
";

/// Of two pots held against a tree, the one that was liked: tree, liked, over, when.
const LIKINGS: &str = "\
tree,liked,over,day
Red lantern,Celadon oval 54 cm,Iron-black oval 52 cm,2025-12-28
Red lantern,Celadon oval 54 cm,Cobalt round 45 cm,2025-12-28
Grey beech,Iron-black oval 52 cm,Celadon oval 54 cm,2025-12-28
Winter quince,Lavender oval 24 cm,Cobalt rectangle 21 cm,2025-12-28
Winter quince,Lavender oval 24 cm,Celadon oval 26 cm,2025-12-28
River birch,Celadon oval 34 cm,Iron-red oval 30 cm,2025-12-29
River birch,Pale blue oval 33 cm,Iron-red oval 30 cm,2025-12-29
Little lime,Black soft rectangle 37 cm,Celadon oval 34 cm,2025-12-29
Market elm,Celadon oval 22 cm,Iron-black rectangle 20 cm,2025-12-29
Crab apple,Copper-green octagon 30 cm,Cobalt round 34 cm,2026-01-04
Cherry of May,Celadon oval 26 cm,Turquoise round 26 cm,2026-01-04
Mountain maple,Cream soft rectangle 36 cm,Iron-red oval 30 cm,2026-01-04
";

/// The shed: item, what is left, pack, days to the door, when it was counted.
const STOCK: &str = "\
item,left,pack,delivery,day
akadama,22,14,4,2026-02-21
pumice,16,20,6,2026-02-21
lava,7,20,9,2026-02-21
kanuma,3,14,,2026-02-21
bark,4,40,6,2026-02-21
grit,2.5,,,2026-02-21
mesh,900,2500,3,2026-02-21
tie-1.5,600,1000,3,2026-02-21
tie-2,900,1000,3,2026-02-21
tie-2.5,300,,3,2026-02-21
";

/// What the grower's mixes are made of: mix, component, parts.
const BLENDS: &str = "\
mix,component,parts
Fine mix,akadama,3
Fine mix,pumice,1
Standard mix,akadama,2
Standard mix,pumice,1
Standard mix,lava,1
Open mix,akadama,1
Open mix,pumice,1
Open mix,lava,2
";

/// Repots of years before, told by hand: tree, day, share of the roots, note, and in the log how proud it stood, by which clock, and its lean.
pub const EARLIER: [(&str, &str, &str, &str, &str); 1] = [(
    "Stone elm",
    "2024-03-30",
    "0.30",
    "the roots on the stone lie too high and it stands too straight",
    "9,6,1,0",
)];

/// What may be found in a pot.
const FOUND: [&str; 6] = [
    "roots round the wall twice",
    "fine roots to the bottom, all sound",
    "a wet core of old soil under the trunk",
    "two thick roots crossing",
    "mesh grown through",
    "",
];

/// The sheets that need no reckoning.
pub const SHEETS: [(&str, &str); 7] = [
    ("meant.csv", MEANT),
    ("pot_looks.csv", LOOKS),
    ("tolls.csv", TOLLS),
    ("reservations.csv", RESERVATIONS),
    ("likings.csv", LIKINGS),
    ("stock.csv", STOCK),
    ("blends.csv", BLENDS),
];

/// The sheet of repots: each that the sheet of works tells of, back into the tree's own pot.
pub fn repots(works: &str) -> String {
    let mut dice = Dice(20_250_401);
    let mut text = String::from(
        "tree,day,pot,mix,cut,bare,found,proud,clock,sideways,forward,pad_length,pad_width,pad_depth,took,note\n",
    );
    for line in works.lines().filter(|line| line.contains(",repot,")) {
        let cells: Vec<&str> = line.split(',').collect();
        let [tree, day, _, roots, note] = cells[..] else { unreachable!("five cells a work") };
        let cut = 100.0 * roots.parse::<f64>().expect("a share of the roots");
        let rank = TREES.iter().position(|row| row.0 == tree).expect("a tree");
        let (pot, mix) = pots::stands(rank);
        let found = FOUND[(dice.next() * 6.0) as usize];
        let bare = if cut > 38.0 && mix != "Open mix" { "yes" } else { "no" };
        let [proud, took] = [-4.0 + 12.0 * dice.next(), 25.0 + 60.0 * dice.next()];
        let set = EARLIER.iter().find(|row| (row.0, row.1) == (tree, day)).map(|row| row.4);
        let lean = if dice.next() < 0.4 {
            format!("6,{:.0},{:.0}", -4.0 + 8.0 * dice.next(), 5.0 * dice.next())
        } else {
            "6,,".into()
        };
        let pad = if dice.next() < 0.45 {
            let left = (0.85 * (1.0 - cut / 100.0)).cbrt();
            let [length, width, height] = pots::POTS[rank].2;
            let inside = [length - 2.0, width - 2.0, height - 2.0];
            inside.map(|side| format!("{:.1}", side * left)).join(",")
        } else {
            ",,".into()
        };
        let set = set.map_or_else(|| format!("{proud:.0},{lean}"), str::to_string);
        let found = if found.contains(',') { format!("\"{found}\"") } else { found.into() };
        writeln!(
            text,
            "{tree},{day},{pot},{mix},{:.2},{bare},{found},{set},{pad},{took:.0},{note}",
            cut / 100.0
        )
        .expect("a string takes all");
    }
    text
}
