//! How a tree is grown, how large and strong it is, what is meant and seen and borne; and such a line taken back.

use collection::{
    repot::{Meant, PotLook, Toll},
    standing::{Grown, Stature, Tint, Vigour},
    toll::{Amount, KINDS, insult},
};
use jiff::civil::Date;
use measure::quantity::{Centimetre, Millimetre, Seconds, Units};
use pot::{
    colour::{score::Season, swatch::Kind as Carrier},
    fit::{
        frame::Feel,
        sitter::{Kind, Style},
    },
    repot::{insult::Strength, roots::Age},
};
use store::store::{Act, Store};

use super::{
    back::take_back_repot, bench::MOST_CUT, day_or_today, known_mix, lab, money, percent, picked, season,
    word, word_if,
};
use crate::{
    asked::Asked,
    length::{self, Bare, read_cm},
    limits::{DRAINED, LONG, TOLL_COUNT, TREE_HEIGHT, TRUNK_THICK},
    record::{FormError, bad, known_tree, number, text},
};

/// How a tree is grown, as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct GrownForm<'a> {
    pub tree: &'a str,
    pub style: &'a str,
    pub kind: &'a str,
    pub feel: &'a str,
    pub age: &'a str,
    pub shown: &'a str,
    pub asked: &'a str,
}

/// Keeps how a tree is grown; a part that nothing was chosen for is open.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn grown(store: &mut Store, form: GrownForm<'_>) -> Result<(), FormError> {
    let it = Grown {
        tree: known_tree(store, form.tree)?,
        style: word_if("style", form.style, Style::from_key)?,
        kind: word_if("kind of tree", form.kind, Kind::from_key)?,
        feel: word_if("look", form.feel, Feel::from_key)?,
        age: word_if("age", form.age, Age::from_key)?,
        shown: word_if("shown in", form.shown, Season::from_key)?,
        asked: money("asked", form.asked)?,
    };
    store.transact(&Act::Grown(it.tree.clone()), |change| change.set_grown(&it))?;
    Ok(())
}

/// A tree's size as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct StatureForm<'a> {
    pub tree: &'a str,
    /// Empty for today.
    pub day: &'a str,
    pub height: &'a str,
    pub trunk: &'a str,
}

/// Writes down how high a tree is and how thick its trunk. What is typed as the last size is shown is that size.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn stature(store: &mut Store, form: StatureForm<'_>, units: Units, today: Date) -> Result<(), FormError> {
    let (tree, day) = (known_tree(store, form.tree)?, day_or_today(form.day, today)?);
    let known = store.reader()?.statures()?.into_iter().filter(|it| it.tree == tree && it.day <= day);
    let last = known.max_by_key(|it| it.day);
    let size = |field, typed, bounds, stands: Option<Centimetre>| match stands {
        Some(stands) if length::is(typed, Bare::Centimetres, units, Millimetre(stands.0 * 10.0)) => {
            Ok(stands)
        }
        _ => read_cm(field, typed, units, bounds),
    };
    let it = Stature {
        height: size("height", form.height, TREE_HEIGHT, last.as_ref().map(|it| it.height))?,
        trunk: size("trunk", form.trunk, TRUNK_THICK, last.as_ref().map(|it| it.trunk))?,
        tree,
        day,
    };
    store.transact(&Act::Stature(it.tree.clone()), |change| change.add_stature(&it))?;
    Ok(())
}

/// A colour of a tree, picked or by its figures as read off a photo with a grey card.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct TintForm<'a> {
    pub tree: &'a str,
    pub season: &'a str,
    pub swatch: &'a str,
    pub l: &'a str,
    pub a: &'a str,
    pub b: &'a str,
}

