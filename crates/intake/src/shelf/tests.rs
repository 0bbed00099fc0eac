//! Claims of the forms of the shelf, and what is refused.

mod back;
mod bench;
mod hand;

use std::io::Cursor;

use collection::{
    event::WorkKind,
    repot::Repot,
    reserve::{Reservation, Said},
    ware::{Told, Ware, Whereabouts},
};
use image::{ImageFormat, Rgb, RgbImage};
use jiff::civil::{Date, date};
use measure::quantity::{Centimetre, Millimetre, Share, Units};
use pot::colour::{
    card::Refused,
    space::{Lab, Srgb},
};
use store::{error::Error, store::Store};

use super::*;
use crate::{
    bucket::{self, PottedForm},
    import::{Kind, Options, import},
    record::FormError,
};

const TODAY: Date = date(2026, 3, 28);

const OVAL: PotForm<'_> = PotForm {
    name: "Celadon oval",
    shape: "oval",
    outline: "",
    length: "31",
    width: "24",
    corner: "",
    middle_length: "",
    middle_width: "",
    bottom_length: "28",
    bottom_width: "",
    height: "7",
    feet: "0.8",
    floor: "",
    thick: "",
    lip: "",
    gap: "",
    measured: "",
    finish: "gloss",
    clay: "",
    fired: "high",
    drain_holes: "2",
    hole: "18",
    tie_holes: "4",
    feel: "feminine",
    features: "",
    swatch: "pot_celadon",
    l: "",
    a: "",
    b: "",
    empty: "1.9 kg",
    maker: "Weir workshop",
    mark: "two leaves in a ring",
    kiln: "",
    origin: "",
    era: "",
    bought: "2020-05-01",
    paid: "80 CHF",
    seller: "",
    condition: "",
    worth: "120 CHF",
    worth_day: "",
    spot: "top board",
    training: false,
    count: "",
    note: "",
};

const BOX: PotForm<'_> = PotForm {
    name: "Grow box",
    shape: "rectangle",
    length: "36",
    width: "27",
    bottom_length: "",
    height: "10",
    finish: "unglazed",
    clay: "earthenware",
    training: true,
    count: "1",
    ..OVAL
};

fn add(store: &mut Store, form: PotForm<'_>) -> String {
    add_pot(store, &form, Units::Metric, TODAY).unwrap()
}

/// Two trees; the maple stands in the oval since 2023.
fn stocked() -> Store {
    let mut store = Store::in_memory().unwrap();
    let trees = b"name,taxon\nMaple,acer-palmatum\nElm,ulmus-parvifolia\n";
    import(&mut store, &Kind::Trees, "trees.csv", trees, &Options::default()).unwrap();
    bucket::add_mix(&mut store, "Mix", ["2", "5"]).unwrap();
    add(&mut store, OVAL);
    add(&mut store, PotForm { name: "Grey tray", height: "5", ..OVAL });
    let form = PottedForm { tree: "maple", pot: "celadon-oval", mix: "mix", day: "2023-03-10" };
    bucket::pot(&mut store, form, TODAY).unwrap();
    store
}

fn ware(store: &Store, pot: &str) -> Ware {
    store.reader().unwrap().wares().unwrap().into_iter().find(|ware| ware.pot == pot).unwrap()
}

fn stands_in(store: &Store, tree: &str) -> String {
    let potted = store.reader().unwrap().potted().unwrap();
    potted.into_iter().filter(|it| it.tree == tree).max_by_key(|it| it.day).unwrap().pot
}

/// The field and the value that a form was refused for.
#[track_caller]
fn field<T: std::fmt::Debug>(told: Result<T, FormError>) -> (&'static str, String, String) {
    match told {
        Err(FormError::Field { field, value, why }) => (field, value, why),
        other => panic!("{other:?}"),
    }
}

fn where_to(store: &mut Store, pot: &str, to: &str, into: &str) -> Result<PotTold, FormError> {
    let revision = ware(store, pot).revision.to_string();
    let form = WhereaboutsForm { pot, whereabouts: to, spot: "", into, revision: &revision };
    whereabouts(store, form, TODAY)
}

fn picture(pixel: impl Fn(u32, u32) -> [u8; 3]) -> Vec<u8> {
    let picture = RgbImage::from_fn(400, 300, |x, y| Rgb(pixel(x, y)));
    let mut bytes = Vec::new();
    picture.write_to(&mut Cursor::new(&mut bytes), ImageFormat::Png).unwrap();
    bytes
}

