//! The command line, in words for a sewing person.

use clap::{Args, Parser, Subcommand, ValueEnum};
use hangtrue_files::save::Over;
use std::path::PathBuf;

/// Fits trousers to one real body: drafts a block, marks the lines to read on the
/// toile, turns what you pinned into a trued change of the flat pattern, and
/// prints it at true scale.
///
/// A fitting: begin, draft, mark, see the lines as sewn, print, sew the toile, try it
/// on, level, causes, pin, compare the methods, accept one, walk the seams, close the
/// fitting, print again.
///
/// Lengths are written as 3/8, 5 1/2 in, 9.5 mm or 12 cm; a number without a unit
/// is in the project's own unit.
#[derive(Debug, Parser)]
#[command(name = "hangtrue", version, max_term_width = 96)]
pub struct Command {
    #[command(subcommand)]
    pub verb: Verb,
}

/// A place in a list, counted from 1.
fn counted(said: &str) -> Result<usize, String> {
    said.trim().parse().map_err(|_| "write a whole number, such as 2".to_owned())
}

/// For verbs whose result another program may want.
#[derive(Debug, Args)]
pub struct JsonArg {
    /// Write the result as JSON, for another program.
    #[arg(long)]
    pub json: bool,
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
    /// Give the left and the right leg pieces of their own, for an uneven body.
    Apart(ApartArgs),
    /// Let one piece serve both legs again.
    Together(TogetherArgs),
    /// Walk every seam and fold every dart, and say what does not match.
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
    /// Compare two kept patterns: what each measures, and how far the corners moved.
    Compare(CompareArgs),
    /// Print at true scale as PDF.
    Print(PrintArgs),
    /// Send the pattern out as SVG or DXF at true scale.
    Send(SendArgs),
    /// Bring in a pattern from SVG or DXF: look first, then --accept.
    Bring(BringArgs),
    /// Digitise a piece from a photo or scan of its card: look first, then --accept.
    #[command(name = "digitise", aliases = ["trace", "digitize"])]
    Trace(TraceArgs),
    /// Draft a block for every row of a table of measures.
    Batch(BatchArgs),
    /// Put icon, menu entry, file type, shell completions and manual where the system
    /// looks for them.
    SetUp(SetUpArgs),
    /// Show the licences of Hangtrue and of its fonts.
    Licences,
    /// Say what the words of the trade mean that are used here.
    Words(WordsArgs),
}

