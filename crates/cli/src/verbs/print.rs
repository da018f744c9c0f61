//! Printing at true scale.

use crate::args::OverArg;
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, check_outputs};
use clap::{Args, ValueEnum};
use hangtrue_adjust::{Document, OPEN_ROUND, Usual};
use hangtrue_cut::pieces_to_cut;
use hangtrue_files::print::{
    Allowance, DrawOptions, Paper, ProjectorOptions, Reduced, TileOptions, fitting_label, handout,
    piece_sheets, print_mark, print_pattern, projector_page,
};
use hangtrue_files::save::write_output;
use hangtrue_files::today;
use std::path::PathBuf;

use hangtrue_pattern::{Pattern, names};

#[derive(Debug, Args)]
pub struct PrintArgs {
    /// The project file.
    pub project: PathBuf,
    /// The PDF to write.
    #[arg(long)]
    pub out: PathBuf,
    /// Sheets taped together, a sheet a piece, or one page for a projector.
    #[arg(long, value_enum, default_value_t = LayoutArg::Sheets)]
    pub layout: LayoutArg,
    /// Full size, or half or a quarter for a class: to be read, and marked on every sheet as
    /// not for cutting.
    #[arg(long, value_enum, default_value_t = ScaleArg::Full)]
    pub scale: ScaleArg,
    /// A4, A3, A0, Letter, or a roll's width like "roll 914 mm", for sheets taped together
    /// (default: as chosen for the project; else A4, or Letter when it is in inches).
    #[arg(long)]
    pub paper: Option<String>,
    /// The pattern to print: a fitting's name, "start" or "today".
    #[arg(long, default_value = "today")]
    pub of: String,
    /// An older kept pattern drawn thin underneath.
    #[arg(long)]
    pub over: Option<String>,
    /// Seam allowance all round, on back and front alone (default: all pieces of the
    /// cutting plan with its allowances, see `hangtrue cut`).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub allowance: Option<String>,
    /// Hem allowance, when it is another.
    #[arg(long, requires = "allowance", value_name = "LENGTH", allow_hyphen_values = true)]
    pub hem_allowance: Option<String>,
    /// Overlap of the sheets (default: as chosen for the project; else 15 mm or 5/8 in).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub overlap: Option<String>,
    /// Edge the printer leaves white (default: as chosen for the project; else 10 mm or
    /// 3/8 in).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub margin: Option<String>,
    /// For a projector: no line is thinner than this.
    #[arg(long, default_value = "2 mm", value_name = "LENGTH", allow_hyphen_values = true)]
    pub line: String,
    /// For a projector: light lines on black.
    #[arg(long)]
    pub inverted: bool,
    /// For a projector: side of the squares to measure on the table, or "none"
    /// (default: 50 mm, or 2 in when the project is in inches).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub grid: Option<String>,
    #[command(flatten)]
    pub over_file: OverArg,
}

/// What a pattern is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum LayoutArg {
    /// Sheets of one paper that are taped together, or a roll.
    Sheets,
    /// Each piece on a sheet of its own, as large as it needs.
    Pieces,
    /// Everything on one large page for a projector.
    Projector,
}

/// How large it is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ScaleArg {
    /// As it is cut.
    Full,
    /// One half, not for cutting.
    Half,
    /// One quarter, not for cutting.
    Quarter,
}

impl ScaleArg {
    /// How much smaller; none at full size.
    pub fn reduced(self) -> Option<Reduced> {
        match self {
            Self::Full => None,
            Self::Half => Some(Reduced::Half),
            Self::Quarter => Some(Reduced::Quarter),
        }
    }
}

pub fn run(args: &PrintArgs) -> Result<(), Failure> {
    let over = args.over_file.over();
    let reduced = args.scale.reduced();
    if reduced.is_some() && args.layout != LayoutArg::Sheets {
        return Err(Failure::Asked(
            "half and quarter scale are printed on sheets; leave --layout out".into(),
        ));
    }
    check_outputs(&[Some(&args.out)], &[Some(&args.project)], over)?;
    let opened = Opened::open(&args.project)?;
    opened.replay.start()?;
    let pattern = opened.replay.round(&args.of)?;
    let old = match &args.over {
        Some(name) => Some((&**opened.replay.round(name)?, name.clone())),
        None => None,
    };
    let document = &opened.document;
    let set = match args.allowance {
        None => Some(pieces_to_cut(pattern, document)?),
        Some(_) => None,
    };
    let pattern = set.as_ref().map_or(&**pattern, |set| &set.pattern);
    let draw = DrawOptions {
        unit: document.unit,
        allowance: allowance(args, &opened)?,
        set: set.as_ref(),
        label: fitting_label(document, document.round_meant(&args.of), &today()),
        old,
        ..DrawOptions::default()
    };
    let (pdf, done, notes) = match args.layout {
        LayoutArg::Sheets => on_sheets(args, &opened, pattern, (&draw, reduced))?,
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
    // A handout is no toile: what of the project is on paper stays as it was.
    let is_today = document.round_meant(&args.of) == OPEN_ROUND && reduced.is_none();
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
    if reduced.is_some() { Ok(()) } else { output::line(super::cut::CAUTION) }
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
    (draw, reduced): (&DrawOptions, Option<Reduced>),
) -> Result<Done, Failure> {
    let (chosen, usual) = (&opened.document.printing, Usual::of(opened.unit()));
    let paper = match &args.paper {
        Some(name) => paper_named(name)?,
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
        unit: opened.unit(),
    };
    if let Some(reduced) = reduced {
        let title = &opened.document.title;
        let made = handout((pattern, draw), reduced, paper, &options, title)?;
        let done = format!(
            "{} of {}, {}). Not for cutting. Print at 100 %; the bar at the foot is what to measure.",
            sheets(made.grid.sheets()),
            paper.name_in(opened.unit()),
            reduced.name()
        );
        return Ok((made.pdf, done, made.notes));
    }
    let printed = print_pattern(pattern, draw, paper, &options, &opened.document.title)?;
    let done = format!(
        "{} of {}). Print at 100 %, and measure the test squares on the first page before cutting.",
        sheets(printed.pages),
        paper.name_in(opened.unit())
    );
    Ok((printed.pdf, done, printed.notes))
}

fn sheets(count: usize) -> String {
    if count == 1 { "1 sheet".to_owned() } else { format!("{count} sheets") }
}

/// The paper of that name.
pub(super) fn paper_named(name: &str) -> Result<Paper, Failure> {
    Paper::named(name).ok_or_else(|| {
        Failure::Asked(format!(
            "“{name}” is not a paper; choose A4, A3, A0, Letter, or a roll like “roll 914 mm”"
        ))
    })
}

/// An allowance said here, in place of the cutting plan's.
fn allowance(args: &PrintArgs, opened: &Opened) -> Result<Option<Allowance>, Failure> {
    let Some(text) = &args.allowance else { return Ok(None) };
    let all = Allowance::all_round(opened.length(text)?);
    Ok(Some(match &args.hem_allowance {
        Some(hem) => all.with(names::HEM, opened.length(hem)?),
        None => all,
    }))
}

fn projector(args: &PrintArgs, opened: &Opened) -> Result<ProjectorOptions, Failure> {
    let grid = match args.grid.as_deref().map(str::trim) {
        Some("none") => None,
        Some(text) => Some(opened.length(text)?),
        None => ProjectorOptions::usual(opened.unit()).grid,
    };
    Ok(ProjectorOptions { line: opened.length(&args.line)?, inverted: args.inverted, grid })
}
