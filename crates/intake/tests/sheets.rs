//! Sheets against a collection that stands: encodings, changes that are asked for, and rows that would change it unasked.

use collection::ware::Whereabouts;
use intake::import::{Done, ImportError, Kind, Options, import, preview};
use store::store::Store;

const ASKED: Options = Options {
    update: true,
    leave_out: false,
    strict: false,
    scale: None,
    order: None,
    winters: false,
    now: NOON,
};

/// Noon of 1 November 2026.
const NOON: Option<i64> = Some(1_793_534_400);

fn take(store: &mut Store, key: &str, sheet: impl AsRef<[u8]>, update: bool) -> Result<Done, ImportError> {
    let kind = Kind::from_key(key, "").unwrap();
    import(store, &kind, &format!("{key}.csv"), sheet.as_ref(), &Options { update, ..ASKED })
}

/// Lines, values and reasons of a refusal.
fn refused(
    store: &mut Store,
    key: &str,
    sheet: impl AsRef<[u8]>,
    update: bool,
) -> Vec<(usize, String, String)> {
    match take(store, key, sheet, update) {
        Err(ImportError::Refused(lines)) => lines.into_iter().map(|it| (it.line, it.value, it.why)).collect(),
        other => panic!("{other:?}"),
    }
}

fn stocked() -> Store {
    let mut store = Store::in_memory().unwrap();
    for (key, sheet) in [
        ("site", "name,latitude,longitude,elevation,zone\nHill,47.4,8.5,450,Europe/Zurich\n"),
        ("places", "name,shelter,capacity\nBench,open-bench,20\nFrame,cold-frame,\n"),
        (
            "trees",
            "name,taxon,confidence,note\nOld Maple,acer-palmatum,sure,wide flare\nElm,ulmus-parvifolia,,\n",
        ),
        ("pots", "name,outline,length,width,height\nBlue oval,oval,31,24,7\nBox,rectangle,40,30,12\n"),
        ("wares", "pot,training,count,maker\nBlue oval,no,,Weir workshop\nBox,yes,4,\n"),
        ("mixes", "name,grain_low,grain_high\nMaple mix,2,5\n"),
        ("potted", "tree,day,pot,mix\nOld Maple,2025-03-12,Blue oval,Maple mix\n"),
        ("moves", "tree,place,day\nOld Maple,Bench,2025-04-01\n"),
        ("reservations", "pot,tree,season,said,made\nBlue oval,Elm,2027,second,2026-01-05\n"),
        ("limbs", "tree,number,bearer,name,since\nElm,0,,trunk,2025-01-01\nElm,1,0,left,2025-01-01\n"),
        ("wires", "tree,limb,on,metal,gauge,note\nElm,1,2026-05-01,copper,2,first\n"),
    ] {
        take(&mut store, key, sheet, false).unwrap_or_else(|why| panic!("{key}: {why:?}"));
    }
    store
}

#[test]
fn a_tree_told_differently_is_refused_with_both_values_and_changed_when_asked() {
    let mut store = stocked();
    let sheet = "name,taxon,confidence,worth,note\nOld Maple,acer-palmatum,,show,\nElm,ulmus-parvifolia,,,\n";
    let lines = refused(&mut store, "trees", sheet, false);
    assert_eq!((lines.len(), lines[0].0, lines[0].1.as_str()), (1, 2, "old-maple"));
    assert!(lines[0].2.contains("worth is “standing”, here “show”"), "{}", lines[0].2);
    assert!(!lines[0].2.contains("note"), "an empty cell says nothing: {}", lines[0].2);
    let kind = Kind::from_key("trees", "").unwrap();
    let seen = preview(&store.reader().unwrap(), &kind, "t.csv", sheet.as_bytes(), &ASKED).unwrap();
    assert_eq!(
        (seen.rows, seen.notes),
        (
            2,
            vec![
                "rows that say what is in the collection already: 1".to_string(),
                "changes old-maple: worth is “standing”, here “show”".to_string()
            ]
        )
    );
    assert_eq!(take(&mut store, "trees", sheet, true).unwrap().added, 1);
    let tree = store.reader().unwrap().trees().unwrap().remove(0);
    assert_eq!(
        (tree.worth.key(), tree.note.as_str(), tree.name_confidence.key()),
        ("show", "wide flare", "sure")
    );
    assert_eq!(tree.revision, 2, "an edit that was begun before is refused from now on");
    assert_eq!(take(&mut store, "trees", sheet, true).unwrap().added, 0);
}

