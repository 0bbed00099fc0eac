//! The pages of the shelf elsewhere and on other days: half the world south, in inches, and on every ninth day of the story.

mod demo;

use demo::{
    demo, demo_with, metric,
    south::{SOUTHWARD, south},
};
use jiff::{
    ToSpan,
    civil::{Date, date},
};
use state::{reason::Reason, work::Work};
use store::store::Store;
use view::{
    pots::{Asked, pairs, pots, record, share::share},
    repots::{RepotsPage, bench::bench, case::window, goods::soil, repots},
    verdicts::{self, Tag},
    whole::{Whole, whole},
};

const TODAY: Date = Date::constant(2026, 3, 28);

fn on(store: &Store, day: Date) -> Whole {
    whole(&store.reader().unwrap(), day).unwrap()
}

/// The demo without its loggers, which the south lacks too.
fn without_loggers() -> Store {
    demo_with(|name, text| if name.starts_with("logger") { String::new() } else { text })
}

/// The south: at 37° south the season is that of the spring to come, its windows lie from late winter to early summer, and half a year on the
/// same trees go as in the north.
#[test]
fn at_thirty_seven_south_the_season_and_its_windows_are_the_souths() {
    let (north, south, mut dates) = (without_loggers(), south(), Vec::new());
    for (day, season) in [(date(2026, 1, 17), 2025), (TODAY, 2025), (date(2026, 9, 1), 2026)] {
        let there = day + SOUTHWARD.days();
        let (here, told) = (on(&north, day), on(&south, there));
        let (list, page) = (repots(&told), share(&told, None));
        assert_eq!([list.season, page.season, soil(&told).season], [season; 3], "{there}");
        assert_eq!(repots(&here).season, season + 1, "{day}");
        let names = |list: &RepotsPage| {
            let mut names: Vec<String> = list.go.iter().map(|row| row.key.clone()).collect();
            names.sort();
            names
        };
        assert_eq!(names(&list), names(&repots(&here)), "{there}");
        assert_eq!(page.rows.len() + page.missing.len(), list.go.len(), "{there}");
        let (mut apart, mut shown, mut dated) = (Vec::new(), 0, 0);
        for tree in &told.trees {
            let key = &tree.tree.key;
            let own = window(&told, tree);
            let other = here.tree(key).and_then(|tree| window(&here, tree));
            let (Some((opens, closes)), Some((north, _))) = (own, other) else { continue };
            assert!(opens <= closes, "{there} {key}");
            apart.push((opens - (north + SOUTHWARD.days())).get_days());
            let rows = list.go.iter().chain(&list.late).chain(&list.watch).chain(&list.leave);
            let row = rows.clone().find(|row| row.key == *key).unwrap();
            let said = |day: Date| row.ready.contains(&format!("about {} {}", day.day(), day.strftime("%b")));
            let is_told = match verdicts::roots(&told, tree) {
                Tag::NotYet | Tag::GetReady => row.ready.contains("buds full about ") && said(opens),
                // A tree that goes by its months is told those.
                Tag::Repot | Tag::WithCare => {
                    said(closes)
                        || ["months", "second window", "nights"].iter().any(|it| row.ready.contains(it))
                }
                // Only a look tells, or a place is too cold, or it is over: what is told then is when to look, or to leave it.
                _ => !row.ready.is_empty(),
            };
            assert!(is_told, "{there} {key}, {opens} to {closes}, but {}", row.ready);
            let by_months = |it: &Reason| {
                matches!(
                    it,
                    Reason::InSeason { .. } | Reason::OutOfSeason { .. } | Reason::SecondWindow { .. }
                )
            };
            let verdict = verdicts::on(&told, tree, Work::Repot);
            let is_dated = said(opens) || said(closes) || verdict.reasons.iter().any(by_months);
            dated += usize::from(is_dated);
            shown += 1;
        }
        dates.push(dated);
        // Ten degrees of latitude change the length of the day, the weather is the same: every tree within a week.
        assert!(apart.iter().all(|days| days.abs() <= 7) && shown >= 35, "{there}: {shown} shown, {apart:?}");
    }
    // Before the windows and after the season has turned nearly every tree has its day told.
    assert!(dates[0] >= 35 && dates[2] >= 35, "{dates:?}");
    // The season turns in March, as it turns in September in the north.
    let years = [date(2026, 2, 28), date(2026, 3, 1)].map(|day| repots(&on(&south, day)).season);
    assert_eq!(years, [2025, 2026]);
}

/// Inches and gallons for those who read them: nothing metric is left on the pages of pots.
#[test]
fn nothing_metric_is_left_on_the_pages_of_pots() {
    let told = |units: &'static str| {
        let store = demo_with(|name, text| match name {
            "site.csv" => text.replace("metric", units),
            // Names of pots carry centimetres; those are the grower's own words.
            _ => text.replace(" cm", ""),
        });
        let told = on(&store, TODAY);
        let mut texts =
            vec![format!("{:?}", pots(&told, Asked::default())), format!("{:?}", share(&told, None))];
        texts.extend(told.pots.iter().map(|pot| format!("{:?}", record::record(&told, &pot.key))));
        texts.extend(told.trees.iter().map(|tree| format!("{:?}", pairs::pairs(&told, tree))));
        texts.iter().map(|text| metric(text)).collect::<Vec<_>>()
    };
    let (left, there) = (told("imperial"), told("metric"));
    assert!(left.iter().all(Vec::is_empty), "{left:#?}");
    // The same pages in metric units are full of them, so the reading finds what it looks for.
    assert!(there.iter().filter(|found| !found.is_empty()).count() > 90, "{there:?}");
}

/// Every page of the shelf on every ninth day of the story: none fails, none loses a tree, nothing is left in its words that no grower would read.
#[test]
fn every_ninth_day_of_the_story_every_page_is_told() {
    let store = demo();
    let (mut day, mut days, mut benches) = (date(2023, 10, 1), 0, 0);
    while day <= date(2026, 11, 24) {
        let told = on(&store, day);
        let list = pots(&told, Asked::default());
        assert!(list.pots.len() == list.all && list.not_understood.is_none(), "{day}");
        let (page, goods, plan) = (share(&told, None), soil(&told), repots(&told));
        assert!(page.no_plan.is_none(), "{day}: {:?}", page.no_plan);
        let all = plan.go.len() + plan.late.len() + plan.watch.len() + plan.leave.len() + plan.untold.len();
        assert_eq!(all, told.trees.len(), "{day}");
        assert_eq!(plan.go.len(), page.rows.len() + page.missing.len(), "{day}");
        assert_eq!(plan.go.len(), goods.jobs.len() + goods.untold.len(), "{day}");
        let mut texts = vec![page.text(), goods.text(), plan.text()];
        for tree in &told.trees {
            let bench = bench(&told, tree);
            assert!(bench.untold.is_none(), "{day} {}: {:?}", bench.name, bench.untold);
            let pairs = pairs::pairs(&told, tree);
            assert!(
                pairs.missing.is_empty() != pairs.best.is_empty() || pairs.more == 0,
                "{day} {}",
                bench.name
            );
            texts.push(bench.text());
            benches += 1;
        }
        for text in &texts {
            for wrong in ["NaN", "inf ", "-0.00 L", "Some(", "None"] {
                assert!(!text.contains(wrong), "{day}: {wrong} in {text}");
            }
        }
        (day, days) = (day + 9.days(), days + 1);
    }
    assert!(days == 128 && benches == 128 * 42, "{days} {benches}");
}
