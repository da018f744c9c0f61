//! Walking the seams.

use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use hangtrue_adjust::{FoldedDart, Walked, fold_darts, walk_all};
use hangtrue_pattern::units::show_change;
use std::path::Path;

pub fn run(path: &Path, json: bool) -> Result<(), Failure> {
    let opened = Opened::open(path)?;
    let pattern = opened.pattern()?;
    let (walked, folded) = (walk_all(pattern)?, fold_darts(pattern));
    if json {
        return output::json(&serde_json::json!({ "seams": walked, "darts": folded }));
    }
    for line in walk_lines(&walked, &folded) {
        output::line(&line)?;
    }
    Ok(())
}

/// The walk as lines anyone can read.
fn walk_lines(walked: &[Walked], folded: &[FoldedDart]) -> Vec<String> {
    let word = |is_true: bool| if is_true { "true" } else { "NOT TRUE" };
    let mut lines = Vec::new();
    for w in walked {
        lines.push(format!("{} ({} with {})", w.join, w.pieces.0, w.pieces.1));
        for s in &w.stretches {
            lines.push(format!(
                "    {:<40} {:8.1} mm  {:8.1} mm  {:>7}",
                format!("{} to {}", s.from, s.to),
                s.first,
                s.second,
                show_change(s.first - s.second, 2)
            ));
        }
        let ease = if w.ease == 0.0 { String::new() } else { format!(" less {:.1} ease", w.ease) };
        lines.push(format!(
            "  {:<42} {:8.1} mm  {:8.1} mm  {:>7}{ease}  {}",
            "whole seam",
            w.first,
            w.second,
            show_change(w.difference, 2),
            word(w.matches)
        ));
        for c in &w.corners {
            lines.push(format!(
                "  {:<42} {:7.1}°  + {:7.1}°   {:>7}°  {}",
                format!("outline over the {}", c.corner),
                c.first,
                c.second,
                show_change(c.off, 2),
                word(c.is_true)
            ));
        }
    }
    for d in folded {
        lines.push(format!(
            "{} of the {}: takes {:.1} mm, legs {:.1} and {:.1} mm, seam turns {}° over it  {}",
            d.dart,
            d.piece,
            d.intake,
            d.legs.0,
            d.legs.1,
            show_change(d.turn, 2),
            word(d.is_true)
        ));
    }
    let untrue = walked.iter().filter(|w| !w.is_true()).count()
        + folded.iter().filter(|d| !d.is_true).count();
    lines.push(match untrue {
        0 => "Everything is true.".to_owned(),
        n => format!("{n} to true; let it be done with: hangtrue true PROJECT"),
    });
    lines
}
