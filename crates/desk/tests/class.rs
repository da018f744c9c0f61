//! A class printed from the desk, and the papers for people beside the sheets.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common;
use crate::common::{
    choose, ctrl, desk_with, folder, press, press_containing, type_place, wait_till, write,
};
use egui::Key;
use egui_kittest::kittest::Queryable;
use hangtrue_desk::sample;

/// Invented pupils; the second cannot be drafted.
const LIST: &str = "name,waist girth (cm),hip girth (cm),waist height (cm),inside leg height (cm),total crotch length (cm)\n\
Anna,76,100,104,78,70\nBen,wide,101,106,80,72\nCem,80,102,105,79,71\n";

#[test]
fn a_class_is_printed_into_a_folder_and_what_is_wrong_is_told() {
    let folder = folder("class");
    let list = folder.join("class 7.csv");
    std::fs::write(&list, LIST).unwrap();
    let mut h = desk_with(sample::opening(), None);
    press(&mut h, "Files");
    press_containing(&mut h, "Print a class from a list…");
    write(&mut h, "The class list", &list.display().to_string());
    press(&mut h, "Quarter scale, not for cutting");
    choose(&mut h, "Allowances: ", "finished");
    choose(&mut h, "Waist finish: ", "facing");
    choose(&mut h, "Opened by: ", "front fly");
    press(&mut h, "Save a project for every pupil too");
    press(&mut h, "Print the class");
    wait_till(&mut h, |h| h.query_by_label_contains("2 of 3 pupils printed, 1 refused").is_some());
    assert!(h.query_by_label_contains("Ben (line 3), refused").is_some());
    let sheets = folder.join("class 7 sheets");
    for file in ["01 Anna.pdf", "03 Cem.pdf", "class list.csv", "class list.pdf"] {
        assert!(sheets.join(file).is_file(), "{file}");
    }
    assert!(!sheets.join("02 Ben.pdf").exists());
    let saved = std::fs::read_to_string(sheets.join("01 Anna.ron")).unwrap();
    let plain: String = saved.split_whitespace().collect();
    for chosen in ["set:Some(finished)", "waist:facing(", "closure:fly("] {
        assert!(plain.contains(chosen), "{chosen} in {saved}");
    }
    // A class that was printed is not written over.
    press(&mut h, "Print the class");
    wait_till(&mut h, |h| h.query_by_label_contains("already there").is_some());
    press(&mut h, "Close");
    assert!(h.query_by_label("Print the class").is_none());
}

#[test]
fn sewing_sheet_and_handout_are_written_as_pdf() {
    let folder = folder("papers");
    let mut h = desk_with(sample::opening(), None);
    ctrl(&mut h, Key::Num5);
    common::wait_for(&mut h, "Save the sewing sheet as PDF…");
    choose(&mut h, "Sewn as: ", "finished pair");
    press_containing(&mut h, " steps");
    assert!(h.query_by_label_contains("Crotch seam").is_some());
    press(&mut h, "Save the sewing sheet as PDF…");
    type_place(&mut h, &folder.join("sewing"));
    choose(&mut h, "Handout at: ", "quarter scale");
    press(&mut h, "Save the handout as PDF…");
    type_place(&mut h, &folder.join("handout"));
    for file in ["sewing.pdf", "handout.pdf"] {
        assert!(std::fs::read(folder.join(file)).unwrap().starts_with(b"%PDF-"), "{file}");
    }
    // A handout is not the print that the toile is cut from.
    assert!(h.query_by_label("Print, PDF saved").is_none());
}
