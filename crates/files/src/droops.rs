//! Droops typed in from a toile, as a table (CSV) or a RON file, and the rules
//! they are read by.

use crate::ron_text;
use crate::ron_words::in_words;
use hangtrue_adjust::reading::{Droop, HangLine, Leg, PieceView, RuleError, RuleTable};
use hangtrue_pattern::units::{Unit, read_length};
use serde::Deserialize;
use std::path::Path;

/// The rules that come with the program.
const RULES: &str = include_str!("../../../assets/reading/rules.ron");

/// The ± of a droop that names none: a ruler held against the toile (memory), mm.
pub const BY_RULER: f64 = 2.0;

/// Why a file of droops or rules cannot be used.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum DroopsError {
    /// No droops at all.
    #[error(
        "there are no droops in it; write a first line “line,view,leg,at,droop,error” and below it one such as “thigh,back,left,middle,7/16 in,2 mm” for each place"
    )]
    Empty,
    /// A needed column is missing.
    #[error(
        "the table has no column “{column}”; its first line must name line, view, at and droop, and may name leg and error (it names: {known})"
    )]
    NoColumn {
        /// The column.
        column: &'static str,
        /// The columns there are.
        known: String,
    },
    /// A row that cannot be read.
    #[error("{place}: {why}")]
    Row {
        /// The line of the table, or the entry of the list.
        place: String,
        /// What is wrong and what to write.
        why: String,
    },
    /// A text that is not RON.
    #[error("line {line}, column {column}: {why}")]
    Text {
        /// Line in the text.
        line: usize,
        /// Column in the text.
        column: usize,
        /// What is wrong.
        why: String,
    },
    /// A rule that cannot be used.
    #[error(transparent)]
    Rule(#[from] RuleError),
}

/// The rules that come with the program.
///
/// # Errors
/// [`DroopsError`] when the table has been broken.
pub fn usual_rules() -> Result<RuleTable, DroopsError> {
    read_rules(RULES)
}

/// Rules from the text of a RON file.
///
/// # Errors
/// [`DroopsError`] with the place in the text, or the rule that cannot be used.
pub fn read_rules(text: &str) -> Result<RuleTable, DroopsError> {
    let table: RuleTable = ron_text::read(text).map_err(|e| not_ron(&e))?;
    table.check()?;
    Ok(table)
}

/// Droops from the text of a file: RON when its name ends so, else a table.
/// A bare number is in `unit`; a row that names no leg holds for both.
///
/// # Errors
/// [`DroopsError`] with the row and what to write in it.
pub fn read_droops(text: &str, path: &Path, unit: Unit) -> Result<Vec<Droop>, DroopsError> {
    let is_ron = path.extension().is_some_and(|e| e.eq_ignore_ascii_case("ron"));
    let rows = if is_ron { ron_rows(text)? } else { table_rows(text)? };
    let mut droops = Vec::new();
    for (place, row) in rows {
        let read = row.read(unit);
        droops.extend(read.map_err(|why| DroopsError::Row { place, why })?);
    }
    if droops.is_empty() { Err(DroopsError::Empty) } else { Ok(droops) }
}

/// One row as typed.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    line: String,
    view: String,
    #[serde(default)]
    leg: String,
    at: String,
    droop: String,
    #[serde(default)]
    error: String,
}

fn not_ron(e: &ron::error::SpannedError) -> DroopsError {
    let start = e.span.start;
    DroopsError::Text { line: start.line, column: start.col, why: in_words(&e.code) }
}

fn ron_rows(text: &str) -> Result<Vec<(String, Row)>, DroopsError> {
    let rows: Vec<Row> = ron_text::read(text).map_err(|e| not_ron(&e))?;
    Ok(rows.into_iter().enumerate().map(|(i, row)| (format!("entry {}", i + 1), row)).collect())
}

