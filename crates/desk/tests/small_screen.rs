//! Small windows with large letters: what lies over the desk is reached from end to end, and
//! nothing that is chosen or told runs out of sight.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common::{Driven, ctrl, desk_sized, keys, press, press_containing};
use egui::{Key, Modifiers, Rect};
use egui_kittest::kittest::Queryable;
use hangtrue_desk::sample;

const SCREEN: [f32; 2] = [1024.0, 700.0];

/// The desk in a small window with letters of 200 %.
fn large_letters() -> Driven {
    let mut h = desk_sized(sample::document(), None, SCREEN, 1.0);
    for _ in 0..10 {
        keys(&mut h, Modifiers::COMMAND, Key::Plus);
    }
    h
}

fn is_within(h: &Driven, name: &str) -> bool {
    let screen = Rect::from_min_size(egui::Pos2::ZERO, SCREEN.into());
    h.query_by_label(name).is_some_and(|node| screen.contains_rect(node.rect()))
}

/// Who set letters of 200 % comes back to 100 % in the same place.
#[test]
fn the_settings_are_reached_from_end_to_end() {
    let mut h = large_letters();
    press(&mut h, "More");
    press(&mut h, "Settings");
    assert!(is_within(&h, "Text size 100 %") || is_within(&h, "100 %"), "where it begins");
    for _ in 0..6 {
        keys(&mut h, Modifiers::NONE, Key::PageDown);
    }
    assert!(is_within(&h, "Close"), "{:?}", h.get_by_label("Close").rect());
    press(&mut h, "Close");
    assert!(h.query_by_label("Measure the screen").is_none());
}

/// The arrow keys go through a list that is longer than its room, and the list goes along.
#[test]
fn a_list_follows_the_keys() {
    let mut h = large_letters();
    ctrl(&mut h, Key::Num1);
    press_containing(&mut h, "Stage: ");
    for _ in 0..8 {
        keys(&mut h, Modifiers::NONE, Key::ArrowDown);
    }
    h.run_ok();
    let focused: Vec<Rect> = h.query_all_by(|n| n.is_focused()).map(|n| n.rect()).collect();
    let last = focused.last().expect("one of the list has the focus");
    assert!(last.bottom() <= SCREEN[1] - 20.0, "{last:?}");
}
