//! Lengths as typed: millimetres, centimetres or inches, told or as the reader measures.

use measure::quantity::{Centimetre, Millimetre, Units};

use crate::record::{FormError, number_in, same_figure};

/// A unit of length: how it may be typed, how we write it, and its millimetres.
type Unit = (&'static str, &'static str, f64);

const MM: Unit = ("mm", "mm", 1.0);
const CM: Unit = ("cm", "cm", 10.0);
const INCH: Unit = ("in", "in", 25.4);

/// Every way a unit is typed; telephones turn the straight inch mark into a curved one.
const UNITS: [Unit; 8] = [
    MM,
    CM,
    INCH,
    ("inch", "in", 25.4),
    ("inches", "in", 25.4),
    ("\"", "in", 25.4),
    ("″", "in", 25.4),
    ("”", "in", 25.4),
];

/// Which unit a figure without one is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Bare {
    /// Millimetres, or inches where the reader measures in them.
    Millimetres,
    /// Centimetres, or inches where the reader measures in them.
    Centimetres,
}

/// The figure that was typed, and its unit.
fn parts(typed: &str, bare: Bare, units: Units) -> (String, Unit) {
    let lower = typed.trim().to_lowercase();
    let usual = match (units, bare) {
        (Units::Imperial, _) => INCH,
        (_, Bare::Centimetres) => CM,
        (_, Bare::Millimetres) => MM,
    };
    let told = UNITS.iter().find_map(|unit| Some((lower.strip_suffix(unit.0)?, *unit)));
    let (figure, unit) = told.unwrap_or((&lower, usual));
    (figure.trim().to_string(), unit)
}

/// A length between two bounds in millimetres.
pub(crate) fn read(
    field: &'static str,
    typed: &str,
    bare: Bare,
    units: Units,
    [low, high]: [f64; 2],
) -> Result<Millimetre, FormError> {
    let (figure, (_, shown, mm)) = parts(typed, bare, units);
    let told = number_in(field, typed, &figure, [low / mm, high / mm], shown)?;
    Ok(Millimetre(told * mm))
}

/// A length between two bounds in centimetres; centimetres typed are kept to the last bit.
pub(crate) fn read_cm(
    field: &'static str,
    typed: &str,
    units: Units,
    [low, high]: [f64; 2],
) -> Result<Centimetre, FormError> {
    let (figure, (_, shown, mm)) = parts(typed, Bare::Centimetres, units);
    let told = number_in(field, typed, &figure, [low * 10.0 / mm, high * 10.0 / mm], shown)?;
    Ok(Centimetre(if shown == CM.1 { told } else { told * mm / 10.0 }))
}

/// Whether what was typed is this very length, rounded to the digits typed: then the length that stands is kept.
pub(crate) fn is(typed: &str, bare: Bare, units: Units, stands: Millimetre) -> bool {
    let (figure, (.., mm)) = parts(typed, bare, units);
    same_figure(&figure, stands.0 / mm)
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
        for typed in ["0.5 in", "0.5\"", "0.5 ″", "0.5”", "0.5 inches", "0.5 Inch"] {
            assert_eq!((mm(typed, Units::Metric), mm(typed, Units::Imperial)), (12.7, 12.7), "{typed}");
        }
        assert!(read("thick", "-3", Bare::Millimetres, Units::Metric, [0.1, 1000.0]).is_err());
    }

    #[test]
    fn a_length_out_of_its_span_is_told_it_in_the_unit_typed() {
        let why = |typed, units| read_cm("length", typed, units, [1.0, 300.0]).unwrap_err().to_string();
        assert_eq!(why("900 in", Units::Metric), "length: “900 in” is not a number from 0.3938 to 118.1 in");
        assert_eq!(why("0.2", Units::Imperial), "length: “0.2” is not a number from 0.3938 to 118.1 in");
        assert_eq!(why("4 mm", Units::Metric), "length: “4 mm” is not a number from 10 to 3000 mm");
        assert_eq!(why("wide", Units::Metric), "length: “wide” is not a number from 1 to 300 cm");
    }

    #[test]
    fn a_length_shown_with_a_digit_after_the_point_is_the_one_that_stands() {
        let is = |typed, mm| is(typed, Bare::Millimetres, Units::Metric, Millimetre(mm));
        assert!(is("0.7 in", 18.0) && is("18", 18.0) && is("1.8 cm", 18.04) && is("17,8", 17.78));
        assert!(!is("0.8 in", 18.0) && !is("18", 17.8) && !is("17.80", 17.73) && !is("wide", 18.0));
    }
}
