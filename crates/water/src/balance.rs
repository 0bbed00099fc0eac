//! A pot's water over a stretch of days: what came, what was used, what ran out of the hole, what is left.

use measure::{
    quantity::{Days, Litre, LitresPerDay, Millimetre, Share, SquareMetre},
    range::{OutOfRange, within},
};

use crate::dry_down::Pot;

/// A watering at the start of a stretch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Watering {
    /// Until it runs out of the hole; what ran out is not counted.
    Thorough,
    /// So much.
    Measured(Litre),
}

/// A stretch of steady demand; watering and rain come at its start.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// The watering, if any.
    pub watering: Option<Watering>,
    /// Rain that fell into the pot.
    pub rain: Litre,
    /// What a wet pot would give.
    pub demand: LitresPerDay,
    /// How long.
    pub span: Days,
}

/// The books of a stretch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Books {
    /// In the pot before.
    pub before: Litre,
    /// Watered.
    pub watered: Litre,
    /// Rained.
    pub rained: Litre,
    /// Out of the hole.
    pub drained: Litre,
    /// In the pot when the drying began.
    pub filled: Litre,
    /// Used by tree and air.
    pub used: Litre,
    /// In the pot after.
    pub after: Litre,
}

/// Water that was neither used nor left nor drained.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("the water of a pot does not balance: {missing} L are missing")]
pub struct WaterLost {
    /// How much, L.
    pub missing: f64,
}

/// What keeps a stretch from being reckoned.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// A figure is not one of a pot.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Water was lost.
    #[error(transparent)]
    WaterLost(#[from] WaterLost),
}

impl Books {
    /// What the books do not explain.
    ///
    /// ```text
    /// missing = before + watered + rained − drained − used − after
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | all | [`Books`] | as named there | L |
    ///
    /// **Holds** always. **Error** under 1e-9 L. **Source** conservation of mass. **Checked** `tests/balance.rs`.
    pub fn missing(&self) -> Litre {
        let came = self.before.0 + self.watered.0 + self.rained.0;
        Litre(came - self.drained.0 - self.used.0 - self.after.0)
    }

    /// Share of the pot's water left, after.
    pub fn left(&self, pot: &Pot) -> Share {
        Share(self.after.0 / pot.holds().0)
    }
}

/// Rain that falls into a pot.
///
/// ```text
/// L = mm · As
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | L | returned | rain in the pot | L |
/// | mm, As | `depth`, `surface` | rain, open substrate | mm, m² |
///
/// **Holds** under open sky. **Error** a dense crown sheds much of a light rain past the pot. **Source** geometry.
/// **Checked** `tests/balance.rs`.
///
/// ```
/// use measure::quantity::{Millimetre, SquareMetre};
/// use water::balance::rain_into;
///
/// assert_eq!(format!("{:.3} L", rain_into(SquareMetre(0.0535), Millimetre(4.5)).0), "0.241 L");
/// ```
pub fn rain_into(surface: SquareMetre, depth: Millimetre) -> Litre {
    Litre(depth.0.max(0.0) * surface.0)
}

/// A pot through a stretch: watered, rained on, drained, then dried under a steady demand.
///
/// Exact; see [`Pot::after`] for the rule of drying.
///
/// **Holds** where rain and watering come at the start. **Error** as [`Pot::after`]. **Source** conservation of mass.
/// **Checked** `tests/balance.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when a figure is not one of a pot; [`WaterLost`] when the books do not balance to 1e-9 of their volume.
///
/// # Example
///
/// ```
/// use measure::quantity::{Days, Litre, LitresPerDay, Share};
/// use water::{balance::{Stretch, Watering, through}, dry_down::Pot};
///
/// let pot = Pot::new(Litre(0.5), Share(0.4))?;
/// let day = Stretch {
///     watering: Some(Watering::Measured(Litre(0.3))),
///     rain: Litre(0.1),
///     demand: LitresPerDay(0.2),
///     span: Days(1.0),
/// };
/// let books = through(&pot, Share(0.5), &day)?;
/// assert_eq!(format!("{:.2} L drained, {:.2} L used", books.drained.0, books.used.0), "0.15 L drained, 0.20 L used");
/// # Ok::<(), water::balance::Error>(())
/// ```
pub fn through(pot: &Pot, left: Share, stretch: &Stretch) -> Result<Books, Error> {
    let holds = pot.holds().0;
    let before = within("share of water left", left.0, 0.0, 1.0)? * holds;
    within("demand, L a day", stretch.demand.0, 0.0, 1e4)?;
    within("days of a stretch", stretch.span.0, 0.0, 1e4)?;
    let rained = within("rain into the pot, L", stretch.rain.0, 0.0, 1e4)?;
    let watered = match stretch.watering {
        None => 0.0,
        Some(Watering::Thorough) => (holds - before).max(0.0),
        Some(Watering::Measured(given)) => within("water given, L", given.0, 0.0, 1e4)?,
    };
    let drained = (before + watered + rained - holds).max(0.0);
    let filled = (before + watered + rained).min(holds);
    let (share, used) = pot.after(Share(filled / holds), stretch.demand, stretch.span);
    let books = Books {
        before: Litre(before),
        watered: Litre(watered),
        rained: Litre(rained),
        drained: Litre(drained),
        filled: Litre(filled),
        used,
        after: Litre(share.0 * holds),
    };
    let missing = books.missing().0;
    if missing.abs() > 1e-9 * (before + watered + rained).max(1.0) {
        return Err(WaterLost { missing }.into());
    }
    Ok(books)
}
