//! A desk that nobody touches asks for no new picture: no room asks for something in
//! every picture.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common::{Driven, STAGE_KEYS, ctrl, desk_with, press, press_containing, wait_for};
use egui::Key;
use hangtrue_desk::sample;

/// Whether the desk comes to rest: `run_ok` gives nothing when it never does.
fn rests(h: &mut Driven) -> bool {
    h.run_ok().is_some()
}

#[test]
fn every_stage_comes_to_rest() {
    let mut h = desk_with(sample::opening(), None);
    for key in STAGE_KEYS {
        ctrl(&mut h, key);
        if key == Key::Num5 {
            wait_for(&mut h, "Save the sheets as PDF…");
        }
        assert!(rests(&mut h), "{key:?}");
    }
}

#[test]
fn a_change_being_tried_comes_to_rest() {
    let mut h = desk_with(sample::opening(), None);
    ctrl(&mut h, Key::Num7);
    press(&mut h, "Pinned along the thigh line of the back");
    assert!(rests(&mut h), "a pinch");
    ctrl(&mut h, Key::Num8);
    press_containing(&mut h, "Seat: ");
    press(&mut h, "Full seat");
    assert!(rests(&mut h), "a correction");
    ctrl(&mut h, Key::Num3);
    press(&mut h, "Set hip balance on the back");
    assert!(rests(&mut h), "a line");
    ctrl(&mut h, Key::Num2);
    press(&mut h, "Take the pencil");
    assert!(rests(&mut h), "the pencil");
}
