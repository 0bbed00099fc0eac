//! Claims of the shelf: two edits can't both win, one pot is held once a season, and a pot with a past stays.

use std::{sync::Barrier, thread};

use collection::{
    drink::Worth,
    limb::Front,
    money::Money,
    potting::{Mix, Pot, Potted, Wall},
    repot::{Repot, Toll},
    reserve::{Liking, Reservation, Said},
    stock::Blend,
    tree::{NameConfidence, Tree},
    ware::{Glaze, PotPhoto, PotSide, Told, Ware, Whereabouts},
};
use form::traced::Clock;
use jiff::civil::date;
use measure::{
    quantity::{Centimetre, Degrees, Millimetre, Share},
    taxon::Taxon,
};
use pot::{colour::space::Lab, outline::Outline, repot::insult::Insult, table::Component, vessel::Vessel};

use crate::{
    before::FrontBefore,
    error::Error,
    photo::Size,
    store::{Act, Store},
};

fn tree(key: &str) -> Tree {
    Tree {
        key: key.into(),
        name: key.into(),
        taxon: Taxon::of("acer-palmatum").unwrap(),
        candidates: Vec::new(),
        name_confidence: NameConfidence::Sure,
        since: None,
        worth: Worth::Standing,
        note: String::new(),
        revision: 0,
    }
}

fn pot(key: &str) -> Pot {
    let oval =
        |length, width| Outline::from_key("oval", Centimetre(length), Centimetre(width), None).unwrap();
    Pot {
        key: key.into(),
        name: key.into(),
        vessel: Vessel {
            top: oval(31.0, 24.0),
            middle: None,
            bottom: oval(28.0, 21.0),
            height: Centimetre(7.0),
            feet: Centimetre(1.0),
            floor: Centimetre(0.8),
            wall: Centimetre(0.8),
            lip: Centimetre(0.0),
            gap: Centimetre(0.6),
            measured: None,
        },
        wall: Wall::Glazed,
    }
}

fn filled(mut store: Store) -> Store {
    let mix = Mix {
        key: "mix".into(),
        name: "Mix".into(),
        grain: [Millimetre(2.0), Millimetre(4.0)],
        tested: None,
    };
    store
        .transact(&Act::Import("all".into()), |change| {
            for key in ["maple", "elm"] {
                change.add_tree(&tree(key))?;
            }
            for key in ["oval", "other"] {
                change.add_pot(&pot(key))?;
            }
            change.add_mix(&mix)
        })
        .unwrap();
    store
}

fn stocked() -> Store {
    filled(Store::in_memory().unwrap())
}

fn word(tree: &str, said: Said) -> Reservation {
    Reservation {
        pot: "oval".into(),
        tree: tree.into(),
        season: 2026,
        said,
        why: String::new(),
        made: date(2026, 1, 10),
    }
}

fn full() -> Ware {
    Ware {
        drain_holes: Some(2),
        hole: Some(Millimetre(18.0)),
        glaze: Some(Glaze {
            colour: Lab { l: 70.9, a: -17.3, b: 6.4 },
            told: Told::Measured { spread: 1.25 },
        }),
        paid: Money::from_words("80.50 EUR"),
        worth: Money::from_words("120 CHF").map(|money| (money, date(2025, 6, 1))),
        maker: "Weir workshop".into(),
        note: "a chip at the back foot".into(),
        ..Ware::unknown(&pot("oval"))
    }
}

#[test]
fn all_that_is_known_of_a_pot_reads_back() {
    let mut store = stocked();
    let ware = full();
    let act = Act::EditPot("oval".into());
    assert!(store.transact(&act, |change| change.add_ware(&ware)).unwrap());
    assert!(!store.transact(&act, |change| change.add_ware(&ware)).unwrap());
    let kept = store.reader().unwrap().wares().unwrap().remove(0);
    assert_eq!(kept, Ware { revision: 1, ..ware });
    let changed = Ware { spot: "top board".into(), glaze: None, ..kept };
    store.transact(&act, |change| change.set_ware(&changed)).unwrap();
    let stale = store.transact(&act, |change| change.set_ware(&changed));
    assert!(matches!(stale, Err(Error::Stale { yours: 1, stored: 2, .. })), "{stale:?}");
    assert_eq!(store.reader().unwrap().wares().unwrap(), [Ware { revision: 2, ..changed }]);
    assert_eq!(store.reader().unwrap().faults().unwrap(), Vec::<String>::new());
}

