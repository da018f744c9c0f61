//! One frame of dragging the amount of a pinch: the change, the computing that
//! follows it, the triangles, and the mesh handed to the screen.

use criterion::{Criterion, criterion_group, criterion_main};
use hangtrue_adjust::{
    Change, CloseRound, Document, Method, Pinch, PinchChange, Replay, TrueCorner,
};
use hangtrue_desk::sheet::{Sheets, on_screen};
use hangtrue_desk::{Desk, sample};
use hangtrue_geometry::Affine;
use hangtrue_pattern::units::Unit;
use std::hint::black_box;
use std::time::{Duration, Instant};

/// Fineness of drawing at the usual zoom, mm.
const FINE: f64 = 0.2;

/// The sample with 24 changes: lines, closed rounds, corners trued, small
/// pinches by every method, and at the end the pinch that is dragged.
fn document() -> Document {
    let mut document = sample::document();
    let pinch = |i: usize, amount: f64| {
        let [top, slash, even] = Method::all(Unit::Mm);
        let method = [top, slash, even][i % 3].clone();
        let pinch = Pinch::in_the_middle(&format!("pinch {i}"), "back", "thigh", amount);
        Change::Pinch(PinchChange { pinch, method })
    };
    let joins: Vec<String> = sample::pattern().joins.iter().map(|j| j.name.clone()).collect();
    for i in 0.. {
        if document.changes.len() >= 23 {
            break;
        }
        let change = match i % 3 {
            0 => pinch(i / 3, 2.0),
            1 => Change::TrueCorner(TrueCorner {
                join: joins[i % joins.len()].clone(),
                at_matched_end: true,
            }),
            _ => Change::CloseRound(CloseRound { date: "2026-01-01".into(), note: String::new() }),
        };
        document.push(&format!("step {i}"), change);
    }
    document.push("dragged", pinch(0, 9.5));
    document
}

fn with_amount(document: &Document, amount: f64) -> Document {
    let mut document = document.clone();
    if let Some(Change::Pinch(p)) = document.changes.last_mut().map(|e| &mut e.change) {
        p.pinch.stations[0].amount = amount;
    }
    document
}

/// One frame: change, computing, triangles, mesh.
fn frame(replay: &mut Replay, document: &Document, step: u64) -> usize {
    let amount = 8.0 + 4.0 * ((step % 97) as f64 / 97.0);
    replay.update(with_amount(document, amount));
    let Ok(pattern) = replay.current() else { return 0 };
    let sheets = Sheets::of(pattern, FINE);
    let view = Affine::new([0.6, 0.0, 0.0, -0.6, 300.0, 300.0]);
    let mut size = 0;
    for sheet in &sheets.sheets {
        size += sheet.paper.mesh(view, egui::Color32::WHITE).vertices.len();
        size += on_screen(&sheet.outline, view).len();
    }
    size
}

fn drag(c: &mut Criterion) {
    let document = document();
    assert_eq!(document.changes.len(), 24);
    let mut replay = Replay::new(document.clone());
    assert_eq!(replay.failures().count(), 0, "{:?}", replay.failures().next());
    let mut step = 0;
    c.bench_function("one drag frame, 24 changes", |b| {
        b.iter(|| {
            step += 1;
            black_box(frame(&mut replay, &document, step))
        });
    });
    tell("change to mesh", 2000, |step| {
        black_box(frame(&mut replay, &document, step));
    });
    whole_window();
}

/// The same with everything round it: the whole desk drawn with the pinch card
/// open, its three methods tried, and all shapes turned into triangles.
fn whole_window() {
    use egui::Key;
    let pinch = ("Pinned along the thigh line of the back", "pin place 1 of the pinch");
    window_at(Key::Num7, &[pinch.0], pinch.1, "whole window, three methods tried");
    let seat = ["Seat: ", "Full seat"];
    window_at(Key::Num8, &seat, "handle of the correction", "whole window, a correction");
}

/// The whole window at a stage where these are pressed and a handle is moved by
/// keys.
fn window_at(stage: egui::Key, pressed: &[&str], handle: &str, what: &str) {
    use egui::{Key, Modifiers};
    use egui_kittest::kittest::Queryable;
    let mut h = egui_kittest::Harness::builder()
        .with_size([1440.0, 900.0])
        .with_context_setup(Desk::prepare)
        .build_ui_state(|ui, desk: &mut Desk| desk.show(ui), Desk::new(document(), None, None));
    h.run_ok();
    h.key_press_modifiers(Modifiers::COMMAND, stage);
    h.run_ok();
    for name in pressed {
        h.get_by_label_contains(name).click_accesskit();
        h.run_ok();
    }
    h.get_by_label_contains(handle).focus();
    h.run_ok();
    tell(what, 400, |step| {
        h.key_press(if step % 2 == 0 { Key::ArrowUp } else { Key::ArrowDown });
        h.step();
        let output = h.output();
        let shapes = output.shapes.clone();
        let points = output.pixels_per_point;
        black_box(h.ctx.tessellate(shapes, points));
    });
}

/// Median and 99th percentile of many runs by the clock, and where the system
/// tells it the mean time on the processor, which other programs on the machine
/// do not lengthen.
fn tell(what: &str, runs: u64, mut run: impl FnMut(u64)) {
    let before = on_processor();
    let mut times: Vec<Duration> = (0..runs)
        .map(|step| {
            let start = Instant::now();
            run(step);
            start.elapsed()
        })
        .collect();
    let busy = on_processor().zip(before).map(|(after, before)| (after - before) / runs as u32);
    times.sort();
    let at = |share: f64| times[((times.len() - 1) as f64 * share) as usize];
    println!("{what}: median {:?}, p99 {:?} over {runs} frames", at(0.5), at(0.99));
    if let Some(busy) = busy {
        println!("{what}: mean on the processor {busy:?}");
    }
}

/// The time this thread has spent on a processor (Linux: the first number of
/// `schedstat`, nanoseconds).
fn on_processor() -> Option<Duration> {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    Some(Duration::from_nanos(text.split(' ').next()?.parse().ok()?))
}

criterion_group!(benches, drag);
criterion_main!(benches);
