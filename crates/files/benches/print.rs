//! How long a tiled A4 PDF takes, from the pattern to the bytes.

#[path = "../tests/common/mod.rs"]
mod common;

use criterion::{Criterion, criterion_group, criterion_main};
use hangtrue_files::print::{Allowance, DrawOptions, Paper, TileOptions, print_pattern};

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
}

criterion_group!(benches, tiled_pdf);
criterion_main!(benches);
