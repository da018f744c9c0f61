//! Reading the lines as sewn.

use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use hangtrue_adjust::{STEP_SEEN, read_as_sewn};
use hangtrue_pattern::units::show_number;
use std::path::Path;

pub fn run(path: &Path, json: bool) -> Result<(), Failure> {
    let opened = Opened::open(path)?;
    let pattern = opened.pattern()?;
    let readings = read_as_sewn(pattern)?;
    let (placed, unplaced) = pattern.place_lines();
    if json {
        let stale: Vec<_> = placed
            .iter()
            .filter_map(|l| {
                let why = l.stale.as_ref()?;
                Some(serde_json::json!({"line": l.name, "piece": l.piece, "why": why}))
            })
            .collect();
        let unplaced: Vec<String> = unplaced.iter().map(ToString::to_string).collect();
        return output::json(&serde_json::json!({
            "readings": readings, "stale": stale, "unplaced": unplaced,
        }));
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
                opened.show_difference(r.step, STEP_SEEN),
                show_number(r.kink.abs(), 1),
                output::words(&r.found()),
            ]
        })
        .collect();
    output::table(&["line", "at", "from → onto", ">lower by", ">turns °", "reads"], &rows)?;
    for line in placed.iter().filter_map(|l| l.stale.as_ref().map(|s| (l, s))) {
        output::line(&format!(
            "Stale: {} on the {} lies where it last lay: {}",
            line.0.name, line.0.piece, line.1
        ))?;
    }
    for fault in unplaced {
        output::line(&format!("Not placed: {}", output::words(&fault)))?;
    }
    Ok(())
}