#[test]
fn a_place_and_a_pots_measures_change_when_asked() {
    let mut store = stocked();
    let places = "name,shelter,capacity\nBench,open-bench,12\n";
    assert_eq!(refused(&mut store, "places", places, false)[0].0, 2);
    assert_eq!(take(&mut store, "places", places, true).unwrap().added, 1);
    assert_eq!(store.reader().unwrap().places().unwrap()[0].capacity, Some(12));
    let pots = "name,outline,length,height,measured\nBlue oval,oval,31,7.5,3.2\n";
    let why = refused(&mut store, "pots", pots, false).remove(0).2;
    assert!(why.contains("height is “7”, here “7.5”; measured is empty, here “3.2”"), "{why}");
    let before = store.reader().unwrap().wares().unwrap()[0].revision;
    assert_eq!(take(&mut store, "pots", pots, true).unwrap().added, 1);
    let reader = store.reader().unwrap();
    let pot = reader.pots().unwrap().remove(0);
    assert_eq!((pot.vessel.height.0, pot.vessel.top.key().1[1].0), (7.5, 24.0));
    assert_eq!(reader.wares().unwrap()[0].revision, before + 1);
}

#[test]
fn a_pot_that_broke_frees_its_tree_and_one_that_is_gone_cannot_hold_one() {
    let mut store = stocked();
    let broke = "pot,whereabouts\nBlue oval,broken\n";
    let why = refused(&mut store, "wares", broke, false).remove(0).2;
    assert!(why.contains("whereabouts is “shelf”, here “broken”"), "{why}");
    let gone = refused(&mut store, "wares", "pot,whereabouts\nBlue oval,gone\n", true);
    assert_eq!((gone[0].0, gone[0].1.as_str()), (2, "Blue oval"));
    assert!(gone[0].2.contains("holds Old Maple"), "{}", gone[0].2);
    assert_eq!(take(&mut store, "wares", broke, true).unwrap().added, 1);
    let reader = store.reader().unwrap();
    let ware = reader.wares().unwrap().remove(0);
    assert_eq!((ware.whereabouts, ware.maker.as_str()), (Whereabouts::Broken, "Weir workshop"));
    let last =
        reader.potted().unwrap().into_iter().filter(|it| it.tree == "old-maple").max_by_key(|it| it.day);
    let last = last.unwrap();
    assert_eq!((last.pot.as_str(), last.day.to_string().as_str()), ("box", "2026-11-01"));
    assert!(reader.reservations().unwrap().is_empty());
}

#[test]
fn a_tree_that_moved_and_a_wire_that_came_off_change_when_asked() {
    let mut store = stocked();
    let moved = "tree,place,day\nOld Maple,Frame,2025-04-01\n";
    assert_eq!(refused(&mut store, "moves", moved, false)[0].1, "old-maple 2025-04-01");
    assert_eq!(take(&mut store, "moves", moved, true).unwrap().added, 1);
    assert_eq!(store.reader().unwrap().moves().unwrap()[0].place, "frame");
    let off = "tree,limb,on,metal,gauge,off,outcome\nElm,1,2026-05-01,copper,2,2026-09-01,held\n";
    let why = refused(&mut store, "wires", off, false).remove(0).2;
    assert!(why.contains("off is empty, here “2026-09-01”"), "{why}");
    assert_eq!(take(&mut store, "wires", off, true).unwrap().added, 1);
    let (_, wire) = store.reader().unwrap().wires().unwrap().remove(0);
    assert_eq!((wire.off.unwrap().to_string().as_str(), wire.note.as_str()), ("2026-09-01", "first"));
}

#[test]
fn what_no_sheet_changes_is_refused_even_when_asked() {
    let mut store = stocked();
    let said = "pot,tree,season,said,made\nBlue oval,Elm,2027,promised,2026-01-05\n";
    let why = refused(&mut store, "reservations", said, true).remove(0).2;
    assert!(why.contains("said is “second”, here “promised”") && why.contains("on its page"), "{why}");
    let since = "tree,number,bearer,name,since\nElm,1,0,left,2024-01-01\n";
    assert!(refused(&mut store, "limbs", since, true)[0].2.contains("since is “2025-01-01”"));
    let stock = |left: u8, day: &str| format!("item,left,day\nlava,{left},{day}\n");
    assert_eq!(take(&mut store, "stock", stock(9, "2026-02-01"), false).unwrap().added, 1);
    assert_eq!(take(&mut store, "stock", stock(5, "2026-03-01"), false).unwrap().added, 1, "a later count");
    assert_eq!(refused(&mut store, "stock", stock(7, "2026-02-15"), false)[0].0, 2);
}

