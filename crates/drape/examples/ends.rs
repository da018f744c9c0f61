//! How far the lines of settled blocks hang off their home shape in closed form, at their
//! inner ends, on the way and in the middle: the root of the mean square over survey bodies.
//! `cargo run -p hangtrue-drape --example ends 20 0`: so many bodies, from which of the
//! sample on. Rows of `docs/hang.md`.
#![allow(clippy::unwrap_used)]

#[path = "../tests/common/survey.rs"]
mod survey;

use hangtrue_adjust::home_shapes;
use hangtrue_adjust::reading::{HangLine, PieceView};
use hangtrue_drape::body::Handles;
use hangtrue_drape::mesh::Grid;
use hangtrue_drape::{Options, Start, read, settle_all, settled_homes};
use hangtrue_pattern::Leg;
use std::collections::BTreeMap;

const SHARES: [f64; 4] = [0.0, 0.25, 0.5, 0.75];

fn main() {
    let number =
        |k: usize, or: usize| std::env::args().nth(k).and_then(|a| a.parse().ok()).unwrap_or(or);
    let (count, first) = (number(1, 20), number(2, 0));
    let all = survey::survey();
    let mut off: BTreeMap<String, Vec<[f64; 4]>> = BTreeMap::new();
    let (mut places, mut within) = (0, 0);
    for (name, measures, breadths) in
        all.iter().skip(first).step_by((all.len() - first) / count).take(count)
    {
        let Some(pattern) = survey::marked_block(measures) else { continue };
        let options = Options {
            breadths: *breadths,
            grids: vec![Grid { side: 15.0, shift: (0.0, 0.0) }],
            starts: vec![Start { off: 10.0, lifted: 0.0 }],
            ..Options::default()
        };
        let settled = settle_all(&pattern, measures, &Handles::default(), &options, &mut |_| true);
        let Ok(settled) = settled else { continue };
        let told = read(&pattern, &settled);
        let homes = settled_homes(&pattern, &settled, &told);
        println!("{name}: {} lines", homes.len());
        let shapes = home_shapes(&pattern);
        for home in homes.iter().filter(|h| h.leg == Leg::Right && h.line != HangLine::Waist) {
            let view = match home.view {
                PieceView::Back => "back",
                PieceView::Front => "front",
            };
            let of = |s: &&_| {
                let s: &hangtrue_adjust::HomeShape = s;
                s.piece == view && s.line == home.line.name()
            };
            let Some(shape) = shapes.iter().find(of) else { continue };
            let differ = SHARES.map(|at| home.at(at).unwrap().0 - shape.below_side(at));
            for (differ, at) in differ.iter().zip(SHARES) {
                let error = shape.errors_from_inner(at).iter().map(|e| e * e).sum::<f64>().sqrt();
                places += 1;
                within += usize::from(differ.abs() <= error);
            }
            off.entry(format!("{view} {}", home.line.name())).or_default().push(differ);
        }
    }
    for (name, all) in off {
        let n = all.len() as f64;
        let mean = |k: usize| all.iter().map(|d| d[k]).sum::<f64>() / n;
        let rms = |k: usize| (all.iter().map(|d| d[k] * d[k]).sum::<f64>() / n).sqrt();
        let bow = |d: &[f64; 4]| d[2] - 0.5 * d[0];
        let bow = (all.iter().map(|d| bow(d) * bow(d)).sum::<f64>() / n).sqrt();
        println!(
            "{name} ({n}): mean {:.1?}, rms {:.1?}, bow {bow:.1}",
            [0, 1, 2, 3].map(mean),
            [0, 1, 2, 3].map(rms)
        );
    }
    println!("{within} of {places} places within the ± of the closed form");
}
