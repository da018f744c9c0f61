//! Reading the lines as sewn.

use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use hangtrue_adjust::{
    HomeShape, STEP_SEEN, home_shapes, read_as_sewn, rule_lies_below, what_stands_out,
};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::{show_margin, show_measured, show_or_finer};
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
        let homes: Vec<_> = home_shapes(pattern).iter().map(home_json).collect();
        let unplaced: Vec<String> = unplaced.iter().map(ToString::to_string).collect();
        return output::json(&serde_json::json!({
            "readings": readings, "home": homes, "stale": stale, "unplaced": unplaced,
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
                output::words(&r.found()),
            ]
        })
        .collect();
    output::table(&["line", "at", "from → onto", ">lower by", "reads"], &rows)?;
    output::line(&what_stands_out(&readings, opened.unit()))?;
    at_home(&opened, pattern)?;
    on_the_cloth(&opened, pattern)?;
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

/// What each line does on a toile that fits, below level through its end at the side.
fn home_json(shape: &HomeShape) -> serde_json::Value {
    serde_json::json!({
        "line": shape.line, "piece": shape.piece, "inner": shape.below_side(0.0), "middle": shape.below_side(0.5),
        "bow": shape.bow(), "error": shape.error(), "converge": shape.converge,
    })
}

/// Lines that stayed on the cloth of a toile when the edge they hang from moved.
fn on_the_cloth(opened: &Opened, pattern: &Pattern) -> Result<(), Failure> {
    for line in &pattern.lines {
        let Some(below) = rule_lies_below(pattern, &line.piece, &line.name) else { continue };
        let way = if below > 0.0 { "lower" } else { "higher" };
        output::line(&format!(
            "\nThe {} of the {} is kept where it lay on the cloth, so that the next toile shows what was changed. By its rule it would now lie {} {way} at one end. To lay it by its rule again (the next toile then shows the change as well as what the body does): hangtrue mark PROJECT --line \"{}\" --piece {} --anew",
            line.name,
            line.piece,
            show_or_finer(below.abs(), opened.unit()),
            line.name,
            line.piece
        ))?;
    }
    Ok(())
}

/// The home shapes in words: what a line does on a toile that fits, so that it is
/// not taken for a fault.
fn at_home(opened: &Opened, pattern: &Pattern) -> Result<(), Failure> {
    let shapes = home_shapes(pattern);
    if shapes.is_empty() {
        return Ok(());
    }
    let show = |mm: f64| show_measured(mm.abs(), opened.unit());
    output::line(
        "\nAt home: how the lines hang on a toile that fits, because the seams beside them converge (predicted, not seen):",
    )?;
    for shape in &shapes {
        let way = if shape.bow() > 0.0 { "below" } else { "above" };
        output::line(&format!(
            "  {} {}: the middle hangs {} ± {} {way} its ends",
            shape.piece,
            shape.line,
            show(shape.bow()),
            show_margin(shape.error(), opened.unit())
        ))?;
    }
    Ok(())
}
