//! A lay at full size, measured by other people's libraries: each cloth's pieces are as much
//! larger as that cloth loses, and what lies on the fold is the half that lies there, open
//! along it.

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used)]

use crate::common::python::{out_folder, python, run};
use hangtrue_adjust::{
    AllowanceSet, ClothLay, Document, OwnShrinkage, Shrinkage, UsualLay, WaistFinish,
};
use hangtrue_cut::{Cloth, CutSet, pieces_to_cut};
use hangtrue_files::lay::{LayFile, OnCloth, full_size};
use hangtrue_files::save::write_whole;
use hangtrue_geometry::{Affine, Vec2};
use hangtrue_lay::{Bed, Effort, Lay, find, needed, parts_to_lay};
use hangtrue_pattern::{Pattern, units::Unit};
use hangtrue_tests::bodies::ten_blocks;
use kurbo::Shape;
use serde::Deserialize;
use serde_json::json;
use std::process::Command;

/// What a length of a vector file may be off, mm: files are written to a millionth, and the box
/// of a curve is worked out by each library in its own way.
const OFF: f64 = 0.01;
/// The same in a PDF, whose numbers are of single precision, mm.
const OFF_PDF: f64 = 0.03;

const LOSSES: [(Cloth, (f64, f64)); 3] =
    [(Cloth::Main, (2.0, 1.0)), (Cloth::Lining, (5.0, -3.0)), (Cloth::Interfacing, (0.0, 0.0))];

fn document(losses: bool) -> Document {
    let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
    let plan = &mut document.cutting;
    plan.set = Some(AllowanceSet::Finished);
    plan.waist = WaistFinish::Straight { width: 40.0, overlap: 0.0 };
    (plan.lining, plan.interfacing) = (true, true);
    if losses {
        let pair = |index: usize| {
            let (lengthwise, crosswise) = LOSSES[index].1;
            Shrinkage { lengthwise, crosswise }
        };
        plan.shrinkage = pair(0);
        plan.own_shrinkage =
            OwnShrinkage { lining: Some(pair(1)), interfacing: Some(pair(2)), pocketing: None };
    }
    document
}

/// Length and width of a piece's cut line, its grain level, from the pieces as they are sewn.
fn as_sewn(set: &CutSet, name: &str) -> Vec2 {
    let piece = set.pattern.piece(name).unwrap();
    let level = Affine::rotate(-piece.grain.direction().atan2());
    let cut = level * set.piece(name).unwrap().cut.to_path();
    cut.bounding_box().size().to_vec2()
}

#[derive(Deserialize)]
struct Found {
    #[serde(default)]
    pieces: Vec<Line>,
    #[serde(default)]
    paths: Vec<[f64; 4]>,
    #[serde(default)]
    size: Vec<f64>,
    #[serde(default)]
    complaints: Vec<String>,
    #[serde(default)]
    names: Vec<String>,
    #[serde(default)]
    unit: u32,
}

#[derive(Deserialize)]
struct Line {
    #[serde(rename = "box")]
    around: [f64; 4],
    length: f64,
}

fn size(around: &[f64; 4]) -> Vec2 {
    Vec2::new(around[2] - around[0], around[3] - around[1])
}

fn near(a: Vec2, b: Vec2, within: f64) -> bool {
    (a.x - b.x).abs() <= within && (a.y - b.y).abs() <= within
}

/// The files of a lay: SVG, DXF and PDF, as other libraries read them.
fn read_back(set: &CutSet, (of, cloth): (Cloth, &ClothLay), lay: &Lay) -> [Found; 3] {
    let on = OnCloth {
        set,
        of,
        cloth,
        lay,
        needed: needed(lay, cloth, set.shrinkage_of(of), 50.0),
        title: "Trousers",
        label: Vec::new(),
        unit: Unit::Mm,
    };
    let folder = out_folder("lay");
    let how = if cloth.folded { "folded" } else { "open" };
    let files = [(LayFile::Svg, "svg"), (LayFile::Dxf, "dxf"), (LayFile::Pdf, "pdf")];
    let jobs = files.map(|(file, ending)| {
        let path = folder.join(format!("{}-{how}.{ending}", of.word()));
        write_whole(&path, &full_size(&on, file).unwrap().0).unwrap();
        (ending, path)
    });
    let job = folder.join(format!("{}-{how}.json", of.word()));
    write_whole(&job, json!(jobs).to_string().as_bytes()).unwrap();
    let script = hangtrue_tests::workspace_root().join("crates/files/tests/drawn_oracle.py");
    let said = run(Command::new(python()).arg(script).arg(job));
    let found: Vec<Found> = serde_json::from_str(&said).unwrap();
    found.try_into().ok().unwrap()
}

