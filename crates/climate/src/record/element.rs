//! Elements of the weather beside the air's temperature, by the hour and by the day, with their units.

use jiff::civil::Date;

/// What else a record tells of the weather.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Element {
    /// Relative humidity, %.
    Humidity,
    /// Dew point, °C.
    DewPoint,
    /// Air pressure as the record gives it, at the station or at sea level, hPa.
    Pressure,
    /// Wind speed, m/s, at the height of the record (10 m unless it says another).
    Wind,
    /// Global radiation on level ground, mean over the hour or day, W/m².
    Radiation,
    /// Sunshine, hours of the hour or day.
    Sunshine,
    /// Rain and melted snow of the hour, mm.
    Rain,
    /// Rain and melted snow of six hours, mm.
    RainOfSixHours,
}

impl Element {
    /// All of them.
    pub const ALL: [Element; 8] = [
        Element::Humidity,
        Element::DewPoint,
        Element::Pressure,
        Element::Wind,
        Element::Radiation,
        Element::Sunshine,
        Element::Rain,
        Element::RainOfSixHours,
    ];

    /// Its name in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Element::Humidity => "humidity",
            Element::DewPoint => "dew point",
            Element::Pressure => "air pressure",
            Element::Wind => "wind",
            Element::Radiation => "sun (radiation)",
            Element::Sunshine => "sunshine",
            Element::Rain => "rain by the hour",
            Element::RainOfSixHours => "rain of six hours",
        }
    }

    /// The unit of its values.
    pub fn unit(self) -> &'static str {
        match self {
            Element::Humidity => "%",
            Element::DewPoint => "°C",
            Element::Pressure => "hPa",
            Element::Wind => "m/s",
            Element::Radiation => "W/m²",
            Element::Sunshine => "h",
            Element::Rain | Element::RainOfSixHours => "mm",
        }
    }

    /// The values that are believed; a guard of this house, wider than any record.
    pub fn range(self) -> std::ops::RangeInclusive<f64> {
        match self {
            Element::Humidity => 0.0..=110.0,
            Element::DewPoint => -95.0..=50.0,
            Element::Pressure => 400.0..=1100.0,
            Element::Wind => 0.0..=115.0,
            Element::Radiation => 0.0..=1600.0,
            Element::Sunshine => 0.0..=24.0,
            Element::Rain => 0.0..=450.0,
            Element::RainOfSixHours => 0.0..=1000.0,
        }
    }

    /// Whether it is summed over its time, which then runs from its moment on.
    pub fn is_sum(self) -> bool {
        matches!(self, Element::Radiation | Element::Sunshine | Element::Rain | Element::RainOfSixHours)
    }
}

/// Where kept weather comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WeatherOrigin {
    /// A station's record.
    Station,
    /// Past years of a weather model.
    Reanalysis,
    /// The fetched forecast.
    Forecast,
    /// A typical year; its hours count from 1 January of the leap year 2024 on local standard time.
    Typical,
}

impl WeatherOrigin {
    /// All of them.
    pub const ALL: [WeatherOrigin; 4] =
        [WeatherOrigin::Station, WeatherOrigin::Reanalysis, WeatherOrigin::Forecast, WeatherOrigin::Typical];

    /// The word used in the collection's file.
    pub fn key(self) -> &'static str {
        match self {
            WeatherOrigin::Station => "station",
            WeatherOrigin::Reanalysis => "reanalysis",
            WeatherOrigin::Forecast => "forecast",
            WeatherOrigin::Typical => "typical",
        }
    }

    /// The origin in plain words.
    pub fn words(self) -> &'static str {
        match self {
            WeatherOrigin::Station => "your station",
            WeatherOrigin::Reanalysis => "past years of a weather model",
            WeatherOrigin::Forecast => "the forecast",
            WeatherOrigin::Typical => "a typical year",
        }
    }
}

/// One hour of the other elements; sums fall in the hour from `at` on, the rest was read at `at`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WeatherHour {
    /// Seconds since 1970 in UTC.
    pub at: i64,
    values: [Option<f64>; 8],
}

impl WeatherHour {
    /// An hour that tells nothing yet.
    ///
    /// ```
    /// use climate::record::{Element, WeatherHour};
    ///
    /// let hour = WeatherHour::at(3600).with(Element::Wind, Some(2.5));
    /// assert_eq!((hour.get(Element::Wind), hour.get(Element::Rain)), (Some(2.5), None));
    /// ```
    pub fn at(at: i64) -> WeatherHour {
        WeatherHour { at, values: [None; 8] }
    }

    /// The value of an element in its unit.
    pub fn get(&self, element: Element) -> Option<f64> {
        self.values[element as usize]
    }

    /// The hour with this value of an element.
    #[must_use]
    pub fn with(mut self, element: Element, value: Option<f64>) -> WeatherHour {
        self.values[element as usize] = value;
        self
    }

    /// All values, in the order of [`Element::ALL`].
    pub fn values(&self) -> [Option<f64>; 8] {
        self.values
    }

    /// Whether it tells nothing.
    pub fn is_empty(&self) -> bool {
        self.values.iter().all(Option::is_none)
    }
}

/// One day of the other elements; its rain is the station day's own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeatherDay {
    /// Civil date at the station.
    pub date: Date,
    /// Mean air temperature, °C.
    pub mean: Option<f64>,
    /// Mean relative humidity, %.
    pub humidity: Option<f64>,
    /// Mean wind speed, m/s.
    pub wind: Option<f64>,
    /// Global radiation, mean over the 24 hours, W/m².
    pub radiation: Option<f64>,
    /// Sunshine, h.
    pub sunshine: Option<f64>,
}

impl WeatherDay {
    /// A day that tells nothing yet.
    pub fn on(date: Date) -> WeatherDay {
        WeatherDay { date, mean: None, humidity: None, wind: None, radiation: None, sunshine: None }
    }

    /// Whether it tells nothing.
    pub fn is_empty(&self) -> bool {
        [self.mean, self.humidity, self.wind, self.radiation, self.sunshine].iter().all(Option::is_none)
    }
}
