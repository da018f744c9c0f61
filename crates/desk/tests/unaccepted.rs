//! A change that is tried and not accepted is never dropped without a word when
//! another one is opened.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common::{Driven, ctrl, desk_with, press, press_containing};
use egui::Key;
use egui_kittest::kittest::Queryable;
use hangtrue_desk::sample;

/// The words that tell that a change of that name was left.
fn is_left(h: &Driven, name: &str) -> bool {
    h.query_by_label(&format!("“{name}” was left, because it was not accepted.")).is_some()
}

fn opens_the_line_card(h: &Driven) -> bool {
    h.query_by_label("Name of the line").is_some()
}

#[test]
fn a_line_opened_on_the_table_while_a_pinch_is_tried() {
    let mut h = desk_with(sample::document(), None);
    ctrl(&mut h, Key::Num7);
    press(&mut h, "Pinned along the thigh line of the back");
    assert!(h.query_by_label("Amount at pin place 1").is_some(), "it is tried");
    press_containing(&mut h, "knee line on the back: ");
    assert!(opens_the_line_card(&h), "the line is opened on its card");
    assert!(is_left(&h, "thigh pinch"), "and that the pinch was left is told");
    // The line itself opened again is the same change going on.
    press(&mut h, "Close");
    press_containing(&mut h, "knee line on the back: ");
    assert!(opens_the_line_card(&h) && !is_left(&h, "knee on the back"));
}

#[test]
fn a_change_edited_again_while_another_is_tried() {
    let mut h = desk_with(sample::document(), None);
    let changes = &h.state().document().changes;
    let last = format!("{}. {}", changes.len(), changes.last().unwrap().name);
    assert!(!last.contains("knee on the back"), "{last}");
    press(&mut h, &last);
    ctrl(&mut h, Key::Num7);
    press_containing(&mut h, "knee line on the back: ");
    assert!(opens_the_line_card(&h));
    press(&mut h, "Edit again");
    assert!(opens_the_line_card(&h), "the other line is opened");
    assert!(is_left(&h, "knee on the back"), "and that the first was left is told");
}

#[test]
fn another_stage_turned_to_while_a_change_is_tried() {
    let mut h = desk_with(sample::document(), None);
    ctrl(&mut h, Key::Num7);
    press(&mut h, "Pinned along the thigh line of the back");
    ctrl(&mut h, Key::Num9);
    assert!(is_left(&h, "thigh pinch"));
}

#[test]
fn another_change_looked_at_in_the_list_while_one_is_tried() {
    let mut h = desk_with(sample::document(), None);
    let first = format!("1. {}", h.state().document().changes[0].name);
    ctrl(&mut h, Key::Num7);
    press(&mut h, "Pinned along the thigh line of the back");
    press(&mut h, &first);
    assert!(h.query_by_label("thigh pinch").is_none(), "it lies no longer on the table");
    assert!(is_left(&h, "thigh pinch"));
}

#[test]
fn another_change_stepped_to_by_the_keys_while_one_is_tried() {
    let mut h = desk_with(sample::document(), None);
    ctrl(&mut h, Key::Num7);
    press(&mut h, "Pinned along the thigh line of the back");
    assert!(!is_left(&h, "thigh pinch"));
    h.key_press_modifiers(egui::Modifiers::ALT, Key::ArrowUp);
    h.run_ok();
    assert!(is_left(&h, "thigh pinch"));
}
