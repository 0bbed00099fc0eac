//! What the grower types into a form: checked, then written as one act.

use collection::{
    drink::Worth,
    event::{Move, Work, WorkKind},
    key,
    place::{Facing, Lamp, Place},
    site::Site,
    tree::{MOST_CANDIDATES, NameConfidence, Tree},
};
use jiff::{civil::Date, tz::TimeZone};
use measure::{
    quantity::{Degrees, Hours, Metre, PhotonFlux, Units},
    shelter::Shelter,
    taxon::Taxon,
};
use store::store::{Act, Store};

use crate::{
    asked::Asked,
    limits::{CAPACITY, ELEVATION, FIRST_YEAR, LAMP, LAMP_HOURS, LATITUDE, LONGITUDE, NAME, NOTE, ROOTS_CUT},
    text::{Lines, fault},
    version::counted,
};

/// Why a form was not taken.
#[derive(Debug, thiserror::Error)]
pub enum FormError {
    /// A field that cannot be taken.
    #[error("{field}: “{value}” {why}")]
    Field {
        /// Which field.
        field: &'static str,
        /// What was typed.
        value: String,
        /// Why not.
        why: String,
    },
    /// Something speaks against it; it can be saved with a reason.
    #[error("{about} is not advised that day: {why}. Was it done all the same? Say why")]
    Asked {
        /// What was to be saved.
        about: String,
        /// What speaks against it.
        why: String,
    },
    /// An edit that does not name the version it started from.
    #[error(
        "the form does not say which version of the record it started from; check what stands there now and save again"
    )]
    NoVersion,
    /// The store did not do it.
    #[error(transparent)]
    Store(#[from] store::error::Error),
}

pub(crate) fn bad(field: &'static str, value: &str, why: impl Into<String>) -> FormError {
    let shown: String = value.chars().take(NAME).collect();
    FormError::Field { field, value: shown, why: why.into() }
}

/// A day that has come.
pub(crate) fn day(value: &str, today: Date) -> Result<Date, FormError> {
    let day: Date =
        value.trim().parse().map_err(|_| bad("day", value, "is not a date written as 2026-03-08"))?;
    if day > today {
        return Err(bad("day", value, format!("has not come yet; today is {today}")));
    }
    if day.year() < FIRST_YEAR {
        return Err(bad("day", value, "is too long ago to be right"));
    }
    Ok(day)
}

pub(crate) fn number(field: &'static str, value: &str, low: f64, high: f64) -> Result<f64, FormError> {
    number_in(field, value, value, [low, high], "")
}

/// A number in a unit, between two bounds in that unit; `value` is all that was typed, `figure` the number in it.
pub(crate) fn number_in(
    field: &'static str,
    value: &str,
    figure: &str,
    [low, high]: [f64; 2],
    unit: &str,
) -> Result<f64, FormError> {
    let dotted = figure.trim().replace(',', ".");
    match dotted.parse::<f64>() {
        Ok(number) if (low..=high).contains(&number) => Ok(number),
        _ => Err(bad(field, value, format!("is not a number {}", span([low, high], unit)))),
    }
}

/// A span in words, drawn in to four digits, so that whatever lies in what is said is taken.
pub(crate) fn span([low, high]: [f64; 2], unit: &str) -> String {
    let words = format!("from {} to {} {unit}", four(low, f64::ceil), four(high, f64::floor));
    words.trim_end().to_string()
}

/// A figure in four digits, unless it has fewer.
pub(crate) fn four(figure: f64, round: impl Fn(f64) -> f64) -> f64 {
    const CLOSE: f64 = 1e-9;
    if figure == 0.0 || !figure.is_finite() {
        return figure;
    }
    let places = 3 - figure.abs().log10().floor() as i32;
    let many = figure * 10_f64.powi(places);
    let whole = if (many - many.round()).abs() <= CLOSE * many.abs() { many.round() } else { round(many) };
    // Divided by a whole power of ten, the figure is the nearest one to its digits.
    if places > 0 { whole / 10_f64.powi(places) } else { whole * 10_f64.powi(-places) }
}

/// Whether a figure is what a page shows of a number: rounded to the digits typed, and to one after the point at least. Every digit
/// typed counts, so that a change in the last one is a change.
pub(crate) fn same_figure(figure: &str, stands: f64) -> bool {
    const LAST_BITS: f64 = 1e-12;
    let dotted: String =
        figure.chars().filter(|it| !it.is_whitespace()).collect::<String>().replace(',', ".");
    let Ok(told) = dotted.parse::<f64>() else { return false };
    let digits = dotted.split_once('.').map_or(0, |(_, after)| after.len()).max(1);
    let half = 0.5 * 10_f64.powi(-i32::try_from(digits).unwrap_or(i32::MAX));
    (told - stands).abs() <= half * (1.0 + 1e-9) + LAST_BITS * stands.abs()
}