fn table_rows(text: &str) -> Result<Vec<(String, Row)>, DroopsError> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .from_reader(text.trim_start_matches('\u{feff}').as_bytes());
    let mut records = reader.records();
    let unreadable = |e: csv::Error| DroopsError::Row {
        place: e.position().map_or("the table".into(), |p| format!("line {}", p.line())),
        why: "this cannot be read; save the table again as CSV".into(),
    };
    let header = records.next().ok_or(DroopsError::Empty)?.map_err(unreadable)?;
    let names: Vec<String> = header.iter().map(str::to_lowercase).collect();
    let column = |name: &str| names.iter().position(|n| n == name);
    let needed = |name: &'static str| {
        let known = || names.join(", ");
        column(name).ok_or_else(|| DroopsError::NoColumn { column: name, known: known() })
    };
    let (line, view, at, droop) =
        (needed("line")?, needed("view")?, needed("at")?, needed("droop")?);
    let (leg, error) = (column("leg"), column("error"));
    let mut rows = Vec::new();
    for record in records {
        let record = record.map_err(unreadable)?;
        let number = record.position().map_or(0, csv::Position::line);
        let cell = |i: usize| record.get(i).unwrap_or_default().to_owned();
        let row = Row {
            line: cell(line),
            view: cell(view),
            leg: leg.map(cell).unwrap_or_default(),
            at: cell(at),
            droop: cell(droop),
            error: error.map(cell).unwrap_or_default(),
        };
        rows.push((format!("line {number}"), row));
    }
    Ok(rows)
}

impl Row {
    fn read(&self, unit: Unit) -> Result<Vec<Droop>, String> {
        let line = HangLine::called(&self.line).map_or_else(|| no_line(&self.line), Ok)?;
        let view = one_of("view", &self.view, PieceView::ALL.map(|v| (v.piece(), v)))?;
        let legs = match self.leg.trim() {
            "" | "both" => Leg::BOTH.to_vec(),
            leg => vec![one_of("leg", leg, Leg::BOTH.map(|l| (l.word(), l)))?],
        };
        let at = place(line, &self.at)?;
        let mm = length(&self.droop, unit)?;
        let error = if self.error.trim().is_empty() {
            BY_RULER
        } else {
            length(self.error.trim().trim_start_matches('±'), unit)?
        };
        Ok(legs.into_iter().map(|leg| Droop { line, view, leg, at, mm, error }).collect())
    }
}

fn one_of<T: Copy, const N: usize>(
    what: &str,
    text: &str,
    known: [(&str, T); N],
) -> Result<T, String> {
    let text = text.trim().to_lowercase();
    let found = known.iter().find(|k| k.0 == text).map(|k| k.1);
    found.ok_or_else(|| {
        let names = known.map(|k| k.0).join(", ");
        format!("“{text}” is not a {what}; write one of: {names}")
    })
}

/// Which line it is not.
fn no_line(text: &str) -> Result<HangLine, String> {
    if text.trim().eq_ignore_ascii_case("hip") {
        return Err(
            "the hip line stays on paper and cannot droop; on the toile it is the line “hip balance”"
                .into(),
        );
    }
    one_of("line", text, HangLine::ALL.map(|l| (l.name(), l)))
}

/// Where a station lies: an end by name, the middle, or a share from the inner end.
fn place(line: HangLine, text: &str) -> Result<f64, String> {
    let text = text.trim().to_lowercase();
    let share = || {
        let (text, from_side) = match text.split_once(" from ") {
            Some((share, "side" | "side seam")) => (share, true),
            Some((share, end)) if end == line.inner_end() => (share, false),
            Some(_) => return None,
            None => (text.as_str(), false),
        };
        let percent: f64 = text.trim().strip_suffix('%')?.trim().parse().ok()?;
        let share = (0.0..=100.0).contains(&percent).then_some(percent / 100.0)?;
        Some(if from_side { 1.0 - share } else { share })
    };
    match text.strip_prefix("at ").unwrap_or(&text) {
        "side" | "side seam" => Ok(1.0),
        "middle" => Ok(0.5),
        end if end == line.inner_end() => Ok(0.0),
        _ => share().ok_or_else(|| {
            let inner = line.inner_end();
            format!(
                "“{text}” is not a place on the {} line; write {inner}, middle, side, or a share of the way from the {inner} such as 40%",
                line.name()
            )
        }),
    }
}

