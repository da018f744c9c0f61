//! What the table keeps between two pictures: what of it is looked at.

use super::print_table;
use crate::board::requests::Requests;
use crate::board::stage::Stage;
use crate::board::{Board, Shown};
use crate::kit::view::PanZoom;
use egui::{Rect, TextureHandle};
use hangtrue_geometry::Point;

/// What of the table is looked at.
pub(crate) struct Table {
    pub view: PanZoom,
    pub fit_wanted: bool,
    /// Everything is in view, and stays so when the canvas changes its size.
    pub all_in_view: bool,
    /// The pointer holds something on the screen.
    held: bool,
    /// Everything is to be shown anew as soon as nothing is held.
    refit: bool,
    /// The view to go back to after a close look at a change.
    view_before: Option<(PanZoom, bool)>,
    pub canvas: Rect,
    /// Points at the top of the canvas that words lie over.
    pub words_above: f32,
    /// The cloth as it was woven last, and whether for the evening.
    pub cloth: Option<(bool, TextureHandle)>,
}

impl Default for Table {
    fn default() -> Self {
        Self {
            view: PanZoom::default(),
            fit_wanted: true,
            all_in_view: true,
            held: false,
            refit: false,
            view_before: None,
            canvas: Rect::NOTHING,
            words_above: 0.0,
            cloth: None,
        }
    }
}

/// Points per mm of a screen that was never measured: 96 points to the inch, as
/// CSS has it.
const UNMEASURED: f64 = 96.0 / 25.4;

impl Table {
    /// The table lies in that part of the screen now. While something is held by the
    /// pointer nothing is moved under it: all is shown anew when it is let go.
    pub fn lies_in(&mut self, canvas: Rect, held: bool) {
        self.held = held;
        if self.canvas != canvas {
            if held {
                self.view.centre = self.view.on_table(self.canvas, canvas.center());
            }
            self.refit |= self.all_in_view;
            self.canvas = canvas;
        }
        if !held && std::mem::take(&mut self.refit) {
            self.fit_wanted = true;
        }
    }

    /// Whether the pointer holds something.
    pub fn is_held(&self) -> bool {
        self.held
    }

    /// Words lie over its top, so far down; true when all is to be shown anew below
    /// them.
    pub fn lie_words_over(&mut self, above: f32) -> bool {
        let moved = (above - self.words_above).abs() > 0.5;
        if moved {
            self.words_above = above;
            self.refit |= self.all_in_view;
        }
        moved && self.all_in_view
    }

    /// Shows everything on the table.
    pub fn fit(&mut self, board: &Board, shown: &Shown, canvas: Rect) {
        let all = if board.stage == Stage::Print { print_table::bounds(board) } else { None };
        if let Some(all) = all.or_else(|| board.lay.bounds(&shown.new)) {
            self.view.fit(canvas, self.words_above, all);
        }
        self.fit_wanted = false;
        self.all_in_view = true;
    }

    /// Shows everything as large as it is.
    pub fn true_size(&mut self, board: &Board, requests: &mut Requests) {
        self.view.scale = board.settings.points_per_mm.unwrap_or(UNMEASURED);
        self.all_in_view = false;
        if board.settings.points_per_mm.is_none() {
            requests.tell(
                "shown at about actual size. Measure the screen once in the desk settings to make it exact.",
            );
        }
    }

    /// Looks closely at a place until [`Table::step_back`].
    pub fn come_closer(&mut self, at: Point) {
        const CLOSE: f64 = 2.2;
        self.view_before = Some((self.view, self.all_in_view));
        self.view = self.view.at(at, self.view.scale.max(CLOSE));
        self.all_in_view = false;
    }

    /// Goes back to what was looked at before a close look.
    pub fn step_back(&mut self) {
        if let Some((view, all)) = self.view_before.take() {
            self.view = view;
            self.fit_wanted = all;
        }
    }
}
