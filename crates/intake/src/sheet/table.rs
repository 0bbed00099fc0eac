//! The table of every kind of sheet: what readers ask for, what help prints, and an example of each.

use collection::{
    drink::{Remark, Worth},
    event::{Sureness, WorkKind},
    place::Facing,
    potting::Wall,
    tree::NameConfidence,
};
use measure::{shelter::Shelter, stage::Stage};

use super::format::{Format, Takes::*, may, must};
use crate::limits::*;

/// The words of an enum with `ALL` and `key`.
macro_rules! keys {
    ($name:ty) => {
        $crate::sheet::format::Takes::Word(|| <$name>::ALL.iter().map(|it| it.key().to_string()).collect())
    };
}
pub(super) use keys;

/// An example that stands beside this file.
macro_rules! example {
    ($name:literal) => {
        include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/src/sheet/examples/", $name, ".csv"))
    };
}
pub(super) use example;

const TREE: super::format::Takes = Known("tree");
const POT: super::format::Takes = Known("pot");
const MIX: super::format::Takes = Known("mix");

pub(crate) static SITE: Format = Format {
    key: "site",
    words: "where the collection stands, one row",
    columns: &[
        must("name", Name),
        must("latitude", Number(LATITUDE, "")),
        must("longitude", Number(LONGITUDE, "")),
        must("elevation", Number(ELEVATION, "m")),
        must("zone", Other("time zone, as Europe/Zurich")),
        may("units", Word(|| vec!["metric".into(), "imperial".into()])),
    ],
    example: example!("site"),
};

pub(crate) static PLACES: Format = Format {
    key: "places",
    words: "places where trees stand",
    columns: &[
        must("name", Name),
        must("shelter", keys!(Shelter)),
        may("facing", keys!(Facing)),
        may("lamp_umol", Number(LAMP, "")),
        may("lamp_hours", Number(LAMP_HOURS, "")),
        may("capacity", Whole(CAPACITY)),
    ],
    example: example!("places"),
};

pub(crate) static TREES: Format = Format {
    key: "trees",
    words: "trees",
    columns: &[
        must("name", Name),
        must(
            "taxon",
            Other("species or cultivar: its common name, its scientific name, or the word for it in files"),
        ),
        may("confidence", keys!(NameConfidence)),
        may(
            "candidates",
            Other("other names that it may have, with ; between; the tenderest of all sets its frost lines"),
        ),
        may("since", Day),
        may("worth", keys!(Worth)),
        may("note", Text(NOTE)),
    ],
    example: example!("trees"),
};

pub(crate) static MOVES: Format = Format {
    key: "moves",
    words: "which tree was moved to which place",
    columns: &[must("tree", TREE), must("place", Known("place")), must("day", Day)],
    example: example!("moves"),
};

pub(crate) static LOOKS: Format = Format {
    key: "looks",
    words: "looks at buds",
    columns: &[
        must("tree", TREE),
        must("day", Day),
        must("stage", Word(|| Stage::ALL.iter().map(|it| format!("{:02}", it.code())).collect())),
        may("sureness", keys!(Sureness)),
        may("note", Text(NOTE)),
    ],
    example: example!("looks"),
};

pub(crate) static WORK: Format = Format {
    key: "work",
    words: "work done",
    columns: &[
        must("tree", TREE),
        must("day", Day),
        must("kind", keys!(WorkKind)),
        may("roots", Number(ROOTS_CUT, "")),
        may("note", Text(NOTE)),
    ],
    example: example!("work"),
};

pub(crate) static POTS: Format = Format {
    key: "pots",
    words: "pots and their measures",
    columns: &[
        must("name", Name),
        must("outline", Word(|| OUTLINES.map(String::from).to_vec())),
        must("length", Number(POT_ACROSS, "cm")),
        may("width", Number(POT_ACROSS, "cm")),
        must("height", Number(POT_HEIGHT, "cm")),
        may("shape", Number(CORNER, "")),
        may("middle_length", Number(POT_ACROSS, "cm")),
        may("middle_width", Number(POT_ACROSS, "cm")),
        may("bottom_length", Number(POT_ACROSS, "cm")),
        may("bottom_width", Number(POT_ACROSS, "cm")),
        may("feet", Number(POT_EDGE, "cm")),
        may("floor", Number(POT_WALL, "cm")),
        may("thick", Number(POT_WALL, "cm")),
        may("lip", Number(POT_EDGE, "cm")),
        may("gap", Number(POT_EDGE, "cm")),
        may("measured", Number(POT_WATER, "l")),
        may("wall", keys!(Wall)),
    ],
    example: example!("pots"),
};

/// Words for outlines; a rounded rectangle's `shape` is the radius of its corners in cm, a superellipse's how square it is.
const OUTLINES: [&str; 8] =
    ["rectangle", "rounded-rectangle", "oval", "stadium", "round", "hexagon", "octagon", "superellipse"];

pub(crate) static MIXES: Format = Format {
    key: "mixes",
    words: "mixes, and their bucket tests",
    columns: &[
        must("name", Name),
        must("grain_low", Number(GRAIN, "mm")),
        must("grain_high", Number(GRAIN, "mm")),
        may("height", Number(BUCKET_HEIGHT, "cm")),
        may("volume", Number(BUCKET_VOLUME, "l")),
        may("dry", Weight),
        may("flooded", Weight),
        may("drained", Weight),
        may("inside", Number(INSIDE, "")),
    ],
    example: example!("mixes"),
};

pub(crate) static POTTED: Format = Format {
    key: "potted",
    words: "which tree is in which pot and mix",
    columns: &[must("tree", TREE), must("day", Day), must("pot", POT), must("mix", MIX)],
    example: example!("potted"),
};

pub(crate) static CROWNS: Format = Format {
    key: "crowns",
    words: "how wide crowns are",
    columns: &[
        must("tree", TREE),
        must("day", Day),
        must("length", Number(CROWN, "cm")),
        may("width", Number(CROWN, "cm")),
    ],
    example: example!("crowns"),
};

pub(crate) static WATER: Format = Format {
    key: "water",
    words: "the watering log",
    columns: &[
        must("tree", TREE),
        must("at", Moment),
        must("deed", Word(|| DEEDS.map(String::from).to_vec())),
        may("weight", Weight),
        may("remark", keys!(Remark)),
    ],
    example: example!("water"),
};

/// What is done on a round.
const DEEDS: [&str; 4] = ["watered", "left", "weighed", "weighed-full"];

/// The sheets of this file.
static OWN: [&Format; 11] =
    [&SITE, &PLACES, &TREES, &MOVES, &LOOKS, &WORK, &POTS, &MIXES, &POTTED, &CROWNS, &WATER];

/// Every kind of sheet, in an order in which they may come in.
pub fn all() -> impl Iterator<Item = &'static Format> {
    let limbs = super::limbs::LimbSheet::ALL.into_iter().map(super::limbs::LimbSheet::format);
    let shelf = super::shelf::ShelfSheet::ALL.into_iter().map(super::shelf::ShelfSheet::format);
    OWN.into_iter().chain(shelf).chain(limbs)
}

/// The sheet that goes by this word.
pub fn of(key: &str) -> Option<&'static Format> {
    all().find(|format| format.key == key)
}
