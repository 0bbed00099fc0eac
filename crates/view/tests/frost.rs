//! Frost on small collections, north and south of the line: who is carried when room is short, each night of a forecast, cut roots, guessed
//! names, and where a tree stands after root work. Decisions A10, A33, A41 and story U07.

mod demo;
mod small;

use dormancy::frost::RootAge;
use jiff::{ToSpan, civil::date};
use season::repot::stand::Stand;
use small::{Half, Small, Tree};
use view::{
    frost, stand,
    tonight::{Row, Tonight},
};

fn all(page: &Tonight) -> impl Iterator<Item = &Row> {
    [&page.movers, &page.protect, &page.watch, &page.stay].into_iter().flatten()
}

fn row<'a>(page: &'a Tonight, key: &str) -> &'a Row {
    all(page).find(|row| row.key == key).unwrap_or_else(|| panic!("{key}: {}", page.text()))
}

/// A bench, a dark shed for twelve, and a cool porch for eight with its pane to the sun.
fn house(half: Half) -> String {
    let sunny = if half == Half::North { "south" } else { "north" };
    format!("Bench,open-bench,,,,60\nShed,cold-room,,,,12\nPorch,cool-sill,{sunny},,,8\n")
}

/// Thirty-eight trees on a bench early in April, in the order in which they matter.
fn thirty_eight() -> Vec<Tree> {
    let mut trees = Vec::new();
    let mut add = |count: usize,
                   name: &str,
                   taxon: &'static str,
                   stage: u8,
                   worth: &'static str,
                   cut: bool| {
        for at in 1..=count {
            let cut = cut.then(|| date(2026, 3, 24));
            let stage = (stage < 90).then_some(stage);
            trees.push(Tree { name: format!("{name} {at}"), taxon, stage, worth, cut, ..Tree::default() });
        }
    };
    add(6, "Fresh hornbeam", "carpinus-betulus", 3, "standing", true);
    add(6, "Fresh maple", "acer-palmatum", 3, "standing", true);
    add(2, "Gardenia", "gardenia-jasminoides", 99, "standing", false);
    add(8, "Leafy larch", "larix-kaempferi", 11, "show", false);
    add(4, "Training larch", "larix-kaempferi", 11, "training", false);
    add(4, "Full elm", "ulmus-minor", 3, "standing", false);
    add(4, "Swelling beech", "fagus-sylvatica", 1, "standing", false);
    add(4, "Pine", "pinus-sylvestris", 0, "standing", false);
    trees
}

/// U07: the station says 0 °C, the bench is 2.5 °C colder by night on record, 38 trees stand out and 20 have shelter.
#[test]
fn u07_of_thirty_eight_the_cut_the_tender_and_the_shown_in_leaf_go_in() {
    for half in Half::BOTH {
        let day = half.day(date(2026, 4, 3));
        let trees = thirty_eight();
        assert_eq!(trees.len(), 38);
        let mut small = Small::new(half, &house(half), &trees, day);
        small.colder_by_night("bench", 2.5, 14);
        small.foretell(day, &[(2.0, 9.0), (2.0, 9.0), (0.0, 9.0), (5.0, 12.0)]);
        let page = small.tonight(day);
        let bench = page.nights[0].coldest;
        assert!((-3.1..=-1.9).contains(&bench), "{half:?}: the bench goes to {bench}");
        let carried = |name: &str| page.movers.iter().filter(|row| row.name.starts_with(name)).count();
        assert_eq!(page.movers.len(), 20, "{half:?}: {}", page.text());
        assert_eq!(["Fresh", "Gardenia", "Leafy"].map(carried), [12, 2, 6], "{half:?}: {}", page.text());
        // Two of the larches find no room: fleece. The others stay, each with its line.
        assert_eq!(page.protect.len(), 2);
        assert!(
            page.protect.iter().all(|row| row.name.starts_with("Leafy") && row.protect.contains("fleece"))
        );
        let stays = page.stay.iter().chain(&page.watch);
        assert!(stays.clone().all(|row| row.figures.chance < 0.8), "{half:?}");
        assert_eq!(stays.filter(|row| row.name.starts_with("Swelling")).count(), 4);
        for (place, room) in [("shed", 12), ("porch", 8)] {
            let there = page.movers.iter().filter(|row| row.to.as_ref().unwrap().1 == place).count();
            assert_eq!(there, room, "{half:?}: {place}");
        }
        assert!(page.movers.iter().all(|row| row.still.is_none()), "{half:?}: {}", page.text());
        let turns: Vec<usize> = page.movers.iter().map(|row| row.turn).collect();
        assert_eq!(turns, (1..=20).collect::<Vec<_>>());
    }
}

