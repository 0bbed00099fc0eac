//! Two stores on one file, as two programs would open it: of two edits from one version one is written, the other is told.

use std::{
    fs,
    path::PathBuf,
    sync::{Arc, Barrier},
    thread,
};

use intake::{
    bucket::add_mix,
    limbs::wire,
    record::{self, FormError, PlaceForm, SiteForm, TreeForm},
    round,
    shelf::{self, GrownForm, MeantForm, StockForm, VigourForm},
    version::starting_from,
};
use jiff::civil::{Date, date};
use measure::quantity::Units;
use store::{
    error::Error,
    store::Store,
    version::{Daily, Record},
};

const TODAY: Date = date(2026, 3, 28);

/// An edit as one of two hands makes it, from a version.
type Edit = fn(&mut Store, &str, &str) -> Result<(), FormError>;

const EDITS: [(&str, Edit); 8] = [
    ("site", site),
    ("rounds", rounds),
    ("tree", tree),
    ("stock", stock),
    ("blend", blend),
    ("grown", grown),
    ("meant", meant),
    ("vigour", vigour),
];

fn site(store: &mut Store, from: &str, hand: &str) -> Result<(), FormError> {
    let form = SiteForm {
        name: hand,
        latitude: "47",
        longitude: "8",
        elevation: "400 m",
        zone: "Europe/Zurich",
        units: "metric",
    };
    starting_from(store, [Record::site()], from, |store| record::site(store, form))
}

fn rounds(store: &mut Store, from: &str, hand: &str) -> Result<(), FormError> {
    let evening = if hand == "first" { "19:00" } else { "20:00" };
    starting_from(store, [Record::rounds()], from, |store| round::times(store, "06:00", evening))
}

fn tree_form<'a>(note: &'a str, revision: &'a str) -> TreeForm<'a> {
    TreeForm {
        key: "elm",
        name: "Elm",
        taxon: "Ulmus parvifolia",
        confidence: "likely",
        candidates: "",
        since: "",
        worth: "",
        note,
        revision,
    }
}

fn tree(store: &mut Store, _: &str, hand: &str) -> Result<(), FormError> {
    record::edit_tree(store, tree_form(hand, "1"), TODAY)
}

fn stock(store: &mut Store, from: &str, hand: &str) -> Result<(), FormError> {
    let left = if hand == "first" { "31" } else { "17" };
    let form = StockForm { item: "lava", left, ..StockForm::default() };
    starting_from(store, [Record::stock("lava")], from, |store| shelf::stock(store, form, TODAY))
}

fn blend(store: &mut Store, from: &str, hand: &str) -> Result<(), FormError> {
    let parts = if hand == "first" { "4" } else { "7" };
    let parts = [("akadama", parts), ("lava", "2")];
    starting_from(store, [Record::blend("pine-mix")], from, |store| shelf::blend(store, "pine-mix", &parts))
}

fn grown(store: &mut Store, from: &str, hand: &str) -> Result<(), FormError> {
    let asked = if hand == "first" { "900 EUR" } else { "700 EUR" };
    let form = GrownForm { tree: "elm", asked, ..GrownForm::default() };
    starting_from(store, [Record::grown("elm")], from, |store| shelf::grown(store, form))
}

fn meant(store: &mut Store, from: &str, hand: &str) -> Result<(), FormError> {
    let form = MeantForm { tree: "elm", season: "2026", repot: "yes", why: hand, ..MeantForm::default() };
    starting_from(store, [Record::meant("elm", "2026")], from, |store| shelf::meant(store, form, TODAY))
}

fn vigour(store: &mut Store, from: &str, hand: &str) -> Result<(), FormError> {
    let form = VigourForm { tree: "elm", day: "", strength: "weak", why: hand };
    let record = Record::daily(Daily::Vigour, "elm", TODAY);
    starting_from(store, [record], from, |store| shelf::vigour(store, form, TODAY))
}

/// A folder that goes with the test.
struct Folder(PathBuf);

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn stocked(name: &str) -> Folder {
    let folder = Folder(std::env::temp_dir().join(format!("budswell-two-{name}-{}", std::process::id())));
    let mut store = Store::open(&folder.0).unwrap();
    let place = PlaceForm {
        name: "Bench",
        shelter: "open-bench",
        facing: "",
        lamp_flux: "",
        lamp_hours: "",
        capacity: "",
    };
    record::add_place(&mut store, place).unwrap();
    record::add_tree(&mut store, tree_form("", ""), "bench", "2026-01-01", TODAY).unwrap();
    add_mix(&mut store, "Pine mix", ["3", "6"]).unwrap();
    folder
}

fn is_told(why: &FormError) -> bool {
    matches!(why, FormError::Store(Error::ChangedMeanwhile { .. } | Error::Stale { .. }))
}

#[test]
fn of_two_programs_that_edit_at_once_one_is_written_and_one_is_told() {
    for (name, edit) in EDITS {
        let folder = stocked(name);
        let from = Store::open(&folder.0).unwrap().reader().unwrap().version().unwrap().to_string();
        let start = Arc::new(Barrier::new(2));
        let hands = ["first", "second"].map(|hand| {
            let (path, from, start) = (folder.0.clone(), from.clone(), Arc::clone(&start));
            thread::spawn(move || {
                let mut store = Store::open(&path).unwrap();
                start.wait();
                edit(&mut store, &from, hand)
            })
        });
        let done: Vec<Result<(), FormError>> = hands.into_iter().map(|hand| hand.join().unwrap()).collect();
        let told = done.iter().filter(|it| it.as_ref().is_err_and(is_told)).count();
        let written = done.iter().filter(|it| it.is_ok()).count();
        assert_eq!((written, told), (1, 1), "{name}: {done:?}");
    }
}

#[test]
fn an_edit_without_a_version_is_refused_in_words_and_writes_nothing() {
    let folder = stocked("none");
    let mut store = Store::open(&folder.0).unwrap();
    let before = store.reader().unwrap().last_act().unwrap();
    for typed in ["", "soon", "57", "1-"] {
        for (name, edit) in EDITS.iter().filter(|(name, _)| *name != "tree") {
            let refused = edit(&mut store, typed, "first").unwrap_err();
            let is_other = matches!(refused, FormError::Store(Error::OtherHistory));
            assert!(matches!(refused, FormError::NoVersion) || is_other, "{name} {typed}: {refused:?}");
        }
    }
    let lacking = record::edit_tree(&mut store, tree_form("x", "soon"), TODAY).unwrap_err();
    assert!(matches!(lacking, FormError::NoVersion), "{lacking:?}");
    assert_eq!(store.reader().unwrap().last_act().unwrap(), before);
}

#[test]
fn a_coil_is_known_by_its_gauge_in_either_unit() {
    let [metric, imperial] = [Units::Metric, Units::Imperial];
    let (one, gauge) = wire::coil("copper", "2 mm", metric).unwrap();
    let (other, _) = wire::coil("copper", "2.0 mm", imperial).unwrap();
    assert_eq!((one, gauge), (other, 2.0));
}
