//! The tests of this folder as one program: it is linked once, and short tests run beside
//! long ones. `cargo test -p hangtrue-tests --test all block_figures::` runs one file of them.

// Tests and their helpers stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod after_correction;
mod block_figures;
mod bodies;
mod catalogue_page;
mod corrections_over_bodies;
mod curves;
mod geometry_against_scipy;
mod handbook;
mod legs_over_bodies;
mod methods_over_bodies;
mod reading_over_bodies;
mod rules_over_bodies;
mod seat_and_legs;
mod sources;
mod typed_numbers;
mod usual_depths;
mod words_given_up;

#[test]
fn every_file_of_the_folder_is_run() {
    let missing = hangtrue_tests::tests_not_run(env!("CARGO_MANIFEST_DIR"));
    assert!(missing.as_ref().is_ok_and(Vec::is_empty), "not run: {missing:?}");
}
