//! The cutting plan at the command: what is opened gets a band that runs on.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // helpers of tests may stop a test

use crate::common::Folder;

/// A band of the demo's body without allowance, mm²: 1 1/2 in when it is sewn, folded.
fn band(folder: &Folder, closure: &str) -> f64 {
    let said = folder.json(&["cut", "p.ron", "--closure", closure, "--json"]);
    let pieces = said["pieces"].as_array().unwrap();
    let band = pieces.iter().find(|piece| piece["name"] == "waistband").unwrap();
    band["area_mm2"].as_f64().unwrap()
}

#[test]
fn a_closure_gives_the_band_its_overlap() {
    let folder = Folder::new("cut-closure");
    folder.begin("p.ron");
    folder.good(&["cut", "p.ron", "--set", "none", "--waist", "band"]);
    let pulled_on = band(&folder, "pull-on");
    // 1 1/2 in of overlap, 3 in high.
    let overlap = 1.5 * 3.0 * 25.4 * 25.4;
    for closure in ["front-fly", "side-zip", "back-zip"] {
        let more = band(&folder, closure) - pulled_on;
        assert!((more - overlap).abs() < 1e-6, "{closure}: {more} for {overlap}");
        let told = folder.good(&["cut", "p.ron"]);
        assert!(told.contains(&format!("Opened: {}.", closure.replace('-', " "))), "{told}");
    }
    assert!((band(&folder, "pull-on") - pulled_on).abs() < 1e-9);
    // Chosen in the other order.
    folder.good(&["cut", "p.ron", "--waist", "none", "--closure", "front-fly"]);
    folder.good(&["cut", "p.ron", "--waist", "band"]);
    let more = band(&folder, "front-fly") - pulled_on;
    assert!((more - overlap).abs() < 1e-6, "{more}");
}

fn names(folder: &Folder, with: &[&str]) -> Vec<String> {
    let mut asked = vec!["cut", "p.ron"];
    asked.extend(with);
    asked.push("--json");
    let said = folder.json(&asked);
    let pieces = said["pieces"].as_array().unwrap();
    pieces.iter().map(|piece| piece["name"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn openings_and_pockets_are_chosen_and_their_pieces_listed() {
    let folder = Folder::new("cut-pockets");
    folder.begin("p.ron");
    let fly = names(&folder, &["--set", "finished", "--closure", "front-fly"]);
    assert_eq!(fly, ["back", "front", "fly facing", "fly shield"]);
    let cut_on = names(&folder, &["--facing", "cut-on"]);
    assert_eq!(cut_on, ["back", "front", "fly shield"]);
    let pockets = names(&folder, &["--front-pocket", "slant", "--back-pocket", "patch"]);
    let more = ["pocket facing", "pocket bag", "pocket under bag", "patch pocket"];
    assert_eq!(pockets[3..], more);
    let told = folder.good(&["cut", "p.ron"]);
    assert!(told.contains("Pockets: at the front slant, on the back patch."), "{told}");
    assert!(told.contains("pocketing"), "{told}");
    // A length of one's own, what is beyond reach, and the usual again.
    let usual = folder.good(&["cut", "p.ron"]);
    let deeper = folder.good(&["cut", "p.ron", "--front-pocket-down", "8 in"]);
    assert_ne!(usual, deeper);
    let why = folder.refused(&["cut", "p.ron", "--front-pocket-down", "40 in"]);
    assert!(why.contains("opening of a pocket along the side"), "{why}");
    assert_eq!(folder.good(&["cut", "p.ron", "--front-pocket-down", "usual"]), usual);
    // A zip in the seam the pocket ends at leaves the pocket to the other leg.
    let zip = names(&folder, &["--closure", "side-zip"]);
    let facings: Vec<&String> = zip.iter().filter(|n| n.starts_with("pocket facing")).collect();
    assert_eq!(facings, ["pocket facing right"], "{zip:?}");
    let zip = names(&folder, &["--front-pocket", "none", "--closure", "side-zip"]);
    assert_eq!(zip, ["back", "front", "zip shield", "patch pocket"]);
}
