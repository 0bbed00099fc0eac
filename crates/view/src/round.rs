//! The round: every pot in walking order by place, with what to do now, why, and what the figures do not know.

use collection::drink::{Away, Deed};
use jiff::{Timestamp, civil::Date};
use measure::{
    quantity::{Gram, Hours, Units},
    stage::Stage,
    winter::Winter,
};
use season::watering::{
    after_cut::after_cut,
    drinking::{LOOK, USING},
    log::{Question, Story},
    plan::{LIFT_AFTER, Planner, PotPlan, Remedy, Verdict},
    pots::Wanting,
    visits::kept_by,
};

use crate::{
    after_cut::row_words as cut_words,
    water::{LOOK_AHEAD, Water, drank, planner, tree_water},
    whole::{TreeWhole, Whole},
    words,
};

/// Seconds in which lines of the log belong to the round that is walked.
const THIS_ROUND: i64 = 3 * 3600;

/// Absences shown.
const MOST_AWAYS: usize = 12;

/// One pot of the round.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundRow {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Its pot in a few words.
    pub pot: String,
    /// What to do.
    pub verdict: Verdict,
    /// The same in a word.
    pub verdict_word: &'static str,
    /// The reason.
    pub why: String,
    /// What is left of its water, in per cent, for the gauge.
    pub left: Option<u32>,
    /// What it draws in a day.
    pub draws: String,
    /// What would make it last until the next visit.
    pub remedy: Option<String>,
    /// Whether it will not last even when watered now.
    pub will_not_last: bool,
    /// What was done on this round, with the numbers of the lines, to be taken back.
    pub done: Option<(String, Vec<i64>)>,
    /// What is not known, or asked.
    pub caveats: Vec<String>,
    /// Its drinking, where it tells of waking.
    pub drinking: Option<String>,
    /// That its roots were cut, and what that does to these figures.
    pub cut: Option<String>,
    /// Soil in the pot, millilitres, for the order.
    soil: i64,
}

/// A place's part of the round.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundPlace {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Its pots: water, check, leave; the small first.
    pub rows: Vec<RoundRow>,
    /// How long ago anything was last written down of the pot that waited longest.
    pub oldest: String,
    /// In store: which pots to lift for the rest.
    pub samples: Vec<String>,
}

/// The page.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundPage {
    /// The moment, in words.
    pub moment: String,
    /// The moment for machines.
    pub iso: String,
    /// When the grower can be back, and what keeps them.
    pub next: String,
    /// Places in walking order.
    pub places: Vec<RoundPlace>,
    /// How many to water, to check, to leave.
    pub counts: [usize; 3],
    /// How many will not last.
    pub short: usize,
    /// Trees of which nothing can be said, and why.
    pub untold: Vec<(String, String)>,
    /// What the round rests on and what weakens it.
    pub notes: Vec<String>,
}

/// The round at a moment, seconds since 1970; none while there is no site or weather.
pub fn round(whole: &Whole, now: i64) -> Option<RoundPage> {
    let water = whole.water()?;
    let (mut planner, next) = planner(whole, water, now);
    let mut page = RoundPage {
        moment: clock(water, now, whole.today),
        iso: local(water, now).strftime("%Y-%m-%dT%H:%M").to_string(),
        next: next_words(whole, water, now, next),
        places: Vec::new(),
        counts: [0; 3],
        short: 0,
        untold: Vec::new(),
        notes: notes(whole, water),
    };
    let mut rows: Vec<Vec<RoundRow>> = whole.places.iter().map(|_| Vec::new()).collect();
    for tree in &whole.trees {
        match row(whole, water, tree, &mut planner, now) {
            Ok(row) => {
                page.counts[row.verdict as usize] += usize::from(row.done.is_none());
                page.short += usize::from(row.will_not_last);
                rows[tree.place.unwrap_or(0)].push(row);
            }
            Err(why) => page.untold.push((tree.tree.name.clone(), why)),
        }
    }
    for (place, mut rows) in whole.places.iter().zip(rows) {
        if rows.is_empty() {
            continue;
        }
        rows.sort_by(|a, b| (a.verdict, a.soil, &a.name).cmp(&(b.verdict, b.soil, &b.name)));
        page.places.push(RoundPlace {
            key: place.place.key.clone(),
            name: place.place.name.clone(),
            oldest: oldest(whole, &place.trees, now),
            samples: samples(&rows),
            rows,
        });
    }
    Some(page)
}

