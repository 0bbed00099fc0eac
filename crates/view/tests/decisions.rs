//! The costly decisions of the trade, each with the test it must pass: A01, A02, A09, A11, and stories U01, U04, U08.

mod demo;

use std::{fs, path::Path};

use demo::{demo, demo_with};
use dormancy::{forecast::Spread, wake::Release};
use intake::import::{Kind, Options, import};
use jiff::civil::{Date, date};
use measure::stage::Stage;
use season::{advice::InStore, repot::stand::Stand};
use state::{
    reason::{ByKind, Reason},
    work::Work,
};
use store::store::Store;
use view::{
    stand,
    today::today,
    tree::{TreePage, tree},
    trial::Try,
    verdicts::{self, Tag},
    whole::{TreeWhole, Whole, whole},
};

fn on(store: &Store, day: Date) -> Whole {
    whole(&store.reader().unwrap(), day).unwrap()
}

/// A tree's page on the first round of the day.
fn page_of(whole: &Whole, key: &str, attempt: Option<Try<'_>>) -> Option<TreePage> {
    tree(whole, key, attempt, 0)
}

fn of<'a>(whole: &'a Whole, key: &str) -> &'a TreeWhole {
    whole.trees.iter().find(|tree| tree.tree.key == key).unwrap()
}

/// A01: for a tree at B1 in a 3 °C room with no warm place free, the tool says wait, names the reason and the
/// earliest good date.
#[test]
fn a01_swelling_in_the_cold_room_with_no_warm_place_says_wait_why_and_until_when() {
    let day = date(2026, 3, 1);
    let no_sills = demo_with(|name, text| match name {
        "places.csv" => {
            text.lines().filter(|line| !line.contains("sill")).map(|line| format!("{line}\n")).collect()
        }
        "moves.csv" => text.replace("South sill", "Cold room").replace("Kitchen sill", "Cold room"),
        "looks.csv" => text + "Old trident,2026-03-01,01,sure,\n",
        "meant.csv" => text + "Old trident,2026,yes,,,,\n",
        "logger_south_sill.csv" => String::new(),
        _ => text,
    });
    let whole = on(&no_sills, day);
    let it = of(&whole, "old-trident");
    let verdict = verdicts::on(&whole, it, Work::Repot);
    let until = verdict.main().find_map(|found| match found {
        Reason::NoMildPlace { from } => from,
        _ => None,
    });
    let until =
        whole.ground.as_ref().unwrap().winter.day_number(until.unwrap_or_else(|| panic!("{verdict:?}")));
    let ground = whole.ground.as_ref().unwrap();
    assert!(until > ground.today + 7 && until < 150, "until day {until}");
    let row = page_of(&whole, "old-trident", None).unwrap().row.unwrap();
    assert_eq!(row.advice, "wait");
    assert!(row.why.contains("cold and wet") && row.why.contains("earliest good day about"), "{}", row.why);
}

/// When a tree's green tips came, as bounded by its own looks: after the last look before, at the first look past.
fn seen_green(whole: &Whole, key: &str, spring: i16) -> Option<(i32, i32)> {
    let winter = whole.ground.as_ref().unwrap().winter;
    let looks: Vec<(i32, Stage)> = of(whole, key)
        .looks
        .iter()
        .filter(|(_, look)| look.day.year() == spring)
        .map(|(_, look)| (winter.day_number(look.day), look.stage))
        .collect();
    let past = looks.iter().position(|(_, stage)| *stage >= Stage::GreenTip)?;
    Some((looks.get(past.checked_sub(1)?)?.0, looks[past].0))
}

fn green(tree: &TreeWhole) -> Option<Spread> {
    tree.told.as_ref().ok()?.forecast.of(Stage::GreenTip)
}

/// A02: the date of B4 is missed by less than four days in the median, on the replay of the demo's season, told
/// five days before.
///
/// The demo's buds follow our own kind of model with paces of their own, so this proves the learning and not the
/// biology.
#[test]
fn a02_green_tips_are_told_five_days_ahead_within_four_days_in_the_median() {
    let store = demo();
    let after = on(&store, date(2026, 7, 1));
    let (mut errors, mut held) = (Vec::new(), 0);
    for it in &after.trees {
        let key = &it.tree.key;
        let Some((before, at)) = seen_green(&after, key, 2026) else { continue };
        if at - before > 12 {
            continue;
        }
        let issue = after.ground.as_ref().unwrap().winter.date((before + at) / 2 - 5);
        let Some(told) = green(of(&on(&store, issue), key)) else { continue };
        let miss = if told.middle <= before { before + 1 - told.middle } else { (told.middle - at).max(0) };
        errors.push(miss);
        held += usize::from(told.early <= at && told.late > before);
    }
    errors.sort_unstable();
    println!("{} trees, misses {errors:?}, {held} inside the 80 % spread", errors.len());
    assert!(errors.len() >= 15, "only {} trees could be replayed", errors.len());
    assert!(errors[errors.len() / 2] < 4, "{errors:?}");
    assert!(held * 10 >= errors.len() * 7, "{held} of {}", errors.len());
}

