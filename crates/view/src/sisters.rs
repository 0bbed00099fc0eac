//! Which looks at other trees teach a tree: those at its sisters, of one taxon in one place.

use std::{collections::HashMap, sync::Arc};

use collection::event::{Look, Sureness};
use jiff::civil::Date;
use measure::winter::Winter;

use crate::whole::{TreeWhole, stands};

/// Gives each tree the looks of this season at its sisters: trees of its taxon that stand where it stands.
pub(crate) fn sisters(trees: &mut [TreeWhole], winter: Winter, today: Date) {
    type Looked = Vec<(usize, Arc<[Look]>)>;
    let mut looked: HashMap<(&str, usize), Looked> = HashMap::new();
    for (rank, tree) in trees.iter().enumerate() {
        let season = tree.looks.iter().map(|(_, look)| look).filter(|look| winter.first_date() <= look.day);
        let season: Arc<[Look]> =
            season.filter(|look| look.sureness != Sureness::Doubtful).cloned().collect();
        if let Some(place) = stands(&tree.moves, today).filter(|_| !season.is_empty()) {
            looked.entry((tree.tree.taxon.key, place)).or_default().push((rank, season));
        }
    }
    for (rank, tree) in trees.iter_mut().enumerate() {
        let Some(place) = stands(&tree.moves, today) else { continue };
        let kin = looked.get(&(tree.tree.taxon.key, place)).into_iter().flatten();
        tree.sisters = kin.filter(|(other, _)| *other != rank).map(|(_, looks)| Arc::clone(looks)).collect();
    }
}
