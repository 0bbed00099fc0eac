//! The answer of `budswell calc window`: which days to cut roots, why, and what is not known.

use climate::{hours::HoursError, record::StationDay};
use collection::event::Look;
use dormancy::forecast::Spread;
use jiff::civil::Date;
use measure::{quantity::Degrees, shelter::Shelter, taxon::Taxon, winter::Winter};
use season::{
    air::{Spot, outside},
    ground::{NoGround, Roof, ground},
    window::{NoRest, Outlook, Stands, TreeFacts},
};

use crate::words;

/// Why there is no answer at all.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// The record cannot be made into hours.
    #[error(transparent)]
    Hours(#[from] HoursError),
    /// The record does not hold the day, or nothing that could follow it.
    #[error(transparent)]
    NoGround(#[from] NoGround),
    /// The taxon has no window of this kind.
    #[error(transparent)]
    NoRest(#[from] NoRest),
    /// The record is empty.
    #[error("the weather record is empty")]
    Empty,
}

/// Three dates: one chance in ten of being earlier than the first or later than the last.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Dates {
    /// One in ten is earlier.
    pub early: Date,
    /// The middle.
    pub middle: Date,
    /// One in ten is later.
    pub late: Date,
}

/// A stage and when it is passed.
#[derive(Clone, Debug, PartialEq)]
pub struct StageRow {
    /// BBCH code and words.
    pub stage: String,
    /// When, or none where it is reached in too few of the years.
    pub dates: Option<Dates>,
    /// Chance that the tree stands at this stage today.
    pub today: f64,
}

/// What is told of one tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// Botanical name.
    pub taxon: &'static str,
    /// The most likely stage today.
    pub stage_today: String,
    /// Buds reach full size, and the last day before green tips.
    pub window: Option<(Dates, Dates)>,
    /// Every stage.
    pub stages: Vec<StageRow>,
    /// Chill portions received and needed.
    pub cold: (f64, f64),
    /// Where the cold needed comes from.
    pub cold_standing: String,
    /// How many past years were spliced on.
    pub years: usize,
    /// What weakens the answer.
    pub caveats: Vec<String>,
}

/// The window of one tree on an open bench.
///
/// # Errors
///
/// [`Error`]: a record that cannot answer, or a taxon without winter rest.
pub fn answer(
    latitude: f64,
    days: &[StationDay],
    today: Date,
    taxon: &'static Taxon,
    looks: &[Look],
) -> Result<Answer, Error> {
    let spot = Spot { latitude: Degrees(latitude), longitude: Degrees(0.0) };
    let air = outside(spot, days, &[], &[], days.first().map_or(today, |day| day.date), &[])?
        .ok_or(Error::Empty)?;
    let ground = ground(
        spot.latitude,
        &[(&air, Roof { shelter: Shelter::OpenBench, lamp: None, known: true })],
        today,
    )?;
    let facts = TreeFacts {
        taxon,
        moves: vec![],
        looks: looks.iter().collect(),
        leaf_looks: vec![],
        works: vec![],
        taught: None,
        recorded: true,
        drank: None,
    };
    let told = Outlook::new(&ground).tell(&facts)?;
    let forecast = &told.forecast;
    let dates = |spread| dates(ground.winter, spread);
    let mut caveats: Vec<String> = forecast.caveats.iter().map(|&caveat| words::caveat(caveat)).collect();
    if told.cold_cut_short {
        caveats.push("the record begins after this winter did; cold before it is not counted".into());
    }
    caveats.push(format!("its warmth and cold: {}; looks at this tree move them", told.needs.words()));
    let stages = forecast.stages.iter().map(|&(stage, spread)| StageRow {
        stage: stage.to_string(),
        dates: spread.map(dates),
        today: forecast.today[stage.rank()],
    });
    Ok(Answer {
        taxon: taxon.name,
        stage_today: match told.stands(ground.today) {
            Stands::InLeaf(leaf, _) => leaf.words().into(),
            Stands::Buds(stage, _) => stage.to_string(),
        },
        window: forecast.window().map(|window| (dates(window.opens), dates(window.closes))),
        stages: stages.collect(),
        cold: (told.portions, told.cold_need),
        cold_standing: told.needs.words(),
        years: ground.measured_years,
        caveats,
    })
}

fn dates(winter: Winter, spread: Spread) -> Dates {
    Dates {
        early: winter.date(spread.early),
        middle: winter.date(spread.middle),
        late: winter.date(spread.late),
    }
}