#[test]
fn each_cloth_is_drawn_for_its_own_loss() {
    let block = &ten_blocks(0.0)[0];
    let plain = pieces_to_cut(block, &document(false)).unwrap();
    let set = pieces_to_cut(block, &document(true)).unwrap();
    for piece in &plain.pattern.pieces {
        assert_eq!(piece, set.pattern.pieces.iter().find(|p| p.name == piece.name).unwrap());
    }
    let mut measured = 0;
    for (of, (in_length, in_width)) in LOSSES {
        let cloth = UsualLay::of(Unit::Mm).lay(1500.0);
        let bed = Bed::of(&cloth).unwrap();
        let parts = parts_to_lay(&set, of, &bed).unwrap();
        let lay = find(bed, parts, Effort { seed: 1, rounds: 20 }, &mut |_| true).unwrap();
        let meant: Vec<Vec2> = lay
            .laid()
            .map(|(index, ..)| {
                let known = set.piece(&lay.parts[index].piece).unwrap();
                let sewn = as_sewn(&plain, known.copy_of.as_ref().unwrap_or(&known.name));
                Vec2::new(sewn.x / (1.0 - in_length / 100.0), sewn.y / (1.0 - in_width / 100.0))
            })
            .collect();
        let [svg, dxf, pdf] = read_back(&set, (of, &cloth), &lay);
        // The first group of the SVG is the cloth.
        assert_eq!((svg.pieces.len(), dxf.pieces.len()), (meant.len() + 1, meant.len()));
        assert!(dxf.complaints.is_empty() && dxf.unit == 4, "{:?}", dxf.complaints);
        assert_eq!(dxf.names.len(), meant.len(), "{:?}", dxf.names);
        let edges = size(&svg.pieces[0].around);
        assert!(edges.x <= lay.length() + OFF, "{edges:?}");
        assert!(svg.size[0] > lay.length() && svg.size[1] > 1500.0 && pdf.size[1] > 1500.0);
        for ((meant, svg), dxf) in meant.iter().zip(&svg.pieces[1..]).zip(&dxf.pieces) {
            let word = of.word();
            assert!(near(*meant, size(&svg.around), OFF), "{word}: {meant:?} {:?}", svg.around);
            assert!(near(*meant, size(&dxf.around), OFF), "{word}: {meant:?} {:?}", dxf.around);
            assert!((svg.length - dxf.length).abs() < OFF, "{} {}", svg.length, dxf.length);
            let drawn = |path: &[f64; 4]| near(*meant, size(path), OFF_PDF);
            assert!(pdf.paths.iter().any(drawn), "{word}: no line of {meant:?} in the PDF");
            measured += 1;
        }
    }
    assert_eq!(measured, 5 + 4 + 1, "backs, fronts and band; the lining has no band");
}

#[test]
fn half_of_what_lies_on_the_fold_is_drawn_open_along_it() {
    let block = &ten_blocks(0.0)[3];
    let set = pieces_to_cut(block, &document(true)).unwrap();
    let band = hangtrue_cut::names::WAISTBAND;
    let sewn = as_sewn(&set, band);
    for (of, (in_length, in_width)) in [LOSSES[0], LOSSES[2]] {
        let cloth = ClothLay { folded: true, ..UsualLay::of(Unit::Mm).lay(1500.0) };
        let bed = Bed::of(&cloth).unwrap();
        let parts = parts_to_lay(&set, of, &bed).unwrap();
        let mut lay = find(bed, parts, Effort { seed: 1, rounds: 20 }, &mut |_| true).unwrap();
        // Wherever the band was put, it is laid on the fold here.
        let index = lay.parts.iter().position(|part| part.piece.starts_with(band)).unwrap();
        let place = lay.places[index].unwrap();
        lay.places[index] = Some(hangtrue_lay::Place { y: 0.0, on_fold: true, ..place });
        let (long, half) =
            (sewn.x / (1.0 - in_length / 100.0), 0.5 * sewn.y / (1.0 - in_width / 100.0));
        let nth = lay.laid().position(|(i, ..)| i == index).unwrap();
        let [svg, dxf, pdf] = read_back(&set, (of, &cloth), &lay);
        let (svg, dxf) = (&svg.pieces[nth + 1], &dxf.pieces[nth]);
        let meant = Vec2::new(long, half);
        for line in [svg, dxf] {
            assert!(near(meant, size(&line.around), OFF), "{meant:?} {:?}", line.around);
            // Along, and from the fold at both ends: along the fold there is nothing to cut.
            assert!((line.length - long - 2.0 * half).abs() < OFF, "{} {meant:?}", line.length);
        }
        // y runs up from the fold in the DXF.
        assert!(dxf.around[1].abs() < OFF && (dxf.around[3] - half).abs() < OFF);
        let drawn = |path: &[f64; 4]| near(meant, size(path), OFF_PDF);
        let whole = |path: &[f64; 4]| near(Vec2::new(long, 2.0 * half), size(path), OFF_PDF);
        assert!(pdf.paths.iter().any(drawn) && !pdf.paths.iter().any(whole));
    }
}
