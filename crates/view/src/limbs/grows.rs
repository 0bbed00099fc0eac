//! How thick the limbs of a tree will be by leaf fall, told for each limb let run and kept short.

use collection::{
    intention::Wish,
    limb::{Caliper, Limb},
};
use form::thickness::Likely;
use measure::{
    quantity::{Millimetre, Units, Weeks},
    winter::{Hemisphere, Winter},
};
use season::{
    limbs::{
        raise::Seen,
        thick::{Course, Growing},
    },
    watering::leaves::Leaves,
};

use super::thick;
use crate::{
    shape::Shape,
    whole::{TreeWhole, Whole},
    words,
};

/// The year of leaves of a tree, with its forecast where there is one.
pub fn leaves(tree: &TreeWhole) -> Leaves {
    Leaves::of(tree.tree.taxon, tree.told.as_ref().ok().map(|told| &told.forecast))
}

/// The hemisphere of the site; the north where none is set.
pub fn hemisphere(whole: &Whole) -> Hemisphere {
    whole.site.as_ref().map_or(Hemisphere::North, |site| Hemisphere::of(site.latitude))
}

/// A tree in its season; none where its figures make none.
pub fn growing<'a>(whole: &Whole, tree: &TreeWhole, seen: &'a Seen) -> Option<Growing<'a>> {
    let shape = &tree.shape;
    let alive: Vec<&Limb> = shape.alive(whole.today).collect();
    let readings: Vec<&Caliper> = shape.calipers.iter().map(|(_, it)| it).collect();
    let winter = Winter::holding(whole.today, hemisphere(whole));
    Growing::new(seen, &alive, &readings, &leaves(tree), winter.day_number(whole.today)).ok()
}

/// The course of each limb by what is meant for it.
pub fn course(whole: &Whole, shape: &Shape, limb: u32) -> Course {
    shape.meant(limb, whole.today).map_or(Course::Left, |it| Course::of(it.wish))
}

/// A thickness with its span.
pub fn span(units: Units, it: Likely<Millimetre>) -> String {
    format!("{} ({} to {})", thick(units, it.middle), figure(units, it.low), figure(units, it.high))
}

fn figure(units: Units, mm: Millimetre) -> String {
    match units {
        Units::Metric => format!("{:.1}", mm.0),
        Units::Imperial => format!("{:.2}", mm.0 / 25.4),
    }
}

/// By leaf fall: let run, and kept short.
pub fn by_leaf_fall(whole: &Whole, shape: &Shape, growing: &Growing<'_>, limb: u32) -> Option<String> {
    let others = |it: u32| course(whole, shape, it);
    let run = growing.base(limb, Course::Run, &others).ok()??;
    let short = growing.base(limb, Course::Short, &others).ok()??;
    let units = whole.units();
    Some(format!("let run {}, kept short {}", span(units, run), span(units, short)))
}

/// How long the thickness meant for a limb takes.
pub fn until(whole: &Whole, shape: &Shape, growing: &Growing<'_>, limb: u32) -> Option<String> {
    let wanted = shape.meant(limb, whole.today).filter(|it| it.limb == limb)?.until?;
    let others = |it: u32| course(whole, shape, it);
    let weeks = growing.until(limb, wanted, Course::Run, &others).ok()??;
    let length = growing.season().length.0;
    let told = |weeks: Option<Weeks>| match weeks {
        None => "more than twenty seasons".to_string(),
        Some(weeks) if weeks.0 <= 0.0 => "thick enough already".into(),
        Some(weeks) if weeks.0 <= 1.5 * length => {
            words::count(weeks.0.ceil() as i64, "week of growth", "weeks of growth")
        }
        Some(weeks) => format!("{:.1} seasons", weeks.0 / length),
    };
    Some(match (weeks.low, weeks.high) {
        (low, high) if told(low) == told(high) => told(weeks.middle),
        (low, high) => format!("{} ({} to {})", told(weeks.middle), told(low), told(high)),
    })
}

/// What a limb that is let run does to the limb that bears it by leaf fall, against taking it off today.
pub fn sacrifice(whole: &Whole, shape: &Shape, growing: &Growing<'_>, limb: u32) -> Option<String> {
    let own = shape.meant(limb, whole.today).is_some_and(|it| it.limb == limb && it.wish == Wish::LetRun);
    let bearer = shape.bearer(limb).filter(|_| own)?;
    let others = |it: u32| course(whole, shape, it);
    let [below, above] = growing.beside(limb, &others).ok()??;
    let (units, name) = (whole.units(), shape.name_of(bearer));
    let below = below?;
    let gain = |mm: Millimetre| match mm.0 {
        little if little < 0.05 => "nothing".to_string(),
        _ => format!("{} more", thick(units, mm)),
    };
    let above = above.map_or_else(String::new, |above| format!(", above it {}", gain(above)));
    Some(format!(
        "Left running instead of taken off it gives the {name} below it {}{above}, by leaf fall.",
        gain(below)
    ))
}

/// What the growth of the tree was learned from.
pub fn learned(growing: &Growing<'_>) -> String {
    match growing.vigour.rings {
        0 => "how much wood a leaf makes is a planning figure, not this tree's: read two diameters a year apart".into(),
        rings => format!(
            "this tree laid {:.2} times the usual wood a leaf, learned from {}",
            growing.vigour.value,
            words::count(rings, "ring", "rings")
        ),
    }
}
