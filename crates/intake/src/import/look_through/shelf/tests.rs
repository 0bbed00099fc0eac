//! Claims of the sheets of the shelf: whole or nothing, and twice adds nothing.

use proptest::prelude::*;
use store::store::Store;

use crate::{
    import::{Done, ImportError, Kind, Options, import},
    sheet::shelf::ShelfSheet,
};

const GROUND: [(&str, &str); 4] = [
    ("trees", "name,taxon\nOld Maple,acer-palmatum\nElm,ulmus-parvifolia\n"),
    (
        "pots",
        "name,outline,length,width,height\nBlue oval,oval,31,24,7\nGrey box,rectangle,35,26,9\nTray,oval,40,28,4\n",
    ),
    ("mixes", "name,grain_low,grain_high\nMaple mix,2,5\n"),
    ("work", "tree,day,kind,note\nElm,2025-03-20,repot,about half\n"),
];

fn take(store: &mut Store, key: &str, sheet: &str) -> Result<Done, ImportError> {
    let kind = Kind::from_key(key, "").unwrap();
    import(store, &kind, &format!("{key}.csv"), sheet.as_bytes(), &Options::default())
}

fn stocked() -> Store {
    let mut store = Store::in_memory().unwrap();
    for (key, sheet) in GROUND {
        take(&mut store, key, sheet).unwrap();
    }
    store
}

/// The lines that a sheet was refused for, with what stood there.
fn refused(store: &mut Store, key: &str, sheet: &str) -> Vec<(usize, String)> {
    match take(store, key, sheet) {
        Err(ImportError::Refused(lines)) => lines.into_iter().map(|it| (it.line, it.value)).collect(),
        other => panic!("{other:?}"),
    }
}

/// One good sheet of each kind.
const SHEETS: [(&str, &str); 13] = [
    (
        "wares",
        "pot,training,count,shape,finish,fired,drain_holes,swatch,l,a,b,spread,maker,paid,worth,worth_day,whereabouts\n\
         Blue oval,no,,oval,gloss,high,2,pot_celadon,,,,,Weir workshop,80 CHF,120 CHF,2025-06-01,\n\
         Grey box,yes,6,,unglazed,,,,40.7,1.9,6.5,1.2,,,,,\nTray,,,slab,,,,,40.7,1.9,6.5,,,,,,lent\n",
    ),
    (
        "grown",
        "tree,style,kind,feel,age,shown,asked\nOld Maple,broom,deciduous,feminine,old,autumn,900 CHF\nElm,,,,,,\n",
    ),
    ("statures", "tree,day,height,trunk\nOld Maple,2025-11-20,44,6.5\nElm,2025-11-20,12,2\n"),
    ("tints", "tree,season,swatch,l,a,b\nOld Maple,autumn,autumn_red,,,\nOld Maple,leaf,,41,-25,29\n"),
    ("vigour", "tree,day,strength,why\nElm,2025-06-10,strong,long flush\n"),
    (
        "pot_looks",
        "tree,day,drained,twice_a_day,rocks,roots,crumbled,falling,note\nElm,2026-02-20,95,no,yes,yes,,,\n",
    ),
    (
        "meant",
        "tree,season,repot,cut,mix,show,why\nElm,2026,yes,0.3,Maple mix,yes,\nOld Maple,2026,no,,,,rests\n",
    ),
    (
        "repots",
        "tree,day,pot,mix,cut,bare,found,proud,clock,sideways,forward,pad_length,pad_width,pad_depth,took,note\n\
         Old Maple,2025-03-12,Blue oval,Maple mix,0.35,no,grubs,4,7,-3,,20,15,4,45,\n\
         Elm,2025-03-20,Tray,Maple mix,0,,,,,,,,,,,\n",
    ),
    ("tolls", "tree,day,what,amount,note\nElm,2025-06-20,pest,0.2,\nElm,2025-06-20,pinch,,\n"),
    (
        "reservations",
        "pot,tree,season,said,why,made\nBlue oval,Elm,2026,promised,,2026-01-05\nBlue oval,Old Maple,2026,never,,2026-01-05\n",
    ),
    ("likings", "tree,liked,over,day\nElm,Blue oval,Tray,2026-01-05\n"),
    (
        "stock",
        "item,left,pack,delivery,day\nakadama,14,14,5,2026-01-10\nmesh,900,,,2026-01-10\ntie-2,2400,,,2026-01-10\n",
    ),
    ("blends", "mix,component,parts\nMaple mix,akadama,2\nMaple mix,pumice,1\nMaple mix,lava,1\n"),
];

