//! The marking sheet: which lines go through to the cloth, how, and in which order.

use crate::print::{Block, PrintError, Report, report_pdf};
use hangtrue_adjust::Document;
use hangtrue_pattern::Pattern;

/// What to do with the lines that go to the cloth; common practice, no published source.
pub const HOW_TO_MARK: [&str; 5] = [
    "Mark before the paper is lifted, both layers at once, so that left and right leg carry the same marks.",
    "Wax transfer paper: one sheet under the lower layer with its wax up, one over the upper layer with its wax down; then run the tracing wheel along the line.",
    "Mark the grain in short lengths.",
    "Lines named as paper only stay on the paper.",
    "Roll the tracing wheel away from the hand that holds the paper.",
];

/// Makes the sheet that lies beside the toile while it is marked.
///
/// # Errors
/// [`PrintError`] when the PDF cannot be put together.
pub fn marking_sheet(
    document: &Document,
    pattern: &Pattern,
    today: &str,
) -> Result<Vec<u8>, PrintError> {
    let mut blocks = vec![Block::Heading("Lines that go to the cloth".into())];
    for (index, line) in pattern.lines.iter().filter(|l| l.purpose.to_cloth()).enumerate() {
        blocks.push(Block::Paragraph(format!(
            "{}. {} on the {}: {} It is there because it {}.",
            index + 1,
            line.name,
            line.piece,
            line.rule.sentence(document.unit),
            line.purpose.reason()
        )));
    }
    let on_paper: Vec<String> = pattern
        .lines
        .iter()
        .filter(|l| !l.purpose.to_cloth())
        .map(|l| format!("{} on the {}", l.name, l.piece))
        .collect();
    if !on_paper.is_empty() {
        blocks.push(Block::Paragraph(format!("Paper only: {}.", on_paper.join(", "))));
    }
    blocks.push(Block::Heading("How to mark".into()));
    blocks.extend(HOW_TO_MARK.map(|words| Block::Paragraph(words.into())));
    report_pdf(&Report {
        paper: super::page::paper_of(document.unit),
        title: format!("Marking {}", document.title),
        client: document.client.clone(),
        blocks,
        foot: today.to_owned(),
    })
}
