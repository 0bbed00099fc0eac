//! The tables of the sheets of limbs.

use collection::{
    intention::{CutKind, Wish},
    layer::Way,
    wire::Outcome,
};
use form::{layer::Roots, traced::TipClass, wire::metal::Metal};

use crate::{
    limbs::HIGHEST,
    limits::*,
    sheet::{
        format::{Column, Format, Takes, Takes::*, may, must},
        table::{example, keys},
    },
};

const TREE: Column = must("tree", Known("tree"));
const LIMB: Column = must("limb", NUMBER);
const NUMBER: Takes = Whole([0, HIGHEST]);
const NOTE_OF_IT: Column = may("note", Text(NOTE));

pub(super) static LIMBS: Format = Format {
    key: "limbs",
    words: "trunks (number 0) and branches",
    columns: &[
        TREE,
        must("number", NUMBER),
        must("bearer", NUMBER),
        must("name", Name),
        may("clock", Whole(CLOCK)),
        may("tips", keys!(TipClass)),
        must("since", Day),
        may("gone", Day),
    ],
    example: example!("limbs"),
};

pub(super) static CALIPERS: Format = Format {
    key: "calipers",
    words: "diameters of limbs",
    columns: &[
        TREE,
        LIMB,
        must("day", Day),
        may("along", Number(ALONG, "mm")),
        must("thick", Number(LIMB_THICK, "mm")),
    ],
    example: example!("calipers"),
};

pub(super) static FRONTS: Format = Format {
    key: "fronts",
    words: "today's front (rank 0) and its candidates",
    columns: &[
        TREE,
        must("rank", Whole(RANK)),
        must("clock", Whole(CLOCK)),
        may("sideways", Number(TILT, "degrees")),
        may("forward", Number(TILT, "degrees")),
        may("why", Text(NOTE)),
    ],
    example: example!("fronts"),
};

pub(super) static AIMS: Format = Format {
    key: "aims",
    words: "what each tree shall become",
    columns: &[
        TREE,
        must("high", Number(AIM_HEIGHT, "mm")),
        must("trunk", Number(AIM_TRUNK, "mm")),
        must("words", Text(NOTE)),
        may("needles", Number(NEEDLES, "mm")),
        may("shown", AnyDay),
    ],
    example: example!("aims"),
};

pub(super) static INTENTIONS: Format = Format {
    key: "intentions",
    words: "what is meant for limbs",
    columns: &[
        TREE,
        LIMB,
        must("season", Year),
        must("wish", keys!(Wish)),
        may("until", Number(UNTIL, "mm")),
        may("nodes", Whole(WISH_NODES)),
        may("by", AnyDay),
        may("which", Text(NOTE)),
        may("why", Text(NOTE)),
        must("made", Day),
        may("ended", Day),
        may("end", Text(NOTE)),
    ],
    example: example!("intentions"),
};

pub(super) static CUTS: Format = Format {
    key: "cuts",
    words: "cuts, and how many buds broke behind them",
    columns: &[
        TREE,
        LIMB,
        must("day", Day),
        must("kind", keys!(CutKind)),
        may("nodes", Whole(NODES)),
        may("broke", Whole(NODES)),
        may("buds", Whole(NODES)),
        may("despite", Text(NOTE)),
        NOTE_OF_IT,
    ],
    example: example!("cuts"),
};

pub(super) static WIRES: Format = Format {
    key: "wires",
    words: "wires put on and taken off",
    columns: &[
        TREE,
        LIMB,
        must("on", Day),
        must("metal", keys!(Metal)),
        must("gauge", Number(GAUGE, "mm")),
        may("strands", Whole(STRANDS)),
        may("thick", Number(WIRED_THICK, "mm")),
        may("bend", Number(BEND, "mm")),
        may("seen", Day),
        may("off", Day),
        may("outcome", keys!(Outcome)),
        may("grown_in", YesNo),
        NOTE_OF_IT,
    ],
    example: example!("wires"),
};

pub(super) static COILS: Format = Format {
    key: "coils",
    words: "wire on the shelf",
    columns: &[must("metal", keys!(Metal)), must("gauge", Number(GAUGE, "mm")), must("grams", Weight)],
    example: example!("coils"),
};

pub(super) static LAYERS: Format = Format {
    key: "layers",
    words: "layers and cuttings",
    columns: &[
        TREE,
        LIMB,
        must("way", keys!(Way)),
        must("day", Day),
        may("seen", Day),
        may("roots", keys!(Roots)),
        may("apart", Day),
        may("child", Known("tree")),
        may("lean", Number(LEAN, "degrees")),
        NOTE_OF_IT,
    ],
    example: example!("layers"),
};

pub(super) static WOUNDS: Format = Format {
    key: "wounds",
    words: "wounds, sealed and closed",
    columns: &[
        TREE,
        LIMB,
        must("day", Day),
        must("wide", Number(WOUND, "mm")),
        may("sealed", YesNo),
        may("closed", Day),
        NOTE_OF_IT,
    ],
    example: example!("wounds"),
};

pub(super) static SCALES: Format = Format {
    key: "scales",
    words: "the scale of a photo and its soil line",
    columns: &[
        must("photo", Known("photo")),
        must("scale", Other("line x,y x,y mm, or card with four corners x,y and its width and height in mm")),
        may("soil", Number(PIXEL, "pixels")),
    ],
    example: example!("scales"),
};

pub(super) static TRACES: Format = Format {
    key: "traces",
    words: "lines of limbs on photos",
    columns: &[
        must("photo", Known("photo")),
        LIMB,
        must("points", Other("pixels as x,y x,y ..., two or more")),
    ],
    example: example!("traces"),
};