/// A text of no more letters than a most.
pub(crate) fn text(field: &'static str, typed: &str, most: usize) -> Result<String, FormError> {
    let kept = typed.trim();
    written(field, kept, most, Lines::Many)
}

/// A text on one line, of no more letters than a most.
pub(crate) fn line(field: &'static str, typed: &str, most: usize) -> Result<String, FormError> {
    written(field, typed.trim(), most, Lines::One)
}

fn written(field: &'static str, kept: &str, most: usize, lines: Lines) -> Result<String, FormError> {
    let count = kept.chars().count();
    if count > most {
        return Err(bad(field, kept, format!("is {count} letters long; {most} are the most")));
    }
    match fault(kept, lines) {
        Some(why) => Err(bad(field, kept, why)),
        None => Ok(kept.to_string()),
    }
}

/// A height above the sea in metres, or in feet where it says so.
fn height(value: &str) -> Result<Metre, FormError> {
    let typed = value.trim();
    let (figure, metres, unit) = match typed.strip_suffix("ft") {
        Some(feet) => (feet, 0.3048, "ft"),
        None => (typed.strip_suffix('m').unwrap_or(typed), 1.0, "m"),
    };
    let told = number_in("height", typed, figure, ELEVATION.map(|end| end / metres), unit)?;
    Ok(Metre(told * metres))
}

pub(crate) fn name(value: &str) -> Result<(String, String), FormError> {
    let key = key::from_name(value);
    if key.is_empty() {
        return Err(bad("name", value, "is empty"));
    }
    Ok((key, line("name", value, NAME)?))
}

/// A line of a tree's diary.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DiaryLine {
    /// The look at buds or leaves of this number.
    Look(i64),
    /// The work of this number.
    Work(i64),
    /// The move of this day.
    Move(Date),
}

/// Takes back a line of a tree's diary.
///
/// # Errors
///
/// [`FormError`] when there is none such.
pub fn take_back(store: &mut Store, tree: &str, line: DiaryLine) -> Result<(), FormError> {
    let tree = known_tree(store, tree)?;
    Ok(store.transact(&Act::TakeBack(tree.clone()), |change| match line {
        DiaryLine::Look(id) => change.remove_look(id),
        DiaryLine::Work(id) => change.remove_work(id),
        DiaryLine::Move(day) => change.remove_move(&tree, day),
    })?)
}

pub(crate) fn known_tree(store: &Store, key: &str) -> Result<String, FormError> {
    let known = store.reader()?.trees()?.iter().any(|tree| tree.key == key);
    if known { Ok(key.to_string()) } else { Err(bad("tree", key, "is not in the collection")) }
}

fn known_place(store: &Store, key: &str) -> Result<String, FormError> {
    let known = store.reader()?.places()?.iter().any(|place| place.key == key);
    if known { Ok(key.to_string()) } else { Err(bad("place", key, "is not in the collection")) }
}

/// Moves trees to a place on a day, all or none. What speaks against it is asked about until a reason is given, which stands in the diary of
/// each tree.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn moves(
    store: &mut Store,
    trees: &[String],
    [place, on]: [&str; 2],
    asked: Asked<'_>,
    today: Date,
) -> Result<usize, FormError> {
    let (place, on) = (known_place(store, place)?, day(on, today)?);
    if trees.is_empty() {
        return Err(bad("trees", "", "none was chosen"));
    }
    let known = store.reader()?.trees()?;
    if let Some(other) = trees.iter().find(|tree| !known.iter().any(|it| it.key == **tree)) {
        return Err(bad("tree", other, "is not in the collection"));
    }
    let why = asked.note("the move", String::new())?;
    let trees = trees.to_vec();
    store.transact(&Act::Move(trees.clone()), |change| {
        for tree in &trees {
            change.add_move(&Move { tree: tree.clone(), place: place.clone(), day: on })?;
            if !why.is_empty() {
                let note = format!("moved to {place}, {why}");
                change.add_work(&Work {
                    tree: tree.clone(),
                    day: on,
                    kind: WorkKind::Other,
                    roots: None,
                    note,
                })?;
            }
        }
        Ok::<(), store::error::Error>(())
    })?;
    Ok(trees.len())
}

/// Work as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct WorkForm<'a> {
    pub tree: &'a str,
    pub day: &'a str,
    pub kind: &'a str,
    /// Roots that a repot cut, in per cent.
    pub roots: &'a str,
    pub note: &'a str,
    pub asked: Asked<'a>,
}

