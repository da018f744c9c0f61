//! Benches of a round: the pinch by each method, and re-running a stack of 24
//! changes after an edit of each kind.

use criterion::{Criterion, criterion_group, criterion_main};
use hangtrue_adjust::{Change, Document, Method, Pinch, PinchChange, Replay};
use hangtrue_pattern::names::{BACK, THIGH};
use hangtrue_pattern::units::Unit;
use hangtrue_tests::bodies::project;
use std::hint::black_box;

/// A document of 24 changes: the usual lines, then pinches by all methods.
fn stack() -> Document {
    let mut document = project();
    let methods = Method::all(Unit::Mm);
    let mut turn = 0;
    while document.changes.len() < 24 {
        let method = methods[turn % methods.len()].clone();
        let pinch =
            Pinch::in_the_middle("seat", BACK, THIGH, if turn % 2 == 0 { 2.0 } else { -1.5 });
        document.push("seat", Change::Pinch(PinchChange { pinch, method }));
        turn += 1;
    }
    document
}

/// The document with the amount of the pinch at `place` changed a little.
fn edited(document: &Document, place: usize, by: f64) -> Document {
    let mut edited = document.clone();
    if let Change::Pinch(change) = &mut edited.changes[place].change {
        change.pinch.stations[0].amount += by;
    }
    edited
}

fn methods(c: &mut Criterion) {
    let replay = Replay::new(project());
    let Ok(pattern) = replay.current() else { return };
    for method in Method::all(Unit::Mm) {
        let name = format!("pinch by {}", method.name());
        let pinch = Pinch::in_the_middle("seat", BACK, THIGH, 9.525);
        let change = Change::Pinch(PinchChange { pinch, method });
        c.bench_function(&name, |b| b.iter(|| black_box(change.apply(pattern))));
    }
}

fn replays(c: &mut Criterion) {
    let document = stack();
    let replay = Replay::new(document.clone());
    let failures: Vec<String> = replay.failures().map(|f| format!("{} {}", f.1, f.2)).collect();
    assert!(failures.is_empty(), "the stack must stand: {failures:#?}");
    assert_eq!(document.changes.len(), 24);
    let first = document.changes.iter().position(|e| matches!(e.change, Change::Pinch(_)));
    let first = first.unwrap_or(0);
    c.bench_function("24 changes from the start", |b| {
        b.iter(|| black_box(Replay::new(document.clone())));
    });
    for (name, place) in [("last pinch of 24 dragged", 23), ("first pinch of 24 dragged", first)] {
        let versions = [edited(&document, place, 0.1), edited(&document, place, 0.2)];
        let mut replay = Replay::new(document.clone());
        let mut turn = 0;
        c.bench_function(name, |b| {
            b.iter(|| {
                turn += 1;
                replay.update(versions[turn % 2].clone());
                black_box(replay.states().len())
            });
        });
    }
}

criterion_group!(benches, methods, replays);
criterion_main!(benches);
