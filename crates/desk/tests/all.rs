//! The tests of this folder as one program: it is linked once, and short tests run beside
//! long ones. `cargo test -p hangtrue-desk --test all by_keys::` runs one file of them. What is killed
//! (`killed.rs`) is a program of its own.

// Tests and their helpers stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod by_keys;
mod class;
mod common;
mod corrections;
mod exchange;
mod files;
mod first;
mod give;
mod hang;
mod heights;
mod help;
mod house;
mod idle;
mod lay;
mod letters;
mod list;
mod looks;
mod main_job;
mod offered;
mod otherwise;
mod outside;
mod photo;
#[path = "../../files/tests/photo_scene/mod.rs"]
mod photo_scene;
mod pictures;
mod reading;
mod small_screen;
mod toile;
mod unaccepted;
mod while_working;
#[path = "../../files/tests/worn/mod.rs"]
mod worn;

#[test]
fn every_file_of_the_folder_is_run() {
    let missing = hangtrue_tests::tests_not_run(env!("CARGO_MANIFEST_DIR"));
    assert!(missing.as_ref().is_ok_and(Vec::is_empty), "not run: {missing:?}");
}
