//! The model of a trouser pattern: measures, pieces, seams, darts, notches,
//! joins and reference-line rules. Millimetres, y up, x to the right, grain
//! vertical unless a piece says otherwise.
//!
//! Pieces are drawn as they lie on the table, right side of the cloth up, for
//! the wearer's right leg: the back with its centre seam at the left, the front
//! with its centre seam at the right, so that the two side seams face each other.
//! A parted pattern has pieces of their own for the left leg, mirrored.

pub mod block;
mod cloth_line;
mod error;
mod join;
mod legs;
mod line;
mod lines;
pub mod markings;
pub mod measures;
mod notch;
mod pattern;
mod piece;
mod place_line;
pub mod rule;
mod seam;
mod shared;

pub use block::{Draft, DraftError, DraftReport, LegRoom, Plan, draft};
pub use cloth_line::fitted_to_outline;
pub use error::PatternError;
pub use hangtrue_geometry::{units, words};
pub use join::{Join, JoinSide};
pub use legs::{Leg, Parted};
pub use line::{Place, Purpose, ReferenceLine, SeamPlace};
pub use lines::Lines;
pub use markings::Markings;
pub use measures::{Measure, MeasureError, Measures};
pub use notch::{Notch, NotchKind};
pub use pattern::Pattern;
pub use piece::{Grain, InnerLine, Piece};
pub use place_line::{LineEnd, PlacedLine};
pub use rule::Rule;
pub use seam::{Dart, End, Fold, Seam, SeamPoint};
pub use shared::Shared;

/// Names the drafted block uses for its pieces, seams, corners and lines. A
/// traced piece may use others; nothing in the model depends on these words,
/// but the trouser corrections look for them.
pub mod names {
    /// The back piece.
    pub const BACK: &str = "back";
    /// The front piece.
    pub const FRONT: &str = "front";
    /// The waist seam, side to centre.
    pub const WAIST: &str = "waist";
    /// The crotch seam: centre seam and hook, waist to crotch point.
    pub const CROTCH: &str = "crotch";
    /// The inseam, crotch point to hem.
    pub const INSEAM: &str = "inseam";
    /// The hem, inseam to side.
    pub const HEM: &str = "hem";
    /// The side seam, hem to waist.
    pub const SIDE: &str = "side";
    /// Corner of waist and side seam.
    pub const WAIST_SIDE: &str = "waist at side";
    /// Corner of waist and centre seam.
    pub const WAIST_CENTRE: &str = "waist at centre";
    /// The crotch point.
    pub const CROTCH_POINT: &str = "crotch point";
    /// Corner of inseam and hem.
    pub const HEM_INSEAM: &str = "hem at inseam";
    /// Corner of side seam and hem.
    pub const HEM_SIDE: &str = "hem at side";
    /// Reference line: the hip line, where the seat is fullest and the block was drawn to
    /// the hip, square to the grain; it stays on paper.
    pub const HIP: &str = "hip";
    /// The notch of the crotch seam at the height of the hip line.
    pub const SEAT: &str = "seat";
    /// Reference line: the hip balance line, above the hip line, drawn to hang level on the
    /// toile.
    pub const HIP_BALANCE: &str = "hip balance";
    /// What the hip balance line was called before: projects and photos of that time have it.
    pub const HIP_BALANCE_BEFORE: &str = "full hip";
    /// Reference line: upper thigh.
    pub const THIGH: &str = "thigh";
    /// Reference line: knee.
    pub const KNEE: &str = "knee";

    /// Drawn inside a piece: up to here its hem is turned up over the outside of the leg.
    pub const TURN_UP: &str = "turn-up";
    /// A dart that is laid in a pleat and not sewn down.
    pub const PLEAT: &str = "pleat";
    /// A second pleat, between the first and the side.
    pub const SECOND_PLEAT: &str = "second pleat";
    /// Drawn inside a back: from here up it is cut as a yoke.
    pub const YOKE: &str = "yoke";
    /// The seam between a yoke and the back that hangs from it.
    pub const YOKE_SEAM: &str = "yoke seam";

    /// Whether a dart of that name is laid in a pleat and not sewn down.
    pub fn is_pleat(dart: &str) -> bool {
        [PLEAT, SECOND_PLEAT].contains(&dart)
    }

    /// All names a line has had, today's first: a project that was kept is read as it was
    /// written, and its lines are found by what they are called today.
    const RENAMED: [&[&str]; 2] =
        [&[HIP_BALANCE, HIP_BALANCE_BEFORE], &[HIP, "full hip on paper", "hip on paper"]];

    /// The other names of the line that is called so.
    pub fn other_names(line: &str) -> impl Iterator<Item = &'static str> {
        let all = RENAMED.into_iter().find(|names| names.contains(&line)).unwrap_or_default();
        all.iter().copied().filter(move |name| *name != line)
    }
}
