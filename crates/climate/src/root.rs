//! How soon the cold or heat of the air reaches the roots in a pot, and how long wet soil holds at freezing.

use measure::{
    quantity::{Celsius, Hours, KilogramPerLitre, Share},
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};

use crate::shelter::one_pole;

/// A pot's soil as one lump of heat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rootball {
    litres: f64,
    density: f64,
    water: f64,
    surface: f64,
    exchange: f64,
}

/// Temperature of a root ball, and how much of its water is ice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RootState {
    /// Of the whole lump.
    pub temperature: Celsius,
    /// Share of the water that is ice, 0 to 1.
    pub ice: f64,
}

/// Heat of dry soil, J kg⁻¹ K⁻¹.
const DRY: f64 = 840.0;
/// Heat of water, J kg⁻¹ K⁻¹.
const WATER: f64 = 4182.0;
/// Heat of ice, J kg⁻¹ K⁻¹.
const ICE: f64 = 2100.0;
/// Heat that freezing sets free, J kg⁻¹.
const FUSION: f64 = 334_000.0;
/// Seconds of an hour.
const HOUR: f64 = 3600.0;

impl Rootball {
    /// A pot of `litres` of soil of dry `density` (kg/L) holding `water` (share of volume), whose `surface` (m²) passes
    /// `exchange` (W m⁻² K⁻¹) to the air.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a figure is not that of a pot.
    ///
    /// # Example
    ///
    /// ```
    /// use climate::root::Rootball;
    ///
    /// let tray = Rootball::new(2.7, 0.7, 0.4, 0.14, 15.0)?;
    /// assert_eq!(format!("{:.2} h", tray.lag().0), "0.81 h");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn new(
        litres: f64,
        density: f64,
        water: f64,
        surface: f64,
        exchange: f64,
    ) -> Result<Rootball, OutOfRange> {
        Ok(Rootball {
            litres: within("soil, L", litres, 0.01, 2000.0)?,
            density: within("dry density of the soil, kg/L", density, 0.05, 3.0)?,
            water: within("water, share of volume", water, 0.0, 1.0)?,
            surface: within("surface of the pot, m²", surface, 0.001, 50.0)?,
            exchange: within("heat exchange, W/m²K", exchange, 1.0, 200.0)?,
        })
    }

    /// A pot of which only the volume is known: granular soil, moist, in light wind.
    ///
    /// ```text
    /// A = 0.14·(V/2.7)^0.726
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | A | | surface, through the two pots of the reference set | m² |
    /// | V | `litres` | soil | L |
    ///
    /// **Holds** for bonsai pots of some decilitres to some decalitres. **Error** not known. **Source** our estimate.
    /// **Checked** nothing yet.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the volume is not that of a pot.
    ///
    /// # Example
    ///
    /// ```
    /// use climate::root::Rootball;
    ///
    /// let small = Rootball::typical(0.4)?;
    /// assert_eq!(format!("{:.2} h", small.value.lag().0), "0.48 h");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn typical(litres: f64) -> Result<Sourced<Rootball>, OutOfRange> {
        let litres = within("soil, L", litres, 0.01, 2000.0)?;
        let value = Rootball::new(litres, 0.7, 0.4, 0.14 * (litres / 2.7).powf(0.726), 15.0)?;
        Ok(Sourced {
            value,
            standing: Standing::Estimate("density 0.7, water 40 %, light wind; surface from two pots"),
        })
    }

    /// The same pot filled with a soil of this dry density, kg/L, and this share of water.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when either is not that of soil.
    ///
    /// # Example
    ///
    /// ```
    /// use climate::root::Rootball;
    /// use measure::quantity::{Celsius, KilogramPerLitre, Share};
    ///
    /// let wet = Rootball::typical(2.7)?.value;
    /// let dry = wet.filled(KilogramPerLitre(0.7), Share(0.15))?;
    /// let told = [wet, dry].map(|ball| ball.freezing_plateau(Celsius(-5.0)).unwrap().0);
    /// assert_eq!(told.map(|hours| format!("{hours:.1} h")), ["9.5 h", "3.6 h"]);
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn filled(&self, density: KilogramPerLitre, water: Share) -> Result<Rootball, OutOfRange> {
        Rootball::new(self.litres, density.0, water.0, self.surface, self.exchange)
    }

    /// How slowly the unfrozen roots follow the air.
    ///
    /// ```text
    /// τ = V·(ρ·840 + θ·4182)/(h·A)/3600
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | τ | returned | time constant | h |
    /// | V, ρ, θ, A, h | as given to [`Rootball::new`] | soil, density, water, surface, exchange | L, kg/L, 1, m², W m⁻² K⁻¹ |
    ///
    /// **Holds** for the whole ball as one lump, without sun and ground. **Error** heat takes about as long again to get
    /// from the rim to the middle of the ball. **Source** lumped heat balance. **Checked** `tests/pot_thermal.rs`.
    pub fn lag(&self) -> Hours {
        Hours(self.heat(WATER) / (self.exchange * self.surface) / HOUR)
    }

    /// How long the wet ball holds at 0 °C before it is frozen through, in air below freezing; none above.
    ///
    /// ```text
    /// t = V·θ·334000/(h·A·|T|)/3600
    /// ```
    ///
    /// Symbols as in [`Rootball::lag`]; T is `air`, °C. All water is taken to freeze at 0 °C.
    ///
    /// **Holds**, **Error**, **Source** as [`Rootball::lag`]. **Checked** `tests/pot_thermal.rs`.
    ///
    /// # Example
    ///
    /// ```
    /// use climate::root::Rootball;
    /// use measure::quantity::Celsius;
    ///
    /// let frost = Celsius(-5.0);
    /// let wet = Rootball::new(2.7, 0.7, 0.4, 0.14, 15.0)?.freezing_plateau(frost).unwrap();
    /// let dry = Rootball::new(2.7, 0.7, 0.15, 0.14, 15.0)?.freezing_plateau(frost).unwrap();
    /// assert_eq!(format!("{:.1} h wet, {:.1} h dry", wet.0, dry.0), "9.5 h wet, 3.6 h dry");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn freezing_plateau(&self, air: Celsius) -> Option<Hours> {
        (air.0 < 0.0).then(|| Hours(self.fusion() / (self.exchange * self.surface * -air.0) / HOUR))
    }

    /// How long a ball at `start` takes to cool to 0 °C; none where it never does.
    ///
    /// ```text
    /// t = τ·ln((T0 − T)/(0 − T))
    /// ```
    ///
    /// T0 is `start`, T is `air`, τ is [`Rootball::lag`].
    ///
    /// **Holds**, **Error**, **Source** as [`Rootball::lag`]. **Checked** `tests/pot_thermal.rs`.
    pub fn hours_to_freezing(&self, start: Celsius, air: Celsius) -> Option<Hours> {
        (start.0 >= 0.0 && air.0 < 0.0).then(|| Hours(self.lag().0 * ((start.0 - air.0) / -air.0).ln()))
    }

    /// The ball after some hours in steady air: it cools, holds at 0 °C while its water freezes, cools on; and back.
    ///
    /// Between the changes it follows [`Rootball::lag`], with ice's heat for water's once frozen through.
    ///
    /// **Holds**, **Error**, **Source** as [`Rootball::lag`]. **Checked** `tests/pot_thermal.rs`.
    pub fn after(&self, start: RootState, air: Celsius, hours: Hours) -> RootState {
        let RootState { temperature: Celsius(mut root), mut ice } = start;
        let mut left = hours.0;
        // Each turn ends at a change of state; steady air allows no more than three.
        for _ in 0..4 {
            let frozen = ice >= 1.0;
            if root == 0.0 && (if air.0 < 0.0 { !frozen } else { ice > 0.0 }) {
                let rate =
                    -air.0 * self.exchange * self.surface * HOUR / self.fusion().max(f64::MIN_POSITIVE);
                let needed = if air.0 < 0.0 { (1.0 - ice) / rate } else { ice / -rate };
                if needed >= left {
                    ice = (ice + rate * left).clamp(0.0, 1.0);
                    break;
                }
                (ice, left) = (if air.0 < 0.0 { 1.0 } else { 0.0 }, left - needed);
                continue;
            }
            let lag = self.heat(if frozen { ICE } else { WATER }) / (self.exchange * self.surface) / HOUR;
            let crosses = root != 0.0 && root * air.0 < 0.0 && (root < 0.0) == frozen;
            let needed = if crosses { lag * ((root - air.0) / -air.0).ln() } else { f64::INFINITY };
            if needed >= left {
                root = air.0 + (root - air.0) * (-left / lag).exp();
                break;
            }
            (root, left) = (0.0, left - needed);
        }
        RootState { temperature: Celsius(root), ice }
    }

    /// Root temperature by the hour, °C, from the air's, with freezing and thawing.
    ///
    /// Starts at the first hour's air. Each value stands at the start of its hour.
    ///
    /// **Holds**, **Error**, **Source** as [`Rootball::lag`]. **Checked** through [`Rootball::after`].
    ///
    /// # Example
    ///
    /// ```
    /// use climate::root::Rootball;
    ///
    /// let night: Vec<f64> = [2.0; 2].into_iter().chain([-5.0; 8]).collect();
    /// let roots = Rootball::typical(2.7)?.value.series(&night);
    /// assert_eq!(roots[9], 0.0); // Wet soil held through the night.
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn series(&self, air: &[f64]) -> Vec<f64> {
        let first = air.first().copied().unwrap_or(0.0);
        let mut state = RootState { temperature: Celsius(first), ice: if first < 0.0 { 1.0 } else { 0.0 } };
        let mut roots = Vec::with_capacity(air.len());
        for &hour in air {
            roots.push(state.temperature.0);
            if hour.is_finite() {
                state = self.after(state, Celsius(hour), Hours(1.0));
            }
        }
        roots
    }

    /// Heat of the ball with its water as water or ice, J K⁻¹.
    fn heat(&self, of_water: f64) -> f64 {
        self.litres * (self.density * DRY + self.water * of_water)
    }

    /// Heat to freeze all its water, J.
    fn fusion(&self) -> f64 {
        self.litres * self.water * FUSION
    }
}