#[test]
fn a_pot_is_kept_with_all_that_is_known_of_it_and_an_edit_keeps_what_it_does_not_tell() {
    let mut store = stocked();
    let kept = ware(&store, "celadon-oval");
    assert_eq!((kept.revision, kept.hole, kept.maker.as_str()), (1, Some(Millimetre(18.0)), "Weir workshop"));
    assert_eq!(kept.worth.unwrap().1, TODAY);
    let taken = field(add_pot(&mut store, &OVAL, Units::Metric, TODAY));
    assert_eq!((taken.0, taken.1.as_str()), ("name", "Celadon oval"));
    let inches =
        PotForm { name: "Oval", length: "12.2 in", swatch: "", l: "70.9", a: "-17.3", b: "6.4", ..OVAL };
    edit_pot(&mut store, "celadon-oval", "1", &inches, Units::Imperial, TODAY).unwrap_err();
    let metric = PotForm { length: "31 cm", width: "9.4 in", ..inches };
    edit_pot(&mut store, "celadon-oval", "1", &metric, Units::Metric, TODAY).unwrap();
    let kept = ware(&store, "celadon-oval");
    assert_eq!((kept.revision, kept.glaze.unwrap().told), (2, Told::Picked));
    let pot = store.reader().unwrap().pots().unwrap().remove(0);
    assert_eq!((pot.key.as_str(), pot.name.as_str()), ("celadon-oval", "Oval"));
    let stale = edit_pot(&mut store, "celadon-oval", "1", &metric, Units::Metric, TODAY);
    assert!(matches!(stale, Err(FormError::Store(Error::Stale { yours: 1, stored: 2, .. }))), "{stale:?}");
    let none = PotForm { swatch: "none", ..metric };
    edit_pot(&mut store, "celadon-oval", "2", &none, Units::Metric, TODAY).unwrap();
    assert_eq!(ware(&store, "celadon-oval").glaze, None);
}

#[test]
fn each_field_of_a_pot_that_cannot_be_is_named() {
    let mut store = stocked();
    let mut wrong = |form: PotForm<'_>| {
        let form = PotForm { name: "Newcomer", ..form };
        let (field, value, _) = field(add_pot(&mut store, &form, Units::Metric, TODAY));
        (field, value)
    };
    assert_eq!(wrong(PotForm { shape: "star", ..OVAL }), ("shape", "star".into()));
    assert_eq!(wrong(PotForm { length: "wide", ..OVAL }), ("length", "wide".into()));
    assert_eq!(wrong(PotForm { paid: "80", ..OVAL }), ("paid", "80".into()));
    assert_eq!(wrong(PotForm { bought: "2027-01-01", ..OVAL }), ("day", "2027-01-01".into()));
    assert_eq!(wrong(PotForm { swatch: "leaf_spring", ..OVAL }), ("colour", "leaf_spring".into()));
    assert_eq!(wrong(PotForm { count: "3", ..OVAL }), ("count", "3".into()));
    assert_eq!(wrong(PotForm { feet: "6", floor: "2", ..OVAL }).0, "measures");
    assert_eq!(wrong(PotForm { clay: "wood", finish: "unglazed", ..OVAL }), ("clay", "wood".into()));
    assert_eq!(store.reader().unwrap().pots().unwrap().len(), 2);
}

