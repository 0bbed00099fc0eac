//! The unit that a column's header names, and values turned into the units that are kept.

use climate::record::Element;

use super::table;
use crate::logger::Scale;

/// Units of the other elements.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Unit {
    Percent,
    Millimetre,
    Centimetre,
    Inch,
    MetrePerSecond,
    KilometrePerHour,
    MilePerHour,
    Knot,
    WattPerSquareMetre,
    WattHourPerSquareMetre,
    Minute,
    Hour,
    Hectopascal,
}

/// A word of a header.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Word {
    pub(crate) text: String,
    pub(crate) bracketed: bool,
}

/// A header's words in lower case: parted where letters end and where a small letter meets a capital one; `°` and `%`
/// are words of their own, however an old encoding wrote them.
pub(crate) fn words(name: &str) -> Vec<Word> {
    let name = name
        .replace('℃', "°C")
        .replace('℉', "°F")
        .replace('\u{212a}', "K")
        .replace(['º', '˚', '∘', '\u{fffd}'], "°")
        .replace("&deg;", "°")
        .replace("Â°", "°")
        .replace("(?C", "(°C")
        .replace("(?F", "(°F");
    let (mut words, mut word, mut depth, mut small) = (Vec::new(), String::new(), 0_usize, false);
    let mut end = |word: &mut String, depth: usize| {
        if !word.is_empty() {
            words.push(Word { text: std::mem::take(word).to_lowercase(), bracketed: depth > 0 });
        }
    };
    for letter in name.chars() {
        let sign = letter == '°' || letter == '%';
        let inside = letter.is_alphanumeric() || letter == '²' || letter == '^';
        if sign || !inside || (small && letter.is_uppercase()) {
            end(&mut word, depth);
        }
        match letter {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' => depth = depth.saturating_sub(1),
            _ if sign => {
                word.push(letter);
                end(&mut word, depth);
            }
            _ if inside => word.push(letter),
            _ => {}
        }
        small = letter.is_lowercase();
    }
    end(&mut word, depth);
    words
}

/// Whether these words stand in a row among the header's.
fn holds(words: &[Word], spelling: &str) -> bool {
    let wanted: Vec<&str> = spelling.split(' ').collect();
    words.windows(wanted.len()).any(|run| run.iter().zip(&wanted).all(|(word, wanted)| word.text == *wanted))
}

/// The one of these that all agree on.
fn agreed<T: PartialEq>(mut found: impl Iterator<Item = T>) -> Option<T> {
    let first = found.next()?;
    found.all(|other| other == first).then_some(first)
}

/// The scale that a header names; none where it names none, or two.
pub(crate) fn scale(name: &str) -> Option<Scale> {
    let words = words(name);
    if names_a_scale(&words) {
        return agreed(table::SCALES.iter().filter(|(it, _)| holds(&words, it)).map(|(_, scale)| *scale));
    }
    let alone = words.iter().enumerate().filter(|(at, word)| {
        let numbers = at.checked_sub(1).is_some_and(|at| table::NUMBERED.contains(&words[at].text.as_str()));
        word.bracketed || (at + 1 == words.len() && !numbers)
    });
    agreed(alone.filter_map(|(_, word)| {
        table::LETTERS.iter().find(|(letter, _)| *letter == word.text).map(|(_, scale)| *scale)
    }))
}

fn names_a_scale(words: &[Word]) -> bool {
    table::SCALES.iter().any(|(spelling, _)| holds(words, spelling))
}

/// Whether a header speaks of a temperature: by a word for it, by a scale, or as a bare `T`.
pub(crate) fn is_temperature(name: &str) -> bool {
    let words = words(name);
    let bare = ["t", "ta", "tair"];
    words.iter().any(|word| table::TEMPERATURES.iter().any(|start| word.text.starts_with(start)))
        || names_a_scale(&words)
        || words.first().is_some_and(|first| bare.contains(&first.text.as_str()) && words.len() <= 2)
        || matches!(&words[..], [only] if only.text == "c" || only.text == "f")
        || ["temp", "celsius", "fahrenheit"].iter().any(|part| name.to_lowercase().contains(part))
}

/// Whether any word of the header begins with one of these.
pub(crate) fn speaks_of(words: &[Word], starts: &[&str]) -> bool {
    words.iter().any(|word| starts.iter().any(|start| word.text.starts_with(start)))
}

/// The unit of another element that a header names.
pub(crate) fn unit(name: &str) -> Option<Unit> {
    let words = words(name);
    table::UNITS.iter().filter(|(spelling, _)| holds(&words, spelling)).map(|(_, unit)| *unit).next()
}

