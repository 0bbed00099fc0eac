//! Lengths as typed: millimetres, centimetres or inches, told or as the reader measures.

use measure::quantity::{Millimetre, Units};

use crate::record::{FormError, number};

/// Millimetres in one of a unit.
const UNITS: [(&str, f64); 3] = [("mm", 1.0), ("cm", 10.0), ("in", 25.4)];

/// Which unit a figure without one is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Bare {
    /// Millimetres, or inches where the reader measures in them.
    Millimetres,
    /// Centimetres, or inches where the reader measures in them.
    Centimetres,
}

/// A length between two bounds in millimetres.
pub(crate) fn read(
    field: &'static str,
    typed: &str,
    bare: Bare,
    units: Units,
    [low, high]: [f64; 2],
) -> Result<Millimetre, FormError> {
    let lower = typed.trim().to_lowercase();
    let usual = match (units, bare) {
        (Units::Imperial, _) => 25.4,
        (_, Bare::Centimetres) => 10.0,
        (_, Bare::Millimetres) => 1.0,
    };
    let told = UNITS.iter().find_map(|(unit, mm)| Some((lower.strip_suffix(unit)?, *mm)));
    let (figure, scale) = told.unwrap_or((&lower, usual));
    number(field, figure, low / scale, high / scale).map(|told| Millimetre(told * scale))
}

/// A length, or none where nothing was typed.
pub(crate) fn read_if(
    field: &'static str,
    typed: &str,
    bare: Bare,
    units: Units,
    bounds: [f64; 2],
) -> Result<Option<Millimetre>, FormError> {
    if typed.trim().is_empty() {
        return Ok(None);
    }
    read(field, typed, bare, units, bounds).map(Some)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_that_is_told_goes_before_the_readers_own() {
        let mm = |typed, units| read("thick", typed, Bare::Millimetres, units, [0.1, 1000.0]).unwrap().0;
        assert_eq!([mm("12,5", Units::Metric), mm("1.5 cm", Units::Metric)], [12.5, 15.0]);
        assert_eq!([mm("0.5", Units::Imperial), mm("8 mm", Units::Imperial)], [12.7, 8.0]);
        assert!(read("thick", "-3", Bare::Millimetres, Units::Metric, [0.1, 1000.0]).is_err());
    }
}
