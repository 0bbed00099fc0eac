//! Whatever is typed into a form is taken whole or refused, and a refusal writes nothing.

use intake::{
    asked::Asked,
    bucket::{self, CrownForm, PottedForm},
    limbs::{
        CaliperForm, caliper,
        front::{FrontForm, front},
        layer::{LayerForm, begin},
        plan::{CutForm, WishForm, cut, intend},
        wire::{WireForm, put_on},
    },
    looks::{self, LeafForm, LookForm},
    record::{self, PlaceForm, TreeForm, WorkForm},
    round::{AwayForm, RoundLine, away, walk},
    shelf::{
        Against, PotForm, PotLookForm, RepotForm, StatureForm, TintForm, TollForm, VigourForm, add_pot,
        pot_look, repot, stature, tint, toll, vigour,
    },
};
use measure::quantity::{Share, Units};
use store::store::Store;

use super::{
    cells,
    collection::{TODAY, whole_or_nothing},
};

const METRIC: Units = Units::Metric;

/// A form's name on the first line and its fields below, one a line.
pub fn forms(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let (name, fields) = text.split_once('\n').unwrap_or((&text, ""));
    whole_or_nothing(|store| {
        of_trees(store, name, fields)
            .or_else(|| of_limbs(store, name, fields))
            .or_else(|| of_pots(store, name, fields))
            .unwrap_or(true)
    });
}

/// Forms of trees, places and rounds; none where the name is another's.
fn of_trees(store: &mut Store, name: &str, fields: &str) -> Option<bool> {
    Some(match name.trim() {
        "look" => {
            let [tree, day, stage, sureness, note] = cells::<5>(fields);
            looks::look(store, LookForm { tree, day, stage, sureness, note, despite: note }, TODAY).is_ok()
        }
        "leaves" => {
            let [tree, day, leaf, sureness, note] = cells::<5>(fields);
            looks::leaves(store, LeafForm { tree, day, leaf, sureness, note, despite: note }, TODAY).is_ok()
        }
        "moves" => {
            let [tree, place, day] = cells::<3>(fields);
            record::moves(store, &[tree.to_string()], [place, day], Asked::default(), TODAY).is_ok()
        }
        "work" => {
            let [tree, day, kind, note, roots] = cells::<5>(fields);
            let form = WorkForm { tree, day, kind, roots, note, asked: Asked::default() };
            record::work(store, form, TODAY).is_ok()
        }
        "add_tree" => {
            let [name, taxon, confidence, since, worth, note, place, day] = cells::<8>(fields);
            let form = TreeForm {
                key: "",
                name,
                taxon,
                confidence,
                candidates: note,
                since,
                worth,
                note,
                revision: "",
            };
            record::add_tree(store, form, place, day, TODAY).is_ok()
        }
        "add_place" => {
            let [name, shelter, facing, lamp_flux, lamp_hours, capacity] = cells::<6>(fields);
            let form = PlaceForm { name, shelter, facing, lamp_flux, lamp_hours, capacity };
            record::add_place(store, form).is_ok()
        }
        "away" => {
            let [words, first, last, leaves, back, weekday] = cells::<6>(fields);
            let weekdays = if weekday.is_empty() { Vec::new() } else { vec![weekday.to_string()] };
            away(store, AwayForm { words, first, last, weekdays: &weekdays, leaves, back }).is_ok()
        }
        "walk" => {
            let [tree, deed, remark, weight, hand] = cells::<5>(fields);
            walk(store, &[RoundLine { tree, deed, remark, weight, sure: false }], 1_774_710_000, hand).is_ok()
        }
        _ => return None,
    })
}

