//! Two hands on one project: what somebody else saved is noticed, told, and never
//! saved over; what was not saved goes back only where it came from.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common;
use crate::common::{Driven, ctrl, folder, press, type_place, write_only as write};
use egui::Key;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::Document;
use hangtrue_desk::{Desk, sample};
use hangtrue_files::project;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// A desk with the project of that file on it.
fn desk_on(file: &Path, own: Option<PathBuf>) -> Driven {
    let (document, held) = project::open(file).unwrap();
    let mut h = Harness::builder()
        .with_size([1440.0, 900.0])
        .with_max_steps(60)
        .with_context_setup(Desk::prepare)
        .build_ui_state(
            |ui, desk: &mut Desk| desk.show(ui),
            Desk::new(document, Some(held), own).without_dialogs(),
        );
    h.run_ok();
    h
}

fn begun(folder: &Path) -> PathBuf {
    let file = folder.join("p.ron");
    project::save_new(&file, &sample::bare()).unwrap();
    file
}

/// Somebody else changes the project, as the command does.
fn elsewhere(file: &Path, change: impl FnOnce(&mut Document)) {
    let (mut document, mut writing) = project::open_to_write(file).unwrap();
    change(&mut document);
    writing.save(&document).unwrap();
}

fn retitle(h: &mut Driven, title: &str) {
    ctrl(h, Key::Num1);
    write(h, "Title", title);
}

/// Waits for something that is noticed beside the window.
fn wait(h: &mut Driven, label: &str) {
    let begun = Instant::now();
    while h.query_by_label(label).is_none() {
        assert!(begun.elapsed() < Duration::from_secs(10), "“{label}” never came");
        std::thread::sleep(Duration::from_millis(50));
        h.run_ok();
    }
}

const ASKED: &str = "Somebody else saved this project";

