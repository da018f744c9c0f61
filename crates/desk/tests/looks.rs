//! What can be seen and hit, measured on the rendered pictures and on the tree a screen
//! reader gets: W3C Web Content Accessibility Guidelines 2.2, level AA. 1.4.3: letters
//! stand out 4.5 to 1. 1.4.11: edges of fields 3 to 1. 2.5.8: targets are at least 24 by
//! 24 points. `cargo test -p hangtrue-desk --test all looks:: -- --nocapture` prints the least
//! that was measured.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common;
use crate::common::{Driven, STAGE_KEYS, ctrl, desk_sized, press, press_containing, settle};
use egui::accesskit::Role;
use egui::{Key, Rect};
use egui_kittest::kittest::{NodeT, Queryable};
use hangtrue_desk::sample;
use image::{Rgba, RgbaImage};
use std::collections::HashMap;

/// Pixels for one point: thin strokes of letters are then drawn whole somewhere.
const FINE: f32 = 2.0;

/// The contrast of two pixels.
fn contrast(Rgba([r, g, b, _]): Rgba<u8>, Rgba([red, green, blue, _]): Rgba<u8>) -> f64 {
    hangtrue_tests::contrast::contrast([r, g, b], [red, green, blue])
}

/// The pixels of a box, points of the screen, as far as they lie in the picture.
fn pixels(picture: &RgbaImage, rect: Rect) -> Vec<Rgba<u8>> {
    let to = |v: f32, most: u32| ((v * FINE).round().max(0.0) as u32).min(most);
    let (x0, x1) = (to(rect.left(), picture.width()), to(rect.right(), picture.width()));
    let (y0, y1) = (to(rect.top(), picture.height()), to(rect.bottom(), picture.height()));
    (y0..y1).flat_map(|y| (x0..x1).map(move |x| *picture.get_pixel(x, y))).collect()
}

/// The contrast between the ground of a box, its commonest colour, and what stands out
/// most from it.
fn stands_out(pixels: &[Rgba<u8>]) -> f64 {
    let mut counts: HashMap<[u8; 4], usize> = HashMap::new();
    for p in pixels {
        *counts.entry(p.0).or_default() += 1;
    }
    let Some((ground, _)) = counts.iter().max_by_key(|c| *c.1) else { return 1.0 };
    counts.keys().map(|c| contrast(Rgba(*c), Rgba(*ground))).fold(1.0, f64::max)
}

struct Thing {
    role: Role,
    words: String,
    rect: Rect,
    enabled: bool,
}

fn things(h: &Driven) -> Vec<Thing> {
    let all = h.query_all_by(|n| n.role() != Role::TextRun);
    let of = |n: egui_kittest::Node<'_>| {
        let node = n.accesskit_node();
        let words = node.label().or(node.value()).unwrap_or_default();
        let rect = node.bounding_box().map_or(Rect::NOTHING, |_| n.rect());
        Thing { role: node.role(), words, rect, enabled: !node.is_disabled() }
    };
    all.map(of).filter(|t| t.rect.is_positive()).collect()
}

/// The boxes in which something is scrolled or that lie over others hide a part of what
/// the tree tells: only what lies wholly on the screen, outside of them, is measured.
fn wholly_seen(screen: Rect, rect: Rect) -> bool {
    screen.shrink(2.0).contains_rect(rect)
}

fn measure(h: &mut Driven, at: &str, least: &mut (f64, f64)) -> Vec<String> {
    // The last lines of a card fade to say that it goes on: measured as they are scrolled to.
    h.ctx.all_styles_mut(|style| style.spacing.scroll.fade.strength = 0.0);
    settle(h);
    let picture = h.render().unwrap();
    let screen = h.ctx.content_rect();
    let things = things(h);
    // The card is scrolled between the row of stages and the bar below the table.
    let table = things.iter().find(|t| t.words.starts_with("Cutting table")).map(|t| t.rect);
    let low = table.map_or(screen.bottom(), |t| t.bottom() - 4.0);
    let mut faint = Vec::new();
    for t in things.iter().filter(|t| t.enabled && wholly_seen(screen, t.rect)) {
        let on_table = table.is_some_and(|table| table.intersects(t.rect));
        // What is scrolled out lies behind the bar at the bottom, as does the bar itself.
        let cut = t.rect.bottom() > low;
        if on_table || cut {
            continue;
        }
        if t.role == Role::Label && t.words.chars().any(char::is_alphabetic) {
            let found = stands_out(&pixels(&picture, t.rect));
            least.0 = least.0.min(found);
            if found < 4.5 {
                faint.push(format!("{at}: “{}” {found:.2}", t.words));
            }
        }
        if matches!(t.role, Role::TextInput | Role::MultilineTextInput | Role::ComboBox) {
            // Across the left edge, at half height.
            let edge = Rect::from_min_max(
                egui::pos2(t.rect.left() - 6.0, t.rect.center().y - 0.5),
                egui::pos2(t.rect.left() + 3.0, t.rect.center().y + 0.5),
            );
            let found = stands_out(&pixels(&picture, edge));
            least.1 = least.1.min(found);
            if found < 3.0 {
                faint.push(format!("{at}: the edge of “{}” {found:.2}", t.words));
            }
        }
    }
    faint
}

