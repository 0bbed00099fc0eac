//! Hours of a logger that do not go with the others, gathered into stretches: a heater on, a door left open, a logger in the hand.

use measure::quantity::Celsius;

use crate::air::{Air, Spot};

/// Hours between odd ones that still belong to one stretch (our choice).
const JOINED: usize = 6;

/// A stretch of odd hours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OddHours {
    /// Rank of its first hour in the air.
    pub first: usize,
    /// Rank of its last.
    pub last: usize,
    /// How many of its hours were odd.
    pub hours: usize,
    /// What was read where it was furthest off.
    pub read: Celsius,
    /// What the place's model tells of that hour.
    pub expected: Celsius,
}

impl OddHours {
    /// Whether it was warmer than it should have been.
    pub fn is_warm(&self) -> bool {
        self.read.0 > self.expected.0
    }

    /// From when to when, seconds since 1970.
    pub fn span(&self, air: &Air, spot: Spot) -> [i64; 2] {
        [self.first, self.last + 1].map(|rank| air.moment(spot, rank))
    }
}

/// Odd hours, by rank in the air, gathered into stretches; `modelled` is what the place's model tells.
///
/// ```
/// use season::odd_hours::stretches;
///
/// let mut read = vec![4.0; 48];
/// (10..20).for_each(|hour| read[hour] = 20.0);
/// let told = stretches(&(10..20).collect::<Vec<_>>(), &read, &[4.0; 48]);
/// assert_eq!((told.len(), told[0].hours, told[0].read.0), (1, 10, 20.0));
/// ```
pub fn stretches(odd: &[usize], read: &[f64], modelled: &[f64]) -> Vec<OddHours> {
    let apart = |at: usize| (read[at] - modelled[at]).abs();
    odd.chunk_by(|a, b| b - a <= JOINED)
        .filter_map(|hours| {
            let furthest = *hours.iter().max_by(|a, b| apart(**a).total_cmp(&apart(**b)))?;
            Some(OddHours {
                first: *hours.first()?,
                last: *hours.last()?,
                hours: hours.len(),
                read: Celsius(read[furthest]),
                expected: Celsius(modelled[furthest]),
            })
        })
        .collect()
}
