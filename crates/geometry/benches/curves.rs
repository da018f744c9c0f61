//! How long the curve operations take on a crotch seam's worth of curve.

use criterion::{Criterion, criterion_group, criterion_main};
use hangtrue_geometry::{Chain, CubicBez, Line, PathSeg, Point};
use std::hint::black_box;

/// A leaning straight and a hook of two cubics, about 400 mm long.
fn hooked() -> Option<Chain> {
    Chain::new(vec![
        PathSeg::Line(Line::new((60.0, 260.0), (10.0, 90.0))),
        PathSeg::Cubic(CubicBez::new((10.0, 90.0), (-2.0, 48.0), (-28.0, 22.0), (-60.0, 10.0))),
        PathSeg::Cubic(CubicBez::new((-60.0, 10.0), (-90.0, 0.0), (-120.0, -2.0), (-150.0, 0.0))),
    ])
    .ok()
}

/// A long bowed cubic that crosses the hook twice.
fn bowed() -> Chain {
    Chain::cubic(CubicBez::new((-100.0, -60.0), (-80.0, 60.0), (0.0, 160.0), (90.0, 170.0)))
}

fn curves(c: &mut Criterion) {
    let Some(seam) = hooked() else { return };
    let other = bowed();
    let place = Point::new(-20.0, 60.0);
    c.bench_function("length", |b| b.iter(|| black_box(&seam).length()));
    c.bench_function("point_at", |b| b.iter(|| black_box(&seam).point_at(black_box(251.0))));
    c.bench_function("nearest", |b| b.iter(|| black_box(&seam).nearest(black_box(place))));
    c.bench_function("offset", |b| b.iter(|| black_box(&seam).offset(black_box(10.0))));
    c.bench_function("crossings", |b| b.iter(|| black_box(&seam).crossings(black_box(&other))));
    c.bench_function("split_at", |b| b.iter(|| black_box(&seam).split_at(black_box(251.0))));
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(50);
    targets = curves
}
criterion_main!(benches);