/// A09: the move warns with the cold short and the date met.
#[test]
fn a09_a_move_before_the_cold_is_met_warns_with_the_cold_short_and_the_date() {
    let store = demo();
    let day = date(2025, 12, 1);
    let whole = on(&store, day);
    let attempt = Try { place: "kitchen-sill", day: date(2025, 12, 3) };
    let trial = page_of(&whole, "red-lantern", Some(attempt)).unwrap().trial.unwrap();
    assert!(trial.cold_short);
    assert!(trial.cold.contains("chill portions still missing"), "{}", trial.cold);
    assert!(trial.cold.contains("met about") || trial.cold.contains("not met"), "{}", trial.cold);
    let late = Try { place: "kitchen-sill", day: date(2026, 2, 20) };
    let trial = page_of(&on(&store, date(2026, 2, 18)), "red-lantern", Some(late)).unwrap().trial.unwrap();
    assert!(!trial.cold_short, "{}", trial.cold);
}

/// A11: a stored tree at B3 (full buds) is shown at the top until it is moved.
#[test]
fn a11_a_stored_tree_with_full_buds_stands_at_the_top_until_it_is_moved() {
    let day = date(2026, 3, 10);
    let full = demo_with(|name, text| match name {
        "looks.csv" => text + "Old trident,2026-03-10,03,sure,\n",
        _ => text,
    });
    let told = on(&full, day);
    assert_eq!(of(&told, "old-trident").in_store, InStore::Opening(Stage::Full));
    let page = today(&told);
    assert!(page.in_store.iter().any(|row| row.key == "old-trident"));
    let text = page.text();
    let top = text.lines().find(|line| line.starts_with("  ")).unwrap();
    assert!(page.in_store.iter().any(|row| top.contains(&row.name)), "{text}");
    let moved = demo_with(|name, text| match name {
        "looks.csv" => text + "Old trident,2026-03-10,03,sure,\n",
        "moves.csv" => text + "Old trident,South sill,2026-03-10\n",
        _ => text,
    });
    assert!(!today(&on(&moved, day)).in_store.iter().any(|row| row.key == "old-trident"));
}

/// U01: a night with the door ajar adds almost no cold, sets none back, and is no cause for alarm.
#[test]
fn u01_the_night_the_door_stood_ajar_cost_no_cold() {
    let store = demo();
    let portions = |day| of(&on(&store, day), "red-lantern").told.clone().unwrap().portions;
    let (before, after) = (portions(date(2026, 1, 4)), portions(date(2026, 1, 7)));
    let gained = after - before;
    assert!(
        (1.4..=2.6).contains(&gained),
        "{gained} portions in three days, one night of fourteen hours lost"
    );
    let whole = on(&store, date(2026, 1, 7));
    // Plums that their own cold has released may stir in the store in any January: they are no cause of that night.
    let by_the_year =
        |it: &&TreeWhole| it.told.as_ref().is_ok_and(|told| told.needs.wake.release == Release::Day);
    for tree in whole.trees.iter().filter(by_the_year) {
        assert_eq!(tree.in_store, InStore::Fine, "{}", tree.tree.key);
    }
}

/// U04: what holding in the coldest place buys, in days.
#[test]
fn u04_holding_a_larch_in_the_cold_room_buys_days() {
    let page = page_of(&on(&demo(), date(2026, 3, 18)), "lone-larch", None).unwrap();
    let room = page.effects.iter().find(|effect| effect.key == "cold-room").unwrap();
    assert!(room.shift.contains("later") || room.shift.contains("no window"), "{room:?}");
    let sill = page.effects.iter().find(|effect| effect.key == "kitchen-sill").unwrap();
    assert!(sill.shift.contains("sooner"), "{sill:?}");
}

