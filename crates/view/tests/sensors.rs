//! Sensors of a place: each file keeps its series by name, a check in ice water is taken off everywhere, the lowest counts for frost and the
//! mean for buds; on a small collection north and south.

mod made;

use intake::{
    import::{Kind, Options, preview},
    incident::{IceForm, ice_check, undo_check},
};
use jiff::{
    ToSpan,
    civil::{Date, date},
};
use made::{
    SIDES, Side,
    logged::{CELLAR, file, hang},
    on, store,
};
use measure::{quantity::Units, stage::Stage, winter::Winter};
use season::{air::Basis, roots::coldest};
use store::store::Store;
use view::whole::Whole;

const PLACES: &str = "name,shelter\nCellar,cold-room\n";
const TREES: &str = "name,taxon\nMaple,acer-palmatum\nFig,ficus-microcarpa\n";
const YEARS: [Date; 2] = [date(2022, 9, 1), date(2026, 3, 27)];
const LOGGED: [Date; 2] = [date(2025, 11, 1), date(2026, 2, 27)];
const TODAY: Date = date(2026, 2, 28);

fn stocked(side: Side) -> Store {
    let since = side.day(date(2023, 4, 1));
    let moves = format!("tree,place,day\nMaple,Cellar,{since}\nFig,Cellar,{since}\n");
    store(side, YEARS, &[("places", "", PLACES), ("trees", "", TREES), ("moves", "", &moves)])
}

/// What a sensor reads that hangs where it is so much warmer.
fn read(store: &Store, side: Side, by: f64) -> String {
    file(store, side, CELLAR, LOGGED, |_, read| read + by)
}

fn full(whole: &Whole) -> i32 {
    let told = whole.tree("maple").unwrap().told.as_ref().unwrap();
    told.forecast.of(Stage::Full).unwrap().middle
}

/// The coldest of the winter in the cellar, as frost is judged by it.
fn lowest(whole: &Whole) -> f64 {
    let (ground, air) = (whole.ground.as_ref().unwrap(), whole.places[0].air.as_ref().unwrap());
    let air = &air.in_frost().air;
    coldest(air, ground.winter, ground.first_known, ground.today).unwrap().unwrap().air
}

#[test]
fn a_second_file_of_another_sensor_keeps_its_own_series() {
    for side in SIDES {
        let mut store = stocked(side);
        let [door, wall] = [-3.0, 1.0].map(|by| read(&store, side, by));
        hang(&mut store, "cellar", "door", &door);
        let alone = on(&store, side.day(TODAY));
        hang(&mut store, "cellar", "wall", &wall);
        let both = on(&store, side.day(TODAY));
        let place = &both.places[0];
        assert_eq!(place.sensors.names(), ["door", "wall"], "{side:?}");
        let apart = &place.sensors.apart[0];
        assert!(apart.names[0] == "door" && (apart.mean - 4.0).abs() < 0.02, "{side:?}: {apart:?}");
        // Frost goes by the door, buds by the mean.
        assert!((lowest(&both) - lowest(&alone)).abs() < 0.02, "{side:?}");
        let air = place.air.as_ref().unwrap();
        let rank = air.air.origin.iter().rposition(|it| *it == season::air::Origin::Measured).unwrap();
        let gap = air.air.hours[rank] - air.in_frost().air.hours[rank];
        assert!((gap - 2.0).abs() < 0.02, "{side:?}: {gap}");
        assert!(matches!(air.basis, Basis::Fitted(_)) && matches!(air.in_frost().basis, Basis::Fitted(_)));
        let ground = both.ground.as_ref().unwrap();
        let of_day = ground.places[0].this.days[(ground.today - Winter::FIRST_DAY) as usize].low;
        assert!(of_day < air.air.day(both.today).unwrap().0.iter().copied().fold(f64::INFINITY, f64::min));
    }
}

#[test]
fn buds_go_by_the_mean_of_two_sensors_and_frost_by_the_lower() {
    for side in SIDES {
        let today = side.day(TODAY);
        let told: Vec<(i32, f64)> =
            [&[("a", 1.5)][..], &[("b", -1.5)], &[("a", 1.5), ("b", -1.5)], &[("m", 0.0)]]
                .into_iter()
                .map(|sensors| {
                    let mut store = stocked(side);
                    for (name, by) in sensors {
                        let text = read(&store, side, *by);
                        hang(&mut store, "cellar", name, &text);
                    }
                    let whole = on(&store, today);
                    (full(&whole), lowest(&whole))
                })
                .collect();
        let [warm, cold, both, mean] = told[..] else { panic!() };
        assert!((both.0 - mean.0).abs() <= 1, "{side:?}: {told:?}");
        assert!(warm.0 < both.0 && both.0 < cold.0 || warm.0 == cold.0, "{side:?}: {told:?}");
        let near = |a: f64, b: f64| (a - b).abs() < 0.02;
        assert!(near(cold.1, both.1) && near(both.1, mean.1 - 1.5), "{side:?}: {told:?}");
    }
}

