//! What rows tell of, held against what is in the collection: new, the same, a change that was asked for, or a refusal with both values.

use std::collections::{BTreeSet, HashMap};

use collection::{
    drink::Drink,
    event::{Look, Move, Work},
    key,
    place::Place,
    potting::{Crown, Mix, Pot, Potted},
    site::Site,
    tree::Tree,
};

use super::{Read, Row};
use crate::refusal::Refusal;

/// Cells of a record by their columns.
pub(crate) type Cells = Vec<(&'static str, String)>;

/// A record that a sheet can tell of.
pub(crate) trait Entry: Clone + PartialEq {
    /// What no two records share.
    fn identity(&self) -> String;

    /// Its cells as a sheet writes them, but for those of its identity.
    fn cells(&self) -> Cells;

    /// The record with what no sheet tells taken from the one that stands.
    fn adopt(self, _stands: &Self) -> Self {
        self
    }

    /// Whether it takes the place of the one that stands without being asked for, as a later count does.
    fn follows(&self, _stands: &Self) -> bool {
        false
    }
}

/// What may become of a record that a row tells differently.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Change {
    /// The row changes it: that was asked for.
    Asked,
    /// It may be asked for, and was not.
    NotAsked,
    /// No sheet changes it.
    Never,
}

/// A row that is to be written, and the record that it changes.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Taken<T> {
    pub line: usize,
    pub it: T,
    pub stood: Option<T>,
}

/// A sheet held against the collection.
pub(crate) struct Settled<T> {
    pub read: Read<Taken<T>>,
    /// Rows that say what stands already.
    pub same: usize,
}

/// A row of the sheet that names a record.
struct First<T> {
    line: usize,
    name: String,
    it: T,
}

/// Holds each row against the rows above it and against what stands; empty cells leave what stands as it is.
pub(crate) fn settle<T: Entry>(
    read: Read<Row>,
    take: impl Fn(&Row) -> Result<T, Refusal>,
    standing: Vec<T>,
    change: impl Fn(&T, &T) -> Change,
) -> Settled<T> {
    let standing: HashMap<String, T> = standing.into_iter().map(|it| (it.identity(), it)).collect();
    let mut seen: HashMap<String, First<T>> = HashMap::with_capacity(read.rows.len());
    let (mut rows, mut refused, mut same) = (Vec::with_capacity(read.rows.len()), read.refused, 0);
    for (line, row) in read.rows {
        let it = match take(&row) {
            Ok(it) => it,
            Err(why) => {
                refused.push(why);
                continue;
            }
        };
        let identity = it.identity();
        let name =
            row.columns.iter().position(|column| column.name == "name").map(|at| row.cells[at].clone());
        let name = name.unwrap_or_default();
        if let Some(first) = seen.get(&identity) {
            match first.it == it {
                true => same += 1,
                false => refused.push(twice(&row, &identity, first, &name)),
            }
            continue;
        }
        match standing.get(&identity) {
            None => rows.push((line, Taken { line, it: it.clone(), stood: None })),
            Some(stands) => match merged(&row, &take, stands, &change) {
                Ok(Some(it)) => rows.push((line, Taken { line, it, stood: Some(stands.clone()) })),
                Ok(None) => same += 1,
                Err(why) => refused.push(why),
            },
        }
        seen.insert(identity, First { line, name, it });
    }
    Settled { read: Read { rows, refused, notes: read.notes, readable: read.readable }, same }
}

/// Why a row cannot stand beside one further up that tells of the same.
fn twice<T>(row: &Row, identity: &str, first: &First<T>, name: &str) -> Refusal {
    let line = first.line;
    if first.name != name && key::from_name(name) == identity {
        let why = format!(
            "is too like “{}” on line {line}: both would be {identity} in addresses; add a word",
            first.name
        );
        return row.refuse(name, why);
    }
    row.refuse(identity, format!("this stands on line {line} already, with other details"))
}

/// The record that stands with what the row says of it; none where it says nothing new.
fn merged<T: Entry>(
    row: &Row,
    take: impl Fn(&Row) -> Result<T, Refusal>,
    stands: &T,
    change: impl Fn(&T, &T) -> Change,
) -> Result<Option<T>, Refusal> {
    let stood = stands.cells();
    let told = take(&row.over(&stood))?.adopt(stands);
    let gaps = differences(&stood, &told.cells());
    if gaps.is_empty() {
        return Ok(None);
    }
    let way = match change(stands, &told) {
        Change::Asked => return Ok(Some(told)),
        _ if told.follows(stands) => return Ok(Some(told)),
        Change::NotAsked => "choose to change what is in the collection (--update), or correct the row",
        Change::Never => "no sheet changes that; change it on its page, or leave the row out",
    };
    let why = format!("differs from what is in the collection: {}; {way}", gaps.join("; "));
    Err(row.refuse(&stands.identity(), why))
}

/// Each column that differs, with both values.
pub(crate) fn differences(stood: &Cells, told: &Cells) -> Vec<String> {
    fn full<'a>(cells: &'a Cells, name: &str) -> &'a str {
        cells.iter().find(|(column, _)| *column == name).map_or("", |(_, cell)| cell)
    }
    let shown = |cells: &Cells, name: &str| match full(cells, name) {
        "" => "empty".to_string(),
        cell if cell.chars().count() > SHOWN => {
            format!("“{}…”", cell.chars().take(SHOWN).collect::<String>())
        }
        cell => format!("“{cell}”"),
    };
    let mut listed = BTreeSet::new();
    let names = stood.iter().chain(told).map(|(name, _)| *name).filter(|name| listed.insert(*name));
    names
        .filter(|name| full(stood, name) != full(told, name))
        .map(|name| format!("{name} is {}, here {}", shown(stood, name), shown(told, name)))
        .collect()
}

