//! How the toile will hang, driven through the names a screen reader says: settled beside
//! the desk, turned, changed, drawn level, stopped.

#![allow(clippy::unwrap_used, clippy::panic)] // helpers of tests may stop a test

use crate::common;
use crate::common::{Driven, ctrl, desk_of, folder, keys, press, type_place, wait_for, write};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::{Document, Start};
use hangtrue_desk::{Desk, sample};
use hangtrue_pattern::Rule;

fn desk_with(document: Document) -> Driven {
    let desk = Desk::new(document, None, None).settling_coarsely();
    desk_of(desk, [1440.0, 900.0], 1.0)
}

fn there(h: &Driven, words: &str) -> bool {
    h.query_all_by_label_contains(words).next().is_some()
}

/// Opened from the lines and settled on a coarse mesh.
fn settled() -> Driven {
    let mut h = desk_with(sample::document());
    ctrl(&mut h, Key::Num3);
    press(&mut h, "Show how it will hang");
    assert!(there(&h, "Predicted, not seen"), "said before anything is worked out");
    wait_for(&mut h, "Thigh, back");
    h.run_ok();
    h
}

#[test]
fn the_toile_is_settled_shown_turned_and_left() {
    let mut h = settled();
    assert!(there(&h, "low ±"), "droops stand with their ±");
    assert!(there(&h, "waist breadth was not taken"), "what is guessed is told");
    assert!(there(&h, "from one start on one mesh"), "a coarse look says so");
    let canvas = h.get_by_label_contains("The toile on the body, predicted").rect();
    for view in ["Look from the side", "Look from the front", "Look from the back"] {
        press(&mut h, view);
    }
    let from_behind = h.render().unwrap();
    common::drag(&mut h, canvas.center(), canvas.center() + egui::vec2(120.0, 10.0));
    h.run_ok();
    let turned = h.render().unwrap();
    assert_ne!(from_behind, turned, "pulled, it is seen from elsewhere");
    keys(&mut h, Modifiers::NONE, Key::ArrowLeft);
    assert_ne!(turned, h.render().unwrap(), "so it is by keys");
    press(&mut h, "Back to the cutting table");
    assert!(there(&h, "Cutting table"));
    // It is kept: opened again it is there at once.
    press(&mut h, "Show how it will hang");
    assert!(there(&h, "Thigh, back"));
}

/// Asked for once, it is begun; another room is opened meanwhile, and what became of it is
/// told there with a press that turns to it.
#[test]
fn it_goes_on_when_another_room_is_opened_and_is_told_there() {
    let mut h = desk_with(sample::document());
    ctrl(&mut h, Key::Num3);
    press(&mut h, "Show how it will hang");
    assert!(!there(&h, "Work out how it hangs"), "no second button");
    ctrl(&mut h, Key::Num6);
    assert!(there(&h, "How the lines hang, by ruler"));
    common::wait_till(&mut h, |h| there(h, "how it will hang is worked out"));
    assert!(there(&h, "How the lines hang, by ruler"), "the room stays open");
    press(&mut h, "Show it");
    assert!(there(&h, "Thigh, back") && there(&h, "The toile on the body, predicted"));
    assert!(!there(&h, "how it will hang is worked out"), "it was read");
}

/// So it does behind the cutting table.
#[test]
fn it_goes_on_behind_the_cutting_table() {
    let mut h = desk_with(sample::document());
    ctrl(&mut h, Key::Num4);
    press(&mut h, "Show how it will hang");
    press(&mut h, "Back to the cutting table");
    common::wait_till(&mut h, |h| there(h, "how it will hang is worked out"));
    assert!(there(&h, "Cutting table"));
}

#[test]
fn a_handle_is_kept_with_the_project_and_settled_from_where_it_lay() {
    let mut h = settled();
    write(&mut h, "Full seat", "10 mm");
    assert!((h.state().document().figure.handles.seat - 10.0).abs() < 1e-9);
    assert!(there(&h, "Something was changed since"));
    assert!(!there(&h, "Thigh, back"), "what is of before is not told as if it were now");
    press(&mut h, "Work it out from where it lay");
    wait_for(&mut h, "Thigh, back");
    assert!(there(&h, "Begun from where the toile lay before"));
    press(&mut h, "Work it out afresh");
    wait_for(&mut h, "Stop working it out");
    press(&mut h, "Stop working it out");
    assert!(there(&h, "Thigh, back"), "what was there stays");
    // Undone, what was settled before is taken up again without being settled.
    ctrl(&mut h, Key::Z);
    h.run_ok();
    assert!(there(&h, "Thigh, back") && !there(&h, "Something was changed since"));
    write(&mut h, "Full seat", "300 mm");
    assert!(there(&h, "beyond any body"), "a body that cannot be is refused by name");
    assert!(there(&h, "a seat of"));
}

