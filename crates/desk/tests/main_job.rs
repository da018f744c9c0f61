//! The main job driven without a pointer, by the names a screen reader says.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::{Applied, Change, Start, read_as_sewn, walk_all};
use hangtrue_desk::{Desk, sample};
use hangtrue_pattern::Measure;

fn desk() -> Harness<'static, Desk> {
    let desk = Desk::new(sample::bare(), None, None);
    Harness::builder()
        .with_size([1440.0, 900.0])
        .with_max_steps(60)
        .with_context_setup(Desk::prepare)
        .build_ui_state(|ui, desk: &mut Desk| desk.show(ui), desk)
}

/// Presses what has that name, by the action a screen reader sends.
fn press(harness: &mut Harness<'_, Desk>, name: &str) {
    harness.get_by_label(name).click_accesskit();
    harness.run_ok();
}

fn press_starting(harness: &mut Harness<'_, Desk>, name: &str) {
    harness.get_by_label_contains(name).click_accesskit();
    harness.run_ok();
}

fn keys(harness: &mut Harness<'_, Desk>, modifiers: Modifiers, key: Key) {
    harness.key_press_modifiers(modifiers, key);
    harness.run_ok();
}

/// Writes into the field of that name as from a keyboard.
fn write(harness: &mut Harness<'_, Desk>, name: &str, text: &str) {
    harness.get_by_role_and_label(Role::TextInput, name).focus();
    harness.run_ok();
    keys(harness, Modifiers::COMMAND, Key::A);
    harness.event(egui::Event::Text(text.into()));
    harness.run_ok();
    keys(harness, Modifiers::NONE, Key::Enter);
}

#[test]
fn the_main_job_from_measures_to_printing_without_a_pointer() {
    let mut h = desk();
    h.run_ok();

    // Body: a measure is changed, and the block follows.
    keys(&mut h, Modifiers::COMMAND, Key::Num1);
    write(&mut h, "Hip girth", "41 1/2 in");
    let Start::Block { measures, .. } = &h.state().document().start else { panic!("a block") };
    assert!((measures.get(Measure::HipGirth).unwrap() - 41.5 * 25.4).abs() < 1e-9);
    let report = h.state().replay().draft_report().unwrap().clone();
    assert!((report.hip.target - (41.5 * 25.4 + 40.0)).abs() < 1e-6);
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
            "{}{} · {} —",
            reading.line,
            if reading.on_cloth { "" } else { " (paper only)" },
            reading.join
        );
        assert!(h.query_by_label_contains(&words).is_some(), "{words}");
    }

    // Pinch: along the back thigh, 3/8 in, made larger by one step with the keys.
    keys(&mut h, Modifiers::COMMAND, Key::Num5);
    press(&mut h, "Pinned along the thigh line of the back");
    h.get_by_label_contains("station 1 of the pinch").focus();
    h.run_ok();
    keys(&mut h, Modifiers::NONE, Key::ArrowUp);
    assert!(h.query_by_label_contains("station 1 of the pinch: 7/16 in").is_some());
    write(&mut h, "Amount at station 1", "3/8");
    assert!(h.query_by_label_contains("station 1 of the pinch: 3/8 in").is_some());
    let before = h.state().document().changes.len();
    for method in ["Slash and lap", "Distribute", "Top and scoop"] {
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
    keys(&mut h, Modifiers::COMMAND, Key::Num6);
    for _ in 0..20 {
        let Some(fix) = h.query_all_by_label_contains(": show me").next() else { break };
        fix.click_accesskit();
        h.run_ok();
        keys(&mut h, Modifiers::COMMAND, Key::Enter);
    }
    let walked = walk_all(h.state().replay().current().unwrap()).unwrap();
    assert!(walked.iter().all(|w| w.is_true()), "{walked:#?}");

    // Print: the sheets are worked out beside the desk.
    keys(&mut h, Modifiers::COMMAND, Key::Num7);
    let mut found = false;
    for _ in 0..400 {
        h.step();
        found = h.query_by_label("Save the sheets as PDF…").is_some();
        if found {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(25));
    }
    assert!(found, "the sheets were never worked out");

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
    h.run_ok();
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
    h.run_ok();
    keys(&mut h, Modifiers::COMMAND, Key::Num1);
    let before = h.state().document().clone();
    write(&mut h, "Inside leg height", "1100 mm");
    assert_eq!(h.state().document(), &before, "a body that cannot be is not drafted");
    assert!(h.query_by_label_contains("contradicts").is_some());
    assert!(h.query_by_label_contains("waist height").is_some());
    press(&mut h, "Back to the measures that agreed");
    assert!(h.query_by_label_contains("contradicts").is_none());
}

#[test]
fn corners_and_lines_are_reached_and_lines_moved_by_keys() {
    let mut h = desk();
    h.run_ok();
    keys(&mut h, Modifiers::COMMAND, Key::Num3);
    press(&mut h, "Mark the usual lines");
    assert!(h.query_by_label_contains("back, corner crotch point").is_some());
    h.get_by_label_contains("full hip line on the back").focus();
    h.run_ok();
    keys(&mut h, Modifiers::NONE, Key::ArrowDown);
    assert!(h.query_by_label_contains("full hip line on the back: 5 9/16 in").is_some());
    keys(&mut h, Modifiers::COMMAND, Key::Enter);
    let moved = h.state().document().changes.iter().any(|e| {
        matches!(&e.change, Change::MarkLine(m) if m.line.rule.sentence(h.state().document().unit).contains("5 9/16 in"))
    });
    assert!(moved);
}

