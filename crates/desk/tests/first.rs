//! The first hour: from the first start to a new client's sheets, driven through the
//! names a screen reader says and counted in clicks.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

mod common;

use common::{Driven, ctrl, folder, keys, press, type_place, write, write_only};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::Start;
use hangtrue_desk::Desk;
use hangtrue_files::project;
use hangtrue_pattern::Measure;
use hangtrue_pattern::units::Unit;
use std::path::PathBuf;

fn welcomed(missing: Option<PathBuf>, own: Option<PathBuf>) -> Driven {
    common::desk_of(Desk::welcoming(missing, own), [1440.0, 900.0], 1.0)
}

/// An invented body, cm.
const BODY: [(&str, &str); 5] = [
    ("Waist girth", "78"),
    ("Hip girth", "102"),
    ("Waist height", "104"),
    ("Inside leg height", "78"),
    ("Total crotch length", "67"),
];

#[test]
fn a_new_client_is_begun_and_saved_where_asked() {
    let folder = folder("first-client");
    let place = folder.join("A7.ron");
    let mut h = welcomed(None, Some(folder.join("own")));
    assert_eq!(h.state().title(), "Welcome · Hangtrue");
    press(&mut h, "Centimetres");
    ctrl(&mut h, Key::N);
    write(&mut h, "Client’s name or code", "A7");
    for (name, value) in BODY {
        write(&mut h, name, value);
    }
    write(&mut h, "File of the project", &place.display().to_string());
    press(&mut h, "Draft the block");
    let document = project::load(&place).unwrap();
    assert_eq!(h.state().document(), &document);
    assert_eq!((document.client.as_str(), document.unit), ("A7", Unit::Cm));
    let Start::Block { measures, .. } = &document.start else { panic!("a block") };
    assert_eq!(measures.get(Measure::HipGirth), Some(1020.0));
    assert!(!h.state().is_unsaved());
    assert!(h.query_by_label("Block, done").is_some(), "the desk is at the block");
    assert_eq!(h.state().replay().failures().count(), 0);
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn what_is_missing_or_impossible_is_said_and_nothing_is_begun() {
    let folder = folder("first-fault");
    let mut h = welcomed(None, None);
    press(&mut h, "Millimetres");
    press(&mut h, "A new client");
    press(&mut h, "Draft the block");
    assert!(
        h.query_by_label_contains("Look at “Waist girth”: the waist girth is missing").is_some()
    );
    for (name, value) in BODY {
        write(&mut h, name, &format!("{value} cm"));
    }
    // Twice the body's height between waist and crotch does not fit in 30 cm.
    write(&mut h, "Total crotch length", "30 cm");
    press(&mut h, "Draft the block");
    assert!(h.query_all_by_label_contains("total crotch length of").count() >= 1);
    assert!(h.query_by_label("Draft the block").is_some(), "the form is still there");
    write(&mut h, "Total crotch length", "67 cm");
    // A file that is there is not written over.
    let there = folder.join("there.ron");
    std::fs::write(&there, "mine").unwrap();
    write(&mut h, "File of the project", &there.display().to_string());
    press(&mut h, "Draft the block");
    assert!(h.query_by_label_contains("there.ron").is_some());
    assert!(h.query_by_label("Draft the block").is_some());
    assert_eq!(std::fs::read_to_string(&there).unwrap(), "mine");
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_project_that_is_not_there_yet_is_begun_under_its_name() {
    let folder = folder("first-missing");
    let place = folder.join("new one.ron");
    let mut h = welcomed(Some(place.clone()), None);
    assert!(h.query_by_label_contains("is not there yet: begin it here").is_some());
    for (name, value) in BODY {
        write(&mut h, name, &format!("{value} cm"));
    }
    ctrl(&mut h, Key::Enter);
    assert_eq!(&project::load(&place).unwrap(), h.state().document());
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn the_example_is_looked_round_and_left_for_a_new_client() {
    let mut h = welcomed(None, None);
    // Keys of the table do nothing behind the welcome.
    ctrl(&mut h, Key::Z);
    press(&mut h, "Inches to 1/16");
    press(&mut h, "Look round the example");
    assert_eq!(h.state().document(), &hangtrue_desk::sample::opening());
    assert!(!h.state().is_unsaved());
    ctrl(&mut h, Key::N);
    press(&mut h, "Back to the table");
    ctrl(&mut h, Key::Num1);
    write_only(&mut h, "Title", "Other");
    ctrl(&mut h, Key::N);
    assert!(h.query_by_label("This work is not saved").is_some());
    press(&mut h, "Stay here");
    assert_eq!(h.state().document().title, "Other");
    ctrl(&mut h, Key::N);
    press(&mut h, "Give the changes up");
    assert!(h.query_by_label("Draft the block").is_some());
    keys(&mut h, Modifiers::NONE, Key::Tab);
}

#[test]
fn a_drawing_starts_a_project_of_its_own_and_never_goes_into_the_example() {
    let folder = folder("first-drawing");
    let drawing = folder.join("block.svg");
    let pattern = hangtrue_desk::sample::pattern();
    let options = hangtrue_files::exchange::SendOptions::default();
    let (sent, _) = hangtrue_files::exchange::svg_of(&pattern, &options).unwrap();
    std::fs::write(&drawing, sent).unwrap();
    let mut h = welcomed(None, None);
    press(&mut h, "Type the drawing's place…");
    type_place(&mut h, &drawing);
    common::wait_for(&mut h, "I know this length, and it is right");
    assert!(h.query_by_label("Bring the pieces in").is_none(), "there is no project yet");
    press(&mut h, "I know this length, and it is right");
    press(&mut h, "Start a new project with them");
    assert_eq!(h.state().document().title, "block");
    assert!(h.state().is_unsaved());
    std::fs::remove_dir_all(&folder).unwrap();
}
