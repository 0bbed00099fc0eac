//! A potted tree as it is carried: its soil and water, its weight, and whether one person should lift it.

use climate::root::Rootball;
use collection::potting::{Crown, Mix, Pot, Wall};
use measure::{
    quantity::{Centimetre, Degrees, Kilogram, KilogramPerLitre, Share},
    range::OutOfRange,
    shelter::Shelter,
    sourced::{Sourced, Standing},
};
use pot::{
    column::Column,
    lift::{Grip, Lift, Spell},
    weight::Potted,
};

use crate::{potting, roots::LITRES, watering::pots::MixFacts};

/// What stands in the pot, as far as it was written down.
#[derive(Clone, Copy, Debug)]
pub struct Recorded<'a> {
    /// The pot.
    pub pot: &'a Pot,
    /// Its mix.
    pub mix: &'a Mix,
    /// What the mix holds.
    pub held: &'a MixFacts,
    /// The crown as last measured.
    pub crown: Option<&'a Crown>,
}

/// A potted tree for one night.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// The ball, watered.
    pub wet: Rootball,
    /// The ball, dried down.
    pub dry: Rootball,
    /// Weight watered; none without a record of the pot.
    pub weight: Option<Sourced<Kilogram>>,
    /// Half the pot's width from front to back.
    half_width: Centimetre,
    /// Whether the wall is smooth and wet.
    grip: Grip,
}

/// What the lifting equation says of a carry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lifting {
    /// The most to lift so.
    pub limit: Kilogram,
    /// Weight over limit; none where nothing should be lifted so at all.
    pub index: Option<f64>,
}

impl Lifting {
    /// Whether two should carry it.
    pub fn wants_help(&self) -> bool {
        self.index.is_none_or(|index| index > 1.0)
    }
}

/// Soil of unknown make: dry density and water when wet.
const SOIL: (KilogramPerLitre, Share) = (KilogramPerLitre(0.7), Share(0.4));

/// Water left in a ball that was let dry, share.
const DRY: Share = Share(0.15);

/// Wood and leaf in the space of a crown, kg per litre of a cube as wide as the crown; our estimate.
const CROWN: f64 = 0.015;

/// A tree's weight per litre of its soil where no crown was measured; our estimate from one 2.2 litre pot with 1.5 kg of tree.
const BY_SOIL: f64 = 0.7;

impl Load {
    /// A pot that was never written down: middling, its weight not known.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] never for the pot reckoned with; the formula's own guard is passed on.
    pub fn unrecorded() -> Result<Load, OutOfRange> {
        let wet = Rootball::typical(LITRES)?.value;
        let dry = wet.filled(SOIL.0, DRY)?;
        Ok(Load { wet, dry, weight: None, half_width: Centimetre(12.0), grip: Grip::Fair })
    }

    /// A pot from its record.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the record is not that of a pot.
    pub fn of(recorded: &Recorded<'_>) -> Result<Load, OutOfRange> {
        let column = potting::soil(recorded.pot)?;
        let (density, water) = soil(recorded, &column);
        let soil = column.volume();
        let typical = Rootball::typical(soil.0)?.value;
        let [length, width] = recorded.pot.vessel.top.key().1;
        let across = length.0.min(width.0);
        let fired = potting::fired(recorded.pot.wall).value;
        let grip = if recorded.pot.wall == Wall::Glazed { Grip::Poor } else { Grip::Fair };
        let tree = match recorded.crown {
            Some(crown) => CROWN * (crown.length.0 * crown.width.0).powf(1.5) / 1000.0,
            None => BY_SOIL * soil.0,
        };
        let clay = recorded.pot.vessel.clay()?;
        let potted = Potted { soil, density, clay, fired, tree: Kilogram(tree), other: Kilogram(0.0) };
        let standing = Standing::Estimate(
            "pot, watered soil and a guess at the tree from its crown or its soil; moss, rock and tray come on top",
        );
        Ok(Load {
            wet: typical.filled(density, water)?,
            dry: typical.filled(density, Share(DRY.0.min(water.0)))?,
            weight: Some(Sourced { value: potted.weight(water)?.total, standing }),
            half_width: Centimetre(across / 2.0),
            grip,
        })
    }

    /// Lifting it from a bench to where it is to stand, by the worse end of the way.
    ///
    /// The hands reach out 20 cm and half the pot, 25 cm where the lift begins below the knee (NIOSH 94-110, remembered).
    /// Benches and sills stand at 75 cm, frames on the ground; both are our assumption.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the pot is too wide for the equation.
    pub fn carry(&self, to: Shelter) -> Result<Option<Lifting>, OutOfRange> {
        let Some(weight) = self.weight else { return Ok(None) };
        let is_low = to == Shelter::ColdFrame;
        let (start, travel, body) = if is_low { (10.0, 65.0, 25.0) } else { (75.0, 25.0, 20.0) };
        let lift = Lift {
            load: weight.value,
            reach: Centimetre(body + self.half_width.0),
            start: Centimetre(start),
            travel: Centimetre(travel),
            twist: Degrees(0.0),
            grip: self.grip,
            spell: Spell::TwoHours,
        };
        lift.judge().map(|told| Some(Lifting { limit: told.limit, index: told.index }))
    }
}

/// Dry density of the mix and the water it holds in this pot, as the mix bench tells them; of unknown make where it cannot.
fn soil(recorded: &Recorded<'_>, column: &Column) -> (KilogramPerLitre, Share) {
    let density = potting::density(recorded.mix).ok().map(|told| told.value);
    let water = recorded.held.retention().map(|held| held.capacity(column).capacity);
    density.zip(water).unwrap_or(SOIL)
}