#[test]
fn two_edits_at_once_to_one_reservation_cannot_both_win() {
    let folder = tempfile::tempdir().unwrap();
    drop(filled(Store::open(folder.path()).unwrap()));
    for round in 0..8_u32 {
        let together = Barrier::new(2);
        let edit = |said| {
            let mut store = Store::open(folder.path()).unwrap();
            together.wait();
            store.transact(&Act::Reserve("oval".into()), |change| change.reserve(&word("maple", said), round))
        };
        let (one, two) = thread::scope(|scope| {
            let one = scope.spawn(|| edit(Said::Promised));
            let two = scope.spawn(|| edit(Said::KeptFor));
            (one.join().unwrap(), two.join().unwrap())
        });
        let won = [one.is_ok(), two.is_ok()];
        assert_eq!(won.iter().filter(|won| **won).count(), 1, "round {round}: {one:?} {two:?}");
        let lost = if one.is_ok() { two } else { one };
        assert!(matches!(lost, Err(Error::Stale { .. })), "{lost:?}");
        let reader = Store::open(folder.path()).unwrap().reader().unwrap();
        let kept = reader.reservations().unwrap().remove(0).said;
        assert_eq!(kept, if won[0] { Said::Promised } else { Said::KeptFor });
        assert_eq!(reader.wares().unwrap()[0].revision, round + 1);
    }
}

#[test]
fn one_pot_is_held_for_one_tree_a_season_and_the_refusal_names_it() {
    let mut store = stocked();
    let act = Act::Reserve("oval".into());
    store.transact(&act, |change| change.reserve(&word("maple", Said::Promised), 0)).unwrap();
    let refused = store.transact(&act, |change| change.reserve(&word("elm", Said::KeptFor), 1));
    assert!(
        matches!(&refused, Err(Error::Held { pot, by }) if pot == "oval" && by == "maple"),
        "{refused:?}"
    );
    store.transact(&act, |change| change.reserve(&word("elm", Said::Second), 1)).unwrap();
    let next = Reservation { season: 2027, ..word("elm", Said::Promised) };
    store.transact(&act, |change| change.reserve(&next, 2)).unwrap();
    assert_eq!(store.reader().unwrap().reservations().unwrap().len(), 3);
    assert!(!store.transact(&act, |change| change.bring_reservation(&next)).unwrap());
    store.transact(&act, |change| change.unreserve("oval", "maple", 2026, 3)).unwrap();
    store.transact(&act, |change| change.reserve(&word("elm", Said::KeptFor), 4)).unwrap();
    let none = store.transact(&act, |change| change.unreserve("oval", "maple", 2026, 5));
    assert!(matches!(none, Err(Error::Unknown { .. })), "{none:?}");
}

