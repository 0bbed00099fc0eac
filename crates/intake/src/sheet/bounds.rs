//! Both doors held side by side: what a form and a sheet accept of each field, at its bounds and just past them.

use jiff::civil::Date;
use measure::quantity::Units;
use store::store::Store;

use super::{format::Takes, rows, table};
use crate::{
    asked::Asked,
    bucket,
    import::examples::stocked,
    limbs, looks,
    record::{self, FormError},
    shelf,
    text::{Lines, fault},
};

const METRIC: Units = Units::Metric;

/// The day of both doors.
fn today() -> Date {
    jiff::civil::date(2026, 11, 1)
}

/// A column of a sheet, the form of the same field, and how much greater the form's figure is.
type Door = (&'static str, &'static str, f64, fn(&mut Store, &str) -> Result<(), FormError>);

const TREE: record::TreeForm<'_> = record::TreeForm {
    key: "",
    name: "Another",
    taxon: "acer-palmatum",
    confidence: "",
    candidates: "",
    since: "",
    worth: "",
    note: "",
    revision: "",
};

const AIM: limbs::front::AimForm<'_> =
    limbs::front::AimForm { tree: "young-elm", high: "", trunk: "", needles: "", shown: "", words: "" };

fn aim(store: &mut Store, form: limbs::front::AimForm<'_>) -> Result<(), FormError> {
    limbs::front::aim(store, form, METRIC)
}

const LOOK: looks::LookForm<'_> = looks::LookForm {
    tree: "old-trident",
    day: "2026-03-01",
    stage: "1",
    sureness: "sure",
    note: "",
    despite: "",
};

const PLACE: record::PlaceForm<'_> = record::PlaceForm {
    name: "Another",
    shelter: "cold-frame",
    facing: "",
    lamp_flux: "",
    lamp_hours: "",
    capacity: "",
};

const SITE: record::SiteForm<'_> = record::SiteForm {
    name: "Terrace",
    latitude: "47",
    longitude: "9",
    elevation: "500",
    zone: "Europe/Zurich",
    units: "metric",
};

fn pot() -> shelf::PotForm<'static> {
    shelf::PotForm {
        name: "Another",
        shape: "rectangle",
        finish: "unglazed",
        length: "150",
        width: "150",
        height: "60",
        thick: "1",
        floor: "1",
        ..shelf::PotForm::default()
    }
}

fn add_pot(store: &mut Store, form: &shelf::PotForm<'_>) -> Result<(), FormError> {
    shelf::add_pot(store, form, METRIC, today()).map(drop)
}

fn meant() -> shelf::MeantForm<'static> {
    shelf::MeantForm { tree: "old-trident", season: "2027", repot: "yes", ..shelf::MeantForm::default() }
}

fn stock() -> shelf::StockForm<'static> {
    shelf::StockForm { item: "lava", left: "1", ..shelf::StockForm::default() }
}

fn stature() -> shelf::StatureForm<'static> {
    shelf::StatureForm { tree: "young-elm", day: "2026-10-01", height: "20", trunk: "2" }
}

fn pot_look() -> shelf::PotLookForm<'static> {
    shelf::PotLookForm { tree: "old-trident", rocks: true, ..shelf::PotLookForm::default() }
}

fn repot() -> shelf::RepotForm<'static> {
    shelf::RepotForm {
        tree: "old-trident",
        pot: "celadon-oval-46-cm",
        mix: "standard-mix",
        cut: "30",
        ..shelf::RepotForm::default()
    }
}

fn do_repot(store: &mut Store, form: &shelf::RepotForm<'_>) -> Result<(), FormError> {
    match shelf::repot(store, form, None, shelf::Against::default(), METRIC, today()) {
        Err(shelf::RepotError::Form(why)) => Err(why),
        _ => Ok(()),
    }
}

fn wire() -> limbs::wire::WireForm<'static> {
    limbs::wire::WireForm {
        tree: "old-trident",
        limb: "1",
        on: "2026-10-01",
        metal: "copper",
        gauge: "2",
        ..limbs::wire::WireForm::default()
    }
}

fn put_on(store: &mut Store, form: limbs::wire::WireForm<'_>) -> Result<(), FormError> {
    limbs::wire::put_on(store, form, METRIC, today())
}

