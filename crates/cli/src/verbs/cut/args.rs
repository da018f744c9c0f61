//! What is said of the cutting plan on the command line.

use crate::args::JsonArg;
use crate::failure::Failure;
use clap::{Args, ValueEnum};
use hangtrue_adjust::{AllowanceSet, BackPocket, Closure, FrontPocket, WaistFinish};
use hangtrue_cut::SewnAs;
use hangtrue_pattern::units::{Unit, read_length};
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

impl WaistArg {
    /// The finish, as wide as was said, else as is usual.
    pub(in crate::verbs) fn finish(
        self,
        width: Option<&String>,
        (closure, unit): (Closure, Unit),
    ) -> Result<WaistFinish, Failure> {
        let [none, band, shaped, facing, casing] =
            WaistFinish::choices(closure, unit).map(|(finish, _)| finish);
        let finish = match self {
            Self::None => none,
            Self::Band => band,
            Self::ShapedBand => shaped,
            Self::Facing => facing,
            Self::Casing => casing,
        };
        Ok(match width {
            Some(text) => finish.as_wide_as(read_length(text, unit)?),
            None => finish,
        })
    }
}

impl From<ClosureArg> for Closure {
    fn from(closure: ClosureArg) -> Self {
        let [pull_on, fly, side_zip, back_zip] = Self::ALL;
        match closure {
            ClosureArg::PullOn => pull_on,
            ClosureArg::FrontFly => fly,
            ClosureArg::SideZip => side_zip,
            ClosureArg::BackZip => back_zip,
        }
    }
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
    pub(super) fn changes(&self) -> bool {
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
