//! What goes into a mix, and the grains we take each for until they are weighed.

use measure::{
    quantity::{KilogramPerLitre, Millimetre, Share},
    sourced::Standing,
};

use super::Between;
use crate::{
    caveat::{Caveat, Estimate},
    granule::{Cut, Granules},
};

/// What goes into a mix.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Component {
    /// Granules of volcanic clay, hard grade.
    Akadama,
    /// Pumice.
    Pumice,
    /// Lava or scoria.
    Lava,
    /// Acid, light, pumice-like granules.
    Kanuma,
    /// Bark of fir or pine.
    Bark,
    /// Granite grit.
    Grit,
    /// Fired clay granules.
    CalcinedClay,
    /// Perlite.
    Perlite,
}

/// The grains that a component is taken for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Makeup {
    /// Which component.
    pub component: Component,
    /// Water inside the grains after soaking, share of the fill's volume.
    pub inside: Share,
    /// Gaps between the grains, share.
    pub between: Share,
    /// Weight of a litre, dry.
    pub density: KilogramPerLitre,
    /// How far to trust the row.
    pub standing: Standing,
}

/// Roundness that all grains are taken for.
const SHAPE: f64 = 0.75;

const FITTED: Standing = Standing::Estimate(
    "water inside set so that such grains hold the middle of the remembered range at 10 cm; weight remembered from bags",
);
const BAG_ONLY: Standing = Standing::Estimate(
    "water inside set so that 3 to 6 mm grains hold at 10 cm what is remembered of bags; weight remembered from bags",
);
const SOLID: Standing = Standing::Estimate("solid grains; weight as measured by a plant society");

const fn k(component: Component, inside: f64, between: f64, density: f64, standing: Standing) -> Makeup {
    let (inside, between) = (Share(inside), Share(between));
    Makeup { component, inside, between, density: KilogramPerLitre(density), standing }
}

/// One row per [`Component`], in its order.
#[rustfmt::skip]
pub const MAKEUPS: [Makeup; 8] = [
    k(Component::Akadama, 0.24, 0.45, 0.68, FITTED),
    k(Component::Pumice, 0.17, 0.45, 0.55, FITTED),
    k(Component::Lava, 0.07, 0.45, 0.85, FITTED),
    k(Component::Kanuma, 0.31, 0.45, 0.34, FITTED),
    k(Component::Bark, 0.23, 0.45, 0.25, BAG_ONLY),
    k(Component::Grit, 0.0, 0.42, 1.34, SOLID),
    k(Component::CalcinedClay, 0.20, 0.45, 0.60, FITTED),
    k(Component::Perlite, 0.16, 0.45, 0.11, FITTED),
];

impl Component {
    /// The grains we take it for, whatever their size.
    pub fn makeup(self) -> &'static Makeup {
        &MAKEUPS[self as usize]
    }

    /// Its grains when sieved between these two: a narrow cut if the wider mesh is at most twice the finer.
    ///
    /// ```
    /// use measure::quantity::Millimetre;
    /// use pot::table::{Between, Component};
    ///
    /// let pumice = Component::Pumice.granules(Between { low: Millimetre(3.0), high: Millimetre(6.0) });
    /// assert_eq!(pumice.value.grain, Millimetre(4.5));
    /// assert!(pumice.standing.words().starts_with("our estimate"));
    /// ```
    pub fn granules(self, sieved: Between<Millimetre>) -> Estimate<Granules> {
        let Makeup { inside, between, density, standing, .. } = *self.makeup();
        let (low, high) = (sieved.low.0, sieved.high.0);
        let grain = Millimetre(f64::midpoint(low, high));
        let cut = if high <= 2.0 * low { Cut::Narrow } else { Cut::Wide };
        let value = Granules { grain, inside, between, shape: SHAPE, cut, density };
        Estimate { value, standing, caveats: &[Caveat::GrainsAlone] }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{column::Column, table::Material};
    use measure::quantity::{Centimetre, SquareCentimetre};

    #[test]
    fn rows_stand_in_the_order_of_the_components() {
        assert!(MAKEUPS.iter().enumerate().all(|(at, row)| row.component as usize == at));
    }

    #[test]
    fn each_holds_the_middle_of_what_is_remembered_of_it() {
        for (component, name, sieved) in [
            (Component::Akadama, "akadama", [3.0, 6.0]),
            (Component::Kanuma, "kanuma", [3.0, 6.0]),
            (Component::Lava, "lava/scoria", [3.0, 6.0]),
            (Component::Pumice, "pumice", [3.0, 6.0]),
            (Component::CalcinedClay, "calcined clay", [1.0, 4.0]),
            (Component::Perlite, "perlite", [2.0, 5.0]),
        ] {
            let remembered = Material::rows(name).find(|row| row.depth.is_some()).unwrap();
            let soil = Column::straight(remembered.depth.unwrap(), SquareCentimetre(100.0)).unwrap();
            assert_eq!(soil.height(), Centimetre(10.0));
            let [low, high] = sieved.map(Millimetre);
            let mix = component.granules(Between { low, high }).value.retention().unwrap().value;
            let held = mix.capacity(&soil);
            let water = remembered.water.unwrap();
            let middle = f64::midpoint(water.low.0, water.high.0);
            assert!((held.capacity.0 - middle).abs() < 0.006, "{name} {held:?}");
            let density = remembered.density.unwrap();
            let weight = component.makeup().density;
            assert!(density.low <= weight && weight <= density.high, "{name}");
        }
    }
}
