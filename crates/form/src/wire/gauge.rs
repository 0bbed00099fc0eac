//! Wire sizes: the American gauge, the sizes that are sold, and the trade's table of wire by branch.

use measure::{
    quantity::Millimetre,
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};

use super::metal::Metal;

/// A row of the trade's table: the wire for a branch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// The branch.
    pub branch: Millimetre,
    /// Aluminium for it.
    pub aluminium: Millimetre,
    /// Copper for it.
    pub copper: Millimetre,
    /// A word of the trade.
    pub note: &'static str,
}

const fn r(branch: f64, aluminium: f64, copper: f64, note: &'static str) -> Row {
    Row { branch: Millimetre(branch), aluminium: Millimetre(aluminium), copper: Millimetre(copper), note }
}

const DOUBLE: &str = "double coil if stiff";
const TWO: &str = "two wires or guy wire";

/// The trade's table: about one third of the branch in aluminium. Common practice; pages of the trade read in the reference set.
pub const TABLE: [Row; 12] = [
    r(2.0, 1.0, 0.8, ""),
    r(3.0, 1.0, 0.8, ""),
    r(4.0, 1.5, 0.8, ""),
    r(5.0, 1.5, 1.0, ""),
    r(6.0, 2.0, 1.2, ""),
    r(8.0, 2.5, 1.6, ""),
    r(10.0, 3.5, 2.0, DOUBLE),
    r(12.0, 4.0, 2.4, DOUBLE),
    r(15.0, 5.0, 3.0, TWO),
    r(18.0, 6.0, 3.6, TWO),
    r(20.0, 6.5, 4.0, TWO),
    r(25.0, 8.5, 5.0, TWO),
];

/// The thickest wire that is commonly sold, mm.
const THICKEST: f64 = 6.0;

/// The wire that the trade's table gives: the row of this branch or the next thicker one. Above the table, the last row.
pub fn by_table(branch: Millimetre) -> Sourced<Row> {
    let row = TABLE.iter().find(|row| row.branch.0 >= branch.0).unwrap_or(&TABLE[TABLE.len() - 1]);
    Sourced { value: *row, standing: Standing::Practice }
}

/// The thinnest wire that is sold and at least so thick; none above what is sold. Aluminium comes by half millimetres from 1 to
/// 6 mm, copper by the gauges of the trade's table.
pub fn sold(at_least: Millimetre, metal: Metal) -> Option<Millimetre> {
    let size = match metal {
        Metal::Aluminium => Some(((at_least.0 * 2.0 - 1e-9).ceil() / 2.0).max(1.0)),
        Metal::Copper => TABLE.iter().map(|row| row.copper.0).find(|size| *size >= at_least.0 - 1e-9),
    };
    size.filter(|size| *size <= THICKEST).map(Millimetre)
}

/// Thickness of an American wire gauge.
///
/// ```text
/// d = 0.005 in·92^((36 − n)/39)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | n | `number` | gauge; 0 is 1/0, −1 is 2/0, −3 is 4/0 | 1 |
/// | d | returned | thickness | mm |
///
/// **Holds** from 4/0 to 40. **Error** makers round to a thousandth of an inch. **Source** ASTM B258, remembered; both ends exact.
/// **Checked** `tests/wire.rs`.
///
/// # Errors
///
/// [`OutOfRange`] outside −3 to 40.
pub fn american(number: i32) -> Result<Millimetre, OutOfRange> {
    let n = within("American wire gauge", f64::from(number), -3.0, 40.0)?;
    Ok(Millimetre(0.127 * 92_f64.powf((36.0 - n) / 39.0)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_sold_is_never_thinner_than_what_is_needed() {
        assert_eq!(sold(Millimetre(2.1), Metal::Aluminium), Some(Millimetre(2.5)));
        assert_eq!(sold(Millimetre(2.0), Metal::Aluminium), Some(Millimetre(2.0)));
        assert_eq!(sold(Millimetre(0.3), Metal::Aluminium), Some(Millimetre(1.0)));
        assert_eq!(sold(Millimetre(1.3), Metal::Copper), Some(Millimetre(1.6)));
        assert_eq!(sold(Millimetre(6.2), Metal::Aluminium), None);
    }
}
