//! The reason behind the verdict on root work, in the grower's words.

use measure::{stage::Stage, winter::Winter};
use season::{advice::InStore, window::Told};
use state::{
    reason::Reason,
    verdict::{Answer, Verdict},
    work::Work,
};

use crate::{
    repots::case::{case, is_left_alone},
    stand::{self, could_heal, has_room},
    verdicts::{self, Tag},
    whole::{TreeWhole, Whole},
    words,
};

/// Where a tree that opens in the dark could go, and until when its roots may be cut.
fn in_store_why(whole: &Whole, tree: &TreeWhole, told: &Told, winter: Winter) -> String {
    let today = winter.day_number(whole.today);
    let open: Vec<&str> = whole
        .places
        .iter()
        .filter(|place| {
            place.recovery.is_some_and(|day| day <= today)
                && has_room(place)
                && could_heal(tree.tree.taxon, place)
        })
        .map(|place| place.place.name.as_str())
        .collect();
    let roots = match told.forecast.window() {
        Some(window) if window.closes.middle >= today => format!(
            "roots may be cut until about {} ({} to {})",
            words::day(winter.date(window.closes.middle), whole.today),
            words::day(winter.date(window.closes.early), whole.today),
            words::day(winter.date(window.closes.late), whole.today)
        ),
        _ => "too late to cut roots".into(),
    };
    if open.is_empty() {
        format!(
            "{roots}; no place with room is mild and frost-free now, so hold it as cold as you can above freezing"
        )
    } else {
        format!("{roots}; mild and frost-free now, with room: {}", open.join(", "))
    }
}

/// Everything that speaks as strongly as the verdict on root work, in one line.
pub(crate) fn reasons(whole: &Whole, verdict: &Verdict) -> String {
    let mut told: Vec<String> = Vec::new();
    for reason in verdict.main() {
        let words = verdicts::reason(reason, whole.today, whole.units());
        if !told.contains(&words) {
            told.push(words);
        }
    }
    told.join("; ")
}

/// Whether the verdict rests on the buds rather than on months.
pub(crate) fn is_by_buds(verdict: &Verdict) -> bool {
    let of_buds = |it: &Reason| {
        matches!(
            it,
            Reason::BudsReady { .. }
                | Reason::BudsNotFull { .. }
                | Reason::WindowUnsure { .. }
                | Reason::WindowPast { .. }
                | Reason::GreenSeen { .. }
        )
    };
    verdict.reasons.iter().any(of_buds)
}

/// Whether its repot is planned for this season.
fn goes(whole: &Whole, tree: &TreeWhole) -> bool {
    case(whole, tree, is_left_alone(whole)).is_ok_and(|case| case.goes.is_yes())
}

/// The reason for the verdict on root work.
pub(crate) fn why(whole: &Whole, tree: &TreeWhole, told: &Told, winter: Winter) -> String {
    if tree.in_store != InStore::Fine {
        return in_store_why(whole, tree, told, winter);
    }
    let verdict = verdicts::on(whole, tree, Work::Repot);
    let window = told.forecast.window().filter(|_| is_by_buds(verdict));
    let Some(window) = window else { return reasons(whole, verdict) };
    let of = |day: i32| words::day(winter.date(day), whole.today);
    match verdicts::tag(verdict, whole.today) {
        Tag::NotYet => format!("buds full about {}", of(window.opens.middle)),
        Tag::GetReady => format!(
            "buds full about {}, green tips from {}{}",
            of(window.opens.middle),
            of(window.closes.middle + 1),
            if goes(whole, tree) { ": choose the day, pot and mix now" } else { "" }
        ),
        Tag::Repot | Tag::WithCare => {
            let stand = stand::words(whole, tree);
            let stand = if stand.is_empty() { stand } else { format!("; then {stand}") };
            let cautions: String = verdict
                .reasons
                .iter()
                .filter(|it| it.answer() == Answer::Caution)
                .map(|it| format!("; {}", verdicts::reason(*it, whole.today, whole.units())))
                .collect();
            format!(
                "{}; last good day about {} ({} to {}){stand}{cautions}",
                ready(verdict, whole),
                of(window.closes.middle),
                of(window.closes.early),
                of(window.closes.late),
            )
        }
        Tag::LookFirst => format!(
            "{} (closes about {}, {} to {})",
            reasons(whole, verdict),
            of(window.closes.middle),
            of(window.closes.early),
            of(window.closes.late)
        ),
        Tag::TooLate if told.forecast.stage_today() >= Stage::SeveralUnfolded => {
            "in leaf: its next window is next spring's, forecast from autumn on".into()
        }
        Tag::NotNow | Tag::NotThisYear if is_open(verdict) => format!(
            "{}; last good day about {} ({} to {})",
            reasons(whole, verdict),
            of(window.closes.middle),
            of(window.closes.early),
            of(window.closes.late)
        ),
        Tag::Wait => {
            let cold = verdict.main().find(|it| matches!(it, Reason::NoMildPlace { .. }));
            cold.map_or_else(String::new, |it| verdicts::reason(it, whole.today, whole.units()))
        }
        Tag::TooLate | Tag::NotNow | Tag::NotThisYear => reasons(whole, verdict),
    }
}

/// Whether the window may be open.
pub(crate) fn is_open(verdict: &Verdict) -> bool {
    verdict.reasons.iter().any(|it| matches!(it, Reason::BudsReady { .. } | Reason::WindowUnsure { .. }))
}

/// What says that the buds are ready.
fn ready(verdict: &Verdict, whole: &Whole) -> String {
    let found = verdict.reasons.iter().find(|it| matches!(it, Reason::BudsReady { .. }));
    found.map_or_else(String::new, |it| verdicts::reason(*it, whole.today, whole.units()))
}
