//! The loop of a fitting over pixels: the toile of a drafted block is photographed
//! with a planted surplus and read; what the photo leaves open is measured by ruler and
//! answered, and the next toile, which has as much less as the change takes, hangs level.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::worn::figure::Posed;
use hangtrue_adjust::reading::{
    Droop, HangLine, Leg, Meaning, Observed, PieceView, ToileReading, read_toile,
};
use hangtrue_adjust::{Change, CloseRound, Document, Method, OPEN_ROUND, Replay, home_shapes};
use hangtrue_files::album;
use hangtrue_files::demo;
use hangtrue_files::droops::usual_rules;
use hangtrue_files::worn::{RoundDroops, as_png, round_droops};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::Unit;
use std::path::Path;

/// Left over under the seat of the first toile, mm: 3/8 in.
const SURPLUS: f64 = 9.525;

/// The reading shall come this near to it: 1/16 in, mm.
const NEAR: f64 = 1.5875;

/// Photographs the toile of the pattern as it stands, with so much left over, and
/// takes the photo in.
fn photographed(document: &mut Document, project: &Path, surplus: f64) {
    let pattern = toile(document);
    let posed = Posed::new(&pattern, surplus);
    let camera = project.with_file_name("camera.png");
    std::fs::write(&camera, as_png(&posed.photograph(0.01)).unwrap()).unwrap();
    let kept = album::take_in(project, &camera, "now back", &[]).unwrap();
    document.journal.photos.push(posed.round_photo(kept.file));
}

fn toile(document: &Document) -> Pattern {
    (**Replay::new(document.clone()).toile(OPEN_ROUND).unwrap()).clone()
}

/// What the photos of the open round may mean.
fn read(document: &Document, project: &Path) -> ToileReading {
    let pattern = toile(document);
    let found = round_droops(document, Some(project), &pattern, OPEN_ROUND);
    assert!(found.notes.is_empty(), "{:?}", found.notes);
    let RoundDroops { droops, together, .. } = &found;
    let observed = Observed { droops, together, ..Observed::default() };
    read_toile(observed, &usual_rules().unwrap(), &pattern, &pattern, Unit::Mm).unwrap()
}

/// What the same lines mean when they are measured again by ruler, with so much left over.
fn by_ruler(document: &Document, surplus: f64) -> Vec<Meaning> {
    let pattern = toile(document);
    let homes = home_shapes(&pattern);
    let mut droops = Vec::new();
    for line in [HangLine::Hip, HangLine::Thigh, HangLine::Knee] {
        let home = homes.iter().find(|h| h.piece == "back" && h.line == line.name()).unwrap();
        for (leg, at) in Leg::BOTH.into_iter().flat_map(|l| [0.0, 0.5, 1.0].map(|at| (l, at))) {
            let bow = 4.0 * at * (1.0 - at);
            let left = if line == HangLine::Thigh { surplus * bow } else { 0.0 };
            let mm = home.below_side(at) + left;
            droops.push(Droop { line, view: PieceView::Back, leg, at, mm, error: 1.5 });
        }
    }
    let rules = usual_rules().unwrap();
    read_toile(&droops, &rules, &pattern, &pattern, Unit::Mm).unwrap().meanings
}

#[test]
fn a_planted_surplus_is_read_from_pixels_taken_and_gone_in_the_next_photo() {
    let folder = std::env::temp_dir().join(format!("hangtrue-loop-{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    let project = folder.join("maren.ron");
    let mut document = demo::bare().unwrap();
    let block = (**Replay::new(document.clone()).current().unwrap()).clone();
    demo::mark(&mut document, &block);

    photographed(&mut document, &project, SURPLUS);
    // From edge of sight to seam the photo leaves too much open for 3/8 in: it stands beside
    // others, and nothing is named.
    let seen = read(&document, &project);
    assert!(seen.meanings.iter().all(|m| !m.sure), "{:?}", seen.meanings);
    let said = seen.side_by_side().unwrap();
    assert!(said.contains("surplus length under the seat"), "{said}");
    // Measured again by ruler it is.
    let meant = by_ruler(&document, SURPLUS);
    assert_eq!(meant[0].rule, "surplus length under the seat", "{meant:?}");
    println!("read {:.2} ± {:.2} of {SURPLUS} mm", meant[0].amount, meant[0].error);
    assert!((meant[0].amount - SURPLUS).abs() <= NEAR, "{}", meant[0].amount);

    // It is answered by top and scoop, and takes what it says in the middle.
    let change = meant[0].change.clone().unwrap();
    let Change::Pinch(pinch) = &change else { panic!("{change:?}") };
    assert!(matches!(pinch.method, Method::TopAndScoop(_)));
    let laid = pinch.pinch.lay(&toile(&document)).unwrap();
    let taken = laid.profile().unwrap().at(0.5 * laid.path.length());
    document.push(&meant[0].rule, change);
    assert_eq!(Replay::new(document.clone()).failures().count(), 0);
    let round = CloseRound { date: "2026-11-25".into(), note: String::new() };
    document.close_round("first", round);

    photographed(&mut document, &project, SURPLUS - taken);
    let next = read(&document, &project);
    assert!(next.meanings.iter().all(|m| !m.sure), "{:?}", next.meanings);
    let next = by_ruler(&document, SURPLUS - taken);
    assert!(next.is_empty(), "{next:?}");
    std::fs::remove_dir_all(&folder).unwrap();
}
