//! What a mix holds against the pull of the hole below it: by height, and in the whole pot.

use std::sync::LazyLock;

use gauss_quad::GaussLegendre;
use measure::{
    quantity::{Centimetre, Litre, PerCentimetre, Share},
    range::{OutOfRange, within},
};

use crate::column::Column;

/// How a mix gives up its water: the figures of its retention curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Curve {
    /// Water inside the grains, which no pot is tall enough to draw out; 0 for sand and soil without pores of their own.
    pub inside: Share,
    /// Water that hangs between the grains for good.
    pub residual: Share,
    /// Water between the grains when every gap is full.
    pub between: Share,
    /// One over the height to which the gaps draw water, α.
    pub alpha: PerCentimetre,
    /// How sharply the gaps empty, n.
    pub n: f64,
    /// The second exponent, m; none for 1 − 1/n.
    pub m: Option<f64>,
}

/// A mix whose retention curve is known, and possible.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Retention {
    /// Water that stays at any height, share.
    held: f64,
    /// Water that drains from full to dry, share.
    drains: f64,
    alpha: f64,
    n: f64,
    m: f64,
    fall: Fall,
}

/// How the curve is reckoned: the two sharpnesses that sieved grains are taken for need roots only, ten times quicker.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Fall {
    /// n 4, m 3/4.
    Fourth,
    /// n 3, m 2/3.
    Third,
    /// Any other.
    Free,
}

/// What a pot of a mix holds once it has drained.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// Container capacity: water, share of the soil's volume.
    pub capacity: Share,
    /// Air, share of the soil's volume.
    pub air: Share,
    /// Water in the whole pot.
    pub water: Litre,
}

/// Sixty-four points of Gauss and Legendre to a piece.
static RULE: LazyLock<GaussLegendre> =
    LazyLock::new(|| GaussLegendre::new(const { std::num::NonZeroUsize::new(64).expect("64 is not zero") }));

impl Retention {
    /// A mix with these figures.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when they are not those of a mix: shares that add up to more than one, a curve that does not fall.
    pub fn new(curve: Curve) -> Result<Retention, OutOfRange> {
        let inside = within("water inside the grains, share", curve.inside.0, 0.0, 0.95)?;
        let between = within("water between the grains, share", curve.between.0, 0.01, 1.0 - inside)?;
        let residual = within("water that stays between the grains, share", curve.residual.0, 0.0, between)?;
        let n = within("n of the curve", curve.n, 1.01, 20.0)?;
        Ok(Retention {
            held: inside + residual,
            drains: between - residual,
            alpha: within("α of the curve, 1/cm", curve.alpha.0, 1e-4, 100.0)?,
            n,
            fall: match (n, curve.m) {
                (4.0, None) => Fall::Fourth,
                (3.0, None) => Fall::Third,
                _ => Fall::Free,
            },
            m: within("m of the curve", curve.m.unwrap_or(1.0 - 1.0 / n), 0.005, 20.0)?,
        })
    }

    /// Water when every gap is full.
    pub fn porosity(&self) -> Share {
        Share(self.held + self.drains)
    }

    /// Water that stays at any height.
    pub fn least(&self) -> Share {
        Share(self.held)
    }

    /// Height to which the gaps draw water, 1/α.
    pub fn draw(&self) -> Centimetre {
        Centimetre(1.0 / self.alpha)
    }

