//! One result a row, as a line of CSV or of JSON.

use super::{BatchError, RowError};
use crate::io_words::io_of_csv;
use hangtrue_pattern::{Draft, PatternError};
use serde::Serialize;
use std::io::Write;

/// Whether a row was drafted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Status {
    /// Drafted.
    Ok,
    /// Refused; the reason says why.
    Refused,
}

/// The result of one row, mm and seconds; what a refused row does not have is
/// empty.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BatchRow {
    /// Line of the table, the header being line 1.
    pub line: u64,
    /// Name of the row.
    pub name: String,
    /// Drafted or refused.
    pub status: Status,
    /// Kind of refusal, one word for a machine.
    pub kind: Option<&'static str>,
    /// The measure to look at, by its key.
    pub measure: Option<&'static str>,
    /// The refusal in words.
    pub reason: Option<String>,
    /// Total crotch seam asked for.
    pub crotch_target: Option<f64>,
    /// Total crotch seam drawn.
    pub crotch: Option<f64>,
    /// Crotch seam of the front.
    pub crotch_front: Option<f64>,
    /// Crotch seam of the back.
    pub crotch_back: Option<f64>,
    /// Waist asked for.
    pub waist_target: Option<f64>,
    /// Sewn waist drawn.
    pub waist: Option<f64>,
    /// Hip line asked for.
    pub hip_target: Option<f64>,
    /// Hip line drawn.
    pub hip: Option<f64>,
    /// Least leg at the crotch point asked for.
    pub thigh_target: Option<f64>,
    /// Leg at the crotch point.
    pub thigh: Option<f64>,
    /// Knee asked for.
    pub knee_target: Option<f64>,
    /// Knee drawn.
    pub knee: Option<f64>,
    /// Hem asked for.
    pub hem_target: Option<f64>,
    /// Hem drawn.
    pub hem: Option<f64>,
    /// Inseam of the back.
    pub inseam_back: Option<f64>,
    /// Inseam of the front.
    pub inseam_front: Option<f64>,
    /// Side seam of the back.
    pub side_back: Option<f64>,
    /// Side seam of the front.
    pub side_front: Option<f64>,
    /// Whether an outline crosses itself.
    pub self_crossing: Option<bool>,
    /// Whether both crotch seams bend one way only.
    pub one_way: Option<bool>,
    /// Remarks for the maker, with semicolons.
    pub notes: String,
    /// Time the row took.
    pub seconds: f64,
}

impl BatchRow {
    fn empty(line: u64, name: String, status: Status, seconds: f64) -> Self {
        Self {
            line,
            name,
            status,
            kind: None,
            measure: None,
            reason: None,
            crotch_target: None,
            crotch: None,
            crotch_front: None,
            crotch_back: None,
            waist_target: None,
            waist: None,
            hip_target: None,
            hip: None,
            thigh_target: None,
            thigh: None,
            knee_target: None,
            knee: None,
            hem_target: None,
            hem: None,
            inseam_back: None,
            inseam_front: None,
            side_back: None,
            side_front: None,
            self_crossing: None,
            one_way: None,
            notes: String::new(),
            seconds,
        }
    }

    pub(super) fn drafted(line: u64, name: String, draft: &Draft, seconds: f64) -> Self {
        let r = &draft.report;
        let notes: Vec<String> = r.notes.iter().map(ToString::to_string).collect();
        let crosses = matches!(draft.pattern.check(), Err(PatternError::SelfCrossing { .. }));
        Self {
            crotch_target: Some(r.crotch.target),
            crotch: Some(r.crotch.drafted),
            crotch_front: Some(r.front.crotch),
            crotch_back: Some(r.back.crotch),
            waist_target: Some(r.waist.target),
            waist: Some(r.waist.drafted),
            hip_target: Some(r.hip.target),
            hip: Some(r.hip.drafted),
            thigh_target: Some(r.thigh.target),
            thigh: Some(r.thigh.drafted),
            knee_target: Some(r.knee.target),
            knee: Some(r.knee.drafted),
            hem_target: Some(r.hem.target),
            hem: Some(r.hem.drafted),
            inseam_back: Some(r.back.inseam),
            inseam_front: Some(r.front.inseam),
            side_back: Some(r.back.side),
            side_front: Some(r.front.side),
            self_crossing: Some(crosses),
            one_way: Some(r.back.one_way && r.front.one_way),
            notes: notes.join("; "),
            ..Self::empty(line, name, Status::Ok, seconds)
        }
    }

    pub(super) fn refused(line: u64, name: String, error: &RowError, seconds: f64) -> Self {
        let (kind, measure) = match error {
            RowError::Cell { measure, .. } => ("cell", Some(*measure)),
            RowError::Draft(e) => (e.kind(), e.measure()),
            RowError::Table(_) => ("table", None),
        };
        Self {
            kind: Some(kind),
            measure: measure.map(hangtrue_pattern::Measure::key),
            reason: Some(error.to_string()),
            ..Self::empty(line, name, Status::Refused, seconds)
        }
    }
}

/// Writes the rows as CSV, a header and one line a row, and returns how many were
/// drafted and how many refused.
///
/// # Errors
/// [`BatchError`] when the results cannot be written.
pub fn write_csv(
    rows: impl IntoIterator<Item = BatchRow>,
    to: impl Write,
) -> Result<(usize, usize), BatchError> {
    let mut writer = csv::Writer::from_writer(to);
    let mut tally = (0, 0);
    for row in rows {
        count(&mut tally, &row);
        writer.serialize(&row).map_err(io_of_csv)?;
    }
    writer.flush()?;
    Ok(tally)
}

/// Writes the rows as JSON, one object a line, and returns how many were drafted
/// and how many refused.
///
/// # Errors
/// [`BatchError`] when the results cannot be written.
pub fn write_json_lines(
    rows: impl IntoIterator<Item = BatchRow>,
    mut to: impl Write,
) -> Result<(usize, usize), BatchError> {
    let mut tally = (0, 0);
    for row in rows {
        count(&mut tally, &row);
        serde_json::to_writer(&mut to, &row).map_err(std::io::Error::from)?;
        to.write_all(b"\n")?;
    }
    to.flush()?;
    Ok(tally)
}

fn count(tally: &mut (usize, usize), row: &BatchRow) {
    match row.status {
        Status::Ok => tally.0 += 1,
        Status::Refused => tally.1 += 1,
    }
}
