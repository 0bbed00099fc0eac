//! The one question at the bench: this branch, this bend: which wire, how much of it, and does the branch stand it?

use std::f64::consts::PI;

use measure::{
    quantity::{Degrees, Gram, Megapascal, Millimetre, Share},
    range::{OutOfRange, within},
    sourced::Sourced,
};

use super::{
    bend::{Beam, Section, Wired, wire_needed},
    gauge::{self, Row},
    guy::{Guy, Pull},
    helix::{Coil, Helix, weight},
    metal::Metal,
};
use crate::{
    thickness::Likely,
    wood::{Wood, YOUNG},
};

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ask {
    /// Thickness of the branch.
    pub branch: Millimetre,
    /// Length to be wired.
    pub along: Millimetre,
    /// The radius it shall be bent to.
    pub radius: Millimetre,
    /// Its wood.
    pub wood: Wood,
    /// Whether it is young and living, so less stiff than timber.
    pub young: bool,
    /// The wire's metal.
    pub metal: Metal,
    /// Wires side by side.
    pub strands: u32,
    /// Angle between wire and branch; 45 to 55 is usual.
    pub angle: Degrees,
    /// Thickness of what the wire is anchored on, one and a half turns round it.
    pub anchor: Option<Millimetre>,
}

/// How dangerous the bend is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Danger {
    /// Below 1 % strain: fine on wood that is not of this year.
    Fine,
    /// 1 to 2 %: bend in steps over days, support the outside.
    InSteps,
    /// 2 to 3 %: raffia or tape, two wires or a guy; notch only with experience.
    Wrapped,
    /// Above 3 %: expect cracks unless the shoot is of this year.
    Cracks,
}

/// The answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Answer {
    /// The trade's row for this branch.
    pub by_table: Sourced<Row>,
    /// The wire by mechanics, for 0.1 % springy strain held (low, middle) and 0.3 % (high), across the stiffness of the wood.
    pub by_mechanics: Likely<Millimetre>,
    /// The wire to take of those sold; none where no single wire is thick enough: take two or a guy.
    pub take: Option<Millimetre>,
    /// Strain of the outside at that radius.
    pub strain: Share,
    /// How dangerous that is; our estimate.
    pub danger: Danger,
    /// The coil with the wire taken, or with the trade's.
    pub coil: Coil,
    /// Wire to cut for all strands, anchor included.
    pub length: Millimetre,
    /// Its weight.
    pub weight: Gram,
    /// Hold index: for comparing wires only.
    pub hold: f64,
    /// A guy at the end of the wired length instead, with a strap as wide as the branch is thick.
    pub guy: Pull,
}

/// Turns round the anchor.
const ANCHOR: f64 = 1.5;

/// Answers what is asked. Start from the trade's row; mechanics is there to compare.
///
/// # Errors
///
/// [`OutOfRange`] when a figure is none: branch 0.5 to 200 mm, radius above half the branch, one to four strands.
pub fn answer(ask: &Ask) -> Result<Answer, OutOfRange> {
    within("branch, mm", ask.branch.0, 0.5, 200.0)?;
    within("radius of the bend, mm", ask.radius.0, ask.branch.0 / 2.0, 1e5)?;
    within("wires side by side", f64::from(ask.strands), 1.0, 4.0)?;
    let by_table = gauge::by_table(ask.branch);
    let [soft, stiff] = if ask.young { YOUNG.value } else { [1.0, 1.0] };
    let flow = ask.metal.flow().value;
    let middle = Megapascal(0.5 * (flow.low.0 + flow.high.0));
    let wired = |softer: f64, flow: Megapascal, wire: Millimetre| Wired {
        beam: Beam::of(ask.branch, &ask.wood, softer),
        section: Section { wire, flow, modulus: ask.metal.modulus().value },
        strands: ask.strands,
        angle: ask.angle,
    };
    let needed = |softer, flow, strain| wire_needed(&wired(softer, flow, Millimetre(1.0)), Share(strain));
    let by_mechanics = Likely {
        low: needed(soft, flow.high, 0.001),
        middle: needed(0.5 * (soft + stiff), middle, 0.001),
        high: needed(stiff, flow.low, 0.003),
    };
    let trade = match ask.metal {
        Metal::Aluminium => by_table.value.aluminium,
        Metal::Copper => by_table.value.copper,
    };
    // Two strands share the load of one, so each may be thinner by the cube root.
    let one = Millimetre(trade.0 / f64::from(ask.strands).cbrt());
    let beyond = ask.branch.0 > gauge::TABLE[gauge::TABLE.len() - 1].branch.0;
    let take = gauge::sold(one, ask.metal).filter(|_| !beyond);
    let wire = take.unwrap_or(one);
    let coil = Helix { branch: ask.branch, wire, along: ask.along, angle: ask.angle }.coil()?;
    let around = |trunk: Millimetre| ANCHOR * PI * (trunk.0 + wire.0) / ask.angle.0.to_radians().sin();
    let each = coil.length.0 + ask.anchor.map_or(0.0, around);
    let length = Millimetre(f64::from(ask.strands) * each);
    let middle = wired(0.5 * (soft + stiff), middle, wire);
    let strain = middle.beam.strain(ask.radius);
    Ok(Answer {
        by_table,
        by_mechanics,
        take,
        strain,
        danger: danger(strain),
        coil,
        length,
        weight: weight(wire, length, ask.metal),
        hold: middle.release(ask.radius).hold,
        guy: guy(ask, middle.beam.modulus)?,
    })
}

