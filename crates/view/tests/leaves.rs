//! Leaves and looks on a small collection: the days on which a date once decided, north and half a year on at 37 degrees south.

use climate::record::StationDay;
use intake::{
    import::{Kind, Options, import},
    looks::{self, LeafForm, LookForm},
    record::FormError,
};
use jiff::{
    ToSpan,
    civil::{Date, date},
};
use measure::{
    leaf::Leaf,
    quantity::Degrees,
    stage::Stage,
    winter::{Hemisphere, Winter},
};
use season::{autumn::Keeps, window::Stands};
use state::{reason::Reason, work::Work};
use store::store::{Act, Store};
use view::{
    frost, leaf,
    limbs::grows,
    verdicts,
    whole::{TreeWhole, Whole, whole},
};
use water::leaf::LeafState;

const TREES: &str = "name,taxon,confidence,since,worth,note\n\
    Maple,acer-palmatum,sure,,standing,\n\
    Sister,acer-palmatum,sure,,standing,\n\
    Beech,fagus-sylvatica,sure,,standing,\n\
    Elm,ulmus-parvifolia,sure,,standing,\n\
    Privet,ligustrum-ovalifolium,sure,,standing,\n\
    Pine,pinus-sylvestris,sure,,standing,\n\
    Kept,acer-palmatum,sure,,standing,\n";

const PLACES: &str = "name,shelter,facing,lamp_umol,lamp_hours,capacity\n\
    Bench,open-bench,,,,\nSill,warm-sill,,,,\nFrame,cold-frame,,,,\n";

/// A climate: latitude, mean and half the swing of its year, °C; its coldest day is the 24th of the seventh month after summer begins.
#[derive(Clone, Copy)]
struct Climate {
    latitude: f64,
    mean: f64,
    swing: f64,
}

/// Round figures for London, Tokyo and, at 37 degrees south, Melbourne (remembered).
const LONDON: Climate = Climate { latitude: 51.5, mean: 11.3, swing: 6.7 };
const TOKYO: Climate = Climate { latitude: 35.7, mean: 16.0, swing: 10.5 };
const SOUTH: Climate = Climate { latitude: -37.0, mean: 14.5, swing: 5.6 };

impl Climate {
    fn hemisphere(self) -> Hemisphere {
        Hemisphere::of(Degrees(self.latitude))
    }

    /// A northern date, half a year on in the south.
    fn on(self, north: Date) -> Date {
        match self.hemisphere() {
            Hemisphere::North => north,
            Hemisphere::South => north + 6.months(),
        }
    }

    fn store(self, until: Date) -> Store {
        let mut store = Store::in_memory().unwrap();
        let site = format!(
            "name,latitude,longitude,elevation,zone,units\nHere,{},8.0,40,UTC,metric\n",
            self.latitude
        );
        let since = self.on(date(2020, 5, 1));
        let moves: String = ["Maple", "Sister", "Beech", "Elm", "Privet", "Pine"]
            .map(|name| format!("{name},Bench,{since}\n"))
            .concat();
        let moves = format!("tree,place,day\n{moves}Kept,Sill,{since}\n");
        for (kind, text) in [("site", site.as_str()), ("places", PLACES), ("trees", TREES), ("moves", &moves)]
        {
            let named = Kind::from_key(kind, "").unwrap();
            import(&mut store, &named, &format!("{kind}.csv"), text.as_bytes(), &Options::default()).unwrap();
        }
        let first = date(2012, 1, 1);
        let days: Vec<StationDay> = (0..=i64::from((until - first).get_days()))
            .map(|at| {
                let on = first + at.days();
                let south = if self.latitude < 0.0 { 182.6 } else { 0.0 };
                let day = at as f64;
                let year =
                    -((f64::from(on.day_of_year()) - 24.0 - south) * std::f64::consts::TAU / 365.25).cos();
                let mean =
                    self.mean + self.swing * year + 1.8 * (day / 6.0).sin() + 1.2 * (day / 401.0).sin();
                StationDay::of_extremes(on, mean - 3.5, mean + 3.5)
            })
            .collect();
        store.transact(&Act::Import("weather".into()), |change| change.add_station_days(&days)).unwrap();
        store
    }
}

fn on(store: &Store, day: Date) -> Whole {
    whole(&store.reader().unwrap(), day).unwrap()
}

fn of<'a>(whole: &'a Whole, key: &str) -> &'a TreeWhole {
    whole.tree(key).unwrap()
}

