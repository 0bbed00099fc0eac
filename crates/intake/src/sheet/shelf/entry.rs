//! Rows of the shelf as a sheet writes them, so that what stands can be held against a row.

use collection::{
    repot::{Meant, PotLook, Repot},
    ware::{Glaze, Told, Ware},
};
use pot::colour::{space::Lab, swatch::SWATCHES};

use store::{error::Error, reader::Reader};

use super::{ShelfRow, ShelfSheet};
use crate::sheet::{Cells, Entry, entry::cell};

impl ShelfSheet {
    /// Whether a row of this sheet can change a record that stands.
    pub(crate) fn changes(self) -> bool {
        !matches!(
            self,
            ShelfSheet::Repots | ShelfSheet::Tolls | ShelfSheet::Reservations | ShelfSheet::Likings
        )
    }
}

impl ShelfSheet {
    /// The records of this kind that stand.
    pub(crate) fn standing(self, reader: &Reader) -> Result<Vec<ShelfRow>, Error> {
        fn rows<T>(standing: Vec<T>, row: impl Fn(T) -> ShelfRow) -> Vec<ShelfRow> {
            standing.into_iter().map(row).collect()
        }
        Ok(match self {
            ShelfSheet::Wares => rows(reader.wares()?, |it| ShelfRow::Ware(Box::new(it))),
            ShelfSheet::Grown => rows(reader.grown()?, ShelfRow::Grown),
            ShelfSheet::Statures => rows(reader.statures()?, ShelfRow::Stature),
            ShelfSheet::Tints => rows(reader.tints()?, ShelfRow::Tint),
            ShelfSheet::Vigours => rows(reader.vigours()?, ShelfRow::Vigour),
            ShelfSheet::PotLooks => rows(reader.pot_looks()?, ShelfRow::PotLook),
            ShelfSheet::Meant => rows(reader.meant()?, ShelfRow::Meant),
            ShelfSheet::Repots => rows(reader.repots()?, |it| ShelfRow::Repot(Box::new(it))),
            ShelfSheet::Tolls => rows(reader.tolls()?, |(_, it)| ShelfRow::Toll(it)),
            ShelfSheet::Reservations => rows(reader.reservations()?, ShelfRow::Reservation),
            ShelfSheet::Likings => rows(reader.likings()?, ShelfRow::Liking),
            ShelfSheet::Stock => rows(reader.stock()?, ShelfRow::Stock),
            ShelfSheet::Blends => rows(reader.blends()?, ShelfRow::Blend),
        })
    }
}

fn yes(is: bool) -> String {
    if is { "yes".into() } else { "no".into() }
}

/// A colour picked by its name, or read by its figures.
fn colour(lab: Lab, is_read: bool) -> Cells {
    match SWATCHES.iter().find(|swatch| !is_read && swatch.lab == lab) {
        Some(swatch) => vec![("swatch", swatch.key.into())],
        None => vec![("l", lab.l.to_string()), ("a", lab.a.to_string()), ("b", lab.b.to_string())],
    }
}

fn glaze(glaze: Option<Glaze>) -> Cells {
    let Some(Glaze { colour: lab, told }) = glaze else { return Vec::new() };
    match told {
        Told::Picked => colour(lab, false),
        Told::Measured { spread } => {
            let mut cells = colour(lab, true);
            cells.push(("spread", spread.to_string()));
            cells
        }
    }
}

fn ware(it: &Ware) -> Cells {
    let mut cells = vec![
        ("training", yes(it.training)),
        ("count", it.count.to_string()),
        ("shape", it.shape.key().into()),
        ("finish", it.finish.key().into()),
        ("fired", it.fired.key().into()),
        ("drain_holes", cell(it.drain_holes)),
        ("hole", cell(it.hole.map(|mm| mm.0))),
        ("tie_holes", cell(it.tie_holes)),
        ("feel", cell(it.feel.map(|it| it.key()))),
        ("features", it.features.to_string()),
        ("empty", cell(it.empty.map(|it| it.0))),
        ("maker", it.maker.clone()),
        ("mark", it.mark.clone()),
        ("kiln", it.kiln.clone()),
        ("origin", it.origin.clone()),
        ("era", it.era.clone()),
        ("bought", cell(it.bought)),
        ("paid", cell(it.paid.map(|it| it.words()))),
        ("seller", it.seller.clone()),
        ("condition", it.condition.clone()),
        ("worth", cell(it.worth.map(|(money, _)| money.words()))),
        ("worth_day", cell(it.worth.map(|(_, day)| day))),
        ("whereabouts", it.whereabouts.key().into()),
        ("spot", it.spot.clone()),
        ("note", it.note.clone()),
    ];
    cells.extend(glaze(it.glaze));
    cells
}