#[derive(Debug, Args)]
pub struct SetUpArgs {
    /// The folder of shared files (default: $XDG_DATA_HOME, else ~/.local/share).
    #[arg(long, value_name = "FOLDER")]
    pub share: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct WordsArgs {
    /// The word; without it, the whole list.
    pub word: Option<String>,
    #[command(flatten)]
    pub json: JsonArg,
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

#[derive(Debug, Args)]
pub struct BeginArgs {
    /// The project file to write.
    pub project: PathBuf,
    /// The file of measures; without it one to fill in is written beside the project.
    #[arg(long)]
    pub measures: Option<PathBuf>,
    /// Eases and widths, when they are not the usual ones.
    #[arg(long)]
    pub plan: Option<PathBuf>,
    /// What is made.
    #[arg(long, default_value = "Trousers")]
    pub title: String,
    /// For whom.
    #[arg(long, default_value = "")]
    pub client: String,
    /// How lengths are shown.
    #[arg(long, value_enum, default_value_t = UnitArg::Mm)]
    pub unit: UnitArg,
    #[command(flatten)]
    pub over: OverArg,
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

#[derive(Debug, Args)]
pub struct MarkArgs {
    /// The project file.
    pub project: PathBuf,
    /// Mark the usual set on every piece: full hip, thigh, knee, hip on paper.
    #[arg(long, conflicts_with_all = ["line", "piece"])]
    pub usual: bool,
    /// How deep the full hip line lies below the waist (with --usual).
    #[arg(long, requires = "usual", value_name = "LENGTH", allow_hyphen_values = true)]
    pub hip_depth: Option<String>,
    /// How far the thigh line lies below the crotch point (with --usual).
    #[arg(long, requires = "usual", value_name = "LENGTH", allow_hyphen_values = true)]
    pub thigh_drop: Option<String>,
    /// Name of a single line.
    #[arg(long, requires = "piece", value_parser = clap::builder::NonEmptyStringValueParser::new())]
    pub line: Option<String>,
    /// The piece it lies on.
    #[arg(long)]
    pub piece: Option<String>,
    #[command(flatten)]
    pub rule: RuleArgs,
    /// The line stays on paper and is not traced to the cloth.
    #[arg(long)]
    pub paper: bool,
    /// Why it is drawn.
    #[arg(long, default_value = "marked by the maker")]
    pub why: String,
    /// Take the line away instead.
    #[arg(long)]
    pub erase: bool,
    /// Mark the line anew by its own rule, where it stayed on the cloth of a toile.
    #[arg(long, conflicts_with = "erase")]
    pub anew: bool,
}

/// One of these says how the line is placed.
#[derive(Debug, Args)]
#[group(multiple = false)]
pub struct RuleArgs {
    /// Square to the grain, so far below a corner: "50.8 mm below crotch point".
    #[arg(long, value_name = "WHERE", allow_hyphen_values = true)]
    pub below: Option<String>,
    /// Square to the grain through a corner or a place: "60 mm from waist of side".
    #[arg(long, value_name = "WHERE", allow_hyphen_values = true)]
    pub square_through: Option<String>,
    /// At this depth along two seams: "5 1/2 in on side from waist, crotch from waist".
    #[arg(long, value_name = "WHERE", allow_hyphen_values = true)]
    pub equal_depth: Option<String>,
    /// Parallel with a seam, so far inside: "40 mm inside hem".
    #[arg(long, value_name = "WHERE", allow_hyphen_values = true)]
    pub parallel: Option<String>,
    /// Straight through two places: "60 mm from waist of side, 80 mm from waist of crotch".
    #[arg(long, value_name = "WHERE", allow_hyphen_values = true)]
    pub through: Option<String>,
    /// Between two lines, as a share: "50% from thigh to knee".
    #[arg(long, value_name = "WHERE", allow_hyphen_values = true)]
    pub between: Option<String>,
}

/// Enter what was pinned on the toile, as measured on the cloth.
///
/// Measure before unpinning, or make a hash mark on both sides of the pinch at each
/// pin. Lay the tape along the marked line: for each place note how far it lies
/// from a seam, and how much cloth is taken there, from hash mark to hash mark.
/// Between two places the amount goes smoothly from one to the other; where the
/// line meets a seam without an amount, the pinch has run out.
///
/// Pins on a body: safety pins when the wearer is to sit or bend, points away from
/// the body, and every pin out before the toile comes off.
#[derive(Debug, Args)]
pub struct PinArgs {
    /// The project file.
    pub project: PathBuf,
    /// Name for the pinch.
    #[arg(long, default_value = "pinch", value_parser = clap::builder::NonEmptyStringValueParser::new())]
    pub name: String,
    /// The piece it was pinned on; when left and right are apart, “back” means both
    /// legs and “back left” that leg.
    #[arg(long)]
    pub piece: String,
    /// The leg it was pinned on, when left and right are apart.
    #[arg(long, value_enum, default_value_t = LegsArg::Both)]
    pub leg: LegsArg,
    /// The reference line it runs along; may be said in --at instead.
    #[arg(long)]
    pub line: Option<String>,
    /// No line: straight between two places on seams:
    /// "100 mm from waist of side, 80 mm from crotch point of inseam".
    #[arg(long, value_name = "PLACE, PLACE", conflicts_with = "line", allow_hyphen_values = true)]
    pub across: Option<String>,
    /// A place and an amount, as measured: "middle=3/8", "40% from inseam=6 mm",
    /// "4 1/2 from inseam of thigh = 3/8", "60 mm from side seam=1/4 in",
    /// "4 1/2 from inseam and 5 from side=3/8" (each checks the other), "at side=1/4".
    /// Negative amounts let out. "left: middle=3/8" is of that leg alone. Repeat for
    /// more places.
    #[arg(long = "at", required = true, value_name = "PLACE=AMOUNT")]
    pub at: Vec<String>,
    /// The amounts are the depth of the fold, from the pins to the folded edge; twice
    /// that is the cloth taken.
    #[arg(long)]
    pub fold_depth: bool,
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

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum LegArg {
    /// The wearer's left.
    Left,
    /// The wearer's right.
    Right,
}

#[derive(Debug, Args)]
pub struct ApartArgs {
    /// The project file.
    pub project: PathBuf,
}

#[derive(Debug, Args)]
pub struct TogetherArgs {
    /// The project file.
    pub project: PathBuf,
    /// The leg whose pieces shall serve both; needed when the legs differ.
    #[arg(long, value_enum)]
    pub take: Option<LegArg>,
    /// What still counts as the same (default 0.5 mm).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub within: Option<String>,
}

#[derive(Debug, Args)]
pub struct WeighArgs {
    /// The project file.
    pub project: PathBuf,
    /// The pinch.
    pub pinch: String,
    #[command(flatten)]
    pub json: JsonArg,
    #[command(flatten)]
    pub method: MethodArgs,
}

#[derive(Debug, Args)]
pub struct AcceptArgs {
    /// The project file.
    pub project: PathBuf,
    /// The pinch.
    pub pinch: String,
    /// The method.
    #[arg(long, value_enum)]
    pub by: MethodArg,
    #[command(flatten)]
    pub json: JsonArg,
    #[command(flatten)]
    pub method: MethodArgs,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum MethodArg {
    /// Off the top of the centre seam, and scoop the crotch curve.
    TopAndScoop,
    /// Slash along the pinch and lap.
    SlashAndLap,
    /// An even strip across the whole piece.
    Distribute,
}

/// The methods' own settings; each has its usual value.
#[derive(Debug, Args)]
pub struct MethodArgs {
    /// Top and scoop: how much comes off the centre (default: the pinch).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub amount: Option<String>,
    /// Top and scoop: the waist stays as it is this far from the side seam (default 1 in).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub zero_from_side: Option<String>,
    /// Top and scoop: let the waist change instead of the dart.
    #[arg(long)]
    pub free_waist: bool,
    /// Slash and lap: the dart the second cut goes through.
    #[arg(long, conflicts_with = "cut_to")]
    pub dart: Option<String>,
    /// Slash and lap: the place the second cut goes to: "100 mm from side of waist".
    #[arg(long)]
    pub cut_to: Option<String>,
    /// Slash and lap: how much is taken: "all", "what the dart gives" or a share like "60%".
    #[arg(long, default_value = "all", value_name = "SHARE")]
    pub take: String,
    /// Slash and lap: let the crotch seam change where the cuts change it.
    #[arg(long)]
    pub free_crotch: bool,
    /// Slash and lap: redraw the crotch seam to its old length also where cloth is let out.
    #[arg(long, conflicts_with = "free_crotch")]
    pub hold_crotch: bool,
    /// Distribute: width of the strip (default: the mean of the pinch).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub strip: Option<String>,
    /// Distribute: ease the difference in sewing instead of changing the piece sewn to it.
    #[arg(long)]
    pub ease: bool,
}

#[derive(Debug, Args)]
pub struct CorrectArgs {
    /// The project file.
    pub project: PathBuf,
    /// The leg it is made on, when left and right are apart.
    #[arg(long, value_enum, default_value_t = LegsArg::Both)]
    pub leg: LegsArg,
    /// The correction, as the list names it: "flat seat". Without it, the list.
    pub name: Option<String>,
    /// List the corrections, what each is for, and the sensible amounts.
    #[arg(long)]
    pub list: bool,
    /// How much: 3/8, 9.5 mm; a minus takes the other way.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub amount: Option<String>,
    /// The dart corrections: the piece (default: the back).
    #[arg(long)]
    pub piece: Option<String>,
    /// The dart corrections: the dart (default: the one nearest the centre).
    #[arg(long)]
    pub dart: Option<String>,
    /// Name for the change in the list (default: the correction's own).
    #[arg(long)]
    pub called: Option<String>,
    #[command(flatten)]
    pub json: JsonArg,
}

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

#[derive(Debug, Args)]
pub struct ReadingArgs {
    /// The project file.
    pub project: PathBuf,
    /// The droops: a CSV whose first line is line,view,leg,at,droop,error, or a RON
    /// list of the same (see docs/reading.md). A droop is plus, a rise minus. Left
    /// out: what the project holds of the open fitting, typed or marked on photos.
    pub droops: Option<PathBuf>,
    /// Keep the droops of the file with the project, as measured in the open fitting.
    #[arg(long, requires = "droops")]
    pub keep: bool,
    /// Put the change of this proposal into the list of changes.
    #[arg(long, value_name = "NUMBER", value_parser = counted)]
    pub take: Option<usize>,
    /// Read by these rules instead of the usual ones.
    #[arg(long, value_name = "FILE")]
    pub rules: Option<PathBuf>,
    #[command(flatten)]
    pub json: JsonArg,
}

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

#[derive(Debug, Args)]
pub struct TrueArgs {
    /// The project file.
    pub project: PathBuf,
    /// Only this seam.
    #[arg(long = "seam", alias = "join")]
    pub join: Option<String>,
    /// Say what would be trued and change nothing.
    #[arg(long)]
    pub only_say: bool,
}

#[derive(Debug, Args)]
pub struct CloseArgs {
    /// The project file.
    pub project: PathBuf,
    /// Name of the fitting.
    #[arg(long, value_parser = clap::builder::NonEmptyStringValueParser::new())]
    pub name: String,
    /// What was seen and decided.
    #[arg(long, default_value = "")]
    pub note: String,
    /// Date, year-month-day (default: today).
    #[arg(long)]
    pub date: Option<String>,
}

#[derive(Debug, Args)]
pub struct NoteArgs {
    /// The project file.
    pub project: PathBuf,
    #[command(flatten)]
    pub what: NoteWhat,
    /// The fitting it belongs to: its name, or “today” for the open one.
    #[arg(long = "fitting", alias = "round", default_value = "today", value_name = "NAME")]
    pub round: String,
}

#[derive(Debug, Args)]
#[group(required = true, multiple = false)]
pub struct NoteWhat {
    /// What was seen.
    #[arg(long, value_name = "WORDS", value_parser = clap::builder::NonEmptyStringValueParser::new())]
    pub seen: Option<String>,
    /// What was decided.
    #[arg(long, value_name = "WORDS", value_parser = clap::builder::NonEmptyStringValueParser::new())]
    pub decided: Option<String>,
    /// Take all notes of the fitting out again.
    #[arg(long)]
    pub clear: bool,
}

/// Photos of a fitting. A photo is read, turned upright and written anew as pixels
/// alone into a folder beside the project; place, time and camera are left behind,
/// and nothing is ever sent anywhere. Ask the wearer before taking one.
#[derive(Debug, Args)]
pub struct PhotoArgs {
    /// The project file.
    pub project: PathBuf,
    #[command(subcommand)]
    pub what: PhotoVerb,
}

#[derive(Debug, Subcommand)]
pub enum PhotoVerb {
    /// Take a photo in.
    Add(PhotoAddArgs),
    /// List the photos.
    List,
    /// Let photos be printed in the journal.
    Tick(PhotoNames),
    /// Keep photos out of the journal.
    Untick(PhotoNames),
    /// Cut off or blur a part of a photo that is kept already.
    Hide(PhotoHideArgs),
    /// Throw photos away.
    Remove(PhotoNames),
}

#[derive(Debug, Args)]
pub struct PhotoAddArgs {
    /// The photo, PNG or JPEG.
    pub file: PathBuf,
    /// The fitting whose toile it shows: its name, or “today” for the open one.
    #[arg(long = "fitting", alias = "round", default_value = "today", value_name = "NAME")]
    pub round: String,
    /// From where the wearer is seen.
    #[arg(long, value_enum)]
    pub view: ViewArg,
    /// What stands under it in the journal.
    #[arg(long, default_value = "")]
    pub caption: String,
    /// Let it be printed in the journal.
    #[arg(long)]
    pub tick: bool,
    #[command(flatten)]
    pub hide: HideArgs,
}

#[derive(Debug, Args)]
pub struct HideArgs {
    /// Cut off this much from the top, of the height: "15%" takes off a head.
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    pub crop_above: Option<String>,
    /// Blur a box past recognition: left, top, width, height in percent of the
    /// picture, "40,0,20,15". Repeat for more boxes.
    #[arg(long, value_name = "X,Y,W,H", allow_hyphen_values = true)]
    pub blur: Vec<String>,
}

#[derive(Debug, Args)]
pub struct PhotoHideArgs {
    /// The photo's name in the list.
    pub photo: String,
    #[command(flatten)]
    pub hide: HideArgs,
}

#[derive(Debug, Args)]
pub struct PhotoNames {
    /// The photos' names in the list.
    #[arg(required = true)]
    pub photos: Vec<String>,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum ViewArg {
    /// The wearer's back.
    Back,
    /// A side of the wearer, not said which.
    Side,
    /// The wearer's left side.
    LeftSide,
    /// The wearer's right side.
    RightSide,
    /// The wearer's front.
    Front,
}

#[derive(Debug, Args)]
pub struct JournalArgs {
    /// The project file.
    pub project: PathBuf,
    /// The PDF to write.
    #[arg(long)]
    pub out: PathBuf,
    /// Put the ticked photos in; without it there is no photo.
    #[arg(long)]
    pub with_photos: bool,
    #[command(flatten)]
    pub over: OverArg,
}

#[derive(Debug, Args)]
pub struct HandOnArgs {
    /// The project file.
    pub project: PathBuf,
    /// The project file to write.
    #[arg(long)]
    pub out: PathBuf,
    /// Leave the client's name out too.
    #[arg(long)]
    pub without_name: bool,
    /// Leave the notes of the journal out too.
    #[arg(long)]
    pub without_notes: bool,
    #[command(flatten)]
    pub over: OverArg,
}

#[derive(Debug, Args)]
pub struct EditArgs {
    /// The project file.
    pub project: PathBuf,
    /// Name of the change.
    pub change: String,
    #[command(flatten)]
    pub what: EditWhat,
}

#[derive(Debug, Args)]
#[group(required = true, multiple = false)]
pub struct EditWhat {
    /// Switch it off.
    #[arg(long)]
    pub off: bool,
    /// Switch it on.
    #[arg(long)]
    pub on: bool,
    /// Take it out of the list; also takes out a pinch that is not taken up yet.
    #[arg(long)]
    pub remove: bool,
    /// Give it another name.
    #[arg(long, value_name = "NAME", value_parser = clap::builder::NonEmptyStringValueParser::new())]
    pub rename: Option<String>,
    /// Move it to this place in the list, counted from 1.
    #[arg(long, value_name = "NUMBER", value_parser = counted)]
    pub to_place: Option<usize>,
    /// Make it on this leg only, or on both again (left and right apart).
    #[arg(long, value_enum)]
    pub leg: Option<LegsArg>,
}

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
    /// Seam allowance all round (default: as chosen for the project; else none).
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

#[derive(Debug, Args)]
pub struct BatchArgs {
    /// The table: a CSV whose first line names the columns.
    pub table: PathBuf,
    /// Which column is which measure, a small RON file (see assets/columns).
    #[arg(long)]
    pub columns: PathBuf,
    /// Eases and widths, when they are not the usual ones.
    #[arg(long)]
    pub plan: Option<PathBuf>,
    /// Where to write the results (default: the terminal).
    #[arg(long)]
    pub out: Option<PathBuf>,
    #[command(flatten)]
    pub json: JsonArg,
    #[command(flatten)]
    pub over: OverArg,
}

#[derive(Debug, Args)]
pub struct SendArgs {
    /// The project file.
    pub project: PathBuf,
    /// The file to write; its ending, .svg or .dxf, says which kind.
    #[arg(long)]
    pub out: PathBuf,
    /// The pattern to send: a fitting's name, "start" or "today".
    #[arg(long, default_value = "today")]
    pub of: String,
    /// Seam allowance all round (default: none, sew lines only).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub allowance: Option<String>,
    /// Hem allowance, when it is another.
    #[arg(long, requires = "allowance", value_name = "LENGTH", allow_hyphen_values = true)]
    pub hem_allowance: Option<String>,
    /// How a DXF is laid out.
    #[arg(long, value_enum, default_value_t = FormArg::Sewn)]
    pub form: FormArg,
    /// Write the name of the person on the pieces; without it the name stays here.
    #[arg(long)]
    pub with_name: bool,
    #[command(flatten)]
    pub over: OverArg,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum FormArg {
    /// For sewing rooms: a block a piece, numbered layers, curves as points.
    Sewn,
    /// For drawing programs: named layers, exact curves.
    Plain,
}

#[derive(Debug, Args)]
pub struct BringArgs {
    /// The SVG or DXF file.
    pub file: PathBuf,
    /// Start a new project with the pieces, in this file.
    #[arg(long, conflicts_with = "into")]
    pub start: Option<PathBuf>,
    /// Bring the pieces into this project, as one change.
    #[arg(long)]
    pub into: Option<PathBuf>,
    /// Do it. Without this nothing is changed, and you read what would be kept and
    /// what not.
    #[arg(long)]
    pub accept: bool,
    /// Draw what would be brought in, as SVG.
    #[arg(long, value_name = "SVG")]
    pub picture: Option<PathBuf>,
    /// What the file's numbers are, when it does not say.
    #[arg(long, value_enum)]
    pub unit: Option<FileUnitArg>,
    /// A length you know, like "100 mm": of the line named by --known-line, or the
    /// height of the tallest piece.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub known_length: Option<String>,
    /// Name of the line, shape or layer the known length is of.
    #[arg(long, requires = "known_length")]
    pub known_line: Option<String>,
    /// With --into: pieces take the place of those of the same name. Without this
    /// they come in beside them under a free name.
    #[arg(long, requires = "into")]
    pub replace_pieces: bool,
    /// With --into: name of the change.
    #[arg(long, requires = "into")]
    pub name: Option<String>,
    /// With --start: what is made.
    #[arg(long, default_value = "Trousers")]
    pub title: String,
    /// With --start: for whom.
    #[arg(long, default_value = "")]
    pub client: String,
    /// With --start: how lengths are shown.
    #[arg(long, value_enum)]
    pub show: Option<UnitArg>,
    #[command(flatten)]
    pub over: OverArg,
    #[command(flatten)]
    pub json: JsonArg,
}

/// Places in the photo are pixels from its upper left corner, as "x,y".
#[derive(Debug, Args)]
pub struct TraceArgs {
    /// The photo (PNG or JPEG), or with --job a file that says all of it.
    pub photo: PathBuf,
    /// PHOTO is a job file: photos, marks and points, as written by --save-job.
    #[arg(long, conflicts_with_all = ["sheet", "grid", "places", "marks"])]
    pub job: bool,
    /// A sheet beside the card: A0 to A5, Letter, or its measured size like
    /// 594x841 in mm. --marks are its four corners in order round it, the first two
    /// at the ends of a short side (of its width, for a measured size).
    #[arg(long, conflicts_with_all = ["grid", "places"])]
    pub sheet: Option<String>,
    /// The grid of a cutting mat under the card, from line to line, like "1 in" or
    /// "50 mm". --marks are four or more of its crossings, --crossings say which.
    #[arg(long, value_name = "LENGTH", requires = "crossings", conflicts_with = "places")]
    pub grid: Option<String>,
    /// Where the marks are seen: "x,y x,y x,y x,y".
    #[arg(long, allow_hyphen_values = true)]
    pub marks: Option<String>,
    /// Column and row of each of --marks in the grid, rows upward: "0,0 10,0 …".
    #[arg(long, allow_hyphen_values = true)]
    pub crossings: Option<String>,
    /// Where each of --marks lies on the table, mm, y up: "0,0 700,0 …".
    #[arg(long, allow_hyphen_values = true)]
    pub places: Option<String>,
    /// Use the marks as pointed at, without looking for them in the photo.
    #[arg(long)]
    pub as_pointed: bool,
    /// A place on the card; the middle of the photo when not given.
    #[arg(long, value_name = "X,Y", allow_hyphen_values = true)]
    pub card: Option<String>,
    /// The grainline: lower end, upper end.
    #[arg(long, value_name = "X,Y X,Y", allow_hyphen_values = true)]
    pub grain: Option<String>,
    /// What took the photo.
    #[arg(long, value_enum, default_value_t = LensArg::Camera)]
    pub lens: LensArg,
    /// Name of the piece, like back or front; proposed by its shape when not given.
    #[arg(long)]
    pub piece: Option<String>,
    /// Names of the seams in the order they are shown, with commas between.
    #[arg(long)]
    pub seams: Option<String>,
    /// How far the curves may lie from the card's edge.
    #[arg(long, value_name = "LENGTH")]
    pub tolerance: Option<String>,
    /// Draw what was found over the photo, as PNG.
    #[arg(long, value_name = "PNG")]
    pub look: Option<PathBuf>,
    /// Write the (first) photo as seen from straight above, as PNG that prints at
    /// its actual size; how many mm a pixel is, is told.
    #[arg(long, value_name = "PNG")]
    pub straight: Option<PathBuf>,
    /// Write the job as a file you can change by hand.
    #[arg(long, value_name = "RON")]
    pub save_job: Option<PathBuf>,
    /// Start a new project with the piece, in this file.
    #[arg(long, conflicts_with = "into")]
    pub start: Option<PathBuf>,
    /// Bring the piece into this project, as one change.
    #[arg(long)]
    pub into: Option<PathBuf>,
    /// Do it. Without this nothing is changed, and you read what was found.
    #[arg(long)]
    pub accept: bool,
    /// With --into: the piece takes the place of the one of the same name.
    #[arg(long, requires = "into")]
    pub replace_pieces: bool,
    /// With --start: what is made.
    #[arg(long, default_value = "Trousers")]
    pub title: String,
    /// With --start: for whom.
    #[arg(long, default_value = "")]
    pub client: String,
    /// With --start: how lengths are shown.
    #[arg(long, value_enum)]
    pub show: Option<UnitArg>,
    #[command(flatten)]
    pub over: OverArg,
    #[command(flatten)]
    pub json: JsonArg,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum LensArg {
    /// A flatbed scanner.
    Scanner,
    /// A telephone, or a camera that straightens its pictures.
    Camera,
    /// A wide lens that bends straight lines visibly.
    Wide,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum FileUnitArg {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Inches.
    In,
    /// Pixels of 1/96 in.
    Px,
}

impl From<UnitArg> for hangtrue_pattern::units::Unit {
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
