//! A move tried out before it is made, on one tree or on a selection.

use jiff::civil::Date;
use measure::{ladder::Ladder, stage::Stage, winter::Winter};
use season::{
    ground::{HORIZON, Stay},
    what_if::{WayBack, WhatIf, what_if},
    window::{Outlook, Told},
};

use state::verdict::Verdict;

use crate::{
    frost,
    strip::{Frame, Strip, strip},
    verdicts::{self, Line, Step},
    waking,
    whole::{TreeWhole, Whole, facts},
    words::{self, Days},
};

/// A move tried out.
#[derive(Clone, Debug, PartialEq)]
pub struct Trial {
    /// Where to.
    pub place: String,
    /// The place's key.
    pub place_key: String,
    /// When, in words.
    pub day: String,
    /// When, for machines.
    pub iso: String,
    /// Whether that day has come, so that the move can be written down.
    pub has_come: bool,
    /// Whether its buds tell a window for its roots; those of pines and junipers do not.
    pub has_window: bool,
    /// The strip if it stays.
    pub leave: Strip,
    /// The strip if it goes.
    pub go: Strip,
    /// The window if it stays.
    pub leave_opens: Option<Days>,
    /// The window if it goes.
    pub go_opens: Option<Days>,
    /// The close if it stays.
    pub leave_closes: Option<Days>,
    /// The close if it goes.
    pub go_closes: Option<Days>,
    /// How both ends of the window move.
    pub shift: String,
    /// The same as days.
    pub shifts: Shifts,
    /// May it be moved there that day: the verdict.
    pub verdict: Verdict,
    /// The same in words.
    pub may: Line,
    /// The steps of a move into the sun.
    pub steps: Vec<Step>,
    /// A warning where its cold is not met.
    pub cold: String,
    /// True where the warning is one.
    pub cold_short: bool,
    /// Light there.
    pub light: String,
    /// Days from green tips to the last frost outside that passes the line of its young leaves, in a middling year.
    pub frost_care: Option<i32>,
    /// Frost care in words.
    pub frost: String,
    /// The way back.
    pub back: String,
}

impl Trial {
    /// Each stage with when it is reached if the tree stays and if it goes.
    pub fn stages(&self) -> impl Iterator<Item = (&String, &Option<Days>, &Option<Days>)> {
        self.leave.dates.iter().zip(&self.go.dates).map(|((stage, stay), (_, go))| (stage, stay, go))
    }
}

/// Said instead of a shift of the window.
const NO_WINDOW: &str = "its roots go by the months, wherever it stands";

/// A move to try: the place's key and the day.
#[derive(Clone, Copy, Debug)]
pub struct Try<'a> {
    /// Where to.
    pub place: &'a str,
    /// When.
    pub day: Date,
}

/// First and last day on which a move may be tried; none where there is no weather yet.
pub fn trial_days(whole: &Whole) -> Option<(Date, Date)> {
    let ground = whole.ground.as_ref().ok()?;
    Some((ground.winter.first_date(), ground.winter.date(HORIZON)))
}

/// How far the ends of a window move, in days of their middles; later is more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shifts {
    /// Both ends; those that lie behind today stay where they are.
    Ends {
        /// Of the opening.
        opens: i32,
        /// Of the last good day.
        closes: i32,
    },
    /// It opens there, and no green comes this season: it does not close.
    Held {
        /// Of the opening.
        opens: i32,
    },
    /// It has a window where it stands, and none there.
    Lost,
    /// It has one there alone.
    Won,
    /// It has none either way.
    None,
}

/// How far the window of a tree moves.
pub(crate) fn shifts(leave: &Told, go: &Told) -> Shifts {
    match (leave.forecast.window(), go.forecast.window()) {
        (Some(stay), Some(moved)) => Shifts::Ends {
            opens: moved.opens.middle - stay.opens.middle,
            closes: moved.closes.middle - stay.closes.middle,
        },
        // Held at full buds by the cold: it opens, and green does not come.
        (Some(stay), None) => match go.forecast.of(Stage::Full) {
            Some(full) => Shifts::Held { opens: full.middle - stay.opens.middle },
            None => Shifts::Lost,
        },
        (None, Some(_)) => Shifts::Won,
        (None, None) => Shifts::None,
    }
}

impl Shifts {
    /// In words: both ends, and what that does to the days between.
    pub fn words(self) -> String {
        let moved = |days: i32| match days {
            0 => "on the same day".into(),
            days if days < 0 => format!("{} sooner", words::count(-days, "day", "days")),
            days => format!("{} later", words::count(days, "day", "days")),
        };
        match self {
            Shifts::Ends { opens: 0, closes: 0 } => "the same window".into(),
            Shifts::Ends { opens, closes } => {
                let length = match closes - opens {
                    0 => "as long".into(),
                    days if days < 0 => format!("{} shorter", words::count(-days, "day", "days")),
                    days => format!("{} longer", words::count(days, "day", "days")),
                };
                format!("opens {}, closes {}: {length}", moved(opens), moved(closes))
            }
            Shifts::Held { opens } => {
                format!("opens {}, and is held there: no green this season", moved(opens))
            }
            Shifts::Lost => "no window this season".into(),
            Shifts::Won => "a window where there was none".into(),
            Shifts::None => "no window either way".into(),
        }
    }
}

