//! The command line, in words for a sewing person.

use crate::verbs::accept::AcceptArgs;
use crate::verbs::apart::{ApartArgs, TogetherArgs};
use crate::verbs::batch::BatchArgs;
use crate::verbs::begin::BeginArgs;
use crate::verbs::bring::BringArgs;
use crate::verbs::class::ClassArgs;
use crate::verbs::close::CloseArgs;
use crate::verbs::compare::CompareArgs;
use crate::verbs::correct::CorrectArgs;
use crate::verbs::cut::CutArgs;
use crate::verbs::edit::EditArgs;
use crate::verbs::hand_on::HandOnArgs;
use crate::verbs::hang::HangArgs;
use crate::verbs::journal::JournalArgs;
use crate::verbs::lay::LayArgs;
use crate::verbs::look::LookArgs;
use crate::verbs::mark::MarkArgs;
use crate::verbs::note::NoteArgs;
use crate::verbs::photo::PhotoArgs;
use crate::verbs::pin::PinArgs;
use crate::verbs::print::PrintArgs;
use crate::verbs::reading::ReadingArgs;
use crate::verbs::send::SendArgs;
use crate::verbs::set_up::SetUpArgs;
use crate::verbs::sheet::SheetArgs;
use crate::verbs::style::StyleArgs;
use crate::verbs::trace::TraceArgs;
use crate::verbs::true_up::TrueArgs;
use crate::verbs::weigh::WeighArgs;
use crate::verbs::words::WordsArgs;
use clap::{Args, Parser, Subcommand, ValueEnum};
use hangtrue_files::save::Over;
use hangtrue_pattern::units::Unit;
use std::path::PathBuf;

/// Fits trousers to one real body: drafts a block, marks the lines to read on the
/// toile, turns what you pinned into a trued change of the flat pattern, and
/// prints it at true scale.
///
/// A fitting: begin, draft, mark, see the lines as sewn, print, sew the toile, try it
/// on, level, causes, pin, compare the methods, accept one, walk the seams, close the
/// fitting, print again.
///
/// Lengths are written as 7/16, 5 3/4 in, 12 mm or 12 cm; a number without a unit
/// is in the project's own unit.
#[derive(Debug, Parser)]
#[command(name = "hangtrue", version, max_term_width = 96)]
pub struct Command {
    #[command(subcommand)]
    pub verb: Verb,
}

/// A place in a list, counted from 1.
pub fn counted(said: &str) -> Result<usize, String> {
    said.trim().parse().map_err(|_| "write a whole number, such as 2".to_owned())
}

/// For verbs whose result another program may want.
#[derive(Debug, Args)]
pub struct JsonArg {
    /// Write the result as JSON, for another program.
    #[arg(long)]
    pub json: bool,
}

/// For verbs that may begin a project with what they bring in.
#[derive(Debug, Args)]
pub struct NewProjectArgs {
    /// With --start: what is made.
    #[arg(long, default_value = "Trousers")]
    pub title: String,
    /// With --start: for whom.
    #[arg(long, default_value = "")]
    pub client: String,
    /// With --start: how lengths are shown.
    #[arg(long, value_enum)]
    pub show: Option<UnitArg>,
}

impl NewProjectArgs {
    /// The unit lengths are shown in.
    pub fn unit(&self) -> Unit {
        self.show.map_or(Unit::Mm, Unit::from)
    }
}

/// For verbs that write files.
#[derive(Debug, Args)]
pub struct OverArg {
    /// Write over files that are already there; a project is never written over.
    #[arg(long)]
    replace: bool,
}

