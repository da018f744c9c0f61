//! Handouts measured from outside by PDFium (pypdfium2, pinned): the bar is as long on the
//! paper as it says, a piece exactly half or a quarter, and every sheet says what it is.

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::panic)]

use crate::common::python::{out_folder, python, run};
use crate::common::sample;
use hangtrue_adjust::{AllowanceSet, Closure, Document, FrontPocket, WaistFinish};
use hangtrue_cut::pieces_to_cut;
use hangtrue_files::print::*;
use hangtrue_files::save::write_whole;
use hangtrue_geometry::Rect;
use hangtrue_pattern::units::{INCH, Unit};
use hangtrue_pattern::{Leg, Pattern};
use kurbo::Shape;
use serde_json::Value;
use std::process::Command;

/// What PDFium finds on the pages.
fn found(name: &str, pdf: &[u8]) -> Vec<Value> {
    let path = out_folder("handout").join(name);
    write_whole(&path, pdf).unwrap();
    let script = hangtrue_tests::workspace_root().join("crates/files/tests/print_objects.py");
    serde_json::from_str(&run(Command::new(python()).arg(script).arg(path))).unwrap()
}

/// Width and height of every path on a page, mm.
fn sizes(page: &Value) -> Vec<(f64, f64)> {
    let side =
        |path: &Value, a: usize, b: usize| path[b].as_f64().unwrap() - path[a].as_f64().unwrap();
    page["paths"].as_array().unwrap().iter().map(|p| (side(p, 0, 2), side(p, 1, 3))).collect()
}