#[test]
fn saving_over_what_somebody_else_saved_is_refused_and_both_are_kept() {
    let folder = folder("both");
    let file = begun(&folder);
    let mut h = desk_on(&file, None);
    retitle(&mut h, "Mine");
    elsewhere(&file, |d| d.client = "Theirs".into());
    let theirs = std::fs::read(&file).unwrap();
    ctrl(&mut h, Key::S);
    assert!(h.query_by_label(ASKED).is_some());
    assert_eq!(std::fs::read(&file).unwrap(), theirs, "nothing was written over");
    assert!(h.state().is_unsaved());
    press(&mut h, "See what differs");
    assert!(h.query_by_label("• changed for whom it is").is_some(), "what they did");
    assert!(h.query_by_label("• changed the title").is_some(), "what I did");
    press(&mut h, "Keep both");
    assert_eq!(std::fs::read(&file).unwrap(), theirs);
    let mine = project::load(&folder.join("p (mine).ron")).unwrap();
    assert_eq!(mine.title, "Mine");
    assert_eq!(mine.client, sample::bare().client);
    assert!(!h.state().is_unsaved() && h.state().title().contains("p (mine).ron"));
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_change_from_outside_is_noticed_taken_and_undone() {
    let folder = folder("noticed");
    let file = begun(&folder);
    let mut h = desk_on(&file, None);
    retitle(&mut h, "Mine");
    elsewhere(&file, |d| d.title = "Theirs".into());
    wait(&mut h, ASKED);
    press(&mut h, "Take theirs");
    assert_eq!(h.state().document().title, "Theirs");
    assert!(!h.state().is_unsaved());
    ctrl(&mut h, Key::Z);
    assert_eq!(h.state().document().title, "Mine", "undo brings mine back");
    ctrl(&mut h, Key::S);
    assert_eq!(project::load(&file).unwrap().title, "Mine", "theirs was read first");
    std::fs::remove_dir_all(&folder).unwrap();
}

/// Pairs of edits made at once; more by the environment, as `HANGTRUE_PAIRS=1000`.
fn pairs() -> usize {
    std::env::var("HANGTRUE_PAIRS").ok().and_then(|n| n.parse().ok()).unwrap_or(12)
}

/// The window itself saves while somebody else does: both stand, or the window asks
/// and still has its own.
#[test]
fn what_is_saved_at_the_same_moment_is_never_lost_unsaid() {
    let folder = folder("same-moment");
    let file = begun(&folder);
    let mut h = desk_on(&file, None);
    let (mut both, mut asked) = (0, 0);
    for pair in 0..pairs() {
        let (mine, theirs) = (format!("Mine {pair}"), format!("Theirs {pair}"));
        retitle(&mut h, &mine);
        let (there, client) = (file.clone(), theirs.clone());
        let other = std::thread::spawn(move || {
            std::thread::sleep(Duration::from_micros((pair * 1_709 % 20_000) as u64));
            elsewhere(&there, |d| d.client = client);
        });
        std::thread::sleep(Duration::from_micros((pair * 947 % 12_000) as u64));
        ctrl(&mut h, Key::S);
        other.join().unwrap();
        let lies = project::load(&file).unwrap();
        assert_eq!(lies.client, theirs, "theirs is never written over");
        assert_eq!(h.state().document().title, mine, "mine is on the desk");
        if lies.title == mine {
            // Mine was first, and theirs was made upon it; the window hears of that.
            both += 1;
            wait(&mut h, ASKED);
        } else {
            asked += 1;
            assert!(h.query_by_label(ASKED).is_some() && h.state().is_unsaved(), "pair {pair}");
        }
        press(&mut h, "Take theirs");
    }
    println!("{both} pairs where both stand, {asked} where the window asked");
    assert_eq!(both + asked, pairs());
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn what_was_put_off_is_asked_again_when_saving() {
    let folder = folder("put-off");
    let file = begun(&folder);
    let mut h = desk_on(&file, None);
    elsewhere(&file, |d| d.title = "Theirs".into());
    wait(&mut h, ASKED);
    press(&mut h, "Not now");
    std::thread::sleep(Duration::from_millis(900));
    h.run_ok();
    assert!(h.query_by_label(ASKED).is_none(), "asked once");
    assert!(h.query_by_label("saved").is_none(), "what is on the desk is not what the file holds");
    assert!(h.query_by_label("file changed elsewhere").is_some());
    retitle(&mut h, "Mine");
    ctrl(&mut h, Key::S);
    assert!(h.query_by_label(ASKED).is_some());
    assert_eq!(project::load(&file).unwrap().title, "Theirs");
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_file_that_is_gone_is_not_made_anew_unasked() {
    let folder = folder("gone");
    let file = begun(&folder);
    let mut h = desk_on(&file, None);
    retitle(&mut h, "Mine");
    std::fs::remove_file(&file).unwrap();
    ctrl(&mut h, Key::S);
    assert!(h.query_by_label("The file of this project is gone").is_some());
    assert!(!file.exists() && h.state().is_unsaved());
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn another_project_is_never_saved_over() {
    let folder = folder("project");
    let (file, other) = (begun(&folder), folder.join("other.ron"));
    project::save_new(&other, &sample::opening()).unwrap();
    let before = std::fs::read(&other).unwrap();
    let mut h = desk_on(&file, None);
    for (menu, window) in [
        ("Save as…", false),
        ("Hand the project on without photos…", true),
        ("Write the fitting journal…", true),
    ] {
        press(&mut h, "Files");
        press(&mut h, menu);
        if window {
            press(&mut h, "Write it…");
        }
        type_place(&mut h, &other);
        assert!(h.query_by_label_contains("is a project, and only saving").is_some(), "{menu}");
        press(&mut h, "Cancel");
        assert_eq!(std::fs::read(&other).unwrap(), before, "{menu}");
    }
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn the_second_desk_on_a_project_says_so() {
    let folder = folder("second");
    let (file, own) = (begun(&folder), folder.join("own"));
    let first = desk_on(&file, Some(own.clone()));
    assert!(first.query_by_label_contains("lies on another desk too").is_none());
    let second = desk_on(&file, Some(own));
    assert!(second.query_by_label_contains("lies on another desk too").is_some());
    drop((first, second));
    std::fs::remove_dir_all(&folder).unwrap();
}

/// What a killed desk left, kept as this version keeps it, for a desk started from
/// anywhere.
fn left_unsaved(own: &Path, held: &project::Held, title: &str) {
    let folder = own.join("not-saved");
    std::fs::create_dir_all(&folder).unwrap();
    let document = Document { title: title.into(), ..sample::bare() };
    let text = format!(
        "(held: Some({}), document: {})",
        ron::to_string(held).unwrap(),
        ron::to_string(&document).unwrap()
    );
    // No process has this number (the most Linux gives is 2^22).
    std::fs::write(folder.join("4999999.ron"), text).unwrap();
}

/// A project of one client, recovered, is not saved over that of another that lies
/// in its place now.
#[test]
fn recovered_work_is_not_saved_over_what_is_not_its_file() {
    let folder = folder("recover");
    let own = folder.join("own");
    let file = begun(&folder);
    let (_, held) = project::open(&file).unwrap();
    left_unsaved(&own, &held, "Recovered");
    elsewhere(&file, |d| d.client = "Another client".into());
    let before = std::fs::read(&file).unwrap();
    let mut h = common::desk_with(sample::bare(), Some(own.clone()));
    assert!(h.query_by_label_contains("Its file was changed since").is_some());
    press(&mut h, "Recover it");
    if h.query_by_label(ASKED).is_some() {
        press(&mut h, "Not now");
    }
    ctrl(&mut h, Key::S);
    assert!(h.query_by_label(ASKED).is_some());
    assert_eq!(std::fs::read(&file).unwrap(), before);
    press(&mut h, "Not now");
    drop(h);

    // And where its file is as it was, it goes back without a question.
    let (_, held) = project::open(&file).unwrap();
    left_unsaved(&own, &held, "Recovered");
    let mut h = common::desk_with(sample::bare(), Some(own));
    while h.query_by_label("Recover it").is_some() && h.state().document().title != "Recovered" {
        press(&mut h, "Recover it");
    }
    ctrl(&mut h, Key::S);
    assert_eq!(project::load(&file).unwrap().title, "Recovered");
    std::fs::remove_dir_all(&folder).unwrap();
}

/// An older version kept the place as it was typed, which from another folder is
/// another file.
#[test]
fn work_kept_by_an_older_version_is_saved_nowhere_unasked() {
    let folder = folder("older");
    let own = folder.join("own");
    let file = begun(&folder);
    let before = std::fs::read(&file).unwrap();
    std::fs::create_dir_all(own.join("not-saved")).unwrap();
    let text = format!(
        "(file: Some({:?}), document: {})",
        file.display().to_string(),
        ron::to_string(&sample::opening()).unwrap()
    );
    std::fs::write(own.join("not-saved/4999999.ron"), text).unwrap();
    let mut h = common::desk_with(sample::bare(), Some(own));
    press(&mut h, "Recover it");
    assert_eq!(h.state().document(), &sample::opening());
    assert!(h.state().title().contains("no file yet"), "{}", h.state().title());
    assert_eq!(std::fs::read(&file).unwrap(), before);
    std::fs::remove_dir_all(&folder).unwrap();
}
