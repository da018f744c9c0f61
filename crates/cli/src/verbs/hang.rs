//! How the marked lines will hang on this body: predicted, not seen.

use crate::args::JsonArg;
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use clap::Args;
use hangtrue_drape::body::Handles;
use hangtrue_drape::{HangingLine, Options, Prediction, Settled, read, settle_all};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct HangArgs {
    /// The project file.
    pub project: PathBuf,
    /// One mesh and one start: sooner, with nothing to tell the ± by.
    #[arg(long)]
    pub quick: bool,
    #[command(flatten)]
    pub json: JsonArg,
}

/// Droops are told to this, mm.
const TOLD: f64 = 0.1;

pub fn run(args: &HangArgs) -> Result<(), Failure> {
    let opened = Opened::open(&args.project)?;
    let pattern = opened.pattern()?;
    let Some(measures) = opened.document.body() else {
        return Err(Failure::Asked(
            "this project starts from a pattern that was brought in and knows no body: only a block drafted from measures can be hung".into(),
        ));
    };
    let mut options = Options::default();
    if args.quick {
        options.grids.truncate(1);
        options.starts.truncate(1);
    }
    let settled = settle_all(pattern, measures, &Handles::default(), &options, &mut |_| true)?;
    let told = read(pattern, &settled);
    if args.json.json {
        return json(&told, &settled);
    }
    show(&opened, &told, &settled, args.quick)
}

fn json(told: &Prediction, settled: &Settled) -> Result<(), Failure> {
    let read: Vec<_> = settled
        .body
        .read
        .iter()
        .map(|(m, asked, came)| serde_json::json!({"measure": m, "asked": asked, "came": came}))
        .collect();
    let spread = |l: &HangingLine| l.stations.iter().map(|s| s.spread).fold(0.0, f64::max);
    let lines: Vec<_> = told
        .lines
        .iter()
        .map(|l| serde_json::json!({"line": l.line, "piece": l.piece, "stations": l.stations, "spread": spread(l), "plus_minus": l.plus_minus}))
        .collect();
    output::json(&serde_json::json!({
        "label": "predicted, not seen",
        "lines": lines,
        "plus_minus": told.plus_minus,
        "waist_slipped": settled.first.slipped,
        "body": read,
        "guessed": settled.body.guessed,
        "fork_lowered": settled.body.lowered,
        "hip_raised": settled.body.hip_raised,
    }))
}

fn show(opened: &Opened, told: &Prediction, settled: &Settled, quick: bool) -> Result<(), Failure> {
    output::line(
        "Predicted, not seen: the sewn toile settled by arithmetic on a body of these measures. No real toile has been compared with it yet.",
    )?;
    if told.lines.is_empty() {
        return output::line(
            "No line goes to the cloth yet; mark the usual ones with: hangtrue mark PROJECT --usual",
        );
    }
    let rows: Vec<Vec<String>> = told
        .lines
        .iter()
        .map(|l| {
            let mut row = vec![l.line.clone(), l.piece.clone()];
            row.extend(l.stations[1..4].iter().map(|s| opened.show_difference(s.droop, TOLD)));
            row.push(opened.show(l.plus_minus));
            row.push(opened.show(l.stations[2].height));
            row
        })
        .collect();
    output::table(
        &[
            "line",
            "piece",
            ">droop at 1/4",
            ">in the middle",
            ">at 3/4",
            ">±",
            ">height of the middle",
        ],
        &rows,
    )?;
    output::line(&format!(
        "Below the line between its own two ends, from the inner seam to the side; ± is {}. How far a real toile differs is not known.",
        if quick {
            "the least that is ever claimed, for this was one start on one mesh: others may differ by twice as much"
        } else {
            "what other starts and meshes differ by, or the least that is claimed"
        },
    ))?;
    if settled.first.slipped {
        output::line(
            "The waist does not stay at its level: the cloth pulls it further than its band holds. Mend the waist before reading lines.",
        )?;
    }
    for guess in &settled.body.guessed {
        output::line(&format!(
            "The body's {} was not taken; {} is guessed from its girths, ± {}.",
            guess.what,
            opened.show(guess.value),
            opened.show(guess.off)
        ))?;
    }
    Ok(())
}
