//! What stands now of a record whose form starts empty, in a few words: shown beside what was typed when another hand was faster.

use collection::{intention::Intention, layer::Layer, wire::Wire};
use jiff::civil::Date;

use crate::{
    limbs::{front::tilt, thick, wish},
    photos::hour,
    pots::colour_words,
    whole::{TreeWhole, Whole},
    words,
};

/// Where nothing stands.
const NOTHING: &str = "nothing";

/// A text, with what was noted on it.
fn noted(words: String, note: &str) -> String {
    if note.is_empty() { words } else { format!("{words}: {note}") }
}

fn last<T>(rows: &[(i64, T)], id: i64) -> Option<&T> {
    rows.iter().find(|(number, _)| *number == id).map(|(_, row)| row)
}

fn told(found: Option<String>) -> String {
    found.unwrap_or_else(|| NOTHING.into())
}

fn of_wish(whole: &Whole, it: &Intention) -> String {
    let words = noted(wish(it, whole.units()), &it.why);
    match it.ended {
        Some(day) => format!("{words}; ended {}, {}", words::day(day, whole.today), it.end),
        None => words,
    }
}

/// What is meant for a limb.
pub fn wish_of(whole: &Whole, tree: &TreeWhole, limb: &str) -> String {
    let number: Option<u32> = limb.trim().parse().ok();
    let open = tree.shape.intentions.iter().map(|(_, it)| it);
    told(open.filter(|it| it.ended.is_none() && Some(it.limb) == number).map(|it| of_wish(whole, it)).last())
}

/// Something meant, by its number.
pub fn intention(whole: &Whole, tree: &TreeWhole, id: i64) -> String {
    told(last(&tree.shape.intentions, id).map(|it| of_wish(whole, it)))
}

/// How many buds broke behind a cut.
pub fn count(tree: &TreeWhole, id: i64) -> String {
    let broke = last(&tree.shape.cuts, id).and_then(|it| it.broke);
    told(broke.map(|[broke, buds]| format!("{broke} of {buds}")))
}

/// What is said of a pot and trees in a season.
pub fn said(whole: &Whole, pot: &str, season: &str) -> String {
    let year: Option<i16> = season.trim().parse().ok();
    let own = whole.shelf.reservations.iter().filter(|it| it.pot == pot && Some(it.season) == year);
    let words = own.map(|it| {
        let tree = whole.tree(&it.tree).map_or(it.tree.as_str(), |tree| tree.tree.name.as_str());
        noted(format!("{} {tree}", it.said.words()), &it.why)
    });
    let words: Vec<String> = words.collect();
    if words.is_empty() { NOTHING.into() } else { words.join("; ") }
}

/// The colour of the pot on a photo.
pub fn glaze(whole: &Whole, photo: &str) -> String {
    let pot = whole.shelf.photos.iter().find(|it| it.key == photo).map(|it| it.pot.as_str());
    let ware = whole.shelf.wares.iter().find(|it| Some(it.pot.as_str()) == pot);
    ware.and_then(colour_words).unwrap_or_else(|| "no colour".into())
}

/// A front or candidate of a tree.
pub fn front(tree: &TreeWhole, rank: &str) -> String {
    let rank: Option<u8> = rank.trim().parse().ok();
    let found = tree.shape.fronts.iter().find(|it| Some(it.rank) == rank);
    told(found.map(|it| noted(format!("from {}, {}", hour(it.clock.hour()), tilt(it)), &it.why)))
}

/// What a tree shall become.
pub fn aim(whole: &Whole, tree: &TreeWhole) -> String {
    crate::limbs::aim(&tree.shape, whole.units())
}

/// A wire on a tree.
pub fn wire(whole: &Whole, tree: &TreeWhole, id: i64) -> String {
    let day = |date: Date| words::day(date, whole.today);
    let words = |it: &Wire| {
        let outcome = it.outcome.map_or_else(String::new, |outcome| format!(", {}", outcome.words()));
        let stands = match (it.off, it.seen) {
            (Some(off), _) if it.grown_in => format!("off since {}{outcome}, a piece grew in", day(off)),
            (Some(off), _) => format!("off since {}{outcome}", day(off)),
            (None, Some(seen)) => format!("on, last seen {}", day(seen)),
            (None, None) => format!("on since {}", day(it.on)),
        };
        noted(stands, &it.note)
    };
    told(last(&tree.shape.wires, id).map(words))
}

/// A layer on a tree.
pub fn layer(whole: &Whole, tree: &TreeWhole, id: i64) -> String {
    let day = |date: Date| words::day(date, whole.today);
    let words = |it: &Layer| match (it.apart, it.seen, it.roots) {
        (Some(apart), ..) => format!("cut off {}", day(apart)),
        (None, Some(seen), Some(roots)) => format!("{}, seen {}", roots.words(), day(seen)),
        _ => format!("begun {}", day(it.day)),
    };
    told(last(&tree.shape.layers, id).map(words))
}

