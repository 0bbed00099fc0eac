//! What a grower's own mix holds and weighs, and the soil in a grower's own pot.

use collection::potting::{BucketTest, Mix, Pot, Wall};
use measure::{
    quantity::{Gram, KilogramPerLitre, SquareCentimetre},
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};
use pot::{
    bucket::{Bucket, Weighed},
    caveat::{Caveat, Estimate},
    column::Column,
    error::Error,
    granule::{Cut, Granules, Part, mixed},
    retention::Retention,
    table::{Between, Component},
    weight::{EARTHENWARE, STONEWARE},
};

/// What the grains of a mix are taken for while nothing but its sieves is written down.
const UNKNOWN: [Component; 3] = [Component::Akadama, Component::Pumice, Component::Lava];

/// What the mix holds at any height: by its bucket test where there is one, else told from its grains.
///
/// ```text
/// tested: pot::bucket,   θ_in as soaked, else min(0.20, CC/2)
/// else:   pot::granule,  grains of akadama, pumice and lava 1 : 1 : 1, d the middle of the sieves
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | θ_in | `tested.inside` | water inside the grains | 1 |
/// | CC | [`Weighed`] | water the bucket held | 1 |
/// | d | `grain` | size of the grains | mm |
///
/// The cut is narrow when the wider sieve is at most twice the finer.
///
/// **Holds**, **Error** as [`Bucket::retention`] and [`Granules::retention`]; a test at the depth of the pot is the better, even
/// without soaked grains. **Source** our recipe, from the reference set. **Checked** `bucket.rs` and `granule.rs` in the
/// tests of `pot`.
///
/// # Errors
///
/// [`Error`] when the sieves or the weighings are not those of a mix.
///
/// # Example
///
/// ```
/// use collection::potting::{BucketTest, Mix};
/// use measure::{quantity::{Centimetre, Gram, Litre, Millimetre, Share}, sourced::Standing};
///
/// let test = BucketTest {
///     height: Centimetre(12.0),
///     volume: Litre(2.0),
///     dry: Gram(1240.0),
///     flooded: Gram(2440.0),
///     drained: Gram(1790.0),
///     inside: Some(Share(0.18)),
/// };
/// let grain = [3.0, 6.0].map(Millimetre);
/// let mix = Mix { key: "own".into(), name: "Own".into(), grain, tested: Some(test) };
/// assert_eq!(season::potting::retention(&mix)?.standing, Standing::Measured);
/// let told = season::potting::retention(&Mix { tested: None, ..mix })?;
/// assert!(told.standing.words().starts_with("our estimate"));
/// # Ok::<(), pot::error::Error>(())
/// ```
pub fn retention(mix: &Mix) -> Result<Estimate<Retention>, Error> {
    let Some(test) = mix.tested else {
        let told = grains(mix)?.value.retention()?;
        return Ok(Estimate { caveats: &[Caveat::GrainsAlone, Caveat::GrainsUnknown], ..told });
    };
    let bucket = bucket(&test)?;
    let cut = Cut::between(mix.grain);
    test.inside.map_or_else(|| bucket.retention_unsoaked(cut), |inside| bucket.retention_holding(inside, cut))
}

/// The soil in the pot, from its floor to the watering gap.
///
/// # Errors
///
/// [`OutOfRange`] when its measures leave no room.
pub fn soil(pot: &Pot) -> Result<Column, OutOfRange> {
    pot.vessel.soil()
}

/// Weight of a litre of the mix, dry: as weighed, else what such grains are remembered to weigh.
///
/// # Errors
///
/// As [`retention`].
pub fn density(mix: &Mix) -> Result<Sourced<KilogramPerLitre>, Error> {
    Ok(match weighed(mix)? {
        Some(weighed) => Sourced { value: weighed.density, standing: Standing::Measured },
        None => {
            let standing =
                Standing::Estimate("akadama, pumice and lava in equal parts, weights remembered from bags");
            Sourced { value: grains(mix)?.value.density, standing }
        }
    })
}

/// What the weighings of the mix's bucket test say without any model; none without a test.
///
/// # Errors
///
/// [`Error`] when the weighings cannot follow each other so.
pub fn weighed(mix: &Mix) -> Result<Option<Weighed>, Error> {
    mix.tested.map(|test| bucket(&test)?.weighed()).transpose()
}

/// Density of what the pot is made of.
pub fn fired(wall: Wall) -> Sourced<KilogramPerLitre> {
    match wall {
        Wall::Glazed | Wall::Stoneware => STONEWARE,
        Wall::Earthenware => EARTHENWARE,
    }
}

/// The grains an untested mix is taken for.
fn grains(mix: &Mix) -> Result<Estimate<Granules>, OutOfRange> {
    let [low, high] = mix.grain;
    within("larger sieve, mm", high.0, low.0, 60.0)?;
    mixed(&UNKNOWN.map(|it| Part { granules: it.granules(Between { low, high }).value, parts: 1.0 }))
}

fn bucket(test: &BucketTest) -> Result<Bucket, Error> {
    let height = within("height of the soil, cm", test.height.0, 0.05, 200.0)?;
    Ok(Bucket {
        fill: Column::straight(test.height, SquareCentimetre(test.volume.0 * 1000.0 / height))?,
        vessel: Gram(0.0),
        dry: test.dry,
        saturated: test.flooded,
        drained: test.drained,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use measure::quantity::{Centimetre, Litre, Millimetre, Share};

    fn mix(tested: Option<BucketTest>) -> Mix {
        Mix { key: "own".into(), name: "Own".into(), grain: [3.0, 6.0].map(Millimetre), tested }
    }

    fn test() -> BucketTest {
        let [dry, flooded, drained] = [1240.0, 2440.0, 1790.0].map(Gram);
        let (height, volume) = (Centimetre(12.0), Litre(2.0));
        BucketTest { height, volume, dry, flooded, drained, inside: Some(Share(0.18)) }
    }

    #[test]
    fn without_soaked_grains_the_bucket_still_counts_at_its_own_depth() {
        let blind = BucketTest { inside: None, ..test() };
        let fill = bucket(&blind).unwrap().fill;
        let told = retention(&mix(Some(blind))).unwrap();
        assert!((told.value.capacity(&fill).capacity.0 - 0.275).abs() < 1e-9);
        assert!(told.caveats.contains(&Caveat::GrainsNotSoaked) && told.standing == Standing::Measured);
    }

    #[test]
    fn grit_without_soaked_grains_has_a_curve_too() {
        let [dry, flooded, drained] = [2680.0, 3500.0, 2940.0].map(Gram);
        let grit = BucketTest { dry, flooded, drained, inside: None, ..test() };
        assert!(retention(&mix(Some(grit))).is_ok());
    }

    #[test]
    fn weighings_the_wrong_way_round_are_refused_here_too() {
        let wrong = BucketTest { drained: Gram(2500.0), ..test() };
        assert!(matches!(retention(&mix(Some(wrong))), Err(Error::WrongWayRound { .. })));
        let upside = Mix { grain: [6.0, 3.0].map(Millimetre), ..mix(None) };
        assert!(retention(&upside).is_err());
    }

    #[test]
    fn a_tested_mix_weighs_what_was_weighed() {
        assert!((density(&mix(Some(test()))).unwrap().value.0 - 0.62).abs() < 1e-12);
        assert!((density(&mix(None)).unwrap().value.0 - 0.6933).abs() < 1e-3);
    }
}