/// Saves work. What speaks against it that day, where anything does, is asked about until the form says why; the reason is kept.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn work(store: &mut Store, form: WorkForm<'_>, today: Date) -> Result<(), FormError> {
    let kind = WorkKind::from_key(form.kind).ok_or_else(|| bad("kind", form.kind, "is no work we know"))?;
    let mut work = Work {
        tree: known_tree(store, form.tree)?,
        day: day(form.day, today)?,
        kind,
        roots: match form.roots.trim() {
            "" => None,
            typed if kind == WorkKind::Repot => {
                Some(crate::shelf::percent("roots", typed, ROOTS_CUT[1] * 100.0)?)
            }
            typed => return Err(bad("roots", typed, "roots are cut by a repot alone; leave it empty")),
        },
        note: text("note", form.note, NOTE)?,
    };
    work.note = form.asked.note(work.kind.words(), work.note)?;
    store.transact(&Act::Work(work.tree.clone()), |change| change.add_work(&work))?;
    Ok(())
}

/// A tree as typed; `revision` is empty for a new one.
#[derive(Clone, Copy, Debug)]
#[allow(missing_docs)]
pub struct TreeForm<'a> {
    pub key: &'a str,
    pub name: &'a str,
    pub taxon: &'a str,
    pub confidence: &'a str,
    pub candidates: &'a str,
    pub since: &'a str,
    pub worth: &'a str,
    pub note: &'a str,
    pub revision: &'a str,
}

fn tree_of(form: TreeForm<'_>, today: Date) -> Result<Tree, FormError> {
    let (key, shown) = name(form.name)?;
    Ok(Tree {
        key,
        name: shown,
        taxon: Taxon::meant(form.taxon).ok_or_else(|| bad("taxon", form.taxon, unknown_taxon(form.taxon)))?,
        candidates: candidates(form.candidates).map_err(|(value, why)| bad("candidates", &value, why))?,
        name_confidence: NameConfidence::from_key(form.confidence).unwrap_or(NameConfidence::Likely),
        since: if form.since.trim().is_empty() { None } else { Some(day(form.since, today)?) },
        worth: Worth::from_key(form.worth).unwrap_or_default(),
        note: text("note", form.note, NOTE)?,
        revision: 0,
    })
}

/// Other names that a tree may have, with a semicolon between; or the name that is none, and why.
pub(crate) fn candidates(words: &str) -> Result<Vec<&'static Taxon>, (String, String)> {
    let mut found: Vec<&'static Taxon> = Vec::new();
    for word in words.split(';').map(str::trim).filter(|word| !word.is_empty()) {
        let taxon = Taxon::meant(word).ok_or_else(|| (word.to_string(), unknown_taxon(word)))?;
        if !found.contains(&taxon) {
            found.push(taxon);
        }
    }
    if found.len() > MOST_CANDIDATES {
        return Err((words.to_string(), format!("names more than {MOST_CANDIDATES} taxa")));
    }
    Ok(found)
}

/// Why a name is no taxon, with those it might mean.
pub(crate) fn unknown_taxon(words: &str) -> String {
    let near: Vec<&str> = Taxon::near(words).map(|taxon| taxon.common).take(5).collect();
    if near.is_empty() {
        "is no taxon we know".into()
    } else {
        format!("is no taxon we know; perhaps {}", near.join(", "))
    }
}

/// Adds a tree and puts it in its place.
///
/// # Errors
///
/// [`FormError`], also when a tree of that name stands already.
pub fn add_tree(
    store: &mut Store,
    form: TreeForm<'_>,
    place: &str,
    on: &str,
    today: Date,
) -> Result<String, FormError> {
    let tree = tree_of(form, today)?;
    let stay = Move { tree: tree.key.clone(), place: known_place(store, place)?, day: day(on, today)? };
    store.transact(&Act::AddTree(tree.key.clone()), |change| {
        if !change.add_tree(&tree)? {
            return Err(bad("name", form.name, "is taken by another tree"));
        }
        change.add_move(&stay)?;
        Ok::<(), FormError>(())
    })?;
    Ok(tree.key)
}

/// Changes a tree's record, starting from the version the form was made from.
///
/// # Errors
///
/// [`FormError`]; a record that moved on meanwhile is named, and nothing is written.
pub fn edit_tree(store: &mut Store, form: TreeForm<'_>, today: Date) -> Result<(), FormError> {
    let revision = counted(form.revision)?;
    let tree = Tree { key: form.key.to_string(), revision, ..tree_of(form, today)? };
    Ok(store.transact(&Act::EditTree(tree.key.clone()), |change| change.edit_tree(&tree))?)
}

