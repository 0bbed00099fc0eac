//! After a repot: what is to be done on which day, and what the other pages must know of it.

use jiff::civil::Date;
use measure::quantity::Share;
use season::repot::{
    aftercare::{OWN_CARE, State, Step, USUAL_CARE, now, timetable},
    root_cuts::root_cuts,
    stand::Stand,
};

use super::{
    bench::{CareRow, RepotBench},
    case::{self, Case},
};
use crate::{
    stand,
    whole::{TreeWhole, Whole},
    words,
};

/// The day of a tree's last repot with the share of its roots that was cut: by its log, else by its work; none where neither tells.
fn last(whole: &Whole, tree: &TreeWhole) -> Option<(Date, Share)> {
    let slipped = tree.standing.repots.iter().map(|it| (it.day, it.cut));
    let cuts = root_cuts(&tree.standing.repots, tree.works.iter().map(|(_, work)| work));
    let told = cuts.iter().map(|cut| (cut.day, cut.roots.likely)).chain(slipped);
    told.filter(|(day, _)| *day <= whole.today).max_by_key(|(day, _)| *day)
}

fn dates(step: &Step, today: Date) -> String {
    let [from, to] = [step.from, step.to].map(|day| words::day(day, today));
    if from == to { from } else { format!("{from} to {to}") }
}

/// Trees under aftercare today: key, name, what to do. What is only for the first winter is left to the pages of cold.
pub fn today(whole: &Whole) -> Vec<(String, String, String)> {
    let mut told: Vec<(Date, String, String, String)> = Vec::new();
    for tree in &whole.trees {
        let Some((day, cut)) = last(whole, tree) else { continue };
        if (whole.today - day).get_days() >= USUAL_CARE.value {
            continue;
        }
        let steps: Vec<&str> = now(day, cut, whole.today).iter().map(|step| step.row.words).collect();
        if steps.is_empty() {
            continue;
        }
        let age = words::count((whole.today - day).get_days(), "day", "days");
        let place = if cut.0 > 0.0 { stand::words(whole, tree) } else { String::new() };
        let place = if place.is_empty() { place } else { format!("; {place}") };
        let what = format!("{age} after its repot: {}{place}", steps.join("; "));
        told.push((day, tree.tree.key.clone(), tree.tree.name.clone(), what));
    }
    told.sort_by(|a, b| (b.0, &a.2).cmp(&(a.0, &b.2)));
    told.into_iter().map(|(_, key, name, what)| (key, name, what)).collect()
}

/// The care of a tree: of its last repot while that is on, else as it would be if it were done today.
pub(crate) fn say(whole: &Whole, tree: &TreeWhole, told: &Case<'_>, page: &mut RepotBench) {
    let last = last(whole, tree).filter(|(day, _)| (whole.today - *day).get_days() <= OWN_CARE.value);
    let planned = crate::pots::shared::of_tree(whole, &tree.tree.key).and_then(|it| it.potted);
    let planned = planned.map_or(whole.today, |day| day.max(whole.today));
    let (day, cut) = last.unwrap_or((planned, told.cut.planned));
    page.care_from = match last {
        Some((day, cut)) => format!(
            "repotted on {}, {}",
            words::day(day, whole.today),
            if cut.0 > 0.0 { format!("{} of the roots cut", case::share(cut)) } else { "no root cut".into() }
        ),
        None if planned == whole.today => "if it is done today".into(),
        None => format!("if it is done on {}", words::day(planned, whole.today)),
    };
    page.stand = stand_words(
        whole,
        tree,
        cut,
        last.is_none_or(|(day, _)| (whole.today - day).get_days() < USUAL_CARE.value),
    );
    page.care = timetable(day, cut, whole.today)
        .iter()
        .map(|step| CareRow {
            days: dates(step, whole.today),
            words: step.row.words.into(),
            stop: step.row.unless.map_or(String::new(), |it| format!("If {it}")),
            is_now: last.is_some() && step.state == State::Now,
            is_past: last.is_some() && step.state == State::Past,
        })
        .collect();
}

/// Where it stands while its cut roots are fresh, as one sentence.
fn stand_words(whole: &Whole, tree: &TreeWhole, cut: Share, is_fresh: bool) -> String {
    if cut.0 <= 0.0 || !is_fresh {
        return String::new();
    }
    let place = tree.place.map(|rank| whole.places[rank].place.name.as_str());
    match (stand::after(whole, tree), place) {
        (None, _) => String::new(),
        (Some(Stand::Stays), Some(place)) => format!("Place: {place}, where it stands, serves its cut roots"),
        (Some(_), _) => format!("Place: {}", stand::words(whole, tree)),
    }
}
