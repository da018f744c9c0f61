//! How the lines of a toile hang, written down at the desk, and what that may mean.

#![allow(clippy::unwrap_used, clippy::panic)] // helpers of tests may stop a test

use crate::common;
use crate::common::{
    Driven, at_home, choose, ctrl, desk_with, keys, measure_upon_home, press, write, write_only,
};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::reading::{Leg, Looked, Sign};
use hangtrue_adjust::{Change, NoteKind, OPEN_ROUND};
use hangtrue_desk::sample;

fn at_the_toile() -> Driven {
    let mut h = desk_with(sample::document(), None);
    ctrl(&mut h, Key::Num6);
    h
}

#[test]
fn a_droop_is_written_down_read_and_answered() {
    let mut h = at_the_toile();
    let before = h.state().document().clone();
    press(&mut h, "Measure this line");
    choose(&mut h, "Line measured", "hip balance");
    press(&mut h, "Measure this line");
    assert_eq!(*h.state().document(), before, "nothing was measured yet");
    measure_upon_home(&mut h, |mm| format!("{mm:.6} mm"));
    let journal = h.state().document().journal.clone();
    assert_eq!(journal.droops_of(OPEN_ROUND).count(), 12, "three places, two lines, two legs");
    assert!(h.query_all_by_label_contains("Surplus length under the seat").next().is_some());
    assert!(h.query_all_by_label_contains("Not to be told from the lines").next().is_some());
    press(&mut h, "Try proposal 1 on the paper");
    assert_eq!(h.state().document().changes.len(), before.changes.len(), "nothing is made yet");
    ctrl(&mut h, Key::Enter);
    let Change::Pinch(made) = &h.state().document().changes.last().unwrap().change else {
        panic!("{:?}", h.state().document().changes.last());
    };
    let most = made.pinch.stations.iter().map(|s| s.amount).fold(0.0, f64::max);
    assert!((most - 9.525).abs() < 1e-5, "{most}");
    for _ in 0..3 {
        ctrl(&mut h, Key::Z);
    }
    assert_eq!(*h.state().document(), before, "each line was one step");
}

#[test]
fn a_sign_is_ticked_and_points_to_its_cause() {
    let mut h = at_the_toile();
    let before = h.state().document().clone();
    press(&mut h, "Seen from behind");
    press(&mut h, "Seat seam drawn up: there");
    let signs = h.state().document().journal.signs_of(OPEN_ROUND);
    assert_eq!(signs, [Looked { sign: Sign::SeamDrawnUp, seen: true, leg: None }]);
    assert!(h.query_all_by_label_contains("Seat seam too short").next().is_some());
    assert!(h.query_all_by_label_contains("only to begin with").next().is_some());
    choose(&mut h, "Legs that show", "left leg");
    assert_eq!(h.state().document().journal.signs_of(OPEN_ROUND)[0].leg, Some(Leg::Left));
    press(&mut h, "Seat seam drawn up: not there");
    assert!(h.query_all_by_label_contains("Seat seam too short").next().is_none());
    assert!(h.query_all_by_label_contains("No line was measured").next().is_some());
    press(&mut h, "Seat seam drawn up: not looked for");
    assert_eq!(h.state().document().journal, before.journal);
}

#[test]
fn left_and_right_are_written_apart_and_parted_for_uneven_hips() {
    let mut h = at_the_toile();
    for line in ["hip balance", "thigh"] {
        choose(&mut h, "Line measured", line);
        press(&mut h, "Measure this line");
        let inner = if line == "hip balance" { "centre" } else { "inseam" };
        press(&mut h, &format!("Left and right differ: {line} line, back, both legs"));
        for (leg, mm) in [("left", 5.0), ("right", -5.0)] {
            for (place, share) in [(inner, 0.0), ("middle", 0.5), ("side", 1.0)] {
                let droop = format!("{:.6} mm", mm + at_home(&h, line, share));
                write(&mut h, &format!("{line} line, back, {leg} leg, {place}"), &droop);
            }
        }
    }
    let journal = &h.state().document().journal;
    let left: Vec<f64> =
        journal.droops_of(OPEN_ROUND).filter(|d| d.leg == Leg::Left).map(|d| d.mm).collect();
    assert_eq!(left.len(), 6);
    assert!(left.iter().filter(|mm| (**mm - 5.0).abs() < 1e-9).count() >= 2, "{left:?}");
    press(&mut h, "Try proposal 1 on the paper");
    ctrl(&mut h, Key::Enter);
    assert!(h.state().replay().current().unwrap().is_apart());
    let last = h.state().document().changes.last().unwrap().change.clone();
    assert_eq!(last.leg(), Some(hangtrue_pattern::Leg::Right), "{last:?}");
}

#[test]
fn notes_go_to_the_journal_and_stay_with_their_round() {
    let mut h = at_the_toile();
    write_only(&mut h, "Seen on the body", "the thigh line droops");
    press(&mut h, "Note it: seen on the body");
    write_only(&mut h, "Decided", "take 3/8 under the seat");
    press(&mut h, "Note it: decided");
    assert!(h.query_all_by_label("Seen: the thigh line droops").next().is_some());
    press(&mut h, "Take the note away: take 3/8 under the seat");
    press(&mut h, "Close this fitting…");
    press(&mut h, "Close it");
    let journal = h.state().document().journal.clone();
    let seen: Vec<&str> = journal.notes_of("toile 1", NoteKind::Seen).collect();
    assert_eq!(seen, ["the thigh line droops"]);
    assert_eq!(journal.notes.len(), 1);
    assert!(h.query_all_by_label("Seen: the thigh line droops").next().is_none(), "a new round");
}

