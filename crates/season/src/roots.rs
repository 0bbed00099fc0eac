//! How cold a root ball got or will get in a place, and which trees that hurts.

use climate::root::Rootball;
use measure::{range::OutOfRange, winter::Winter};

use crate::air::Air;

/// Soil of the pot that is reckoned with, litres: a bonsai pot of middling size.
pub const LITRES: f64 = 2.5;

/// Days that the root ball is followed before it is asked about.
const RUN_IN: i32 = 3;

/// The coldest hour of a stretch of days.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coldest {
    /// Day number of the coldest air.
    pub day: i32,
    /// Coldest air, °C.
    pub air: f64,
    /// Coldest root ball of [`LITRES`], °C.
    pub root: f64,
}

/// The coldest air and root ball from one day number to another; none where the air of those days is not known.
///
/// # Errors
///
/// [`OutOfRange`] never for the pot reckoned with; the formula's own guard is passed on.
pub fn coldest(air: &Air, winter: Winter, from: i32, to: i32) -> Result<Option<Coldest>, OutOfRange> {
    let ball = Rootball::typical(LITRES)?.value;
    let mut hours = Vec::with_capacity((to - from + RUN_IN + 1).max(0) as usize * 24);
    let (mut asked_from, mut coldest) = (None, None::<(i32, f64)>);
    for day in from - RUN_IN..=to {
        let Some((day_hours, _)) = air.day(winter.date(day)) else { continue };
        if day >= from {
            asked_from.get_or_insert(hours.len());
            let low = day_hours.iter().copied().fold(f64::INFINITY, f64::min);
            if coldest.is_none_or(|(_, before)| low < before) {
                coldest = Some((day, low));
            }
        }
        hours.extend_from_slice(day_hours);
    }
    let (Some(asked_from), Some((day, low))) = (asked_from, coldest) else { return Ok(None) };
    let root = ball.series(&hours)[asked_from..].iter().copied().fold(f64::INFINITY, f64::min);
    Ok(Some(Coldest { day, air: low, root }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::air::Origin;
    use jiff::civil::date;
    use measure::winter::Hemisphere;

    #[test]
    fn a_wet_root_ball_stays_above_a_short_frost() {
        let mut hours = vec![3.0; 24 * 8];
        hours[24 * 5 + 2..24 * 5 + 6].fill(-6.0);
        let origin = vec![Origin::Measured; hours.len()];
        let air = Air { first: date(2026, 1, 1), hours, origin };
        let winter = Winter { spring_year: 2026, hemisphere: Hemisphere::North };
        let told = coldest(&air, winter, 5, 8).unwrap().unwrap();
        assert_eq!((told.day, told.air), (6, -6.0));
        assert!(told.root > -1.0, "{told:?}");
        assert_eq!(coldest(&air, winter, 40, 45), Ok(None));
    }
}