#[test]
fn the_reading_takes_the_settled_toile_for_home() {
    let mut h = settled();
    press(&mut h, "Back to the cutting table");
    ctrl(&mut h, Key::Num6);
    press(&mut h, "Measure this line");
    write(&mut h, "thigh line, back, both legs, middle", "90 mm");
    assert!(there(&h, "is worked out for this toile on this body"));
    // Another body was not settled: the closed form is taken again, and that is said.
    let mut other = desk_with(sample::document());
    ctrl(&mut other, Key::Num6);
    press(&mut other, "Measure this line");
    write(&mut other, "thigh line, back, both legs, middle", "80 mm");
    assert!(there(&other, "reckoned from the slope of the seams"));
    assert!(there(&other, "It can be worked out for this toile on the body"));
}

#[test]
fn a_level_line_is_drawn_beside_the_straight_one() {
    let mut h = settled();
    let before = h.state().document().changes.len();
    press(&mut h, "Draw a thigh line that hangs level");
    h.run_ok();
    assert_eq!(h.state().document().changes.len(), before + 2, "one on each piece");
    let pattern = h.state().replay().current().unwrap().clone();
    let line = pattern.line("back", "level thigh").unwrap();
    let Rule::Bowed(bow) = &line.rule else { panic!("{:?}", line.rule) };
    assert!(bow.middle > 8.0, "bowed up: {}", bow.middle);
    assert!(line.purpose.to_cloth() && line.purpose.reason().contains("predicted"));
    assert!(pattern.line("back", "thigh").is_ok(), "the straight one stays");
    // Read at once: a line is not sewn, so nothing is settled.
    assert!(there(&h, "Level thigh, back"));
    assert!(!there(&h, "Something was changed since"));
    assert!(h.query_by_label("Draw a thigh line that hangs level").is_none());
    ctrl(&mut h, Key::Num3);
    assert!(there(&h, "bowed up by"), "the rule says what it is");
}

#[test]
fn the_picture_is_written_where_it_is_asked_for() {
    let folder = folder("hang-picture");
    let mut h = settled();
    press(&mut h, "Save the picture…");
    let place = folder.join("hang.png");
    type_place(&mut h, &place);
    let bytes = std::fs::read(&place).unwrap();
    let picture = image::load_from_memory(&bytes).unwrap();
    assert!(picture.width() > 1500 && picture.height() > 900);
    std::fs::remove_dir_all(folder).unwrap();
}

#[test]
fn a_pattern_that_was_brought_in_is_asked_for_its_body() {
    let mut document = sample::document();
    let pattern = hangtrue_adjust::Replay::new(document.clone()).current().unwrap().clone();
    let Start::Block { measures, .. } = document.start.clone() else { panic!("a block") };
    document.start = Start::Pieces((*pattern).clone());
    document.changes.clear();
    let mut h = desk_with(document);
    ctrl(&mut h, Key::Num4);
    press(&mut h, "Show how it will hang");
    assert!(there(&h, "was brought in and knows no body"));
    for (measure, mm) in measures.iter() {
        let name = measure.name();
        let label = name[..1].to_uppercase() + &name[1..];
        write(&mut h, &label, &format!("{mm} mm"));
    }
    assert_eq!(h.state().document().figure.measures, measures);
    press(&mut h, "Work out how it hangs");
    wait_for(&mut h, "Thigh, back");
}

/// A correction lies on the table: what it does to the lines is asked for, told, and stale
/// once its amount is another.
#[test]
fn a_correction_on_the_table_is_predicted_on_the_body() {
    let mut h = desk_with(sample::document());
    ctrl(&mut h, Key::Num8);
    write(&mut h, "Look for a correction", "sway back");
    press(&mut h, "Sway back");
    assert!(there(&h, "What it would do to the lines") && !there(&h, "lines changes by more"));
    press(&mut h, "Predict it");
    wait_for(&mut h, "Stop predicting");
    common::wait_till(&mut h, |h| !there(h, "Stop predicting"));
    assert!(
        there(&h, "Predicted, not seen") && there(&h, "by more than its ±"),
        "each is told or said to be within its ±"
    );
    write(&mut h, "Amount of the correction", "12 mm");
    assert!(!there(&h, "by more than its ±"), "of another amount nothing is known yet");
    assert!(there(&h, "Predict it"));
}

/// The three ways to take up a pinch are predicted in one go, and each says so in its box.
#[test]
fn the_ways_to_take_up_a_pinch_are_predicted_side_by_side() {
    let mut h = desk_with(sample::document());
    ctrl(&mut h, Key::Num7);
    press(&mut h, "Pinned along the thigh line of the back");
    write(&mut h, "Amount at pin place 1", "10 mm");
    press(&mut h, "Predict all 3");
    common::wait_till(&mut h, |h| !there(h, "Stop predicting"));
    h.run_ok();
    let boxes = h.query_all_by_label_contains("predicted: ").count();
    assert_eq!(boxes, 3, "each way says what it does or that it cannot be told");
}
