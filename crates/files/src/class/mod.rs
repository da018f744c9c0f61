//! A class: for every pupil of a list a block, drawn and printed in one run. A row that
//! fails hurts no other; what failed and why stands in the overview.

mod list;
mod overview;
mod pupil;

pub use list::{ClassError, ClassList, MOST_PUPILS, blank_list};
pub use overview::{csv_of, overview_pdf};
pub use pupil::{Made, Pupil};

use crate::print::{Paper, Reduced, TileOptions};
use hangtrue_adjust::CuttingPlan;
use hangtrue_pattern::Plan;
use hangtrue_pattern::units::Unit;
use std::path::{Path, PathBuf};

/// What is made for every pupil.
#[derive(Debug, Clone)]
pub struct ClassWork {
    /// Eases and widths of the blocks.
    pub plan: Plan,
    /// The unit lengths are shown in.
    pub unit: Unit,
    /// What is cut.
    pub cutting: CuttingPlan,
    /// What is printed on.
    pub paper: Paper,
    /// How the sheets are joined.
    pub tiles: TileOptions,
    /// Smaller than the pattern, and not for cutting; none at full size.
    pub reduced: Option<Reduced>,
    /// What is made.
    pub title: String,
    /// The day.
    pub today: String,
    /// Whether a project is saved for every pupil too.
    pub projects: bool,
    /// Files that are there already are written over.
    pub over: crate::save::Over,
}

/// What came of a class.
#[derive(Debug, Clone, Default)]
pub struct ClassDone {
    /// The pupils, in the order of the list, as far as the run went.
    pub pupils: Vec<Pupil>,
    /// How many the list has.
    pub of: usize,
    /// The overview as a table and on paper.
    pub overview: Vec<PathBuf>,
}

impl ClassDone {
    /// How many have their sheets, and how many sheets those are.
    pub fn tally(&self) -> (usize, usize) {
        let made = self.pupils.iter().filter_map(|p| p.made.as_ref().ok());
        made.fold((0, 0), |(pupils, sheets), made| (pupils + 1, sheets + made.sheets))
    }

    /// In a sentence.
    pub fn told(&self) -> String {
        let (made, sheets) = self.tally();
        let refused = self.pupils.len() - made;
        let left = match self.of - self.pupils.len() {
            0 => String::new(),
            n => format!(", {n} not come to"),
        };
        let sheets = if sheets == 1 { "1 sheet".to_owned() } else { format!("{sheets} sheets") };
        format!("{made} of {} pupils printed, {refused} refused{left}: {sheets} in all", self.of)
    }
}

/// Makes the sheets of every pupil of the list into a folder, one after the other. After
/// each `heard` is told who it was and how many are done; it says whether to go on. What
/// was made stays, and the overview is written for as far as the run went.
///
/// # Errors
/// [`ClassError`] when the folder or the overview cannot be written. What is wrong with one
/// pupil is no error: it stands with the pupil.
pub fn run_class(
    list: ClassList,
    work: &ClassWork,
    folder: &Path,
    heard: &mut dyn FnMut(&Pupil, usize, usize) -> bool,
) -> Result<ClassDone, ClassError> {
    overview::may_be_written(work, folder)?;
    std::fs::create_dir_all(folder)
        .map_err(|why| ClassError::Folder { path: folder.to_owned(), why })?;
    let of = list.rows.len();
    let mut done = ClassDone { of, ..ClassDone::default() };
    for (index, row) in list.rows.into_iter().enumerate() {
        let pupil = pupil::make(row, index + 1, (work, folder));
        let goes_on = heard(&pupil, index + 1, of);
        done.pupils.push(pupil);
        if !goes_on {
            break;
        }
    }
    done.overview = overview::write(&done, work, folder)?;
    Ok(done)
}
