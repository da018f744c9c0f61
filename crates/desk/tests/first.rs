//! The first hour: from the first start to a new client's sheets, driven through the
//! names a screen reader says and counted in clicks.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common;
use crate::common::{Driven, ctrl, folder, keys, press, type_place, write, write_only};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::Start;
use hangtrue_desk::Desk;
use hangtrue_files::project;
use hangtrue_pattern::Measure;
use hangtrue_pattern::units::Unit;
use std::path::PathBuf;

fn welcomed(missing: Option<PathBuf>, own: Option<PathBuf>) -> Driven {
    common::desk_of(Desk::welcoming(missing, own), [1440.0, 900.0], 1.0)
}

/// An invented body, cm.
const BODY: [(&str, &str); 5] = [
    ("Waist girth", "78"),
    ("Hip girth", "102"),
    ("Waist height", "104"),
    ("Inside leg height", "78"),
    ("Total crotch length", "67"),
];

#[test]
fn a_new_client_is_begun_and_saved_where_asked() {
    let folder = folder("first-client");
    let place = folder.join("A7.ron");
    let mut h = welcomed(None, Some(folder.join("own")));
    assert_eq!(h.state().title(), "Welcome · Hangtrue");
    press(&mut h, "Centimetres");
    ctrl(&mut h, Key::N);
    write(&mut h, "Client’s name or code", "A7");
    for (name, value) in BODY {
        write(&mut h, name, value);
    }
    write(&mut h, "File of the project", &place.display().to_string());
    press(&mut h, "Draft the block");
    let document = project::load(&place).unwrap();
    assert_eq!(h.state().document(), &document);
    assert_eq!((document.client.as_str(), document.unit), ("A7", Unit::Cm));
    let Start::Block { measures, .. } = &document.start else { panic!("a block") };
    assert_eq!(measures.get(Measure::HipGirth), Some(1020.0));
    assert!(!h.state().is_unsaved());
    assert!(h.query_by_label("Block, on the table").is_some(), "the desk is at the block");
    assert_eq!(h.state().replay().failures().count(), 0);
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn what_is_missing_or_impossible_is_said_and_nothing_is_begun() {
    let folder = folder("first-fault");
    let mut h = welcomed(None, None);
    press(&mut h, "Millimetres");
    press(&mut h, "A new client");
    press(&mut h, "Draft the block");
    assert!(
        h.query_by_label_contains("Look at “Waist girth”: the waist girth is missing").is_some()
    );
    for (name, value) in BODY {
        write(&mut h, name, &format!("{value} cm"));
    }
    // Twice the body's height between waist and crotch does not fit in 30 cm.
    write(&mut h, "Total crotch length", "30 cm");
    press(&mut h, "Draft the block");
    assert!(h.query_all_by_label_contains("total crotch length of").count() >= 1);
    assert!(h.query_by_label("Draft the block").is_some(), "the form is still there");
    write(&mut h, "Total crotch length", "67 cm");
    // A file that is there is not written over.
    let there = folder.join("there.ron");
    std::fs::write(&there, "mine").unwrap();
    write(&mut h, "File of the project", &there.display().to_string());
    press(&mut h, "Draft the block");
    assert!(h.query_by_label_contains("there.ron").is_some());
    assert!(h.query_by_label("Draft the block").is_some());
    assert_eq!(std::fs::read_to_string(&there).unwrap(), "mine");
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_project_that_is_not_there_yet_is_begun_under_its_name() {
    let folder = folder("first-missing");
    let place = folder.join("new one.ron");
    let mut h = welcomed(Some(place.clone()), None);
    assert!(h.query_by_label_contains("is not there yet: begin it here").is_some());
    for (name, value) in BODY {
        write(&mut h, name, &format!("{value} cm"));
    }
    ctrl(&mut h, Key::Enter);
    assert_eq!(&project::load(&place).unwrap(), h.state().document());
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn the_example_is_looked_round_and_left_for_a_new_client() {
    let mut h = welcomed(None, None);
    // Keys of the table do nothing behind the welcome.
    ctrl(&mut h, Key::Z);
    press(&mut h, "Inches to 1/16");
    press(&mut h, "Look round the example");
    assert_eq!(h.state().document(), &hangtrue_desk::sample::opening());
    assert!(!h.state().is_unsaved());
    ctrl(&mut h, Key::N);
    press(&mut h, "Back to the table");
    ctrl(&mut h, Key::Num1);
    write_only(&mut h, "Title", "Other");
    ctrl(&mut h, Key::N);
    assert!(h.query_by_label("This work is not saved").is_some());
    press(&mut h, "Stay here");
    assert_eq!(h.state().document().title, "Other");
    ctrl(&mut h, Key::N);
    press(&mut h, "Give the changes up");
    assert!(h.query_by_label("Draft the block").is_some());
    keys(&mut h, Modifiers::NONE, Key::Tab);
}

#[test]
fn a_drawing_starts_a_project_of_its_own_and_never_goes_into_the_example() {
    let folder = folder("first-drawing");
    let drawing = folder.join("block.svg");
    let pattern = hangtrue_desk::sample::pattern();
    let options = hangtrue_files::exchange::SendOptions::default();
    let (sent, _) = hangtrue_files::exchange::svg_of(&pattern, &options).unwrap();
    std::fs::write(&drawing, sent).unwrap();
    let mut h = welcomed(None, None);
    press(&mut h, "In a file: a drawing…");
    type_place(&mut h, &drawing);
    common::wait_for(&mut h, "I know this length, and it is right");
    assert!(h.query_by_label("Bring the pieces in").is_none(), "there is no project yet");
    press(&mut h, "I know this length, and it is right");
    press(&mut h, "Start a new project with them");
    assert_eq!(h.state().document().title, "block");
    assert!(h.state().is_unsaved());
    std::fs::remove_dir_all(&folder).unwrap();
}

/// Counts what a person clicks: a button is one, a field to write in is one.
struct Counted {
    h: Driven,
    clicks: usize,
}

impl Counted {
    fn press(&mut self, name: &str) {
        press(&mut self.h, name);
        self.clicks += 1;
    }

    fn write(&mut self, name: &str, text: &str) {
        write(&mut self.h, name, text);
        self.clicks += 1;
    }
}

/// A measure is judged when its field is left, not letter by letter, and nothing moves when
/// a fault comes or goes: on the form of a new client and at Body, wide and narrow, with
/// letters of 100 and 200 %.
#[test]
fn a_measure_half_typed_is_not_judged_and_no_fault_moves_the_form() {
    for (size, larger) in [([1440.0, 900.0], 0), ([1024.0, 700.0], 10), ([760.0, 700.0], 0)] {
        let mut h = common::desk_of(Desk::welcoming(None, None), size, 1.0);
        for _ in 0..larger {
            ctrl(&mut h, Key::Plus);
        }
        press(&mut h, "Centimetres");
        press(&mut h, "A new client");
        judged_when_left(&mut h, &["Hip girth", "Waist height", "Total crotch length"]);
        let mut h = common::desk_sized(hangtrue_desk::sample::opening(), None, size, 1.0);
        for _ in 0..larger {
            ctrl(&mut h, Key::Plus);
        }
        ctrl(&mut h, Key::Num1);
        judged_when_left(&mut h, &["Hip girth", "Waist height", "Knee girth"]);
    }
}

/// Types a waist letter by letter, then one that cannot be, then words, and looks where
/// the other fields stand.
fn judged_when_left(h: &mut Driven, others: &[&str]) {
    // The middles of the fields: the one with the cursor has a stronger edge.
    let places = |h: &Driven| -> Vec<(f32, f32)> {
        let field = |name: &&str| h.get_by_role_and_label(Role::TextInput, name).rect().center();
        others.iter().map(field).map(|at| (at.x.round(), at.y.round())).collect()
    };
    let told = |h: &Driven| {
        h.query_by_label_contains("out of range").is_some()
            || h.query_by_label_contains("cannot be right").is_some()
    };
    h.get_by_role_and_label(Role::TextInput, "Waist girth").focus();
    h.run_ok();
    let before = places(h);
    for text in ["7", "78"] {
        common::write_only(h, "Waist girth", text);
        assert!(!told(h), "{text} is half typed");
        assert_eq!(places(h), before, "{text}");
    }
    common::write_only(h, "Waist girth", "7");
    h.get_by_role_and_label(Role::TextInput, others[0]).focus();
    h.run_ok();
    h.run_ok();
    assert!(told(h), "the field was left");
    let left = places(h);
    write(h, "Waist girth", "much");
    assert!(h.query_by_label_contains("“much” is not a length").is_some());
    assert_eq!(places(h), left, "words move nothing");
    for text in ["-78", "9999999", "1/2"] {
        write(h, "Waist girth", text);
        assert!(told(h), "{text}");
        assert_eq!(places(h), left, "{text}");
    }
    write(h, "Waist girth", "78,5 cm");
    assert!(!told(h), "a decimal comma is read");
    assert_eq!(places(h), left, "and the fault goes without moving anything");
}

/// The most clicks from the first start to a new client's sheets.
const MOST_CLICKS: usize = 25;

#[test]
fn from_the_first_start_to_the_sheets_of_a_new_client_in_few_clicks() {
    let folder = folder("first-whole");
    let mut way = Counted { h: welcomed(None, Some(folder.join("own"))), clicks: 0 };
    way.press("Centimetres");
    way.press("A new client");
    way.write("Client’s name or code", "A7");
    for (name, value) in BODY {
        way.write(name, value);
    }
    way.write("File of the project", &folder.join("A7.ron").display().to_string());
    way.press("Draft the block");
    way.press("Lines, next");
    way.press("Mark the usual lines");
    way.press("As sewn, next");
    way.press("Print, next");
    common::wait_for(&mut way.h, "Save the sheets as PDF…");
    way.press("Save the sheets as PDF…");
    // The usual place beside the project stands there already.
    let usual = folder.join("A7.pdf").display().to_string();
    assert_eq!(
        way.h.get_by_role_and_label(Role::TextInput, "Place of the file").value().as_deref(),
        Some(usual.as_str())
    );
    let pdf = folder.join("toile.pdf");
    way.write("Place of the file", &pdf.display().to_string());
    assert!(std::fs::read(&pdf).unwrap().starts_with(b"%PDF"));
    println!("clicks from the first start to the sheets: {}", way.clicks);
    assert!(way.clicks <= MOST_CLICKS, "{} clicks", way.clicks);

    // The project knows that it was printed, and what changed since.
    let Counted { mut h, .. } = way;
    assert!(h.query_by_label("Print, PDF saved").is_some());
    assert!(h.query_by_label("Toile, next").is_some());
    ctrl(&mut h, Key::S);
    assert!(project::load(&folder.join("A7.ron")).unwrap().printing.printed.is_some());
    ctrl(&mut h, Key::Num1);
    write(&mut h, "Waist girth", "80");
    assert!(h.query_by_label("Print, changed since").is_some());
    assert!(h.query_by_label("Toile, later").is_some(), "printing is never skipped");
    ctrl(&mut h, Key::Z);
    assert!(h.query_by_label("Print, PDF saved").is_some());
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn settings_of_a_print_are_kept_with_the_project() {
    let folder = folder("first-print");
    let place = folder.join("kept.ron");
    let mut document = hangtrue_desk::sample::bare();
    document.unit = Unit::Mm;
    let mut h = common::desk_with(document, None);
    ctrl(&mut h, Key::Num5);
    assert!(h.query_by_label("Paper: A4").is_some(), "metric");
    // What the sheets come to is worked out beside, and moves what stands below it.
    let worked_out = |h: &mut common::Driven| common::wait_for(h, "Save the sheets as PDF…");
    worked_out(&mut h);
    press(&mut h, "Add seam allowance");
    worked_out(&mut h);
    write(&mut h, "Allowance on seams", "12");
    worked_out(&mut h);
    common::choose(&mut h, "Paper: A4", "A3");
    assert!(h.query_by_label("Paper: A3").is_some());
    press(&mut h, "Files");
    press(&mut h, "Save as…");
    type_place(&mut h, &place);
    let kept = project::load(&place).unwrap().printing;
    assert_eq!(kept.paper, Some(hangtrue_adjust::PaperName::A3));
    assert_eq!((kept.with_allowance, kept.allowance, kept.hem), (true, Some(12.0), None));
    // Printing is remembered in the file at once when nothing else is unsaved.
    common::wait_for(&mut h, "Save the sheets as PDF…");
    press(&mut h, "Save the sheets as PDF…");
    type_place(&mut h, &folder.join("p.pdf"));
    assert!(!h.state().is_unsaved());
    assert!(project::load(&place).unwrap().printing.printed.is_some());
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_panel_opens_at_its_top() {
    let mut h = common::desk_sized(hangtrue_desk::sample::opening(), None, [1200.0, 600.0], 1.0);
    ctrl(&mut h, Key::Num1);
    h.get_by_role_and_label(egui::accesskit::Role::TextInput, "Outside ankle height")
        .scroll_to_me();
    h.run_ok();
    for (stage, first) in
        [(Key::Num2, "Waist ease"), (Key::Num5, "Edge left free"), (Key::Num3, "Depth")]
    {
        ctrl(&mut h, stage);
        if stage == Key::Num3 {
            // Far down in the list of lines, the last is set.
            h.get_by_label("Set hip on the front").scroll_to_me();
            h.run_ok();
            press(&mut h, "Set hip balance on the front");
        }
        let field = h.get_by_role_and_label(egui::accesskit::Role::TextInput, first).rect();
        let screen = h.ctx.content_rect();
        assert!(screen.contains_rect(field), "{first} at {field}");
        if stage == Key::Num2 {
            h.get_by_role_and_label(
                egui::accesskit::Role::TextInput,
                "Back’s share of the crotch width",
            )
            .scroll_to_me();
            h.run_ok();
        }
    }
}

#[test]
fn escape_in_an_open_list_closes_the_list_and_not_the_edit() {
    let mut h = common::desk_with(hangtrue_desk::sample::opening(), None);
    ctrl(&mut h, Key::Num3);
    press(&mut h, "Set hip balance on the back");
    assert!(h.query_by_label("Name of the line").is_some());
    common::click(&mut h, "Rule: Equally deep along two seams");
    assert!(h.query_by_label("Parallel with a seam").is_some(), "the list is open");
    keys(&mut h, Modifiers::NONE, Key::Escape);
    assert!(h.query_by_label("Parallel with a seam").is_none(), "the list is shut");
    assert!(h.query_by_label("Name of the line").is_some(), "the edit goes on");
    keys(&mut h, Modifiers::NONE, Key::Escape);
    assert!(h.query_by_label("Name of the line").is_none(), "now the edit is left");
}

#[test]
fn a_number_outside_its_limits_is_refused_beside_the_field() {
    let mut h = common::desk_with(hangtrue_desk::sample::opening(), None);
    ctrl(&mut h, Key::Num2);
    let before = h.state().document().clone();
    for typed in ["6", "120"] {
        write(&mut h, "Back’s share of the crotch width", typed);
        let words = format!("Not yet: {typed} % lies outside: write one from 64 % to 77 %.");
        assert!(h.query_by_label(&words).is_some(), "{typed}");
        assert_eq!(h.state().document(), &before);
    }
    write(&mut h, "Back’s share of the crotch width", "72");
    let Start::Block { plan, .. } = &h.state().document().start else { panic!("a block") };
    assert!((plan.back_share - 0.72).abs() < 1e-12);
}

/// The place on the screen of what has a name that begins so.
fn place_of(h: &Driven, words: &str) -> egui::Pos2 {
    h.get_by_label_contains(words).rect().center()
}

#[test]
fn a_corner_pulled_by_hand_stays_under_the_pointer() {
    let mut h = common::desk_with(hangtrue_desk::sample::bare(), None);
    ctrl(&mut h, Key::Num2);
    press(&mut h, "Take the pencil");
    let corner = "corner waist at side of the back";
    let from = place_of(&h, corner);
    h.hover_at(from);
    h.run_ok();
    h.drag_at(from);
    h.run_ok();
    let mut far = 0.0f32;
    for i in 1..=12 {
        let to = from + egui::vec2(-2.1, 1.7) * i as f32;
        h.hover_at(to);
        h.run_ok();
        // Snapping to the level of another corner moves it a little.
        far = far.max(place_of(&h, corner).distance(to));
    }
    println!("farthest from the pointer: {far} points");
    assert!(far < 9.0, "{far} points");
    h.drop_at(from + egui::vec2(-25.0, 20.0));
    h.run_ok();
}

#[test]
fn a_line_is_pulled_on_the_table_and_its_number_follows() {
    let mut document = hangtrue_desk::sample::document();
    document.unit = Unit::Mm;
    let mut h = common::desk_with(document, None);
    ctrl(&mut h, Key::Num3);
    let from = place_of(&h, "hip balance line on the back");
    let depth = |h: &Driven| {
        let pattern = h.state().replay().current().unwrap().clone();
        let line = pattern.line("back", "hip balance").unwrap().clone();
        hangtrue_adjust::pulled_length(&line.rule).unwrap()
    };
    let before = depth(&h);
    h.hover_at(from);
    h.run_ok();
    h.drag_at(from);
    h.run_ok();
    for i in 1..=10 {
        h.hover_at(from + egui::vec2(0.0, 3.0 * i as f32));
        h.run_ok();
    }
    let held = place_of(&h, "hip balance line on the back");
    h.drop_at(from + egui::vec2(0.0, 30.0));
    h.run_ok();
    assert!(held.distance(from + egui::vec2(0.0, 30.0)) < 4.0, "under the pointer: {held}");
    assert!(depth(&h) > before + 10.0, "{before} to {}", depth(&h));
    assert!((depth(&h) * 2.0).fract().abs() < 1e-9, "to half a mm: {}", depth(&h));
    // The number stands in the field beside, and is accepted like any other.
    assert!(h.query_by_label("Name of the line").is_some());
    ctrl(&mut h, Key::Enter);
    assert!(depth(&h) > before + 10.0);
}

#[test]
fn lines_of_one_name_are_set_together() {
    let mut document = hangtrue_desk::sample::document();
    document.unit = Unit::Mm;
    let mut h = common::desk_with(document, None);
    ctrl(&mut h, Key::Num3);
    let lengths = |h: &Driven, name: &str| -> Vec<f64> {
        let pattern = h.state().replay().current().unwrap().clone();
        let of = pattern.lines.iter().filter(|l| l.name == name);
        of.filter_map(|l| hangtrue_adjust::pulled_length(&l.rule)).collect()
    };
    let before = lengths(&h, "hip balance");
    write(&mut h, "hip balance, all together", "150");
    assert_eq!(lengths(&h, "hip balance"), [150.0, 150.0]);
    write(&mut h, "thigh, all together", "60");
    assert!(lengths(&h, "thigh").contains(&60.0));
    // The side seams still meet: the other piece's line starts where this one ends.
    let pattern = h.state().replay().current().unwrap().clone();
    let read = hangtrue_adjust::read_as_sewn(&pattern).unwrap();
    let thigh: Vec<_> =
        read.iter().filter(|r| r.line == "thigh" && r.join.contains("side")).collect();
    assert!(!thigh.is_empty() && thigh.iter().all(|r| r.step.abs() < 0.1), "{thigh:?}");
    ctrl(&mut h, Key::Z);
    ctrl(&mut h, Key::Z);
    assert_eq!(lengths(&h, "hip balance"), before);
}
