//! Writing to the terminal: tables anyone can read.

use crate::failure::Failure;
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::words::InUnit;
use serde::Serialize;
use std::io::Write;
use std::sync::OnceLock;

/// The unit of the one project this run is about.
static UNIT: OnceLock<Unit> = OnceLock::new();

/// From here on the engine's words are shown in this unit; the first call counts.
pub fn speak_in(unit: Unit) {
    let _ = UNIT.set(unit);
}

/// What the engine says, in the project's unit.
pub fn words(said: &(impl InUnit + ?Sized)) -> String {
    said.in_unit(UNIT.get().copied().unwrap_or_default())
}

/// Prints a value as indented JSON.
pub fn json(value: &impl Serialize) -> Result<(), Failure> {
    let text = serde_json::to_string_pretty(value)?;
    line(&text)
}

/// Prints a line; a closed pipe is an error, not a panic.
pub fn line(text: &str) -> Result<(), Failure> {
    writeln!(std::io::stdout(), "{text}")?;
    Ok(())
}

/// Says something on standard error; when that is gone there is nobody to tell.
pub fn complain(text: &str) {
    let _ = writeln!(std::io::stderr(), "{text}");
}

/// Prints rows under headings; columns whose heading starts with `>` stand right.
pub fn table(headings: &[&str], rows: &[Vec<String>]) -> Result<(), Failure> {
    line(&table_text(headings, rows))
}

fn table_text(headings: &[&str], rows: &[Vec<String>]) -> String {
    let plain: Vec<&str> = headings.iter().map(|h| h.trim_start_matches('>')).collect();
    let width = |column: usize| {
        let cells = rows.iter().filter_map(|r| r.get(column)).map(|c| c.chars().count());
        cells.chain([plain[column].chars().count()]).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..plain.len()).map(width).collect();
    let set = |cells: &[&str]| {
        let mut text = String::from("  ");
        for (i, cell) in cells.iter().enumerate() {
            let space = " ".repeat(widths[i].saturating_sub(cell.chars().count()));
            if headings[i].starts_with('>') {
                text += &format!("{space}{cell}  ");
            } else {
                text += &format!("{cell}{space}  ");
            }
        }
        text.trim_end().to_owned()
    };
    let mut lines = vec![set(&plain)];
    let ruled: Vec<String> = widths.iter().map(|&w| "─".repeat(w)).collect();
    lines.push(set(&ruled.iter().map(String::as_str).collect::<Vec<_>>()));
    for row in rows {
        lines.push(set(&row.iter().map(String::as_str).collect::<Vec<_>>()));
    }
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_line_up_whatever_the_letters() {
        let rows = vec![
            vec!["Ågot".to_owned(), "1.5".to_owned()],
            vec!["x".to_owned(), "−12.25".to_owned()],
        ];
        let text = table_text(&["name", ">mm"], &rows);
        let ends: Vec<usize> = text.lines().map(|l| l.chars().count()).collect();
        assert!(ends.windows(2).all(|w| w[0] == w[1]), "{text}");
    }
}
