//! Patterns from and to other people's tools: SVG and DXF.
//!
//! Out: [`svg_of`] and [`dxf_of`] write a pattern as text. In: [`bring_bytes`]
//! reads a file into [`Found`] (lines, points and words in mm), closes outlines,
//! finds corners, names seams and gives [`Brought`]: a pattern and a list of what
//! was kept and what was not. Nothing is changed by that: once the maker accepts,
//! [`Brought::document`] makes a new project of it, or `hangtrue_adjust::BringIn`
//! one change of the open one.

mod bring;
mod corners;
mod darts;
mod dxf_curves;
mod dxf_in;
mod dxf_out;
mod dxf_pen;
mod dxf_tidy;
mod error;
mod found;
pub mod limits;
mod loops;
mod mirror;
mod pieces;
mod seam_names;
mod svg_clean;
mod svg_in;
mod svg_out;
mod svg_shape;

pub use bring::{
    BringOptions, Brought, FileUnit, Kind, KnownLength, Loss, Measured, bring_bytes, bring_file,
};
pub use corners::CORNER_ANGLE;
pub use dxf_out::dxf_of;
pub(crate) use dxf_out::dxf_of_lay;
pub use dxf_pen::{DxfForm, SAMPLED_WITHIN};
pub use error::ExchangeError;
pub use found::{Found, Label, Role, Run, Spot, SpotKind};
pub(crate) use pieces::{joins_of, pieces_of};
pub use svg_out::svg_of;
pub(crate) use svg_out::svg_of_scenes;

/// What is written beside the lines of the pattern.
#[derive(Debug, Clone, Default)]
pub struct SendOptions<'a> {
    /// The seam allowance; none sends the sew line as the only outline.
    pub allowance: Option<crate::print::Allowance>,
    /// The pieces to cut; the pattern that is sent is then the set's, with its allowance.
    pub set: Option<&'a hangtrue_cut::CutSet>,
    /// Name of the pattern.
    pub title: String,
    /// Size in words, or empty; never whose pattern it is.
    pub size: String,
    /// Lines under the name of each piece.
    pub label: Vec<String>,
}

impl SendOptions<'_> {
    /// The allowance that is sent round a piece; none where it has none at any seam and
    /// nothing is cut on.
    fn allowance_on(&self, piece: &hangtrue_pattern::Piece) -> Option<&crate::print::Allowance> {
        let allowance = self.set.map(|set| &set.allowance).or(self.allowance.as_ref());
        let known = self.set.and_then(|set| set.piece(&piece.name));
        let is_cut_outside = known.is_some_and(hangtrue_cut::CutPiece::is_cut_outside);
        allowance.filter(|a| is_cut_outside || !a.is_none_on(piece))
    }
}
