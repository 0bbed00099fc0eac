//! Demand against FAO-56's worked examples, two libraries and a published program.
//!
//! `et0_fao56_examples.json`: the examples of Allen et al. 1998 as remembered by the reference set (printed figures),
//! each worked out with every step by its own script, which agrees with refet 0.5.0, pyet 1.5.0 and pyfao56 1.4.3.
//! `et0_daily_*.csv`, `et0_hourly_*.csv`: two stations, with columns of refet, pyfao56 and the REF-ET program.
//! `hargreaves.csv`: script. Tolerances are half of the last digit, and 0.002 mm against a library's column, 0.06 mm
//! against the program's.

mod vector;

use std::collections::BTreeMap;

use climate::demand::{
    Caveat, DayDemand, DayWeather, DemandPlace, HourWeather, Radiation, Setting, Site, Standard, daily,
    ground::{into_ground, into_ground_so_far},
    hourly, hourly_series,
    radiation::{from_span, from_sunshine, net_longwave},
    split::HourShares,
    sun::{Clock, sun_of_day},
    temperature::hargreaves_samani,
    vapour::{
        AirOfDay, Humidity, Psychrometer, air_pressure, psychrometric_constant, saturation, vapour_pressure,
    },
    wind::at_two_metres,
};
use measure::quantity::{
    Celsius, DayEnergy, Degrees, Hours, Kilopascal, Megajoule, Metre, MetresPerSecond, Millimetre, Percent,
    Share,
};
use serde_json::Value;
use vector::{Row, cell as number, counted, fields, json, rows, table};

/// Half of the last digit a figure is written with.
fn half_digit(written: &Value) -> f64 {
    let text = written.to_string();
    let decimals = text.split_once('.').map_or(0, |(_, after)| after.len());
    0.5001 * 10_f64.powi(-i32::try_from(decimals).unwrap())
}

type Figures = BTreeMap<&'static str, f64>;

struct Example<'a>(&'a Value);

