//! Any text as a file of droops, as a table and as RON: read and judged by the usual
//! rules, or refused in words.
#![no_main]

use hangtrue_adjust::{Replay, reading::read_toile};
use hangtrue_files::{demo, droops};
use hangtrue_pattern::{Pattern, units::Unit};
use libfuzzer_sys::fuzz_target;
use std::path::Path;
use std::sync::OnceLock;

/// The pattern the droops are read against: the demo's.
fn pattern() -> &'static Pattern {
    static DEMO: OnceLock<Pattern> = OnceLock::new();
    DEMO.get_or_init(|| {
        let mut document = demo::bare().expect("the demo's measures stand");
        let block =
            Replay::new(document.clone()).current().expect("it is drafted").as_ref().clone();
        demo::mark(&mut document, &block);
        Replay::new(document).current().expect("it computes").as_ref().clone()
    })
}

fuzz_target!(|bytes: &[u8]| {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    for name in ["droops.csv", "droops.ron"] {
        match droops::read_droops(text, Path::new(name), Unit::Mm) {
            Ok(read) => {
                let table = droops::usual_rules().expect("the rules stand");
                if let Err(why) = read_toile(&read, &table, pattern(), pattern(), Unit::Mm) {
                    assert!(why.to_string().len() > 30, "{why}");
                }
            }
            Err(why) => assert!(why.to_string().len() > 20, "{why}"),
        }
    }
});
