//! The seeds of the fuzz targets (tests/fuzz) and every input that once broke
//! one: each is brought in or refused in words, within a second.

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use hangtrue_adjust::Replay;
use hangtrue_files::batch::{ColumnMap, run_batch};
use hangtrue_files::exchange::{BringOptions, FileUnit, Kind, bring_bytes};
use hangtrue_files::{droops, photo, project};
use hangtrue_pattern::{Plan, units::Unit};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// No input may take longer; debug builds get more than the second the fuzzer
/// gives.
const LONGEST: Duration = Duration::from_secs(5);

fn inputs(target: &str) -> Vec<(PathBuf, Vec<u8>)> {
    let root = hangtrue_tests::workspace_root();
    let folders = [root.join("tests/fuzz/seeds"), root.join("crates/files/tests/fuzzed")];
    // A target that never broke keeps nothing of what broke it.
    let files = folders.iter().filter_map(|f| std::fs::read_dir(f.join(target)).ok()).flatten();
    let paths = files.map(|f| f.unwrap().path()).filter(|p| p.is_file());
    paths.map(|p| (p.clone(), std::fs::read(p).unwrap())).collect()
}

fn run(target: &str, work: impl Fn(&[u8])) {
    let inputs = inputs(target);
    assert!(!inputs.is_empty(), "{target} has no seeds");
    for (path, bytes) in inputs {
        let start = Instant::now();
        work(&bytes);
        let took = start.elapsed();
        assert!(took < LONGEST, "{} took {took:?}", path.display());
    }
}

fn bring(kind: Kind, bytes: &[u8]) {
    let options = BringOptions { unit: Some(FileUnit::Mm), known: None };
    if let Err(why) = bring_bytes(kind, bytes, &options) {
        assert!(why.to_string().len() > 30, "{why}");
    }
}

#[test]
fn svg_inputs() {
    run("svg", |bytes| bring(Kind::Svg, bytes));
}

#[test]
fn dxf_inputs() {
    run("dxf", |bytes| bring(Kind::Dxf, bytes));
}

#[test]
fn project_inputs() {
    run("project", |bytes| {
        let Ok(text) = std::str::from_utf8(bytes) else { return };
        let Ok(document) = project::from_text(text, "fuzzed") else { return };
        let written = project::to_text(&document).unwrap();
        assert_eq!(project::from_text(&written, "fuzzed").unwrap(), document);
        let _ = Replay::new(document).current();
    });
}

#[test]
fn picture_inputs() {
    run("picture", |bytes| {
        if let Err(why) = photo::read_and_look(bytes) {
            assert!(why.to_string().len() > 30, "{why}");
        }
    });
}

#[test]
fn droops_inputs() {
    run("droops", |bytes| {
        let Ok(text) = std::str::from_utf8(bytes) else { return };
        for name in ["droops.csv", "droops.ron"] {
            if let Err(why) = droops::read_droops(text, Path::new(name), Unit::Mm) {
                assert!(why.to_string().len() > 20, "{why}");
            }
        }
    });
}

#[test]
fn column_map_inputs() {
    run("column_map", |bytes| {
        let Ok(text) = std::str::from_utf8(bytes) else { return };
        let (map, table) = text.split_once("\n===\n").unwrap_or((text, ""));
        let Ok(map) = ColumnMap::read(map) else { return };
        let plan = Plan::default();
        if let Ok(rows) = run_batch(table.as_bytes(), &map, &plan) {
            assert!(rows.take(100).count() <= 100);
        }
    });
}
