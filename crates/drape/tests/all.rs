//! The tests of this folder as one program: it is linked once, and short tests run beside
//! long ones. `cargo test -p hangtrue-drape --test all bodies::` runs one file of them.

// Tests and their helpers stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod bodies;
mod closed_forms;
mod common;
mod handles;
mod level;
mod scipy;
mod toile;

#[test]
fn every_file_of_the_folder_is_run() {
    let missing = hangtrue_tests::tests_not_run(env!("CARGO_MANIFEST_DIR"));
    assert!(missing.as_ref().is_ok_and(Vec::is_empty), "not run: {missing:?}");
}
