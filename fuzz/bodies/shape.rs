//! Tree graphs and photos: what is read can be written and read again, and a picture has a size we keep.

use form::mtg;
use intake::photo::{LONGEST, open};

/// Any text as a tree graph.
pub fn tree_graph(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    if let Ok(tree) = mtg::read(&text) {
        let written = mtg::write(&tree);
        let again = mtg::read(&written).expect("what we write we read");
        assert_eq!(again.segments().len(), tree.segments().len());
        assert_eq!(mtg::write(&again), written, "written twice, written otherwise");
    }
}

/// Any bytes as a photo.
pub fn photo(bytes: &[u8]) {
    if let Ok(taken) = open(bytes) {
        assert!(taken.wide.max(taken.high) <= LONGEST && taken.wide.min(taken.high) > 0);
        assert!(!taken.full.is_empty() && !taken.small.is_empty());
        // What is kept is a picture of our own, so it opens, and it carries no word of where it was taken.
        let again = open(&taken.full).expect("what is kept opens");
        assert_eq!((again.wide, again.high, again.day), (taken.wide, taken.high, None));
    }
}