#[test]
fn a_pot_with_a_tree_in_it_is_not_given_away_lent_or_deleted() {
    let mut store = stocked();
    for to in ["gone", "lent"] {
        let (name, value, why) = field(where_to(&mut store, "celadon-oval", to, ""));
        assert_eq!((name, value.as_str()), ("pot", "Celadon oval"));
        assert!(why.contains("Maple"), "{why}");
    }
    let held = delete_pot(&mut store, "celadon-oval", "1");
    assert!(
        matches!(&held, Err(FormError::Store(Error::InUse { by, .. })) if by.contains("maple")),
        "{held:?}"
    );
    assert_eq!(ware(&store, "celadon-oval").whereabouts, Whereabouts::Shelf);
    assert_eq!(ware(&store, "celadon-oval").revision, 1);
    where_to(&mut store, "grey-tray", "lent", "").unwrap();
    let stale = delete_pot(&mut store, "grey-tray", "1");
    assert!(matches!(stale, Err(FormError::Store(Error::Stale { yours: 1, stored: 2, .. }))), "{stale:?}");
    let never = ReserveForm { pot: "grey-tray", said: "never", ..promise("elm", "2") };
    say(&mut store, never).unwrap();
    let ended = delete_pot(&mut store, "grey-tray", "3").unwrap();
    assert_eq!((ended.len(), ended[0].tree.as_str(), ended[0].said), (1, "elm", Said::Never));
    add(&mut store, BOX);
    let elm = PottedForm { tree: "elm", pot: "grow-box", mix: "mix", day: "2024-03-10" };
    bucket::pot(&mut store, elm, TODAY).unwrap();
    let held = delete_pot(&mut store, "grow-box", "1");
    assert!(matches!(&held, Err(FormError::Store(Error::InUse { .. }))), "{held:?}");
    assert_eq!(store.reader().unwrap().pots().unwrap().len(), 2);
}

fn promise<'a>(tree: &'a str, revision: &'a str) -> ReserveForm<'a> {
    ReserveForm {
        pot: "celadon-oval",
        tree,
        season: "2026",
        said: "promised",
        why: "",
        revision,
        despite: "",
    }
}

/// Says a word of a pot that would hold the tree.
fn say(store: &mut Store, form: ReserveForm<'_>) -> Result<Reservation, FormError> {
    reserve(store, form, None, TODAY).map_err(|why| match why {
        ReserveError::Form(why) => why,
        ReserveError::Asked(ask) => panic!("{ask}"),
    })
}

#[test]
fn a_broken_pot_frees_its_tree_to_the_smallest_box_that_holds_its_soil_and_its_promises_end() {
    let mut store = stocked();
    say(&mut store, promise("elm", "1")).unwrap();
    let (.., why) = field(where_to(&mut store, "celadon-oval", "broken", ""));
    assert!(why.contains("add a box first"), "{why}");
    add(&mut store, PotForm { name: "Tiny box", length: "12", width: "9", ..BOX });
    add(&mut store, PotForm { name: "Tub", length: "60", width: "50", ..BOX });
    add(&mut store, BOX);
    let told = where_to(&mut store, "celadon-oval", "broken", "").unwrap();
    assert_eq!(told.freed, [("maple".to_string(), "grow-box".to_string())]);
    assert_eq!((told.ended.len(), told.ended[0].tree.as_str()), (1, "elm"));
    assert_eq!(stands_in(&store, "maple"), "grow-box");
    let (_, work) = store.reader().unwrap().works().unwrap().remove(0);
    assert_eq!((work.tree.as_str(), work.day, work.kind), ("maple", TODAY, WorkKind::Other));
    assert_eq!(work.note, "its pot broke; put into Grow box");
    assert_eq!(ware(&store, "celadon-oval").whereabouts, Whereabouts::Broken);
    assert!(store.reader().unwrap().reservations().unwrap().is_empty());
    assert_eq!(store.reader().unwrap().last_act().unwrap(), 10, "one act, not two");
    let (name, ..) = field(say(&mut store, promise("elm", "3")));
    assert_eq!(name, "pot");
    assert_eq!(field(where_to(&mut store, "grow-box", "gone", "")).0, "pot");
}

#[test]
fn the_box_that_is_named_is_taken_while_one_is_free() {
    let mut store = stocked();
    add(&mut store, BOX);
    add(&mut store, PotForm { name: "Tiny box", length: "12", width: "9", ..BOX });
    let elm = PottedForm { tree: "elm", pot: "grow-box", mix: "mix", day: "2024-03-10" };
    bucket::pot(&mut store, elm, TODAY).unwrap();
    let used = field(where_to(&mut store, "celadon-oval", "broken", "grow-box"));
    assert!(used.0 == "into" && used.2.contains("used up"), "{used:?}");
    assert_eq!(field(where_to(&mut store, "celadon-oval", "broken", "grey-tray")).0, "into");
    assert_eq!(stands_in(&store, "maple"), "celadon-oval");
    let told = where_to(&mut store, "celadon-oval", "broken", "tiny-box").unwrap();
    assert_eq!(told.freed[0].1, "tiny-box");
}

