//! How units and elements are written in the headers of weather and logger files; spellings are words in lower case with
//! one space between, as `unit::words` parts a header.

use super::unit::Unit;
use crate::logger::Scale;

/// Spellings of a scale of temperature that mean it wherever they stand.
pub(crate) const SCALES: [(&str, Scale); 48] = [
    ("° c", Scale::Celsius),
    ("deg c", Scale::Celsius),
    ("degc", Scale::Celsius),
    ("degs c", Scale::Celsius),
    ("degree c", Scale::Celsius),
    ("degrees c", Scale::Celsius),
    ("grad c", Scale::Celsius),
    ("grado c", Scale::Celsius),
    ("grados c", Scale::Celsius),
    ("gradi c", Scale::Celsius),
    ("graden c", Scale::Celsius),
    ("grader c", Scale::Celsius),
    ("degré c", Scale::Celsius),
    ("degrés c", Scale::Celsius),
    ("celsius", Scale::Celsius),
    ("celcius", Scale::Celsius),
    ("centigrade", Scale::Celsius),
    ("tempc", Scale::Celsius),
    ("tempcelsius", Scale::Celsius),
    ("temperaturec", Scale::Celsius),
    ("temperaturecelsius", Scale::Celsius),
    ("tmpc", Scale::Celsius),
    ("tminc", Scale::Celsius),
    ("tmaxc", Scale::Celsius),
    ("tavgc", Scale::Celsius),
    ("° f", Scale::Fahrenheit),
    ("deg f", Scale::Fahrenheit),
    ("degf", Scale::Fahrenheit),
    ("degs f", Scale::Fahrenheit),
    ("degree f", Scale::Fahrenheit),
    ("degrees f", Scale::Fahrenheit),
    ("grad f", Scale::Fahrenheit),
    ("fahrenheit", Scale::Fahrenheit),
    ("farenheit", Scale::Fahrenheit),
    ("tempf", Scale::Fahrenheit),
    ("tempfahrenheit", Scale::Fahrenheit),
    ("temperaturef", Scale::Fahrenheit),
    ("temperaturefahrenheit", Scale::Fahrenheit),
    ("tmpf", Scale::Fahrenheit),
    ("tminf", Scale::Fahrenheit),
    ("tmaxf", Scale::Fahrenheit),
    ("tavgf", Scale::Fahrenheit),
    ("° k", Scale::Kelvin),
    ("deg k", Scale::Kelvin),
    ("degk", Scale::Kelvin),
    ("kelvin", Scale::Kelvin),
    ("tempk", Scale::Kelvin),
    ("tmpk", Scale::Kelvin),
];

/// A letter alone means a scale in brackets or at the end, unless it numbers a sensor.
pub(crate) const LETTERS: [(&str, Scale); 3] =
    [("c", Scale::Celsius), ("f", Scale::Fahrenheit), ("k", Scale::Kelvin)];

/// What a letter behind it numbers.
pub(crate) const NUMBERED: [&str; 18] = [
    "sensor", "probe", "channel", "kanal", "fühler", "ch", "port", "zone", "logger", "room", "box", "site",
    "station", "sonde", "node", "bed", "row", "bench",
];

/// Words, or beginnings of words, for a temperature of the air.
pub(crate) const TEMPERATURES: [&str; 8] =
    ["temp", "tmp", "celsius", "fahrenheit", "kelvin", "温度", "気温", "온도"];

/// Spellings of the units of the other elements.
pub(crate) const UNITS: [(&str, Unit); 32] = [
    ("%", Unit::Percent),
    ("percent", Unit::Percent),
    ("pct", Unit::Percent),
    ("mm", Unit::Millimetre),
    ("l m2", Unit::Millimetre),
    ("l m²", Unit::Millimetre),
    ("cm", Unit::Centimetre),
    ("in", Unit::Inch),
    ("inch", Unit::Inch),
    ("inches", Unit::Inch),
    ("m s", Unit::MetrePerSecond),
    ("ms", Unit::MetrePerSecond),
    ("mps", Unit::MetrePerSecond),
    ("km h", Unit::KilometrePerHour),
    ("kmh", Unit::KilometrePerHour),
    ("kph", Unit::KilometrePerHour),
    ("mph", Unit::MilePerHour),
    ("mp h", Unit::MilePerHour),
    ("kn", Unit::Knot),
    ("kt", Unit::Knot),
    ("knots", Unit::Knot),
    ("w m2", Unit::WattPerSquareMetre),
    ("w m²", Unit::WattPerSquareMetre),
    ("w m^2", Unit::WattPerSquareMetre),
    ("wm2", Unit::WattPerSquareMetre),
    ("wh m2", Unit::WattHourPerSquareMetre),
    ("wh m²", Unit::WattHourPerSquareMetre),
    ("min", Unit::Minute),
    ("minutes", Unit::Minute),
    ("h", Unit::Hour),
    ("hours", Unit::Hour),
    ("hpa", Unit::Hectopascal),
];

/// Beginnings of words for the other elements, in the order they are looked for.
pub(crate) const HUMIDITIES: [&str; 7] = ["humid", "feucht", "umid", "humed", "rh", "luftfeuchte", "湿度"];
/// Words for wind.
pub(crate) const WINDS: [&str; 4] = ["wind", "wnd", "awnd", "vent"];
/// Words for the sun's radiation.
pub(crate) const RADIATIONS: [&str; 6] =
    ["radiation", "solar", "globalstrahlung", "strahlung", "ghi", "shortwave"];
/// Words for the duration of sunshine.
pub(crate) const SUNSHINES: [&str; 4] = ["sunshine", "sonnenschein", "tsun", "sun"];
/// Words for rain.
pub(crate) const RAINS: [&str; 7] = ["rain", "prcp", "precip", "niederschlag", "regen", "pluie", "lluvia"];
