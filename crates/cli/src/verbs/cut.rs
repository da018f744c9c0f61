//! The cutting plan and the list of pieces to cut.

use crate::args::JsonArg;
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use clap::{Args, ValueEnum};
use hangtrue_adjust::{
    AllowanceSet, BackPocket, Closure, FrontPocket, SeamWidth, UsualCut, WaistFinish,
};
use hangtrue_cut::{CutSet, ORDER_SOURCE, SewingOrder, SewnAs, pieces_to_cut, sewing_order};
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
    /// How the trousers are opened. A band runs on there for an overlap, and facing and
    /// shield are cut.
    #[arg(long, value_enum)]
    pub closure: Option<ClosureArg>,
    /// Whether a fly's facing is a piece of its own or cut in one with the front; for a zip,
    /// whether its seam gets a wide allowance as far as it is open.
    #[arg(long, value_enum)]
    pub facing: Option<FacingArg>,
    /// How far it opens below the waist, or "usual".
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub opening_length: Option<String>,
    /// Width of a fly's facing or a zip's wide allowance, or "usual".
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub opening_width: Option<String>,
    /// The pocket at the front.
    #[arg(long, value_enum)]
    pub front_pocket: Option<FrontPocketArg>,
    /// Along the waist from the side seam to its opening; for one in the side seam, from the
    /// waist down to it. Or "usual".
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub front_pocket_along: Option<String>,
    /// Down the side seam to its end; for one in the side seam, how long it is open. Or
    /// "usual".
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub front_pocket_down: Option<String>,
    /// The pocket on the back.
    #[arg(long, value_enum)]
    pub back_pocket: Option<BackPocketArg>,
    /// How wide it is, or "usual".
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub back_pocket_width: Option<String>,
    /// How far below the waist it lies, or "usual".
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub back_pocket_below: Option<String>,
    /// How deep it is below its opening, or "usual".
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub back_pocket_depth: Option<String>,
    /// How high its welt is, or the hem of a patch, or "usual".
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub back_pocket_edge: Option<String>,
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
    /// List the order of sewing too, for a toile or a finished pair.
    #[arg(long, value_enum)]
    pub sewing: Option<SewnArg>,
    #[command(flatten)]
    pub json: JsonArg,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SewnArg {
    /// To be looked at and taken apart.
    Toile,
    /// To be worn.
    Finished,
}

