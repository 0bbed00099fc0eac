//! Seasons by kind: evergreens, azaleas, quince, flowers at the shears, tropicals, candles and the last strong feed.

use measure::quantity::{Celsius, Centimetre};
use season::nights::Nights;

use super::*;
use crate::reason::{ByKind, Disease};

/// Findings that come with its kind.
fn kinds(told: &Verdict) -> Vec<ByKind> {
    let of = |it: &Reason| match it {
        Reason::ByKind(it) => Some(*it),
        _ => None,
    };
    told.reasons.iter().filter_map(of).collect()
}

fn judged(key: &str, day: (Date, Hemisphere)) -> Facts {
    Facts { judged: Some(day.0), ..facts(key, day) }
}

/// U13: the mean first night below 10 °C is 28 September; a large black pine is late on 20 June, a small one early.
#[test]
fn candles_are_cut_by_the_height_of_the_tree_back_from_the_first_cool_night() {
    for day in both(date(2026, 6, 20)) {
        let first_cool = Some(cool(day.0 + 100.days()));
        let pine = |height: Option<f64>| Facts {
            strength: Strength::Strong,
            height: height.map(Centimetre),
            first_cool,
            ..judged("pinus-thunbergii", day)
        };
        let large = verdict(Work::Decandle, &pine(Some(70.0)));
        assert_eq!(large.answer, Answer::Caution, "late: said so, with a choice");
        let window = [day.0 - 20.days(), day.0 - 10.days()];
        assert_eq!(kinds(&large), [ByKind::CandlesLate { window, left: [100, 96] }]);
        let small = verdict(Work::Decandle, &pine(Some(22.0)));
        assert_eq!(small.answer, Answer::NotNow { until: Some(day.0 + 5.days()) });
        assert_eq!(kinds(&small), [ByKind::CandlesEarly { window: [day.0 + 5.days(), day.0 + 20.days()] }]);
        let middle = verdict(Work::Decandle, &pine(Some(50.0)));
        assert_eq!(middle.answer, Answer::Yes);
        assert!(kinds(&verdict(Work::Decandle, &pine(None))).contains(&ByKind::HeightUnknown));
        // Three weeks and a day on nothing hardens any more.
        let late = Facts { today: day.0 + 21.days(), ..pine(Some(70.0)) };
        assert_eq!(verdict(Work::Decandle, &late).answer, Answer::NotThisSeason);
    }
    let north = date(2026, 6, 20);
    assert_eq!(
        season::candles::window(season::candles::Size::Large, north + 100.days()),
        [date(2026, 5, 31), date(2026, 6, 10)]
    );
}

#[test]
fn a_pine_repotted_this_spring_keeps_its_candles_and_one_cut_is_not_fed_at_once() {
    for day in both(date(2026, 6, 20)) {
        let first_cool = Some(cool(day.0 + 100.days()));
        let pine = Facts {
            strength: Strength::Strong,
            height: Some(Centimetre(50.0)),
            first_cool,
            ..judged("pinus-thunbergii", day)
        };
        let root_cut = Some(RootCut { day: day.0 - 80.days(), share: Share(0.25) });
        assert!(verdict(Work::Decandle, &Facts { root_cut, ..pine.clone() }).answer.is_against());
        let past = vec![Past { insult: Insult::Decandle, ago: Days(10.0) }];
        let fed = verdict(Work::Feed, &Facts { past, ..pine });
        assert_eq!(fed.answer, Answer::NotNow { until: Some(day.0 + 25.days()) });
    }
}

/// A21: two sites whose first cool night is 20 days apart.
#[test]
fn two_sites_twenty_days_apart_cut_candles_twenty_days_apart() {
    for day in both(date(2026, 5, 1)) {
        let until = |ahead: i64| {
            let pine = Facts {
                strength: Strength::Strong,
                height: Some(Centimetre(50.0)),
                first_cool: Some(cool(day.0 + ahead.days())),
                ..judged("pinus-thunbergii", day)
            };
            match verdict(Work::Decandle, &pine).answer {
                Answer::NotNow { until: Some(until) } => until,
                other => panic!("{other:?}"),
            }
        };
        assert_eq!((until(150) - until(130)).get_days(), 20);
    }
}

