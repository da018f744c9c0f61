//! What was written down in one room is offered where it is needed next: the pinch begins
//! with what was left over on the toile, the front's line follows the back's, a line is
//! level by one press, what two fittings differ in is told in words, and paper is chosen
//! among the same everywhere.

#![allow(clippy::unwrap_used, clippy::panic)] // helpers of tests may stop a test

use crate::common::{
    Driven, choose, ctrl, desk_with, folder, keys, measure_upon_home, press, press_containing,
    type_place, write,
};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::{Change, PaperName, PinchPath, pulled_length};
use hangtrue_desk::sample;
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Pattern, names};

fn there(h: &Driven, words: &str) -> bool {
    h.query_all_by_label_contains(words).next().is_some()
}

/// An example in millimetres on whose toile 9.5 mm were left over under the seat.
fn with_something_left_over() -> Driven {
    let mut document = sample::document();
    document.unit = Unit::Mm;
    let mut h = desk_with(document, None);
    ctrl(&mut h, Key::Num6);
    press(&mut h, "Measure this line");
    choose(&mut h, "Line measured", "hip balance");
    press(&mut h, "Measure this line");
    measure_upon_home(&mut h, |mm| format!("{mm:.1} mm"));
    h
}

fn tried(h: &Driven) -> hangtrue_adjust::Pinch {
    let changes = &h.state().replay().document().changes;
    let Change::Pinch(pinch) = &changes.last().unwrap().change else { panic!("no pinch") };
    pinch.pinch.clone()
}

#[test]
fn a_pinch_begins_with_what_was_left_over_on_the_toile() {
    let mut h = with_something_left_over();
    ctrl(&mut h, Key::Num7);
    assert!(there(&h, "From the toile: back thigh, both legs: in the middle "));
    // 9.525 mm, but for the tenth to which it was typed.
    let mut shown = ["9.5 mm", "9.6 mm"].into_iter();
    let left = shown.find(|left| there(&h, &format!("{left} left over ± "))).expect("with its ±");
    press_containing(&mut h, "From the toile: back thigh");
    // Line and place are set; the amount is asked for, and nothing is taken yet.
    let pinch = tried(&h);
    assert_eq!(pinch.path, PinchPath::Line(names::THIGH.into()));
    assert!(pinch.stations.iter().all(|s| s.amount == 0.0), "{:?}", pinch.stations);
    assert!(there(&h, &format!("Left over on the toile: in the middle {left}")));
    press(&mut h, "That is what was pinned");
    let most = tried(&h).stations.iter().map(|s| s.amount).fold(0.0, f64::max);
    assert!((most - 9.5).abs() < 0.1, "{most}");
    // The maker says what was pinned.
    write(&mut h, "Amount at pin place 1", "8 mm");
    ctrl(&mut h, Key::Enter);
    let changes = &h.state().document().changes;
    let Change::Pinch(made) = &changes.last().unwrap().change else { panic!("not accepted") };
    assert_eq!(made.pinch.stations[0].amount, 8.0);
    // Once it is pinned along that line it is not offered again.
    assert!(!there(&h, "From the toile: back thigh"));
}

#[test]
fn one_press_writes_down_that_a_line_is_level_everywhere() {
    let mut h = desk_with(sample::document(), None);
    ctrl(&mut h, Key::Num6);
    choose(&mut h, "Line measured", "waist");
    press(&mut h, "Measure this line");
    press(&mut h, "All level: waist line, back, both legs");
    let droops = &h.state().document().journal.droops;
    assert_eq!(droops.len(), 6, "three places on two legs: {droops:?}");
    assert!(droops.iter().all(|d| d.droop.mm == 0.0));
    ctrl(&mut h, Key::Z);
    assert!(h.state().document().journal.droops.is_empty(), "one step of undo");
}

fn number(pattern: &Pattern, piece: &str, line: &str) -> f64 {
    pulled_length(&pattern.line(piece, line).unwrap().rule).unwrap()
}

/// Where a line lies at the side seam, from the waist down along it, mm.
fn at_side(pattern: &Pattern, piece: &str, line: &str) -> f64 {
    let placed = pattern.place_line(piece, line).unwrap();
    let end = placed.ends.iter().find(|e| e.seam == names::SIDE).unwrap();
    let side = pattern.piece(piece).unwrap().seam(names::SIDE).unwrap();
    let waist = pattern.piece(piece).unwrap().corner(names::WAIST_SIDE).unwrap();
    let from_start = side.start().distance(waist) < side.end().distance(waist);
    if from_start { end.position } else { side.sewn_length() - end.position }
}

