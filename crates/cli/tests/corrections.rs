//! The catalogue of corrections through the real binary: made, listed, switched
//! off, compared, walked and printed as any other change, and refused in words.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::{Folder, asset, pages};
use hangtrue_adjust::CATALOGUE;
use hangtrue_pattern::units::{Unit, read_length};

const PROJECT: &str = "p.ron";

fn begun(name: &str) -> Folder {
    let folder = Folder::new(name);
    folder.begin(PROJECT);
    folder.good(&["mark", PROJECT, "--usual"]);
    folder
}

fn changed(json: &serde_json::Value, measure: &str) -> f64 {
    let rows = json["changed"].as_array().unwrap();
    let row = rows.iter().find(|r| r["measure"] == measure).unwrap();
    row["after"].as_f64().unwrap() - row["before"].as_f64().unwrap()
}

#[test]
fn the_list_names_every_correction_with_its_amounts() {
    let folder = begun("correct-list");
    let before = folder.read(PROJECT);
    let said = folder.good(&["correct", PROJECT, "--list"]);
    let json = folder.json(&["correct", PROJECT, "--list", "--json"]);
    assert_eq!(json.as_array().unwrap().len(), CATALOGUE.len());
    for (listed, row) in CATALOGUE.iter().zip(json.as_array().unwrap()) {
        assert!(said.contains(&format!("{}: {}", listed.about.name, listed.about.what)));
        assert_eq!(row["name"], listed.about.name);
    }
    assert!(said.contains("--amount is"), "{said}");
    assert_eq!(folder.good(&["correct", PROJECT]), said, "without a name, the list");
    assert_eq!(folder.read(PROJECT), before, "listing changes nothing");
}

#[test]
fn a_correction_is_a_change_like_any_other() {
    let folder = begun("correct-round");
    folder.good(&["close", PROJECT, "--name", "first toile", "--date", "2026-11-25"]);
    let made = folder.json(&["correct", PROJECT, "hem level", "--amount", "3/8", "--json"]);
    assert!((changed(&made, "inseam of the back") - 9.525).abs() < 1e-6, "{made}");
    assert!((changed(&made, "inseam of the front") - 9.525).abs() < 1e-6, "{made}");
    let said =
        folder.good(&["correct", PROJECT, "Full Seat", "--amount", "1/4", "--called", "seat"]);
    assert!(said.contains("Full seat by 1/4 in") && said.contains("Next: hangtrue walk"), "{said}");

    let list = folder.json(&["list", PROJECT, "--json"]);
    let row = |name: &str| list.as_array().unwrap().iter().find(|r| r["name"] == name).cloned();
    assert_eq!(row("seat").unwrap()["words"], "Full seat by 1/4 in");
    assert_eq!(row("hem level").unwrap()["status"], "in force");

    let walk = folder.json(&["walk", PROJECT, "--json"]);
    for seam in walk["seams"].as_array().unwrap() {
        assert_eq!(seam["matches"], true, "{seam}");
    }
    let longer = || {
        let compare = folder.json(&["compare", PROJECT, "--from", "first toile", "--json"]);
        let rows = compare["measures"].as_array().unwrap();
        let row = rows.iter().find(|r| r["measure"] == "crotch of the back").unwrap();
        row["after"].as_f64().unwrap() - row["before"].as_f64().unwrap()
    };
    // The centre back gains a quarter inch, the crotch point some of the half.
    assert!((6.35..12.7).contains(&longer()), "{}", longer());
    folder.good(&["edit", PROJECT, "seat", "--off"]);
    assert!(longer().abs() < 1e-9);
    folder.good(&["edit", PROJECT, "seat", "--on"]);
    folder.good(&["edit", PROJECT, "seat", "--to-place", "1"]);
    assert!((6.35..12.7).contains(&longer()) || longer().abs() < 1e-9);
    folder.good(&["edit", PROJECT, "seat", "--remove"]);
    assert!(longer().abs() < 1e-9);
    folder.good(&["print", PROJECT, "--out", "p.pdf", "--over", "start"]);
    assert!(pages(&folder.path("p.pdf")) > 4);
}

#[test]
fn every_correction_can_be_made_from_the_command() {
    let folder = begun("correct-all");
    for listed in CATALOGUE {
        let project = "one.ron";
        folder.copy(PROJECT, project);
        let amount = format!("{} mm", 0.6 * listed.about.range.1);
        let made =
            folder.json(&["correct", project, listed.about.name, "--amount", &amount, "--json"]);
        for kept in made["kept"].as_array().unwrap() {
            let off = kept["after"].as_f64().unwrap() - kept["before"].as_f64().unwrap();
            assert!(off.abs() <= 0.1, "{}: {kept}", listed.about.name);
        }
        assert!(!made["changed"].as_array().unwrap().is_empty(), "{}", listed.about.name);
    }
}

