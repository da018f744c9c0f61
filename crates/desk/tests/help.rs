//! Help that is more than keys: what each panel is, and the words of the trade. No word
//! of the trade is used as a term that the words list does not hold.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common;
use crate::common::{STAGE_KEYS, ctrl, desk_with, keys, press, write_only};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use hangtrue_adjust::glossary::{GLOSSARY, look_up};
use hangtrue_desk::{Desk, sample};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// All source files of the desk.
fn sources() -> Vec<(PathBuf, String)> {
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("src")];
    let mut found = Vec::new();
    while let Some(folder) = folders.pop() {
        for path in std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()) {
            if path.is_dir() {
                folders.push(path);
            } else {
                let text = std::fs::read_to_string(&path).unwrap();
                found.push((path, text));
            }
        }
    }
    found
}

/// The text in quotes that follows.
fn quoted(after: &str) -> Option<&str> {
    after.strip_prefix('"')?.split('"').next()
}

/// Every heading that stands in the source as it is shown.
fn headings() -> Vec<String> {
    let mut found = Vec::new();
    for (_, text) in sources() {
        for opening in ["heading(", "part(ui, ", "part(ui, &format!(", "bold("] {
            let after = text.split(opening).skip(1);
            found.extend(after.filter_map(quoted).map(str::to_owned));
        }
    }
    found
}

/// What each panel says it is, as it stands in the source.
fn abouts() -> Vec<String> {
    let text = sources().into_iter().find(|s| s.0.ends_with("about/mod.rs")).unwrap().1;
    let table = text.split_once("fn text_of").unwrap().1.split_once("\n}").unwrap().0;
    let texts = table.lines().filter_map(|line| quoted(line.trim_start()).map(str::to_owned));
    texts.collect()
}

/// The words of a text, in small letters.
fn words(text: &str) -> BTreeSet<String> {
    let parts = text.split(|c: char| !c.is_alphabetic());
    parts.filter(|w| w.len() > 1).map(str::to_lowercase).collect()
}

#[test]
fn every_word_of_the_trade_is_in_the_list() {
    let mut known: BTreeSet<String> =
        include_str!("everyday.txt").lines().map(str::to_owned).collect();
    for term in GLOSSARY {
        for word in words(term.word) {
            known.insert(format!("{word}s"));
            known.insert(format!("{word}es"));
            known.insert(format!("{word}d"));
            known.insert(word);
        }
    }
    let (headings, abouts) = (headings(), abouts());
    assert!(headings.len() > 50 && abouts.len() == 16, "{} {}", headings.len(), abouts.len());
    let mut strange = BTreeSet::new();
    for text in headings.iter().chain(&abouts) {
        strange.extend(words(text).into_iter().filter(|w| !known.contains(w)));
    }
    assert!(
        strange.is_empty(),
        "neither in the words list (crates/adjust/src/glossary.rs) nor everyday words (tests/everyday.txt): {strange:?}"
    );
}

#[test]
fn a_term_of_a_panel_is_a_word_of_the_list() {
    let mut count = 0;
    for about in abouts() {
        for term in about.split('[').skip(1).map(|t| t.split(']').next().unwrap()) {
            let wanted = term.to_lowercase();
            assert_eq!(look_up(&wanted).first().map(|t| t.word), Some(wanted.as_str()));
            count += 1;
        }
    }
    assert!(count >= 20, "{count} terms");
}

#[test]
fn each_panel_says_what_it_is_by_pointer_and_by_keys() {
    let mut h = desk_with(sample::opening(), None);
    for stage in STAGE_KEYS {
        ctrl(&mut h, stage);
        assert!(h.query_by_label_contains("A drawing: ").is_none(), "{stage:?}");
        press(&mut h, "What is this?");
        assert!(h.query_by_label_contains("A drawing: ").is_some(), "{stage:?}");
        press(&mut h, "Close “what is this”");
        assert!(h.query_by_label_contains("A drawing: ").is_none(), "{stage:?}");
    }
    // Left open, it is closed with its stage.
    press(&mut h, "What is this?");
    ctrl(&mut h, Key::Num2);
    assert!(h.query_by_label_contains("A drawing: ").is_none());
    ctrl(&mut h, Key::Num9);
    keys(&mut h, Modifiers::SHIFT, Key::F1);
    assert!(h.query_by_label_contains("A drawing: ").is_some());
    press(&mut h, "Word: walk");
    assert!(h.query_by_label_contains("To lay one edge of paper").is_some());
    keys(&mut h, Modifiers::NONE, Key::Escape);
    keys(&mut h, Modifiers::SHIFT, Key::F1);
    assert!(h.query_by_label_contains("A drawing: ").is_none());
}

#[test]
fn the_pages_before_the_table_say_what_they_are() {
    let mut h = common::desk_of(Desk::welcoming(None, None), [1440.0, 900.0], 1.0);
    let pages = ["A drawing: measures, block", "A drawing: a figure with tapes"];
    for (index, drawing) in pages.into_iter().enumerate() {
        if index > 0 {
            press(&mut h, "A new client");
        }
        assert!(h.query_by_label_contains("A drawing: ").is_none(), "{drawing}");
        press(&mut h, "What is this?");
        assert!(h.query_by_label_contains(drawing).is_some(), "{drawing}");
        press(&mut h, "Word: block");
        assert!(h.query_by_label("Look for a word").is_some());
        keys(&mut h, Modifiers::NONE, Key::Escape);
        keys(&mut h, Modifiers::SHIFT, Key::F1);
        assert!(h.query_by_label_contains("A drawing: ").is_none(), "{drawing}");
    }
}

/// Letters typed while the help is open go into its field, or nowhere: never to the table
/// behind it (“m” would show the mirrored pieces there).
#[test]
fn what_is_typed_in_the_help_does_not_reach_the_table() {
    let mut h = desk_with(sample::opening(), None);
    let shown = |h: &common::Driven| h.query_by_label("Hide the mirrored pieces").is_some();
    h.event(egui::Event::Text("m".into()));
    h.run_ok();
    assert!(shown(&h), "the key works at the table");
    press(&mut h, "Help");
    assert!(h.query_by_label("Look for a word").is_some());
    // Its field has the cursor; taken out of it, the letter goes nowhere.
    h.ctx.memory_mut(|m| m.stop_text_input());
    h.run_ok();
    h.event(egui::Event::Text("m".into()));
    h.run_ok();
    assert!(shown(&h));
}

#[test]
fn words_are_looked_for_and_keys_are_listed() {
    let mut h = desk_with(sample::opening(), None);
    keys(&mut h, Modifiers::NONE, Key::F1);
    write_only(&mut h, "Look for a word", "darts");
    assert!(h.query_by_label_contains("A wedge of cloth").is_some());
    assert!(h.query_by_label_contains("The piece behind.").is_none());
    write_only(&mut h, "Look for a word", "zeppelin");
    assert!(h.query_by_label("“zeppelin” is not in the list.").is_some());
    press(&mut h, "Keys");
    assert!(h.query_by_label("help: words and keys").is_some());
    press(&mut h, "Close");
    assert!(h.query_by_label("Look for a word").is_none());
}