/// A line is measured from the keyboard as it comes: letter by letter, Tab from place to
/// place.
#[test]
fn droops_are_typed_letter_by_letter_and_tab_goes_on() {
    let mut h = desk_with(sample::opening(), None);
    ctrl(&mut h, Key::Num6);
    press(&mut h, "Measure this line");
    for part in ["0", "1 3/8", "0"] {
        for letter in part.chars() {
            h.event(egui::Event::Text(letter.to_string()));
            h.run_ok();
        }
        keys(&mut h, Modifiers::NONE, Key::Tab);
    }
    let droops: Vec<(f64, f64)> = h
        .state()
        .document()
        .journal
        .droops
        .iter()
        .filter(|d| d.round == OPEN_ROUND)
        .map(|d| (d.droop.at, d.droop.mm))
        .collect();
    let wanted = [(0.0, 0.0), (0.5, 34.925), (1.0, 0.0)];
    for leg in droops.chunks(3) {
        for (seen, wanted) in leg.iter().zip(wanted) {
            assert!(
                (seen.0 - wanted.0).abs() < 1e-9 && (seen.1 - wanted.1).abs() < 1e-6,
                "{droops:?}"
            );
        }
    }
    assert_eq!(droops.len(), 6, "{droops:?}");
}

/// Odd values of a droop are answered in words by their line, in room kept for it: the
/// fields stay where they are, and the card as wide as it is.
#[test]
fn odd_droops_are_answered_in_words_and_nothing_moves() {
    for (size, larger) in [([1440.0, 900.0], 0), ([1024.0, 700.0], 10), ([760.0, 700.0], 0)] {
        let mut document = sample::opening();
        document.unit = hangtrue_pattern::units::Unit::Cm;
        let mut h = common::desk_sized(document, None, size, 1.0);
        for _ in 0..larger {
            ctrl(&mut h, Key::Plus);
        }
        ctrl(&mut h, Key::Num6);
        press(&mut h, "Measure this line");
        let line = "thigh line, back, both legs";
        let rect = |h: &common::Driven, name: &str| h.get_by_label(name).rect();
        let stand = |h: &common::Driven| -> Vec<(f32, f32)> {
            ["inseam", "side", "plus or minus"]
                .map(|place| rect(h, &format!("{line}, {place}")).center())
                .map(|at| (at.x.round(), at.y.round()))
                .into()
        };
        let middle = format!("{line}, middle");
        write(&mut h, &middle, "");
        let before = stand(&h);
        for (typed, answer) in [
            ("abc", "“abc” is not a length"),
            ("99999", "out of range"),
            ("-99999", "out of range"),
            ("1/0", "“1/0” is not a length"),
        ] {
            write(&mut h, &middle, typed);
            let said = h.query_all_by_label_contains(answer).count();
            assert!(said > 0, "{typed} at {size:?}, {larger}");
            // A field is as wide as what stands in it; the others may give way for that, but
            // nothing is pushed off the screen.
            let moved = stand(&h);
            assert!(typed.contains("999") || moved == before, "{typed} at {size:?}, {larger}");
            assert!(moved.iter().all(|at| at.0 < size[0]), "{moved:?} at {size:?}, {larger}");
        }
        for typed in ["1,5", "-0.5", "", "0"] {
            write(&mut h, &middle, typed);
            assert!(h.query_by_label_contains("Middle: ").is_none(), "{typed} is taken");
            assert_eq!(stand(&h), before, "{typed}");
        }
        common::write_only(&mut h, &middle, "3 1/2");
        let read = h.query_by_label_contains("3 1/2 is read as inches: 8.89 cm").is_some();
        assert!(read, "at {size:?}, {larger}");
        write(&mut h, &format!("{line}, plus or minus"), "0");
        assert!(h.query_by_label_contains("0, less than").is_some());
    }
}

/// From a droop to the next paper, each step named with its reason, none called done that
/// was not done.
#[test]
fn what_comes_next_is_told_from_a_droop_to_the_next_paper() {
    let mut h = at_the_toile();
    press(&mut h, "Measure this line");
    common::measure_thigh_droop(&mut h);
    assert!(h.query_by_label("Toile, next").is_some());
    assert!(h.query_by_label("Pinch, as needed").is_some(), "nothing was pinned");
    assert!(h.query_by_label_contains("names no cause: its ± is too wide").is_some());
    press(&mut h, "Try proposal 1 on the paper");
    ctrl(&mut h, Key::Enter);
    assert!(h.query_by_label("Toile, dealt with").is_some());
    assert!(h.query_by_label("Pinch, taken up").is_some());
    assert!(h.query_by_label("Walk seams, next").is_some());
    assert!(h.query_by_label_contains("matches by calculation. Look at them yourself").is_some());
    ctrl(&mut h, Key::Num9);
    assert!(h.query_by_label("Walk seams, next").is_some(), "turned to is not looked at");
    press(&mut h, "I looked at these seams");
    assert!(h.query_by_label("Walk seams, looked at").is_some());
    // The desk began there; what was shown then is no longer so.
    assert!(h.query_by_label("As sewn, look again").is_some());
    assert!(h.query_by_label_contains("The pattern changed since its lines").is_some());
    ctrl(&mut h, Key::Z);
    assert!(h.query_by_label("Toile, next").is_some(), "taken back, it is to be dealt with");
}
