//! The tests of this folder as one program: it is linked once, and short tests run beside
//! long ones. `cargo test -p hangtrue-lay --test all over_bodies::` runs one file of them.

// Tests and their helpers stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod common;
mod over_bodies;
mod shapely;

#[test]
fn every_file_of_the_folder_is_run() {
    let missing = hangtrue_tests::tests_not_run(env!("CARGO_MANIFEST_DIR"));
    assert!(missing.as_ref().is_ok_and(Vec::is_empty), "not run: {missing:?}");
}
