//! Many clients at once: a CSV of measures, a column map, one result a row.

mod columns;
mod row;

pub use columns::{ColumnMap, Source};
pub use row::{BatchRow, Status, write_csv, write_json_lines};

use crate::io_words::{words_of_csv, words_of_io};
use crate::ron_words::in_words;
use columns::Columns;
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{DraftError, Measure, Measures, Plan};
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

/// A row of a table: who it is, and the measures or what is wrong with them.
#[derive(Debug)]
pub struct Row {
    /// Line of the table, the header being line 1.
    pub line: u64,
    /// Name of the row; its line where none is written.
    pub name: String,
    /// Whether a name is written.
    pub named: bool,
    /// The measures.
    pub measures: Result<Measures, RowError>,
}

/// The rows of a table, read one by one as they are asked for.
pub struct Rows<R> {
    reader: csv::Reader<R>,
    columns: Columns,
    broken: bool,
}

/// Reads a whole table: by a map, or where there is none by the names of its columns, a bare
/// number being in the unit that stands behind the name or else in this one. Its cells are
/// parted by commas, semicolons or tabs, whichever the first line has most of.
///
/// # Errors
/// As [`run_batch`].
pub fn rows<'t>(
    table: &'t [u8],
    map: Option<&ColumnMap>,
    unit: Unit,
) -> Result<Rows<&'t [u8]>, BatchError> {
    let first = table.split(|b| *b == b'\n').next().unwrap_or_default();
    let count = |sign: u8| first.iter().filter(|b| **b == sign).count();
    // Of equals the last is taken: the comma.
    let parted = [b'\t', b';', b','].into_iter().max_by_key(|sign| count(*sign));
    let by_names = |header: &[String]| match map {
        Some(map) => map.clone(),
        None => ColumnMap::by_names(header, unit),
    };
    Rows::open(table, parted.unwrap_or(b','), &by_names)
}

impl<R: Read> Rows<R> {
    fn open(
        table: R,
        parted_by: u8,
        map: &dyn Fn(&[String]) -> ColumnMap,
    ) -> Result<Self, BatchError> {
        let mut reader = csv::ReaderBuilder::new()
            .delimiter(parted_by)
            .flexible(true)
            .trim(csv::Trim::All)
            .from_reader(table);
        let headers = reader.byte_headers().map_err(BatchError::Csv)?;
        if headers.is_empty() {
            return Err(BatchError::Empty);
        }
        let names: Vec<String> =
            headers.iter().map(|h| String::from_utf8_lossy(h).into_owned()).collect();
        let columns = Columns::find(&map(&names), &names)?;
        Ok(Self { reader, columns, broken: false })
    }

    fn row(&self, record: &csv::ByteRecord) -> Row {
        let line = record.position().map_or(0, csv::Position::line);
        let name = self.columns.name(record);
        let named = name.is_some();
        let name = name.unwrap_or_else(|| format!("line {line}"));
        Row { line, name, named, measures: self.columns.measures(record) }
    }
}

impl<R: Read> Iterator for Rows<R> {
    type Item = Row;

    fn next(&mut self) -> Option<Row> {
        if self.broken {
            return None;
        }
        // Bytes, not text: some releases of surveys hold cells that are not UTF-8.
        let mut record = csv::ByteRecord::new();
        match self.reader.read_byte_record(&mut record) {
            Ok(false) => None,
            Ok(true) => Some(self.row(&record)),
            Err(error) => {
                self.broken = true;
                let line = self.reader.position().line();
                let measures = Err(RowError::Table(words_of_csv(&error)));
                Some(Row { line, name: String::new(), named: false, measures })
            }
        }
    }
}

/// The rows of a batch, drafted one by one as they are asked for.
pub struct Batch<'a, R> {
    rows: Rows<R>,
    plan: &'a Plan,
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
    Ok(Batch { rows: Rows::open(table, b',', &|_| map.clone())?, plan })
}

impl<R: Read> Iterator for Batch<'_, R> {
    type Item = BatchRow;

    fn next(&mut self) -> Option<BatchRow> {
        let Row { line, name, measures, .. } = self.rows.next()?;
        let start = Instant::now();
        let drafted = measures.and_then(|measures| {
            hangtrue_pattern::draft(&measures, self.plan).map_err(RowError::from)
        });
        let seconds = start.elapsed().as_secs_f64();
        Some(match drafted {
            Ok(draft) => BatchRow::drafted(line, name, &draft, seconds),
            Err(error) => BatchRow::refused(line, name, &error, seconds),
        })
    }
}
