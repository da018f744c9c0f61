//! Many clients at once: a CSV of measures, a column map, one result a row.

mod columns;
mod row;

pub use columns::{ColumnMap, Source};
pub use row::{BatchRow, Status, write_csv, write_json_lines};

use crate::io_words::{words_of_csv, words_of_io};
use crate::ron_words::in_words;
use columns::Columns;
use hangtrue_pattern::{DraftError, Measure, Plan};
use std::io::Read;
use std::time::Instant;

/// A batch that cannot start or go on.
#[derive(Debug, thiserror::Error)]
pub enum BatchError {
    /// The column map is not readable.
    #[error("line {}, column {}: {}", .0.span.start.line, .0.span.start.col, in_words(&.0.code))]
    Map(#[from] ron::error::SpannedError),
    /// The table has no columns at all.
    #[error("the table is empty; its first line must name the columns")]
    Empty,
    /// A needed column is not in the table.
    #[error(
        "the table has no column “{column}”, which the map needs for the {measure}; its columns are: {known}"
    )]
    NoColumn {
        /// The column looked for.
        column: String,
        /// The measure it stands for.
        measure: Measure,
        /// The columns there are, with commas.
        known: String,
    },
    /// The map leaves out a measure no block can be drafted without.
    #[error("the column map says nothing of the {measure}, which every block needs")]
    NotMapped {
        /// The measure.
        measure: Measure,
    },
    /// The table's first line cannot be read.
    #[error("the table cannot be read: {}; save it again as CSV", words_of_csv(.0))]
    Csv(#[source] csv::Error),
    /// The results cannot be written.
    #[error("the results cannot be written: {}", words_of_io(.0))]
    Write(#[from] std::io::Error),
}

/// Why one row was refused.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RowError {
    /// A cell is not a length.
    #[error("the {measure} in column “{column}” cannot be read: “{text}” is not a length")]
    Cell {
        /// The measure.
        measure: Measure,
        /// The column.
        column: String,
        /// The cell as it stands.
        text: String,
    },
    /// The block was not drafted.
    #[error(transparent)]
    Draft(#[from] DraftError),
    /// The rest of the table cannot be read.
    #[error("the table cannot be read from here on: {0}")]
    Table(String),
}

/// The rows of a batch, drafted one by one as they are asked for.
pub struct Batch<'a, R> {
    reader: csv::Reader<R>,
    columns: Columns,
    plan: &'a Plan,
    broken: bool,
}

/// Opens a table of measures for drafting: the first line names the columns, each
/// further line is one body. Rows are drafted as the result is iterated; a bad row
/// gives a refused [`BatchRow`] and the batch goes on.
///
/// # Errors
/// [`BatchError`] when the header cannot be read or lacks a needed column.
pub fn run_batch<'a, R: Read>(
    table: R,
    map: &ColumnMap,
    plan: &'a Plan,
) -> Result<Batch<'a, R>, BatchError> {
    let mut reader =
        csv::ReaderBuilder::new().flexible(true).trim(csv::Trim::All).from_reader(table);
    let headers = reader.byte_headers().map_err(BatchError::Csv)?;
    if headers.is_empty() {
        return Err(BatchError::Empty);
    }
    let names: Vec<String> =
        headers.iter().map(|h| String::from_utf8_lossy(h).into_owned()).collect();
    let columns = Columns::find(map, &names)?;
    Ok(Batch { reader, columns, plan, broken: false })
}

impl<R: Read> Iterator for Batch<'_, R> {
    type Item = BatchRow;

    fn next(&mut self) -> Option<BatchRow> {
        if self.broken {
            return None;
        }
        // Bytes, not text: some releases of surveys hold cells that are not UTF-8.
        let mut record = csv::ByteRecord::new();
        match self.reader.read_byte_record(&mut record) {
            Ok(false) => None,
            Ok(true) => Some(self.draft(&record)),
            Err(error) => {
                self.broken = true;
                let line = self.reader.position().line();
                let refused = RowError::Table(words_of_csv(&error));
                Some(BatchRow::refused(line, String::new(), &refused, 0.0))
            }
        }
    }
}

impl<R: Read> Batch<'_, R> {
    fn draft(&self, record: &csv::ByteRecord) -> BatchRow {
        let line = record.position().map_or(0, csv::Position::line);
        let name = self.columns.name(record).unwrap_or_else(|| format!("line {line}"));
        let start = Instant::now();
        let drafted = self.columns.measures(record).and_then(|measures| {
            hangtrue_pattern::draft(&measures, self.plan).map_err(RowError::from)
        });
        let seconds = start.elapsed().as_secs_f64();
        match drafted {
            Ok(draft) => BatchRow::drafted(line, name, &draft, seconds),
            Err(error) => BatchRow::refused(line, name, &error, seconds),
        }
    }
}
