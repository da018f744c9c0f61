//! Bringing a drawing in and sending the pattern out, by names and keys: the
//! project is not touched until the maker accepts, and undo takes all of it back.

#![allow(clippy::unwrap_used, clippy::panic)] // helpers of tests may stop a test

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use hangtrue_adjust::Change;
use hangtrue_desk::{Desk, sample};
use hangtrue_files::exchange::{BringOptions, Kind, SendOptions, bring_file, svg_of};
use hangtrue_files::exports::EXPORTS;
use std::path::{Path, PathBuf};

fn folder(name: &str) -> PathBuf {
    let folder =
        std::env::temp_dir().join(format!("hangtrue-desk-exchange-{name}-{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

fn desk() -> Harness<'static, Desk> {
    let mut h = Harness::builder()
        .with_size([1440.0, 900.0])
        .with_max_steps(60)
        .with_context_setup(Desk::prepare)
        .build_ui_state(
            |ui, desk: &mut Desk| desk.show(ui),
            Desk::new(sample::document(), None, None).without_dialogs(),
        );
    h.run_ok();
    h
}

fn press(h: &mut Harness<'_, Desk>, name: &str) {
    h.get_by_label(name).click_accesskit();
    h.run_ok();
}

fn write(h: &mut Harness<'_, Desk>, name: &str, text: &str) {
    h.get_by_role_and_label(Role::TextInput, name).focus();
    h.run_ok();
    h.key_press_modifiers(Modifiers::COMMAND, Key::A);
    h.run_ok();
    h.event(egui::Event::Text(text.into()));
    h.run_ok();
}

fn wait_for(h: &mut Harness<'_, Desk>, words: &str) {
    for _ in 0..400 {
        h.step();
        if h.query_by_label_contains(words).is_some() {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(25));
    }
    panic!("“{words}” never came");
}

/// Opens the file by typing its place.
fn bring(h: &mut Harness<'_, Desk>, file: &Path) {
    press(h, "Files");
    press(h, "Bring in a drawing…");
    write(h, "Place of the file", &file.display().to_string());
    press(h, "Go on");
}

fn drawing(folder: &Path) -> PathBuf {
    let file = folder.join("from-a-friend.svg");
    let (text, _) = svg_of(&sample::pattern(), &SendOptions::default()).unwrap();
    std::fs::write(&file, text).unwrap();
    file
}

#[test]
fn a_drawing_is_looked_at_confirmed_and_brought_in_as_one_step() {
    let folder = folder("bring");
    let file = drawing(&folder);
    let mut h = desk();
    let before = h.state().document().clone();
    bring(&mut h, &file);
    wait_for(&mut h, "The pieces of the file");
    assert_eq!(h.state().document(), &before, "looking changes nothing");
    assert!(h.query_by_label("Not kept").is_some());
    let button = h.get_by_label("Bring the pieces in");
    assert!(button.accesskit_node().is_disabled(), "not before the scale is confirmed");
    press(&mut h, "I know this length, and it is right");
    press(&mut h, "Bring the pieces in");
    let after = h.state().document();
    assert_eq!(after.changes.len(), before.changes.len() + 1, "one change");
    let Change::BringIn(brought) = &after.changes.last().unwrap().change else {
        panic!("{after:?}")
    };
    assert_eq!(brought.pieces.len(), 2);
    assert!(h.state().replay().current().unwrap().piece("back 2").is_ok());
    h.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    h.run_ok();
    assert_eq!(h.state().document(), &before, "undo takes all of it back");
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_true_length_scales_everything_and_pieces_can_be_replaced() {
    let folder = folder("scale");
    let file = folder.join("half.svg");
    let (text, _) = svg_of(&sample::pattern(), &SendOptions::default()).unwrap();
    // The page says it is half as large as its view box.
    let root = text.find("<svg").unwrap();
    let half = |name: &str, text: String| {
        let at = root + text[root..].find(&format!("{name}=\"")).unwrap() + name.len() + 2;
        let end = at + text[at..].find("mm").unwrap();
        let size: f64 = text[at..end].parse().unwrap();
        format!("{}{}{}", &text[..at], size / 2.0, &text[end..])
    };
    std::fs::write(&file, half("height", half("width", text))).unwrap();
    let tallest = sample::pattern().pieces.iter().map(|p| p.bounds().height()).fold(0.0, f64::max);
    let mut h = desk();
    bring(&mut h, &file);
    wait_for(&mut h, "The pieces of the file");
    write(&mut h, "True length", &format!("{tallest} mm"));
    wait_for(&mut h, "everything was scaled by 2.0");
    press(&mut h, "Let the new ones take their place");
    press(&mut h, "I know this length, and it is right");
    press(&mut h, "Bring the pieces in");
    let pattern = h.state().replay().current().unwrap();
    assert_eq!(pattern.pieces.len(), 2);
    for piece in &sample::pattern().pieces {
        let again = pattern.piece(&piece.name).unwrap().bounds();
        assert!((again.height() - piece.bounds().height()).abs() < 0.02, "{again:?}");
    }
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_drawing_starts_a_new_project_and_a_broken_one_says_why() {
    let folder = folder("new");
    let mut h = desk();
    let broken = folder.join("broken.svg");
    std::fs::write(&broken, "<svg><path").unwrap();
    bring(&mut h, &broken);
    wait_for(&mut h, "Not possible like this");
    press(&mut h, "Discard");

    let unitless = folder.join("unitless.svg");
    std::fs::write(
        &unitless,
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 90 90'>\
         <rect id='patch' x='5' y='5' width='60' height='70'/></svg>",
    )
    .unwrap();
    bring(&mut h, &unitless);
    wait_for(&mut h, "What are the numbers of the file?");
    press(&mut h, "Centimetres");
    wait_for(&mut h, "The pieces of the file");
    press(&mut h, "I know this length, and it is right");
    press(&mut h, "Start a new project with them");
    assert_eq!(h.state().document().title, "unitless");
    assert!(h.state().is_unsaved());
    let piece = &h.state().replay().current().unwrap().pieces[0];
    assert!((piece.bounds().width() - 600.0).abs() < 1e-6);
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn the_pattern_is_sent_out_in_every_form() {
    let folder = folder("send");
    let mut h = desk();
    let before = h.state().document().clone();
    for export in EXPORTS {
        press(&mut h, "Files");
        press(&mut h, "Send the pattern out…");
        press(&mut h, export.name);
        press(&mut h, "Save it…");
        let place = folder.join(format!("{}.{}", export.word, export.ending));
        write(&mut h, "Place of the file", &place.display().to_string());
        press(&mut h, "Go on");
        let bytes = std::fs::read(&place).unwrap();
        assert!(bytes.starts_with(export.begins.as_bytes()), "{}", export.word);
        if Kind::of(&place).is_some() {
            let brought = bring_file(&place, &BringOptions::default()).unwrap();
            assert_eq!(brought.pattern.pieces.len(), 2, "{}", export.word);
        }
    }
    assert_eq!(h.state().document(), &before);
    std::fs::remove_dir_all(&folder).unwrap();
}