fn meant(it: &Meant) -> Cells {
    vec![
        ("repot", yes(it.repot)),
        ("cut", cell(it.cut.map(|it| it.0))),
        ("mix", cell(it.mix.as_ref())),
        ("show", yes(it.show)),
        ("why", it.why.clone()),
    ]
}

fn look(it: &PotLook) -> Cells {
    vec![
        ("drained", cell(it.drained.map(|it| it.0))),
        ("twice_a_day", yes(it.twice_a_day)),
        ("rocks", yes(it.rocks)),
        ("roots", yes(it.roots)),
        ("crumbled", yes(it.crumbled)),
        ("falling", yes(it.falling)),
        ("note", it.note.clone()),
    ]
}

fn repot(it: &Repot) -> Cells {
    let side = |at: usize| cell(it.pad.map(|pad| pad[at].0));
    vec![
        ("pot", it.pot.clone()),
        ("mix", it.mix.clone()),
        ("cut", it.cut.0.to_string()),
        ("bare", yes(it.bare)),
        ("found", it.found.clone()),
        ("proud", cell(it.proud.map(|mm| mm.0))),
        ("clock", cell(it.clock)),
        ("sideways", cell(it.lean.map(|lean| lean[0].0))),
        ("forward", cell(it.lean.map(|lean| lean[1].0))),
        ("pad_length", side(0)),
        ("pad_width", side(1)),
        ("pad_depth", side(2)),
        ("took", cell(it.took.map(|it| it.0))),
        ("note", it.note.clone()),
    ]
}

impl Entry for ShelfRow {
    fn identity(&self) -> String {
        self.name()
    }

    fn cells(&self) -> Cells {
        match self {
            ShelfRow::Ware(it) => ware(it),
            ShelfRow::Grown(it) => vec![
                ("style", cell(it.style.map(|it| it.key()))),
                ("kind", cell(it.kind.map(|it| it.key()))),
                ("feel", cell(it.feel.map(|it| it.key()))),
                ("age", cell(it.age.map(|it| it.key()))),
                ("shown", cell(it.shown.map(|it| it.key()))),
                ("asked", cell(it.asked.map(|it| it.words()))),
            ],
            ShelfRow::Stature(it) => {
                vec![("height", it.height.0.to_string()), ("trunk", it.trunk.0.to_string())]
            }
            ShelfRow::Tint(it) => colour(it.colour, it.measured),
            ShelfRow::Vigour(it) => vec![("strength", it.strength.key().into()), ("why", it.why.clone())],
            ShelfRow::PotLook(it) => look(it),
            ShelfRow::Meant(it) => meant(it),
            ShelfRow::Repot(it) => repot(it),
            ShelfRow::Toll(it) => vec![("note", it.note.clone())],
            ShelfRow::Reservation(it) => {
                vec![("said", it.said.key().into()), ("why", it.why.clone()), ("made", it.made.to_string())]
            }
            ShelfRow::Liking(_) => Vec::new(),
            ShelfRow::Stock(it) => vec![
                ("left", it.left.to_string()),
                ("pack", cell(it.pack)),
                ("delivery", cell(it.delivery)),
                ("day", it.day.to_string()),
            ],
            ShelfRow::Part(_, _, parts) => vec![("parts", parts.to_string())],
            ShelfRow::Blend(it) => {
                let mut parts = it.parts.clone();
                parts.sort_by_key(|(component, _)| component.key());
                let parts = parts.iter().map(|(component, parts)| format!("{} {parts}", component.key()));
                vec![("parts", parts.collect::<Vec<_>>().join(", "))]
            }
        }
    }

    fn adopt(self, stands: &ShelfRow) -> ShelfRow {
        match (self, stands) {
            (ShelfRow::Ware(mut it), ShelfRow::Ware(stood)) => {
                it.revision = stood.revision;
                ShelfRow::Ware(it)
            }
            (ShelfRow::Repot(mut it), ShelfRow::Repot(stood)) => {
                it.photo.clone_from(&stood.photo);
                ShelfRow::Repot(it)
            }
            (row, _) => row,
        }
    }

    fn follows(&self, stands: &ShelfRow) -> bool {
        matches!((self, stands), (ShelfRow::Stock(it), ShelfRow::Stock(stood)) if it.day > stood.day)
    }
}