#[test]
fn a_pot_in_which_a_tree_stood_cannot_be_removed_and_another_takes_all_along() {
    let mut store = stocked();
    let potted =
        Potted { tree: "maple".into(), day: date(2025, 3, 1), pot: "oval".into(), mix: "mix".into() };
    store.transact(&Act::Pot("maple".into()), |change| change.add_potted(&potted)).unwrap();
    let act = Act::DropPot("oval".into());
    let refused = store.transact(&act, |change| change.remove_pot("oval", 0));
    assert!(matches!(&refused, Err(Error::InUse { by, .. }) if by.contains("maple")), "{refused:?}");
    let photo = PotPhoto {
        key: "other-1".into(),
        pot: "other".into(),
        day: date(2026, 1, 1),
        side: PotSide::Mark,
        wide: 300,
        high: 200,
    };
    let liking =
        Liking { tree: "elm".into(), liked: "oval".into(), over: "other".into(), day: date(2026, 1, 1) };
    store
        .transact(&Act::PotPhoto("other".into()), |change| {
            assert!(change.add_pot_photo(&photo, "a hash", [b"full", b"small"])?);
            assert!(!change.add_pot_photo(&photo, "a hash", [b"full", b"small"])?);
            change.add_liking(&liking)?;
            change.reserve(&Reservation { pot: "other".into(), ..word("elm", Said::Promised) }, 0)
        })
        .unwrap();
    let reader = store.reader().unwrap();
    assert_eq!(reader.pot_picture("other-1", Size::Small).unwrap().unwrap(), b"small");
    let stale = store.transact(&act, |change| change.remove_pot("other", 0));
    assert!(matches!(stale, Err(Error::Stale { yours: 0, stored: 1, .. })), "{stale:?}");
    let ended = store.transact(&act, |change| change.remove_pot("other", 1)).unwrap();
    assert_eq!(ended, [Reservation { pot: "other".into(), ..word("elm", Said::Promised) }]);
    let left = (reader.pots().unwrap().len(), reader.pot_photos().unwrap().len());
    assert_eq!((left, reader.reservations().unwrap().len(), reader.likings().unwrap().len()), ((1, 0), 0, 0));
    assert_eq!(reader.faults().unwrap(), Vec::<String>::new());
}

#[test]
fn a_photo_that_a_repot_holds_stays_and_the_refusal_says_so() {
    let mut store = stocked();
    let photo = collection::photo::Photo {
        key: "maple-1".into(),
        tree: "maple".into(),
        day: date(2026, 3, 1),
        day_told: true,
        subject: collection::photo::Subject::Roots,
        clock: 6,
        wide: 300,
        high: 200,
        scale: None,
        soil: None,
        note: String::new(),
    };
    let repot = Repot {
        tree: "maple".into(),
        day: date(2026, 3, 1),
        pot: "oval".into(),
        mix: "mix".into(),
        cut: Share(0.3),
        bare: false,
        found: "grubs".into(),
        proud: Some(Millimetre(-4.0)),
        clock: Some(7),
        lean: None,
        pad: Some([Centimetre(20.0), Centimetre(15.0), Centimetre(4.0)]),
        photo: Some("maple-1".into()),
        took: None,
        note: String::new(),
    };
    let act = Act::Repot("maple".into());
    store
        .transact(&act, |change| {
            change.add_photo(&photo, "hash", [b"full", b"small"])?;
            assert!(change.add_repot(&repot)?);
            assert!(!change.add_repot(&repot)?);
            Ok::<(), Error>(())
        })
        .unwrap();
    assert_eq!(store.reader().unwrap().repots().unwrap(), [repot]);
    let refused = store.transact(&act, |change| change.remove_photo("maple-1"));
    assert!(
        matches!(&refused, Err(Error::InUse { what: "photo", by, .. }) if by.contains("repot of 2026-03-01"))
    );
    assert!(!store.transact(&act, |change| change.drop_photo("maple-1")).unwrap());
    store.transact(&act, |change| change.remove_repot("maple", date(2026, 3, 1))).unwrap();
    store.transact(&act, |change| change.set_scale("maple-1", None, Some(120.0))).unwrap();
    assert!(!store.transact(&act, |change| change.drop_photo("maple-1")).unwrap(), "its soil line was drawn");
    store.transact(&act, |change| change.set_scale("maple-1", None, None)).unwrap();
    assert!(store.transact(&act, |change| change.drop_photo("maple-1")).unwrap());
    assert!(store.reader().unwrap().photos().unwrap().is_empty());
}

