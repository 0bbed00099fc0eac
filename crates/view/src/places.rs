//! The page *Places*: where each place's temperature comes from, its cold so far, and the alarm line for roots.

use dormancy::chill::{ChillModel, sum};
use jiff::civil::Date;
use measure::{
    quantity::{Celsius, Units},
    shelter::Shelter,
    winter::Winter,
};
use season::{
    air::Basis,
    ground::{Ground, PlaceDay, PlaceGround},
    roots,
};

use crate::{
    frost,
    incidents::{self, Incident, Kept},
    sensors::{self, ICE_CHECK, SensorRow},
    strip::{Frame, Tick},
    whole::{PlaceWhole, TreeWhole, Whole},
    words,
};

/// Days drawn on a place's chart.
const DRAWN: i32 = 60;

/// Part of the chart's width that the days take, per cent; the rest is for labels.
const WIDEST: f64 = 91.0;

/// A place in the list.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceCard {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Kind of shelter.
    pub shelter: &'static str,
    /// Trees there, and room where that is known.
    pub filled: String,
    /// Where the temperature comes from.
    pub basis: String,
    /// True where it is a default and not a measurement.
    pub is_default: bool,
    /// The light it gives.
    pub light: String,
    /// Cold received this winter in each unit.
    pub cold: Vec<(&'static str, String)>,
    /// Lowest and highest of the last seven days.
    pub week: Option<(String, String)>,
    /// The first day on which cut roots could heal there.
    pub recovery: String,
    /// Coldest of the winter against the root line.
    pub roots: String,
}

/// One day of the chart and of the table behind it.
#[derive(Clone, Debug, PartialEq)]
pub struct ChartDay {
    /// The date.
    pub date: String,
    /// Lowest.
    pub low: String,
    /// Highest.
    pub high: String,
    /// How much of it was measured.
    pub measured: &'static str,
    /// Left edge on the chart, per cent.
    pub x: f64,
    /// Top of the bar.
    pub top: f64,
    /// Height of the bar.
    pub tall: f64,
}

/// A level line on the chart.
#[derive(Clone, Debug, PartialEq)]
pub struct Level {
    /// Where.
    pub y: f64,
    /// Its label.
    pub label: String,
    /// True for the warmest root line of the trees that stand there.
    pub is_alarm: bool,
}

/// One place's page.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacePage {
    /// What the list says.
    pub card: PlaceCard,
    /// Fit error and what the model is, where there is one.
    pub fit: Vec<(String, String)>,
    /// Its sensors, each with what is taken off its readings.
    pub sensors: Vec<SensorRow>,
    /// How far they are apart, in words.
    pub apart: Vec<String>,
    /// How to check a sensor in ice water.
    pub ice_check: &'static str,
    /// The scale that a check is typed in.
    pub degrees: &'static str,
    /// Today as forms take it.
    pub iso: String,
    /// Its bad days of this winter that nobody answered yet, the last first.
    pub incidents: Vec<Incident>,
    /// Those that were kept, the last first.
    pub kept: Vec<Kept>,
    /// The last two months.
    pub days: Vec<ChartDay>,
    /// Width of one day's bar, per cent.
    pub bar: f64,
    /// First days of months.
    pub ticks: Vec<Tick>,
    /// Levels.
    pub levels: Vec<Level>,
    /// The trees that stand there: key and name.
    pub trees: Vec<(String, String)>,
}

/// Every place.
pub fn places(whole: &Whole) -> Vec<PlaceCard> {
    (0..whole.places.len()).map(|rank| card(whole, rank)).collect()
}

fn units(whole: &Whole) -> Units {
    whole.site.as_ref().map_or(Units::Metric, |site| site.units)
}

