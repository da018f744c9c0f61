//! The list of a long piece of work: 24 changes renamed, switched off, edited,
//! carried to another place and looked at, with the pointer and by keys.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common;
use crate::common::{Driven, ctrl, desk_with, drag, keys, press, write};
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::{Applied, Change, Document, Pinch, PinchChange};
use hangtrue_desk::sample;

/// The seven usual lines, then pinches by every method, 24 changes in all.
fn long_work() -> Document {
    let mut document = sample::document();
    let methods = hangtrue_adjust::Method::all(hangtrue_pattern::units::Unit::Eighths);
    for i in document.changes.len()..24 {
        let name = format!("pinch {}", i + 1);
        let pinch = Pinch::in_the_middle(&name, "back", "thigh", 1.0);
        let method = methods[i % 3].clone();
        document.push(&name, Change::Pinch(PinchChange { pinch, method }));
    }
    document
}

fn names(h: &Driven) -> Vec<String> {
    h.state().document().changes.iter().map(|e| e.name.clone()).collect()
}

#[test]
fn a_change_is_carried_to_another_place_with_the_pointer() {
    let mut h = desk_with(sample::document(), None);
    let before = names(&h);
    let at = |h: &Driven, i: usize| h.get_by_label(&format!("{}. {}", i + 1, before[i])).rect();
    let (from, to) = (at(&h, 0).center(), at(&h, 3));
    drag(&mut h, from, to.center_bottom() + vec2(-40.0, 6.0));
    let mut expected = before.clone();
    let moved = expected.remove(0);
    expected.insert(3, moved);
    assert_eq!(names(&h), expected);
    ctrl(&mut h, Key::Z);
    assert_eq!(names(&h), before);
    // A click is no pull.
    h.get_by_label(&format!("1. {}", before[0])).click();
    h.run_ok();
    assert_eq!(names(&h), before);
    assert!(h.query_by_label_contains("The pattern just after").is_some());
}

#[test]
fn twenty_four_changes_are_worked_on() {
    let mut h = desk_with(long_work(), None);
    assert_eq!(h.state().document().changes.len(), 24);
    assert_eq!(h.state().replay().failures().count(), 0);
    // The last one is reached, renamed, moved, switched off and on.
    press(&mut h, "24. pinch 24");
    press(&mut h, "Rename");
    write(&mut h, "New name of the change", "the last pinch");
    press(&mut h, "Earlier");
    assert_eq!(names(&h)[22], "the last pinch");
    press(&mut h, "Switch off");
    assert!(matches!(h.state().replay().states()[22].applied, Applied::Off));
    press(&mut h, "Switch on");
    // Edited again: what follows is computed anew.
    press(&mut h, "Edit again");
    write(&mut h, "Amount at pin place 1", "2 mm");
    ctrl(&mut h, Key::Enter);
    let Change::Pinch(pinch) = &h.state().document().changes[22].change else { panic!() };
    assert_eq!(pinch.pinch.stations[0].amount, 2.0);
    assert_eq!(h.state().replay().failures().count(), 0);
    // Looked at one after the other by keys.
    for _ in 0..24 {
        keys(&mut h, Modifiers::ALT, Key::ArrowUp);
    }
    assert!(h.query_by_label_contains("just after “hip balance").is_some());
    keys(&mut h, Modifiers::ALT, Key::ArrowUp);
    assert!(h.query_by_label_contains("just after").is_none(), "back to today’s pattern");
}

#[test]
fn a_closed_round_folds_its_changes_away() {
    let mut h = desk_with(sample::opening(), None);
    let first = format!("1. {}", names(&h)[0]);
    assert!(h.query_by_label(&first).is_none());
    press(&mut h, "Show its 8 changes");
    assert!(h.query_by_label(&first).is_some());
    press(&mut h, "Fold “first toile” away");
    assert!(h.query_by_label(&first).is_none());
    // Looked at by keys it unfolds by itself.
    keys(&mut h, Modifiers::ALT, Key::ArrowDown);
    assert!(h.query_by_label(&first).is_some());
}

/// However long the list is, what is done with the whole of it stays in sight.
#[test]
fn comparing_and_closing_stay_in_sight_below_a_long_list() {
    for (size, larger) in [([1440.0, 900.0], 0), ([1440.0, 900.0], 10), ([1024.0, 700.0], 0)] {
        let mut h = common::desk_sized(long_work(), None, size, 1.0);
        for _ in 0..larger {
            ctrl(&mut h, Key::Plus);
        }
        if h.query_by_label("Show the changes").is_some() {
            press(&mut h, "Show the changes");
        }
        let screen = egui::Rect::from_min_size(egui::Pos2::ZERO, size.into());
        for name in ["Lay over each other", "Close this fitting…"] {
            let place = h.get_by_label(name).rect();
            assert!(screen.contains_rect(place), "{name} at {place:?} of {size:?}, {larger}");
        }
        press(&mut h, "Lay over each other");
        assert!(h.query_by_label_contains("Comparing: ").is_some());
        assert!(screen.contains_rect(h.get_by_label("Stop comparing").rect()));
    }
}
