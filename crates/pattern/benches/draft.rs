//! One draft from measures to checked pieces.

use criterion::{Criterion, criterion_group, criterion_main};
use hangtrue_pattern::{Measure, Measures, Plan, draft};
use std::hint::black_box;

fn one_draft(c: &mut Criterion) {
    // An invented body of middling size.
    let measures: Measures = [
        (Measure::WaistGirth, 880.0),
        (Measure::HipGirth, 1020.0),
        (Measure::WaistHeight, 1035.0),
        (Measure::HipHeight, 870.0),
        (Measure::InsideLegHeight, 820.0),
        (Measure::CrotchLength, 640.0),
        (Measure::ThighGirth, 610.0),
        (Measure::KneeGirth, 390.0),
        (Measure::KneeHeight, 475.0),
    ]
    .into_iter()
    .collect();
    let plan = Plan::default();
    c.bench_function("draft", |b| b.iter(|| draft(black_box(&measures), black_box(&plan))));
}

criterion_group!(benches, one_draft);
criterion_main!(benches);