/// How dangerous a strain is.
fn danger(strain: Share) -> Danger {
    match strain.0 {
        strain if strain < 0.01 => Danger::Fine,
        strain if strain < 0.02 => Danger::InSteps,
        strain if strain <= 0.03 => Danger::Wrapped,
        _ => Danger::Cracks,
    }
}

/// A guy at the end of the wired length that brings it where the bend would.
fn guy(ask: &Ask, modulus: Megapascal) -> Result<Pull, OutOfRange> {
    let turn = ask.along.0 / ask.radius.0;
    let moved = if turn < PI { ask.radius.0 * (1.0 - turn.cos()) } else { 2.0 * ask.radius.0 };
    let (branch, arm, strap) = (ask.branch, ask.along, ask.branch);
    Guy { branch, modulus, arm, moved: Millimetre(moved), angle: Degrees(60.0), strap }.pull()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ask() -> Ask {
        Ask {
            branch: Millimetre(6.0),
            along: Millimetre(180.0),
            radius: Millimetre(200.0),
            wood: crate::wood::for_name("Ulmus minor").wood,
            young: true,
            metal: Metal::Aluminium,
            strands: 1,
            angle: Degrees(45.0),
            anchor: None,
        }
    }

    #[test]
    fn the_trades_third_lies_within_what_mechanics_gives() {
        let told = answer(&ask()).unwrap();
        assert_eq!(told.take, Some(Millimetre(2.0)));
        assert!(told.by_mechanics.low.0 < 2.0 && told.by_mechanics.high.0 > 2.0, "{:?}", told.by_mechanics);
        assert_eq!(told.danger, Danger::InSteps);
        assert!((told.length.0 - 254.558_441_2).abs() < 1e-6);
    }

    #[test]
    fn two_strands_may_be_thinner_and_an_anchor_takes_wire() {
        let two = answer(&Ask { strands: 2, anchor: Some(Millimetre(30.0)), ..ask() }).unwrap();
        assert_eq!(two.take, Some(Millimetre(2.0)));
        let thick = Ask { branch: Millimetre(12.0), ..ask() };
        assert!(answer(&Ask { strands: 2, ..thick }).unwrap().take < answer(&thick).unwrap().take);
        assert!(two.length.0 > 2.0 * 254.0 + 2.0 * 200.0);
    }

    #[test]
    fn a_sharper_bend_is_more_dangerous_and_an_impossible_one_refused() {
        let danger = |radius| answer(&Ask { radius: Millimetre(radius), ..ask() }).unwrap().danger;
        assert_eq!(
            [400.0, 200.0, 120.0, 60.0].map(danger),
            [Danger::Fine, Danger::InSteps, Danger::Wrapped, Danger::Cracks]
        );
        assert!(answer(&Ask { radius: Millimetre(2.0), ..ask() }).is_err());
        assert_eq!(answer(&Ask { branch: Millimetre(40.0), ..ask() }).unwrap().take, None);
    }
}
