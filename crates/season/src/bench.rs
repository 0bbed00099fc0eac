//! The mix bench: what one pot holds of one mix, level or tipped, and how heavy it is then.

use collection::potting::{Mix, Pot};
use measure::{
    quantity::{Centimetre, Degrees, Kilogram, Litre, Share},
    range::{OutOfRange, within},
    sourced::Standing,
};
use pot::{
    caveat::Caveat,
    error::Error,
    outline::Outline,
    retention::Retention,
    tilt::TiltedBox,
    weight::{Potted, Weight},
};

use crate::{potting, watering::pots::UNAVAILABLE};

/// Even layers told from the floor up.
pub const LAYERS: usize = 6;

/// Air under which roots are said to want for it: 0.10 of the soil's volume (common practice, no source).
pub const AIR_ENOUGH: Share = Share(0.10);

/// The furthest a pot is tipped to drain, °; a guard of this house.
pub const STEEPEST: f64 = 45.0;

/// A pot filled with a mix, watered through and drained.
#[derive(Clone, Debug, PartialEq)]
pub struct Filled {
    /// Soil in the pot.
    pub soil: Litre,
    /// Height from the lowest to the highest point of the soil as the pot stands.
    pub height: Centimetre,
    /// Water, share of the soil's volume.
    pub capacity: Share,
    /// Air, share of the soil's volume.
    pub air: Share,
    /// Water in the pot.
    pub water: Litre,
    /// Of that what roots can take.
    pub for_roots: Litre,
    /// Height above the lowest point up to which there is less than [`AIR_ENOUGH`]; the whole height where there is at none.
    pub wet_layer: Centimetre,
    /// Water when every gap is full.
    pub porosity: Share,
    /// Water in the middle of each even layer, from the floor up.
    pub layers: [Share; LAYERS],
    /// Weight of pot and soil just drained, without the tree.
    pub drained: Kilogram,
    /// The same when roots have taken what they can.
    pub used_up: Kilogram,
    /// Where the holding comes from.
    pub standing: Standing,
    /// Where the weight of the mix comes from.
    pub weight_standing: Standing,
    /// What weakens it.
    pub caveats: &'static [Caveat],
}

/// What a pot holds of a mix, tipped by so much.
///
/// ```text
/// W_roots = max(CC − 0.15, 0)·V,   wet layer = min(h(air 0.10), H)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | CC, V, H | `capacity`, `soil`, `height` | water held as a share, volume and height of the soil | 1, L, cm |
/// | h | [`Retention::wet_layer`] | height with that much air | cm |
/// | 0.15 | [`UNAVAILABLE`] | water that roots cannot take, as the round reckons | 1 |
///
/// A tipped pot is taken for a box as long as its inside halfway up; only the share is taken from the box.
///
/// **Holds**, **Error** as [`potting::retention`]; tipping only for rectangular pots. **Source** our recipe of the parts in `pot`.
/// **Checked** the parts in the tests of `pot`; here that they fit together.
///
/// # Errors
///
/// [`Error`] when a measure is not that of a pot or a mix, or a pot that is not rectangular is tipped.
///
/// # Example
///
/// ```
/// use collection::potting::{Mix, Pot, Wall};
/// use measure::quantity::{Centimetre, Degrees, Millimetre};
/// use pot::{outline::Outline, vessel::Vessel};
///
/// let [length, width] = [30.0, 22.0].map(Centimetre);
/// let top = Outline::Rectangle { length, width };
/// let [height, feet, floor, wall, lip, gap] = [7.0, 1.0, 0.8, 0.8, 0.0, 0.5].map(Centimetre);
/// let vessel = Vessel { top, middle: None, bottom: top, height, feet, floor, wall, lip, gap, measured: None };
/// let pot = Pot { key: "tray".into(), name: "Tray".into(), vessel, wall: Wall::Glazed };
/// let mix = Mix { key: "own".into(), name: "Own".into(), grain: [3.0, 6.0].map(Millimetre), tested: None };
/// let [level, tipped] = [0.0, 15.0].map(|angle| season::bench::filled(&pot, &mix, Degrees(angle)));
/// assert!(tipped?.water < level?.water);
/// # Ok::<(), pot::error::Error>(())
/// ```
pub fn filled(pot: &Pot, mix: &Mix, tilt: Degrees) -> Result<Filled, Error> {
    let told = potting::retention(mix)?;
    let (soil, mix_weight) = (potting::soil(pot)?, potting::density(mix)?);
    let volume = soil.volume();
    let angle = Degrees(within("angle of the pot, °", tilt.0, 0.0, STEEPEST)?);
    let (held, height) = if angle.0 > 0.0 {
        let tipped = tipped(pot, soil.height(), angle)?;
        (tipped.capacity(&told.value)?, tipped.effective_height()?)
    } else {
        (told.value.capacity(&soil), soil.height())
    };
    let weigh = |water: Share| -> Result<Weight, OutOfRange> {
        let [tree, other] = [Kilogram(0.0); 2];
        let (density, fired) = (mix_weight.value, potting::fired(pot.wall).value);
        Potted { soil: volume, density, clay: pot.vessel.clay()?, fired, tree, other }.weight(water)
    };
    let Share(capacity) = held.capacity;
    Ok(Filled {
        soil: volume,
        height,
        capacity: held.capacity,
        air: held.air,
        water: Litre(capacity * volume.0),
        for_roots: Litre((capacity - UNAVAILABLE.0).max(0.0) * volume.0),
        wet_layer: wet_layer(&told.value, height),
        porosity: told.value.porosity(),
        layers: layers(&told.value, height),
        drained: weigh(held.capacity)?.total,
        used_up: weigh(Share(capacity.min(UNAVAILABLE.0)))?.total,
        standing: told.standing,
        weight_standing: mix_weight.standing,
        caveats: told.caveats,
    })
}

