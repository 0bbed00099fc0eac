//! Rows of limbs as a sheet writes them, so that what stands can be held against a row.

use std::collections::HashMap;

use collection::{limb::Limb, photo::path_key};
use store::{change::Change, error::Error, reader::Reader};

use super::{LimbRow, LimbSheet};
use crate::sheet::{Cells, Entry, entry::cell};

impl LimbSheet {
    /// Whether a row of this sheet can change a record that stands.
    pub(crate) fn changes(self) -> bool {
        !matches!(self, LimbSheet::Calipers | LimbSheet::Intentions | LimbSheet::Cuts)
    }
}

impl LimbSheet {
    /// The records of this kind that stand.
    pub(crate) fn standing(self, reader: &Reader) -> Result<Vec<LimbRow>, Error> {
        fn rows<T>(standing: Vec<T>, row: impl Fn(T) -> LimbRow) -> Vec<LimbRow> {
            standing.into_iter().map(row).collect()
        }
        Ok(match self {
            LimbSheet::Limbs => rows(reader.limbs()?, LimbRow::Limb),
            LimbSheet::Calipers => rows(reader.calipers()?, |(_, it)| LimbRow::Caliper(it)),
            LimbSheet::Fronts => rows(reader.fronts()?, LimbRow::Front),
            LimbSheet::Aims => rows(reader.aims()?, LimbRow::Aim),
            LimbSheet::Intentions => rows(reader.intentions()?, |(_, it)| LimbRow::Intention(it)),
            LimbSheet::Cuts => rows(reader.cuts()?, |(_, it)| LimbRow::Cut(it)),
            LimbSheet::Wires => rows(reader.wires()?, |(_, it)| LimbRow::Wire(it)),
            LimbSheet::Coils => rows(reader.coils()?, LimbRow::Coil),
            LimbSheet::Layers => rows(reader.layers()?, |(_, it)| LimbRow::Layer(it)),
            LimbSheet::Wounds => rows(reader.wounds()?, |(_, it)| LimbRow::Wound(it)),
            LimbSheet::Scales => {
                let scaled =
                    reader.photos()?.into_iter().filter(|it| it.scale.is_some() || it.soil.is_some());
                scaled.map(|it| LimbRow::Scale(it.key, it.scale, it.soil)).collect()
            }
            LimbSheet::Traces => rows(reader.traces()?, LimbRow::Trace),
        })
    }
}

impl LimbRow {
    /// The numbers by which records of this kind are changed, by what no two of them share.
    pub(crate) fn numbers(&self, reader: &Reader) -> Result<HashMap<String, i64>, Error> {
        let row: Vec<(i64, LimbRow)> = match self {
            LimbRow::Wire(_) => reader.wires()?.into_iter().map(|(id, it)| (id, LimbRow::Wire(it))).collect(),
            LimbRow::Layer(_) => {
                reader.layers()?.into_iter().map(|(id, it)| (id, LimbRow::Layer(it))).collect()
            }
            LimbRow::Wound(_) => {
                reader.wounds()?.into_iter().map(|(id, it)| (id, LimbRow::Wound(it))).collect()
            }
            _ => Vec::new(),
        };
        Ok(row.into_iter().map(|(id, it)| (it.identity(), id)).collect())
    }

    /// Whether it would change what is over: since when a limb is known, or when it came off.
    pub(crate) fn is_past(&self, stood: &LimbRow) -> bool {
        let (LimbRow::Limb(told), LimbRow::Limb(stood)) = (self, stood) else { return false };
        told.since != stood.since || (stood.gone.is_some() && told.gone != stood.gone)
    }

    /// Changes the record that stands, known by its number where it has one.
    pub(crate) fn put(&self, change: &Change<'_>, number: Option<i64>) -> Result<bool, Error> {
        match (self, number) {
            (LimbRow::Wire(it), Some(id)) => change.change_wire(id, it).map(|()| true),
            (LimbRow::Layer(it), Some(id)) => change.change_layer(id, it).map(|()| true),
            (LimbRow::Wound(it), Some(id)) => change.change_wound(id, it).map(|()| true),
            _ => self.add(change),
        }
    }
}

fn yes(is: bool) -> String {
    if is { "yes".into() } else { "no".into() }
}

fn limb_cells(it: &Limb) -> Cells {
    vec![
        ("bearer", cell(it.bearer)),
        ("name", it.name.clone()),
        ("clock", cell(it.clock.map(|it| it.hour()))),
        ("tips", cell(it.tips.map(|it| it.key()))),
        ("since", it.since.to_string()),
        ("gone", cell(it.gone)),
    ]
}

