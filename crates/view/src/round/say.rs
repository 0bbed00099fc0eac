//! What the round says of a pot, in the reader's words: the reason, its pot, what was done, what is not known, whether it drinks again.

use collection::drink::Deed;
use jiff::civil::Date;
use measure::{
    quantity::{Hours, Units},
    stage::Stage,
    winter::Winter,
};
use season::{
    repot::aftercare::{Care, Feed, Light},
    watering::{
        drinking::{LOOK, USING},
        log::{Question, Story},
        odd::Odd,
        plan::{LIFT_AFTER, PotPlan, Remedy, Verdict},
        pots::Wanting,
    },
};

use super::local;
use crate::{
    water::{Water, drank},
    whole::{TreeWhole, Whole},
    words,
};

/// Seconds in which lines of the log belong to the round that is walked.
const THIS_ROUND: i64 = 3 * 3600;

/// The verdict in a word.
pub fn verdict_word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Water => "water",
        Verdict::Check => "check",
        Verdict::Leave => "leave",
    }
}

pub(super) fn remedy_words(remedy: Remedy) -> &'static str {
    match remedy {
        Remedy::Group => "stand it close among others (a sixth less, our estimate)",
        Remedy::Shade => "into shade, out of the wind (a third less, our estimate)",
        Remedy::WetTray => "on a wet tray of sand (about half, our estimate)",
        Remedy::Helper => "someone must water it in between",
    }
}

fn span(hours: Option<Hours>) -> String {
    match hours {
        None => "over a fortnight".into(),
        Some(Hours(hours)) if hours < 1.0 => "under an hour".into(),
        Some(Hours(hours)) if hours < 36.0 => words::count(hours.round() as i64, "hour", "hours"),
        Some(Hours(hours)) => words::count((hours / 24.0).round() as i64, "day", "days"),
    }
}

/// "in 9 hours", "within 6 hours", "within the hour".
fn within(hours: Option<Hours>, word: &str) -> String {
    match hours {
        Some(Hours(hours)) if hours < 1.0 => "within the hour".into(),
        hours => format!("{word} {}", span(hours)),
    }
}

pub(super) fn why(plan: &PotPlan) -> String {
    let chance = words::percent(plan.if_left.0);
    match (plan.verdict, plan.left) {
        (Verdict::Check, None) => "never seen full in the log: lift it, and write down what you do".into(),
        (Verdict::Check, Some(_)) if plan.silent.is_some_and(|silent| silent.0 < LIFT_AFTER * 24.0) => {
            format!("{chance} to be dry before the next visit, but its own use is hardly known: lift it")
        }
        (Verdict::Check, Some(_)) => format!(
            "nothing written down for {}: by the figures {chance} to be dry before the next visit, but lift it",
            span(plan.silent)
        ),
        (Verdict::Water, _) => format!(
            "{chance} to be dry before the next visit; dry {}, one in ten {}",
            within(plan.dry_middle, "in"),
            within(plan.dry_early, "within")
        ),
        (Verdict::Leave, _) if plan.dry_early.is_none() => {
            format!("{chance} to be dry before the next visit; lasts over a fortnight")
        }
        (Verdict::Leave, _) => format!(
            "{chance} to be dry before the next visit; lasts {}, one in ten only {}",
            span(plan.dry_middle),
            span(plan.dry_early)
        ),
    }
}

pub(super) fn pot_words(
    whole: &Whole,
    tree: &TreeWhole,
    units: Units,
    soil: measure::quantity::Litre,
) -> String {
    match tree.potted.last() {
        Some(&(_, pot, mix)) => {
            let (_, [length, width], _) = whole.pots[pot].vessel.top.key();
            format!(
                "{} × {}, {} of {}",
                units.span_figure(length),
                units.span(width),
                units.water(soil),
                whole.mixes[mix].name.to_lowercase()
            )
        }
        None => "pot not written down".into(),
    }
}

pub(super) fn done(water: &Water, tree: &TreeWhole, now: i64) -> Option<(String, Vec<i64>)> {
    let lines: Vec<_> = tree
        .drinks
        .iter()
        .filter(|(id, drink)| *id >= 0 && (now - THIS_ROUND..=now).contains(&drink.at))
        .collect();
    let (_, last) = lines.last()?;
    let at = local(water, last.at).strftime("%H:%M").to_string();
    let deed = match last.deed {
        Deed::Watered => "watered",
        Deed::Left => "left",
        Deed::Weighed(_) => "weighed",
        Deed::WeighedFull(_) => "watered and weighed",
    };
    let twice = lines.iter().filter(|(_, drink)| drink.deed.fills()).count() > 1;
    let words =
        if twice { format!("{deed} {at}, by two hands; it counts once") } else { format!("{deed} {at}") };
    Some((words, lines.iter().map(|(id, _)| *id).collect()))
}

