//! How the lines will hang, predicted by the command and told as predicted.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod common;

use common::Folder;

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