#[test]
fn a_length_that_cannot_be_read_is_said_and_nothing_changes() {
    let mut h = desk();
    h.run_ok();
    keys(&mut h, Modifiers::COMMAND, Key::Num2);
    let before = h.state().document().clone();
    write(&mut h, "Hip ease", "a lot");
    assert_eq!(h.state().document(), &before);
    assert!(h.query_by_label_contains("“a lot” is not a length").is_some());
}

#[test]
fn letters_of_200_percent_leave_every_stage_reachable() {
    let mut h = desk();
    h.run_ok();
    for _ in 0..10 {
        keys(&mut h, Modifiers::COMMAND, Key::Plus);
    }
    for name in ["Body", "Block", "Lines", "As sewn", "Pinch", "Walk", "Print"] {
        press_starting(&mut h, &format!("{name}, "));
        assert!(h.query_all_by_label(name).next().is_some(), "{name}");
    }
}

#[test]
fn the_keys_are_listed_and_the_title_tells_the_truth() {
    let mut h = desk();
    h.run_ok();
    assert!(!h.state().title().contains("not saved"));
    keys(&mut h, Modifiers::NONE, Key::F1);
    assert!(h.query_by_label("Ctrl+Enter").is_some());
    keys(&mut h, Modifiers::NONE, Key::F1);
    keys(&mut h, Modifiers::COMMAND, Key::Num3);
    press(&mut h, "Mark the usual lines");
    assert!(h.state().title().contains("not saved"));
}

/// The same with the pointer: buttons clicked where they stand, the path of the
/// pinch drawn across the leg, its amount pulled by the handle.
#[test]
fn a_pinch_is_drawn_pulled_and_accepted_with_the_pointer() {
    let mut h = desk();
    h.run_ok();
    let click = |h: &mut Harness<'_, Desk>, name: &str| {
        h.get_by_label(name).scroll_to_me();
        h.run_ok();
        h.get_by_label(name).click();
        h.run_ok();
    };
    h.get_by_label_contains("Lines, ").click();
    h.run_ok();
    click(&mut h, "Mark the usual lines");
    h.get_by_label_contains("Pinch, ").click();
    h.run_ok();
    click(&mut h, "Draw it on the table");

    // From the inseam to the side seam of the back, 60 mm below the thigh line.
    let seam_at = |h: &Harness<'_, Desk>, corner: &str| {
        h.get_by_label_contains(&format!("back, corner {corner}")).rect().center()
    };
    h.key_press(Key::Escape);
    h.run_ok();
    let (crotch, hem_in) = (seam_at(&h, "crotch point"), seam_at(&h, "hem at inseam"));
    let (hem_side, waist_side) = (seam_at(&h, "hem at side"), seam_at(&h, "waist at side"));
    click(&mut h, "Draw it on the table");
    let from = crotch + (hem_in - crotch) * 0.14 + egui::vec2(4.0, 0.0);
    let to = waist_side + (hem_side - waist_side) * 0.36 + egui::vec2(2.0, 0.0);
    h.hover_at(from);
    h.run_ok();
    h.drag_at(from);
    h.run_ok();
    for i in 1..=10 {
        h.hover_at(from + (to - from) * (i as f32 / 10.0));
        h.run_ok();
    }
    h.drop_at(to);
    h.run_ok();
    let station = "station 1 of the pinch";
    assert!(h.query_by_label_contains(station).is_some(), "no path was drawn");

    // Pulled up by its handle.
    let knob = h.get_by_label_contains(station).rect().center();
    h.hover_at(knob);
    h.run_ok();
    h.drag_at(knob);
    h.run_ok();
    for i in 1..=6 {
        h.hover_at(knob - egui::vec2(0.0, 0.5 * i as f32));
        h.run_ok();
    }
    h.hover_at(knob - egui::vec2(0.0, 2.0));
    h.run_ok();
    h.drop_at(knob - egui::vec2(0.0, 2.0));
    h.run_ok();
    assert!(h.query_by_label_contains("station 1 of the pinch: 3/8 in").is_none(), "not pulled");
    let before = h.state().document().changes.len();
    let fault = h.state().replay().failures().next().map(|f| f.2.to_string());
    assert_eq!(fault, None);
    h.get_all_by_label("Accept").last().unwrap().click();
    h.run_ok();
    assert_eq!(h.state().document().changes.len(), before + 1);
    assert_eq!(h.state().replay().failures().count(), 0);
}

#[test]
fn a_piece_is_drawn_by_hand_with_keys() {
    let mut h = desk();
    h.run_ok();
    keys(&mut h, Modifiers::COMMAND, Key::Num2);
    press(&mut h, "Take the pencil");
    let corner = |h: &Harness<'_, Desk>| {
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
