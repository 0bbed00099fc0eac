//! The demo's pots as ware: shape, clay, colour, who made them, what they cost; every maker, mark and kiln is invented.

use std::fmt::Write;

use crate::{
    Dice,
    pots::{EMPTY, POTS},
};

/// A workshop: its letter, maker, mark, kiln, country.
const WORKSHOPS: [(char, [&str; 4]); 7] = [
    ('w', ["Weir Lane workshop", "two leaves in a ring", "kiln by the weir", "Switzerland"]),
    ('s', ["Snail and Daughters", "a snail, left-handed", "the long kiln", "Germany"]),
    ('q', ["Quarry Steps", "five steps", "the upper quarry", "Italy"]),
    ('m', ["Old Mill brothers", "a millstone with a crack", "kiln under the mill", "Austria"]),
    ('h', ["Half Moon shed", "half a moon over a line", "wood kiln in the shed", "France"]),
    ('t', ["Thirteen Crows", "a crow's foot", "kiln on the moor", "England"]),
    ('-', ["", "", "", ""]),
];

/// What is told of each pot, in the order of the trees and then of the empty ones, parted by bars: shape, finish, firing, feel, strong
/// features, colour (a swatch, or three numbers read off a photo), workshop, bought, paid in francs, worth in francs, condition, note.
#[rustfmt::skip]
const WARES: [&str; 60] = [
    "oval|gloss|high|feminine|0|pot_celadon|w|2012-05-12|480|650|fine crackle, tea-stained|",
    "oval|matt|high|between|0|47.6 -3.8 -8.9|s|2018-05-12|190|190||",
    "round|unglazed|mid|between|0|pot_unglazed_brown|m|2021-03-20|60|||",
    "oval|matt|high|masculine|1|pot_tenmoku|q|2013-09-21|520|700|one hairline at the back, dry|stands under the lantern since the show; the beech would suit it better",
    "soft-rectangle|matt|high|between|0|pot_cream|w|2014-04-26|260|300||",
    "oval|matt|mid|feminine|0|66.2 -8.1 -9.4|s|2019-09-07|140|150||",
    "oval|matt|high|feminine|0|pot_cream|w|2016-03-12|390|420|rim worn|",
    "rectangle|unglazed|high|masculine|0|pot_unglazed_brown|m|2020-11-08|85||small chip on a foot|",
    "rectangle|gloss|high|masculine|0|pot_cobalt|t|2017-02-25|95|90||too hard for the quince",
    "round|gloss|mid|feminine|0|pot_turquoise|h|2019-03-02|45|50||",
    "hexagon|gloss|high|between|0|pot_copper_green|h|2013-01-19|240|260||",
    "round|gloss|mid|between|0|pot_lavender_flambe|h|2022-02-05|70|70||",
    "rectangle|unglazed|high|masculine|0|pot_unglazed_grey|q|2012-03-31|180|||",
    "oval|matt|high|between|0|pot_yellow_ochre|t|2018-03-24|80|80||",
    "oval|matt|high|feminine|0|33.4 -12.0 9.8|q|2015-03-14|610|680||",
    "rectangle|unglazed|high|masculine|0|pot_unglazed_brown|m|2010-10-10|150|200||the larch has outgrown it",
    "oval|unglazed|high|between|0|pot_unglazed_brown|m|2020-03-28|75|||",
    "oval|gloss|high|feminine|0|pot_celadon|w|2009-04-18|560|750|patina all round|too graceful for the beech",
    "rectangle|matt|high|masculine|0|pot_cream|t|2017-04-29|170|160||",
    "oval|matt|high|feminine|0|62.0 0.4 4.9|s|2014-10-04|280|300||",
    "rectangle|unglazed|high|between|0|pot_unglazed_grey|q|2013-03-30|160|170||",
    "oval|matt|high|feminine|0|pot_cream|w|2019-04-06|340|360||",
    "oval|gloss|mid|feminine|0|pot_celadon|s|2021-09-25|90|95||",
    "oval|matt|high|feminine|0|66.9 -9.7 10.2|s|2012-05-05|310|380||",
    "round|gloss|mid|feminine|0|pot_cobalt|h|2020-04-18|40|40||",
    "rectangle|matt|high|masculine|0|pot_tenmoku|-|2022-06-11|25|||came with the tree",
    "oval|matt|high|between|0|pot_yellow_ochre|t|2016-05-21|150|160||",
    "rectangle|unglazed|unknown|masculine|0|pot_unglazed_brown|-|2018-11-03|30|||no mark; a gift",
    "oval|gloss|high|masculine|1|pot_iron_red|t|2019-10-12|110|100||loud under white bark",
    "oval|matt|high|feminine|0|pot_celadon|w|2017-11-11|190|210||",
    "rectangle|unglazed|low|masculine|0|pot_unglazed_brown|m|2006-10-01|70||flakes where it froze|must not stand out another winter",
    "octagon|gloss|high|between|0|pot_copper_green|h|2014-03-22|230|240||",
    "round|gloss|high|feminine|0|pot_turquoise|h|2018-03-10|120|130||",
    "rectangle|unglazed|high|between|0|pot_unglazed_grey|q|2020-03-07|50|||",
    "round|gloss|high|between|0|pot_cobalt|h|2011-05-14|300|330||",
    "rectangle|unglazed|high|masculine|0|pot_unglazed_brown|m|2009-05-30|420|600|old patina|",
    "mokko|unglazed|high|between|0|pot_unglazed_grey|q|2013-09-28|210|220||",
    "cascade|unglazed|high|masculine|0|pot_unglazed_brown|m|2012-08-18|160|170||",
    "rectangle|unglazed|high|masculine|0|31.8 13.2 12.1|q|2015-09-19|140|150||",
    "oval|gloss|high|feminine|0|pot_celadon|s|2018-08-25|85|80||",
    "round|unglazed|low|between|0|pot_unglazed_brown|m|2019-06-15|35|||only behind glass",
    "rectangle|gloss|mid|between|0|pot_cobalt|t|2021-01-16|90|90||",
    "soft-rectangle|matt|high|between|0|pot_tenmoku|q|2025-11-01|280|280||bought for the lime",
    "rectangle|unglazed|high|masculine|0|28.9 8.8 11.0|q|2025-09-27|390|390||",
    "slab|unglazed|high|between|1|pot_unglazed_grey|m|2021-08-14|260|240||",
    "rectangle|unglazed|high|masculine|0|pot_unglazed_grey|m|2025-10-18|450|450||for the oak",
    "oval|gloss|high|feminine|0|pot_lavender_flambe|h|2025-05-03|130|140||",
    "oval|unglazed|high|masculine|0|pot_unglazed_brown|m|2024-09-14|95|95||",
    "oval|matt|high|between|0|55.0 -9.0 14.0|q|2025-11-15|240|240||for the hornbeam",
    "square|gloss|mid|between|0|pot_cobalt|h|2022-03-05|35|35||",
    "drum|matt|high|masculine|1|pot_yellow_ochre|t|2023-06-17|55|50||",
    "cascade|unglazed|high|masculine|0|pot_unglazed_brown|m|2019-10-05|140|||",
    "hexagon|gloss|high|between|0|pot_copper_green|h|2024-03-16|120|120||",
    "mokko|gloss|high|feminine|0|pot_celadon|w|2023-10-07|210|230||",
    "primitive|unglazed|mid|between|2|84.1 -0.6 7.2|s|2022-10-08|160|120||",
    "round|gloss|high|between|0|pot_cobalt|h|2020-09-12|380|360||",
    "oval|gloss|high|feminine|0|64.8 -6.9 -11.3|s|2016-10-01|720|800||",
    "rectangle|gloss|high|masculine|0|pot_iron_red|t|2013-04-20|130||broke in the frost of February 2018; the pieces are kept|",
    "oval|gloss|high|feminine|0|pot_turquoise|s|2024-07-06|110|110||has no holes",
    "rectangle|unglazed|low|between|0|pot_unglazed_brown|-||||second hand, age unknown|",
];

