//! What we send out and bring in again is the same pattern to 0.01 mm, and what
//! other tools write is read to 0.01 mm.

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::python::{out_folder, python, run};
use crate::common::{back, sample};
use hangtrue_adjust::Start;
use hangtrue_files::exchange::*;
use hangtrue_files::print::{
    About, Allowance, DrawOptions, Mark, Page, Part, pdf_of, piece_scenes,
};
use hangtrue_files::save::write_whole;
use hangtrue_geometry::{Affine, Chain, Vec2};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Pattern, Piece, names};
use serde_json::{Value, json};
use std::process::Command;

/// What a length may be off, mm.
const TRUE: f64 = 0.01;

fn plain() -> BringOptions {
    BringOptions::default()
}

fn outline_length(piece: &Piece) -> f64 {
    piece.edges().unwrap().iter().map(Chain::length).sum()
}

/// The worst difference of seam lengths and of corners, the piece laid back by
/// the move of its first corner; mm.
fn worst(before: &Piece, after: &Piece) -> (f64, f64) {
    let lengths = before.seams.iter().map(|s| {
        let again = after.seam(&s.name).unwrap();
        (s.sewn_length() - again.sewn_length()).abs()
    });
    let moved: Vec<Vec2> = before.corners().map(|(n, p)| after.corner(n).unwrap() - p).collect();
    let apart = moved.iter().map(|m| (*m - moved[0]).hypot());
    (lengths.fold(0.0, f64::max), apart.fold(0.0, f64::max))
}

fn svg(pattern: &Pattern, allowance: Option<f64>) -> String {
    let options = SendOptions {
        allowance: allowance.map(Allowance::all_round),
        title: "A <sample> & more".into(),
        ..SendOptions::default()
    };
    svg_of(pattern, &options).unwrap().0
}

#[test]
fn svg_out_and_in_is_the_same_pattern() {
    let pattern = sample(9.525);
    for allowance in [None, Some(15.0)] {
        let text = svg(&pattern, allowance);
        let again = bring_bytes(Kind::Svg, text.as_bytes(), &plain()).unwrap();
        assert_eq!(again.pattern.pieces.len(), 2);
        for piece in &pattern.pieces {
            let read = again.pattern.piece(&piece.name).unwrap();
            let (lengths, corners) = worst(piece, read);
            println!(
                "svg {} {allowance:?}: lengths {lengths:.6}, corners {corners:.6}",
                piece.name
            );
            assert!(lengths < TRUE && corners < TRUE);
            assert_eq!(read.darts().count(), piece.darts().count());
            assert_eq!(read.notches.len(), piece.notches.len());
            let grain = (read.grain.to - read.grain.from) - (piece.grain.to - piece.grain.from);
            assert!(grain.hypot() < TRUE);
        }
        assert_eq!(again.pattern.joins.len(), 4);
    }
}

#[test]
fn svg_is_in_true_mm_and_names_its_layers() {
    let text = svg(&sample(0.0), Some(10.0));
    let document = roxmltree::Document::parse(&text).unwrap();
    let root = document.root_element();
    let width = root.attribute("width").unwrap().strip_suffix("mm").unwrap();
    assert!(root.attribute("viewBox").unwrap().starts_with(&format!("0 0 {width} ")));
    for id in ["piece-1-cut-line", "piece-1-sew-line", "piece-2-grainline", "piece-1-notches"] {
        assert!(document.descendants().any(|n| n.attribute("id") == Some(id)), "{id}");
    }
    assert!(document.descendants().any(|n| n.text() == Some("waist dart")));
    assert!(text.contains('Q') && text.contains('C'), "curves are kept");
}