fn wish() -> limbs::plan::WishForm<'static> {
    limbs::plan::WishForm {
        tree: "old-trident",
        limb: "1",
        wish: "keep-short",
        ..limbs::plan::WishForm::default()
    }
}

fn intend(store: &mut Store, form: limbs::plan::WishForm<'_>) -> Result<(), FormError> {
    limbs::plan::intend(store, form, METRIC, today())
}

fn cut() -> limbs::plan::CutForm<'static> {
    limbs::plan::CutForm {
        tree: "old-trident",
        limb: "1",
        day: "2026-10-02",
        kind: "trim",
        asked: Asked { against: None, despite: "a test" },
        ..limbs::plan::CutForm::default()
    }
}

fn do_cut(store: &mut Store, form: limbs::plan::CutForm<'_>) -> Result<(), FormError> {
    limbs::plan::cut(store, form, METRIC, today()).map(drop)
}

fn front() -> limbs::front::FrontForm<'static> {
    limbs::front::FrontForm {
        tree: "old-trident",
        rank: "1",
        clock: "6",
        ..limbs::front::FrontForm::default()
    }
}

fn caliper(store: &mut Store, along: &str, thick: &str) -> Result<(), FormError> {
    let form = limbs::CaliperForm { tree: "old-trident", limb: "1", day: "2026-10-01", along, thick };
    limbs::caliper(store, form, METRIC, today())
}

fn layer(store: &mut Store, day: &str, note: &str) -> Result<(), FormError> {
    let form = limbs::layer::LayerForm {
        tree: "old-trident",
        limb: "1",
        way: "cutting",
        day,
        note,
        asked: Asked::default(),
    };
    limbs::layer::begin(store, form, today())
}

fn crown(store: &mut Store, length: &str, width: &str) -> Result<(), FormError> {
    bucket::crown(
        store,
        bucket::CrownForm { tree: "young-elm", day: "2026-10-01", length, width },
        METRIC,
        today(),
    )
}

fn toll(store: &mut Store, day: &str, note: &str) -> Result<(), FormError> {
    let form =
        shelf::TollForm { tree: "young-elm", day, what: "carve", amount: "", note, asked: Asked::default() };
    shelf::toll(store, form, today())
}

fn vigour(store: &mut Store, day: &str, why: &str) -> Result<(), FormError> {
    shelf::vigour(store, shelf::VigourForm { tree: "young-elm", day, strength: "weak", why }, today())
}

fn reserve(store: &mut Store, why: &str) -> Result<(), FormError> {
    let form = shelf::ReserveForm {
        pot: "brown-tray-30-cm",
        tree: "young-elm",
        season: "2027",
        said: "second",
        why,
        ..shelf::ReserveForm::default()
    };
    match shelf::reserve(store, form, None, today()) {
        Err(shelf::ReserveError::Form(why)) => Err(why),
        _ => Ok(()),
    }
}

/// Work on a tree by its form.
fn trimmed(store: &mut Store, day: &str, note: &str) -> Result<(), FormError> {
    let form = record::WorkForm { tree: "young-elm", day, kind: "trim", note, ..record::WorkForm::default() };
    record::work(store, form, today())
}