#[test]
fn two_sites_and_two_names_of_one_key_are_named_by_line() {
    let mut store = Store::in_memory().unwrap();
    let two = "name,latitude,longitude,elevation,zone\nHill,47.4,8.5,450,Europe/Zurich\nLake,46.2,6.1,370,Europe/Zurich\n";
    let lines = refused(&mut store, "site", two, false);
    assert_eq!((lines[0].0, lines[0].2.as_str()), (3, "this stands on line 2 already, with other details"));
    let alike = "name,taxon\nOld Maple,acer-palmatum\nold-maple!,acer-palmatum\n";
    let lines = refused(&mut store, "trees", alike, false);
    assert_eq!((lines[0].0, lines[0].1.as_str()), (3, "old-maple!"));
    assert_eq!(
        lines[0].2,
        "is too like “Old Maple” on line 2: both would be old-maple in addresses; add a word"
    );
    assert!(store.reader().unwrap().trees().unwrap().is_empty());
}

#[test]
fn every_encoding_gives_the_same_tree_and_says_which_it_was() {
    let sheet = "name,taxon\nMüllers Ahorn,acer-palmatum\n";
    let wide: Vec<u8> = sheet.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let latin: Vec<u8> = sheet.chars().map(|letter| u8::try_from(u32::from(letter)).unwrap()).collect();
    for (bytes, note) in [
        (sheet.as_bytes().to_vec(), None),
        (wide, Some("the letters were read as UTF-16 LE")),
        (latin, Some("the letters were read as Windows-1252 (Latin-1); check these words: Müllers")),
    ] {
        let mut store = Store::in_memory().unwrap();
        let done = take(&mut store, "trees", bytes, false).unwrap();
        assert_eq!((done.added, done.notes.first().map(String::as_str)), (1, note));
        let tree = store.reader().unwrap().trees().unwrap().remove(0);
        assert_eq!((tree.name.as_str(), tree.key.as_str()), ("Müllers Ahorn", "müllers-ahorn"));
    }
    let mut store = Store::in_memory().unwrap();
    assert_eq!(refused(&mut store, "trees", b"name,taxon\nM\xef\xbf\xbdller,acer-palmatum\n", false)[0].0, 2);
}

#[test]
fn a_huge_note_and_a_day_ahead_are_refused_by_line() {
    let mut store = stocked();
    let note = format!("name,taxon,note\nOak,quercus-robur,\"{}\"\n", "x".repeat(3_000_000));
    let lines = refused(&mut store, "trees", note, false);
    assert_eq!((lines[0].0, lines[0].1.len()), (2, 80));
    assert!(lines[0].2.contains("3000000 letters long; 2000 are the most"), "{}", lines[0].2);
    let ahead = "tree,place,day\nElm,Bench,2026-11-02\nElm,Bench,2026-11-01\n";
    let lines = refused(&mut store, "moves", ahead, false);
    assert_eq!((lines.len(), lines[0].0, lines[0].1.as_str()), (1, 2, "2026-11-02"));
}

#[test]
fn a_files_name_is_kept_without_signs_that_nobody_sees() {
    let mut store = stocked();
    let kind = Kind::from_key("moves", "").unwrap();
    let sheet = b"tree,place,day\nElm,Bench,2026-10-01\n";
    import(&mut store, &kind, "a\u{1b}]0;b\u{202e}.csv", sheet, &ASKED).unwrap();
    let files = store.reader().unwrap().files().unwrap();
    assert!(files.iter().any(|(name, ..)| name == "a]0;b.csv"), "{files:?}");
}

#[test]
fn every_sheet_of_the_demo_comes_in_without_a_note_and_twice_adds_nothing() {
    let demo = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
    let mut store = Store::in_memory().unwrap();
    let keys = [
        "site",
        "places",
        "trees",
        "pots",
        "mixes",
        "potted",
        "crowns",
        "moves",
        "looks",
        "work",
        "water",
        "wares",
        "grown",
        "statures",
        "tints",
        "vigour",
        "pot_looks",
        "meant",
        "repots",
        "tolls",
        "reservations",
        "likings",
        "stock",
        "blends",
        "limbs",
        "calipers",
        "fronts",
        "aims",
        "intentions",
        "cuts",
        "wires",
        "coils",
        "layers",
        "wounds",
    ];
    for key in keys {
        let kind = Kind::from_key(key, "").unwrap();
        let bytes = std::fs::read(demo.join(format!("{key}.csv"))).unwrap();
        let done = import(&mut store, &kind, "demo.csv", &bytes, &Options::default());
        let done = done.unwrap_or_else(|why| panic!("{key}: {why:?}"));
        assert_eq!(done.notes, Vec::<String>::new(), "{key}");
        let again = import(&mut store, &kind, "demo.csv", &bytes, &Options::default());
        assert_eq!(again.unwrap_or_else(|why| panic!("{key} again: {why:?}")).added, 0, "{key}");
    }
}
