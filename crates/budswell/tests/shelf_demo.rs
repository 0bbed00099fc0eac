//! The demo's shelf, taken in by the door: sixty pots, and a spring whose best sharing-out holds three chains and one ring of swaps.

use std::{collections::BTreeSet, fs, path::Path};

use collection::{
    event::{Move, Work, WorkKind},
    layer::Layer,
    place::Place as Spot,
    potting::{Crown, Mix, Pot, Potted},
    repot::{Meant, PotLook, Repot, Toll},
    reserve::Reservation,
    standing::{Grown, Stature, Tint, Vigour},
    tree::Tree,
    ware::{Ware, Whereabouts},
    wire::Wire,
};
use intake::import::{Kind, import};
use jiff::{
    ToSpan,
    civil::{Date, date},
};
use measure::{shelter::Shelter, winter::Hemisphere};
use pot::fit::{Ruling, frame::Shape, sitter::Winter};
use season::{
    repot::{
        offer::{Ask, Offered, offer},
        record::{Record, StandsIn},
        year::season_of,
    },
    shelf::{
        assign::{Place, Plan},
        steps::rings,
    },
};
use store::store::Store;

/// The day that the demo opens on.
const TODAY: Date = date(2026, 3, 28);

/// The sheets that the shelf is read out of, in the order in which they must come in.
const SHEETS: [&str; 22] = [
    "site",
    "places",
    "trees",
    "pots",
    "mixes",
    "potted",
    "crowns",
    "moves",
    "work",
    "wares",
    "grown",
    "statures",
    "tints",
    "vigour",
    "pot_looks",
    "meant",
    "repots",
    "tolls",
    "reservations",
    "likings",
    "stock",
    "blends",
];

/// The demo out of its file.
struct Demo {
    trees: Vec<Tree>,
    places: Vec<Spot>,
    moves: Vec<Move>,
    pots: Vec<Pot>,
    wares: Vec<Ware>,
    mixes: Vec<Mix>,
    potted: Vec<Potted>,
    crowns: Vec<Crown>,
    works: Vec<Work>,
    grown: Vec<Grown>,
    statures: Vec<Stature>,
    tints: Vec<Tint>,
    vigours: Vec<Vigour>,
    looks: Vec<PotLook>,
    meant: Vec<Meant>,
    repots: Vec<Repot>,
    tolls: Vec<Toll>,
    reservations: Vec<Reservation>,
    wires: Vec<Wire>,
    layers: Vec<Layer>,
}

/// What of the demo is one tree's.
struct Own {
    statures: Vec<Stature>,
    tints: Vec<Tint>,
    vigours: Vec<Vigour>,
    looks: Vec<PotLook>,
    repots: Vec<Repot>,
}

fn taken_in() -> Store {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
    let mut store = Store::in_memory().unwrap();
    for sheet in SHEETS {
        let name = format!("{sheet}.csv");
        let bytes = fs::read(folder.join(&name)).unwrap();
        let kind = Kind::from_key(sheet, "").unwrap_or_else(|| panic!("{sheet}"));
        let done = import(&mut store, &kind, &name, &bytes, false);
        assert!(done.is_ok(), "{sheet}: {:?}", done.err());
    }
    store
}

fn demo() -> Demo {
    let read = taken_in().reader().unwrap();
    let plain = |works: Vec<(i64, Work)>| works.into_iter().map(|(_, work)| work).collect();
    Demo {
        trees: read.trees().unwrap(),
        places: read.places().unwrap(),
        moves: read.moves().unwrap(),
        pots: read.pots().unwrap(),
        wares: read.wares().unwrap(),
        mixes: read.mixes().unwrap(),
        potted: read.potted().unwrap(),
        crowns: read.crowns().unwrap(),
        works: plain(read.works().unwrap()),
        grown: read.grown().unwrap(),
        statures: read.statures().unwrap(),
        tints: read.tints().unwrap(),
        vigours: read.vigours().unwrap(),
        looks: read.pot_looks().unwrap(),
        meant: read.meant().unwrap(),
        repots: read.repots().unwrap(),
        tolls: read.tolls().unwrap().into_iter().map(|(_, toll)| toll).collect(),
        reservations: read.reservations().unwrap(),
        wires: read.wires().unwrap().into_iter().map(|(_, wire)| wire).collect(),
        layers: read.layers().unwrap().into_iter().map(|(_, layer)| layer).collect(),
    }
}

impl Demo {
    fn ware(&self, pot: &str) -> &Ware {
        self.wares.iter().find(|ware| ware.pot == pot).unwrap_or_else(|| panic!("{pot}"))
    }

