//! Pages rendered by PDFium (pypdfium2, pinned) and measured: the scale is true
//! and nothing is lost at a join.

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used)]

use crate::common::python::{out_folder, python, run};
use crate::common::sample;
use hangtrue_adjust::{AllowanceSet, BackPocket, Closure, Document, FrontPocket, WaistFinish};
use hangtrue_cut::{CutSet, pieces_to_cut};
use hangtrue_files::print::*;
use hangtrue_files::save::write_whole;
use hangtrue_geometry::{Affine, Point, Rect};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Leg, Pattern};
use hangtrue_tests::bodies::ten_blocks;
use kurbo::Shape;
use serde_json::{Value, json};
use std::f64::consts::FRAC_PI_2;
use std::process::Command;

/// A tenth of a mm and a pixel.
const TOLERANCE: f64 = 0.1;

fn measured(name: &str, jobs: &Value) -> Value {
    let job = out_folder("oracle").join(format!("{name}.json"));
    write_whole(&job, jobs.to_string().as_bytes()).unwrap();
    let script = hangtrue_tests::workspace_root().join("crates/files/tests/print_oracle.py");
    serde_json::from_str(&run(Command::new(python()).arg(script).arg(job))).unwrap()
}

fn saved(name: &str, pdf: &[u8]) -> String {
    let path = out_folder("oracle").join(name);
    write_whole(&path, pdf).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn the_test_squares_measure_50_mm_and_1_in_on_every_paper() {
    let dpi = 200.0;
    let pixel = 25.4 / dpi;
    for paper in [Paper::A4, Paper::Letter, Paper::A3, Paper::A0, Paper::Roll { width_mm: 914.4 }] {
        let options = TileOptions::default();
        let printed =
            print_pattern(&sample(0.0), &DrawOptions::default(), paper, &options, "squares")
                .unwrap();
        let name = format!("squares-{}.pdf", paper.name().replace(' ', "-"));
        let pdf = saved(&name, &printed.pdf);
        let page_height = if printed.pages > printed.grid.sheets() {
            paper.size().unwrap().height
        } else {
            printed.grid.page.height
        };
        let squares = test_squares(printed.panel_at);
        let job = |r: hangtrue_geometry::Rect| {
            let down = |y: f64| page_height - y;
            json!({
                "kind": "square", "pdf": pdf, "page": 0, "dpi": dpi,
                "box": [r.x0, down(r.y1), r.x1, down(r.y0)],
            })
        };
        let found = measured(&name, &json!([job(squares.fifty), job(squares.inch)]));
        for (sides, wanted) in found.as_array().unwrap().iter().zip([50.0, 25.4]) {
            for side in sides.as_array().unwrap() {
                let off = (side.as_f64().unwrap() - wanted).abs();
                println!("{}: {wanted} mm measures {side}, off by {off:.4} mm", paper.name());
                assert!(off < TOLERANCE + pixel, "{}: {side} for {wanted}", paper.name());
            }
        }
    }
}

/// A straight line of 1000 mm with a tick at each end.
fn metre(down: bool) -> Scene {
    let at = |along: f64, across: f64| {
        if down { Point::new(across, -along) } else { Point::new(along, across) }
    };
    let pen = Pen { width: 0.3, dash: Dash::Solid, ink: INK };
    let mut scene = Scene::default();
    scene.line(Layer::Cut, at(0.0, 0.0), at(1000.0, 0.0), pen);
    for end in [0.0, 1000.0] {
        scene.line(Layer::Cut, at(end, -10.0), at(end, 10.0), pen);
    }
    scene
}

#[test]
fn a_metre_over_joined_sheets_is_a_metre() {
    let dpi = 200.0;
    for (paper, down) in
        [(Paper::A4, false), (Paper::A4, true), (Paper::Letter, false), (Paper::Letter, true)]
    {
        let scene = metre(down);
        let options = TileOptions::default();
        let grid = tile(&scene, paper, &options).unwrap();
        assert!(grid.sheets() > 3);
        let pdf = tiled_pdf(&scene, &grid, "a metre").unwrap();
        let name = format!("metre-{}-{down}.pdf", paper.name());
        let pdf = saved(&name, &pdf);
        // Where to look, in mm from the page's left edge along the line and from
        // its upper edge across it; for a line down the page the two change places.
        let printed = grid.printed();
        let (long, across) =
            if down { (printed.height, printed.width) } else { (printed.width, printed.height) };
        let first = grid.printed_tiles().next().unwrap().window;
        let last = grid.printed_tiles().last().unwrap().window;
        let (to_first, to_last) =
            if down { (first.y1, last.y1 + 1000.0) } else { (-first.x0, 1000.0 - last.x0) };
        let middle = grid.margin + across / 2.0;
        let job = json!([{
            "kind": "metre", "pdf": pdf, "dpi": dpi, "down": down,
            "pages": (0..grid.sheets()).collect::<Vec<_>>(),
            "trim": grid.margin,
            "lay": grid.margin + long - grid.overlap,
            "join_band": [grid.margin + 0.16 * across, grid.margin + 0.22 * across],
            "tick_first": grid.margin + to_first,
            "tick_last": grid.margin + to_last,
            "tick_band": [middle + 2.0, middle + 8.0],
        }]);
        let found = measured(&name, &job)[0].as_f64().unwrap();
        println!(
            "{} down={down}: 1 m over {} sheets measures {found:.4}",
            paper.name(),
            grid.sheets()
        );
        assert!((found - 1000.0).abs() < TOLERANCE + 25.4 / dpi, "{found}");
    }
}

/// The sheets of a print joined, beside the whole drawing on one page: what is lost and gained;
/// and what lies at the places, in the drawing.
fn joined(name: &str, printed: &Printed, dpi: f64, places: &[Point]) -> Value {
    let grid = &printed.grid;
    let area = grid.printed();
    let (step_x, step_y) = (area.width - grid.overlap, area.height - grid.overlap);
    let width = grid.columns as f64 * step_x + grid.overlap;
    let height = grid.rows as f64 * step_y + grid.overlap;
    let whole = Page {
        width,
        height,
        parts: vec![Part {
            to_page: Affine::translate((-grid.top_left.x, height - grid.top_left.y)),
            ..Part::plain(&printed.scene)
        }],
        photos: vec![],
    };
    let whole = pdf_of(&[whole], &About::default()).unwrap();
    let whole = saved(&format!("whole-{name}.pdf"), &whole);
    let pdf = saved(&format!("joined-{name}.pdf"), &printed.pdf);
    let sheets: Vec<Value> = grid
        .printed_tiles()
        .enumerate()
        .map(|(i, t)| {
            let (x, y) = (t.column as f64 * step_x, t.row as f64 * step_y);
            json!({ "page": i + printed.pages - grid.sheets(), "x": x, "y": y })
        })
        .collect();
    let places: Vec<_> =
        places.iter().map(|p| (p.x - grid.top_left.x, grid.top_left.y - p.y)).collect();
    let job = json!([{
        "kind": "joined", "pdf": pdf, "whole": whole, "dpi": dpi, "margin": grid.margin,
        "printed": [area.width, area.height], "sheets": sheets, "places": places,
    }]);
    let found = measured(&format!("joined-{name}"), &job)[0].clone();
    println!("{name}: {found}");
    found
}

#[test]
fn nothing_is_lost_at_any_join() {
    // 5 pixels to the mm, so that sheets of whole fifths of a mm meet on pixels.
    let dpi = 127.0;
    let before = sample(0.0);
    let draw = DrawOptions {
        allowance: Some(Allowance::all_round(15.0)),
        old: Some((&before, "version 1".into())),
        ..DrawOptions::default()
    };
    for paper in [Paper::A4, Paper::A3] {
        let options = TileOptions::default();
        let printed = print_pattern(&sample(9.525), &draw, paper, &options, "joined").unwrap();
        let found = joined(&paper.name(), &printed, dpi, &[]);
        assert!(found["ink"].as_i64().unwrap() > 20_000);
        assert_eq!(found["plain"], json!([0, 0]));
        // The measure itself must notice a sheet out of place and a sheet gone.
        assert!(found["moved"][0].as_i64().unwrap() > 50);
        assert!(found["left_out"][0].as_i64().unwrap() > 500);
    }
}

/// An invented finished pair: fly, band, slant pockets and welt pockets.
fn finished_pair(block: &Pattern) -> CutSet {
    let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
    let plan = &mut document.cutting;
    plan.set = Some(AllowanceSet::Finished);
    plan.open_by(Closure::Fly { over: Leg::Left });
    plan.waist = WaistFinish::Straight { width: 40.0, overlap: 40.0 };
    plan.pockets.choose_front(FrontPocket::Slant);
    plan.pockets.choose_back(BackPocket::Welt);
    pieces_to_cut(block, &document).unwrap()
}

/// The box of every piece's cut line as it is drawn.
fn boxes_drawn(printed: &Printed) -> impl Iterator<Item = Rect> {
    printed.scene.items.iter().filter_map(|item| match &item.mark {
        Mark::Stroke(path, _) if item.layer == Layer::Cut => Some(path.bounding_box()),
        _ => None,
    })
}

/// Places along the cut line of every piece, every so many mm, where it is drawn: moved there
/// by the corner of its box alone.
fn along_cut_lines(set: &CutSet, printed: &Printed, every: f64) -> Vec<Point> {
    let drawn = boxes_drawn(printed);
    let mut places = Vec::new();
    for (known, drawn) in set.pieces.iter().zip(drawn) {
        let piece = set.pattern.piece(&known.name).unwrap();
        let up = Affine::rotate(FRAC_PI_2 - piece.grain.direction().atan2());
        let cut = known.cut.moved(up);
        let to = Point::new(drawn.x0, drawn.y0) - cut.bounds().origin();
        let count = (cut.length() / every) as usize;
        places.extend((0..count).map(|i| cut.point_at(every * i as f64) + to));
    }
    places
}

/// The finished pair on sheets, on large sheets and on a roll: joined it is the whole drawing,
/// and along every piece's cut line, from the model, there is ink.
#[test]
fn a_finished_pair_is_whole_on_every_paper() {
    // 2 pixels to the mm; sheets of whole mm meet on pixels.
    let dpi = 50.8;
    let set = finished_pair(&ten_blocks(0.0)[0]);
    let draw = DrawOptions { set: Some(&set), ..DrawOptions::default() };
    for paper in [Paper::A4, Paper::A0, Paper::Roll { width_mm: 914.0 }] {
        let options = TileOptions::default();
        let printed = print_pattern(&set.pattern, &draw, paper, &options, "Finished pair").unwrap();
        let places = along_cut_lines(&set, &printed, 4.0);
        let name = format!("pair-{}", paper.name().replace(' ', "-"));
        let found = joined(&name, &printed, dpi, &places);
        let number = |of: &str| found[of].as_u64().unwrap();
        assert!(number("places") > 3000 && set.pieces.len() > 9);
        // A line beside the edge of a sheet may be a shade lighter there: a pixel of half a mm.
        let plain = &found["plain"];
        assert!(plain[0].as_u64() <= Some(3) && plain[1] == 0, "{name}: {plain}");
        assert_eq!(number("bare"), 0, "{name}");
        // Beside the line there is mostly none.
        assert!(number("bare_beside") > number("places") / 2, "{name}");
        assert!(found["left_out"][0].as_i64().unwrap() > 100, "{name}");
    }
}

/// On A0 every piece lies whole on one sheet where the legs are no longer than that, and no sheet
/// is less than half full of the boxes of its pieces.
#[test]
fn no_large_sheet_is_half_empty() {
    let (mut whole, mut least) = (0, f64::MAX);
    let blocks = ten_blocks(0.0);
    // Two of the ten, one of them with legs longer than a sheet.
    let some = [&blocks[0], &blocks[5]];
    for block in some {
        let set = finished_pair(block);
        let draw = DrawOptions { set: Some(&set), ..DrawOptions::default() };
        let options = TileOptions::default();
        let printed = print_pattern(&set.pattern, &draw, Paper::A0, &options, "Pair").unwrap();
        let grid = &printed.grid;
        assert_eq!(grid.sheets(), 2, "fewer could not hold the pieces");
        let boxes: Vec<Rect> = boxes_drawn(&printed).collect();
        let full: Vec<f64> = grid
            .printed_tiles()
            .map(|tile| {
                let on = boxes.iter().map(|b| b.intersect(tile.window).area()).sum::<f64>();
                on / tile.window.area()
            })
            .collect();
        println!("apart {}: {full:.2?}", grid.apart);
        if grid.apart {
            whole += 1;
            least = full.iter().copied().fold(least, f64::min);
            for one in &boxes {
                let on = grid.printed_tiles().filter(|t| t.window.intersect(*one).area() > 0.0);
                assert_eq!(on.count(), 1, "{one:?}");
            }
        }
    }
    assert!(whole == 1 && least > 0.5, "{whole} {least}");
}
