//! The sheets that are written on, read back from the PDFs with poppler's pdftotext and
//! pdfinfo, not with our own writer.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // helpers of tests may stop a test

use crate::common::Folder;
use hangtrue_adjust::reading::Sign;
use hangtrue_pattern::Measure;
use std::process::Command;

/// The words of a PDF, each run of white a single space.
fn text_of(folder: &Folder, pdf: &str) -> String {
    let read = Command::new("pdftotext").arg("-layout").arg(folder.path(pdf)).arg("-").output();
    let text = String::from_utf8(read.expect("pdftotext of poppler-utils").stdout).unwrap();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn info_of(folder: &Folder, pdf: &str) -> String {
    let read = Command::new("pdfinfo").arg(folder.path(pdf)).output();
    String::from_utf8(read.expect("pdfinfo of poppler-utils").stdout).unwrap()
}

#[test]
fn the_measuring_sheet_asks_for_every_measure_on_one_page() {
    let folder = Folder::new("sheet-measuring");
    for (unit, size, word) in [("cm", "A4", "cm"), ("1/8", "letter", "in")] {
        let pdf = format!("{word}.pdf");
        folder.good(&["sheet", "measuring", "--out", &pdf, "--unit", unit]);
        let (text, info) = (text_of(&folder, &pdf), info_of(&folder, &pdf));
        for measure in Measure::ALL {
            let name = measure.name();
            assert!(text.to_lowercase().contains(&name.to_lowercase()), "{name} in {unit}");
        }
        assert_eq!(text.matches("needed").count(), Measure::REQUIRED.len());
        let boxes = text.split(' ').filter(|w| *w == word).count();
        assert!(boxes >= Measure::ALL.len(), "{boxes} boxes in {word}");
        assert!(text.contains("Ask before you measure"), "the caution stands there");
        assert!(info.contains("Pages:           1"), "{info}");
        assert!(info.contains(&format!("({size})")), "{info}");
    }
}

#[test]
fn the_fitting_sheet_has_each_marked_line_sign_and_room_for_pins() {
    let folder = Folder::new("sheet-fitting");
    folder.begin("p.ron");
    folder.good(&["sheet", "fitting", "p.ron", "--out", "bare.pdf"]);
    let bare = text_of(&folder, "bare.pdf");
    assert!(!bare.contains("back · thigh"), "no line is marked yet");
    folder.good(&["mark", "p.ron", "--usual"]);
    folder.good(&["sheet", "fitting", "p.ron", "--out", "f.pdf"]);
    let text = text_of(&folder, "f.pdf");
    for line in ["back · thigh", "front · thigh", "back · knee", "front · hem", "back · waist"]
    {
        assert!(text.contains(line), "{line} in {text}");
    }
    for sign in Sign::ALL {
        assert!(text.contains(sign.name()), "{} in {text}", sign.name());
    }
    assert!(text.contains("Count the pins in"), "the caution stands there");
    assert!(text.contains("predicted, not seen"), "{text}");
    folder.good(&["sheet", "marking", "p.ron", "--out", "k.pdf"]);
    assert!(text_of(&folder, "k.pdf").contains("Lines that go to the cloth"));
}
