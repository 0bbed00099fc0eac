//! Trees told by the shipped needs over seasons whose air is known, with or without what looks taught: no pages, no store.

use std::collections::HashMap;

use dormancy::{
    forecast::{Evidence, Forecast, Pace, Waking, forecast},
    learn::levels::{Collection, GROUND, Seen, learn_sturdy},
    needs::Needs,
    wake::{BudDay, released},
};
use measure::winter::Winter;

use crate::{
    taught::{kind_sd, told},
    window::wakings,
};

/// One tree in one winter.
#[derive(Clone, Debug)]
pub struct Season<'a> {
    /// The tree: the same in all of its winters.
    pub tree: &'a str,
    /// How it wakes.
    pub needs: &'static Needs,
    /// Which winter.
    pub winter: Winter,
    /// The days where it stood, from [`Winter::FIRST_DAY`].
    pub days: Vec<BudDay>,
    /// Looks of this winter.
    pub looks: Vec<Evidence>,
}

/// What is told of one season.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// Its stages.
    pub forecast: Forecast,
    /// Chill portions by the middle day of broken buds, or by the last day known.
    pub portions: f64,
    /// Day number on which warmth under the sky begins to count.
    pub released: Option<i32>,
    /// Its pace before its looks of this winter.
    pub before: Pace,
}

/// A place of trees in the ground, before any look: sets of such places agree within 7 hundredths in the logarithm.
const PLACE: Pace = Pace { mean: 0.0, sd: 0.07 };

/// Tells every season; where any has looks, by what they teach of the place, the kinds, the trees and their springs up to that winter.
pub fn answers(seasons: &[Season<'_>]) -> Vec<Answer> {
    let courses: Vec<Waking> =
        seasons.iter().map(|season| wakings(season.needs, std::slice::from_ref(&season.days))).collect();
    let priors = learned(seasons, &courses);
    let answer = |((season, waking), before): ((&Season<'_>, &Waking), Pace)| {
        let today = season.looks.iter().map(|look| look.day).max().unwrap_or(Winter::FIRST_DAY);
        let forecast = forecast(waking, today, before, &season.looks);
        let broken = forecast.of(measure::stage::Stage::Breaking).map_or(i32::MAX, |spread| spread.middle);
        let until = season.days.iter().zip(Winter::FIRST_DAY..).take_while(|(_, number)| *number <= broken);
        Answer {
            portions: until.map(|(day, _)| day.portions).sum(),
            released: released(season.needs.wake.release, Winter::FIRST_DAY, &season.days),
            before,
            forecast,
        }
    };
    seasons.iter().zip(&courses).zip(priors).map(answer).collect()
}

/// Each season's pace before its own looks.
fn learned(seasons: &[Season<'_>], courses: &[Waking]) -> Vec<Pace> {
    let alone: Vec<Pace> = seasons.iter().map(|season| Pace { mean: 0.0, sd: season.needs.log_sd }).collect();
    if seasons.iter().all(|season| season.looks.is_empty()) {
        return alone;
    }
    let (mut kinds, mut rank) = (Vec::new(), HashMap::new());
    let (mut kind_of, mut trees) = (Vec::new(), HashMap::new());
    for season in seasons {
        let kind = *rank.entry(season.needs.name).or_insert_with(|| {
            kinds.push(Pace { mean: 0.0, sd: kind_sd(season.needs, &GROUND) });
            kinds.len() - 1
        });
        trees.entry(season.tree).or_insert_with(|| {
            kind_of.push(kind);
            kind_of.len() - 1
        });
    }
    let of = Collection { site: PLACE, kinds: &kinds, kind_of: &kind_of };
    let said: Vec<Option<Pace>> = seasons
        .iter()
        .zip(courses)
        .zip(&alone)
        .map(|((season, waking), prior)| {
            (!season.looks.is_empty()).then(|| told(waking, *prior, &season.looks))?
        })
        .collect();
    let mut by_winter: HashMap<i16, Vec<Pace>> = HashMap::new();
    for season in seasons {
        let now = season.winter.spring_year;
        by_winter.entry(now).or_insert_with(|| {
            let seen: Vec<Seen> = seasons
                .iter()
                .zip(&said)
                .filter(|(other, _)| other.winter.spring_year <= now)
                .filter_map(|(other, said)| {
                    let said = (*said)?;
                    let years_ago = u32::from((now - other.winter.spring_year).unsigned_abs());
                    Some(Seen {
                        tree: *trees.get(other.tree)?,
                        years_ago,
                        residual: said.mean,
                        sd: said.sd,
                        weight: 1.0,
                    })
                })
                .collect();
            learn_sturdy(&GROUND, &of, &seen).paces
        });
    }
    let pace = |season: &Season<'_>| {
        let own = trees.get(season.tree).copied()?;
        by_winter.get(&season.winter.spring_year)?.get(own).copied()
    };
    seasons.iter().zip(alone).map(|(season, alone)| pace(season).unwrap_or(alone)).collect()
}
