//! One pot's record: all that is known of it, who stood in it, what is said of it, its photos, and the form to change it.

use collection::{
    money::Money,
    potting::Wall,
    ware::{PotSide, Whereabouts},
};
use jiff::civil::Date;
use measure::quantity::{Centimetre, Units};
use pot::{
    colour::swatch::{Kind, Swatch},
    fit::frame::{Feel, Finish, Fired, Shape},
};

use super::{PotLine, inside, line, long, rank_of, swatch_words, unit};
use crate::{whole::Whole, words};

/// A photo of the pot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PhotoLine {
    /// Its name in addresses.
    pub key: String,
    /// What it shows, and when.
    pub words: String,
    /// Whether it shows the front, off which a colour is read.
    pub is_front: bool,
    /// Pixels across and high.
    pub size: [u32; 2],
}

/// What a form starts from: field name and value.
pub type Filled = Vec<(&'static str, String)>;

/// The record.
#[derive(Clone, Debug, PartialEq)]
pub struct RecordPage {
    /// The pot as in the list.
    pub line: PotLine,
    /// The version an edit starts from.
    pub revision: u32,
    /// Facts: what, and what is written down.
    pub facts: Vec<(&'static str, String)>,
    /// What only the grower should see.
    pub private: Vec<(&'static str, String)>,
    /// Who stood in it, the last first: tree's key, name, since when.
    pub stood: Vec<(String, String, String)>,
    /// The tree in it today.
    pub tree: Option<(String, String)>,
    /// Photos.
    pub photos: Vec<PhotoLine>,
    /// A training pot.
    pub training: bool,
    /// Where it is while it is empty, as a key.
    pub whereabouts: &'static str,
    /// Trees to reserve it for, those that go this season first: key, name.
    pub trees: Vec<(String, String)>,
    /// The season that words on it are for.
    pub season: i16,
    /// Training pots that a tree may be moved to: key, name.
    pub boxes: Vec<(String, String)>,
    /// The form filled with what is known.
    pub filled: Filled,
    /// The lists of the form.
    pub lists: Lists,
    /// Today, for forms.
    pub today: Date,
}

/// Lists to choose from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lists {
    /// Outlines by which the volume is reckoned.
    pub outlines: Vec<(&'static str, &'static str)>,
    /// Shapes.
    pub shapes: Vec<(&'static str, &'static str)>,
    /// Finishes.
    pub finishes: Vec<(&'static str, &'static str)>,
    /// How hard it was fired.
    pub fired: Vec<(&'static str, &'static str)>,
    /// Feels.
    pub feels: Vec<(&'static str, &'static str)>,
    /// Usual colours.
    pub swatches: Vec<(&'static str, String, String)>,
    /// Where a pot may be.
    pub whereabouts: Vec<(&'static str, &'static str)>,
    /// What a photo may show.
    pub sides: Vec<(&'static str, &'static str)>,
    /// Unit of lengths.
    pub unit: &'static str,
}

/// The lists of the form.
pub fn lists(units: Units) -> Lists {
    Lists {
        outlines: vec![
            ("rectangle", "rectangle"),
            ("rounded-rectangle", "rectangle with round corners"),
            ("oval", "oval"),
            ("stadium", "straight sides, round ends"),
            ("round", "round"),
            ("hexagon", "hexagon"),
            ("octagon", "octagon"),
            ("superellipse", "between oval and rectangle"),
        ],
        shapes: Shape::ALL.map(|it| (it.key(), it.words())).to_vec(),
        finishes: Finish::ALL.map(|it| (it.key(), it.words())).to_vec(),
        fired: Fired::ALL.map(|it| (it.key(), it.words())).to_vec(),
        feels: Feel::ALL.map(|it| (it.key(), it.words())).to_vec(),
        swatches: Swatch::kind(Kind::Pot)
            .map(|it| (it.key, swatch_words(it.key), super::preview::hex(it.lab)))
            .collect(),
        whereabouts: Whereabouts::ALL.map(|it| (it.key(), it.words())).to_vec(),
        sides: PotSide::ALL.map(|it| (it.key(), it.words())).to_vec(),
        unit: unit(units),
    }
}

fn money(it: Option<Money>) -> String {
    it.map_or(String::new(), |it| it.words())
}

/// The record of a pot; none where there is no such pot.
pub fn record(whole: &Whole, key: &str) -> Option<RecordPage> {
    let rank = rank_of(whole, key)?;
    let (pot, ware, units) = (&whole.pots[rank], &whole.shelf.wares[rank], whole.units());
    let cm = |it: Centimetre| format!("{} {}", long(units, it), unit(units));
    let told =
        |words: &str| if words.is_empty() { "not written down".to_string() } else { words.to_string() };
    let count = |it: Option<u8>| it.map_or("not counted".to_string(), |it| it.to_string());
    let inner = pot.vessel.inner_height().map_or("no room inside".into(), |deep| {
        let [length, width] =
            pot.vessel.top.key().1.map(|it| Centimetre(it.0 - 2.0 * (pot.vessel.wall.0 + pot.vessel.lip.0)));
        format!("{} × {} × {}", long(units, length), long(units, width), cm(deep))
    });
    let facts = vec![
        ("Outside", line(whole, rank).size),
        ("Inside", inner),
        ("Takes", super::soil(units, pot)),
        ("Wall, feet", format!("{}, {}", cm(pot.vessel.wall), cm(pot.vessel.feet))),
        ("Drain and tie holes", format!("{}, {}", count(ware.drain_holes), count(ware.tie_holes))),
        ("Shape and finish", format!("{}, {}", ware.shape.words(), ware.finish.words())),
        ("Fired", ware.fired.words().to_string()),
        ("Feel", ware.feel.map_or("not judged".into(), |it| it.words().to_string())),
        ("Strong features", ware.features.to_string()),
        ("Colour", super::colour_words(ware).unwrap_or_else(|| "not measured, not picked".into())),
        ("Weight, empty", ware.empty.map_or("not weighed".into(), |it| weight(units, it.0))),
        ("Maker", told(&ware.maker)),
        ("Mark", told(&ware.mark)),
        ("Kiln or region", told(&ware.kiln)),
        ("Country", told(&ware.origin)),
        ("Age, and who says so", told(&ware.era)),
        ("Condition", told(&ware.condition)),
    ];
    let worth =
        ware.worth.map(|(it, day)| format!("{}, said on {}", it.words(), words::day(day, whole.today)));
    let bought = ware.bought.map(|day| words::day(day, whole.today));
    let private = vec![
        ("Worth", worth.unwrap_or_else(|| "not valued".into())),
        ("Paid", told(&money(ware.paid))),
        ("Bought", bought.unwrap_or_else(|| "not written down".into())),
        ("From", told(&ware.seller)),
        ("Note", told(&ware.note)),
    ];
    let mut stood: Vec<(Date, String, String)> = whole
        .trees
        .iter()
        .flat_map(|tree| tree.potted.iter().map(move |it| (tree, it)))
        .filter(|(_, (_, own, _))| *own == rank)
        .map(|(tree, (day, ..))| (*day, tree.tree.key.clone(), tree.tree.name.clone()))
        .collect();
    stood.sort_by_key(|it| std::cmp::Reverse(it.0));
    let since = |(day, key, name): (Date, String, String)| {
        (key, name, format!("from {}", words::day(day, whole.today)))
    };
    let photos = whole.shelf.photos.iter().filter(|it| it.pot == key).map(|it| PhotoLine {
        key: it.key.clone(),
        words: format!("{}, {}", it.side.words(), words::day(it.day, whole.today)),
        is_front: it.side == PotSide::Front,
        size: [it.wide, it.high],
    });
    let shared = super::shared::shared(whole);
    let mut trees: Vec<(bool, String, String)> = whole
        .trees
        .iter()
        .enumerate()
        .map(|(at, tree)| (!shared.goes(at), tree.tree.key.clone(), tree.tree.name.clone()))
        .collect();
    trees.sort();
    let tree = inside(whole, rank).next().map(|tree| (tree.tree.key.clone(), tree.tree.name.clone()));
    Some(RecordPage {
        revision: ware.revision,
        facts,
        private,
        stood: stood.into_iter().map(since).collect(),
        tree,
        photos: photos.collect(),
        training: ware.training,
        whereabouts: ware.whereabouts.key(),
        trees: trees.into_iter().map(|(_, key, name)| (key, name)).collect(),
        season: super::shared::season(whole),
        boxes: boxes(whole),
        filled: filled(whole, rank),
        lists: lists(units),
        today: whole.today,
        line: line(whole, rank),
    })
}

/// Training pots of which one is left: key and name.
pub(crate) fn boxes(whole: &Whole) -> Vec<(String, String)> {
    let left = |rank: &usize| {
        let ware = &whole.shelf.wares[*rank];
        ware.training && inside(whole, *rank).count() < usize::from(ware.count)
    };
    let named = |rank: usize| (whole.pots[rank].key.clone(), whole.pots[rank].name.clone());
    (0..whole.pots.len()).filter(left).map(named).collect()
}

/// A weight in the grower's units.
pub(crate) fn weight(units: Units, grams: f64) -> String {
    match units {
        Units::Metric if grams < 1000.0 => format!("{grams:.0} g"),
        Units::Metric => format!("{:.1} kg", grams / 1000.0),
        Units::Imperial => format!("{:.1} lb", grams / 453.592_37),
    }
}

fn filled(whole: &Whole, rank: usize) -> Filled {
    let (pot, ware, units) = (&whole.pots[rank], &whole.shelf.wares[rank], whole.units());
    let vessel = &pot.vessel;
    let (outline, [length, width], shape) = vessel.top.key();
    let [bottom_length, bottom_width] = vessel.bottom.key().1;
    // A figure with its unit reads back as the very same measure, whatever the reader's units.
    let cm = |it: Centimetre| match units {
        Units::Metric => format!("{:.1} cm", it.0),
        Units::Imperial => format!("{:.2} in", it.0 / 2.54),
    };
    let count = |it: Option<u8>| it.map_or(String::new(), |it| it.to_string());
    let lab = ware.glaze.map(|it| [it.colour.l, it.colour.a, it.colour.b].map(|it| format!("{it:.1}")));
    let [l, a, b] = lab.unwrap_or_default();
    let (worth, worth_day) =
        ware.worth.map_or((String::new(), String::new()), |(it, day)| (it.words(), day.to_string()));
    let wall = match pot.wall {
        Wall::Glazed => "",
        other => other.key(),
    };
    vec![
        ("name", pot.name.clone()),
        ("outline", outline.to_string()),
        (
            "corner",
            shape.map_or(String::new(), |it| match ware.shape {
                Shape::Mokko => it.to_string(),
                _ => cm(Centimetre(it)),
            }),
        ),
        ("length", cm(length)),
        ("width", cm(width)),
        ("height", cm(vessel.height)),
        ("bottom_length", cm(bottom_length)),
        ("bottom_width", cm(bottom_width)),
        ("feet", cm(vessel.feet)),
        ("floor", cm(vessel.floor)),
        ("thick", cm(vessel.wall)),
        ("lip", cm(vessel.lip)),
        ("gap", cm(vessel.gap)),
        (
            "measured",
            vessel.measured.map_or(String::new(), |it| match units {
                Units::Metric => format!("{} L", it.0),
                Units::Imperial => format!("{:.2} qt", it.0 / 0.946_352_946),
            }),
        ),
        ("shape", ware.shape.key().to_string()),
        ("finish", ware.finish.key().to_string()),
        ("clay", wall.to_string()),
        ("fired", ware.fired.key().to_string()),
        ("drain_holes", count(ware.drain_holes)),
        (
            "hole",
            ware.hole.map_or(String::new(), |it| match units {
                Units::Metric => format!("{:.1} mm", it.0),
                Units::Imperial => format!("{:.2} in", it.0 / 25.4),
            }),
        ),
        ("tie_holes", count(ware.tie_holes)),
        ("feel", ware.feel.map_or(String::new(), |it| it.key().to_string())),
        ("features", ware.features.to_string()),
        ("l", l),
        ("a", a),
        ("b", b),
        (
            "empty",
            ware.empty.map_or(String::new(), |it| match units {
                Units::Metric => format!("{} g", it.0),
                Units::Imperial => format!("{:.2} lb", it.0 / 453.592_37),
            }),
        ),
        ("maker", ware.maker.clone()),
        ("mark", ware.mark.clone()),
        ("kiln", ware.kiln.clone()),
        ("origin", ware.origin.clone()),
        ("era", ware.era.clone()),
        ("bought", ware.bought.map_or(String::new(), |it| it.to_string())),
        ("paid", money(ware.paid)),
        ("seller", ware.seller.clone()),
        ("condition", ware.condition.clone()),
        ("worth", worth),
        ("worth_day", worth_day),
        ("spot", ware.spot.clone()),
        ("training", if ware.training { "yes".into() } else { String::new() }),
        ("count", ware.count.to_string()),
        ("note", ware.note.clone()),
    ]
}

impl RecordPage {
    /// What the form starts from in a field.
    pub fn of(&self, name: &str) -> &str {
        self.filled.iter().find(|(field, _)| *field == name).map_or("", |(_, value)| value)
    }
}

/// A form for a pot that nobody wrote down yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Blank {
    /// The lists of the form.
    pub lists: Lists,
}

impl Blank {
    /// What the form starts from in a field.
    pub fn of(&self, name: &str) -> &str {
        match name {
            "fired" => "unknown",
            "count" => "1",
            _ => "",
        }
    }
}

/// A form for a new pot.
pub fn blank(units: Units) -> Blank {
    Blank { lists: lists(units) }
}

/// The page on which a grey card and a glaze are marked on a photo.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GlazePage {
    /// The photo's key.
    pub photo: String,
    /// The pot's key.
    pub pot: String,
    /// The pot's name.
    pub name: String,
    /// Pixels across.
    pub wide: u32,
    /// Pixels high.
    pub high: u32,
    /// The version of the pot's record.
    pub revision: u32,
}

/// The page of a photo of a pot; none where there is no such photo.
pub fn glaze(whole: &Whole, photo: &str) -> Option<GlazePage> {
    let photo = whole.shelf.photos.iter().find(|it| it.key == photo)?;
    let rank = rank_of(whole, &photo.pot)?;
    Some(GlazePage {
        photo: photo.key.clone(),
        pot: photo.pot.clone(),
        name: whole.pots[rank].name.clone(),
        wide: photo.wide,
        high: photo.high,
        revision: whole.shelf.wares[rank].revision,
    })
}

/// What a reading of a glaze came to, in words.
pub fn was_read(reading: &pot::colour::card::Reading) -> String {
    let mut told = String::from("The colour was read and is kept.");
    if let [_, second, ..] = reading.glazes.as_slice() {
        told += &format!(
            " A second colour covers {:.0} % of the box ({}); only the first is kept.",
            second.share.0 * 100.0,
            super::preview::hex(second.colour)
        );
    }
    if reading.shines {
        told += " Much of the box shone or was burnt out: take it again in softer light.";
    }
    told
}

/// What became of the trees in a pot and of what was said of it, in words.
pub fn became(
    whole: &Whole,
    freed: &[(String, String)],
    ended: &[collection::reserve::Reservation],
) -> String {
    let tree = |key: &str| whole.tree(key).map_or_else(|| key.to_string(), |tree| tree.tree.name.clone());
    let pot =
        |key: &str| rank_of(whole, key).map_or_else(|| key.to_string(), |rank| whole.pots[rank].name.clone());
    let mut lines: Vec<String> = freed
        .iter()
        .map(|(own, into)| format!("{} now stands in {}; look after its roots today.", tree(own), pot(into)))
        .collect();
    lines.extend(ended.iter().map(|it| format!("No longer {} {}.", it.said.words(), tree(&it.tree))));
    lines.join(" ")
}