#[test]
fn what_a_repot_put_an_end_to_reads_back_and_goes_with_it() {
    let mut store = stocked();
    let day = date(2026, 3, 1);
    let repot = Repot {
        tree: "maple".into(),
        day,
        pot: "oval".into(),
        mix: "mix".into(),
        cut: Share(0.3),
        bare: false,
        found: String::new(),
        proud: None,
        clock: Some(7),
        lean: None,
        pad: None,
        photo: None,
        took: None,
        note: String::new(),
    };
    let front = Front {
        tree: "maple".into(),
        rank: 0,
        clock: Clock::new(5).unwrap(),
        sideways: Degrees(-2.5),
        forward: Degrees(0.0),
        why: "the root on the right".into(),
    };
    let set = Front { clock: Clock::new(6).unwrap(), forward: Degrees(4.0), ..front.clone() };
    let found = FrontBefore { day, before: Some(front), set };
    let promise = Reservation { pot: "other".into(), ..word("maple", Said::Second) };
    let act = Act::Repot("maple".into());
    let orphan = store.transact(&act, |change| change.set_front_before(&found));
    assert!(matches!(orphan, Err(Error::Sqlite(_))), "{orphan:?}");
    store
        .transact(&act, |change| {
            change.add_repot(&repot)?;
            let none = FrontBefore { before: None, ..found.clone() };
            change.set_front_before(&none)?;
            assert_eq!(change.fronts_before("maple")?, [none]);
            change.set_front_before(&found)?;
            change.add_promise_before(day, &promise)?;
            assert_eq!(change.fronts_before("maple")?, std::slice::from_ref(&found));
            assert_eq!(change.promises_before("maple", day)?, std::slice::from_ref(&promise));
            // A pot that goes takes the memory of its promises along.
            change.remove_pot("other", 0)?;
            assert_eq!(change.promises_before("maple", day)?, []);
            change.remove_repot("maple", day)?;
            assert_eq!(change.fronts_before("maple")?, []);
            Ok::<(), Error>(())
        })
        .unwrap();
    assert_eq!(store.reader().unwrap().faults().unwrap(), Vec::<String>::new());
}

#[test]
fn a_word_comes_back_only_where_nothing_else_was_said_since() {
    let mut store = stocked();
    let act = Act::Reserve("oval".into());
    let mut back =
        |it: &Reservation| store.transact(&act, |change| change.bring_back_reservation(it)).unwrap();
    assert!(back(&word("maple", Said::Promised)));
    assert!(!back(&word("maple", Said::KeptFor)), "the two have a word that season");
    assert!(!back(&word("elm", Said::KeptFor)), "the pot is held for the maple");
    assert!(back(&word("elm", Said::Second)));
    assert_eq!(store.reader().unwrap().wares().unwrap()[0].revision, 2);
    let gone = Ware { whereabouts: Whereabouts::Broken, ..Ware::unknown(&pot("other")) };
    store.transact(&act, |change| change.add_ware(&gone)).unwrap();
    let other = Reservation { pot: "other".into(), ..word("elm", Said::Second) };
    assert!(!store.transact(&act, |change| change.bring_back_reservation(&other)).unwrap(), "it is broken");
}

#[test]
fn the_same_toll_and_the_same_blend_are_kept_once() {
    let mut store = stocked();
    let act = Act::Toll("maple".into());
    let toll = |what| Toll { tree: "maple".into(), day: date(2026, 6, 1), what, note: String::new() };
    let blend = |parts: &[f64]| Blend {
        mix: "mix".into(),
        parts: [Component::Pumice, Component::Akadama].into_iter().zip(parts.iter().copied()).collect(),
    };
    let mut add = |what| store.transact(&act, |change| change.add_toll(&toll(what))).unwrap();
    assert_eq!([add(Insult::Pinch), add(Insult::Pinch), add(Insult::Show(2))], [true, false, true]);
    let own = store.transact(&act, |change| change.add_toll(&toll(Insult::SlipPot)));
    assert!(matches!(own, Err(Error::BadRow { .. })));
    let mut mixed = |parts: &[f64]| store.transact(&act, |change| change.set_blend(&blend(parts))).unwrap();
    assert_eq!([mixed(&[1.0, 2.0]), mixed(&[1.0, 2.0]), mixed(&[1.0, 3.0])], [true, false, true]);
    assert_eq!(store.reader().unwrap().blends().unwrap(), [blend(&[1.0, 3.0])]);
}