    fn own(&self, tree: &str, today: Date) -> Own {
        Own {
            statures: kept(&self.statures, |it| it.tree == tree && it.day <= today),
            tints: kept(&self.tints, |it| it.tree == tree),
            vigours: kept(&self.vigours, |it| it.tree == tree && it.day <= today),
            looks: kept(&self.looks, |it| it.tree == tree && it.day <= today),
            repots: kept(&self.repots, |it| it.tree == tree && it.day <= today),
        }
    }

    /// Where the tree spent the winter before a day.
    fn winter(&self, tree: &str, today: Date) -> Option<Winter> {
        let january = date(today.year(), 1, 15);
        let stood =
            self.moves.iter().filter(|it| it.tree == tree && it.day <= january).max_by_key(|it| it.day)?;
        let place = self.places.iter().find(|place| place.key == stood.place)?;
        Some(match place.shelter {
            Shelter::OpenBench | Shelter::ShadedBench => Winter::Open,
            Shelter::CoolSill | Shelter::WarmSill => Winter::FrostFree,
            _ => Winter::Sheltered,
        })
    }

    fn record<'a>(&'a self, tree: &'a Tree, own: &'a Own, today: Date, thirsty: bool) -> Record<'a> {
        let season = season_of(today, Hemisphere::North);
        let potted =
            self.potted.iter().filter(|it| it.tree == tree.key && it.day <= today).max_by_key(|it| it.day);
        let stands_in = potted.map(|it| StandsIn {
            pot: self.pots.iter().find(|pot| pot.key == it.pot).unwrap(),
            ware: self.ware(&it.pot),
            mix: self.mixes.iter().find(|mix| mix.key == it.mix).unwrap(),
            since: it.day,
        });
        Record {
            grown: self.grown.iter().find(|it| it.tree == tree.key),
            statures: &own.statures,
            crown: self
                .crowns
                .iter()
                .filter(|it| it.tree == tree.key && it.day <= today)
                .max_by_key(|it| it.day),
            tints: &own.tints,
            vigours: &own.vigours,
            pot_looks: &own.looks,
            repots: &own.repots,
            works: self.works.iter().filter(|it| it.tree == tree.key).collect(),
            tolls: self.tolls.iter().filter(|it| it.tree == tree.key).collect(),
            wires: self.wires.iter().filter(|it| it.tree == tree.key).collect(),
            layers: self.layers.iter().filter(|it| it.tree == tree.key).collect(),
            meant: self.meant.iter().find(|it| it.tree == tree.key && it.season == season),
            stands_in,
            winter: self.winter(&tree.key, today),
            thirsty,
            ..Record::of(tree)
        }
    }

    /// The shelf as it is shared out on a day, for trees that are left alone over long shifts or not.
    fn shared_out(&self, today: Date, thirsty: bool) -> Shared {
        let own: Vec<Own> = self.trees.iter().map(|tree| self.own(&tree.key, today)).collect();
        let records: Vec<Record<'_>> =
            self.trees.iter().zip(&own).map(|(tree, own)| self.record(tree, own, today, thirsty)).collect();
        let pots: Vec<(&Pot, &Ware)> = self.pots.iter().map(|pot| (pot, self.ware(&pot.key))).collect();
        let ask = Ask { today, hemisphere: Hemisphere::North, ruling: Ruling::default() };
        let offered = offer(&records, &pots, &self.reservations, &ask).unwrap();
        let plan = offered.plan().unwrap();
        let trees = offered.trees.iter().map(|it| records[it.record].tree.name.clone()).collect();
        Shared { trees, offered, plan }
    }
}

fn kept<T: Clone>(all: &[T], is_kept: impl Fn(&T) -> bool) -> Vec<T> {
    all.iter().filter(|it| is_kept(it)).cloned().collect()
}

/// The shelf shared out.
struct Shared {
    /// Names of the trees that were asked.
    trees: Vec<String>,
    offered: Offered,
    plan: Plan,
}

impl Shared {
    /// Chains of at least two trees: the first goes into an empty pot, each other into the pot of the one before it.
    fn chains(&self) -> BTreeSet<Vec<&str>> {
        let stood = |pot: usize| self.offered.shelf.trees.iter().position(|tree| tree.stands_in == Some(pot));
        let into = |place: &Place| match place {
            Place::Pot(pot) => Some(*pot),
            Place::Training => None,
        };
        let follows = |tree: usize| {
            let left = self.offered.shelf.trees[tree].stands_in?;
            self.plan.into.iter().position(|place| into(place) == Some(left)).filter(|next| *next != tree)
        };
        let firsts = (0..self.trees.len())
            .filter(|&tree| into(&self.plan.into[tree]).is_some_and(|pot| stood(pot).is_none()));
        let chains = firsts.map(|first| {
            std::iter::successors(Some(first), |&tree| follows(tree)).map(|tree| &*self.trees[tree]).collect()
        });
        chains.filter(|chain: &Vec<&str>| chain.len() > 1).collect()
    }

