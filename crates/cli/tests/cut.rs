//! The cutting plan at the command: what is opened gets a band that runs on.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // helpers of tests may stop a test

mod common;

use common::Folder;

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
