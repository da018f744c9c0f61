//! What the tests of the desk share: a desk on a harness, and its keys.

#![allow(dead_code, clippy::unwrap_used, clippy::panic)] // each test uses a part; a helper may stop a test

pub mod looked_at;
pub mod photographed;
pub mod rasteriser;

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::Document;
use hangtrue_desk::Desk;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// A desk that is driven without a window.
pub type Driven = Harness<'static, Desk>;

/// The keys that, with Ctrl, turn to the stages in their order.
pub const STAGE_KEYS: [Key; 9] = [
    Key::Num1,
    Key::Num2,
    Key::Num3,
    Key::Num4,
    Key::Num5,
    Key::Num6,
    Key::Num7,
    Key::Num8,
    Key::Num9,
];

/// A desk with a project on a harness of the usual size.
pub fn desk_with(document: Document, own: Option<PathBuf>) -> Driven {
    desk_sized(document, own, [1440.0, 900.0], 1.0)
}

/// The same, of any size; `fine` is pixels for one point.
pub fn desk_sized(document: Document, own: Option<PathBuf>, size: [f32; 2], fine: f32) -> Driven {
    desk_of(Desk::new(document, None, own), size, fine)
}

/// A desk on a harness.
pub fn desk_of(desk: Desk, size: [f32; 2], fine: f32) -> Driven {
    // On another day the label on the sheets would be another.
    // What has no system behind it shows no window of one either: places are typed.
    let desk = desk.on_day("2026-11-26").without_dialogs();
    let mut h = Harness::builder()
        .with_size(size)
        .with_pixels_per_point(fine)
        .with_max_steps(60)
        .with_context_setup(Desk::prepare)
        .renderer(rasteriser::Rasteriser::new(fine < 1.0))
        .build_ui_state(|ui, desk: &mut Desk| desk.show(ui), desk);
    h.run_ok();
    h
}

/// Runs until the desk rests; what runs beside (a print being laid out) is waited for
/// by the clock, not by the count of pictures a fast machine draws meanwhile.
pub fn settle(h: &mut Driven) {
    for _ in 0..400 {
        if h.run_ok().is_some() {
            return;
        }
        std::thread::sleep(Duration::from_millis(25));
    }
    panic!("the desk never comes to rest");
}

/// An empty folder for one test.
pub fn folder(name: &str) -> PathBuf {
    let folder = std::env::temp_dir().join(format!("hangtrue-desk-{name}-{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// Presses what has that name, by the action a screen reader sends.
pub fn press(h: &mut Driven, name: &str) {
    h.get_by_label(name).click_accesskit();
    h.run_ok();
}

/// Presses what has a name that contains these words.
pub fn press_containing(h: &mut Driven, words: &str) {
    h.get_by_label_contains(words).click_accesskit();
    h.run_ok();
}

/// Chooses in the list whose name begins so.
pub fn choose(h: &mut Driven, list: &str, what: &str) {
    h.get_by_label_contains(list).scroll_to_me();
    h.run_ok();
    press_containing(h, list);
    let open = h.query_all_by_label(what).last();
    open.unwrap().click_accesskit();
    h.run_ok();
    // A list opened without a pointer stays open.
    keys(h, Modifiers::NONE, Key::Escape);
}

/// How far below its place at the side a line of the back hangs on a toile that fits,
/// at a share of its length from the inner end, mm.
pub fn at_home(h: &Driven, line: &str, share: f64) -> f64 {
    let toile = h.state().replay().toile(hangtrue_adjust::OPEN_ROUND).unwrap();
    let shapes = hangtrue_adjust::home_shapes(toile);
    let shape = shapes.iter().find(|s| s.line == line && s.piece == "back").unwrap();
    shape.below_side(share)
}

/// Measures the thigh line 3/8 in lower in the middle than on a toile that fits and the
/// hip balance line as on one, on both legs at the back, to a sixteenth of an inch; the
/// thigh line is asked for already.
pub fn measure_thigh_droop(h: &mut Driven) {
    choose(h, "Line measured", "hip balance");
    press(h, "Measure this line");
    measure_upon_home(h, |mm| format!("{} in", (mm * 16.0 / 25.4).round() / 16.0));
}

/// Writes down 3/8 in too low in the middle of the thigh line, nothing else off.
pub fn measure_upon_home(h: &mut Driven, said: impl Fn(f64) -> String) {
    for (line, inner, surplus) in [("thigh", "inseam", 9.525), ("hip balance", "centre", 0.0)] {
        for (place, share, off) in [(inner, 0.0, 0.0), ("middle", 0.5, surplus), ("side", 1.0, 0.0)]
        {
            let droop = said(at_home(h, line, share) + off);
            write(h, &format!("{line} line, back, both legs, {place}"), &droop);
        }
    }
}

/// Presses keys.
pub fn keys(h: &mut Driven, modifiers: Modifiers, key: Key) {
    h.key_press_modifiers(modifiers, key);
    h.run_ok();
}

/// Presses a key together with Ctrl.
pub fn ctrl(h: &mut Driven, key: Key) {
    keys(h, Modifiers::COMMAND, key);
}

/// Writes into the field of that name as from a keyboard.
pub fn write(h: &mut Driven, name: &str, text: &str) {
    write_only(h, name, text);
    keys(h, Modifiers::NONE, Key::Enter);
}

/// Clicks with the pointer on what has that name, scrolled into view first.
pub fn click(h: &mut Driven, name: &str) {
    h.get_by_label(name).scroll_to_me();
    h.run_ok();
    h.get_by_label(name).click();
    h.run_ok();
}

/// Pulls with the pointer from one place to another.
pub fn drag(h: &mut Driven, from: egui::Pos2, to: egui::Pos2) {
    h.hover_at(from);
    h.run_ok();
    h.drag_at(from);
    h.run_ok();
    for i in 1..=10 {
        h.hover_at(from + (to - from) * (i as f32 / 10.0));
        h.run_ok();
    }
    h.drop_at(to);
    h.run_ok();
}

/// Waits until something of that name is shown; for what is worked out beside.
pub fn wait_for(h: &mut Driven, name: &str) {
    for _ in 0..400 {
        h.step();
        if h.query_by_label(name).is_some() {
            return;
        }
        std::thread::sleep(Duration::from_millis(25));
    }
    panic!("“{name}” never came");
}

/// Waits until something holds that takes longer to work out: a minute at the most.
pub fn wait_till(h: &mut Driven, holds: impl Fn(&Driven) -> bool) {
    for _ in 0..2400 {
        h.step();
        if holds(h) {
            return;
        }
        std::thread::sleep(Duration::from_millis(25));
    }
    panic!("it never came to that");
}

/// Types the place of a file into the window that asks for it.
pub fn type_place(h: &mut Driven, place: &Path) {
    write_only(h, "Place of the file", &place.display().to_string());
    press(h, "Go on");
}

/// Writes into a field and leaves the cursor there.
pub fn write_only(h: &mut Driven, name: &str, text: &str) {
    let one_line = h.query_by_role_and_label(Role::TextInput, name);
    let field = one_line.unwrap_or_else(|| h.get_by_role_and_label(Role::MultilineTextInput, name));
    field.focus();
    h.run_ok();
    ctrl(h, Key::A);
    h.event(egui::Event::Text(text.into()));
    h.run_ok();
}
