//! Wire and branch as beams: what each bears, what springs back, and how thick the wire must be.

use std::f64::consts::PI;

use measure::quantity::{Degrees, Megapascal, Millimetre, NewtonMillimetre, PerMillimetre, Share};

use crate::wood::Wood;

/// Poisson's ratio of the metals.
const NU: f64 = 0.33;

/// The cross-section of a round wire.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Its thickness.
    pub wire: Millimetre,
    /// The stress at which it gives way.
    pub flow: Megapascal,
    /// Its stiffness.
    pub modulus: Megapascal,
}

impl Section {
    /// The moment at which its outside gives way: σ·π·d³/32.
    pub fn first_yield(&self) -> NewtonMillimetre {
        NewtonMillimetre(self.flow.0 * PI * self.wire.0.powi(3) / 32.0)
    }

    /// The moment at which all of it gives way: σ·d³/6.
    pub fn plastic(&self) -> NewtonMillimetre {
        NewtonMillimetre(self.flow.0 * self.wire.0.powi(3) / 6.0)
    }

    /// The twisting moment at which all of it gives way: (σ/√3)·π·d³/12.
    pub fn twist(&self) -> NewtonMillimetre {
        NewtonMillimetre(self.flow.0 / 3_f64.sqrt() * PI * self.wire.0.powi(3) / 12.0)
    }

    /// Bending stiffness E·π·d⁴/64, N mm².
    pub fn stiffness(&self) -> f64 {
        rod(self.modulus, self.wire)
    }
}

fn rod(modulus: Megapascal, thickness: Millimetre) -> f64 {
    modulus.0 * PI * thickness.0.powi(4) / 64.0
}

/// What coiling leaves of a straight wire's stiffness and of its holding moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coiled {
    /// Of its stiffness.
    pub stiffness: f64,
    /// Of the moment at which it gives way.
    pub plastic: f64,
}

/// What a wire keeps once it is coiled.
///
/// ```text
/// stiffness = sin α/(1 + (ν/2)·cos²α),   plastic = 1/√(sin²α + cos²α/(π/(2√3))²),   α = 90° − β
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | β | `angle` | angle between wire and branch | ° |
/// | ν | 0.33 | Poisson's ratio | 1 |
///
/// **Holds** for several turns, bending averaged over one. **Error** not known for a wire that presses on bark. **Source** derived
/// in the reference set from bending and twisting of a helix. **Checked** `tests/wire.rs`.
pub fn coiled(angle: Degrees) -> Coiled {
    let alpha = (90.0 - angle.0).to_radians();
    let (sine, cosine) = (alpha.sin(), alpha.cos());
    let shear = PI / (2.0 * 3_f64.sqrt());
    Coiled {
        stiffness: sine / (1.0 + NU / 2.0 * cosine * cosine),
        plastic: 1.0 / (sine * sine + cosine * cosine / (shear * shear)).sqrt(),
    }
}

/// A branch as a beam that gives way evenly once its strength is reached.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beam {
    /// Its thickness.
    pub branch: Millimetre,
    /// Its stiffness.
    pub modulus: Megapascal,
    /// Its strength in bending (modulus of rupture).
    pub strength: Megapascal,
}

impl Beam {
    /// The beam of a branch of this wood; `softer` below 1 for a young living branch.
    pub fn of(branch: Millimetre, wood: &Wood, softer: f64) -> Beam {
        Beam { branch, modulus: Megapascal(wood.modulus.0 * softer), strength: wood.strength }
    }

    /// Bending stiffness, N mm².
    pub fn stiffness(&self) -> f64 {
        rod(self.modulus, self.branch)
    }

    /// How far bending to a radius strains the outside: D/(2R).
    pub fn strain(&self, radius: Millimetre) -> Share {
        Share(self.branch.0 / (2.0 * radius.0))
    }

    /// The strain up to which it springs back whole, in this reckoning.
    pub fn springs_back_below(&self) -> Share {
        Share(self.even_stress() / self.modulus.0)
    }

    fn even_stress(&self) -> f64 {
        self.strength.0 * 6.0 * PI / 32.0
    }

    /// The moment that bends it so far.
    ///
    /// ```text
    /// k ≤ k_y: M = EI·k;   else M = σ_y·r³·[(4/3)(1 − s²)^1.5 + (asin s − s(1 − 2s²)√(1 − s²))/(2s)],   s = k_y/k
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | k | `curvature` | one over the radius | 1/mm |
    /// | σ_y | 6π/32 of `strength` | stress at which it gives way, so that all of it bears the tabled moment | MPa |
    /// | r | half of `branch` | radius of the branch | mm |
    /// | M | returned | moment | N mm |
    ///
    /// **Holds** for a round rod that gives way evenly. **Error** green branches creep and crush instead: use it to compare wires
    /// only. **Source** derived in the reference set, met by quadrature within 1e-7. **Checked** `tests/wire.rs`.
    pub fn moment(&self, curvature: PerMillimetre) -> NewtonMillimetre {
        let (k, r) = (curvature.0, self.branch.0 / 2.0);
        let stress = self.even_stress();
        let k_yield = stress / (self.modulus.0 * r);
        if k <= k_yield {
            return NewtonMillimetre(self.stiffness() * k);
        }
        let s = k_yield / k;
        let rest = (1.0 - s * s).max(0.0);
        let middle = (s.asin() - s * (1.0 - 2.0 * s * s) * rest.sqrt()) / (2.0 * s);
        NewtonMillimetre(stress * r.powi(3) * (4.0 / 3.0 * rest.powf(1.5) + middle))
    }
}

