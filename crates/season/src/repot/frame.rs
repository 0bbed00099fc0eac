//! A pot of the grower's as a frame for a tree: inner measures, soil and worth, and what had to be taken for granted.

use collection::{
    money::Money,
    potting::Pot,
    ware::{Ware, Whereabouts},
};
use measure::quantity::{Centimetre, Millimetre};
use pot::{
    error::Error,
    fit::frame::{Frame, Size},
};

/// What of a pot is taken for granted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Assumed {
    /// Nobody counted the holes for water: enough are taken.
    DrainHoles,
    /// Its worth was never put down: what was paid for it stands.
    WorthAsPaid,
}

impl Assumed {
    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Assumed::DrainHoles => "nobody counted the holes for water; enough are taken for granted",
            Assumed::WorthAsPaid => "its worth was never put down; what was paid for it is taken",
        }
    }
}

/// A pot as a frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Framed {
    /// The frame; its value is of the currency of [`Framed::value`].
    pub frame: Frame,
    /// What it is worth, where that is known.
    pub value: Option<Money>,
    /// What was taken for granted.
    pub assumed: Vec<Assumed>,
}

/// A hole for each such stretch of the inside where nobody counted them, cm: as close as any rule asks.
const HOLE_FOR_EACH: f64 = 5.0;

/// The pot as a frame for a tree.
///
/// ```text
/// l = min(l_rim − 2·wall − 2·lip, l_middle − 2·wall),   d = height − feet − floor
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | l, d | [`Frame::inner`] | narrowest inside from halfway up to the rim; floor to rim | cm |
/// | l_rim, l_middle | the outlines of the vessel | across the outside | cm |
///
/// Roots come in from above, so the rim or a waist sets the room for them, not the foot. A base that is much narrower shows in
/// the soil instead.
///
/// **Holds**, **Error** as [`Vessel::soil`](pot::vessel::Vessel::soil). **Source** plane geometry. **Checked** worked by hand below.
///
/// # Errors
///
/// [`Error`] when the measures are not those of a pot.
///
/// # Example
///
/// ```
/// use collection::{potting::{Pot, Wall}, ware::Ware};
/// use measure::quantity::Centimetre;
/// use pot::{outline::Outline, vessel::Vessel};
/// use season::repot::frame::{Assumed, frame};
///
/// let [length, width] = [25.0, 18.5].map(Centimetre);
/// let top = Outline::Oval { length, width };
/// let [height, feet, floor, wall, lip, gap] = [6.0, 0.6, 0.6, 0.7, 0.0, 0.4].map(Centimetre);
/// let vessel = Vessel { top, middle: None, bottom: top, height, feet, floor, wall, lip, gap, measured: None };
/// let pot = Pot { key: "celadon".into(), name: "Celadon".into(), vessel, wall: Wall::Glazed };
/// let told = frame(&pot, &Ware::unknown(&pot))?;
/// assert!((told.frame.inner.length.0 - 23.6).abs() < 1e-9 && (told.frame.inner.depth.0 - 4.8).abs() < 1e-9);
/// assert_eq!(told.assumed, [Assumed::DrainHoles]);
/// # Ok::<(), pot::error::Error>(())
/// ```
pub fn frame(pot: &Pot, ware: &Ware) -> Result<Framed, Error> {
    let vessel = &pot.vessel;
    let soil = vessel.soil()?.volume();
    let (_, rim, _) = vessel.top.key();
    let across = |side: usize| {
        let at_rim = rim[side].0 - 2.0 * (vessel.wall.0 + vessel.lip.0);
        let waist = vessel.middle.map_or(f64::INFINITY, |it| it.key().1[side].0 - 2.0 * vessel.wall.0);
        Centimetre(at_rim.min(waist))
    };
    let inner = Size { length: across(0), width: across(1), depth: vessel.inner_height()? };
    let mut assumed = Vec::new();
    let drain_holes = ware.drain_holes.unwrap_or_else(|| {
        assumed.push(Assumed::DrainHoles);
        (inner.length.0 / HOLE_FOR_EACH).ceil().clamp(1.0, 255.0) as u8
    });
    let value = ware.worth.map(|(worth, _)| worth).or_else(|| {
        assumed.extend(ware.paid.map(|_| Assumed::WorthAsPaid));
        ware.paid
    });
    let frame = Frame {
        shape: ware.shape,
        outer: Size { length: rim[0], width: rim[1], depth: vessel.height },
        inner,
        soil,
        drain_holes,
        tie_holes: ware.tie_holes,
        feet: Some(Millimetre(10.0 * vessel.feet.0)),
        fired: ware.fired,
        finish: ware.finish,
        colour: ware.glaze.map(|glaze| glaze.colour),
        features: ware.features,
        feel: ware.feel,
        value: value.map(|worth| worth.coins),
    };
    Ok(Framed { frame, value, assumed })
}

