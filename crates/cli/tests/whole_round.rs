//! The whole job of a round through the real binary, as a fitter does it.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::{Folder, asset, pages};
use hangtrue_files::project::{from_text, to_text};
use hangtrue_pattern::rule::RULES;
use std::fs;

const METHODS: [&str; 3] = ["top-and-scoop", "slash-and-lap", "even-strip"];

/// The number of that measure in a list of compared measures.
fn compared(list: &serde_json::Value, measure: &str) -> (f64, f64) {
    let row = list.as_array().unwrap().iter().find(|r| r["measure"] == measure);
    let row = row.unwrap_or_else(|| panic!("{measure} is not in {list}"));
    (row["before"].as_f64().unwrap(), row["after"].as_f64().unwrap())
}

/// A project reads back to the same text.
fn reads_back(folder: &Folder, name: &str) {
    let text = folder.read(name);
    assert_eq!(to_text(&from_text(&text, name).unwrap()).unwrap(), text);
}

#[test]
fn a_round_by_each_method_from_measures_to_print() {
    let folder = Folder::new("round");
    for (method, amount) in METHODS.iter().flat_map(|m| [(*m, "3/8"), (*m, "-1/4")]) {
        let project = &format!("{method} {}.ron", amount.replace('/', " of "));
        folder.begin(project);
        assert!(folder.good(&["draft", project]).contains("crotch seam"));
        assert!(folder.good(&["read", project]).contains("No line is marked"));
        assert!(folder.good(&["mark", project, "--usual"]).contains("from the waist"));
        assert!(folder.good(&["read", project]).contains("hip balance"));
        let at = format!("middle={amount}");
        let pinned =
            folder.good(&["pin", project, "--piece", "back", "--line", "thigh", "--at", &at]);
        assert!(pinned.contains("Safety pins"), "{pinned}");
        assert!(folder.good(&["list", project]).contains("Not taken up yet"));
        let before_weighing = folder.read(project);
        let weighed = folder.good(&["weigh", project, "pinch"]);
        assert!(weighed.contains("TOP AND SCOOP") && weighed.contains("EVEN STRIP"), "{weighed}");
        assert_eq!(folder.read(project), before_weighing, "weighing changes nothing");
        folder.good(&["close", project, "--name", "first toile", "--date", "2026-11-25"]);
        let accepted = folder.json(&["accept", project, "pinch", "--by", method, "--json"]);
        for kept in accepted["kept"].as_array().unwrap() {
            let (before, after) =
                (kept["before"].as_f64().unwrap(), kept["after"].as_f64().unwrap());
            assert!((before - after).abs() <= 0.1, "{method}: {kept}");
        }
        folder.good(&["true", project]);
        let walk = folder.json(&["walk", project, "--json"]);
        for seam in walk["seams"].as_array().unwrap() {
            assert_eq!(seam["matches"], true, "{method} {amount}: {seam}");
        }
        assert!(
            folder.good(&["true", project]).contains("there is nothing to true"),
            "{method} {amount}"
        );
        folder.good(&["close", project, "--name", "second toile", "--note", "taken"]);
        let compare = folder.json(&[
            "compare",
            project,
            "--from",
            "first toile",
            "--to",
            "second toile",
            "--json",
        ]);
        let (crotch, now) = compared(&compare["measures"], "crotch of the back");
        // Where cloth is let out by a slash the crotch seam may grow, and it does.
        let may_grow = method == "slash-and-lap" && amount.starts_with('-');
        let kept = (crotch - now).abs() <= 0.1;
        assert!(if may_grow { now > crotch } else { kept }, "{method}: crotch {crotch} → {now}");
        reads_back(&folder, project);
    }
}

#[test]
fn top_and_scoop_lowers_the_centre_back_by_the_pinch() {
    let folder = Folder::new("lowered");
    folder.pinned("p.ron", "3/8");
    folder.good(&["accept", "p.ron", "pinch", "--by", "top-and-scoop"]);
    let compare = folder.json(&["compare", "p.ron", "--json"]);
    let corner = |name: &str| {
        let corners = compare["corners"].as_array().unwrap();
        let found = corners.iter().find(|c| c["piece"] == "back" && c["corner"] == name);
        found.unwrap()["distance"].as_f64().unwrap()
    };
    // 3/8 in is 9.525 mm, by the definition of the inch.
    assert!((corner("waist at centre") - 9.525).abs() < 1e-6);
    assert!(corner("waist at side") < 1e-9 && corner("crotch point") < 1e-6);
}