/// A23: strong feed ends sixty days before the site's mean first frost, and later feed is warned of until growth begins.
#[test]
fn the_last_strong_feed_is_counted_from_the_sites_first_frost() {
    for day in both(date(2026, 7, 20)) {
        let maple = |ahead: i64, frost: i64| {
            let today = day.0 + ahead.days();
            Facts { today, first_frost: Some(day.0 + frost.days()), ..judged("acer-palmatum", day) }
        };
        let before = verdict(Work::Feed, &maple(0, 90));
        assert_eq!(before.answer, Answer::Yes);
        assert_eq!(kinds(&before), [ByKind::FeedUntil { day: day.0 + 30.days() }]);
        let after = verdict(Work::Feed, &maple(31, 90));
        assert_eq!(after.answer, Answer::Caution);
        assert_eq!(kinds(&after), [ByKind::LateFeed { since: Some(day.0 + 30.days()) }]);
        // A site with its frost three weeks later is fed three weeks longer.
        assert_eq!(verdict(Work::Feed, &maple(31, 111)).answer, Answer::Yes);
        // Past its frost the next one is told; an evergreen is still at rest.
        let yew = Facts {
            today: day.0 + 120.days(),
            first_frost: Some(day.0 + 455.days()),
            ..judged("taxus-baccata", day)
        };
        assert_eq!(verdict(Work::Feed, &yew).answer, Answer::Caution);
        let fig = Facts {
            today: day.0 + 31.days(),
            first_frost: Some(day.0 + 90.days()),
            ..judged("ficus-microcarpa", day)
        };
        assert_eq!(verdict(Work::Feed, &fig).answer, Answer::Yes);
    }
}

/// A24: what a cut in August costs.
#[test]
fn a_cut_in_august_tells_the_months_to_the_bloom_it_costs() {
    let months = |key, day: (Date, Hemisphere)| {
        let told = verdict(Work::Trim, &judged(key, day));
        kinds(&told).into_iter().find_map(|it| match it {
            ByKind::FlowerBuds { months, .. } => Some(months),
            _ => None,
        })
    };
    for day in both(date(2026, 8, 10)) {
        assert_eq!(months("prunus-mume", day), Some(5));
        assert_eq!(months("rhododendron-indicum", day), Some(9));
        assert_eq!(months("crataegus-monogyna", day), Some(9));
        assert_eq!(months("acer-palmatum", day), None);
    }
    for day in both(date(2026, 6, 16)) {
        assert_eq!(months("prunus-mume", day), None, "its buds form from July on");
        assert_eq!(verdict(Work::Trim, &judged("prunus-mume", day)).answer, Answer::Yes);
    }
    // A wisteria's whips are shortened in July above the buds that flower.
    for day in both(date(2026, 7, 16)) {
        assert_eq!(months("wisteria-floribunda", day), None);
        assert_eq!(verdict(Work::Trim, &judged("wisteria-floribunda", day)).answer, Answer::Yes);
    }
}

