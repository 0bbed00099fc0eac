//! A pot from its measures: what it holds, how much soil, how much clay, and how wide the soil lies open.

use measure::{
    quantity::{Centimetre, Litre, SquareCentimetre},
    range::{OutOfRange, within},
};

use crate::{column::Column, outline::Outline};

/// A pot as the grower measures it, from the outside.
///
/// Wall and floor are the weak measures: two millimetres of wall on a 30 × 22 cm pot change its volume by 3 %, with the floor
/// by 7 %. A volume measured with water and taped holes is worth more and is preferred.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vessel {
    /// The rim, outside.
    pub top: Outline,
    /// Halfway up, outside, for a pot whose sides do not run straight.
    pub middle: Option<Outline>,
    /// The base of the body above the feet, outside.
    pub bottom: Outline,
    /// From the ground to the rim.
    pub height: Centimetre,
    /// Height of the feet.
    pub feet: Centimetre,
    /// Thickness of the floor.
    pub floor: Centimetre,
    /// Thickness of the wall.
    pub wall: Centimetre,
    /// How far the rim hangs over inwards, beyond the wall.
    pub lip: Centimetre,
    /// Left free below the rim for watering.
    pub gap: Centimetre,
    /// Water that the pot took with its holes taped, to the rim.
    pub measured: Option<Litre>,
}

/// The least height of the inside, cm.
const SHALLOWEST: f64 = 0.1;

impl Vessel {
    /// Height from the floor to the rim, inside.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when feet and floor leave no height, or a measure is not that of a pot.
    pub fn inner_height(&self) -> Result<Centimetre, OutOfRange> {
        let height = within("height of the pot, cm", self.height.0, 0.5, 200.0)?;
        let feet = within("height of the feet, cm", self.feet.0, 0.0, height)?;
        let floor = within("thickness of the floor, cm", self.floor.0, 0.0, 10.0)?;
        let left = within("height of the inside, cm", height - feet - floor, SHALLOWEST, 200.0)?;
        Ok(Centimetre(left))
    }

    /// What the pot holds to the rim: as measured with water, else from its sides.
    ///
    /// ```text
    /// V = H/6·(A_bottom + 4·A_mid + A_top)/1000,   inside = outside − 2·wall (− 2·lip at the rim)
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | V | returned | volume of the inside | L |
    /// | H | [`Vessel::inner_height`] | floor to rim | cm |
    /// | A | [`Outline::area`] of the inside | at the floor, halfway up, at the rim | cm² |
    ///
    /// **Holds** for even walls. Where rim and base are of different kinds and no middle is given, the middle area is that of a
    /// frustum, `(√A_bottom + √A_top)²/4`. **Error** that of wall and floor, 3 to 7 % for two millimetres.
    /// **Source** the prismoidal rule, exact for straight sides. **Checked** `tests/vessel.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the measures leave no room, or the measured volume is not within half and one and a half of the
    /// computed one.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::Centimetre;
    /// use pot::{outline::Outline, vessel::Vessel};
    ///
    /// let rim = Outline::Rectangle { length: Centimetre(30.0), width: Centimetre(22.0) };
    /// let pot = Vessel {
    ///     top: rim,
    ///     middle: None,
    ///     bottom: rim,
    ///     height: Centimetre(7.0),
    ///     feet: Centimetre(1.0),
    ///     floor: Centimetre(0.8),
    ///     wall: Centimetre(0.8),
    ///     lip: Centimetre(0.0),
    ///     gap: Centimetre(0.5),
    ///     measured: None,
    /// };
    /// assert_eq!(format!("{:.2} L to the rim", pot.inner_volume()?.0), "3.01 L to the rim");
    /// assert_eq!(format!("{:.2} L of soil", pot.soil()?.volume().0), "2.72 L of soil");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn inner_volume(&self) -> Result<Litre, OutOfRange> {
        Ok(self.inside()?.volume())
    }

    /// The soil, from the floor to the watering gap below the rim.
    ///
    /// With a measured volume its areas are drawn in or out alike so that the pot holds that much.
    ///
    /// # Errors
    ///
    /// As [`Vessel::inner_volume`]; also when the gap leaves no soil.
    pub fn soil(&self) -> Result<Column, OutOfRange> {
        self.filled(&self.inside()?)
    }

    /// How much soil lies open to the sun, the rain and the eye, by the measures of the rim.
    ///
    /// # Errors
    ///
    /// As [`Vessel::soil`].
    pub fn surface(&self) -> Result<SquareCentimetre, OutOfRange> {
        let soil = self.filled(&self.computed()?)?;
        Ok(soil.area_at(soil.height()))
    }

    /// The clay of the body, without its feet.
    ///
    /// ```text
    /// V_clay = V_outside − V_inside
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | V_clay | returned | volume of the fired clay | L |
    /// | V_outside | the outlines over height less feet | outside of the body | L |
    /// | V_inside | [`Vessel::inner_volume`] | to the rim | L |
    ///
    /// **Holds** as [`Vessel::inner_volume`]. **Error** that of the wall, in full: a wall measured a tenth too thick is a tenth
    /// too much clay; feet and rim bands come on top. **Source** plane geometry. **Checked** `tests/vessel.rs`.
    ///
    /// # Errors
    ///
    /// As [`Vessel::inner_volume`].
    pub fn clay(&self) -> Result<Litre, OutOfRange> {
        let outside = self.body()?;
        let inside = self.inner_volume()?.0;
        Ok(Litre(outside - within("volume of the inside, L", inside, 0.0, outside)?))
    }

    /// Volume of the body's outside above the feet, L.
    fn body(&self) -> Result<f64, OutOfRange> {
        let height = Centimetre(self.inner_height()?.0 + self.floor.0);
        Ok(between(height, self.bottom, self.middle, self.top)?.volume().0)
    }

    /// The inside to the rim, as measured where it was measured.
    fn inside(&self) -> Result<Column, OutOfRange> {
        let computed = self.computed()?;
        let Some(Litre(measured)) = self.measured else { return Ok(computed) };
        let volume = computed.volume().0;
        let measured = within(
            "measured volume of the pot, L",
            measured,
            0.5 * volume,
            (1.5 * volume).min(self.body()?),
        )?;
        Ok(computed.scaled(measured / volume))
    }

    /// The inside to the rim, from its measures alone.
    fn computed(&self) -> Result<Column, OutOfRange> {
        let height = self.inner_height()?;
        let narrow = [Some(self.top), self.middle, Some(self.bottom)]
            .into_iter()
            .flatten()
            .flat_map(Outline::across)
            .fold(f64::INFINITY, f64::min);
        let wall = within("thickness of the wall, cm", self.wall.0, 0.0, narrow / 2.0 - 0.05)?;
        let lip = within("overhang of the lip, cm", self.lip.0, 0.0, narrow / 2.0 - 0.05 - wall)?;
        between(
            height,
            self.bottom.inside(wall),
            self.middle.map(|middle| middle.inside(wall)),
            self.top.inside(wall + lip),
        )
    }

    fn filled(&self, inside: &Column) -> Result<Column, OutOfRange> {
        let height = inside.height().0;
        let gap = within("watering gap, cm", self.gap.0, 0.0, height - 0.05)?;
        inside.below(Centimetre(height - gap))
    }
}