/// U08: beech under short days sleeps beside an opened hornbeam, and the page says why.
#[test]
fn u08_a_beech_indoors_is_told_to_need_long_days() {
    let page = page_of(&on(&demo(), date(2026, 3, 14)), "sleeping-beech", None).unwrap();
    assert!(page.caveats.iter().any(|caveat| caveat.contains("long days")), "{:?}", page.caveats);
    let hornbeam = page_of(&on(&demo(), date(2026, 3, 14)), "hornbeam-grove", None).unwrap();
    assert!(!hornbeam.caveats.iter().any(|caveat| caveat.contains("long days")));
}

/// Beech has a published model beside ours: both days stand on the page, the forecast keeps its own.
#[test]
fn a_beech_is_told_by_menzels_table_too_and_the_japanese_beech_is_not() {
    let store = demo();
    let told = on(&store, date(2026, 3, 14));
    let page = page_of(&told, "grey-beech", None).unwrap();
    let second = page.second.expect("a second opinion");
    println!("{}. {}", second.words, second.standing);
    assert!(
        second.words.starts_with("Menzel's table (1997) for Fagus sylvatica, fitted to trees in the ground")
    );
    assert!(second.standing.contains("vegperiod 0.4.0"), "{}", second.standing);
    let it = of(&told, "grey-beech").told.as_ref().unwrap();
    let (theirs, ours) = (it.second.unwrap().leaves.unwrap(), it.forecast.of(Stage::Unfolded).unwrap());
    assert!((75..=160).contains(&theirs.middle), "{theirs:?}");
    let apart = (theirs.middle - ours.middle).abs();
    assert!(
        apart > 0
            && second.words.ends_with(&format!("{apart} day{} apart", if apart == 1 { "" } else { "s" }))
    );
    for other in ["white-beech", "hornbeam-grove"] {
        assert_eq!(page_of(&told, other, None).unwrap().second, None);
    }
}

/// Dates keep their order, chances add up, and advice agrees with its own dates, on every tenth day of two years.
#[test]
fn every_answer_agrees_with_itself_the_year_round() {
    let store = demo();
    let mut told_trees = 0;
    for week in 0..73 {
        let whole = on(&store, date(2024, 11, 1) + jiff::Span::new().days(week * 10));
        let ground = whole.ground.as_ref().unwrap();
        for it in &whole.trees {
            let Ok(told) = &it.told else { continue };
            told_trees += 1;
            let name = format!("{} on {}", it.tree.key, whole.today);
            let sum: f64 = told.forecast.today.iter().sum();
            assert!((sum - 1.0).abs() < 1e-6, "{name}: chances add up to {sum}");
            let spreads: Vec<Spread> =
                told.forecast.stages.iter().filter_map(|(_, spread)| *spread).collect();
            for spread in &spreads {
                assert!(spread.early <= spread.middle && spread.middle <= spread.late, "{name}: {spread:?}");
            }
            for pair in spreads.windows(2) {
                let in_order = pair[0].early <= pair[1].early
                    && pair[0].middle <= pair[1].middle
                    && pair[0].late <= pair[1].late;
                assert!(in_order, "{name}: {pair:?}");
            }
            if let Some(window) = told.forecast.window() {
                assert!(window.opens.middle <= window.closes.middle, "{name}");
                let tag = verdicts::roots(&whole, it);
                let by_buds = !verdicts::on(&whole, it, Work::Repot).reasons.iter().any(|it| {
                    matches!(
                        it,
                        Reason::InSeason { .. }
                            | Reason::SecondWindow { .. }
                            | Reason::ByKind(ByKind::NightsWarm { .. })
                    )
                });
                let repot = tag.is_now() && by_buds;
                assert!(!repot || window.closes.middle >= ground.today, "{name}: repot after its last day");
                let ready = tag == Tag::GetReady;
                assert!(!ready || window.opens.middle <= ground.today + 14, "{name}: ready too soon");
            }
        }
        today(&whole).text();
    }
    assert!(told_trees > 2500, "{told_trees}");
}

/// A look at leaves in autumn is no sign of spring.
#[test]
fn leaves_in_october_do_not_move_the_spring() {
    let day = date(2025, 12, 20);
    let opens = |store: &Store| {
        of(&on(store, day), "garden-hornbeam").told.clone().unwrap().forecast.window().unwrap().opens.middle
    };
    let leafy = demo_with(|name, text| match name {
        "looks.csv" => text + "Garden hornbeam,2025-10-10,19,sure,\n",
        _ => text,
    });
    assert_eq!(opens(&leafy), opens(&demo()));
}