/// A droop, with or without its plus.
fn length(text: &str, unit: Unit) -> Result<f64, String> {
    let text = text.trim();
    read_length(text.strip_prefix('+').unwrap_or(text), unit).map_err(|e| e.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    const TABLE: &str = "line,view,leg,at,droop,error\n\
        # the back, from a photo\n\
        thigh,back,left,middle,+3/8 in,1/16 in\n\
        thigh,back,,40%,-2 mm,\n\
        Hip balance, back, both, centre, 0, 1.5 mm\n";

    fn table(text: &str) -> Result<Vec<Droop>, DroopsError> {
        read_droops(text, Path::new("droops.csv"), Unit::Mm)
    }

    #[test]
    fn the_usual_rules_are_sound() {
        assert!(usual_rules().unwrap().rules.len() >= 24);
    }

    #[test]
    fn a_table_is_read() {
        let droops = table(TABLE).unwrap();
        assert_eq!(droops.len(), 5);
        let first = droops[0];
        assert_eq!(
            (first.line, first.view, first.leg),
            (HangLine::Thigh, PieceView::Back, Leg::Left)
        );
        assert!((first.mm - 9.525).abs() < 1e-9 && (first.error - 1.5875).abs() < 1e-9);
        assert_eq!((droops[1].leg, droops[2].leg), (Leg::Left, Leg::Right));
        assert!(droops[1].mm == -2.0 && droops[1].at == 0.4 && droops[1].error == BY_RULER);
        assert!(droops[3].line == HangLine::Hip && droops[3].at == 0.0);
        // A line has one name; that of the line on paper is not taken for it.
        for name in ["hip balance", "Hip balance line"] {
            let row = format!("line,view,at,droop\n{name},back,side,1\n");
            assert_eq!(table(&row).unwrap()[0].line, HangLine::Hip, "{name}");
        }
        let said = table("line,view,at,droop\nhip,back,side,1\n").unwrap_err().to_string();
        assert!(said.contains("stays on paper") && said.contains("“hip balance”"), "{said}");
        // Places are said as for pins.
        for (place, at) in [("40% from inseam", 0.4), ("40% from side", 0.6), ("at side", 1.0)] {
            let row = format!("line,view,at,droop\nthigh,back,{place},1\n");
            assert!((table(&row).unwrap()[0].at - at).abs() < 1e-12, "{place}");
        }
    }

    #[test]
    fn the_same_is_read_from_ron() {
        let text = r#"[
            (line: "thigh", view: "back", leg: "left", at: "middle", droop: "3/8 in", error: "1/16 in"),
            (line: "thigh", view: "back", at: "40%", droop: "-2 mm"),
            (line: "hip balance", view: "back", leg: "both", at: "centre", droop: "0", error: "1.5"),
        ]"#;
        let read = read_droops(text, Path::new("droops.ron"), Unit::Mm).unwrap();
        assert_eq!(read, table(TABLE).unwrap());
    }

    #[test]
    fn faults_name_the_row_and_what_to_write() {
        let head = "line,view,leg,at,droop,error\n";
        for (row, says) in [
            ("calf,back,left,middle,1,1", "waist, hip balance, thigh, knee, hem"),
            ("hip balance,above,left,middle,1,1", "back, front"),
            ("hip balance,back,third,middle,1,1", "left, right"),
            ("hip balance,back,left,inseam,1,1", "write centre, middle, side"),
            ("thigh,back,left,centre,1,1", "write inseam, middle, side"),
            ("hip balance,back,left,140%,1,1", "such as 40%"),
            ("hip balance,back,left,middle,a lot,1", "a lot"),
            ("hip balance,back,left", "is not a place"),
        ] {
            let said = table(&format!("{head}{row}\n")).unwrap_err().to_string();
            assert!(said.starts_with("line 2: ") && said.contains(says), "{said}");
        }
        assert_eq!(table("").unwrap_err(), DroopsError::Empty);
        assert_eq!(table(head).unwrap_err(), DroopsError::Empty);
        let said = table("line,view,leg,droop\nhip balance,back,left,1").unwrap_err().to_string();
        assert!(said.contains("“at”"), "{said}");
        let said = read_droops("[(line: 3)]", Path::new("a.ron"), Unit::Mm).unwrap_err();
        assert!(matches!(said, DroopsError::Text { .. }), "{said}");
        assert!(read_rules("(rules: [])").unwrap_err().to_string().contains("cannot_know"));
    }

    proptest::proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in "[-a-z0-9,% \n\"(\\[:./±]{0,120}", ron in proptest::bool::ANY) {
            let path = if ron { "x.ron" } else { "x.csv" };
            let _ = read_droops(&text, Path::new(path), Unit::Sixteenths);
            let _ = read_droops(&format!("line,view,at,droop\n{text}"), Path::new(path), Unit::Mm);
            let _ = read_rules(&text);
        }
    }
}
