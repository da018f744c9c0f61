//! Projects saved and opened, rounds closed and compared, by keys and names.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common::{
    Driven, ctrl, desk_with, folder, press, type_place, wait_for, write_only as write,
};
use egui::Key;
use egui_kittest::kittest::{NodeT, Queryable};
use hangtrue_desk::sample;
use hangtrue_files::project;
use std::path::{Path, PathBuf};

fn desk(own: Option<PathBuf>) -> Driven {
    desk_with(sample::document(), own)
}

fn file_at(h: &mut Driven, row: &str, place: &Path) {
    press(h, "Files");
    press(h, row);
    type_place(h, place);
}

#[test]
fn a_project_is_saved_changed_and_opened_again() {
    let folder = folder("save");
    let place = folder.join("trousers.ron");
    let mut h = desk(Some(folder.join("own")));
    file_at(&mut h, "Save as…", &place);
    assert_eq!(&project::load(&place).unwrap(), h.state().document());
    assert!(!h.state().is_unsaved());

    ctrl(&mut h, Key::Num1);
    write(&mut h, "Title", "Other trousers");
    assert!(h.state().is_unsaved());
    assert!(h.state().title().starts_with("Other trousers"));

    // Opening asks first; giving up brings the saved one back.
    file_at(&mut h, "Open…", &place);
    assert!(h.query_by_label("This work is not saved").is_some());
    assert_eq!(h.state().document().title, "Other trousers", "nothing is given up unasked");
    press(&mut h, "Give the changes up");
    assert_eq!(h.state().document().title, "Marsh walk trousers");
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
    file_at(&mut h, "Open…", &broken);
    assert!(h.query_by_label("Not done:").is_some());
    assert!(h.query_by_label_contains("broken.ron").is_some());
    assert_eq!(h.state().document(), &before);
    press(&mut h, "Close");
    let nowhere = folder.join("nowhere/a.ron");
    file_at(&mut h, "Save as…", &nowhere);
    // What was typed stands there still, with the reason.
    let typed = h.get_by_label("Place of the file").value();
    assert_eq!(typed.as_deref(), Some(&*nowhere.display().to_string()));
    assert!(h.query_by_label_contains("nowhere").is_some());
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_round_is_closed_and_compared() {
    let mut h = desk(None);
    press(&mut h, "Close this fitting…");
    write(&mut h, "Note of the fitting", "droops at the back thigh");
    press(&mut h, "Close it");
    assert_eq!(h.state().document().rounds().count(), 1);
    ctrl(&mut h, Key::Num7);
    press(&mut h, "Pinned along the thigh line of the back");
    write(&mut h, "Amount at pin place 1", "3/8 in");
    ctrl(&mut h, Key::Enter);
    press(&mut h, "Lay over each other");
    assert!(h.query_by_label_contains("Comparing: “today’s pattern” over “start”").is_some());
    let told = h.query_all_by_label_contains("waist at centre: ");
    let told: Vec<String> = told.filter_map(|n| n.accesskit_node().value()).collect();
    assert!(told.iter().any(|t| t.contains(" down")), "how far, and which way: {told:?}");
    press(&mut h, "Stop comparing");
    assert!(h.query_by_label_contains("Comparing").is_none());
}

/// Names that mean a pattern of their own are refused as the command refuses them, when a
/// fitting is closed and when one is named anew.
#[test]
fn a_fitting_is_not_called_like_a_pattern_of_its_own() {
    let mut h = desk(None);
    let before = h.state().document().clone();
    press(&mut h, "Close this fitting…");
    for name in ["start", "now", "today", " today "] {
        assert!(before.name_fault(None, name.trim()).is_some());
        write(&mut h, "Name of the fitting", name);
        assert!(h.query_by_label_contains("means a pattern of its own here").is_some(), "{name}");
        press(&mut h, "Close it");
        assert_eq!(h.state().document(), &before, "{name}");
    }
    write(&mut h, "Name of the fitting", "first");
    assert!(h.query_by_label_contains("means a pattern of its own here").is_none());
    press(&mut h, "Close it");
    assert_eq!(h.state().document().rounds().next().map(|r| r.0), Some("first"));
    press(&mut h, "Fitting closed: first");
    press(&mut h, "Write it anew");
    write(&mut h, "Name of the fitting", "start");
    press(&mut h, "Keep it like this");
    assert_eq!(h.state().document().rounds().next().map(|r| r.0), Some("first"));
}

#[test]
fn the_sheets_and_the_marking_sheet_are_written() {
    let folder = folder("print");
    let mut h = desk(None);
    ctrl(&mut h, Key::Num5);
    wait_for(&mut h, "Save the sheets as PDF…");
    for (row, name) in [
        ("Save the sheets as PDF…", "sheets.pdf"),
        ("Save the marking sheet as PDF…", "marking.pdf"),
    ] {
        press(&mut h, row);
        type_place(&mut h, &folder.join(name));
        let bytes = std::fs::read(folder.join(name)).unwrap();
        assert!(bytes.starts_with(b"%PDF-"), "{name}");
    }
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn saving_first_goes_on_to_what_was_asked() {
    let folder = folder("first");
    let (other, place) = (folder.join("other.ron"), folder.join("mine.ron"));
    project::save_new(&other, &sample::bare()).unwrap();
    let mut h = desk(None);
    file_at(&mut h, "Save as…", &place);
    ctrl(&mut h, Key::Num1);
    write(&mut h, "Title", "Marsh walk, lined");
    file_at(&mut h, "Open…", &other);
    press(&mut h, "Save first");
    assert_eq!(project::load(&place).unwrap().title, "Marsh walk, lined");
    assert_eq!(h.state().document(), &sample::bare(), "and then the other was opened");
    assert!(h.state().title().contains("other.ron") && !h.state().is_unsaved());
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_typed_place_is_not_written_over_unasked() {
    let folder = folder("over");
    let other = folder.join("other.ron");
    std::fs::write(&other, "a list of cloth to buy").unwrap();
    let mut h = desk(None);
    file_at(&mut h, "Save as…", &folder.join("other"));
    assert!(h.query_by_label("There is a file of that name").is_some());
    assert_eq!(std::fs::read(&other).unwrap(), b"a list of cloth to buy", "nothing is written yet");
    press(&mut h, "Choose another place");
    type_place(&mut h, &other);
    press(&mut h, "Write over it");
    assert_eq!(&project::load(&other).unwrap(), h.state().document());
    // Its own file is written without being asked again.
    ctrl(&mut h, Key::Num1);
    write(&mut h, "Title", "Marsh walk, lined");
    ctrl(&mut h, Key::S);
    assert_eq!(project::load(&other).unwrap().title, "Marsh walk, lined");
    std::fs::remove_dir_all(&folder).unwrap();
}

#[derive(Debug)]
struct Dropped(PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|e| e.to_string())
    }
}

#[test]
fn a_file_dropped_on_the_desk_is_opened() {
    let folder = folder("drop");
    let place = folder.join("dropped.ron");
    project::save_new(&place, &sample::bare()).unwrap();
    let mut h = desk(None);
    h.input_mut().dropped_files.push(std::sync::Arc::new(Dropped(place)));
    h.run_ok();
    assert_eq!(h.state().document(), &sample::bare());
    assert!(h.state().title().contains("dropped.ron"));
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_closed_round_is_written_anew() {
    let mut h = desk_with(sample::opening(), None);
    press(&mut h, "Fitting closed: first toile");
    press(&mut h, "Write it anew");
    write(&mut h, "Date of the fitting", "2026-11-24");
    write(&mut h, "Note of the fitting", "droops under the seat");
    press(&mut h, "Keep it like this");
    let document = h.state().document().clone();
    assert_eq!(document.rounds().count(), 1);
    let words = format!("{:?}", document.changes.last().unwrap().change);
    assert!(words.contains("2026-11-24") && words.contains("droops under the seat"), "{words}");
    assert_eq!(document.changes.last().unwrap().name, "first toile", "its name stays");
}