impl Entry for LimbRow {
    fn identity(&self) -> String {
        match self {
            LimbRow::Limb(it) => format!("{} {}", it.tree, it.number),
            LimbRow::Caliper(it) => {
                format!("{} {} {} {} {}", it.tree, it.limb, it.day, it.along.0, it.thick.0)
            }
            LimbRow::Front(it) => format!("{} {}", it.tree, it.rank),
            LimbRow::Aim(it) => it.tree.clone(),
            LimbRow::Intention(it) => format!("{} {} {} {}", it.tree, it.limb, it.made, it.wish.key()),
            LimbRow::Cut(it) => format!("{} {} {} {}", it.tree, it.limb, it.day, it.kind.key()),
            LimbRow::Wire(it) => {
                format!("{} {} {} {} {}", it.tree, it.limb, it.on, it.metal.key(), it.gauge.0)
            }
            LimbRow::Coil(it) => format!("{} {}", it.metal.key(), it.gauge.0),
            LimbRow::Layer(it) => format!("{} {} {} {}", it.tree, it.limb, it.way.key(), it.day),
            LimbRow::Wound(it) => format!("{} {} {} {}", it.tree, it.limb, it.day, it.wide.0),
            LimbRow::Scale(photo, ..) => photo.clone(),
            LimbRow::Trace(it) => format!("{} {}", it.photo, it.limb),
        }
    }

    fn cells(&self) -> Cells {
        match self {
            LimbRow::Limb(it) => limb_cells(it),
            LimbRow::Caliper(_) => Vec::new(),
            LimbRow::Front(it) => vec![
                ("clock", it.clock.hour().to_string()),
                ("sideways", it.sideways.0.to_string()),
                ("forward", it.forward.0.to_string()),
                ("why", it.why.clone()),
            ],
            LimbRow::Aim(it) => vec![
                ("high", cell(it.high.map(|mm| mm.0))),
                ("trunk", cell(it.trunk.map(|mm| mm.0))),
                ("words", it.words.clone()),
            ],
            LimbRow::Intention(it) => vec![
                ("season", it.season.to_string()),
                ("until", cell(it.until.map(|mm| mm.0))),
                ("nodes", cell(it.nodes)),
                ("by", cell(it.by)),
                ("which", it.which.clone()),
                ("why", it.why.clone()),
                ("ended", cell(it.ended)),
                ("end", it.end.clone()),
            ],
            LimbRow::Cut(it) => vec![
                ("nodes", cell(it.nodes)),
                ("broke", cell(it.broke.map(|it| it[0]))),
                ("buds", cell(it.broke.map(|it| it[1]))),
                ("despite", it.despite.clone()),
                ("note", it.note.clone()),
            ],
            LimbRow::Wire(it) => vec![
                ("strands", it.strands.to_string()),
                ("thick", cell(it.thick.map(|mm| mm.0))),
                ("bend", cell(it.bend.map(|mm| mm.0))),
                ("seen", cell(it.seen)),
                ("off", cell(it.off)),
                ("outcome", cell(it.outcome.map(|it| it.key()))),
                ("grown_in", yes(it.grown_in)),
                ("note", it.note.clone()),
            ],
            LimbRow::Coil(it) => vec![("grams", it.left.0.to_string())],
            LimbRow::Layer(it) => vec![
                ("seen", cell(it.seen)),
                ("roots", cell(it.roots.map(|it| it.key()))),
                ("apart", cell(it.apart)),
                ("child", cell(it.child.as_ref())),
                ("lean", cell(it.lean.map(|it| it.0))),
                ("note", it.note.clone()),
            ],
            LimbRow::Wound(it) => {
                vec![("sealed", yes(it.sealed)), ("closed", cell(it.closed)), ("note", it.note.clone())]
            }
            LimbRow::Scale(_, scale, soil) => {
                vec![("scale", cell(scale.as_ref().map(|it| it.key()))), ("soil", cell(*soil))]
            }
            LimbRow::Trace(it) => vec![("points", path_key(&it.points))],
        }
    }

    fn adopt(self, stands: &LimbRow) -> LimbRow {
        match (self, stands) {
            (LimbRow::Wire(mut it), LimbRow::Wire(stood)) => {
                it.photo.clone_from(&stood.photo);
                LimbRow::Wire(it)
            }
            (row, _) => row,
        }
    }
}
