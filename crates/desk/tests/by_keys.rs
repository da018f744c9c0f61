//! The desk by keys alone: what has the focus is in view, and no key reaches past a
//! question.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common::{
    Driven, ctrl, desk_of, desk_sized, desk_with, folder, keys, press, type_place,
};
use egui::accesskit::Role;
use egui::{Key, Modifiers, Rect};
use egui_kittest::kittest::{NodeT, Queryable};
use hangtrue_desk::{Desk, sample};
use hangtrue_files::project;

const TAB: Key = Key::Tab;

/// The panels at letters of 200 % on a small screen are a few lines high.
fn small() -> Driven {
    let mut h = desk_sized(sample::opening(), None, [1024.0, 700.0], 1.0);
    for _ in 0..10 {
        keys(&mut h, Modifiers::COMMAND, Key::Plus);
    }
    h
}

/// The name and place of what has the focus.
fn focused(h: &Driven) -> Option<(String, Rect)> {
    let at = h.ctx.memory(|m| m.focused())?;
    let place = h.ctx.read_response(at)?.rect;
    let nodes = h.query_all_by(|n| n.is_focused());
    let name = nodes.last().and_then(|n| n.accesskit_node().label()).unwrap_or_default();
    Some((name, place))
}

#[test]
fn the_next_tab_after_a_stages_key_goes_on_in_its_card_and_is_in_view() {
    let mut h = small();
    ctrl(&mut h, Key::Num2);
    assert_eq!(focused(&h).unwrap().0, "What is this?");
    // Below the head of the small screen, above its edge.
    let (top, bottom) = (120.0, 700.0);
    let mut seen = Vec::new();
    for _ in 0..14 {
        keys(&mut h, Modifiers::NONE, TAB);
        h.run_steps(30);
        let (name, place) = focused(&h).unwrap();
        assert!(
            place.top() >= top && place.bottom() <= bottom,
            "{name} has the focus at {place}, after {seen:?}"
        );
        seen.push(name);
    }
    assert!(seen.iter().any(|name| name == "Hip ease"), "{seen:?}");
    assert!(seen.iter().any(|name| name == "Back leg wider by"), "{seen:?}");
}

#[test]
fn page_keys_move_the_panel_and_the_list_of_keys() {
    let mut h = small();
    ctrl(&mut h, Key::Num2);
    let heading = |h: &Driven| h.get_by_label("Ease and widths").rect().top();
    let before = heading(&h);
    keys(&mut h, Modifiers::NONE, Key::PageDown);
    h.run_steps(30);
    assert!(heading(&h) < before - 100.0, "{} of {before}", heading(&h));
    keys(&mut h, Modifiers::NONE, Key::PageUp);
    h.run_steps(30);
    assert!((heading(&h) - before).abs() < 1.0);
    keys(&mut h, Modifiers::NONE, Key::F1);
    press(&mut h, "Keys");
    let last = |h: &Driven| h.get_by_label("Alt+Up and Alt+Down").rect().bottom();
    assert!(last(&h) > 700.0, "the list is longer than the screen");
    for _ in 0..40 {
        keys(&mut h, Modifiers::NONE, Key::PageDown);
    }
    h.run_steps(30);
    assert!(last(&h) < 700.0, "{}", last(&h));
}

#[test]
fn the_menu_of_files_keeps_to_a_low_screen() {
    let mut h = small();
    press(&mut h, "Files");
    let row = "Hand the project on without photos…";
    for _ in 0..30 {
        keys(&mut h, Modifiers::NONE, TAB);
        h.run_steps(10);
        if focused(&h).is_some_and(|(name, _)| name == row) {
            break;
        }
    }
    let (name, place) = focused(&h).unwrap();
    assert_eq!(name, row);
    assert!(place.bottom() <= 700.0, "{place}");
}

#[test]
fn what_comes_next_has_a_place_on_a_small_screen() {
    let mut h = small();
    ctrl(&mut h, Key::Num3);
    let next = h.query_all_by_role(Role::Button);
    let next: Vec<String> = next.filter_map(|n| n.accesskit_node().label()).collect();
    let next: Vec<&String> = next.iter().filter(|n| n.starts_with("Next: ")).collect();
    assert_eq!(next.len(), 1, "{next:?}");
    assert!(next[0].contains(": Take up"), "the reason is spoken: {next:?}");
    let name = next[0].clone();
    press(&mut h, &name);
    assert!(h.query_all_by_label_contains("Next, here").next().is_some());
}

#[test]
fn no_key_reaches_past_a_question() {
    let own = folder("by-keys-question");
    let mut h = desk_with(sample::document(), Some(own.clone()));
    ctrl(&mut h, Key::Num2);
    press(&mut h, "Files");
    press(&mut h, "Open…");
    ctrl(&mut h, Key::N);
    ctrl(&mut h, Key::Num5);
    assert!(h.query_by_label("Place of the file").is_some());
    assert!(h.query_by_label("Draft the block").is_none(), "the form of a new client is not open");
    press(&mut h, "Cancel");
    assert!(h.query_by_label("Ease and widths").is_some(), "the stage is the same");
    std::fs::remove_dir_all(&own).unwrap();
}

