//! What is written down of each tree's limbs, gathered tree by tree.

use std::collections::HashMap;

use collection::{
    intention::{self, Cut, Intention},
    layer::{Layer, Wound},
    limb::{Aim, Caliper, Front, Limb},
    photo::{Photo, Stroke, Trace},
    wire::Wire,
};
use jiff::civil::Date;
use store::reader::Reader;

/// A tree's limbs and everything written down about them up to a day; numbers are those of the store's rows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shape {
    /// The limbs, the trunk first.
    pub limbs: Vec<Limb>,
    /// Its photos, by day.
    pub photos: Vec<Photo>,
    /// Lines on its photos.
    pub traces: Vec<Trace>,
    /// Strokes that mend the outlines, by photo.
    pub brushes: Vec<(String, Vec<Stroke>)>,
    /// Diameters, by day.
    pub calipers: Vec<(i64, Caliper)>,
    /// Today's front and the candidates.
    pub fronts: Vec<Front>,
    /// What the grower is after.
    pub aim: Option<Aim>,
    /// Rules switched off.
    pub rules_off: Vec<String>,
    /// What is and was meant, by day.
    pub intentions: Vec<(i64, Intention)>,
    /// Cuts, by day.
    pub cuts: Vec<(i64, Cut)>,
    /// Wires, by day.
    pub wires: Vec<(i64, Wire)>,
    /// Layers, by day.
    pub layers: Vec<(i64, Layer)>,
    /// Wounds, by day.
    pub wounds: Vec<(i64, Wound)>,
}

impl Shape {
    /// The limbs on the tree on a day.
    pub fn alive(&self, day: Date) -> impl Iterator<Item = &Limb> {
        self.limbs.iter().filter(move |limb| limb.gone.is_none_or(|gone| day < gone))
    }

    /// The limb of a number.
    pub fn limb(&self, number: u32) -> Option<&Limb> {
        self.limbs.iter().find(|limb| limb.number == number)
    }

    /// What the grower calls a limb.
    pub fn name_of(&self, number: u32) -> String {
        self.limb(number).map_or_else(|| format!("branch {number}"), |limb| limb.name.clone())
    }

    /// The limb that bears one.
    pub fn bearer(&self, number: u32) -> Option<u32> {
        self.limb(number).and_then(|limb| limb.bearer)
    }

    /// What a limb is meant for on a day.
    pub fn meant(&self, number: u32, day: Date) -> Option<&Intention> {
        intention::meant(self.intentions.iter().map(|(_, it)| it), number, day, |limb| self.bearer(limb))
    }
}

/// Gathers the shapes of all trees by rank.
///
/// # Errors
///
/// [`store::error::Error`] when the collection cannot be read.
pub fn shapes(
    reader: &Reader,
    ranks: &HashMap<String, usize>,
    today: Date,
) -> Result<Vec<Shape>, store::error::Error> {
    let mut shapes = vec![Shape::default(); ranks.len()];
    let has_come = |day: Date| day <= today;
    for it in reader.limbs()?.into_iter().filter(|it| has_come(it.since)) {
        if let Some(&tree) = ranks.get(&it.tree) {
            shapes[tree].limbs.push(it);
        }
    }
    let mut photo_of = HashMap::new();
    for it in reader.photos()?.into_iter().filter(|it| has_come(it.day)) {
        if let Some(&tree) = ranks.get(&it.tree) {
            photo_of.insert(it.key.clone(), tree);
            shapes[tree].photos.push(it);
        }
    }
    for it in reader.traces()? {
        if let Some(&tree) = photo_of.get(&it.photo) {
            shapes[tree].traces.push(it);
        }
    }
    for it in reader.brushes()? {
        if let Some(&tree) = photo_of.get(&it.0) {
            shapes[tree].brushes.push(it);
        }
    }
    for it in reader.fronts()? {
        if let Some(&tree) = ranks.get(&it.tree) {
            shapes[tree].fronts.push(it);
        }
    }
    for it in reader.aims()? {
        if let Some(&tree) = ranks.get(&it.tree) {
            shapes[tree].aim = Some(it);
        }
    }
    for (tree, rule) in reader.rules_off()? {
        if let Some(&tree) = ranks.get(&tree) {
            shapes[tree].rules_off.push(rule);
        }
    }
    fn give<T>(
        shapes: &mut [Shape],
        ranks: &HashMap<String, usize>,
        rows: Vec<(i64, T)>,
        tree: impl Fn(&T) -> &str,
        own: impl Fn(&mut Shape) -> &mut Vec<(i64, T)>,
    ) {
        for row in rows {
            if let Some(&rank) = ranks.get(tree(&row.1)) {
                own(&mut shapes[rank]).push(row);
            }
        }
    }
    let mut calipers = reader.calipers()?;
    calipers.retain(|(_, it)| has_come(it.day));
    give(&mut shapes, ranks, calipers, |it| &it.tree, |shape| &mut shape.calipers);
    let mut intentions = reader.intentions()?;
    intentions.retain(|(_, it)| has_come(it.made));
    give(&mut shapes, ranks, intentions, |it| &it.tree, |shape| &mut shape.intentions);
    let mut cuts = reader.cuts()?;
    cuts.retain(|(_, it)| has_come(it.day));
    give(&mut shapes, ranks, cuts, |it| &it.tree, |shape| &mut shape.cuts);
    let mut wires = reader.wires()?;
    wires.retain(|(_, it)| has_come(it.on));
    wires.iter_mut().for_each(|(_, it)| it.seen = it.seen.filter(|day| has_come(*day)));
    give(&mut shapes, ranks, wires, |it| &it.tree, |shape| &mut shape.wires);
    let mut layers = reader.layers()?;
    layers.retain(|(_, it)| has_come(it.day));
    for (_, it) in layers.iter_mut().filter(|(_, it)| !it.seen.is_none_or(has_come)) {
        (it.seen, it.roots) = (None, None);
    }
    give(&mut shapes, ranks, layers, |it| &it.tree, |shape| &mut shape.layers);
    let mut wounds = reader.wounds()?;
    wounds.retain(|(_, it)| has_come(it.day));
    give(&mut shapes, ranks, wounds, |it| &it.tree, |shape| &mut shape.wounds);
    Ok(shapes)
}
