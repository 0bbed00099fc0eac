//! How many days and hours of demand are reckoned in a second.

use std::hint::black_box;

use climate::demand::{
    DayWeather, DemandPlace, HourWeather, Radiation, Site, Standard, daily, hourly_series, vapour::Humidity,
};
use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use measure::quantity::{Celsius, DayEnergy, Degrees, Hours, Megajoule, Metre, MetresPerSecond, Percent};

fn place() -> DemandPlace {
    DemandPlace::new(Site::inland(Degrees(47.4), Degrees(8.5), Metre(400.0))).expect("a place of our own")
}

/// Ten years of plain weather.
fn days() -> Vec<DayWeather> {
    let day = |at: u16| {
        let warm = 9.0 - 9.0 * (f64::from(at % 365) / 58.1).cos();
        DayWeather {
            humidity: Some(Humidity::Extremes { highest: Percent(90.0), lowest: Percent(55.0) }),
            radiation: Some(Radiation::Measured(DayEnergy(4.0 + warm))),
            wind: Some(MetresPerSecond(2.4)),
            ..DayWeather::of_extremes(at % 365 + 1, Celsius(warm - 5.0), Celsius(warm + 5.0))
        }
    };
    (0..3650).map(day).collect()
}

fn ten_years(c: &mut Criterion) {
    let (place, days) = (place(), days());
    let mut group = c.benchmark_group("climate/demand");
    group.throughput(Throughput::Elements(days.len() as u64));
    group.bench_function("daily/10_years", |b| {
        b.iter(|| {
            let sum: f64 = days
                .iter()
                .map(|day| daily(Standard::Fao56, &place, black_box(day)).expect("plain weather").depth.0)
                .sum();
            assert!((3_000.0..12_000.0).contains(&sum));
            sum
        });
    });
    let hour = |at: u16| HourWeather {
        day_of_year: at / 24 + 1,
        middle: Hours(f64::from(at % 24) + 0.5),
        air: Celsius(12.0 + f64::from(at % 24) / 3.0),
        humidity: Humidity::Mean(Percent(65.0)),
        radiation: Megajoule(if (7..18).contains(&(at % 24)) { 1.2 } else { 0.0 }),
        wind: Some(MetresPerSecond(2.4)),
        sky: None,
    };
    let hours: Vec<HourWeather> = (0..8760).map(hour).collect();
    group.throughput(Throughput::Elements(hours.len() as u64));
    group.bench_function("hourly/1_year", |b| {
        b.iter(|| {
            let sum: f64 = hourly_series(Standard::AsceShort, &place, black_box(&hours))
                .expect("plain weather")
                .iter()
                .map(|hour| hour.depth.0)
                .sum();
            assert!(sum > 500.0);
            sum
        });
    });
    group.finish();
}

criterion_group!(benches, ten_years);
criterion_main!(benches);
