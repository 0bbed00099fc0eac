//! What a pot holds for its tree, and how much of the air's thirst reaches it: from the records, or from a stated guess.

use collection::potting::{Crown, Mix, Pot as Vessel, Wall};
use measure::{
    quantity::{Litre, Metre, Millimetre, Share, SquareMetre},
    range::OutOfRange,
};
use pot::retention::Retention;
use water::{
    canopy::{Canopy, crown_area},
    dry_down::Pot,
    leaf::{Exposure, LeafState},
    supply::Supply,
};

use crate::{potting, watering::thirst::Standing};

/// Water that roots cannot take, share of the soil's volume: 0.10 to 0.20 in porous mixes (common practice, no source).
pub const UNAVAILABLE: Share = Share(0.15);

/// Share of the water for roots at which a tree begins to draw less (0.25 to 0.5; remembered).
pub const THRESHOLD: Share = Share(0.4);

/// Share of the water for roots under which a pot counts as dry: 0.3 to 0.4 is where leaves are said to close (remembered).
pub const DRY: Share = Share(0.3);

/// Crown over the pot's surface where nobody measured it (our guess).
const CROWN_OVER_POT: f64 = 1.6;

/// Soil and open surface of a pot that nobody measured: a middling one (our guess).
const UNMEASURED: (f64, f64) = (2.5, 0.05);

/// Water for roots per litre of soil that nobody knows: a quarter (common practice, no source).
const UNKNOWN_MIX: f64 = 0.25;

/// Least leaf share that indoor air acts on: bare twigs and soil still lose a little (remembered order of magnitude).
const BARE_INDOORS: f64 = 0.05;

/// What is wanting in a pot's figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wanting {
    /// No pot is written down: a middling one is taken.
    Pot,
    /// The mix's holding is an estimate from its grains.
    MixEstimated,
    /// The mix has no holding that can be worked out.
    MixUnknown,
    /// No crown was measured: it is guessed from the pot.
    Crown,
}

/// A pot as the round needs it.
#[derive(Clone, Debug, PartialEq)]
pub struct PotFacts {
    /// Its store for roots.
    pub store: Pot,
    /// Soil in it.
    pub soil: Litre,
    /// Share of the soil that is water when it has drained.
    pub capacity: Share,
    /// Open soil.
    pub surface: SquareMetre,
    /// Wall that lets water through.
    pub wall: Option<SquareMetre>,
    /// Crown seen from above.
    pub crown: SquareMetre,
    /// What is wanting.
    pub wanting: Vec<Wanting>,
}

/// What each mix of the collection holds, worked out once.
#[derive(Clone, Debug)]
pub struct MixFacts {
    retention: Option<Retention>,
    estimated: bool,
}

impl MixFacts {
    /// Of a mix.
    pub fn of(mix: &Mix) -> MixFacts {
        MixFacts {
            retention: potting::retention(mix).ok().map(|told| told.value),
            estimated: mix.tested.is_none(),
        }
    }

    /// What it holds at any height; none where nothing can be worked out.
    pub fn retention(&self) -> Option<&Retention> {
        self.retention.as_ref()
    }
}

impl PotFacts {
    /// Of a tree from what is written down of it.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a stored measure is not that of a pot.
    pub fn of(
        pot: Option<&Vessel>,
        mix: Option<&MixFacts>,
        crown: Option<&Crown>,
    ) -> Result<PotFacts, OutOfRange> {
        let mut wanting = Vec::new();
        let (soil, surface, wall, capacity) = match pot {
            Some(pot) => {
                let column = potting::soil(pot)?;
                let held = mix.and_then(|mix| {
                    let held = mix.retention.as_ref()?.capacity(&column);
                    if mix.estimated {
                        wanting.push(Wanting::MixEstimated);
                    }
                    Some(held.capacity)
                });
                let surface = SquareMetre(pot.vessel.surface()?.0 / 1e4);
                (column.volume(), surface, wall_of(pot), held)
            }
            None => {
                wanting.push(Wanting::Pot);
                (Litre(UNMEASURED.0), SquareMetre(UNMEASURED.1), None, None)
            }
        };
        let capacity = capacity.unwrap_or_else(|| {
            if pot.is_some() {
                wanting.push(Wanting::MixUnknown);
            }
            Share(UNAVAILABLE.0 + UNKNOWN_MIX)
        });
        let crown =
            crown.map(|crown| crown_area(Metre(crown.length.0 / 100.0), Metre(crown.width.0 / 100.0)));
        let crown = crown.unwrap_or_else(|| {
            wanting.push(Wanting::Crown);
            SquareMetre(surface.0 * CROWN_OVER_POT)
        });
        let available = Share(capacity.0.max(UNAVAILABLE.0 + 0.02));
        let store = Pot::of_substrate(soil, available, UNAVAILABLE, THRESHOLD)?;
        wanting.sort_unstable();
        Ok(PotFacts { store, soil, capacity, surface, wall, crown, wanting })
    }

    /// Litres drawn when wet for each millimetre of the place's thirst.
    pub fn per_millimetre(&self, leaves: LeafState, standing: Standing) -> Litre {
        let mut canopy = Canopy::usual(self.crown, self.surface, leaves, standing.exposure);
        canopy.wall = self.wall;
        if standing.exposure == Exposure::Indoors {
            canopy.exposure = 1.0;
            canopy.crown_factor = 1.0;
            canopy.leaves = canopy.leaves.max(BARE_INDOORS);
        }
        canopy.draws(Millimetre(1.0), Supply::FULL).map_or(Litre(0.0), |drawn| Litre(drawn.total().0))
    }
}

/// The wall of an earthenware pot, m².
fn wall_of(pot: &Vessel) -> Option<SquareMetre> {
    if pot.wall != Wall::Earthenware {
        return None;
    }
    let (_, [length, width], _) = pot.vessel.top.key();
    Some(SquareMetre(2.0 * (length.0 + width.0) * pot.vessel.height.0 / 1e4))
}
