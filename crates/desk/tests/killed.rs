//! A desk that is killed while someone works at it loses at most two seconds.
//! The desk runs in a process of its own, without a window, and is ended by the
//! signal nothing can catch.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use hangtrue_desk::{Desk, sample};
use hangtrue_files::{album, project};
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const FOLDER: &str = "HANGTRUE_TEST_FOLDER";

/// Desks killed; more by the environment, as `HANGTRUE_KILLS=1000`.
fn kills() -> usize {
    std::env::var("HANGTRUE_KILLS").ok().and_then(|n| n.parse().ok()).unwrap_or(8)
}

fn harness(folder: &Path) -> Harness<'static, Desk> {
    let desk = Desk::new(sample::bare(), None, Some(folder.to_owned())).without_dialogs();
    Harness::builder()
        .with_size([1200.0, 800.0])
        .with_max_steps(60)
        .with_context_setup(Desk::prepare)
        .build_ui_state(|ui, desk: &mut Desk| desk.show(ui), desk)
}

/// The desk that will be killed: it writes one letter after the other into the
/// title and tells each.
#[test]
#[ignore = "run by the test below as a process of its own"]
fn someone_works_until_killed() {
    let folder = PathBuf::from(std::env::var_os(FOLDER).expect("the folder is named"));
    let mut h = harness(&folder);
    h.run_ok();
    h.key_press_modifiers(Modifiers::COMMAND, Key::Num1);
    h.run_ok();
    h.get_by_role_and_label(Role::TextInput, "Title").focus();
    h.run_ok();
    h.key_press(Key::End);
    h.run_ok();
    for i in 0.. {
        h.event(egui::Event::Text(format!(" {i}")));
        h.run_ok();
        println!("typed {i}");
        std::thread::sleep(Duration::from_millis(40));
    }
}

