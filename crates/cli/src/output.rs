//! Writing to the terminal: tables anyone can read.

use crate::failure::Failure;
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::words::InUnit;
use serde::Serialize;
use std::io::{IsTerminal, Write};
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
    line(&json_visible(&serde_json::to_string_pretty(value)?))
}

/// Whether a character steers a terminal instead of being shown: controls (C0, DEL,
/// C1), and those that turn the direction of what follows (Unicode UAX #9), by which
/// a name can pass for another.
fn steers(c: char) -> bool {
    c.is_control() || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// The text with all that would steer a terminal written out, as `\u{1b}`; lines
/// stay lines.
fn visible(text: &str) -> String {
    written_out(text, |c| steers(c) && c != '\n', |c| format!("\\u{{{:x}}}", u32::from(c)))
}

/// The same for one cell of a table, which has no lines.
fn visible_cell(text: &str) -> String {
    written_out(text, steers, |c| format!("\\u{{{:x}}}", u32::from(c)))
}

/// The same for JSON, in its own way of writing. Outside its texts none occurs but
/// the ends of lines.
fn json_visible(json: &str) -> String {
    written_out(json, |c| steers(c) && c != '\n', |c| format!("\\u{:04x}", u32::from(c)))
}

fn written_out(text: &str, which: impl Fn(char) -> bool, how: impl Fn(char) -> String) -> String {
    let one = |c| if which(c) { how(c) } else { String::from(c) };
    text.chars().map(one).collect()
}

/// Standard output for a long table, line by line. Another program gets the bytes
/// as they are; a terminal gets nothing that steers it.
pub struct Streamed {
    is_terminal: bool,
    is_json: bool,
    line: Vec<u8>,
}

impl Streamed {
    /// To standard output, as JSON or as a table.
    pub fn new(is_json: bool) -> Self {
        let is_terminal = std::io::stdout().is_terminal();
        Self { is_terminal, is_json, line: Vec::new() }
    }

    /// What of the bytes may be shown.
    fn shown(&self, line: &[u8]) -> String {
        let text = String::from_utf8_lossy(line);
        if self.is_json { json_visible(&text) } else { visible(&text) }
    }
}

impl Write for Streamed {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        if !self.is_terminal {
            return std::io::stdout().write(bytes);
        }
        self.line.extend_from_slice(bytes);
        // A letter may be cut between two writes, never at the end of a line.
        if let Some(end) = self.line.iter().rposition(|&b| b == b'\n') {
            let rest = self.line.split_off(end + 1);
            let whole = std::mem::replace(&mut self.line, rest);
            std::io::stdout().write_all(self.shown(&whole).as_bytes())?;
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        std::io::stdout().flush()
    }
}

/// Prints a line; a closed pipe is an error, not a panic.
pub fn line(text: &str) -> Result<(), Failure> {
    writeln!(std::io::stdout(), "{}", visible(text))?;
    Ok(())
}

/// Says something on standard error; when that is gone there is nobody to tell.
pub fn complain(text: &str) {
    let _ = writeln!(std::io::stderr(), "{}", visible(text));
}

/// Prints rows under headings; columns whose heading starts with `>` stand right.
pub fn table(headings: &[&str], rows: &[Vec<String>]) -> Result<(), Failure> {
    let shown = |row: &Vec<String>| row.iter().map(|cell| visible_cell(cell)).collect();
    let rows: Vec<Vec<String>> = rows.iter().map(shown).collect();
    line(&table_text(headings, &rows))
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
    fn nothing_that_steers_a_terminal_is_shown_as_it_is() {
        let name = "a\u{1b}[31m\u{9b}b\u{202e}c\u{2066}\u{7f}\r\nd";
        let shown = visible(name);
        assert_eq!(shown, "a\\u{1b}[31m\\u{9b}b\\u{202e}c\\u{2066}\\u{7f}\\u{d}\nd");
        assert!(!visible_cell(name).contains(steers));
        let json = json_visible(&serde_json::to_string_pretty(&[name]).unwrap());
        assert!(!json.contains(|c| steers(c) && c != '\n'), "{json}");
        let back: Vec<String> = serde_json::from_str(&json).unwrap();
        assert_eq!(back, [name]);
        let streamed = Streamed { is_terminal: true, is_json: false, line: Vec::new() };
        assert_eq!(streamed.shown(name.as_bytes()), shown);
    }

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
