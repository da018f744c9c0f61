//! A back with a yoke sent out as SVG and DXF, read by svgelements and ezdxf: yoke, back and
//! front each with their lines on the layers they belong on, as long as in the model.

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used)]

use crate::common::python::{out_folder, python, run};
use hangtrue_adjust::{AllowanceSet, Document, Style, WaistFinish};
use hangtrue_cut::{CutPiece, CutSet, pieces_to_cut};
use hangtrue_files::exports::{Export, Sending};
use hangtrue_files::print::ProjectorOptions;
use hangtrue_files::save::write_whole;
use hangtrue_geometry::Chain;
use hangtrue_pattern::{Pattern, Piece, units::Unit};
use hangtrue_tests::bodies::ten_blocks;
use serde::Deserialize;
use serde_json::json;
use std::collections::BTreeMap;
use std::process::Command;

/// What a length may be off, mm: the points of a sewn-products DXF lie within 0.002 of the
/// curve, and the sum of their chords is shorter by as little.
const OFF: f64 = 0.05;

#[derive(Deserialize)]
struct Line {
    #[serde(rename = "box")]
    around: [f64; 4],
    length: f64,
}

#[derive(Deserialize)]
struct OnLayer {
    lines: Vec<Line>,
    points: usize,
    text: Vec<String>,
}

#[derive(Deserialize)]
struct Dxf {
    blocks: BTreeMap<String, BTreeMap<String, OnLayer>>,
    complaints: Vec<String>,
    layers: Vec<String>,
    unit: u32,
}

type Svg = BTreeMap<String, BTreeMap<String, Vec<Line>>>;

fn with_yoke() -> CutSet {
    let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
    document.cutting.set = Some(AllowanceSet::Finished);
    document.cutting.waist = WaistFinish::Facing { width: 60.0 };
    let yoke = Style::named("back yoke", 115.0).unwrap();
    let pattern = yoke.apply(&ten_blocks(0.0)[2]).unwrap().pattern;
    pieces_to_cut(&pattern, &document).unwrap()
}

fn sent(set: &CutSet, word: &str) -> Vec<u8> {
    let sending = Sending {
        pattern: &set.pattern,
        title: "Trousers",
        label: Vec::new(),
        allowance: None,
        set: Some(set),
        unit: Unit::Mm,
        projector: ProjectorOptions::default(),
    };
    Export::named(word).unwrap().made(&sending).unwrap().bytes
}

fn read<T: serde::de::DeserializeOwned>(kind: &str, name: &str, bytes: &[u8]) -> T {
    let folder = out_folder("yoke");
    let (path, job) = (folder.join(name), folder.join(format!("{name}.json")));
    write_whole(&path, bytes).unwrap();
    write_whole(&job, json!([[kind, path]]).to_string().as_bytes()).unwrap();
    let script = hangtrue_tests::workspace_root().join("crates/files/tests/drawn_oracle.py");
    let said = run(Command::new(python()).arg(script).arg(job));
    let mut found: Vec<serde_json::Value> = serde_json::from_str(&said).unwrap();
    serde_json::from_value(found.remove(0)).unwrap()
}

/// How long the sew line of a piece is, its darts' caps with it.
fn sewn(piece: &Piece) -> f64 {
    piece.seams.iter().map(|seam| hangtrue_cut::seam_with_caps(seam).unwrap().length()).sum()
}

fn both(set: &CutSet) -> impl Iterator<Item = (&Piece, &CutPiece)> {
    set.pattern.pieces.iter().map(|piece| (&**piece, set.piece(&piece.name).unwrap()))
}

#[test]
fn the_svg_of_a_yoke_has_its_lines_on_their_layers() {
    let set = with_yoke();
    let svg: Svg = read("sent svg", "yoke.svg", &sent(&set, "svg"));
    let names: Vec<&str> = svg.keys().map(String::as_str).collect();
    assert!(names.contains(&"back yoke") && names.contains(&"back"), "{names:?}");
    assert_eq!(svg.len(), set.pieces.len());
    for (piece, known) in both(&set) {
        let layers = &svg[&piece.name];
        let ([cut], [sew]) = (&layers["cut line"][..], &layers["sew line"][..]) else {
            unreachable!("one cut line and one sew line on the {}", piece.name)
        };
        assert!((cut.length - known.cut.length()).abs() < OFF, "{}: {}", piece.name, cut.length);
        assert!((sew.length - sewn(piece)).abs() < OFF, "{}: {}", piece.name, sew.length);
        let within = |i: usize, way: f64| way * (sew.around[i] - cut.around[i]) > -OFF;
        let inside = [(0, 1.0), (1, 1.0), (2, -1.0), (3, -1.0)];
        assert!(inside.iter().all(|&(i, way)| within(i, way)), "{}", piece.name);
        assert!(layers.contains_key("grainline"), "{:?}", layers.keys());
        let has_notches = !known.snips.is_empty();
        assert_eq!(layers.contains_key("notches"), has_notches, "{}", piece.name);
    }
}

#[test]
fn the_dxf_of_a_yoke_has_its_lines_on_their_layers() {
    let set = with_yoke();
    let dxf: Dxf = read("sent dxf", "yoke.dxf", &sent(&set, "sewn"));
    assert!(dxf.complaints.is_empty() && dxf.unit == 4, "{:?}", dxf.complaints);
    assert_eq!(dxf.blocks.len(), set.pieces.len(), "a block for each piece");
    for (piece, known) in both(&set) {
        let named = |layers: &&BTreeMap<String, OnLayer>| {
            let told = format!("PIECE NAME: {}", piece.name);
            layers.get("1").is_some_and(|on| on.text.contains(&told))
        };
        let layers = dxf.blocks.values().find(named).unwrap();
        let used = layers.keys().find(|layer| !dxf.layers.contains(layer));
        assert!(used.is_none(), "{used:?} stands in no table of layers");
        let long = |layer: &str| layers[layer].lines.iter().map(|l| l.length).sum::<f64>();
        assert!((long("1") - known.cut.length()).abs() < OFF, "{}: {}", piece.name, long("1"));
        assert!((long("14") - sewn(piece)).abs() < OFF, "{}: {}", piece.name, long("14"));
        let grain = piece.grain.from.distance(piece.grain.to);
        assert!((long("7") - grain).abs() < OFF, "{}", piece.name);
        let notches = layers.get("4").map_or(0, |on| on.points);
        assert_eq!(notches, known.snips.len(), "{}", piece.name);
    }
    // The seam between them is as long on the yoke as on the back, and notched on both.
    let edge = |name: &str| {
        let piece = set.pattern.piece(name).unwrap();
        let seam = piece.seam(hangtrue_pattern::names::YOKE_SEAM).unwrap();
        seam.parts.iter().map(Chain::length).sum::<f64>()
    };
    assert!((edge("back yoke") - edge("back")).abs() < 1e-6);
}
