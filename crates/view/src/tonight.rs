//! The page *Tonight*: who is carried, where to, in what order and how heavy; who stays and why; every night of the forecast; and
//! tomorrow's heat.

mod brief;
mod chart;
mod gather;
mod heat;
mod nights;
mod say;

use jiff::{Timestamp, tz::TimeZone};
use measure::{
    quantity::{Celsius, Units},
    sourced::Sourced,
};
use season::{
    air::{Air, Spot},
    tonight::{
        place::PlaceNight,
        share_out::{Told, Verdict, share_out},
        sky::{Known, Night, Sky, sky},
    },
};

pub use brief::{Brief, brief, last_night};
pub use chart::{AirLine, Chart, LimitLine};
pub(crate) use gather::load;
pub use heat::HeatRow;
pub use nights::NightAhead;
pub(crate) use say::protect;

use crate::{
    whole::Whole,
    words::{self, count, percent},
};

/// A tree's night in words, and the figures behind them for machines.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Everyday name of what it is.
    pub taxon: &'static str,
    /// Where it stands, name and key.
    pub place: (String, String),
    /// Where it is carried, name and key.
    pub to: Option<(String, String)>,
    /// True where it may stay there only for the night.
    pub only_tonight: Option<&'static str>,
    /// How it is protected where no place takes it; else empty.
    pub protect: &'static str,
    /// May it stay there after the night: the verdict on that move.
    pub beyond: Option<String>,
    /// Said where the new place does not spare it.
    pub still: Option<String>,
    /// Turn in the order of carrying.
    pub turn: usize,
    /// Weight in words.
    pub weight: String,
    /// True where two should carry it.
    pub for_two: bool,
    /// The lifting index in words.
    pub index: String,
    /// The line that decides, with low, hours and chance.
    pub why: String,
    /// What the root ball does.
    pub roots: String,
    /// What weakens this.
    pub caveats: Vec<String>,
    /// For machines.
    pub figures: Figures,
}

/// A row's figures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Lowest air expected, °C.
    pub low: f64,
    /// The line above the soil, °C.
    pub above_line: Option<f64>,
    /// Hours of air below it.
    pub hours_below: usize,
    /// Coldest root ball, watered, °C.
    pub root_low: f64,
    /// Coldest root ball, let dry, °C.
    pub root_low_dry: f64,
    /// The line at the root, °C.
    pub root_line: f64,
    /// Hours from the evening's look until a watered ball is frozen through.
    pub frozen_through: Option<f64>,
    /// Hours from the evening's look until a dry ball is frozen through.
    pub frozen_through_dry: Option<f64>,
    /// Chance of passing the line that decides, where it stands.
    pub chance: f64,
    /// Chance of passing the line that decides, where it is carried.
    pub chance_there: Option<f64>,
    /// What the night puts at stake, in costs of one watering.
    pub at_stake: f64,
    /// Weight, kg.
    pub weight: Option<f64>,
    /// Lifting index.
    pub index: Option<f64>,
}

/// A place's night.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceLine {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// The low.
    pub low: String,
    /// When by the clock.
    pub at: String,
    /// What the low may be off by.
    pub spread: String,
    /// Hours below freezing.
    pub frost: usize,
    /// What nights on record say.
    pub learned: String,
    /// Trees, and room left.
    pub room: String,
}

/// The page.
#[derive(Clone, Debug, PartialEq)]
pub struct Tonight {
    /// The night in words.
    pub date: String,
    /// The date of its evening, for machines.
    pub evening: jiff::civil::Date,
    /// When it begins and ends.
    pub span: (Timestamp, Timestamp),
    /// The answer in one sentence.
    pub answer: String,
    /// How the night is known.
    pub known: String,
    /// True where no forecast tells the night.
    pub is_usual: bool,
    /// The places.
    pub places: Vec<PlaceLine>,
    /// Carried, in order.
    pub movers: Vec<Row>,
    /// No place with room serves: protected where they stand.
    pub protect: Vec<Row>,
    /// Stay if watered before dusk.
    pub water: Vec<Row>,
    /// Looked at again at dusk.
    pub watch: Vec<Row>,
    /// Stay.
    pub stay: Vec<Row>,
    /// Every night that the forecast tells, the coming one first.
    pub nights: Vec<NightAhead>,
    /// Tomorrow's heat.
    pub heat: Vec<HeatRow>,
    /// Trees that were never put in a place.
    pub placeless: Vec<(String, String)>,
    /// What all carries come to.
    pub carried: String,
    /// From which chance on a tree is carried.
    pub rule: String,
    /// Which place counts as nearest.
    pub order: String,
    /// The night as a picture.
    pub chart: Option<Chart>,
    /// Said about lifting.
    pub caution: &'static str,
}

/// Why there is no page.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct NoNight(pub String);

/// The moment that a page which stands on a fixed day stands on: three in the afternoon at the site.
pub fn afternoon(whole: &Whole) -> Timestamp {
    zone(whole).to_timestamp(whole.today.at(15, 0, 0, 0)).unwrap_or_default()
}

