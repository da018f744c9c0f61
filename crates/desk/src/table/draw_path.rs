//! Drawing the path of a pinch across a piece with the pointer: from one seam to
//! another, drawn to the seams as it goes.

use crate::desk::desk::{Desk, Shown};
use crate::table::objects::{nearest, ring, tag};
use crate::kit::view::pos;
use egui::{Response, Stroke, Ui};
use hangtrue_geometry::{Affine, Point};
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::{End, SeamPlace};

/// A place on a seam the path was drawn to.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Caught {
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
    desk: &mut Desk,
    ui: &Ui,
    shown: &Shown,
    to_screen: Affine,
    table: &Response,
) -> bool {
    if !desk.cards.pinch.drawing {
        return false;
    }
    let pointer = ui.input(|i| i.pointer.hover_pos());
    let caught = pointer.and_then(|p| {
        let (piece, seam, at) = nearest(desk, &shown.new, to_screen, p)?;
        let seam = piece.seams[seam].name.clone();
        Some(Caught { piece: piece.name.clone(), seam, position: at.position, point: at.point })
    });
    let on = |c: &Caught, desk: &Desk| pos(to_screen * desk.lay.affine(&c.piece) * c.point);
    if let Some(c) = &caught {
        ring(ui, desk, on(c, desk));
        let words = format!(
            "on the {} of the {}, {} along it",
            c.seam,
            c.piece,
            show_length(c.position, desk.unit())
        );
        tag(ui, desk, on(c, desk), &words);
    }
    if table.drag_started() {
        // The drag is known a few points after it began.
        let began = ui.input(|i| i.pointer.press_origin());
        desk.cards.pinch.drawn_from = began.and_then(|p| {
            let (piece, seam, at) = nearest(desk, &shown.new, to_screen, p)?;
            let seam = piece.seams[seam].name.clone();
            Some(Caught { piece: piece.name.clone(), seam, position: at.position, point: at.point })
        });
    }
    if let (Some(from), Some(to)) = (desk.cards.pinch.drawn_from.clone(), pointer) {
        let pen = Stroke::new(2.5, desk.palette.on_paper().madder);
        ui.painter().line_segment([on(&from, desk), to], pen);
        if table.drag_stopped() {
            desk.cards.pinch.drawn_from = None;
            finish(desk, &from, caught);
        }
    } else if table.drag_stopped() {
        desk.tell("start the path on a seam and end it on another seam of the same piece.");
    }
    true
}

fn finish(desk: &mut Desk, from: &Caught, to: Option<Caught>) {
    match to {
        Some(to) if to.piece == from.piece && to.seam != from.seam => {
            desk.cards.pinch.drawing = false;
            crate::cards::pinch::lay_across(desk, &from.piece, from.place(), to.place());
        }
        Some(to) if to.piece == from.piece => {
            desk.tell("both ends lie on the same seam; draw the path to another seam.");
        }
        _ => desk.tell("the path ended away from a seam of that piece; draw it again."),
    }
}
