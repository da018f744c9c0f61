//! How lines hang on a toile that fits, over blocks of the survey sample: the table that
//! `docs/reading.md` shows.

use crate::block_figures::{shown, with_between};
use crate::bodies::{bodies, marked_block};
use hangtrue_adjust::reading::{HangLine, Leg, PieceView, at_home};
use hangtrue_pattern::{Pattern, Plan};
use std::fmt::Write;

/// Every so manieth body of the sample is taken.
const STEP: usize = 7;

/// The lines of the table.
const LINES: [(HangLine, PieceView); 6] = [
    (HangLine::Thigh, PieceView::Back),
    (HangLine::Thigh, PieceView::Front),
    (HangLine::Hip, PieceView::Back),
    (HangLine::Hip, PieceView::Front),
    (HangLine::Knee, PieceView::Back),
    (HangLine::Hem, PieceView::Back),
];

/// How far the middle of a line lies below its ends at home, mm; minus: above.
fn bow(pattern: &Pattern, (line, view): (HangLine, PieceView)) -> Option<f64> {
    let places = [0.0, 0.5, 1.0].map(|at| (line, view, Leg::Left, at));
    let hangs: Option<Vec<(f64, f64)>> = at_home(pattern, &[], &places).into_iter().collect();
    let hangs = hangs?;
    Some(hangs[1].0 - 0.5 * (hangs[0].0 + hangs[2].0))
}

/// The table, as Markdown.
pub fn table() -> String {
    let plan = Plan::default();
    let some = bodies().into_iter().step_by(STEP);
    let blocks: Vec<Pattern> = some.filter_map(|body| marked_block(&body, &plan)).collect();
    let mut text = String::from("| line | least | median | most |\n|---|---|---|---|\n");
    for of in LINES {
        let mut bows: Vec<f64> = blocks.iter().filter_map(|block| bow(block, of)).collect();
        bows.sort_by(f64::total_cmp);
        let at = |part: f64| bows[((bows.len() - 1) as f64 * part).round() as usize];
        let row = [0.0, 0.5, 1.0].map(|part| shown(at(part)).replace('-', "−"));
        let _ = writeln!(text, "| {} {} | {} |", of.1.piece(), of.0.name(), row.join(" | "));
    }
    let _ = writeln!(text, "\nOn {} blocks.", blocks.len());
    text
}

/// The page of docs with the table in its place.
///
/// # Errors
/// When the page has lost the marks between which the table stands.
pub fn page(before: &str) -> Result<String, &'static str> {
    with_between(before, ("<!-- homes -->\n", "<!-- end of homes -->"), &table())
}
