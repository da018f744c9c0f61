//! The pieces on the cloth at the desk: a lay found, a piece pulled by the pointer, moved
//! and turned by keys, each one step of undo, and the plan saved.

#![allow(clippy::unwrap_used, clippy::panic)] // helpers of tests may stop a test

use crate::common;
use crate::common::{Driven, ctrl, desk_with, folder, keys, press, settle, type_place, write};
use egui::{Key, Modifiers, Rect, pos2};
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::{Document, LaidPiece};
use hangtrue_cut::Cloth;
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
    pulled_by_hand(&mut h);
}

/// How many points a millimetre of the cloth is drawn, from the length of cloth that is told: the
/// room round the cloth is `ROUND` of `src/lay/table.rs`, which holds the view.
fn points_a_mm(canvas: Rect, (long, across): (f64, f64)) -> f64 {
    const ROUND: f32 = 46.0;
    let room = (canvas.width() - 2.0 * ROUND, canvas.height() - 2.4 * ROUND);
    (f64::from(room.0) / long.max(across)).min(f64::from(room.1) / across)
}

/// Each piece is pulled by its middle, and goes as far as the pointer did.
fn pulled_by_hand(h: &mut Driven) {
    let lay = pieces(h);
    let document = h.state().document().clone();
    let set = hangtrue_cut::pieces_to_cut(h.state().replay().current().unwrap(), &document);
    let cloth_kept = hangtrue_lay::chosen(&document, Cloth::Main);
    let kept = hangtrue_lay::kept_lay(&set.unwrap(), Cloth::Main, &cloth_kept).unwrap();
    let canvas = cloth(h);
    // What is said at the foot of the cloth is clear of it.
    let said = h.ctx.fonts_mut(|f| f.row_height(&egui::FontId::proportional(16.0))) + 18.0;
    let canvas = canvas.with_max_y(canvas.bottom() - said);
    let (long, across) = (kept.length(), kept.bed.across);
    let scale = points_a_mm(canvas, (long, across));
    let foot = f64::from(canvas.center().y) + across * scale / 2.0;
    for (index, _, place) in kept.laid() {
        let middle = kept.bounds(index).unwrap().center();
        let from = pos2(
            canvas.left() + 46.0 + (scale * middle.x) as f32,
            (foot - scale * middle.y) as f32,
        );
        let by = egui::vec2(37.0, if middle.y > across / 2.0 { 23.0 } else { -23.0 });
        common::drag(h, from, from + by);
        let pulled = pieces(h);
        let name = &kept.parts[index];
        let moved: Vec<_> = pulled.iter().zip(&lay).filter(|(a, b)| a != b).collect();
        let [(now, before)] = moved[..] else { panic!("{}: {} moved", name.piece, moved.len()) };
        assert!(now.piece == name.piece && now.copy == name.copy, "{now:?}");
        // Where it is let go, but for what the screen rounds.
        let meant = (place.x + f64::from(by.x) / scale, place.y - f64::from(by.y) / scale);
        assert!((now.x - meant.0).abs() < 1.0 / scale, "{now:?} {before:?} {meant:?}");
        assert!((now.y - meant.1).abs() < 1.0 / scale, "{now:?} {before:?} {meant:?}");
        settle(h);
        let is_told = there(h, "To put right") && there(h, "in hand (to put right");
        let wrong = {
            let mut there = kept.clone();
            there.places[index] = Some(hangtrue_lay::Place { x: now.x, y: now.y, ..place });
            !there.faults().is_empty()
        };
        assert_eq!(is_told, wrong, "what is wrong with it is told at once, and nothing else");
        ctrl(h, Key::Z);
        settle(h);
        assert_eq!(pieces(h), lay, "taken back");
        assert!(!there(h, "To put right"));
    }
}

/// The pair of percentages is each cloth's own, in the window too.
#[test]
fn each_cloth_has_its_own_shrinking() {
    let mut h = desk_with(sample::document(), None);
    ctrl(&mut h, Key::Num5);
    settle(&mut h);
    press(&mut h, "Lay the pieces on cloth");
    let plan = |h: &Driven| h.state().document().cutting.clone();
    write(&mut h, "Cut for shrinking in length", "2");
    assert_eq!(plan(&h).shrinkage.lengthwise, 2.0);
    common::press_containing(&mut h, "Back and front in lining too");
    press(&mut h, "Lay the lining");
    assert!(there(&h, "The lining is cut for cloth that shrinks 2 % in length"));
    press(&mut h, "Cut the lining for the same shrinking as the cloth");
    write(&mut h, "Cut for shrinking in length", "5");
    let own = plan(&h).own_shrinkage.lining.unwrap();
    assert_eq!((own.lengthwise, own.crosswise), (5.0, 0.0));
    assert_eq!(plan(&h).shrinkage.lengthwise, 2.0, "the cloth keeps its own");
    press(&mut h, "Cut the lining for the same shrinking as the cloth");
    assert_eq!(plan(&h).own_shrinkage.lining, None);
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
