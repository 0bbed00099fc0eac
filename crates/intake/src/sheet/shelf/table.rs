//! The tables of the sheets of the shelf.

use collection::{reserve::Said, toll::KINDS, ware::Whereabouts};
use pot::{
    colour::{score::Season, swatch::SWATCHES},
    fit::{
        frame::{Feel, Finish, Fired, Shape},
        sitter::{Kind, Style},
    },
    repot::{insult::Strength, roots::Age},
    table::Component,
};

use crate::{
    limits::*,
    sheet::{
        format::{Column, Format, Takes, Takes::*, may, must},
        table::{example, keys},
    },
};

const TREE: Column = must("tree", Known("tree"));
const DAY: Column = must("day", Day);
const NOTE_OF_IT: Column = may("note", Text(LONG));
const WHY: Column = may("why", Text(LONG));
const SWATCH: Column = may("swatch", Word(|| SWATCHES.iter().map(|it| it.key.to_string()).collect()));
const L: Column = may("l", Number(LIGHTNESS, ""));
const A: Column = may("a", Number(HUE, ""));
const B: Column = may("b", Number(HUE, ""));
const SEASON: Takes = keys!(Season);

pub(super) static WARES: Format = Format {
    key: "wares",
    words: "what is known of pots",
    columns: &[
        must("pot", Known("pot")),
        may("training", YesNo),
        may("count", Whole(POT_COUNT)),
        may("shape", keys!(Shape)),
        may("finish", keys!(Finish)),
        may("fired", keys!(Fired)),
        may("drain_holes", Whole(HOLES)),
        may("hole", Number(HOLE, "mm")),
        may("tie_holes", Whole(HOLES)),
        may("feel", keys!(Feel)),
        may("features", Whole(FEATURES)),
        SWATCH,
        L,
        A,
        B,
        may("spread", Number(LIGHTNESS, "")),
        may("empty", Weight),
        may("maker", Line(SHORT)),
        may("mark", Line(SHORT)),
        may("kiln", Line(SHORT)),
        may("origin", Line(SHORT)),
        may("era", Line(ERA)),
        may("bought", Day),
        may("paid", Money),
        may("seller", Line(SHORT)),
        may("condition", Text(CONDITION)),
        may("worth", Money),
        may("worth_day", Day),
        may("whereabouts", keys!(Whereabouts)),
        may("spot", Line(SHORT)),
        may("note", Text(NOTE)),
    ],
    example: example!("wares"),
};

pub(super) static GROWN: Format = Format {
    key: "grown",
    words: "how trees are grown",
    columns: &[
        TREE,
        must("style", keys!(Style)),
        may("kind", keys!(Kind)),
        may("feel", keys!(Feel)),
        may("age", keys!(Age)),
        may("shown", SEASON),
        may("asked", Money),
    ],
    example: example!("grown"),
};

pub(super) static STATURES: Format = Format {
    key: "statures",
    words: "heights and trunks",
    columns: &[
        TREE,
        DAY,
        must("height", Number(TREE_HEIGHT, "cm")),
        must("trunk", Number(TRUNK_THICK, "cm")),
    ],
    example: example!("statures"),
};

pub(super) static TINTS: Format = Format {
    key: "tints",
    words: "colours of trees",
    columns: &[TREE, must("season", SEASON), SWATCH, L, A, B],
    example: example!("tints"),
};

pub(super) static VIGOUR: Format = Format {
    key: "vigour",
    words: "how strong trees are",
    columns: &[TREE, DAY, must("strength", keys!(Strength)), WHY],
    example: example!("vigour"),
};

pub(super) static POT_LOOKS: Format = Format {
    key: "pot_looks",
    words: "looks at trees in their pots",
    columns: &[
        TREE,
        DAY,
        may("drained", Number(DRAINED, "seconds")),
        may("twice_a_day", YesNo),
        may("rocks", YesNo),
        may("roots", YesNo),
        may("crumbled", YesNo),
        may("falling", YesNo),
        NOTE_OF_IT,
    ],
    example: example!("pot_looks"),
};

pub(super) static MEANT: Format = Format {
    key: "meant",
    words: "what is planned for a season",
    columns: &[
        TREE,
        must("season", Year),
        must("repot", YesNo),
        may("cut", Number(ROOTS_CUT, "")),
        may("mix", Known("mix")),
        may("show", YesNo),
        WHY,
    ],
    example: example!("meant"),
};

pub(super) static REPOTS: Format = Format {
    key: "repots",
    words: "repots",
    columns: &[
        TREE,
        DAY,
        must("pot", Known("pot")),
        must("mix", Known("mix")),
        must("cut", Number(ROOTS_CUT, "")),
        may("bare", YesNo),
        may("found", Text(LONG)),
        may("proud", Number(PROUD, "mm")),
        may("clock", Whole(CLOCK)),
        may("sideways", Number(TILT, "degrees")),
        may("forward", Number(TILT, "degrees")),
        may("pad_length", Number(PAD, "cm")),
        may("pad_width", Number(PAD, "cm")),
        may("pad_depth", Number(PAD, "cm")),
        may("took", Number(MINUTES, "minutes")),
        NOTE_OF_IT,
    ],
    example: example!("repots"),
};

pub(super) static TOLLS: Format = Format {
    key: "tolls",
    words: "stress that no other record tells of",
    columns: &[
        TREE,
        DAY,
        must("what", Word(|| KINDS.iter().map(|it| it.key.to_string()).collect())),
        may("amount", Number(TOLL, "")),
        NOTE_OF_IT,
    ],
    example: example!("tolls"),
};

pub(super) static RESERVATIONS: Format = Format {
    key: "reservations",
    words: "pots reserved for trees",
    columns: &[
        must("pot", Known("pot")),
        TREE,
        must("season", Year),
        must("said", keys!(Said)),
        WHY,
        must("made", Day),
    ],
    example: example!("reservations"),
};

pub(super) static LIKINGS: Format = Format {
    key: "likings",
    words: "which of two pots was liked better",
    columns: &[TREE, must("liked", Known("pot")), must("over", Known("pot")), DAY],
    example: example!("likings"),
};

pub(super) static STOCK: Format = Format {
    key: "stock",
    words: "what is left in the shed",
    columns: &[
        must("item", Other("a component of mixes in l, mesh in cm², or tie-2 for wire of 2 mm in cm")),
        must("left", Number(LEFT, "")),
        may("pack", Number(PACK, "")),
        may("delivery", Whole(DELIVERY)),
        DAY,
    ],
    example: example!("stock"),
};

pub(super) static BLENDS: Format = Format {
    key: "blends",
    words: "what mixes are made of, by volume",
    columns: &[
        must("mix", Known("mix")),
        must("component", keys!(Component)),
        must("parts", Number(PARTS, "")),
    ],
    example: example!("blends"),
};
