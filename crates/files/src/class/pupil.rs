//! One pupil: drafted, cut out on paper, saved.

use super::ClassWork;
use crate::batch::{Row, RowError};
use crate::print::{DrawOptions, fitting_label, handout, print_pattern};
use crate::project::save_new_over;
use crate::save::write_output;
use hangtrue_adjust::{Document, OPEN_ROUND, Replay};
use hangtrue_cut::pieces_to_cut;
use hangtrue_pattern::words::InUnit;
use std::path::{Path, PathBuf};

/// A pupil and what came of the row.
#[derive(Debug, Clone)]
pub struct Pupil {
    /// Line of the list, the names of the columns being line 1.
    pub line: u64,
    /// The name, or the line where none is written.
    pub name: String,
    /// What was made, or why nothing was.
    pub made: Result<Made, String>,
}

/// What was made for a pupil.
#[derive(Debug, Clone, PartialEq)]
pub struct Made {
    /// The PDF.
    pub pdf: PathBuf,
    /// Its pages.
    pub sheets: usize,
    /// The project, where one is saved too.
    pub project: Option<PathBuf>,
    /// What the draft says of the block.
    pub notes: Vec<String>,
}

/// Makes what is made for one.
pub(super) fn make(row: Row, number: usize, (work, folder): (&ClassWork, &Path)) -> Pupil {
    let Row { line, name, measures, .. } = row;
    let made = measures.map_err(|why: RowError| why.to_string()).and_then(|measures| {
        let mut document =
            Document::from_measures(&work.title, &name, work.unit, measures, work.plan.clone());
        document.cutting = work.cutting.clone();
        one(&document, &file_stem(&name, number), (work, folder))
    });
    Pupil { line, name, made }
}

fn one(
    document: &Document,
    stem: &str,
    (work, folder): (&ClassWork, &Path),
) -> Result<Made, String> {
    let unit = work.unit;
    let replay = Replay::new(document.clone());
    let pattern = replay.current().map_err(|e| e.in_unit(unit))?;
    let notes = match replay.draft_report() {
        Some(report) => report.notes.iter().map(|note| note.in_unit(unit)).collect(),
        None => Vec::new(),
    };
    let set = pieces_to_cut(pattern, document).map_err(|e| e.in_unit(unit))?;
    let draw = DrawOptions {
        unit,
        set: Some(&set),
        label: fitting_label(document, OPEN_ROUND, &work.today),
        ..DrawOptions::default()
    };
    let (paper, tiles, title) = (work.paper, &work.tiles, &work.title);
    let (pdf, sheets) = match work.reduced {
        Some(reduced) => {
            let made = handout((&set.pattern, &draw), reduced, paper, tiles, title);
            made.map(|made| (made.pdf, made.grid.sheets()))
        }
        None => print_pattern(&set.pattern, &draw, paper, tiles, title)
            .map(|printed| (printed.pdf, printed.pages)),
    }
    .map_err(|e| e.in_unit(unit))?;
    let path = folder.join(format!("{stem}.pdf"));
    write_output(&path, &pdf, work.over).map_err(|e| e.to_string())?;
    let project = work.projects.then(|| folder.join(format!("{stem}.ron")));
    if let Some(project) = &project {
        save_new_over(project, document, work.over).map_err(|e| e.to_string())?;
    }
    Ok(Made { pdf: path, sheets, project, notes })
}

/// A name of a file from a pupil's name, the number before it, so that no two are the same.
fn file_stem(name: &str, number: usize) -> String {
    let plain: String = name
        .chars()
        .map(|c| if c.is_alphanumeric() || " -_".contains(c) { c } else { ' ' })
        .take(40)
        .collect();
    let plain = plain.split_whitespace().collect::<Vec<_>>().join(" ");
    format!("{number:02} {plain}").trim_end().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_has_no_more_of_a_name_than_a_folder_can_hold() {
        assert_eq!(file_stem("Anna K.", 3), "03 Anna K");
        assert_eq!(file_stem("../../etc/passwd", 12), "12 etc passwd");
        assert_eq!(file_stem("", 1), "01");
        assert_eq!(file_stem("Łucja  Ø.", 7), "07 Łucja Ø");
        assert!(file_stem(&"x".repeat(300), 1).len() < 60);
    }
}
