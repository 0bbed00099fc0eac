//! What a potted tree weighs, wet and dry.

use measure::{
    quantity::{Kilogram, KilogramPerLitre, Litre, Share},
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};

/// Density of high-fired clay, 2.0 to 2.4.
pub const STONEWARE: Sourced<KilogramPerLitre> = Sourced {
    value: KilogramPerLitre(2.2),
    standing: Standing::Unverified("2.0 to 2.4 kg/L, no work named"),
};

/// Density of low-fired clay, 1.8 to 2.0.
pub const EARTHENWARE: Sourced<KilogramPerLitre> = Sourced {
    value: KilogramPerLitre(1.9),
    standing: Standing::Unverified("1.8 to 2.0 kg/L, no work named"),
};

/// Density of living wood.
pub const WET_WOOD: Sourced<KilogramPerLitre> =
    Sourced { value: KilogramPerLitre(1.0), standing: Standing::Unverified("about 1.0 kg/L, no work named") };

/// A potted tree, part by part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Potted {
    /// Soil, as [`crate::vessel::Vessel::soil`] tells its volume.
    pub soil: Litre,
    /// Weight of a litre of the soil, dry.
    pub density: KilogramPerLitre,
    /// Clay of the pot, as [`crate::vessel::Vessel::clay`] tells it.
    pub clay: Litre,
    /// Density of the fired clay.
    pub fired: KilogramPerLitre,
    /// The tree.
    pub tree: Kilogram,
    /// Moss, rock, turntable and whatever else is lifted with it.
    pub other: Kilogram,
}

/// Weights of the parts of a potted tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weight {
    /// Dry soil.
    pub soil: Kilogram,
    /// Water in the soil.
    pub water: Kilogram,
    /// The pot.
    pub pot: Kilogram,
    /// All of it.
    pub total: Kilogram,
}

impl Potted {
    /// What it weighs while the soil holds this much water.
    ///
    /// ```text
    /// W = V_soil·(BD + θ) + V_clay·ρ_clay + tree + other
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | W | `total` returned | weight | kg |
    /// | V_soil, V_clay | `soil`, `clay` | volumes | L |
    /// | BD, ρ_clay | `density`, `fired` | dry density of the soil, density of the clay | kg/L |
    /// | θ | `water` | water, share of the soil's volume, of 1 kg/L | 1 |
    ///
    /// **Holds** for a pot without feet of weight; roots count as soil. **Error** that of wall and floor, about a tenth of the
    /// pot for a tenth of wall; a balance tells better. **Source** sum of parts, as the reference set. **Checked** `tests/weight.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a part is not that of a potted tree.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::{Kilogram, KilogramPerLitre, Litre, Share};
    /// use pot::weight::{Potted, STONEWARE};
    ///
    /// let maple = Potted {
    ///     soil: Litre(2.19),
    ///     density: KilogramPerLitre(0.7),
    ///     clay: Litre(0.906),
    ///     fired: STONEWARE.value,
    ///     tree: Kilogram(1.5),
    ///     other: Kilogram(0.0),
    /// };
    /// let told = |water| maple.weight(Share(water)).map(|weight| format!("{:.1} kg", weight.total.0));
    /// assert_eq!([told(0.4)?, told(0.15)?], ["5.9 kg", "5.4 kg"]);
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn weight(&self, water: Share) -> Result<Weight, OutOfRange> {
        let soil = within("soil, L", self.soil.0, 0.0, 2000.0)?;
        let density = within("dry density of the soil, kg/L", self.density.0, 0.01, 3.0)?;
        let water = within("water, share of the soil", water.0, 0.0, 1.0)? * soil;
        let clay = within("clay of the pot, L", self.clay.0, 0.0, 1000.0)?;
        let pot = clay * within("density of the clay, kg/L", self.fired.0, 0.1, 10.0)?;
        let tree = within("weight of the tree, kg", self.tree.0, 0.0, 5000.0)?;
        let other = within("other weight, kg", self.other.0, 0.0, 5000.0)?;
        Ok(Weight {
            soil: Kilogram(soil * density),
            water: Kilogram(water),
            pot: Kilogram(pot),
            total: Kilogram(soil * density + water + pot + tree + other),
        })
    }
}