/// The element by the hour that a header speaks of, if its unit is named or can only be one.
pub(crate) fn element(name: &str) -> Option<(Element, Unit)> {
    let (words, named) = (words(name), unit(name));
    let extreme = ["min", "max", "low", "high", "gust", "dir", "alarm"];
    if words.iter().any(|word| extreme.contains(&word.text.as_str()) && !word.bracketed) {
        return None;
    }
    let (element, usual) = if speaks_of(&words, &table::HUMIDITIES) {
        (Element::Humidity, Some(Unit::Percent))
    } else if speaks_of(&words, &table::SUNSHINES) && !speaks_of(&words, &table::RADIATIONS) {
        (Element::Sunshine, None)
    } else if speaks_of(&words, &table::RADIATIONS) {
        (Element::Radiation, None)
    } else if speaks_of(&words, &table::WINDS) {
        (Element::Wind, None)
    } else if speaks_of(&words, &table::RAINS) {
        (Element::Rain, Some(Unit::Millimetre))
    } else {
        return None;
    };
    let unit = named.or(usual)?;
    in_unit(element, unit, 1.0).map(|_| (element, unit))
}

/// A value in the unit that its element is kept in; none where the unit does not measure it.
pub(crate) fn in_unit(element: Element, unit: Unit, value: f64) -> Option<f64> {
    Some(match (element, unit) {
        (Element::Humidity, Unit::Percent) | (Element::Pressure, Unit::Hectopascal) => value,
        (Element::Rain | Element::RainOfSixHours, Unit::Millimetre) => value,
        (Element::Rain | Element::RainOfSixHours, Unit::Centimetre) => value * 10.0,
        (Element::Rain | Element::RainOfSixHours, Unit::Inch) => value * 25.4,
        (Element::Wind, Unit::MetrePerSecond) => value,
        (Element::Wind, Unit::KilometrePerHour) => value / 3.6,
        (Element::Wind, Unit::MilePerHour) => value * 0.447_04,
        (Element::Wind, Unit::Knot) => value * 1852.0 / 3600.0,
        (Element::Radiation, Unit::WattPerSquareMetre | Unit::WattHourPerSquareMetre) => value,
        (Element::Sunshine, Unit::Hour) => value,
        (Element::Sunshine, Unit::Minute) => value / 60.0,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_spelling_is_read_in_every_frame_a_header_puts_it_in() {
        let letters = table::LETTERS.iter().map(|(letter, scale)| (*letter, *scale));
        for (spelling, wanted) in table::SCALES.iter().copied().chain(letters) {
            let tight = spelling.replace("° ", "°");
            for shown in [spelling.to_string(), tight.clone(), tight.to_uppercase()] {
                for frame in ["Temp (X)", "T [X]", "temperature_X", "Temperature, X", "Temperatur in X", "X"]
                {
                    let name = frame.replace('X', &shown);
                    assert_eq!(scale(&name), Some(wanted), "{name}");
                }
            }
        }
    }

    #[test]
    fn headers_as_they_are_met_name_their_scale() {
        let met = [
            ("degC", Some(Scale::Celsius)),
            ("temp (degC)", Some(Scale::Celsius)),
            ("temperature_C", Some(Scale::Celsius)),
            ("T [°C]", Some(Scale::Celsius)),
            ("Temp(℃)", Some(Scale::Celsius)),
            ("Temperature, Celsius", Some(Scale::Celsius)),
            ("Temperatur in Grad C", Some(Scale::Celsius)),
            ("Temp (Â°C)", Some(Scale::Celsius)),
            ("Temp (\u{fffd}C)", Some(Scale::Celsius)),
            ("tempC", Some(Scale::Celsius)),
            ("TempF", Some(Scale::Fahrenheit)),
            ("tmpf", Some(Scale::Fahrenheit)),
            ("°F", Some(Scale::Fahrenheit)),
            ("degF", Some(Scale::Fahrenheit)),
            ("deg F", Some(Scale::Fahrenheit)),
            ("Temp F", Some(Scale::Fahrenheit)),
            ("air temperature [K]", Some(Scale::Kelvin)),
            ("Sensor C temperature", None),
            ("Temp probe F", None),
            ("Temp °C/°F", None),
            ("temperature", None),
            ("Temperatur (Grad)", None),
        ];
        for (name, wanted) in met {
            assert_eq!(scale(name), wanted, "{name}");
        }
    }

    #[test]
    fn other_elements_are_read_in_their_units() {
        let met = [
            ("RH %", Some((Element::Humidity, Unit::Percent))),
            ("Luftfeuchte [%]", Some((Element::Humidity, Unit::Percent))),
            ("wind_speed (km/h)", Some((Element::Wind, Unit::KilometrePerHour))),
            ("Wind m/s", Some((Element::Wind, Unit::MetrePerSecond))),
            ("wind", None),
            ("wind gust (m/s)", None),
            ("solar radiation (W/m²)", Some((Element::Radiation, Unit::WattPerSquareMetre))),
            ("sunshine (min)", Some((Element::Sunshine, Unit::Minute))),
            ("rain", Some((Element::Rain, Unit::Millimetre))),
            ("precip_in", Some((Element::Rain, Unit::Inch))),
        ];
        for (name, wanted) in met {
            assert_eq!(element(name), wanted, "{name}");
        }
        assert_eq!(in_unit(Element::Wind, Unit::KilometrePerHour, 36.0), Some(10.0));
    }
}
