//! What share of the way to first broken buds each earlier stage takes, by genus, at Harvard Forest; and what later stages add.

use std::collections::HashMap;

use dormancy::wake::{Reading, Wake, course};

use super::{
    fit::{Fit, release},
    truth::{Days, Fallible, Tree},
};

/// Spread of a genus about the middle of all, logarithm of the share.
const GENUS: f64 = 0.2;

/// A share and the spread of single trees and springs about it, both logarithms.
#[derive(Clone, Copy, Debug)]
pub struct Share {
    pub log: f64,
    pub sd: f64,
    pub count: usize,
}

/// Stages before bud break, by genus and over all.
pub struct Stages {
    /// Moderately and very swollen.
    pub any: [Share; 2],
    pub genera: HashMap<String, [Share; 2]>,
}

/// Fits the shares to the trees at Harvard Forest.
pub fn fit(trees: &[Tree], days: &HashMap<i16, Days>, fit: &Fit) -> Fallible<Stages> {
    let mut logs: [Vec<(String, f64)>; 2] = [Vec::new(), Vec::new()];
    for tree in trees {
        let Some((first_day, days)) = days.get(&tree.year) else { continue };
        let (genus, species) = tree.species.split_once(' ').ok_or("two words")?;
        let Some(level) = fit.species.get(&(genus.to_owned(), species.to_owned())) else { continue };
        let wake =
            Wake { need: 1.0, slope: level.slope, light: level.light, release: release(genus, species) };
        let course = course(&wake, Reading::Sky, *first_day, days);
        let heat = |day: f64| {
            let at = day - f64::from(*first_day);
            let low = at.floor().max(0.0) as usize;
            let of = |at: usize| course.progress.get(at).or(course.progress.last()).copied().unwrap_or(0.0);
            of(low) + (of(low + 1) - of(low)) * at.fract()
        };
        let Some(broken) = tree.stages[3].map(heat).filter(|heat| *heat > 20.0) else { continue };
        for (which, stage) in [(0, tree.stages[1]), (1, tree.stages[2])] {
            if let Some(day) = stage {
                logs[which].push((genus.to_owned(), (heat(day) / broken).clamp(0.1, 1.0).ln()));
            }
        }
    }
    let any = [share(logs[0].iter().map(|it| it.1)), share(logs[1].iter().map(|it| it.1))];
    let mut genera: HashMap<String, [Share; 2]> = HashMap::new();
    let names: Vec<String> = logs[1].iter().map(|it| it.0.clone()).collect();
    for genus in names {
        let own = [0, 1].map(|which| {
            let own = share(logs[which].iter().filter(|it| it.0 == genus).map(|it| it.1));
            let all: Share = any[which];
            if own.count < 5 {
                return all;
            }
            // Trees and springs of one genus go together: its middle is no surer than a tenth of its rows are.
            let noise = own.sd * own.sd / (own.count as f64 / 10.0).max(1.0);
            let weight = GENUS * GENUS / (GENUS * GENUS + noise);
            Share {
                log: all.log + weight * (own.log - all.log),
                sd: f64::midpoint(own.sd, all.sd),
                count: own.count,
            }
        });
        genera.insert(genus, own);
    }
    Ok(Stages { any, genera })
}

/// Middle and spread, by quantiles: half the width from the 16th to the 84th of a hundred.
fn share(logs: impl Iterator<Item = f64>) -> Share {
    let mut logs: Vec<f64> = logs.collect();
    logs.sort_by(f64::total_cmp);
    let of = |q: f64| logs.get((q * (logs.len().max(1) - 1) as f64).round() as usize).copied().unwrap_or(0.0);
    Share { log: of(0.5), sd: (of(0.84) - of(0.16)) / 2.0, count: logs.len() }
}
