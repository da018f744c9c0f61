//! A sheet a piece, and the page for a projector, rendered by PDFium (pypdfium2,
//! pinned) and measured.

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::python::{out_folder, python, run};
use crate::common::sample;
use hangtrue_files::print::*;
use hangtrue_files::save::write_whole;
use hangtrue_geometry::Rect;
use hangtrue_pattern::units::Unit;
use serde_json::{Value, json};
use std::process::Command;

/// A tenth of a mm and a pixel.
fn tolerance(dpi: f64) -> f64 {
    0.1 + 25.4 / dpi
}

fn measured(name: &str, jobs: &Value) -> Value {
    let job = out_folder("large").join(format!("{name}.json"));
    write_whole(&job, jobs.to_string().as_bytes()).unwrap();
    let script = hangtrue_tests::workspace_root().join("crates/files/tests/print_oracle.py");
    serde_json::from_str(&run(Command::new(python()).arg(script).arg(job))).unwrap()
}

fn saved(name: &str, pdf: &[u8]) -> String {
    let path = out_folder("large").join(name);
    write_whole(&path, pdf).unwrap();
    path.to_str().unwrap().to_owned()
}

/// A box of the page from its upper left corner.
fn from_top(page: &LargePage, r: Rect) -> [f64; 4] {
    let down = |y: f64| page.size.height - y;
    [r.x0, down(r.y1), r.x1, down(r.y0)]
}

/// The front's thigh and knee lines: where they lie on the page, and how far
/// apart the model says they are (50.8 and 364 mm below the crotch point).
const APART: f64 = 364.0 - 50.8;

fn level_lines(page: &LargePage) -> Vec<Rect> {
    let strokes = page.scene.items.iter().filter_map(|i| match &i.mark {
        Mark::Stroke(path, _) if i.layer == Layer::Cloth => Some(kurbo::Shape::bounding_box(path)),
        _ => None,
    });
    let mut level: Vec<Rect> = strokes.filter(|b| b.height() < 1e-6 && b.width() > 50.0).collect();
    level.sort_by(|a, b| b.y0.total_cmp(&a.y0));
    level
}

fn levels_job(pdf: &str, number: usize, page: &LargePage, dpi: f64, light: bool) -> Value {
    let lines = level_lines(page);
    // The two of the right-most piece: the front.
    let right = lines.iter().map(|l| l.x1).fold(0.0, f64::max);
    let front: Vec<&Rect> = lines.iter().filter(|l| l.x1 > right - 120.0).collect();
    let pair = front.iter().flat_map(|a| front.iter().map(move |b| (a, b)));
    let (a, b) =
        pair.into_iter().find(|(a, b)| (a.y0 - b.y0 - APART).abs() < 1e-6).expect("thigh and knee");
    let x = a.x0.max(b.x0);
    json!({
        "kind": "levels", "pdf": pdf, "page": number, "dpi": dpi, "light": light,
        "heights": [page.size.height - a.y0, page.size.height - b.y0],
        "band": [x + 18.0, x + 60.0],
    })
}

#[test]
fn a_sheet_a_piece_is_at_true_scale() {
    let dpi = 120.0;
    let pattern = sample(0.0);
    let draw = DrawOptions { allowance: Some(Allowance::all_round(12.0)), ..Default::default() };
    let print = piece_sheets(&pattern, &draw, "Trousers").unwrap();
    assert_eq!(print.pages.len(), pattern.pieces.len());
    let pdf = saved("pieces.pdf", &print.pdf);
    let mut jobs = Vec::new();
    for (number, page) in print.pages.iter().enumerate() {
        jobs.push(json!({
            "kind": "square", "pdf": pdf, "page": number, "dpi": dpi,
            "box": from_top(page, page.measure),
        }));
    }
    jobs.push(levels_job(&pdf, 1, &print.pages[1], dpi, false));
    let mut found = measured("pieces", &Value::from(jobs)).as_array().unwrap().clone();
    let apart = found.pop().unwrap().as_f64().unwrap();
    println!("thigh to knee {apart:.4} for {APART}; squares {found:?}");
    assert!((apart - APART).abs() < tolerance(dpi), "{apart}");
    for side in found.iter().flat_map(|s| s.as_array().unwrap()) {
        assert!((side.as_f64().unwrap() - 50.0).abs() < tolerance(dpi), "{side}");
    }
}

#[test]
fn a_projector_page_is_at_true_scale_light_or_dark() {
    let dpi = 72.0;
    let pattern = sample(0.0);
    for (name, inverted, grid, unit) in [
        ("projector", false, Some(50.0), Unit::Mm),
        ("projector-inverted", true, Some(50.8), Unit::Eighths),
        ("projector-plain", false, None, Unit::Cm),
    ] {
        let draw = DrawOptions { unit, ..DrawOptions::default() };
        let options = ProjectorOptions { inverted, grid, ..ProjectorOptions::default() };
        let print = projector_page(&pattern, &draw, &options, "Trousers").unwrap();
        let [page] = &print.pages[..] else { panic!("one page") };
        let pdf = saved(&format!("{name}.pdf"), &print.pdf);
        let step = grid.unwrap_or(50.0);
        for side in [page.measure.width(), page.measure.height()] {
            assert!((side / step - (side / step).round()).abs() < 1e-9, "whole squares");
        }
        let jobs = json!([
            { "kind": "square", "pdf": pdf, "page": 0, "dpi": dpi, "light": inverted,
              "box": from_top(page, page.measure) },
            levels_job(&pdf, 0, page, dpi, inverted),
        ]);
        let found = measured(name, &jobs);
        let sides = found[0].as_array().unwrap();
        println!("{name}: frame {:?} measures {sides:?}; thigh to knee {}", page.measure, found[1]);
        for (side, wanted) in sides.iter().zip([page.measure.width(), page.measure.height()]) {
            assert!((side.as_f64().unwrap() - wanted).abs() < tolerance(dpi), "{side} {wanted}");
        }
        assert!((found[1].as_f64().unwrap() - APART).abs() < tolerance(dpi), "{}", found[1]);
        let thin = page.scene.items.iter().filter_map(|i| match &i.mark {
            Mark::Stroke(_, pen) if i.layer != Layer::Sheet => Some(pen.width),
            _ => None,
        });
        assert!(thin.fold(f64::MAX, f64::min) >= 2.0, "every line is thick");
    }
}

#[test]
fn what_cannot_be_projected_is_refused_in_words() {
    let draw = DrawOptions::default();
    for options in [
        ProjectorOptions { line: f64::NAN, ..Default::default() },
        ProjectorOptions { line: 40.0, ..Default::default() },
        ProjectorOptions { grid: Some(0.0), ..Default::default() },
    ] {
        let refused = projector_page(&sample(0.0), &draw, &options, "").unwrap_err();
        assert!(matches!(refused, PrintError::Projector { .. }), "{refused}");
    }
    let mut many = sample(0.0);
    for number in 0..30 {
        let mut piece = many.pieces[0].clone();
        piece.name = format!("piece {number}");
        many.pieces.push(piece);
    }
    let refused = projector_page(&many, &draw, &ProjectorOptions::default(), "").unwrap_err();
    assert!(matches!(refused, PrintError::Page { .. }), "{refused}");
}
