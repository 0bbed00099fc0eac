//! Tomorrow's heat, tree by tree where shade is wanted.

use season::tonight::{heat::heat, place::PlaceNight};

use super::{Page, gather::Gathered};
use crate::words::count;

/// A tree that wants shade tomorrow.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatRow {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Where it stands, name and key.
    pub place: (String, String),
    /// High, line, hours and roots.
    pub why: String,
    /// The high, °C.
    pub high: f64,
    /// The line for shade, °C.
    pub line: f64,
}

/// Every tree that wants shade, the furthest above its line first.
pub fn rows(page: &Page<'_>, trees: &[Gathered<'_>], nights: &[PlaceNight]) -> Vec<HeatRow> {
    let mut rows: Vec<HeatRow> = trees.iter().filter_map(|it| row(page, it, &nights[it.place])).collect();
    rows.sort_by(|a, b| (b.high - b.line).total_cmp(&(a.high - a.line)));
    rows
}

fn row(page: &Page<'_>, it: &Gathered<'_>, night: &PlaceNight) -> Option<HeatRow> {
    let told = heat(night, it.tree.tree.taxon.kind, &it.night.load.wet);
    let place = &page.whole.places[it.place].place;
    told.wants_shade().then(|| HeatRow {
        key: it.tree.tree.key.clone(),
        name: it.tree.tree.name.clone(),
        place: (place.name.clone(), place.key.clone()),
        why: format!(
            "{} expected, shade from {} ({}), {} above; root ball about {} by the air alone, sun on the pot comes on top",
            page.units.temperature(told.high),
            page.units.temperature(told.line.value),
            told.line.standing.words(),
            count(told.hours, "hour", "hours"),
            page.units.temperature(told.roots)
        ),
        high: told.high.0,
        line: told.line.value.0,
    })
}