#[test]
fn settings_of_the_methods_reach_them() {
    let folder = Folder::new("settings");
    folder.pinned("p.ron", "3/8");
    for (given, method) in [
        (["--amount", "-1/4 in"], METHODS[0]),
        (["--amount", "5 mm"], METHODS[0]),
        (["--zero-from-side", "2 in"], METHODS[0]),
        (["--dart", "back dart at side"], METHODS[1]),
        (["--cut-to", "80 mm from crotch point of crotch"], METHODS[1]),
        (["--take", "40%"], METHODS[1]),
        (["--strip", "3 mm"], METHODS[2]),
    ] {
        folder.copy("p.ron", "q.ron");
        let usual = folder.json(&["weigh", "p.ron", "pinch", "--json"]);
        let set = folder.json(&["weigh", "p.ron", "pinch", "--json", given[0], given[1]]);
        assert_ne!(usual, set, "{given:?} changes nothing");
        folder.good(&["accept", "q.ron", "pinch", "--by", method, given[0], given[1]]);
    }
}

#[test]
fn lines_by_every_rule_and_their_erasing() {
    let folder = Folder::new("rules");
    folder.begin("p.ron");
    folder.good(&["mark", "p.ron", "--usual", "--hip-depth", "6", "--thigh-drop", "2 1/2"]);
    for (name, rule, text) in [
        ("a", "--below", "100 mm below crotch point"),
        ("b", "--square-through", "crotch point"),
        ("c", "--square-through", "4 from hem of side"),
        ("d", "--equal-depth", "5 1/2 in on side from waist, crotch from waist"),
        ("e", "--parallel", "40 mm inside hem"),
        ("f", "--through", "60 mm from waist of side, 80 mm from waist of crotch"),
        ("g", "--between", "50% from thigh to knee"),
        ("h", "--square-through", "4 from start of side"),
    ] {
        folder.good(&["mark", "p.ron", "--line", name, "--piece", "back", rule, text]);
    }
    // Each rule there is, as its own example writes it.
    for (index, listed) in RULES.iter().enumerate() {
        let (name, rule) = (format!("rule {index}"), format!("--{}", listed.about.word));
        let example = listed.about.example;
        folder.good(&["mark", "p.ron", "--line", &name, "--piece", "back", &rule, example]);
    }
    let names = folder.json(&["list", "p.ron", "--json"]);
    assert_eq!(names.as_array().unwrap().len(), 16 + RULES.len());
    folder.good(&["mark", "p.ron", "--line", "a", "--piece", "back", "--erase"]);
    reads_back(&folder, "p.ron");
}

#[test]
fn editing_the_list_switches_renames_moves_and_removes() {
    let folder = Folder::new("edit");
    folder.pinned("p.ron", "3/8");
    folder.good(&["accept", "p.ron", "pinch", "--by", "top-and-scoop"]);
    let accepted = folder.read("p.ron");
    let on = folder.good(&["compare", "p.ron"]);
    folder.good(&["edit", "p.ron", "pinch", "--off"]);
    assert!(folder.good(&["list", "p.ron"]).contains("off"));
    assert_ne!(folder.good(&["compare", "p.ron"]), on);
    folder.good(&["edit", "p.ron", "pinch", "--on"]);
    assert_eq!(folder.read("p.ron"), accepted, "off and on again is no change");
    folder.good(&["edit", "p.ron", "pinch", "--rename", "seat"]);
    folder.good(&["edit", "p.ron", "seat", "--to-place", "9"]);
    let moved = folder.good(&["edit", "p.ron", "seat", "--to-place", "1"]);
    assert!(moved.contains("NOT MADE") && moved.contains("thigh"), "{moved}");
    folder.good(&["edit", "p.ron", "seat", "--to-place", "9"]);
    folder.good(&["edit", "p.ron", "seat", "--rename", "pinch"]);
    assert_eq!(folder.read("p.ron"), accepted, "back where it was");
    folder.good(&["edit", "p.ron", "pinch", "--remove"]);
    assert!(!folder.read("p.ron").contains("pinch"));
    // A pinch entered wrongly can be taken out before it is answered.
    folder.good(&["pin", "p.ron", "--piece", "back", "--line", "thigh", "--at", "40%=6 mm"]);
    folder.good(&["edit", "p.ron", "pinch", "--remove"]);
    assert!(!folder.read("p.ron").contains("pinch"));
}