fn text(page: &Value) -> String {
    page["text"].as_str().unwrap().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A path so large, its pen aside: how far the nearest is off, mm.
fn off(page: &Value, wanted: (f64, f64)) -> f64 {
    let far = |(w, h): (f64, f64)| {
        // PDFium counts the pen in or not, by its version: up to half a mm.
        let beside =
            |is: f64, want: f64| if is < want { want - is } else { (is - want - 0.5).max(0.0) };
        beside(w, wanted.0).max(beside(h, wanted.1))
    };
    sizes(page).into_iter().map(far).fold(f64::INFINITY, f64::min)
}

/// How large the ink is in a box of a page, from its lower left corner, mm.
fn inked(name: &str, within: Rect) -> (f64, f64) {
    let path = out_folder("handout").join(name);
    let script = hangtrue_tests::workspace_root().join("crates/files/tests/print_extents.py");
    let mut command = Command::new(python());
    command.arg(script).arg(path);
    for mm in [within.x0, within.y0, within.x1, within.y1] {
        command.arg(mm.to_string());
    }
    serde_json::from_str(&run(&mut command)).unwrap()
}

fn drawn(pattern: &Pattern, reduced: Reduced, paper: Paper, unit: Unit) -> Handout {
    let draw =
        DrawOptions { unit, label: vec!["Somebody (invented)".into()], ..DrawOptions::default() };
    let options = TileOptions { unit, ..TileOptions::default() };
    handout((pattern, &draw), reduced, paper, &options, "Trousers").unwrap()
}

/// A pixel of 300 dpi, mm: what a rendered page can be measured to.
const PIXEL: f64 = 25.4 / 300.0;
/// Widths of the pens of an outline and of the bar, mm.
const PENS: (f64, f64) = (0.35, 0.25);

#[test]
fn a_piece_and_the_bar_are_exactly_a_half_and_a_quarter() {
    // One piece alone, so that all ink above the strip is its own.
    let mut pattern = sample(0.0);
    pattern.pieces.truncate(1);
    pattern.joins = Vec::new().into();
    pattern.lines = Vec::new().into();
    let outline = pattern.pieces[0].outline().bounding_box();
    for reduced in Reduced::ALL {
        let made = drawn(&pattern, reduced, Paper::A0, Unit::Mm);
        let name = format!("{}.pdf", reduced.name().replace(' ', "-"));
        let pages = found(&name, &made.pdf);
        assert_eq!(pages.len(), 1);
        let times = reduced.times();
        let page = made.grid.page;
        let above = Rect::new(0.0, made.grid.margin + made.grid.foot, page.width, page.height);
        let (wide, high) = inked(&name, above);
        for (is, of) in [(wide, outline.width()), (high, outline.height())] {
            let off = (is - PENS.0 - of * times).abs();
            println!("{}: {of:.2} mm is {is:.3}, off by {off:.3} mm", reduced.name());
            // A sharp corner of a wide line reaches a little farther than half its width.
            assert!(off < PIXEL + 0.2, "{is} for {of}: {off}");
        }
        // A level band through the bar, clear of the words over and under it.
        let bar = made.bar;
        let band = Rect::new(bar.x0 - 5.0, bar.y0 + 0.9, bar.x1 + 5.0, bar.y1 - 0.9);
        let (long, _) = inked(&name, band);
        let off = (long - PENS.1 - 200.0 * times).abs();
        println!("{}: the bar is {long:.3} mm, off by {off:.3} mm", reduced.name());
        assert!(off < 1.5 * PIXEL, "{long}: {off}");
        let said = text(&pages[0]);
        let scale = if reduced == Reduced::Half { "HALF" } else { "QUARTER" };
        assert!(said.contains(&format!("{scale} SCALE · NOT FOR CUTTING")), "{said}");
        let paper = if reduced == Reduced::Half { "100 mm" } else { "50 mm" };
        assert!(said.contains(&format!("200 mm of the pattern: {paper} on this paper")), "{said}");
    }
}

#[test]
fn in_inches_the_bar_is_eight_of_the_pattern() {
    let made = drawn(&sample(0.0), Reduced::Quarter, Paper::Letter, Unit::Eighths);
    for page in found("inches.pdf", &made.pdf) {
        assert!(off(&page, (2.0 * INCH, 2.4)) < 0.02, "{:?}", sizes(&page));
        assert!(text(&page).contains("8 in of the pattern: 2 in on this paper"), "{}", text(&page));
    }
}

/// The squares of a full print stand on no handout, and no sheet of it is without its words.
#[test]
fn no_sheet_pretends_to_be_full_scale() {
    let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
    document.cutting.set = Some(AllowanceSet::Finished);
    document.cutting.waist = WaistFinish::Straight { width: 40.0, overlap: 40.0 };
    document.cutting.closure = Closure::Fly { over: Leg::Left };
    document.cutting.pockets.front = FrontPocket::Slant;
    let set = pieces_to_cut(&sample(0.0), &document).unwrap();
    let draw = DrawOptions { set: Some(&set), ..DrawOptions::default() };
    let full = print_pattern(&set.pattern, &draw, Paper::A4, &TileOptions::default(), "t").unwrap();
    let full = found("full.pdf", &full.pdf);
    assert!(off(&full[0], (50.0, 50.0)) < 0.02, "the look itself finds a test square");
    assert!(full.iter().all(|page| !text(page).contains("NOT FOR CUTTING")));
    for (reduced, paper) in [
        (Reduced::Half, Paper::A4),
        (Reduced::Quarter, Paper::A4),
        (Reduced::Half, Paper::A3),
        (Reduced::Quarter, Paper::Letter),
    ] {
        let options = TileOptions::default();
        let made = handout((&set.pattern, &draw), reduced, paper, &options, "t").unwrap();
        let name = format!("{}-{}.pdf", reduced.name().replace(' ', "-"), paper.name());
        let pages = found(&name, &made.pdf);
        assert_eq!(pages.len(), made.grid.sheets());
        println!("{} on {}: {} sheets", reduced.name(), paper.name(), pages.len());
        let mut all = String::new();
        for (index, page) in pages.iter().enumerate() {
            let said = text(page);
            assert!(said.contains("NOT FOR CUTTING"), "{said}");
            assert!(off(page, (200.0 * reduced.times(), 2.4)) < 0.02);
            let squares =
                sizes(page).into_iter().filter(|(w, h)| (w - h).abs() < 0.01 && *w > 20.0);
            assert_eq!(squares.count(), 0, "page {index} has a square");
            assert!(!said.contains("Lay a ruler on the squares"), "{said}");
            all += &said;
            all += " ";
        }
        for piece in &set.pieces {
            assert!(all.contains(&piece.name), "{} is not named on {name}", piece.name);
        }
    }
}
