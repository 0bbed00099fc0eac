//! Quantities that cross a room's wall: one newtype per unit, nothing bare.

/// A temperature in degrees Celsius.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Celsius(pub f64);

/// A temperature in degrees Fahrenheit.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Fahrenheit(pub f64);

/// A depth of water or a length in millimetres.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Millimetre(pub f64);

/// A length in metres, used for elevation.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Metre(pub f64);

/// A span of time in hours.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Hours(pub f64);

/// An angle in degrees: latitude north, longitude east.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Degrees(pub f64);

/// Light received in a day, mol of photosynthetic photons per square metre.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct MolPerDay(pub f64);

/// Photosynthetic photon flux, µmol per square metre and second.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct PhotonFlux(pub f64);

/// Solar energy received in an hour, MJ per square metre.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Megajoule(pub f64);

impl Celsius {
    /// The same temperature on the Fahrenheit scale.
    pub fn fahrenheit(self) -> Fahrenheit {
        Fahrenheit(self.0 * 1.8 + 32.0)
    }
}

impl Fahrenheit {
    /// The same temperature on the Celsius scale.
    pub fn celsius(self) -> Celsius {
        Celsius((self.0 - 32.0) / 1.8)
    }
}

/// Which units a person reads and types.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Units {
    /// °C, cm, kg, litres.
    #[default]
    Metric,
    /// °F, inches, pounds, US gallons.
    Imperial,
}

