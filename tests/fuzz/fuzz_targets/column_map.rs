//! Any text as a column map, and what stands after a line of `===` as the table it is
//! laid on: each row is drafted or refused in words.
#![no_main]

use hangtrue_files::batch::{ColumnMap, run_batch};
use hangtrue_pattern::Plan;
use libfuzzer_sys::fuzz_target;

/// Rows drafted of one input: each takes some milliseconds under the sanitizer.
const ROWS: usize = 8;

fuzz_target!(|bytes: &[u8]| {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let (map, table) = text.split_once("\n===\n").unwrap_or((text, ""));
    let map = match ColumnMap::read(map) {
        Ok(map) => map,
        Err(why) => return assert!(why.to_string().len() > 20, "{why}"),
    };
    let plan = Plan::default();
    match run_batch(table.as_bytes(), &map, &plan) {
        Ok(rows) => drop(rows.take(ROWS).collect::<Vec<_>>()),
        Err(why) => assert!(why.to_string().len() > 20, "{why}"),
    }
});