/// One slip of the finger does not throw away the rest.
#[test]
fn hard_buds_late_in_winter_never_bring_the_window_forward() {
    let day = date(2026, 2, 20);
    let opens =
        |store: &Store| of(&on(store, day), "yew").told.clone().unwrap().forecast.window().unwrap().opens;
    let slipped = demo_with(|name, text| match name {
        "looks.csv" => text + "Yew,2026-02-19,19,sure,\nYew,2026-02-20,00,sure,\n",
        _ => text,
    });
    let (with, without) = (opens(&slipped), opens(&demo()));
    assert!(with.middle >= without.middle - 1, "{with:?} {without:?}");
}

/// A typical year as its format has it: eight lines of head, then 8,760 hours, here the mean of the demo's days.
fn typical_year() -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
    let station = fs::read_to_string(folder.join("station.csv")).unwrap();
    let mut sums = vec![(0.0, 0.0, 0.0_f64); 367];
    for line in station.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let day: Date = cells[0].parse().unwrap();
        let sum = &mut sums[day.day_of_year() as usize];
        let (low, high): (f64, f64) = (cells[1].parse().unwrap(), cells[2].parse().unwrap());
        *sum = (sum.0 + low, sum.1 + high, sum.2 + 1.0);
    }
    let mut text = String::from(
        "LOCATION,Hill,-,-,made up,0,47.30,9.10,1.0,560.0\nDESIGN CONDITIONS,0\nTYPICAL/EXTREME PERIODS,0\n\
         GROUND TEMPERATURES,0\nHOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\nCOMMENTS 1,\nCOMMENTS 2,\n\
         DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31\n",
    );
    for at in 1..=365 {
        let day = date(2023, 1, 1) + jiff::Span::new().days(at - 1);
        let (low, high, count) = sums[at as usize];
        for hour in 1..=24 {
            let swing = 0.5 - 0.5 * (f64::from(hour - 3) * std::f64::consts::TAU / 24.0).cos();
            let celsius = (low + (high - low) * swing) / count;
            let (month, of_month) = (day.month(), day.day());
            text.push_str(&format!("2003,{month},{of_month},{hour},0,?9,{celsius:.1},2.0,80,96000"));
            text.push_str(&",0".repeat(25));
            text.push('\n');
        }
    }
    text
}

/// The demo without looks, work and loggers, and with this station file.
fn bare(station: impl Fn(String) -> String) -> Store {
    demo_with(|name, text| match name {
        "looks.csv" | "work.csv" => String::new(),
        "station.csv" => station(text),
        name if name.starts_with("logger") => String::new(),
        _ => text,
    })
}

fn opens(whole: &Whole, key: &str) -> Option<Spread> {
    Some(of(whole, key).told.as_ref().ok()?.forecast.window()?.opens)
}

/// The station's days from one date to another.
fn only(from: &'static str, to: &'static str) -> impl Fn(String) -> String {
    move |text| {
        let kept = |line: &&str| line.starts_with("date") || (from..=to).contains(&&line[..10]);
        text.lines().filter(kept).map(|line| format!("{line}\n")).collect()
    }
}

/// Fewer past years make no window narrower, none firm, and say so: a typical year in place of twenty measured ones,
/// and four measured ones.
#[test]
fn fewer_past_years_widen_every_window_and_say_so() {
    let today = date(2026, 3, 1);
    let mut typical = bare(only("2025-09-01", "2026-03-01"));
    assert!(on(&typical, today).ground.is_err(), "no past year, and yet an answer");
    let done =
        import(&mut typical, &Kind::Weather, "hill.epw", typical_year().as_bytes(), &Options::default())
            .unwrap();
    assert_eq!(done.added, 366);
    let full = on(&bare(|text| text), today);
    let thin = [
        (typical, 0, "no measured past year"),
        (bare(only("2021-09-01", "2026-03-01")), 4, "only 4 measured"),
    ];
    for (store, years, words) in thin {
        let thin = on(&store, today);
        assert_eq!(thin.ground.as_ref().unwrap().measured_years, years);
        let mut compared = 0;
        for it in &full.trees {
            let key = &it.tree.key;
            let (Some(wide), Some(known)) = (opens(&thin, key), opens(&full, key)) else { continue };
            let widths = (wide.late - wide.early, known.late - known.early);
            assert!(widths.0 >= widths.1, "{key}: {wide:?} on {years} years, {known:?} on twenty");
            let page = page_of(&thin, key, None).unwrap();
            assert_eq!(page.row.unwrap().confidence, "loose", "{key}");
            assert!(page.caveats.iter().any(|caveat| caveat.contains(words)), "{:?}", page.caveats);
            compared += 1;
        }
        assert!(compared >= 30, "{compared}");
    }
}

