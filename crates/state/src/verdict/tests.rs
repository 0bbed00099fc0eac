//! The verdicts, each on a day of the north and on the same day half a year on in the south.

use jiff::{ToSpan, civil::date};
use measure::{
    quantity::{Centimetre, Days, Share},
    stage::Stage,
    taxon::{TAXA, Taxon},
    winter::{
        Hemisphere::{self, North, South},
        Winter,
    },
};
use pot::repot::insult::{Insult, Past, Strength};
use season::cooling::First;

use super::*;
use crate::facts::{Buds, Foliage, Recovery, RootCut, Seen, Span};

/// The same day of the season on both halves of the Earth.
fn both(north: Date) -> [(Date, Hemisphere); 2] {
    let winter = Winter::holding(north, North);
    let south = Winter { hemisphere: South, ..winter };
    [(north, North), (south.date(winter.day_number(north)), South)]
}

fn facts(key: &str, (today, hemisphere): (Date, Hemisphere)) -> Facts {
    Facts::of(Taxon::of(key).unwrap(), today, hemisphere)
}

/// Chances that pile up around a stage: `at` there, the rest before it.
fn buds(chances: [(Stage, f64); 3], today: Date) -> Buds {
    let mut all = [0.0; 9];
    for (stage, chance) in chances {
        all[stage.rank()] += chance;
    }
    let span = |from: i64| Span {
        early: today + (from - 6).days(),
        middle: today + from.days(),
        late: today + (from + 6).days(),
    };
    Buds { today: all, window: Some([span(10), span(20)]) }
}

/// A first cool night, four days earlier in one autumn of ten.
fn cool(middle: Date) -> First {
    First { early: middle - 4.days(), middle, autumns: 12 }
}

const MARCH: Date = date(2026, 3, 28);

#[test]
fn an_unsure_window_asks_for_a_look_and_is_never_called_past() {
    for day in both(MARCH) {
        // The likeliest stage is past the window at 36 %, as in a collection without any look.
        let unsure = buds([(Stage::Swelling, 0.34), (Stage::Full, 0.30), (Stage::GreenTip, 0.36)], day.0);
        let told = verdict(Work::Repot, &Facts { buds: Some(unsure), ..facts("acer-palmatum", day) });
        assert_eq!(told.answer, Answer::LookFirst, "{told:?}");
        assert!(matches!(told.because(), Reason::WindowUnsure { .. }));
    }
}

#[test]
fn yes_needs_a_look_of_the_week_or_four_chances_in_five() {
    for day in both(MARCH) {
        let maple = facts("acer-palmatum", day);
        let answer = |ready: f64, seen: Option<Seen>| {
            let chances =
                buds([(Stage::Swelling, 0.95 - ready), (Stage::Full, ready), (Stage::GreenTip, 0.05)], day.0);
            verdict(Work::Repot, &Facts { buds: Some(chances), seen, judged: Some(day.0), ..maple.clone() })
                .answer
        };
        assert_eq!(answer(0.79, None), Answer::LookFirst);
        assert_eq!(answer(0.81, None), Answer::Yes);
        let look = |ago: i64, stage| Some(Seen { day: day.0 - ago.days(), stage, is_doubtful: false });
        assert_eq!(answer(0.5, look(7, Stage::Full)), Answer::Yes);
        assert_eq!(answer(0.5, look(8, Stage::Full)), Answer::LookFirst);
        assert_eq!(answer(0.5, look(1, Stage::GreenTip)), Answer::NotThisSeason);
    }
}

#[test]
fn too_late_is_said_over_nine_chances_in_ten_only() {
    for day in both(MARCH) {
        let answer = |past: f64| {
            let rest = 1.0 - past;
            let chances =
                buds([(Stage::Full, rest), (Stage::GreenTip, past / 2.0), (Stage::Grown, past / 2.0)], day.0);
            verdict(Work::Repot, &Facts { buds: Some(chances), ..facts("acer-palmatum", day) }).answer
        };
        assert_eq!([answer(0.89), answer(0.91)], [Answer::LookFirst, Answer::NotThisSeason]);
    }
}

#[test]
fn before_the_window_the_first_day_of_its_spread_is_told_and_cut_roots_wait_for_a_mild_place() {
    for day in both(date(2026, 2, 20)) {
        let asleep = buds([(Stage::Dormant, 0.9), (Stage::Swelling, 0.08), (Stage::Full, 0.02)], day.0);
        let maple = Facts { buds: Some(asleep), ..facts("acer-palmatum", day) };
        let opens = day.0 + 4.days();
        assert_eq!(verdict(Work::Repot, &maple).answer, Answer::NotNow { until: Some(opens) });
        let mild = day.0 + 40.days();
        let cold = Facts { recovery: Recovery::From(mild), ..maple.clone() };
        assert_eq!(verdict(Work::Repot, &cold).answer, Answer::NotNow { until: Some(mild) });
        let never = Facts { recovery: Recovery::Never, ..maple };
        assert_eq!(verdict(Work::Repot, &never).answer, Answer::NotNow { until: None });
    }
}