/// A10: of a forecast of a week each night has its trees at risk, known before three in the afternoon of its day.
#[test]
fn a10_every_night_of_the_forecast_names_who_is_at_risk_and_when_each_is_first_moved() {
    for half in Half::BOTH {
        let day = half.day(date(2026, 4, 3));
        let tree =
            |name: &str, taxon, stage, cut| Tree { name: name.into(), taxon, stage, cut, ..Tree::default() };
        let trees = [
            tree("Cut maple", "acer-palmatum", Some(3), Some(date(2026, 3, 24))),
            tree("Leafy larch", "larix-kaempferi", Some(11), None),
            tree("Shut beech", "fagus-sylvatica", Some(0), None),
        ];
        let mut small = Small::new(half, &house(half), &trees, day);
        let nights = [
            (6.0, 12.0),
            (6.0, 12.0),
            (6.0, 12.0),
            (6.0, 11.0),
            (-1.0, 9.0),
            (8.0, 13.0),
            (-6.0, 7.0),
            (4.0, 9.0),
        ];
        small.foretell(day, &nights);
        let page = small.tonight(day);
        assert!(page.movers.is_empty() && page.protect.is_empty(), "{half:?}: {}", page.text());
        let told = |at: usize| {
            let night = &page.nights[at];
            let of = |trees: &[(String, String)]| trees.iter().map(|it| it.0.clone()).collect::<Vec<_>>();
            (night.evening, of(&night.at_risk), of(&night.first))
        };
        assert_eq!(page.nights.len(), 6, "{half:?}: {}", page.text());
        for calm in [0, 1, 3] {
            assert_eq!(told(calm).1, Vec::<String>::new(), "{half:?}: night {calm}");
        }
        let cut = vec!["cut-maple".to_string()];
        assert_eq!(told(2), (day + 2.days(), cut.clone(), cut), "{half:?}");
        let (evening, at_risk, first) = told(4);
        assert_eq!(evening, day + 4.days());
        assert_eq!(at_risk, ["cut-maple", "leafy-larch"], "{half:?}");
        assert_eq!(first, ["leafy-larch"], "{half:?}");
        let zone = jiff::tz::TimeZone::get(&small.whole(day).site.unwrap().zone).unwrap();
        for night in &page.nights {
            assert_eq!(zone.to_datetime(night.move_by), night.evening.at(15, 0, 0, 0));
        }
    }
}

/// A33: the line of cut roots on one winter's night, by the day of the cut; it is back at the hardy line in the second summer.
#[test]
fn a33_cut_roots_come_back_by_steps_and_are_raised_to_the_next_summer() {
    let tree =
        |name: &str, cut| Tree { name: name.into(), taxon: "crataegus-monogyna", cut, ..Tree::default() };
    let trees = [
        tree("Old", None),
        tree("January", Some(date(2026, 1, 10))),
        tree("October", Some(date(2025, 10, 4))),
        tree("Spring", Some(date(2025, 3, 20))),
        tree("Spring before", Some(date(2024, 3, 20))),
    ];
    for half in Half::BOTH {
        let ages = |day| {
            let small = Small::new(half, &house(half), &trees, half.day(day));
            let whole = small.whole(half.day(day));
            let facts = |key: &str| frost::facts(&whole, whole.tree(key).unwrap(), whole.today);
            ["old", "january", "october", "spring", "spring-before"]
                .map(facts)
                .map(|it| (it.roots, it.roots().line.value.0))
        };
        use RootAge::{FirstWinter, Fresh, Old, Settling};
        let winter = [(Old, -7.0), (Fresh, 1.0), (Settling, 0.0), (FirstWinter, -2.0), (Old, -7.0)];
        assert_eq!(ages(date(2026, 2, 3)), winter, "{half:?}");
        // Late April: all that is raised is raised still, and woken roots do not freeze through.
        let april = ages(date(2026, 4, 25)).map(|it| it.0);
        assert_eq!(april, [Old, Settling, FirstWinter, FirstWinter, Old], "{half:?}");
    }
}

/// The stage is the tenderer of the stage seen and the furthest reached by one chance in ten, and falls behind neither.
#[test]
fn the_line_goes_by_the_spread_of_stages_and_by_what_was_seen() {
    for half in Half::BOTH {
        let day = half.day(date(2026, 4, 10));
        let seen = Tree { name: "Seen".into(), stage: Some(10), ..Tree::default() };
        let never = Tree { name: "Never looked at".into(), ..Tree::default() };
        let small = Small::new(half, &house(half), &[seen, never], day);
        let whole = small.whole(day);
        let stage = |key: &str| frost::facts(&whole, whole.tree(key).unwrap(), day).stage.unwrap();
        assert!(stage("seen") >= measure::stage::Stage::Separating, "{half:?}");
        let tree = whole.tree("never-looked-at").unwrap();
        let told = &tree.told.as_ref().unwrap().forecast;
        let further: f64 = told.today[stage("never-looked-at").rank()..].iter().sum();
        assert!(
            further >= 0.10 - 1e-9 && stage("never-looked-at") >= told.stage_today(),
            "{half:?}: {told:?}"
        );
        // Weeks on, the line has moved with the buds that may be out by then.
        let later = frost::facts(&whole, tree, day + 14.days()).stage.unwrap();
        assert!(later > stage("never-looked-at"), "{half:?}: {later}");
    }
}

