//! How long settling takes: processor time of blocks of survey bodies on those bodies,
//! one mesh, one start. `cargo run --release -p hangtrue-drape --example pace 20 0 15`:
//! so many bodies, from which of the sample on, side of the mesh in mm.
#![allow(clippy::unwrap_used)]

#[path = "../tests/common/survey.rs"]
mod survey;

use hangtrue_drape::body::{Handles, build};
use hangtrue_drape::mesh::Grid;
use hangtrue_drape::{Options, Start, forces, lay_on, settle, sew};
use hangtrue_pattern::{Plan, draft};
use std::time::Duration;

fn main() {
    let number =
        |k: usize, or: usize| std::env::args().nth(k).and_then(|a| a.parse().ok()).unwrap_or(or);
    let (count, first, side) = (number(1, 20), number(2, 0), number(3, 15));
    let all = survey::survey();
    let options = Options::default();
    let mut took: Vec<(Duration, usize)> = Vec::new();
    for (name, measures, breadths) in
        all.iter().skip(first).step_by((all.len() - first) / count).take(count)
    {
        let Ok(made) = draft(measures, &Plan::default()) else { continue };
        let begun = processor();
        let Ok(body) = build(measures, breadths, &Handles::default()) else { continue };
        let grid = Grid { side: side as f64, shift: (0.0, 0.0) };
        let sewn = sew(&made.pattern, grid).unwrap();
        let mut x = lay_on(&sewn, &body, Start { off: 10.0, lifted: 0.0 });
        let mut system = forces(&sewn, &body, options.material, options.touch, options.band);
        let ready = processor() - begun;
        match settle(&mut system, &mut x, &options.easing, options.limits, &mut |_| true) {
            Err(why) => println!("{name}: {why}"),
            Ok(told) => {
                let time = processor() - begun;
                println!(
                    "{name}: {} vertices, {} steps, {time:.2?}, of that {ready:.2?} before settling, energy {:.3}",
                    x.len(),
                    told.steps,
                    told.energy
                );
                took.push((time, told.steps));
            }
        }
    }
    took.sort();
    let at = |q: f64| took[((took.len() - 1) as f64 * q).round() as usize].0;
    let steps = took.iter().map(|t| t.1).sum::<usize>() as f64 / took.len() as f64;
    println!(
        "{} settled: median {:.2?}, p95 {:.2?}, longest {:.2?}; {steps:.0} steps in the mean",
        took.len(),
        at(0.5),
        at(0.95),
        at(1.0)
    );
}

/// Processor time of this thread (Linux: /proc/thread-self/schedstat, ns).
fn processor() -> Duration {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap();
    Duration::from_nanos(text.split(' ').next().unwrap().parse().unwrap())
}