fn see(store: &mut Store, tree: &str, day: Date, leaf: Leaf) -> Result<(), FormError> {
    let (on, leaf) = (day.to_string(), leaf.key());
    let form = LeafForm { tree, day: &on, leaf, sureness: "sure", note: "", despite: "" };
    looks::leaves(store, form, day).map(drop)
}

fn look(store: &mut Store, tree: &str, day: Date, stage: Stage, despite: &str) -> Result<(), FormError> {
    let (on, stage) = (day.to_string(), stage.code().to_string());
    let form = LookForm { tree, day: &on, stage: &stage, sureness: "sure", note: "", despite };
    looks::look(store, form, day).map(drop)
}

fn water(whole: &Whole, tree: &TreeWhole) -> LeafState {
    let winter = Winter::holding(whole.today, grows::hemisphere(whole));
    grows::leaves(tree).on(winter.day_number(whole.today))
}

fn stands(whole: &Whole, tree: &TreeWhole) -> Stands {
    tree.told.as_ref().unwrap().stands(whole.ground.as_ref().unwrap().today)
}

#[test]
fn on_the_first_of_september_and_of_march_trees_in_full_leaf_are_in_leaf() {
    for climate in [LONDON, TOKYO, SOUTH] {
        let day = climate.on(date(2025, 9, 1));
        let whole = on(&climate.store(day), day);
        for key in ["maple", "beech", "elm", "privet", "kept"] {
            let tree = of(&whole, key);
            assert!(tree.in_leaf.today[Leaf::Full.rank()] > 0.95, "{key}: {:?}", tree.in_leaf);
            assert!(matches!(stands(&whole, tree), Stands::InLeaf(Leaf::Full, _)), "{key}");
            assert_eq!(water(&whole, tree), LeafState::Mature, "{key}");
            let facts = frost::facts(&whole, tree, day);
            assert!(facts.stage.unwrap() >= Stage::Unfolded, "{key}: {:?}", facts.stage);
            assert!(facts.above().unwrap().line.value.0 >= -2.0, "{key} keeps its leaf line");
            assert!(!tree.in_leaf.is_asked(whole.ground.as_ref().unwrap().today), "{key}");
        }
        let row = view::waking::waking(&whole).rows.into_iter().find(|row| row.key == "maple").unwrap();
        assert_eq!(row.leaf.unwrap().state, Leaf::Full);
    }
}

#[test]
fn on_the_fifth_of_november_and_of_may_trees_still_in_leaf_drink_as_such() {
    for climate in [LONDON, TOKYO, SOUTH] {
        let day = climate.on(date(2025, 11, 5));
        let whole = on(&climate.store(day), day);
        for key in ["maple", "beech"] {
            let tree = of(&whole, key);
            assert!(tree.in_leaf.on() > 0.5, "{key}: {:?}", tree.in_leaf);
            assert!(water(&whole, tree).share().value.likely >= 0.5, "{key}: {:?}", water(&whole, tree));
            let [colours, _, bare] = tree.in_leaf.turns.map(|it| it.unwrap());
            assert!(colours.middle < bare.middle && bare.late - bare.early >= 10, "{colours:?} {bare:?}");
        }
        let asked: Vec<String> = leaf::asked(&whole).into_iter().map(|it| it.key).collect();
        assert!(asked.contains(&"maple".to_string()) && !asked.contains(&"pine".to_string()), "{asked:?}");
    }
}

#[test]
fn in_midwinter_a_maple_is_bare_and_semi_evergreens_and_trees_kept_warm_are_in_leaf_until_someone_says_otherwise()
 {
    for climate in [LONDON, TOKYO, SOUTH] {
        let day = climate.on(date(2026, 1, 15));
        let mut store = climate.store(day);
        let before = on(&store, day);
        let maple = of(&before, "maple");
        assert!(maple.in_leaf.on() < 0.1, "{:?}", maple.in_leaf);
        assert_eq!(water(&before, maple), LeafState::Leafless);
        assert!(matches!(stands(&before, maple), Stands::Buds(Stage::Dormant, _)));
        for (key, keeps) in
            [("elm", Keeps::SemiEvergreen), ("privet", Keeps::SemiEvergreen), ("kept", Keeps::Warm)]
        {
            let tree = of(&before, key);
            assert_eq!((tree.in_leaf.keeps, tree.in_leaf.state()), (Some(keeps), Leaf::Full), "{key}");
            assert_ne!(water(&before, tree), LeafState::Leafless, "{key}");
            assert!(matches!(stands(&before, tree), Stands::InLeaf(Leaf::Full, _)), "{key}");
        }
        assert_eq!(water(&before, of(&before, "kept")), LeafState::Mature);
        for key in ["elm", "privet", "kept"] {
            see(&mut store, key, day, Leaf::Bare).unwrap();
        }
        let after = on(&store, day);
        for key in ["elm", "privet", "kept"] {
            let tree = of(&after, key);
            assert_eq!((tree.in_leaf.keeps, tree.in_leaf.state()), (None, Leaf::Bare), "{key}");
            // What was kept warm and is seen bare may swell there already: its water is that of a bare tree, asleep or waking.
            let bare = [LeafState::Leafless, LeafState::Swollen];
            assert!(
                water(&after, tree) == bare[0] || (key == "kept" && water(&after, tree) == bare[1]),
                "{key}"
            );
        }
    }
}

