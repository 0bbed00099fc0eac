//! What presses on the limbs of all trees: wires to look at, wishes past their day or met, cuts left open, layers to look at.

use collection::intention::{Intention, Wish};
use jiff::ToSpan;
use measure::quantity::Millimetre;

use super::{layers, removal, seen, wires, wish};
use crate::{
    whole::{TreeWhole, Whole},
    words,
};

/// A line for Today: the address it leads to, the tree's name and the words.
pub type Line = (String, String, String);

/// A wish past its day, with what saves it again: still meant, asked again in four weeks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Overdue {
    /// The tree in addresses.
    pub tree: String,
    /// Its name.
    pub name: String,
    /// Number of the wish.
    pub id: i64,
    /// What is meant, and how long past its day.
    pub words: String,
    /// The fields of the wish with a later day.
    pub again: Vec<(&'static str, String)>,
}

/// A cut that waits for its cover.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenCut {
    /// The tree in addresses.
    pub tree: String,
    /// Its name.
    pub name: String,
    /// Number of the wound.
    pub id: i64,
    /// How wide, where, and for how long.
    pub words: String,
}

/// What presses.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Presses {
    /// How many wires are to be looked at.
    pub wires: usize,
    /// The first of them.
    pub first: Vec<Line>,
    /// Wishes past their day: still meant?
    pub overdue: Vec<Overdue>,
    /// Deep cuts that nobody covered.
    pub cuts: Vec<OpenCut>,
    /// Limbs let run that are thick enough.
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

/// Days after which a wish that is still meant is asked about again, our choice.
const ASK_AGAIN: i64 = 28;

/// From this width on a cut is covered: on smooth bark, and on flowering cherries, plums and their kin (common practice, no source).
const COVERED: [Millimetre; 2] = [Millimetre(10.0), Millimetre(5.0)];

/// Days after which an open cut is told, and after which a cover changes nothing any more (the latter our estimate).
const OPEN: std::ops::RangeInclusive<i32> = 14..=365;

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
        overdue: whole.trees.iter().flat_map(|tree| overdue(whole, tree)).collect(),
        cuts: whole.trees.iter().flat_map(|tree| open_cuts(whole, tree)).collect(),
        wishes: whole.trees.iter().flat_map(|tree| thick_enough(whole, tree)).collect(),
        layers: whole.trees.iter().flat_map(|tree| roots(whole, tree)).collect(),
    }
}

fn overdue(whole: &Whole, tree: &TreeWhole) -> Vec<Overdue> {
    let (shape, today) = (&tree.shape, whole.today);
    let late = shape.intentions.iter().filter(|(_, it)| it.holds(today) && it.is_late(today));
    late.filter_map(|(id, it)| {
        let days = words::count((today - it.by?).get_days(), "day", "days");
        let again = vec![
            ("limb", it.limb.to_string()),
            ("wish", it.wish.key().to_string()),
            ("until", it.until.map_or(String::new(), |until| format!("{} mm", until.0))),
            ("nodes", it.nodes.map_or(String::new(), |nodes| nodes.to_string())),
            ("by", (today + ASK_AGAIN.days()).to_string()),
            ("which", it.which.clone()),
            ("why", it.why.clone()),
        ];
        Some(Overdue {
            tree: tree.tree.key.clone(),
            name: tree.tree.name.clone(),
            id: *id,
            words: format!("{} {}, {days} past its day", wish(it, whole.units()), shape.name_of(it.limb)),
            again,
        })
    })
    .collect()
}

/// Cuts that wait for their cover for a fortnight and more, the oldest first.
fn open_cuts(whole: &Whole, tree: &TreeWhole) -> Vec<OpenCut> {
    let from = COVERED[usize::from(tree.tree.taxon.key.starts_with("prunus"))];
    let open = tree.shape.wounds.iter().filter(|(_, it)| {
        let is_closed = it.closed.is_some_and(|day| day <= whole.today);
        !it.sealed && !is_closed && it.wide.0 >= from.0 && OPEN.contains(&(whole.today - it.day).get_days())
    });
    let mut open: Vec<_> = open.collect();
    open.sort_by_key(|(_, it)| it.day);
    let told = open.into_iter().map(|(id, it)| OpenCut {
        tree: tree.tree.key.clone(),
        name: tree.tree.name.clone(),
        id: *id,
        words: format!(
            "{} wide on {}, open for {}",
            super::thick(whole.units(), it.wide),
            tree.shape.name_of(it.limb),
            words::count((whole.today - it.day).get_days(), "day", "days")
        ),
    });
    told.collect()
}

/// What a limb was let run for that is reached within a tenth: the trunk that bears it as the aim of the tree has it, else its own
/// thickness. The limb that is thick enough, what it has and what was wanted.
fn reached(whole: &Whole, tree: &TreeWhole, it: &Intention) -> Option<(u32, Millimetre, Millimetre)> {
    let shape = &tree.shape;
    // A branch of the trunk that runs thickens the trunk below it.
    let trunk = shape.bearer(it.limb).filter(|bearer| shape.bearer(*bearer).is_none());
    let aim = shape.aim.as_ref().and_then(|aim| aim.trunk);
    let of = |limb: Option<u32>, wanted: Option<Millimetre>| {
        let (limb, wanted) = limb.zip(wanted)?;
        let has = base(whole, tree, limb)?;
        (has.0 >= NEAR * wanted.0).then_some((limb, has, wanted))
    };
    of(trunk, aim).or_else(|| of(Some(it.limb), it.until))
}

fn thick_enough(whole: &Whole, tree: &TreeWhole) -> Vec<Line> {
    let (shape, units, today) = (&tree.shape, whole.units(), whole.today);
    let open = shape.intentions.iter().map(|(_, it)| it).filter(|it| it.holds(today) && !it.is_late(today));
    open.filter_map(|it| {
        let (limb, has, wanted) = reached(whole, tree, it).filter(|_| it.wish == Wish::LetRun)?;
        let scar = base(whole, tree, it.limb);
        let removal = scar.and_then(|scar| removal::removal(whole, tree, it.limb, scar));
        let off = removal.map_or(String::new(), |it| format!("; {}", removal::words(whole, &it)));
        let (has, wanted) = (super::thick(units, has), super::thick(units, wanted));
        let (thick, name) = (shape.name_of(limb), shape.name_of(it.limb));
        let words = if limb == it.limb {
            format!("{name} stands at {has}, and {wanted} were wanted: plan when it is cut back{off}")
        } else {
            format!("{thick} stands at {has}, and {wanted} were wanted: plan when {name}, let run for it, comes off{off}")
        };
        Some((format!("/trees/{}/limbs#limb-{}", tree.tree.key, it.limb), tree.tree.name.clone(), words))
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
