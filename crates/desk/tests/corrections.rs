//! Corrections, left and right apart, and pins as they were measured, at the desk.

#![allow(clippy::unwrap_used, clippy::panic)] // helpers of tests may stop a test

use crate::common::{Driven, ctrl, desk_with, keys, press, press_containing, write, write_only};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::{Change, StationPlace, walk_all};
use hangtrue_desk::sample;
use hangtrue_pattern::Leg;

fn correcting() -> Driven {
    let mut h = desk_with(sample::document(), None);
    ctrl(&mut h, Key::Num8);
    h
}

fn last(h: &Driven) -> Change {
    h.state().document().changes.last().unwrap().change.clone()
}

#[test]
fn a_correction_is_found_tried_accepted_and_undone() {
    let mut h = correcting();
    let before = h.state().document().clone();
    write_only(&mut h, "Look for a correction", "seat");
    press(&mut h, "Full seat");
    assert_eq!(*h.state().document(), before, "nothing is changed before it is accepted");
    write(&mut h, "Amount of the correction", "3/8");
    write(&mut h, "Name of the correction", "rounder seat");
    ctrl(&mut h, Key::Enter);
    let Change::Correct(made) = last(&h) else { panic!("{:?}", last(&h)) };
    assert_eq!(made.about().name, "full seat");
    assert!((made.amount() - 9.525).abs() < 1e-9);
    assert_eq!(h.state().document().changes.last().unwrap().name, "rounder seat");
    let pattern = h.state().replay().current().unwrap().clone();
    assert!(walk_all(&pattern).unwrap().iter().all(|w| w.matches), "seams still match");
    press_containing(&mut h, "Edit “rounder seat” again");
    press(&mut h, "The other way");
    ctrl(&mut h, Key::Enter);
    let Change::Correct(made) = last(&h) else { panic!("{:?}", last(&h)) };
    assert!((made.amount() + 9.525).abs() < 1e-9);
    ctrl(&mut h, Key::Z);
    ctrl(&mut h, Key::Z);
    assert_eq!(*h.state().document(), before);
}

#[test]
fn the_handle_on_the_table_sets_the_amount_by_keys() {
    let mut h = correcting();
    press_containing(&mut h, "Thigh, knee and calf");
    press(&mut h, "Full calf");
    let amount = |h: &Driven| match &h.state().replay().document().changes.last().unwrap().change {
        Change::Correct(c) => c.amount(),
        other => panic!("{other:?}"),
    };
    let begun = amount(&h);
    h.get_by_label_contains("handle of the correction full calf").focus();
    h.run_ok();
    keys(&mut h, Modifiers::NONE, Key::ArrowUp);
    keys(&mut h, Modifiers::NONE, Key::ArrowUp);
    assert!((amount(&h) - begun - 2.0 * 25.4 / 16.0).abs() < 1e-9, "{}", amount(&h));
}

#[test]
fn what_cannot_be_made_is_said_and_not_accepted() {
    let mut h = correcting();
    let before = h.state().document().clone();
    write_only(&mut h, "Look for a correction", "knock knee");
    press(&mut h, "Knock knee");
    write(&mut h, "Amount of the correction", "30 in");
    assert!(h.query_all_by_label("Not possible like this").next().is_some());
    ctrl(&mut h, Key::Enter);
    assert_eq!(*h.state().document(), before);
    keys(&mut h, Modifiers::NONE, Key::Escape);
    keys(&mut h, Modifiers::NONE, Key::Escape);
    assert_eq!(*h.state().document(), before);
}

#[test]
fn one_leg_is_corrected_after_parting_and_given_up_when_joined() {
    let mut h = correcting();
    press(&mut h, "Part left and right…");
    ctrl(&mut h, Key::Enter);
    assert!(h.state().replay().current().unwrap().is_apart());
    write_only(&mut h, "Look for a correction", "high hip");
    press(&mut h, "High hip");
    press(&mut h, "the left leg");
    ctrl(&mut h, Key::Enter);
    assert_eq!(last(&h).leg(), Some(Leg::Left));
    let pattern = h.state().replay().current().unwrap().clone();
    let side = |piece: &str| {
        let piece = pattern.piece(piece).unwrap();
        piece.seam("side").unwrap().sewn_length()
    };
    assert!(side("back left") - side("back right") > 5.0, "only the left side is higher");
    write_only(&mut h, "Look for a correction", "");
    press(&mut h, "Put left and right together…");
    assert!(h.query_all_by_label("Not possible like this").next().is_some(), "the legs differ");
    press_containing(&mut h, "The right one");
    ctrl(&mut h, Key::Enter);
    let joined = h.state().replay().current().unwrap().clone();
    assert!(!joined.is_apart());
    let was = side("back right");
    let now = joined.piece("back").unwrap().seam("side").unwrap().sewn_length();
    assert!((now - was).abs() < 1e-9);
}

#[test]
fn pins_are_written_down_as_they_were_measured() {
    let mut h = desk_with(sample::document(), None);
    ctrl(&mut h, Key::Num7);
    press(&mut h, "Pinned along the thigh line of the back");
    h.get_by_label_contains("Measured from the pins").click_accesskit();
    h.run_ok();
    write(&mut h, "Depth of the fold at pin place 1", "1/4");
    let pinch = |h: &Driven| match &h.state().replay().document().changes.last().unwrap().change {
        Change::Pinch(p) => p.pinch.clone(),
        other => panic!("{other:?}"),
    };
    assert!((pinch(&h).stations[0].amount - 12.7).abs() < 1e-9, "a fold takes twice its depth");
    // From both seams: a tape that is read wrong is told, one a little off is spread.
    h.get_by_label_contains("Pin place 1 is counted").click_accesskit();
    h.run_ok();
    press(&mut h, "from both seams");
    write(&mut h, "Pin place 1 from the side", "20 in");
    assert!(h.query_all_by_label("Not possible like this").next().is_some());
    let pattern = h.state().replay().after(8).unwrap().clone();
    let length = pinch(&h).lay(&pattern).unwrap().path.length();
    write(&mut h, "Pin place 1 from the side", &format!("{} mm", 0.4 * length + 1.0));
    write(&mut h, "Pin place 1 from the inseam", &format!("{} mm", 0.6 * length + 1.5));
    press(&mut h, "Set it there");
    let StationPlace::From(_, at) = &pinch(&h).stations[0].at else { panic!() };
    let share = at / length;
    assert!((share - 0.4).abs() < 1e-4 || (share - 0.6).abs() < 1e-4, "{share}");
}

#[test]
fn a_pinch_on_one_leg_changes_that_leg() {
    let mut h = correcting();
    press(&mut h, "Part left and right…");
    ctrl(&mut h, Key::Enter);
    let before = h.state().replay().current().unwrap().clone();
    ctrl(&mut h, Key::Num7);
    press(&mut h, "Pinned along the thigh line of the back");
    press(&mut h, "the left leg");
    write(&mut h, "Amount at pin place 1", "3/8 in");
    ctrl(&mut h, Key::Enter);
    let after = h.state().replay().current().unwrap().clone();
    assert_eq!(before.piece("back right").unwrap(), after.piece("back right").unwrap());
    assert_ne!(before.piece("back left").unwrap(), after.piece("back left").unwrap());
}