/// Whether a pot can be planned with at all: whole and at hand. Where a tree stands in it, only that it is whole and still the
/// grower's counts.
pub fn is_at_hand(ware: &Ware, is_taken: bool) -> bool {
    match ware.whereabouts {
        Whereabouts::Shelf => true,
        Whereabouts::Lent => is_taken,
        Whereabouts::Gone | Whereabouts::Broken => false,
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use pot::{fit::frame::Coins, outline::Outline};

    use super::*;
    use crate::repot::record::tests::tray;

    #[test]
    fn a_waist_and_a_lip_narrow_the_inside() {
        let (mut pot, ware) = tray("drum", [30.0, 22.0, 10.0]);
        let inner = |pot: &Pot| frame(pot, &ware).unwrap().frame.inner;
        assert!((inner(&pot).length.0 - 28.8).abs() < 1e-9 && (inner(&pot).depth.0 - 8.6).abs() < 1e-9);
        pot.vessel.lip = Centimetre(0.5);
        assert!((inner(&pot).length.0 - 27.8).abs() < 1e-9 && (inner(&pot).width.0 - 19.8).abs() < 1e-9);
        let [length, width] = [26.0, 24.0].map(Centimetre);
        pot.vessel.middle = Some(Outline::Oval { length, width });
        assert!((inner(&pot).length.0 - 24.8).abs() < 1e-9 && (inner(&pot).width.0 - 19.8).abs() < 1e-9);
    }

    #[test]
    fn worth_comes_before_what_was_paid() {
        let (pot, mut ware) = tray("oval", [30.0, 22.0, 7.0]);
        assert_eq!(frame(&pot, &ware).unwrap().frame.value, None);
        ware.paid = Money::from_words("80 EUR");
        let paid = frame(&pot, &ware).unwrap();
        assert_eq!((paid.frame.value, &paid.assumed[..]), (Some(Coins(8000)), &[Assumed::WorthAsPaid][..]));
        ware.worth = Some((Money::from_words("120 EUR").unwrap(), date(2026, 5, 1)));
        let worth = frame(&pot, &ware).unwrap();
        assert_eq!((worth.frame.value, worth.assumed.len()), (Some(Coins(12_000)), 0));
    }

    #[test]
    fn holes_that_nobody_counted_never_forbid_a_pot_and_counted_ones_do() {
        use pot::fit::{
            limit::{Limits, Refusal, refusals},
            sitter::Sitter,
        };
        let (pot, mut ware) = tray("long", [60.0, 22.0, 7.0]);
        let drains = |ware: &Ware| {
            let told = frame(&pot, ware).unwrap();
            let found = refusals(&told.frame, &Sitter::sample(), &Limits::default());
            found.iter().any(|it| matches!(it, Refusal::NoDrain | Refusal::FewDrains { .. }))
        };
        ware.drain_holes = None;
        assert!(!drains(&ware));
        ware.drain_holes = Some(1);
        assert!(drains(&ware));
    }

    #[test]
    fn a_broken_pot_is_out_even_with_its_tree_in_it() {
        let (_, mut ware) = tray("oval", [30.0, 22.0, 7.0]);
        let at_hand = |ware: &Ware| [false, true].map(|taken| is_at_hand(ware, taken));
        assert_eq!(at_hand(&ware), [true, true]);
        ware.whereabouts = Whereabouts::Lent;
        assert_eq!(at_hand(&ware), [false, true]);
        ware.whereabouts = Whereabouts::Broken;
        assert_eq!(at_hand(&ware), [false, false]);
    }
}