/// Every field that both doors have.
#[rustfmt::skip]
const DOORS: &[Door] = &[
    ("site", "name", 1.0, |s, it| record::site(s, record::SiteForm { name: it, ..SITE })),
    ("site", "latitude", 1.0, |s, it| record::site(s, record::SiteForm { latitude: it, ..SITE })),
    ("site", "longitude", 1.0, |s, it| record::site(s, record::SiteForm { longitude: it, ..SITE })),
    ("site", "elevation", 1.0, |s, it| record::site(s, record::SiteForm { elevation: it, ..SITE })),
    ("places", "name", 1.0, |s, it| record::add_place(s, record::PlaceForm { name: it, ..PLACE }).map(drop)),
    ("places", "lamp_umol", 1.0, |s, it| record::add_place(s, record::PlaceForm { lamp_flux: it, lamp_hours: "8", ..PLACE }).map(drop)),
    ("places", "lamp_hours", 1.0, |s, it| record::add_place(s, record::PlaceForm { lamp_hours: it, lamp_flux: "90", ..PLACE }).map(drop)),
    ("places", "capacity", 1.0, |s, it| record::add_place(s, record::PlaceForm { capacity: it, ..PLACE }).map(drop)),
    ("trees", "name", 1.0, |s, it| record::add_tree(s, record::TreeForm { name: it, ..TREE }, "long-bench", "2026-10-01", today()).map(drop)),
    ("trees", "since", 1.0, |s, it| record::add_tree(s, record::TreeForm { since: it, ..TREE }, "long-bench", "2026-10-01", today()).map(drop)),
    ("trees", "note", 1.0, |s, it| record::add_tree(s, record::TreeForm { note: it, ..TREE }, "long-bench", "2026-10-01", today()).map(drop)),
    ("moves", "day", 1.0, |s, it| record::moves(s, &["young-elm".into()], ["long-bench", it], Asked::default(), today()).map(drop)),
    ("looks", "day", 1.0, |s, it| looks::look(s, looks::LookForm { day: it, ..LOOK }, today()).map(drop)),
    ("looks", "note", 1.0, |s, it| looks::look(s, looks::LookForm { note: it, ..LOOK }, today()).map(drop)),
    ("work", "day", 1.0, |s, it| trimmed(s, it, "")),
    ("work", "roots", 100.0, |s, it| record::work(s, record::WorkForm { tree: "young-elm", day: "2026-10-01", kind: "repot", roots: it, ..record::WorkForm::default() }, today())),
    ("work", "note", 1.0, |s, it| trimmed(s, "2026-10-01", it)),
    ("pots", "name", 1.0, |s, it| add_pot(s, &shelf::PotForm { name: it, ..pot() })),
    ("pots", "length", 1.0, |s, it| add_pot(s, &shelf::PotForm { length: it, ..pot() })),
    ("pots", "width", 1.0, |s, it| add_pot(s, &shelf::PotForm { width: it, ..pot() })),
    ("pots", "height", 1.0, |s, it| add_pot(s, &shelf::PotForm { height: it, ..pot() })),
    ("pots", "bottom_length", 1.0, |s, it| add_pot(s, &shelf::PotForm { bottom_length: it, ..pot() })),
    ("pots", "bottom_width", 1.0, |s, it| add_pot(s, &shelf::PotForm { bottom_width: it, ..pot() })),
    ("pots", "middle_length", 1.0, |s, it| add_pot(s, &shelf::PotForm { middle_length: it, ..pot() })),
    ("pots", "middle_width", 1.0, |s, it| add_pot(s, &shelf::PotForm { middle_length: "150", middle_width: it, ..pot() })),
    ("pots", "feet", 1.0, |s, it| add_pot(s, &shelf::PotForm { feet: it, ..pot() })),
    ("pots", "floor", 1.0, |s, it| add_pot(s, &shelf::PotForm { floor: it, ..pot() })),
    ("pots", "thick", 1.0, |s, it| add_pot(s, &shelf::PotForm { thick: it, ..pot() })),
    ("pots", "lip", 1.0, |s, it| add_pot(s, &shelf::PotForm { lip: it, ..pot() })),
    ("pots", "gap", 1.0, |s, it| add_pot(s, &shelf::PotForm { gap: it, ..pot() })),
    ("pots", "measured", 1.0, |s, it| add_pot(s, &shelf::PotForm { measured: it, ..pot() })),
    ("mixes", "name", 1.0, |s, it| bucket::add_mix(s, it, ["1", "3"]).map(drop)),
    ("mixes", "grain_low", 1.0, |s, it| bucket::add_mix(s, "Another", [it, "50"]).map(drop)),
    ("mixes", "grain_high", 1.0, |s, it| bucket::add_mix(s, "Another", ["0.05", it]).map(drop)),
    ("crowns", "length", 1.0, |s, it| crown(s, it, "")),
    ("crowns", "width", 1.0, |s, it| crown(s, "20", it)),
    ("wares", "drain_holes", 1.0, |s, it| add_pot(s, &shelf::PotForm { drain_holes: it, ..pot() })),
    ("wares", "hole", 1.0, |s, it| add_pot(s, &shelf::PotForm { hole: it, ..pot() })),
    ("wares", "tie_holes", 1.0, |s, it| add_pot(s, &shelf::PotForm { tie_holes: it, ..pot() })),
    ("wares", "features", 1.0, |s, it| add_pot(s, &shelf::PotForm { features: it, ..pot() })),
    ("wares", "count", 1.0, |s, it| add_pot(s, &shelf::PotForm { count: it, training: true, ..pot() })),
    ("wares", "maker", 1.0, |s, it| add_pot(s, &shelf::PotForm { maker: it, ..pot() })),
    ("wares", "mark", 1.0, |s, it| add_pot(s, &shelf::PotForm { mark: it, ..pot() })),
    ("wares", "kiln", 1.0, |s, it| add_pot(s, &shelf::PotForm { kiln: it, ..pot() })),
    ("wares", "origin", 1.0, |s, it| add_pot(s, &shelf::PotForm { origin: it, ..pot() })),
    ("wares", "era", 1.0, |s, it| add_pot(s, &shelf::PotForm { era: it, ..pot() })),
    ("wares", "bought", 1.0, |s, it| add_pot(s, &shelf::PotForm { bought: it, ..pot() })),
    ("wares", "seller", 1.0, |s, it| add_pot(s, &shelf::PotForm { seller: it, ..pot() })),
    ("wares", "condition", 1.0, |s, it| add_pot(s, &shelf::PotForm { condition: it, ..pot() })),
    ("wares", "worth_day", 1.0, |s, it| add_pot(s, &shelf::PotForm { worth: "90 CHF", worth_day: it, ..pot() })),
    ("wares", "spot", 1.0, |s, it| add_pot(s, &shelf::PotForm { spot: it, ..pot() })),
    ("wares", "note", 1.0, |s, it| add_pot(s, &shelf::PotForm { note: it, ..pot() })),
    ("tints", "l", 1.0, |s, it| shelf::tint(s, shelf::TintForm { tree: "young-elm", season: "leaf", l: it, a: "1", b: "1", swatch: "" })),
    ("tints", "a", 1.0, |s, it| shelf::tint(s, shelf::TintForm { tree: "young-elm", season: "leaf", l: "50", a: it, b: "1", swatch: "" })),
    ("tints", "b", 1.0, |s, it| shelf::tint(s, shelf::TintForm { tree: "young-elm", season: "leaf", l: "50", a: "1", b: it, swatch: "" })),
    ("statures", "day", 1.0, |s, it| shelf::stature(s, shelf::StatureForm { day: it, ..stature() }, METRIC, today())),
    ("statures", "height", 1.0, |s, it| shelf::stature(s, shelf::StatureForm { height: it, ..stature() }, METRIC, today())),
    ("statures", "trunk", 1.0, |s, it| shelf::stature(s, shelf::StatureForm { trunk: it, ..stature() }, METRIC, today())),
    ("vigour", "day", 1.0, |s, it| vigour(s, it, "")),
    ("vigour", "why", 1.0, |s, it| vigour(s, "2026-10-01", it)),
    ("pot_looks", "day", 1.0, |s, it| shelf::pot_look(s, shelf::PotLookForm { day: it, ..pot_look() }, today())),
    ("pot_looks", "drained", 1.0, |s, it| shelf::pot_look(s, shelf::PotLookForm { drained: it, ..pot_look() }, today())),
    ("pot_looks", "note", 1.0, |s, it| shelf::pot_look(s, shelf::PotLookForm { note: it, ..pot_look() }, today())),
    ("meant", "cut", 100.0, |s, it| shelf::meant(s, shelf::MeantForm { cut: it, ..meant() }, today())),
    ("meant", "why", 1.0, |s, it| shelf::meant(s, shelf::MeantForm { why: it, ..meant() }, today())),
    ("repots", "day", 1.0, |s, it| do_repot(s, &shelf::RepotForm { day: it, ..repot() })),
    ("repots", "cut", 100.0, |s, it| do_repot(s, &shelf::RepotForm { cut: it, ..repot() })),
    ("repots", "found", 1.0, |s, it| do_repot(s, &shelf::RepotForm { found: it, ..repot() })),
    ("repots", "proud", 1.0, |s, it| do_repot(s, &shelf::RepotForm { proud: it, ..repot() })),
    ("repots", "clock", 1.0, |s, it| do_repot(s, &shelf::RepotForm { clock: it, ..repot() })),
    ("repots", "sideways", 1.0, |s, it| do_repot(s, &shelf::RepotForm { sideways: it, ..repot() })),
    ("repots", "forward", 1.0, |s, it| do_repot(s, &shelf::RepotForm { forward: it, ..repot() })),
    ("repots", "pad_length", 1.0, |s, it| do_repot(s, &shelf::RepotForm { pad_length: it, pad_width: "9", pad_depth: "9", ..repot() })),
    ("repots", "pad_width", 1.0, |s, it| do_repot(s, &shelf::RepotForm { pad_width: it, pad_length: "9", pad_depth: "9", ..repot() })),
    ("repots", "pad_depth", 1.0, |s, it| do_repot(s, &shelf::RepotForm { pad_depth: it, pad_length: "9", pad_width: "9", ..repot() })),
    ("repots", "took", 1.0, |s, it| do_repot(s, &shelf::RepotForm { took: it, ..repot() })),
    ("repots", "note", 1.0, |s, it| do_repot(s, &shelf::RepotForm { note: it, ..repot() })),
    ("tolls", "day", 1.0, |s, it| toll(s, it, "")),
    ("tolls", "note", 1.0, |s, it| toll(s, "2026-10-01", it)),
    ("reservations", "why", 1.0, reserve),
    ("stock", "left", 1.0, |s, it| shelf::stock(s, shelf::StockForm { left: it, ..stock() }, today())),
    ("stock", "pack", 1.0, |s, it| shelf::stock(s, shelf::StockForm { pack: it, ..stock() }, today())),
    ("stock", "delivery", 1.0, |s, it| shelf::stock(s, shelf::StockForm { delivery: it, ..stock() }, today())),
    ("stock", "day", 1.0, |s, it| shelf::stock(s, shelf::StockForm { day: it, ..stock() }, today())),
    ("blends", "parts", 1.0, |s, it| shelf::blend(s, "fine-mix", &[("lava", it)])),
    ("calipers", "along", 1.0, |s, it| caliper(s, it, "12")),
    ("calipers", "thick", 1.0, |s, it| caliper(s, "", it)),
    ("fronts", "rank", 1.0, |s, it| limbs::front::front(s, limbs::front::FrontForm { rank: it, ..front() })),
    ("fronts", "clock", 1.0, |s, it| limbs::front::front(s, limbs::front::FrontForm { clock: it, ..front() })),
    ("fronts", "sideways", 1.0, |s, it| limbs::front::front(s, limbs::front::FrontForm { sideways: it, ..front() })),
    ("fronts", "forward", 1.0, |s, it| limbs::front::front(s, limbs::front::FrontForm { forward: it, ..front() })),
    ("fronts", "why", 1.0, |s, it| limbs::front::front(s, limbs::front::FrontForm { why: it, ..front() })),
    ("aims", "high", 0.1, |s, it| aim(s, limbs::front::AimForm { high: it, ..AIM })),
    ("aims", "trunk", 1.0, |s, it| aim(s, limbs::front::AimForm { trunk: it, ..AIM })),
    ("aims", "needles", 1.0, |s, it| aim(s, limbs::front::AimForm { needles: it, ..AIM })),
    ("aims", "shown", 1.0, |s, it| aim(s, limbs::front::AimForm { shown: it, ..AIM })),
    ("aims", "words", 1.0, |s, it| aim(s, limbs::front::AimForm { words: it, ..AIM })),
    ("intentions", "until", 1.0, |s, it| intend(s, limbs::plan::WishForm { until: it, ..wish() })),
    ("intentions", "nodes", 1.0, |s, it| intend(s, limbs::plan::WishForm { nodes: it, ..wish() })),
    ("intentions", "by", 1.0, |s, it| intend(s, limbs::plan::WishForm { by: it, ..wish() })),
    ("intentions", "which", 1.0, |s, it| intend(s, limbs::plan::WishForm { which: it, ..wish() })),
    ("intentions", "why", 1.0, |s, it| intend(s, limbs::plan::WishForm { why: it, ..wish() })),
    ("cuts", "day", 1.0, |s, it| do_cut(s, limbs::plan::CutForm { day: it, ..cut() })),
    ("cuts", "nodes", 1.0, |s, it| do_cut(s, limbs::plan::CutForm { nodes: it, ..cut() })),
    ("cuts", "note", 1.0, |s, it| do_cut(s, limbs::plan::CutForm { note: it, ..cut() })),
    ("wounds", "wide", 1.0, |s, it| do_cut(s, limbs::plan::CutForm { wound: it, ..cut() })),
    ("wires", "on", 1.0, |s, it| put_on(s, limbs::wire::WireForm { on: it, ..wire() })),
    ("wires", "gauge", 1.0, |s, it| put_on(s, limbs::wire::WireForm { gauge: it, ..wire() })),
    ("wires", "strands", 1.0, |s, it| put_on(s, limbs::wire::WireForm { strands: it, ..wire() })),
    ("wires", "thick", 1.0, |s, it| put_on(s, limbs::wire::WireForm { thick: it, ..wire() })),
    ("wires", "bend", 1.0, |s, it| put_on(s, limbs::wire::WireForm { bend: it, ..wire() })),
    ("wires", "note", 1.0, |s, it| put_on(s, limbs::wire::WireForm { note: it, ..wire() })),
    ("coils", "gauge", 1.0, |s, it| limbs::wire::shelf(s, "copper", it, "100", METRIC)),
    ("layers", "day", 1.0, |s, it| layer(s, it, "")),
    ("layers", "note", 1.0, |s, it| layer(s, "2026-10-01", it)),
];

