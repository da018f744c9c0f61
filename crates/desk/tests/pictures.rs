//! A picture of every stage, compared with the one kept in `tests/snapshots`.
//! `UPDATE_SNAPSHOTS=1 cargo test -p hangtrue-desk --test all pictures::` makes them
//! anew. `HANGTRUE_PICTURES=FOLDER` writes them large into a folder, to be looked
//! at.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common;
use crate::common::looked_at::{fineness, look};
use crate::common::photographed::{Photographed, mark_all, photographed_sized, take_in};
use crate::common::{
    Driven, choose, ctrl, desk_sized, keys, measure_thigh_droop, press, press_containing, wait_for,
};
use crate::worn::figure::Posed;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::{AllowanceSet, Closure, Replay, UsualLay, WaistFinish};
use hangtrue_cut::Cloth;
use hangtrue_desk::{Desk, sample};
use hangtrue_pattern::Leg;

fn desk() -> Driven {
    let fine = fineness();
    desk_sized(sample::opening(), None, [1440.0, 900.0], fine)
}

#[test]
fn body() {
    let mut h = desk();
    ctrl(&mut h, Key::Num1);
    look(&mut h, "1-body");
}

#[test]
fn block() {
    let mut h = desk();
    ctrl(&mut h, Key::Num2);
    look(&mut h, "2-block");
    press(&mut h, "Take the pencil");
    look(&mut h, "2-block-pencil");
}

#[test]
fn lines() {
    let mut h = desk();
    ctrl(&mut h, Key::Num3);
    look(&mut h, "3-lines");
    press(&mut h, "Set hip balance on the back");
    look(&mut h, "3-lines-set");
}

#[test]
fn as_sewn() {
    let mut h = desk();
    ctrl(&mut h, Key::Num4);
    look(&mut h, "4-as-sewn");
}

/// Drawn on the processor, the pictures are the same everywhere; a coarse mesh takes
/// less time and shows the same things.
#[test]
fn how_it_will_hang() {
    let desk = Desk::new(sample::document(), None, None).settling_coarsely();
    let mut h = common::desk_of(desk, [1440.0, 900.0], fineness());
    ctrl(&mut h, Key::Num4);
    press(&mut h, "Show how it will hang");
    press(&mut h, "Stop working it out");
    look(&mut h, "4-hang-body");
    press(&mut h, "Work out how it hangs");
    wait_for(&mut h, "Thigh, back");
    h.run_ok();
    look(&mut h, "4-hang");
}

/// A toile with so much left over under the seat, mm: 3/8 in.
fn posed(desk: &Desk) -> Posed {
    Posed::new(desk.replay().toile("now").unwrap(), 9.525)
}

#[test]
fn toile_photos() {
    let folder = common::folder("pictures-toile");
    let fine = fineness();
    // Without noise the kept pictures stay small.
    let Photographed { mut h, camera, .. } =
        photographed_sized(&folder, posed, [1440.0, 900.0], fine, 0.0);
    press(&mut h, "Add a photo…");
    common::type_place(&mut h, &camera);
    wait_for(&mut h, "The photo as it would be kept");
    h.run_ok();
    look(&mut h, "6-photo-take-in");
    press(&mut h, "Discard");
    take_in(&mut h, &camera);
    let at_hand = posed(h.state());
    mark_all(&mut h, &at_hand);
    h.run_ok();
    look(&mut h, "6-photo");
    press(&mut h, "Trace thigh, left leg");
    look(&mut h, "6-photo-tracing");
    press(&mut h, "Back to the photos");
    // The next toile, without the surplus.
    let next = Posed::new(h.state().replay().toile("now").unwrap(), 0.0);
    let picture = hangtrue_files::worn::as_png(&next.photograph(0.0)).unwrap();
    std::fs::write(&camera, picture).unwrap();
    take_in(&mut h, &camera);
    mark_all(&mut h, &next);
    press(&mut h, "Back to the photos");
    press(&mut h, "Lay them side by side");
    // The card grows when they are read: its bar would tell how far that has come.
    common::wait_till(&mut h, |h| {
        h.query_all_by_label("The marked photos are being read.").next().is_none()
    });
    h.run_ok();
    look(&mut h, "6-photo-pair");
    std::fs::remove_dir_all(folder).unwrap();
}

#[test]
fn toile() {
    let mut h = desk();
    ctrl(&mut h, Key::Num6);
    press(&mut h, "Measure this line");
    measure_thigh_droop(&mut h);
    look(&mut h, "6-toile");
    h.get_by_label("Try proposal 1 on the paper").scroll_to_me();
    h.run_ok();
    look(&mut h, "6-toile-reading");
}

fn pinching(h: &mut Driven) {
    ctrl(h, Key::Num7);
    press_containing(h, "Take up “seat pinch” on the back");
}

#[test]
fn pinch() {
    let mut h = desk();
    ctrl(&mut h, Key::Num7);
    look(&mut h, "7-pinch-begin");
    pinching(&mut h);
    look(&mut h, "7-pinch");
}

#[test]
fn correct() {
    let mut h = desk();
    ctrl(&mut h, Key::Num8);
    press_containing(&mut h, "Seat: full seat");
    look(&mut h, "8-correct-begin");
    press(&mut h, "Full seat");
    look(&mut h, "8-correct");
}

#[test]
fn style() {
    let mut h = desk();
    ctrl(&mut h, Key::Num8);
    press(&mut h, "Flared leg");
    look(&mut h, "8-style");
}

#[test]
fn left_and_right_apart() {
    let mut h = desk();
    ctrl(&mut h, Key::Num8);
    press(&mut h, "Part left and right…");
    ctrl(&mut h, Key::Enter);
    press_containing(&mut h, "Waist and hip: ");
    press(&mut h, "High hip");
    press(&mut h, "the left leg");
    look(&mut h, "8-correct-left");
}

