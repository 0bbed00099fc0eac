//! Claims of the log of the bench: all of a repot or nothing, and what speaks against it.

use collection::event::WorkKind;

use super::*;

pub(super) const REPOT: RepotForm<'_> = RepotForm {
    tree: "maple",
    day: "2026-03-20",
    pot: "grey-tray",
    mix: "mix",
    cut: "35 %",
    bare: false,
    found: "grubs at the bottom",
    proud: "4",
    clock: "7",
    sideways: "-3",
    forward: "",
    pad_length: "20",
    pad_width: "15",
    pad_depth: "4",
    took: "45",
    note: "",
    subject: "",
    despite: "",
};

/// No more than four tenths of the roots, and the pot holds the tree.
const LIMIT: Against<'_> = Against { limit: Some(Share(0.4)), unfit: None, verdict: None };

pub(super) fn log(
    store: &mut Store,
    form: RepotForm<'_>,
    photo: Option<&[u8]>,
) -> Result<Repotted, RepotError> {
    super::repot(store, &form, photo.map(Into::into), LIMIT, Units::Metric, TODAY)
}

pub(super) fn no<T: std::fmt::Debug>(told: Result<T, RepotError>) -> (&'static str, String) {
    match told {
        Err(RepotError::Form(FormError::Field { field, why, .. })) => (field, why),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_repot_is_written_down_with_all_that_follows_from_it() {
    let mut store = stocked();
    say(&mut store, ReserveForm { pot: "grey-tray", ..promise("maple", "1") }).unwrap();
    let told = log(&mut store, REPOT, Some(&picture(|x, y| [x as u8, y as u8, 90]))).unwrap();
    let reader = store.reader().unwrap();
    assert_eq!(reader.repots().unwrap(), std::slice::from_ref(&told.repot));
    let Repot { cut, pad, photo, .. } = told.repot;
    assert_eq!((cut, pad), (Share(0.35), Some([20.0, 15.0, 4.0].map(Centimetre))));
    assert!(reader.photos().unwrap().iter().any(|it| Some(&it.key) == photo.as_ref()));
    assert_eq!(stands_in(&store, "maple"), "grey-tray");
    let works = reader.works().unwrap();
    assert_eq!((works[0].1.kind, works[0].1.note.as_str()), (WorkKind::Repot, ""));
    let cuts = season::repot::root_cuts::root_cuts(&reader.repots().unwrap(), works.iter().map(|it| &it.1));
    assert_eq!(cuts[0].roots.likely, Share(0.35));
    assert_eq!((told.ended.len(), reader.reservations().unwrap().len()), (1, 0));
    let front = reader.fronts().unwrap().remove(0);
    assert_eq!((front.rank, front.clock.hour(), front.sideways.0), (0, 7, -3.0));
    assert!(no(log(&mut store, REPOT, None)).1.contains("already"));
    assert!(no(log(&mut store, RepotForm { day: "2025-03-20", ..REPOT }, None)).1.contains("last repot"));
    let again = RepotForm { day: "2026-03-27", clock: "11", pot: "celadon-oval", cut: "0", ..REPOT };
    log(&mut store, again, None).unwrap();
    assert_eq!(store.reader().unwrap().fronts().unwrap()[0].clock.hour(), 12);
    let kinds: Vec<_> =
        store.reader().unwrap().works().unwrap().into_iter().map(|(_, it)| it.kind.key()).collect();
    assert_eq!(kinds, ["repot", "slip-pot"]);
}

#[test]
fn a_repot_whose_photo_cannot_be_opened_leaves_nothing_behind() {
    let mut store = stocked();
    let before = store.reader().unwrap().changes().unwrap();
    let whole = picture(|x, y| [x as u8, y as u8, 90]);
    for broken in [&whole[..whole.len() / 2], b"no picture", b""] {
        assert_eq!(no(log(&mut store, REPOT, Some(broken))).0, "photo");
    }
    log(&mut store, REPOT, Some(&whole)).unwrap();
    let after = store.reader().unwrap().changes().unwrap();
    assert_eq!(after, before + 1);
    // The very same photo once more is found out only when half of the log is written: all of it goes.
    let again = RepotForm { day: "2026-03-25", pot: "celadon-oval", ..REPOT };
    assert_eq!(no(log(&mut store, again, Some(&whole))).0, "photo");
    let reader = store.reader().unwrap();
    assert_eq!(reader.changes().unwrap(), after);
    let left =
        (reader.repots().unwrap().len(), reader.works().unwrap().len(), reader.photos().unwrap().len());
    assert_eq!((left, stands_in(&store, "maple").as_str()), ((1, 1, 1), "grey-tray"));
    assert_eq!(reader.fronts().unwrap()[0].clock.hour(), 7);
}

#[test]
fn what_speaks_against_a_repot_is_named_or_asked() {
    let mut store = stocked();
    assert_eq!(no(log(&mut store, RepotForm { cut: "75", ..REPOT }, None)).0, "cut");
    assert_eq!(no(log(&mut store, RepotForm { day: "2026-04-01", ..REPOT }, None)).0, "day");
    assert_eq!(no(log(&mut store, RepotForm { pad_depth: "", ..REPOT }, None)).0, "roots");
    let elm = RepotForm { tree: "elm", pot: "celadon-oval", ..REPOT };
    assert!(no(log(&mut store, elm, None)).1.contains("Maple"));
    let deep = RepotForm { cut: "45", note: "pads all round", ..REPOT };
    let asked = log(&mut store, deep, None);
    let limit = Ask::OverLimit { cut: Share(0.45), limit: Share(0.4) };
    assert!(matches!(&asked, Err(RepotError::Asked(ask)) if *ask == limit), "{asked:?}");
    assert!(store.reader().unwrap().repots().unwrap().is_empty());
    say(&mut store, ReserveForm { pot: "grey-tray", ..promise("elm", "1") }).unwrap();
    let asked = log(&mut store, REPOT, None);
    assert!(
        matches!(&asked, Err(RepotError::Asked(Ask::HeldFor { tree, .. })) if tree == "Elm"),
        "{asked:?}"
    );
    let told = log(&mut store, RepotForm { despite: "rot, it had to", ..deep }, None).unwrap();
    assert_eq!(told.repot.note, "pads all round; though asked: rot, it had to");
    where_to(&mut store, "celadon-oval", "broken", "").unwrap();
    assert!(no(log(&mut store, elm, None)).1.contains("broken"));
}

#[test]
fn boxes_take_as_many_trees_as_there_are_and_a_repot_is_taken_back_to_the_pot_before() {
    let mut store = stocked();
    add(&mut store, BOX);
    log(&mut store, RepotForm { pot: "grow-box", ..REPOT }, None).unwrap();
    let elm = RepotForm { tree: "elm", pot: "grow-box", ..REPOT };
    assert!(no(log(&mut store, elm, None)).1.contains("used up"));
    let two = PotForm { count: "2", ..BOX };
    edit_pot(&mut store, "grow-box", "1", &two, Units::Metric, TODAY).unwrap();
    log(&mut store, elm, None).unwrap();
    assert_eq!(field(edit_pot(&mut store, "grow-box", "2", &BOX, Units::Metric, TODAY)).0, "count");
    take_back(&mut store, "maple", ShelfLine::Repot(date(2026, 3, 20))).unwrap();
    assert_eq!(stands_in(&store, "maple"), "celadon-oval");
    let works = store.reader().unwrap().works().unwrap();
    assert_eq!((works.len(), works[0].1.tree.as_str()), (1, "elm"));
    // Its pot of before has another tree by now.
    log(&mut store, RepotForm { pot: "grow-box", ..REPOT }, None).unwrap();
    log(&mut store, RepotForm { day: "2026-03-26", pot: "celadon-oval", ..elm }, None).unwrap();
    let held = field(take_back(&mut store, "maple", ShelfLine::Repot(date(2026, 3, 20))));
    assert!(held.2.contains("Elm"), "{held:?}");
    assert_eq!(stands_in(&store, "maple"), "grow-box");
}
