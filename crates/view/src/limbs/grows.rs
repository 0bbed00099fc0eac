//! How thick the limbs of a tree will be by leaf fall, told for each limb let run and kept short.

use collection::{
    intention::Wish,
    limb::{Caliper, Limb},
};
use form::thickness::Likely;
use measure::{
    quantity::{Millimetre, Units, Weeks},
    winter::Hemisphere,
};
use season::{
    leaves::Leaves,
    limbs::{
        calendar::Calendar,
        raise::Seen,
        thick::{Course, Growing},
    },
};

use super::thick;
use crate::{
    shape::Shape,
    whole::{TreeWhole, Whole},
    words,
};

/// The year of leaves of a tree, with its forecast where there is one, and its autumn.
pub fn leaves(tree: &TreeWhole) -> Leaves {
    let forecast = tree.told.as_ref().ok().map(|told| &told.forecast);
    Leaves::of(tree.tree.taxon, forecast).in_autumn(&tree.in_leaf)
}

/// The hemisphere of the site; the north where none is set.
pub fn hemisphere(whole: &Whole) -> Hemisphere {
    whole.site.as_ref().map_or(Hemisphere::North, |site| Hemisphere::of(site.latitude))
}

/// The calendar of a tree's growth at the site.
pub fn calendar(whole: &Whole, tree: &TreeWhole) -> Calendar {
    Calendar { leaves: leaves(tree), hemisphere: hemisphere(whole) }
}

/// A tree in its season; none where its figures make none.
pub fn growing<'a>(whole: &Whole, tree: &TreeWhole, seen: &'a Seen) -> Option<Growing<'a>> {
    let shape = &tree.shape;
    let alive: Vec<&Limb> = shape.alive(whole.today).collect();
    let readings: Vec<&Caliper> = shape.calipers.iter().map(|(_, it)| it).collect();
    Growing::new(seen, &alive, &readings, &calendar(whole, tree), whole.today).ok()
}

/// The course of each limb by what is meant for it.
pub fn course(whole: &Whole, shape: &Shape, limb: u32) -> Course {
    shape.meant(limb, whole.today).map_or(Course::Left, |it| Course::of(it.wish))
}

/// The limbs that go with one: itself and those that follow its wish, having none of their own.
pub fn followers(whole: &Whole, shape: &Shape, limb: u32) -> Vec<u32> {
    let open = |it: u32| shape.intentions.iter().any(|(_, wish)| wish.limb == it && wish.holds(whole.today));
    let follows = |it: u32| {
        let mut at = it;
        while at != limb {
            match shape.bearer(at) {
                Some(bearer) if !open(at) => at = bearer,
                _ => return false,
            }
        }
        true
    };
    let rest = shape.alive(whole.today).map(|it| it.number).filter(|&it| it != limb && follows(it));
    std::iter::once(limb).chain(rest).collect()
}

/// All that a limb bears, itself among it.
fn borne(shape: &Shape, limb: u32) -> impl Fn(u32) -> bool + '_ {
    move |it| std::iter::successors(Some(it), |&at| shape.bearer(at)).any(|at| at == limb)
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
    let with = followers(whole, shape, limb);
    let if_all = |own: Course| {
        let course = |it: u32| if with.contains(&it) { own } else { course(whole, shape, it) };
        growing.base(limb, &course).ok()?
    };
    let (run, short) = (if_all(Course::Run)?, if_all(Course::Short)?);
    let units = whole.units();
    Some(format!("let run {}, kept short {}", span(units, run), span(units, short)))
}

/// How long the thickness meant for a limb takes.
pub fn until(whole: &Whole, shape: &Shape, growing: &Growing<'_>, limb: u32) -> Option<String> {
    let wanted = shape.meant(limb, whole.today).filter(|it| it.limb == limb)?.until?;
    let with = followers(whole, shape, limb);
    let run = |it: u32| if with.contains(&it) { Course::Run } else { course(whole, shape, it) };
    let weeks = growing.until(limb, wanted, &run).ok()??;
    let length = growing.season().length.0;
    // All three in one unit: weeks where even the slow year needs little more than a season.
    let in_weeks = weeks.high.is_some_and(|weeks| weeks.0 <= 1.5 * length);
    let figure = |weeks: Weeks| {
        if in_weeks { format!("{:.0}", weeks.0.ceil()) } else { format!("{:.1}", weeks.0 / length) }
    };
    let bound = |weeks: Option<Weeks>| match weeks {
        None => "more than twenty".to_string(),
        Some(weeks) if weeks.0 <= 0.0 => "none".into(),
        Some(weeks) => figure(weeks),
    };
    let unit = if in_weeks { "weeks of growth" } else { "seasons" };
    Some(match weeks.middle {
        Some(weeks) if weeks.0 <= 0.0 => "thick enough already".into(),
        middle => match [middle, weeks.low, weeks.high].map(bound) {
            [middle, low, high] if low == high => format!("{middle} {unit}"),
            [middle, low, high] => format!("{middle} {unit} ({low} to {high})"),
        },
    })
}

/// What a limb that is let run does to the limb that bears it by leaf fall, against taking it off today.
pub fn sacrifice(whole: &Whole, shape: &Shape, growing: &Growing<'_>, limb: u32) -> Option<String> {
    let own = shape.meant(limb, whole.today).is_some_and(|it| it.limb == limb && it.wish == Wish::LetRun);
    let bearer = shape.bearer(limb).filter(|_| own)?;
    let (with, gone) = (followers(whole, shape, limb), borne(shape, limb));
    let run = |it: u32| if with.contains(&it) { Course::Run } else { course(whole, shape, it) };
    let off = |it: u32| if gone(it) { Course::Off } else { course(whole, shape, it) };
    let (below, above) = growing.beside(limb, [&run, &off]).ok()??;
    let (units, name) = (whole.units(), shape.name_of(bearer));
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