impl Units {
    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Units::Metric => "metric",
            Units::Imperial => "imperial",
        }
    }

    /// The units that go by this word.
    pub fn from_key(key: &str) -> Option<Units> {
        [Units::Metric, Units::Imperial].into_iter().find(|units| units.key() == key)
    }

    /// A difference of temperatures as this reader writes it.
    ///
    /// ```
    /// use measure::quantity::Units;
    ///
    /// assert_eq!(Units::Imperial.difference(1.0), "1.8 °F");
    /// ```
    pub fn difference(self, kelvin: f64) -> String {
        match self {
            Units::Metric => format!("{kelvin:.1} °C"),
            Units::Imperial => format!("{:.1} °F", kelvin * 1.8),
        }
        .replace('-', "−")
    }

    /// A volume of water or soil as this reader writes it: millilitres below a litre, US fluid ounces below a US gallon.
    ///
    /// ```
    /// use measure::quantity::{Litre, Units};
    ///
    /// assert_eq!(Units::Metric.water(Litre(0.734)), "730 ml");
    /// assert_eq!(Units::Imperial.water(Litre(7.5)), "2.0 US gal");
    /// ```
    pub fn water(self, volume: Litre) -> String {
        let litres = volume.0.max(0.0);
        match self {
            Units::Metric if litres < 0.0015 => "1 ml".into(),
            Units::Metric if litres < 0.0995 => format!("{:.0} ml", litres * 1000.0),
            Units::Metric if litres < 0.995 => format!("{:.0} ml", (litres * 100.0).round() * 10.0),
            Units::Metric => format!("{litres:.1} l"),
            Units::Imperial if litres < 3.785_411_784 => format!("{:.1} fl oz", litres / 0.029_573_53),
            Units::Imperial => format!("{:.1} US gal", litres / 3.785_411_784),
        }
    }

    /// A weight as this reader writes it.
    ///
    /// ```
    /// use measure::quantity::{Gram, Units};
    ///
    /// assert_eq!(Units::Metric.weight(Gram(1842.0)), "1.84 kg");
    /// assert_eq!(Units::Imperial.weight(Gram(1842.0)), "4.06 lb");
    /// ```
    pub fn weight(self, weight: Gram) -> String {
        match self {
            Units::Metric if weight.0 < 1000.0 => format!("{:.0} g", weight.0),
            Units::Metric => format!("{:.2} kg", weight.0 / 1000.0),
            Units::Imperial => format!("{:.2} lb", weight.0 / 453.592_37),
        }
    }

    /// A length across as this reader writes it.
    ///
    /// ```
    /// use measure::quantity::{Centimetre, Units};
    ///
    /// assert_eq!(Units::Imperial.span(Centimetre(30.0)), "11.8 in");
    /// ```
    pub fn span(self, length: Centimetre) -> String {
        match self {
            Units::Metric => format!("{} cm", self.span_figure(length)),
            Units::Imperial => format!("{} in", self.span_figure(length)),
        }
    }

    /// The figure of [`Units::span`] without its unit.
    pub fn span_figure(self, length: Centimetre) -> String {
        match self {
            Units::Metric => format!("{}", (length.0 * 10.0).round() / 10.0),
            Units::Imperial => format!("{:.1}", length.0 / 2.54),
        }
    }

    /// A weight to carry as this reader writes it.
    ///
    /// ```
    /// use measure::quantity::{Kilogram, Units};
    ///
    /// assert_eq!(Units::Imperial.load(Kilogram(12.0)), "26 lb");
    /// ```
    pub fn load(self, weight: Kilogram) -> String {
        match self {
            Units::Metric if weight.0 >= 20.0 => format!("{:.0} kg", weight.0),
            Units::Metric => format!("{:.1} kg", weight.0),
            Units::Imperial => format!("{:.0} lb", weight.0 / 0.453_592_37),
        }
    }

    /// How heavy a bulk is as this reader writes it.
    ///
    /// ```
    /// use measure::quantity::{KilogramPerLitre, Units};
    ///
    /// assert_eq!(Units::Metric.density(KilogramPerLitre(0.62)), "620 g a litre");
    /// assert_eq!(Units::Imperial.density(KilogramPerLitre(0.62)), "1.29 lb a US quart");
    /// ```
    pub fn density(self, bulk: KilogramPerLitre) -> String {
        match self {
            Units::Metric => format!("{:.0} g a litre", bulk.0 * 1000.0),
            Units::Imperial => format!("{:.2} lb a US quart", bulk.0 * 946.352_946 / 453.592_37),
        }
    }

    /// A height above the sea as this reader writes it.
    ///
    /// ```
    /// use measure::quantity::{Metre, Units};
    ///
    /// assert_eq!(Units::Imperial.height(Metre(560.0)), "1837 ft");
    /// ```
    pub fn height(self, height: Metre) -> String {
        match self {
            Units::Metric => format!("{} m", height.0),
            Units::Imperial => format!("{:.0} ft", height.0 / 0.3048),
        }
    }

    /// A temperature as this reader writes it, to a tenth of a degree.
    ///
    /// ```
    /// use measure::quantity::{Celsius, Units};
    ///
    /// assert_eq!(Units::Imperial.temperature(Celsius(-4.0)), "24.8 °F");
    /// assert_eq!(Units::Metric.temperature(Celsius(-4.0)), "−4.0 °C");
    /// ```
    pub fn temperature(self, celsius: Celsius) -> String {
        let (value, unit) = match self {
            Units::Metric => (celsius.0, "°C"),
            Units::Imperial => (celsius.fahrenheit().0, "°F"),
        };
        let value = if value.abs() < 0.05 { 0.0 } else { value };
        format!("{value:.1} {unit}").replace('-', "−")
    }
}

/// A length in centimetres: the side of a pot, the depth of its soil, the head of water drawn by a mix.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Centimetre(pub f64);

/// An area in square centimetres.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct SquareCentimetre(pub f64);

/// A volume in litres.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Litre(pub f64);

/// A weight in grams.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Gram(pub f64);

/// A weight in kilograms.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Kilogram(pub f64);

/// A density in kilograms per litre, which is grams per millilitre.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct KilogramPerLitre(pub f64);

/// A share of a whole, 0 to 1: litres of water or air in a litre of mix, a chance, a shaded part.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Share(pub f64);

/// An area in square millimetres: wood in a cut, bark of a branch.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct SquareMillimetre(pub f64);

/// A volume of wood in cubic millimetres.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct CubicMillimetre(pub f64);

/// One over a length in millimetres: how sharply something is bent.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct PerMillimetre(pub f64);

/// A force in newtons.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Newton(pub f64);

/// A bending moment in newton millimetres.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct NewtonMillimetre(pub f64);

/// A stress, a strength or a modulus in megapascals, which is newtons on a square millimetre.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Megapascal(pub f64);

/// A span of time in weeks.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Weeks(pub f64);

/// A span of time in years.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Years(pub f64);