/// A place as typed.
#[derive(Clone, Copy, Debug)]
#[allow(missing_docs)]
pub struct PlaceForm<'a> {
    pub name: &'a str,
    pub shelter: &'a str,
    pub facing: &'a str,
    pub lamp_flux: &'a str,
    pub lamp_hours: &'a str,
    pub capacity: &'a str,
}

/// Adds a place.
///
/// # Errors
///
/// [`FormError`], also when a place of that name stands already.
pub fn add_place(store: &mut Store, form: PlaceForm<'_>) -> Result<String, FormError> {
    let (key, shown) = name(form.name)?;
    let lamp = match (form.lamp_flux.trim(), form.lamp_hours.trim()) {
        ("", "") => None,
        (flux, hours) => Some(Lamp {
            flux: PhotonFlux(number("lamp", flux, LAMP[0], LAMP[1])?),
            hours: Hours(number("lamp hours", hours, LAMP_HOURS[0], LAMP_HOURS[1])?),
        }),
    };
    let place = Place {
        key,
        name: shown,
        shelter: Shelter::from_key(form.shelter)
            .ok_or_else(|| bad("shelter", form.shelter, "is no shelter we know"))?,
        facing: match form.facing {
            "" => None,
            way => Some(Facing::from_key(way).ok_or_else(|| bad("window", way, "is no way to look"))?),
        },
        lamp,
        capacity: match form.capacity.trim() {
            "" => None,
            count => {
                let room = count.parse().ok().filter(|room| (CAPACITY[0]..=CAPACITY[1]).contains(room));
                Some(room.ok_or_else(|| {
                    bad(
                        "room for trees",
                        count,
                        format!("is not a whole number of trees up to {}", CAPACITY[1]),
                    )
                })?)
            }
        },
    };
    let added = store.transact(&Act::AddPlace(place.key.clone()), |change| change.add_place(&place))?;
    if added { Ok(place.key) } else { Err(bad("name", form.name, "is taken by another place")) }
}

/// The site as typed.
#[derive(Clone, Copy, Debug)]
#[allow(missing_docs)]
pub struct SiteForm<'a> {
    pub name: &'a str,
    pub latitude: &'a str,
    pub longitude: &'a str,
    pub elevation: &'a str,
    pub zone: &'a str,
    pub units: &'a str,
}

/// Sets the site.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn site(store: &mut Store, form: SiteForm<'_>) -> Result<(), FormError> {
    if TimeZone::get(form.zone.trim()).is_err() {
        return Err(bad("time zone", form.zone, "is not known; write it as Europe/Zurich"));
    }
    let site = Site {
        name: line("name", form.name, NAME)?,
        latitude: Degrees(number("latitude", form.latitude, LATITUDE[0], LATITUDE[1])?),
        longitude: Degrees(number("longitude", form.longitude, LONGITUDE[0], LONGITUDE[1])?),
        elevation: height(form.elevation)?,
        zone: form.zone.trim().into(),
        units: Units::from_key(form.units).unwrap_or_default(),
    };
    store.transact(&Act::SetSite, |change| change.set_site(&site))?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_height_may_be_told_in_feet() {
        let metres = |typed| height(typed).unwrap().0;
        assert_eq!((metres("560"), metres("560 m"), metres("1000 ft")), (560.0, 560.0, 304.8));
        let high = height("40000 ft").unwrap_err().to_string();
        assert_eq!(high, "height: “40000 ft” is not a number from -1410 to 19680 ft");
    }

    #[test]
    fn a_span_is_said_in_four_digits_and_lies_within_the_true_one() {
        assert_eq!(span([0.05, 0.1 + 0.2], "cm"), "from 0.05 to 0.3 cm");
        assert_eq!(span([1.0 / 3.0, 2000.0 / 3.0], ""), "from 0.3334 to 666.6");
        assert_eq!(span([-200.0 / 25.4, 1e6], "in"), "from -7.874 to 1000000 in");
        assert_eq!(span([0.0, 40_000.0], "g"), "from 0 to 40000 g");
    }

    #[test]
    fn a_text_that_is_too_long_is_refused_with_its_count() {
        assert_eq!(text("why", &format!(" {} ", "ü".repeat(400)), 400).unwrap().chars().count(), 400);
        let long = text("why", &"ü".repeat(401), 400).unwrap_err().to_string();
        assert!(long.starts_with("why: “ü") && long.ends_with("” is 401 letters long; 400 are the most"));
    }
}
