//! How different two colours look.

use super::space::Lab;

/// The steps of [`between`], for those who want to check them.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(missing_docs)]
pub struct Steps {
    pub g: f64,
    pub hue_1: f64,
    pub hue_2: f64,
    pub hue_mean: f64,
    pub t: f64,
    pub s_l: f64,
    pub s_c: f64,
    pub s_h: f64,
    pub r_t: f64,
    pub difference: f64,
}

/// How different two colours look: under 1 hardly, over 10 at a glance (CIEDE2000).
///
/// ```text
/// ΔE = √( (ΔL′/S_L)² + (ΔC′/S_C)² + (ΔH′/S_H)² + R_T (ΔC′/S_C)(ΔH′/S_H) )
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | ΔL′, ΔC′, ΔH′ | of `a` and `b` | differences of lightness, strength and hue | 1 |
/// | S, R_T | [`Steps`] | how the eye weighs them there | 1 |
/// | ΔE | returned | difference | 1 |
///
/// **Holds** best for small differences, which it was fitted to; large ones keep their order roughly. **Error** 5·10⁻⁵ against
/// the printed pairs. A difference of hues within 10⁻⁹ of 180° counts as 180°, else the last bit of an angle decides.
/// **Source** Sharma, Wu and Dalal 2005, Color Res. Appl. 30:21–30, by the reference set. **Checked** `tests/colour.rs`.
///
/// # Example
///
/// ```
/// use pot::colour::{difference::between, space::Lab};
///
/// let a = Lab { l: 50.0, a: 2.6772, b: -79.7751 };
/// let b = Lab { l: 50.0, a: 0.0, b: -82.7485 };
/// assert_eq!(format!("{:.4}", between(a, b)), "2.0425");
/// ```
pub fn between(a: Lab, b: Lab) -> f64 {
    steps(a, b, 1.0).difference
}

/// The same with its steps, the lightness weighed by 1/`lightness` (1 by the standard).
pub fn steps(one: Lab, two: Lab, lightness: f64) -> Steps {
    let mean_chroma = f64::midpoint(one.chroma(), two.chroma()).powi(7);
    let g = 0.5 * (1.0 - (mean_chroma / (mean_chroma + 25_f64.powi(7))).sqrt());
    let primed = |lab: Lab| Lab { a: (1.0 + g) * lab.a, ..lab };
    let (p, q) = (primed(one), primed(two));
    let (c1, c2) = (p.chroma(), q.chroma());
    let (h1, h2) = (p.angle(), q.angle());
    let (turn, hue_mean) = if c1 * c2 == 0.0 { (0.0, h1 + h2) } else { turned(h1, h2) };

    let (dl, dc) = (two.l - one.l, c2 - c1);
    let dh = 2.0 * (c1 * c2).sqrt() * (turn / 2.0).to_radians().sin();
    let l50 = (f64::midpoint(one.l, two.l) - 50.0).powi(2);
    let chroma = f64::midpoint(c1, c2);
    let cos = |degrees: f64| degrees.to_radians().cos();
    let t = 1.0 - 0.17 * cos(hue_mean - 30.0) + 0.24 * cos(2.0 * hue_mean) + 0.32 * cos(3.0 * hue_mean + 6.0)
        - 0.20 * cos(4.0 * hue_mean - 63.0);
    let s_l = 1.0 + 0.015 * l50 / (20.0 + l50).sqrt();
    let s_c = 1.0 + 0.045 * chroma;
    let s_h = 1.0 + 0.015 * chroma * t;
    let theta = 30.0 * (-((hue_mean - 275.0) / 25.0).powi(2)).exp();
    let r_c = 2.0 * (chroma.powi(7) / (chroma.powi(7) + 25_f64.powi(7))).sqrt();
    let r_t = -(2.0 * theta).to_radians().sin() * r_c;
    let [dl, dc, dh] = [dl / (lightness * s_l), dc / s_c, dh / s_h];
    let difference = (dl * dl + dc * dc + dh * dh + r_t * dc * dh).max(0.0).sqrt();
    Steps { g, hue_1: h1, hue_2: h2, hue_mean, t, s_l, s_c, s_h, r_t, difference }
}

/// The turn from one hue to the other, and the hue between them, degrees.
fn turned(h1: f64, h2: f64) -> (f64, f64) {
    const TIE: f64 = 1e-9;
    let (gap, sum) = (h2 - h1, h1 + h2);
    if gap.abs() <= 180.0 + TIE {
        (gap, sum / 2.0)
    } else {
        let turn = if gap > 0.0 { gap - 360.0 } else { gap + 360.0 };
        (turn, if sum < 360.0 { (sum + 360.0) / 2.0 } else { (sum - 360.0) / 2.0 })
    }
}

/// The shorter way from one hue to another, 0 to 180 degrees.
pub(crate) fn hue_gap(a: Lab, b: Lab) -> f64 {
    let gap = (a.angle() - b.angle()).abs();
    gap.min(360.0 - gap)
}
