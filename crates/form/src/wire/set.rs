//! How far a bend has set: new wood is laid without stress in the bent shape, old wood wants back.

use measure::{
    quantity::{Millimetre, Share},
    range::{OutOfRange, within},
};

/// The share of a bend that stays when the wire comes off.
///
/// ```text
/// set = 1 − (1 − f_p)·(D0/D1)⁴
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | D0, D1 | `wired`, `now` | thickness when wired and now | mm |
/// | f_p | `lasting` | share of the bend that was lasting at once (crushing, creep) | 1 |
/// | set | returned | share that stays | 1 |
///
/// **Holds** for equal stiffness of old and new wood. **Error** reaction wood adds to it; f_p is not known. **Source** derived in the
/// reference set. **Checked** `tests/wire.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when the branch is thinner than when it was wired, or a share is none.
pub fn set(wired: Millimetre, now: Millimetre, lasting: Share) -> Result<Share, OutOfRange> {
    let start = within("thickness when wired, mm", wired.0, 1e-3, 1e4)?;
    let end = within("thickness now, mm, not below that when wired", now.0, start, 1e5)?;
    let lasting = within("share lasting at once", lasting.0, 0.0, 1.0)?;
    Ok(Share(1.0 - (1.0 - lasting) * (start / end).powi(4)))
}

/// The thickness at which so much of a bend stays.
///
/// ```
/// use form::wire::set::needed;
/// use measure::quantity::{Millimetre, Share};
///
/// let half = needed(Millimetre(6.0), Share(0.5), Share(0.0))?;
/// assert_eq!(format!("{:.2}", half.0), "7.14");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
///
/// # Errors
///
/// [`OutOfRange`] when a share is none, or all of the bend is wanted.
pub fn needed(wired: Millimetre, wanted: Share, lasting: Share) -> Result<Millimetre, OutOfRange> {
    let start = within("thickness when wired, mm", wired.0, 1e-3, 1e4)?;
    let wanted = within("share that shall stay", wanted.0, 0.0, 0.999)?;
    let lasting = within("share lasting at once", lasting.0, 0.0, 1.0)?;
    Ok(Millimetre(start * ((1.0 - lasting) / (1.0 - wanted)).powf(0.25).max(1.0)))
}
