//! Bad input through the real binary: one clear message, a failing exit code, and
//! nothing overwritten.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::{Folder, asset};
use std::fs;
use std::process::{Command, Output, Stdio};

/// A command that must fail: its words (parted by `|`), its exit code, and what
/// its message must say.
type Case = (&'static str, i32, &'static [&'static str]);

const FAILED: i32 = 1;
const USAGE: i32 = 2;

/// Words no message to a sewing person may hold.
const FOREIGN: [&str; 12] = [
    "panicked",
    "RUST_BACKTRACE",
    "src/",
    ".rs:",
    "unwrap",
    "None",
    "Err(",
    "Some(",
    "NaN of",
    "-inf",
    "serde",
    "struct",
];

/// What is wrong with the way a command failed, if anything.
fn fault(case: &str, output: &Output, code: i32, says: &[&str]) -> Option<String> {
    let complaint = String::from_utf8_lossy(&output.stderr);
    let said: String = String::from_utf8_lossy(&output.stdout).chars().take(200).collect();
    let shown = format!("{case}: {said}{complaint}");
    if output.status.code() != Some(code) {
        return Some(format!("exit {:?}, not {code}: {shown}", output.status.code()));
    }
    if let Some(word) = says.iter().find(|w| !complaint.contains(**w)) {
        return Some(format!("“{word}” is not said: {shown}"));
    }
    if let Some(word) = FOREIGN.iter().find(|w| complaint.contains(**w)) {
        return Some(format!("“{word}” is said: {shown}"));
    }
    let one = complaint.starts_with("hangtrue: ") && complaint.trim().lines().count() == 1;
    if code == FAILED && !(one && complaint.len() < 700) {
        return Some(format!("not one short message: {shown}"));
    }
    complaint.trim().is_empty().then(|| format!("nothing is said: {shown}"))
}

fn check(case: &str, output: &Output, code: i32, says: &[&str]) {
    let fault = fault(case, output, code, says);
    assert!(fault.is_none(), "{}", fault.unwrap_or_default());
}

/// A folder with a project, broken files and tables.
fn folder(name: &str) -> Folder {
    let folder = Folder::new(name);
    folder.pinned("p.ron", "3/8");
    folder.good(&["close", "p.ron", "--name", "one"]);
    let good = folder.read("p.ron");
    folder.write("bytes.ron", [0x28, 0xff, 0xfe, 0x29]);
    folder.write("empty.ron", "");
    folder.write("newer.ron", good.replace("version: 1", "version: 2"));
    folder.write("letter.ron", "Dear Maren, your trousers are ready.");
    let (before, depth) = good.split_once("depth: ").unwrap();
    let (_, after) = depth.split_once(',').unwrap();
    folder.write("nan.ron", format!("{before}depth: NaN,{after}"));
    folder.write("inf.ron", good.replace("amount: 9.525", "amount: inf"));
    folder.write("zero.ron", good.replace("waist_girth: 762.0", "waist_girth: 0.0"));
    folder
        .write("short.ron", good.replace("inside_leg_height: 787.4", "inside_leg_height: 1100.0"));
    folder.write("twice.ron", good.replacen("title:", "title: \"a\",\n    title:", 1));
    folder.write("unknown.ron", good.replace("keep_waist", "keep_wrist"));
    folder.write("half.ron", &good[..good.len() / 2]);
    folder.write("letter.txt", "Dear Maren, the print is in the post.");
    folder.write("m-nan.ron", "{waist_girth: NaN}");
    folder.write("m-word.ron", "{waist_girth: \"wide\"}");
    folder.write("m-twice.ron", "{waist_girth: 700, waist_girth: 800}");
    folder.write("m-other.ron", "{arm_length: 700}");
    folder.write("m-few.ron", "{waist_girth: 700, hip_girth: 900}");
    folder.write("t-empty.csv", "");
    folder.write("t-no-header.csv", "0,F,1560,657,850,1011\n4,F,1572,886,1163,1281\n");
    folder.write("t-header.csv", "waist,hip\n");
    folder.write("map-word.ron", "waist is in the third column");
    folder.write("map-few.ron", "(measures: {waist_girth: Column(\"waist\")})");
    let survey = fs::read_to_string(asset("assets/columns/ansur2.ron")).unwrap();
    folder.write("map-off.ron", survey.replace("\"waistcircumference\"", "\"middle\""));
    folder.write("map.ron", survey);
    fs::copy(asset("assets/demo/measures.ron"), folder.path("m.ron")).unwrap();
    fs::copy(asset("tests/data/ansur2_trousers_dev.csv"), folder.path("t.csv")).unwrap();
    pieces(&folder);
    folder
}

/// Projects that start from traced pieces: one with a crossing outline, one with
/// a line on a piece that is not there.
fn pieces(folder: &Folder) {
    use hangtrue_adjust::{Document, Replay, Start};
    use hangtrue_files::project::{load, to_text};
    let document = load(&folder.path("p.ron")).unwrap();
    let pattern = (**Replay::new(document.clone()).current().unwrap()).clone();
    let traced = |pattern| {
        let start = Start::Pieces(pattern);
        to_text(&Document { start, pinned: vec![], changes: vec![], ..document.clone() }).unwrap()
    };
    folder.write("traced.ron", traced(pattern.clone()));
    let mut crossing = pattern.clone();
    let inseam = crossing.pieces[0].seam_mut("inseam").unwrap();
    let (start, end) = (inseam.start(), inseam.end());
    let far = hangtrue_geometry::CubicBez::new(
        start,
        start + hangtrue_geometry::Vec2::new(900.0, 0.0),
        end + hangtrue_geometry::Vec2::new(900.0, 0.0),
        end,
    );
    inseam.parts = vec![hangtrue_geometry::Chain::cubic(far)];
    folder.write("crossing.ron", traced(crossing));
    let mut astray = pattern;
    astray.lines[0].piece = "yoke".into();
    folder.write("astray.ron", traced(astray));
}

#[rustfmt::skip]
const CASES: &[Case] = &[
    // The command line itself.
    ("", FAILED, &["no screen", "hangtrue --help"]),
    ("sew", USAGE, &["sew"]),
    ("draft", USAGE, &["PROJECT"]),
    ("draft|p.ron|--json|--json", USAGE, &["--json"]),
    ("close|p.ron|--name|two|--json", USAGE, &["--json"]),
    ("begin|n.ron|--measures|m.ron|--unit|ell", USAGE, &["ell", "mm"]),
    ("close|p.ron|--name|", USAGE, &["--name"]),
    ("accept|p.ron|pinch", USAGE, &["--by"]),
    ("accept|p.ron|pinch|--by|magic", USAGE, &["magic", "top-and-scoop"]),
    ("edit|p.ron|one", USAGE, &["--off"]),
    ("edit|p.ron|one|--off|--on", USAGE, &["--on"]),
    ("edit|p.ron|one|--to-place|x", USAGE, &["x"]),
    ("print|p.ron|--out|x.pdf|--hem-allowance|5 mm", USAGE, &["--allowance"]),
    ("mark|p.ron|--thigh-drop|2", USAGE, &["--usual"]),
    ("pin|p.ron|--piece|back|--line|thigh", USAGE, &["--at"]),
    // Project files.
    ("draft|nowhere.ron", FAILED, &["nowhere.ron", "check the name"]),
    ("draft|.", FAILED, &["folder"]),
    ("draft|nowhere/p.ron", FAILED, &["nowhere/p.ron"]),
    ("draft|empty.ron", FAILED, &["empty.ron", "line 1"]),
    ("draft|half.ron", FAILED, &["half.ron", "line"]),
    ("draft|letter.ron", FAILED, &["letter.ron", "no project of Hangtrue"]),
    ("draft|bytes.ron", FAILED, &["bytes.ron", "not a text file"]),
    ("draft|/dev/zero", FAILED, &["/dev/zero", "device"]),
    ("draft|newer.ron", FAILED, &["version 2", "newer"]),
    ("draft|nan.ron", FAILED, &["nan.ron", "line"]),
    ("draft|inf.ron", FAILED, &["inf.ron", "line"]),
    ("draft|twice.ron", FAILED, &["twice.ron", "title", "line"]),
    ("draft|zero.ron", FAILED, &["waist girth", "of 0 in", "measure again"]),
    ("draft|short.ron", FAILED, &["inside leg height", "≈43 5/16 in", "waist height", "41 in"]),
    ("draft|crossing.ron", FAILED, &["outline of the back crosses itself"]),
    ("draft|astray.ron", FAILED, &["yoke", "back, front"]),
    ("draft|traced.ron", FAILED, &["pieces that were brought in"]),
    ("mark|crossing.ron|--usual", FAILED, &["crosses itself"]),
    ("print|crossing.ron|--out|x.pdf", FAILED, &["crosses itself"]),
    // Measures and starting.
    ("begin|n.ron|--measures|nowhere.ron", FAILED, &["nowhere.ron"]),
    ("begin|n.ron|--measures|.", FAILED, &["folder"]),
    ("begin|n.ron|--measures|/dev/zero", FAILED, &["device"]),
    ("begin|n.ron|--measures|letter.ron", FAILED, &["letter.ron", "measures", "line 1"]),
    ("begin|n.ron|--measures|m-nan.ron", FAILED, &["waist girth"]),
    ("begin|n.ron|--measures|m-word.ron", FAILED, &["wide"]),
    ("begin|n.ron|--measures|m-twice.ron", FAILED, &["waist girth", "twice"]),
    ("begin|n.ron|--measures|m-other.ron", FAILED, &["arm_length"]),
    ("begin|n.ron|--measures|m-few.ron", FAILED, &["is missing"]),
    ("begin|n.ron|--measures|m.ron|--plan|letter.ron", FAILED, &["letter.ron", "plan"]),
    ("begin|p.ron|--measures|m.ron", FAILED, &["p.ron", "is a project"]),
    ("begin|m.ron|--measures|m.ron|--replace", FAILED, &["m.ron", "made from"]),
    ("begin|nowhere/n.ron|--measures|m.ron", FAILED, &["nowhere", "not there"]),
    ("begin|m.ron/n.ron|--measures|m.ron", FAILED, &["m.ron", "not a folder"]),
    ("begin|/proc/n.ron|--measures|m.ron", FAILED, &["/proc"]),
    ("demo|m.ron", FAILED, &["m.ron"]),
    ("demo|/proc/out", FAILED, &["/proc/out"]),
    // Lines.
    ("mark|p.ron", FAILED, &["--usual"]),
    ("mark|p.ron|--line|x|--piece|back", FAILED, &["--below"]),
    ("mark|p.ron|--line|x|--piece|yoke|--below|5 below crotch point", FAILED, &["yoke", "front"]),
    ("mark|p.ron|--line|x|--piece|back|--below|crotch point", FAILED, &["55 mm below"]),
    ("mark|p.ron|--line|x|--piece|back|--below|5 below the knee pit", FAILED, &["knee pit", "crotch point"]),
    ("mark|p.ron|--line|x|--piece|back|--below|900 mm below hem at side", FAILED, &["x"]),
    ("mark|p.ron|--line|x|--piece|back|--below|wide below crotch point", FAILED, &["wide", "length"]),
    ("mark|p.ron|--line|x|--piece|back|--square-through|4 from hem of moon", FAILED, &["moon", "inseam"]),
    ("mark|p.ron|--line|x|--piece|back|--square-through|4 from toe of side", FAILED, &["toe", "waist at side"]),
    ("mark|p.ron|--line|x|--piece|back|--square-through|999 from hem of side", FAILED, &["side"]),
    ("mark|p.ron|--line|x|--piece|back|--square-through|-4 from hem of side", FAILED, &["side"]),
    ("mark|p.ron|--line|x|--piece|back|--between|50% from thigh to moon", FAILED, &["moon"]),
    ("mark|p.ron|--line|x|--piece|back|--between|half from thigh to knee", FAILED, &["50% from"]),
    ("mark|p.ron|--line|moon|--piece|back|--erase", FAILED, &["moon", "hip balance"]),
    ("mark|p.ron|--usual|--hip-depth|999", FAILED, &["side of the back", "choose from 0 in to ≈40 1/2 in"]),
    ("mark|p.ron|--usual|--hip-depth|-5", FAILED, &["side of the back", "from 0"]),
    ("mark|p.ron|--usual|--thigh-drop|999", FAILED, &["thigh"]),
    // Pinches.
    ("pin|p.ron|--piece|back|--line|thigh|--at|middle=1/4", FAILED, &["already", "pinch"]),
    ("pin|p.ron|--name|n|--piece|yoke|--line|thigh|--at|middle=1/4", FAILED, &["yoke", "back"]),
    ("pin|p.ron|--name|n|--piece|back|--line|moon|--at|middle=1/4", FAILED, &["moon", "thigh"]),
    ("pin|p.ron|--name|n|--piece|back|--line|thigh|--at|middle", FAILED, &["middle=7/16"]),
    ("pin|p.ron|--name|n|--piece|back|--line|thigh|--at|middle=wide", FAILED, &["wide"]),
    ("pin|p.ron|--name|n|--piece|back|--line|thigh|--at|middle=0", FAILED, &["no amount"]),
    ("pin|p.ron|--name|n|--piece|back|--line|thigh|--at|middle=99", FAILED, &["at most"]),
    ("pin|p.ron|--name|n|--piece|back|--line|thigh|--at|middle=1/4|--at|50%=1/8", FAILED, &["twice"]),
    ("pin|p.ron|--name|n|--piece|back|--line|thigh|--at|140%=1/4", FAILED, &["outside"]),
    ("pin|p.ron|--name|n|--piece|back|--line|thigh|--at|nan%=1/4", FAILED, &["nan%"]),
    ("pin|p.ron|--name|n|--piece|back|--line|thigh|--at|99 from side=1/4", FAILED, &["outside"]),
    ("pin|p.ron|--name|n|--piece|back|--line|thigh|--at|3 from hem=1/4", FAILED, &["hem", "inseam"]),
    ("weigh|p.ron|moon", FAILED, &["moon", "pinch"]),
    ("weigh|p.ron|pinch|--take|900%", FAILED, &["900%", "100%"]),
    ("weigh|p.ron|pinch|--cut-to|moon", FAILED, &["moon", "write it like"]),
    ("weigh|traced.ron|pinch", FAILED, &["hangtrue pin"]),
    ("accept|p.ron|moon|--by|even-strip", FAILED, &["moon", "pinch"]),
    ("accept|p.ron|pinch|--by|top-and-scoop|--amount|20", FAILED, &["20 in", "up to ≈9 1/16 in"]),
    ("accept|p.ron|pinch|--by|top-and-scoop|--amount|-20", FAILED, &["crotch seam of the back", "≈14 5/8 in"]),
    ("accept|p.ron|pinch|--by|top-and-scoop|--amount|wide", FAILED, &["wide"]),
    ("accept|p.ron|pinch|--by|top-and-scoop|--zero-from-side|99", FAILED, &["waist of the back"]),
    ("accept|p.ron|pinch|--by|slash-and-lap|--dart|moon", FAILED, &["moon", "back dart at side"]),
    ("accept|p.ron|pinch|--by|slash-and-lap|--cut-to|999 from side of waist", FAILED, &["second cut"]),
    ("accept|p.ron|pinch|--by|even-strip|--strip|40", FAILED, &["folds the cloth", "≈4 1/2 in"]),
    ("accept|p.ron|pinch|--by|even-strip|--strip|2|--ease", FAILED, &["ease", "%"]),
    // The list, rounds and versions.
    ("true|p.ron|--join|moon", FAILED, &["moon", "side seam"]),
    ("close|p.ron|--name|one", FAILED, &["one", "taken"]),
    ("close|p.ron|--name|now", FAILED, &["now", "means a pattern of its own"]),
    ("close|p.ron|--name|two|--date|frog", FAILED, &["frog", "2026-11-25"]),
    ("close|p.ron|--name|two|--date|2026-02-30", FAILED, &["2026-02-30"]),
    ("edit|p.ron|moon|--off", FAILED, &["moon", "thigh on the back"]),
    ("edit|traced.ron|moon|--off", FAILED, &["moon", "none yet"]),
    ("edit|p.ron|one|--to-place|77", FAILED, &["77", "from 1 to 9"]),
    ("edit|p.ron|one|--to-place|0", FAILED, &["from 1 to 9"]),
    ("edit|p.ron|one|--rename|start", FAILED, &["start", "means a pattern of its own"]),
    ("edit|p.ron|one|--rename|thigh on the back", FAILED, &["taken"]),
    ("compare|p.ron|--from|moon", FAILED, &["moon", "start, one, today"]),
    ("compare|p.ron|--to|moon", FAILED, &["moon"]),
    // Printing.
    ("print|p.ron|--out|x.pdf|--paper|A9", FAILED, &["A9", "Letter"]),
    ("print|p.ron|--out|x.pdf|--paper|roll", FAILED, &["roll 914 mm"]),
    ("print|p.ron|--out|x.pdf|--paper|roll 5 mm", FAILED, &["≈8 1/4 in"]),
    ("print|p.ron|--out|x.pdf|--overlap|400 mm", FAILED, &["overlap", "from 3/8 in to 1 7/8 in"]),
    ("print|p.ron|--out|x.pdf|--overlap|-5 mm", FAILED, &["overlap", "from 3/8 in"]),
    ("print|p.ron|--out|x.pdf|--margin|400 mm", FAILED, &["margin", "from 0 to 1/2 in"]),
    ("print|p.ron|--out|x.pdf|--allowance|900 mm", FAILED, &["allowance", "≈3 15/16 in"]),
    ("print|p.ron|--out|x.pdf|--allowance|-5 mm", FAILED, &["allowance"]),
    ("print|p.ron|--out|x.pdf|--of|moon", FAILED, &["moon", "start, one, today"]),
    ("print|p.ron|--out|x.pdf|--over|moon", FAILED, &["moon"]),
    ("print|p.ron|--out|nowhere/x.pdf", FAILED, &["nowhere", "not there"]),
    ("print|p.ron|--out|m.ron/x.pdf", FAILED, &["not a folder"]),
    ("print|p.ron|--out|.", FAILED, &["file"]),
    ("print|p.ron|--out|/proc/x.pdf", FAILED, &["/proc"]),
    ("print|p.ron|--out|/dev/full", FAILED, &["/dev/full"]),
    ("print|p.ron|--out|p.ron", FAILED, &["p.ron", "another name"]),
    ("print|p.ron|--out|letter.txt", FAILED, &["letter.txt", "already there", "--replace"]),
    // Tables.
    ("batch|nowhere.csv|--columns|map.ron", FAILED, &["nowhere.csv"]),
    ("batch|.|--columns|map.ron", FAILED, &["folder"]),
    ("batch|t.csv|--columns|nowhere.ron", FAILED, &["nowhere.ron"]),
    ("batch|t.csv|--columns|map-word.ron", FAILED, &["map-word.ron", "column map"]),
    ("batch|t.csv|--columns|map-few.ron", FAILED, &["says nothing of"]),
    ("batch|t.csv|--columns|map-off.ron", FAILED, &["middle", "waist girth", "waistcircumference"]),
    ("batch|t-empty.csv|--columns|map.ron", FAILED, &["t-empty.csv", "empty"]),
    ("batch|t-no-header.csv|--columns|map.ron", FAILED, &["waistcircumference", "waist girth"]),
    ("batch|t-header.csv|--columns|map.ron", FAILED, &["waistcircumference", "waist girth"]),
    ("batch|bytes.ron|--columns|map.ron", FAILED, &["waistcircumference", "waist girth"]),
    ("batch|t.csv|--columns|map.ron|--plan|letter.ron", FAILED, &["letter.ron", "plan"]),
    ("batch|t.csv|--columns|map.ron|--out|t.csv", FAILED, &["t.csv", "made from"]),
    ("batch|t.csv|--columns|map.ron|--out|map.ron", FAILED, &["map.ron", "made from"]),
    ("batch|t.csv|--columns|map.ron|--out|nowhere/x.csv", FAILED, &["nowhere"]),
    ("batch|t.csv|--columns|map.ron|--out|/dev/full", FAILED, &["/dev/full"]),
];

#[test]
fn every_case_fails_with_one_clear_message_and_touches_nothing() {
    let folder = folder("bad");
    let mut before = folder.content();
    let mut faults = Vec::new();
    for (case, code, says) in CASES {
        let words: Vec<&str> = if case.is_empty() { vec![] } else { case.split('|').collect() };
        faults.extend(fault(case, &folder.hangtrue(&words), *code, says));
        let after = folder.content();
        if after != before {
            faults.push(format!("{case}: a file was touched"));
            before = after;
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn a_file_of_100_mb_is_refused() {
    let folder = Folder::new("big");
    folder.write("big.ron", vec![b' '; 100 << 20]);
    for args in [vec!["draft", "big.ron"], vec!["begin", "p.ron", "--measures", "big.ron"]] {
        check("100 MB", &folder.hangtrue(&args), FAILED, &["big.ron", "larger than 64 MB"]);
    }
}

#[test]
fn a_project_broken_off_anywhere_is_refused() {
    let folder = Folder::new("broken-off");
    folder.pinned("p.ron", "3/8");
    let text = folder.read("p.ron");
    for tenth in 0..40 {
        let cut = text.trim_end().len() * tenth / 40;
        folder.write("cut.ron", &text[..cut]);
        let said = folder.hangtrue(&["walk", "cut.ron"]);
        check(&format!("cut at {cut}"), &said, FAILED, &["cut.ron", "line"]);
    }
}

#[test]
fn every_absurd_measure_is_refused_by_its_name() {
    let folder = Folder::new("absurd");
    let measures = fs::read_to_string(asset("assets/demo/measures.ron")).unwrap();
    let lines: Vec<&str> = measures.lines().filter(|l| l.contains(": \"")).collect();
    assert!(lines.len() > 12);
    for line in lines {
        let (key, _) = line.trim().split_once(':').unwrap();
        for absurd in ["0", "-700", "1", "99999", "inf", "NaN"] {
            folder.write("m.ron", measures.replace(line, &format!("{key}: {absurd},")));
            let said = folder.hangtrue(&["begin", "p.ron", "--measures", "m.ron"]);
            let name = key.replace('_', " ");
            check(&format!("{key}: {absurd}"), &said, FAILED, &[name.split(' ').next().unwrap()]);
            assert!(!folder.path("p.ron").exists());
        }
    }
}

#[test]
fn output_that_nobody_reads_is_no_panic() {
    let folder = Folder::new("pipe");
    folder.pinned("p.ron", "3/8");
    let columns = asset("assets/columns/ansur2.ron");
    let table = asset("tests/data/ansur2_trousers_dev.csv");
    for args in [
        vec!["list", "p.ron"],
        vec!["draft", "p.ron", "--json"],
        vec!["batch", &table, "--columns", &columns],
        vec!["demo", "out"],
    ] {
        // Both outputs end in a pipe whose reading end is closed before the start.
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let run = |stderr: Stdio| {
            Command::new(env!("CARGO_BIN_EXE_hangtrue"))
                .args(&args)
                .current_dir(&folder.0)
                .stdout(writer.try_clone().unwrap())
                .stderr(stderr)
                .output()
                .unwrap()
        };
        let quiet = run(Stdio::piped());
        assert_eq!(quiet.status.code(), Some(FAILED), "{args:?}");
        assert!(quiet.stderr.is_empty(), "{args:?}: {}", String::from_utf8_lossy(&quiet.stderr));
        let silent = run(writer.try_clone().unwrap().into());
        assert_eq!(silent.status.code(), Some(FAILED), "{args:?}");
    }
    // What a command saves is saved also when nobody hears of it.
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    let mut accept = Command::new(env!("CARGO_BIN_EXE_hangtrue"));
    accept.args(["accept", "p.ron", "pinch", "--by", "distribute"]).current_dir(&folder.0);
    accept.stdout(writer).stderr(Stdio::null());
    assert!(!accept.status().unwrap().success());
    assert!(folder.good(&["list", "p.ron"]).contains("by even strip"));
}

#[cfg(unix)]
#[test]
fn names_that_are_not_text_are_no_panic() {
    use std::os::unix::ffi::OsStrExt;
    let folder = Folder::new("names");
    let strange = std::ffi::OsStr::from_bytes(b"p\xff.ron");
    let said = Command::new(env!("CARGO_BIN_EXE_hangtrue"))
        .arg("draft")
        .arg(strange)
        .current_dir(&folder.0)
        .output()
        .unwrap();
    check("draft p\\xff.ron", &said, FAILED, &["check the name"]);
}

#[cfg(unix)]
#[test]
fn only_ordinary_files_are_read_and_nothing_of_the_system_is_said() {
    let folder = folder("ordinary");
    assert!(Command::new("mkfifo").arg(folder.path("pipe.ron")).status().unwrap().success());
    fs::File::create(folder.path("huge.csv")).unwrap().set_len(1 << 40).unwrap();
    std::os::unix::fs::symlink("nowhere.ron", folder.path("link.ron")).unwrap();
    let map = ["--columns", "map.ron"];
    let long = format!("{}.ron", "x".repeat(300));
    let cases: [(Vec<&str>, &str); 9] = [
        (vec!["list", "pipe.ron"], "is a pipe"),
        (vec!["list", "/dev/zero"], "is a device"),
        (vec!["list", "link.ron"], "is a link to"),
        (vec!["list", "no.ron"], "it is not there"),
        (vec!["list", long.as_str()], "the name is too long"),
        (vec!["list", "p.ron/p.ron"], "a file where a folder should be"),
        ([&["batch", "/dev/zero"], &map[..]].concat(), "is a device"),
        ([&["batch", "pipe.ron"], &map[..]].concat(), "is a pipe"),
        ([&["batch", "huge.csv"], &map[..]].concat(), "larger than"),
    ];
    for (args, says) in cases {
        let output = folder.hangtrue(&args);
        check(&args.join(" "), &output, FAILED, &[says]);
        let complaint = String::from_utf8_lossy(&output.stderr);
        assert!(!complaint.contains("os error"), "{complaint}");
    }
    let good = folder.read("p.ron");
    folder.write("mark.ron", format!("\u{feff}{good}"));
    folder.good(&["list", "mark.ron"]);
}

#[test]
fn a_name_leaves_the_house_only_when_asked() {
    let folder = folder("name");
    let name = "Zebedee Quill";
    let mut document = hangtrue_files::project::load(&folder.path("p.ron")).unwrap();
    document.client = name.into();
    folder.write("q.ron", hangtrue_files::project::to_text(&document).unwrap());
    for form in ["svg", "dxf"] {
        let (without, with) = (format!("a.{form}"), format!("b.{form}"));
        folder.good(&["send", "q.ron", "--out", &without]);
        folder.good(&["send", "q.ron", "--with-name", "--out", &with]);
        assert!(!folder.read(&without).contains(name), "{form}");
        let with = folder.read(&with);
        assert!(with.contains(name) && !with.contains(&format!("SIZE: {name}")), "{form}");
    }
}

#[test]
fn a_name_does_not_steer_the_terminal() {
    let folder = folder("steer");
    let mut document = hangtrue_files::project::load(&folder.path("p.ron")).unwrap();
    document.client = "Ma\u{1b}[31mren\u{202e}\u{9b}".into();
    document.title = document.client.clone();
    folder.write("q.ron", hangtrue_files::project::to_text(&document).unwrap());
    let steering = ['\u{1b}', '\u{202e}', '\u{9b}'];
    for args in [&["list", "q.ron"][..], &["list", "q.ron", "--json"], &["journal", "q.ron"]] {
        let output = folder.hangtrue(args);
        let said = [output.stdout, output.stderr].concat();
        assert!(!String::from_utf8(said).unwrap().contains(steering), "{args:?}");
    }
    let output = folder.hangtrue(&["list", "q\u{1b}[31m.ron"]);
    let complaint = String::from_utf8(output.stderr).unwrap();
    assert!(!complaint.contains(steering) && complaint.contains("\\u{1b}"), "{complaint}");
    let output = folder.hangtrue(&["li\u{1b}[31mst", "q.ron"]);
    assert!(!String::from_utf8(output.stderr).unwrap().contains(steering));
}