#[test]
fn azaleas_are_pruned_after_their_flowers_and_left_alone_in_the_year_of_their_repot() {
    for day in both(date(2026, 6, 16)) {
        let azalea = judged("rhododendron-indicum", day);
        let pruned = verdict(Work::HardPrune, &azalea);
        assert!(matches!(kinds(&pruned)[..], [ByKind::InFlower { .. }]), "{pruned:?}");
        assert_eq!(pruned.answer, Answer::Caution);
        let repot = verdict(Work::Repot, &azalea);
        assert!(repot.reasons.iter().any(|it| matches!(it, Reason::SecondWindow { .. })), "{repot:?}");
        let cut = |years: i32| {
            let ago = i64::from(years) * 365 + 80;
            let root_cut = Some(RootCut { day: day.0 - ago.days(), share: Share(0.35) });
            verdict(Work::Trim, &Facts { root_cut, ..azalea.clone() })
        };
        assert!(cut(0).answer.is_against(), "{:?}", cut(0));
        for (years, year) in [(0, 1), (1, 2), (2, 3), (5, 3)] {
            assert!(kinds(&cut(years)).contains(&ByKind::AzaleaYear(year)), "{years}");
        }
        assert!(!cut(1).answer.is_against());
    }
    for day in both(date(2026, 4, 6)) {
        let repot = verdict(Work::Repot, &judged("rhododendron-indicum", day));
        assert_eq!(repot.answer, Answer::Caution);
        assert!(matches!(kinds(&repot)[..], [ByKind::FlowersFirst { .. }]), "{repot:?}");
    }
    for day in both(date(2026, 8, 16)) {
        assert!(verdict(Work::HardPrune, &judged("rhododendron-indicum", day)).answer.is_against());
    }
}

#[test]
fn quince_is_repotted_in_autumn_while_roots_still_heal() {
    for day in both(date(2026, 9, 12)) {
        let asleep = buds([(Stage::Dormant, 1.0), (Stage::Swelling, 0.0), (Stage::Full, 0.0)], day.0);
        let quince = |stop: i64| Facts {
            buds: Some(asleep),
            roots_stop: Some(First {
                early: day.0 + stop.days(),
                middle: day.0 + (stop + 8).days(),
                autumns: 12,
            }),
            ..judged("chaenomeles-speciosa", day)
        };
        let now = verdict(Work::Repot, &quince(40));
        assert_eq!(now.answer, Answer::Caution, "{now:?}");
        assert!(now.reasons.iter().any(|it| matches!(it, Reason::SecondWindow { .. })));
        assert!(verdict(Work::Repot, &quince(34)).answer.is_against());
        // A hawthorn has the same months "for quince and some crab apples", a maple light work alone.
        let maple = Facts { planned_cut: Share(0.35), ..quince(40) };
        let maple = Facts { taxon: Taxon::of("acer-palmatum").unwrap(), ..maple };
        let told = verdict(Work::Repot, &maple);
        assert!(told.answer.is_against());
        assert!(kinds(&told).iter().any(|it| matches!(it, ByKind::LightWorkOnly { .. })), "{told:?}");
        assert!(!verdict(Work::Repot, &Facts { planned_cut: Share(0.15), ..maple }).answer.is_against());
    }
}

#[test]
fn junipers_need_eight_warm_weeks_in_september_and_pines_five() {
    for day in both(date(2026, 9, 12)) {
        let of = |key, stop: i64| {
            let roots_stop =
                Some(First { early: day.0 + stop.days(), middle: day.0 + (stop + 8).days(), autumns: 12 });
            verdict(Work::Repot, &Facts { roots_stop, planned_cut: Share(0.15), ..judged(key, day) }).answer
        };
        assert_eq!(of("juniperus-chinensis", 56), Answer::Caution);
        let next = if day.1 == North { date(2027, 3, 1) } else { date(2027, 9, 1) };
        assert_eq!(of("juniperus-chinensis", 55), Answer::NotNow { until: Some(next) });
        assert_eq!(of("pinus-thunbergii", 40), Answer::Caution);
        assert!(of("pinus-thunbergii", 30).is_against());
    }
    // The common juniper waits for warmth; a mugo pine has midsummer as well.
    for day in both(date(2026, 4, 16)) {
        assert!(verdict(Work::Repot, &judged("juniperus-communis", day)).answer.is_against());
        assert_eq!(verdict(Work::Repot, &judged("juniperus-chinensis", day)).answer, Answer::Yes);
    }
    for day in both(date(2026, 7, 16)) {
        assert_eq!(verdict(Work::Repot, &judged("pinus-mugo", day)).answer, Answer::Yes);
        assert!(verdict(Work::Repot, &judged("pinus-sylvestris", day)).answer.is_against());
    }
}