#[test]
fn an_accepted_pinch_adds_only_its_own_lines() {
    let folder = Folder::new("diff");
    folder.pinned("p.ron", "3/8");
    // Behind the project itself stands the pattern it came to, which the pinch changes.
    let project = || folder.read("p.ron").split_once("\n  drawn: Some(").unwrap().0.to_owned();
    let before = project();
    folder.good(&["accept", "p.ron", "pinch", "--by", "top-and-scoop"]);
    let after = project();
    // Without the pinch that waited, every old line is still there, in order.
    let from = before.find("    pinned: [\n").unwrap();
    let to = from + before[from..].find("\n    ],\n").unwrap() + "\n    ],\n".len();
    let rest = format!("{}{}", &before[..from], &before[to..]);
    let mut left = after.lines();
    for line in rest.lines() {
        assert!(left.any(|l| l == line), "the line “{line}” was changed");
    }
    let added = after.lines().count() - rest.lines().count();
    assert!(added <= 24, "{added} lines for one pinch");
    assert!(after.contains("amount: 9.525,"), "3/8 in stands as 9.525 mm");
    reads_back(&folder, "p.ron");
}

#[test]
fn prints_on_every_paper_pass_an_outside_check() {
    let folder = Folder::new("print");
    folder.pinned("p.ron", "3/8");
    folder.good(&["accept", "p.ron", "pinch", "--by", "top-and-scoop"]);
    let extra: [&[&str]; 3] = [
        &[],
        &["--allowance", "10 mm", "--hem-allowance", "1 1/2"],
        &["--over", "start", "--allowance", "3/8"],
    ];
    for paper in ["A4", "letter", "A3", "A0", "roll 914 mm", "roll 36 in"] {
        for more in extra {
            let args = [&["print", "p.ron", "--out", "p.pdf", "--replace", "--paper", paper], more]
                .concat();
            let said = folder.good(&args);
            let count = pages(&folder.path("p.pdf"));
            assert!(said.contains(&format!("({count} sheet")), "{paper}: {said}");
        }
    }
    let start = ["print", "p.ron", "--out", "start.pdf", "--of", "start", "--replace"];
    folder.good(&start);
    let first = fs::read(folder.path("start.pdf")).unwrap();
    folder.good(&start);
    assert_eq!(fs::read(folder.path("start.pdf")).unwrap(), first, "printing is repeatable");
}

#[test]
fn json_holds_what_is_promised() {
    let folder = Folder::new("json");
    folder.pinned("p.ron", "3/8");
    folder.good(&["close", "p.ron", "--name", "one"]);
    for (args, fields) in [
        (vec!["draft", "p.ron"], vec!["/crotch/target", "/waist/drafted", "/hip", "/back/inseam"]),
        (
            vec!["read", "p.ron"],
            vec![
                "/readings/0/line",
                "/readings/0/step",
                "/readings/0/meets/1",
                "/stale",
                "/unplaced",
            ],
        ),
        (
            vec!["weigh", "p.ron", "pinch"],
            vec!["/0/method", "/1/possible", "/2/kept/0/measure", "/0/why_not", "/2/residue/0"],
        ),
        (vec!["walk", "p.ron"], vec!["/seams/0/join", "/seams/0/difference", "/darts/0/intake"]),
        (vec!["list", "p.ron"], vec!["/0/place", "/0/name", "/0/words", "/0/status"]),
        (vec!["compare", "p.ron"], vec!["/from", "/to", "/measures/0/before", "/corners/0/up"]),
    ] {
        let value = folder.json(&[args.clone(), vec!["--json"]].concat());
        for field in fields {
            assert!(value.pointer(field).is_some(), "{args:?} lacks {field}: {value}");
        }
    }
    let list = folder.json(&["list", "p.ron", "--json"]);
    assert_eq!(list[0]["place"], 1);
}

