//! The catalogue tried on the model: each correction and each pinch method on the fault it
//! is for, planted on survey bodies.
//! `cargo run -p hangtrue-drape --example trial settle 20 10 ROWS 25 afresh`:
//! so many bodies, from which of the sample on, a file of rows that is gone on with where it
//! ends, the side of the mesh, and each settled afresh. Then `page ROWS …` writes
//! `docs/hang_trial.md`, and `causes ROWS …` tells whether causes can be told from lines.
#![allow(clippy::unwrap_used)]

mod causes;
mod faults;
mod page;
mod reasons;
mod run;
mod sums;
#[path = "../../tests/common/survey.rs"]
mod survey;

use run::{DONE, Row, Runner};
use std::collections::BTreeSet;
use std::io::Write;

/// So many bodies of the sample lie between two that are tried.
const APART: usize = 67;

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
    let rows = read(path);
    let all = survey::survey();
    let mut done = rows.iter().filter(|r| r.case == DONE).count();
    let is_done = |name: &str| rows.iter().any(|r| r.body == name && r.case == DONE);
    for (name, measures, breadths) in all.iter().skip(first).step_by(APART) {
        if done >= count {
            break;
        }
        if is_done(name) {
            continue;
        }
        let begun = std::time::Instant::now();
        let of = |r: &&Row| r.body == *name;
        let has: BTreeSet<String> = rows.iter().filter(of).map(|r| r.case.clone()).collect();
        let mut file = std::fs::OpenOptions::new().append(true).create(true).open(path).unwrap();
        let mut tell =
            |row: Row| writeln!(file, "{}", serde_json::to_string(&row).unwrap()).unwrap();
        let mut runner = Runner { body: name, side, afresh, has: &has, tell: &mut tell };
        match runner.run(measures, breadths) {
            Err(why) => println!("{name}: {why}"),
            Ok(()) => {
                println!("{name} in {:.0?}", begun.elapsed());
                done += 1;
            }
        }
    }
}

/// The rows there are.
fn read(path: &std::path::Path) -> Vec<Row> {
    let text = std::fs::read_to_string(path).unwrap_or_default();
    text.lines().map(|l| serde_json::from_str(l).unwrap()).collect()
}
