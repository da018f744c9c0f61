//! Letters of 200 % lose nothing: on every card each word and control lies within
//! its panel, and what is lower than the window is reached by scrolling.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common;
use crate::common::photographed::{Photographed, mark_all, photographed, take_in};
use crate::common::{
    Driven, STAGE_KEYS, ctrl, desk_sized, keys, measure_thigh_droop, press, press_containing,
    wait_for,
};
use crate::worn::figure::Posed;
use egui::accesskit::Role;
use egui::{Key, Modifiers, Rect};
use egui_kittest::kittest::{NodeT, Queryable};
use hangtrue_desk::{Desk, sample};

/// All things with a place that a screen reader knows.
fn places(h: &Driven) -> Vec<(String, Rect)> {
    // What is written into a field is scrolled in it.
    let all = h.query_all_by(|n| n.role() != Role::TextRun);
    let named = all.map(|n| {
        let words = n.accesskit_node().label().or(n.accesskit_node().value()).unwrap_or_default();
        // What has no place of its own is only a box for others.
        let rect = n.accesskit_node().bounding_box().map_or(Rect::NOTHING, |_| n.rect());
        (words, rect)
    });
    named.filter(|n| !n.0.is_empty() && n.1.is_positive()).collect()
}

fn check(h: &Driven, stage: &str) {
    let screen = h.ctx.content_rect();
    let places = places(h);
    let canvases =
        ["Cutting table", "Photo of the toile", "Before and after: ", "The toile on the body"];
    let is_canvas = |p: &&(String, Rect)| canvases.iter().any(|c| p.0.starts_with(c));
    let table = places.iter().find(is_canvas).unwrap().1;
    assert!(table.width() > 200.0 && table.height() > 200.0, "{stage}: the table is {table}");
    // The pieces on the table may lie outside of what is looked at.
    let on_table = |r: &Rect| table.expand(1.0).contains(r.center());
    let mut lost = Vec::new();
    for (words, rect) in places.iter().filter(|p| !on_table(&p.1)) {
        let in_list = rect.left() < table.left() - 60.0 && rect.center().y > table.top();
        let in_list = in_list && rect.center().y < table.bottom();
        let right = if in_list { table.left() } else { screen.right() };
        if rect.left() < -0.5 || rect.right() > right + 0.5 {
            lost.push(format!("“{words}” at {rect}, the edge is {right}"));
        }
    }
    assert!(lost.is_empty(), "{stage}:\n{}", lost.join("\n"));
}

/// `reading`: with the card of what droops may mean, which needs a wider panel.
fn all_stages(size: [f32; 2], reading: bool) {
    let mut h = desk_sized(sample::opening(), None, size, 1.0);
    for _ in 0..10 {
        keys(&mut h, Modifiers::COMMAND, Key::Plus);
    }
    for (index, stage) in STAGE_KEYS.into_iter().enumerate() {
        ctrl(&mut h, stage);
        if stage == Key::Num5 {
            wait_for(&mut h, "Save the sheets as PDF…");
            h.run_ok();
        }
        check(&h, &format!("stage {}", index + 1));
    }
    ctrl(&mut h, Key::Num2);
    press(&mut h, "Take the pencil");
    check(&h, "the pencil");
    ctrl(&mut h, Key::Num3);
    press(&mut h, "Set hip balance on the back");
    check(&h, "a line being set");
    ctrl(&mut h, Key::Num4);
    press(&mut h, "Show how it will hang");
    check(&h, "how it will hang");
    press(&mut h, "Stop working it out");
    press(&mut h, "Back to the cutting table");
    ctrl(&mut h, Key::Num6);
    press(&mut h, "Measure this line");
    check(&h, "how a line hangs");
    if reading {
        measure_thigh_droop(&mut h);
        assert!(h.query_by_label("Try proposal 1 on the paper").is_some());
        check(&h, "what that may mean");
    }
    ctrl(&mut h, Key::Num7);
    press_containing(&mut h, "Take up “seat pinch” on the back");
    for method in ["Top and scoop", "Slash and lap", "Even strip"] {
        press(&mut h, method);
        check(&h, method);
    }
    keys(&mut h, Modifiers::NONE, Key::Escape);
    ctrl(&mut h, Key::Num8);
    press_containing(&mut h, "Darts: ");
    check(&h, "the catalogue");
    press(&mut h, "Dart moved");
    check(&h, "a correction");
    keys(&mut h, Modifiers::NONE, Key::Escape);
    press(&mut h, "Part left and right…");
    check(&h, "parting");
    ctrl(&mut h, Key::Enter);
    press(&mut h, "Put left and right together…");
    check(&h, "joining");
    keys(&mut h, Modifiers::NONE, Key::Escape);
    // Where there is room for one of them, the list takes the place of the card.
    if h.query_by_label("Show the changes").is_some() {
        press(&mut h, "Show the changes");
    }
    press(&mut h, "Fitting closed: first toile");
    press(&mut h, "Write it anew");
    check(&h, "a closed round written anew");
}