/// Fields that only a sheet has, or that a form takes another way: from a list, off a photo, by the click that it is.
#[rustfmt::skip]
const SHEET_ALONE: &[(&str, &str)] = &[
    ("pots", "shape"),          // a form asks for the corner, by the outline
    ("mixes", "height"), ("mixes", "volume"), ("mixes", "inside"), // the test's form has its own check of all five weighings
    ("potted", "day"), ("crowns", "day"), ("wounds", "day"), ("calipers", "day"), // `record::day`, tried on eleven others
    ("wares", "l"), ("wares", "a"), ("wares", "b"), ("wares", "spread"), // one reader with tints; a spread comes off a photo
    ("meant", "season"), ("reservations", "season"), ("intentions", "season"), // a sheet may bring seasons that are over
    ("tolls", "amount"),        // a share in one, per cent in the other; `toll::insult` holds both
    ("reservations", "made"), ("likings", "day"), ("intentions", "made"), ("intentions", "ended"), ("intentions", "end"), // today's day
    ("limbs", "number"), ("limbs", "bearer"), ("limbs", "name"), ("limbs", "clock"), ("limbs", "since"), ("limbs", "gone"), // a drawing
    ("calipers", "limb"), ("cuts", "limb"), ("wires", "limb"), ("layers", "limb"), ("wounds", "limb"), ("traces", "limb"),
    ("intentions", "limb"), ("cuts", "broke"), ("cuts", "buds"), ("cuts", "despite"), ("wires", "seen"), ("wires", "off"),
    ("layers", "seen"), ("layers", "apart"), ("layers", "lean"), ("wounds", "closed"), ("wounds", "note"), ("scales", "soil"),
];

