//! How the marked lines will hang on this body: predicted, not seen.

use super::figure_args::FigureArgs;
use super::hang_weigh;
use crate::args::{JsonArg, OverArg};
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, check_outputs};
use clap::Args;
use hangtrue_adjust::Figure;
use hangtrue_adjust::reading::{Droop, checked_droops};
use hangtrue_drape::picture::Scene;
use hangtrue_drape::{
    Compared, HangingLine, LABEL, Options, Prediction, Settled, compare, doubts, read, settle_all,
};
use hangtrue_files::droops::read_droops;
use hangtrue_files::hang::{HangSheet, hang_sheet};
use hangtrue_files::project::read_text;
use hangtrue_files::save::write_output;
use hangtrue_files::worn::as_png;
use hangtrue_pattern::units::show_difference;
use hangtrue_pattern::{Measures, Pattern};
use std::path::{Path, PathBuf};
use std::sync::Arc;

#[derive(Debug, Args)]
pub struct HangArgs {
    /// The project file.
    pub project: PathBuf,
    /// One mesh and one start: sooner, with nothing to tell the ± by.
    #[arg(long)]
    pub quick: bool,
    /// Write a picture: the toile from the back, the side and the front, with its lines.
    #[arg(long, value_name = "FILE")]
    pub picture: Option<PathBuf>,
    /// Set a real toile against the prediction: its droops, as `hangtrue causes` reads them.
    #[arg(long, value_name = "FILE")]
    pub measured: Option<PathBuf>,
    /// Tell what a pinch's methods, or a correction by --amount, would do to the lines.
    #[arg(long, value_name = "NAME")]
    pub weigh: Option<String>,
    /// By how much the correction that is weighed is made; a minus takes the other way.
    #[arg(long, value_name = "LENGTH", requires = "weigh", allow_hyphen_values = true)]
    pub amount: Option<String>,
    /// Keep what is said of the body here with the project.
    #[arg(long)]
    pub keep: bool,
    #[command(flatten)]
    pub figure: FigureArgs,
    #[command(flatten)]
    pub json: JsonArg,
    #[command(flatten)]
    pub over: OverArg,
}

/// Droops are told to this, mm.
const TOLD: f64 = 0.1;

/// A settled toile and what is read of it.
pub struct Hung {
    pub pattern: Arc<Pattern>,
    pub settled: Settled,
    pub told: Prediction,
}

/// Settles the project's toile on its body.
pub fn hung(opened: &Opened, figure: &Figure, quick: bool) -> Result<Hung, Failure> {
    hung_of(opened, opened.pattern()?.clone(), figure, quick)
}

/// Settles a pattern of the project on its body.
pub fn hung_of(
    opened: &Opened,
    pattern: Arc<Pattern>,
    figure: &Figure,
    quick: bool,
) -> Result<Hung, Failure> {
    let measures = worn_by(opened, figure)?;
    let options = options_of(figure, quick);
    let settled = settle_all(&pattern, measures, &figure.handles, &options, &mut |_| true)?;
    let told = read(&pattern, &settled);
    Ok(Hung { pattern, settled, told })
}

/// The measures of the body it is worn by.
pub fn worn_by<'a>(opened: &'a Opened, figure: &'a Figure) -> Result<&'a Measures, Failure> {
    let given = Some(&figure.measures).filter(|m| m.iter().next().is_some());
    opened.document.body().or(given).ok_or_else(|| {
        Failure::Asked(
            "this project starts from a pattern that was brought in and knows no body; name a file of its measures (hangtrue begin shows how one is written): --measures FILE, and --keep to keep them with the project".into(),
        )
    })
}

/// How it is settled; quick: on one mesh from one start.
pub fn options_of(figure: &Figure, quick: bool) -> Options {
    let mut options = Options { breadths: figure.breadths, ..Options::default() };
    if quick {
        options.grids.truncate(1);
        options.starts.truncate(1);
    }
    options
}

pub fn run(args: &HangArgs) -> Result<(), Failure> {
    let made_from = [Some(&args.project), args.measured.as_ref()];
    check_outputs(&[args.picture.as_ref()], &made_from, args.over.over())?;
    let mut opened = Opened::open_for(&args.project, args.keep)?;
    let figure = args.figure.figure(&opened)?;
    let measured = args.measured.as_deref().map(|path| droops(&opened, path)).transpose()?;
    let weigh = args.weigh.as_deref();
    let weigh = weigh.map(|name| hang_weigh::changes(&opened, name, args.amount.as_deref()));
    let weigh = weigh.transpose()?;
    let hung = hung(&opened, &figure, args.quick)?;
    if let Some(out) = &args.picture {
        let bytes = picture(&opened, &hung)?;
        write_output(out, &bytes, args.over.over())?;
    }
    if args.keep {
        opened.document.figure = figure.clone();
        opened.save()?;
    }
    if let Some(changes) = weigh {
        return hang_weigh::run(&opened, &figure, &hung, changes, args.json.json);
    }
    let compared = measured.map(|m| compare(&hung.pattern, &hung.settled, &hung.told, &m));
    if args.json.json {
        return json(&hung, compared.as_ref());
    }
    show(&opened, &hung)?;
    compared.map_or(Ok(()), |compared| show_compared(&opened, &compared))
}

