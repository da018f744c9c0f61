//! The list of a class: a table of names and measures.

use crate::batch::{BatchError, ColumnMap, Row, rows};
use crate::io_words::words_of_io;
use crate::save::SaveError;
use hangtrue_pattern::Measure;
use hangtrue_pattern::units::Unit;
use std::path::PathBuf;

/// More pupils than this are a mistake in the file, not a class.
pub const MOST_PUPILS: usize = 400;

/// A class that cannot be begun, or whose results cannot be written.
#[derive(Debug, thiserror::Error)]
pub enum ClassError {
    /// The list cannot be read.
    #[error(transparent)]
    Table(#[from] BatchError),
    /// There is nobody in it.
    #[error("the list has no pupil in it: write one in each line under the names of the columns")]
    Nobody,
    /// There are too many in it.
    #[error("the list has {count} lines; a class has {MOST_PUPILS} at most: divide it")]
    TooMany {
        /// How many.
        count: usize,
    },
    /// The folder cannot be made.
    #[error("the folder “{}” cannot be made: {}; choose another", path.display(), words_of_io(why))]
    Folder {
        /// Where.
        path: PathBuf,
        /// Why.
        why: std::io::Error,
    },
    /// A file of the overview cannot be written.
    #[error(transparent)]
    Save(#[from] SaveError),
    /// The overview cannot be put together.
    #[error("the overview cannot be printed: {0}")]
    Print(#[from] crate::print::PrintError),
}

/// The rows of a list that was read.
#[derive(Debug)]
pub struct ClassList {
    pub(super) rows: Vec<Row>,
}

impl ClassList {
    /// Reads a list; without a map its columns are called as the measures are, a bare number
    /// is in the unit that stands behind the column's name, or else in this one.
    ///
    /// # Errors
    /// [`ClassError`] when the table cannot be read, lacks a column that is needed, or has
    /// nobody in it.
    pub fn read(table: &[u8], map: Option<&ColumnMap>, unit: Unit) -> Result<Self, ClassError> {
        // A spreadsheet leaves lines of nothing but commas behind.
        let is_somebody = |row: &Row| {
            row.measures.as_ref().map_or(true, |measures| measures.iter().next().is_some())
                || row.named
        };
        let found: Vec<Row> = rows(table, map, unit)?.filter(is_somebody).collect();
        match found.len() {
            0 => Err(ClassError::Nobody),
            count if count > MOST_PUPILS => Err(ClassError::TooMany { count }),
            _ => Ok(Self { rows: found }),
        }
    }

    /// How many pupils it has.
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// Whether nobody is in it; a list that was read has somebody.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }
}

/// A list to fill in, a CSV: the names of the columns, those that are needed first.
pub fn blank_list(unit: Unit) -> String {
    let others = Measure::ALL.into_iter().filter(|m| m.is_optional());
    let short = match unit {
        Unit::Mm => "mm",
        Unit::Cm => "cm",
        _ => "in",
    };
    let columns = Measure::REQUIRED.into_iter().chain(others);
    let columns = columns.map(|measure| format!("{} ({short})", measure.name()));
    let columns: Vec<String> = std::iter::once("name".to_owned()).chain(columns).collect();
    columns.join(",") + "\n"
}
