//! The main job driven without a pointer, by the names a screen reader says, and
//! again with the pointer.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common::{
    Driven, STAGE_KEYS, click, desk_with, drag, folder, keys, press,
    press_containing as press_starting, type_place, wait_for, write, write_only,
};
use egui::accesskit::Role;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use hangtrue_adjust::{Applied, Change, Start, read_as_sewn, walk_all};
use hangtrue_desk::sample;
use hangtrue_pattern::Measure;

fn desk() -> Driven {
    desk_with(sample::bare(), None)
}

#[test]
fn the_main_job_from_measures_to_printing_without_a_pointer() {
    let mut h = desk();

    // Body: a measure is changed, and the block follows.
    keys(&mut h, Modifiers::COMMAND, Key::Num1);
    write(&mut h, "Hip girth", "41 1/2 in");
    let Start::Block { measures, .. } = &h.state().document().start else { panic!("a block") };
    assert!((measures.get(Measure::HipGirth).unwrap() - 41.5 * 25.4).abs() < 1e-9);
    let report = h.state().replay().draft_report().unwrap().clone();
    assert!((report.hip.target - (41.5 * 25.4 + 1.625 * 25.4)).abs() < 1e-6);
    assert!((report.hip.drafted - report.hip.target).abs() < 0.5);

    // Lines: the usual ones.
    keys(&mut h, Modifiers::COMMAND, Key::Num3);
    press(&mut h, "Mark the usual lines");
    assert!(h.state().replay().current().unwrap().lines.len() >= 4);
    assert_eq!(h.state().replay().failures().count(), 0);

    // As sewn: every line at every seam has its numbers on the card.
    keys(&mut h, Modifiers::COMMAND, Key::Num4);
    let readings = read_as_sewn(h.state().replay().current().unwrap()).unwrap();
    assert!(!readings.is_empty());
    for reading in &readings {
        let words = format!(
            "{}{} · {}",
            reading.line,
            if reading.on_cloth { "" } else { " (paper only)" },
            reading.join
        );
        assert!(h.query_by_label_contains(&words).is_some(), "{words}");
    }

    // Pinch: along the back thigh, 3/8 in, made larger by one step with the keys.
    keys(&mut h, Modifiers::COMMAND, Key::Num7);
    press(&mut h, "Pinned along the thigh line of the back");
    // It is empty, asks for its amount, and cannot be accepted like that.
    let before = h.state().document().clone();
    assert!(h.query_by_label("Slash and lap").is_none(), "nothing to try yet");
    let amount = h.get_by_role_and_label(egui::accesskit::Role::TextInput, "Amount at pin place 1");
    assert!(amount.accesskit_node().is_focused(), "it can be typed at once");
    assert!(h.query_by_label_contains("Measure it from mark to mark").is_some());
    keys(&mut h, Modifiers::COMMAND, Key::Enter);
    assert_eq!(h.state().document(), &before);
    assert!(h.query_by_label("Not done:").is_some());
    write(&mut h, "Amount at pin place 1", "3/8");
    h.get_by_label_contains("pin place 1 of the pinch").focus();
    h.run_ok();
    keys(&mut h, Modifiers::NONE, Key::ArrowUp);
    assert!(h.query_by_label_contains("pin place 1 of the pinch: 7/16 in").is_some());
    write(&mut h, "Amount at pin place 1", "3/8");
    assert!(h.query_by_label_contains("pin place 1 of the pinch: 3/8 in").is_some());
    let before = h.state().document().changes.len();
    for method in ["Slash and lap", "Even strip", "Top and scoop"] {
        press(&mut h, method);
    }
    assert_eq!(h.state().document().changes.len(), before, "nothing is accepted yet");
    keys(&mut h, Modifiers::COMMAND, Key::Enter);
    let document = h.state().document().clone();
    assert_eq!(document.changes.len(), before + 1);
    let Some(Change::Pinch(pinch)) = document.changes.last().map(|e| &e.change) else { panic!() };
    assert_eq!(pinch.method.name(), "top and scoop");
    assert!((pinch.pinch.stations[0].amount - 9.525).abs() < 1e-9);
    let Applied::Done(effect) = &h.state().replay().states().last().unwrap().applied else {
        panic!("the pinch was not made")
    };
    assert!(!effect.kept.is_empty() && effect.kept.iter().all(|k| k.kept()));

    // Walk: everything that is not true is trued, each after it was shown.
    keys(&mut h, Modifiers::COMMAND, Key::Num9);
    for _ in 0..20 {
        let Some(fix) = h.query_all_by_label_contains(": show me").next() else { break };
        fix.click_accesskit();
        h.run_ok();
        keys(&mut h, Modifiers::COMMAND, Key::Enter);
    }
    let walked = walk_all(h.state().replay().current().unwrap()).unwrap();
    assert!(walked.iter().all(|w| w.is_true()), "{walked:#?}");

    // Print: the sheets are worked out beside the desk, and saved.
    keys(&mut h, Modifiers::COMMAND, Key::Num5);
    wait_for(&mut h, "Save the sheets as PDF…");
    let folder = folder("job-keys");
    press(&mut h, "Save the sheets as PDF…");
    type_place(&mut h, &folder.join("sheets.pdf"));
    check_sheets(&folder.join("sheets.pdf"));
    std::fs::remove_dir_all(&folder).unwrap();

    // Undo without end: back to the measures.
    for _ in 0..200 {
        keys(&mut h, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(h.state().document(), &sample::bare());
    keys(&mut h, Modifiers::COMMAND, Key::Y);
    assert_ne!(h.state().document(), &sample::bare());
}

#[test]
fn a_change_is_renamed_switched_off_moved_and_removed() {
    let mut h = desk();
    keys(&mut h, Modifiers::COMMAND, Key::Num3);
    press(&mut h, "Mark the usual lines");
    let count = h.state().document().changes.len();
    let first = h.state().document().changes[0].name.clone();
    press(&mut h, &format!("1. {first}"));
    press(&mut h, "Switch off");
    assert!(!h.state().document().changes[0].on);
    assert!(matches!(h.state().replay().states()[0].applied, Applied::Off));
    press(&mut h, "Switch on");
    press(&mut h, "Rename");
    write(&mut h, "New name of the change", "my own line");
    assert_eq!(h.state().document().changes[0].name, "my own line");
    press(&mut h, "Later");
    assert_eq!(h.state().document().changes[1].name, "my own line");
    press(&mut h, "Remove");
    assert_eq!(h.state().document().changes.len(), count - 1);
    for _ in 0..4 {
        keys(&mut h, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(h.state().document().changes[0].name, first);
}

#[test]
fn measures_that_contradict_are_named_and_the_block_stays() {
    let mut h = desk();
    keys(&mut h, Modifiers::COMMAND, Key::Num1);
    let before = h.state().document().clone();
    write(&mut h, "Inside leg height", "1100 mm");
    assert_eq!(h.state().document(), &before, "a body that cannot be is not drafted");
    assert!(h.query_by_label_contains("contradicts the waist height").is_some());
    press(&mut h, "Back to the measures that agreed");
    assert!(h.query_by_label_contains("contradicts").is_none());
}

#[test]
fn corners_and_lines_are_reached_and_lines_moved_by_keys() {
    let mut h = desk();
    keys(&mut h, Modifiers::COMMAND, Key::Num3);
    press(&mut h, "Mark the usual lines");
    assert!(h.query_by_label_contains("back, corner crotch point").is_some());
    h.get_by_label_contains("hip balance line on the back").focus();
    h.run_ok();
    keys(&mut h, Modifiers::NONE, Key::ArrowDown);
    assert!(h.query_by_label_contains("hip balance line on the back: 5 13/16 in").is_some());
    keys(&mut h, Modifiers::COMMAND, Key::Enter);
    let moved = h.state().document().changes.iter().any(|e| {
        matches!(&e.change, Change::MarkLine(m) if m.line.rule.sentence(h.state().document().unit).contains("5 13/16 in"))
    });
    assert!(moved);
}

#[test]
fn a_length_that_cannot_be_read_is_said_and_nothing_changes() {
    let mut h = desk();
    keys(&mut h, Modifiers::COMMAND, Key::Num2);
    let before = h.state().document().clone();
    write(&mut h, "Hip ease", "a lot");
    assert_eq!(h.state().document(), &before);
    assert!(h.query_by_label_contains("“a lot” is not a length").is_some());
}

/// The first digits of a number that is refused are a block too: it does not stay.
#[test]
fn a_refused_ease_leaves_the_block_as_it_was_before_it_was_typed() {
    let mut h = desk();
    keys(&mut h, Modifiers::COMMAND, Key::Num2);
    let before = h.state().document().clone();
    write_only(&mut h, "Hip ease", "8");
    assert_ne!(h.state().document(), &before, "8 in is a block");
    write_only(&mut h, "Hip ease", "80");
    assert_eq!(h.state().document(), &before, "80 in is none, and neither is 8 in asked for");
    assert!(h.query_all_by_label_contains("hip ease of 80 in is out of range").next().is_some());
    write(&mut h, "Hip ease", "2");
    let two = h.state().document().clone();
    assert_ne!(two, before);
    // Another field begins from there.
    write_only(&mut h, "Waist ease", "90");
    assert_eq!(h.state().document(), &two);
}

#[test]
fn letters_of_200_percent_leave_every_stage_reachable() {
    let mut h = desk();
    for _ in 0..10 {
        keys(&mut h, Modifiers::COMMAND, Key::Plus);
    }
    for name in ["Body", "Block", "Lines", "As sewn", "Pinch", "Walk seams", "Print"] {
        // The row of stages is one list.
        press_starting(&mut h, "Stage: ");
        h.run_steps(4);
        let listed = format!("{name}, ");
        h.query_all_by_label_contains(&listed).last().unwrap().click_accesskit();
        h.run_ok();
        keys(&mut h, Modifiers::NONE, Key::Escape);
        let now = format!("Stage: {name}, ");
        assert!(h.query_all_by_label_contains(&now).next().is_some(), "{name}");
        assert!(h.query_all_by_label(name).next().is_some(), "{name}");
    }
}

#[test]
fn the_keys_are_listed_and_the_title_tells_the_truth() {
    let mut h = desk();
    assert!(!h.state().title().contains("not saved"));
    keys(&mut h, Modifiers::NONE, Key::F1);
    press(&mut h, "Keys");
    assert!(h.query_by_label("Ctrl+Enter").is_some());
    keys(&mut h, Modifiers::NONE, Key::F1);
    keys(&mut h, Modifiers::COMMAND, Key::Num3);
    press(&mut h, "Mark the usual lines");
    assert!(h.state().title().contains("not saved"));
}

/// A PDF that says how many pages it has, more than the sheet of test squares.
fn check_sheets(file: &std::path::Path) {
    let bytes = std::fs::read(file).unwrap();
    assert!(bytes.starts_with(b"%PDF-") && bytes.len() > 10_000, "{} bytes", bytes.len());
    let tail = &bytes[bytes.len() - 32..];
    assert!(tail.windows(5).any(|w| w == b"%%EOF"), "the file is whole");
}

/// Clicks into a field and types, with the pointer on it.
fn fill(h: &mut Driven, name: &str, text: &str) {
    h.get_by_role_and_label(Role::TextInput, name).scroll_to_me();
    h.run_ok();
    h.get_by_role_and_label(Role::TextInput, name).click();
    h.run_ok();
    keys(h, Modifiers::COMMAND, Key::A);
    h.event(egui::Event::Text(text.into()));
    h.run_ok();
}

fn turn_to(h: &mut Driven, stage: &str) {
    h.get_by_label_contains(&format!("{stage}, ")).click();
    h.run_ok();
}

/// The same with the pointer: buttons clicked where they stand, a line hung by
/// pointing, the path of the pinch drawn across the leg, its amount pulled by the
/// handle.
#[test]
fn the_main_job_from_measures_to_printing_with_the_pointer() {
    let mut h = desk();
    turn_to(&mut h, "Body");
    fill(&mut h, "Hip girth", "40 in");
    let Start::Block { measures, .. } = &h.state().document().start else { panic!("a block") };
    assert!((measures.get(Measure::HipGirth).unwrap() - 1016.0).abs() < 1e-9);

    turn_to(&mut h, "Lines");
    click(&mut h, "Mark the usual lines");
    let lines = h.state().replay().current().unwrap().lines.len();
    click(&mut h, "New line on the back");
    click(&mut h, "Point at the second seam");
    let corner = |h: &Driven, corner: &str| {
        h.get_by_label_contains(&format!("back, corner {corner}")).rect().center()
    };
    h.key_press(Key::Escape);
    h.run_ok();
    let (waist, crotch) = (corner(&h, "waist at centre"), corner(&h, "crotch point"));
    click(&mut h, "Point at the second seam");
    let on_centre = waist + (crotch - waist) * 0.12;
    for dx in [0.0, -6.0, 6.0, -12.0, 12.0, -20.0, 20.0] {
        h.hover_at(on_centre + vec2(dx, 0.0));
        h.run_ok();
        h.drag_at(on_centre + vec2(dx, 0.0));
        h.run_ok();
        h.drop_at(on_centre + vec2(dx, 0.0));
        h.run_ok();
        if h.query_by_label("Now click on the table.").is_none() {
            break;
        }
    }
    assert!(h.query_by_label("Now click on the table.").is_none(), "nothing was pointed at");
    h.get_all_by_label("Accept").last().unwrap().click();
    h.run_ok();
    assert_eq!(h.state().replay().current().unwrap().lines.len(), lines + 1);
    assert_eq!(h.state().replay().failures().count(), 0);

    turn_to(&mut h, "As sewn");
    turn_to(&mut h, "Pinch");
    // From the inseam to the side seam of the back, a little below the thigh line.
    let (crotch, hem_in) = (corner(&h, "crotch point"), corner(&h, "hem at inseam"));
    let (hem_side, waist_side) = (corner(&h, "hem at side"), corner(&h, "waist at side"));
    click(&mut h, "Draw it on the table");
    let from = crotch + (hem_in - crotch) * 0.14 + vec2(4.0, 0.0);
    let to = waist_side + (hem_side - waist_side) * 0.36 + vec2(2.0, 0.0);
    drag(&mut h, from, to);
    let station = "pin place 1 of the pinch";
    assert!(h.query_by_label_contains(station).is_some(), "no path was drawn");
    let knob = h.get_by_label_contains(station).rect().center();
    drag(&mut h, knob, knob - vec2(0.0, 2.0));
    assert!(h.query_by_label_contains("pin place 1 of the pinch: 3/8 in").is_none(), "not pulled");
    let before = h.state().document().changes.len();
    let fault = h.state().replay().failures().next().map(|f| f.2.to_string());
    assert_eq!(fault, None);
    h.get_all_by_label("Accept").last().unwrap().click();
    h.run_ok();
    assert_eq!(h.state().document().changes.len(), before + 1);

    turn_to(&mut h, "Walk seams");
    for _ in 0..20 {
        let Some(fix) = h.query_all_by_label_contains(": show me").next() else { break };
        fix.scroll_to_me();
        h.run_ok();
        h.query_all_by_label_contains(": show me").next().unwrap().click();
        h.run_ok();
        h.get_all_by_label("Accept").last().unwrap().click();
        h.run_ok();
    }
    let walked = walk_all(h.state().replay().current().unwrap()).unwrap();
    assert!(walked.iter().all(|w| w.is_true()), "{walked:#?}");

    turn_to(&mut h, "Print");
    wait_for(&mut h, "Save the sheets as PDF…");
    let folder = folder("job-pointer");
    let place = folder.join("sheets.pdf");
    click(&mut h, "Save the sheets as PDF…");
    fill(&mut h, "Place of the file", &place.display().to_string());
    click(&mut h, "Go on");
    check_sheets(&place);
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_piece_is_drawn_by_hand_with_keys() {
    let mut h = desk();
    keys(&mut h, Modifiers::COMMAND, Key::Num2);
    press(&mut h, "Take the pencil");
    let corner = |h: &Driven| {
        let pattern = h.state().replay().current().unwrap().clone();
        pattern.piece("back").unwrap().corner("waist at side").unwrap()
    };
    let before = corner(&h);
    h.get_by_label("corner waist at side of the back").focus();
    h.run_ok();
    keys(&mut h, Modifiers::NONE, Key::ArrowUp);
    keys(&mut h, Modifiers::NONE, Key::ArrowUp);
    let moved = corner(&h) - before;
    assert!(moved.x.abs() < 1e-9 && (moved.y - 25.4 / 8.0).abs() < 1e-9, "{moved:?}");
    assert_eq!(h.state().document().changes.len(), 1, "two nudges of one corner are one step");
    // Exact entry.
    write(&mut h, "Up", "300 mm");
    assert!((corner(&h).y - 300.0).abs() < 1e-9);
    assert_eq!(h.state().document().changes.len(), 1);
    // A notch by typing, seen before it is accepted.
    write(&mut h, "At, from waist at side", "50 mm");
    write(&mut h, "Name", "mine");
    press(&mut h, "Notch there");
    keys(&mut h, Modifiers::COMMAND, Key::Enter);
    let pattern = h.state().replay().current().unwrap().clone();
    let notches = &pattern.piece("back").unwrap().notches;
    assert!(notches.iter().any(|n| n.name == "mine" && (n.distance - 50.0).abs() < 1e-9));
    // What would break the outline is refused in words and not kept.
    let count = h.state().document().changes.len();
    h.get_by_label("corner waist at side of the back").focus();
    h.run_ok();
    write(&mut h, "Up", "-900 mm");
    assert_eq!(h.state().document().changes.len(), count);
    assert!(h.query_by_label("Not done:").is_some());
}

/// Every pinch counts: a second and third one have names of their own, and the
/// waiting one stays when another is answered.
#[test]
fn a_second_and_third_pinch_are_made() {
    let mut h = desk_with(sample::opening(), None);
    keys(&mut h, Modifiers::COMMAND, Key::Num7);
    for _ in 0..2 {
        press(&mut h, "Pinned along the thigh line of the back");
        write(&mut h, "Amount at pin place 1", "3/8");
        keys(&mut h, Modifiers::COMMAND, Key::Enter);
        assert_eq!(h.state().replay().failures().count(), 0);
    }
    assert_eq!(h.state().document().pinned.len(), 1, "the measured one still waits");
    press_starting(&mut h, "Take up “seat pinch” on the back");
    // The crotch curve has given what it can, and the desk says so and keeps the
    // change out; another method is taken.
    assert!(h.query_by_label_contains("take a smaller amount").is_some());
    let before = h.state().document().clone();
    keys(&mut h, Modifiers::COMMAND, Key::Enter);
    assert_eq!(h.state().document(), &before);
    press(&mut h, "Even strip");
    keys(&mut h, Modifiers::COMMAND, Key::Enter);
    let document = h.state().document();
    assert!(document.pinned.is_empty());
    let pinches: Vec<&str> = document
        .changes
        .iter()
        .filter(|e| matches!(e.change, Change::Pinch(_)))
        .map(|e| e.name.as_str())
        .collect();
    assert_eq!(pinches, ["thigh pinch", "thigh pinch 2", "seat pinch"]);
    assert_eq!(h.state().replay().failures().count(), 0);
}

#[test]
fn the_grain_is_turned_and_set_upright_again() {
    let mut h = desk();
    keys(&mut h, Modifiers::COMMAND, Key::Num2);
    press(&mut h, "Take the pencil");
    let lean = |h: &Driven| {
        let pattern = h.state().replay().current().unwrap().clone();
        pattern.piece("back").unwrap().grain.direction().x
    };
    h.get_by_label("upper end of the grain of the back").focus();
    h.run_ok();
    for _ in 0..4 {
        keys(&mut h, Modifiers::NONE, Key::ArrowRight);
    }
    assert!(lean(&h) > 0.005, "{}", lean(&h));
    assert_eq!(h.state().document().changes.len(), 1, "nudges of one end are one step");
    press(&mut h, "Make it upright");
    keys(&mut h, Modifiers::COMMAND, Key::Enter);
    assert!(lean(&h).abs() < 1e-12);
}

#[test]
fn a_corner_is_nudged_by_keys_at_the_block() {
    let mut h = desk();
    keys(&mut h, Modifiers::COMMAND, Key::Num2);
    let corner = |h: &Driven| {
        let pattern = h.state().replay().current().unwrap().clone();
        pattern.piece("front").unwrap().corner("waist at side").unwrap()
    };
    let before = corner(&h);
    h.get_by_label_contains("front, corner waist at side").focus();
    h.run_ok();
    keys(&mut h, Modifiers::NONE, Key::ArrowUp);
    let moved = corner(&h) - before;
    assert!(moved.x.abs() < 1e-9 && (moved.y - 25.4 / 16.0).abs() < 1e-9, "{moved:?}");
}

/// Tab comes to every thing on the table, in the order of the pieces.
#[test]
fn tab_goes_through_the_corners_of_a_piece_in_their_order() {
    let mut h = desk_with(sample::document(), None);
    // At the block, where corners are moved.
    keys(&mut h, Modifiers::COMMAND, Key::Num2);
    let pattern = h.state().replay().current().unwrap().clone();
    let corners: Vec<String> = pattern
        .pieces
        .iter()
        .flat_map(|p| {
            p.corners().map(|c| format!("{}, corner {}", p.name, c.0)).collect::<Vec<_>>()
        })
        .collect();
    h.get_by_label_contains(&corners[0]).focus();
    h.run_ok();
    for corner in &corners {
        assert!(h.get_by_label_contains(corner).is_focused(), "{corner}");
        keys(&mut h, Modifiers::NONE, Key::Tab);
    }
}

#[test]
fn mates_are_laid_out_by_a_key_and_put_away() {
    let mut h = desk();
    h.event(egui::Event::Text("m".into()));
    h.run_ok();
    assert!(h.query_by_label("Hide the mirrored pieces").is_some());
    press(&mut h, "Hide the mirrored pieces");
    assert!(h.query_by_label("Show the mirrored pieces").is_some());
}

/// A desk that nobody touches asks for no further picture.
#[test]
fn an_idle_desk_draws_nothing() {
    let mut h = desk_with(sample::opening(), None);
    for stage in STAGE_KEYS {
        keys(&mut h, Modifiers::COMMAND, stage);
        if stage == Key::Num5 {
            wait_for(&mut h, "Save the sheets as PDF…");
        }
        h.run_steps(3);
        let delay = h.output().viewport_output.values().map(|v| v.repaint_delay).min().unwrap();
        assert_eq!(delay, std::time::Duration::MAX, "{stage:?}");
    }
}
