//! `budswell demo`: an invented collection, taken in by the same door as anyone's files.

use anyhow::{Context, bail};
use climate::{
    hours::{Extremes, from_extremes},
    record::StationDay,
};
use collection::incident::Cause;
use intake::{
    fetch::{Service, take},
    import::{ImportError, Kind, Options, import},
    incident::{AnswerForm, IceForm, answer, ice_check},
    photo::{PhotoForm, keep},
};
use jiff::{ToSpan, civil::Date, tz::TimeZone};
use measure::quantity::{Celsius, Units};
use store::store::Store;
use view::{
    incidents,
    today::today,
    tonight::{afternoon, brief},
    whole::whole,
};

use crate::web;

use super::say;

macro_rules! photo {
    ($tree:literal, $day:literal) => {
        ($tree, $day, include_bytes!(concat!("../../../../demo/photos/", $tree, "-", $day, ".jpg")))
    };
}

macro_rules! sheet {
    ($kind:literal) => {
        ($kind, "", concat!($kind, ".csv"), include_bytes!(concat!("../../../../demo/", $kind, ".csv")))
    };
}

/// The files of the demo, in the order they must come in.
const FILES: [(&str, &str, &str, &[u8]); 16] = [
    ("site", "", "site.csv", include_bytes!("../../../../demo/site.csv")),
    ("places", "", "places.csv", include_bytes!("../../../../demo/places.csv")),
    ("trees", "", "trees.csv", include_bytes!("../../../../demo/trees.csv")),
    ("pots", "", "pots.csv", include_bytes!("../../../../demo/pots.csv")),
    ("mixes", "", "mixes.csv", include_bytes!("../../../../demo/mixes.csv")),
    ("potted", "", "potted.csv", include_bytes!("../../../../demo/potted.csv")),
    ("crowns", "", "crowns.csv", include_bytes!("../../../../demo/crowns.csv")),
    ("moves", "", "moves.csv", include_bytes!("../../../../demo/moves.csv")),
    ("looks", "", "looks.csv", include_bytes!("../../../../demo/looks.csv")),
    ("work", "", "work.csv", include_bytes!("../../../../demo/work.csv")),
    ("away", "", "shifts.ics", include_bytes!("../../../../demo/shifts.ics")),
    ("water", "", "water.csv", include_bytes!("../../../../demo/water.csv")),
    ("weather", "", "station.csv", include_bytes!("../../../../demo/station.csv")),
    (
        "logger",
        "cold-frame",
        "logger_cold_frame.csv",
        include_bytes!("../../../../demo/logger_cold_frame.csv"),
    ),
    ("logger", "cold-room", "logger_cold_room.csv", include_bytes!("../../../../demo/logger_cold_room.csv")),
    (
        "logger",
        "south-sill",
        "logger_south_sill.csv",
        include_bytes!("../../../../demo/logger_south_sill.csv"),
    ),
];

/// The pictures that stand in for photos, as drawn by `draw_demo`.
const PHOTOS: [(&str, &str, &[u8]); 9] = [
    photo!("old-trident", "2024-12-08"),
    photo!("old-trident", "2025-12-14"),
    photo!("red-lantern", "2025-12-14"),
    photo!("mountain-maple", "2025-12-14"),
    photo!("leaning-thorn", "2025-12-14"),
    photo!("grey-beech", "2025-12-14"),
    photo!("broom-elm", "2025-12-14"),
    photo!("stone-elm", "2025-12-14"),
    photo!("black-pine", "2025-12-14"),
];

/// What is written down about the limbs; lines on photos come after the photos.
const LIMBS: [(&str, &str, &str, &[u8]); 12] = [
    sheet!("limbs"),
    sheet!("scales"),
    sheet!("traces"),
    sheet!("calipers"),
    sheet!("fronts"),
    sheet!("aims"),
    sheet!("intentions"),
    sheet!("cuts"),
    sheet!("wires"),
    sheet!("coils"),
    sheet!("layers"),
    sheet!("wounds"),
];

/// What is known of pots, repots and the shed; it names trees, pots and mixes.
const SHELF: [(&str, &str, &str, &[u8]); 13] = [
    sheet!("wares"),
    sheet!("grown"),
    sheet!("statures"),
    sheet!("tints"),
    sheet!("vigour"),
    sheet!("pot_looks"),
    sheet!("meant"),
    sheet!("repots"),
    sheet!("tolls"),
    sheet!("reservations"),
    sheet!("likings"),
    sheet!("stock"),
    sheet!("blends"),
];

