//! The marking sheet: which lines go through to the cloth, how, and in which order.

use crate::print::{Block, PrintError, Report, fitting_label, report_pdf};
use hangtrue_adjust::{Document, OPEN_ROUND};
use hangtrue_cut::{Cloth, CutPiece, CutSet, pieces_to_cut};
use hangtrue_pattern::markings::darts_of;
use hangtrue_pattern::{Pattern, Piece, names};

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
            "{}. {} on the {}: {} Why: {}.",
            index + 1,
            line.name,
            line.piece,
            line.rule.sentence(document.unit),
            line.purpose.reason()
        )));
    }
    let set = pieces_to_cut(pattern, document);
    let marks = set.map_or_else(|_| Vec::new(), |set| marks_to_carry(&set));
    if !marks.is_empty() {
        blocks.push(Block::Heading("Marks that go to the cloth".into()));
        blocks.extend(marks.into_iter().map(Block::Paragraph));
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
        title: format!("Marking · {}", document.title),
        client: fitting_label(document, OPEN_ROUND, today).join(" · "),
        blocks,
        foot: today.to_owned(),
    })
}

/// What else is marked through, a line a piece: darts, pleats, places where something is sewn
/// on or opened, and folds.
pub fn marks_to_carry(set: &CutSet) -> Vec<String> {
    let is_cloth = |known: &&CutPiece| known.to_cut.iter().any(|cut| cut.cloth == Cloth::Main);
    let of_piece = |known: &CutPiece| {
        let marks = marks_on(set.pattern.piece(&known.name).ok()?, known);
        (!marks.is_empty()).then(|| format!("{}: {}.", known.name, marks.join("; ")))
    };
    set.pieces.iter().filter(is_cloth).filter_map(of_piece).collect()
}

fn marks_on(piece: &Piece, known: &CutPiece) -> Vec<String> {
    let (pleats, darts): (Vec<&str>, Vec<&str>) =
        darts_of(piece).map(|dart| dart.name).partition(|name| names::is_pleat(name));
    let mut marks = Vec::new();
    if !darts.is_empty() {
        marks.push(format!("the legs of {}, and the cross inside each point", darts.join(", ")));
    }
    if !pleats.is_empty() {
        marks.push(format!(
            "the edges of {} at the waist, a hand’s breadth down",
            pleats.join(", ")
        ));
    }
    let crosses = known.drills.iter().map(|mark| mark.name.as_str());
    let mut others: Vec<&str> = crosses.filter(|name| !darts.contains(name)).collect();
    others.dedup();
    if !others.is_empty() {
        marks.push(format!("the crosses of {}", others.join(", ")));
    }
    let lines = piece.inner.iter().chain(&known.folds).map(|line| line.name.as_str());
    let mut lines: Vec<&str> = lines.collect();
    lines.dedup();
    if !lines.is_empty() {
        marks.push(format!("the lines of {}", lines.join(", ")));
    }
    marks
}
