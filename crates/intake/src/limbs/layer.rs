//! Layers begun, looked at and cut off, and wounds sealed and closed.

use collection::{
    drink::Worth,
    event::Move,
    layer::{Layer, Way},
    tree::Tree,
};
use form::layer::Roots;
use jiff::civil::Date;
use measure::quantity::Degrees;
use store::store::{Act, Store};

use super::known_limb;
use crate::{
    asked::Asked,
    limits::{LEAN, NOTE},
    record::{FormError, bad, day, name, number, text},
};

/// A layer as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct LayerForm<'a> {
    pub tree: &'a str,
    pub limb: &'a str,
    pub way: &'a str,
    pub day: &'a str,
    pub note: &'a str,
    pub asked: Asked<'a>,
}

/// Writes down a layer begun on a limb.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn begin(store: &mut Store, form: LayerForm<'_>, today: Date) -> Result<(), FormError> {
    let limb = known_limb(store, form.tree, form.limb)?;
    let layer = Layer {
        tree: limb.tree.clone(),
        limb: limb.number,
        way: Way::from_key(form.way).ok_or_else(|| bad("way", form.way, "is none we know"))?,
        day: day(form.day, today)?,
        seen: None,
        roots: None,
        apart: None,
        child: None,
        lean: None,
        note: form.asked.note(&format!("a layer on {}", limb.name), text("note", form.note, NOTE)?)?,
    };
    store.transact(&Act::Layer(limb.tree), |change| change.add_layer(&layer))?;
    Ok(())
}

fn known_layer(store: &Store, tree: &str, id: i64) -> Result<Layer, FormError> {
    let found = store.reader()?.layers()?.into_iter().find(|(number, it)| *number == id && it.tree == tree);
    found.map(|(_, layer)| layer).ok_or_else(|| bad("layer", &id.to_string(), "is not one of this tree"))
}

/// Writes down a look at a layer's roots.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn look(store: &mut Store, [tree, on, roots]: [&str; 3], id: i64, today: Date) -> Result<(), FormError> {
    let mut layer = known_layer(store, tree, id)?;
    layer.seen = Some(not_before(on, day(on, today)?, layer.day, "it was begun")?);
    layer.roots = Some(Roots::from_key(roots).ok_or_else(|| bad("roots", roots, "is nothing we know"))?);
    Ok(store.transact(&Act::Layer(tree.into()), |change| change.change_layer(id, &layer))?)
}

/// A day that is not before another.
fn not_before(typed: &str, on: Date, first: Date, what: &str) -> Result<Date, FormError> {
    if on < first {
        return Err(bad("day", typed, format!("is before {what}, {first}")));
    }
    Ok(on)
}

/// A new tree as typed when it is cut off its parent.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct ApartForm<'a> {
    pub tree: &'a str,
    pub id: i64,
    pub day: &'a str,
    pub name: &'a str,
    pub place: &'a str,
    pub lean: &'a str,
    pub asked: Asked<'a>,
}

/// Cuts a layer off its parent: the new tree gets a record of its own, with its parent and the lean it shall have.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed, and asking about what speaks against it.
pub fn apart(store: &mut Store, form: ApartForm<'_>, today: Date) -> Result<String, FormError> {
    let mut layer = known_layer(store, form.tree, form.id)?;
    if layer.apart.is_some() {
        return Err(bad("layer", form.name, "is cut off already"));
    }
    let on = not_before(
        form.day,
        day(form.day, today)?,
        layer.seen.unwrap_or(layer.day),
        "it was begun or last looked at",
    )?;
    let why = form.asked.note("cutting it off", String::new())?;
    let (key, shown) = name(form.name)?;
    let reader = store.reader()?;
    let parent = reader.trees()?.into_iter().find(|tree| tree.key == form.tree);
    let parent = parent.ok_or_else(|| bad("tree", form.tree, "is not in the collection"))?;
    if !reader.places()?.iter().any(|place| place.key == form.place) {
        return Err(bad("place", form.place, "is not in the collection"));
    }
    let lean = match form.lean.trim() {
        "" => None,
        told => Some(Degrees(number("lean", told, LEAN[0], LEAN[1])?)),
    };
    let why = if why.is_empty() { why } else { format!("; cut off early, {why}") };
    let child = Tree {
        key: key.clone(),
        name: shown,
        taxon: parent.taxon,
        candidates: parent.candidates.clone(),
        name_confidence: parent.name_confidence,
        since: Some(on),
        worth: Worth::Training,
        note: format!("{} off {}, begun {}{why}", layer.way.words(), parent.name, layer.day),
        revision: 0,
    };
    layer.apart = Some(on);
    layer.child = Some(key.clone());
    layer.lean = lean;
    let stay = Move { tree: key.clone(), place: form.place.to_string(), day: on };
    store.transact(&Act::Layer(form.tree.into()), |change| {
        if !change.add_tree(&child)? {
            return Err(bad("name", form.name, "is taken by another tree"));
        }
        change.add_move(&stay)?;
        change.change_layer(form.id, &layer)?;
        if layer.way != Way::Cutting {
            change.remove_limb(form.tree, layer.limb, on)?;
        }
        Ok::<(), FormError>(())
    })?;
    Ok(key)
}

/// Writes down that a wound was sealed or has closed.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn wound(
    store: &mut Store,
    tree: &str,
    id: i64,
    what: &str,
    on: &str,
    today: Date,
) -> Result<(), FormError> {
    let found = store.reader()?.wounds()?.into_iter().find(|(number, it)| *number == id && it.tree == tree);
    let (_, mut wound) = found.ok_or_else(|| bad("wound", &id.to_string(), "is not one of this tree"))?;
    match what {
        "sealed" => wound.sealed = true,
        "closed" => wound.closed = Some(not_before(on, day(on, today)?, wound.day, "it was made")?),
        other => return Err(bad("wound", other, "is not sealed or closed")),
    }
    Ok(store.transact(&Act::Wound(tree.into()), |change| change.change_wound(id, &wound))?)
}
