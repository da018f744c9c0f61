//! What stands on paper for the maker's own table, and on what is sent out: read with
//! poppler's pdftotext, not with our own writer.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // helpers of tests may stop a test

use crate::common::{Folder, asset};
use std::process::Command;

fn page(folder: &Folder, pdf: &str, number: usize) -> String {
    let n = number.to_string();
    let read = Command::new("pdftotext")
        .args(["-f", &n, "-l", &n, "-layout", pdf, "-"])
        .current_dir(&folder.0)
        .output()
        .unwrap();
    String::from_utf8_lossy(&read.stdout).into_owned()
}

#[test]
fn every_sheet_names_client_fitting_and_day_and_what_is_sent_out_does_not() {
    let folder = Folder::new("labels");
    let measures = asset("assets/demo/measures.ron");
    let begin = ["begin", "p.ron", "--measures", &measures, "--client", "K 17", "--unit", "cm"];
    folder.good(&begin);
    let said = folder.good(&["print", "p.ron", "--out", "first.pdf"]);
    let sheets: usize = said.split('(').nth(1).unwrap().split(' ').next().unwrap().parse().unwrap();
    assert!(said.contains("of A4") && sheets > 10, "{said}");
    for number in 1..=sheets {
        let text = page(&folder, "first.pdf", number);
        assert!(text.contains("toile 1, 20") && text.contains("K 17"), "page {number}:\n{text}");
        assert!(!text.contains("version: now"));
    }
    // After the round is closed the next toile has a name of its own.
    folder.good(&["close", "p.ron", "--name", "toile 1", "--date", "2026-11-26"]);
    folder.good(&["print", "p.ron", "--out", "second.pdf", "--paper", "letter"]);
    assert!(page(&folder, "second.pdf", 2).contains("toile 2, 20"));
    folder.good(&["print", "p.ron", "--out", "again.pdf", "--of", "toile 1"]);
    assert!(page(&folder, "again.pdf", 2).contains("toile 1, 20"));
    // Sent out, nobody's name goes along.
    for file in ["sent.svg", "sent.dxf"] {
        folder.good(&["send", "p.ron", "--out", file]);
        assert!(!folder.read(file).contains("K 17"), "{file}");
    }
}