#[test]
fn the_demo_writes_its_files_and_is_the_same_every_time() {
    let folder = Folder::new("demo");
    let (first, second) = (folder.good(&["demo", "out"]), folder.good(&["demo", "again"]));
    let plain = |text: &str| {
        let lines = text.lines().filter(|l| !l.starts_with("Done in "));
        lines.collect::<Vec<_>>().join("\n")
    };
    assert_eq!(plain(&first), plain(&second));
    for name in ["report.pdf", "before.pdf", "after.pdf", "maren.hangtrue.ron", "walk.json"] {
        assert!(first.contains(name), "{name} is not named");
        let bytes = fs::read(folder.path("out").join(name)).unwrap();
        assert_eq!(bytes, fs::read(folder.path("again").join(name)).unwrap(), "{name} differs");
    }
    assert_eq!(fs::read_dir(folder.path("out")).unwrap().count(), 5);
    assert_eq!(pages(&folder.path("out/report.pdf")), 1, "the report is one page");
    assert!(pages(&folder.path("out/before.pdf")) > 4);
    assert!(pages(&folder.path("out/after.pdf")) > 4);
    reads_back(&folder, "out/maren.hangtrue.ron");
    assert!(folder.good(&["list", "out/maren.hangtrue.ron"]).contains("second toile"));
    let walk: serde_json::Value = serde_json::from_str(&folder.read("out/walk.json")).unwrap();
    assert!(walk["seams"].as_array().unwrap().iter().all(|s| s["matches"] == true));
}

#[test]
fn every_row_of_the_survey_is_drafted() {
    let folder = Folder::new("survey");
    let (table, columns) =
        (asset("tests/data/ansur2_trousers_dev.csv"), asset("assets/columns/ansur2.ron"));
    let rows = fs::read_to_string(&table).unwrap().lines().count() - 1;
    let lines = folder.good(&["batch", &table, "--columns", &columns, "--json"]);
    assert_eq!(lines.lines().count(), rows);
    for line in lines.lines() {
        let row: serde_json::Value = serde_json::from_str(line).unwrap();
        assert_eq!(row["status"], "ok", "{row}");
        assert_eq!(row["self_crossing"], false, "{row}");
        for target in ["crotch", "waist", "hip"] {
            let asked = row[format!("{target}_target")].as_f64().unwrap();
            let drawn = row[target].as_f64().unwrap();
            assert!((asked - drawn).abs() <= 0.5, "{target}: {row}");
        }
        for (one, other) in [("inseam_back", "inseam_front"), ("side_back", "side_front")] {
            let off = row[one].as_f64().unwrap() - row[other].as_f64().unwrap();
            assert!(off.abs() <= 0.5, "{one}: {row}");
        }
    }
    folder.good(&["batch", &table, "--columns", &columns, "--out", "out.csv"]);
    let text = folder.read("out.csv");
    assert_eq!(text.lines().count(), rows + 1, "a header and a line a row");
    assert!(text.starts_with("line,name,status"));
}

#[test]
fn a_bad_row_is_refused_by_name_and_the_rest_goes_on() {
    let folder = Folder::new("bad-rows");
    let survey = fs::read_to_string(asset("tests/data/ansur2_trousers_dev.csv")).unwrap();
    let lines: Vec<&str> = survey.lines().collect();
    let header: Vec<&str> = lines[0].split(',').collect();
    let at = |column: &str| header.iter().position(|h| *h == column).unwrap();
    let with = |line: &str, column: &str, cell: &str| {
        let mut cells: Vec<&str> = line.split(',').collect();
        cells[at(column)] = cell;
        cells.join(",")
    };
    let table = [
        lines[0].to_owned(),
        lines[1].to_owned(),
        // The crotch above the waist; a word for a number; a row broken off.
        with(lines[2], "crotchheight", "1150"),
        with(lines[3], "buttockcircumference", "wide"),
        lines[4][..20].to_owned(),
        with(lines[5], "thighcircumference", "NaN"),
        with(lines[6], "waistcircumference", "0"),
        lines[7].to_owned(),
    ];
    folder.write("t.csv", table.join("\n"));
    let columns = asset("assets/columns/ansur2.ron");
    let said = folder.good(&["batch", "t.csv", "--columns", &columns, "--json"]);
    let rows: Vec<serde_json::Value> =
        said.lines().map(|l| serde_json::from_str(l).unwrap()).collect();
    assert_eq!(rows.len(), 7);
    let measure = |i: usize| rows[i]["measure"].as_str().unwrap_or_default().to_owned();
    assert_eq!((rows[0]["status"].as_str(), rows[6]["status"].as_str()), (Some("ok"), Some("ok")));
    assert_eq!(measure(1), "inside_leg_height", "{}", rows[1]);
    assert_eq!(measure(2), "hip_girth", "{}", rows[2]);
    assert_eq!(rows[3]["status"], "refused");
    assert_eq!(measure(4), "thigh_girth", "{}", rows[4]);
    assert_eq!(measure(5), "waist_girth", "{}", rows[5]);
    for row in &rows[1..6] {
        assert!(row["reason"].as_str().unwrap().len() > 20, "{row}");
    }
}
