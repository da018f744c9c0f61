//! The pieces on the cloth at the desk: a lay found, a piece pulled by the pointer, moved
//! and turned by keys, each one step of undo, and the plan saved.

#![allow(clippy::unwrap_used, clippy::panic)] // helpers of tests may stop a test

use crate::common;
use crate::common::{Driven, ctrl, desk_with, folder, keys, press, settle, type_place, write};
use egui::{Key, Modifiers, Rect, pos2};
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::{Document, LaidPiece};
use hangtrue_desk::sample;

fn there(h: &Driven, words: &str) -> bool {
    h.query_all_by_label_contains(words).next().is_some()
}

/// Where the pieces of the cloth were put.
fn pieces(h: &Driven) -> Vec<LaidPiece> {
    let lays: &hangtrue_adjust::Lays = &h.state().document().lays;
    lays.cloth.as_ref().map(|cloth| cloth.pieces.clone()).unwrap_or_default()
}

fn back(h: &Driven) -> LaidPiece {
    pieces(h).into_iter().find(|p| p.piece == "back" && p.copy == 1).unwrap()
}

fn cloth(h: &Driven) -> Rect {
    h.get_by_label_contains("The pieces on the cloth").rect()
}

/// A desk with a lay that was looked for, for a second.
fn found(document: Document) -> Driven {
    let mut h = desk_with(document, None);
    ctrl(&mut h, Key::Num5);
    settle(&mut h);
    press(&mut h, "Lay the pieces on cloth");
    assert!(there(&h, "Nothing is laid yet"), "no length is told before there is one");
    write(&mut h, "Seconds to look", "1");
    press(&mut h, "Find a short lay");
    common::wait_till(&mut h, |h| pieces(h).len() == 4 && !there(h, "Stop looking"));
    settle(&mut h);
    h
}

#[test]
fn a_piece_is_pulled_moved_and_turned_and_each_is_taken_back() {
    let mut h = found(sample::document());
    assert!(!there(&h, "To put right"), "a lay that was found has no faults");
    let before = back(&h);
    common::press_containing(&mut h, "Take back 1 in hand");
    h.get_by_label_contains("The pieces on the cloth").focus();
    h.run_ok();
    keys(&mut h, Modifiers::NONE, Key::ArrowRight);
    assert!((back(&h).x - before.x - 10.0).abs() < 1e-9, "an arrow: 10 mm");
    keys(&mut h, Modifiers::SHIFT, Key::ArrowLeft);
    assert!((back(&h).x - before.x - 9.0).abs() < 1e-9, "with Shift: 1 mm");
    keys(&mut h, Modifiers::NONE, Key::T);
    assert_eq!(back(&h).turned, !before.turned);
    for _ in 0..4 {
        if back(&h) == before {
            break;
        }
        ctrl(&mut h, Key::Z);
    }
    assert_eq!(back(&h), before, "taken back");
    // Pulled right across the cloth it comes to lie over others or off the cloth.
    let canvas = cloth(&h);
    let lay = pieces(&h);
    let drawn_in = canvas.shrink(46.0);
    let from = drawn_in.left_center() + egui::vec2(0.2 * drawn_in.width(), 0.0);
    let mut pulled = None;
    for at in [0.2, 0.35, 0.5, 0.65, 0.8] {
        let from = pos2(from.x, drawn_in.top() + at * drawn_in.height());
        let to = pos2(from.x + 40.0, if at < 0.5 { canvas.bottom() } else { canvas.top() });
        common::drag(&mut h, from, to);
        if pieces(&h) != lay {
            pulled = Some(pieces(&h));
            break;
        }
    }
    let pulled = pulled.unwrap_or_else(|| panic!("nothing was pulled"));
    let moved = pulled.iter().zip(&lay).filter(|(a, b)| a != b).count();
    assert_eq!(moved, 1, "one piece is pulled");
    settle(&mut h);
    assert!(there(&h, "To put right"), "and what is wrong with it is told at once");
    assert!(there(&h, "in hand (to put right"), "by its name in the list too");
    ctrl(&mut h, Key::Z);
    assert_eq!(pieces(&h), lay);
    assert!(!there(&h, "To put right"));
}

#[test]
fn the_plan_is_saved_small_and_at_full_size() {
    let mut h = found(sample::document());
    let within = folder("lay");
    press(&mut h, "Save the plan as PDF…");
    type_place(&mut h, &within.join("plan.pdf"));
    settle(&mut h);
    let bytes = std::fs::read(within.join("plan.pdf")).unwrap();
    assert!(bytes.starts_with(b"%PDF"));
    press(&mut h, "Full size as DXF");
    press(&mut h, "Save it at full size…");
    type_place(&mut h, &within.join("plan.dxf"));
    settle(&mut h);
    let text = std::fs::read_to_string(within.join("plan.dxf")).unwrap();
    assert!(text.contains("SECTION") && text.contains("back"), "the pieces by name");
    press(&mut h, "Back to the sheets");
    assert!(there(&h, "Cutting table") || there(&h, "Save the sheets as PDF…"));
}
