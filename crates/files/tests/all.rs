//! The tests of this folder as one program: it is linked once, and short tests run beside
//! long ones. `cargo test -p hangtrue-files --test all batch::` runs one file of them.

// Tests and their helpers stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod batch;
mod class;
mod common;
mod exchange_hostile;
mod exchange_round_trip;
mod fuzzed;
mod hem_turned_up;
mod lay_drawn;
mod old_widths;
mod photo_hostile;
mod photo_placed;
mod photo_scene;
mod photo_synthetic;
mod photo_troubled;
mod print_handout;
mod print_labels;
mod print_large;
mod print_oracle;
mod print_pages;
mod print_report;
mod print_words;
mod private_photos;
mod worn;
mod worn_loop;
mod worn_other;
mod worn_photos;
mod worn_round;
mod worn_unlike;
mod yoke_sent;

#[test]
fn every_file_of_the_folder_is_run() {
    let missing = hangtrue_tests::tests_not_run(env!("CARGO_MANIFEST_DIR"));
    assert!(missing.as_ref().is_ok_and(Vec::is_empty), "not run: {missing:?}");
}
