//! What a mix of the grower's holds: by its bucket test where it had one, else estimated from its grains.

use collection::potting::{BucketTest, Mix, Pot};
use measure::{
    quantity::{Centimetre, Gram, KilogramPerLitre, Millimetre, Share, SquareCentimetre},
    range::OutOfRange,
};
use pot::{
    bucket::{Bucket, Soaked},
    caveat::Estimate,
    column::Column,
    error::Error,
    granule::{Cut, Granules},
    retention::Retention,
};

/// Water inside a mix's grains where nobody soaked them, share of the mix's volume (the reference estimate).
const INSIDE: Share = Share(0.20);

/// Gaps between grains as they lie.
const BETWEEN: Share = Share(0.45);

/// Roundness of grains.
const SHAPE: f64 = 0.75;

/// Weight of a litre where nobody weighed it, kg.
const DENSITY: KilogramPerLitre = KilogramPerLitre(0.7);

/// What the mix holds at each suction.
///
/// # Errors
///
/// [`Error`] when its weighings or sieves cannot be those of a mix.
pub fn retention(mix: &Mix) -> Result<Estimate<Retention>, Error> {
    match &mix.tested {
        Some(test) => tested(test, cut(mix)),
        None => Ok(granules(mix).retention()?),
    }
}

/// The soil in a pot, by height.
///
/// # Errors
///
/// [`OutOfRange`] when a measure is not that of a pot.
pub fn soil(pot: &Pot) -> Result<Column, OutOfRange> {
    pot.vessel.soil()
}

/// A mix is cut narrow when its largest grain is at most twice its smallest.
fn cut(mix: &Mix) -> Cut {
    if mix.grain[1].0 <= 2.0 * mix.grain[0].0 { Cut::Narrow } else { Cut::Wide }
}

fn granules(mix: &Mix) -> Granules {
    Granules {
        grain: Millimetre(0.5 * (mix.grain[0].0 + mix.grain[1].0)),
        inside: INSIDE,
        between: BETWEEN,
        shape: SHAPE,
        cut: cut(mix),
        density: DENSITY,
    }
}

fn tested(test: &BucketTest, cut: Cut) -> Result<Estimate<Retention>, Error> {
    let area = SquareCentimetre(1000.0 * test.volume.0 / test.height.0);
    let bucket = Bucket {
        fill: Column::straight(Centimetre(test.height.0), area)?,
        vessel: Gram(0.0),
        dry: test.dry,
        saturated: test.flooded,
        drained: test.drained,
    };
    // Grains weighed on their own are stored as the share of the mix's volume that they take up.
    let inside = test.inside.unwrap_or(INSIDE).0;
    let density = bucket.weighed()?.density.0;
    let soaked = Soaked { dry: Gram(1000.0 * density), wet: Gram(1000.0 * (density + inside)) };
    bucket.retention(soaked, cut)
}
