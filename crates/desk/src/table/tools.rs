//! What the tools on the table keep between two pictures.

use super::draw_path::DrawPath;
use super::hold::Hold;
use super::lens::Lens;
use super::pencil::Pencil;
use super::point_at::Pointing;

/// Every tool's own state; the card of a tool takes it in hand and lays it down.
#[derive(Default)]
pub(crate) struct Tools {
    pub pencil: Pencil,
    pub pointing: Pointing,
    pub path: DrawPath,
    pub lens: Lens,
    pub hold: Hold,
}

impl Tools {
    /// Whether the pointer belongs to something that Escape lays down.
    pub fn is_pointing(&self) -> bool {
        self.path.drawing || self.pointing.hook.is_some()
    }

    /// Lays down what is pointed or drawn with.
    pub fn lay_down(&mut self) {
        self.path.drawing = false;
        self.pointing.hook = None;
    }
}