/// A wound of a tree.
pub fn wound(whole: &Whole, tree: &TreeWhole, id: i64) -> String {
    told(last(&tree.shape.wounds, id).map(|it| {
        let wide = format!("{} wide", thick(whole.units(), it.wide));
        let sealed = if it.sealed { ", covered with paste" } else { "" };
        let closed =
            it.closed.map_or_else(String::new, |day| format!(", closed {}", words::day(day, whole.today)));
        format!("{wide}{sealed}{closed}")
    }))
}

/// The wire of a gauge on the shelf; the gauge in millimetres.
pub fn coil(whole: &Whole, metal: &str, gauge: f64) -> String {
    const SAME: f64 = 0.005;
    let found = whole.coils.iter().find(|it| it.metal.key() == metal && (it.gauge.0 - gauge).abs() < SAME);
    told(found.map(|it| whole.units().weight(it.left)))
}

/// What is left of a thing in the shed.
pub fn stock(whole: &Whole, item: &str) -> String {
    let found = whole.shelf.stock.iter().find(|it| it.item.key() == item);
    told(found.map(|it| {
        let unit = it.item.unit();
        let pack = it.pack.map_or_else(String::new, |pack| format!(", {pack} {unit} in a bag or coil"));
        let days = it.delivery.map_or_else(String::new, |days| format!(", {days} days to come"));
        format!("{} {unit} left{pack}{days}", it.left)
    }))
}

/// A colour of a tree.
pub fn tint(tree: &TreeWhole, season: &str) -> String {
    let found = tree.standing.tints.iter().find(|it| it.season.key() == season);
    told(found.map(|it| {
        let near = pot::colour::swatch::SWATCHES.iter().find(|swatch| swatch.lab == it.colour);
        let lab = it.colour;
        near.map_or_else(
            || format!("lightness {:.0}, green to red {:.0}, blue to yellow {:.0}", lab.l, lab.a, lab.b),
            |swatch| swatch.key.replace('_', " "),
        )
    }))
}

/// How strong a tree was judged on a day.
pub fn vigour(tree: &TreeWhole, day: Date) -> String {
    let found = tree.standing.vigours.iter().find(|it| it.day == day);
    told(found.map(|it| noted(it.strength.words().into(), &it.why)))
}

/// How high and thick a tree was measured on a day.
pub fn stature(whole: &Whole, tree: &TreeWhole, day: Date) -> String {
    let units = whole.units();
    let found = tree.standing.statures.iter().find(|it| it.day == day);
    told(found.map(|it| format!("{} high, trunk {}", units.span(it.height), units.span(it.trunk))))
}

/// What was seen of a tree in its pot on a day.
pub fn pot_look(tree: &TreeWhole, day: Date) -> String {
    let found = tree.standing.looks.iter().find(|it| it.day == day);
    told(found.map(|it| {
        let signs = [
            (it.twice_a_day, "water twice a day"),
            (it.rocks, "lifted or rocks"),
            (it.roots, "roots at the holes or round the surface"),
            (it.crumbled, "the top has crumbled"),
            (it.falling, "weaker for two seasons"),
        ];
        let drained = it.drained.map(|seconds| format!("drained in {} s", seconds.0));
        let seen = signs.into_iter().filter(|(is_seen, _)| *is_seen).map(|(_, words)| words.to_string());
        noted(drained.into_iter().chain(seen).collect::<Vec<_>>().join(", "), &it.note)
    }))
}

/// The bucket test of a mix.
pub fn bucket(whole: &Whole, mix: &str) -> String {
    let weight = |weight| whole.units().weight(weight);
    let test = whole.mixes.iter().find(|it| it.key == mix).and_then(|it| it.tested.as_ref());
    told(test.map(|it| {
        format!("dry {}, flooded {}, drained {}", weight(it.dry), weight(it.flooded), weight(it.drained))
    }))
}

/// The crown of a tree as last measured.
pub fn crown(whole: &Whole, tree: &TreeWhole) -> String {
    let units = whole.units();
    told(tree.crown.as_ref().map(|it| format!("{} by {}", units.span(it.length), units.span(it.width))))
}

/// The pot and the mix that a tree was put in on a day.
pub fn potted(whole: &Whole, tree: &TreeWhole, on: Date) -> String {
    let found = tree.potted.iter().find(|(day, ..)| *day == on);
    told(found.map(|&(_, pot, mix)| format!("{}, {}", whole.pots[pot].name, whole.mixes[mix].name)))
}

/// Where a tree was moved to on a day.
pub fn moved(whole: &Whole, tree: &TreeWhole, on: Date) -> String {
    let found = tree.moves.iter().find(|(day, _)| *day == on);
    told(found.map(|&(_, place)| whole.places[place].place.name.clone()))
}

/// What is traced on a photo.
pub fn traced(tree: &TreeWhole, photo: &str) -> String {
    let lines = tree.shape.traces.iter().filter(|it| it.photo == photo);
    let names: Vec<String> = lines.map(|it| tree.shape.name_of(it.limb).to_string()).collect();
    if names.is_empty() { NOTHING.into() } else { names.join(", ") }
}