fn zone(whole: &Whole) -> TimeZone {
    whole.site.as_ref().and_then(|site| TimeZone::get(&site.zone).ok()).unwrap_or(TimeZone::UTC)
}

/// What the parts of the page share.
struct Page<'a> {
    whole: &'a Whole,
    units: Units,
    zone: TimeZone,
    night: Night,
}

/// A night judged for every tree, before it is worded.
struct Judging<'a> {
    page: Page<'a>,
    spot: Spot,
    outside: &'a Air,
    sky: Sky,
    nights: Vec<PlaceNight>,
    gathered: Vec<gather::Gathered<'a>>,
    told: Vec<Told>,
}

/// The night that comes at a moment, judged: the one judgement for every page that speaks of it.
fn judged(whole: &Whole, now: Timestamp) -> Result<Judging<'_>, NoNight> {
    let site = whole.site.as_ref().ok_or_else(|| NoNight("set the site first".into()))?;
    let nothing = || NoNight("no weather yet: import a station's record or fetch a forecast".into());
    let outside = whole.outside.as_ref().ok_or_else(nothing)?;
    let zone = zone(whole);
    let night = Night::coming(now, &zone);
    let spot = Spot { latitude: site.latitude, longitude: site.longitude };
    let sky = sky(spot, outside, &night).ok_or_else(nothing)?;
    let nights: Vec<PlaceNight> = whole
        .places
        .iter()
        .filter_map(|it| Some(PlaceNight::of(&sky, it.air.as_ref()?, it.place.shelter)))
        .collect();
    if nights.len() != whole.places.len() || nights.is_empty() {
        return Err(NoNight("no place is recorded yet".into()));
    }
    let page = Page { whole, units: site.units, zone, night };
    let gathered = gather::trees(whole);
    let trees: Vec<_> = gathered.iter().map(|it| (it.night, it.place)).collect();
    let told = share_out(&trees, &gather::spaces(whole, &nights));
    Ok(Judging { page, spot, outside, sky, nights, gathered, told })
}

/// The coming night for every tree.
///
/// # Errors
///
/// [`NoNight`] without a site, weather or places.
pub fn tonight(whole: &Whole, now: Timestamp) -> Result<Tonight, NoNight> {
    let Judging { page, spot, outside, sky, nights, gathered, told } = judged(whole, now)?;
    let (units, night) = (page.units, page.night);
    let counts = Counts::of(&told);
    let chart = chart::chart(&page, &gathered, &told, &nights);
    let rows: Vec<(Told, Row)> =
        gathered.iter().zip(told).map(|(it, told)| (told, say::row(&page, it, &told))).collect();
    let of = |wanted: fn(&Told, &Row) -> bool| -> Vec<Row> {
        rows.iter().filter(|(told, row)| wanted(told, row)).map(|(_, row)| row.clone()).collect()
    };
    let mut movers = of(|told, _| told.verdict == Verdict::Move);
    movers.sort_by_key(|row| row.turn);
    let protect = of(|told, _| matches!(told.verdict, Verdict::Protect(_)));
    let ahead = nights::nights(&page, spot, outside, &nights, &gathered);
    let watch = of(|told, _| told.verdict == Verdict::Watch);
    Ok(Tonight {
        date: say::date(&page),
        evening: night.evening,
        span: (night.from, night.to),
        answer: answer(counts, &gathered, &nights, units) + &nights::next(&ahead, &page),
        known: known(&page, &sky, now),
        is_usual: matches!(sky.known, Known::Usual { .. }),
        places: nights.iter().enumerate().map(|(rank, it)| place_line(&page, rank, it)).collect(),
        water: rows
            .iter()
            .zip(&gathered)
            .filter(|((told, _), it)| {
                let stays = matches!(told.verdict, Verdict::Stay | Verdict::Watch);
                stays && told.judged.wants_water(it.night.worth)
            })
            .map(|((_, row), _)| row.clone())
            .collect(),
        stay: of(|told, _| told.verdict == Verdict::Stay),
        heat: heat::rows(&page, &gathered, &nights),
        placeless: gather::placeless(whole),
        carried: say::carried(&page, &movers),
        rule: say::rule(),
        order: say::order(&page),
        chart,
        caution: pot::lift::PLANNING_ONLY,
        movers,
        protect,
        watch,
        nights: ahead,
    })
}

/// How many trees a night asks something for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Counts {
    carry: usize,
    protect: usize,
    watch: usize,
}

impl Counts {
    fn of(told: &[Told]) -> Counts {
        let of = |wanted: fn(&Verdict) -> bool| told.iter().filter(|it| wanted(&it.verdict)).count();
        Counts {
            carry: of(|it| *it == Verdict::Move),
            protect: of(|it| matches!(it, Verdict::Protect(_))),
            watch: of(|it| *it == Verdict::Watch),
        }
    }
}

