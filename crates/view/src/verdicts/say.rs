//! Verdicts in the grower's words.

use jiff::civil::Date;
use measure::quantity::{Share, Units};
use pot::repot::insult::Strength;
use state::{
    reason::Reason,
    verdict::{Answer, Budget, Verdict},
    work::Work,
};

use crate::words::{self, percent};

/// A line of the list "may it be done today".
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// The work, for addresses.
    pub key: &'static str,
    /// The work in words.
    pub work: &'static str,
    /// The answer in words.
    pub answer: String,
    /// Style and sign: "yes", "care", "look" or "no".
    pub sign: &'static str,
    /// Why, the weightiest first.
    pub why: Vec<String>,
    /// The year's points, for work that costs some; empty where it costs none.
    pub points: String,
    /// What the first reason stands on.
    pub standing: String,
}

/// Each verdict as a line.
pub fn lines(verdicts: &[Verdict], today: Date, units: Units) -> Vec<Line> {
    verdicts.iter().map(|it| line(it, today, units)).collect()
}

/// A verdict as a line.
pub fn line(it: &Verdict, today: Date, units: Units) -> Line {
    let is_against = it.answer.is_against();
    let strong = |reason: &&Reason| !is_against || reason.answer().is_against();
    let mut why: Vec<String> = Vec::new();
    for reason in it.reasons.iter().filter(strong) {
        let words = self::reason(*reason, today, units);
        if !why.contains(&words) {
            why.push(words);
        }
    }
    Line {
        key: it.work.key(),
        work: work(it.work),
        answer: answer(it.answer, today),
        sign: match it.answer {
            Answer::Yes => "yes",
            Answer::Caution => "care",
            Answer::LookFirst => "look",
            Answer::NotNow { .. } | Answer::NotThisSeason => "no",
        },
        why,
        points: told_points(it).map_or_else(String::new, |it| points(&it, today)),
        standing: it.because().standing().words(),
    }
}

/// The points, where some are spent and the work is done on this kind of tree at all.
fn told_points(it: &Verdict) -> Option<Budget> {
    let is_done = !it.reasons.contains(&Reason::NotThisKind);
    it.budget.filter(|budget| is_done && budget.spent > 0.005)
}

/// The year's points in words: what it costs, what is spent and left, and when enough is free.
pub fn points(it: &Budget, today: Date) -> String {
    let free = match it.free {
        Some(day) if day <= today => "enough is free now".into(),
        Some(day) => format!("free again from {}", words::day(day, today)),
        None => "too much for it at its strength".into(),
    };
    format!(
        "it costs {:.2} points; {:.2} spent in twelve months, {:.2} left; {free}",
        it.costs,
        it.spent.max(0.0),
        it.left
    )
}

/// An answer in words.
fn answer(it: Answer, today: Date) -> String {
    match it {
        Answer::Yes => "yes".into(),
        Answer::Caution => "yes, with care".into(),
        Answer::LookFirst => "look first".into(),
        Answer::NotNow { until: Some(day) } => format!("not now; from {} on", words::day(day, today)),
        Answer::NotNow { until: None } => "not now".into(),
        Answer::NotThisSeason => "not this season".into(),
    }
}

/// A kind of work in words.
pub fn work(it: Work) -> &'static str {
    match it {
        Work::Repot => "Repot, roots cut",
        Work::HardPrune => "Hard prune",
        Work::Trim => "Trim",
        Work::Pinch => "Pinch",
        Work::Defoliate => "Defoliate",
        Work::Decandle => "Decandle",
        Work::Wire => "Wire",
        Work::Unwire => "Take wire off",
        Work::Layer => "Air layer",
        Work::Move => "Move",
        Work::Feed => "Feed",
    }
}

fn share(it: Share) -> String {
    format!("{:.0} %", it.0 * 100.0)
}

fn strength(it: Strength) -> &'static str {
    match it {
        Strength::Sick => "it is sick; only a rescue is worth the risk",
        Strength::Weak => "it is weak; light, water and patience come first",
        Strength::Normal => "only a strong tree takes this, and it was judged normal",
        Strength::Strong => "a strong tree takes no more",
    }
}

