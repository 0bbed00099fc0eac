//! Any text as a tree graph ends in a tree that is written and read again the same, or in a refusal.
#![no_main]

use form::mtg;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    if let Ok(tree) = mtg::read(text) {
        let again = mtg::read(&mtg::write(&tree)).expect("what we write we read");
        assert_eq!(again.segments().len(), tree.segments().len());
    }
});