/// Letters shown of a cell that differs.
const SHOWN: usize = 40;

/// A cell that may be empty.
pub(crate) fn cell<T: ToString>(value: Option<T>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}

impl Entry for Site {
    fn identity(&self) -> String {
        "the site".into()
    }

    fn cells(&self) -> Cells {
        vec![
            ("name", self.name.clone()),
            ("latitude", self.latitude.0.to_string()),
            ("longitude", self.longitude.0.to_string()),
            ("elevation", self.elevation.0.to_string()),
            ("zone", self.zone.clone()),
            ("units", self.units.key().into()),
        ]
    }
}

impl Entry for Place {
    fn identity(&self) -> String {
        self.key.clone()
    }

    fn cells(&self) -> Cells {
        vec![
            ("name", self.name.clone()),
            ("shelter", self.shelter.key().into()),
            ("facing", cell(self.facing.map(|it| it.key()))),
            ("lamp_umol", cell(self.lamp.map(|it| it.flux.0))),
            ("lamp_hours", cell(self.lamp.map(|it| it.hours.0))),
            ("capacity", cell(self.capacity)),
        ]
    }
}

impl Entry for Tree {
    fn identity(&self) -> String {
        self.key.clone()
    }

    fn cells(&self) -> Cells {
        vec![
            ("name", self.name.clone()),
            ("taxon", self.taxon.key.into()),
            ("confidence", self.name_confidence.key().into()),
            ("candidates", self.candidates.iter().map(|it| it.key).collect::<Vec<_>>().join("; ")),
            ("since", cell(self.since)),
            ("worth", self.worth.key().into()),
            ("note", self.note.clone()),
        ]
    }

    fn adopt(self, stands: &Tree) -> Tree {
        Tree { revision: stands.revision, ..self }
    }
}

impl Entry for Move {
    fn identity(&self) -> String {
        format!("{} {}", self.tree, self.day)
    }

    fn cells(&self) -> Cells {
        vec![("place", self.place.clone())]
    }
}

impl Entry for Look {
    fn identity(&self) -> String {
        let (stage, sureness) = (self.stage.code(), self.sureness.key());
        format!("{} {} {stage:02} {sureness} {}", self.tree, self.day, self.note)
    }

    fn cells(&self) -> Cells {
        Vec::new()
    }
}

impl Entry for Work {
    fn identity(&self) -> String {
        format!("{} {} {} {}", self.tree, self.day, self.kind.key(), self.note)
    }

    fn cells(&self) -> Cells {
        Vec::new()
    }
}

impl Entry for Pot {
    fn identity(&self) -> String {
        self.key.clone()
    }

    fn cells(&self) -> Cells {
        let vessel = &self.vessel;
        let (word, [length, width], shape) = vessel.top.key();
        let middle = vessel.middle.map(|middle| middle.key().1);
        let [bottom_length, bottom_width] = vessel.bottom.key().1;
        vec![
            ("name", self.name.clone()),
            ("outline", word.into()),
            ("length", length.0.to_string()),
            ("width", width.0.to_string()),
            ("height", vessel.height.0.to_string()),
            ("shape", cell(shape)),
            ("middle_length", cell(middle.map(|it| it[0].0))),
            ("middle_width", cell(middle.map(|it| it[1].0))),
            ("bottom_length", bottom_length.0.to_string()),
            ("bottom_width", bottom_width.0.to_string()),
            ("feet", vessel.feet.0.to_string()),
            ("floor", vessel.floor.0.to_string()),
            ("thick", vessel.wall.0.to_string()),
            ("lip", vessel.lip.0.to_string()),
            ("gap", vessel.gap.0.to_string()),
            ("measured", cell(vessel.measured.map(|it| it.0))),
            ("wall", self.wall.key().into()),
        ]
    }
}

impl Entry for Mix {
    fn identity(&self) -> String {
        self.key.clone()
    }

    fn cells(&self) -> Cells {
        let tested = self.tested;
        vec![
            ("name", self.name.clone()),
            ("grain_low", self.grain[0].0.to_string()),
            ("grain_high", self.grain[1].0.to_string()),
            ("height", cell(tested.map(|it| it.height.0))),
            ("volume", cell(tested.map(|it| it.volume.0))),
            ("dry", cell(tested.map(|it| it.dry.0))),
            ("flooded", cell(tested.map(|it| it.flooded.0))),
            ("drained", cell(tested.map(|it| it.drained.0))),
            ("inside", cell(tested.and_then(|it| it.inside).map(|it| it.0))),
        ]
    }
}

impl Entry for Potted {
    fn identity(&self) -> String {
        format!("{} {}", self.tree, self.day)
    }

    fn cells(&self) -> Cells {
        vec![("pot", self.pot.clone()), ("mix", self.mix.clone())]
    }
}

impl Entry for Crown {
    fn identity(&self) -> String {
        format!("{} {}", self.tree, self.day)
    }

    fn cells(&self) -> Cells {
        vec![("length", self.length.0.to_string()), ("width", self.width.0.to_string())]
    }
}

impl Entry for Drink {
    fn identity(&self) -> String {
        format!("{} {} {} {}", self.tree, self.at, self.deed.key(), self.hand)
    }

    fn cells(&self) -> Cells {
        vec![
            ("weight", cell(self.deed.grams().map(|it| it.0))),
            ("remark", cell(self.remark.map(|it| it.key()))),
        ]
    }
}