#[test]
fn letters_and_fields_stand_out_in_both_looks() {
    let mut faint = Vec::new();
    let mut least = (f64::MAX, f64::MAX);
    for dark in [false, true] {
        let mut h = desk_sized(sample::opening(), None, [1280.0, 760.0], FINE);
        if dark {
            ctrl(&mut h, Key::L);
        }
        for (index, stage) in STAGE_KEYS.into_iter().enumerate() {
            ctrl(&mut h, stage);
            let at = format!("stage {}, dark {dark}", index + 1);
            faint.extend(measure(&mut h, &at, &mut least));
        }
        ctrl(&mut h, Key::Num7);
        press_containing(&mut h, "Take up “seat pinch” on the back");
        faint.extend(measure(&mut h, &format!("a pinch, dark {dark}"), &mut least));
    }
    println!(
        "letters stand out from {:.2} to 1, edges of fields from {:.2} to 1",
        least.0, least.1
    );
    assert!(least.0 < f64::MAX && least.1 < f64::MAX, "something was measured");
    assert!(faint.is_empty(), "{}", faint.join("\n"));
}

/// A link within a sentence is as high as its line, which 2.5.8 allows.
#[test]
fn everything_can_be_hit() {
    const LEAST: f32 = 24.0;
    let mut h = desk_sized(sample::opening(), None, [1440.0, 900.0], 1.0);
    let (mut small, mut count) = (Vec::new(), 0);
    let mut look = |h: &Driven, at: &str| {
        for t in things(h) {
            let hit = matches!(
                t.role,
                Role::Button
                    | Role::CheckBox
                    | Role::RadioButton
                    | Role::ComboBox
                    | Role::TextInput
                    | Role::MultilineTextInput
                    | Role::Slider
                    | Role::Tab
            );
            if !hit || !t.enabled {
                continue;
            }
            count += 1;
            if t.rect.width().min(t.rect.height()) < LEAST - 0.01 {
                small.push(format!("{at}: {:?} “{}” {}", t.role, t.words, t.rect.size()));
            }
        }
    };
    for (index, stage) in STAGE_KEYS.into_iter().enumerate() {
        ctrl(&mut h, stage);
        look(&h, &format!("stage {}", index + 1));
        press(&mut h, "What is this?");
        look(&h, &format!("stage {}, what it is", index + 1));
        press(&mut h, "Close “what is this”");
    }
    ctrl(&mut h, Key::Num7);
    press_containing(&mut h, "Take up “seat pinch” on the back");
    look(&h, "a pinch");
    println!("{count} targets");
    assert!(count > 300, "{count} targets");
    assert!(small.is_empty(), "{}", small.join("\n"));
}

/// What has the focus looks other than what has not.
#[test]
fn the_focus_is_always_seen() {
    let mut h = desk_sized(sample::opening(), None, [1440.0, 900.0], 1.0);
    ctrl(&mut h, Key::Num1);
    let mut unseen = Vec::new();
    for _ in 0..30 {
        common::keys(&mut h, egui::Modifiers::NONE, Key::Tab);
        let all = h.query_all_by(|n| n.role() != Role::TextRun);
        let focused = all.into_iter().find(|n| n.accesskit_node().is_focused());
        let Some((words, rect)) =
            focused.map(|n| (n.accesskit_node().label().unwrap_or_default(), n.rect()))
        else {
            continue;
        };
        if !h.ctx.content_rect().contains_rect(rect) {
            continue;
        }
        let with = h.render().unwrap();
        h.ctx.memory_mut(|m| m.stop_text_input());
        let id = h.ctx.memory(|m| m.focused());
        if let Some(id) = id {
            h.ctx.memory_mut(|m| m.surrender_focus(id));
            h.step();
            let without = h.render().unwrap();
            let differ =
                with.pixels().zip(without.pixels()).filter(|(a, b)| contrast(**a, **b) >= 1.5);
            if differ.count() < 20 {
                unseen.push(words);
            }
            h.ctx.memory_mut(|m| m.request_focus(id));
            h.run_ok();
        }
    }
    assert!(unseen.is_empty(), "{unseen:?}");
}

/// A tip says one thing at a time: there is never a second, it lies on the screen, and
/// what it is of stays to be seen and pressed.
#[test]
fn a_tip_covers_neither_another_nor_what_it_is_of() {
    let mut tips = 0;
    for (size, large) in [([1440.0, 900.0], 0), ([1024.0, 700.0], 10)] {
        let mut h = desk_sized(sample::opening(), None, size, 1.0);
        for _ in 0..large {
            ctrl(&mut h, Key::Plus);
        }
        h.ctx.all_styles_mut(|style| {
            style.interaction.tooltip_delay = 0.0;
            style.interaction.show_tooltips_only_when_still = false;
        });
        for stage in STAGE_KEYS {
            ctrl(&mut h, stage);
            let screen = h.ctx.content_rect();
            let hit = [Role::Button, Role::CheckBox, Role::RadioButton, Role::TextInput];
            let mut all = things(&h);
            all.retain(|t| hit.contains(&t.role) && wholly_seen(screen, t.rect));
            for t in all {
                h.hover_at(t.rect.center());
                h.run_steps(3);
                let shown: Vec<Rect> = h.ctx.memory(|memory| {
                    let areas = memory.areas().visible_layer_ids();
                    let tips = areas.into_iter().filter(|a| a.order == egui::Order::Tooltip);
                    tips.filter_map(|a| memory.area_rect(a.id)).collect()
                });
                let at = format!("{stage:?} at {} %: “{}” {:?}", 100 + 10 * large, t.words, t.rect);
                assert!(shown.len() <= 1, "{at}: {} tips", shown.len());
                for tip in shown {
                    tips += 1;
                    assert!(screen.expand(1.0).contains_rect(tip), "{at}: {tip:?}");
                    assert!(!t.rect.shrink(1.0).intersects(tip), "{at} is covered by {tip:?}");
                }
            }
            h.hover_at(screen.left_top());
            h.run_steps(3);
        }
    }
    assert!(tips > 60, "{tips} tips");
}
