//! Any bytes as DXF: brought in or refused in words.
#![no_main]

use hangtrue_files::exchange::{BringOptions, FileUnit, Kind, bring_bytes};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let options = BringOptions { unit: Some(FileUnit::Mm), known: None };
    let _ = bring_bytes(Kind::Dxf, bytes, &options);
});
