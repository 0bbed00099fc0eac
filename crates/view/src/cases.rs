//! The answer of `budswell calc waking`: trees and winters of a file told by the shipped needs.

use std::collections::HashMap;

use climate::light::{DayLength, day_length};
use collection::event::Look;
use dormancy::{
    dynamic::DynamicState,
    forecast::{Evidence, Spread},
    needs::Needs,
    wake::{BudDay, Lit},
};
use jiff::civil::Date;
use measure::{
    quantity::Degrees,
    range::OutOfRange,
    stage::Stage,
    taxon::Taxon,
    winter::{Hemisphere, Winter},
};
use season::{
    cases::{Season, answers},
    ground::HORIZON,
};

/// Where a bud gets its light.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Light {
    /// The sky, or an unheated house.
    Sky,
    /// A window.
    Window,
    /// None.
    Dark,
    /// A lamp, for so many hours.
    Lamp(f64),
}

/// A stay of one tree: from a day on, in an air and a light.
#[derive(Clone, Debug, PartialEq)]
pub struct Stay {
    /// First day; the first stay of a winter holds from its beginning.
    pub from: Option<Date>,
    /// Which of the airs given.
    pub air: usize,
    /// Its light.
    pub light: Light,
}

/// One tree in one winter.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// Its name.
    pub id: String,
    /// A taxon's key, or a botanical or everyday name.
    pub taxon: String,
    /// Degrees north.
    pub latitude: f64,
    /// Year of its spring.
    pub winter: i16,
    /// Where it stood.
    pub stays: Vec<Stay>,
}

/// Hours of air on whole days, °C; not a number where there is a gap.
#[derive(Clone, Copy, Debug)]
pub struct Air<'a> {
    /// Date of the first hour.
    pub first: Date,
    /// 24 to the day.
    pub hours: &'a [f64],
}

/// Why a case cannot be told.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// The name is in no table.
    #[error("“{0}” is no taxon that the table of needs holds: a key or a botanical name is wanted")]
    Unknown(String),
    /// Tropicals and succulents.
    #[error("“{0}” keeps no winter rest; its buds wait for no cold")]
    NoRest(String),
    /// The air does not hold the winter.
    #[error("the weather file knows {0} days of this winter; {LEAST_DAYS} at least are needed")]
    TooFewDays(usize),
    /// No day length there.
    #[error(transparent)]
    Light(#[from] OutOfRange),
}

/// Fewest days of a winter that carry an answer.
pub const LEAST_DAYS: usize = 90;

/// What is told of one tree in one winter.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// The name in the table of needs.
    pub taxon: &'static str,
    /// Each stage after hard buds: one in ten earlier, the middle, one in ten later; none where most chances never reach it.
    pub stages: Vec<(Stage, Option<[Date; 3]>)>,
    /// Chill portions by the middle day of broken buds.
    pub portions: f64,
    /// Day on which warmth under the sky begins to count.
    pub released: Option<Date>,
    /// Its pace before its looks of this winter, logarithm, and the spread.
    pub pace: [f64; 2],
    /// How its needs are known.
    pub standing: String,
}

