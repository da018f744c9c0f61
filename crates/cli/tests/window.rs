//! The real window on a screen of its own: it asks how to begin, tells the truth in
//! its title, rests when nobody works, and when it is killed at work the next
//! start offers all but the last two seconds.

#![allow(clippy::unwrap_used, clippy::panic)] // helpers of tests may stop a test

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// A screen without a monitor, ended with the test.
struct Screen {
    server: Child,
    display: String,
}

impl Drop for Screen {
    fn drop(&mut self) {
        let _ = self.server.kill();
        let _ = self.server.wait();
    }
}

/// The desk in a process of its own, ended with the test.
struct Window(Child);

impl Drop for Window {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

fn screen() -> Option<Screen> {
    let there = |program: &str| Command::new(program).arg("-version").output().is_ok();
    if !there("Xvfb") || !there("xdotool") {
        eprintln!("not tried: the real window needs Xvfb and xdotool, and they are not installed");
        return None;
    }
    let mut server = Command::new("Xvfb")
        .args(["-displayfd", "1", "-screen", "0", "1400x900x24", "-nolisten", "tcp", "-noreset"])
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut number = String::new();
    BufReader::new(server.stdout.take().unwrap()).read_line(&mut number).unwrap();
    assert!(!number.trim().is_empty(), "Xvfb gave no screen");
    Some(Screen { server, display: format!(":{}", number.trim()) })
}

impl Screen {
    /// Does something with the keyboard or asks about a window.
    fn xdotool(&self, args: &[&str]) -> String {
        let output = Command::new("xdotool").args(args).env("DISPLAY", &self.display).output();
        String::from_utf8(output.unwrap().stdout).unwrap().trim().to_owned()
    }

    fn open(&self, own: &Path) -> Window {
        self.open_on(own, None)
    }

    fn open_on(&self, own: &Path, project: Option<&Path>) -> Window {
        let desk = Command::new(env!("CARGO_BIN_EXE_hangtrue"))
            .args(project)
            .env("DISPLAY", &self.display)
            .env_remove("WAYLAND_DISPLAY")
            .env_remove("WAYLAND_SOCKET")
            .env("LIBGL_ALWAYS_SOFTWARE", "1")
            .env("XDG_DATA_HOME", own)
            .spawn()
            .unwrap();
        Window(desk)
    }

    /// The desk's window, when it is up, with the keyboard on it.
    fn wait_for_window(&self) -> String {
        for _ in 0..240 {
            let found = self.xdotool(&["search", "--onlyvisible", "--name", "· Hangtrue$"]);
            if let Some(window) = found.lines().next() {
                self.xdotool(&["windowfocus", "--sync", window]);
                return window.to_owned();
            }
            std::thread::sleep(Duration::from_millis(250));
        }
        panic!("no window came up in a minute");
    }

    fn title(&self, window: &str) -> String {
        self.xdotool(&["getwindowname", window])
    }

