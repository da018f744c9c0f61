//! Walking the seams.

use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use hangtrue_adjust::{FoldedDart, SewnCorner, Walked, fold_darts, walk_all};
use hangtrue_pattern::units::{Unit, show_change, show_difference, show_length};
use std::path::Path;

pub fn run(path: &Path, json: bool) -> Result<(), Failure> {
    let opened = Opened::open(path)?;
    let pattern = opened.pattern()?;
    let (walked, folded) = (walk_all(pattern)?, fold_darts(pattern));
    if json {
        return output::json(&serde_json::json!({ "seams": walked, "darts": folded }));
    }
    for line in walk_lines(&walked, &folded, opened.unit()) {
        output::line(&line)?;
    }
    Ok(())
}

/// Lengths within this are the same, mm.
const SAME: f64 = 0.005;

/// What is said of a corner.
fn corner_word(corner: &SewnCorner) -> &'static str {
    match (corner.is_true, corner.turns_with_the_leg()) {
        (true, true) => "matches: it turns with the leg, which tapers",
        (true, false) => "matches",
        (false, _) => "IS OFF",
    }
}

/// The lengths of the two sides of a seam.
fn whole_seam(w: &Walked, unit: Unit) -> String {
    let ease = if w.ease == 0.0 {
        String::new()
    } else {
        format!(" less {} ease", show_length(w.ease, unit))
    };
    format!(
        "  {:<42} {:>12}  {:>12}  {:>9}{ease}  {}",
        "whole seam",
        show_length(w.first, unit),
        show_length(w.second, unit),
        show_difference(w.difference, unit, SAME),
        word(w.matches)
    )
}

fn word(is_true: bool) -> &'static str {
    if is_true { "matches" } else { "IS OFF" }
}

/// The walk as lines anyone can read.
fn walk_lines(walked: &[Walked], folded: &[FoldedDart], unit: Unit) -> Vec<String> {
    let off = |mm| show_difference(mm, unit, SAME);
    let mut lines = Vec::new();
    for w in walked {
        lines.push(format!("{} ({} with {})", w.join, w.pieces.0, w.pieces.1));
        if w.is_mirror {
            let (from, to) = (w.stretches.first(), w.stretches.last());
            if let (Some(from), Some(to)) = (from, to) {
                lines.push(format!(
                    "  from {} to {}: sewn to one just like it, of the other leg, so no lengths can differ",
                    from.from, to.to
                ));
            }
        }
        for s in w.stretches.iter().filter(|_| !w.is_mirror) {
            lines.push(format!(
                "    {:<40} {:>12}  {:>12}  {:>9}",
                format!("{} to {}", s.from, s.to),
                show_length(s.first, unit),
                show_length(s.second, unit),
                off(s.first - s.second)
            ));
        }
        if !w.is_mirror {
            lines.push(whole_seam(w, unit));
        }
        for c in &w.corners {
            lines.push(format!(
                "  {:<42} {:>11.1}°  {:>10.1}°  {:>8}°  {}",
                format!("outline over the {}", c.corner),
                c.first,
                c.second,
                show_change(c.off, 2),
                corner_word(c)
            ));
        }
    }
    for d in folded {
        lines.push(format!(
            "{} of the {}: takes {}, legs {} and {}, seam turns {}° over it  {}",
            d.dart,
            d.piece,
            show_length(d.intake, unit),
            show_length(d.legs.0, unit),
            show_length(d.legs.1, unit),
            show_change(d.turn, 2),
            word(d.is_true)
        ));
    }
    let untrue = walked.iter().filter(|w| !w.is_true()).count()
        + folded.iter().filter(|d| !d.is_true).count();
    lines.push(match untrue {
        0 => "Everything matches.".to_owned(),
        n => format!("{n} do not match; let it be mended with: hangtrue true PROJECT"),
    });
    lines
}