/// Boxes of each size.
const BOXES: [u32; 5] = [8, 6, 4, 3, 2];

/// Where pots are bought, not for other eyes.
const SELLERS: [&str; 5] = ["spring market", "from the workshop", "club auction", "a friend's shed", ""];

/// When each worth was last thought over.
const VALUED: &str = "2025-12-28";

/// The sheet of wares.
pub fn sheet() -> String {
    let mut dice = Dice(20_260_328);
    let mut text = String::from(
        "pot,training,count,shape,finish,fired,drain_holes,hole,tie_holes,feel,features,swatch,l,a,b,empty,maker,mark,kiln,\
         origin,era,bought,paid,seller,condition,worth,worth_day,whereabouts,spot,note\n",
    );
    let pots = POTS.iter().map(|(name, _, size, ..)| (*name, *size));
    let pots: Vec<_> = pots.chain(EMPTY.iter().map(|(name, _, size, _)| (*name, *size))).collect();
    for (rank, (&(name, size), told)) in pots.iter().zip(WARES).enumerate() {
        text.push_str(&line(rank, name, size, told, &mut dice));
    }
    for (&(name, size), count) in pots[WARES.len()..].iter().zip(BOXES) {
        let holes = (size[0] / 10.0).ceil();
        writeln!(
            text,
            "{name},yes,{count},rectangle,unglazed,,{holes},12,,,0,,,,,,,,,,,,,,,,,shelf,under the bench,boards from old crates"
        )
        .expect("a string takes all");
    }
    text
}