/// Fills a store with the demo.
pub fn fill(store: &mut Store) -> anyhow::Result<()> {
    take_in(store, &FILES)?;
    take_in(store, &SHELF)?;
    for (tree, day, bytes) in PHOTOS {
        let form = PhotoForm { tree, day, ..PhotoForm::default() };
        let come = day.parse().context("a day")?;
        keep(store, form, bytes, come).with_context(|| format!("the photo of {tree}"))?;
    }
    take_in(store, &LIMBS)?;
    bad_day(store)
}

/// The cold room's logger held in ice water in November, and its warm night of January kept as the grower would a few days after.
fn bad_day(store: &mut Store) -> anyhow::Result<()> {
    const PLACE: &str = "cold-room";
    let (one, day) = ([String::new()], Date::constant(2026, 1, 8));
    let form = IceForm { place: PLACE, sensor: "", day: "2025-11-03", shown: "0" };
    ice_check(store, form, &one, Units::Metric, day)?;
    let whole = whole(&store.reader()?, day)?;
    let rank = whole.places.iter().position(|it| it.place.key == PLACE).context("the demo's cold room")?;
    let warm = incidents::of_place(&whole, rank).iter().find(|it| it.cause == Cause::Warm);
    let span = warm.context("its warm night")?.span;
    let [since, until] = span.map(|at| at.to_string());
    let form = AnswerForm { place: PLACE, since: &since, until: &until, said: "happened", sensor: "" };
    answer(store, form, incidents::record(&whole, PLACE, span), &one)?;
    Ok(())
}

fn take_in(store: &mut Store, files: &[(&str, &str, &str, &[u8])]) -> anyhow::Result<()> {
    for &(kind, place, name, bytes) in files {
        let kind = Kind::from_key(kind, place).context("a kind we know")?;
        match import(store, &kind, name, bytes, &Options::default()) {
            Ok(_) => {}
            Err(ImportError::Refused(refused)) => {
                let lines: Vec<String> = refused.iter().map(ToString::to_string).collect();
                bail!("demo/{name}: {}", lines.join("; "))
            }
            Err(why @ ImportError::Unclear(_)) => bail!("demo/{name}: {why}"),
            Err(ImportError::Store(why)) => return Err(why.into()),
        }
    }
    Ok(())
}

/// Days ahead that the demo's forecast tells.
const AHEAD: i64 = 2;

/// Gives the demo a forecast as of the early afternoon: its own made-up station's next days, in the service's form, so that it comes
/// in by the same door.
pub fn foretell(store: &mut Store, day: Date) -> anyhow::Result<()> {
    let reader = store.reader()?;
    let site = reader.site()?.context("the demo has a site")?;
    let zone = TimeZone::get(&site.zone)?;
    let span = day - 1.days()..=day + AHEAD.days();
    let days: Vec<_> = reader.station_days()?.into_iter().filter(|it| span.contains(&it.date)).collect();
    let (Some(first), true) = (days.first(), days.len() > 2) else { return Ok(()) };
    let whole = days.iter().filter_map(StationDay::extremes);
    let extremes: Vec<Extremes> =
        whole.map(|(low, high)| Extremes { low: Celsius(low), high: Celsius(high) }).collect();
    let celsius = from_extremes(site.latitude, first.date, &extremes)?;
    // The hours run on the sun's clock.
    let midnight = TimeZone::UTC.to_timestamp(first.date.at(0, 0, 0, 0))?.as_second();
    let start = midnight - (site.longitude.0 * 240.0) as i64;
    let at = zone.to_timestamp(day.at(14, 0, 0, 0))?.as_second();
    let time: Vec<i64> = (0..celsius.len() as i64).map(|hour| start + hour * 3600).collect();
    let reply = serde_json::json!({
        "latitude": site.latitude.0,
        "longitude": site.longitude.0,
        "hourly_units": { "temperature_2m": "°C" },
        "hourly": { "time": time, "temperature_2m": celsius },
    });
    take(store, reply.to_string().as_bytes(), at)?;
    Ok(())
}

/// Prints the day's answer and serves the pages.
pub fn run(day: Date, port: u16, once: bool) -> anyhow::Result<()> {
    let mut store = Store::in_memory()?;
    fill(&mut store)?;
    foretell(&mut store, day)?;
    let reader = store.reader()?;
    let whole = whole(&reader, day)?;
    if let Some(night) = brief(&whole, afternoon(&whole)) {
        say::out(format_args!("Tonight: {}\n", night.answer));
    }
    say::out(format_args!("{}", today(&whole).text()));
    if once {
        return Ok(());
    }
    let cache = std::env::temp_dir().join(format!("budswell-demo-{}", std::process::id()));
    web::serve(web::App::new(store, Service::open_meteo(cache), Some(day))?, port)
}
