//! Any text as a project: read and computed, or refused in words. What is read
//! is written and read again the same.
#![no_main]

use hangtrue_adjust::Replay;
use hangtrue_files::project;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let Ok(document) = project::from_text(text, "fuzz") else { return };
    if let Ok(written) = project::to_text(&document) {
        let again = project::from_text(&written, "fuzz");
        assert_eq!(again.ok().as_ref(), Some(&document), "what is saved is what is read");
    }
    let _ = Replay::new(document).current();
});
