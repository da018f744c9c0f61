//! Comparing two versions.

use crate::args::CompareArgs;
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use hangtrue_adjust::compare_measures;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::{show_change, show_number};
use serde::Serialize;

#[derive(Serialize)]
struct MovedCorner {
    piece: String,
    corner: String,
    across: f64,
    up: f64,
    distance: f64,
}

pub fn run(args: &CompareArgs) -> Result<(), Failure> {
    let opened = Opened::open(&args.project)?;
    opened.replay.start()?;
    let (from, to) = (opened.replay.round(&args.from)?, opened.replay.round(&args.to)?);
    let measures = compare_measures(from, to);
    let corners = moved_corners(from, to);
    if args.json.json {
        return output::json(&serde_json::json!({
            "from": args.from, "to": args.to, "measures": measures, "corners": corners,
        }));
    }
    let rows: Vec<Vec<String>> = measures
        .iter()
        .map(|c| {
            vec![
                c.measure.clone(),
                format!("{:.1}", c.before),
                format!("{:.1}", c.after),
                show_change(c.change(), 2),
            ]
        })
        .collect();
    let (before, after) = (format!(">{}", args.from), format!(">{}", args.to));
    output::table(&["measure (mm)", &before, &after, ">change"], &rows)?;
    output::line("")?;
    let rows: Vec<Vec<String>> = corners
        .iter()
        .map(|c| {
            vec![
                format!("{}, {}", c.piece, c.corner),
                show_change(c.across, 1),
                show_change(c.up, 1),
                show_number(c.distance, 1),
            ]
        })
        .collect();
    output::table(&["corner", ">across mm", ">up mm", ">moved mm"], &rows)
}

fn moved_corners(from: &Pattern, to: &Pattern) -> Vec<MovedCorner> {
    let (from, to) = (from.apart_like(to), to.apart_like(from));
    let mut moved = Vec::new();
    for piece in &to.pieces {
        let Ok(old) = from.piece(&piece.name) else { continue };
        for (corner, p) in piece.corners() {
            let Ok(q) = old.corner(corner) else { continue };
            let by = p - q;
            moved.push(MovedCorner {
                piece: piece.name.clone(),
                corner: corner.to_owned(),
                across: by.x,
                up: by.y,
                distance: by.hypot(),
            });
        }
    }
    moved
}
