//! Builds every body of the survey sample and says how well it meets its measures.
#![allow(clippy::unwrap_used)]

#[path = "../tests/common/survey.rs"]
mod survey;

use hangtrue_drape::body::{Handles, build};
use hangtrue_pattern::Measure;
use std::collections::BTreeMap;

fn main() {
    let mut refused: BTreeMap<String, usize> = BTreeMap::new();
    let (mut met, mut count) = (0, 0);
    let mut off: Vec<Vec<f64>> = vec![Vec::new(); 4];
    let mut lowered = Vec::new();
    let mut parts = Vec::new();
    let begun = std::time::Instant::now();
    for (number, measures, breadths) in survey::survey() {
        let get = |measure| measures.get_or_derived(measure).unwrap_or(f64::NAN);
        count += 1;
        match build(&measures, &breadths, &Handles::default()) {
            Ok(body) => {
                let mut good = true;
                for (k, (_, asked, came)) in body.breadths.iter().enumerate() {
                    off[k].push(came - asked);
                    good &= (came - asked).abs() <= 10.0;
                }
                if !good && std::env::args().nth(1).is_some() {
                    println!(
                        "{} {:?} hip-fork {} thigh {} hip {}",
                        number,
                        body.breadths.iter().map(|b| (b.1, b.2.round())).collect::<Vec<_>>(),
                        get(Measure::HipHeight) - get(Measure::InsideLegHeight),
                        get(Measure::ThighGirth),
                        get(Measure::HipGirth)
                    );
                }
                met += usize::from(good);
                lowered.push(body.lowered);
                parts.push(body.crotch.back - get(Measure::CrotchLengthBack));
            }
            Err(e) => {
                let words = e.to_string();
                if refused.len() < 400 && std::env::args().nth(1).is_some() {
                    println!("{number} {words}");
                }
                *refused.entry(words.split(" of ").next().unwrap_or("").to_owned()).or_default() +=
                    1;
            }
        }
    }
    println!("{count} bodies, {met} met; {:?} a body", begun.elapsed() / count);
    println!("{refused:#?}");
    off.push(lowered);
    off.push(parts);
    let names =
        ["waist breadth", "waist depth", "hip breadth", "hip depth", "fork lowered", "back part"];
    for (name, mut values) in names.iter().zip(off) {
        values.sort_by(f64::total_cmp);
        let at = |q: f64| values[((values.len() - 1) as f64 * q) as usize];
        println!(
            "{name}: {:?}",
            [0.0, 0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99, 1.0]
                .map(|q| (at(q) * 10.0).round() / 10.0)
        );
    }
}
