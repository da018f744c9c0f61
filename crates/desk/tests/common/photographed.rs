//! A desk with a saved project and a photo of its toile, and the marking of it.

#![allow(dead_code, clippy::unwrap_used, clippy::panic)] // each test uses a part; a helper may stop a test

use crate::common::{Driven, STAGE_KEYS, ctrl, press, type_place, wait_for, write};
use crate::worn::figure::{DISTANCE, LENS, Posed};
use egui::{Key, Pos2};
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::worn::LegSeen;
use hangtrue_desk::{Desk, sample};
use hangtrue_files::worn::as_png;
use hangtrue_geometry::Point;
use std::path::{Path, PathBuf};

/// A desk at the stage of the toile, with a project in a file and a photo beside it.
pub struct Photographed {
    pub h: Driven,
    /// The photo as a camera would have written it.
    pub camera: PathBuf,
    /// The project's file.
    pub project: PathBuf,
}

/// The noise of the photo, of full light.
pub const NOISE: f64 = 0.01;

/// Rows cut off above when the photo is taken in: 10 % of 1600.
pub const CUT: f64 = 160.0;

pub fn photographed(folder: &Path, posed: impl Fn(&Desk) -> Posed) -> Photographed {
    photographed_sized(folder, posed, [1440.0, 900.0], 1.0, NOISE)
}

pub fn photographed_sized(
    folder: &Path,
    posed: impl Fn(&Desk) -> Posed,
    size: [f32; 2],
    fine: f32,
    noise: f64,
) -> Photographed {
    let project = folder.join("maren.ron");
    let mut h = crate::common::desk_sized(sample::opening(), None, size, fine);
    press(&mut h, "Files");
    press(&mut h, "Save as…");
    type_place(&mut h, &project);
    let camera = folder.join("camera.png");
    let picture = posed(h.state()).photograph(noise);
    std::fs::write(&camera, as_png(&picture).unwrap()).unwrap();
    ctrl(&mut h, STAGE_KEYS[5]);
    Photographed { h, camera, project }
}

/// Takes the photo in with a tenth of it cut off above.
pub fn take_in(h: &mut Driven, camera: &Path) {
    press(h, "Add a photo…");
    type_place(h, camera);
    wait_for(h, "The photo as it would be kept");
    let slider = h.get_by_label("Cut off above, percent");
    slider.focus();
    h.run_ok();
    for _ in 0..10 {
        h.key_press(Key::ArrowRight);
        h.run_ok();
    }
    assert!(h.query_by_label("Cut off above: 10 %").is_some());
    press(h, "Keep it like this");
    wait_for(h, "1  Level");
    h.run_ok();
}

/// Waits until something is shown whose name contains these words.
pub fn wait_for_words(h: &mut Driven, words: &str) {
    for _ in 0..400 {
        h.step();
        if h.query_all_by_label_contains(words).next().is_some() {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(25));
    }
    panic!("“{words}” never came");
}

/// Where a place of the kept photo lies on the screen when all of it is shown: it
/// is fitted into the canvas with the margin of the table.
fn on_screen(h: &Driven, p: Point) -> Pos2 {
    const MARGIN: f64 = 26.0;
    let canvas = h.get_by_label_contains("Photo of the toile").rect();
    let (w, height) = (1200.0, 1600.0 - CUT);
    let wide = (f64::from(canvas.width()) - 2.0 * MARGIN) / w;
    let high = (f64::from(canvas.height()) - 2.0 * MARGIN) / height;
    let scale = wide.min(high);
    let c = canvas.center();
    Pos2::new(
        c.x + ((p.x - w / 2.0) * scale) as f32,
        c.y + ((p.y - CUT - height / 2.0) * scale) as f32,
    )
}

/// Clicks with the pointer on a place of the camera's photo.
pub fn click_photo(h: &mut Driven, p: Point) {
    let at = on_screen(h, p);
    h.hover_at(at);
    h.run_ok();
    // A press that lasts is no click, so nothing is waited for in between.
    h.drag_at(at);
    h.step();
    h.drop_at(at);
    h.run_ok();
}

/// Marks everything a person marks, by buttons, fields and clicks.
pub fn mark_all(h: &mut Driven, posed: &Posed) {
    wait_for_words(h, "Photo of the toile");
    press(h, "Level by a plumb line");
    for place in posed.plumb() {
        click_photo(h, place);
    }
    write(h, "Lens to the body's middle", &format!("{DISTANCE} mm"));
    write(h, "Lens above the floor", &format!("{LENS} mm"));
    press(h, "Mark the heels");
    click_photo(h, posed.heels());
    let lines = [
        ("hip balance", LegSeen::Both, "both legs"),
        ("thigh", LegSeen::Left, "left leg"),
        ("thigh", LegSeen::Right, "right leg"),
        ("knee", LegSeen::Left, "left leg"),
        ("knee", LegSeen::Right, "right leg"),
    ];
    for (name, leg, words) in lines {
        press(h, &format!("Trace {name}, {words}"));
        for place in posed.clicks(name, leg, &[0.0, 0.25, 0.5, 0.75, 1.0]) {
            click_photo(h, place);
        }
        press(h, &format!("Trace {name}, {words}"));
    }
}
