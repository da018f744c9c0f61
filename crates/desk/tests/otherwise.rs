//! A project whose pattern comes out otherwise than when it was saved: asked about before
//! anything is done, and kept beside where that is wanted.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common;
use crate::common::{Driven, ctrl, folder, press};
use egui::Key;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::{Document, Replay, Start};
use hangtrue_desk::{Desk, sample};
use hangtrue_files::project;
use hangtrue_pattern::{Measure, Pattern};
use std::path::{Path, PathBuf};

const ASKED: &str = "This pattern comes out otherwise today";

/// The project as a Hangtrue of other rules would have saved it: the same measures, and the
/// pattern of a fuller hip.
fn saved_by_other_rules(folder: &Path) -> (PathBuf, Pattern) {
    let mut document = sample::bare();
    document.printing.printed = hangtrue_files::print::print_mark(&document);
    let mut fuller = document.clone();
    let Start::Block { measures, .. } = &mut fuller.start else { panic!("no block") };
    measures.set(Measure::HipGirth, measures.get(Measure::HipGirth).unwrap() + 15.0);
    let parts = |document: &Document| {
        let text = project::to_text(document).unwrap();
        let at = text.find("\n  drawn: Some(").unwrap();
        [text[..at].to_owned(), text[at..].to_owned()]
    };
    let file = folder.join("p.ron");
    std::fs::write(&file, parts(&document)[0].clone() + &parts(&fuller)[1]).unwrap();
    (file, Pattern::clone(Replay::new(fuller).current().unwrap()))
}

fn desk_on(file: &Path) -> Driven {
    let (document, held) = project::open(file).unwrap();
    let mut h = Harness::builder()
        .with_size([1440.0, 900.0])
        .with_max_steps(60)
        .with_context_setup(Desk::prepare)
        .build_ui_state(|ui, desk: &mut Desk| desk.show(ui), Desk::new(document, Some(held), None));
    h.run_ok();
    h
}

fn files(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).unwrap().flatten();
    let mut names: Vec<_> = entries.map(|e| e.file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn a_pattern_that_comes_out_otherwise_is_asked_about_and_kept_beside() {
    let folder = folder("otherwise-kept");
    let (file, then) = saved_by_other_rules(&folder);
    let before = std::fs::read(&file).unwrap();
    let mut h = desk_on(&file);
    assert!(h.query_by_label(ASKED).is_some());
    ctrl(&mut h, Key::S);
    assert_eq!(std::fs::read(&file).unwrap(), before, "not saved over while it is asked");
    press(&mut h, "Keep the old one beside");
    assert!(h.query_by_label(ASKED).is_none());
    assert_eq!(files(&folder), ["p (as it was saved).ron", "p.ron"]);
    // What was printed was the other pattern.
    assert!(h.query_by_label("Print, changed since").is_some());
    let (kept, _) = project::open(&folder.join("p (as it was saved).ron")).unwrap();
    assert_eq!(**Replay::new(kept).current().unwrap(), then);
    // Saved today it comes out as it was saved.
    ctrl(&mut h, Key::Num1);
    common::write_only(&mut h, "Title", "today’s");
    ctrl(&mut h, Key::S);
    assert_eq!(project::saved_otherwise(&file, h.state().replay()).unwrap(), None);
    assert!(desk_on(&file).query_by_label(ASKED).is_none());
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn todays_pattern_may_be_gone_on_with_alone() {
    let folder = folder("otherwise-todays");
    let (file, _) = saved_by_other_rules(&folder);
    let mut h = desk_on(&file);
    press(&mut h, "Go on with today’s");
    assert!(h.query_by_label(ASKED).is_none());
    assert_eq!(files(&folder), ["p.ron"]);
    // Nothing was saved: the next desk asks again.
    assert!(desk_on(&file).query_by_label(ASKED).is_some());
    std::fs::remove_dir_all(&folder).unwrap();
}
