//! Checks of the moments of a round: a tap stands at a moment that has been.

use intake::fetch::Service;
use store::store::Store;

use super::*;

/// Noon of a day by the demo's clock.
fn noon() -> Timestamp {
    "2026-03-28T11:00:00Z".parse().unwrap()
}

fn app(today: Option<jiff::civil::Date>) -> Arc<App> {
    let mut store = Store::in_memory().unwrap();
    crate::cli::demo::fill(&mut store).unwrap();
    let service = Service::open_meteo(std::env::temp_dir());
    Arc::new(App { clock: noon, ..App::new(store, service, today).unwrap() })
}

#[test]
fn a_tap_is_of_now_or_of_a_moment_that_has_been() {
    let live = app(None);
    let whole = live.whole().unwrap();
    assert_eq!(whole.today, jiff::civil::date(2026, 3, 28));
    let been = |at: &str| At::read(at).unwrap_or_else(|_| panic!("{at}")).been(&live, &whole);
    let now = noon().as_second();
    for ahead in
        ["", "evening", "2026-03-28T12:00:01", "2026-03-29T07:00", "2199-01-01T00:00", "9999-12-31T23:59"]
    {
        assert_eq!(been(ahead), now, "{ahead}");
    }
    let zone = &whole.water().unwrap().zone;
    let morning = view::water::moment(whole.today.to_datetime(whole.rounds.morning), zone);
    assert!(morning < now);
    assert_eq!((been("morning"), been("2026-03-27T19:00")), (morning, now - 17 * 3600));
}

#[test]
fn a_tap_for_the_evening_stands_in_the_log_at_noon() {
    let live = app(None);
    let runtime = tokio::runtime::Builder::new_current_thread().build().unwrap();
    let mut fields = Fields::default();
    for (name, value) in [("one", "old-trident/watered/right"), ("at", "evening"), ("hand", "odd")] {
        fields.add(name, value.into());
    }
    let back = runtime.block_on(walk(State(Arc::clone(&live)), Typed(fields)));
    assert!(matches!(back, Ok(Answer::See(path)) if path == "/round?at=evening"));
    let drinks = live.reader().drinks().unwrap();
    let (_, tapped) = drinks.iter().find(|(_, drink)| drink.hand == "odd").unwrap();
    assert_eq!((tapped.at, tapped.tree.as_str()), (noon().as_second(), "old-trident"));
}

#[test]
fn a_fixed_day_has_been_to_its_end() {
    let day = jiff::civil::date(2026, 3, 28);
    let still = app(Some(day));
    let whole = still.whole().unwrap();
    let zone = &whole.water().unwrap().zone;
    let local = |at: DateTime| view::water::moment(at, zone);
    assert_eq!(At::Evening.been(&still, &whole), local(day.to_datetime(whole.rounds.evening)));
    let ahead = At::read("2026-04-02T07:00").unwrap_or(At::Now).been(&still, &whole);
    assert_eq!(ahead, local(day.at(23, 59, 59, 0)));
}
