//! Claims of a repot taken back: front, promises and photo of before, unless something else came since.

use collection::limb::Front;
use form::traced::Clock;
use measure::quantity::Degrees;
use store::store::Act;

use super::{
    bench::{REPOT, log},
    *,
};

const DAY: Date = date(2026, 3, 20);

fn front(hour: u8, why: &str) -> Front {
    let clock = Clock::new(hour).unwrap();
    let [sideways, forward] = [1.5, -2.25].map(Degrees);
    Front { tree: "maple".into(), rank: 0, clock, sideways, forward, why: why.into() }
}

fn choose(store: &mut Store, front: &Front) {
    store.transact(&Act::Front("maple".into()), |change| change.set_front(front)).unwrap();
}

fn fronts(store: &Store) -> Vec<Front> {
    store.reader().unwrap().fronts().unwrap()
}

#[test]
fn the_front_of_before_the_promises_and_the_pot_come_back_in_one_act_and_the_photo_goes() {
    let mut store = stocked();
    let before = front(5, "the root on the right");
    choose(&mut store, &before);
    let promised = say(&mut store, ReserveForm { pot: "grey-tray", ..promise("maple", "1") }).unwrap();
    let second = ReserveForm { said: "second", why: "if the tray cracks", ..promise("maple", "1") };
    let second = say(&mut store, second).unwrap();
    log(&mut store, REPOT, Some(&picture(|x, y| [x as u8, y as u8, 90]))).unwrap();
    assert_ne!(fronts(&store), std::slice::from_ref(&before));
    assert_eq!(store.reader().unwrap().reservations().unwrap(), []);
    let acts = store.reader().unwrap().last_act().unwrap();
    let told = take_back_repot(&mut store, "maple", DAY).unwrap();
    assert_eq!(told, TakenBack { back: vec![second.clone(), promised.clone()], left: vec![], photo: None });
    let reader = store.reader().unwrap();
    assert_eq!(reader.last_act().unwrap(), acts + 1, "one act");
    assert_eq!(fronts(&store), [before]);
    assert_eq!(reader.reservations().unwrap(), [second, promised]);
    assert_eq!(
        (reader.photos().unwrap(), reader.repots().unwrap(), reader.works().unwrap()),
        Default::default()
    );
    assert_eq!(stands_in(&store, "maple"), "celadon-oval");
    assert_eq!(reader.faults().unwrap(), Vec::<String>::new());
    // The very same photo can be sent again with the right log.
    log(&mut store, REPOT, Some(&picture(|x, y| [x as u8, y as u8, 90]))).unwrap();
}

#[test]
fn a_tree_that_had_no_front_has_none_again() {
    let mut store = stocked();
    log(&mut store, REPOT, None).unwrap();
    assert_eq!(fronts(&store).len(), 1);
    take_back(&mut store, "maple", ShelfLine::Repot(DAY)).unwrap();
    assert_eq!(fronts(&store), []);
    let straight = RepotForm { clock: "", sideways: "", ..REPOT };
    log(&mut store, straight, None).unwrap();
    let chosen = front(9, "by hand");
    choose(&mut store, &chosen);
    take_back(&mut store, "maple", ShelfLine::Repot(DAY)).unwrap();
    assert_eq!(fronts(&store), [chosen], "the repot turned nothing");
}

#[test]
fn a_front_chosen_since_stays() {
    let mut store = stocked();
    choose(&mut store, &front(5, ""));
    log(&mut store, REPOT, None).unwrap();
    let since = front(11, "seen from the gate");
    choose(&mut store, &since);
    take_back(&mut store, "maple", ShelfLine::Repot(DAY)).unwrap();
    assert_eq!(fronts(&store), [since]);
}

#[test]
fn of_two_repots_each_may_go_first_and_the_front_of_before_both_is_found() {
    let later = date(2026, 3, 26);
    for order in [[DAY, later], [later, DAY]] {
        let mut store = stocked();
        let before = front(5, "the root on the right");
        choose(&mut store, &before);
        log(&mut store, REPOT, None).unwrap();
        let again = RepotForm { day: "2026-03-26", pot: "celadon-oval", clock: "11", ..REPOT };
        log(&mut store, again, None).unwrap();
        for day in order {
            take_back(&mut store, "maple", ShelfLine::Repot(day)).unwrap();
        }
        assert_eq!(fronts(&store), [before], "{order:?}");
    }
}

#[test]
fn a_promise_whose_pot_is_held_by_now_stays_away_and_is_told() {
    let mut store = stocked();
    let promised = say(&mut store, ReserveForm { pot: "grey-tray", ..promise("maple", "1") }).unwrap();
    log(&mut store, REPOT, None).unwrap();
    say(&mut store, ReserveForm { pot: "grey-tray", ..promise("elm", "3") }).unwrap();
    let told = take_back_repot(&mut store, "maple", DAY).unwrap();
    assert_eq!((told.back, told.left), (vec![], vec![promised]));
    let kept = store.reader().unwrap().reservations().unwrap();
    assert_eq!((kept.len(), kept[0].tree.as_str()), (1, "elm"));
}

#[test]
fn a_photo_on_which_something_rests_stays_and_is_told() {
    let mut store = stocked();
    let photo = picture(|x, y| [x as u8, y as u8, 90]);
    let key = log(&mut store, REPOT, Some(&photo)).unwrap().repot.photo.unwrap();
    let act = Act::Photo("maple".into());
    store.transact(&act, |change| change.set_scale(&key, None, Some(200.0))).unwrap();
    let told = take_back_repot(&mut store, "maple", DAY).unwrap();
    assert_eq!(told.photo.as_ref(), Some(&key));
    assert_eq!(store.reader().unwrap().photos().unwrap()[0].key, key);
}

#[test]
fn a_take_back_that_is_refused_leaves_front_and_promises_as_they_are() {
    let mut store = stocked();
    add(&mut store, BOX);
    say(&mut store, ReserveForm { pot: "grow-box", ..promise("maple", "1") }).unwrap_err();
    say(&mut store, ReserveForm { pot: "grey-tray", ..promise("maple", "1") }).unwrap();
    log(&mut store, RepotForm { pot: "grow-box", ..REPOT }, None).unwrap();
    log(&mut store, RepotForm { tree: "elm", pot: "celadon-oval", ..REPOT }, None).unwrap();
    let before = (fronts(&store), store.reader().unwrap().changes().unwrap());
    assert!(field(take_back(&mut store, "maple", ShelfLine::Repot(DAY))).2.contains("Elm"));
    assert_eq!((fronts(&store), store.reader().unwrap().changes().unwrap()), before);
    assert_eq!(store.reader().unwrap().reservations().unwrap(), []);
}
