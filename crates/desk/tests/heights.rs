//! How much of a panel is seen: in each room, on each screen and with letters of each size
//! ten lines of text or half of the window's height, whatever stands round it.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common::{
    Driven, STAGE_KEYS, ctrl, desk_of, desk_sized, folder, keys, press, press_containing,
    type_place, wait_for, write,
};
use egui::accesskit::Role;
use egui::{FontId, Key, Modifiers, Rect};
use egui_kittest::kittest::Queryable;
use hangtrue_desk::{Desk, sample};

/// The screens and sizes of letters looked at, percent; on the larger two the sizes at which
/// the row of stages folds, and the largest: all five were looked at there on 2026-11-28.
const SCREENS: [([f32; 2], &[u16]); 3] = [
    ([1024.0, 700.0], &[100, 130, 150, 160, 200]),
    ([1440.0, 900.0], &[150, 200]),
    ([1920.0, 1080.0], &[200]),
];

/// How high the panel is seen, points; where it is no panel, the list with what stands
/// below it.
fn height(h: &Driven) -> f32 {
    let high = |name: &'static str| {
        let parts = h.query_all_by_role_and_label(Role::Region, name);
        parts.map(|p| p.rect().height()).collect::<Vec<f32>>()
    };
    match high("Panel").as_slice() {
        [one] => *one,
        [] => high("List").iter().sum(),
        more => panic!("{} panels", more.len()),
    }
}

/// A line of text of this size, points.
fn line(h: &Driven, percent: u16) -> f32 {
    let font = FontId::proportional(16.0 * f32::from(percent) / 100.0);
    h.ctx.fonts_mut(|f| f.row_height(&font))
}

struct Looked {
    size: [f32; 2],
    percent: u16,
    least: f32,
    few: Vec<String>,
}

impl Looked {
    fn at(&mut self, h: &Driven, room: &str) {
        let high = height(h);
        let lines = high / line(h, self.percent);
        self.least = self.least.min(lines);
        if lines < 10.0 && high < 0.5 * self.size[1] {
            let (size, percent) = (self.size, self.percent);
            self.few.push(format!("{room} of {size:?} at {percent} %: {lines:.1} lines"));
        }
    }
}

fn larger(h: &mut Driven, percent: u16) {
    for _ in 0..(percent - 100) / 10 {
        keys(h, Modifiers::COMMAND, Key::Plus);
    }
}

/// Every room of the table, with a message told and without.
fn rooms(looked: &mut Looked) {
    let mut h = desk_sized(sample::opening(), None, looked.size, 1.0);
    larger(&mut h, looked.percent);
    for (index, stage) in STAGE_KEYS.into_iter().enumerate() {
        ctrl(&mut h, stage);
        looked.at(&h, &format!("stage {}", index + 1));
    }
    if h.query_by_label("Show the changes").is_some() {
        press(&mut h, "Show the changes");
        looked.at(&h, "the changes");
    }
    ctrl(&mut h, Key::Num3);
    press(&mut h, "Set hip balance on the back");
    looked.at(&h, "a line being set");
    write(&mut h, "Depth", "6 in");
    ctrl(&mut h, Key::Enter);
    assert!(h.query_by_label_contains("Done:").is_some());
    looked.at(&h, "a message");
    ctrl(&mut h, Key::Num4);
    press(&mut h, "Show how it will hang");
    press(&mut h, "Stop working it out");
    looked.at(&h, "how it will hang");
    press(&mut h, "Back to the cutting table");
    ctrl(&mut h, Key::Num7);
    press_containing(&mut h, "Take up “seat pinch” on the back");
    looked.at(&h, "a pinch");
    keys(&mut h, Modifiers::NONE, Key::Escape);
    ctrl(&mut h, Key::Num8);
    press(&mut h, "Part left and right…");
    // A change that is left is told at length.
    ctrl(&mut h, Key::Num5);
    assert!(h.query_by_label_contains("Not done:").is_some());
    looked.at(&h, "what was left is told");
    wait_for(&mut h, "Save the sheets as PDF…");
    press(&mut h, "Lay the pieces on cloth");
    looked.at(&h, "the lay");
}

/// The steps of a piece from a photo, in place of the table.
fn tracing(looked: &mut Looked, photo: &std::path::Path) {
    let mut h = desk_sized(sample::opening(), None, looked.size, 1.0);
    larger(&mut h, looked.percent);
    press(&mut h, "Files");
    press(&mut h, "Piece from a photo…");
    type_place(&mut h, photo);
    assert!(h.query_by_label("Leave the photo").is_some());
    looked.at(&h, "a piece from a photo");
}

#[test]
fn every_room_shows_ten_lines_or_half_of_the_height() {
    let folder = folder("heights");
    let photo = folder.join("card.png");
    image::save_buffer(&photo, &[200; 60 * 80 * 3], 60, 80, image::ColorType::Rgb8).unwrap();
    let mut few = Vec::new();
    for (size, letters) in SCREENS {
        for &percent in letters {
            let mut looked = Looked { size, percent, least: f32::INFINITY, few: Vec::new() };
            rooms(&mut looked);
            let mut h = desk_of(Desk::welcoming(None, None), size, 1.0);
            larger(&mut h, percent);
            looked.at(&h, "the welcome");
            press(&mut h, "A new client");
            looked.at(&h, "a new client");
            tracing(&mut looked, &photo);
            println!("{size:?} at {percent} %: {:.1} lines at the least", looked.least);
            assert!(looked.least > 3.0, "{} lines: nothing was measured", looked.least);
            few.extend(looked.few);
        }
    }
    std::fs::remove_dir_all(folder).unwrap();
    assert!(few.is_empty(), "{}", few.join("\n"));
}

/// On a low screen the row of stages is one list, which says where one is and how that
/// stands, and turns to any of them.
#[test]
fn on_a_low_screen_one_list_turns_to_the_stages() {
    let mut h = desk_sized(sample::opening(), None, [1024.0, 700.0], 1.0);
    assert_eq!(h.query_all_by_role(Role::Tab).count(), STAGE_KEYS.len());
    larger(&mut h, 200);
    assert_eq!(h.query_all_by_role(Role::Tab).count(), 0);
    ctrl(&mut h, Key::Num3);
    press(&mut h, "Stage: Lines, marked");
    h.run_steps(6);
    let screen = h.ctx.content_rect();
    for name in ["Body, ", "Walk seams, "] {
        let place = h.query_all_by_label_contains(name).last().unwrap().rect();
        assert!(screen.contains_rect(place), "{name} at {place}");
    }
    h.query_all_by_label_contains("Walk seams, ").last().unwrap().click_accesskit();
    h.run_ok();
    assert!(h.query_by_label_contains("Stage: Walk seams, ").is_some());
    assert!(h.query_by_label_contains("Slide one along the other").is_some());
}

/// Why something comes next is read on the screen, with letters of any size.
#[test]
fn why_something_is_next_is_read_at_200_percent() {
    let mut h = desk_sized(sample::opening(), None, [1024.0, 700.0], 1.0);
    larger(&mut h, 200);
    ctrl(&mut h, Key::Num3);
    let labels = h.query_all_by_role(Role::Label);
    let read: Vec<Rect> = labels
        .filter(|l| {
            use egui_kittest::kittest::NodeT;
            let words = l.accesskit_node().value().or(l.accesskit_node().label());
            words.is_some_and(|w| w.contains("Take up “seat pinch”"))
        })
        .map(|l| l.rect())
        .collect();
    assert_eq!(read.len(), 1, "{read:?}");
    assert!(h.ctx.content_rect().contains_rect(read[0]), "{read:?}");
}