fn local(water: &Water, at: i64) -> jiff::civil::DateTime {
    water.zone.to_datetime(Timestamp::from_second(at).unwrap_or_default())
}

/// "today 19:00", "28 Mar 06:30".
fn clock(water: &Water, at: i64, today: Date) -> String {
    let at = local(water, at);
    let day = match (at.date() - today).get_days() {
        0 => "today".into(),
        1 => "tomorrow".into(),
        _ => words::day(at.date(), today),
    };
    format!("{day} {}", at.strftime("%H:%M"))
}

fn next_words(whole: &Whole, water: &Water, now: i64, next: Option<i64>) -> String {
    let Some(next) = next else {
        return format!("no visit is possible within {LOOK_AHEAD} days");
    };
    let hours = words::count((next - now + 1800) / 3600, "hour", "hours");
    let kept = kept_by(&whole.aways, now, next).map(|away: &Away| format!(", after “{}”", away.words));
    format!("{}, in {hours}{}", clock(water, next, whole.today), kept.unwrap_or_default())
}

fn notes(whole: &Whole, water: &Water) -> Vec<String> {
    let thirst = &water.thirst;
    let mut notes = vec![
        "demand is reckoned from the low and high of each day (Hargreaves and Samani 1985; a single day is off by 20 to 25 %, remembered)"
            .to_string(),
        match thirst.years {
            0 => "no past year tells the fortnight to come: today's weather is taken to go on".into(),
            years => format!(
                "{} of the same dates stand for the days that no forecast tells",
                words::count(years, "past year", "past years")
            ),
        },
        "how leaf, place and mix act are planning figures until a tree's own log speaks (common practice, no source)".into(),
    ];
    if !thirst.rain_known {
        notes.push("the station's record tells no rain, so none is counted".into());
    }
    if whole.aways.is_empty() {
        notes.push("no shift or absence is known: every round is taken to be possible".into());
    }
    notes
}

pub(crate) fn row(
    whole: &Whole,
    water: &Water,
    tree: &TreeWhole,
    planner: &mut Planner<'_>,
    now: i64,
) -> Result<RoundRow, String> {
    let forecast = tree.told.as_ref().ok().map(|told| &told.forecast);
    let own =
        tree_water(whole, water, tree, forecast, now).ok_or("its pot's measures are those of no pot")?;
    let story = own.story(&water.thirst).map_err(|why| why.to_string())?;
    let plan = planner.plan(&own, &story, tree.tree.worth).map_err(|why| why.to_string())?;
    let units = whole.site.as_ref().map_or(Units::Metric, |site| site.units);
    let done = done(water, tree, now);
    let caveats = caveats(water, &own.facts.wanting, &plan, &story, units, whole.today);
    Ok(RoundRow {
        key: tree.tree.key.clone(),
        name: tree.tree.name.clone(),
        pot: pot_words(whole, tree, units, own.facts.soil),
        verdict: plan.verdict,
        verdict_word: verdict_word(plan.verdict),
        why: why(&plan),
        left: plan.left.map(|left| (left.0 * 100.0).round() as u32),
        draws: units.water(plan.draws),
        remedy: plan.remedy.map(|remedy| {
            format!(
                "{} to be dry by then even when watered now; cheapest: {}",
                words::percent(plan.if_watered.0),
                remedy_words(remedy)
            )
        }),
        will_not_last: plan.remedy.is_some(),
        done,
        caveats,
        drinking: drinking_words(whole, tree),
        cut: after_cut(&own, &water.thirst, &story, water.thirst.hour(now))
            .map_err(|why| why.to_string())?
            .and_then(|told| cut_words(whole, water, &told, plan.left)),
        soil: (own.facts.soil.0 * 1000.0) as i64,
    })
}

/// The verdict in a word.
pub fn verdict_word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Water => "water",
        Verdict::Check => "check",
        Verdict::Leave => "leave",
    }
}

fn remedy_words(remedy: Remedy) -> &'static str {
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