/// What to try of a column: its bounds, and just past them.
fn tries(takes: Takes) -> Vec<String> {
    let texts = |most: usize| {
        let kept = ["a".repeat(most), "a".repeat(most + 1)];
        kept.into_iter()
            .chain(["a\u{202e}b", "a\u{1b}b", "a\nb", "a\tb", "a\u{fffd}b"].map(String::from))
            .collect()
    };
    match takes {
        Takes::Number([low, high], _) => {
            let past = |end: f64| (end.abs() * 1e-3).max(1e-3);
            [low, high, low - past(low), high + past(high)].map(|it| format!("{it:.6}")).to_vec()
        }
        Takes::Whole([low, high]) => {
            let (low, high) = (i64::from(low), i64::from(high));
            let mut tries: Vec<String> = [low, high, low - 1, high + 1].map(|it| it.to_string()).to_vec();
            tries.push("2.7".into());
            tries
        }
        Takes::Name => texts(crate::limits::NAME),
        Takes::Line(most) | Takes::Text(most) => texts(most),
        Takes::Day => {
            ["2026-11-01", "2026-11-02", "1900-01-01", "1899-12-31", "9999-12-31"].map(String::from).to_vec()
        }
        Takes::AnyDay => ["2027-11-02", "1899-12-31", "9999-12-31"].map(String::from).to_vec(),
        _ => Vec::new(),
    }
}

