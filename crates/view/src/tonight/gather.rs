//! What the night is asked about, out of the whole.

use season::{
    tonight::{
        carry::{Load, Recorded},
        judge::TreeNight,
        place::PlaceNight,
        share_out::Space,
    },
    watering::pots::MixFacts,
};

use crate::{
    frost,
    water::stands_in,
    whole::{TreeWhole, Whole},
};

/// What a tree stands in; none where no pot is written down.
fn recorded<'a>(whole: &'a Whole, held: &'a [MixFacts], tree: &'a TreeWhole) -> Option<Recorded<'a>> {
    let (pot, mix) = stands_in(tree)?;
    let crown = tree.crown.as_ref();
    Some(Recorded { pot: &whole.pots[pot], mix: &whole.mixes[mix], held: &held[mix], crown })
}

/// A tree's pot as it is carried; none where no pot is recorded.
pub fn load(whole: &Whole, tree: &TreeWhole) -> Option<Load> {
    let (pot, mix) = stands_in(tree)?;
    let (pot, mix) = (&whole.pots[pot], &whole.mixes[mix]);
    Load::of(&Recorded { pot, mix, held: &MixFacts::of(mix), crown: tree.crown.as_ref() }).ok()
}

/// A tree with what is asked of the night.
pub struct Gathered<'a> {
    /// The tree.
    pub tree: &'a TreeWhole,
    /// Where it stands, as a rank.
    pub place: usize,
    /// For the night.
    pub night: TreeNight,
    /// Whether its pot is on record.
    pub has_pot: bool,
    /// The crown was measured.
    pub has_crown: bool,
}

/// Every tree that stands somewhere.
pub fn trees(whole: &Whole) -> Vec<Gathered<'_>> {
    let held: Vec<MixFacts> = whole.mixes.iter().map(MixFacts::of).collect();
    whole.trees.iter().filter_map(|tree| gathered(whole, &held, tree)).collect()
}

fn gathered<'a>(whole: &Whole, held: &[MixFacts], tree: &'a TreeWhole) -> Option<Gathered<'a>> {
    let recorded = recorded(whole, held, tree);
    let own = recorded.as_ref().and_then(|it| Load::of(it).ok());
    let facts = frost::facts(whole, tree, whole.today);
    let load = own.map_or_else(Load::unrecorded, Ok).ok()?;
    Some(Gathered {
        tree,
        place: tree.place?,
        has_pot: own.is_some(),
        has_crown: recorded.is_some_and(|it| it.crown.is_some()),
        night: TreeNight { facts, worth: tree.tree.worth, load },
    })
}

/// The places with their night and the room left.
pub fn spaces<'a>(whole: &Whole, nights: &'a [PlaceNight]) -> Vec<Space<'a>> {
    let places = whole.places.iter().zip(nights);
    places
        .map(|(it, night)| Space {
            night,
            shelter: it.place.shelter,
            free: it.place.capacity.map(|room| (room as usize).saturating_sub(it.trees.len())),
        })
        .collect()
}

/// Trees that were never put anywhere: key and name.
pub fn placeless(whole: &Whole) -> Vec<(String, String)> {
    let nowhere = whole.trees.iter().filter(|tree| tree.place.is_none());
    nowhere.map(|tree| (tree.tree.key.clone(), tree.tree.name.clone())).collect()
}
