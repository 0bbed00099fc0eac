//! The page *Waking*: one row per tree, ordered by window.

use jiff::{Timestamp, civil::Date, tz::TimeZone};
use measure::{ladder::Ladder, stage::Stage, winter::Winter};
use season::{
    advice::{InStore, firmness},
    air::Origin,
    window::Told,
};

use crate::{
    hindsight::{Hindsight, hindsight},
    leaf::LeafRow,
    strip::{Frame, Strip, strip},
    whole::{TreeWhole, Whole},
    why::why,
    words::{self, Days},
};

/// One tree's row.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Botanical name.
    pub taxon: &'static str,
    /// Where it stands.
    pub place: String,
    /// Cold received against need, "62 of 78 chill portions".
    pub cold: String,
    /// Share of the need, 0 to 100.
    pub cold_share: u32,
    /// When the cold is or was met.
    pub cold_when: String,
    /// True where models that know a need disagree.
    pub cold_disputed: bool,
    /// The likeliest stage today, code and words; while leaves are on, what they do and will do.
    pub stage: String,
    /// Its leaves, from September in the north until green shows.
    pub leaf: Option<LeafRow>,
    /// Its chance.
    pub stage_chance: String,
    /// The strip.
    pub strip: Strip,
    /// What the stage before growth is called.
    pub ready: &'static str,
    /// Whether its roots are cut by months, and its buds or tips tell no window.
    pub by_months: bool,
    /// When buds are full.
    pub opens: Option<Days>,
    /// The last day before green tips.
    pub closes: Option<Days>,
    /// Firm, fair or loose.
    pub confidence: &'static str,
    /// What to do.
    pub advice: &'static str,
    /// Why.
    pub why: String,
    /// What a look would bring.
    pub look: Option<LookWorth>,
    /// True where it opens in the dark.
    pub opening_in_store: bool,
    /// The last look in words.
    pub last_look: String,
}

/// What one sure look today is worth.
#[derive(Clone, Debug, PartialEq)]
pub struct LookWorth {
    /// Days of spread it is expected to take away.
    pub days: i32,
    /// In words.
    pub words: String,
}

/// A tree of which nothing can be told, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Untold {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Botanical name.
    pub taxon: &'static str,
    /// Why.
    pub why: String,
}

/// The page.
#[derive(Clone, Debug, PartialEq)]
pub struct Waking {
    /// Today in words.
    pub today: String,
    /// Rows, the soonest window first.
    pub rows: Vec<Row>,
    /// Trees without an answer.
    pub untold: Vec<Untold>,
    /// The one look that would help most.
    pub best_look: Option<BestLook>,
    /// How many trees are asked about: are they in leaf?
    pub asked: usize,
    /// How many measured past years follow this season.
    pub years: usize,
    /// How old the weather is, where that matters.
    pub weather: String,
    /// Told against seen over past springs; none where no look dates one.
    pub past: Option<Hindsight>,
}

/// The one look that would help most.
#[derive(Clone, Debug, PartialEq)]
pub struct BestLook {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// What it brings.
    pub words: String,
}

/// The page for a day.
pub fn waking(whole: &Whole) -> Waking {
    let mut rows: Vec<(i32, Row)> = Vec::new();
    let mut untold = Vec::new();
    for tree in &whole.trees {
        match (&tree.told, &whole.ground) {
            (Ok(told), Ok(ground)) => {
                let order = told.forecast.window().map_or(i32::MAX, |window| {
                    // A window that has passed goes to the end.
                    if window.closes.middle < ground.today {
                        1000 + window.opens.middle
                    } else {
                        window.opens.middle
                    }
                });
                rows.push((order, row(whole, tree, told, ground.winter, ground.today)));
            }
            (Err(why), _) | (_, Err(why)) => untold.push(Untold {
                key: tree.tree.key.clone(),
                name: tree.tree.name.clone(),
                taxon: tree.tree.taxon.name,
                why: why.clone(),
            }),
        }
    }
    rows.sort_by(|a, b| (a.0, &a.1.name).cmp(&(b.0, &b.1.name)));
    let rows: Vec<Row> = rows.into_iter().map(|(_, row)| row).collect();
    let best =
        rows.iter().filter_map(|row| Some((row, row.look.as_ref()?))).max_by_key(|(_, look)| look.days).map(
            |(row, look)| BestLook {
                key: row.key.clone(),
                name: row.name.clone(),
                words: look.words.clone(),
            },
        );
    Waking {
        today: words::day(whole.today, whole.today),
        asked: rows.iter().filter(|row| row.leaf.as_ref().is_some_and(|leaf| leaf.is_asked)).count(),
        rows,
        untold,
        best_look: best,
        years: whole.ground.as_ref().map_or(0, |ground| ground.measured_years),
        weather: weather(whole),
        past: hindsight(whole),
    }
}