#[test]
fn roots_of_tropicals_wait_for_warm_nights() {
    for day in both(date(2026, 6, 16)) {
        let fig = |cold: f64, middle: f64| {
            let nights = Some(Nights { cold: Celsius(cold), middle: Celsius(middle) });
            verdict(Work::Repot, &Facts { nights, ..judged("ficus-microcarpa", day) }).answer
        };
        assert_eq!(fig(18.0, 20.0), Answer::Yes);
        assert_eq!(fig(16.0, 19.0), Answer::Caution);
        assert_eq!(fig(14.0, 16.5), Answer::NotNow { until: None });
        assert_eq!(verdict(Work::Repot, &judged("ficus-microcarpa", day)).answer, Answer::Caution);
    }
    for day in both(date(2026, 1, 16)) {
        let nights = Some(Nights { cold: Celsius(19.0), middle: Celsius(20.0) });
        let fig = Facts { nights, ..judged("ficus-microcarpa", day) };
        assert!(verdict(Work::Repot, &fig).answer.is_against(), "no light for new roots");
    }
}

#[test]
fn stone_fruit_is_cut_in_dry_early_summer_and_never_in_winter_and_oaks_and_elms_tell_their_diseases() {
    for day in both(date(2026, 1, 16)) {
        let told = verdict(Work::HardPrune, &judged("prunus-incisa", day));
        let next = if day.1 == North { date(2026, 4, 1) } else { date(2026, 10, 1) };
        assert_eq!(told.answer, Answer::NotNow { until: Some(next) });
    }
    for day in both(date(2026, 6, 16)) {
        let of = |key| verdict(Work::HardPrune, &judged(key, day));
        assert_eq!(of("prunus-incisa").answer, Answer::Yes);
        assert_eq!(kinds(&of("quercus-robur")), [ByKind::Disease(Disease::OakWilt)]);
        assert_eq!(kinds(&of("ulmus-minor")), [ByKind::Disease(Disease::DutchElm)]);
    }
}

#[test]
fn candles_and_tips_are_pinched_in_their_own_months_and_junipers_not_at_all() {
    for day in both(date(2026, 5, 16)) {
        let of = |key| verdict(Work::Pinch, &judged(key, day)).answer;
        assert_eq!([of("pinus-thunbergii"), of("pinus-sylvestris"), of("picea-abies")], [Answer::Yes; 3]);
        assert_eq!(of("juniperus-chinensis"), Answer::NotThisSeason);
        assert_eq!(of("juniperus-rigida"), Answer::Yes);
    }
    for day in both(date(2026, 6, 16)) {
        assert!(verdict(Work::Pinch, &judged("pinus-sylvestris", day)).answer.is_against());
    }
}

#[test]
fn a_juniper_styled_hard_in_may_is_not_repotted_that_autumn() {
    // U16: heavy styling and root work are six to twelve months apart.
    for day in both(date(2026, 9, 5)) {
        let styled = Past { insult: Insult::HeavyBend(4), ago: Days(115.0) };
        let roots_stop = Some(First { early: day.0 + 70.days(), middle: day.0 + 78.days(), autumns: 12 });
        let juniper = Facts {
            past: vec![styled],
            roots_stop,
            planned_cut: Share(0.2),
            ..judged("juniperus-chinensis", day)
        };
        let told = verdict(Work::Repot, &juniper);
        assert!(told.answer.is_against(), "{told:?}");
        assert!(
            told.reasons.iter().any(|it| matches!(
                it,
                Reason::TooSoon { .. } | Reason::MajorSpent { .. } | Reason::OverBudget { .. }
            )),
            "{told:?}"
        );
    }
}
