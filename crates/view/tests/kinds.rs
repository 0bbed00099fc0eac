//! Seasons by kind on a small collection with weather made for it: two sites twenty days apart, and the same a half year on at 37° south.

use intake::import::{Kind, Options, import};
use jiff::{
    ToSpan,
    civil::{Date, date},
};
use state::{
    reason::{ByKind, Reason},
    verdict::{Answer, Verdict},
    work::Work,
};
use store::store::Store;
use view::{
    verdicts,
    whole::{Whole, whole},
};

const TREES: &str = "name,taxon,confidence,since,worth,note\n\
    Large pine,pinus-thunbergii,sure,,standing,\n\
    Small pine,pinus-thunbergii,sure,,standing,\n\
    Plum,prunus-mume,sure,,standing,\n\
    Maple,acer-palmatum,sure,,standing,\n\
    Yew,taxus-baccata,sure,,standing,\n\
    Fig,ficus-microcarpa,sure,,standing,\n";

/// A year of weather whose nights fall below 10 °C on a day, below 0 °C thirty days later, and rise again half a year on.
fn weather(cool: Date, years: i16, last: Date) -> String {
    let mut text = String::from("date,tmin,tmax\n");
    let mut day = cool.saturating_sub(i64::from(years).years()).saturating_sub(260.days());
    while day <= last {
        // Days since the last such date, in a year.
        let mut since = (day - Date::constant(day.year(), cool.month(), cool.day())).get_days();
        if since < 0 {
            since += 365;
        }
        let low = match since {
            0..30 => 5.0,
            30..170 => -3.0,
            170..215 => 4.0,
            _ => 14.0,
        };
        text += &format!("{day},{low},{}\n", low + 9.0);
        day = day.tomorrow().unwrap();
    }
    text
}

fn collection(south: bool, cool: Date, today: Date) -> Whole {
    collection_meant(south, cool, today, "")
}

/// The same with what the trees shall become, as lines of the sheet of aims.
fn collection_meant(south: bool, cool: Date, today: Date, aims: &str) -> Whole {
    let mut store = Store::in_memory().unwrap();
    let site = if south {
        "name,latitude,longitude,elevation,zone,units\nThere,-37.0,174.8,20,Pacific/Auckland,metric\n"
    } else {
        "name,latitude,longitude,elevation,zone,units\nHere,47.0,8.1,300,Europe/Zurich,metric\n"
    };
    let places = "name,shelter,facing,lamp_umol,lamp_hours,capacity\nBench,open-bench,,,,\n";
    let moves: String = ["Large pine", "Small pine", "Plum", "Maple", "Yew", "Fig"]
        .map(|name| format!("{name},Bench,{}\n", today - 200.days()))
        .concat();
    let moves = format!("tree,place,day\n{moves}");
    let statures =
        format!("tree,day,height,trunk\nLarge pine,{0},70,6\nSmall pine,{0},22,3\n", today - 20.days());
    let vigour = format!(
        "tree,day,strength,why\nLarge pine,{0},strong,candles long\nSmall pine,{0},strong,candles long\n",
        today - 20.days()
    );
    let weather = weather(cool, 6, today);
    for (kind, name, text) in [
        ("site", "site.csv", site),
        ("places", "places.csv", places),
        ("trees", "trees.csv", TREES),
        ("moves", "moves.csv", &moves),
        ("statures", "statures.csv", &statures),
        ("vigour", "vigour.csv", &vigour),
        ("weather", "station.csv", &weather),
        ("aims", "aims.csv", &format!("tree,high,trunk,words,needles,shown\n{aims}")),
    ] {
        if kind == "aims" && aims.is_empty() {
            continue;
        }
        let kind = Kind::from_key(kind, "").unwrap();
        import(&mut store, &kind, name, text.as_bytes(), &Options::default())
            .unwrap_or_else(|why| panic!("{name}: {why:?}"));
    }
    whole(&store.reader().unwrap(), today).unwrap()
}

fn on<'a>(whole: &'a Whole, key: &str, work: Work) -> &'a Verdict {
    verdicts::on(whole, whole.tree(key).unwrap(), work)
}

fn kinds(told: &Verdict) -> Vec<ByKind> {
    let of = |it: &Reason| match it {
        Reason::ByKind(it) => Some(*it),
        _ => None,
    };
    told.reasons.iter().filter_map(of).collect()
}

fn candles(whole: &Whole, key: &str) -> [Date; 2] {
    let told = kinds(on(whole, key, Work::Decandle));
    let window = told.iter().find_map(|it| match it {
        ByKind::CandlesEarly { window }
        | ByKind::CandlesNow { window, .. }
        | ByKind::CandlesLate { window, .. } => Some(*window),
        _ => None,
    });
    window.unwrap_or_else(|| panic!("{key}: {told:?}"))
}

