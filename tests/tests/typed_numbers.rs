//! A number stays a number until it is shown in the maker's unit: no text of the program
//! writes one with a unit behind it, but for the places listed here, each with its reason.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::sources::files;
use std::path::Path;

/// Where a unit may be written behind a number: the file, a word of the line, and why.
const MEANT: &[(&str, &str, &str)] = &[
    ("geometry/src/units.rs", "", "the one place where a number is shown in a unit"),
    ("adjust/src/outcome.rs", "Unit::", "shows a row so that it adds up as shown"),
    ("files/src/exchange/svg_out.rs", "<svg", "a file's own size is in mm"),
    ("files/src/worn/droops.rs", "leg", "a table file names the unit of each number"),
    ("cli/src/verbs/bring.rs", "in the file is", "the scale of a file is mm for its number"),
    ("cli/src/verbs/trace.rs", "mm a pixel", "the scale of a picture"),
    ("desk/src/tracing/job_file.rs", "every pixel", "the scale of a picture"),
    ("desk/src/tracing/photo.rs", "every pixel", "the scale of a picture"),
];

/// Whether a line of code writes a unit behind a value: `{x} mm`, `{:.1}mm`, `} cm`.
fn writes_a_unit(line: &str) -> bool {
    let behind = line.split('}').skip(1);
    line.contains('"')
        && behind.into_iter().any(|rest| {
            let word: String =
                rest.trim_start_matches(' ').chars().take_while(|c| c.is_alphabetic()).collect();
            // “in” is also a word of English; inches are written by units.rs alone.
            matches!(word.as_str(), "mm" | "cm")
        })
}

#[test]
fn no_text_writes_a_unit_behind_a_number() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates");
    let mut found = Vec::new();
    files(&root, "rs", &mut found);
    let mut strays = Vec::new();
    let mut met = vec![false; MEANT.len()];
    for path in found {
        let name = path.strip_prefix(&root).unwrap().to_string_lossy().replace('\\', "/");
        if !name.contains("/src/") || name.ends_with("tests.rs") {
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        let code = text.split("#[cfg(test)]\nmod tests").next().unwrap();
        for (number, line) in code.lines().enumerate() {
            if line.trim_start().starts_with("//") || !writes_a_unit(line) {
                continue;
            }
            let meant = MEANT.iter().position(|m| name.ends_with(m.0) && line.contains(m.1));
            match meant {
                Some(index) => met[index] = true,
                None => strays.push(format!("{name}:{}: {}", number + 1, line.trim())),
            }
        }
    }
    assert!(strays.is_empty(), "write a Length, or show_fine:\n{}", strays.join("\n"));
    for (meant, met) in MEANT.iter().zip(met) {
        assert!(met, "{} needs no exception any more: {}", meant.0, meant.2);
    }
}

#[test]
fn a_stray_unit_is_found() {
    assert!(writes_a_unit(r#"format!("off by {:.1} mm", off)"#));
    assert!(writes_a_unit(r#"format!("{width}mm wide")"#));
    assert!(!writes_a_unit(r#"format!("{} in the photo", name)"#));
    assert!(!writes_a_unit("if mm > 3.0 { mm } else { mm }"));
}