#[test]
fn a_dart_correction_works_on_the_dart_asked_for() {
    let folder = begun("correct-dart");
    folder.good(&["correct", PROJECT, "dart moved", "--piece", "front", "--amount", "1/4"]);
    let walk = folder.json(&["walk", PROJECT, "--json"]);
    assert!(walk["seams"].as_array().unwrap().iter().all(|s| s["matches"] == true));
}

#[test]
fn refusals_are_in_words_and_change_nothing() {
    let folder = begun("correct-refused");
    let before = folder.content();
    let cases: [(&[&str], &str); 8] = [
        (&["full seat"], "say how much"),
        (&["--amount", "1/4"], "say which correction"),
        (&["long seat", "--amount", "1/4"], "full seat, flat seat"),
        (&["full seat", "--amount", "much"], "much"),
        (&["full seat", "--amount", "0"], "changes nothing"),
        (&["full seat", "--amount", "10 in"], "choose another length"),
        (&["full seat", "--amount", "1/4", "--piece", "front"], "dart corrections"),
        (&["dart moved", "--amount", "1/4", "--dart", "third dart"], "third dart"),
    ];
    for (args, says) in cases {
        let args = [&["correct", PROJECT], args].concat();
        let output = folder.hangtrue(&args);
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(1), "{args:?}: {said}");
        assert!(said.starts_with("hangtrue: ") && said.contains(says), "{args:?}: {said}");
        assert!(!said.contains("Some(") && said.trim().lines().count() == 1, "{said}");
    }
    assert_eq!(folder.content(), before, "a refusal writes nothing");
}

/// A length or a bare number as it is read back: mm, or the number.
fn read_back(cell: &str) -> f64 {
    let cell = cell.trim_start_matches(['≈', '+']).replace('−', "-");
    let number = cell.trim_end_matches('°').parse::<f64>();
    number
        .unwrap_or_else(|_| read_length(&cell, Unit::Mm).unwrap_or_else(|e| panic!("{cell}: {e}")))
}

/// Every row of the table that compares two patterns: after = before + change, as shown.
#[test]
fn every_row_of_a_comparison_adds_up_as_shown() {
    let folder = Folder::new("rows");
    let measures = asset("assets/demo/measures.ron");
    for unit in ["mm", "cm", "1/8", "1/16", "1/32"] {
        folder.good(&["begin", "p.ron", "--measures", &measures, "--unit", unit]);
        for (name, by) in [("full seat", "13 mm"), ("leg length below the knee", "-17 mm")] {
            folder.good(&["correct", "p.ron", name, "--amount", by]);
        }
        let said = folder.good(&["compare", "p.ron"]);
        let rows = said.lines().take_while(|line| !line.trim().is_empty());
        let mut added = 0;
        for row in rows {
            let cells: Vec<&str> =
                row.split("  ").map(str::trim).filter(|cell| !cell.is_empty()).collect();
            let [_, before, after, change] = cells[..] else { continue };
            if before.chars().all(|c| !c.is_ascii_digit()) || change == "0" {
                continue;
            }
            // Less than half a step is said to be under one, and the two then look alike.
            if change.contains("under") {
                assert_eq!(before, after, "{unit}: {row}");
                continue;
            }
            let whole = read_back(after) - read_back(before);
            assert!((read_back(change) - whole).abs() < 1e-4, "{unit}: {row}");
            added += 1;
        }
        assert!(added >= 4, "{unit}: only {added} rows changed\n{said}");
        std::fs::remove_file(folder.path("p.ron")).unwrap();
    }
}

/// A style is listed, given, told with what it keeps, and refused by name.
#[test]
fn a_style_is_given_from_the_command() {
    let folder = Folder::new("style");
    folder.begin("p.ron");
    let listed = folder.good(&["style", "p.ron"]);
    for name in ["rise", "straight leg", "flared leg", "cropped leg"] {
        assert!(listed.contains(&format!("{name}: ")), "{listed}");
    }
    let told = folder.good(&["style", "p.ron", "flared leg", "--amount", "4"]);
    assert!(told.contains("Flared leg by 4"), "{told}");
    assert!(told.contains("kept"), "{told}");
    let list = folder.good(&["list", "p.ron"]);
    assert!(list.contains("flared leg"), "{list}");
    let why = folder.refused(&["style", "p.ron", "flared leg", "--amount", "40"]);
    assert!(why.contains("flared leg"), "{why}");
    let why = folder.refused(&["style", "p.ron", "bell"]);
    assert!(why.contains("tapered leg"), "{why}");
}