/// A newcomer with sixty days of weather and a typical year gets an answer that is loose.
#[test]
fn sixty_days_and_a_typical_year_give_a_loose_answer() {
    let mut store = bare(only("2026-01-01", "2026-03-01"));
    import(&mut store, &Kind::Weather, "hill.epw", typical_year().as_bytes(), &Options::default()).unwrap();
    let whole = on(&store, date(2026, 3, 1));
    let ground = whole.ground.as_ref().unwrap();
    assert!(ground.unread > 0.1 && ground.unread < 0.5, "{}", ground.unread);
    let row = page_of(&whole, "red-lantern", None).unwrap().row.unwrap();
    assert!(row.opens.is_some());
    assert_eq!(row.confidence, "loose");
}

/// A tree whose place was never written down is told more widely than one on the open bench.
#[test]
fn an_unrecorded_place_widens_the_window() {
    let lost = demo_with(|name, text| match name {
        "moves.csv" => text
            .lines()
            .filter(|line| !line.starts_with("River birch"))
            .map(|line| format!("{line}\n"))
            .collect(),
        _ => text,
    });
    let width = |store: &Store| {
        let opens = of(&on(store, date(2026, 3, 8)), "river-birch")
            .told
            .clone()
            .unwrap()
            .forecast
            .window()
            .unwrap()
            .opens;
        opens.late - opens.early
    };
    assert!(width(&lost) > width(&demo()));
    let page = page_of(&on(&lost, date(2026, 3, 8)), "river-birch", None).unwrap();
    assert_eq!(page.row.unwrap().confidence, "loose");
}

/// U05: which windows close first, and on which days.
#[test]
fn u05_what_closes_first_comes_first_with_its_spread_and_a_place_to_heal() {
    let whole = on(&demo(), date(2026, 3, 28));
    let page = today(&whole);
    // Those that are due, or whose last repot nobody wrote down, stand apart from those that stay; each list by what closes first.
    assert!(!page.repot.is_empty() && page.repot.len() + page.stay.len() >= 5, "{}", page.repot.len());
    for list in [&page.repot, &page.stay] {
        let closes: Vec<_> = list.iter().map(|row| row.closes.clone().unwrap()).collect();
        assert!(closes.windows(2).all(|pair| pair[0].iso <= pair[1].iso), "{closes:?}");
        for row in list {
            let is_dated = row.why.contains("last good day about") && row.why.contains(" to ");
            // A tree that goes by its months has their last day.
            assert!(is_dated || row.why.contains("months are now, until "), "{}", row.why);
        }
    }
    for row in &page.repot {
        let said = page.bench(&row.key);
        assert!(said.starts_with("due, ") || said.contains("nobody wrote down its last repot"), "{said}");
        assert!(page.stay.iter().all(|it| it.key != row.key), "{}", row.key);
    }
    for row in &page.stay {
        assert!(page.bench(&row.key).starts_with("stays this year: "), "{}", page.bench(&row.key));
    }
    let outside = page.repot.iter().chain(&page.stay).find(|row| row.place == "Long bench").unwrap();
    assert!(matches!(stand::after(&whole, of(&whole, &outside.key)), Some(Stand::Goes { .. })));
    assert!(outside.why.ends_with(&stand::words(&whole, of(&whole, &outside.key))), "{}", outside.why);
}

/// High summer is no winter: nobody is told that cut roots would sit cold, and an evergreen with a second window goes by it with care.
#[test]
fn in_july_no_tree_waits_for_a_mild_place() {
    let whole = on(&demo(), date(2026, 7, 16));
    let cold = |it: &Reason| matches!(it, Reason::NoMildPlace { .. });
    for it in whole.trees.iter().filter(|it| it.told.is_ok()) {
        let verdict = verdicts::on(&whole, it, Work::Repot);
        assert!(!verdict.reasons.iter().any(cold), "{}: {verdict:?}", it.tree.key);
    }
    assert_eq!(verdicts::roots(&whole, of(&whole, "olive")), Tag::WithCare);
}
