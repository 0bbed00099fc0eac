//! The page *Tonight* for 300 trees in a frost that many of them feel, once the whole is known.

use std::{fmt::Write, fs, hint::black_box, path::Path};

use climate::record::HourMean;
use criterion::{Criterion, criterion_group, criterion_main};
use intake::import::{Kind, import};
use jiff::civil::{Date, date};
use store::store::{Act, Store};
use view::{
    tonight::{afternoon, pots, tonight},
    whole::whole,
};

const TODAY: Date = date(2026, 4, 22);

/// The demo's own trees with their pots, over and over, each copy with its own name; all pots in use by many.
fn collection(trees: usize) -> Store {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
    let read = |name: &str| fs::read_to_string(folder.join(name)).expect("the demo is there");
    let own = read("trees.csv").lines().count() - 1;
    let copies = |name: &str| {
        let text = read(name);
        let (head, body) = text.split_once('\n').expect("a header");
        let mut many = format!("{head}\n");
        for copy in 0..trees.div_ceil(own) {
            for line in body.lines() {
                let (tree, rest) = line.split_once(',').expect("a cell");
                writeln!(many, "{tree} {copy},{rest}").expect("a string takes all");
            }
        }
        many
    };
    let mut store = Store::in_memory().expect("a store");
    let mut take = |kind: &str, place: &str, text: String| {
        let kind = Kind::from_key(kind, place).expect("a kind");
        import(&mut store, &kind, "bench", text.as_bytes(), false).expect("taken in");
    };
    for (kind, name) in [("site", "site.csv"), ("places", "places.csv")] {
        take(kind, "", read(name));
    }
    take("trees", "", copies("trees.csv"));
    for (kind, name) in [("pots", "pots.csv"), ("mixes", "mixes.csv")] {
        take(kind, "", read(name));
    }
    for (kind, name) in [
        ("potted", "potted.csv"),
        ("crowns", "crowns.csv"),
        ("moves", "moves.csv"),
        ("looks", "looks.csv"),
        ("work", "work.csv"),
    ] {
        take(kind, "", copies(name));
    }
    take("weather", "", read("station.csv"));
    take("logger", "cold-frame", read("logger_cold_frame.csv"));
    take("logger", "cold-room", read("logger_cold_room.csv"));
    take("logger", "south-sill", read("logger_south_sill.csv"));
    let noon = 1_776_859_200;
    let hours: Vec<HourMean> = (0..60)
        .map(|hour| HourMean {
            at: noon + hour * 3600,
            temperature: 2.5 - 6.0 * ((hour - 4) as f64 * std::f64::consts::TAU / 24.0).sin(),
            filled: false,
        })
        .collect();
    store
        .transact::<(), store::error::Error>(&Act::Fetch, |change| change.set_forecast(noon, &hours))
        .expect("a forecast");
    store
}

fn night(c: &mut Criterion) {
    let store = collection(300);
    let reader = store.reader().expect("a reader");
    let (whole, pots) = (whole(&reader, TODAY).expect("a whole"), pots(&reader).expect("pots"));
    let mut group = c.benchmark_group("view/tonight");
    group.sample_size(20).bench_function("300", |b| {
        b.iter(|| {
            let page = tonight(&whole, &pots, afternoon(&whole)).expect("a night");
            let moved = page.movers.len() + page.cover.len();
            assert!(moved > 50 && !page.is_usual, "{moved}");
            let all = moved + page.watch.len() + page.stay.len() + page.placeless.len();
            assert_eq!(all, whole.trees.len());
            black_box(page)
        })
    });
    group.finish();
}

criterion_group!(benches, night);
criterion_main!(benches);