/// Wires on a branch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wired {
    /// The branch.
    pub beam: Beam,
    /// One wire.
    pub section: Section,
    /// How many lie side by side.
    pub strands: u32,
    /// Angle between wire and branch.
    pub angle: Degrees,
}

/// A branch bent, wired and let go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Release {
    /// What the branch pulls when bent.
    pub branch: NewtonMillimetre,
    /// What the wires can bear.
    pub wires: NewtonMillimetre,
    /// Bending that the wires could hold for ever, over the bending wanted.
    pub hold: f64,
    /// How sharply they could hold it for ever.
    pub holds: PerMillimetre,
    /// How sharply it stays bent.
    pub curvature: PerMillimetre,
    /// The share of the bend that stays.
    pub stays: Share,
    /// Whether the wire is bent back by the branch.
    pub wire_yields: bool,
}

impl Wired {
    /// Stiffness of the wires on the branch, N mm².
    pub fn wire_stiffness(&self) -> f64 {
        f64::from(self.strands) * self.section.stiffness() * coiled(self.angle).stiffness
    }

    /// What the wires can bear.
    pub fn capacity(&self) -> NewtonMillimetre {
        NewtonMillimetre(f64::from(self.strands) * self.section.plastic().0 * coiled(self.angle).plastic)
    }

    /// What stays when the branch is bent to a radius and let go.
    ///
    /// ```text
    /// M_w = min(M_p, EI_w·k),   Δk = (M_b + M_w)/(EI_b + EI_w);   if EI_w·Δk > M_w + M_p: Δk = (M_b − M_p)/EI_b
    /// W = M_p/(EI_b·k)
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | k | one over `radius` | bend wanted | 1/mm |
    /// | M_b, M_p | [`Beam::moment`], [`Wired::capacity`] | pull of the branch, most that the wires bear | N mm |
    /// | EI_b, EI_w | stiffness | of branch and wires | N mm² |
    /// | W | `hold` | hold index | 1 |
    ///
    /// **Holds** as [`Beam::moment`]. **Error** not known: neither wire nor branch was tested in the trade. **Source** derived in the
    /// reference set. **Checked** `tests/wire.rs`.
    pub fn release(&self, radius: Millimetre) -> Release {
        let k = 1.0 / radius.0;
        let (branch, most) = (self.beam.moment(PerMillimetre(k)), self.capacity());
        let (stiff, wire) = (self.beam.stiffness(), self.wire_stiffness());
        let pull = most.0.min(wire * k);
        let mut back = (branch.0 + pull) / (stiff + wire);
        let wire_yields = wire * back > pull + most.0;
        if wire_yields {
            back = (branch.0 - most.0) / stiff;
        }
        let left = if (k - back).abs() < 1e-12 * k { 0.0 } else { (k - back).max(0.0) };
        Release {
            branch,
            wires: most,
            hold: most.0 / (stiff * k),
            holds: PerMillimetre(most.0 / stiff),
            curvature: PerMillimetre(left),
            stays: Share(left / k),
            wire_yields,
        }
    }
}

/// The wire that holds so much springy strain of a branch.
///
/// ```text
/// d/D = (6π·E·ε/(32·n·σ·f))^(1/3)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | E | `wired.beam.modulus` | stiffness of the branch | MPa |
/// | ε | `strain` | springy strain that is held | 1 |
/// | n, σ, f | `strands`, `flow`, plastic of [`coiled`] | wires, stress, what coiling leaves | 1, MPa, 1 |
/// | d, D | returned, `branch` | wire and branch | mm |
///
/// **Holds** for small strain; independent of size. **Error** ε is not known for a living branch; 0.1 % gives the trade's third.
/// **Source** derived in the reference set. **Checked** `tests/wire.rs`.
pub fn wire_needed(wired: &Wired, strain: Share) -> Millimetre {
    let Wired { beam, section, strands, angle } = wired;
    let load = 6.0 * PI * beam.modulus.0 * strain.0;
    let held = 32.0 * f64::from(*strands) * section.flow.0 * coiled(*angle).plastic;
    Millimetre(beam.branch.0 * (load / held).cbrt())
}
