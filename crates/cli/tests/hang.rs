//! How the lines will hang, predicted by the command and told as predicted.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::Folder;

/// A project whose lines are marked.
fn marked(name: &str) -> Folder {
    let folder = Folder::new(name);
    folder.marked("p.ron");
    folder
}

#[test]
fn the_body_is_said_by_handles_and_kept_and_refused_by_name() {
    let folder = marked("hang-body");
    folder.good(&["hang", "p.ron", "--quick", "--seat", "8 mm", "--hip-depth", "250 mm", "--keep"]);
    let text = std::fs::read_to_string(folder.path("p.ron")).unwrap();
    assert!(text.contains("seat: 8.0") && text.contains("hip_depth"), "{text}");
    let told = folder.json(&["hang", "p.ron", "--quick", "--json"]);
    let guessed: Vec<_> = told["guessed"].as_array().unwrap().iter().map(|g| &g["what"]).collect();
    assert!(!guessed.is_empty() && guessed.iter().all(|g| *g != "hip depth"), "{guessed:?}");
    let said = folder.refused(&["hang", "p.ron", "--sway", "300 mm"]);
    assert!(said.contains("a sway of"), "{said}");
}

#[test]
fn the_picture_is_never_written_over_another_unasked() {
    let folder = marked("hang-picture");
    folder.good(&["hang", "p.ron", "--quick", "--picture", "a.png"]);
    let bytes = std::fs::read(folder.path("a.png")).unwrap();
    let picture = image::load_from_memory(&bytes).unwrap();
    assert!(picture.width() > 1500, "three views side by side");
    folder.refused(&["hang", "p.ron", "--quick", "--picture", "a.png"]);
    folder.refused(&["hang", "p.ron", "--quick", "--picture", "p.ron", "--replace"]);
    assert_eq!(std::fs::read(folder.path("a.png")).unwrap(), bytes);
}

#[test]
fn a_measured_toile_is_set_against_the_prediction() {
    let folder = marked("hang-measured");
    let table = "line,view,leg,at,droop,error\n\
        thigh,back,right,inseam,0,2 mm\n\
        thigh,back,right,middle,60 mm,2 mm\n\
        thigh,back,right,side,0,2 mm\n\
        knee,back,right,middle,5 mm,2 mm\n";
    std::fs::write(folder.path("m.csv"), table).unwrap();
    let told = folder.json(&["hang", "p.ron", "--quick", "--measured", "m.csv", "--json"]);
    let places = told["compared"]["places"].as_array().unwrap();
    assert_eq!(places.len(), 2, "taken from the side");
    assert_eq!(places[1]["measured"], 60.0);
    assert_eq!(told["compared"]["left_out"].as_array().unwrap().len(), 1);
    let told = folder.good(&["hang", "p.ron", "--quick", "--measured", "m.csv"]);
    assert!(told.contains("differs") && told.contains("One toile proves nothing"), "{told}");
    assert!(told.contains("knee, back, right leg: its place at the side seam"), "{told}");
}

#[test]
fn a_correction_is_weighed_from_the_same_starts_and_told_as_predicted() {
    let folder = marked("hang-weigh");
    let weigh = ["hang", "p.ron", "--quick", "--weigh", "waist height"];
    let told = folder.json(&[&weigh[..], &["--amount", "10 mm", "--json"]].concat());
    assert_eq!(told[0]["possible"], true);
    assert_eq!(told[0]["label"], "predicted, not seen");
    let lines = told[0]["lines"].as_array().unwrap();
    let knee = lines.iter().find(|l| l["line"] == "knee" && l["piece"] == "back").unwrap();
    let falls = knee["places"][2]["falls"].as_f64().unwrap();
    assert!((falls - 10.0).abs() < 5.0, "the waist stays, so the knee line falls: {falls}");
    let told = folder.good(&[&weigh[..], &["--amount", "10 mm"]].concat());
    assert!(told.contains("Predicted, not seen") && told.contains("within its ±"), "{told}");
    assert!(folder.refused(&weigh).contains("say how much"));
    let said = folder.refused(&["hang", "p.ron", "--quick", "--weigh", "magic"]);
    assert!(said.contains("magic") && said.contains("full seat"), "{said}");
}

#[test]
fn a_level_line_is_marked_beside_or_instead() {
    let folder = marked("hang-level");
    let told = folder.good(&["mark", "p.ron", "--level-when-worn", "thigh"]);
    assert!(told.contains("bowed up by") && told.contains("Predicted, not seen"), "{told}");
    let told = folder.json(&["hang", "p.ron", "--quick", "--json"]);
    let level = |l: &&serde_json::Value| l["line"] == "level thigh";
    let lines = told["lines"].as_array().unwrap();
    assert_eq!(lines.iter().filter(level).count(), 2);
    for line in lines.iter().filter(level) {
        for place in line["stations"].as_array().unwrap() {
            assert!(place["droop"].as_f64().unwrap().abs() < 3.0, "{line}");
        }
    }
    let said = folder.refused(&["mark", "p.ron", "--level-when-worn", "calf"]);
    assert!(said.contains("calf"), "{said}");
}

#[test]
fn lines_are_predicted_and_told_as_not_seen() {
    let folder = Folder::new("hang");
    folder.begin("p.ron");
    folder.good(&["mark", "p.ron", "--usual"]);
    let told = folder.json(&["hang", "p.ron", "--quick", "--json"]);
    assert_eq!(told["label"], "predicted, not seen");
    let lines = told["lines"].as_array().unwrap();
    let thigh = lines.iter().find(|l| l["line"] == "thigh" && l["piece"] == "back").unwrap();
    let droop = thigh["stations"][2]["droop"].as_f64().unwrap();
    // The closed form of the home shape is no part of the settling.
    let read = folder.json(&["read", "p.ron", "--json"]);
    let homes = read["home"].as_array().unwrap();
    let home = homes.iter().find(|h| h["line"] == "thigh" && h["piece"] == "back").unwrap();
    let (bow, error) = (home["bow"].as_f64().unwrap(), home["error"].as_f64().unwrap());
    assert!((droop - bow).abs() < error, "{droop} {bow} ± {error}");
}