#[test]
fn nothing_is_lost_at_200_percent() {
    all_stages([1440.0, 900.0], true);
}

#[test]
fn the_table_keeps_half_of_a_small_screen_at_200_percent() {
    let size = [1024.0, 700.0];
    all_stages(size, false);
    let mut h = desk_sized(sample::opening(), None, size, 1.0);
    for _ in 0..10 {
        keys(&mut h, Modifiers::COMMAND, Key::Plus);
    }
    for stage in STAGE_KEYS {
        ctrl(&mut h, stage);
        let table = h.get_by_label_contains("Cutting table").rect();
        // The tape measure at its left belongs to it.
        assert!(table.right() >= 0.5 * size[0], "{stage:?}: the table ends at {}", table.right());
        assert!(table.height() >= 200.0, "{stage:?}: the table is {table}");
    }
}

/// No word on the row of stages is wider than its place.
#[test]
fn the_names_of_the_stages_never_run_together() {
    let mut looked = 0;
    for size in [[1024.0, 700.0], [1440.0, 900.0], [1920.0, 1080.0]] {
        let mut h = desk_sized(sample::opening(), None, size, 1.0);
        for percent in (100..=200_u16).step_by(10) {
            h.run_ok();
            // On a low screen they are one list.
            if h.query_by_label_contains("Stage: ").is_some() {
                break;
            }
            looked += 1;
            let tabs: Vec<(String, Rect)> = h
                .query_all_by_role(egui::accesskit::Role::Tab)
                .map(|t| (t.accesskit_node().label().unwrap_or_default(), t.rect()))
                .collect();
            assert_eq!(tabs.len(), STAGE_KEYS.len());
            for (words, place) in &tabs {
                let name = words.split(',').next().unwrap().to_owned();
                let high = 16.0 * 1.06 * f32::from(percent) / 100.0;
                let font = egui::FontId::new(high, egui::FontFamily::Name("bold".into()));
                let wide = h
                    .ctx
                    .fonts_mut(|f| f.layout_no_wrap(name, font, egui::Color32::BLACK).size().x);
                assert!(wide < place.width() - 8.0, "{words} at {percent} %: {wide} in {place}");
            }
            for (i, a) in tabs.iter().enumerate() {
                for b in &tabs[i + 1..] {
                    assert!(!a.1.shrink(0.5).intersects(b.1), "{} over {}", a.0, b.0);
                }
            }
            keys(&mut h, Modifiers::COMMAND, Key::Plus);
        }
    }
    assert!(looked >= 18, "{looked} rows of stages");
}

#[test]
fn nothing_is_lost_at_200_percent_on_a_large_screen() {
    all_stages([1920.0, 1080.0], true);
}

/// The window of a photo about to be taken in lies within the screen, all of it.
fn check_window(h: &Driven) {
    let screen = h.ctx.content_rect();
    for name in ["The photo as it would be kept", "Keep it like this", "Discard"] {
        let rect = h.get_by_label(name).rect();
        assert!(screen.contains_rect(rect), "{name} at {rect}");
    }
}

#[test]
fn nothing_of_the_toile_is_lost_at_200_percent() {
    let folder = common::folder("letters-toile");
    let posed = |desk: &Desk| Posed::new(desk.replay().toile("now").unwrap(), 9.525);
    let Photographed { mut h, camera, .. } = photographed(&folder, posed);
    for _ in 0..10 {
        keys(&mut h, Modifiers::COMMAND, Key::Plus);
    }
    press(&mut h, "Add a photo…");
    common::type_place(&mut h, &camera);
    wait_for(&mut h, "The photo as it would be kept");
    check_window(&h);
    press(&mut h, "Blur a box");
    check_window(&h);
    press(&mut h, "Discard");
    take_in(&mut h, &camera);
    check(&h, "a photo with nothing marked");
    let at_hand = posed(h.state());
    mark_all(&mut h, &at_hand);
    check(&h, "a photo that was read");
    press(&mut h, "Trace thigh, left leg");
    check(&h, "a line being traced");
    press(&mut h, "Back to the photos");
    check(&h, "the photos");
    std::fs::remove_dir_all(folder).unwrap();
}
