//! What a tree and its pot draw in a day from what the air demands.

use std::f64::consts::PI;

use measure::{
    quantity::{LitresPerDay, Metre, Millimetre, Share, SquareMetre},
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};

use crate::{
    leaf::{Exposure, LeafState},
    supply::Supply,
};

/// Use over demand and crown area, live oak in containers.
pub const CROWN_FACTOR: Sourced<f64> = Sourced {
    value: 0.93,
    standing: Standing::Published("Beeson, Duong and Kjelgren 2018, live oak, lysimeters"),
};
/// The same for a sparse crown.
pub const SPARSE_CROWN: Sourced<f64> = Sourced { value: 0.7, standing: Standing::Practice };
/// Use of bare substrate over demand, from 160 mL a day on 0.0508 m².
pub const SOIL_FACTOR: Sourced<f64> = Sourced {
    value: 0.8,
    standing: Standing::Estimate(
        "Beeson 2010 and 2012: 160 mL a day over 0.0508 m², at the demand of central Florida",
    ),
};
/// Use of an unglazed wall over demand.
pub const WALL_FACTOR: Sourced<f64> = Sourced { value: 0.2, standing: Standing::Practice };

/// A tree and its pot as the air meets them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Canopy {
    /// Crown seen from above.
    pub crown: SquareMetre,
    /// Substrate open to the air.
    pub surface: SquareMetre,
    /// Unglazed wall, where the pot breathes.
    pub wall: Option<SquareMetre>,
    /// Use over demand and crown area with full leaves: [`CROWN_FACTOR`].
    pub crown_factor: f64,
    /// Use over demand and open substrate: [`SOIL_FACTOR`].
    pub soil_factor: f64,
    /// Share of the substrate in the crown's shade.
    pub shade: Share,
    /// Share of the summer use: [`LeafState::share`].
    pub leaves: f64,
    /// Where it stands: [`Exposure::factor`].
    pub exposure: f64,
    /// This tree's own coefficient, learned from weighings; 1 before.
    pub coefficient: f64,
}

/// What was drawn, by way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DailyUse {
    /// Through the leaves.
    pub leaves: LitresPerDay,
    /// From the substrate.
    pub soil: LitresPerDay,
    /// Through an unglazed wall.
    pub wall: LitresPerDay,
}

impl DailyUse {
    /// All of it.
    pub fn total(&self) -> LitresPerDay {
        LitresPerDay(self.leaves.0 + self.soil.0 + self.wall.0)
    }
}

/// Crown seen from above, from its two widths.
///
/// ```text
/// Ac = π/4 · a · b
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | Ac | returned | crown area | m² |
/// | a, b | `long`, `wide` | widths | m |
///
/// **Holds** for a closed crown. **Error** that of calling it an ellipse. **Source** geometry.
/// **Checked** its example.
///
/// ```
/// use measure::quantity::Metre;
/// use water::canopy::crown_area;
///
/// assert_eq!(format!("{:.3} m²", crown_area(Metre(0.6), Metre(0.4)).0), "0.188 m²");
/// ```
pub fn crown_area(long: Metre, wide: Metre) -> SquareMetre {
    SquareMetre(PI / 4.0 * long.0 * wide.0)
}

/// Share of the substrate that a crown shades.
///
/// ```text
/// shade = min(0.9, Ac/As)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | shade | returned | shaded share | 1 |
/// | Ac, As | `crown`, `surface` | crown, open substrate | m² |
///
/// **Holds** for a crown over its pot, in leaf. **Error** a cascade shades less. **Source** our own rule; common practice
/// has none. **Checked** its example.
///
/// ```
/// use measure::quantity::SquareMetre;
/// use water::canopy::shade_of;
///
/// assert_eq!(shade_of(SquareMetre(0.2), SquareMetre(0.05)).0, 0.9);
/// ```
pub fn shade_of(crown: SquareMetre, surface: SquareMetre) -> Share {
    Share(if surface.0 > 0.0 { (crown.0 / surface.0).clamp(0.0, 0.9) } else { 0.9 })
}

impl Canopy {
    /// A tree in leaf state and place, everything else as usual.
    pub fn usual(crown: SquareMetre, surface: SquareMetre, leaves: LeafState, place: Exposure) -> Canopy {
        Canopy {
            crown,
            surface,
            wall: None,
            crown_factor: CROWN_FACTOR.value,
            soil_factor: SOIL_FACTOR.value,
            shade: shade_of(crown, surface),
            leaves: leaves.share().value.likely,
            exposure: place.factor().value,
            coefficient: 1.0,
        }
    }

    /// What is drawn in a day.
    ///
    /// ```text
    /// T = c · ET0 · Ac · kt · s · x · Ks
    /// E = ET0 · As · ke · (1 − shade) · x · Kr    W = ET0 · Aw · 0.2 · x
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | T, E, W | returned | through leaves, substrate, unglazed wall | L d⁻¹ |
    /// | ET0 | `demand` | demand of open grass; mm on m² are litres | mm d⁻¹ |
    /// | c, Ac, kt, s, x | `coefficient`, `crown`, `crown_factor`, `leaves`, `exposure` | | 1, m² |
    /// | As, ke, Aw | `surface`, `soil_factor`, `wall` | | m², 1 |
    /// | Ks, Kr | `supply` | what the pot can still give | 1 |
    ///
    /// **Holds** outdoors; indoors use [`crate::indoors::indoor_use`]. **Error** unlearned by a factor of two either way; the
    /// wall's factor is a guess. **Source** kt Beeson et al. 2018; the form is ours. **Checked** `tests/canopy.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a figure is not that of a tree in a pot. A negative demand draws nothing.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::{Millimetre, Share, SquareMetre};
    /// use water::{canopy::Canopy, leaf::{Exposure, LeafState}, supply::Supply};
    ///
    /// let (crown, soil) = (SquareMetre(0.20), SquareMetre(0.0535));
    /// let usual = Canopy::usual(crown, soil, LeafState::Mature, Exposure::OpenBench);
    /// let tree = Canopy { shade: Share(0.7), ..usual };
    /// let used = tree.draws(Millimetre(5.0), Supply::FULL)?;
    /// assert_eq!(format!("{:.3} L", used.total().0), "1.193 L");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn draws(&self, demand: Millimetre, supply: Supply) -> Result<DailyUse, OutOfRange> {
        let et0 = within("demand, mm a day", demand.0, -5.0, 30.0)?.max(0.0);
        let crown = within("crown, m²", self.crown.0, 0.0, 50.0)?;
        let surface = within("open substrate, m²", self.surface.0, 0.0, 20.0)?;
        let wall = within("unglazed wall, m²", self.wall.map_or(0.0, |wall| wall.0), 0.0, 20.0)?;
        let shade = within("shaded share", self.shade.0, 0.0, 1.0)?;
        let leaves = within("share of summer use", self.leaves, 0.0, 2.0)?;
        let coefficient = within("coefficient of the tree", self.coefficient, 0.0, 20.0)?;
        let open = et0 * within("exposure", self.exposure, 0.0, 5.0)?;
        let crown_factor = within("use over crown area", self.crown_factor, 0.0, 5.0)?;
        let soil_factor = within("use over substrate", self.soil_factor, 0.0, 5.0)?;
        Ok(DailyUse {
            leaves: LitresPerDay(coefficient * open * crown * crown_factor * leaves * supply.leaves.0),
            soil: LitresPerDay(open * surface * soil_factor * (1.0 - shade) * supply.soil.0),
            wall: LitresPerDay(open * wall * WALL_FACTOR.value),
        })
    }
}