    fn rings(&self) -> Vec<BTreeSet<&str>> {
        let rings = rings(&self.offered.shelf, &self.plan.into);
        rings.iter().map(|ring| ring.iter().map(|&tree| &*self.trees[tree]).collect()).collect()
    }
}

#[test]
fn the_demo_has_sixty_pots_of_six_workshops_and_boxes_of_five_sizes() {
    let demo = demo();
    let (boxes, pots): (Vec<_>, Vec<_>) = demo.wares.iter().partition(|ware| ware.training);
    assert_eq!((pots.len(), boxes.len(), demo.pots.len()), (60, 5, 65));
    let makers: BTreeSet<&str> =
        pots.iter().map(|ware| &*ware.maker).filter(|maker| !maker.is_empty()).collect();
    let marks: BTreeSet<&str> = pots.iter().map(|ware| &*ware.mark).filter(|mark| !mark.is_empty()).collect();
    assert_eq!((makers.len(), marks.len()), (6, 6), "{makers:?} {marks:?}");
    let shapes: BTreeSet<&str> = pots.iter().map(|ware| ware.shape.key()).collect();
    assert_eq!(shapes.len(), Shape::ALL.len(), "every shape of the trade: {shapes:?}");
    let away = |where_to| pots.iter().filter(|ware| ware.whereabouts == where_to).count();
    assert_eq!((away(Whereabouts::Lent), away(Whereabouts::Broken)), (1, 1));
    assert!(boxes.iter().all(|ware| ware.count > 1));
}

#[test]
fn a_shape_that_the_outline_gives_is_the_shape_of_the_ware() {
    let demo = demo();
    for pot in &demo.pots {
        let (told, drawn) = (demo.ware(&pot.key).shape, Ware::unknown(pot).shape);
        let also = match told {
            Shape::Square => Shape::Rectangle,
            Shape::Drum => Shape::Round,
            // A tall pot goes by what it is for, whatever its outline.
            Shape::Cascade => drawn,
            Shape::Mokko | Shape::Slab | Shape::Primitive => Shape::Oval,
            shape => shape,
        };
        assert_eq!(also, drawn, "{}", pot.name);
    }
}

#[test]
fn the_spring_is_shared_out_in_three_chains_and_one_ring_of_swaps() {
    let demo = demo();
    let chains: [&[&str]; 3] =
        [&["Box", "Market elm"], &["Little lime", "River birch"], &["Lone larch", "Scots pine", "Yew"]];
    for thirsty in [false, true] {
        let told = demo.shared_out(TODAY, thirsty);
        assert!(told.trees.len() >= 12 && told.plan.proven(), "{:?}", told.trees);
        assert_eq!(told.chains(), chains.into_iter().map(<[&str]>::to_vec).collect());
        assert_eq!(told.rings(), [BTreeSet::from(["Grey beech", "Red lantern"])]);
        assert_eq!(told.plan.rings, 1);
        assert!(told.offered.unkept.is_empty(), "{:?}", told.offered.unkept);
    }
}

#[test]
fn what_the_spring_left_undone_is_shared_out_again_in_autumn() {
    let demo = demo();
    let told = demo.shared_out(date(2026, 11, 24), true);
    assert_eq!((told.chains().len(), told.rings().len()), (3, 1), "{:?}", told.chains());
}

#[test]
fn the_shelf_is_shared_out_on_every_week_of_the_story() {
    let demo = demo();
    let mut day = date(2023, 9, 4);
    while day <= date(2026, 11, 24) {
        let told = demo.shared_out(day, true);
        assert_eq!(told.plan.into.len(), told.trees.len());
        assert!(told.plan.proven(), "{day}");
        day += 7.days();
    }
}

#[test]
fn each_repot_is_the_work_of_its_day_and_puts_the_tree_where_it_stands() {
    let demo = demo();
    let works: Vec<&Work> = demo.works.iter().filter(|work| work.kind == WorkKind::Repot).collect();
    assert_eq!(works.len(), demo.repots.len());
    for repot in &demo.repots {
        let work = works.iter().find(|work| (&work.tree, work.day) == (&repot.tree, repot.day)).unwrap();
        let said = format!("cut about {:.0} % of the roots", 100.0 * repot.cut.0);
        assert!(work.note.starts_with(&said), "{said}: {work:?}");
        let stands = demo.potted.iter().filter(|it| it.tree == repot.tree && it.day <= repot.day);
        let stands = stands.max_by_key(|it| it.day).unwrap();
        assert_eq!((&stands.pot, &stands.mix), (&repot.pot, &repot.mix), "{repot:?}");
    }
}
