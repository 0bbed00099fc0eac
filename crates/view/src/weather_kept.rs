//! What is kept of the weather besides temperatures: each element with its amount, unit and source.

use store::{error::Error, reader::Reader};

use crate::words::count;

/// One line per element and source, such as “humidity: 8,760 hours from your station, %”.
///
/// # Errors
///
/// [`Error`] from the store.
pub fn lines(reader: &Reader) -> Result<Vec<String>, Error> {
    let line =
        |what: &str, amount: String, from: &str, unit: &str| format!("{what}: {amount} from {from}, {unit}");
    let mut lines: Vec<String> = reader
        .weather_kept()?
        .into_iter()
        .map(|kept| line(kept.what, amount(kept.count, kept.hours), kept.origin.words(), kept.unit))
        .collect();
    for place in reader.places()? {
        let hours = reader.logged_humidity_count(&place.key)?;
        if hours > 0 {
            lines.push(line("humidity", amount(hours, true), &format!("the logger of {}", place.name), "%"));
        }
    }
    Ok(lines)
}

/// A count with its thousands parted by commas.
fn amount(number: u32, hours: bool) -> String {
    let (one, many) = if hours { ("hour", "hours") } else { ("day", "days") };
    if number < 1000 {
        return count(number as usize, one, many);
    }
    let digits = number.to_string();
    let parted: Vec<&str> =
        digits.as_bytes().rchunks(3).rev().filter_map(|chunk| std::str::from_utf8(chunk).ok()).collect();
    format!("{} {many}", parted.join(","))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_parted() {
        assert_eq!(amount(8_760, true), "8,760 hours");
        assert_eq!(amount(1, false), "1 day");
        assert_eq!(amount(1_234_567, true), "1,234,567 hours");
    }
}