#[test]
fn every_sheet_comes_in_once_in_the_order_told_and_twice_adds_nothing() {
    let mut store = stocked();
    assert_eq!(SHEETS.map(|(key, _)| key), ShelfSheet::ALL.map(ShelfSheet::key));
    for (key, sheet) in SHEETS {
        let done = take(&mut store, key, sheet).unwrap_or_else(|why| panic!("{key}: {why:?}"));
        assert!(done.added > 0, "{key}: {done:?}");
    }
    let acts = store.reader().unwrap().last_act().unwrap();
    for (key, sheet) in SHEETS {
        assert_eq!(take(&mut store, key, sheet).unwrap().added, 0, "{key}");
    }
    let reader = store.reader().unwrap();
    assert_eq!(reader.last_act().unwrap(), acts);
    assert_eq!(reader.faults().unwrap(), Vec::<String>::new());
    let wares = reader.wares().unwrap();
    let told = wares.iter().map(|ware| (ware.pot.as_str(), ware.count, ware.glaze.unwrap().told));
    use collection::ware::Told;
    let expected = [
        ("blue-oval", 1, Told::Picked),
        ("grey-box", 6, Told::Measured { spread: 1.2 }),
        ("tray", 1, Told::Picked),
    ];
    assert_eq!(told.collect::<Vec<_>>(), expected);
    assert_eq!(reader.blends().unwrap()[0].parts.len(), 3);
}

#[test]
fn a_repot_out_of_a_sheet_brings_its_pot_and_its_work_where_nobody_wrote_them() {
    let mut store = stocked();
    let (_, repots) = SHEETS[7];
    take(&mut store, "repots", repots).unwrap();
    let reader = store.reader().unwrap();
    let potted: Vec<String> = reader.potted().unwrap().into_iter().map(|it| it.pot).collect();
    assert_eq!(potted, ["tray", "blue-oval"]);
    let works: Vec<_> = reader.works().unwrap().into_iter().map(|(_, it)| it).collect();
    assert_eq!(works.iter().map(|it| it.note.as_str()).collect::<Vec<_>>(), ["", "about half"]);
    let cuts = season::repot::root_cuts::root_cuts(&reader.repots().unwrap(), &works);
    assert_eq!(cuts[0].roots.likely, measure::quantity::Share(0.35));
}

#[test]
fn names_that_nobody_knows_and_rows_that_contradict_keep_the_whole_sheet_out() {
    let mut store = stocked();
    let nobody =
        "tree,day,pot,mix,cut\nElm,2026-03-01,Blue oval,Maple mix,0.2\nElm,2026-03-02,Moon,Maple mix,0.2\n";
    assert_eq!(refused(&mut store, "repots", nobody), [(3, "moon".into())]);
    assert!(store.reader().unwrap().repots().unwrap().is_empty());
    let mix = "tree,season,repot,mix\nElm,2026,yes,Sand\n";
    assert_eq!(refused(&mut store, "meant", mix), [(2, "sand".into())]);
    let twice = "tree,day,height,trunk\nElm,2026-01-01,20,3\nElm,2026-01-01,21,3\nElm,2026-01-01,20,3\n";
    assert_eq!(refused(&mut store, "statures", twice), [(3, "elm 2026-01-01".into())]);
    let parts = "mix,component,parts\nMaple mix,lava,1\nMaple mix,lava,2\n";
    assert_eq!(refused(&mut store, "blends", parts), [(3, "maple-mix lava".into())]);
    let many = "pot,training,count\nTray,no,3\n";
    assert_eq!(refused(&mut store, "wares", many), [(2, "3".into())]);
}

#[test]
fn a_pot_held_twice_a_box_and_a_lent_pot_are_refused_by_line() {
    let mut store = stocked();
    take(&mut store, "wares", SHEETS[0].1).unwrap();
    let held = "pot,tree,season,said,made\n\
                Blue oval,Elm,2026,promised,2026-01-05\nBlue oval,Old Maple,2026,kept-for,2026-01-05\n\
                Grey box,Elm,2026,second,2026-01-05\nTray,Elm,2026,second,2026-01-05\nTray,Elm,2027,never,2026-01-05\n";
    let lines = refused(&mut store, "reservations", held);
    assert_eq!(lines, [(3, "blue-oval".into()), (4, "grey-box".into()), (5, "tray".into())]);
    assert!(store.reader().unwrap().reservations().unwrap().is_empty());
}