pub(super) fn caveats(
    water: &Water,
    wanting: &[Wanting],
    plan: &PotPlan,
    story: &Story,
    units: Units,
    today: Date,
) -> Vec<String> {
    let mut caveats: Vec<String> = wanting
        .iter()
        .map(|wanting| {
            match wanting {
                Wanting::Pot => "no pot is written down; a middling one is taken",
                Wanting::MixEstimated => {
                    "its mix never went through the bucket; what it holds is estimated from its grains"
                }
                Wanting::MixUnknown => {
                    "its mix has no numbers that can be; a quarter of the soil is taken as water"
                }
                Wanting::Crown => "its crown was never measured; it is guessed from the pot",
            }
            .to_string()
        })
        .collect();
    caveats.push(match plan.belief.seen {
        0 if plan.belief.spread < season::watering::log::UNLEARNED => {
            "how it drinks in this state of leaf is carried over from its summer".into()
        }
        0 => "its own use was never weighed or remarked on: off by a factor of two either way".into(),
        seen => format!(
            "its own use is learned from {}: {:.1} times the rule, give or take {:.0} %",
            words::count(seen, "line of its log", "lines of its log"),
            plan.belief.mean.exp(),
            100.0 * (plan.belief.spread.exp() - 1.0)
        ),
    });
    caveats.extend(
        story.questions.iter().rev().take(1).map(|question| question_words(water, question, units, today)),
    );
    caveats
}

fn question_words(water: &Water, question: &Question, units: Units, today: Date) -> String {
    let day = words::day(local(water, water.thirst.moment(question.hour)).date(), today);
    let weighed = units.weight(question.weighed);
    let why = odd_words(question.odd, units);
    if question.confirmed {
        return format!(
            "on {day} it weighed {weighed}, {why}: you said that is right, so it counts from then on; until the next weighing what it drew is \
             believed only as if judged by eye"
        );
    }
    format!(
        "on {day} it weighed {weighed}, {why}: repotted, another scale, or kg for lb? It is left out of what is learned; record the repot or undo the line"
    )
}

/// Why a weighing cannot be right.
pub(crate) fn odd_words(odd: Odd, units: Units) -> String {
    match odd {
        Odd::Heavier { full } => format!("more than when it was full ({})", units.weight(full)),
        Odd::Lighter { full } => {
            format!("less than it could if all its water were gone (full it weighed {})", units.weight(full))
        }
        Odd::Jump { before, hours } => {
            let ago = match hours {
                hours if hours < 1.0 => words::count((hours * 60.0).round() as i32, "minute", "minutes"),
                hours if hours < 48.0 => words::count(hours.round() as i32, "hour", "hours"),
                hours => words::count((hours / 24.0).round() as i32, "day", "days"),
            };
            format!("further from the {} of {ago} before than its water explains", units.weight(before))
        }
        Odd::NoPot { soil } => {
            format!("which no pot with {} of soil weighs with its tree", units.water(soil))
        }
    }
}

/// What a bare tree's drinking says, with how often such words are wrong; none once leaves were seen this season.
pub fn drinking_words(whole: &Whole, tree: &TreeWhole) -> Option<String> {
    let season = whole.ground.as_ref().ok().map(|ground| ground.winter.date(Winter::FIRST_DAY))?;
    if tree.looks.iter().any(|(_, look)| look.day >= season && look.stage >= Stage::Breaking) {
        return None;
    }
    let forecast = tree.told.as_ref().ok().map(|told| &told.forecast);
    let drank = drank(whole, tree, forecast)?;
    let chance = words::percent(drank.awake.0);
    if drank.awake.0 >= USING {
        Some(format!(
            "using water: {chance} that it drinks again (told so, 3 in 100 tree-seasons were wrong, and the word came 10 to 24 days after waking began, in a simulation). A bud look decides"
        ))
    } else if drank.awake.0 >= LOOK {
        Some(format!(
            "look at the buds: {chance} that it drinks again, waking and not thirsty (such a word comes early one time in five, in a simulation)"
        ))
    } else {
        None
    }
}

/// What to heed since a repot.
pub(super) fn care(care: Care) -> String {
    let light = match care.light {
        Light::Shade => "out of the wind, under half the sun",
        Light::HalfSun => "half sun if its buds move",
        Light::Steps => "by steps to its full place",
        Light::Full => "at its full place",
    };
    let feed = match care.feed {
        Feed::None { left } => format!("no feed for {} yet", words::count(left.0.ceil(), "day", "days")),
        Feed::IfGrowthHardens => "first feed at half strength, only if new growth hardens".into(),
        Feed::Half => "feed at half strength".into(),
        Feed::Usual => "feed as usual".into(),
    };
    let sparing = if care.sparing { "; water only as the surface dries" } else { "" };
    format!("{} after its repot: {light}; {feed}{sparing}", words::count(care.since.0.floor(), "day", "days"))
}
