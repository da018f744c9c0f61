//! Every paper prints, checked by qpdf and poppler; the pages are kept under
//! target/print-tests to be looked at.

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used)]

use crate::common::python::{out_folder, run};
use crate::common::sample;
use hangtrue_cut::CutError;
use hangtrue_files::print::*;
use std::process::Command;

fn draw_options(old: Option<&hangtrue_pattern::Pattern>) -> DrawOptions<'_> {
    DrawOptions {
        allowance: Some(Allowance::all_round(15.0).with("hem", 40.0).with("waist", 10.0)),
        label: vec![
            "for Zoë Łukasiewicz-Ødegård (invented)".into(),
            "version 2, 25 November 2026".into(),
            "size: own measures".into(),
        ],
        old: old.map(|p| (p, "version 1".into())),
        ..DrawOptions::default()
    }
}

#[test]
fn every_paper_gives_a_sound_pdf_of_the_right_size() {
    let (before, now) = (sample(0.0), sample(9.525));
    let folder = out_folder("pages");
    for (paper, width, height) in [
        (Paper::A4, 210.0, 297.0),
        (Paper::Letter, 215.9, 279.4),
        (Paper::A3, 297.0, 420.0),
        (Paper::A0, 841.0, 1189.0),
        (Paper::Roll { width_mm: 914.4 }, 914.4, 0.0),
        (Paper::Roll { width_mm: 610.0 }, 610.0, 0.0),
    ] {
        let options = TileOptions::default();
        let printed = print_pattern(
            &now,
            &draw_options(Some(&before)),
            paper,
            &options,
            "Zoë – trousers, version 2",
        )
        .unwrap();
        let path = folder.join(format!("{}.pdf", paper.name().replace(' ', "-")));
        hangtrue_files::save::write_whole(&path, &printed.pdf).unwrap();
        run(Command::new("qpdf").arg("--check").arg(&path));
        let said = run(Command::new("pdfinfo").args(["-f", "1", "-l", "99"]).arg(&path));
        let sizes: Vec<(f64, f64)> = said.lines().filter_map(page_size).collect();
        assert_eq!(sizes.len(), printed.pages, "{said}");
        println!("{}: {} pages", paper.name(), printed.pages);
        for (w, h) in sizes {
            let (w, h) = (w / 72.0 * 25.4, h / 72.0 * 25.4);
            // pdfinfo rounds to about 0.01 units.
            let near = |a: f64, b: f64| (a - b).abs() < 0.01;
            let fits = if height > 0.0 {
                near(w, width) && near(h, height) || near(w, height) && near(h, width)
            } else {
                near(w, width)
            };
            assert!(fits, "{}: {w} × {h}", paper.name());
        }
    }
}

fn page_size(line: &str) -> Option<(f64, f64)> {
    let rest = line.strip_prefix("Page")?.split_once("size:")?.1;
    let mut words = rest.split_whitespace();
    let width = words.next()?.parse().ok()?;
    words.next();
    Some((width, words.next()?.parse().ok()?))
}

#[test]
fn what_could_not_be_drawn_is_said() {
    let mut pattern = sample(0.0);
    pattern.pieces[0].notches[0].distance = 9000.0;
    pattern.pieces[0].notches[1].seam = "no such seam".into();
    let last = pattern.lines.len() - 1;
    pattern.lines[last].last = None;
    let draw = DrawOptions { label: vec!["for 漢".into()], ..DrawOptions::default() };
    let options = TileOptions::default();
    let printed = print_pattern(&pattern, &draw, Paper::A4, &options, "notes").unwrap();
    let notes = printed.notes.join("\n");
    for said in ["past the end", "not there", "漢", "calf"] {
        assert!(notes.contains(said), "{said} not in:\n{notes}");
    }
}

#[test]
fn an_empty_pattern_and_an_absurd_allowance_are_refused() {
    let empty = hangtrue_pattern::Pattern::default();
    let options = TileOptions::default();
    let nothing = print_pattern(&empty, &DrawOptions::default(), Paper::A4, &options, "x");
    assert_eq!(nothing.err(), Some(PrintError::Nothing));
    let draw =
        DrawOptions { allowance: Some(Allowance::all_round(f64::NAN)), ..DrawOptions::default() };
    let absurd = print_pattern(&sample(0.0), &draw, Paper::A4, &options, "x");
    assert!(matches!(absurd, Err(PrintError::Cut(CutError::AllowanceAmount { .. }))));
}

/// The line of a layer as a chain, and its bounds.
fn chain_of(scene: &Scene, layer: Layer) -> hangtrue_geometry::Chain {
    let path = scene.items.iter().find_map(|i| match &i.mark {
        Mark::Stroke(path, _) if i.layer == layer => Some(path),
        _ => None,
    });
    hangtrue_geometry::Chain::new(path.unwrap().segments().collect()).unwrap()
}

#[test]
fn the_cut_line_keeps_its_distance_from_the_sew_line() {
    for width in [6.0, 10.0, 15.0, 25.0] {
        let draw =
            DrawOptions { allowance: Some(Allowance::all_round(width)), ..DrawOptions::default() };
        for scene in piece_scenes(&sample(9.525), &draw).unwrap() {
            let (cut, sew) = (chain_of(&scene, Layer::Cut), chain_of(&scene, Layer::Sew));
            let length = cut.length();
            let (mut exact, samples) = (0, 400);
            for i in 0..samples {
                let p = cut.point_at(length * f64::from(i) / f64::from(samples));
                let distance = sew.nearest(p).distance;
                // Mitred corners lie further out; nothing may lie nearer.
                assert!(distance > width - 0.01, "{distance} for {width}");
                exact += i32::from((distance - width).abs() < 0.01);
            }
            assert!(exact > samples * 3 / 4, "{exact} of {samples} at {width}");
        }
    }
}
