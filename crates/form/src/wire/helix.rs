//! A wire coiled round a branch: turns, length and weight.

use std::f64::consts::PI;

use measure::{
    quantity::{Degrees, Gram, Millimetre, Share},
    range::{OutOfRange, within},
};

use super::metal::Metal;

/// A wire on a branch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Helix {
    /// Thickness of the branch.
    pub branch: Millimetre,
    /// Thickness of the wire.
    pub wire: Millimetre,
    /// Length of branch that is wired.
    pub along: Millimetre,
    /// Angle between wire and branch.
    pub angle: Degrees,
}

/// What a coil takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coil {
    /// Turns round the branch.
    pub turns: f64,
    /// From one turn to the next.
    pub pitch: Millimetre,
    /// Length of wire, without anchors.
    pub length: Millimetre,
    /// Length of wire over length of branch.
    pub factor: f64,
}

impl Helix {
    /// What the coil takes.
    ///
    /// ```text
    /// N = H·tan β/(π·(D + d)),   p = H/N,   L = H/cos β
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | D, d | `branch`, `wire` | thickness of branch and wire | mm |
    /// | H | `along` | length of branch wired | mm |
    /// | β | `angle` | angle between wire and branch | ° |
    /// | N, p, L | `turns`, `pitch`, `length` | turns, pitch, wire | 1, mm, mm |
    ///
    /// **Holds** for a straight branch of even thickness; with one angle kept, also for a tapering one (L and its factor).
    /// **Error** none of its own. **Source** geometry of the helix. **Checked** `tests/wire.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a length is not above 0 or the angle is not from 5 to 85.
    pub fn coil(&self) -> Result<Coil, OutOfRange> {
        let beta = within("angle between wire and branch, °", self.angle.0, 5.0, 85.0)?.to_radians();
        let around = PI * (thick("branch, mm", self.branch)? + thick("wire, mm", self.wire)?);
        let along = within("length wired, mm", self.along.0, 0.0, 1e5)?;
        let pitch = around / beta.tan();
        Ok(Coil {
            turns: along / pitch,
            pitch: Millimetre(pitch),
            length: Millimetre(along / beta.cos()),
            factor: 1.0 / beta.cos(),
        })
    }

    /// How far the coiling strains the outside of the wire.
    ///
    /// ```text
    /// ε = sin²β·d/(D + d)
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | β, D, d | as [`Helix::coil`] | angle, branch, wire | °, mm, mm |
    /// | ε | returned | strain of the outer fibre | 1 |
    ///
    /// **Holds** for a wire that lies close. **Error** none of its own. **Source** curvature of the helix. **Checked** `tests/wire.rs`.
    pub fn strain(&self) -> Share {
        let sine = self.angle.0.to_radians().sin();
        Share(sine * sine * self.wire.0 / (self.branch.0 + self.wire.0))
    }
}

/// A coil of even pitch on a branch that tapers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tapering {
    /// Thickness of the branch at its base.
    pub base: Millimetre,
    /// Thickness at its tip.
    pub tip: Millimetre,
    /// Thickness of the wire.
    pub wire: Millimetre,
    /// Length of branch that is wired.
    pub along: Millimetre,
    /// From one turn to the next.
    pub pitch: Millimetre,
}

impl Tapering {
    /// Length of the wire, without anchors.
    ///
    /// ```text
    /// L = ∫ √(1 + u²) dz,   u = π·(D(z) + d)/p
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | D, d, p | `base` to `tip`, `wire`, `pitch` | thicknesses, pitch | mm |
    /// | L | returned | length of wire | mm |
    ///
    /// **Holds** for even taper; solved in closed form. **Error** none of its own. **Source** arc length. **Checked** `tests/wire.rs`.
    pub fn length(&self) -> Millimetre {
        let u = |thickness: Millimetre| PI * (thickness.0 + self.wire.0) / self.pitch.0;
        let (from, to) = (u(self.base), u(self.tip));
        let whole = |u: f64| 0.5 * (u * u.hypot(1.0) + u.asinh());
        if (from - to).abs() < 1e-9 * from {
            return Millimetre(self.along.0 * from.hypot(1.0));
        }
        Millimetre(self.along.0 * (whole(from) - whole(to)) / (from - to))
    }
}

/// Weight of a length of wire.
///
/// ```
/// use form::wire::{helix::weight, metal::Metal};
/// use measure::quantity::Millimetre;
///
/// let grams = weight(Millimetre(2.5), Millimetre(100_000.0), Metal::Aluminium);
/// assert_eq!(format!("{:.3}", grams.0 / 1000.0), "1.328");
/// ```
pub fn weight(wire: Millimetre, length: Millimetre, metal: Metal) -> Gram {
    Gram(metal.density().value.0 * length.0 * PI * wire.0 * wire.0 / 4.0 / 1000.0)
}

fn thick(quantity: &'static str, thickness: Millimetre) -> Result<f64, OutOfRange> {
    within(quantity, thickness.0, 0.05, 1000.0)
}