/// The body between two outlines, through a third halfway up where it is known.
fn between(
    height: Centimetre,
    bottom: Outline,
    middle: Option<Outline>,
    top: Outline,
) -> Result<Column, OutOfRange> {
    let (low, high) = (bottom.area()?, top.area()?);
    let middle = match middle.or_else(|| bottom.halfway(top)) {
        Some(outline) => outline.area()?,
        None => SquareCentimetre((low.0.sqrt() + high.0.sqrt()).powi(2) / 4.0),
    };
    Column::through(height, low, middle, high)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn round(diameter: f64) -> Outline {
        Outline::Round { diameter: Centimetre(diameter) }
    }

    fn drum(wall: f64) -> Vessel {
        Vessel {
            top: round(20.0),
            middle: Some(round(24.0)),
            bottom: round(20.0),
            height: Centimetre(10.0),
            feet: Centimetre(1.0),
            floor: Centimetre(1.0),
            wall: Centimetre(wall),
            lip: Centimetre(0.0),
            gap: Centimetre(0.5),
            measured: None,
        }
    }

    #[test]
    fn a_belly_holds_more_than_straight_sides() {
        let straight = Vessel { middle: None, ..drum(0.8) };
        assert!(drum(0.8).inner_volume().unwrap() > straight.inner_volume().unwrap());
    }

    #[test]
    fn a_wall_of_half_the_width_is_refused() {
        let thick = drum(10.0).inner_volume().unwrap_err();
        assert!(thick.quantity.starts_with("thickness of the wall") && thick.got == 10.0, "{thick}");
        assert!(drum(-0.1).inner_volume().is_err() && drum(f64::NAN).inner_volume().is_err());
        assert!(Vessel { feet: Centimetre(9.5), ..drum(0.8) }.soil().is_err());
        assert!(Vessel { gap: Centimetre(8.0), ..drum(0.8) }.soil().is_err());
    }

    #[test]
    fn measured_water_is_preferred_and_leaves_the_rim_as_it_is() {
        let measured = Vessel { measured: Some(Litre(2.9)), ..drum(0.8) };
        let (soil, computed) = (measured.soil().unwrap(), drum(0.8).soil().unwrap());
        assert!((measured.inner_volume().unwrap().0 - 2.9).abs() < 1e-12);
        let by = 2.9 / drum(0.8).inner_volume().unwrap().0;
        assert!(
            (soil.volume().0 - computed.volume().0 * by).abs() < 1e-12 && soil.height() == computed.height()
        );
        assert_eq!(measured.surface(), drum(0.8).surface());
        assert!(Vessel { measured: Some(Litre(29.0)), ..drum(0.8) }.soil().is_err());
    }

    #[test]
    fn a_round_foot_under_a_square_rim_is_a_frustum() {
        let square = Outline::Rectangle { length: Centimetre(20.0), width: Centimetre(20.0) };
        let mixed = Vessel { top: square, middle: None, ..drum(0.0) }.inner_volume().unwrap();
        let foot = square.area().unwrap().0 * std::f64::consts::FRAC_PI_4;
        let frustum = 8.0 / 3.0 * (foot + (foot * 400.0).sqrt() + 400.0) / 1000.0;
        assert!((mixed.0 - frustum).abs() < 1e-9);
    }
}