/// Whether a pot can be tipped here: only boxes can be told.
pub fn can_tip(pot: &Pot) -> bool {
    matches!(pot.vessel.top, Outline::Rectangle { .. } | Outline::RoundedRectangle { .. })
}

/// Whether its sides lean or bulge, so that a box is only near it.
pub fn is_tapered(pot: &Pot) -> bool {
    pot.vessel.middle.is_some() || pot.vessel.top.key().1 != pot.vessel.bottom.key().1
}

/// The inside of a rectangular pot as a box.
fn tipped(pot: &Pot, depth: Centimetre, angle: Degrees) -> Result<TiltedBox, OutOfRange> {
    let most = if can_tip(pot) { STEEPEST } else { 0.0 };
    within("angle of a pot that is not rectangular, °", angle.0, 0.0, most)?;
    let [top, bottom] = [pot.vessel.top, pot.vessel.bottom].map(|outline| outline.key().1);
    let inside =
        |side: usize| Centimetre(f64::midpoint(top[side].0, bottom[side].0) - 2.0 * pot.vessel.wall.0);
    Ok(TiltedBox { length: inside(0), width: inside(1), depth, angle })
}

fn wet_layer(mix: &Retention, height: Centimetre) -> Centimetre {
    Centimetre(mix.wet_layer(AIR_ENOUGH).map_or(height.0, |top| top.0.min(height.0)))
}

fn layers(mix: &Retention, height: Centimetre) -> [Share; LAYERS] {
    let mut layers = [Share(0.0); LAYERS];
    mix.profile(height, &mut layers);
    layers
}

#[cfg(test)]
mod tests {
    use super::*;
    use collection::potting::{BucketTest, Wall};
    use measure::quantity::{Gram, Millimetre};
    use pot::vessel::Vessel;

    fn pot(top: Outline) -> Pot {
        let [height, feet, floor, wall, lip, gap] = [7.0, 1.0, 0.8, 0.8, 0.0, 0.5].map(Centimetre);
        let vessel =
            Vessel { top, middle: None, bottom: top, height, feet, floor, wall, lip, gap, measured: None };
        Pot { key: "tray".into(), name: "Tray".into(), vessel, wall: Wall::Glazed }
    }

    fn tray() -> Pot {
        let [length, width] = [30.0, 22.0].map(Centimetre);
        pot(Outline::Rectangle { length, width })
    }

    fn mix(grain: [f64; 2]) -> Mix {
        Mix { key: "own".into(), name: "Own".into(), grain: grain.map(Millimetre), tested: None }
    }

    fn told(pot: &Pot, angle: f64) -> Result<Filled, Error> {
        filled(pot, &mix([3.0, 6.0]), Degrees(angle))
    }

    #[test]
    fn a_finer_mix_stays_wet_higher_up() {
        let [fine, coarse] =
            [[1.0, 2.0], [4.0, 8.0]].map(|grain| filled(&tray(), &mix(grain), Degrees(0.0)).unwrap());
        assert!(fine.wet_layer > coarse.wet_layer && fine.water > coarse.water && fine.air < coarse.air);
        assert!(fine.layers.windows(2).all(|pair| pair[0] >= pair[1]));
    }

    #[test]
    fn the_weights_differ_by_the_water_for_roots() {
        let told = told(&tray(), 0.0).unwrap();
        assert!((told.drained.0 - told.used_up.0 - told.for_roots.0).abs() < 1e-9);
    }

    #[test]
    fn only_a_box_is_tipped() {
        let round = pot(Outline::Round { diameter: Centimetre(20.0) });
        assert!(told(&round, 0.0).is_ok() && told(&round, 10.0).is_err());
        let (level, tipped) = (told(&tray(), 0.0).unwrap(), told(&tray(), 20.0).unwrap());
        assert!(tipped.water < level.water && tipped.height > level.height);
        assert!(told(&tray(), 60.0).is_err() && told(&tray(), -1.0).is_err());
    }

    #[test]
    fn leaning_and_bulging_sides_are_no_box() {
        let straight = tray();
        let [length, width] = [27.0, 20.0].map(Centimetre);
        let bottom = Outline::Rectangle { length, width };
        let mut leaning = straight.clone();
        leaning.vessel.bottom = bottom;
        let mut drum = straight.clone();
        drum.vessel.middle = Some(bottom);
        assert!(!is_tapered(&straight) && is_tapered(&leaning) && is_tapered(&drum));
    }

    #[test]
    fn a_bucket_test_carries_its_own_standing() {
        let [dry, flooded, drained] = [1240.0, 2440.0, 1790.0].map(Gram);
        let (height, volume, inside) = (Centimetre(12.0), Litre(2.0), Some(Share(0.18)));
        let tested = Some(BucketTest { height, volume, dry, flooded, drained, inside });
        let told = filled(&tray(), &Mix { tested, ..mix([3.0, 6.0]) }, Degrees(0.0)).unwrap();
        assert_eq!((told.standing, told.weight_standing), (Standing::Measured, Standing::Measured));
    }
}