/// One over a length in centimetres.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct PerCentimetre(pub f64);

/// A pressure of air or of the vapour in it, kPa.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Kilopascal(pub f64);

/// How a pressure goes with temperature, kPa per °C.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct KilopascalPerDegree(pub f64);

/// A wind, m per second.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct MetresPerSecond(pub f64);

/// Energy received or lost in a day, MJ per square metre.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct DayEnergy(pub f64);

/// Parts of a hundred: humidity of the air.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Percent(pub f64);

/// A flow of water, litres per day.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct LitresPerDay(pub f64);

/// An area, square metres.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct SquareMetre(pub f64);

/// Time in minutes.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Minutes(pub f64);

/// Time in seconds.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Seconds(pub f64);

/// A span of time, or a moment counted from a day agreed on, in days.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Days(pub f64);

/// Litres in a US gallon.
const GALLON: f64 = 3.785_411_784;

/// Grams in an avoirdupois ounce.
const OUNCE: f64 = 28.349_523_125;

/// Litres in a US fluid ounce.
const FLUID_OUNCE: f64 = 0.029_573_529_562_5;

/// Parts of an element in a million parts of water, which is milligrams per litre.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct PartsPerMillion(pub f64);

/// Grams of a product in a litre.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct GramsPerLitre(pub f64);

/// Millilitres of a product in a litre.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct MillilitresPerLitre(pub f64);

/// One part to this many.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct OneTo(pub f64);

/// How well water conducts, dS per metre, which is mS per cm.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct DecisiemensPerMetre(pub f64);

impl Litre {
    /// The volume of so many US gallons.
    ///
    /// ```
    /// assert_eq!(measure::quantity::Litre::from_gallons(2.0).0, 7.570823568);
    /// ```
    pub fn from_gallons(gallons: f64) -> Litre {
        Litre(gallons * GALLON)
    }

    /// The volume in US gallons.
    pub fn gallons(self) -> f64 {
        self.0 / GALLON
    }

    /// The volume in US fluid ounces.
    pub fn fluid_ounces(self) -> f64 {
        self.0 / FLUID_OUNCE
    }
}

impl Gram {
    /// The weight in ounces.
    pub fn ounces(self) -> f64 {
        self.0 / OUNCE
    }
}

impl GramsPerLitre {
    /// The strength of so many ounces in a US gallon.
    pub fn from_ounces_per_gallon(ounces: f64) -> GramsPerLitre {
        GramsPerLitre(ounces * OUNCE / GALLON)
    }

    /// Ounces in a US gallon.
    ///
    /// ```
    /// let strength = measure::quantity::GramsPerLitre(100.0);
    /// assert_eq!(format!("{:.4}", strength.ounces_per_gallon()), "13.3526");
    /// ```
    pub fn ounces_per_gallon(self) -> f64 {
        self.0 * GALLON / OUNCE
    }
}

impl MillilitresPerLitre {
    /// The strength of so many US fluid ounces in a US gallon.
    ///
    /// ```
    /// let strength = measure::quantity::MillilitresPerLitre::from_fluid_ounces_per_gallon(1.0);
    /// assert_eq!(format!("{:.4}", strength.0), "7.8125");
    /// ```
    pub fn from_fluid_ounces_per_gallon(ounces: f64) -> MillilitresPerLitre {
        MillilitresPerLitre(ounces * FLUID_OUNCE / GALLON * 1000.0)
    }

    /// US fluid ounces in a US gallon.
    pub fn fluid_ounces_per_gallon(self) -> f64 {
        self.0 / 1000.0 * GALLON / FLUID_OUNCE
    }
}

impl DecisiemensPerMetre {
    /// What a meter in µS per cm showed.
    pub fn from_microsiemens_per_centimetre(reading: f64) -> DecisiemensPerMetre {
        DecisiemensPerMetre(reading / 1000.0)
    }

    /// The same in µS per cm.
    pub fn microsiemens_per_centimetre(self) -> f64 {
        self.0 * 1000.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn freezing_is_the_same_on_both_scales() {
        assert_eq!(Celsius(0.0).fahrenheit(), Fahrenheit(32.0));
        assert_eq!(Fahrenheit(212.0).celsius(), Celsius(100.0));
    }
}
