//! From the fitted pattern to the pieces that go under the shears.
//!
//! [`pieces_to_cut`] takes the pattern as it stands and the project's cutting plan and
//! makes every piece anew: back and front with their cut lines, and what is cut besides
//! them from the lengths and shapes of their seams. Nothing of it is kept, so all of it
//! follows each change. Millimetres throughout.

mod allowance;
mod beside;
mod closure;
mod corner;
mod error;
mod fly;
mod grown;
mod list;
mod making;
mod marks;
mod opened;
mod own_cloth;
mod pocket;
mod set;
mod sewing;
mod sewn_waist;
mod shrunk;
mod tight;
mod turn_up;
mod waist;
mod widths;
mod yoke;
mod zip;

pub use allowance::{
    Allowance, Inlay, SeamAllowance, Width, cut_chain, cut_line, seam_with_caps, sew_line,
};
pub use error::CutError;
pub use grown::Grown;
pub use list::{Cloth, Quantity, ToCut};
pub use marks::{DRILL_INSIDE, Drill, Snip};
pub use set::{CutPiece, CutSet, pieces_to_cut};
pub use sewing::{ORDER_SOURCE, SewingOrder, SewingStep, SewnAs, sewing_order};
pub use sewn_waist::{SewnEdge, sewn_edge};
pub use shrunk::{choose_shrinkage, own_shrinkage};
pub use widths::allowance_of;

/// Names of the pieces and seams that are made here.
pub mod names {
    /// A straight band round the waist.
    pub const WAISTBAND: &str = "waistband";
    /// A casing for elastic round the waist.
    pub const CASING: &str = "elastic casing";
    /// A shaped band of one piece: with the piece's name behind it.
    pub const SHAPED_BAND: &str = "shaped waistband";
    /// A facing at the waist: with the piece's name behind it.
    pub const FACING: &str = "waist facing";
    /// The yoke of a back.
    pub const YOKE: &str = "back yoke";
    /// The facing of a fly.
    pub const FLY_FACING: &str = "fly facing";
    /// The shield behind a fly.
    pub const FLY_SHIELD: &str = "fly shield";
    /// The shield behind a zip.
    pub const ZIP_SHIELD: &str = "zip shield";
    /// What shows in the opening of a front pocket, or faces it.
    pub const POCKET_FACING: &str = "pocket facing";
    /// The bag of a front pocket that is sewn to its opening.
    pub const POCKET_BAG: &str = "pocket bag";
    /// The bag of a front pocket that lies against the body.
    pub const POCKET_UNDER_BAG: &str = "pocket under bag";
    /// The welt of a back pocket.
    pub const WELT: &str = "welt";
    /// What lies behind the opening of a welt pocket.
    pub const WELT_FACING: &str = "welt facing";
    /// The bag of a welt pocket.
    pub const WELT_BAG: &str = "welt bag";
    /// A patch pocket.
    pub const PATCH: &str = "patch pocket";
    /// The edge at which a front is cut away for a pocket.
    pub const POCKET_OPENING: &str = "pocket opening";
    /// The edge of a waist piece at the centre.
    pub const CENTRE: &str = "centre";
    /// The edge of a band at one end.
    pub const END: &str = "end";
    /// The edge of a band at the other end.
    pub const OTHER_END: &str = "other end";
    /// The edge of a shield that is sewn to the opened seam.
    pub const SEWN_EDGE: &str = "sewn edge";
    /// The edge that lies inside, or is free.
    pub const FREE_EDGE: &str = "inside edge";
}
