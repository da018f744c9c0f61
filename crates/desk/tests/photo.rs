//! A piece traced from photos at the desk, by names, keys and the pointer: the
//! project is not touched until the piece is taken in, and undo takes all of it
//! back. The photos are made by the scene of the tests of the files, all invented.

#![allow(clippy::unwrap_used, clippy::panic)] // helpers of tests may stop a test

use crate::common;
use crate::common::looked_at::{fineness, look};
use crate::common::{
    Driven, ctrl, desk_with, drag, folder, keys, press, press_containing, type_place, wait_for,
    write_only,
};
use crate::photo_scene::leg::{self, Taken};
use egui::accesskit::Role;
use egui::{Key, Modifiers, Pos2, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use hangtrue_adjust::Change;
use hangtrue_desk::sample;
use hangtrue_files::photo::{
    Known, LensKind, MarkLook, OutlineSeen, PhotoJob, Picture, Place, PlacedMark, SeenMark,
    TraceJob, job_text, read_job,
};
use std::path::{Path, PathBuf};

const SIZE: (usize, usize) = (900, 1200);

fn save(picture: &Picture, file: &Path) {
    let size = (picture.width() as u32, picture.height() as u32);
    image::save_buffer(file, picture.pixels(), size.0, size.1, image::ColorType::Rgb8).unwrap();
}

/// Opens a photo by typing its place and waits until it is read.
fn open(h: &mut Driven, file: &Path) {
    press(h, "Files");
    press(h, "Piece from a photo…");
    type_place(h, file);
    read(h);
}

/// Waits until the photo looked at is read.
fn read(h: &mut Driven) {
    for _ in 0..400 {
        h.step();
        if h.query_by_label("Give up reading it").is_none() {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(25));
    }
    h.run_ok();
}

/// Waits until nothing is being worked out: for some pictures on end, because what
/// waited for a photo begins one picture after it is read.
fn settle(h: &mut Driven) {
    let mut calm = 0;
    for _ in 0..1200 {
        h.step();
        let working = h.query_by_label("Give it up").is_some();
        calm = if working || says(h, "Waiting until") { 0 } else { calm + 1 };
        if calm == 4 {
            h.run_ok();
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(if calm > 0 { 2 } else { 25 }));
    }
    panic!("it never ended");
}

/// Where a place of the photo is on the screen, all of it being shown.
fn at(h: &Driven, place: Place) -> Pos2 {
    let canvas = h.get_by_label_contains("The photo: arrow keys").rect();
    let (wide, high) = (SIZE.0 as f32, SIZE.1 as f32);
    let scale = ((canvas.width() - 32.0) / wide).min((canvas.height() - 32.0) / high);
    canvas.center() + vec2(place.0 as f32 - wide / 2.0, place.1 as f32 - high / 2.0) * scale
}

fn click_at(h: &mut Driven, place: Place) {
    let pos = at(h, place);
    h.hover_at(pos);
    h.run_ok();
    h.drag_at(pos);
    h.run_ok();
    h.drop_at(pos);
    h.run_ok();
}

fn says(h: &Driven, words: &str) -> bool {
    h.query_all_by_label_contains(words).next().is_some()
}

fn value(h: &Driven, name: &str) -> String {
    let field = h.get_by_role_and_label(Role::TextInput, name);
    field.accesskit_node().value().unwrap_or_default()
}

/// Clicks the four corners of the sheet beside the card.
fn click_sheet(h: &mut Driven, taken: &Taken) {
    // The sheet of the made photo is A4; where inches are used the usual one is another.
    if h.query_by_label_contains("Which sheet: A4").is_none() {
        press_containing(h, "Which sheet: Letter");
        press_containing(h, "A4: ");
        keys(h, Modifiers::NONE, Key::Escape);
    }
    assert!(h.query_by_label_contains("Which sheet: A4").is_some());
    press(h, "Go on: click the marks");
    for corner in leg::SHEET {
        let (x, y) = taken.seen(corner.into());
        click_at(h, (x + 1.0, y - 1.5));
    }
}

/// The steps up to a traced outline.
fn traced_beside_sheet(name: &str) -> (Driven, PathBuf, Taken) {
    let folder = folder(name);
    let taken = leg::beside_sheet(SIZE, 0.12);
    save(&taken.picture, &folder.join("card.png"));
    let mut h = desk_with(sample::document(), None);
    open(&mut h, &folder.join("card.png"));
    click_sheet(&mut h, &taken);
    press(&mut h, "Go on: the outline");
    click_at(&mut h, taken.seen((270.0, 500.0).into()));
    press(&mut h, "Find the card's edge");
    settle(&mut h);
    assert!(says(&h, "5 corners, 5 seams in"), "five seams are found");
    (h, folder, taken)
}

#[test]
fn a_photo_becomes_one_change_that_can_be_taken_back() {
    let folder = folder("photo-whole");
    let taken = leg::beside_sheet(SIZE, 0.12);
    save(&taken.picture, &folder.join("card.png"));
    let mut h = desk_with(sample::document(), None);
    let before = h.state().document().clone();
    open(&mut h, &folder.join("card.png"));
    assert!(h.query_by_label("A sheet of paper").is_some());
    click_sheet(&mut h, &taken);
    assert!(h.query_by_label("All four corners are marked.").is_some());
    press(&mut h, "Work out the size");
    settle(&mut h);
    assert!(h.query_by_label("Size worked out").is_some());
    assert!(says(&h, "4 marks are used"));
    assert!(says(&h, "Expect a place among the marks to be right within"));

    // Straight down and back.
    press(&mut h, "Look straight down");
    settle(&mut h);
    assert!(says(&h, "mm of the table"), "the scale is told");
    press(&mut h, "Photo files");
    press(&mut h, "Save the picture from straight above…");
    type_place(&mut h, &folder.join("above"));
    assert!(says(&h, "prints at its actual size"));
    let above = Picture::open(&folder.join("above.png")).unwrap();
    assert!(above.width() > 600 && above.height() > 900, "{above:?}");
    press(&mut h, "Look straight down");

    press(&mut h, "Go on: the outline");
    click_at(&mut h, taken.seen((270.0, 500.0).into()));
    press(&mut h, "Find the card's edge");
    settle(&mut h);
    assert!(says(&h, "5 corners, 5 seams in"));
    assert!(says(&h, "Expect the outline to be right within"));
    press(&mut h, "Go on: the grain");
    click_at(&mut h, taken.seen((270.0, 120.0).into()));
    click_at(&mut h, taken.seen((270.0, 900.0).into()));
    settle(&mut h);
    press(&mut h, "Go on: bring it in");
    h.run_ok();
    assert_eq!(value(&h, "Name of seam 1"), "waist");
    write_only(&mut h, "Name of the piece", "my back");
    h.run_ok();
    assert!(h.query_by_label("The digitised piece: my back").is_some());
    assert_eq!(h.state().document(), &before, "nothing is changed yet");

    press(&mut h, "Bring into this project");
    let after = h.state().document();
    assert_eq!(after.changes.len(), before.changes.len() + 1, "one change");
    let Change::BringIn(brought) = &after.changes.last().unwrap().change else { panic!() };
    assert_eq!(brought.pieces[0].name, "my back");
    let card = leg::card();
    let truth: Vec<f64> = card.iter().map(|c| c.length()).collect();
    let piece = h.state().replay().current().unwrap().piece("my back").unwrap();
    for (seam, truth) in [("hem", truth[0]), ("side", truth[1]), ("waist", truth[2])] {
        let length = piece.seam(seam).unwrap().sewn_length();
        assert!((length - truth).abs() < 3.0, "{seam}: {length} for {truth}");
    }
    ctrl(&mut h, Key::Z);
    assert_eq!(h.state().document(), &before, "undo takes all of it back");
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn each_step_says_what_it_is() {
    let folder = folder("photo-about");
    save(&leg::beside_sheet(SIZE, 0.12).picture, &folder.join("card.png"));
    let mut h = desk_with(sample::document(), None);
    open(&mut h, &folder.join("card.png"));
    press(&mut h, "What is this?");
    for (step, drawing) in [
        (Key::Num1, "A drawing: a card and a sheet"),
        (Key::Num2, "A drawing: a card and a sheet"),
        (Key::Num3, "A drawing: a card with its corners"),
        (Key::Num4, "A drawing: a card with its grainline"),
        (Key::Num5, "A drawing: a piece with the names"),
    ] {
        ctrl(&mut h, step);
        assert!(says(&h, drawing), "{step:?}");
    }
    keys(&mut h, Modifiers::SHIFT, Key::F1);
    assert!(!says(&h, "A drawing: "));
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_mat_is_marked_by_keys_alone_and_starts_a_new_project() {
    let folder = folder("photo-keys");
    let taken = leg::on_mat(SIZE, 0.2);
    save(&taken.picture, &folder.join("mat.png"));
    let mut h = desk_with(sample::document(), None);
    open(&mut h, &folder.join("mat.png"));
    press(&mut h, "The grid of a cutting mat");
    assert!(says(&h, "rotary cutter"), "the caution stands where the mat is chosen");
    write_only(&mut h, "From line to line", "50 mm");
    ctrl(&mut h, Key::Num2);
    for (index, (column, row)) in [(0, 0), (10, 0), (10, 21), (0, 21)].into_iter().enumerate() {
        press(&mut h, "Set one without the pointer");
        let (x, y) = taken.seen((f64::from(column) * 50.0, f64::from(row) * 50.0).into());
        let name = index + 1;
        write_only(
            &mut h,
            &format!("Mark {name} in the photo"),
            &format!("{:.1}, {:.1}", x + 4.0, y),
        );
        if index > 0 {
            write_only(&mut h, &format!("Columns of {name}"), &column.to_string());
            write_only(&mut h, &format!("Rows of {name}"), &row.to_string());
        }
    }
    // The last one is nudged by the arrows: three pixels to the left, a tenth up.
    let handle = h.get_by_label_contains("mark 4 on the photo");
    handle.focus();
    h.run_ok();
    for _ in 0..3 {
        keys(&mut h, Modifiers::NONE, Key::ArrowLeft);
    }
    keys(&mut h, Modifiers::SHIFT, Key::ArrowUp);
    let (x, y) = taken.seen((0.0, 1050.0).into());
    let shown = value(&h, "Mark 4 in the photo");
    let (sx, sy) = shown.split_once(", ").unwrap();
    assert!((sx.parse::<f64>().unwrap() - (x + 1.0)).abs() < 0.11, "{shown} for {x}");
    assert!((sy.parse::<f64>().unwrap() - (y - 0.1)).abs() < 0.11, "{shown} for {y}");
    press(&mut h, "Work out the size");
    settle(&mut h);
    assert!(says(&h, "found by themselves"), "the other crossings are found");
    ctrl(&mut h, Key::Num3);
    press(&mut h, "Find the card's edge");
    settle(&mut h);
    ctrl(&mut h, Key::Num5);
    h.run_ok();
    press(&mut h, "Start a new project");
    let document = h.state().document();
    assert_eq!(document.title, "back");
    assert!(h.state().is_unsaved());
    let piece = &h.state().replay().current().unwrap().pieces[0];
    let truth = leg::card()[3].length();
    assert!((piece.seam("crotch").unwrap().sewn_length() - truth).abs() < 1.5);
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn what_cannot_be_used_is_said_where_it_happened() {
    let folder = folder("photo-wrong");
    let taken = leg::beside_sheet(SIZE, 0.12);
    save(&taken.picture, &folder.join("card.png"));
    std::fs::write(folder.join("words.png"), "no picture").unwrap();
    std::fs::write(folder.join("job.ron"), "(photos: [], colour: 1)").unwrap();
    let mut h = desk_with(sample::document(), None);
    let before = h.state().document().clone();
    for (file, words) in
        [("words.png", "neither a PNG nor a JPEG"), ("nowhere.png", "cannot be read")]
    {
        open(&mut h, &folder.join(file));
        assert!(says(&h, words), "{file}");
        press(&mut h, "Leave the photo");
    }
    open(&mut h, &folder.join("job.ron"));
    assert!(says(&h, "is no job of digitising"));

    open(&mut h, &folder.join("card.png"));
    press(&mut h, "Go on: click the marks");
    press(&mut h, "Work out the size");
    assert!(says(&h, "4 more corners of the sheet"));
    ctrl(&mut h, Key::Num1);
    press(&mut h, "Marks at places I measured");
    ctrl(&mut h, Key::Num2);
    for i in 0..4 {
        let mark = i + 1;
        // One edge alone, the hem's, is no mark.
        let hem = taken.seen((190.0 + 55.0 * f64::from(i), 40.0).into());
        click_at(&mut h, hem);
        write_only(&mut h, &format!("Mark {mark} lies right by"), &format!("{} mm", 100 * i));
        write_only(&mut h, &format!("Mark {mark} lies up by"), "0 mm");
    }
    press(&mut h, "Work out the size");
    settle(&mut h);
    assert!(says(&h, "nothing that looks like a mark"), "no mark lies there");
    assert!(says(&h, "look at this one"), "and it is shown which");
    // Used as clicked, they lie in one line.
    for i in 1..=4 {
        press(&mut h, &format!("Look of mark {i}: two lines that cross"));
        press(&mut h, "exactly where I clicked");
    }
    press(&mut h, "Work out the size");
    settle(&mut h);
    assert!(says(&h, "in one line"));
    ctrl(&mut h, Key::Num5);
    assert!(says(&h, "There is no outline yet"));
    assert!(h.query_by_label("Bring into this project").is_none());
    assert_eq!(h.state().document(), &before);
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn an_outline_is_adjusted_by_hand_and_proposed_afresh() {
    let (mut h, folder, taken) = traced_beside_sheet("photo-hand");
    press(&mut h, "Adjust it by hand");
    settle(&mut h);
    assert!(says(&h, "5 corners, 5 seams in"), "the same five seams");
    // A corner some way up the side seam.
    press(&mut h, "Clicks add a corner");
    let middle = leg::card()[1].point_at(leg::card()[1].length() * 0.42);
    click_at(&mut h, taken.seen(middle));
    settle(&mut h);
    assert!(says(&h, "6 corners"), "one corner more");
    assert!(says(&h, "Point "), "the new point is chosen");
    press(&mut h, "Take the point away");
    settle(&mut h);
    assert!(says(&h, "5 corners, 5 seams in"));
    ctrl(&mut h, Key::Z);
    settle(&mut h);
    assert!(says(&h, "6 corners"), "undo brings the corner back");
    ctrl(&mut h, Key::Y);
    settle(&mut h);
    assert!(says(&h, "5 corners, 5 seams in"));

    // A corner pulled away is refused or follows; a fresh proposal mends it.
    press(&mut h, "Clicks choose a point, drags pull it");
    let hem = taken.seen(leg::card()[0].start());
    let (from, to) = (at(&h, hem), at(&h, (hem.0 - 60.0, hem.1 + 30.0)));
    drag(&mut h, from, to);
    settle(&mut h);
    press(&mut h, "A fresh proposal");
    settle(&mut h);
    assert!(says(&h, "5 corners, 5 seams in"));
    assert!(h.query_by_label("Adjust it by hand").is_some());
    assert_eq!(h.state().document().changes, sample::document().changes);
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn marks_with_taped_distances_are_enough() {
    let folder = folder("photo-taped");
    let taken = leg::whole(SIZE, 0.2);
    save(&taken.picture, &folder.join("taped.png"));
    let mut h = desk_with(sample::document(), None);
    open(&mut h, &folder.join("taped.png"));
    press(&mut h, "Marks with distances I measured");
    press(&mut h, "Go on: click the marks");
    let places = [0, 1, 7, 6].map(|i| leg::TARGETS[i]);
    for place in places {
        click_at(&mut h, taken.seen(place.into()));
    }
    press(&mut h, "Work out the size");
    settle(&mut h);
    assert!(says(&h, "0 measured distances do not fix where 4 marks lie"));
    let names = ["A", "B", "C", "D"];
    for i in 0..4 {
        for k in i + 1..4 {
            let (a, b): ((f64, f64), (f64, f64)) = (places[i], places[k]);
            let mm = (a.0 - b.0).hypot(a.1 - b.1);
            let field = format!("{} to {}", names[i], names[k]);
            write_only(&mut h, &field, &format!("{mm:.1} mm"));
        }
    }
    press(&mut h, "Work out the size");
    settle(&mut h);
    assert!(h.query_by_label("Size worked out").is_some());
    // One distance read wrongly off the tape is found out.
    write_only(&mut h, "B to D", "1250 mm");
    press(&mut h, "Work out the size");
    settle(&mut h);
    assert!(says(&h, "measure it again"), "the distance that does not fit is named");
    std::fs::remove_dir_all(&folder).unwrap();
}

fn halves_job(halves: &[Taken; 2]) -> TraceJob {
    let target = |i: usize, half: usize| PlacedMark {
        name: format!("T{i}"),
        seen: halves[half].seen(leg::TARGETS[i].into()),
        place: leg::TARGETS[i],
        look: MarkLook::Crossing,
    };
    TraceJob {
        photos: vec![PhotoJob {
            file: "lower.png".into(),
            lens: LensKind::Camera,
            known: Known::Places([0, 1, 2, 3, 4, 5].map(|i| target(i, 0)).to_vec()),
            shared: [2, 3, 4, 5]
                .map(|i| target(i, 0))
                .map(|m| SeenMark { name: m.name, seen: m.seen, look: m.look })
                .to_vec(),
            reach: 7.0,
            outline: OutlineSeen::Card(Some(halves[0].seen((270.0, 300.0).into()))),
        }],
        piece: "long back".into(),
        grain: None,
        tolerance: 0.2,
        raised: 0.0,
        seams: vec![],
    }
}

#[test]
fn two_photos_are_joined_over_shared_marks_and_the_work_is_saved() {
    let folder = folder("photo-two");
    let halves = [leg::half(SIZE, false), leg::half(SIZE, true)];
    save(&halves[0].picture, &folder.join("lower.png"));
    save(&halves[1].picture, &folder.join("upper.png"));
    std::fs::write(folder.join("lower.ron"), job_text(&halves_job(&halves)).unwrap()).unwrap();
    let mut h = desk_with(sample::document(), None);
    open(&mut h, &folder.join("lower.ron"));
    press(&mut h, "Work out the size");
    settle(&mut h);
    assert!(says(&h, "6 marks are used"), "a saved job goes on where it was left");

    press(&mut h, "Photo files");
    press(&mut h, "Add another photo of the piece…");
    type_place(&mut h, &folder.join("upper.png"));
    read(&mut h);
    assert!(h.query_by_label("Photo 2: upper.png").is_some());
    press(&mut h, "Go on: click the marks");
    for i in [2, 3, 4] {
        assert!(says(&h, &format!("click the mark “T{i}”")), "the next shared mark is named");
        let seen = halves[1].seen(leg::TARGETS[i].into());
        click_at(&mut h, seen);
    }
    press(&mut h, "Work out the size");
    settle(&mut h);
    assert!(says(&h, "shares 3 marks") && says(&h, "needs 4"), "too few are refused in words");
    let seen = halves[1].seen(leg::TARGETS[5].into());
    click_at(&mut h, seen);
    press(&mut h, "Work out the size");
    settle(&mut h);
    assert!(h.query_by_label("Size worked out").is_some());
    press(&mut h, "Go on: the outline");
    click_at(&mut h, halves[1].seen((270.0, 800.0).into()));
    press(&mut h, "Find the card's edge");
    settle(&mut h);
    assert!(says(&h, "5 corners, 5 seams in"));

    // The work is kept in a file that the command reads too.
    press(&mut h, "Photo files");
    press(&mut h, "Save the work on the photo…");
    type_place(&mut h, &folder.join("both"));
    let job = read_job(&folder.join("both.ron")).unwrap();
    assert_eq!(job.photos.len(), 2);
    assert_eq!((&*job.photos[0].file, &*job.photos[1].file), ("lower.png", "upper.png"));
    assert_eq!(job.photos[1].shared.len(), 4);
    press(&mut h, "Leave the photo");
    assert!(h.query_by_label("Leave the photo").is_none(), "saved work is left unasked");

    open(&mut h, &folder.join("both.ron"));
    ctrl(&mut h, Key::Num3);
    press(&mut h, "Find the card's edge");
    settle(&mut h);
    press(&mut h, "Adjust it by hand");
    settle(&mut h);
    assert!(says(&h, "5 corners, 5 seams in"), "placed by hand in both photos");
    ctrl(&mut h, Key::Num5);
    h.run_ok();
    press(&mut h, "Bring into this project");
    let piece = h.state().replay().current().unwrap().piece("long back").unwrap().clone();
    let truth = leg::card()[1].length();
    let side = piece.seam("side").unwrap().sewn_length();
    assert!((side - truth).abs() < 1.5, "{side} for {truth}");
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn work_on_a_photo_is_not_left_unasked() {
    let folder = folder("photo-leave");
    let taken = leg::beside_sheet(SIZE, 0.12);
    save(&taken.picture, &folder.join("card.png"));
    let mut h = desk_with(sample::document(), None);
    open(&mut h, &folder.join("card.png"));
    press(&mut h, "Go on: click the marks");
    for corner in &leg::SHEET[..2] {
        click_at(&mut h, taken.seen((*corner).into()));
    }
    ctrl(&mut h, Key::Z);
    assert!(h.query_by_label("Mark 1").is_some() && h.query_by_label("Mark 2").is_none());
    ctrl(&mut h, Key::Y);
    assert!(h.query_by_label("Mark 2").is_some());
    let handle = h.get_by_label_contains("mark 1 on the photo");
    handle.focus();
    h.run_ok();
    keys(&mut h, Modifiers::NONE, Key::Delete);
    assert!(h.query_by_label("Mark 2").is_none(), "Delete takes the one in hand away");
    // Closing the window asks too.
    let viewport = h.input_mut().viewports.entry(egui::ViewportId::ROOT).or_default();
    viewport.events.push(egui::ViewportEvent::Close);
    h.run_ok();
    assert!(h.query_by_label("The work on the photo is not saved").is_some());
    press(&mut h, "Stay here");
    press(&mut h, "Leave the photo");
    press(&mut h, "Stay here");
    assert!(h.query_by_label("Leave the photo").is_some());
    press(&mut h, "Leave the photo");
    press(&mut h, "Give it up");
    assert!(h.query_by_label("Leave the photo").is_none());
    assert!(h.query_by_label_contains("Cutting table").is_some());
    wait_for(&mut h, "Files");
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn work_that_was_not_finished_is_offered_to_the_next_desk() {
    let folder = folder("photo-unfinished");
    let own = folder.join("own");
    let taken = leg::beside_sheet(SIZE, 0.12);
    save(&taken.picture, &folder.join("card.png"));
    let mut h = desk_with(sample::document(), Some(own.clone()));
    open(&mut h, &folder.join("card.png"));
    click_sheet(&mut h, &taken);
    drop(h);
    // The desk was killed; no process has this number (the most Linux gives is 2^22).
    let kept = own.join("photos-not-finished");
    let left = std::fs::read_dir(&kept).unwrap().next().unwrap().unwrap().path();
    std::fs::rename(left, kept.join("4999999.ron")).unwrap();

    let mut h = desk_with(sample::document(), Some(own.clone()));
    press(&mut h, "Files");
    press(&mut h, "Go on with the photo that was not finished");
    wait_for(&mut h, "Mark 4");
    read(&mut h);
    press(&mut h, "Work out the size");
    settle(&mut h);
    assert!(h.query_by_label("Size worked out").is_some(), "the photo is found where it lies");
    press(&mut h, "Leave the photo");
    press(&mut h, "Give it up");
    assert_eq!(std::fs::read_dir(&kept).unwrap().count(), 0, "what is given up is not kept");
    std::fs::remove_dir_all(&folder).unwrap();
}

/// Letters of 200 % lose nothing: every word and control lies within the window.
#[test]
fn nothing_is_lost_at_200_percent() {
    let (mut h, folder, taken) = traced_beside_sheet("photo-letters");
    for _ in 0..10 {
        ctrl(&mut h, Key::Plus);
    }
    for (step, kind) in [
        (Key::Num1, "A sheet of paper"),
        (Key::Num1, "The grid of a cutting mat"),
        (Key::Num2, ""),
        (Key::Num1, "Marks at places I measured"),
        (Key::Num2, ""),
        (Key::Num1, "Marks with distances I measured"),
        (Key::Num2, ""),
        (Key::Num3, ""),
        (Key::Num4, ""),
        (Key::Num5, ""),
    ] {
        ctrl(&mut h, step);
        if !kind.is_empty() {
            press(&mut h, kind);
        }
        check(&h, &format!("{step:?} {kind}"));
    }
    drop(taken);
    std::fs::remove_dir_all(&folder).unwrap();

    let (mut h, folder, _) = traced_beside_sheet("photo-letters-found");
    for _ in 0..10 {
        ctrl(&mut h, Key::Plus);
    }
    check(&h, "found");
    press(&mut h, "Adjust it by hand");
    settle(&mut h);
    check(&h, "by hand");
    ctrl(&mut h, Key::Num5);
    h.run_ok();
    check(&h, "taking it in");
    std::fs::remove_dir_all(&folder).unwrap();
}

fn check(h: &Driven, step: &str) {
    let screen = h.ctx.content_rect();
    let canvas = h.get_by_label_contains("The photo: arrow keys").rect();
    assert!(canvas.width() > 300.0 && canvas.height() > 300.0, "{step}: the photo is {canvas}");
    // What is written into a field is scrolled in it.
    for n in h.query_all_by(|n| n.role() != Role::TextRun) {
        let node = n.accesskit_node();
        let words = node.label().or(node.value()).unwrap_or_default();
        if words.is_empty() || node.bounding_box().is_none() {
            continue;
        }
        let rect = n.rect();
        let inside = rect.left() > -0.5 && rect.right() < screen.right() + 0.5;
        assert!(inside || !rect.is_positive(), "{step}: “{words}” at {rect} of {screen}");
    }
}

#[test]
fn pictures() {
    let folder = folder("photo-pictures");
    let taken = leg::on_mat_quiet(SIZE, 0.3);
    save(&taken.picture, &folder.join("mat.png"));
    let crossing =
        |c: (i32, i32)| (c, taken.seen((f64::from(c.0) * 50.0, f64::from(c.1) * 50.0).into()));
    let job = TraceJob {
        photos: vec![PhotoJob {
            file: "mat.png".into(),
            lens: LensKind::Camera,
            known: Known::Grid {
                pitch: 50.0,
                crossings: [(0, 0), (10, 0), (10, 21), (0, 21)].map(crossing).to_vec(),
                only_these: false,
            },
            shared: vec![],
            reach: 7.0,
            outline: OutlineSeen::Card(None),
        }],
        piece: String::new(),
        grain: None,
        tolerance: 0.2,
        raised: 0.0,
        seams: vec![],
    };
    std::fs::write(folder.join("mat.ron"), job_text(&job).unwrap()).unwrap();
    let fine = fineness();
    let mut h = common::desk_sized(sample::document(), None, [1440.0, 900.0], fine);
    open(&mut h, &folder.join("mat.ron"));
    ctrl(&mut h, Key::Num2);
    press(&mut h, "Work out the size");
    settle(&mut h);
    let mark = at(&h, taken.seen((500.0, 1050.0).into()));
    h.hover_at(mark);
    h.run_ok();
    look(&mut h, "photo-2-marks");
    ctrl(&mut h, Key::Num3);
    press(&mut h, "Find the card's edge");
    settle(&mut h);
    press(&mut h, "Adjust it by hand");
    settle(&mut h);
    look(&mut h, "photo-3-by-hand");
    ctrl(&mut h, Key::Num4);
    click_at(&mut h, taken.seen((290.0, 140.0).into()));
    click_at(&mut h, taken.seen((290.0, 900.0).into()));
    settle(&mut h);
    ctrl(&mut h, Key::L);
    ctrl(&mut h, Key::Num5);
    h.run_ok();
    look(&mut h, "photo-5-take");
    std::fs::remove_dir_all(&folder).unwrap();
}
