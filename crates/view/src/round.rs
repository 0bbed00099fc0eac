//! The round: every pot in walking order by place, with what to do now, why, and what the figures do not know.

mod say;

use collection::drink::Away;
use jiff::{Timestamp, civil::Date};
use measure::quantity::Units;
use season::watering::{
    after_cut::after_cut,
    plan::{Planner, Verdict},
    visits::kept_by,
};

pub(crate) use say::odd_words;
pub use say::{drinking_words, verdict_word};

use crate::{
    after_cut::row_words as cut_words,
    leaf::{Asked, asked},
    water::{LOOK_AHEAD, Water, planner, tree_water},
    whole::{TreeWhole, Whole},
    words,
};

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
    /// What to heed since its repot: light, feed and frost.
    pub care: Option<String>,
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
    /// Trees whose leaves are asked about, those most in doubt first.
    pub leaves: Vec<Asked>,
    /// The day for their forms.
    pub day: String,
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
        leaves: asked(whole),
        day: whole.today.to_string(),
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

/// The first and the last moment for which a round can be shown: as far as weather and forecast reach; none while there is neither.
pub fn reach(whole: &Whole) -> Option<(i64, i64)> {
    let thirst = &whole.water()?.thirst;
    let hours = thirst.rain.first().map_or(0, Vec::len);
    Some((thirst.moment(0.0), thirst.moment(hours as f64) - 1))
}

/// The day of a moment by the clock of the site.
pub fn day_of(whole: &Whole, at: i64) -> String {
    whole.water().map_or_else(String::new, |water| local(water, at).date().to_string())
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
    let done = say::done(water, tree, now);
    let caveats = say::caveats(water, &own.facts.wanting, &plan, &story, units, whole.today);
    Ok(RoundRow {
        key: tree.tree.key.clone(),
        name: tree.tree.name.clone(),
        pot: say::pot_words(whole, tree, units, own.facts.soil),
        verdict: plan.verdict,
        verdict_word: verdict_word(plan.verdict),
        why: say::why(&plan),
        left: plan.left.map(|left| (left.0 * 100.0).round() as u32),
        draws: units.water(plan.draws),
        remedy: plan.remedy.map(|remedy| {
            format!(
                "{} to be dry by then even when watered now; cheapest: {}",
                words::percent(plan.if_watered.0),
                say::remedy_words(remedy)
            )
        }),
        will_not_last: plan.remedy.is_some(),
        done,
        caveats,
        drinking: drinking_words(whole, tree),
        cut: after_cut(&own, &water.thirst, &story, water.thirst.hour(now))
            .map_err(|why| why.to_string())?
            .and_then(|told| cut_words(whole, water, &told, plan.left)),
        care: plan.care.map(say::care),
        soil: (own.facts.soil.0 * 1000.0) as i64,
    })
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
                for words in row.drinking.iter().chain(&row.cut).chain(&row.care) {
                    text.push_str(&format!("        {words}\n"));
                }
            }
        }
        text
    }
}
