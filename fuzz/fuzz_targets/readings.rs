//! Any bytes posted as a batch of readings end in rows, in refusals, or in a clear no.
#![no_main]

use intake::readings;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let _ = readings::read(bytes, 1_784_008_800);
});