/// Keeps a colour of a tree.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn tint(store: &mut Store, form: TintForm<'_>) -> Result<(), FormError> {
    let chosen = picked(form.swatch, |kind| kind != Carrier::Pot)?;
    let (colour, measured) = match (chosen, lab([form.l, form.a, form.b])?) {
        (Some(_), Some(_)) => return Err(bad("colour", form.swatch, "is picked or read, not both")),
        (Some(picked), None) => (picked, false),
        (None, Some(read)) => (read, true),
        (None, None) => return Err(bad("colour", "", "is empty; pick one or type its three figures")),
    };
    let season = word("season", form.season, Season::from_key)?;
    let it = Tint { tree: known_tree(store, form.tree)?, season, colour, measured };
    store.transact(&Act::Tint(it.tree.clone()), |change| change.set_tint(&it))?;
    Ok(())
}

/// How strong a tree is, as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct VigourForm<'a> {
    pub tree: &'a str,
    /// Empty for today.
    pub day: &'a str,
    pub strength: &'a str,
    pub why: &'a str,
}

/// Writes down how strong a tree was judged.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn vigour(store: &mut Store, form: VigourForm<'_>, today: Date) -> Result<(), FormError> {
    let it = Vigour {
        tree: known_tree(store, form.tree)?,
        day: day_or_today(form.day, today)?,
        strength: word("strength", form.strength, Strength::from_key)?,
        why: text("why", form.why, LONG)?,
    };
    store.transact(&Act::Vigour(it.tree.clone()), |change| change.add_vigour(&it))?;
    Ok(())
}

/// What is meant for a tree this season, as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct MeantForm<'a> {
    pub tree: &'a str,
    pub season: &'a str,
    /// `yes` or `no`; empty drops what is meant, and the signs decide.
    pub repot: &'a str,
    /// Per cent of the roots; empty for today's usual.
    pub cut: &'a str,
    pub mix: &'a str,
    /// A pot is wanted, not a training pot.
    pub show: bool,
    pub why: &'a str,
}

/// Keeps what is meant for a tree in a season.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn meant(store: &mut Store, form: MeantForm<'_>, today: Date) -> Result<(), FormError> {
    let repot = match form.repot.trim() {
        "" => return clear_meant(store, form.tree, form.season).map(drop),
        "yes" => true,
        "no" => false,
        other => return Err(bad("repot", other, "is not yes or no")),
    };
    let it = Meant {
        tree: known_tree(store, form.tree)?,
        season: season(form.season, today)?,
        repot,
        cut: match form.cut.trim() {
            "" => None,
            typed => Some(percent("cut", typed, MOST_CUT)?),
        },
        mix: match form.mix.trim() {
            "" => None,
            key => Some(known_mix(&store.reader()?, key)?),
        },
        show: form.show,
        why: text("why", form.why, LONG)?,
    };
    store.transact(&Act::Mean(it.tree.clone()), |change| change.set_meant(&it))?;
    Ok(())
}

/// Drops what is meant for a tree in a season, so that the signs decide; false if nothing was meant.
///
/// # Errors
///
/// [`FormError`] when the tree is not known.
pub fn clear_meant(store: &mut Store, tree: &str, season: &str) -> Result<bool, FormError> {
    let tree = known_tree(store, tree)?;
    let year = season.trim().parse().map_err(|_| bad("season", season, "is not a year"))?;
    Ok(store.transact(&Act::Mean(tree.clone()), |change| change.clear_meant(&tree, year))?)
}

/// A look at a tree in its pot, as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct PotLookForm<'a> {
    pub tree: &'a str,
    /// Empty for today.
    pub day: &'a str,
    /// Seconds that the last of three passes of water took to drain.
    pub drained: &'a str,
    pub twice_a_day: bool,
    pub rocks: bool,
    pub roots: bool,
    pub crumbled: bool,
    pub falling: bool,
    pub note: &'a str,
}

/// Writes down a look at a tree in its pot.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed, or when nothing was seen.
pub fn pot_look(store: &mut Store, form: PotLookForm<'_>, today: Date) -> Result<(), FormError> {
    let it = PotLook {
        tree: known_tree(store, form.tree)?,
        day: day_or_today(form.day, today)?,
        drained: match form.drained.trim() {
            "" => None,
            typed => Some(Seconds(number("drained in", typed, DRAINED[0], DRAINED[1])?)),
        },
        twice_a_day: form.twice_a_day,
        rocks: form.rocks,
        roots: form.roots,
        crumbled: form.crumbled,
        falling: form.falling,
        note: text("note", form.note, LONG)?,
    };
    let nothing = PotLook { tree: it.tree.clone(), day: it.day, ..PotLook::default() };
    if it == nothing {
        return Err(bad("seen", "", "is empty; tick what was seen, or tell a drain time or a note"));
    }
    store.transact(&Act::PotLook(it.tree.clone()), |change| change.add_pot_look(&it))?;
    Ok(())
}