impl Example<'_> {
    fn given(&self, name: &str) -> Option<f64> {
        self.0["inputs"][name].as_f64()
    }

    fn get(&self, name: &str) -> f64 {
        self.given(name).unwrap_or_else(|| panic!("{name} of {}", self.0["id"]))
    }

    fn low(&self) -> Celsius {
        Celsius(self.get("tmin"))
    }

    fn high(&self) -> Celsius {
        Celsius(self.get("tmax"))
    }

    /// The paper prints latitudes in minutes; the file rounds them to four digits.
    fn latitude(&self) -> Degrees {
        Degrees((self.given("lat_deg").unwrap_or(16.2167) * 60.0).round() / 60.0)
    }

    fn doy(&self) -> u16 {
        self.get("doy") as u16
    }

    fn site(&self) -> Site {
        let east = -self.given("lon_west").unwrap_or(0.0);
        let mut site = Site::inland(self.latitude(), Degrees(east), Metre(self.get("z_m")));
        site.clock.ahead = Hours(-self.given("Lz_west").unwrap_or(0.0) / 15.0);
        site.wind_height = Metre(2.0);
        site.calm = None;
        site
    }

    /// The sun alone, and what is guessed from it.
    fn sun(&self) -> Figures {
        let sun = sun_of_day(self.latitude(), self.doy()).unwrap();
        let mut out = Figures::from([
            ("dr", sun.nearness),
            ("delta", sun.declination.0.to_radians()),
            ("omega_s", sun.sunset.0.to_radians()),
            ("Ra", sun.energy.0),
            ("N", sun.daylight.0),
        ]);
        if let Some(n) = self.given("n_h") {
            out.insert("Rs", from_sunshine(Hours(n), &sun).unwrap().0);
        } else if let Some(share) = self.given("kRs") {
            let setting = if share == 0.16 { Setting::Inland } else { Setting::Coast };
            out.insert("Rs", from_span(setting, self.low(), self.high(), &sun).unwrap().0);
        }
        out
    }

    fn pressure(&self) -> Figures {
        let pressure = air_pressure(Metre(self.get("z_m"))).unwrap();
        let mut out = Figures::from([("P_kPa", pressure.0), ("gamma", psychrometric_constant(pressure).0)]);
        if let Some(constant) = self.given("a_psy") {
            assert_eq!(constant, 0.000_662);
            let (dry, wet) = (Celsius(self.get("tdry")), Celsius(self.get("twet")));
            let kind = Psychrometer::Ventilated;
            let air = AirOfDay { low: dry, high: dry, pressure, arid: false };
            let held = vapour_pressure(Some(Humidity::WetBulb { dry, wet, kind }), &air).unwrap().0;
            let at_wet = saturation(wet).unwrap().0;
            out.extend([("ea", held.0), ("e_twet", at_wet)]);
            out.insert("gamma_psy", (at_wet - held.0) / (dry.0 - wet.0));
        }
        out
    }

    fn humidity(&self) -> Option<Humidity> {
        if let Some(vapour) = self.given("ea") {
            return Some(Humidity::Pressure(Kilopascal(vapour)));
        }
        let (highest, lowest) = (self.given("rhmax")?, self.given("rhmin")?);
        Some(Humidity::Extremes { highest: Percent(highest), lowest: Percent(lowest) })
    }

    fn air(&self) -> Figures {
        let (low, high) = (self.low(), self.high());
        let (e_low, e_high) = (saturation(low).unwrap().0, saturation(high).unwrap().0);
        let full = f64::midpoint(e_low, e_high);
        let wrong = saturation(Celsius(f64::midpoint(low.0, high.0))).unwrap().0;
        let mut out = Figures::from([
            ("e_tmin", e_low),
            ("e_tmax", e_high),
            ("es", full),
            ("e_of_mean_T_wrong", wrong),
        ]);
        let air = AirOfDay { low, high, pressure: Kilopascal(101.3), arid: false };
        if let Some(humidity) = self.humidity() {
            let held = vapour_pressure(Some(humidity), &air).unwrap().0.0;
            let mean = Percent(f64::midpoint(self.get("rhmax"), self.get("rhmin")));
            let (of_mean, doubts) = vapour_pressure(Some(Humidity::Mean(mean)), &air).unwrap();
            assert!(doubts.has(Caveat::HumidityFromMean));
            out.extend([("ea", held), ("vpd", full - held), ("ea_from_rhmean", of_mean.0)]);
        }
        out
    }

    fn day(&self) -> Figures {
        let place = DemandPlace::new(self.site()).unwrap();
        let g = self.given("G");
        if let (Some(_), Some(before)) = (g, self.given("tmean_prev")) {
            let reckoned = into_ground_so_far(Celsius(before), Celsius(self.get("tmean_month")));
            assert!((reckoned.0 - self.get("G")).abs() < 0.005);
        }
        let day = DayWeather {
            humidity: self.humidity(),
            radiation: self.given("n_h").map(|n| Radiation::Sunshine(Hours(n))),
            wind: if self.humidity().is_some() { self.given("u2").map(MetresPerSecond) } else { None },
            into_ground: DayEnergy(g.unwrap_or(0.0)),
            ..DayWeather::of_extremes(self.doy(), self.low(), self.high())
        };
        let demand = daily(Standard::Fao56, &place, &day).unwrap();
        assert_eq!(demand.caveats.has(Caveat::RadiationFromSpan), day.radiation.is_none());
        assert_eq!(demand.caveats.has(Caveat::HumidityFromLow), day.humidity.is_none());
        assert_eq!(demand.caveats.has(Caveat::WindAssumed), day.wind.is_none());
        let sun = place.sun(day.day_of_year).unwrap();
        Figures::from([
            ("Tmean", demand.mean.0),
            ("P", place.pressure().0),
            ("gamma", place.psychrometric().0),
            ("Delta", demand.slope.0),
            ("es", demand.saturation.0),
            ("ea", demand.vapour.0),
            ("vpd", demand.saturation.0 - demand.vapour.0),
            ("Ra", sun.energy.0),
            ("Rso", demand.clear.0),
            ("N", sun.daylight.0),
            ("Rs", demand.reached.0),
            ("Rns", 0.77 * demand.reached.0),
            ("Rnl", demand.longwave.0),
            ("Rn", demand.net.0),
            ("G", day.into_ground.0),
            ("u2", demand.wind.0),
            ("ETo", demand.depth.0),
            ("Hargreaves", hargreaves_samani(day.low, day.high, sun).unwrap().0),
        ])
    }

    fn hour(&self) -> Figures {
        let place = DemandPlace::new(self.site()).unwrap();
        let hour = HourWeather {
            day_of_year: self.given("doy").unwrap_or(274.0) as u16,
            middle: Hours(self.given("t_mid").unwrap_or(2.5)),
            air: Celsius(self.get("t")),
            humidity: Humidity::Mean(Percent(self.get("rh"))),
            radiation: Megajoule(self.get("rs")),
            wind: Some(MetresPerSecond(self.get("u2"))),
            sky: self.given("ratio").map(Share),
        };
        let demand = hourly(Standard::Fao56, &place, &hour).unwrap();
        Figures::from([
            ("Ra", demand.above.0),
            ("Rso", demand.clear.0),
            ("ratio", demand.sky.0),
            ("ea", demand.vapour.0),
            ("e0", demand.saturation.0),
            ("Delta", demand.slope.0),
            ("gamma", place.psychrometric().0),
            ("Rnl", demand.longwave.0),
            ("Rn", demand.net.0),
            ("G", demand.into_ground.0),
            ("ETo", demand.depth.0),
            ("ETo_fao56", demand.depth.0),
        ])
    }

    fn ours(&self) -> Figures {
        let has = |name: &str| self.given(name).is_some();
        match () {
            () if has("rs") && has("rh") => self.hour(),
            () if has("z_m") && has("tmax") => self.day(),
            () if has("z_m") => self.pressure(),
            () if has("doy") => self.sun(),
            () if has("Rso") => {
                let sky = Share(self.get("Rs") / self.get("Rso"));
                let vapour = Kilopascal(self.get("ea"));
                let lost = net_longwave(Standard::Fao56, (self.low(), self.high()), vapour, sky);
                Figures::from([("Rnl", lost.0)])
            }
            () if has("tmax") => self.air(),
            () if has("t_prev") => {
                let heat = into_ground(Celsius(self.get("t_prev")), Celsius(self.get("t_next")));
                Figures::from([("G", heat.0)])
            }
            () if has("uz") => {
                let low = at_two_metres(MetresPerSecond(self.get("uz")), Metre(self.get("z"))).unwrap();
                Figures::from([("u2", low.0)])
            }
            () => Figures::new(),
        }
    }
}

