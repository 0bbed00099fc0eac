//! The reason behind each advice, in the grower's words.

use measure::{stage::Stage, winter::Winter};
use season::{
    advice::{Advice, InStore},
    window::Told,
};

use crate::{
    whole::{TreeWhole, Whole},
    words,
};

/// Where a tree that opens in the dark could go, and until when its roots may be cut.
fn in_store_why(whole: &Whole, told: &Told, winter: Winter) -> String {
    let today = winter.day_number(whole.today);
    let open: Vec<&str> = whole
        .places
        .iter()
        .filter(|place| place.recovery.is_some_and(|day| day <= today) && has_room(place))
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

/// Where a tree must stand after root work, if its own place is too cold.
fn afterwards(whole: &Whole, tree: &TreeWhole, winter: Winter) -> String {
    let today = winter.day_number(whole.today);
    let heals = |place: &crate::whole::PlaceWhole| place.recovery.is_some_and(|day| day <= today);
    if tree.place.is_some_and(|rank| heals(&whole.places[rank])) {
        return String::new();
    }
    let names: Vec<&str> = whole
        .places
        .iter()
        .filter(|place| heals(place) && has_room(place))
        .map(|place| place.place.name.as_str())
        .collect();
    if names.is_empty() {
        String::new()
    } else {
        format!("; then stand it frost-free: {}", names.join(" or "))
    }
}

/// Whether a place takes one more tree.
fn has_room(place: &crate::whole::PlaceWhole) -> bool {
    place.place.capacity.is_none_or(|room| place.trees.len() < room as usize)
}

/// The reason for the advice.
pub(crate) fn why(whole: &Whole, tree: &TreeWhole, told: &Told, winter: Winter) -> String {
    let of = |day: i32| words::day(winter.date(day), whole.today);
    let window = told.forecast.window();
    if tree.in_store != InStore::Fine {
        return in_store_why(whole, told, winter);
    }
    match tree.advice {
        Advice::NotYet => match window {
            Some(window) => format!("buds full about {}", of(window.opens.middle)),
            None => String::new(),
        },
        Advice::GetReady => match window {
            Some(window) => format!(
                "buds full about {}, green tips from {}: choose the day, pot and mix now",
                of(window.opens.middle),
                of(window.closes.middle + 1)
            ),
            None => String::new(),
        },
        Advice::Repot => match window {
            Some(window) => format!(
                "{}; last good day about {} ({} to {}){}",
                match told.forecast.stage_today() {
                    Stage::Dormant | Stage::Swelling => "buds full any day now",
                    Stage::Full => "buds full and shut, the best days",
                    _ => "first green shows, the last days for root work",
                },
                of(window.closes.middle),
                of(window.closes.early),
                of(window.closes.late),
                afterwards(whole, tree, winter)
            ),
            None => String::new(),
        },
        Advice::LookFirst => match window {
            Some(window) => format!(
                "the window may be open or just over (closes about {}, {} to {}): only a look tells",
                of(window.closes.middle),
                of(window.closes.early),
                of(window.closes.late)
            ),
            None => String::new(),
        },
        Advice::WaitForWarmth { until } => {
            let when = if until >= season::ground::HORIZON {
                "no place you have is mild and frost-free for a fortnight this season".into()
            } else {
                format!(
                    "earliest good day about {}, when a place is mild and frost-free for a fortnight",
                    of(until)
                )
            };
            format!("buds move, but cut roots would sit cold and wet; {when}")
        }
        Advice::TooLate if told.forecast.stage_today() >= Stage::SeveralUnfolded => {
            "in leaf: its next window is next spring's, told from autumn on".into()
        }
        Advice::TooLate => "leaves are coming out: cutting roots now costs them".into(),
        Advice::NotKnown => "the season's warmth does not bring it this far in most years".into(),
    }
}