#[test]
fn a_tree_bought_in_leaf_from_a_warm_house_in_november_is_in_leaf_soft_and_hardened_by_steps() {
    // 10 November and 15 December in the north, 10 May and half a year on from 15 December at 37 degrees south.
    let days = [date(2025, 11, 10), date(2025, 12, 15)];
    for (climate, north) in [LONDON, SOUTH].into_iter().flat_map(|it| days.map(|day| (it, day))) {
        let bought = climate.on(north);
        let mut store = climate.store(bought);
        for (kind, text) in [
            (
                "trees",
                "name,taxon,confidence,since,worth,note\nNew,acer-palmatum,sure,,standing,\n".to_string(),
            ),
            ("moves", format!("tree,place,day\nNew,Bench,{bought}\n")),
        ] {
            let named = Kind::from_key(kind, "").unwrap();
            import(&mut store, &named, "new.csv", text.as_bytes(), &Options::default()).unwrap();
        }
        see(&mut store, "new", bought, Leaf::Full).unwrap();
        let whole = on(&store, bought);
        let (tree, neighbour) = (of(&whole, "new"), of(&whole, "maple"));
        assert_eq!(tree.in_leaf.keeps, Some(Keeps::OutOfStep), "{:?}", tree.in_leaf);
        assert!(tree.in_leaf.is_soft() && tree.in_leaf.turns[2].is_none());
        assert_eq!(frost::facts(&whole, tree, bought).stage, Some(Stage::Grown));
        assert!(frost::facts(&whole, tree, bought).roots().line.value.0 >= 0.0, "its roots are soft too");
        // Its neighbour's leaves go by the season, and are down by then.
        let is_bare = frost::facts(&whole, neighbour, bought).stage.is_some_and(|it| it <= Stage::Swelling);
        assert!(is_bare || north.month() == 11, "{:?}", neighbour.in_leaf);
        assert_eq!(water(&whole, tree), LeafState::Mature);
        let moving = verdicts::on(&whole, tree, Work::Move);
        assert!(moving.reasons.contains(&Reason::BySteps), "{moving:?}");
        assert!(verdicts::on(&whole, tree, Work::Repot).answer.is_against(), "no bench");
    }
}

#[test]
fn a_look_at_leaves_goes_to_frost_water_and_waking_alike_and_going_back_on_it_is_asked_about() {
    for climate in [LONDON, SOUTH] {
        let day = climate.on(date(2025, 11, 5));
        let mut store = climate.store(day + 1.days());
        see(&mut store, "maple", day, Leaf::Bare).unwrap();
        let whole = on(&store, day + 1.days());
        let tree = of(&whole, "maple");
        assert_eq!((tree.in_leaf.state(), water(&whole, tree)), (Leaf::Bare, LeafState::Leafless));
        assert!(matches!(stands(&whole, tree), Stands::Buds(Stage::Dormant, _)));
        assert!(frost::facts(&whole, tree, day).stage.unwrap() <= Stage::Swelling);
        assert_eq!(grows::leaves(tree).season(-54), 0.0, "its season is over");
        let back = see(&mut store, "maple", day + 1.days(), Leaf::Full);
        assert!(matches!(back, Err(FormError::Field { field: "leaves", .. })), "{back:?}");
        assert_eq!(store.reader().unwrap().leaf_looks().unwrap().len(), 1, "nothing was saved");
        see(&mut store, "beech", day, Leaf::Colouring).unwrap();
        see(&mut store, "beech", day + 1.days(), Leaf::Falling).unwrap();
        let whole = on(&store, day + 1.days());
        let beech = of(&whole, "beech");
        assert_eq!(beech.in_leaf.today[..2], [0.0, 0.0], "{:?}", beech.in_leaf);
        assert_eq!(water(&whole, beech), LeafState::Autumn);
    }
}

