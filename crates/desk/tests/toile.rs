//! Photos of the worn toile at the desk: taken in, marked by pointer and by names,
//! read, undone, saved and laid side by side.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // helpers of tests may stop a test

use crate::common;
use crate::common::photographed::{Photographed, mark_all, photographed, take_in, wait_for_words};
use crate::common::{at_home, ctrl, folder, keys, press, write};
use crate::worn::figure::Posed;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::worn::LegSeen;
use hangtrue_adjust::{OPEN_ROUND, PhotoView};
use hangtrue_files::project::load;
use hangtrue_files::worn::round_droops;

/// Left over under the seat of the planted toile, mm: 3/8 in.
const SURPLUS: f64 = 9.525;

fn posed(desk: &hangtrue_desk::Desk) -> Posed {
    Posed::new(desk.replay().toile(OPEN_ROUND).unwrap(), SURPLUS)
}

#[test]
fn a_photo_is_taken_in_marked_read_undone_and_saved() {
    let folder = folder("toile");
    let Photographed { mut h, camera, project } = photographed(&folder, posed);
    take_in(&mut h, &camera);
    let photo = h.state().document().journal.photos[0].clone();
    assert_eq!((photo.view, photo.cut_above, photo.in_journal), (PhotoView::Back, 160, false));
    assert!(photo.file.starts_with("toile-back"), "{photo:?}");
    let before = h.state().document().clone();

    let at_hand = posed(h.state());
    mark_all(&mut h, &at_hand);
    wait_for_words(&mut h, "How the lines hang");
    let pattern = h.state().replay().toile(OPEN_ROUND).unwrap().clone();
    let found = round_droops(h.state().document(), Some(&project), &pattern, OPEN_ROUND);
    let middle = |leg| {
        use hangtrue_adjust::reading::HangLine;
        let mut droops = found.droops.iter();
        droops.find(|d| d.line == HangLine::Thigh && d.leg == leg && (d.at - 0.5).abs() < 1e-6)
    };
    for leg in hangtrue_adjust::reading::Leg::BOTH {
        let (droop, home) = (middle(leg).unwrap(), at_home(&h, "thigh", 0.5));
        // How low it hangs goes by the ends of the line too: no nearer than it says itself.
        let off = droop.mm - home - SURPLUS;
        assert!(off.abs() < droop.error, "{off} {droop:?}");
    }
    assert!(h.query_all_by_label_contains("droop 1 ").next().is_some());

    // What is saved is read again as it was; a tick is part of it.
    press(&mut h, "Back to the photos");
    press(&mut h, &format!("{} in the journal", photo.file));
    ctrl(&mut h, Key::S);
    let saved = load(&project).unwrap();
    assert_eq!(&saved, h.state().document());
    assert!(saved.journal.photos[0].in_journal);

    // Saved under another name, it takes the photo along.
    let copy = folder.join("copy.ron");
    press(&mut h, "Files");
    press(&mut h, "Save as…");
    common::type_place(&mut h, &copy);
    assert!(hangtrue_files::album::path_of(&copy, &photo.file).unwrap().exists());

    // Every step is taken back, one by one, to where nothing was marked.
    let mut steps = 0;
    while h.state().document() != &before && steps < 80 {
        ctrl(&mut h, Key::Z);
        steps += 1;
    }
    assert_eq!(h.state().document(), &before);
    assert!(steps > 15, "{steps} steps");
    std::fs::remove_dir_all(folder).unwrap();
}

#[test]
fn places_are_set_moved_and_taken_away_by_keys_alone() {
    let folder = folder("toile-keys");
    let Photographed { mut h, camera, .. } = photographed(&folder, posed);
    take_in(&mut h, &camera);
    press(&mut h, "Trace thigh, left leg");
    press(&mut h, "Put one in the middle of the view");
    let marks = |h: &common::Driven| h.state().document().journal.photos[0].marks.clone();
    let place =
        |h: &common::Driven| marks(h).unwrap().line("thigh", LegSeen::Left).unwrap().points[0];
    let first = place(&h);
    h.get_by_label("place 1 of thigh, left leg").focus();
    h.run_ok();
    keys(&mut h, Modifiers::NONE, Key::ArrowRight);
    keys(&mut h, Modifiers::SHIFT, Key::ArrowUp);
    let off = place(&h) - first - hangtrue_geometry::Vec2::new(1.0, -0.1);
    assert!(off.hypot() < 1e-6, "{off:?}");
    keys(&mut h, Modifiers::NONE, Key::Delete);
    assert_eq!(marks(&h), None, "nothing is left of it");
    ctrl(&mut h, Key::Z);
    assert!(marks(&h).is_some());

    // What is missing is said where it belongs.
    assert!(h.query_by_label_contains("Next: the level is not set").is_some());
    press(&mut h, "Believe the camera's own level");
    wait_for_words(&mut h, "The camera's own level is believed");
    write(&mut h, "Lens to the body's middle", "three paces");
    assert!(h.query_by_label_contains("Not yet").is_some(), "it is said");
    write(&mut h, "Lens to the body's middle", "3000 mm");
    assert_eq!(marks(&h).unwrap().distance, Some(3000.0));
    press(&mut h, "Not measured: it looked about straight ahead (less sure)");
    assert!(marks(&h).unwrap().straight_ahead);
    assert!(h.query_by_label_contains("Next: no line is traced").is_some());
    std::fs::remove_dir_all(folder).unwrap();
}