#[test]
fn dxf_out_and_in_is_the_same_pattern() {
    let pattern = sample(0.0);
    for form in [DxfForm::Sewn, DxfForm::Plain] {
        for allowance in [None, Some(12.0)] {
            let options = SendOptions {
                allowance: allowance.map(Allowance::all_round),
                ..SendOptions::default()
            };
            let (bytes, _) = dxf_of(&pattern, &options, form).unwrap();
            let again = bring_bytes(Kind::Dxf, &bytes, &plain()).unwrap();
            assert_eq!(again.scale, 1.0);
            for piece in &pattern.pieces {
                let read = again.pattern.piece(&piece.name).unwrap();
                let (lengths, corners) = worst(piece, read);
                println!(
                    "dxf {form:?} {} {allowance:?}: lengths {lengths:.6}, corners {corners:.6}",
                    piece.name
                );
                assert!(lengths < TRUE && corners < TRUE);
                assert_eq!(read.darts().count(), 1);
                let seams = |p: &Piece| -> Vec<String> {
                    p.notches.iter().map(|n| format!("{} {:?}", n.seam, n.kind)).collect()
                };
                let (mut was, mut is) = (seams(piece), seams(read));
                was.sort();
                is.sort();
                assert_eq!(was, is);
            }
        }
    }
}

/// Names of a drawing program that the library would write stand in no file of ours; what
/// stays is what the format asks for: its version and one registered application.
#[test]
fn a_dxf_carries_no_names_of_a_drawing_program() {
    for form in [DxfForm::Sewn, DxfForm::Plain] {
        let (bytes, _) = dxf_of(&sample(0.0), &SendOptions::default(), form).unwrap();
        let text = String::from_utf8(bytes).unwrap();
        let strange: Vec<&str> =
            text.lines().filter(|l| l.to_uppercase().contains("ACAD")).map(str::trim).collect();
        assert_eq!(strange, ["$ACADVER", "ACAD"], "{form:?}");
    }
}

#[test]
fn the_same_pattern_gives_the_same_file() {
    let pattern = sample(0.0);
    let options = SendOptions::default();
    assert_eq!(
        dxf_of(&pattern, &options, DxfForm::Sewn).unwrap().0,
        dxf_of(&pattern, &options, DxfForm::Sewn).unwrap().0
    );
}

#[test]
fn a_brought_pattern_starts_a_new_project() {
    let text = svg(&sample(0.0), None);
    let brought = bring_bytes(Kind::Svg, text.as_bytes(), &plain()).unwrap();
    let pattern = brought.pattern.clone();
    let document = brought.document("Trousers", "nobody", Unit::Mm);
    assert_eq!(document.start, Start::Pieces(pattern));
    assert!(document.changes.is_empty());
    hangtrue_adjust::Replay::new(document).start().unwrap();
}

fn asked(name: &str, jobs: &Value) -> Value {
    let job = out_folder("exchange").join(format!("{name}.json"));
    write_whole(&job, jobs.to_string().as_bytes()).unwrap();
    let script = hangtrue_tests::workspace_root().join("crates/files/tests/exchange_oracle.py");
    serde_json::from_str(&run(Command::new(python()).arg(script).arg(job))).unwrap()
}

fn path_of(name: &str) -> std::path::PathBuf {
    out_folder("exchange").join(name)
}

