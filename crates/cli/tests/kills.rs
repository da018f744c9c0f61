//! Commands that are killed at any moment: the project is the old or the new one,
//! nothing half-written is left after it is next opened, and of a photo whose upper
//! part was hidden nothing of that part is left anywhere in the folder.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
#![cfg(unix)]

use crate::common::Folder;
use hangtrue_files::album;
use hangtrue_files::photo::Picture;
use hangtrue_files::project;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Kills tried; more by the environment, as `HANGTRUE_KILLS=1000`.
fn kills() -> usize {
    std::env::var("HANGTRUE_KILLS").ok().and_then(|n| n.parse().ok()).unwrap_or(24)
}

/// Rows of the made photo, and how many of them are red: the private part above.
const ROWS: usize = 400;
const PRIVATE: usize = 100;

/// A photo that is red above and blue below.
fn made_photo(at: &Path) {
    let mut picture = image::RgbImage::new(300, ROWS as u32);
    for (_, y, pixel) in picture.enumerate_pixels_mut() {
        *pixel = image::Rgb(if (y as usize) < PRIVATE { [200, 20, 20] } else { [20, 20, 200] });
    }
    picture.save(at).unwrap();
}

/// Whether the file is a picture that shows red. A file that is broken off is read as
/// far as it goes by its size alone: any unreadable picture counts as showing it.
fn shows_private(file: &Path) -> bool {
    match Picture::open(file) {
        Ok(picture) => picture.pixels().chunks(3).any(|p| p[0] > 120 && p[2] < 90),
        Err(_) => true,
    }
}

fn all_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).unwrap().flatten() {
        match entry.file_type().unwrap().is_dir() {
            true => files.extend(all_files(&entry.path())),
            false => files.push(entry.path()),
        }
    }
    files
}

/// Runs the command and kills it after so long; whether it had ended by itself.
fn killed_after(folder: &Folder, args: &[&str], after: Duration) -> bool {
    let mut child = Command::new(env!("CARGO_BIN_EXE_hangtrue"))
        .args(args)
        .current_dir(&folder.0)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    std::thread::sleep(after);
    let ended = child.try_wait().unwrap().is_some_and(|status| status.success());
    let _ = child.kill();
    child.wait().unwrap();
    ended
}

#[test]
fn a_command_killed_at_any_moment_leaves_the_old_project_or_the_new_and_nothing_beside() {
    let source = Folder::new("kills-source");
    made_photo(&source.path("camera.png"));
    let camera = source.path("camera.png").display().to_string();
    let folder = Folder::new("kills");
    let mut counted = [0usize; 3];
    for kill in 0..kills() {
        let _ = fs::remove_dir_all(&folder.0);
        fs::create_dir_all(&folder.0).unwrap();
        folder.begin("p.ron");
        folder.good(&["mark", "p.ron", "--usual"]);
        folder.good(&["photo", "p.ron", "add", &camera, "--view", "back"]);
        let photo = project::load(&folder.path("p.ron")).unwrap().journal.photos[0].file.clone();
        let verbs: [&[&str]; 8] = [
            &["photo", "p.ron", "hide", &photo, "--crop-above", "25%"],
            &["photo", "p.ron", "remove", &photo],
            &["photo", "p.ron", "add", &camera, "--view", "front", "--crop-above", "25%"],
            &["note", "p.ron", "--seen", "a note"],
            &["correct", "p.ron", "full seat", "--amount", "1/4"],
            &["pin", "p.ron", "--piece", "back", "--line", "thigh", "--at", "middle=3/8"],
            &["close", "p.ron", "--name", "one"],
            &[
                "mark",
                "p.ron",
                "--line",
                "calf",
                "--piece",
                "back",
                "--below",
                "22 below crotch point",
            ],
        ];
        // Half of the kills go to hiding, which has the most to lose.
        let verb = if kill % 2 == 0 { verbs[0] } else { verbs[kill / 2 % verbs.len()] };
        let before = folder.read("p.ron");
        // How long the verb takes here is learned by doing it on a copy.
        let whole = {
            let copy = Folder::new("kills-copy");
            fs::write(copy.path("p.ron"), &before).unwrap();
            let photos = album::folder_of(&copy.path("p.ron"));
            fs::create_dir(&photos).unwrap();
            fs::copy(folder.path("p.photos").join(&photo), photos.join(&photo)).unwrap();
            let begun = Instant::now();
            copy.good(verb);
            begun.elapsed()
        };
        // Spread over the verb by the golden ratio, so that no moment is left out.
        let share = (kill as f64 * 0.618_034).fract();
        let ended = killed_after(&folder, verb, whole.mul_f64(share * 1.1));
        folder.good(&["list", "p.ron"]);

        let document = project::load(&folder.path("p.ron")).unwrap();
        let is_old = folder.read("p.ron") == before;
        counted[usize::from(!is_old)] += 1;
        counted[2] += usize::from(ended);
        assert!(!(ended && is_old), "{verb:?} ended well and nothing is saved");
        let named: Vec<&str> = document.journal.photos.iter().map(|p| p.file.as_str()).collect();
        for file in all_files(&folder.0) {
            let name = file.file_name().unwrap().to_string_lossy().into_owned();
            assert!(
                name == "p.ron" || named.contains(&name.as_str()),
                "{verb:?} at {share:.3} left {}",
                file.display()
            );
        }
        for photo in &document.journal.photos {
            let file = album::path_of(&folder.path("p.ron"), &photo.file).unwrap();
            let hidden = photo.cut_above > 0;
            assert_eq!(hidden, !shows_private(&file), "{verb:?} at {share:.3}: both or neither");
        }
    }
    println!("{} kills: {} old, {} new, {} had ended", kills(), counted[0], counted[1], counted[2]);
}
