//! How long a round takes: the thirst of six places, and the plans of many pots over a fortnight of twenty weathers.

use std::hint::black_box;

use climate::{
    record::StationDay,
    synth::{self, SynthClimate},
};
use collection::{
    drink::{Deed, Drink, Remark, Worth},
    potting::{Crown, Mix, Pot, Wall},
};
use criterion::{Criterion, criterion_group, criterion_main};
use jiff::{
    ToSpan,
    civil::{Date, date},
};
use measure::{
    quantity::{Celsius, Centimetre, Degrees, Metre, Millimetre},
    shelter::Shelter,
    taxon::Taxon,
};
use pot::{outline::Outline, vessel::Vessel};
use season::{
    air::{Air, Origin},
    leaves::Leaves,
    watering::{
        log::TreeWater,
        plan::{Planner, Verdict},
        pots::{MixFacts, PotFacts},
        thirst::{Spot, Thirst},
    },
};

const TODAY: Date = date(2026, 7, 14);
const FIRST: Date = date(2005, 1, 1);
const PLACES: [Shelter; 6] = [
    Shelter::OpenBench,
    Shelter::ShadedBench,
    Shelter::ColdFrame,
    Shelter::ColdRoom,
    Shelter::CoolSill,
    Shelter::WarmSill,
];

fn thirst() -> Thirst {
    let days = (TODAY - FIRST).get_days() as usize + 1;
    let climate = SynthClimate::temperate(Degrees(47.3), Celsius(9.2), 9.4);
    let hours = synth::hours(&climate, FIRST, days, 7);
    let rain: Vec<StationDay> = synth::daily(&hours)
        .iter()
        .enumerate()
        .map(|(at, day)| StationDay {
            date: FIRST + (at as i64).days(),
            low: Some(day.low.0),
            high: Some(day.high.0),
            rain: Some(if at % 4 == 0 { 6.0 } else { 0.0 }),
        })
        .collect();
    let air = Air { first: FIRST, origin: vec![Origin::Measured; hours.len()], hours };
    let places = PLACES.map(|shelter| Spot { shelter, air: &air });
    let site = [Degrees(47.3), Degrees(9.1)];
    Thirst::of(site, Metre(560.0), &air, &places, &rain, TODAY).expect("a site on Earth")
}

fn pot(size: f64) -> Pot {
    let outline = |scale: f64| Outline::Oval {
        length: Centimetre(size * scale),
        width: Centimetre(0.75 * size * scale),
    };
    let vessel = Vessel {
        top: outline(1.0),
        middle: None,
        bottom: outline(0.9),
        height: Centimetre(4.0 + size / 8.0),
        feet: Centimetre(0.5),
        floor: Centimetre(0.6),
        wall: Centimetre(0.6),
        lip: Centimetre(0.0),
        gap: Centimetre(0.5),
        measured: None,
    };
    Pot { key: "p".into(), name: "p".into(), vessel, wall: Wall::Glazed }
}

/// A log of six weeks: watered every other morning, with a remark now and then.
fn log(thirst: &Thirst) -> Vec<Drink> {
    (0..21)
        .map(|at| Drink {
            tree: "t".into(),
            at: thirst.moment((thirst.past_days as f64 - 42.0 + 2.0 * f64::from(at)) * 24.0 + 6.5),
            deed: Deed::Watered,
            remark: (at % 3 == 0).then_some(Remark::Right),
            hand: "h".into(),
            sure: false,
        })
        .collect()
}

fn trees<'a>(thirst: &Thirst, drinks: &'a [Drink], count: usize) -> Vec<TreeWater<'a>> {
    let mix =
        Mix { key: "m".into(), name: "m".into(), grain: [Millimetre(3.0), Millimetre(6.0)], tested: None };
    let mix = MixFacts::of(&mix);
    let maple = Taxon::of("acer-palmatum").expect("a taxon");
    (0..count)
        .map(|at| {
            let size = 14.0 + (at % 40) as f64;
            let crown = Crown {
                tree: "t".into(),
                day: TODAY,
                length: Centimetre(1.3 * size),
                width: Centimetre(1.1 * size),
            };
            TreeWater {
                facts: PotFacts::of(Some(&pot(size)), Some(&mix), Some(&crown)).expect("a pot"),
                leaves: Leaves::of(maple, None),
                stays: vec![(0.0, at % PLACES.len())],
                drinks: drinks.iter().map(|drink| (thirst.hour(drink.at), drink)).collect(),
                repotted: Vec::new(),
                cuts: Vec::new(),
                first_day: 195 - thirst.past_days as i32,
            }
        })
        .collect()
}

/// Pots to water of all that are planned.
fn walk(thirst: &Thirst, trees: &[TreeWater<'_>]) -> usize {
    let now = thirst.past_days as f64 * 24.0 + 6.5;
    let mut planner = Planner::new(thirst, now, 13.0);
    let planned = trees.iter().map(|tree| {
        let story = tree.story(thirst).expect("a log");
        planner.plan(tree, &story, Worth::Standing).expect("a plan")
    });
    planned.filter(|plan| plan.verdict == Verdict::Water).count()
}

fn rounds(c: &mut Criterion) {
    let thirst = thirst();
    assert_eq!(thirst.weathers(), 20);
    let drinks = log(&thirst);
    let mut group = c.benchmark_group("season/round");
    group.sample_size(10);
    for count in [300, 10_000] {
        let trees = trees(&thirst, &drinks, count);
        group.bench_function(count.to_string(), |b| {
            b.iter(|| {
                let water = walk(&thirst, black_box(&trees));
                assert!(water > count / 4 && water < count, "{water} of {count}");
                water
            });
        });
    }
    let some = trees(&thirst, &drinks, 300);
    group.bench_function("read_300_logs", |b| {
        b.iter(|| some.iter().map(|tree| tree.story(&thirst).expect("a log").drawn.len()).sum::<usize>());
    });
    group.bench_function("thirst_of_six_places", |b| b.iter(|| assert_eq!(self::thirst().weathers(), 20)));
    group.finish();
}

criterion_group!(benches, rounds);
criterion_main!(benches);
