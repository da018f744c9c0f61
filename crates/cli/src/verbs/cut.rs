//! The cutting plan and the list of pieces to cut.

use crate::args::JsonArg;
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use clap::{Args, ValueEnum};
use hangtrue_adjust::{AllowanceSet, Closure, SeamWidth, UsualCut, WaistFinish};
use hangtrue_cut::{CutSet, pieces_to_cut};
use hangtrue_pattern::words::InUnit;
use serde_json::json;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct CutArgs {
    /// The project file.
    pub project: PathBuf,
    /// The set of seam allowances.
    #[arg(long, value_enum)]
    pub set: Option<SetArg>,
    /// The allowance of one seam, like "side=25 mm"; of one piece, "back side=25 mm". May be
    /// given again for another.
    #[arg(long, value_name = "SEAM=LENGTH", allow_hyphen_values = true)]
    pub width: Vec<String>,
    /// Forget the allowances given for single seams before.
    #[arg(long)]
    pub plain_widths: bool,
    /// How the waist is finished.
    #[arg(long, value_enum)]
    pub waist: Option<WaistArg>,
    /// Height of the waistband, depth of the facing, or width of the elastic.
    #[arg(long, requires = "waist", value_name = "LENGTH", allow_hyphen_values = true)]
    pub waist_width: Option<String>,
    /// How the trousers are opened. A band runs on there for an overlap; no piece is cut for
    /// the fly or zip itself.
    #[arg(long, value_enum)]
    pub closure: Option<ClosureArg>,
    /// Whether back and front are cut in lining too.
    #[arg(long, value_enum)]
    pub lining: Option<YesNo>,
    /// Whether waist pieces are cut in interfacing too.
    #[arg(long, value_enum)]
    pub interfacing: Option<YesNo>,
    /// What the cloth shrinks in length after it is cut, in percent; less than 0 where it
    /// stretches. The pieces are cut longer by it, the pattern stays as it is.
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub shrinks_length: Option<f64>,
    /// The same in width.
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub shrinks_width: Option<f64>,
    #[command(flatten)]
    pub json: JsonArg,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum YesNo {
    /// They are.
    Yes,
    /// They are not.
    No,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SetArg {
    /// No allowance: cut lines are sew lines.
    None,
    /// Wide all round.
    Toile,
    /// Inlay at centre back, side and waist.
    FirstFitting,
    /// What stays in the finished trousers.
    Finished,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum WaistArg {
    /// No piece for the waist.
    None,
    /// A straight band folded along its middle.
    Band,
    /// A band shaped like the sewn waist.
    ShapedBand,
    /// A facing shaped like the sewn waist.
    Facing,
    /// A casing for elastic.
    Casing,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ClosureArg {
    /// Not opened.
    PullOn,
    /// A fly at the centre front, the left leg on top.
    FrontFly,
    /// A zip in the left side seam.
    SideZip,
    /// A zip at the centre back.
    BackZip,
}

impl From<SetArg> for AllowanceSet {
    fn from(set: SetArg) -> Self {
        match set {
            SetArg::None => Self::None,
            SetArg::Toile => Self::Toile,
            SetArg::FirstFitting => Self::FirstFitting,
            SetArg::Finished => Self::Finished,
        }
    }
}

pub fn run(args: &CutArgs) -> Result<(), Failure> {
    let changes = args.set.is_some()
        || args.plain_widths
        || !args.width.is_empty()
        || args.waist.is_some()
        || args.closure.is_some()
        || args.lining.is_some()
        || args.interfacing.is_some()
        || args.shrinks_length.is_some()
        || args.shrinks_width.is_some();
    let mut opened = Opened::open_for(&args.project, changes)?;
    if changes {
        choose(args, &mut opened)?;
    }
    let set = pieces_to_cut(opened.pattern()?, &opened.document)?;
    if changes {
        opened.save()?;
    }
    if args.json.json {
        return output::line(&as_json(&set).to_string());
    }
    told(&set, &opened)
}

fn choose(args: &CutArgs, opened: &mut Opened) -> Result<(), Failure> {
    let mut plan = opened.document.cutting.clone();
    if let Some(set) = args.set {
        plan.set = Some(set.into());
    }
    if args.plain_widths {
        plan.widths.clear();
    }
    for said in &args.width {
        let own = own_width(said, opened)?;
        plan.widths.retain(|w| (&w.piece, &w.seam) != (&own.piece, &own.seam));
        plan.widths.push(own);
    }
    if let Some(waist) = args.waist {
        let usual = UsualCut::of(opened.unit());
        let or = |usual: f64| match &args.waist_width {
            Some(text) => opened.length(text),
            None => Ok(usual),
        };
        let overlap = 0.0;
        plan.waist = match waist {
            WaistArg::None => WaistFinish::None,
            WaistArg::Band => WaistFinish::Straight { width: or(usual.band)?, overlap },
            WaistArg::ShapedBand => WaistFinish::Shaped { width: or(usual.band)?, overlap },
            WaistArg::Facing => WaistFinish::Facing { width: or(usual.facing)? },
            WaistArg::Casing => WaistFinish::Casing { elastic: or(usual.elastic)? },
        };
    }
    if let Some(closure) = args.closure {
        let [pull_on, fly, side_zip, back_zip] = Closure::ALL;
        plan.closure = match closure {
            ClosureArg::PullOn => pull_on,
            ClosureArg::FrontFly => fly,
            ClosureArg::SideZip => side_zip,
            ClosureArg::BackZip => back_zip,
        };
    }
    plan.waist = plan.waist.opened(plan.closure, opened.unit());
    let yes = |said: Option<YesNo>, before| said.map_or(before, |said| said == YesNo::Yes);
    plan.lining = yes(args.lining, plan.lining);
    plan.interfacing = yes(args.interfacing, plan.interfacing);
    let shrinks = &mut plan.shrinkage;
    shrinks.lengthwise = args.shrinks_length.unwrap_or(shrinks.lengthwise);
    shrinks.crosswise = args.shrinks_width.unwrap_or(shrinks.crosswise);
    opened.document.cutting = plan;
    Ok(())
}

/// “side=25 mm”, or with the piece's name before the seam's.
fn own_width(said: &str, opened: &Opened) -> Result<SeamWidth, Failure> {
    let wrong = || {
        Failure::Asked(format!(
            "“{said}” is not the allowance of a seam; write it like “side=25 mm” or “back side=25 mm”"
        ))
    };
    let (named, length) = said.split_once('=').ok_or_else(wrong)?;
    let (named, width) = (named.trim(), opened.length(length)?);
    let pieces = opened.pattern()?.pieces.iter();
    let of_piece = pieces
        .filter_map(|p| Some((p.name.clone(), named.strip_prefix(p.name.as_str())?.trim())))
        .find(|(_, seam)| !seam.is_empty());
    Ok(match of_piece {
        Some((piece, seam)) => SeamWidth { piece: Some(piece), seam: seam.to_owned(), width },
        None => SeamWidth { piece: None, seam: named.to_owned(), width },
    })
}

fn told(set: &CutSet, opened: &Opened) -> Result<(), Failure> {
    let plan = &opened.document.cutting;
    let allowances = match plan.set {
        Some(chosen) => chosen.name(),
        None => "as chosen for printing",
    };
    output::line(&format!("Allowances: {allowances}. Opened: {}.", plan.closure.name()))?;
    let shrinks = plan.shrinkage.told();
    if !shrinks.is_empty() {
        output::line(&format!(
            "Cut for cloth that {shrinks}: the pieces are drawn so, the pattern stays as it is fitted."
        ))?;
    }
    let inches = opened.unit().denominator().is_some();
    for piece in &set.pieces {
        let how: Vec<String> = piece.to_cut.iter().map(ToString::to_string).collect();
        let square = if inches { 645.16 } else { 100.0 };
        let (area, unit) = (piece.area() / square, if inches { "in²" } else { "cm²" });
        let bare = if piece.has_allowance { "" } else { ", NO SEAM ALLOWANCE" };
        output::line(&format!(
            "{}: {}, {}, {area:.0} {unit} each{bare}",
            piece.numbered(),
            piece.name,
            how.join(" and "),
        ))?;
    }
    for note in &set.notes {
        output::line(&format!("Note: {}", note.in_unit(opened.unit())))?;
    }
    output::line("Close shears and cover a rotary blade between cuts.")
}

fn as_json(set: &CutSet) -> serde_json::Value {
    let pieces = set.pieces.iter().map(|piece| {
        let to_cut = piece.to_cut.iter().map(
            |cut| json!({"count": cut.quantity.count(), "of": cut.cloth.word(), "words": cut.to_string()}),
        );
        json!({
            "number": piece.number,
            "name": piece.name,
            "to_cut": to_cut.collect::<Vec<_>>(),
            "area_mm2": piece.area(),
            "has_allowance": piece.has_allowance,
        })
    });
    json!({
        "pieces": pieces.collect::<Vec<_>>(),
        "shrinks_percent": [set.shrinkage.lengthwise, set.shrinkage.crosswise],
    })
}
