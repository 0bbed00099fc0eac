//! What the grower writes down at the mix bench: a bucket test, a new mix, what stands in which pot, a crown.

use collection::potting::{BucketTest, Crown, Mix, Potted};
use jiff::civil::Date;
use measure::quantity::{Centimetre, Gram, Litre, Millimetre, Share, SquareCentimetre, Units};
use pot::{
    bucket::{Bucket, Soaked},
    column::Column,
    granule::Cut,
};
use store::store::{Act, Store};

use crate::{
    length,
    limits::{BUCKET_HEIGHT, BUCKET_VOLUME, CROWN, GRAIN},
    record::{FormError, bad, day, known_tree, name, number, number_in, same_figure},
    weight,
};

/// Why a bucket test was not taken.
#[derive(Debug, thiserror::Error)]
pub enum BucketError {
    /// A field that cannot be taken, or the store's no.
    #[error(transparent)]
    Form(#[from] FormError),
    /// The weighings cannot follow each other so.
    #[error(transparent)]
    Weighings(#[from] pot::error::Error),
}

impl From<store::error::Error> for BucketError {
    fn from(why: store::error::Error) -> BucketError {
        BucketError::Form(why.into())
    }
}

/// A bucket test as typed: the vessel, the weighings, and where they were soaked the grains.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct BucketForm<'a> {
    pub height: &'a str,
    pub volume: &'a str,
    pub vessel: &'a str,
    pub dry: &'a str,
    pub flooded: &'a str,
    pub drained: &'a str,
    pub grains_dry: &'a str,
    pub grains_wet: &'a str,
}

/// A length in centimetres, or in inches where it says so or the reader measures in them.
fn length(field: &'static str, typed: &str, units: Units, bounds: [f64; 2]) -> Result<Centimetre, FormError> {
    length::read_cm(field, typed, units, bounds)
}

/// Litres in a US quart.
pub(crate) const QUART: f64 = 0.946_352_946;

/// Litres in one of a unit.
const VOLUMES: [(&str, f64); 5] =
    [("ml", 0.001), ("fl oz", 0.029_573_53), ("qt", QUART), ("gal", 3.785_411_784), ("l", 1.0)];

/// A volume; without a unit it is litres, and US quarts where the reader measures so.
pub(crate) fn volume(
    field: &'static str,
    typed: &str,
    units: Units,
    [low, high]: [f64; 2],
) -> Result<Litre, FormError> {
    let (figure, (unit, scale)) = volume_parts(typed, units);
    let told = number_in(field, typed, &figure, [low / scale, high / scale], unit)?;
    Ok(Litre(told * scale))
}

/// Whether what was typed is this very volume, rounded to the digits typed.
pub(crate) fn is_volume(typed: &str, units: Units, stands: Litre) -> bool {
    let (figure, (_, scale)) = volume_parts(typed, units);
    same_figure(&figure, stands.0 / scale)
}

/// The figure that was typed, and its unit with the litres in it.
fn volume_parts(typed: &str, units: Units) -> (String, (&'static str, f64)) {
    let lower = typed.trim().to_lowercase();
    let bare = if units == Units::Imperial { VOLUMES[2] } else { VOLUMES[4] };
    let told = VOLUMES.iter().find_map(|volume| Some((lower.strip_suffix(volume.0)?, *volume)));
    let (figure, volume) = told.unwrap_or((&lower, bare));
    (figure.to_string(), volume)
}

fn grams(field: &'static str, typed: &str) -> Result<Gram, FormError> {
    weight::read(typed).map_err(|why| bad(field, typed, why))
}

/// Puts a mix to the bucket test, in place of any before; nothing is written when the weighings cannot be.
///
/// # Errors
///
/// [`BucketError`] naming the field, or the two weighings that contradict each other.
pub fn test(
    store: &mut Store,
    key: &str,
    form: BucketForm<'_>,
    units: Units,
) -> Result<BucketTest, BucketError> {
    let mix = known_mix(store, key)?;
    let (height, volume) = (
        length("height", form.height, units, BUCKET_HEIGHT)?,
        volume("volume", form.volume, units, BUCKET_VOLUME)?,
    );
    let vessel = match form.vessel.trim() {
        "" => Gram(0.0),
        typed => grams("empty vessel", typed)?,
    };
    let bucket = Bucket {
        fill: Column::straight(height, SquareCentimetre(volume.0 * 1000.0 / height.0))
            .map_err(pot::error::Error::from)?,
        vessel,
        dry: grams("dry", form.dry)?,
        saturated: grams("flooded", form.flooded)?,
        drained: grams("drained", form.drained)?,
    };
    let net = |gross: Gram| Gram(gross.0 - vessel.0);
    let test = BucketTest {
        height,
        volume,
        dry: net(bucket.dry),
        flooded: net(bucket.saturated),
        drained: net(bucket.drained),
        inside: inside(&bucket, form, Cut::between(mix.grain))?,
    };
    store.transact(&Act::TestMix(mix.key.clone()), |change| change.test_mix(&mix.key, &test))?;
    Ok(test)
}

/// Water inside the grains where they were soaked; refuses weighings that no mix explains.
fn inside(bucket: &Bucket, form: BucketForm<'_>, cut: Cut) -> Result<Option<Share>, BucketError> {
    match (form.grains_dry.trim(), form.grains_wet.trim()) {
        ("", "") => {
            bucket.retention_unsoaked(cut)?;
            Ok(None)
        }
        (dry, wet) => {
            let soaked = Soaked { dry: grams("dry grains", dry)?, wet: grams("soaked grains", wet)? };
            bucket.retention(soaked, cut)?;
            Ok(Some(bucket.inside(soaked)?))
        }
    }
}

fn known_mix(store: &Store, key: &str) -> Result<Mix, FormError> {
    let known = store.reader()?.mixes()?.into_iter().find(|mix| mix.key == key);
    known.ok_or_else(|| bad("mix", key, "is not in the collection"))
}

fn known_pot(store: &Store, key: &str) -> Result<String, FormError> {
    let known = store.reader()?.pots()?.iter().any(|pot| pot.key == key);
    if known { Ok(key.to_string()) } else { Err(bad("pot", key, "is not in the collection")) }
}

/// Adds a mix by its name and the two sieves it lies between, mm.
///
/// # Errors
///
/// [`FormError`], also when a mix of that name stands already.
pub fn add_mix(store: &mut Store, typed: &str, grain: [&str; 2]) -> Result<String, FormError> {
    let (key, shown) = name(typed)?;
    let low = number("smallest grain", grain[0], GRAIN[0], GRAIN[1])?;
    let high = number("largest grain", grain[1], GRAIN[0], GRAIN[1])?;
    if low > high {
        return Err(bad("largest grain", grain[1], format!("is smaller than the smallest, {low} mm")));
    }
    let mix = Mix { key, name: shown, grain: [low, high].map(Millimetre), tested: None };
    let added = store.transact(&Act::AddMix(mix.key.clone()), |change| change.add_mix(&mix))?;
    if added { Ok(mix.key) } else { Err(bad("name", typed, "is taken by another mix")) }
}

/// What stands in which pot since when, as typed.
#[derive(Clone, Copy, Debug)]
#[allow(missing_docs)]
pub struct PottedForm<'a> {
    pub tree: &'a str,
    pub pot: &'a str,
    pub mix: &'a str,
    pub day: &'a str,
}

/// Writes down that a tree stands in a pot and a mix since a day.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn pot(store: &mut Store, form: PottedForm<'_>, today: Date) -> Result<(), FormError> {
    let it = Potted {
        tree: known_tree(store, form.tree)?,
        day: day(form.day, today)?,
        pot: known_pot(store, form.pot)?,
        mix: known_mix(store, form.mix)?.key,
    };
    store.transact(&Act::Pot(it.tree.clone()), |change| change.add_potted(&it))?;
    Ok(())
}