#[test]
fn a_project_without_a_file_says_so_and_a_photo_thrown_away_is_gone() {
    let mut h = common::desk_with(hangtrue_desk::sample::opening(), None);
    ctrl(&mut h, Key::Num6);
    assert!(h.query_by_label("Save the project…").is_some());
    assert!(h.query_by_label("Add a photo…").is_none());

    let folder = folder("toile-away");
    let Photographed { mut h, camera, project } = photographed(&folder, posed);
    take_in(&mut h, &camera);
    let file = h.state().document().journal.photos[0].file.clone();
    let kept = hangtrue_files::album::path_of(&project, &file).unwrap();
    assert!(kept.exists());
    press(&mut h, "Back to the photos");
    press(&mut h, &format!("Throw {file} away…"));
    press(&mut h, "Throw it away for good");
    assert!(h.state().document().journal.photos.is_empty());
    // Until it is saved undo brings it back, photo and all.
    assert!(kept.exists());
    ctrl(&mut h, Key::Z);
    press(&mut h, &format!("Open {file}"));
    wait_for_words(&mut h, "1  Level");
    press(&mut h, "Back to the photos");
    keys(&mut h, Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    assert!(h.state().document().journal.photos.is_empty());
    ctrl(&mut h, Key::S);
    assert!(!kept.exists(), "saved without it");
    let folder_of = hangtrue_files::album::folder_of(&project);
    assert_eq!(std::fs::read_dir(&folder_of).unwrap().count(), 0, "nor is anything left of it");
    // Undo brings the record back then, not the photo, and that is said.
    ctrl(&mut h, Key::Z);
    press(&mut h, &format!("Open {file}"));
    wait_for_words(&mut h, "Not possible like this");
    std::fs::remove_dir_all(folder).unwrap();
}

#[test]
fn a_photo_in_no_saved_project_outlives_a_killed_desk_and_not_one_that_gave_it_up() {
    let folder = folder("toile-doubt");
    let Photographed { mut h, camera, project } = photographed(&folder, posed);
    let photos = || {
        let entries = std::fs::read_dir(hangtrue_files::album::folder_of(&project));
        entries.map_or(0, |e| e.count())
    };
    // Taken in and saved, then undone and saved: redo still has its photo.
    take_in(&mut h, &camera);
    let file = h.state().document().journal.photos[0].file.clone();
    let kept = hangtrue_files::album::path_of(&project, &file).unwrap();
    ctrl(&mut h, Key::S);
    assert_eq!(photos(), 1, "the photo and no mark");
    ctrl(&mut h, Key::Z);
    ctrl(&mut h, Key::S);
    assert!(load(&project).unwrap().journal.photos.is_empty());
    hangtrue_files::project::open(&project).unwrap();
    assert!(kept.exists(), "another program looked at the project meanwhile");
    keys(&mut h, Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    press(&mut h, &format!("Open {file}"));
    wait_for_words(&mut h, "1  Level");
    // The desk is gone, as when it is killed; the next to open the project tidies up.
    drop(h);
    hangtrue_files::project::open(&project).unwrap();
    assert_eq!(photos(), 0);
    std::fs::remove_dir_all(folder).unwrap();
}

#[test]
fn two_photos_lie_side_by_side() {
    let folder = folder("toile-pair");
    let Photographed { mut h, camera, .. } = photographed(&folder, posed);
    for _ in 0..2 {
        take_in(&mut h, &camera);
        let at_hand = posed(h.state());
        mark_all(&mut h, &at_hand);
        press(&mut h, "Back to the photos");
    }
    press(&mut h, "Lay them side by side");
    wait_for_words(&mut h, "Before and after: toile-back");
    h.run_ok();
    assert!(h.query_by_label_contains("cannot be read").is_none());
    press(&mut h, "Back to the table");
    assert!(h.query_by_label_contains("Cutting table").is_some());
    std::fs::remove_dir_all(folder).unwrap();
}

#[test]
fn a_photo_of_work_that_is_given_up_is_thrown_away_and_a_saved_one_stays() {
    let folder = folder("toile-give-up");
    let Photographed { mut h, camera, project } = photographed(&folder, posed);
    let kept = |file: &str| hangtrue_files::album::path_of(&project, file).unwrap();
    take_in(&mut h, &camera);
    ctrl(&mut h, Key::S);
    press(&mut h, "Back to the photos");
    take_in(&mut h, &camera);
    let files: Vec<String> =
        h.state().document().journal.photos.iter().map(|p| p.file.clone()).collect();
    assert!(files.iter().all(|f| kept(f).exists()) && files.len() == 2);
    press(&mut h, "Files");
    press(&mut h, "Open…");
    common::type_place(&mut h, &project);
    press(&mut h, "Give the changes up");
    assert_eq!(h.state().document().journal.photos.len(), 1);
    assert!(kept(&files[0]).exists() && !kept(&files[1]).exists());
    std::fs::remove_dir_all(folder).unwrap();
}