fn card(whole: &Whole, rank: usize) -> PlaceCard {
    let it = &whole.places[rank];
    let (units, ground) = (units(whole), whole.ground.as_ref().ok());
    let own = ground.map(|ground| &ground.places[rank]);
    let (basis, is_default) = basis(it, units);
    let latitude = whole.site.as_ref().map_or(measure::quantity::Degrees(45.0), |site| site.latitude);
    PlaceCard {
        key: it.place.key.clone(),
        name: it.place.name.clone(),
        shelter: it.place.shelter.words(),
        filled: match it.place.capacity {
            Some(room) if it.trees.len() > room as usize => {
                format!("{} trees, but room for {room}: overfull", it.trees.len())
            }
            Some(room) => format!("{} of {room} spaces", it.trees.len()),
            None => words::count(it.trees.len(), "tree", "trees"),
        },
        basis,
        is_default,
        light: season::what_if::light(latitude, &it.place, whole.today.day_of_year()).words,
        cold: own.map_or_else(Vec::new, |own| cold_lines(&own.hours)),
        week: own.zip(ground).map(|(own, ground)| week(own, ground.today, units)),
        recovery: match (it.recovery, ground) {
            (Some(day), Some(ground)) if day <= ground.today => "cut roots can heal here now".into(),
            (Some(day), Some(ground)) => {
                format!(
                    "cut roots could heal here from about {}",
                    words::day(ground.winter.date(day), whole.today)
                )
            }
            _ if it.place.shelter == Shelter::ColdRoom => "too dark and cold for cut roots to heal".into(),
            _ => "not mild and frost-free for a fortnight this season".into(),
        },
        roots: ground.map_or_else(String::new, |ground| roots_words(it, ground, whole, units)),
    }
}

fn cold_lines(hours: &[f64]) -> Vec<(&'static str, String)> {
    ChillModel::ALL
        .into_iter()
        .map(|model| (model.words(), words::amount(model, sum(model, hours))))
        .collect()
}

fn known(own: &PlaceGround, from: i32, to: i32) -> impl Iterator<Item = (i32, &PlaceDay)> {
    (from.max(Winter::FIRST_DAY)..=to)
        .filter_map(|day| Some((day, own.this.days.get((day - Winter::FIRST_DAY) as usize)?)))
        .filter(|(_, day)| !day.low.is_nan())
}

fn extremes(own: &PlaceGround, from: i32, to: i32) -> (f64, f64) {
    known(own, from, to).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (_, day)| {
        (low.min(day.low), high.max(day.high))
    })
}

fn week(own: &PlaceGround, today: i32, units: Units) -> (String, String) {
    let (low, high) = extremes(own, today - 6, today);
    (units.temperature(Celsius(low)), units.temperature(Celsius(high)))
}

/// The warmest line at the root of the trees that stand there, each by its own as on a day: what the place is held to.
fn root_line(it: &PlaceWhole, whole: &Whole, day: Date) -> Option<Celsius> {
    let lines = it.trees.iter().map(|&tree| frost::facts(whole, &whole.trees[tree], day).roots().line.value);
    lines.max_by(|a, b| a.0.total_cmp(&b.0))
}

/// The coldest of the winter beside the line at the root of each tree that stands there, as it was on that day.
fn roots_words(it: &PlaceWhole, ground: &Ground, whole: &Whole, units: Units) -> String {
    let Some(air) = &it.air else { return String::new() };
    let Ok(Some(coldest)) =
        roots::coldest(&air.in_frost().air, ground.winter, ground.first_known, ground.today)
    else {
        return String::new();
    };
    let day = ground.winter.date(coldest.day);
    let passed = passed(it, whole, day, Celsius(coldest.root));
    let so = match root_line(it, whole, day) {
        None => "no tree stands here".into(),
        Some(line) if passed.is_empty() => {
            format!(
                "above the planned root line of every tree here (the warmest is {})",
                units.temperature(line)
            )
        }
        Some(_) => format!("below the planned root line of {}", passed.join(", ")),
    };
    format!(
        "coldest since autumn {} on {}, about {} in a wet {} litre pot: {so}",
        units.temperature(Celsius(coldest.air)),
        words::day(day, whole.today),
        units.temperature(Celsius(coldest.root)),
        roots::LITRES
    )
}

/// The trees there whose own root line of a day lies above a temperature of the ball, by name; only those that stood there then.
fn passed(it: &PlaceWhole, whole: &Whole, day: Date, root: Celsius) -> Vec<String> {
    let stood = |tree: &&TreeWhole| {
        let place = tree.moves.iter().rfind(|(moved, _)| *moved <= day).map(|(_, place)| *place);
        place.is_some() && place == tree.place
    };
    let trees = it.trees.iter().map(|&tree| &whole.trees[tree]).filter(stood);
    let cold = trees.filter(|tree| frost::facts(whole, tree, day).roots().line.value.0 > root.0);
    cold.map(|tree| tree.tree.name.clone()).collect()
}

