//! A press counts also in the picture in which what stands round it changes: what is pressed
//! keeps its identity while something is worked out beside.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common::{ctrl, desk_with, wait_for};
use egui::Key;
use egui_kittest::kittest::Queryable;
use hangtrue_desk::sample;
use std::time::Duration;

/// Long enough for the sheets of the example to be worked out, which is not heard of while
/// no picture is drawn.
const WORKED_OUT: Duration = Duration::from_secs(12);

/// The press a screen reader sends is taken in the very picture that shows the sheets, which
/// were not there when the press was aimed.
#[test]
fn a_press_is_taken_in_the_picture_in_which_the_sheets_come() {
    for (pressed, opened) in [
        ("Save the handout as PDF…", "Save the handout as PDF"),
        ("Save the marking sheet as PDF…", "Save the marking sheet as PDF"),
        ("Save the fitting sheet as PDF…", "Save the fitting sheet as PDF"),
    ] {
        let mut h = desk_with(sample::opening(), None);
        h.key_press_modifiers(egui::Modifiers::COMMAND, Key::Num5);
        h.step();
        h.step();
        assert!(h.query_by_label("Save the sheets as PDF…").is_none(), "not worked out yet");
        h.get_by_label(pressed).click_accesskit();
        std::thread::sleep(WORKED_OUT);
        h.step();
        assert!(h.query_by_label("Save the sheets as PDF…").is_some(), "now they are");
        h.run_ok();
        assert!(h.query_by_label(opened).is_some(), "{pressed} was lost");
    }
}

/// So it is while they are worked out anew for another choice.
#[test]
fn a_press_is_taken_in_the_picture_in_which_other_sheets_come() {
    let mut h = desk_with(sample::opening(), None);
    ctrl(&mut h, Key::Num5);
    wait_for(&mut h, "Save the sheets as PDF…");
    h.run_ok();
    h.get_by_label("Write the names of seams and corners").click_accesskit();
    h.step();
    h.get_by_label("Save the sewing sheet as PDF…").click_accesskit();
    std::thread::sleep(WORKED_OUT);
    h.step();
    h.run_ok();
    assert!(h.query_by_label("Save the sewing sheet as PDF").is_some());
}