#[test]
fn of_two_edits_to_one_reservation_the_second_is_refused_and_one_pot_is_held_once() {
    let mut store = stocked();
    say(&mut store, promise("elm", "1")).unwrap();
    let second = ReserveForm { said: "never", ..promise("elm", "1") };
    let stale = say(&mut store, second);
    assert!(matches!(stale, Err(FormError::Store(Error::Stale { yours: 1, stored: 2, .. }))), "{stale:?}");
    let held = say(&mut store, promise("maple", "2"));
    assert!(matches!(&held, Err(FormError::Store(Error::Held { by, .. })) if by == "elm"), "{held:?}");
    let stale = unreserve(&mut store, ["celadon-oval", "elm"], "2026", "1");
    assert!(matches!(stale, Err(FormError::Store(Error::Stale { .. }))));
    let kept = store.reader().unwrap().reservations().unwrap();
    assert_eq!((kept.len(), kept[0].said), (1, Said::Promised));
    unreserve(&mut store, ["celadon-oval", "elm"], "2026", "2").unwrap();
    say(&mut store, promise("maple", "3")).unwrap();
    add(&mut store, BOX);
    assert_eq!(field(say(&mut store, ReserveForm { pot: "grow-box", ..promise("elm", "1") })).0, "pot");
    assert_eq!(field(say(&mut store, ReserveForm { tree: "oak", ..promise("elm", "4") })).0, "tree");
    assert_eq!(field(say(&mut store, ReserveForm { season: "1999", ..promise("elm", "4") })).0, "season");
}

#[test]
fn a_glaze_is_read_off_the_photo_beside_the_grey_card() {
    let mut store = stocked();
    let lit = picture(|x, _| if x < 120 { [118, 118, 118] } else { [140, 184, 163] });
    let photo = pot_photo(&mut store, "celadon-oval", &lit, "", "2026-03-01", TODAY).unwrap();
    assert_eq!(field(pot_photo(&mut store, "celadon-oval", &lit, "", "", TODAY)).0, "photo");
    let form = GlazeForm {
        photo: &photo.key,
        card: ["10", "10", "80", "200"],
        pot: ["150", "20", "240", "270"],
        reflectance: "",
        revision: "1",
    };
    read_glaze(&mut store, form).unwrap();
    let glaze = ware(&store, "celadon-oval").glaze.unwrap();
    let seen = Lab::of(Srgb([140, 184, 163]));
    assert!(matches!(glaze.told, Told::Measured { spread } if spread < 1.0), "{glaze:?}");
    let gaps = [glaze.colour.l - seen.l, glaze.colour.a - seen.a, glaze.colour.b - seen.b];
    assert!(gaps.iter().all(|gap| gap.abs() < 2.0), "{glaze:?} {seen:?}");
    let stale = read_glaze(&mut store, form);
    assert!(matches!(stale, Err(GlazeError::Form(FormError::Store(Error::Stale { .. })))), "{stale:?}");
    let off = read_glaze(&mut store, GlazeForm { pot: ["150", "20", "300", "270"], revision: "2", ..form });
    assert!(matches!(off, Err(GlazeError::Form(FormError::Field { field: "pot", .. }))), "{off:?}");
    let few = read_glaze(&mut store, GlazeForm { card: ["10", "10", "5", "5"], revision: "2", ..form });
    assert!(matches!(few, Err(GlazeError::Photo(Refused::FewOfCard(25)))), "{few:?}");
    let burnt = picture(|x, _| if x < 120 { [255, 255, 255] } else { [140, 184, 163] });
    let photo = pot_photo(&mut store, "celadon-oval", &burnt, "base", "", TODAY).unwrap();
    let burnt = read_glaze(&mut store, GlazeForm { photo: &photo.key, revision: "2", ..form });
    assert!(matches!(burnt, Err(GlazeError::Photo(Refused::Overexposed(_)))), "{burnt:?}");
    assert_eq!(ware(&store, "celadon-oval").revision, 2);
    // What was read stays when the record is edited with the figures shown.
    let [l, a, b] = [glaze.colour.l, glaze.colour.a, glaze.colour.b].map(|figure| format!("{figure:.1}"));
    let edit = PotForm { swatch: "", l: &l, a: &a, b: &b, ..OVAL };
    edit_pot(&mut store, "celadon-oval", "2", &edit, Units::Metric, TODAY).unwrap();
    assert_eq!(ware(&store, "celadon-oval").glaze, Some(glaze));
    remove_pot_photo(&mut store, "celadon-oval", &photo.key).unwrap();
    assert_eq!(field(remove_pot_photo(&mut store, "grey-tray", &photo.key)).0, "photo");
}

