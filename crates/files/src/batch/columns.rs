//! Which column of a table is which measure, and in which unit.

use super::{BatchError, RowError};
use crate::ron_text;
use hangtrue_pattern::units::{Unit, read_length};
use hangtrue_pattern::{Measure, Measures};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Where a measure comes from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Source {
    /// A column; its cells are numbers in the unit, or lengths in words.
    Column(String),
    /// The first column less the second.
    Difference(String, String),
    /// The first column and the second together.
    Sum(String, String),
    /// The same for every row, mm.
    Constant(f64),
}

/// A column map, as kept in a small RON file. Columns it does not name are left
/// alone; capitals and spaces round a column's name do not matter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ColumnMap {
    /// Columns that may name a row; the first that is there is used.
    #[serde(default)]
    pub name: Vec<String>,
    /// Unit of a bare number.
    #[serde(default)]
    pub unit: Unit,
    /// Units of single columns that differ from it.
    #[serde(default)]
    pub units: BTreeMap<String, Unit>,
    /// The measures.
    pub measures: BTreeMap<Measure, Source>,
}

impl ColumnMap {
    /// Reads a map from the text of a RON file.
    ///
    /// # Errors
    /// [`BatchError::Map`] with the place in the text.
    pub fn read(text: &str) -> Result<Self, BatchError> {
        Ok(ron_text::read(text)?)
    }

    /// A map for a table whose columns are called as the measures are: “waist girth”,
    /// “waist_girth”, “Waist girth (cm)”. What is needed and not there is mapped by its name,
    /// to be missed by it; other columns are left alone.
    pub fn by_names(header: &[String], unit: Unit) -> Self {
        let mut map = Self {
            name: NAMES.map(str::to_owned).to_vec(),
            unit,
            units: BTreeMap::new(),
            measures: BTreeMap::new(),
        };
        for column in header {
            let (called, own) = name_and_unit(column);
            let is_it = |m: &Measure| called == plain(m.name()) || called == plain(m.key());
            let Some(measure) = Measure::ALL.into_iter().find(is_it) else { continue };
            map.measures.entry(measure).or_insert_with(|| Source::Column(column.clone()));
            if let Some(own) = own {
                map.units.insert(column.clone(), own);
            }
        }
        for measure in Measure::REQUIRED {
            let missed = || Source::Column(measure.name().to_owned());
            map.measures.entry(measure).or_insert_with(missed);
        }
        map
    }
}

/// Columns that may name a pupil.
const NAMES: [&str; 5] = ["name", "pupil", "client", "code", "who"];

/// The name of a column and the unit in brackets behind it, if one stands there.
fn name_and_unit(column: &str) -> (String, Option<Unit>) {
    let bare = column.trim_start_matches('\u{feff}').trim();
    let parts = bare.strip_suffix([')', ']']).and_then(|bare| bare.rsplit_once(['(', '[']));
    let Some((name, behind)) = parts else { return (plain(bare), None) };
    match behind.trim().to_lowercase().as_str() {
        "mm" => (plain(name), Some(Unit::Mm)),
        "cm" => (plain(name), Some(Unit::Cm)),
        "in" | "inch" | "inches" => (plain(name), Some(Unit::Eighths)),
        _ => (plain(bare), None),
    }
}

/// Small letters, words parted by single spaces.
fn plain(name: &str) -> String {
    let parted = name.replace(['_', '-'], " ").to_lowercase();
    parted.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A column that was found: its name, its place in the row, its unit.
#[derive(Debug, Clone)]
struct FoundColumn {
    name: String,
    index: usize,
    unit: Unit,
}

#[derive(Debug, Clone)]
enum FoundSource {
    Column(FoundColumn),
    Combined(FoundColumn, f64, FoundColumn),
    Constant(f64),
}

/// A map applied to the header of one table.
#[derive(Debug, Clone)]
pub(super) struct Columns {
    name: Option<usize>,
    measures: Vec<(Measure, FoundSource)>,
}

impl Columns {
    pub(super) fn find(map: &ColumnMap, header: &[String]) -> Result<Self, BatchError> {
        for measure in Measure::REQUIRED {
            if !map.measures.contains_key(&measure) {
                return Err(BatchError::NotMapped { measure });
            }
        }
        let mut measures = Vec::new();
        for (&measure, source) in &map.measures {
            match found_source(map, header, source) {
                Ok(found) => measures.push((measure, found)),
                // A table without an optional column is drafted without it.
                Err(_) if measure.is_optional() => {}
                Err(column) => {
                    let known = header.join(", ");
                    return Err(BatchError::NoColumn { column, measure, known });
                }
            }
        }
        let name = map.name.iter().find_map(|n| position(header, n));
        Ok(Self { name, measures })
    }

    pub(super) fn name(&self, record: &csv::ByteRecord) -> Option<String> {
        let text = cell(record, self.name?);
        if text.is_empty() { None } else { Some(text) }
    }

    /// The measures of a row; empty cells are measures not taken.
    pub(super) fn measures(&self, record: &csv::ByteRecord) -> Result<Measures, RowError> {
        let mut measures = Measures::new();
        for (measure, source) in &self.measures {
            let value = match source {
                FoundSource::Constant(mm) => Some(*mm),
                FoundSource::Column(found) => read(record, *measure, found)?,
                FoundSource::Combined(first, sign, second) => {
                    let first = read(record, *measure, first)?;
                    let second = read(record, *measure, second)?;
                    first.zip(second).map(|(a, b)| a + sign * b)
                }
            };
            if let Some(mm) = value {
                measures.set(*measure, mm);
            }
        }
        Ok(measures)
    }
}

/// The source with its columns found, or the name of the column that is not there.
fn found_source(
    map: &ColumnMap,
    header: &[String],
    source: &Source,
) -> Result<FoundSource, String> {
    let find = |name: &String| {
        let index = position(header, name).ok_or_else(|| name.clone())?;
        let own = map.units.iter().find(|(column, _)| same(column, name)).map(|(_, &unit)| unit);
        Ok(FoundColumn { name: name.clone(), index, unit: own.unwrap_or(map.unit) })
    };
    match source {
        Source::Column(name) => find(name).map(FoundSource::Column),
        Source::Difference(a, b) => Ok(FoundSource::Combined(find(a)?, -1.0, find(b)?)),
        Source::Sum(a, b) => Ok(FoundSource::Combined(find(a)?, 1.0, find(b)?)),
        Source::Constant(mm) => Ok(FoundSource::Constant(*mm)),
    }
}

fn position(header: &[String], name: &str) -> Option<usize> {
    header.iter().position(|column| same(column, name))
}

/// Whether two column names are the same but for capitals, spaces round them and
/// the mark some programs put at the start of a file.
fn same(a: &str, b: &str) -> bool {
    let bare = |s: &str| s.trim_start_matches('\u{feff}').trim().to_lowercase();
    bare(a) == bare(b)
}

fn cell(record: &csv::ByteRecord, index: usize) -> String {
    String::from_utf8_lossy(record.get(index).unwrap_or_default()).trim().to_owned()
}

fn read(
    record: &csv::ByteRecord,
    measure: Measure,
    found: &FoundColumn,
) -> Result<Option<f64>, RowError> {
    let text = cell(record, found.index);
    if text.is_empty() {
        return Ok(None);
    }
    let value = read_length(&text, found.unit);
    value.map(Some).map_err(|_| RowError::Cell { measure, column: found.name.clone(), text })
}