#[test]
fn pines_and_evergreens_go_by_their_months_whatever_their_buds_are_called() {
    for day in both(MARCH) {
        let green = buds([(Stage::Grown, 0.95), (Stage::GreenTip, 0.05), (Stage::Full, 0.0)], day.0);
        let pine = Facts { buds: Some(green), judged: Some(day.0), ..facts("pinus-thunbergii", day) };
        assert_eq!(verdict(Work::Repot, &pine).answer, Answer::Yes);
    }
    for day in both(date(2026, 6, 20)) {
        let pine = facts("pinus-thunbergii", day);
        let Answer::NotNow { until: Some(until) } = verdict(Work::Repot, &pine).answer else { panic!() };
        let next = if day.1 == North { date(2027, 3, 1) } else { date(2027, 9, 1) };
        assert_eq!(until, next);
    }
}

#[test]
fn a_tree_cut_back_at_the_root_nine_weeks_ago_keeps_its_leaves() {
    for day in both(date(2026, 6, 4)) {
        let cut = RootCut { day: day.0 - 63.days(), share: Share(0.55) };
        let past = vec![Past { insult: Insult::RepotFull { cut: cut.share, bare: false }, ago: Days(63.0) }];
        let maple = Facts {
            root_cut: Some(cut),
            past,
            judged: Some(day.0),
            first_frost: Some(day.0 + 140.days()),
            ..facts("acer-palmatum", day)
        };
        let told = verdict(Work::Defoliate, &maple);
        assert!(told.answer.is_against(), "{told:?}");
        assert!(told.reasons.iter().any(|it| matches!(it, Reason::RootsCut { .. })));
        assert!(verdict(Work::HardPrune, &maple).answer.is_against());
        assert!(verdict(Work::Repot, &maple).answer.is_against());
        let sound = Facts { root_cut: None, past: vec![], ..maple };
        assert_eq!(verdict(Work::Defoliate, &sound).answer, Answer::Yes);
    }
}

#[test]
fn a_weak_tree_is_fed_lightly_and_nothing_else() {
    for day in both(date(2026, 6, 10)) {
        let weak = Facts { strength: Strength::Weak, judged: Some(day.0), ..facts("ulmus-parvifolia", day) };
        for work in [Work::Repot, Work::HardPrune, Work::Trim, Work::Defoliate, Work::Wire, Work::Layer] {
            let told = verdict(work, &weak);
            assert_eq!(told.answer, Answer::NotThisSeason, "{told:?}");
            assert!(told.main().any(|it| it == Reason::NotStrongEnough(Strength::Weak)));
        }
        assert_eq!(verdict(Work::Feed, &weak).because(), Reason::LightFeedOnly);
        let slip = Facts { planned_cut: Share(0.0), ..weak };
        assert_eq!(verdict(Work::Repot, &slip).answer, Answer::Yes, "into a larger pot");
    }
}

#[test]
fn points_that_are_spent_tell_the_day_on_which_they_are_free_again() {
    for day in both(date(2026, 6, 10)) {
        let bent = Past { insult: Insult::HeavyBend(2), ago: Days(200.0) };
        let maple = Facts { past: vec![bent], judged: Some(day.0), ..facts("acer-palmatum", day) };
        let told = verdict(Work::HardPrune, &maple);
        let free = day.0 + 166.days();
        assert!(
            told.reasons
                .iter()
                .any(|it| matches!(it, Reason::OverBudget { free: Some(on), .. } if *on == free)),
            "{told:?}"
        );
        let until = |it: &Facts| match verdict(Work::HardPrune, it).answer {
            Answer::NotNow { until } => until,
            other => panic!("{other:?}"),
        };
        assert_eq!(until(&maple), Some(free));
    }
}

#[test]
fn only_a_strong_black_pine_is_decandled_and_only_once_it_was_judged() {
    for day in both(date(2026, 6, 20)) {
        let pine = |strength, judged| {
            let judged = Some(day.0).filter(|_| judged);
            let first_cool = Some(cool(day.0 + 100.days()));
            let height = Some(Centimetre(50.0));
            let pine = facts("pinus-thunbergii", day);
            verdict(Work::Decandle, &Facts { strength, judged, first_cool, height, ..pine }).answer
        };
        assert_eq!(pine(Strength::Strong, true), Answer::Yes);
        assert_eq!(pine(Strength::Normal, true), Answer::NotThisSeason);
        assert_eq!(pine(Strength::Normal, false), Answer::LookFirst);
        let white = verdict(Work::Decandle, &facts("pinus-parviflora", day));
        assert_eq!(white.because(), Reason::NotThisKind);
    }
}