/// U13: first nights below 10 °C on 28 September; a pine of 70 cm is cut 31 May to 10 June, one of 22 cm 25 June to 10 July.
#[test]
fn u13_two_black_pines_on_20_june_and_half_a_year_on_in_the_south() {
    let whole = collection(false, date(2026, 9, 28), date(2026, 6, 20));
    assert_eq!(candles(&whole, "large-pine"), [date(2026, 5, 31), date(2026, 6, 10)]);
    assert_eq!(candles(&whole, "small-pine"), [date(2026, 6, 25), date(2026, 7, 10)]);
    assert_eq!(on(&whole, "large-pine", Work::Decandle).answer, Answer::Caution, "late, and said so");
    assert_eq!(
        on(&whole, "small-pine", Work::Decandle).answer,
        Answer::NotNow { until: Some(date(2026, 6, 25)) }
    );
    let south = collection(true, date(2027, 3, 30), date(2026, 12, 20));
    assert_eq!(candles(&south, "large-pine"), [date(2026, 11, 30), date(2026, 12, 10)]);
    assert_eq!(candles(&south, "small-pine"), [date(2026, 12, 25), date(2027, 1, 9)]);
    assert_eq!(on(&south, "large-pine", Work::Decandle).answer, Answer::Caution);
    assert!(on(&south, "small-pine", Work::Decandle).answer.is_against());
}

/// U13: the needles wanted decide and no longer the height, and a show in early autumn asks for candles cut earlier; one in November does
/// not, and the tree that is late says so.
#[test]
fn u13_needles_wanted_and_a_show_count_back_the_days_for_candles() {
    let cool = [date(2026, 9, 28), date(2027, 3, 30)];
    for (south, cool, today) in [(false, cool[0], date(2026, 6, 20)), (true, cool[1], date(2026, 12, 20))] {
        let plain = collection(south, cool, today);
        let [large, small] = ["large-pine", "small-pine"].map(|key| candles(&plain, key));
        let aims = "Large pine,,,,15,\nSmall pine,,,,50,\n";
        let wanted = collection_meant(south, cool, today, aims);
        assert_eq!([candles(&wanted, "large-pine"), candles(&wanted, "small-pine")], [small, large]);
        let november = cool + 47.days();
        let aims = format!("Large pine,,,,,{november}\nSmall pine,,,,,{}\n", cool - 12.days());
        let shown = collection_meant(south, cool, today, &aims);
        let late = on(&shown, "large-pine", Work::Decandle);
        assert_eq!(
            candles(&shown, "large-pine"),
            large,
            "seven weeks after the cool nights it is no earlier"
        );
        assert!(kinds(late).iter().any(|it| matches!(it, ByKind::CandlesLate { .. })), "{late:?}");
        assert!(
            kinds(late).iter().any(|it| matches!(it, ByKind::ForShow { shown, .. } if *shown == november))
        );
        // Twelve days before the cool nights: 110 to 85 days before the show.
        let early = cool - 12.days();
        assert_eq!(candles(&shown, "small-pine"), [early - 110.days(), early - 85.days()]);
    }
}

/// A21 and A23: dates follow the site's own autumn.
#[test]
fn two_sites_twenty_days_apart_cut_candles_and_stop_feeding_twenty_days_apart() {
    let today = date(2026, 5, 20);
    let [early, late] = [date(2026, 9, 8), date(2026, 9, 28)].map(|cool| collection(false, cool, today));
    let apart = |key| (candles(&late, key)[0] - candles(&early, key)[0]).get_days();
    assert_eq!([apart("large-pine"), apart("small-pine")], [20, 20]);
    let feed = |whole: &Whole| {
        let told = kinds(on(whole, "yew", Work::Feed));
        told.iter().find_map(|it| match it {
            ByKind::FeedUntil { day } => Some(*day),
            _ => None,
        })
    };
    let [first, second] = [&early, &late].map(|whole| feed(whole).unwrap());
    assert_eq!((second - first).get_days(), 20);
    // First frost 28 October, so strong feed until 29 August.
    assert_eq!(second, date(2026, 8, 29));
    let august = collection(false, date(2026, 9, 28), date(2026, 8, 30));
    assert_eq!(kinds(on(&august, "yew", Work::Feed)), [ByKind::LateFeed { since: Some(date(2026, 8, 29)) }]);
    assert_eq!(kinds(on(&august, "fig", Work::Feed)), [], "a tropical is fed as long as it grows");
}

/// A24: months to the bloom that a cut costs, north in August and south in February.
#[test]
fn a_plum_cut_in_august_tells_the_bloom_it_costs() {
    for (south, cool, today, bloom) in [
        (false, date(2026, 9, 28), date(2026, 8, 10), [date(2027, 1, 1), date(2027, 3, 31)]),
        (true, date(2027, 3, 30), date(2027, 2, 10), [date(2027, 7, 1), date(2027, 9, 30)]),
    ] {
        let whole = collection(south, cool, today);
        let told = kinds(on(&whole, "plum", Work::Trim));
        assert!(told.contains(&ByKind::FlowerBuds { months: 5, bloom }), "{told:?}");
        assert_eq!(kinds(on(&whole, "maple", Work::Trim)), []);
    }
}

/// A fig outdoors waits for warm nights: 14 °C of July are too cold for its roots.
#[test]
fn a_fig_on_the_bench_waits_for_warm_nights() {
    for (south, cool, today) in
        [(false, date(2026, 9, 28), date(2026, 6, 20)), (true, date(2027, 3, 30), date(2026, 12, 20))]
    {
        let whole = collection(south, cool, today);
        let told = on(&whole, "fig", Work::Repot);
        assert!(told.answer.is_against(), "{told:?}");
        assert!(kinds(told).iter().any(|it| matches!(it, ByKind::NightsCold { .. })), "{told:?}");
    }
}