#[test]
fn ezdxf_finds_no_fault_and_the_same_lengths() {
    let pattern = sample(0.0);
    let options = SendOptions {
        allowance: Some(Allowance::all_round(12.0)),
        title: "Hose für Zoë".into(),
        size: "client".into(),
        ..SendOptions::default()
    };
    let mut jobs = Vec::new();
    for (form, name) in [(DxfForm::Sewn, "sewn.dxf"), (DxfForm::Plain, "plain.dxf")] {
        let (bytes, _) = dxf_of(&pattern, &options, form).unwrap();
        write_whole(&path_of(name), &bytes).unwrap();
        jobs.push(json!({ "do": "audit", "path": path_of(name) }));
    }
    let found = asked("audit", &Value::from(jobs));
    let whole: Vec<f64> = pattern
        .pieces
        .iter()
        .map(|p| {
            let caps = |i: usize, s: &hangtrue_pattern::Seam| s.cap(i).unwrap().length();
            p.seams
                .iter()
                .map(|s| s.sewn_length() + (0..s.darts.len()).map(|i| caps(i, s)).sum::<f64>())
                .sum()
        })
        .collect();
    for report in found.as_array().unwrap() {
        assert_eq!(report["errors"], json!([]), "{report}");
        assert_eq!(report["fixes"], json!([]), "{report}");
        assert_eq!(report["complaints"], json!([]), "{report}");
        assert_eq!(report["insunits"], 4);
        assert_eq!(report["measurement"], 1);
    }
    assert!(found[0]["text"].as_array().unwrap().contains(&json!("PIECE NAME: back")));
    assert!(found[0]["text"].as_array().unwrap().contains(&json!("STYLE NAME: Hose für Zoë")));
    assert_eq!(found[0]["inserts"], json!(["back", "front"]));
    for (piece, length) in pattern.pieces.iter().zip(&whole) {
        let there = found[0]["blocks"][&piece.name]["14"][0].as_f64().unwrap();
        println!("ezdxf reads the {}: {there:.5}, ours {length:.5}", piece.name);
        assert!((there - length).abs() < TRUE);
    }
    let exact: f64 =
        found[1]["model"]["sew line"].as_array().unwrap().iter().filter_map(Value::as_f64).sum();
    println!("ezdxf reads the splines: {exact:.7}, ours {:.7}", whole.iter().sum::<f64>());
    assert!((exact - whole.iter().sum::<f64>()).abs() < 1e-4);
}

#[test]
fn what_ezdxf_writes_is_read() {
    let kinds = [
        "stadium",
        "bulges",
        "polyline bulges",
        "circle",
        "ellipse",
        "spline",
        "rational",
        "nested",
        "arc nested",
    ];
    // Code of $INSUNITS, file units in a mm, the unit given by hand.
    let units = [(4, 1.0, None), (1, 1.0 / 25.4, None), (0, 0.1, Some(FileUnit::Cm))];
    let mut jobs = Vec::new();
    let mut files = Vec::new();
    for kind in kinds {
        for (insunits, scale, unit) in units {
            let path = path_of(&format!("ezdxf-{}-{insunits}.dxf", kind.replace(' ', "-")));
            jobs.push(json!({
                "do": "write", "kind": kind, "insunits": insunits, "scale": scale, "path": path,
            }));
            files.push((kind, insunits, unit, path));
        }
    }
    let expected = asked("write", &Value::from(jobs));
    for ((kind, insunits, unit, path), expected) in files.iter().zip(expected.as_array().unwrap()) {
        if unit.is_some() {
            let asks = bring_file(path, &plain());
            assert!(matches!(asks, Err(ExchangeError::NoUnit)), "{kind}");
        }
        let options = BringOptions { unit: *unit, known: None };
        let brought = bring_file(path, &options).unwrap_or_else(|e| panic!("{kind}: {e}"));
        assert_eq!(brought.pattern.pieces.len(), 1, "{kind}");
        let length = outline_length(&brought.pattern.pieces[0]);
        let off = (length - expected.as_f64().unwrap()).abs();
        println!("{kind} $INSUNITS {insunits}: {length:.5}, off by {off:.7}");
        assert!(off < TRUE, "{kind} {insunits}: {length} for {expected}");
    }
}