    fn wait_for_title(&self, window: &str, right: impl Fn(&str) -> bool, tenths: u32) -> bool {
        for _ in 0..tenths {
            if right(&self.title(window)) {
                return true;
            }
            std::thread::sleep(Duration::from_millis(100));
        }
        false
    }
}

/// Ticks of the clock a process has spent on a processor: fields 14 and 15 of
/// `stat` (proc(5)), hundredths of a second on Linux.
fn ticks(process: u32) -> Option<u64> {
    let text = std::fs::read_to_string(format!("/proc/{process}/stat")).ok()?;
    let fields: Vec<&str> = text.rsplit_once(')')?.1.split_whitespace().collect();
    Some(fields.get(11)?.parse::<u64>().ok()? + fields.get(12)?.parse::<u64>().ok()?)
}

fn kept(own: &Path) -> Option<String> {
    let folder = std::fs::read_dir(own.join("hangtrue/not-saved")).ok()?;
    let file = folder.flatten().find(|e| e.path().extension().is_some_and(|e| e == "ron"))?;
    std::fs::read_to_string(file.path()).ok()
}

#[test]
fn the_window_rests_when_idle_and_a_kill_loses_less_than_two_seconds() {
    let Some(screen) = screen() else { return };
    let own = std::env::temp_dir().join(format!("hangtrue-window-{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&own);
    std::fs::create_dir_all(&own).unwrap();
    let own: PathBuf = own;

    let desk = screen.open(&own);
    let window = screen.wait_for_window();
    // Nothing was named, so it asks how to begin; the project it is asked for is open.
    assert!(screen.wait_for_title(&window, |t| t == "Welcome · Hangtrue", 20));
    drop(desk);
    let example = own.join("example.ron");
    hangtrue_files::project::save_new(&example, &hangtrue_desk::sample::opening()).unwrap();
    let mut desk = screen.open_on(&own, Some(&example));
    let window = screen.wait_for_window();
    let title = screen.title(&window);
    assert!(title.starts_with("Marsh walk trousers · Maren Oleander (invented)"), "{title}");
    assert!(title.contains("(example.ron)") && !title.contains("not saved"), "{title}");

    // Nobody works: the processor is left alone, as soon as the first picture is
    // drawn, which takes a slow machine a while.
    let idle = |_| {
        let before = ticks(desk.0.id())?;
        std::thread::sleep(Duration::from_secs(3));
        Some(ticks(desk.0.id())? - before)
    };
    let spent: Vec<u64> = (0..6).map_while(idle).take_while(|t| *t > 3).collect();
    println!("not at rest yet for {} times 3 s: {spent:?}", spent.len());
    assert!(spent.len() < 6, "it never rests: {spent:?} hundredths of a second in 3 s each");

    // Into the first field of the measures, under the heading of the card.
    screen.xdotool(&["key", "ctrl+1"]);
    let typed_into = ["245", "235", "255", "225", "265"].iter().any(|y| {
        screen.xdotool(&["mousemove", "1200", y, "click", "1"]);
        screen.xdotool(&["key", "End"]);
        screen.xdotool(&["type", "Z"]);
        screen.wait_for_title(&window, |t| t.contains("Z"), 20)
    });
    assert!(typed_into, "no field was typed into: {}", screen.title(&window));

    // Someone works, one letter after the other, until the power fails.
    // What counts is when the desk had it: its title shows each letter.
    let begun = Instant::now();
    let mut had: Vec<(usize, Instant)> = Vec::new();
    while begun.elapsed() < Duration::from_secs(6) {
        screen.xdotool(&["type", "Z"]);
        had.push((screen.title(&window).matches('Z').count(), Instant::now()));
        std::thread::sleep(Duration::from_millis(80));
    }
    // On Unix this is SIGKILL.
    desk.0.kill().unwrap();
    let killed = Instant::now();
    desk.0.wait().unwrap();
    let text = kept(&own).expect("the work was kept beside");
    let letters = text.matches('Z').count();
    let lost = had.iter().find(|h| h.0 > letters).map_or(Duration::ZERO, |h| killed - h.1);
    let most = had.iter().map(|h| h.0).max().unwrap_or_default();
    println!("had {most}, kept {letters}, lost {lost:?}");
    assert!(most > 1 && letters > 1 && lost < Duration::from_secs(2), "lost {lost:?}");

    // The next start offers it; the first button of the question takes it.
    let again = screen.open(&own);
    let window = screen.wait_for_window();
    std::thread::sleep(Duration::from_secs(1));
    screen.xdotool(&["key", "Tab"]);
    screen.xdotool(&["key", "Return"]);
    let right = |t: &str| t.matches('Z').count() == letters && t.contains("not saved");
    assert!(screen.wait_for_title(&window, right, 100), "{}", screen.title(&window));
    drop(again);
    std::fs::remove_dir_all(&own).unwrap();
}
