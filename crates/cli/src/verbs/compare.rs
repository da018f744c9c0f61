//! Comparing two versions.

use crate::args::JsonArg;
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use clap::Args;
use hangtrue_adjust::{Cost, Moved, compare_measures, costs, moved};
use hangtrue_pattern::{Pattern, words};
use serde::Serialize;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct CompareArgs {
    /// The project file.
    pub project: PathBuf,
    /// A fitting's name, or "start".
    #[arg(long, default_value = "start")]
    pub from: String,
    /// A fitting's name, or "today".
    #[arg(long, default_value = "today")]
    pub to: String,
    #[command(flatten)]
    pub json: JsonArg,
}

/// What moved less than this did not move, mm.
const UNMOVED: f64 = 0.005;

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
    let costs = costs(from, to, opened.document.body());
    if args.json.json {
        return output::json(&serde_json::json!({
            "from": args.from, "to": args.to, "measures": measures, "costs": costs,
            "corners": corners, "moved": moved(from, to),
        }));
    }
    let rows: Vec<Vec<String>> = measures
        .iter()
        .map(|c| {
            let shown = c.shown(opened.unit(), UNMOVED);
            vec![shown.measure, shown.before, shown.after, shown.change]
        })
        .collect();
    let (before, after) = (format!(">{}", args.from), format!(">{}", args.to));
    output::table(&["measure", &before, &after, ">change"], &rows)?;
    round_the_body(&opened, &costs, (&before, &after))?;
    output::line("")?;
    let rows: Vec<Vec<String>> = corners
        .iter()
        .map(|c| {
            vec![
                format!("{}, {}", c.piece, c.corner),
                opened.show_difference(c.across, UNMOVED),
                opened.show_difference(c.up, UNMOVED),
                opened.show(c.distance),
            ]
        })
        .collect();
    output::table(&["corner", ">across", ">up", ">moved"], &rows)?;
    which_way(&moved(from, to))
}

/// What moved which way, in words.
fn which_way(moved: &[Moved]) -> Result<(), Failure> {
    if moved.is_empty() {
        return Ok(());
    }
    output::line("")?;
    for one in moved {
        output::line(&output::words(&words![one.piece.as_str(), ", ", one.words()]))?;
    }
    output::line(
        "Up and down are along the grain; out is away from the middle of the piece, in towards it.",
    )
}

/// How far the garment goes round the body, where that changed, and the ease left.
fn round_the_body(
    opened: &Opened,
    costs: &[Cost],
    (before, after): (&str, &str),
) -> Result<(), Failure> {
    if costs.is_empty() {
        return Ok(());
    }
    let rows: Vec<Vec<String>> = costs.iter().map(|c| c.row(opened.unit()).to_vec()).collect();
    output::line("")?;
    output::table(&["round the body", before, after, ">ease left"], &rows)?;
    for cost in costs.iter().filter(|c| c.takes_much()) {
        output::line(&output::words(&cost.words()))?;
    }
    Ok(())
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