#[test]
fn svg_by_resvg_looks_like_the_pdf_by_pdfium() {
    let dpi = 50.8;
    let pattern = Pattern { pieces: vec![back(0.0).into()], ..Pattern::default() };
    let options = SendOptions { allowance: Some(Allowance::all_round(12.0)), ..Default::default() };
    let (text, _) = svg_of(&pattern, &options).unwrap();
    let draw = DrawOptions { allowance: options.allowance.clone(), ..DrawOptions::default() };
    let mut scene = piece_scenes(&pattern, &draw).unwrap().swap_remove(0);
    let bounds = scene.bounds().unwrap();
    // The SVG renderer is built without letters.
    scene.items.retain(|i| !matches!(i.mark, Mark::Words(_)));
    let page = Page {
        width: bounds.width() + 20.0,
        height: bounds.height() + 20.0,
        parts: vec![Part {
            to_page: Affine::translate((10.0 - bounds.x0, 10.0 - bounds.y0)),
            ..Part::plain(&scene)
        }],
        photos: vec![],
    };
    write_whole(&path_of("same.pdf"), &pdf_of(&[page], &About::default()).unwrap()).unwrap();
    let tree = resvg::usvg::Tree::from_str(&text, &resvg::usvg::Options::default()).unwrap();
    let scale = (dpi / 96.0) as f32;
    let (w, h) = (tree.size().width() * scale, tree.size().height() * scale);
    let mut pixmap = resvg::tiny_skia::Pixmap::new(w.ceil() as u32, h.ceil() as u32).unwrap();
    pixmap.fill(resvg::tiny_skia::Color::WHITE);
    let by = resvg::tiny_skia::Transform::from_scale(scale, scale);
    resvg::render(&tree, by, &mut pixmap.as_mut());
    pixmap.save_png(path_of("same.png")).unwrap();
    let job = json!([{
        "do": "compare", "dpi": dpi, "pdf": path_of("same.pdf"), "png": path_of("same.png"),
    }]);
    let found = &asked("compare", &job)[0];
    println!("{found}");
    assert!(found["ink"][0].as_i64().unwrap() > 5_000);
    for share in found["plain"].as_array().unwrap() {
        assert!(share.as_f64().unwrap() > 0.99, "{found}");
    }
    // The measure itself must notice a picture 2 mm out of place.
    assert!(found["moved"][0].as_f64().unwrap() < 0.9, "{found}");
}

#[test]
fn a_half_beside_its_mirror_line_is_laid_open() {
    // Laid out as ASTM D6673 (memory); invented numbers, inches.
    let line = |layer: u8, a: (f64, f64), b: (f64, f64)| {
        format!("0\nLINE\n8\n{layer}\n10\n{}\n20\n{}\n11\n{}\n21\n{}\n", a.0, a.1, b.0, b.1)
    };
    let corners = [(0.0, 0.0), (6.0, 0.0), (5.0, 2.0), (0.0, 2.0)];
    let mut block = String::from("0\nBLOCK\n8\n1\n2\nyoke\n70\n0\n10\n0\n20\n0\n");
    for i in 0..4 {
        block += &line(1, corners[i], corners[(i + 1) % 4]);
    }
    block += &line(6, corners[3], corners[0]);
    block += &line(7, (2.0, 0.5), (2.0, 1.5));
    block += "0\nPOINT\n8\n4\n10\n3\n20\n0\n0\nENDBLK\n";
    let file = format!(
        "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n1\n0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n{block}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n8\n1\n2\nyoke\n10\n0\n20\n0\n0\nENDSEC\n0\nEOF\n"
    );
    let brought = bring_bytes(Kind::Dxf, file.as_bytes(), &plain()).unwrap();
    let piece = brought.pattern.piece("yoke").unwrap();
    let expected = 25.4 * (12.0 + 10.0 + 2.0 * 1.0f64.hypot(2.0));
    assert!((outline_length(piece) - expected).abs() < 1e-6);
    assert_eq!(piece.notches.len(), 2, "on both halves");
    assert!(brought.notes.iter().any(|n| n.contains("laid open")), "{:?}", brought.notes);
}

fn leg() -> &'static str {
    // Invented numbers, inches at 96 to the inch.
    r##"<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"
      width="20in" height="45in" viewBox="0 0 20 45">
      <defs><path id="leg" d="M14 1 L7 0.4 L5.5 8 C5.2 10 4 11.2 1.5 11.4 C3 16 4.5 22 5 43
        h9 C14.5 30 16 20 15.5 9 C15.3 6 14.8 3 14 1 z"/></defs>
      <g transform="translate(1 1)"><use xlink:href="#leg"/></g>
      <image href="http://example.invalid/picture.png" width="3" height="3"/>
      <use href="other.svg#thing"/>
      <rect id="test square" x="17" y="1" width="2" height="2" transform="rotate(0)"/>
      <text x="8" y="20">back</text>
      <circle cx="10" cy="20" r="0.2" style="display:none"/>
    </svg>"##
}