fn why(plan: &PotPlan) -> String {
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
            "{chance} to be dry before the next visit; dry in {}, one in ten within {}",
            span(plan.dry_middle),
            span(plan.dry_early)
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

fn pot_words(whole: &Whole, tree: &TreeWhole, units: Units, soil: measure::quantity::Litre) -> String {
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

fn done(water: &Water, tree: &TreeWhole, now: i64) -> Option<(String, Vec<i64>)> {
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

fn caveats(
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
    let (hour, weighed, full, how): (f64, Gram, Gram, &str) = match *question {
        Question::Heavier { hour, weighed, full } => (hour, weighed, full, "more than when it was full"),
        Question::Lighter { hour, weighed, full } => {
            (hour, weighed, full, "less than it could if all its water were gone; full it weighed")
        }
    };
    let day = words::day(local(water, water.thirst.moment(hour)).date(), today);
    format!(
        "on {day} it weighed {}, {how} ({}): repotted, another scale, or kg for lb? It was not used; write down the repot or take the line back",
        units.weight(weighed),
        units.weight(full)
    )
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

/// Days since the line of the log that is oldest among a place's trees.
fn oldest(whole: &Whole, trees: &[usize], now: i64) -> String {
    let last = |rank: &usize| {
        let mut lines = whole.trees[*rank].drinks.iter().rev();
        lines.find(|(_, drink)| drink.at <= now).map(|(_, drink)| drink.at)
    };
    match trees.iter().map(last).min() {
        Some(Some(at)) if now - at >= 86_400 => {
            format!("longest without a line: {}", words::count((now - at) / 86_400, "day", "days"))
        }
        Some(Some(_)) => "all seen within a day".into(),
        Some(None) => "some were never written down".into(),
        None => String::new(),
    }
}

/// In store: of the pots to check, the smallest, the middle and the largest stand for the rest.
fn samples(rows: &[RoundRow]) -> Vec<String> {
    let mut checks: Vec<&RoundRow> =
        rows.iter().filter(|row| row.verdict == Verdict::Check && row.left.is_some()).collect();
    if checks.len() < 5 {
        return Vec::new();
    }
    checks.sort_by_key(|row| row.soil);
    let mut ranks = vec![0, checks.len() / 2, checks.len() - 1];
    ranks.dedup();
    ranks.into_iter().map(|rank| checks[rank].name.clone()).collect()
}

/// Absences that end after a moment: in words, with name and start to take them back.
pub fn aways(whole: &Whole, now: i64) -> Vec<(String, String, i64)> {
    let Some(water) = whole.water() else { return Vec::new() };
    let ahead = whole.aways.iter().filter(|away| away.to > now).take(MOST_AWAYS);
    let words = |away: &Away| {
        format!(
            "{}: {} to {}",
            away.words,
            clock(water, away.from, whole.today),
            clock(water, away.to, whole.today)
        )
    };
    ahead.map(|away| (words(away), away.uid.clone(), away.from)).collect()
}

impl RoundPlace {
    /// Whether anything is to be done there.
    pub fn presses(&self) -> bool {
        self.left_alone() < self.rows.len()
    }

    /// How many of its pots may be left.
    pub fn left_alone(&self) -> usize {
        let alone = |row: &&RoundRow| row.verdict == Verdict::Leave && !row.will_not_last;
        self.rows.iter().filter(alone).count()
    }

    /// Whether one of its pots will not last.
    pub fn has_short(&self) -> bool {
        self.rows.iter().any(|row| row.will_not_last)
    }
}

impl RoundPage {
    /// The round as lines for a terminal or a printed card.
    pub fn text(&self) -> String {
        let mut text = format!(
            "Round {}; next at the pots {}\nwater {}, check {}, leave {}; {} will not last\n",
            self.moment, self.next, self.counts[0], self.counts[1], self.counts[2], self.short
        );
        for place in &self.places {
            text.push_str(&format!("\n{} ({})\n", place.name, place.oldest));
            for row in place.rows.iter().filter(|row| row.verdict != Verdict::Leave || row.will_not_last) {
                let done = row.done.as_ref().map(|(words, _)| format!(" [{words}]")).unwrap_or_default();
                text.push_str(&format!(
                    "  {:5} {} ({}): {}{done}\n",
                    row.verdict_word, row.name, row.pot, row.why
                ));
                if let Some(remedy) = &row.remedy {
                    text.push_str(&format!("        {remedy}\n"));
                }
                for words in row.drinking.iter().chain(&row.cut) {
                    text.push_str(&format!("        {words}\n"));
                }
            }
        }
        text
    }
}