impl OverArg {
    /// Whether a file that is there may be written over.
    pub fn over(&self) -> Over {
        Over::said(self.replace)
    }
}

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Run a whole fitting on an invented client and write everything into a folder.
    Demo(DemoArgs),
    /// Start a project from a file of measures, or write one to fill in.
    Begin(BeginArgs),
    /// Draft the block and show what was asked for and what was drawn.
    Draft(ProjectArg),
    /// Mark reference lines on the pieces.
    Mark(MarkArgs),
    /// Show how the marked lines run once the seams are sewn.
    #[command(name = "as-sewn", alias = "read")]
    Read(ProjectArg),
    /// Predict how the marked lines will hang on a body of these measures (not seen).
    Hang(HangArgs),
    /// Find from a photo of the worn toile how far its lines hang from level.
    #[command(name = "level", alias = "look")]
    Look(LookArgs),
    /// Say what the droops of the worn toile may come from, and take a proposal.
    #[command(name = "causes", alias = "reading")]
    Reading(ReadingArgs),
    /// Enter what was pinned on the toile.
    Pin(PinArgs),
    /// Show side by side what each way to take up a pinch would do; nothing is changed.
    #[command(name = "methods", alias = "weigh")]
    Weigh(WeighArgs),
    /// Take a pinch out of the paper by one of the methods.
    Accept(AcceptArgs),
    /// List the corrections of the catalogue, or make one.
    Correct(CorrectArgs),
    /// List the styles (rise, leg line, length), or give one to the pattern that fits.
    Style(StyleArgs),
    /// Give the left and the right leg pieces of their own, for an uneven body.
    Apart(ApartArgs),
    /// Let one piece serve both legs again.
    Together(TogetherArgs),
    /// Walk every seam, that is lay one edge along the other as they will be sewn, and fold
    /// every dart; say what does not match.
    Walk(ProjectArg),
    /// True what the walk found.
    True(TrueArgs),
    /// Close the fitting: keep the pattern as it stands.
    Close(CloseArgs),
    /// Write down what was seen on the body, or decided, for the journal.
    Note(NoteArgs),
    /// Photos of a fitting: kept beside the project and nowhere else.
    #[command(name = "photos", alias = "photo")]
    Photo(PhotoArgs),
    /// Set the fitting journal as one PDF: fittings, pinches, droops, notes.
    Journal(JournalArgs),
    /// Write a copy of the project without its photos, to give to somebody.
    HandOn(HandOnArgs),
    /// List the changes in order, with the fittings.
    List(ProjectArg),
    /// Switch a change off or on again, rename it, move it or take it out.
    Edit(EditArgs),
    /// Compare two kept patterns: what each measures, how far the corners moved, and which way
    /// corners, seams and lines went.
    Compare(CompareArgs),
    /// The pieces to cut: choose allowances and waist, and list them.
    Cut(CutArgs),
    /// Lay the pieces on the cloth, tell the length needed, and draw the lay.
    Lay(LayArgs),
    /// Print at true scale as PDF.
    Print(PrintArgs),
    /// Make a sheet to be written on: for measuring (one or a class), for marking the toile,
    /// for the sewing, for the fitting.
    Sheet(SheetArgs),
    /// Send the pattern out at true scale, as a kind of file that others read.
    Send(SendArgs),
    /// Bring in a pattern from SVG or DXF: look first, then --accept.
    Bring(BringArgs),
    /// Digitise a piece from a photo or scan of its card: look first, then --accept.
    #[command(name = "digitise", aliases = ["trace", "digitize"])]
    Trace(TraceArgs),
    /// Draft a block for every row of a table of measures.
    Batch(BatchArgs),
    /// Print the block of every pupil of a class list, full size or as a handout.
    Class(ClassArgs),
    /// Put icon, menu entry, file type, shell completions and manual where the system
    /// looks for them.
    SetUp(SetUpArgs),
    /// Show the licences of Hangtrue and of its fonts.
    Licences,
    /// Say what the words of the trade mean that are used here.
    Words(WordsArgs),
}

#[derive(Debug, Args)]
pub struct DemoArgs {
    /// The folder to write into; made when it is not there.
    pub out: PathBuf,
    #[command(flatten)]
    pub over: OverArg,
}

#[derive(Debug, Args)]
pub struct ProjectArg {
    /// The project file.
    pub project: PathBuf,
    #[command(flatten)]
    pub json: JsonArg,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum UnitArg {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Inches to 1/8.
    #[value(name = "1/8")]
    Eighths,
    /// Inches to 1/16.
    #[value(name = "1/16")]
    Sixteenths,
    /// Inches to 1/32.
    #[value(name = "1/32")]
    ThirtySeconds,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum LegsArg {
    /// The wearer's left.
    Left,
    /// The wearer's right.
    Right,
    /// Both.
    Both,
}

impl From<UnitArg> for Unit {
    fn from(unit: UnitArg) -> Self {
        match unit {
            UnitArg::Mm => Self::Mm,
            UnitArg::Cm => Self::Cm,
            UnitArg::Eighths => Self::Eighths,
            UnitArg::Sixteenths => Self::Sixteenths,
            UnitArg::ThirtySeconds => Self::ThirtySeconds,
        }
    }
}
