//! The tests of this folder as one program: it is linked once, and short tests run beside
//! long ones. `cargo test -p hangtrue-cli --test all bad_input::` runs one file of them. The real window
//! (`window.rs`) is a program of its own.

// Tests and their helpers stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod bad_input;
mod begin;
mod class;
mod common;
mod corrections;
mod cut;
mod exchange;
mod hands;
mod hang;
mod kills;
mod labels;
mod lay;
mod look;
mod names;
mod otherwise;
mod reading;
mod readme;
mod set_up;
mod sheet;
mod trace;
mod uneven;
mod unknown_fields;
mod whole_round;

#[test]
fn every_file_of_the_folder_is_run() {
    let missing = hangtrue_tests::tests_not_run(env!("CARGO_MANIFEST_DIR"));
    assert!(missing.as_ref().is_ok_and(Vec::is_empty), "not run: {missing:?}");
}
