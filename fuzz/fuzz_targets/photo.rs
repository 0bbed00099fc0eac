//! Any bytes as a photo end in a picture of a size we keep, or in a refusal.
#![no_main]

use intake::photo::{LONGEST, open};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    if let Ok(taken) = open(bytes) {
        assert!(taken.wide.max(taken.high) <= LONGEST);
        assert!(!taken.full.is_empty() && !taken.small.is_empty());
    }
});
