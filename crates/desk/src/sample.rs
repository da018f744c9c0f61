//! The project the desk opens with. The client and all her measures are invented.

use hangtrue_adjust::{Change, Document, MarkLine, Start, UsualDepths, usual_lines};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Measure, Measures, Pattern, Plan, draft};

/// The invented body, mm.
const BODY: [(Measure, f64); 10] = [
    (Measure::Stature, 1688.0),
    (Measure::WaistGirth, 812.0),
    (Measure::HipGirth, 1036.0),
    (Measure::WaistHeight, 1044.0),
    (Measure::HipHeight, 842.0),
    (Measure::InsideLegHeight, 782.0),
    (Measure::CrotchLength, 686.0),
    (Measure::ThighGirth, 612.0),
    (Measure::KneeGirth, 392.0),
    (Measure::KneeHeight, 462.0),
];

/// The project before anything was done to the block.
pub fn bare() -> Document {
    Document {
        title: "Everyday trousers".into(),
        client: "Ottilie Brandt (invented)".into(),
        unit: Unit::Sixteenths,
        start: Start::Block {
            measures: BODY.into_iter().collect::<Measures>(),
            plan: Plan::default(),
        },
        pinned: vec![],
        changes: vec![],
        journal: hangtrue_adjust::Journal::default(),
    }
}

/// The block of the project.
pub fn pattern() -> Pattern {
    let measures = BODY.into_iter().collect::<Measures>();
    // The measures are constant, and a test drafts them.
    draft(&measures, &Plan::default()).map(|d| d.pattern).unwrap_or_default()
}

/// The project with the usual lines marked.
pub fn document() -> Document {
    let mut document = bare();
    let lines = usual_lines(&pattern(), UsualDepths::default()).unwrap_or_default();
    for line in lines {
        let name = format!("{} on the {}", line.name, line.piece);
        document.push(&name, Change::MarkLine(MarkLine { line }));
    }
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
    }
}
