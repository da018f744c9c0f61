//! Pointing on the table at what a line hangs from: the nearest corner, else the
//! nearest place on a seam.

use crate::desk::desk::{Desk, Shown};
use crate::board::draft::Draft;
use crate::table::objects::{nearest, ring, tag};
use crate::kit::view::pos;
use egui::{Pos2, Response, Ui};
use hangtrue_adjust::{Change, MarkLine};
use hangtrue_geometry::Affine;
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::{End, Place, Rule, SeamPlace};

/// What of a rule is being pointed at: its first thing or its second.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hook {
    First,
    Second,
}

/// How near the pointer must come to a corner, points of the screen.
const NEAR: f32 = 16.0;

/// What lies under the pointer.
struct Found {
    at: Pos2,
    corner: Option<String>,
    place: SeamPlace,
    words: String,
}

/// Takes the pointing; true while the pointer belongs to it and not to the table.
pub(crate) fn take(
    desk: &mut Desk,
    ui: &Ui,
    shown: &Shown,
    to_screen: Affine,
    table: &Response,
) -> bool {
    let Some(hook) = desk.cards.lines.pointing else { return false };
    let line = desk.draft.as_ref().and_then(|d| match &d.change {
        Change::MarkLine(m) => Some(m.line.clone()),
        _ => None,
    });
    let Some(mut line) = line else {
        desk.cards.lines.pointing = None;
        return false;
    };
    let pointer = ui.input(|i| i.pointer.hover_pos());
    let found = pointer.and_then(|p| under(desk, shown, to_screen, &line.piece, p));
    let Some(found) = found else {
        if table.clicked() {
            desk.tell(format!("point at a corner or a seam of the {}.", line.piece));
        }
        return true;
    };
    ring(ui, desk, found.at);
    tag(ui, desk, found.at, &found.words);
    if table.clicked()
        && let Some(draft) = desk.draft.clone()
    {
        hang(&mut line.rule, hook, &found);
        desk.cards.lines.pointing = None;
        let change = Change::MarkLine(MarkLine { line });
        desk.set_draft(Some(Draft { change, ..draft }));
    }
    true
}

fn under(desk: &Desk, shown: &Shown, to_screen: Affine, on: &str, at: Pos2) -> Option<Found> {
    let piece = shown.new.piece(on).ok()?;
    let place = to_screen * desk.lay.affine(on);
    let corners = piece.corners().map(|c| (c.0.to_owned(), pos(place * c.1)));
    let corner = corners
        .filter(|c| c.1.distance(at) < NEAR)
        .min_by(|a, b| a.1.distance(at).total_cmp(&b.1.distance(at)));
    let (found_on, seam, point) = nearest(desk, &shown.new, to_screen, at)?;
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
            let far = show_length(distance, desk.unit());
            let at = pos(to_screen * desk.lay.affine(on) * point.point);
            (at, format!("hang it from the {}, {far} along it", seam.name))
        }
    };
    Some(Found { at, corner: corner.map(|c| c.0), place, words })
}

/// Hangs the rule from what was pointed at.
fn hang(rule: &mut Rule, hook: Hook, found: &Found) {
    let place = || match &found.corner {
        Some(corner) => Place::Corner(corner.clone()),
        None => Place::Seam(found.place.clone()),
    };
    match (rule, hook) {
        (Rule::Below { place: at, .. } | Rule::SquareToGrain { through: at }, _) => *at = place(),
        (Rule::ParallelTo { seam, .. }, _) => *seam = found.place.seam.clone(),
        (Rule::EqualDepth { first: at, .. }, Hook::First)
        | (Rule::EqualDepth { second: at, .. }, Hook::Second) => {
            *at = (found.place.seam.clone(), found.place.from);
        }
        (Rule::Through { first: at, .. }, Hook::First)
        | (Rule::Through { second: at, .. }, Hook::Second) => *at = found.place.clone(),
        (Rule::Between { .. }, _) => {}
    }
}
