//! Reading the lines as sewn.

use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use hangtrue_adjust::read_as_sewn;
use hangtrue_pattern::units::{show_change, show_number};
use std::path::Path;

pub fn run(path: &Path, json: bool) -> Result<(), Failure> {
    let opened = Opened::open(path)?;
    let pattern = opened.pattern()?;
    let readings = read_as_sewn(pattern)?;
    let (placed, unplaced) = pattern.place_lines();
    if json {
        return output::json(&readings);
    }
    if placed.is_empty() {
        return output::line(
            "No line is marked yet; mark the usual ones with: hangtrue mark PROJECT --usual",
        );
    }
    let rows: Vec<Vec<String>> = readings
        .iter()
        .map(|r| {
            vec![
                if r.on_cloth { r.line.clone() } else { format!("{} (paper only)", r.line) },
                r.join.clone(),
                format!("{} → {}", r.piece, r.onto),
                show_change(r.step, 1),
                show_number(r.kink.abs(), 1),
                r.words().split_once(": ").map_or_else(String::new, |w| w.1.to_owned()),
            ]
        })
        .collect();
    output::table(&["line", "at", "from → onto", ">lower by mm", ">turns °", "reads"], &rows)?;
    for line in placed.iter().filter_map(|l| l.stale.as_ref().map(|s| (l, s))) {
        output::line(&format!(
            "Stale: {} on the {} lies where it last lay: {}",
            line.0.name, line.0.piece, line.1
        ))?;
    }
    for fault in unplaced {
        output::line(&format!("Not placed: {fault}"))?;
    }
    Ok(())
}