/// Root temperature by the hour, °C, as the air's behind a lag, without freezing: the warmer half of the year.
///
/// The rule is [`one_pole`]'s, from the first hour's air.
///
/// ```
/// use climate::root::root_temperature;
/// use measure::quantity::Hours;
///
/// let roots = root_temperature(&[20.0, 30.0, 30.0], Hours(1.0));
/// assert_eq!(format!("{:.1} {:.1}", roots[1], roots[2]), "20.0 26.3");
/// ```
pub fn root_temperature(hours: &[f64], lag: Hours) -> Vec<f64> {
    one_pole(lag, Hours(1.0), hours.first().copied().unwrap_or(0.0), hours)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_frozen_ball_thaws_as_it_froze() {
        let ball = Rootball::new(2.7, 0.7, 0.4, 0.14, 15.0).unwrap();
        let frozen = RootState { temperature: Celsius(-5.0), ice: 1.0 };
        let halfway = ball.after(frozen, Celsius(5.0), Hours(5.0));
        assert!(halfway.temperature == Celsius(0.0) && (0.3..0.7).contains(&halfway.ice), "{halfway:?}");
        let warm = ball.after(halfway, Celsius(5.0), Hours(24.0));
        assert!(warm.ice == 0.0 && warm.temperature.0 > 4.9, "{warm:?}");
    }

    #[test]
    fn many_short_steps_are_one_long_step() {
        let ball = Rootball::new(0.4, 0.7, 0.4, 0.035, 15.0).unwrap();
        let start = RootState { temperature: Celsius(4.0), ice: 0.0 };
        let whole = ball.after(start, Celsius(-3.0), Hours(11.0));
        let steps = (0..1100).fold(start, |state, _| ball.after(state, Celsius(-3.0), Hours(0.01)));
        assert!((whole.temperature.0 - steps.temperature.0).abs() < 1e-9 && whole.ice == steps.ice);
    }
}
