//! Words that were given up for plainer ones do not come back: neither in what the
//! window and the command say, nor in README and docs. The words that took their place
//! stand in the words list (`crates/adjust/src/glossary.rs`).

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::sources::files;
use std::path::{Path, PathBuf};

/// What was given up, and what is said instead.
const GIVEN_UP: &[(&str, &str)] = &[
    ("full hip", "hip balance (the line that hangs level), or hip line"),
    ("Full hip", "Hip balance, or hip line"),
    ("Leave it", "Discard"),
    ("Nearer", "Zoom in"),
    ("Farther", "Zoom out"),
    ("True size", "Actual size"),
    ("true size", "actual size"),
    ("Evening lamp", "Dark"),
    ("Day table", "Light"),
    ("Take off", "Remove"),
    ("Called", "Name"),
    ("Go into", "Open"),
    ("lays this down", "puts this away"),
    ("laid ready", "change to try"),
    ("Laid ready", "Change to try"),
    ("borne out", "fits"),
    ("for want of", "for lack of"),
    ("absurd", "out of range"),
    ("not true", "does not match"),
    ("NOT TRUE", "is off"),
    ("Not true", "Does not match"),
    ("Station ", "Pin place"),
    ("station 1", "pin place 1"),
    ("a station", "a pin place"),
    ("crotch hook", "crotch curve"),
    ("the hook", "the crotch curve"),
    ("back hook", "back crotch curve"),
    ("front hook", "front crotch curve"),
    ("This round", "This fitting"),
    ("this round", "this fitting"),
    ("round closed", "fitting closed"),
    ("Round closed", "Fitting closed"),
    ("the open round", "the open fitting"),
    ("Answer “", "Take up “"),
    ("not answered yet", "not taken up yet"),
    ("aits for an answer", "not taken up yet"),
    ("hangtrue weigh", "hangtrue methods"),
    ("hangtrue read ", "hangtrue as-sewn"),
    ("hangtrue look ", "hangtrue level"),
    ("hangtrue reading", "hangtrue causes"),
    ("hangtrue photo ", "hangtrue photos"),
    ("hangtrue trace", "hangtrue digitise"),
    ("tracing job", "job of digitising"),
    ("the mates", "the mirrored pieces"),
    ("mating", "sewn to it"),
    ("the join “", "the seam “"),
    ("ribbon", "row of stages"),
    ("Distribute", "Even strip"),
    ("by distribute", "by even strip"),
    ("Settle it", "Work it out"),
    ("settles level", "hangs level"),
    ("--settled", "--hung"),
    ("Desk settings", "Settings"),
    ("Show the list", "Show the changes"),
    ("Show the card", "Back to the stage"),
    ("by typing a place", "one button for a file"),
    ("by typing its place", "one button for a file"),
    ("invalid digit", "our own words"),
    ("os error", "our own words"),
];

/// Old names that still answer, where they are told apart from the new ones.
const STILL_ANSWERS: &[&str] = &[
    "\"back hook\" =>",
    "\"front hook\" =>",
    "HIP_BALANCE_BEFORE: &str",
    "\"full hip on paper\", \"hip on paper\"",
];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// What a person may read of a source file: its texts in quotes, and in the arguments
/// of the command what stands in documenting comments. Tests are left out.
fn said(path: &Path) -> Vec<(usize, String)> {
    let text = std::fs::read_to_string(path).unwrap();
    let text = text.split("#[cfg(test)]").next().unwrap();
    let is_arguments = path.ends_with("cli/src/args.rs")
        || path.parent().is_some_and(|p| p.ends_with("cli/src/verbs"));
    let mut found = Vec::new();
    // A text may go over several lines.
    let mut within = false;
    for (index, line) in text.lines().enumerate() {
        let trimmed = line.trim_start();
        if !within && trimmed.starts_with("//") {
            if is_arguments && trimmed.starts_with("///") {
                found.push((index + 1, trimmed.to_owned()));
            }
            continue;
        }
        if STILL_ANSWERS.iter().any(|s| line.contains(s)) {
            continue;
        }
        let mut words = String::new();
        let mut escaped = false;
        for c in line.chars() {
            match c {
                '"' if !escaped => within = !within,
                _ if within => words.push(c),
                _ => {}
            }
            escaped = c == '\\' && !escaped;
        }
        // A quote sign as a letter of its own opens nothing.
        if line.contains("'\"'") {
            within = false;
        }
        found.push((index + 1, words));
    }
    found
}

#[test]
fn words_given_up_do_not_come_back() {
    let root = root();
    let (mut sources, mut pages) = (Vec::new(), vec![root.join("README.md")]);
    for krate in ["geometry", "pattern", "adjust", "drape", "files", "desk", "cli"] {
        files(&root.join("crates").join(krate).join("src"), "rs", &mut sources);
    }
    files(&root.join("docs"), "md", &mut pages);
    files(&root.join("assets/reading"), "ron", &mut pages);
    sources.retain(|s| !s.ends_with("tests.rs"));
    assert!(sources.len() > 200 && pages.len() > 10, "{} {}", sources.len(), pages.len());
    let mut back = Vec::new();
    let mut look = |path: &Path, at: usize, words: &str| {
        for (old, new) in GIVEN_UP.iter().filter(|(old, _)| words.contains(old)) {
            let path = path.strip_prefix(&root).unwrap().display();
            back.push(format!("{path}:{at}: “{old}” (say: {new}) in: {}", words.trim()));
        }
    };
    for path in &sources {
        said(path).iter().for_each(|(at, words)| look(path, *at, words));
    }
    for path in &pages {
        let text = std::fs::read_to_string(path).unwrap();
        text.lines().enumerate().for_each(|(at, words)| look(path, at + 1, words));
    }
    assert!(back.is_empty(), "{}", back.join("\n"));
}
