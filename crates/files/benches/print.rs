//! How long a tiled A4 PDF takes, from the pattern to the bytes.

#[path = "../tests/common/mod.rs"]
mod common;

use criterion::{Criterion, criterion_group, criterion_main};
use hangtrue_files::print::{
    Allowance, DrawOptions, Paper, TileOptions, print_pattern, scene_of, tile,
};

fn tiled_pdf(criterion: &mut Criterion) {
    let (before, now) = (common::sample(0.0), common::sample(9.525));
    let draw = DrawOptions {
        allowance: Some(Allowance::all_round(15.0)),
        old: Some((&before, "version 1".into())),
        ..DrawOptions::default()
    };
    let options = TileOptions::default();
    criterion.bench_function("tiled A4 PDF of a front and a back", |b| {
        b.iter(|| print_pattern(&now, &draw, Paper::A4, &options, "bench").map(|p| p.pdf.len()));
    });
    let Ok(scene) = scene_of(&now, &draw) else { return };
    let Ok(grid) = tile(&scene, Paper::A4, &options) else { return };
    criterion.bench_function("of which: drawing the pieces", |b| b.iter(|| scene_of(&now, &draw)));
    criterion.bench_function("of which: cutting into sheets", |b| {
        b.iter(|| tile(&scene, Paper::A4, &options));
    });
    let one = hangtrue_files::print::Page {
        width: 210.0,
        height: 297.0,
        parts: vec![hangtrue_files::print::Part::plain(&scene)],
        photos: vec![],
    };
    criterion.bench_function("a PDF of one page", |b| {
        b.iter(|| hangtrue_files::print::pdf_of(std::slice::from_ref(&one), &Default::default()));
    });
    criterion.bench_function("of which: writing the PDF", |b| {
        b.iter(|| hangtrue_files::print::tiled_pdf(&scene, &grid, "bench"));
    });
}

criterion_group!(benches, tiled_pdf);
criterion_main!(benches);
