//! A body of soil by its height and by how wide it is at each height above the hole.

use measure::{
    quantity::{Centimetre, Litre, SquareCentimetre},
    range::{OutOfRange, within},
};

/// A body of soil between the drain plane and its surface.
///
/// Between three measured areas the area runs as a parabola, which is exact for every pot whose sides run straight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Column {
    /// Height, cm.
    height: f64,
    /// Area is `rise[0] + rise[1]·t + rise[2]·t²`, cm², at the share t of the height.
    rise: [f64; 3],
}

/// The least and the most area a pot has, cm²; a guard of this house.
const AREA: [f64; 2] = [0.01, 90_000.0];

impl Column {
    /// Soil in a straight-sided pot.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the height or the area is not that of a pot.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::{Centimetre, SquareCentimetre};
    /// use pot::column::Column;
    ///
    /// let tray = Column::straight(Centimetre(5.0), SquareCentimetre(600.0))?;
    /// assert_eq!(format!("{:.1} L", tray.volume().0), "3.0 L");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn straight(height: Centimetre, area: SquareCentimetre) -> Result<Column, OutOfRange> {
        Column::through(height, area, area, area)
    }

    /// Soil whose area was measured at the bottom, halfway up and at the top.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a figure is not that of a pot, or the waist is so narrow that the parabola through the three areas
    /// leaves no room.
    pub fn through(
        height: Centimetre,
        bottom: SquareCentimetre,
        middle: SquareCentimetre,
        top: SquareCentimetre,
    ) -> Result<Column, OutOfRange> {
        let [low, high] = AREA;
        let height = within("height of the soil, cm", height.0, 0.05, 200.0)?;
        let bottom = within("area at the bottom, cm²", bottom.0, low, high)?;
        let middle = within("area halfway up, cm²", middle.0, low, high)?;
        let top = within("area at the top, cm²", top.0, low, high)?;
        let rise = [bottom, 4.0 * middle - 3.0 * bottom - top, 2.0 * bottom + 2.0 * top - 4.0 * middle];
        let column = Column { height, rise };
        within("least area of the pot, cm²", column.least_area(), low, high)?;
        Ok(column)
    }

    /// Height from the drain plane to the surface.
    pub fn height(&self) -> Centimetre {
        Centimetre(self.height)
    }

    /// What the column takes up.
    ///
    /// ```text
    /// V = H/6·(A_bottom + 4·A_mid + A_top)/1000
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | V | returned | volume | L |
    /// | H | height | of the soil | cm |
    /// | A | areas given | at the bottom, halfway up, at the top | cm² |
    ///
    /// **Holds** for sides that run straight or bulge evenly. **Error** none where they run straight; on a drum as good as
    /// the middle was measured. **Source** the prismoidal rule. **Checked** `tests/vessel.rs`.
    pub fn volume(&self) -> Litre {
        let [a, b, c] = self.rise;
        Litre(self.height * (a + b / 2.0 + c / 3.0) / 1000.0)
    }

    /// Area at a height above the drain plane; above the surface that of the surface.
    pub fn area_at(&self, height: Centimetre) -> SquareCentimetre {
        SquareCentimetre(self.area((height.0 / self.height).clamp(0.0, 1.0)))
    }

    /// The lower part, up to this height.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the height is not within the column.
    pub fn below(&self, height: Centimetre) -> Result<Column, OutOfRange> {
        let height = within("height of the soil, cm", height.0, 0.05, self.height)?;
        let share = height / self.height;
        let [a, b, c] = self.rise;
        Ok(Column { height, rise: [a, b * share, c * share * share] })
    }

    /// The upper part, from this height: what drains when a coarse layer fills the bottom (its top is then the drain plane).
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when less than half a millimetre would be left.
    pub fn above(&self, height: Centimetre) -> Result<Column, OutOfRange> {
        let from = within("height of the bottom layer, cm", height.0, 0.0, self.height - 0.05)? / self.height;
        let left = 1.0 - from;
        let [_, b, c] = self.rise;
        let rise = [self.area(from), (b + 2.0 * c * from) * left, c * left * left];
        Ok(Column { height: self.height * left, rise })
    }

    /// The column made wider or narrower so that it holds `factor` times as much.
    pub(crate) fn scaled(&self, factor: f64) -> Column {
        Column { height: self.height, rise: self.rise.map(|part| part * factor) }
    }

    /// Area at a share of the height, cm².
    pub(crate) fn area(&self, t: f64) -> f64 {
        let [a, b, c] = self.rise;
        a + t * (b + t * c)
    }

    /// The least area between bottom and top, cm².
    fn least_area(&self) -> f64 {
        let [_, b, c] = self.rise;
        let turn = if c > 0.0 { (-b / (2.0 * c)).clamp(0.0, 1.0) } else { 0.0 };
        self.area(0.0).min(self.area(1.0)).min(self.area(turn))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn urn() -> Column {
        let [bottom, middle, top] = [200.0, 320.0, 260.0].map(SquareCentimetre);
        Column::through(Centimetre(9.0), bottom, middle, top).unwrap()
    }

    #[test]
    fn a_column_cut_in_two_holds_what_it_held() {
        let (low, high) = (urn().below(Centimetre(3.7)).unwrap(), urn().above(Centimetre(3.7)).unwrap());
        assert!((low.volume().0 + high.volume().0 - urn().volume().0).abs() < 1e-12);
        assert!((low.height().0 + high.height().0 - 9.0).abs() < 1e-12);
        let seam = urn().area_at(Centimetre(3.7)).0;
        assert!((low.area(1.0) - seam).abs() < 1e-9 && (high.area(0.0) - seam).abs() < 1e-9);
        assert!((high.area_at(Centimetre(1.0)).0 - urn().area_at(Centimetre(4.7)).0).abs() < 1e-9);
    }

    #[test]
    fn a_waist_without_room_is_refused() {
        let [wide, narrow, tip] = [100.0, 10.0, 1.0].map(SquareCentimetre);
        assert!(Column::through(Centimetre(10.0), wide, narrow, tip).is_err());
    }
}
