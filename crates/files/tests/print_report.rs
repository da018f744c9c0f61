//! A report is set, sound, and its words can be read back by poppler.

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used)]

use crate::common::python::{out_folder, run};
use crate::common::sample;
use hangtrue_files::print::*;
use hangtrue_files::save::write_whole;
use std::process::Command;

fn row(texts: [&str; 4]) -> Vec<String> {
    texts.map(str::to_owned).to_vec()
}

fn report() -> Report {
    let (old, new) = (sample(0.0), sample(9.525));
    let right = |heading: &str| Column { heading: heading.into(), align: Align::Right };
    Report {
        paper: Paper::A4,
        title: "The back leg of Zoë’s trousers".into(),
        client: "Zoë Łukasiewicz-Ødegård (invented)  ·  version 1 → 2  ·  25 November 2026".into(),
        blocks: vec![
            Block::Lead(
                "3/8 in came off the top of the centre back; the crotch seam kept its length."
                    .into(),
            ),
            Block::Paragraph(
                "The hip balance line drooped at the middle of the back thigh and ran out at both \
                 seams. The pinch was taken off the top and the crotch curve was scooped by as \
                 much. These numbers are a sample for this test, not a fitting."
                    .into(),
            ),
            Block::Heading("Before and after".into()),
            Block::Pictures {
                pictures: vec![
                    Picture {
                        part: None,
                        scene: before_after(&old, &new, &["back"]).unwrap(),
                        caption: "version 1 broken, version 2 drawn through".into(),
                    },
                    Picture {
                        part: None,
                        scene: scene_of(&new, &DrawOptions::default()).unwrap(),
                        caption: "version 2 with its lines".into(),
                    },
                ],
                height: 82.0,
            },
            Block::Heading("What changed".into()),
            Block::Table(Table {
                columns: vec![
                    Column { heading: "Measure".into(), align: Align::Left },
                    right("Version 1"),
                    right("Version 2"),
                    right("Change"),
                ],
                rows: vec![
                    row(["Centre back, waist to crotch point", "372.4 mm", "362.9 mm", "−9.5 mm"]),
                    row(["Side seam, kept", "1041.0 mm", "1041.0 mm", "0.0 mm"]),
                    row(["Waist", "5 1/2 in", "≈5 5/8 in", "≈1/8 in"]),
                ],
            }),
            Block::Paragraph("Some wrinkle on a slim back leg stays whatever is done.".into()),
        ],
        foot: "Hangtrue · invented sample".into(),
    }
}

#[test]
fn a_report_is_one_sound_page_and_its_words_read_back() {
    let path = out_folder("report").join("report.pdf");
    write_whole(&path, &report_pdf(&report()).unwrap()).unwrap();
    run(Command::new("qpdf").arg("--check").arg(&path));
    let info = run(Command::new("pdfinfo").arg(&path));
    assert!(info.lines().any(|l| l.starts_with("Pages:") && l.ends_with(" 1")), "{info}");
    let text = run(Command::new("pdftotext").arg("-layout").arg(&path).arg("-"));
    for words in ["Zoë Łukasiewicz-Ødegård", "−9.5 mm", "≈5 5/8 in", "What changed"] {
        assert!(text.contains(words), "{words} not in:\n{text}");
    }
}

#[test]
fn a_long_report_runs_on_and_loses_no_row() {
    let mut long = report();
    let rows: Vec<Vec<String>> =
        (0..120).map(|i| row([&format!("measure number {i}"), "1 mm", "2 mm", "1 mm"])).collect();
    if let Some(Block::Table(table)) = long.blocks.iter_mut().find(|b| matches!(b, Block::Table(_)))
    {
        table.rows = rows;
    }
    let path = out_folder("report").join("long.pdf");
    write_whole(&path, &report_pdf(&long).unwrap()).unwrap();
    let text = run(Command::new("pdftotext").arg("-layout").arg(&path).arg("-"));
    for i in 0..120 {
        assert!(text.contains(&format!("measure number {i} ")), "row {i}");
    }
}
