//! A project kept before there were cutting plans, with its two widths of allowance, loads
//! as it is and prints with those widths. `old/two_widths.ron` was written, and printed on
//! 22 sheets of A4, by the program as it was before (an invented client).

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops at the first fault

use hangtrue_adjust::{CuttingPlan, Replay, Usual};
use hangtrue_cut::pieces_to_cut;
use hangtrue_files::print::{
    DrawOptions, Layer, Mark, Paper, TileOptions, piece_scenes, print_mark, print_pattern,
};
use hangtrue_files::project::{from_text, to_text};
use hangtrue_geometry::Chain;
use hangtrue_pattern::names;

const OLD: &str = include_str!("old/two_widths.ron");
/// The widths in the file, mm.
const WIDTHS: (f64, f64) = (12.7, 31.75);
/// The sheets it had.
const SHEETS: usize = 22;

#[test]
fn an_old_project_prints_with_its_two_widths() {
    assert!(!OLD.contains("cutting"));
    let document = from_text(OLD, "two_widths.ron").unwrap();
    assert_eq!(document.cutting, CuttingPlan::default());
    assert!(!to_text(&document).unwrap().contains("cutting"), "saved as it was");
    // What was printed from it is known again.
    assert_eq!(print_mark(&document), document.printing.printed);

    let replay = Replay::new(document.clone());
    let pattern = replay.current().unwrap();
    let set = pieces_to_cut(pattern, &document).unwrap();
    assert_eq!(set.pieces.len(), pattern.pieces.len());
    let draw = DrawOptions { unit: document.unit, set: Some(&set), ..DrawOptions::default() };
    let scenes = piece_scenes(&set.pattern, &draw).unwrap();
    let mut places = 0;
    for (piece, scene) in pattern.pieces.iter().zip(&scenes) {
        let path = scene.items.iter().find_map(|item| match &item.mark {
            Mark::Stroke(path, _) if item.layer == Layer::Cut => Some(path),
            _ => None,
        });
        let cut = Chain::new(path.unwrap().segments().collect()).unwrap();
        for seam in &piece.seams {
            let width = if seam.name == names::HEM { WIDTHS.1 } else { WIDTHS.0 };
            for part in &seam.parts {
                // Away from the corners, which are cut for how they are sewn.
                for share in [0.4, 0.5, 0.6] {
                    let off = cut.nearest(part.point_at(share * part.length())).distance - width;
                    assert!(off.abs() < 0.01, "{} of the {}: {off}", seam.name, piece.name);
                    places += 1;
                }
            }
        }
    }
    assert!(places >= 30, "{places}");
    let usual = Usual::of(document.unit);
    let tiles = TileOptions { margin: usual.margin, overlap: usual.overlap, unit: document.unit };
    let printed = print_pattern(&set.pattern, &draw, Paper::A4, &tiles, &document.title).unwrap();
    assert_eq!(printed.pages, SHEETS);
}

#[test]
fn an_old_project_without_allowance_has_none() {
    let text = OLD.replace("with_allowance: true,", "");
    let document = from_text(&text, "two_widths.ron").unwrap();
    let replay = Replay::new(document.clone());
    let set = pieces_to_cut(replay.current().unwrap(), &document).unwrap();
    assert!(set.pieces.iter().all(|piece| !piece.has_allowance));
}
