//! Any text as one of the grower's sheets or a bare series ends in rows or in refusals.
#![no_main]

use intake::{
    series,
    sheet::{
        self,
        limbs::{self, LimbSheet},
    },
};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let _ = sheet::places(text);
    let _ = sheet::trees(text);
    let _ = sheet::moves(text);
    let _ = sheet::looks(text);
    let _ = sheet::works(text);
    for sheet in LimbSheet::ALL {
        let _ = limbs::read(sheet, text);
    }
    let _ = series::read(text);
});
