//! What is left of a photo on the way in, looked at by Pillow (pinned in
//! tests/requirements.txt).

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used)]

use hangtrue_adjust::{Document, OPEN_ROUND, PhotoView, RoundPhoto, Start};
use hangtrue_files::album::{self, AlbumError, Hide};
use hangtrue_files::project;
use hangtrue_pattern::Pattern;
use serde::Deserialize;
use serde_json::json;
use std::path::{Path, PathBuf};

#[derive(Debug, Deserialize)]
struct Looked {
    size: [u32; 2],
    exif: usize,
    gps: usize,
    info: Vec<String>,
    noted: Vec<String>,
    app_markers: Vec<String>,
    upper: [i32; 3],
    lower: [i32; 3],
    right: [i32; 3],
}

#[derive(Deserialize)]
struct Seen {
    seen: Vec<Looked>,
}

fn look(path: &Path) -> Looked {
    let seen: Seen = hangtrue_tests::ask("photos.py", &json!({ "look": [path] })).unwrap();
    seen.seen.into_iter().next().unwrap()
}

fn folder(name: &str) -> PathBuf {
    let folder = std::env::temp_dir().join(format!("hangtrue-photo-{name}-{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// A folder with a photo as a camera writes it, and a project beside it.
fn photographed(name: &str) -> (PathBuf, PathBuf, PathBuf) {
    let folder = folder(name);
    let (camera, project) = (folder.join("camera.jpg"), folder.join("maren.ron"));
    let _: Seen = hangtrue_tests::ask("photos.py", &json!({ "make": [camera] })).unwrap();
    (folder, camera, project)
}

/// JPEG may move a colour by a little.
fn close(a: [i32; 3], b: [i32; 3]) -> bool {
    a.iter().zip(b).all(|(x, y)| (x - y).abs() < 16)
}

const RED: [i32; 3] = [200, 30, 30];
const BLUE: [i32; 3] = [30, 30, 200];
const GREEN: [i32; 3] = [20, 180, 20];

#[test]
fn place_time_and_camera_stay_behind_and_the_picture_stands_upright() {
    let (folder, camera, project) = photographed("exif");
    let before = look(&camera);
    assert!(before.gps > 0 && before.exif > 3, "the check sees what the camera noted: {before:?}");
    assert!(before.noted.len() >= 6 && before.info.len() >= 3, "{before:?}");
    let file = album::take_in(&project, &camera, "first toile back", &[]).unwrap().file;
    assert_eq!(file, "first-toile-back.jpg");
    let after = look(&album::path_of(&project, &file).unwrap());
    assert_eq!((after.exif, after.gps), (0, 0), "{after:?}");
    assert!(after.info.is_empty() && after.noted.is_empty(), "{after:?}");
    assert!(after.app_markers.iter().all(|m| m == "APP0"), "{after:?}");
    // Orientation 6 was turned into the pixels: what was left is up.
    assert_eq!(after.size, [120, 200]);
    assert!(close(after.upper, RED) && close(after.lower, BLUE) && close(after.right, GREEN));
    // The camera's own file is untouched.
    assert_eq!(look(&camera).gps, before.gps);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = std::fs::metadata(album::folder_of(&project)).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o700, "only the owner may look into the folder");
    }
    std::fs::remove_dir_all(folder).unwrap();
}

#[test]
fn what_is_cut_off_is_gone_from_the_file() {
    let (folder, camera, project) = photographed("crop");
    let whole = album::take_in(&project, &camera, "whole", &[]).unwrap().file;
    let cut = album::take_in(&project, &camera, "cut", &[Hide::Above(0.55)]).unwrap();
    assert_eq!(cut.cut_above, 110, "of 200 rows");
    let cut = album::path_of(&project, &cut.file).unwrap();
    let seen = look(&cut);
    assert_eq!(seen.size, [120, 90]);
    // The red half was above; nothing of it is left, and there is no small copy of
    // the whole in the file either (a camera keeps a thumbnail).
    assert!(close(seen.upper, BLUE) && close(seen.lower, BLUE), "{seen:?}");
    let (start, jpegs) = ([0xff, 0xd8, 0xff], std::fs::read(&cut).unwrap());
    assert_eq!(jpegs.windows(3).filter(|w| *w == start).count(), 1);
    // The same in a photo that is kept already.
    let hidden = album::hide_in_kept(&project, &whole, &[Hide::Above(0.55)]).unwrap();
    assert_eq!(hidden.cut_above, 110);
    assert!(close(look(&album::path_of(&project, &hidden.file).unwrap()).upper, BLUE));
    // The old one goes once the project names the new one.
    album::settle(&project, &naming(&[&hidden.file]));
    assert!(!album::path_of(&project, &whole).unwrap().exists());
    assert!(album::path_of(&project, &hidden.file).unwrap().exists());
    assert!(!album::any_doubt(&project));
    std::fs::remove_dir_all(folder).unwrap();
}

#[test]
fn a_project_saved_under_another_name_takes_its_photos_along() {
    let (folder, camera, project) = photographed("along");
    let file = album::take_in(&project, &camera, "whole", &[]).unwrap().file;
    let other = folder.join("copy.ron");
    let files = [file.as_str(), "gone.jpg"];
    assert_eq!(album::copy_along(&project, &other, &files).unwrap(), 1);
    assert_eq!(album::copy_along(&project, &other, &files).unwrap(), 0, "it lies there already");
    let bytes = |p: &Path| std::fs::read(album::path_of(p, &file).unwrap()).unwrap();
    assert_eq!(bytes(&project), bytes(&other));
    assert!(album::copy_along(&project, &other, &["../maren.ron"]).is_err());
    std::fs::remove_dir_all(folder).unwrap();
}

#[test]
fn a_box_is_blurred_and_the_rest_stays() {
    let (folder, camera, project) = photographed("blur");
    // Over the edge between red and blue, which must be gone there.
    let hide = [Hide::Blur { x: 0.3, y: 0.4, width: 0.4, height: 0.2 }];
    let file = album::take_in(&project, &camera, "blurred", &hide).unwrap().file;
    let kept = album::kept(&project, &file, 1000).unwrap();
    let at = |x: usize, y: usize| {
        let i = 3 * (y * kept.width() + x);
        [0, 1, 2].map(|c| i32::from(kept.pixels()[i + c]))
    };
    let step = |x: usize| (at(x, 97)[0] - at(x, 103)[0]).abs();
    assert!(step(60) < 80, "inside the edge is blurred: {}", step(60));
    assert!(step(10) > 140, "outside it stands: {}", step(10));
    std::fs::remove_dir_all(folder).unwrap();
}

#[test]
fn what_is_no_photo_is_refused_and_nothing_is_kept() {
    let folder = folder("none");
    let project = folder.join("p.ron");
    let no_photo = folder.join("letter.jpg");
    std::fs::write(&no_photo, b"Dear Maren").unwrap();
    for file in [no_photo, folder.join("gone.jpg"), folder.clone()] {
        let fault = album::take_in(&project, &file, "x", &[]).unwrap_err();
        assert!(matches!(fault, AlbumError::Photo { .. }), "{fault}");
    }
    assert!(!album::folder_of(&project).exists());
    std::fs::remove_dir_all(folder).unwrap();
}

/// A project that has these photos.
fn naming(files: &[&str]) -> Document {
    let photo = |file: &&str| RoundPhoto {
        file: (*file).to_owned(),
        round: OPEN_ROUND.into(),
        view: PhotoView::Back,
        caption: String::new(),
        in_journal: false,
        cut_above: 0,
        marks: None,
    };
    let start = Start::Pieces(Pattern::default());
    let mut document = Document {
        title: String::new(),
        client: String::new(),
        unit: Default::default(),
        start,
        pinned: vec![],
        changes: vec![],
        journal: Default::default(),
        printing: Default::default(),
        cutting: Default::default(),
        lays: Default::default(),
        figure: Default::default(),
    };
    document.journal.photos = files.iter().map(photo).collect();
    document
}

/// A program with unsaved work holds its photo: nobody else throws it away while it
/// runs, nor after it was killed as long as its unsaved work may be recovered.
#[test]
fn a_photo_of_unsaved_work_stays_until_the_work_is_given_up() {
    let (folder, camera, _) = photographed("held");
    let project = folder.join("kept.ron");
    let mut file = project::save_new(&project, &naming(&[])).unwrap();
    let unsaved = folder.join("unsaved.ron");
    let take = |words: &str, kept: Option<&Path>| {
        file.while_locked(|p| album::take_in_held(p, &camera, words, &[], kept)).unwrap().unwrap()
    };
    let (alone, held_alone) = take("alone", None);
    let (kept, held_kept) = take("kept", Some(&unsaved));
    let (given_up, held_given_up) = take("given up", Some(&unsaved));
    let is_there = |file: &str| album::path_of(&project, file).unwrap().exists();
    let open = || drop(project::open(&project).unwrap());
    open();
    drop(project::open_to_write(&project).unwrap());
    assert!(is_there(&alone.file) && is_there(&kept.file), "somebody holds them");
    let again = album::hold_in_doubt(&project, &kept.file, None);
    assert!(again.is_err(), "who holds it is not written over");
    // Killed: the locks are gone, the unsaved work stands.
    std::fs::write(&unsaved, format!("work with {}", kept.file)).unwrap();
    drop((held_alone, held_kept, held_given_up));
    open();
    assert!(!is_there(&alone.file), "no work hangs from it");
    assert!(!is_there(&given_up.file), "the work is there and does not name it");
    assert!(is_there(&kept.file), "the work may be recovered");
    // Recovered by another program, which keeps its work elsewhere.
    let elsewhere = folder.join("elsewhere.ron");
    let taken_over = album::hold_all(&project, Some(&elsewhere));
    assert_eq!(taken_over.iter().map(album::HeldDoubt::photo).collect::<Vec<_>>(), [&kept.file]);
    std::fs::remove_file(&unsaved).unwrap();
    open();
    assert!(is_there(&kept.file), "the other holds it now");
    // Saved with it, it stays for good.
    file.save(&naming(&[&kept.file])).unwrap();
    drop(taken_over);
    open();
    assert!(is_there(&kept.file) && !album::any_doubt(&project));
    std::fs::remove_dir_all(folder).unwrap();
}

/// Ended after each step of hiding, the next opening of the project leaves one photo:
/// the old one while the project names that, the cut one once it names that.
#[test]
fn hiding_that_is_broken_off_leaves_the_photo_the_project_names() {
    for is_saved in [false, true] {
        let (folder, camera, _) = photographed("broken-off");
        let project = folder.join("kept.ron");
        let whole = album::take_in(&project, &camera, "whole", &[]).unwrap().file;
        let mut held = project::save_new(&project, &naming(&[&whole])).unwrap();
        // A photo the project does not name, and that was never in doubt, is not ours
        // to throw away.
        std::fs::write(album::folder_of(&project).join("other.jpg"), "a picture").unwrap();
        let hidden = album::hide_in_kept(&project, &whole, &[Hide::Above(0.55)]).unwrap().file;
        assert!(album::any_doubt(&project));
        if is_saved {
            held.save(&naming(&[&hidden])).unwrap();
        }
        let (document, _) = project::open(&project).unwrap();
        let (stays, goes) = if is_saved { (hidden, whole) } else { (whole, hidden) };
        assert_eq!(document.journal.photos[0].file, stays);
        let mut left: Vec<String> = std::fs::read_dir(album::folder_of(&project))
            .unwrap()
            .map(|e| e.unwrap().file_name().to_string_lossy().into_owned())
            .collect();
        left.sort();
        let mut wanted = ["other.jpg".to_owned(), stays];
        wanted.sort();
        assert_eq!(left, wanted, "{goes} is gone, and no mark is left");
        std::fs::remove_dir_all(folder).unwrap();
    }
}

#[cfg(unix)]
#[test]
fn a_folder_that_stands_open_is_tightened_and_one_that_is_a_link_is_not_followed() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let (folder, camera, project) = photographed("open");
    let photos = album::folder_of(&project);
    std::fs::create_dir(&photos).unwrap();
    std::fs::set_permissions(&photos, std::fs::Permissions::from_mode(0o755)).unwrap();
    let older = photos.join("older.jpg");
    std::fs::write(&older, "a picture").unwrap();
    std::fs::set_permissions(&older, std::fs::Permissions::from_mode(0o644)).unwrap();
    let file = album::take_in(&project, &camera, "back", &[]).unwrap().file;
    let mode = |p: &Path| std::fs::metadata(p).unwrap().permissions().mode() & 0o777;
    let modes = [mode(&photos), mode(&older), mode(&photos.join(&file))];
    assert_eq!(modes, [0o700, 0o600, 0o600]);

    let linked = folder.join("linked.ron");
    symlink(&photos, album::folder_of(&linked)).unwrap();
    let before = std::fs::read_dir(&photos).unwrap().count();
    let fault = album::take_in(&linked, &camera, "back", &[]).unwrap_err();
    assert!(matches!(fault, AlbumError::FolderIsLink { .. }), "{fault}");
    assert!(album::kept(&linked, &file, 64).is_err());
    assert_eq!(std::fs::read_dir(&photos).unwrap().count(), before);
    std::fs::remove_dir_all(folder).unwrap();
}

#[test]
fn the_folder_of_a_project_with_the_longest_name_can_be_made() {
    let (folder, camera, _) = photographed("long");
    let project = folder.join(format!("{}.ron", "n".repeat(251)));
    let file = album::take_in(&project, &camera, "back", &[]).unwrap().file;
    assert!(album::path_of(&project, &file).unwrap().exists());
    std::fs::remove_dir_all(folder).unwrap();
}