#[test]
fn at_most_two_seconds_are_lost_and_the_rest_is_offered_again() {
    let folder = std::env::temp_dir().join(format!("hangtrue-killed-{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["--ignored", "--exact", "--nocapture", "someone_works_until_killed"])
        .env(FOLDER, &folder)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let lines = BufReader::new(child.stdout.take().unwrap()).lines();
    let mut typed: Vec<(Instant, u32)> = Vec::new();
    for line in lines.map_while(Result::ok) {
        if let Some(n) = line.strip_prefix("typed ").and_then(|n| n.trim().parse().ok()) {
            typed.push((Instant::now(), n));
        }
        if typed.first().is_some_and(|first| first.0.elapsed() > Duration::from_secs(4)) {
            break;
        }
    }
    // On Unix this is SIGKILL.
    child.kill().unwrap();
    let killed = Instant::now();
    child.wait().unwrap();

    let mut h = harness(&folder);
    h.run_ok();
    assert!(h.query_by_label("Recover what was not saved").is_some());
    h.get_by_label("Recover it").click_accesskit();
    h.run_ok();
    let title = h.state().document().title.clone();
    let last: u32 = title.rsplit(' ').next().unwrap().parse().unwrap();
    // What was typed next is the first thing lost.
    let lost = typed.iter().find(|t| t.1 > last).map_or(Duration::ZERO, |t| killed - t.0);
    println!("typed {}, recovered {last}, lost {lost:?}", typed.last().unwrap().1);
    assert!(last > 0 && lost < Duration::from_secs(2), "lost {lost:?}");
    assert!(h.state().is_unsaved(), "recovered work is in no file yet");
    std::fs::remove_dir_all(&folder).unwrap();
}

/// Presses what has that name.
fn press(h: &mut Harness<'static, Desk>, name: &str) {
    h.get_by_label(name).click_accesskit();
    h.run_ok();
}

/// The desk that will be killed at any moment: it types, saves, takes photos in, throws
/// them away and saves again, without end.
#[test]
#[ignore = "run by the test below as a process of its own"]
fn someone_saves_until_killed() {
    let folder = PathBuf::from(std::env::var_os(FOLDER).expect("the folder is named"));
    let (document, held) = project::open(&folder.join("p.ron")).unwrap();
    let desk = Desk::new(document, Some(held), Some(folder.join("own"))).without_dialogs();
    let mut h = Harness::builder()
        .with_size([1200.0, 800.0])
        .with_max_steps(60)
        .with_context_setup(Desk::prepare)
        .build_ui_state(|ui, desk: &mut Desk| desk.show(ui), desk);
    h.run_ok();
    if h.query_by_label("Throw it away").is_some() {
        press(&mut h, "Throw it away");
    }
    println!("ready");
    for i in 0.. {
        h.key_press_modifiers(Modifiers::COMMAND, Key::Num1);
        h.run_ok();
        h.get_by_role_and_label(Role::TextInput, "Title").focus();
        h.run_ok();
        h.event(egui::Event::Text(format!("{}", i % 10)));
        h.run_ok();
        if i % 2 == 0 {
            take_a_photo_in(&mut h, &folder.join("camera.png"));
        }
        // Unsaved work is kept after a while.
        if i % 3 == 0 {
            std::thread::sleep(Duration::from_millis(650));
            h.run_ok();
        }
        h.key_press_modifiers(Modifiers::COMMAND, Key::S);
        h.run_ok();
        if i % 4 == 1 {
            throw_a_photo_away(&mut h);
        }
    }
}

fn take_a_photo_in(h: &mut Harness<'static, Desk>, camera: &Path) {
    h.key_press_modifiers(Modifiers::COMMAND, Key::Num6);
    h.run_ok();
    if h.query_by_label("Back to the photos").is_some() {
        press(h, "Back to the photos");
    }
    press(h, "Add a photo…");
    h.event(egui::Event::Text(camera.display().to_string()));
    h.run_ok();
    press(h, "Go on");
    for _ in 0..400 {
        h.step();
        let keeps = h.query_by_label("Keep it like this").is_some();
        if keeps && h.query_by_label("The photo as it would be kept").is_some() {
            press(h, "Keep it like this");
        }
        if h.query_by_label("Back to the photos").is_some() {
            return press(h, "Back to the photos");
        }
        std::thread::sleep(Duration::from_millis(5));
    }
}

fn throw_a_photo_away(h: &mut Harness<'static, Desk>) {
    h.key_press_modifiers(Modifiers::COMMAND, Key::Num6);
    h.run_ok();
    let Some(file) = h.state().document().journal.photos.first().map(|p| p.file.clone()) else {
        return;
    };
    press(h, &format!("Throw {file} away…"));
    press(h, "Throw it away for good");
}

/// A project whose desk was killed at any moment is whole, and beside it lie the photos
/// it names, those of work that may be recovered, and nothing else.
#[test]
fn a_desk_killed_at_any_moment_leaves_whole_projects_and_nothing_beside() {
    let folder = std::env::temp_dir().join(format!("hangtrue-killed-any-{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    let (project, own) = (folder.join("p.ron"), folder.join("own"));
    project::save_new(&project, &sample::bare()).unwrap();
    image::RgbImage::new(300, 400).save(folder.join("camera.png")).unwrap();
    let (mut with_photos, mut recoverable) = (0, 0);
    for kill in 0..kills() {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--ignored", "--exact", "--nocapture", "someone_saves_until_killed"])
            .env(FOLDER, &folder)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        assert!(lines.any(|l| l.is_ok_and(|l| l.contains("ready"))), "the desk came up");
        std::thread::sleep(Duration::from_micros((kill as u64 * 1_104_729) % 2_600_000));
        child.kill().unwrap();
        child.wait().unwrap();
        // Starting a desk tidies up among the kept works, opening the project beside it.
        drop(Desk::new(sample::bare(), None, Some(own.clone())));
        let kept = std::fs::read_dir(own.join("not-saved")).into_iter().flatten().flatten();
        let kept: Vec<String> = kept.map(|e| std::fs::read_to_string(e.path()).unwrap()).collect();
        assert!(kept.len() <= 1, "kill {kill}: half-written work is left");
        let document = project::open(&project).unwrap().0;
        let named: Vec<String> = document.journal.photos.iter().map(|p| p.file.clone()).collect();
        with_photos += usize::from(!named.is_empty());
        recoverable += kept.len();
        for entry in std::fs::read_dir(album::folder_of(&project)).into_iter().flatten().flatten() {
            let name = entry.file_name().to_string_lossy().into_owned();
            let is_mark = name.starts_with(".hangtrue-doubt-");
            let is_wanted =
                named.contains(&name) || kept.iter().any(|work| work.contains(&name) || is_mark);
            assert!(is_wanted, "kill {kill}: {name} is left; {} works kept", kept.len());
        }
        for photo in named {
            assert!(album::path_of(&project, &photo).unwrap().exists(), "kill {kill}: {photo}");
        }
        let beside = std::fs::read_dir(&folder).unwrap().flatten();
        for name in beside.map(|e| e.file_name().to_string_lossy().into_owned()) {
            let known = ["p.ron", "own", "camera.png", "p.photos"];
            assert!(known.contains(&&*name), "kill {kill}: {name} is left");
        }
    }
    println!("{with_photos} projects had photos, {recoverable} works could be recovered");
    std::fs::remove_dir_all(&folder).unwrap();
}