#[test]
fn feed_waits_after_a_root_cut_and_comes_back_at_half_strength() {
    for day in both(date(2026, 4, 20)) {
        let after = |days: i64| {
            let cut = RootCut { day: day.0 - days.days(), share: Share(0.3) };
            verdict(Work::Feed, &Facts { root_cut: Some(cut), ..facts("acer-palmatum", day) })
        };
        assert_eq!(after(10).answer, Answer::NotNow { until: Some(day.0 + 18.days()) });
        assert_eq!(after(35).answer, Answer::Caution);
        assert_eq!(after(80).answer, Answer::Yes);
    }
}

#[test]
fn leaves_are_taken_only_while_a_second_set_can_harden() {
    for day in both(date(2026, 6, 15)) {
        let maple = Facts { judged: Some(day.0), ..facts("acer-palmatum", day) };
        let answer = |days: i64| {
            let first_frost = Some(day.0 + days.days());
            verdict(Work::Defoliate, &Facts { first_frost, ..maple.clone() }).answer
        };
        assert_eq!([answer(55), answer(56)], [Answer::NotThisSeason, Answer::Yes]);
        let soft = verdict(Work::Defoliate, &Facts { foliage: Foliage::Soft, ..maple });
        assert!(soft.reasons.contains(&Reason::LeavesSoft) && soft.answer.is_against());
    }
}

#[test]
fn a_maple_bleeds_while_its_sap_rises_and_a_beech_does_not() {
    for day in both(MARCH) {
        let rising = buds([(Stage::Dormant, 0.5), (Stage::Swelling, 0.4), (Stage::Full, 0.1)], day.0);
        let told = |key| verdict(Work::HardPrune, &Facts { buds: Some(rising), ..facts(key, day) });
        assert!(told("acer-palmatum").reasons.contains(&Reason::Bleeds));
        assert!(!told("fagus-crenata").reasons.contains(&Reason::Bleeds));
    }
}

/// Every taxon, every kind of work, every tenth day: an answer with a reason; a day to wait for lies ahead; and the south says on its day
/// what the north says on the same day of the season.
#[test]
fn every_verdict_has_a_reason_and_both_halves_of_the_earth_agree() {
    for taxon in TAXA {
        for tenth in 0..36_i64 {
            let [north, south] = both(date(2026, 1, 5) + (10 * tenth).days());
            for work in Work::ALL {
                let [here, there] = [north, south].map(|(today, hemisphere)| {
                    let told = verdict(work, &Facts::of(taxon, today, hemisphere));
                    assert!(!told.reasons.is_empty());
                    if let Answer::NotNow { until: Some(until) } = told.answer {
                        assert!(until > today, "{} {work:?} {today}: {told:?}", taxon.key);
                    }
                    told
                });
                // Months are of unlike length: a day may fall into the next one.
                let is_edge = [north, south].iter().any(|(day, _)| !(4..=26).contains(&day.day()));
                if !is_edge {
                    assert_eq!(here.answer.rank(), there.answer.rank(), "{} {work:?} {north:?}", taxon.key);
                }
            }
        }
    }
}

mod by_kind;

/// Roots cut last spring bar the knife for the season, and the day on which that is over may lie out of the months of its kind: it waits
/// on until they come.
#[test]
fn the_day_to_wait_for_is_one_on_which_the_months_hold_too() {
    for day in both(date(2026, 1, 15)) {
        let cut = RootCut { day: day.0 - 280.days(), share: Share(0.4) };
        let told = verdict(Work::HardPrune, &Facts { root_cut: Some(cut), ..facts("acer-palmatum", day) });
        let Answer::NotNow { until: Some(until) } = told.answer else { panic!("{told:?}") };
        let then = Facts { root_cut: Some(cut), ..facts("acer-palmatum", (until, day.1)) };
        assert!(
            !verdict(Work::HardPrune, &then).answer.is_against(),
            "{until} {:?}",
            verdict(Work::HardPrune, &then)
        );
        assert!(until > day.0 + 60.days(), "{until}");
    }
}

#[test]
fn nothing_is_fed_in_a_cold_store() {
    for day in both(MARCH) {
        let yew = Facts { in_dark: true, ..facts("taxus-baccata", day) };
        assert_eq!(verdict(Work::Feed, &yew).answer, Answer::NotNow { until: None });
        assert!(!verdict(Work::Feed, &Facts { in_dark: false, ..yew }).answer.is_against());
    }
}