/// Forms of branches; none where the name is another's.
fn of_limbs(store: &mut Store, name: &str, fields: &str) -> Option<bool> {
    Some(match name.trim() {
        "caliper" => {
            let [tree, limb, day, along, thick] = cells::<5>(fields);
            caliper(store, CaliperForm { tree, limb, day, along, thick }, METRIC, TODAY).is_ok()
        }
        "front" => {
            let [tree, rank, clock, sideways, forward, why] = cells::<6>(fields);
            front(store, FrontForm { tree, rank, clock, sideways, forward, why }).is_ok()
        }
        "layer" => {
            let [tree, limb, way, day, note] = cells::<5>(fields);
            begin(store, LayerForm { tree, limb, way, day, note, asked: Asked::default() }, TODAY).is_ok()
        }
        "cut" => {
            let [tree, limb, day, kind, nodes, wound, despite, note] = cells::<8>(fields);
            let asked = Asked { against: None, despite };
            let form = CutForm { tree, limb, day, kind, nodes, wound, asked, note, sealed: false };
            cut(store, form, METRIC, TODAY).is_ok()
        }
        "wish" => {
            let [tree, limb, wish, until, nodes, by, which, why] = cells::<8>(fields);
            intend(store, WishForm { tree, limb, wish, until, nodes, by, which, why }, METRIC, TODAY).is_ok()
        }
        "wire" => {
            let [tree, limb, on, metal, gauge, strands, thick, bend, note] = cells::<9>(fields);
            let form =
                WireForm { tree, limb, on, metal, gauge, strands, thick, bend, note, ..WireForm::default() };
            put_on(store, form, METRIC, TODAY).is_ok()
        }
        _ => return None,
    })
}

/// Forms of pots and repots; none where the name is another's.
fn of_pots(store: &mut Store, name: &str, fields: &str) -> Option<bool> {
    Some(match name.trim() {
        "mix" => {
            let [name, low, high] = cells::<3>(fields);
            bucket::add_mix(store, name, [low, high]).is_ok()
        }
        "potted" => {
            let [tree, pot, mix, day] = cells::<4>(fields);
            bucket::pot(store, PottedForm { tree, pot, mix, day }, TODAY).is_ok()
        }
        "crown" => {
            let [tree, day, length, width] = cells::<4>(fields);
            bucket::crown(store, CrownForm { tree, day, length, width }, METRIC, TODAY).is_ok()
        }
        "pot" => {
            let [name, shape, outline, length, width, height, finish, empty, paid, bought, count] =
                cells::<11>(fields);
            let form = PotForm {
                name,
                shape,
                outline,
                length,
                width,
                height,
                finish,
                empty,
                paid,
                bought,
                count,
                ..PotForm::default()
            };
            add_pot(store, &form, METRIC, TODAY).is_ok()
        }
        "repot" => {
            let [tree, pot, mix, day, cut, proud, clock, took, note, despite] = cells::<10>(fields);
            let form = RepotForm {
                tree,
                pot,
                mix,
                day,
                cut,
                proud,
                clock,
                took,
                note,
                despite,
                ..RepotForm::default()
            };
            let against = Against { limit: Some(Share(0.4)), unfit: None, verdict: None };
            repot(store, &form, None, against, METRIC, TODAY).is_ok()
        }
        "stature" => {
            let [tree, day, height, trunk] = cells::<4>(fields);
            stature(store, StatureForm { tree, day, height, trunk }, METRIC, TODAY).is_ok()
        }
        "tint" => {
            let [tree, season, swatch, l, a, b] = cells::<6>(fields);
            tint(store, TintForm { tree, season, swatch, l, a, b }).is_ok()
        }
        "vigour" => {
            let [tree, day, strength, why] = cells::<4>(fields);
            vigour(store, VigourForm { tree, day, strength, why }, TODAY).is_ok()
        }
        "pot_look" => {
            let [tree, day, drained, note] = cells::<4>(fields);
            pot_look(store, PotLookForm { tree, day, drained, note, ..PotLookForm::default() }, TODAY).is_ok()
        }
        "toll" => {
            let [tree, day, what, amount, note] = cells::<5>(fields);
            toll(store, TollForm { tree, day, what, amount, note, asked: Asked::default() }, TODAY).is_ok()
        }
        _ => return None,
    })
}
