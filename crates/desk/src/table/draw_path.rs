//! Drawing the path of a pinch across a piece with the pointer: from one seam to
//! another, drawn to the seams as it goes.

use super::ground::Ground;
use super::objects::nearest;
use crate::board::requests::Requests;
use crate::board::{Board, pinches};
use crate::kit::tag::{ring, tag};
use crate::kit::view::pos;
use egui::{Response, Stroke, Ui};
use hangtrue_geometry::Point;
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::{End, SeamPlace};

/// What the drawing keeps.
#[derive(Default)]
pub(crate) struct DrawPath {
    /// A path is being drawn with the pointer.
    pub drawing: bool,
    /// Where it began.
    from: Option<Caught>,
}

/// A place on a seam the path was drawn to.
#[derive(Debug, Clone, PartialEq)]
struct Caught {
    piece: String,
    seam: String,
    position: f64,
    point: Point,
}

impl Caught {
    fn place(&self) -> SeamPlace {
        // To the tenth of a mm, so that it can be read and typed again.
        let distance = (self.position * 10.0).round() / 10.0;
        SeamPlace { seam: self.seam.clone(), from: End::Start, distance }
    }
}

/// Takes the drawing; true while the pointer belongs to it and not to the table.
pub(crate) fn take(
    own: &mut DrawPath,
    board: &Board,
    requests: &mut Requests,
    ui: &Ui,
    ground: &Ground,
    table: &Response,
) -> bool {
    if !own.drawing {
        return false;
    }
    let pointer = ui.input(|i| i.pointer.hover_pos());
    let caught = pointer.and_then(|p| {
        let (piece, seam, at) = nearest(board, ground, p)?;
        let seam = piece.seams[seam].name.clone();
        Some(Caught { piece: piece.name.clone(), seam, position: at.position, point: at.point })
    });
    let on = |c: &Caught, board: &Board| pos(ground.place(board, &c.piece) * c.point);
    if let Some(c) = &caught {
        ring(ui, &board.palette, on(c, board));
        let words = format!(
            "on the {} of the {}, {} along it",
            c.seam,
            c.piece,
            show_length(c.position, board.unit())
        );
        tag(ui, &board.palette, ground.canvas, on(c, board), &words);
    }
    if table.drag_started() {
        // The drag is known a few points after it began.
        let began = ui.input(|i| i.pointer.press_origin());
        own.from = began.and_then(|p| {
            let (piece, seam, at) = nearest(board, ground, p)?;
            let seam = piece.seams[seam].name.clone();
            Some(Caught { piece: piece.name.clone(), seam, position: at.position, point: at.point })
        });
    }
    if let (Some(from), Some(to)) = (own.from.clone(), pointer) {
        let pen = Stroke::new(2.5, board.palette.on_paper().madder);
        ui.painter().line_segment([on(&from, board), to], pen);
        if table.drag_stopped() {
            own.from = None;
            finish(own, board, requests, &from, caught);
        }
    } else if table.drag_stopped() {
        requests.tell("start the path on a seam and end it on another seam of the same piece.");
    }
    true
}

fn finish(
    own: &mut DrawPath,
    board: &Board,
    requests: &mut Requests,
    from: &Caught,
    to: Option<Caught>,
) {
    match to {
        Some(to) if to.piece == from.piece && to.seam != from.seam => {
            own.drawing = false;
            pinches::lay(
                board,
                requests,
                pinches::across(board, &from.piece, from.place(), to.place()),
            );
        }
        Some(to) if to.piece == from.piece => {
            requests.tell("both ends lie on the same seam; draw the path to another seam.");
        }
        _ => requests.tell("the path ended away from a seam of that piece; draw it again."),
    }
}