fn droops(opened: &Opened, path: &Path) -> Result<Vec<Droop>, Failure> {
    let read = read_droops(&read_text(path)?, path, opened.unit());
    let read = read.map_err(|e| Failure::Droops { path: path.to_owned(), source: Box::new(e) })?;
    Ok(checked_droops(&read)?)
}

fn picture(opened: &Opened, hung: &Hung) -> Result<Vec<u8>, Failure> {
    let scene = Scene::of(&hung.pattern, &hung.settled, &hung.told);
    let title = match opened.document.client.as_str() {
        "" => format!("How {} will hang", opened.document.title),
        client => format!("How {} will hang on {client}", opened.document.title),
    };
    let said: Vec<String> =
        doubts(&hung.pattern, &hung.told, &hung.settled).iter().map(output::words).collect();
    let sheet = HangSheet { title: &title, doubts: &said, unit: opened.unit() };
    Ok(as_png(&hang_sheet(&scene, &sheet)?)?)
}

fn json(hung: &Hung, compared: Option<&Compared>) -> Result<(), Failure> {
    let Hung { settled, told, .. } = hung;
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
    let mut all = serde_json::json!({
        "label": "predicted, not seen",
        "lines": lines,
        "plus_minus": told.plus_minus,
        "waist_slipped": settled.first.slipped,
        "body": read,
        "guessed": settled.body.guessed,
        "fork_lowered": settled.body.lowered,
        "hip_raised": settled.body.hip_raised,
    });
    if let (Some(compared), Some(all)) = (compared, all.as_object_mut()) {
        all.insert("compared".into(), serde_json::to_value(compared)?);
        all.insert("places_that_agree".into(), compared.agree().into());
    }
    output::json(&all)
}

fn show(opened: &Opened, hung: &Hung) -> Result<(), Failure> {
    let Hung { pattern, settled, told, .. } = hung;
    output::line(LABEL)?;
    output::line(
        "How the sewn toile hangs is worked out by arithmetic on a body of these measures.",
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
    output::line(
        "Below the line between its own two ends, from the inner end to the side; ± is what other starts and meshes differ by, or the least that is claimed. How far a real toile differs is not known.",
    )?;
    doubts(pattern, told, settled).iter().try_for_each(|doubt| output::line(&output::words(doubt)))
}

fn show_compared(opened: &Opened, compared: &Compared) -> Result<(), Failure> {
    output::line("\nThe toile as it was measured, against the prediction:")?;
    let unit = opened.unit();
    let rows: Vec<Vec<String>> = compared
        .places
        .iter()
        .map(|p| {
            vec![
                format!("{}, {}, {}", p.line.name(), p.view.piece(), p.leg.word()),
                format!("{:.0} %", 100.0 * p.at),
                opened.show(p.measured),
                opened.show(p.predicted),
                show_difference(p.lower(), unit, TOLD),
                opened.show(p.error()),
                (if p.agrees() { "agrees" } else { "differs" }).to_owned(),
            ]
        })
        .collect();
    if !rows.is_empty() {
        output::table(
            &["line", ">from the inner end", ">measured", ">predicted", ">lower by", ">±", ""],
            &rows,
        )?;
        output::line(
            "Each is how far the line hangs below its place at the side seam; ± holds both the ruler’s and the prediction’s.",
        )?;
    }
    for left_out in &compared.left_out {
        output::line(&format!(
            "Left out: {}, {}, {} leg: {}.",
            left_out.line.name(),
            left_out.view.piece(),
            left_out.leg.word(),
            left_out.why
        ))?;
    }
    let Some((mean, square)) = compared.off() else {
        return output::line("Nothing could be compared.");
    };
    output::line(&format!(
        "{} of {} places agree within what both claim. In the mean the toile hangs {} lower than predicted; the root of the mean square is {}.",
        compared.agree(),
        compared.places.len(),
        show_difference(mean, unit, TOLD),
        opened.show(square),
    ))?;
    output::line(
        "One toile proves nothing, either way. What would help to judge the prediction, and what to send along, stands in docs/hang.md.",
    )
}