/// Bud looks of autumn that see leaves count for leaves, and no look of spring is gone back on without a question.
#[test]
fn looks_in_autumn_count_and_buds_that_go_back_are_asked_about() {
    for climate in [LONDON, SOUTH] {
        let late = climate.on(date(2025, 12, 10));
        let mut store = climate.store(climate.on(date(2026, 4, 20)));
        look(&mut store, "maple", late, Stage::Grown, "").unwrap();
        let whole = on(&store, late);
        assert_eq!(of(&whole, "maple").in_leaf.state(), Leaf::Full, "{:?}", of(&whole, "maple").in_leaf);
        let spring = climate.on(date(2026, 4, 19));
        look(&mut store, "sister", spring, Stage::Grown, "").unwrap();
        let next = spring + 1.days();
        let back = look(&mut store, "sister", next, Stage::Dormant, "");
        assert!(matches!(back, Err(FormError::Field { field: "stage", .. })), "{back:?}");
        let whole = on(&store, next);
        let told = of(&whole, "sister").told.as_ref().unwrap();
        assert_eq!(told.forecast.stage_today(), Stage::Grown);
        look(&mut store, "sister", next, Stage::Dormant, "the first was another tree").unwrap();
        let looks = store.reader().unwrap().looks().unwrap();
        assert!(
            looks.iter().any(|(_, it)| it.note == "though asked: the first was another tree"),
            "{looks:?}"
        );
    }
}

/// What a close look saw stands the day after, whatever the figures say, and leaves a spread.
#[test]
fn a_sure_look_is_never_overruled_the_next_day_and_an_absurd_one_leaves_a_spread() {
    for climate in [LONDON, SOUTH] {
        let mut widths = Vec::new();
        for (north, stage) in [
            (date(2026, 1, 20), Stage::Full),
            (date(2026, 1, 20), Stage::Grown),
            (date(2026, 3, 10), Stage::Dormant),
            (date(2026, 3, 10), Stage::Breaking),
            (date(2026, 4, 10), Stage::Swelling),
            (date(2026, 5, 10), Stage::Dormant),
            (date(2026, 5, 10), Stage::Full),
        ] {
            let day = climate.on(north);
            let next = day + 1.days();
            let mut store = climate.store(next);
            look(&mut store, "maple", day, stage, "").unwrap();
            let whole = on(&store, next);
            let told = of(&whole, "maple").told.as_ref().unwrap();
            assert_eq!(told.forecast.stage_today(), stage, "{north} {stage}: {:?}", told.forecast.today);
            let behind: f64 = told.forecast.today[..stage.rank()].iter().sum();
            assert_eq!(behind, 0.0, "{north} {stage}");
            if let Some(after) = stage.next().and_then(|next| told.forecast.of(next)) {
                widths.push((north, stage, after.late - after.early));
            }
        }
        assert!(widths.len() > 4 && widths.iter().all(|(.., days)| *days > 4), "{widths:?}");
    }
}

#[test]
fn a_look_teaches_its_sister_less_than_the_tree_and_the_sisters_own_look_stands_above_it() {
    for climate in [LONDON, SOUTH] {
        let day = climate.on(date(2026, 3, 1));
        let opens = |store: &Store, key: &str| {
            let whole = on(store, day);
            of(&whole, key).told.as_ref().unwrap().forecast.window().unwrap().opens.middle
        };
        let mut store = climate.store(day);
        let before = [opens(&store, "maple"), opens(&store, "sister"), opens(&store, "kept")];
        look(&mut store, "maple", day, Stage::Full, "").unwrap();
        let after = [opens(&store, "maple"), opens(&store, "sister"), opens(&store, "kept")];
        let [own, sister] = [before[0] - after[0], before[1] - after[1]];
        assert!(own > 4, "the tree itself moves: {before:?} {after:?}");
        assert!(
            sister > 0 && sister < own,
            "its sister moves the same way, by less: of a kind that nobody measured a look says as much as of the tree: {own} {sister}"
        );
        assert!(
            (0..own).contains(&(before[2] - after[2])),
            "a tree of its kind elsewhere too: {before:?} {after:?}"
        );
        look(&mut store, "sister", day, Stage::Dormant, "").unwrap();
        assert!(opens(&store, "sister") > after[1], "its own look stands above what its sister taught");
    }
}
