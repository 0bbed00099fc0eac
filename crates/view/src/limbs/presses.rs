//! What presses on the limbs of all trees: wires to look at, wishes past their day or met, layers to look at.

use collection::intention::Wish;
use measure::quantity::Millimetre;

use super::{layers, seen, wires, wish};
use crate::{
    whole::{TreeWhole, Whole},
    words,
};

/// A line for Today: the address it leads to, the tree's name and the words.
pub type Line = (String, String, String);

/// What presses.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Presses {
    /// How many wires are to be looked at.
    pub wires: usize,
    /// The first of them.
    pub first: Vec<Line>,
    /// Wishes past their day, and limbs let run that are thick enough.
    pub wishes: Vec<Line>,
    /// Layers that may be cut off, or were not looked at for a fortnight.
    pub layers: Vec<Line>,
}

/// Wires told one by one on Today.
const SHOWN: usize = 5;

/// A limb let run is told when it is within this share of what was wanted (common practice: within a tenth).
const NEAR: f64 = 0.9;

/// Days after which a layer asks to be looked at again, our estimate.
const LOOK_AGAIN: i32 = 14;

/// Hours for which the wires are reckoned; Today tells only which come first.
const HOURS: f64 = 2.0;

/// What presses on a day.
pub fn presses(whole: &Whole) -> Presses {
    let page = wires::page(whole, None, HOURS);
    let first = page.rows.iter().filter(|row| row.due).take(SHOWN);
    let first = first.map(|row| {
        (format!("/trees/{}/wires", row.tree), row.name.clone(), format!("{}: {}", row.limb, row.verdict))
    });
    Presses {
        wires: page.due,
        first: first.collect(),
        wishes: whole.trees.iter().flat_map(|tree| late(whole, tree)).collect(),
        layers: whole.trees.iter().flat_map(|tree| roots(whole, tree)).collect(),
    }
}

fn late(whole: &Whole, tree: &TreeWhole) -> Vec<Line> {
    let (shape, units, today) = (&tree.shape, whole.units(), whole.today);
    let line = |limb: u32, words: String| {
        (format!("/trees/{}/limbs#limb-{limb}", tree.tree.key), tree.tree.name.clone(), words)
    };
    let open = shape.intentions.iter().map(|(_, it)| it).filter(|it| it.holds(today));
    open.filter_map(|it| {
        let name = shape.name_of(it.limb);
        if let Some(by) = it.by.filter(|_| it.is_late(today)) {
            let days = words::count((today - by).get_days(), "day", "days");
            return Some(line(it.limb, format!("{} {name}, {days} past its day", wish(it, units))));
        }
        let wanted = it.until.filter(|_| it.wish == Wish::LetRun)?;
        let base = base(whole, tree, it.limb)?;
        (base.0 >= NEAR * wanted.0).then(|| {
            let (base, wanted) = (super::thick(units, base), super::thick(units, wanted));
            line(
                it.limb,
                format!("{name} stands at {base}, and {wanted} were wanted: plan when it is cut back"),
            )
        })
    })
    .collect()
}

/// The base of a limb where it was measured.
fn base(whole: &Whole, tree: &TreeWhole, limb: u32) -> Option<Millimetre> {
    let seen = seen(whole, tree).ok()?;
    let axis = seen.raised.skeleton.axis(limb)?;
    let first = axis.segments[0];
    let measured = seen.raised.had[first].diameter == form::traced::Thickness::Measured;
    measured.then(|| seen.raised.skeleton.segments()[first].base)
}

fn roots(whole: &Whole, tree: &TreeWhole) -> Vec<Line> {
    let open = tree.shape.layers.iter().filter(|(_, it)| it.apart.is_none_or(|day| whole.today < day));
    open.filter_map(|(id, it)| {
        let since = (whole.today - it.seen.unwrap_or(it.day)).get_days();
        let words = match layers::wait(whole, tree, *id) {
            None => "may be cut off".to_string(),
            Some(_) if since >= LOOK_AGAIN => format!("roots not looked at for {since} days"),
            Some(_) => return None,
        };
        let limb = tree.shape.name_of(it.limb);
        let words = format!("{} on {limb}: {words}", it.way.words());
        Some((format!("/trees/{}/layers#layer-{id}", tree.tree.key), tree.tree.name.clone(), words))
    })
    .collect()
}
