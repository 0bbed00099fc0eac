//! What a tree draws indoors, where no sun and wind but the dry air of the room demands.

use measure::{
    quantity::{Hours, Kilopascal, Litre, SquareMetre},
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};

/// How leafy a crown is, as its leaves let water through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Crown {
    /// In leaf, in the light.
    Leafy,
    /// In leaf, in the shade.
    Shaded,
    /// Without leaves.
    Leafless,
}

impl Crown {
    /// Conductance of the crown, mol m⁻² s⁻¹: an order of magnitude.
    ///
    /// ```
    /// use water::indoors::Crown;
    ///
    /// assert_eq!(Crown::Leafy.conductance().value, 0.1);
    /// ```
    pub fn conductance(self) -> Sourced<f64> {
        let value = match self {
            Crown::Leafy => 0.1,
            Crown::Shaded => 0.05,
            Crown::Leafless => 0.005,
        };
        Sourced { value, standing: Standing::Unverified("order of magnitude of canopy conductance") }
    }
}

/// A crown in a room for some hours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Conductance of the crown, mol m⁻² s⁻¹: [`Crown::conductance`].
    pub conductance: f64,
    /// What the air lacks to be full of water.
    pub deficit: Kilopascal,
    /// Of the air.
    pub pressure: Kilopascal,
    /// Crown seen from above.
    pub crown: SquareMetre,
    /// How long.
    pub hours: Hours,
}

/// What a crown draws in a room.
///
/// ```text
/// L = g · VPD/P · 0.018015 · 3600 · h · Ac
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | L | returned | water drawn | L |
/// | g | `conductance` | of the crown | mol m⁻² s⁻¹ |
/// | VPD, P | `deficit`, `pressure` | lack of vapour, air pressure | kPa |
/// | h, Ac | `hours`, `crown` | how long, crown area | h, m² |
///
/// **Holds** in still air with leaves at room temperature. **Error** g is known to an order of magnitude; learn it.
/// **Source** diffusion of vapour, textbook. **Checked** `tests/canopy.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when a figure is not that of a room.
///
/// # Example
///
/// ```
/// use measure::quantity::{Hours, Kilopascal, SquareMetre};
/// use water::indoors::{Room, indoor_use};
///
/// let room = Room {
///     conductance: 0.10,
///     deficit: Kilopascal(0.8),
///     pressure: Kilopascal(101.3),
///     crown: SquareMetre(0.15),
///     hours: Hours(12.0),
/// };
/// assert_eq!(format!("{:.3} L", indoor_use(&room)?.0), "0.092 L");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn indoor_use(room: &Room) -> Result<Litre, OutOfRange> {
    let g = within("conductance, mol/m²s", room.conductance, 0.0, 2.0)?;
    let lack = within("lack of vapour, kPa", room.deficit.0, 0.0, 10.0)?;
    let pressure = within("air pressure, kPa", room.pressure.0, 30.0, 110.0)?;
    let hours = within("hours", room.hours.0, 0.0, 8784.0)?;
    let crown = within("crown, m²", room.crown.0, 0.0, 50.0)?;
    Ok(Litre(g * lack / pressure * 0.018_015 * 3600.0 * hours * crown))
}
