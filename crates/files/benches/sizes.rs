//! What a long list of changes costs: opening and replaying it, one more edit, a
//! change dragged behind it, and the journal of as many rounds. The list is lines
//! marked, rounds closed, and work of every kind, as a project that is used for years
//! would have. A thousand lines that all lie on the piece that is dragged are the worst.

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use hangtrue_adjust::corrections::Correction;
use hangtrue_adjust::{Change, CloseRound, Document, MarkLine, Method, Pinch, PinchChange, Replay};
use hangtrue_files::journal::journal;
use hangtrue_files::print::report_pdf;
use hangtrue_files::project::{open, open_to_write, save_new};
use hangtrue_pattern::Rule;
use hangtrue_pattern::names::{BACK, THIGH};
use hangtrue_pattern::units::Unit;
use hangtrue_tests::bodies::project;
use std::hint::black_box;
use std::path::PathBuf;

const COUNTS: [usize; 3] = [100, 1_000, 10_000];

/// From the first line to the last so much, mm.
const DEEPER: f64 = 50.0;

/// So many lines marked on the block of the demo, each at another depth.
fn marked(count: usize) -> Document {
    let mut document = project();
    let usual = document.changes.iter().find_map(|entry| match &entry.change {
        Change::MarkLine(mark) => Some(mark.clone()),
        _ => None,
    });
    let Some(usual) = usual else { return document };
    for i in document.changes.len()..count {
        let mut mark = usual.clone();
        mark.line.name = format!("line {i}");
        if let Rule::EqualDepth(rule) = &mut mark.line.rule {
            rule.depth += DEEPER * i as f64 / count as f64;
        }
        document.push(&format!("mark line {i}"), Change::MarkLine(mark));
    }
    document
}

/// So many rounds closed.
fn closed(count: usize) -> Document {
    let mut document = project();
    for i in document.changes.len()..count {
        let close = CloseRound { date: "2026-01-01".into(), note: format!("round {i}") };
        document.push(&format!("toile {i}"), Change::CloseRound(close));
    }
    document
}

/// So many changes as work makes them: a correction and the same taken back, a line
/// marked anew, a round closed, by turns.
fn worked(count: usize) -> Document {
    let mut document = project();
    let usual: Vec<MarkLine> = document
        .changes
        .iter()
        .filter_map(|entry| match &entry.change {
            Change::MarkLine(mark) => Some(mark.clone()),
            _ => None,
        })
        .collect();
    for i in document.changes.len()..count {
        let name = ["sway back", "full seat", "leg length above the knee"][i / 8 % 3];
        let corrected = |by| Correction::named(name, by).map(Change::Correct).ok();
        let close = || CloseRound { date: "2026-01-01".into(), note: format!("round {i}") };
        let change = match i % 4 {
            0 => corrected(6.0),
            1 => corrected(-6.0),
            2 => usual.get(i / 4 % usual.len().max(1)).cloned().map(Change::MarkLine),
            _ => Some(Change::CloseRound(close())),
        };
        if let Some(change) = change {
            document.push(&format!("change {i}"), change);
        }
    }
    document
}

fn filed(document: &Document, name: &str) -> PathBuf {
    let folder = std::env::temp_dir().join(format!("hangtrue-sizes-{}", std::process::id()));
    let _ = std::fs::create_dir_all(&folder);
    let file = folder.join(format!("{name}.ron"));
    let _ = std::fs::remove_file(&file);
    if let Err(why) = save_new(&file, document) {
        println!("{name}: {why}");
    }
    file
}

fn opening(criterion: &mut Criterion) {
    for (what, of) in [("lines", marked as fn(usize) -> Document), ("rounds", closed)] {
        let mut group = criterion.benchmark_group(format!("open and replay, {what}"));
        group.sample_size(10);
        for count in COUNTS {
            let file = filed(&of(count), &format!("{what}-{count}"));
            group.bench_function(BenchmarkId::from_parameter(count), |b| {
                b.iter(|| {
                    open(&file).map(|(document, _)| black_box(Replay::new(document)).states().len())
                });
            });
        }
    }
}

fn one_more_edit(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("a note by the command, lines");
    group.sample_size(10);
    for count in COUNTS {
        let file = filed(&marked(count), &format!("edited-{count}"));
        group.bench_function(BenchmarkId::from_parameter(count), |b| {
            b.iter(|| {
                let (mut document, mut writing) = open_to_write(&file)?;
                document.title.push('x');
                document.title.truncate(40);
                writing.save(&document)
            });
        });
    }
}

fn journals(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("journal to PDF, rounds");
    group.sample_size(10);
    for count in COUNTS {
        let replay = Replay::new(closed(count));
        group.bench_function(BenchmarkId::from_parameter(count), |b| {
            b.iter(|| {
                let report = journal(&replay, None).ok()?;
                report_pdf(&report).ok().map(|pdf| pdf.len())
            });
        });
    }
}

/// Behind lines that all lie on the cloth and move with it, and behind rounds.
fn dragging(criterion: &mut Criterion) {
    let lists = [("lines", marked as fn(usize) -> Document), ("rounds", closed), ("work", worked)];
    for (what, of) in lists {
        dragged_behind(criterion, what, of);
    }
}

fn dragged_behind(criterion: &mut Criterion, what: &str, of: fn(usize) -> Document) {
    let mut group = criterion.benchmark_group(format!("a pinch dragged behind {what}"));
    for count in COUNTS {
        let mut document = of(count);
        let [method, ..] = Method::all(Unit::Mm);
        let pinch = Pinch::in_the_middle("seat", BACK, THIGH, 8.0);
        document.push("dragged", Change::Pinch(PinchChange { pinch, method }));
        let mut replay = Replay::new(document.clone());
        let mut step = 0;
        group.bench_function(BenchmarkId::from_parameter(count), |b| {
            b.iter(|| {
                step += 1;
                let mut document = document.clone();
                if let Some(Change::Pinch(p)) = document.changes.last_mut().map(|e| &mut e.change) {
                    p.pinch.stations[0].amount = 8.0 + f64::from(step % 97) / 97.0;
                }
                replay.update(document);
                black_box(replay.current().is_ok())
            });
        });
    }
}

criterion_group!(benches, opening, one_more_edit, journals, dragging);
criterion_main!(benches);
