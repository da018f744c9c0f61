//! The project the desk opens with: the demo's invented client, as it stands when
//! her first toile was pinned. It is a copy with no file of its own, so it can
//! never be saved over by accident.

use hangtrue_adjust::{Document, Start};
use hangtrue_files::demo;
use hangtrue_pattern::{Measures, Pattern, Plan, draft};

/// The project before anything was done to the block.
pub fn bare() -> Document {
    // The measures are constant, and a test reads and drafts them.
    demo::bare().unwrap_or_else(|_| {
        Document::from_measures(
            "Trousers",
            "",
            demo::UNIT,
            Measures::default(),
            Plan::usual(demo::UNIT),
        )
    })
}

/// The block of the project.
pub fn pattern() -> Pattern {
    match bare().start {
        Start::Block { measures, plan } => {
            draft(&measures, &plan).map(|d| d.pattern).unwrap_or_default()
        }
        Start::Pieces(pattern) => pattern,
    }
}

/// The project with the usual lines marked.
pub fn document() -> Document {
    let mut document = bare();
    demo::mark(&mut document, &pattern());
    document
}

/// The project as the desk opens with it: the first toile was cut from the marked
/// block and tried on, and what was pinned waits to be answered.
pub fn opening() -> Document {
    let mut document = document();
    demo::close_first(&mut document);
    document.pinned.push(demo::pinch());
    document
}

#[cfg(test)]
mod tests {
    use hangtrue_adjust::Replay;

    #[test]
    fn the_sample_drafts_and_every_line_is_placed() {
        let replay = Replay::new(super::document());
        assert_eq!(replay.states().len(), 8);
        assert_eq!(replay.failures().count(), 0);
        let (placed, unplaced) = replay.current().unwrap().place_lines();
        assert!(placed.iter().all(|l| l.stale.is_none()));
        assert!(unplaced.is_empty());
        let opening = super::opening();
        assert!(opening.client.contains("(invented)"));
        assert!(opening.pinned[0].lay(replay.current().unwrap()).is_ok());
    }
}