const TREES: [&str; 2] = ["Old Maple", "Elm"];
const POTS: [&str; 3] = ["Blue oval", "Grey box", "Tray"];

fn tree() -> impl Strategy<Value = &'static str> {
    proptest::sample::select(TREES.to_vec())
}

fn day() -> impl Strategy<Value = String> {
    (1..=12_u8, 1..=28_u8).prop_map(|(month, day)| format!("2025-{month:02}-{day:02}"))
}

fn pot() -> impl Strategy<Value = &'static str> {
    proptest::sample::select(POTS.to_vec())
}

/// A sheet of any kind with rows that may well contradict each other.
fn any_sheet() -> impl Strategy<Value = (&'static str, String)> {
    let statures = (tree(), day(), 5..60_u8, 1..9_u8).prop_map(|(t, d, h, w)| format!("{t},{d},{h},{w}"));
    let repots =
        (tree(), day(), pot(), 0..80_u8).prop_map(|(t, d, p, c)| format!("{t},{d},{p},Maple mix,0.{c:02}"));
    let words = proptest::sample::select(vec!["promised", "kept-for", "second", "never"]);
    let reserved = (pot(), tree(), 2025..2028_i16, words, day())
        .prop_map(|(p, t, s, w, d)| format!("{p},{t},{s},{w},{d}"));
    let what = proptest::sample::select(vec!["pinch,", "pest,0.3", "show,2", "wire,5", "carve,"]);
    let tolls = (tree(), day(), what).prop_map(|(t, d, w)| format!("{t},{d},{w}"));
    let item = proptest::sample::select(vec!["lava", "mesh", "tie-2", "pumice"]);
    let stock = (item, 0..90_u8, day()).prop_map(|(i, n, d)| format!("{i},{n},{d}"));
    let component = proptest::sample::select(vec!["lava", "akadama", "pumice"]);
    let parts = (component, 1..5_u8).prop_map(|(c, n)| format!("Maple mix,{c},{n}"));
    let tints = (tree(), proptest::sample::select(vec!["leaf", "bark"]), 20..80_u8)
        .prop_map(|(t, s, l)| format!("{t},{s},{l},3,4"));
    fn sheet(
        key: &'static str,
        header: &'static str,
        row: impl Strategy<Value = String>,
    ) -> impl Strategy<Value = (&'static str, String)> {
        proptest::collection::vec(row, 1..12)
            .prop_map(move |rows| (key, format!("{header}\n{}\n", rows.join("\n"))))
    }
    prop_oneof![
        sheet("statures", "tree,day,height,trunk", statures),
        sheet("repots", "tree,day,pot,mix,cut", repots),
        sheet("reservations", "pot,tree,season,said,made", reserved),
        sheet("tolls", "tree,day,what,amount", tolls),
        sheet("stock", "item,left,day", stock),
        sheet("blends", "mix,component,parts", parts),
        sheet("tints", "tree,season,l,a,b", tints),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn whatever_a_sheet_holds_it_comes_in_whole_or_not_at_all_and_twice_adds_nothing((key, sheet) in any_sheet()) {
        let mut store = stocked();
        let acts = store.reader().unwrap().last_act().unwrap();
        match take(&mut store, key, &sheet) {
            Ok(first) => {
                prop_assert!(first.added > 0);
                let after = store.reader().unwrap().last_act().unwrap();
                prop_assert_eq!(take(&mut store, key, &sheet).unwrap().added, 0);
                prop_assert_eq!(store.reader().unwrap().last_act().unwrap(), after);
                prop_assert_eq!(store.reader().unwrap().faults().unwrap(), Vec::<String>::new());
            }
            Err(ImportError::Refused(lines)) => {
                prop_assert!(lines.iter().all(|it| it.line > 1 && !it.value.is_empty()), "{:?}", lines);
                prop_assert_eq!(store.reader().unwrap().last_act().unwrap(), acts);
            }
            Err(ImportError::Unclear(open)) => prop_assert!(false, "a sheet of the shelf asks nothing: {:?}", open),
            Err(ImportError::Store(why)) => prop_assert!(false, "the store had to refuse it: {}", why),
        }
    }
}
