//! A change settled from the rest before it, against a fresh start: processor time,
//! steps and how far the droops differ, over blocks of survey bodies and corrections
//! of the catalogue. `cargo run --release -p hangtrue-drape --example after 5 20`: so many
//! bodies, from which of the sample on.
#![allow(clippy::unwrap_used)]

#[path = "../tests/common/survey.rs"]
mod survey;

use hangtrue_adjust::{CATALOGUE, Change};
use hangtrue_drape::body::Handles;
use hangtrue_drape::{HangingLine, Options, read, settle_all, settle_on};
use hangtrue_pattern::Pattern;

use std::time::Duration;

/// What is changed: corrections and amounts, mm.
const CHANGED: [(&str, f64); 4] = [
    ("full seat", 4.0),
    ("back crotch length", 8.0),
    ("full outer thigh", 6.0),
    ("sway back", 8.0),
];

fn main() {
    let number =
        |k: usize, or: usize| std::env::args().nth(k).and_then(|a| a.parse().ok()).unwrap_or(or);
    let (count, first) = (number(1, 5), number(2, 20));
    let all = survey::survey();
    let mut times = Vec::new();
    for (name, measures, breadths) in
        all.iter().skip(first).step_by((all.len() - first) / count).take(count)
    {
        let Some(pattern) = survey::marked_block(measures) else { continue };
        let mut options = Options { breadths: *breadths, ..Options::default() };
        options.grids.truncate(1);
        options.starts.truncate(1);
        let body = Handles::default();
        let settle = |pattern: &Pattern| {
            let begun = processor();
            let settled = settle_all(pattern, measures, &body, &options, &mut |_| true);
            settled.map(|s| (s, processor() - begun))
        };
        let Ok((before, _)) = settle(&pattern) else { continue };
        for (change, amount) in CHANGED {
            let listed = CATALOGUE.iter().find(|l| l.about.name == change).unwrap();
            let Ok(made) = Change::Correct((listed.with)(amount)).apply(&pattern) else { continue };
            let changed = made.pattern;
            let Ok((cold, cold_time)) = settle(&changed) else { continue };
            let begun = processor();
            let warm = settle_on(&changed, measures, &body, &options, &before.first, &mut |_| true);
            let time = processor() - begun;
            let Ok(warm) = warm else {
                println!("{name} {change}: {}", warm.unwrap_err());
                continue;
            };
            let lines = [&cold, &warm, &before].map(|s| read(&changed, s).lines);
            println!(
                "{name} {change}: {:.2?} and {} steps, cold {:.2?} and {}; from cold {:.1} at most, {:.1} in the middle of lines; cold from before {:.1}",
                time,
                warm.first.ended.steps,
                cold_time,
                cold.first.ended.steps,
                differ(&lines[0], &lines[1], 0..5),
                differ(&lines[0], &lines[1], 2..3),
                differ(&lines[0], &lines[2], 0..5),
            );
            times.push(time);
        }
    }
    times.sort();
    let at = |q: f64| times[((times.len() - 1) as f64 * q).round() as usize];
    println!("{} changes: median {:.2?}, p95 {:.2?}", times.len(), at(0.5), at(0.95));
}

/// The most that droops differ by at some stations, mm.
fn differ(a: &[HangingLine], b: &[HangingLine], stations: std::ops::Range<usize>) -> f64 {
    let pairs = a.iter().zip(b).flat_map(|(a, b)| a.stations.iter().zip(&b.stations));
    let among = pairs.enumerate().filter(|(k, _)| stations.contains(&(k % 5)));
    among.map(|(_, (a, b))| (a.droop - b.droop).abs()).fold(0.0, f64::max)
}

/// Processor time of this thread (Linux: /proc/thread-self/schedstat, ns).
fn processor() -> Duration {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap();
    Duration::from_nanos(text.split(' ').next().unwrap().parse().unwrap())
}
