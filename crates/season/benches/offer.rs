//! How long it takes to hold every pot against every tree of a collection, and to share them out.
//!
//! The collections are made up from SplitMix64: maples of 14 to 70 cm in ovals of 14 to 54 cm, a fifth of the pots empty.

use std::hint::black_box;

use collection::{
    drink::Worth,
    potting::{Mix, Pot, Wall},
    repot::Meant,
    standing::Stature,
    tree::{NameConfidence, Tree},
    ware::{Glaze, Told, Ware},
};
use criterion::{Criterion, criterion_group, criterion_main};
use jiff::civil::date;
use measure::{
    quantity::{Centimetre, Millimetre, Share},
    taxon::Taxon,
    winter::Hemisphere,
};
use pot::{
    colour::space::Lab,
    fit::{Ruling, frame::Fired},
    outline::Outline,
    vessel::Vessel,
};
use season::{
    repot::{
        offer::{Ask, offer},
        record::{Record, StandsIn},
    },
    shelf::steps::carry_out,
};

struct Dice(u64);

impl Dice {
    /// Between two figures.
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        low + (high - low) * ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }
}

fn oval(at: usize, dice: &mut Dice) -> (Pot, Ware) {
    let length = dice.between(14.0, 54.0);
    let [length, width] = [length, length * dice.between(0.7, 0.8)].map(Centimetre);
    let top = Outline::Oval { length, width };
    let deep = 2.0 + length.0 * dice.between(0.12, 0.2);
    let [height, feet, floor, wall, lip, gap] = [deep, 0.8, 0.6, 0.6, 0.0, 0.4].map(Centimetre);
    let vessel =
        Vessel { top, middle: None, bottom: top, height, feet, floor, wall, lip, gap, measured: None };
    let pot = Pot { key: format!("oval-{at}"), name: format!("Oval {at}"), vessel, wall: Wall::Glazed };
    let colour =
        Lab { l: dice.between(20.0, 80.0), a: dice.between(-30.0, 30.0), b: dice.between(-30.0, 30.0) };
    let ware = Ware {
        drain_holes: Some(4),
        fired: Fired::High,
        glaze: Some(Glaze { colour, told: Told::Picked }),
        ..Ware::unknown(&pot)
    };
    (pot, ware)
}

fn offers(c: &mut Criterion) {
    let mut group = c.benchmark_group("season/offer");
    group.sample_size(10);
    for (trees, pots) in [(42, 60), (300, 400)] {
        let mut dice = Dice(trees as u64);
        let shelf: Vec<(Pot, Ware)> = (0..pots).map(|at| oval(at, &mut dice)).collect();
        let own: Vec<(Tree, [Stature; 1], Meant)> = (0..trees)
            .map(|at| {
                let key = format!("maple-{at}");
                let height = dice.between(14.0, 70.0);
                let [height, trunk] = [height, 0.12 * height].map(Centimetre);
                let tree = Tree {
                    key: key.clone(),
                    name: key.clone(),
                    taxon: Taxon::of("acer-palmatum").expect("a taxon"),
                    candidates: Vec::new(),
                    name_confidence: NameConfidence::Sure,
                    since: None,
                    worth: Worth::Standing,
                    note: String::new(),
                    revision: 1,
                };
                let day = date(2026, 10, 1);
                let why = String::new();
                let cut = Some(Share(0.4));
                let meant =
                    Meant { tree: key.clone(), season: 2027, repot: true, cut, mix: None, show: true, why };
                (tree, [Stature { tree: key, day, height, trunk }], meant)
            })
            .collect();
        let mix =
            Mix { key: "own".into(), name: "Own".into(), grain: [2.0, 5.0].map(Millimetre), tested: None };
        let records: Vec<Record<'_>> = own
            .iter()
            .enumerate()
            .map(|(at, (tree, statures, meant))| Record {
                statures,
                meant: Some(meant),
                stands_in: (at < pots * 4 / 5).then(|| StandsIn {
                    pot: &shelf[at].0,
                    ware: &shelf[at].1,
                    mix: &mix,
                    since: date(2025, 3, 10),
                }),
                ..Record::of(tree)
            })
            .collect();
        let lent: Vec<(&Pot, &Ware)> = shelf.iter().map(|(pot, ware)| (pot, ware)).collect();
        let ask = Ask { today: date(2027, 2, 10), hemisphere: Hemisphere::North, ruling: Ruling::default() };
        let told = offer(&records, &lent, &[], &ask).expect("an offer");
        let best = told.plan().expect("a plan");
        println!(
            "{trees} trees, {pots} pots: {} choices, value {} of at most {}, {} rings",
            told.shelf.choices.len(),
            best.value,
            best.bound,
            best.rings
        );
        assert!(told.trees.len() == trees && told.shelf.choices.len() > trees);
        assert_eq!(carry_out(&told.shelf, &best.steps).expect("an order").value, best.value);
        group.bench_function(format!("{trees}x{pots}"), |b| {
            b.iter(|| {
                let again = offer(black_box(&records), &lent, &[], &ask).expect("an offer");
                assert_eq!(again.shelf.choices.len(), told.shelf.choices.len());
                again.trees.len()
            });
        });
        group.bench_function(format!("plan_{trees}x{pots}"), |b| {
            b.iter(|| {
                let again = told.plan().expect("a plan");
                assert_eq!(again.value, best.value);
                again.rings
            });
        });
    }
    group.finish();
}

criterion_group!(benches, offers);
criterion_main!(benches);
