//! A field a project does not know is refused by its name, wherever it stands:
//! read over in silence, it would be gone after the next save.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::Folder;
use hangtrue_files::project::from_text;

/// Whether a line of the project's text begins with the name of a field.
fn is_field(line: &str) -> bool {
    let word = line.trim_start().split(':').next().unwrap_or_default();
    line.contains(':') && !word.is_empty() && word.chars().all(|c| c.is_alphanumeric() || c == '_')
}

/// A photo with everything marked on it that can be.
const PHOTOS: &str = r#"    photos: [
      (
        file: "a.jpg",
        round: "now",
        view: Back,
        marks: Some(
          (
            level: Some(plumb),
            level_at: [
              (
                x: 1.0,
                y: 2.0,
              ),
            ],
            known: Some(
              (
                upper: ("hip", left),
                upper_at: (
                  x: 1.0,
                  y: 2.0,
                ),
                lower: ("knee", left),
                lower_at: (
                  x: 1.0,
                  y: 2.0,
                ),
              )
            ),
            lines: [
              (
                name: "hip",
                leg: left,
                points: [],
              ),
            ],
          )
        ),
      ),
    ],
"#;

/// A project with pieces brought in, pins, corrections, rounds, legs apart and notes.
fn rich(folder: &Folder) -> String {
    folder.pinned("p.ron", "3/8");
    folder.good(&["close", "p.ron", "--name", "one", "--date", "2026-11-25"]);
    folder.good(&["accept", "p.ron", "pinch", "--by", "top-and-scoop"]);
    folder.good(&["correct", "p.ron", "hem level", "--amount", "3/8"]);
    folder.good(&["pin", "p.ron", "--piece", "back", "--line", "thigh", "--at", "middle=1/4"]);
    folder.good(&["note", "p.ron", "--seen", "the thigh line droops"]);
    folder.good(&["send", "p.ron", "--out", "a.svg"]);
    folder.good(&["bring", "a.svg", "--into", "p.ron", "--replace-pieces", "--accept"]);
    let text = folder.read("p.ron");
    let notes = text.find("    notes: [").unwrap();
    format!("{}{PHOTOS}{}", &text[..notes], &text[notes..])
}

#[test]
fn an_unknown_field_is_refused_by_name_at_every_level() {
    let folder = Folder::new("unknown");
    let text = rich(&folder);
    from_text(&text, "x").unwrap();
    let lines: Vec<&str> = text.lines().collect();
    // A few of each kind of place are enough: what stands above them names the kind.
    let mut tried: std::collections::BTreeMap<String, usize> = Default::default();
    let mut passed = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        let Some(next) = lines.get(at + 1).filter(|next| is_field(next)) else { continue };
        if !line.ends_with('(') {
            continue;
        }
        let count = tried.entry(format!("{} {}", line.trim(), next.split(':').next().unwrap()));
        let count = count.or_default();
        *count += 1;
        if *count > 2 {
            continue;
        }
        let mut with = lines.clone();
        with.insert(at + 1, "zipper_colour: \"red\",");
        match from_text(&with.join("\n"), "x") {
            Ok(_) => passed.push(format!("below line {}: {line}", at + 1)),
            Err(fault) if fault.to_string().contains("zipper_colour") => {}
            Err(fault) => passed.push(format!("below line {}: {line}: {fault}", at + 1)),
        }
    }
    assert!(passed.is_empty(), "{passed:#?}");
    assert!(tried.len() >= 20, "only {} kinds of places: {tried:#?}", tried.len());
}
