//! Printing at true scale.

use crate::args::{LayoutArg, PrintArgs};
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, check_outputs};
use hangtrue_adjust::{Document, OPEN_ROUND, Usual};
use hangtrue_files::print::{
    Allowance, DrawOptions, Paper, ProjectorOptions, TileOptions, fitting_label, piece_sheets,
    print_mark, print_pattern, projector_page,
};
use hangtrue_files::save::write_output;
use hangtrue_files::today;
use hangtrue_pattern::units::{INCH, Unit};
use hangtrue_pattern::{Pattern, names};

pub fn run(args: &PrintArgs) -> Result<(), Failure> {
    let over = args.over_file.over();
    check_outputs(&[Some(&args.out)], &[Some(&args.project)], over)?;
    let opened = Opened::open(&args.project)?;
    opened.replay.start()?;
    let pattern = opened.replay.round(&args.of)?;
    let old = match &args.over {
        Some(name) => Some((&**opened.replay.round(name)?, name.clone())),
        None => None,
    };
    let document = &opened.document;
    let draw = DrawOptions {
        unit: document.unit,
        allowance: allowance(args, &opened)?,
        label: fitting_label(document, document.round_meant(&args.of), &today()),
        old,
        ..DrawOptions::default()
    };
    let (pdf, done, notes) = match args.layout {
        LayoutArg::Sheets => on_sheets(args, &opened, pattern, &draw)?,
        LayoutArg::Pieces => {
            let printed = piece_sheets(pattern, &draw, &document.title)?;
            let done = format!(
                "{} sheets, one a piece). Print at 100 %, and measure the square on each sheet before cutting.",
                printed.pages.len()
            );
            (printed.pdf, done, printed.notes)
        }
        LayoutArg::Projector => {
            let options = projector(args, &opened)?;
            let printed = projector_page(pattern, &draw, &options, &document.title)?;
            let frame = printed.pages.first().map(|p| p.measure.size()).unwrap_or_default();
            let done = format!(
                "one page for a projector). On the table the outer frame must measure {} by {}: move the projector or change its zoom until it does, before cutting.",
                opened.show(frame.width),
                opened.show(frame.height)
            );
            (printed.pdf, done, printed.notes)
        }
    };
    write_output(&args.out, &pdf, over)?;
    let is_today = document.round_meant(&args.of) == OPEN_ROUND;
    let unmarked = if is_today { mark_printed(args, document).err() } else { None };
    output::line(&format!("Wrote {} ({done}", args.out.display()))?;
    for note in &notes {
        output::line(&format!("Note: {note}"))?;
    }
    if let Some(why) = unmarked {
        output::line(&format!(
            "Note: the project does not say that it was printed: {}",
            why.words()
        ))?;
    }
    Ok(())
}

/// As the desk does: the project knows what of it is on paper.
fn mark_printed(args: &PrintArgs, printed: &Document) -> Result<(), Failure> {
    let mark = print_mark(printed);
    if printed.printing.printed == mark {
        return Ok(());
    }
    let mut opened = Opened::open_to_write(&args.project)?;
    opened.document.printing.printed = mark;
    opened.save()
}

type Done = (Vec<u8>, String, Vec<String>);

fn on_sheets(
    args: &PrintArgs,
    opened: &Opened,
    pattern: &Pattern,
    draw: &DrawOptions,
) -> Result<Done, Failure> {
    let (chosen, usual) = (&opened.document.printing, Usual::of(opened.unit()));
    let paper = match &args.paper {
        Some(name) => Paper::named(name).ok_or_else(|| not_a_paper(name))?,
        None => {
            let roll = chosen.roll.unwrap_or(usual.roll);
            Paper::of(chosen.paper.unwrap_or(usual.paper), roll)
        }
    };
    let or_length = |said: &Option<String>, else_mm: f64| match said {
        Some(text) => opened.length(text),
        None => Ok(else_mm),
    };
    let options = TileOptions {
        margin: or_length(&args.margin, chosen.margin.unwrap_or(usual.margin))?,
        overlap: or_length(&args.overlap, chosen.overlap.unwrap_or(usual.overlap))?,
    };
    let printed = print_pattern(pattern, draw, paper, &options, &opened.document.title)?;
    let done = format!(
        "{} of {}). Print at 100 %, and measure the test squares on the first page before cutting.",
        match printed.pages {
            1 => "1 sheet".to_owned(),
            many => format!("{many} sheets"),
        },
        paper.name()
    );
    Ok((printed.pdf, done, printed.notes))
}

fn not_a_paper(name: &str) -> Failure {
    Failure::Asked(format!(
        "“{name}” is not a paper; choose A4, A3, A0, Letter, or a roll like “roll 914 mm”"
    ))
}

fn allowance(args: &PrintArgs, opened: &Opened) -> Result<Option<Allowance>, Failure> {
    let Some(text) = &args.allowance else {
        let (chosen, usual) = (&opened.document.printing, Usual::of(opened.unit()));
        return Ok(chosen.with_allowance.then(|| {
            let seams = chosen.allowance.unwrap_or(usual.allowance);
            Allowance::all_round(seams).with(names::HEM, chosen.hem.unwrap_or(usual.hem))
        }));
    };
    let all = Allowance::all_round(opened.length(text)?);
    Ok(Some(match &args.hem_allowance {
        Some(hem) => all.with(names::HEM, opened.length(hem)?),
        None => all,
    }))
}

fn projector(args: &PrintArgs, opened: &Opened) -> Result<ProjectorOptions, Failure> {
    let metric = matches!(opened.unit(), Unit::Mm | Unit::Cm);
    let grid = match args.grid.as_deref().map(str::trim) {
        Some("none") => None,
        Some(text) => Some(opened.length(text)?),
        None => Some(if metric { 50.0 } else { 2.0 * INCH }),
    };
    Ok(ProjectorOptions { line: opened.length(&args.line)?, inverted: args.inverted, grid })
}