#[test]
fn a_line_set_on_the_back_is_offered_for_the_front() {
    let mut h = desk_with(sample::document(), None);
    ctrl(&mut h, Key::Num3);
    press(&mut h, "Set hip balance on the back");
    assert!(!there(&h, "Accept, and set the front’s too"), "nothing was changed yet");
    write(&mut h, "Depth", "6 in");
    assert!(there(&h, "By the same number, on the front, hip balance line: "));
    assert!(there(&h, " down."), "which way it goes is told");
    press(&mut h, "Accept, and set the front’s too");
    let pattern = h.state().replay().current().unwrap();
    for piece in ["back", "front"] {
        assert!((number(pattern, piece, "hip balance") - 152.4).abs() < 1e-9, "{piece}");
    }
    assert!(!there(&h, "not accepted yet"));
}

/// The thigh lines lie by two rules and meet at the side seam: so they do when that of
/// either piece was set.
#[test]
fn thigh_lines_set_on_one_piece_meet_at_the_side_seam() {
    for piece in ["back", "front"] {
        let mut h = desk_with(sample::document(), None);
        ctrl(&mut h, Key::Num3);
        press(&mut h, &format!("Set thigh on the {piece}"));
        let words = format!("thigh line on the {piece}");
        h.get_by_label_contains(&words).focus();
        h.run_ok();
        for _ in 0..4 {
            keys(&mut h, Modifiers::NONE, Key::ArrowDown);
        }
        press_containing(&mut h, "Accept, and set the ");
        let pattern = h.state().replay().current().unwrap();
        let (back, front) = (at_side(pattern, "back", "thigh"), at_side(pattern, "front", "thigh"));
        assert!((back - front).abs() < 0.5, "set on the {piece}: {back} and {front}");
    }
}

#[test]
fn what_two_fittings_differ_in_is_told_in_words() {
    let mut h = desk_with(sample::opening(), None);
    ctrl(&mut h, Key::Num8);
    press_containing(&mut h, "Seat: full seat");
    press(&mut h, "Full seat");
    ctrl(&mut h, Key::Enter);
    press(&mut h, "Lay over each other");
    assert!(there(&h, " longer") || there(&h, " shorter"), "a seam");
    assert!(there(&h, " up") || there(&h, " down"), "a corner");
    assert!(there(&h, "Out is away from the middle of the piece"));
}

/// At Print and for a class the same papers are offered.
#[test]
fn paper_is_chosen_among_the_same_everywhere() {
    let mut h = desk_with(sample::opening(), None);
    press(&mut h, "Files");
    press(&mut h, "Print a class from a list…");
    for paper in PaperName::ALL {
        assert!(h.query_by_label(paper.name()).is_some(), "a class on {}", paper.name());
    }
    press(&mut h, "a roll");
    assert!(there(&h, " wide"), "how wide the roll is, is told");
    press(&mut h, "Close");
    ctrl(&mut h, Key::Num5);
    press_containing(&mut h, "Paper: ");
    for paper in PaperName::ALL {
        assert!(h.query_by_label(paper.name()).is_some(), "printed on {}", paper.name());
    }
}

/// A file is chosen in one way; who types places rather says so in the settings, and a desk
/// with no system behind it types them anyway.
#[test]
fn a_file_is_saved_by_one_button() {
    let folder = folder("one-button");
    let own = folder.join("own");
    let mut h = desk_with(sample::document(), Some(own.clone()));
    press(&mut h, "Settings");
    press(&mut h, "Type the place of a file instead of choosing it in the system’s window");
    press(&mut h, "Close");
    ctrl(&mut h, Key::Num5);
    assert_eq!(h.query_all_by_label_contains("Save the marking sheet").count(), 1);
    press(&mut h, "Save the marking sheet as PDF…");
    type_place(&mut h, &folder.join("m"));
    assert!(std::fs::read(folder.join("m.pdf")).unwrap().starts_with(b"%PDF"));
    let kept = std::fs::read_to_string(own.join("desk.ron")).unwrap();
    assert!(kept.contains("type_places: true"), "{kept}");
    std::fs::remove_dir_all(folder).unwrap();
}