/// A crown as measured.
#[derive(Clone, Copy, Debug)]
#[allow(missing_docs)]
pub struct CrownForm<'a> {
    pub tree: &'a str,
    pub day: &'a str,
    pub length: &'a str,
    pub width: &'a str,
}

/// Writes down how wide a crown is; without a second measure it is round.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn crown(store: &mut Store, form: CrownForm<'_>, units: Units, today: Date) -> Result<(), FormError> {
    let across = length("crown, the long way", form.length, units, CROWN)?;
    let it = Crown {
        tree: known_tree(store, form.tree)?,
        day: day(form.day, today)?,
        length: across,
        width: match form.width.trim() {
            "" => across,
            typed => length("crown, the short way", typed, units, CROWN)?,
        },
    };
    store.transact(&Act::Crown(it.tree.clone()), |change| change.add_crown(&it))?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    const FORM: BucketForm<'_> = BucketForm {
        height: "12",
        volume: "2",
        vessel: "150 g",
        dry: "1390",
        flooded: "2.59 kg",
        drained: "1940",
        grains_dry: "100",
        grains_wet: "129",
    };

    fn stocked() -> Store {
        let mut store = Store::in_memory().unwrap();
        add_mix(&mut store, "Pine mix", ["3", "6"]).unwrap();
        store
    }

    #[test]
    fn five_weighings_are_kept_without_the_vessel() {
        let mut store = stocked();
        let test = test(&mut store, "pine-mix", FORM, Units::Metric).unwrap();
        assert_eq!((test.dry, test.drained), (Gram(1240.0), Gram(1790.0)));
        assert!((test.inside.unwrap().0 - 0.62 * 0.29).abs() < 1e-12);
        assert_eq!(store.reader().unwrap().mixes().unwrap()[0].tested, Some(test));
    }

    #[test]
    fn the_two_weighings_that_contradict_are_named_and_nothing_is_kept() {
        let mut store = stocked();
        let wrong = BucketForm { drained: "2600", ..FORM };
        let why = test(&mut store, "pine-mix", wrong, Units::Metric).unwrap_err().to_string();
        assert!(why.contains("the drained fill weighs 2600 g and the flooded fill weighs 2590 g"), "{why}");
        let blind = BucketForm { drained: "2590", grains_dry: "", grains_wet: "", ..FORM };
        assert!(matches!(
            test(&mut store, "pine-mix", blind, Units::Metric),
            Err(BucketError::Weighings(pot::error::Error::NoCurve { .. }))
        ));
        assert!(test(&mut store, "pine-mix", BucketForm { grains_wet: "", ..FORM }, Units::Metric).is_err());
        assert_eq!(store.reader().unwrap().mixes().unwrap()[0].tested, None);
    }

    #[test]
    fn inches_and_quarts_are_turned() {
        assert!((length("height", "4.7 in", Units::Metric, BUCKET_HEIGHT).unwrap().0 - 11.938).abs() < 1e-9);
        assert!((length("height", "4.7", Units::Imperial, BUCKET_HEIGHT).unwrap().0 - 11.938).abs() < 1e-9);
        assert!(
            (volume("volume", "2", Units::Imperial, BUCKET_VOLUME).unwrap().0 - 1.892_705_892).abs() < 1e-9
        );
        assert_eq!(volume("volume", "1500 ml", Units::Metric, BUCKET_VOLUME).unwrap(), Litre(1.5));
        assert!(volume("volume", "two", Units::Metric, BUCKET_VOLUME).is_err());
    }

    #[test]
    fn a_mix_of_that_name_and_grains_the_wrong_way_round_are_refused() {
        let mut store = stocked();
        assert!(add_mix(&mut store, "Pine  mix", ["3", "6"]).is_err());
        assert!(add_mix(&mut store, "Other", ["6", "3"]).is_err());
    }
}
