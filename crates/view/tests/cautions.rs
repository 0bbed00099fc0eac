//! What to be careful of with a tree: on a small collection of a juniper, a hawthorn, a pear, a yew and a larch.

use intake::import::{Kind, Options, import};
use jiff::civil::date;
use store::store::Store;
use view::{
    cautions::{self, Cautions, rust_partners},
    whole::{Whole, whole},
};

const TREES: &str = "name,taxon,confidence,since,worth,note\n\
    Juniper,juniperus-chinensis,sure,2012-08-18,standing,\n\
    Thorn,crataegus-monogyna,sure,2012-03-31,standing,\n\
    Pear,pyrus-calleryana,sure,2014-03-31,standing,\n\
    Yew,taxus-cuspidata,guess,2015-09-19,standing,\n\
    Larch,larix-decidua,sure,2010-10-10,standing,\n";

fn collection(site: &str, trees: &str, moves: &str) -> Whole {
    let mut store = Store::in_memory().unwrap();
    let places =
        "name,shelter,facing,lamp_umol,lamp_hours,capacity\nBench,open-bench,,,,\nFrame,cold-frame,,,,\n";
    for (kind, name, text) in [
        ("site", "site.csv", site),
        ("places", "places.csv", places),
        ("trees", "trees.csv", trees),
        ("moves", "moves.csv", moves),
    ] {
        let kind = Kind::from_key(kind, "").unwrap();
        import(&mut store, &kind, name, text.as_bytes(), &Options::default()).unwrap();
    }
    whole(&store.reader().unwrap(), date(2026, 3, 28)).unwrap()
}

const NORTH: &str = "name,latitude,longitude,elevation,zone,units\nHere,50.9,8.1,300,Europe/Berlin,metric\n";
const SOUTH: &str =
    "name,latitude,longitude,elevation,zone,units\nThere,-37.0,174.8,20,Pacific/Auckland,metric\n";
const MOVES: &str = "tree,place,day\nJuniper,Bench,2025-10-01\nThorn,Bench,2025-10-01\nPear,Frame,2025-10-01\n\
    Yew,Bench,2025-10-01\nLarch,Bench,2025-10-01\n";

fn of(whole: &Whole, key: &str) -> Option<Cautions> {
    cautions::of(whole, whole.tree(key).unwrap())
}

fn partners(whole: &Whole, key: &str) -> Vec<(String, bool)> {
    let told = rust_partners(whole, whole.tree(key).unwrap());
    told.into_iter().map(|(tree, beside)| (tree.tree.key.clone(), beside)).collect()
}

#[test]
fn a_juniper_beside_a_hawthorn_and_a_pear_is_told_of_both_and_they_of_it() {
    for site in [NORTH, SOUTH] {
        let whole = collection(site, TREES, MOVES);
        assert_eq!(partners(&whole, "juniper"), [("thorn".to_string(), true), ("pear".to_string(), false)]);
        assert_eq!(partners(&whole, "thorn"), [("juniper".to_string(), true)]);
        assert_eq!(partners(&whole, "pear"), [("juniper".to_string(), false)]);
        assert!(partners(&whole, "larch").is_empty() && partners(&whole, "yew").is_empty());
        let short = of(&whole, "juniper").unwrap().short;
        assert!(short.contains("Thorn (same place), Pear"), "{short}");
    }
}

#[test]
fn a_juniper_alone_is_told_of_its_oil_and_dust_and_of_no_rust() {
    let alone = "name,taxon,confidence,since,worth,note\nJuniper,juniperus-chinensis,sure,,standing,\n";
    let whole = collection(NORTH, alone, "tree,place,day\nJuniper,Bench,2025-10-01\n");
    let told = of(&whole, "juniper").unwrap();
    assert_eq!(told.lines.len(), 2);
    assert!(!told.short.contains("rust"), "{}", told.short);
}

#[test]
fn a_yew_is_told_as_deadly_and_protected_and_a_guess_as_a_guess_and_a_larch_has_nothing() {
    let whole = collection(NORTH, TREES, MOVES);
    let yew = of(&whole, "yew").unwrap();
    assert_eq!(yew.short, "deadly poison: all but the red aril; wood dust; CITES II");
    assert_eq!(yew.lines.len(), 4, "poison, dust, papers, and that the name is a guess");
    assert!(yew.lines[..3].iter().all(|line| line.standing.starts_with("remembered")), "{yew:?}");
    assert!(of(&whole, "larch").is_none());
    let pear = of(&whole, "pear").unwrap();
    assert!(pear.lines.iter().any(|line| line.standing.starts_with("published")), "{pear:?}");
}