#[test]
fn a_place_is_whole_a_folder_is_no_file_and_what_was_typed_stays() {
    let folder = folder("by-keys-places");
    let own = folder.join("own");
    let file = folder.join("trousers.ron");
    let mut h = desk_with(sample::document(), Some(own));
    press(&mut h, "Files");
    press(&mut h, "Save as…");
    type_place(&mut h, &file);
    // A folder: the name is put behind it, and it is asked again.
    press(&mut h, "Files");
    press(&mut h, "Save as…");
    type_place(&mut h, &folder);
    assert!(h.query_by_label_contains("That is a folder").is_some());
    let typed = h.get_by_label("Place of the file").value().unwrap();
    assert_eq!(typed, file.display().to_string(), "the usual name stands behind it");
    press(&mut h, "Cancel");
    // A place that cannot be written stays to be mended.
    press(&mut h, "Files");
    press(&mut h, "Save as…");
    let nowhere = folder.join("nowhere").join("a.ron");
    type_place(&mut h, &nowhere);
    let typed = h.get_by_label("Place of the file").value().unwrap();
    assert_eq!(typed, nowhere.display().to_string());
    press(&mut h, "Cancel");
    // What begins with no folder lies beside the project.
    press(&mut h, "Files");
    press(&mut h, "Save as…");
    type_place(&mut h, std::path::Path::new("second"));
    let second = folder.join("second.ron");
    assert!(project::load(&second).is_ok());
    assert!(h.query_by_label_contains(&second.display().to_string()).is_some(), "told whole");
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn what_is_typed_after_tab_takes_the_place_of_the_number() {
    let mut h = desk_with(sample::bare(), None);
    ctrl(&mut h, Key::Num2);
    let ease = |h: &Driven| match &h.state().document().start {
        hangtrue_adjust::Start::Block { plan, .. } => plan.waist_ease,
        hangtrue_adjust::Start::Pieces(_) => f64::NAN,
    };
    for _ in 0..20 {
        keys(&mut h, Modifiers::NONE, TAB);
        if focused(&h).is_some_and(|(name, _)| name == "Waist ease") {
            break;
        }
    }
    assert_eq!(focused(&h).unwrap().0, "Waist ease");
    h.event(egui::Event::Text("2".into()));
    h.run_ok();
    keys(&mut h, Modifiers::NONE, Key::Enter);
    assert!((ease(&h) - 50.8).abs() < 1e-9, "{}", ease(&h));
}

#[test]
fn escape_takes_away_what_was_told() {
    let folder = folder("by-keys-told");
    let mut h = desk_with(sample::document(), None);
    press(&mut h, "Files");
    press(&mut h, "Save as…");
    type_place(&mut h, &folder.join("told.ron"));
    assert!(h.query_by_label("Done:").is_some());
    h.ctx.memory_mut(|m| m.stop_text_input());
    keys(&mut h, Modifiers::NONE, Key::Escape);
    assert!(h.query_by_label("Done:").is_none());
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_list_opens_at_what_is_chosen_and_enter_closes_it() {
    let mut h = desk_sized(sample::opening(), None, [1440.0, 900.0], 1.0);
    ctrl(&mut h, Key::Num6);
    h.get_by_label("Line measured: thigh").focus();
    h.run_ok();
    keys(&mut h, Modifiers::NONE, Key::Enter);
    h.run_steps(6);
    assert_eq!(focused(&h).unwrap().0, "thigh");
    keys(&mut h, Modifiers::NONE, Key::ArrowUp);
    keys(&mut h, Modifiers::NONE, Key::Enter);
    h.run_steps(6);
    assert!(h.query_by_label("waist").is_none(), "the list is still open");
    assert_eq!(focused(&h).unwrap().0, "Line measured: hip balance");
}

#[test]
fn closing_a_fitting_begins_in_its_name_and_is_told() {
    let mut h = small();
    press(&mut h, "Files");
    press(&mut h, "Close this fitting…");
    h.run_steps(30);
    let (name, place) = focused(&h).unwrap();
    assert_eq!(name, "Name of the fitting");
    assert!(place.top() > 120.0 && place.bottom() < 700.0, "out of sight at {place}");
    press(&mut h, "Close it");
    let told = h.query_by_label_contains("is closed. What you change now belongs to the next.");
    assert!(told.is_some());
    assert_eq!(h.state().document().rounds().count(), 2);
}

#[test]
fn escape_closes_a_message_and_leaves_the_cursor_in_its_field() {
    let mut h = desk_with(sample::document(), None);
    ctrl(&mut h, Key::Num1);
    press(&mut h, "Files");
    press(&mut h, "Save as…");
    type_place(&mut h, &folder("escape-keeps").join("p.ron"));
    h.get_by_role_and_label(Role::TextInput, "Hip girth").focus();
    h.run_ok();
    assert!(h.query_by_label("Done:").is_some());
    keys(&mut h, Modifiers::NONE, Key::Escape);
    h.run_steps(3);
    assert!(h.query_by_label("Done:").is_none());
    assert_eq!(focused(&h).unwrap().0, "Hip girth");
}

#[test]
fn what_was_looked_at_is_known_when_the_project_is_opened_again() {
    let own = folder("looked-at");
    let file = own.join("p.ron");
    let held = project::save_new(&file, &sample::document()).unwrap();
    let at = |own: &std::path::Path| {
        let (document, held) = project::open(&file).unwrap();
        desk_of(Desk::new(document, Some(held), Some(own.to_owned())), [1440.0, 900.0], 1.0)
    };
    drop(held);
    let mut h = at(&own.join("own"));
    let walk = |h: &Driven, word: &str| h.query_by_label(&format!("Walk seams, {word}")).is_some();
    assert!(walk(&h, "not looked at") || walk(&h, "next"));
    ctrl(&mut h, Key::Num9);
    press(&mut h, "I looked at these seams");
    assert!(walk(&h, "looked at"));
    drop(h);
    assert!(walk(&at(&own.join("own")), "looked at"), "it is looked at no more");
    assert!(!walk(&at(&own.join("other")), "looked at"), "another desk knows it too");
}