fn answer(counts: Counts, trees: &[gather::Gathered<'_>], nights: &[PlaceNight], units: Units) -> String {
    let Counts { carry: movers, protect, watch } = counts;
    let lowest = trees.iter().map(|it| nights[it.place].low.0).fold(f64::INFINITY, f64::min);
    let low = if lowest.is_finite() {
        format!("; the coldest place with trees goes to {}", units.temperature(Celsius(lowest)))
    } else {
        String::new()
    };
    let moved = if movers + protect == 0 {
        "no tree needs to move".to_string()
    } else {
        let mut parts = Vec::new();
        if movers > 0 {
            parts.push(format!("{} to carry", count(movers, "tree", "trees")));
        }
        if protect > 0 {
            parts.push(format!("{} to protect where they stand", count(protect, "tree", "trees")));
        }
        parts.join(", ")
    };
    let looked = if watch > 0 { format!(", {watch} to look at again at dusk") } else { String::new() };
    format!("{moved}{looked}{low}")
}

fn known(page: &Page<'_>, sky: &Sky, now: Timestamp) -> String {
    let Sourced { value, standing } = sky.spread;
    let spread = format!("give or take {} ({})", page.units.difference(value), standing.words());
    match sky.known {
        Known::Usual { years: 0 } => {
            format!("no forecast hour for tonight and no past year of the date: a guess stands in, {spread}")
        }
        Known::Usual { years } => format!(
            "no forecast hour for tonight: the usual night of the date in {} stands in, {spread}. Fetch a forecast before you trust it",
            count(years, "past year", "past years")
        ),
        Known::Read => format!("a night that has been: read, {spread}"),
        Known::Forecast => {
            let age = page.whole.fetched.map_or(0, |at| (now.as_second() - at).max(0) / 3600);
            let old = if age < 1 {
                "fetched within the hour".into()
            } else {
                format!("fetched {} ago", count(age, "hour", "hours"))
            };
            format!("by the forecast, {old}, {spread}")
        }
    }
}

fn place_line(page: &Page<'_>, rank: usize, night: &PlaceNight) -> PlaceLine {
    let (it, units) = (&page.whole.places[rank], page.units);
    PlaceLine {
        key: it.place.key.clone(),
        name: it.place.name.clone(),
        low: units.temperature(night.low),
        at: say::clock(page, night.at),
        spread: format!("± {}", units.difference(night.spread)),
        frost: night.hours_below(Celsius(0.0)),
        learned: say::learned(units, night),
        room: match it.place.capacity {
            Some(room) => format!("{} free", (room as usize).saturating_sub(it.trees.len())),
            None => "room not recorded".into(),
        },
    }
}

impl Tonight {
    /// The page as plain text for the terminal.
    pub fn text(&self) -> String {
        let mut text = format!("{}: {}.\n{}.\n", self.date, self.answer, self.known);
        let mut part = |title: &str, rows: &[Row]| {
            if !rows.is_empty() {
                text.push_str(&format!("\n{title}\n"));
                rows.iter().for_each(|row| text.push_str(&row.line()));
            }
        };
        part("Carry, in this order", &self.movers);
        part("No place for these: protect them", &self.protect);
        part("Water before dusk", &self.water);
        part("Look again at dusk", &self.watch);
        if self.nights.len() > 1 {
            text.push_str("\nNights of the forecast, for trees where they stand today\n");
        }
        for night in self.nights.iter().filter(|_| self.nights.len() > 1) {
            text.push_str(&format!("  {}: {}; {} at risk", night.date, night.low, night.at_risk.len()));
            if !night.first.is_empty() {
                text.push_str(&format!(", for the first time {}", night.first_names()));
            }
            text.push('\n');
        }
        for row in &self.heat {
            text.push_str(&format!("\nTomorrow, {}: {}\n", row.name, row.why));
        }
        text.push_str("\nPlaces\n");
        for it in &self.places {
            text.push_str(&format!(
                "  {}: {} about {} {}, {}; {}\n",
                it.name, it.low, it.at, it.spread, it.room, it.learned
            ));
        }
        text.push_str(&format!(
            "\n{} where they are.\n{}\n",
            count(self.stay.len(), "tree stays", "trees stay"),
            self.caution
        ));
        text
    }
}

impl Row {
    fn line(&self) -> String {
        let way = self.to.as_ref().map_or(String::new(), |(to, _)| format!(" to {to}"));
        let turn = if self.turn > 0 { format!("{}. ", self.turn) } else { String::new() };
        let two = if self.for_two { ", two people" } else { "" };
        let protect = if self.protect.is_empty() { String::new() } else { format!("{}; ", self.protect) };
        format!(
            "  {turn}{} ({}){way}: {protect}{}{two}; {}; {}\n",
            self.name, self.place.0, self.weight, self.why, self.roots
        )
    }

    /// The chance of passing the line that decides, where it stands.
    pub fn chance(&self) -> String {
        percent(self.figures.chance)
    }
}

/// The day of the week and date of a night.
fn named(date: jiff::civil::Date, whole: &Whole) -> String {
    words::day(date, whole.today)
}