/// Tells every case; looks are those of all their trees, by name.
///
/// # Errors
///
/// [`Error`] with the place of the case in the list.
pub fn told(asked: &[Asked], airs: &[Air<'_>], looks: &[Look]) -> Result<Vec<Told>, (usize, Error)> {
    let mut known: HashMap<(usize, u64, i16, [u64; 2]), Vec<BudDay>> = HashMap::new();
    let mut seasons = Vec::with_capacity(asked.len());
    for (at, case) in asked.iter().enumerate() {
        let needs = needs(&case.taxon).map_err(|why| (at, why))?;
        let winter = Winter { spring_year: case.winter, hemisphere: Hemisphere::of(Degrees(case.latitude)) };
        let mut days: Vec<BudDay> = Vec::new();
        for stay in &case.stays {
            let key = (stay.air, case.latitude.to_bits(), case.winter, key_of(stay.light));
            let there = match known.get(&key) {
                Some(there) => there,
                None => {
                    let there = stood(airs.get(stay.air), case.latitude, winter, stay.light)
                        .map_err(|why| (at, Error::Light(why)))?;
                    known.entry(key).or_insert(there)
                }
            };
            let from = stay.from.map_or(0, |day| winter.day_number(day) - Winter::FIRST_DAY);
            let from = usize::try_from(from).unwrap_or(0);
            if days.is_empty() {
                days.clone_from(there);
            }
            days.iter_mut().zip(there).skip(from).for_each(|(day, there)| *day = *there);
        }
        let count = days.iter().filter(|day| day.mean.is_finite()).count();
        if count < LEAST_DAYS {
            return Err((at, Error::TooFewDays(count)));
        }
        let key = collection::key::from_name(&case.id);
        let own = looks.iter().filter(|look| look.tree == key);
        let own = own.filter(|look| Winter::holding(look.day, winter.hemisphere) == winter);
        let noise = |look: &Look| season::autumn::noise(look.sureness);
        let looks: Vec<Evidence> = own
            .map(|look| Evidence { day: winter.day_number(look.day), stage: look.stage, noise: noise(look) })
            .collect();
        seasons.push(Season { tree: &case.id, needs, winter, days, looks });
    }
    let answers = answers(&seasons);
    let told = seasons.iter().zip(answers).map(|(season, it)| {
        let dates =
            |spread: Spread| [spread.early, spread.middle, spread.late].map(|day| season.winter.date(day));
        Told {
            taxon: season.needs.name,
            stages: it.forecast.stages.iter().map(|(stage, spread)| (*stage, spread.map(dates))).collect(),
            portions: it.portions,
            released: it.released.map(|day| season.winter.date(day)),
            pace: [it.before.mean, it.before.sd],
            standing: season.needs.words(),
        }
    });
    Ok(told.collect())
}

/// The needs of a taxon by key, botanical or everyday name.
fn needs(words: &str) -> Result<&'static Needs, Error> {
    let taxon = Taxon::meant(words);
    if taxon.is_some_and(|taxon| !taxon.kind.rests()) {
        return Err(Error::NoRest(words.into()));
    }
    let known = taxon.and_then(|taxon| Needs::of(taxon.key)).or_else(|| Needs::of(words.trim()));
    known.ok_or_else(|| Error::Unknown(words.into()))
}

fn key_of(light: Light) -> [u64; 2] {
    match light {
        Light::Sky => [0, 0],
        Light::Window => [1, 0],
        Light::Dark => [2, 0],
        Light::Lamp(hours) => [3, hours.to_bits()],
    }
}

/// The days of a winter in one air and light; a day with a gap tells nothing.
fn stood(
    air: Option<&Air<'_>>,
    latitude: f64,
    winter: Winter,
    light: Light,
) -> Result<Vec<BudDay>, OutOfRange> {
    let mut cold = DynamicState::default();
    let mut days = Vec::with_capacity((HORIZON - Winter::FIRST_DAY) as usize + 1);
    for number in Winter::FIRST_DAY..=HORIZON {
        let date = winter.date(number);
        let hours = air.and_then(|air| {
            let at = usize::try_from((date - air.first).get_days()).ok()? * 24;
            air.hours.get(at..at + 24).filter(|hours| hours.iter().all(|hour| hour.is_finite()))
        });
        let Some(hours) = hours else {
            days.push(BudDay { mean: f64::NAN, ..BudDay::default() });
            continue;
        };
        let sky = day_length(DayLength::Spencer, Degrees(latitude), date.day_of_year().unsigned_abs())?.0;
        let (light, lit) = match light {
            Light::Sky => (sky, Lit::Sky),
            Light::Window => (sky, Lit::Window),
            Light::Dark => (0.0, Lit::Dark),
            Light::Lamp(hours) => (hours, Lit::Lamp),
        };
        days.push(BudDay::of_hours(hours, light, lit, &mut cold));
    }
    Ok(days)
}
