//! How well two patches of colour go together, by a published model of two colours.

use super::space::Lab;

/// The terms of [`ou_luo`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Harmony {
    /// From the difference of strength and hue.
    pub chroma: f64,
    /// From the sum of the lightnesses; it rewards any light pair, so [`Harmony::kept`] leaves it out.
    pub light_sum: f64,
    /// From the difference of the lightnesses.
    pub light_gap: f64,
    /// From each colour's own hue.
    pub hue: [f64; 2],
}

impl Harmony {
    /// The model's own sum.
    pub fn whole(&self) -> f64 {
        self.kept() + self.light_sum
    }

    /// The sum without the term that lets a cream pot win beside nearly anything.
    pub fn kept(&self) -> f64 {
        self.chroma + self.light_gap + self.hue[0] + self.hue[1]
    }
}

/// How well two colours go together.
///
/// ```text
/// H_C = 0.04 + 0.53 tanh(0.8 − 0.045 D),   D = √(ΔH² + (ΔC/1.46)²),   ΔH² = Δa² + Δb² − ΔC²
/// H_L = 0.28 + 0.54 tanh(−3.88 + 0.029 (L₁ + L₂))  +  0.14 + 0.15 tanh(−2 + 0.2 |L₁ − L₂|)
/// H_H = Σ E_C (H_S + E_Y),   E_C = 0.5 + 0.5 tanh(−2 + 0.5 C)
/// H_S = −0.08 − 0.14 sin(h + 50°) − 0.07 sin(2h + 90°)
/// E_Y = (0.22 L − 12.8)/10 · exp(u − eᵘ),   u = (90° − h)/10
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | L, C, h | of `a` and `b` | lightness, strength, hue | 1, 1, ° |
/// | H | returned | harmony, about −1.24 to 1.39 in all | 1 |
///
/// **Holds** for two flat patches on grey, mostly light colours. Gloss, crackle, patina and the share of the area are outside
/// it, and it was never tried on pots and trees. **Error** not stated by the source. **Source** Ou and Luo 2006, Color Res.
/// Appl. 31:191–204; coefficients as the reference set found them in seven programs, the paper itself not seen.
/// **Checked** `tests/colour.rs`.
///
/// # Example
///
/// ```
/// use pot::colour::{harmony::ou_luo, space::Lab};
///
/// let grey = Lab { l: 50.0, a: 0.0, b: 0.0 };
/// assert_eq!(format!("{:.4}", ou_luo(grey, grey).whole()), "0.2514");
/// ```
pub fn ou_luo(a: Lab, b: Lab) -> Harmony {
    let dc = a.chroma() - b.chroma();
    let dh2 = ((a.a - b.a).powi(2) + (a.b - b.b).powi(2) - dc * dc).max(0.0);
    let d = (dh2 + (dc / 1.46).powi(2)).sqrt();
    Harmony {
        chroma: 0.04 + 0.53 * (0.8 - 0.045 * d).tanh(),
        light_sum: 0.28 + 0.54 * (-3.88 + 0.029 * (a.l + b.l)).tanh(),
        light_gap: 0.14 + 0.15 * (-2.0 + 0.2 * (a.l - b.l).abs()).tanh(),
        hue: [own_hue(a), own_hue(b)],
    }
}

fn own_hue(colour: Lab) -> f64 {
    let h = colour.angle();
    let sin = |degrees: f64| degrees.to_radians().sin();
    let strength = 0.5 + 0.5 * (-2.0 + 0.5 * colour.chroma()).tanh();
    let hue = -0.08 - 0.14 * sin(h + 50.0) - 0.07 * sin(2.0 * h + 90.0);
    let u = (90.0 - h) / 10.0;
    let yellow = (0.22 * colour.l - 12.8) / 10.0 * (u - u.exp()).exp();
    strength * (hue + yellow)
}