#[test]
fn a_drawing_of_a_leg_gets_its_seams_by_shape() {
    let brought = bring_bytes(Kind::Svg, leg().as_bytes(), &plain()).unwrap();
    let piece = brought.pattern.piece(names::BACK).unwrap();
    let seams: Vec<&str> = piece.seams.iter().map(|s| s.name.as_str()).collect();
    assert_eq!(seams, ["waist", "crotch", "inseam", "hem", "side"]);
    // Closed forms: straight sides in inches.
    let waist = piece.seam(names::WAIST).unwrap().sewn_length();
    assert!((waist - 7.0f64.hypot(0.6) * 25.4).abs() < 1e-4, "{waist}");
    assert!((piece.seam(names::HEM).unwrap().sewn_length() - 9.0 * 25.4).abs() < 1e-4);
    let lost: Vec<&str> = brought.lost.iter().map(|l| l.what.as_str()).collect();
    for what in ["a picture", "outside the file", "hidden shape"] {
        assert!(lost.iter().any(|l| l.contains(what)), "{what} in {lost:?}");
    }
}

#[test]
fn a_known_length_sets_the_scale() {
    let known = |of: Option<&str>, mm| BringOptions {
        unit: None,
        known: Some(KnownLength { mm, of: of.map(str::to_owned) }),
    };
    let square = known(Some("test square"), 50.0);
    let brought = bring_bytes(Kind::Svg, leg().as_bytes(), &square).unwrap();
    let hem = brought.pattern.piece(names::BACK).unwrap().seam(names::HEM).unwrap().sewn_length();
    // The square of 2 in was said to be 50 mm.
    assert!((hem - 9.0 * 25.0).abs() < 1e-4, "{hem}");
    assert!(brought.notes.iter().any(|n| n.contains("50.80 mm")), "{:?}", brought.notes);
    let missing = bring_bytes(Kind::Svg, leg().as_bytes(), &known(Some("ruler"), 50.0));
    assert!(matches!(missing, Err(ExchangeError::NoKnownLine { .. })));
    let absurd = bring_bytes(Kind::Svg, leg().as_bytes(), &known(None, -5.0));
    assert!(matches!(absurd, Err(ExchangeError::Scale { .. })));
    let unitless = leg().replace("20in", "20").replace("45in", "45");
    let asks = bring_bytes(Kind::Svg, unitless.as_bytes(), &plain());
    assert!(matches!(asks, Err(ExchangeError::NoUnit)));
}

#[test]
fn arcs_circles_and_rounded_rectangles_of_svg_are_exact() {
    use std::f64::consts::PI;
    let ring = |inside: &str| {
        format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='500mm' height='500mm' viewBox='0 0 50 50'>{inside}</svg>"
        )
    };
    for (inside, expected) in [
        ("<circle cx='25' cy='25' r='12'/>", 2.0 * PI * 120.0),
        ("<path d='M10 10 A 8 8 0 0 1 26 10 L 26 20 H10 Z'/>", 80.0 * PI + 360.0),
        (
            "<rect x='5' y='5' width='30' height='20' rx='4'/>",
            2.0 * PI * 40.0 + 2.0 * 220.0 + 2.0 * 120.0,
        ),
        (
            "<polygon points='5,5 25,5 25,15 5,15' transform='rotate(33 10 10) scale(2 1)'/>",
            2.0 * 400.0 + 200.0,
        ),
        ("<path d='m5 5 h20 v10 h-20z'/>", 600.0),
    ] {
        let brought = bring_bytes(Kind::Svg, ring(inside).as_bytes(), &plain()).unwrap();
        let length = outline_length(&brought.pattern.pieces[0]);
        println!("{inside}: {length:.6}");
        assert!((length - expected).abs() < 1e-3, "{inside}: {length} for {expected}");
    }
}
