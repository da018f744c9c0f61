//! Any bytes as a picture: read and looked at, or refused in words.
#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let _ = hangtrue_files::photo::read_and_look(bytes);
});
