//! What came of the class: a table, and a page to tick while it is handed out.

use super::{ClassDone, ClassError, ClassWork, Pupil};
use crate::print::{Align, Block, Column, Report, Table, report_pdf};
use crate::save::{may_write, write_output};
use std::path::{Path, PathBuf};

/// Names of the two files.
const TABLE: &str = "class list.csv";
const PAGE: &str = "class list.pdf";

/// Whether both may be written there: told before the first pupil, not after the last.
pub(super) fn may_be_written(work: &ClassWork, folder: &Path) -> Result<(), ClassError> {
    for name in [TABLE, PAGE] {
        may_write(&folder.join(name), work.over)?;
    }
    Ok(())
}

/// Writes both; gives where they lie.
pub(super) fn write(
    done: &ClassDone,
    work: &ClassWork,
    folder: &Path,
) -> Result<Vec<PathBuf>, ClassError> {
    let files = [(TABLE, csv_of(done)), (PAGE, overview_pdf(done, work)?)];
    let mut paths = Vec::new();
    for (name, bytes) in files {
        let path = folder.join(name);
        write_output(&path, &bytes, work.over)?;
        paths.push(path);
    }
    Ok(paths)
}

/// The overview as CSV: line, name, what came of it, sheets, file, remarks.
pub fn csv_of(done: &ClassDone) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing into memory does not fail.
    let _ = writer.write_record(["line", "name", "result", "sheets", "file", "remarks"]);
    for pupil in &done.pupils {
        let _ = writer.write_record(row_of(pupil));
    }
    writer.into_inner().unwrap_or_default()
}

fn row_of(pupil: &Pupil) -> [String; 6] {
    let (line, name) = (pupil.line.to_string(), pupil.name.clone());
    match &pupil.made {
        Ok(made) => {
            let file = made.pdf.file_name().unwrap_or_default().to_string_lossy().into_owned();
            [line, name, "printed".into(), made.sheets.to_string(), file, made.notes.join("; ")]
        }
        Err(why) => [line, name, "refused".into(), String::new(), String::new(), why.clone()],
    }
}

/// The overview on paper.
///
/// # Errors
/// [`crate::print::PrintError`] when the PDF cannot be put together.
pub fn overview_pdf(done: &ClassDone, work: &ClassWork) -> Result<Vec<u8>, ClassError> {
    let scale = work.reduced.map_or("full size", crate::print::Reduced::name);
    let left = |heading: &str| Column { heading: heading.to_owned(), align: Align::Left };
    let sheets = Column { heading: "sheets".to_owned(), align: Align::Right };
    let row = |pupil: &Pupil| {
        let [_, name, _, sheets, file, _] = row_of(pupil);
        vec![name, sheets, if file.is_empty() { "refused, see below".into() } else { file }]
    };
    let table = Table {
        columns: vec![left("pupil"), sheets, left("file")],
        rows: done.pupils.iter().map(row).collect(),
    };
    let mut blocks = vec![Block::Lead(format!("{}.", done.told())), Block::Table(table)];
    let mut remarks = Vec::new();
    for pupil in &done.pupils {
        match &pupil.made {
            Err(why) => {
                let why = why.trim_end_matches('.');
                remarks.push(format!("{} (line {}), refused: {why}.", pupil.name, pupil.line))
            }
            Ok(made) if !made.notes.is_empty() => {
                remarks.push(format!("{}: {}.", pupil.name, made.notes.join("; ")));
            }
            Ok(_) => {}
        }
    }
    if !remarks.is_empty() {
        blocks.push(Block::Heading("What to look at".into()));
        blocks.extend(remarks.into_iter().map(Block::Paragraph));
    }
    let care = match work.reduced {
        Some(_) => "Not for cutting: the sheets are for reading and drawing on.",
        None => {
            "Before anything is cut, each pupil measures the squares on the first page. Close shears and cover a rotary blade between cuts."
        }
    };
    blocks.push(Block::Paragraph(care.into()));
    Ok(report_pdf(&Report {
        paper: crate::print::people::paper_of(work.unit),
        title: format!("Class list · {}", work.title),
        client: format!("{} · {scale} on {}", work.today, work.paper.name_in(work.unit)),
        blocks,
        foot: "Hangtrue · handed out ticked off by name".into(),
    })?)
}
