//! The demo's shelf, taken in by the door: sixty pots, and a spring whose best sharing-out holds three chains and one ring of swaps.

#[path = "../../view/tests/demo/mod.rs"]
mod demo;

use std::collections::BTreeSet;

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
use jiff::{
    ToSpan,
    civil::{Date, date},
};
use measure::{shelter::Shelter, winter::Hemisphere};
use pot::fit::{Ruling, frame::Shape, sitter::Winter};
use season::{
    repot::{
        offer::{Ask, NotAsked, Offered, Unkept, calendar::calendar, free::comes_free, offer},
        record::{Record, StandsIn},
        year::season_of,
    },
    shelf::{
        assign::{Place, Plan},
        steps::{carry_out, rings},
    },
};

/// The day that the demo opens on.
const TODAY: Date = date(2026, 3, 28);

/// The windows that the pages tell on that day, as day and month of first and last likely day, of the trees that may go.
const WINDOWS: [(&str, [i8; 4]); 31] = [
    ("Black pine", [24, 3, 31, 3]),
    ("Blackthorn", [29, 3, 9, 4]),
    ("Box", [12, 4, 22, 4]),
    ("Broom elm", [31, 3, 10, 4]),
    ("Broom maple", [6, 4, 16, 4]),
    ("Clump of five", [22, 6, 6, 7]),
    ("Crab apple", [27, 3, 7, 4]),
    ("Far hornbeam", [13, 4, 24, 4]),
    ("Field maple", [17, 4, 27, 4]),
    ("First plum", [2, 5, 11, 5]),
    ("Garden hornbeam", [12, 4, 22, 4]),
    ("Ginkgo", [28, 5, 8, 6]),
    ("Grey beech", [8, 5, 16, 5]),
    ("Hedge elm", [13, 4, 22, 4]),
    ("Hedge thorn", [25, 3, 4, 4]),
    ("Hornbeam grove", [23, 3, 30, 3]),
    ("Juniper cascade", [23, 4, 2, 5]),
    ("Leaning thorn", [25, 3, 3, 4]),
    ("Little lime", [24, 4, 2, 5]),
    ("Lone larch", [25, 3, 4, 4]),
    ("Mountain maple", [3, 4, 13, 4]),
    ("Oak from seed", [24, 4, 2, 5]),
    ("Old trident", [1, 5, 9, 5]),
    ("Red lantern", [12, 6, 26, 6]),
    ("River birch", [10, 4, 20, 4]),
    ("Scots pine", [27, 3, 7, 4]),
    ("Second plum", [5, 5, 14, 5]),
    ("Slender trident", [10, 5, 19, 5]),
    ("Small zelkova", [16, 6, 30, 6]),
    ("Stone elm", [28, 3, 8, 4]),
    ("Yew", [24, 4, 3, 5]),
];

/// The trees that are in leaf on that day.
const IN_LEAF: [&str; 7] = [
    "Cherry of May",
    "Larch forest",
    "Low quince",
    "Market elm",
    "Sleeping beech",
    "Trident on rock",
    "Winter quince",
];

/// The window of a tree on the day that the demo opens on; no windows are known here of other days.
fn window(tree: &str, today: Date) -> Option<(Date, Date)> {
    let [day, month, last_day, last_month] = WINDOWS.iter().find(|row| row.0 == tree && today == TODAY)?.1;
    Some((date(today.year(), month, day), date(today.year(), last_month, last_day)))
}

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

fn demo() -> Demo {
    let read = demo::demo().reader().unwrap();
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
            pottings: self
                .potted
                .iter()
                .filter(|it| it.tree == tree.key)
                .map(|it| (it.day, self.ware(&it.pot).training))
                .collect(),
            window: window(&tree.name, today),
            missed: today == TODAY && IN_LEAF.contains(&&*tree.name),
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
        [&["Garden hornbeam", "Yew"], &["Little lime", "River birch"], &["Lone larch", "Scots pine"]];
    for thirsty in [false, true] {
        let told = demo.shared_out(TODAY, thirsty);
        assert!(told.trees.len() >= 12 && told.plan.proven(), "{:?}", told.trees);
        assert_eq!(told.chains(), chains.into_iter().map(<[&str]>::to_vec).collect());
        assert_eq!(told.rings(), [BTreeSet::from(["Grey beech", "Red lantern"])]);
        assert_eq!(told.plan.rings, 1);
        let [(word, Unkept::NotAsked)] = told.offered.unkept[..] else { panic!("{:?}", told.offered.unkept) };
        assert_eq!(demo.reservations[word].tree, "winter-quince", "it is in leaf already");
    }
}

#[test]
fn the_calendar_of_the_spring_is_carried_out_and_no_tree_is_late_by_more_than_a_week() {
    let demo = demo();
    let told = demo.shared_out(TODAY, true);
    let windows: Vec<_> = told.offered.trees.iter().map(|it| it.window).collect();
    assert!(windows.iter().all(Option::is_some));
    let turns = comes_free(&told.offered, &told.plan, &windows);
    for (turn, window) in turns.trees.iter().zip(&windows) {
        let (day, (_, closes)) = (turn.lifted.unwrap(), window.unwrap());
        assert!(day <= closes + 7.days(), "{}: {day}", told.trees[turn.tree]);
        assert_eq!(turn.is_late, told.trees[turn.tree] == "River birch", "{}", told.trees[turn.tree]);
    }
    let boxed: Vec<&str> =
        turns.trees.iter().filter(|it| it.waits_in_box).map(|it| &*told.trees[it.tree]).collect();
    assert_eq!(boxed, ["Grey beech"], "its window opens five weeks before the lantern's");
    let steps: Vec<_> = calendar(&told.offered, &told.plan, &turns).into_iter().map(|it| it.0).collect();
    let done = carry_out(&told.offered.shelf, &steps).unwrap();
    assert_eq!((done.value, done.boxes), (told.plan.value, 1));
    let late = told.offered.not_asked.iter().filter(|it| matches!(it.1, NotAsked::TooLate(_)));
    let late: BTreeSet<&str> = late.map(|it| &*demo.trees[it.0].name).collect();
    assert_eq!(late, BTreeSet::from(["Market elm", "Trident on rock", "Winter quince"]));
}

#[test]
fn what_the_spring_left_undone_is_shared_out_again_in_autumn() {
    let demo = demo();
    let told = demo.shared_out(date(2026, 11, 24), true);
    assert_eq!((told.chains().len(), told.rings().len()), (4, 1), "{:?}", told.chains());
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
        assert_eq!(work.roots, Some(repot.cut), "{work:?}");
        let stands = demo.potted.iter().filter(|it| it.tree == repot.tree && it.day <= repot.day);
        let stands = stands.max_by_key(|it| it.day).unwrap();
        assert_eq!((&stands.pot, &stands.mix), (&repot.pot, &repot.mix), "{repot:?}");
    }
}
