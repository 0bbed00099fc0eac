//! `budswell demo`: an invented collection, taken in by the same door as anyone's files.

use anyhow::{Context, bail};
use intake::{
    fetch::Service,
    import::{ImportError, Kind, import},
};
use jiff::civil::Date;
use store::store::Store;
use view::{today::today, whole::whole};

use crate::web;

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

/// Fills a store with the demo.
pub fn fill(store: &mut Store) -> anyhow::Result<()> {
    for (kind, place, name, bytes) in FILES {
        let kind = Kind::from_key(kind, place).context("a kind we know")?;
        match import(store, &kind, name, bytes, false) {
            Ok(_) => {}
            Err(ImportError::Refused(refused)) => {
                let lines: Vec<String> = refused.iter().map(ToString::to_string).collect();
                bail!("demo/{name}: {}", lines.join("; "))
            }
            Err(ImportError::Store(why)) => return Err(why.into()),
        }
    }
    Ok(())
}

/// Prints the day's answer and serves the pages.
pub fn run(day: Date, port: u16, once: bool) -> anyhow::Result<()> {
    let mut store = Store::in_memory()?;
    fill(&mut store)?;
    let reader = store.reader()?;
    print!("{}", today(&whole(&reader, day)?).text());
    if once {
        return Ok(());
    }
    let cache = std::env::temp_dir().join(format!("budswell-demo-{}", std::process::id()));
    web::serve(web::App::new(store, Service::open_meteo(cache), Some(day))?, port)
}