/// The only warm sill goes to the tree that dies without it, and the hardy ones never go there.
#[test]
fn the_warm_sill_is_for_the_fig() {
    let trees = [
        Tree { name: "Juniper".into(), taxon: "juniperus-chinensis", worth: "show", ..Tree::default() },
        Tree { name: "Elm".into(), taxon: "ulmus-minor", worth: "show", ..Tree::default() },
        Tree { name: "Fig".into(), taxon: "ficus-microcarpa", worth: "training", ..Tree::default() },
        Tree { name: "Second fig".into(), taxon: "ficus-microcarpa", ..Tree::default() },
    ];
    let places = "Bench,open-bench,,,,60\nFrame,cold-frame,,,,9\nKitchen,warm-sill,south,,,1\n";
    for half in Half::BOTH {
        let day = half.day(date(2026, 1, 20));
        let mut small = Small::new(half, places, &trees, day);
        small.foretell(day, &[(-9.0, -3.0), (-10.0, -4.0), (-13.0, -4.0), (-8.0, -2.0)]);
        let page = small.tonight(day);
        let to = |key: &str| row(&page, key).to.as_ref().map(|to| to.1.as_str());
        assert_eq!(to("second-fig"), Some("kitchen"), "{half:?}: {}", page.text());
        assert_eq!(to("fig"), None, "a frame in frost is no place for it: {}", page.text());
        assert!(row(&page, "fig").protect.contains("heated room"), "{half:?}");
        assert!(
            to("juniper") != Some("kitchen") && to("elm") != Some("kitchen"),
            "{half:?}: {}",
            page.text()
        );
    }
}

/// After root work: a larch, a pine, a thorn and a hornbeam on the bench, with a shed, a porch or a dim landing, and a kitchen.
#[test]
fn after_root_work_no_hardy_tree_is_sent_to_a_heated_room() {
    let keys = ["larix-kaempferi", "pinus-sylvestris", "crataegus-monogyna", "carpinus-betulus"];
    let trees =
        keys.map(|taxon| Tree { name: taxon.replace('-', " "), taxon, stage: Some(3), ..Tree::default() });
    let kitchen = "Kitchen,warm-sill,south,,,4\n";
    for half in Half::BOTH {
        let day = half.day(date(2026, 3, 15));
        let after = |places: String| {
            let small = Small::new(half, &places, &trees, day);
            let whole = small.whole(day);
            keys.map(|key| stand::after(&whole, whole.tree(key).unwrap()).unwrap())
        };
        for told in after(house(half) + kitchen) {
            assert!(matches!(told, Stand::Goes { to: 2, .. }), "{half:?}: the porch, {told:?}");
        }
        let shade = if half == Half::North { "north" } else { "south" };
        let dim = format!("Bench,open-bench,,,,60\nLanding,cool-sill,{shade},,,12\n");
        for told in after(format!("{dim}{kitchen}")) {
            assert_eq!(told, Stand::NightsIn { to: 1 }, "{half:?}");
        }
        for told in after(format!("Bench,open-bench,,,,60\n{kitchen}")) {
            assert!(matches!(told, Stand::Protect(_)), "{half:?}: {told:?}");
        }
        // In early summer the bench itself serves.
        let june = half.day(date(2026, 6, 10));
        let small = Small::new(half, &(house(half) + kitchen), &trees, june);
        let whole = small.whole(june);
        for key in keys {
            assert_eq!(stand::after(&whole, whole.tree(key).unwrap()), Some(Stand::Stays), "{half:?}: {key}");
        }
    }
}

/// A41: a guess takes the tenderest of the names it may have, and of its whole kind only while none is named.
#[test]
fn a41_a_name_that_is_a_guess_takes_the_tenderest_of_its_candidates() {
    let elm = |name: &str, confidence, candidates| Tree {
        name: name.into(),
        taxon: "ulmus-minor",
        confidence,
        candidates,
        ..Tree::default()
    };
    let trees = [
        elm("Sure", "sure", "ulmus-parvifolia"),
        elm("Guess", "guess", ""),
        elm("One of two", "guess", "zelkova-serrata"),
        elm("One of three", "likely", "zelkova-serrata; ulmus-parvifolia"),
        elm("Or a fig", "guess", "ficus-microcarpa"),
    ];
    for half in Half::BOTH {
        let day = half.day(date(2026, 1, 20));
        let mut small = Small::new(half, &house(half), &trees, day);
        small.foretell(day, &[(-5.0, 1.0), (-5.0, 1.0), (-9.0, -1.0), (-6.0, -1.0)]);
        let page = small.tonight(day);
        let lines = ["sure", "guess", "one-of-two", "one-of-three", "or-a-fig"]
            .map(|key| row(&page, key).figures.root_line);
        assert_eq!(lines, [-7.0, -3.0, -5.0, -4.0, 12.0], "{half:?}");
        let chances: Vec<f64> =
            ["sure", "one-of-two", "one-of-three"].map(|key| row(&page, key).figures.chance).into();
        assert!(chances.is_sorted() && chances[0] < chances[2], "{half:?}: {chances:?}");
    }
}