fn basis(it: &PlaceWhole, units: Units) -> (String, bool) {
    let Some(air) = &it.air else { return ("no weather yet".into(), true) };
    match &air.basis {
        Basis::Fitted(fit) => (
            format!(
                "logger ({} hours); between readings a model fitted to it, off by {} on hours it had not seen",
                air.logged,
                units.difference(fit.free_run_rmse)
            ),
            false,
        ),
        Basis::LoggedAndDefault(why) => {
            (format!("logger ({} hours); otherwise a default: {why}", air.logged), true)
        }
        Basis::Default if it.place.shelter == Shelter::OpenBench => {
            ("the station's air as it is; no logger here".into(), true)
        }
        Basis::Default => (format!("default for this kind of place, {}", air.model.standing.words()), true),
    }
}

/// One place's page, or none of that name.
pub fn place(whole: &Whole, key: &str) -> Option<PlacePage> {
    let rank = whole.places.iter().position(|place| place.place.key == key)?;
    let (it, units) = (&whole.places[rank], units(whole));
    let trees = it
        .trees
        .iter()
        .map(|&tree| &whole.trees[tree].tree)
        .map(|t| (t.key.clone(), t.name.clone()))
        .collect();
    let (days, levels) = whole.ground.as_ref().map_or_else(
        |_| (Vec::new(), Vec::new()),
        |ground| {
            chart(&ground.places[rank], ground.winter, ground.today, whole, root_line(it, whole, whole.today))
        },
    );
    Some(PlacePage {
        card: card(whole, rank),
        fit: fit(it, units),
        sensors: it.sensors.each.iter().map(|it| sensors::row(it, units, whole.today)).collect(),
        apart: it.sensors.apart.iter().map(|it| sensors::say(it, units)).collect(),
        ice_check: ICE_CHECK,
        degrees: if units == Units::Metric { "°C" } else { "°F" },
        iso: whole.today.to_string(),
        incidents: incidents::of_place(whole, rank).to_vec(),
        kept: incidents::kept_of(whole, key),
        bar: WIDEST / f64::from(DRAWN) - 0.3,
        ticks: whole.ground.as_ref().map_or_else(
            |_| Vec::new(),
            |ground| {
                let frame = Frame { from: ground.today - DRAWN + 1, to: ground.today + 6 };
                crate::strip::ticks(ground.winter, frame, whole.today)
            },
        ),
        days,
        levels,
        trees,
    })
}

fn fit(it: &PlaceWhole, units: Units) -> Vec<(String, String)> {
    let Some(air) = &it.air else { return Vec::new() };
    let model = air.model.value;
    let mut rows = vec![
        ("follows the outside with a lag of".into(), format!("{:.1} h", model.lag.0)),
        ("takes of the outside's swing".into(), format!("{:.0} %", model.share * 100.0)),
        ("adds from ground or heater".into(), units.difference(model.offset)),
        ("standing".into(), air.model.standing.words()),
    ];
    if let Basis::Fitted(fit) = &air.basis {
        rows.extend([
            ("error by the hour, on hours not seen".into(), units.difference(fit.free_run_rmse)),
            ("error of the daily low".into(), units.difference(fit.low_error)),
            ("taking the outside as it is would be off by".into(), units.difference(fit.as_outside_rmse)),
        ]);
    }
    rows
}

fn chart(
    own: &PlaceGround,
    winter: Winter,
    today: i32,
    whole: &Whole,
    line: Option<Celsius>,
) -> (Vec<ChartDay>, Vec<Level>) {
    let units = units(whole);
    let from = today - DRAWN + 1;
    let (low, high) = extremes(own, from, today);
    if !low.is_finite() {
        return (Vec::new(), Vec::new());
    }
    let (bottom, top) = (low.min(line.map_or(0.0, |it| it.0)) - 2.0, high.max(8.0) + 2.0);
    let y = |celsius: f64| (top - celsius) / (top - bottom) * 240.0;
    let step = WIDEST / f64::from(DRAWN);
    let days = known(own, from, today)
        .map(|(number, day)| ChartDay {
            date: words::day(winter.date(number), whole.today),
            low: units.temperature(Celsius(day.low)),
            high: units.temperature(Celsius(day.high)),
            measured: match day.measured {
                24.. => "measured",
                0 => "worked out",
                _ => "partly measured",
            },
            x: f64::from(number - from) * step,
            top: y(day.high),
            tall: (y(day.low) - y(day.high)).max(2.0),
        })
        .collect();
    let level = |celsius: f64, alarm: bool| Level {
        y: y(celsius),
        label: units.temperature(Celsius(celsius)),
        is_alarm: alarm,
    };
    let own = line.map(|line| level(line.0, true));
    let usual = [0.0, 7.2].into_iter().filter(|usual| line.is_none_or(|line| line.0 != *usual));
    (days, usual.map(|usual| level(usual, false)).chain(own).collect())
}