fn line(rank: usize, name: &str, size: [f64; 3], told: &str, dice: &mut Dice) -> String {
    let cells: Vec<&str> = told.split('|').collect();
    let [shape, finish, fired, feel, features, colour, workshop, bought, paid, worth, condition, note] =
        cells[..]
    else {
        unreachable!("twelve cells a pot")
    };
    let francs = |sum: &str| if sum.is_empty() { String::new() } else { format!("{sum} CHF") };
    let lab: Vec<&str> = colour.split(' ').collect();
    let (swatch, lab) = if lab.len() == 3 { ("", lab.join(",")) } else { (colour, ",,".into()) };
    let [maker, mark, kiln, origin] =
        WORKSHOPS.iter().find(|(letter, _)| workshop.starts_with(*letter)).expect("a workshop").1;
    // One pot in six had its holes never counted; the bowl has none.
    let long = size[0] > 20.0;
    let drains = match (name, rank % 6) {
        ("Water bowl 40 cm", _) => "0".into(),
        (_, 4) => String::new(),
        _ => format!("{}", (size[0] / 15.0).floor().max(1.0)),
    };
    let [hole, ties] = match rank % 6 {
        4 => ["", ""],
        5 => [if long { "16" } else { "9" }, ""],
        _ => [if long { "18" } else { "10" }, if long { "4" } else { "2" }],
    };
    // Some were put on the scale, empty and dry.
    let empty = if dice.next() < 0.4 {
        format!("{:.0}", 10.0 * (size[0] * size[1] * size[2] * (0.026 + 0.006 * dice.next())).round() + 60.0)
    } else {
        String::new()
    };
    let seller = if bought.is_empty() { "" } else { SELLERS[(dice.next() * 5.0) as usize] };
    let era = if bought < "2010" && !bought.is_empty() { "old stock by the seller's word" } else { "" };
    let [whereabouts, spot] = match name {
        "Pale blue oval 60 cm" => ["lent", "with the club until autumn"],
        "Iron-red rectangle 38 cm" => ["broken", ""],
        _ if rank < POTS.len() => ["shelf", ""],
        _ => ["shelf", ["top board", "second board", "by the window"][rank % 3]],
    };
    let day = if worth.is_empty() { "" } else { VALUED };
    let quoted = |words: &str| if words.contains(',') { format!("\"{words}\"") } else { words.into() };
    format!(
        "{name},no,1,{shape},{finish},{fired},{drains},{hole},{ties},{feel},{features},{swatch},{lab},{empty},{maker},{},{kiln},\
         {origin},{era},{bought},{},{seller},{},{},{day},{whereabouts},{spot},{}\n",
        quoted(mark),
        francs(paid),
        quoted(condition),
        francs(worth),
        quoted(note)
    )
}
