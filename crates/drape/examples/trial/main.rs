//! The catalogue tried on the model: each correction and each pinch method on the fault it
//! is for, planted on survey bodies.
//! `cargo run -p hangtrue-drape --example trial settle 20 40 ROWS`: so many bodies, from which
//! of the sample on, a file of rows that is gone on with.
#![allow(clippy::unwrap_used)]

mod causes;
mod faults;
mod page;
mod reasons;
mod run;
mod sums;
#[path = "../../tests/common/survey.rs"]
mod survey;

use run::{Row, Runner};
use std::io::Write;

fn main() {
    let word = |k: usize| std::env::args().nth(k);
    let number = |k: usize, or: usize| word(k).and_then(|a| a.parse().ok()).unwrap_or(or);
    if word(1).as_deref() == Some("page") {
        let rows = std::env::args().skip(2).flat_map(|p| read(std::path::Path::new(&p))).collect();
        let docs = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/hang_trial.md");
        std::fs::write(docs, page::page(&sums::Sums::of(rows))).unwrap();
        return;
    }
    if word(1).as_deref() == Some("causes") {
        let rows = std::env::args().skip(2).flat_map(|p| read(std::path::Path::new(&p))).collect();
        causes::tell(&sums::Sums::of(rows));
        return;
    }
    let (count, first) = (number(2, 20), number(3, 40));
    settle(count, first, std::path::Path::new(&word(4).unwrap()), number(5, 25) as f64, word(6));
}

/// Settles body after body until so many are in the file; each row is written as it comes.
fn settle(count: usize, first: usize, path: &std::path::Path, side: f64, how: Option<String>) {
    let afresh = how.as_deref() == Some("afresh");
    let mut done: Vec<String> = read(path).into_iter().map(|r| r.body).collect();
    done.dedup();
    let all = survey::survey();
    for (name, measures, breadths) in all.iter().skip(first).step_by(67) {
        if done.len() >= count {
            break;
        }
        if done.contains(name) {
            continue;
        }
        let begun = std::time::Instant::now();
        let mut file = std::fs::OpenOptions::new().append(true).create(true).open(path).unwrap();
        let mut tell =
            |row: Row| writeln!(file, "{}", serde_json::to_string(&row).unwrap()).unwrap();
        match (Runner { body: name, side, afresh, tell: &mut tell }).run(measures, breadths) {
            Err(why) => println!("{name}: {why}"),
            Ok(()) => {
                println!("{name} in {:.0?}", begun.elapsed());
                done.push(name.clone());
            }
        }
    }
}

/// The rows there are.
fn read(path: &std::path::Path) -> Vec<Row> {
    let text = std::fs::read_to_string(path).unwrap_or_default();
    text.lines().map(|l| serde_json::from_str(l).unwrap()).collect()
}