/// A move tried out on a selection.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trials {
    /// Key, name and answer of each tree.
    pub told: Vec<(String, String, Trial)>,
    /// Names of trees of which nothing can be told.
    pub untold: Vec<String>,
    /// Keys that are not in the collection.
    pub unknown: Vec<String>,
}

/// A move tried out on the trees of these keys; none when there is no weather yet.
pub fn trials(whole: &Whole, keys: &[&str], attempt: Try<'_>) -> Option<Trials> {
    let ground = whole.ground.as_ref().ok()?;
    let (mut outlook, mut trials) = (Outlook::new(ground), Trials::default());
    for key in keys {
        let Some(tree) = whole.trees.iter().find(|tree| tree.tree.key == *key) else {
            trials.unknown.push((*key).to_string());
            continue;
        };
        match trial(whole, tree, attempt, &mut outlook) {
            Some(told) => trials.told.push((tree.tree.key.clone(), tree.tree.name.clone(), told)),
            None => trials.untold.push(tree.tree.name.clone()),
        }
    }
    Some(trials)
}

pub(crate) fn trial(
    whole: &Whole,
    it: &TreeWhole,
    attempt: Try<'_>,
    outlook: &mut Outlook<'_>,
) -> Option<Trial> {
    let rank = whole.places.iter().position(|place| place.place.key == attempt.place)?;
    let place = &whole.places[rank].place;
    let winter = outlook.ground.winter;
    let then = Stay { from: winter.day_number(attempt.day), place: rank };
    let latitude = whole.site.as_ref()?.latitude;
    let open_air = whole.places.len();
    let young_leaves = frost::young_leaves(whole, it);
    let told = what_if(outlook, &facts(it, whole), then, latitude, place, open_air, young_leaves).ok()?;
    let verdict = verdicts::moving(whole, it, rank, attempt.day);
    let has_window = Ladder::of(it.tree.taxon).has_window();
    let (ground, frame) = (outlook.ground, Frame::around(outlook.ground.today));
    let drawn = |told: &Told| strip(&told.forecast, Ladder::of(it.tree.taxon), winter, ground.today, frame);
    let opens = |told: &Told| told.forecast.window().map(|w| words::days(winter, w.opens, whole.today));
    let closes = |told: &Told| told.forecast.window().map(|w| words::days(winter, w.closes, whole.today));
    Some(Trial {
        place: place.name.clone(),
        place_key: place.key.clone(),
        day: words::day(attempt.day, whole.today),
        iso: attempt.day.to_string(),
        has_come: attempt.day <= whole.today,
        has_window,
        leave: drawn(&told.leave),
        go: drawn(&told.go),
        leave_opens: opens(&told.leave),
        go_opens: opens(&told.go),
        leave_closes: closes(&told.leave),
        go_closes: closes(&told.go),
        shift: if has_window { shifts(&told.leave, &told.go).words() } else { NO_WINDOW.into() },
        shifts: shifts(&told.leave, &told.go),
        may: verdicts::line(&verdict, whole.today, whole.units()),
        steps: verdicts::steps(whole, it, rank, attempt.day),
        verdict,
        cold_short: told.cold_short > 0.0,
        cold: cold_words(whole, &told, winter, ground.today),
        light: told.light.words.clone(),
        frost_care: told.frost_care,
        frost: frost_words(&told, young_leaves.map(|line| whole.units().temperature(line))),
        back: back_words(whole, told.way_back, winter),
    })
}

fn cold_words(whole: &Whole, told: &WhatIf, winter: Winter, today: i32) -> String {
    if told.cold_short > 0.0 {
        format!(
            "{:.0} of its {:.0} chill portions still missing on that day: it would wake weakly and unevenly. Left where \
             it is: {}",
            told.cold_short,
            told.leave.cold_need,
            waking::cold_when(&told.leave, winter, today, whole)
        )
    } else {
        "it has the cold it needs by that day".into()
    }
}

/// Frost after waking, by the line of the tree's own young leaves.
fn frost_words(told: &WhatIf, line: Option<String>) -> String {
    let Some(line) = line else { return "no line of its leaves is known".into() };
    match told.frost_care {
        Some(0) => format!("green tips come after the last frost below {line} of a middling year"),
        Some(days) => format!(
            "{} from green tips to the last frost below {line} outside in a middling year: it must be kept in or carried in until then",
            words::count(days, "day", "days")
        ),
        None => "green tips are not reached this season".into(),
    }
}

fn back_words(whole: &Whole, back: WayBack, winter: Winter) -> String {
    match back {
        WayBack::Until(Some(day)) => format!(
            "it can go back to the cold until its buds swell, about {}",
            words::day(winter.date(day), whole.today)
        ),
        WayBack::Until(None) => "it can go back to the cold at any time this season".into(),
        WayBack::ToHold => "its buds have swollen: the cold would hold it a little, no more".into(),
        WayBack::Closed => "green shows: no way back into the dark".into(),
    }
}