    /// Water held against a suction: in a drained pot, at this height above the hole.
    ///
    /// ```text
    /// θ(h) = θ_in + θ_r + (θ_s − θ_r)/(1 + (α·h)^n)^m
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | θ | returned | water, share of the mix's volume | 1 |
    /// | h | `suction` | head of water drawn, or height above the hole | cm |
    /// | θ_in, θ_r, θ_s | `inside`, `residual`, `between` of [`Curve`] | water that never drains, hangs for good, fills the gaps | 1 |
    /// | α, n, m | `alpha`, `n`, `m` of [`Curve`] | one over the draw of the gaps, sharpness | cm⁻¹, 1, 1 |
    ///
    /// Below the drain plane all gaps are full.
    ///
    /// **Holds** for a mix wetted through and drained from above; a mix that dried out takes up less.
    /// **Error** not stated by the source; for a mix, that of its figures.
    /// **Source** van Genuchten 1980 (remembered), as used by Milks, Fonteno and Larson 1989 (abstract read in the reference
    /// set; they leave m free). **Checked** `tests/retention.rs`.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::{Centimetre, PerCentimetre, Share};
    /// use pot::retention::{Curve, Retention};
    ///
    /// let sand = Retention::new(Curve {
    ///     inside: Share(0.0),
    ///     residual: Share(0.045),
    ///     between: Share(0.43),
    ///     alpha: PerCentimetre(0.145),
    ///     n: 2.68,
    ///     m: None,
    /// })?;
    /// assert_eq!(format!("{:.3}", sand.water_at(Centimetre(10.0)).0), "0.214");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn water_at(&self, suction: Centimetre) -> Share {
        Share(self.water(suction.0.max(0.0)))
    }

    /// The height up to which a drained pot has less air than this: its wet layer. None if there is air enough at no height.
    ///
    /// ```text
    /// h = (((θ_s − θ_r)/(θ_s − θ_r − a))^(1/m) − 1)^(1/n)/α
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | h | returned | top of the wet layer above the hole | cm |
    /// | a | `air` | air that is enough, share of the mix's volume | 1 |
    /// | other | as in [`Retention::water_at`] | | |
    ///
    /// **Holds**, **Error**, **Source** as [`Retention::water_at`], solved for h. **Checked** by going there and back.
    pub fn wet_layer(&self, air: Share) -> Option<Centimetre> {
        let Share(air) = air;
        if air.is_nan() || air >= self.drains {
            return None;
        }
        let full = self.drains / (self.drains - air.max(0.0));
        Some(Centimetre((full.powf(1.0 / self.m) - 1.0).powf(1.0 / self.n) / self.alpha))
    }

    /// Water by height in a drained pot, from the hole up: one figure for the middle of each of as many even layers as asked.
    ///
    /// Follows [`Retention::water_at`].
    ///
    /// ```
    /// use measure::quantity::{Centimetre, PerCentimetre, Share};
    /// use pot::retention::{Curve, Retention};
    ///
    /// # let [inside, residual, between] = [0.2, 0.03, 0.45].map(Share);
    /// # let alpha = PerCentimetre(0.4126);
    /// let akadama = Retention::new(Curve { inside, residual, between, alpha, n: 4.0, m: None })?;
    /// let mut layers = [Share(0.0); 3];
    /// akadama.profile(Centimetre(6.0), &mut layers);
    /// assert_eq!(layers.map(|layer| format!("{:.2}", layer.0)), ["0.64", "0.40", "0.28"]);
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn profile(&self, height: Centimetre, layers: &mut [Share]) {
        let step = height.0 / layers.len() as f64;
        for (at, layer) in layers.iter_mut().enumerate() {
            *layer = self.water_at(Centimetre((at as f64 + 0.5) * step));
        }
    }

    /// What a pot holds after it was watered through and has drained: its container capacity, air and litres of water.
    ///
    /// ```text
    /// CC = 1/V·∫₀ᴴ A(z)·θ(z) dz,   AS = θ_in + θ_s − CC,   W = CC·V
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | CC, AS | `capacity`, `air` | water and air, share of the soil's volume | 1 |
    /// | W | `water` | water in the pot | L |
    /// | A, H, V | `soil` | area by height, height, volume | cm², cm, L |
    /// | z | | height above the drain plane, where the suction is z | cm |
    /// | θ | [`Retention::water_at`] | | 1 |
    ///
    /// **Holds** for soil drained to no tension at the hole: a pot on a wet cloth or in soil holds less, one with a blocked hole
    /// more. Roots are not in it. **Error** of the quadrature (64 points on each side of z = 1/α) under 1e-6; else as the curve's.
    /// **Source** Milks, Fonteno and Larson 1989 (abstract read in the reference set). **Checked** `tests/retention.rs`.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::{Centimetre, PerCentimetre, Share, SquareCentimetre};
    /// use pot::{column::Column, retention::{Curve, Retention}};
    ///
    /// # let [inside, residual, between] = [0.2, 0.03, 0.45].map(Share);
    /// # let alpha = PerCentimetre(0.4126);
    /// let akadama = Retention::new(Curve { inside, residual, between, alpha, n: 4.0, m: None })?;
    /// let tray = Column::straight(Centimetre(5.0), SquareCentimetre(600.0))?;
    /// let pot = Column::straight(Centimetre(15.0), SquareCentimetre(200.0))?;
    /// let told = |soil| format!("{:.2} L, {:.0} % air", akadama.capacity(soil).water.0, akadama.capacity(soil).air.0 * 100.0);
    /// assert_eq!(told(&tray), "1.42 L, 18 % air");
    /// assert_eq!(told(&pot), "0.95 L, 33 % air");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn capacity(&self, soil: &Column) -> Held {
        let volume = soil.volume();
        let height = soil.height().0;
        let full = self.integral(0.0, height, |z| soil.area(z / height));
        self.holding(full / (volume.0 * 1000.0), volume)
    }

    /// What a body holds that keeps `full` of its draining water.
    pub(crate) fn holding(&self, full: f64, volume: Litre) -> Held {
        let capacity = self.held + self.drains * full;
        Held {
            capacity: Share(capacity),
            air: Share(self.drains * (1.0 - full)),
            water: Litre(capacity * volume.0),
        }
    }

    /// Area times the full share of the draining water, from a height to a height, split at 1/α.
    pub(crate) fn integral(&self, from: f64, to: f64, area: impl Fn(f64) -> f64) -> f64 {
        let knee = (1.0 / self.alpha).clamp(from, to);
        let piece =
            |from, to| if from < to { RULE.integrate(from, to, |z| area(z) * self.full(z)) } else { 0.0 };
        piece(from, knee) + piece(knee, to)
    }

    fn water(&self, suction: f64) -> f64 {
        self.held + self.drains * self.full(suction)
    }

    /// Share of the draining water left at a suction of zero or more, cm.
    fn full(&self, suction: f64) -> f64 {
        let drawn = self.alpha * suction;
        match self.fall {
            Fall::Fourth => {
                let root = (1.0 + (drawn * drawn).powi(2)).sqrt();
                1.0 / (root * root.sqrt())
            }
            Fall::Third => (1.0 + drawn.powi(3)).cbrt().powi(-2),
            Fall::Free => (-self.m * (drawn.ln() * self.n).exp().ln_1p()).exp(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use measure::quantity::SquareCentimetre;

    fn mix(alpha: f64, n: f64) -> Retention {
        let [inside, residual, between] = [0.2, 0.03, 0.45].map(Share);
        Retention::new(Curve { inside, residual, between, alpha: PerCentimetre(alpha), n, m: None }).unwrap()
    }

    #[test]
    fn two_pieces_are_as_good_as_five_hundred() {
        for (alpha, n, height) in
            [(0.01, 1.2, 30.0), (0.4, 4.0, 5.0), (1.1, 2.7, 50.0), (10.0, 1.3, 20.0), (0.7, 10.0, 25.0)]
        {
            let mix = mix(alpha, n);
            let soil = Column::straight(Centimetre(height), SquareCentimetre(100.0)).unwrap();
            let piece = |from: i32| {
                let [from, to] = [from, from + 1].map(|at| height * (f64::from(at) / 500.0).powi(3));
                RULE.integrate(from, to, |z| mix.water(z))
            };
            let fine = (0..500).map(piece).sum::<f64>() / height;
            let gap = (mix.capacity(&soil).capacity.0 - fine).abs();
            assert!(gap < 1e-6, "α {alpha}, n {n}, {height} cm: {gap:e}");
        }
    }

    #[test]
    fn the_wet_layer_ends_where_there_is_air_enough() {
        let mix = mix(0.4, 4.0);
        let top = mix.wet_layer(Share(0.1)).unwrap();
        assert!((mix.porosity().0 - mix.water_at(top).0 - 0.1).abs() < 1e-12);
        assert_eq!(mix.wet_layer(Share(0.43)), None);
        assert_eq!(mix.wet_layer(Share(0.0)), Some(Centimetre(0.0)));
    }

    #[test]
    fn roots_and_powers_lead_to_the_same_water() {
        for n in [3.0, 4.0] {
            let (quick, free) = (mix(0.4, n), Retention { fall: Fall::Free, ..mix(0.4, n) });
            assert!(quick.fall != Fall::Free);
            for at in 0..400 {
                let gap = quick.water(f64::from(at) * 0.1) - free.water(f64::from(at) * 0.1);
                assert!(gap.abs() < 1e-14, "n {n}: {gap:e}");
            }
        }
    }

    #[test]
    fn impossible_curves_are_refused() {
        let [inside, residual, between] = [0.2, 0.03, 0.45].map(Share);
        let curve = Curve { inside, residual, between, alpha: PerCentimetre(0.4), n: 4.0, m: None };
        assert!(Retention::new(Curve { inside: Share(0.6), ..curve }).is_err());
        assert!(Retention::new(Curve { residual: Share(0.5), ..curve }).is_err());
        assert!(Retention::new(Curve { alpha: PerCentimetre(-1.0), ..curve }).is_err());
        assert!(Retention::new(Curve { n: f64::NAN, ..curve }).is_err());
    }
}
