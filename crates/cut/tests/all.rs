//! The tests of this folder as one program: it is linked once, and short tests run beside
//! long ones. `cargo test -p hangtrue-cut --test all openings::` runs one file of them.

// Tests and their helpers stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod openings;
mod over_bodies;
mod own_cloth;
mod pockets;
mod sewing;
mod shapely;
mod styles;

#[test]
fn every_file_of_the_folder_is_run() {
    let missing = hangtrue_tests::tests_not_run(env!("CARGO_MANIFEST_DIR"));
    assert!(missing.as_ref().is_ok_and(Vec::is_empty), "not run: {missing:?}");
}
