//! Heat that goes into the ground over a month; over a single day it is taken as none.

use measure::quantity::{Celsius, DayEnergy};

/// Heat into the ground over a month, when the months before and after are known.
///
/// ```text
/// G = 0.07 (T[i+1] − T[i−1])
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | G | returned | heat into the ground | MJ m⁻² d⁻¹ |
/// | T | `before`, `after` | mean air of the months around | °C |
///
/// **Holds** for months, not for days. **Error** not stated by the source.
/// **Source** Allen et al. 1998 Eq. 43. **Checked** `tests/demand.rs`.
///
/// ```
/// use climate::demand::ground::into_ground;
/// use measure::quantity::Celsius;
///
/// assert_eq!(format!("{:.2}", into_ground(Celsius(14.1), Celsius(18.8)).0), "0.33");
/// ```
pub fn into_ground(before: Celsius, after: Celsius) -> DayEnergy {
    DayEnergy(0.07 * (after.0 - before.0)) // Eq. 43
}

/// Heat into the ground over a month, when only the month before is known.
///
/// ```text
/// G = 0.14 (T[i] − T[i−1])
/// ```
///
/// Symbols as in [`into_ground`]; T[i] is `this`.
///
/// **Holds**, **Error** as [`into_ground`]. **Source** Allen et al. 1998 Eq. 44. **Checked** `tests/demand.rs`.
///
/// ```
/// use climate::demand::ground::into_ground_so_far;
/// use measure::quantity::Celsius;
///
/// assert_eq!(format!("{:.2}", into_ground_so_far(Celsius(29.2), Celsius(30.2)).0), "0.14");
/// ```
pub fn into_ground_so_far(before: Celsius, this: Celsius) -> DayEnergy {
    DayEnergy(0.14 * (this.0 - before.0)) // Eq. 44
}
