//! The demo project: an invented client whose first toile was read and pinned.

use crate::ron_text;
use hangtrue_adjust::{Change, CloseRound, Document, MarkLine, Pinch, UsualDepths, usual_lines};
use hangtrue_pattern::block::Plan;
use hangtrue_pattern::measures::Measures;
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Pattern, names};
use ron::error::SpannedError;

/// The invented client's measures; the file says so itself.
const MEASURES: &str = include_str!("../../../assets/demo/measures.ron");

/// What is pinned: 7/16 in, invented with the client, mm.
pub const PINNED: f64 = 11.1125;

/// The demo's rounds are dated so that its files are the same on every run.
pub const DATE: &str = "2026-11-25";

/// How its lengths are shown.
pub const UNIT: Unit = Unit::Sixteenths;

/// The project with nothing done yet.
///
/// # Errors
/// The file of measures cannot be read; that is a fault of the program.
pub fn bare() -> Result<Document, SpannedError> {
    let measures: Measures = ron_text::read(MEASURES)?;
    Ok(Document::from_measures(
        "Marsh walk trousers",
        "Maren Oleander (invented), Copper Lane workroom",
        UNIT,
        measures,
        Plan::usual(UNIT),
    ))
}

/// Marks the usual lines on the block of a project.
pub fn mark(document: &mut Document, block: &Pattern) {
    // The usual lines hang from names every drafted block has.
    for line in usual_lines(block, UsualDepths::of(UNIT)).unwrap_or_default() {
        let name = format!("{} on the {}", line.name, line.piece);
        document.push(&name, Change::MarkLine(MarkLine { line }));
    }
}

/// Closes the round of the first toile.
pub fn close_first(document: &mut Document) {
    let note = "cut from the block as drafted".into();
    document.push("first toile", Change::CloseRound(CloseRound { date: DATE.into(), note }));
}

/// What was pinned on the first toile: nothing at the seams, the amount between.
pub fn pinch() -> Pinch {
    Pinch::in_the_middle("seat pinch", names::BACK, names::THIGH, PINNED)
}
