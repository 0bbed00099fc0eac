//! Why a tilted box drains: it stands taller above its lowest edge.

use measure::{
    quantity::{Centimetre, Degrees, Litre},
    range::{OutOfRange, within},
};

use crate::retention::{Held, Retention};

/// A box of soil tipped about its short edge, draining at that edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TiltedBox {
    /// Long side of the soil.
    pub length: Centimetre,
    /// Short side of the soil, along the edge it is tipped about.
    pub width: Centimetre,
    /// Depth of the soil as it stands level.
    pub depth: Centimetre,
    /// How far it is tipped.
    pub angle: Degrees,
}

impl TiltedBox {
    /// How high the tipped box stands above its lowest edge.
    ///
    /// ```text
    /// H_eff = H·cos a + L·sin a
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | H_eff | returned | height of the highest point of the soil | cm |
    /// | H, L | `depth`, `length` | of the level box | cm |
    /// | a | `angle` | how far it is tipped, 0 to 90 | ° |
    ///
    /// **Holds** for a box with a hole at the lowered edge; a hole in the middle drains half the length.
    /// **Error** none. **Source** plane geometry. **Checked** `tests/tilt.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a measure is not that of a pot, or the angle of a pot that one tips.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::{Centimetre, Degrees};
    /// use pot::tilt::TiltedBox;
    ///
    /// let [length, width, depth] = [28.0, 20.0, 5.0].map(Centimetre);
    /// let tray = TiltedBox { length, width, depth, angle: Degrees(20.0) };
    /// assert_eq!(format!("{:.1} cm", tray.effective_height()?.0), "14.3 cm");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn effective_height(&self) -> Result<Centimetre, OutOfRange> {
        let [along, up] = self.rises()?;
        Ok(Centimetre(along + up))
    }

    /// What the tipped box holds once it has drained.
    ///
    /// ```text
    /// CC = 1/(p·q)·∫₀^(p+q) θ(z)·min(z, p, q, p + q − z) dz,   p = L·sin a,   q = H·cos a
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | CC | `capacity` returned | water, share of the soil's volume | 1 |
    /// | z | | height above the lowest edge | cm |
    /// | θ | [`Retention::water_at`] of `mix` | | 1 |
    /// | L, H, a | as in [`TiltedBox::effective_height`] | | cm, cm, ° |
    ///
    /// Only a wedge of the soil lies low, so where the wet layer is thin the tipped box holds even less than a straight pot of
    /// its effective height.
    ///
    /// **Holds** as [`TiltedBox::effective_height`], given time to drain along the floor. **Error** as [`Retention::capacity`].
    /// **Source** our own working of the same physics. **Checked** by a sum over small blocks of the box.
    ///
    /// # Errors
    ///
    /// As [`TiltedBox::effective_height`].
    pub fn capacity(&self, mix: &Retention) -> Result<Held, OutOfRange> {
        let [along, up] = self.rises()?;
        let (low, high) = (along.min(up), along.max(up));
        let volume = Litre(self.length.0 * self.width.0 * self.depth.0 / 1000.0);
        // Level or upright, no rise to speak of: heights spread evenly over the other side.
        if low < 1e-6 * high {
            return Ok(mix.holding(mix.integral(0.0, high, |_| 1.0) / high, volume));
        }
        let full = mix.integral(0.0, low, |z| z)
            + mix.integral(low, high, |_| low)
            + mix.integral(high, low + high, |z| low + high - z);
        Ok(mix.holding(full / (low * high), volume))
    }

    /// Rise along the floor and up the wall, cm.
    fn rises(&self) -> Result<[f64; 2], OutOfRange> {
        let length = within("length of the soil, cm", self.length.0, 0.1, 300.0)?;
        within("width of the soil, cm", self.width.0, 0.1, 300.0)?;
        let depth = within("depth of the soil, cm", self.depth.0, 0.05, 200.0)?;
        let angle = within("angle of the pot, °", self.angle.0, 0.0, 90.0)?.to_radians();
        Ok([length * angle.sin(), depth * angle.cos()])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{column::Column, retention::Curve};
    use measure::quantity::{PerCentimetre, Share, SquareCentimetre};

    fn mix() -> Retention {
        let [inside, residual, between] = [0.2, 0.03, 0.45].map(Share);
        let alpha = PerCentimetre(0.41);
        Retention::new(Curve { inside, residual, between, alpha, n: 4.0, m: None }).unwrap()
    }

    fn tray(angle: f64) -> TiltedBox {
        let [length, width, depth] = [28.0, 20.0, 5.0].map(Centimetre);
        TiltedBox { length, width, depth, angle: Degrees(angle) }
    }

    #[test]
    fn a_level_box_is_a_straight_pot() {
        let straight = Column::straight(Centimetre(5.0), SquareCentimetre(560.0)).unwrap();
        let (level, straight) = (tray(0.0).capacity(&mix()).unwrap(), mix().capacity(&straight));
        assert!(
            (level.water.0 - straight.water.0).abs() < 1e-12 && (level.air.0 - straight.air.0).abs() < 1e-12
        );
    }

    #[test]
    fn small_blocks_add_up_to_the_tipped_box() {
        for angle in [3.0_f64, 20.0, 70.0] {
            let (sin, cos) = angle.to_radians().sin_cos();
            let block = |at: usize, of: f64| (at as f64 + 0.5) * of / 500.0;
            let sum: f64 = (0..500)
                .flat_map(|x| (0..500).map(move |y| (x, y)))
                .map(|(x, y)| mix().water_at(Centimetre(block(x, 28.0) * sin + block(y, 5.0) * cos)).0)
                .sum();
            let gap = (tray(angle).capacity(&mix()).unwrap().capacity.0 - sum / 250_000.0).abs();
            assert!(gap < 1e-5, "{angle}° gap {gap:e}");
        }
    }

    #[test]
    fn a_tipped_tray_holds_less_than_a_level_one_and_than_a_straight_pot_as_tall() {
        let tipped = tray(20.0).capacity(&mix()).unwrap().capacity;
        let tall = Column::straight(tray(20.0).effective_height().unwrap(), SquareCentimetre(100.0)).unwrap();
        assert!(tipped < tray(0.0).capacity(&mix()).unwrap().capacity);
        assert!(tipped < mix().capacity(&tall).capacity);
        assert!(tray(-1.0).effective_height().is_err());
    }
}
