//! Pointing on the table at what a line hangs from: the nearest corner, else the
//! nearest place on a seam.

use super::ground::Ground;
use super::objects::nearest;
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::tag::{ring, tag};
use crate::kit::view::pos;
use egui::{Pos2, Response, Ui};
use hangtrue_adjust::{Change, MarkLine};
use hangtrue_pattern::rule::PartValue;
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::{End, Place, Rule, SeamPlace};

/// Which part of a rule is being pointed at, counted as the rule names them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Hook(pub usize);

/// What the pointing keeps.
#[derive(Debug, Clone, Default)]
pub(crate) struct Pointing {
    /// What of the rule is being pointed at.
    pub hook: Option<Hook>,
}

/// How near the pointer must come to a corner, points of the screen.
const NEAR: f32 = 16.0;

/// What lies under the pointer.
struct Under {
    at: Pos2,
    corner: Option<String>,
    place: SeamPlace,
    words: String,
}

/// Takes the pointing; true while the pointer belongs to it and not to the table.
pub(crate) fn take(
    own: &mut Pointing,
    board: &Board,
    requests: &mut Requests,
    ui: &Ui,
    ground: &Ground,
    table: &Response,
) -> bool {
    let Some(hook) = own.hook else { return false };
    let line = board.trial.as_ref().and_then(|d| match &d.change {
        Change::MarkLine(m) => Some(m.line.clone()),
        _ => None,
    });
    let Some(mut line) = line else {
        own.hook = None;
        return false;
    };
    let pointer = ui.input(|i| i.pointer.hover_pos());
    let found = pointer.and_then(|p| under(board, ground, &line.piece, p));
    let Some(found) = found else {
        if table.clicked() {
            requests.tell(format!("point at a corner or a seam of the {}.", line.piece));
        }
        return true;
    };
    ring(ui, &board.palette, found.at);
    tag(ui, &board.palette, ground.canvas, found.at, &found.words);
    if table.clicked()
        && let Some(trial) = &board.trial
    {
        hang(&mut line.rule, hook, &found);
        own.hook = None;
        let change = Change::MarkLine(MarkLine { line });
        requests.try_out(trial.with(change));
    }
    true
}

fn under(board: &Board, ground: &Ground, on: &str, at: Pos2) -> Option<Under> {
    let piece = ground.shown.new.piece(on).ok()?;
    let place = ground.place(board, on);
    let corners = piece.corners().map(|c| (c.0.to_owned(), pos(place * c.1)));
    let corner = corners
        .filter(|c| c.1.distance(at) < NEAR)
        .min_by(|a, b| a.1.distance(at).total_cmp(&b.1.distance(at)));
    let (found_on, seam, point) = nearest(board, ground, at)?;
    if found_on.name != piece.name {
        return None;
    }
    let seam = &piece.seams[seam];
    // To the tenth of a mm, so that it can be read and typed again; counted from
    // the nearer end.
    let length = seam.sewn_length();
    let (from, distance) = if point.position * 2.0 <= length {
        (End::Start, point.position)
    } else {
        (End::End, length - point.position)
    };
    let distance = (distance * 10.0).round() / 10.0;
    let place = SeamPlace { seam: seam.name.clone(), from, distance };
    let (at, words) = match &corner {
        Some((name, at)) => (*at, format!("hang it from the corner {name}")),
        None => {
            let far = show_length(distance, board.unit());
            let at = pos(ground.place(board, on) * point.point);
            (at, format!("hang it from the {}, {far} along it", seam.name))
        }
    };
    Some(Under { at, corner: corner.map(|c| c.0), place, words })
}

/// Hangs the rule from what was pointed at.
fn hang(rule: &mut Rule, hook: Hook, found: &Under) {
    let Some(part) = rule.parts().into_iter().nth(hook.0) else { return };
    match part.value {
        PartValue::Place(at) => {
            *at = match &found.corner {
                Some(corner) => Place::Corner(corner.clone()),
                None => Place::Seam(found.place.clone()),
            };
        }
        PartValue::SeamPlace(at) => *at = found.place.clone(),
        PartValue::SeamFrom(at) => *at = (found.place.seam.clone(), found.place.from),
        PartValue::Seam(seam) => seam.clone_from(&found.place.seam),
        PartValue::Line(_) | PartValue::Length(_) | PartValue::Share(_) => {}
    }
}