#[test]
fn worked_examples_with_their_steps() {
    let Some(file) = json("water/et0_fao56_examples.json") else { return };
    let (mut printed, mut computed, mut largest) = (0, 0, 0.0_f64);
    for example in rows(&file["examples"]) {
        let ours = Example(example).ours();
        for (kind, count) in [("published_rounded", &mut printed), ("computed", &mut computed)] {
            for (name, written) in fields(&example[kind]) {
                let Some(ours) = ours.get(name) else { continue };
                let gap = (ours - written.as_f64().unwrap()).abs();
                assert!(
                    gap <= half_digit(written),
                    "{} {kind} {name}: ours {ours}, {written}",
                    example["id"]
                );
                *count += 1;
                if kind == "computed" {
                    largest = largest.max(gap);
                }
            }
        }
    }
    println!("largest gap {largest:.1e}");
    counted("water/et0_fao56_examples.json: printed figures", printed, 46);
    counted("water/et0_fao56_examples.json: computed figures", computed, 103);
}

/// The two stations of the daily series, as the reference set describes them.
fn station(name: &str) -> DemandPlace {
    let (latitude, east, height) =
        if name == "fallon" { (39.4575, -118.773_88, 1208.5) } else { (33.069, -112.0, 361.0) };
    let clock = Clock { longitude: Degrees(east), ahead: Hours(-7.0) };
    let site = Site::inland(Degrees(latitude), Degrees(east), Metre(height));
    DemandPlace::new(Site { clock, wind_height: Metre(3.0), calm: None, ..site }).unwrap()
}