/// How far the weather is known, in words.
pub fn weather(whole: &Whole) -> String {
    let Some(measured) = whole.outside.as_ref().and_then(season::air::Air::measured_to) else {
        return "no weather yet".into();
    };
    let measured = measured.min(whole.today);
    let mut words = format!("station measured to {}", words::day(measured, whole.today));
    if measured < whole.today {
        words.push_str(if told_by_forecast(whole, measured) {
            ", the forecast service's hours since"
        } else {
            ", usual weather of the date since"
        });
    }
    if whole.has_typical {
        words
            .push_str("; a typical year stands in for what nobody measured, and has no spread between years");
    }
    if whole.modelled_days > 0 {
        words.push_str(&format!("; {} days are a weather model's, not the station's", whole.modelled_days));
    }
    match whole.fetched {
        Some(fetched) => {
            let zone = whole.site.as_ref().and_then(|site| TimeZone::get(&site.zone).ok());
            let date = Timestamp::from_second(fetched)
                .map_or(whole.today, |at| zone.unwrap_or(TimeZone::UTC).to_datetime(at).date());
            let age = match (whole.today - date).get_days() {
                ..=0 => String::new(),
                days => format!(", {} ago", words::count(days, "day", "days")),
            };
            words.push_str(&format!("; forecast fetched {}{age}", words::day(date, whole.today)));
        }
        None => words.push_str("; no forecast, past years follow from tomorrow"),
    }
    words
}

/// Whether the forecast tells the day after the last measured one.
fn told_by_forecast(whole: &Whole, measured: Date) -> bool {
    let day = whole.outside.as_ref().zip(measured.tomorrow().ok());
    day.and_then(|(air, next)| air.day(next)).is_some_and(|(_, origin)| origin.contains(&Origin::Forecast))
}

/// One tree's row.
pub fn row(whole: &Whole, tree: &TreeWhole, told: &Told, winter: Winter, today: i32) -> Row {
    let window = told.forecast.window();
    let (stage, stage_chance) = crate::leaf::stage(whole, tree, told.stands(today));
    let need = told.cold_need;
    let ladder = Ladder::of(tree.tree.taxon);
    Row {
        key: tree.tree.key.clone(),
        name: tree.tree.name.clone(),
        taxon: tree.tree.taxon.name,
        place: tree
            .place
            .map_or_else(|| "place not recorded".into(), |rank| whole.places[rank].place.name.clone()),
        cold: format!("{:.0} of {need:.0} chill portions", told.portions),
        cold_share: (told.portions / need * 100.0).min(100.0) as u32,
        cold_when: cold_when(told, winter, today, whole),
        cold_disputed: season::cold::disagree(&told.cold),
        stage,
        stage_chance,
        leaf: crate::leaf::leaf(whole, tree),
        strip: strip(&told.forecast, ladder, winter, today, Frame::around(today)),
        ready: ladder.ready(),
        by_months: !ladder.has_window(),
        opens: window.map(|window| words::days(winter, window.opens, whole.today)),
        closes: window.map(|window| words::days(winter, window.closes, whole.today)),
        confidence: window.map_or("unknown", |window| words::firmness(firmness(told, window.opens))),
        advice: crate::verdicts::roots(whole, tree).words(),
        why: why(whole, tree, told, winter),
        look: look_worth(tree, told, winter, today),
        opening_in_store: tree.in_store != InStore::Fine,
        last_look: last_look(tree, whole),
    }
}

/// The last look at buds or leaves.
fn last_look(tree: &TreeWhole, whole: &Whole) -> String {
    let buds = tree.looks.last().map(|(_, look)| (look.day, Ladder::of(tree.tree.taxon).told(look.stage)));
    let leaves = tree.leaf_looks.last().map(|(_, look)| (look.day, look.leaf.words().to_string()));
    match buds.into_iter().chain(leaves).max_by_key(|(day, _)| *day) {
        Some((day, what)) => format!("{what} on {}", words::day(day, whole.today)),
        None => "none yet".into(),
    }
}

/// When the cold is met, in words.
pub fn cold_when(told: &Told, winter: Winter, today: i32, whole: &Whole) -> String {
    match told.cold_met {
        Some(met) if told.cold_short <= 0.0 => {
            format!("met {}", words::day(winter.date(met.middle.min(today)), whole.today))
        }
        Some(met) => {
            let days = words::days(winter, met, whole.today);
            let range = if days.early == days.late {
                days.middle
            } else {
                format!("{} ({} to {})", days.middle, days.early, days.late)
            };
            format!("{} short; met about {range}", portions(told.cold_short))
        }
        None => format!("{} short; not met this winter if it stays here", portions(told.cold_short)),
    }
}

/// Portions still short, at least one where any is.
fn portions(short: f64) -> String {
    words::count(short.ceil() as i32, "chill portion", "chill portions")
}

fn look_worth(tree: &TreeWhole, told: &Told, winter: Winter, today: i32) -> Option<LookWorth> {
    let window = told.forecast.window()?;
    let after = told.after_look?;
    let fresh = tree.looks.last().is_some_and(|(_, look)| winter.day_number(look.day) > today - 3);
    let warm = told.cold_met.is_none() && told.cold_short > 0.0;
    if fresh || warm || told.forecast.stage_today() > Stage::GreenTip {
        return None;
    }
    let wide = window.opens.late - window.opens.early;
    let days = wide - after;
    (days >= 2).then(|| LookWorth {
        days,
        words: format!(
            "a sure look today should narrow the opening from {wide} days to about {}",
            after.max(1)
        ),
    })
}