/// Whether the sheet takes a cell: the first row of the example with this cell in place of its own.
fn sheet_takes(key: &str, column: &str, cell: &str) -> bool {
    let format = table::of(key).unwrap();
    let example = rows(format.example, format, None).rows.remove(0).1;
    let mut row = example.clone();
    row.way.today = Some(today());
    let at = row.columns.iter().position(|it| it.name == column).unwrap();
    row.cells[at] = cell.to_string();
    match format.columns[at].takes {
        Takes::Number(..) => row.number(column).is_ok(),
        Takes::Whole(_) => row.whole(column).is_ok(),
        Takes::Day | Takes::AnyDay => row.day(column).is_ok(),
        _ => row.text(column).is_ok(),
    }
}

/// Whether a form takes it: a refusal for another reason than the value is none of ours.
fn form_takes(store: &mut Store, form: fn(&mut Store, &str) -> Result<(), FormError>, typed: &str) -> bool {
    let shown: String = typed.chars().take(crate::limits::NAME).collect();
    match form(store, typed) {
        Err(FormError::Field { value, why, .. }) if value == shown => {
            why.contains("already") || why.contains("before its last repot") || why.contains("is taken by")
        }
        Err(FormError::Field { .. }) | Ok(()) => true,
        Err(why) => panic!("{typed}: {why}"),
    }
}

