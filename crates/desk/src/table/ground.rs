//! What the tools on the table work on: what is shown, and where on the screen.

use crate::board::{Board, Shown};
use egui::Rect;
use hangtrue_geometry::Affine;

/// The table as it lies in this picture.
pub(crate) struct Ground<'a> {
    pub shown: &'a Shown,
    /// From the table to the screen.
    pub to_screen: Affine,
    pub canvas: Rect,
    /// Points of the screen per mm.
    pub scale: f64,
    /// Points at the top of the canvas that words lie over.
    pub words_above: f32,
}

impl Ground<'_> {
    /// From a piece's own drawing to the screen.
    pub fn place(&self, board: &Board, piece: &str) -> Affine {
        self.to_screen * board.lay.affine(piece)
    }
}
