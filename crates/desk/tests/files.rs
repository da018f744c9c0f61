//! Projects saved and opened, rounds closed and compared, by keys and names.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use hangtrue_desk::{Desk, sample};
use hangtrue_files::project;
use std::path::{Path, PathBuf};

fn folder(name: &str) -> PathBuf {
    let folder = std::env::temp_dir().join(format!("hangtrue-desk-{name}-{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

fn desk(own: Option<PathBuf>) -> Harness<'static, Desk> {
    let mut h = Harness::builder()
        .with_size([1440.0, 900.0])
        .with_max_steps(60)
        .with_context_setup(Desk::prepare)
        .build_ui_state(
            |ui, desk: &mut Desk| desk.show(ui),
            Desk::new(sample::document(), None, own),
        );
    h.run_ok();
    h
}

fn press(h: &mut Harness<'_, Desk>, name: &str) {
    h.get_by_label(name).click_accesskit();
    h.run_ok();
}

fn write(h: &mut Harness<'_, Desk>, name: &str, text: &str) {
    h.get_by_role_and_label(Role::TextInput, name).focus();
    h.run_ok();
    h.key_press_modifiers(Modifiers::COMMAND, Key::A);
    h.run_ok();
    h.event(egui::Event::Text(text.into()));
    h.run_ok();
}

fn file_at(h: &mut Harness<'_, Desk>, row: &str, place: &Path) {
    press(h, "Files");
    press(h, row);
    write(h, "Place of the file", &place.display().to_string());
    press(h, "Go on");
}

#[test]
fn a_project_is_saved_changed_and_opened_again() {
    let folder = folder("save");
    let place = folder.join("trousers.ron");
    let mut h = desk(Some(folder.join("own")));
    file_at(&mut h, "Save by typing a place…", &place);
    assert_eq!(&project::load(&place).unwrap(), h.state().document());
    assert!(!h.state().is_unsaved());

    h.key_press_modifiers(Modifiers::COMMAND, Key::Num1);
    h.run_ok();
    write(&mut h, "Title", "Other trousers");
    assert!(h.state().is_unsaved());
    assert!(h.state().title().starts_with("Other trousers"));

    // Opening asks first; giving up brings the saved one back.
    file_at(&mut h, "Open by typing its place…", &place);
    assert!(h.query_by_label("This work is not saved").is_some());
    assert_eq!(h.state().document().title, "Other trousers", "nothing is given up unasked");
    press(&mut h, "Give the changes up");
    assert_eq!(h.state().document().title, "Everyday trousers");
    assert!(!h.state().is_unsaved());
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_file_that_cannot_be_read_or_written_is_said_in_words() {
    let folder = folder("fault");
    let broken = folder.join("broken.ron");
    std::fs::write(&broken, "(title: \"half").unwrap();
    let mut h = desk(None);
    let before = h.state().document().clone();
    file_at(&mut h, "Open by typing its place…", &broken);
    assert!(h.query_by_label("Not done:").is_some());
    assert!(h.query_by_label_contains("broken.ron").is_some());
    assert_eq!(h.state().document(), &before);
    press(&mut h, "Thank you");
    file_at(&mut h, "Save by typing a place…", &folder.join("nowhere/a.ron"));
    assert!(h.query_by_label("Not done:").is_some());
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_round_is_closed_and_compared() {
    let mut h = desk(None);
    press(&mut h, "Close this round…");
    write(&mut h, "Note of the round", "droops at the back thigh");
    press(&mut h, "Close it");
    assert_eq!(h.state().document().rounds().count(), 1);
    h.key_press_modifiers(Modifiers::COMMAND, Key::Num5);
    h.run_ok();
    press(&mut h, "Pinned along the thigh line of the back");
    h.key_press_modifiers(Modifiers::COMMAND, Key::Enter);
    h.run_ok();
    press(&mut h, "Lay over each other");
    assert!(h.query_by_label_contains("Comparing: “now” over “start”").is_some());
    assert!(h.query_by_label("back, waist at centre: 3/8 in").is_some(), "how far it moved");
    press(&mut h, "Stop comparing");
    assert!(h.query_by_label_contains("Comparing").is_none());
}

#[test]
fn the_sheets_and_the_marking_sheet_are_written() {
    let folder = folder("print");
    let mut h = desk(None);
    h.key_press_modifiers(Modifiers::COMMAND, Key::Num7);
    h.run_ok();
    for _ in 0..400 {
        h.step();
        if h.query_by_label("Save the sheets as PDF…").is_some() {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(25));
    }
    for (row, name) in [
        ("Save the sheets by typing a place…", "sheets.pdf"),
        ("Save the marking sheet by typing a place…", "marking.pdf"),
    ] {
        press(&mut h, row);
        write(&mut h, "Place of the file", &folder.join(name).display().to_string());
        press(&mut h, "Go on");
        let bytes = std::fs::read(folder.join(name)).unwrap();
        assert!(bytes.starts_with(b"%PDF-"), "{name}");
    }
    std::fs::remove_dir_all(&folder).unwrap();
}