#[test]
fn what_a_sensor_shows_in_ice_water_is_taken_off_its_readings_everywhere_and_undone() {
    for side in SIDES {
        let (mut store, today) = (stocked(side), side.day(TODAY));
        let [right, high] = [0.0, 0.8].map(|by| read(&store, side, by));
        hang(&mut store, "cellar", "high", &high);
        let read_high = on(&store, today);
        let day = side.day(date(2025, 11, 3)).to_string();
        let form = IceForm { place: "cellar", sensor: "high", day: &day, shown: "0.8" };
        assert!(ice_check(&mut store, form, &["high".into()], Units::Metric, today).unwrap());
        let checked = on(&store, today);
        let mut plain = stocked(side);
        hang(&mut plain, "cellar", "", &right);
        let plain = on(&plain, today);
        assert!((lowest(&checked) - lowest(&plain)).abs() < 0.011, "{side:?}");
        assert!((lowest(&read_high) - lowest(&plain) - 0.8).abs() < 0.011, "{side:?}");
        assert!((full(&checked) - full(&plain)).abs() <= 1, "{side:?}");
        let row = &view::places::place(&checked, "cellar").unwrap().sensors[0];
        assert!(row.words.starts_with("corrected by \u{2212}0.8"), "{side:?}: {}", row.words);
        undo_check(&mut store, "cellar", row.check.unwrap()).unwrap();
        assert!((lowest(&on(&store, today)) - lowest(&read_high)).abs() < 1e-9, "{side:?}");
    }
}

#[test]
fn a_check_in_degrees_fahrenheit_of_no_sensor_of_tomorrow_or_far_off_is_weighed() {
    let (mut store, today) = (stocked(Side::North), TODAY);
    let text = read(&store, Side::North, 0.0);
    hang(&mut store, "cellar", "wall", &text);
    let (form, wall) =
        (IceForm { place: "cellar", sensor: "wall", day: "2026-02-01", shown: "31.1" }, ["wall".to_string()]);
    assert!(ice_check(&mut store, form, &wall, Units::Metric, today).is_err(), "31 degrees off");
    assert!(ice_check(&mut store, form, &wall, Units::Imperial, today).unwrap());
    let shown = store.reader().unwrap().ice_checks().unwrap()[0].1.shown.0;
    assert!((shown + 0.5).abs() < 1e-9, "{shown}");
    let late = (today + 1.day()).to_string();
    let odd = [
        IceForm { sensor: "door", ..form },
        IceForm { day: &late, ..form },
        IceForm { shown: "wet", ..form },
    ];
    assert!(odd.into_iter().all(|form| ice_check(&mut store, form, &wall, Units::Imperial, today).is_err()));
}

#[test]
fn a_column_names_the_sensors_of_a_file_and_one_without_a_name_that_would_replace_another_is_told() {
    let mut store = stocked(Side::North);
    let [door, wall] = [-3.0, 1.0].map(|by| read(&store, Side::North, by));
    let rows = |name: &str, text: &str| -> String {
        text.lines().skip(1).map(|line| format!("{},{name}\n", line.trim())).collect()
    };
    let both = format!("time,temp_c,sensor\n{}{}", rows("door", &door), rows("wall", &wall));
    hang(&mut store, "cellar", "", &both);
    let sensors = store.reader().unwrap().logged("cellar").unwrap().sensors;
    let hours: Vec<(&str, usize)> = sensors.iter().map(|(name, it)| (name.as_str(), it.len())).collect();
    assert_eq!(hours, [("door", 119 * 24), ("wall", 119 * 24)]);
    let kind = Kind::from_key("logger", "cellar").unwrap();
    let told = |kind: &Kind, text: &str| {
        let reader = store.reader().unwrap();
        preview(&reader, kind, "l.csv", text.as_bytes(), &Options::default()).unwrap().notes.join("; ")
    };
    assert!(told(&kind.clone().of_sensor("door"), &wall).contains("differ by 4"), "{}", told(&kind, &wall));
    assert!(!told(&kind.of_sensor("door"), &door).contains("differ by"));
}
