//! Pulling a branch with a guy wire: force, tension, strain at its base, and pressure on its bark.

use std::f64::consts::PI;

use measure::{
    quantity::{Degrees, Megapascal, Millimetre, Newton, Share},
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};

/// Above this pressure the strap is to be wider.
pub const BARK_BEARS: Sourced<Megapascal> = Sourced {
    value: Megapascal(0.5),
    standing: Standing::Estimate("no measured limit for bark is known to us"),
};

/// A branch pulled by a guy.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guy {
    /// Thickness of the branch.
    pub branch: Millimetre,
    /// Its stiffness.
    pub modulus: Megapascal,
    /// From its base to where it is pulled.
    pub arm: Millimetre,
    /// How far it shall come there.
    pub moved: Millimetre,
    /// Angle between guy and branch.
    pub angle: Degrees,
    /// Width of the strap on the bark.
    pub strap: Millimetre,
}

/// What the pull does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// Square to the branch.
    pub force: Newton,
    /// In the guy.
    pub tension: Newton,
    /// Strain at the base of the branch.
    pub strain: Share,
    /// Pressure on the bark.
    pub pressure: Megapascal,
}

impl Guy {
    /// What it takes, as a springy cantilever.
    ///
    /// ```text
    /// F = 3·E·I·δ/a³,   T = F/sin θ,   ε = 3·δ·D/(2·a²),   p = F/(w·D)
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | D, E | `branch`, `modulus` | branch, its stiffness | mm, MPa |
    /// | a, δ | `arm`, `moved` | arm, way | mm |
    /// | θ, w | `angle`, `strap` | angle of the guy, width of the strap | °, mm |
    /// | F, T, ε, p | returned | force, tension, strain at the base, pressure | N, N, 1, MPa |
    ///
    /// **Holds** for a way small against the arm. **Error** branches creep: the force falls. **Source** beam theory.
    /// **Checked** `tests/wire.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a length is not above 0 or the angle is not from 5 to 90.
    pub fn pull(&self) -> Result<Pull, OutOfRange> {
        let above = |quantity, of: Millimetre| within(quantity, of.0, 0.05, 1e5);
        let (d, a) = (above("branch, mm", self.branch)?, above("arm, mm", self.arm)?);
        let (w, delta) = (above("strap, mm", self.strap)?, within("way, mm", self.moved.0, 0.0, 1e5)?);
        let theta = within("angle between guy and branch, °", self.angle.0, 5.0, 90.0)?.to_radians();
        let force = 3.0 * self.modulus.0 * PI * d.powi(4) / 64.0 * delta / a.powi(3);
        Ok(Pull {
            force: Newton(force),
            tension: Newton(force / theta.sin()),
            strain: Share(3.0 * delta * d / (2.0 * a * a)),
            pressure: Megapascal(force / (w * d)),
        })
    }
}