#[test]
fn a_sheet_takes_what_its_form_takes_at_every_bound() {
    let (mut tried, mut store) = (0, stocked());
    for (key, column, scale, form) in DOORS {
        let takes = table::of(key).unwrap().columns.iter().find(|it| it.name == *column).unwrap().takes;
        for cell in tries(takes) {
            let typed = match (takes, *scale == 1.0) {
                (Takes::Number(..), false) => format!("{:.6}", cell.parse::<f64>().unwrap() * scale),
                _ => cell.clone(),
            };
            let doors = [sheet_takes(key, column, &cell), form_takes(&mut store, *form, &typed)];
            assert_eq!(doors[0], doors[1], "{key} {column}: sheet and form on {cell:?}");
            tried += 1;
        }
    }
    assert!(tried > 400, "{tried}");
}

/// A figure that one door once rounded, and depths that two doors once bounded differently.
#[test]
fn part_trees_are_refused_by_both_doors_and_one_bound_holds_for_a_depth_and_a_shape() {
    let mut store = stocked();
    let mut doors = |key: &str, column: &str, cell: &str| {
        let form = DOORS.iter().find(|door| (door.0, door.1) == (key, column)).unwrap().3;
        [sheet_takes(key, column, cell), form_takes(&mut store, form, cell)]
    };
    let cells = [("capacity", "2.7", false), ("capacity", "2", true)];
    for (column, cell, taken) in cells {
        assert_eq!(doors("places", column, cell), [taken; 2], "{column} {cell}");
    }
    for (cell, taken) in [("200", true), ("201", false), ("300", false)] {
        assert_eq!(doors("pots", "height", cell), [taken; 2], "height {cell}");
    }
    for (cell, taken) in [("300", true), ("301", false)] {
        assert_eq!(doors("repots", "pad_depth", cell), [taken; 2], "depth of the roots {cell}");
    }
    for (exponent, taken) in [("50", true), ("50.5", false), ("0.9", false)] {
        let form = shelf::PotForm { shape: "mokko", corner: exponent, ..pot() };
        let sheet = format!("name,outline,length,width,height,shape\nX,superellipse,20,15,6,{exponent}\n");
        let sheet = super::potting::pots(&sheet).whole().is_ok();
        let typed = add_pot(&mut stocked(), &form).is_ok();
        assert_eq!([sheet, typed], [taken; 2], "exponent {exponent}");
    }
}

#[test]
fn every_column_with_a_bound_is_held_against_its_form() {
    for format in table::all() {
        for column in format.columns.iter().filter(|it| !tries(it.takes).is_empty()) {
            let held = DOORS.iter().any(|door| (door.0, door.1) == (format.key, column.name));
            let alone = SHEET_ALONE.contains(&(format.key, column.name));
            assert!(held != alone, "{} {}: held {held}, alone {alone}", format.key, column.name);
        }
    }
}

#[test]
fn joiners_that_scripts_need_are_kept_and_signs_nobody_sees_are_not() {
    assert_eq!(fault("می\u{200c}خواهم \u{1f468}\u{200d}\u{1f33e}", Lines::One), None);
    for sign in ('\0'..=' ')
        .filter(|sign| *sign != ' ')
        .chain(['\u{7f}', '\u{85}', '\u{200b}', '\u{2028}', '\u{feff}'])
    {
        assert!(fault(&format!("a{sign}b"), Lines::One).is_some(), "{sign:?}");
    }
    assert_eq!(fault("a\r\nb\tc", Lines::Many), None);
}