/// What a tree had to bear, as typed; a share in per cent (50 for half), a count as a whole number.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct TollForm<'a> {
    pub tree: &'a str,
    /// Empty for today.
    pub day: &'a str,
    pub what: &'a str,
    pub amount: &'a str,
    pub note: &'a str,
    pub asked: Asked<'a>,
}

/// Writes down what a tree had to bear that no other record tells.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed, also when the very same stands already.
pub fn toll(store: &mut Store, form: TollForm<'_>, today: Date) -> Result<(), FormError> {
    let kind = word("what", form.what, |key| KINDS.iter().find(|kind| kind.key == key))?;
    let amount = match kind.amount {
        // A number left in the form from another choice means nothing here.
        Amount::None => None,
        Amount::Share => Some(percent("amount", form.amount, 100.0)?.0),
        Amount::Count => Some(number("amount", form.amount, TOLL_COUNT[0], TOLL_COUNT[1])?),
    };
    let what = insult(kind.key, amount)
        .ok_or_else(|| bad("amount", form.amount, "is not a whole number from 1 to 500"))?;
    let it = Toll {
        tree: known_tree(store, form.tree)?,
        day: day_or_today(form.day, today)?,
        what,
        note: form.asked.note(kind.words, text("note", form.note, LONG)?)?,
    };
    let added = store.transact(&Act::Toll(it.tree.clone()), |change| change.add_toll(&it))?;
    if added { Ok(()) } else { Err(bad("what", kind.words, "is written down for that day already")) }
}

/// A line that can be taken back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShelfLine {
    /// The size of this day.
    Stature(Date),
    /// The judgement of this day.
    Vigour(Date),
    /// The look at the pot of this day.
    PotLook(Date),
    /// The repot of this day, with its work and the pot it put the tree in.
    Repot(Date),
    /// The toll of this number.
    Toll(i64),
}

impl ShelfLine {
    /// What goes by this word, with its day or number.
    pub fn from_key(what: &str, which: &str) -> Option<ShelfLine> {
        let day = || which.parse().ok();
        Some(match what {
            "stature" => ShelfLine::Stature(day()?),
            "vigour" => ShelfLine::Vigour(day()?),
            "pot-look" => ShelfLine::PotLook(day()?),
            "repot" => ShelfLine::Repot(day()?),
            "toll" => ShelfLine::Toll(which.parse().ok()?),
            _ => return None,
        })
    }
}

/// Takes back a line of a tree, whole or not at all.
///
/// # Errors
///
/// [`FormError`] when it is not one of this tree, or the pot that it stood in before holds another tree by now.
pub fn take_back(store: &mut Store, tree: &str, line: ShelfLine) -> Result<(), FormError> {
    let tree = known_tree(store, tree)?;
    if let ShelfLine::Toll(id) = line {
        let own = store.reader()?.tolls()?.iter().any(|(number, it)| *number == id && it.tree == tree);
        if !own {
            return Err(bad("toll", &id.to_string(), "is not one of this tree"));
        }
    }
    if let ShelfLine::Repot(day) = line {
        return take_back_repot(store, &tree, day).map(drop);
    }
    Ok(store.transact(&Act::TakeBack(tree.clone()), |change| match line {
        ShelfLine::Stature(day) => change.remove_stature(&tree, day),
        ShelfLine::Vigour(day) => change.remove_vigour(&tree, day),
        ShelfLine::PotLook(day) => change.remove_pot_look(&tree, day),
        ShelfLine::Repot(day) => change.remove_repot(&tree, day),
        ShelfLine::Toll(id) => change.remove_toll(id),
    })?)
}