/// A finding in words.
pub fn reason(it: Reason, today: Date, units: Units) -> String {
    let of = |day: Date| words::day(day, today);
    match it {
        Reason::Nothing => "nothing known speaks against it".into(),
        Reason::InSeason { until: Some(day), why } => format!("its usual months are now, until {}: {why}", of(day)),
        Reason::InSeason { until: None, why } => format!("its usual months are now: {why}"),
        Reason::BudsReady { seen: Some(day), .. } => format!("you saw the buds ready on {}", of(day)),
        Reason::BudsReady { chance, .. } => format!("buds are full or just breaking ({})", percent(chance)),
        Reason::GreenSeen { day, stage } => format!("you saw {} on {}", stage.words(), of(day)),
        Reason::WindowPast { chance } => format!("green tips are out ({}): cutting roots now costs the leaves", percent(chance)),
        Reason::WindowUnsure { ready, past } => format!(
            "the window may be open ({}) or over ({}): look at the buds",
            percent(ready),
            percent(past)
        ),
        Reason::BudsNotFull { opens } => {
            format!("buds full about {} ({} to {})", of(opens.middle), of(opens.early), of(opens.late))
        }
        Reason::BudsUnknown => "no forecast of its buds: look at them".into(),
        Reason::NoWindow => "the season's warmth does not bring its buds this far in most years".into(),
        Reason::NoMildPlace { from: Some(day) } => format!(
            "cut roots would sit cold and wet; earliest good day about {}, when a place is mild and frost-free for a fortnight",
            of(day)
        ),
        Reason::NoMildPlace { from: None } => "cut roots would sit cold and wet; no place you have is mild and frost-free for a fortnight this season".into(),
        Reason::OutOfSeason { next: Some(day), why } => format!("not its usual months; the next begin {}: {why}", of(day)),
        Reason::OutOfSeason { next: None, why } => format!("not its usual months: {why}"),
        Reason::ThenInSeason { day, next, why } => {
            format!("by {} it is out of its months; the next begin {}: {why}", of(day), of(next))
        }
        Reason::SecondWindow { condition } => format!("its second window: {condition}"),
        Reason::ByKind(it) => super::by_kind::words(it, today, units),
        Reason::NotThisKind => "not done on this kind of tree".into(),
        Reason::NotStrongEnough(it) => strength(it).into(),
        Reason::StrengthAssumed => "its strength was not judged within a year; normal is assumed".into(),
        Reason::JudgeFirst => "only a strong tree takes this: judge its strength first".into(),
        Reason::OverBudget { costs, left, free } => {
            let again = free.map_or(String::new(), |day| format!("; enough again from {}", of(day)));
            format!("it costs {costs:.2} points and {left:.2} are left of the year's{again}")
        }
        Reason::MajorSpent { free } => format!("the year's one major is spent, until {}", of(free)),
        Reason::TooSoon { until } => format!("too soon after the last time; from {} on", of(until)),
        Reason::RestDue { until } => format!("three seasons of work are behind it: let it rest until {}", of(until)),
        Reason::LayerOn { since } => format!("a layer is on it since {}; it keeps its roots and leaves until that is off", of(since)),
        Reason::RootsCut { day, share: cut, .. } => {
            format!("{} of its roots were cut on {}: its leaves feed the new ones this season", share(cut), of(day))
        }
        Reason::RootsSettling { day, until } => {
            format!("its roots were cut on {}: until {} only what runs away", of(day), of(until))
        }
        Reason::NoFeed { day, until } => format!("its roots were cut on {}: no feed before {}", of(day), of(until)),
        Reason::HalfFeed { until } => format!("half strength until {}, and only if new growth hardens", of(until)),
        Reason::DueUnknown => "nobody recorded its last repot, so whether it is due is not known".into(),
        Reason::NotNeeded { points: 0 } => "no sign asks for it".into(),
        Reason::NotNeeded { points: 1 } => "only 1 point of signs asks for it".into(),
        Reason::NotNeeded { points } => format!("only {points} points of signs ask for it"),
        Reason::Declined => "you said no for this season".into(),
        Reason::Done { day } => format!("it was repotted on {}", of(day)),
        Reason::Bleeds => "it bleeds while its sap rises; wait for full leaf".into(),
        Reason::NoLeaves => "it has no leaves now".into(),
        Reason::LeavesSoft => "its leaves are still soft; wait until they harden".into(),
        Reason::ShortSeason { days } if days < 0 => "the mean first frost is past".into(),
        Reason::ShortSeason { days } => format!(
            "{} to the mean first frost: too few for a second set of leaves, which needs eight weeks",
            words::count(days, "day", "days")
        ),
        Reason::SeasonUnknown => "how long the season lasts here is not known".into(),
        Reason::BudsRubOff => "buds swell and rub off: handle with care".into(),
        Reason::NoWire => "no wire on record".into(),
        Reason::LightFeedOnly => "it is weak: light feed only".into(),
        Reason::ColdShort { portions } => {
            format!("{portions:.0} chill portions short: keep it in the cold")
        },
        Reason::WakesInDark => "it wakes in the dark: move it to light and frost-free air".into(),
        Reason::BySteps => "out of weak light or warmth: by steps, not in one jump".into(),
        Reason::FrostThere { low, on, line, is_better } => format!(
            "{} there{}, and it is planned to survive {}{}",
            units.temperature(low),
            on.map_or_else(|| ", in the coldest year of ten".into(), |day| format!(" ({})", of(day))),
            units.temperature(line),
            if is_better { "; colder yet where it stands" } else { "" }
        ),
        Reason::BallFrostThere { ball, line, is_better } => format!(
            "its pot may go to {} there, and its roots are planned to survive {}{}",
            units.temperature(ball),
            units.temperature(line),
            if is_better { "; colder yet where it stands" } else { "" }
        ),
        Reason::PlaceUnknown => "no weather tells how cold it gets there".into(),
        Reason::DarkThere => "it is awake, and gets no light there".into(),
        Reason::HoldsInDark => "its buds are full or near: cold and dark hold it a little; look twice a week, and bring it out at the first green".into(),
        Reason::DimThere { light } => {
            format!("about {light:.0} mol/m² of light a day there: thin for leaves")
        }
        Reason::HeatedRoom => "a heated room: it rests, and needs its cold".into(),
        Reason::WarmthWakes => {
            "its cold is met, so warmth wakes it: it then needs light, and no frost until the last is past".into()
        }
        Reason::HeatThere { high, line } => {
            format!("up to {} there: shade it above {}", units.temperature(high), units.temperature(line))
        }
        Reason::NoRoomThere => "no room is left there".into(),
    }
}