#[test]
fn how_a_tree_stands_is_kept_and_taken_back() {
    let mut store = stocked();
    let size = StatureForm { tree: "maple", day: "", height: "17.3 in", trunk: "6" };
    stature(&mut store, size, Units::Metric, TODAY).unwrap();
    vigour(&mut store, VigourForm { tree: "maple", strength: "strong", ..VigourForm::default() }, TODAY)
        .unwrap();
    pot_look(
        &mut store,
        PotLookForm { tree: "maple", drained: "95", rocks: true, ..PotLookForm::default() },
        TODAY,
    )
    .unwrap();
    let pest = TollForm { tree: "maple", what: "pest", amount: "30 %", ..TollForm::default() };
    toll(&mut store, pest, TODAY).unwrap();
    assert_eq!(field(toll(&mut store, pest, TODAY)).0, "what");
    assert_eq!(field(toll(&mut store, TollForm { what: "wire", amount: "2.5", ..pest }, TODAY)).0, "amount");
    grown(&mut store, GrownForm { tree: "maple", style: "broom", asked: "900 CHF", ..GrownForm::default() })
        .unwrap();
    tint(
        &mut store,
        TintForm { tree: "maple", season: "autumn", swatch: "autumn_red", ..TintForm::default() },
    )
    .unwrap();
    let nothing = tint(&mut store, TintForm { tree: "maple", season: "leaf", ..TintForm::default() });
    assert_eq!(field(nothing).0, "colour");
    let mean = MeantForm {
        tree: "maple",
        season: "2026",
        repot: "yes",
        cut: "30",
        mix: "mix",
        ..MeantForm::default()
    };
    meant(&mut store, mean, TODAY).unwrap();
    let reader = store.reader().unwrap();
    assert_eq!(reader.statures().unwrap()[0].height.0, 43.942);
    assert_eq!(reader.meant().unwrap()[0].cut, Some(Share(0.3)));
    meant(&mut store, MeantForm { repot: "", ..mean }, TODAY).unwrap();
    let id = reader.tolls().unwrap()[0].0;
    let lines =
        [ShelfLine::Stature(TODAY), ShelfLine::Vigour(TODAY), ShelfLine::PotLook(TODAY), ShelfLine::Toll(id)];
    assert_eq!(field(take_back(&mut store, "elm", ShelfLine::Toll(id))).0, "toll");
    for line in lines {
        take_back(&mut store, "maple", line).unwrap();
    }
    let left = [
        reader.statures().unwrap().len(),
        reader.vigours().unwrap().len(),
        reader.pot_looks().unwrap().len(),
        reader.tolls().unwrap().len(),
        reader.meant().unwrap().len(),
    ];
    assert_eq!(left, [0; 5]);
    assert!(take_back(&mut store, "maple", ShelfLine::Stature(TODAY)).is_err());
}

#[test]
fn the_shed_is_counted_and_a_mix_told_by_its_parts() {
    let mut store = stocked();
    let lava = StockForm { item: "lava", left: "12,5", pack: "14", delivery: "6", day: "" };
    stock(&mut store, lava, TODAY).unwrap();
    assert_eq!(field(stock(&mut store, StockForm { item: "peat", ..lava }, TODAY)).0, "item");
    assert_eq!(field(stock(&mut store, StockForm { delivery: "soon", ..lava }, TODAY)).0, "delivery");
    blend(&mut store, "mix", &[("akadama", "2"), ("lava", ""), ("pumice", "1")]).unwrap();
    assert_eq!(field(blend(&mut store, "mix", &[("lava", "1"), ("lava", "2")])).0, "component");
    assert_eq!(field(blend(&mut store, "mix", &[("lava", "")])).0, "parts");
    let reader = store.reader().unwrap();
    assert_eq!((reader.stock().unwrap()[0].left, reader.blends().unwrap()[0].parts.len()), (12.5, 2));
    like(&mut store, "elm", "grey-tray", "celadon-oval", TODAY).unwrap();
    assert_eq!(field(like(&mut store, "elm", "grey-tray", "grey-tray", TODAY)).0, "pot");
    assert_eq!(store.reader().unwrap().likings().unwrap().len(), 1);
}
