//! A weight as someone types it off a scale.

use measure::quantity::Gram;

use crate::{limits::HEAVIEST, record::same_figure};

/// Grams in one of a unit.
const UNITS: [(&str, f64); 4] = [("kg", 1000.0), ("lb", 453.592_37), ("oz", 28.349_523_125), ("g", 1.0)];

/// The figure that was typed without its spaces, and the grams in one of its unit.
fn parts(typed: &str) -> (String, f64) {
    let lower = typed.trim().to_lowercase();
    let told = UNITS.iter().find_map(|(unit, grams)| Some((lower.strip_suffix(unit)?, *grams)));
    let (figure, scale) = told.unwrap_or((&lower, 1.0));
    (figure.chars().filter(|letter| !letter.is_whitespace()).collect(), scale)
}

/// Whether what was typed is this very weight, rounded to the digits typed.
pub(crate) fn is(typed: &str, stands: Gram) -> bool {
    let (figure, scale) = parts(typed);
    same_figure(&figure, stands.0 / scale)
}

/// Reads a weight; without a unit it is grams.
///
/// # Errors
///
/// Why it cannot be taken, in words.
///
/// ```
/// use intake::weight::read;
///
/// assert_eq!(read("1 842 g").unwrap().0, 1842.0);
/// assert_eq!(read("1,84kg").unwrap().0, 1840.0);
/// assert!(read("-3 kg").is_err());
/// ```
pub fn read(typed: &str) -> Result<Gram, String> {
    let (plain, scale) = parts(typed);
    match plain.replace(',', ".").parse::<f64>() {
        Ok(weight) if weight * scale > 0.0 && weight * scale <= HEAVIEST => Ok(Gram(weight * scale)),
        Ok(weight) if weight <= 0.0 => {
            Err("nothing weighs that little; was the scale set to nought with the pot on?".into())
        }
        Ok(_) => Err("no pot is that heavy; is it another unit?".into()),
        Err(_) => Err("is not a weight written as 1842 g, 1.84 kg or 4.06 lb".into()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pounds_and_ounces_are_turned_into_grams() {
        assert!((read("4.06 lb").unwrap().0 - 1841.585).abs() < 0.001);
        assert!((read("10oz").unwrap().0 - 283.495).abs() < 0.001);
    }

    #[test]
    fn what_is_no_weight_says_so() {
        for typed in ["", "kg", "heavy", "0", "nan", "inf kg", "1e9 kg"] {
            assert!(read(typed).is_err(), "{typed}");
        }
    }
}