impl From<SewnArg> for SewnAs {
    fn from(sewn_as: SewnArg) -> Self {
        match sewn_as {
            SewnArg::Toile => Self::Toile,
            SewnArg::Finished => Self::Finished,
        }
    }
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

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum FacingArg {
    /// A piece of its own; a zip's seam with its plain allowance.
    Separate,
    /// Cut in one with the piece.
    CutOn,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum FrontPocketArg {
    /// None.
    None,
    /// Slanting from the waist to the side seam.
    Slant,
    /// In the side seam.
    SideSeam,
    /// Curved from the waist to the side seam.
    Jeans,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum BackPocketArg {
    /// None.
    None,
    /// Cut in, with a welt.
    Welt,
    /// Sewn on.
    Patch,
}

impl From<FrontPocketArg> for FrontPocket {
    fn from(pocket: FrontPocketArg) -> Self {
        match pocket {
            FrontPocketArg::None => Self::None,
            FrontPocketArg::Slant => Self::Slant,
            FrontPocketArg::SideSeam => Self::SideSeam,
            FrontPocketArg::Jeans => Self::Jeans,
        }
    }
}

impl From<BackPocketArg> for BackPocket {
    fn from(pocket: BackPocketArg) -> Self {
        match pocket {
            BackPocketArg::None => Self::None,
            BackPocketArg::Welt => Self::Welt,
            BackPocketArg::Patch => Self::Patch,
        }
    }
}

impl CutArgs {
    /// Whether it changes the plan.
    fn changes(&self) -> bool {
        let lengths = [
            &self.opening_length,
            &self.opening_width,
            &self.front_pocket_along,
            &self.front_pocket_down,
            &self.back_pocket_width,
            &self.back_pocket_below,
            &self.back_pocket_depth,
            &self.back_pocket_edge,
        ];
        self.set.is_some()
            || self.plain_widths
            || !self.width.is_empty()
            || self.waist.is_some()
            || self.closure.is_some()
            || self.facing.is_some()
            || self.front_pocket.is_some()
            || self.back_pocket.is_some()
            || self.lining.is_some()
            || self.interfacing.is_some()
            || self.shrinks_length.is_some()
            || self.shrinks_width.is_some()
            || lengths.into_iter().any(Option::is_some)
    }
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

/// Shown where cloth or paper is about to be cut.
pub(super) const CAUTION: &str = "Close shears and cover a rotary blade between cuts.";

pub fn run(args: &CutArgs) -> Result<(), Failure> {
    let changes = args.changes();
    let mut opened = Opened::open_for(&args.project, changes)?;
    if changes {
        choose(args, &mut opened)?;
    }
    let set = pieces_to_cut(opened.pattern()?, &opened.document)?;
    if changes {
        opened.save()?;
    }
    let order = args.sewing.map(|as_| sewing_order(&set, &opened.document, as_.into()));
    if args.json.json {
        return output::line(&as_json(&set, order.as_ref()).to_string());
    }
    told(&set, &opened)?;
    order.map_or(Ok(()), |order| sewn(&order, &opened))
}

/// The order of sewing, a step a line.
fn sewn(order: &SewingOrder, opened: &Opened) -> Result<(), Failure> {
    output::line(&format!("Sewn in this order ({}). {ORDER_SOURCE}", order.sewn_as.name()))?;
    for (index, step) in order.steps.iter().enumerate() {
        let pieces = step.pieces.join(", ");
        let pieces = if pieces.is_empty() { pieces } else { format!(" ({pieces})") };
        let words = step.words.in_unit(opened.unit());
        output::line(&format!("{}. {}{pieces}: {words}", index + 1, step.title))?;
        if let Some(care) = &step.care {
            output::line(&format!("   Take care: {care}"))?;
        }
    }
    Ok(())
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
        plan.open_by(match closure {
            ClosureArg::PullOn => pull_on,
            ClosureArg::FrontFly => fly,
            ClosureArg::SideZip => side_zip,
            ClosureArg::BackZip => back_zip,
        });
    }
    if let Some(facing) = args.facing {
        plan.opening.cut_on = facing == FacingArg::CutOn;
    }
    if let Some(pocket) = args.front_pocket {
        plan.pockets.choose_front(pocket.into());
    }
    if let Some(pocket) = args.back_pocket {
        plan.pockets.choose_back(pocket.into());
    }
    for (said, chosen) in [
        (&args.opening_length, &mut plan.opening.length),
        (&args.opening_width, &mut plan.opening.width),
        (&args.front_pocket_along, &mut plan.pockets.front_along),
        (&args.front_pocket_down, &mut plan.pockets.front_down),
        (&args.back_pocket_width, &mut plan.pockets.back_wide),
        (&args.back_pocket_below, &mut plan.pockets.back_below),
        (&args.back_pocket_depth, &mut plan.pockets.back_deep),
        (&args.back_pocket_edge, &mut plan.pockets.back_edge),
    ] {
        match said.as_deref().map(str::trim) {
            None => {}
            Some("usual") => *chosen = None,
            Some(said) => *chosen = Some(opened.length(said)?),
        }
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
    let pockets = plan.pockets;
    if !pockets.is_none() {
        let (front, back) = (pockets.front.name(), pockets.back.name());
        output::line(&format!("Pockets: at the front {front}, on the back {back}."))?;
    }
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
    output::line(CAUTION)
}

fn as_json(set: &CutSet, order: Option<&SewingOrder>) -> serde_json::Value {
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
        "sewing": order.map(steps_as_json),
        "shrinks_percent": [set.shrinkage.lengthwise, set.shrinkage.crosswise],
    })
}

fn steps_as_json(order: &SewingOrder) -> serde_json::Value {
    let steps = order.steps.iter().map(|step| {
        json!({
            "title": step.title,
            "pieces": step.pieces,
            "words": step.words.to_string(),
            "care": step.care,
        })
    });
    json!({"for": order.sewn_as.name(), "steps": steps.collect::<Vec<_>>()})
}
