//! Warmth counted in degree-days and degree-hours; the forms are not interchangeable.

use measure::quantity::Celsius;

/// Growing degree-hours earned in one hour at `air`, asymmetric curve.
///
/// ```text
/// Tb ≤ T ≤ Tu:  (Tu − Tb)/2 · (1 + cos( π + π (T − Tb)/(Tu − Tb) ))
/// Tu < T ≤ Tc:  (Tu − Tb) · (1 + cos( π/2 + π/2 · (T − Tu)/(Tc − Tu) ))
/// otherwise     0
/// ```
///
/// | symbol     | here      | meaning                      | unit        |
/// |------------|-----------|------------------------------|-------------|
/// | T          | `air`     | temperature of the hour      | °C          |
/// | Tb, Tu, Tc | 4, 25, 36 | base, best, too hot          | °C          |
/// | —          | returned  | warmth earned (no stress)    | degree-hour |
///
/// **Holds** at every temperature; outside 4 to 36 °C, or not a number, it is 0.
/// **Error** not stated by the source.
/// **Source** Anderson, Richardson & Kesner 1986 (ASYMCUR), stress factor 1.
/// **Checked** `tests/chillr.rs`, 52 temperatures and two series.
///
/// # Example
///
/// ```
/// use dormancy::forcing::degree_hour_anderson;
/// use measure::quantity::Celsius;
///
/// assert_eq!(format!("{:.4}", degree_hour_anderson(Celsius(10.0))), "3.9534");
/// ```
pub fn degree_hour_anderson(air: Celsius) -> f64 {
    use std::f64::consts::{FRAC_PI_2, PI};
    const TB: f64 = 4.0;
    const TU: f64 = 25.0;
    const TC: f64 = 36.0;

    let Celsius(t) = air;
    if (TB..=TU).contains(&t) {
        (TU - TB) / 2.0 * (1.0 + (PI + PI * (t - TB) / (TU - TB)).cos())
    } else if t > TU && t <= TC {
        (TU - TB) * (1.0 + (FRAC_PI_2 + FRAC_PI_2 * (t - TU) / (TC - TU)).cos())
    } else {
        0.0
    }
}

/// Degree-days of one day from its mean.
///
/// ```text
/// GDD = max(T − Tb, 0)
/// ```
///
/// | symbol | here     | meaning          | unit       |
/// |--------|----------|------------------|------------|
/// | T      | `mean`   | daily mean       | °C         |
/// | Tb     | `base`   | base temperature | °C         |
/// | GDD    | returned | warmth of a day  | degree-day |
///
/// **Holds** at every temperature; not a number gives 0.
/// **Error** none within the rule.
/// **Source** the usual definition; no single publication.
/// **Checked** through the day models in `tests/phenology.rs`.
///
/// # Example
///
/// ```
/// use dormancy::forcing::degree_day_mean;
/// use measure::quantity::Celsius;
///
/// assert_eq!(degree_day_mean(Celsius(12.0), Celsius(5.0)), 7.0);
/// ```
pub fn degree_day_mean(mean: Celsius, base: Celsius) -> f64 {
    (mean.0 - base.0).max(0.0)
}

/// Degree-days of one day from its lowest and highest temperature.
///
/// ```text
/// GDD = max( (Tn + Tx)/2 − Tb, 0 )
/// ```
///
/// | symbol | here     | meaning           | unit       |
/// |--------|----------|-------------------|------------|
/// | Tn, Tx | `low`, `high` | daily extremes | °C      |
/// | Tb     | `base`   | base temperature  | °C         |
/// | GDD    | returned | warmth of a day   | degree-day |
///
/// **Holds** at every temperature; not a number gives 0.
/// **Error** none within the rule; differs from the mean form when the day is lopsided.
/// **Source** the usual definition; no single publication.
/// **Checked** nothing yet.
///
/// # Example
///
/// ```
/// use dormancy::forcing::degree_day_extremes;
/// use measure::quantity::Celsius;
///
/// assert_eq!(degree_day_extremes(Celsius(2.0), Celsius(14.0), Celsius(5.0)), 3.0);
/// ```
pub fn degree_day_extremes(low: Celsius, high: Celsius, base: Celsius) -> f64 {
    degree_day_mean(Celsius((low.0 + high.0) / 2.0), base)
}

/// Degree-days of one hour.
///
/// ```text
/// GDD = max(T − Tb, 0) / 24
/// ```
///
/// | symbol | here     | meaning                 | unit       |
/// |--------|----------|-------------------------|------------|
/// | T      | `air`    | temperature of the hour | °C         |
/// | Tb     | `base`   | base temperature        | °C         |
/// | GDD    | returned | warmth of an hour       | degree-day |
///
/// **Holds** at every temperature; not a number gives 0.
/// **Error** none within the rule; never less than the daily form over the same day.
/// **Source** the usual definition; no single publication.
/// **Checked** `tests/chillr.rs`, bases 0 and 5 °C.
///
/// # Example
///
/// ```
/// use dormancy::forcing::degree_day_hour;
/// use measure::quantity::Celsius;
///
/// assert_eq!(degree_day_hour(Celsius(17.0), Celsius(5.0)), 0.5);
/// ```
pub fn degree_day_hour(air: Celsius, base: Celsius) -> f64 {
    degree_day_mean(air, base) / 24.0
}
