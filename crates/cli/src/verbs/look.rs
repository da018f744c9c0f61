//! Reading a photo of the worn toile: how far its lines hang from level.

use crate::args::{JsonArg, OverArg};
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, check_outputs};
use clap::Args;
use hangtrue_adjust::worn::{BEST_LENS_HEIGHT, Hang, Within, stand_and_hangs};
use hangtrue_files::project::read_text;
use hangtrue_files::save::write_output;
use hangtrue_files::worn::{
    FOR_SCREEN, ReadPhoto, WornJobError, as_png, droop_table, overlaid, read_marks,
};
use hangtrue_pattern::units::{show_fine, show_margin, show_measured, show_number};
use std::path::{Path, PathBuf};

#[derive(Debug, Args)]
pub struct LookArgs {
    /// The project file.
    pub project: PathBuf,
    /// What is marked on the photo, a RON file (docs/worn.md has an example).
    pub marks: PathBuf,
    /// Write the droops as a table for `hangtrue causes`.
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Write the picture with the level, the lines and their droops drawn over it.
    #[arg(long, value_name = "FILE")]
    pub picture: Option<PathBuf>,
    #[command(flatten)]
    pub json: JsonArg,
    #[command(flatten)]
    pub over: OverArg,
}

/// The longest side of the drawing, pixels.
const LONGEST: usize = 2000;

pub fn run(args: &LookArgs) -> Result<(), Failure> {
    let over = args.over.over();
    let made_from = [Some(&args.project), Some(&args.marks)];
    check_outputs(&[args.picture.as_ref(), args.out.as_ref()], &made_from, over)?;
    let opened = Opened::open(&args.project)?;
    let in_file = |source: WornJobError| Failure::Marks {
        path: args.marks.clone(),
        source: Box::new(source),
    };
    let job = read_marks(&read_text(&args.marks)?).map_err(in_file)?;
    let folder = args.marks.parent().unwrap_or_else(|| Path::new("."));
    let drawn_on = || job.picture_in(folder).and_then(|p| p.ok_or(WornJobError::NoPicture));
    let picture = args.picture.as_ref().map(|_| drawn_on());
    let picture = picture.transpose().map_err(in_file)?;
    let marked = job.ready(opened.pattern()?, folder).map_err(in_file)?;
    let (stand, hangs) = stand_and_hangs(&marked.photo).map_err(|e| in_file(e.into()))?;
    let read = ReadPhoto { photo: marked.photo, stand, hangs, notes: marked.notes };
    if let (Some(out), Some(picture)) = (&args.picture, &picture) {
        let drawn = overlaid(picture, &read, opened.document.unit, LONGEST, FOR_SCREEN);
        let bytes = drawn.and_then(|d| as_png(&d)).map_err(|e| in_file(e.into()))?;
        write_output(out, &bytes, over)?;
    }
    let ReadPhoto { hangs, notes, .. } = read;
    if let Some(out) = &args.out {
        write_output(out, droop_table(&hangs).as_bytes(), over)?;
    }
    if args.json.json {
        return output::json(&serde_json::json!({ "hangs": hangs, "notes": notes }));
    }
    for note in &notes {
        output::line(&output::words(note))?;
    }
    for hang in &hangs {
        show(&opened, hang)?;
    }
    output::line(
        "\nA photo shows the half of the leg that faces it, and no depth: look at the side too.",
    )?;
    let unsure = |h: &Hang| h.stations.iter().any(|s| s.not_told.is_some());
    if hangs.iter().any(unsure) {
        output::line(BEST_LENS_HEIGHT)?;
    }
    if let Some(out) = &args.out {
        output::line(&format!(
            "Next: hangtrue causes {} {}",
            args.project.display(),
            out.display()
        ))?;
    }
    Ok(())
}

fn show(opened: &Opened, hang: &Hang) -> Result<(), Failure> {
    let length = |w: Within| {
        let unit = opened.unit();
        format!("{} ± {}", show_measured(w.value, unit), show_margin(w.error, unit))
    };
    output::line(&format!("\n{} ({:?} leg, {:?})", hang.line, hang.leg, hang.view).to_lowercase())?;
    let rows: Vec<Vec<String>> = hang
        .stations
        .iter()
        .map(|s| {
            let told = |w: Within| if s.not_told.is_some() { "not read".into() } else { length(w) };
            let at = format!("{:.0} %", 100.0 * s.share);
            vec![at, told(s.sag), told(s.below_last), told(s.below_side)]
        })
        .collect();
    output::table(&["along", ">below its ends", ">below its last end", ">below its seam"], &rows)?;
    let degrees =
        |w: Within| format!("{}° ± {}°", show_number(w.value, 1), show_number(w.error, 1));
    output::line(&format!(
        "  slopes {}, turns {} at its middle; a pixel is {} there; {} of the bend seen is the roundness of the body; the cloth is up to {:.1} times as long as it looks",
        degrees(hang.slope),
        degrees(hang.turn),
        show_fine(hang.mm_per_pixel.value, opened.unit()),
        opened.show(hang.roundness),
        hang.foreshortened
    ))?;
    let doubts = hang.doubts();
    doubts.iter().try_for_each(|d| output::line(&format!("  Doubtful: {}", output::words(d))))?;
    hang.not_told().iter().try_for_each(|w| output::line(&format!("  {}", output::words(w))))
}