fn day_of(row: &Row) -> DayWeather {
    DayWeather {
        humidity: Some(Humidity::DewPoint(Celsius(number(row, "tdew_c")))),
        radiation: Some(Radiation::Measured(DayEnergy(number(row, "rs_mj")))),
        wind: Some(MetresPerSecond(number(row, "wind3m_ms"))),
        ..DayWeather::of_extremes(
            number(row, "doy") as u16,
            Celsius(number(row, "tmin_c")),
            Celsius(number(row, "tmax_c")),
        )
    }
}

#[test]
fn two_stations_by_the_day() {
    use Standard::{AsceShort, AsceTall, Fao56};
    let fallon: &[(Standard, &str, f64)] = &[
        (Fao56, "eto_fao56_simple_rso", 2e-4),
        (AsceShort, "eto_refetlib_asce_simple", 0.002),
        (AsceTall, "etr_refetlib_asce_simple", 0.002),
        (AsceShort, "eto_pyfao56lib", 0.002),
        (AsceTall, "etr_pyfao56lib", 0.002),
    ];
    let maricopa: &[(Standard, &str, f64)] = &[
        (Fao56, "eto_fao56_ours_clipped", 2e-4),
        (Fao56, "eto_pyfao56lib", 0.002),
        (Fao56, "eto_fao56_refet_program", 0.06),
    ];
    for (name, file, columns, own) in [
        ("fallon", "et0_daily_fallon2015.csv", fallon, 155),
        ("maricopa", "et0_daily_maricopa.csv", maricopa, 132),
    ] {
        let (place, Some(rows)) = (station(name), table(&format!("water/{file}"))) else { continue };
        let mut figures = 0;
        for &(standard, column, tolerance) in columns {
            if !rows.first().is_some_and(|row| row.contains_key(column)) {
                continue;
            }
            let mut largest = 0.0_f64;
            for row in &rows {
                let ours: DayDemand = daily(standard, &place, &day_of(row)).unwrap();
                assert!(ours.caveats.is_empty());
                let gap = (ours.depth.0 - number(row, column)).abs();
                assert!(gap <= tolerance, "{column} {row:?}: ours {}", ours.depth.0);
                largest = largest.max(gap);
                figures += 1;
            }
            println!("{name} {column}: {} days, largest gap {largest:.1e} mm", rows.len());
        }
        counted(&format!("water/{file}: days by formula"), figures, own);
    }
}

#[test]
fn temperature_alone() {
    let (mut rows, mut largest) = (0, 0.0_f64);
    let mut agrees = |ours: f64, written: f64, tolerance: f64| {
        let gap = (ours - written).abs();
        assert!(gap <= tolerance, "ours {ours}, {written}");
        (rows, largest) = (rows + 1, largest.max(gap));
    };
    for row in table("water/hargreaves.csv").unwrap_or_default() {
        let (low, high) = (Celsius(number(&row, "tmin_c")), Celsius(number(&row, "tmax_c")));
        let sun = sun_of_day(Degrees(number(&row, "lat_deg")), number(&row, "doy") as u16).unwrap();
        agrees(sun.energy.0, number(&row, "Ra_mj"), 5.001e-5);
        agrees(sun.daylight.0, number(&row, "N_h"), 5.001e-5);
        agrees(hargreaves_samani(low, high, &sun).unwrap().0, number(&row, "eto_hargreaves_mm"), 5.001e-5);
    }
    let fallon = station("fallon");
    for row in table("water/et0_daily_fallon2015.csv").unwrap_or_default() {
        let day = day_of(&row);
        let ours = hargreaves_samani(day.low, day.high, fallon.sun(day.day_of_year).unwrap()).unwrap();
        agrees(ours.0, number(&row, "hargreaves"), 2e-4);
    }
    println!("largest gap {largest:.1e}");
    if rows > 0 {
        counted("water/hargreaves.csv and et0_daily_fallon2015.csv: figures", rows, 49);
    }
}

fn hour_of(row: &Row) -> HourWeather {
    let start: f64 = row["local"][11..13].parse().unwrap();
    HourWeather {
        day_of_year: number(row, "doy") as u16,
        middle: Hours(start + 0.5),
        air: Celsius(number(row, "t_c")),
        humidity: Humidity::DewPoint(Celsius(number(row, "tdew_c"))),
        radiation: Megajoule(number(row, "rs_mj_h")),
        wind: Some(MetresPerSecond(number(row, "wind3m_ms"))),
        sky: None,
    }
}

