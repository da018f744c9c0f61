//! A desk that is killed while someone works at it loses at most two seconds.
//! The desk runs in a process of its own, without a window, and is ended by the
//! signal nothing can catch.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use hangtrue_desk::{Desk, sample};
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const FOLDER: &str = "HANGTRUE_TEST_FOLDER";

fn harness(folder: &Path) -> Harness<'static, Desk> {
    let desk = Desk::new(sample::bare(), None, Some(folder.to_owned()));
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
