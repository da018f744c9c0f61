//! Settles the demo's block on the demo's body, says how it went and draws it.
#![allow(clippy::unwrap_used)]

mod picture;

use hangtrue_adjust::{Change, MarkLine, UsualDepths, usual_lines};
use hangtrue_drape::body::Handles;
use hangtrue_drape::{Options, read, settle_all};
use hangtrue_pattern::{Measures, Plan, draft};

fn main() {
    let text = std::fs::read_to_string("assets/demo/measures.ron").unwrap();
    let measures: Measures = ron::from_str(&text).unwrap();
    let mut pattern = draft(&measures, &Plan::default()).unwrap().pattern;
    for line in usual_lines(&pattern, UsualDepths::default()).unwrap() {
        pattern = Change::MarkLine(MarkLine { line }).apply(&pattern).unwrap().pattern;
    }
    let mut options = Options::default();
    let quick = std::env::args().nth(1).is_some_and(|a| a == "quick");
    if quick {
        options.grids.truncate(1);
        options.starts.truncate(1);
    }
    if let Some(side) = std::env::args().nth(2).and_then(|a| a.parse().ok()) {
        options.grids.iter_mut().for_each(|g| g.side = side);
    }
    if let Ok(f) = std::env::var("FRICTION") {
        options.touch.friction = f.parse().unwrap();
    }
    if let Ok(f) = std::env::var("EASING") {
        options.easing = f.split(',').map(|v| v.parse().unwrap()).collect();
    }
    let begun = std::time::Instant::now();
    let watching = std::env::var_os("HANG_WATCH").is_some();
    let settled = settle_all(&pattern, &measures, &Handles::default(), &options, &mut |p| {
        if watching {
            eprintln!("{:.2?} {p:?}", begun.elapsed());
        }
        true
    });
    eprintln!("{:.2?}", begun.elapsed());
    let settled = settled.unwrap();
    let first = &settled.first;
    println!("{} vertices, slipped {}", first.places.len(), first.slipped);
    for rest in std::iter::once(first).chain(&settled.others) {
        println!("mesh and start {:?}: {:?}", rest.of, rest.ended);
    }
    let traced = hangtrue_drape::trace_lines(&pattern, &first.sewn, &first.places);
    picture::draw(&settled, &traced, "/tmp/hang.png");
    let told = read(&pattern, &settled);
    println!("± {:.1}", told.plus_minus);
    for l in &told.lines {
        let words: Vec<String> = l
            .stations
            .iter()
            .map(|s| format!("{:.1} ({:.1} ±{:.1})", s.height, s.droop, s.spread))
            .collect();
        println!("{} {}: {}", l.piece, l.line, words.join("  "));
    }
}