#[test]
fn a_station_by_the_hour() {
    let place = station("fallon");
    let clock = place.site().clock;
    let Some(rows) = table("water/et0_hourly_fallon2015.csv") else { return };
    for (standard, column) in
        [(Standard::AsceShort, "eto_refetlib_asce"), (Standard::AsceTall, "etr_refetlib_asce")]
    {
        let mut largest = 0.0_f64;
        for row in &rows {
            let mut hour = hour_of(row);
            // The library takes a clear sky whenever the sun stands under 0.3 rad at the start of the hour.
            let start = place.sun(hour.day_of_year).unwrap().height(&clock, Hours(hour.middle.0 - 0.5));
            hour.sky = (start.0.to_radians() < 0.3).then_some(Share(1.0));
            let ours = hourly(standard, &place, &hour).unwrap().depth.0;
            let gap = (ours - number(row, column)).abs();
            assert!(gap <= 0.002, "{column} {row:?}: ours {ours}");
            largest = largest.max(gap);
        }
        println!("{column}: largest gap {largest:.1e} mm");
        counted(&format!("water/et0_hourly_fallon2015.csv, {column}: hours"), rows.len(), 48);
    }
}

/// The days of which the file has every hour.
fn whole_days(rows: &[Row]) -> impl Iterator<Item = &[Row]> {
    rows.chunk_by(|a, b| a["local"][..10] == b["local"][..10]).filter(|day| day.len() == 24)
}

/// Each day of the hourly file, as our hours with the sky carried through the night.
fn days_by_the_hour() -> Vec<(Vec<f64>, [Millimetre; 24])> {
    let (place, rows) = (station("fallon"), table("water/et0_hourly_fallon2015.csv").unwrap_or_default());
    whole_days(&rows)
        .map(|day| {
            let hours: Vec<HourWeather> = day.iter().map(hour_of).collect();
            let ours = hourly_series(Standard::AsceShort, &place, &hours).unwrap();
            assert!(ours.iter().any(|hour| hour.caveats.has(Caveat::SkyCarried)));
            let program = day.iter().map(|row| number(row, "eto_refet_program")).collect();
            let ours: Vec<Millimetre> = ours.iter().map(|hour| hour.depth).collect();
            (program, ours.try_into().expect("a day has 24 hours"))
        })
        .collect()
}

#[test]
fn day_sums_of_the_hours_beside_the_program() {
    let days = days_by_the_hour();
    if !days.is_empty() {
        counted("water/et0_hourly_fallon2015.csv: day sums", days.len(), 2);
    }
    for (program, ours) in days {
        let (theirs, ours): (f64, f64) = (program.iter().sum(), ours.iter().map(|hour| hour.0).sum());
        let gap = (ours / theirs - 1.0).abs();
        println!("day sum ours {ours:.3}, program {theirs:.3}, gap {:.1} %", gap * 100.0);
        assert!(gap <= 0.04);
    }
}

/// The reference set read 75 to 78 % between 10 and 18 h and 2 to 8 % before six off the library's column.
#[test]
fn shares_of_the_day() {
    let (place, Some(rows)) = (station("fallon"), table("water/et0_hourly_fallon2015.csv")) else { return };
    let mut days = 0;
    for rows in whole_days(&rows) {
        days += 1;
        let library = |hour: usize| Millimetre(number(&rows[hour], "eto_refetlib_asce"));
        let shares = HourShares::of_demand(&std::array::from_fn(library));
        let by_sun = HourShares::of_sun(&place, number(&rows[0], "doy") as u16).unwrap();
        let midday = |shares: &HourShares| shares.between(Hours(10.0), Hours(18.0)).0;
        let early = shares.between(Hours(0.0), Hours(6.0)).0;
        println!("10 to 18 h {:.3}, by the sun {:.3}; 0 to 6 h {early:.3}", midday(&shares), midday(&by_sun));
        assert!((0.745..0.785).contains(&midday(&shares)) && (0.015..0.085).contains(&early));
        assert!((by_sun.0.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        assert!((midday(&by_sun) - midday(&shares)).abs() < 0.12);
    }
    counted("water/et0_hourly_fallon2015.csv: days shared out", days, 2);
}