#[test]
fn walk() {
    let mut h = desk();
    pinching(&mut h);
    ctrl(&mut h, Key::Enter);
    ctrl(&mut h, Key::Num9);
    look(&mut h, "9-walk");
}

#[test]
fn print() {
    let mut h = desk();
    ctrl(&mut h, Key::Num5);
    wait_for(&mut h, "Save the sheets as PDF…");
    h.run_ok();
    look(&mut h, "5-print");
}

#[test]
fn print_with_fly_and_pockets() {
    let mut h = desk();
    ctrl(&mut h, Key::Num5);
    choose(&mut h, "Allowances: ", "finished");
    choose(&mut h, "Opened by: ", "front fly");
    choose(&mut h, "Front pocket: ", "slant");
    choose(&mut h, "Back pocket: ", "patch");
    wait_for(&mut h, "8 patch pocket: cut 2 (pair) · cloth");
    h.run_ok();
    look(&mut h, "5-print-pockets");
}

#[test]
fn print_papers() {
    let mut h = desk();
    ctrl(&mut h, Key::Num5);
    choose(&mut h, "Front pocket: ", "slant");
    wait_for(&mut h, "Save the sewing sheet as PDF…");
    press_containing(&mut h, " steps");
    h.get_by_label("Save the handout as PDF…").scroll_to_me();
    h.run_ok();
    look(&mut h, "5-print-papers");
}

/// The sample with a fly and a band and a lay that is found alike everywhere: a search by the
/// desk ends when its time is over.
fn laid_out() -> hangtrue_adjust::Document {
    let mut document = sample::opening();
    document.cutting.set = Some(AllowanceSet::Finished);
    document.cutting.open_by(Closure::Fly { over: Leg::Left });
    let width = UsualLay::of(document.unit).cloth;
    document.cutting.waist = WaistFinish::choices(document.cutting.closure, document.unit)[1].0;
    let replay = Replay::new(document.clone());
    let set = hangtrue_cut::pieces_to_cut(replay.current().unwrap(), &document).unwrap();
    let mut cloth = UsualLay::of(document.unit).lay(width);
    let lay = hangtrue_lay::kept_lay(&set, Cloth::Main, &cloth).unwrap();
    let effort = hangtrue_lay::Effort { seed: 1, rounds: 60 };
    cloth.pieces = hangtrue_lay::find(lay.bed, lay.parts, effort, &mut |_| true).unwrap().to_keep();
    hangtrue_lay::choose(&mut document, Cloth::Main, cloth);
    document
}

#[test]
fn pieces_on_the_cloth() {
    let mut h = desk_sized(laid_out(), None, [1440.0, 900.0], fineness());
    ctrl(&mut h, Key::Num5);
    press(&mut h, "Lay the pieces on cloth");
    h.run_ok();
    press_containing(&mut h, "Take back 1 in hand");
    look(&mut h, "5-lay");
}

#[test]
fn class_from_a_list() {
    let mut h = desk();
    press(&mut h, "Files");
    press_containing(&mut h, "Print a class from a list…");
    common::write(&mut h, "The class list", "/home/anna/class 7.csv");
    look(&mut h, "class");
}

#[test]
fn evening() {
    let mut h = desk();
    ctrl(&mut h, Key::L);
    pinching(&mut h);
    look(&mut h, "evening");
}

#[test]
fn letters_of_200_percent() {
    let mut h = desk();
    for _ in 0..10 {
        keys(&mut h, Modifiers::COMMAND, Key::Plus);
    }
    pinching(&mut h);
    look(&mut h, "200-percent");
}

#[test]
fn welcome() {
    let mut h = common::desk_of(Desk::welcoming(None, None), [1440.0, 900.0], fineness());
    press(&mut h, "Centimetres");
    look(&mut h, "0-welcome");
    press(&mut h, "A new client");
    for (name, value) in
        [("Client’s name or code", "A7"), ("Waist girth", "78"), ("Hip girth", "102")]
    {
        common::write(&mut h, name, value);
    }
    common::write(&mut h, "File of the project", "A7.ron");
    h.get_by_role_and_label(egui::accesskit::Role::TextInput, "Total crotch length").focus();
    h.run_ok();
    look(&mut h, "0-new-client");
}

#[test]
fn a_small_screen_with_letters_of_200_percent() {
    let mut h = desk_sized(sample::opening(), None, [1024.0, 700.0], fineness());
    for _ in 0..10 {
        keys(&mut h, Modifiers::COMMAND, Key::Plus);
    }
    ctrl(&mut h, Key::Num3);
    look(&mut h, "200-percent-small");
}

/// The pinch begins with what was left over on the toile.
#[test]
fn pinch_from_the_toile() {
    // Nothing was pinned along its lines yet.
    let mut h = desk_sized(sample::document(), None, [1440.0, 900.0], fineness());
    ctrl(&mut h, Key::Num6);
    press(&mut h, "Measure this line");
    measure_thigh_droop(&mut h);
    ctrl(&mut h, Key::Num7);
    press_containing(&mut h, "From the toile: back thigh");
    look(&mut h, "7-pinch-from-toile");
}

/// The changes, compared, where they lie in place of the card.
#[test]
fn changes_of_a_small_screen_with_letters_of_200_percent() {
    let mut h = desk_sized(sample::opening(), None, [1024.0, 700.0], fineness());
    for _ in 0..10 {
        keys(&mut h, Modifiers::COMMAND, Key::Plus);
    }
    pinching(&mut h);
    ctrl(&mut h, Key::Enter);
    press(&mut h, "Show the changes");
    press(&mut h, "Lay over each other");
    look(&mut h, "200-percent-changes");
}
