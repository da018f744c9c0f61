//! The card's edge: found by itself, or placed by hand; and the grainline.

use super::fields::{place_field, refused, sentence};
use super::photo::{ClickTool, Layer, Photo};
use super::work::Fault;
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::length_field::{bare_length_field, length_field};
use crate::kit::number_field::{Number, number_field};
use crate::kit::say::{aside, fault, part};
use egui::{Button, Ui};
use hangtrue_files::photo::{OutlineSeen, Place, points_to_place, set_point};
use hangtrue_pattern::units::Unit;

pub(super) fn show(photo: &mut Photo, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let by_hand = matches!(photo.now().outline, OutlineSeen::Placed { .. });
    sentence(
        ui,
        if by_hand {
            "Pull the squares (corners) and rounds (places of a curve) to the card's edge; the outline follows when you let go."
        } else {
            "Click once on the card, then let its edge be found."
        },
    );
    if photo.now().outline == OutlineSeen::Nothing {
        aside(board, ui, "This photo only carries marks from one photo to another.");
    }
    let ready = photo.work.is_none();
    if !by_hand {
        let again = photo.found.is_some();
        let words = if again { "Find the edge again" } else { "Find the card's edge" };
        if ui.add_enabled(ready, Button::new(words)).clicked() {
            find(photo, ui);
        }
    }
    waiting(photo, board, ui);
    tolerance(photo, board, ui);
    raised(photo, board, ui);
    if let Some(lacking) = &photo.lacking {
        fault(board, ui, &format!("photo {}: {}", lacking.photo + 1, lacking.words));
    }
    if by_hand {
        points(photo, board, ui);
    }
    outcome(photo, board, ui);
    let found = photo.found_now().is_some();
    if found && !by_hand && ui.button("Adjust it by hand").clicked() {
        by_hand_now(photo, requests);
    }
    if by_hand && ui.add_enabled(ready, Button::new("A fresh proposal")).clicked() {
        propose_anew(photo);
    }
    super::marks::straight_toggle(photo, ui);
}

/// Has the edge found; from then on it follows what is changed.
fn find(photo: &mut Photo, ui: &Ui) {
    photo.lacking = photo.said.nameless_job().err();
    photo.outline_wanted = photo.lacking.is_none();
    photo.found = None;
    ui.ctx().request_repaint();
}

/// The edge is found once all photos are read; says which are not.
fn waiting(photo: &Photo, board: &Board, ui: &mut Ui) {
    if !photo.outline_wanted || photo.work.is_some() {
        return;
    }
    for (slot, said) in photo.slots.iter().zip(&photo.said.photos) {
        match (&slot.picture, &slot.fault) {
            (Some(_), _) => {}
            (None, Some(why)) => fault(board, ui, &format!("{}: {why}", said.file)),
            (None, None) => aside(board, ui, format!("Waiting until {} is read…", said.file)),
        }
    }
}

fn tolerance(photo: &mut Photo, board: &Board, ui: &mut Ui) {
    let label = "Curves may lie off the edge by";
    // A fraction of an inch would show nothing of it.
    length_field(ui, &board.palette, label, &mut photo.said.tolerance, Unit::Mm);
}

/// How high the card stands: what no mark beside it shows.
fn raised(photo: &mut Photo, board: &Board, ui: &mut Ui) {
    let label = "Its edge stands above the marks by at most";
    // Beside large letters the field stands under its words.
    ui.add(egui::Label::new(label).wrap());
    bare_length_field(ui, &board.palette, label, &mut photo.said.raised, Unit::Mm);
    aside(
        board,
        ui,
        "Thick card, and card that curls, is seen too large by what it stands up: lay it flat under weights off its edge, or say how high it stands, which is added to what is told.",
    );
}

/// What was found, or why nothing was.
fn outcome(photo: &Photo, board: &Board, ui: &mut Ui) {
    match &photo.found {
        None => {}
        Some((_, Err(why))) => refused(board, ui, why),
        Some((_, Ok(_))) if photo.found_now().is_none() => {
            aside(board, ui, "What is drawn belongs to what was said before.");
        }
        Some((_, Ok(found))) => {
            let piece = found.traced.piece();
            let curves: usize = found.traced.edges.iter().map(|e| e.segments().len()).sum();
            let seams: Vec<&str> = piece.seams.iter().map(|s| s.name.as_str()).collect();
            part(ui, "Found");
            let words = format!(
                "{} corners, {} seams in {curves} curves: {}.",
                found.traced.edges.len(),
                piece.seams.len(),
                seams.join(", ")
            );
            sentence(ui, &words);
            super::take::say_expected(board, ui, &photo.said, &found.traced);
            super::take::say_doubts(board, ui, &found.traced);
        }
    }
}

/// The outline found becomes points to be pulled, in every photo that shows it.
fn by_hand_now(photo: &mut Photo, requests: &mut Requests) {
    let Some(found) = photo.found_now() else { return };
    let mut placed = Vec::new();
    for (index, one) in photo.said.photos.iter().enumerate() {
        if one.outline == OutlineSeen::Nothing {
            continue;
        }
        match points_to_place(&found.traced, index) {
            Ok(outline) => placed.push((index, outline)),
            Err(why) => return requests.tell_fault(hangtrue_pattern::words::Words::why(why)),
        }
    }
    for (index, mut outline) in placed {
        if let OutlineSeen::Placed { snap, .. } = &mut outline {
            *snap = photo.said.photos[index].reach.min(60.0);
        }
        photo.said.photos[index].outline = outline;
    }
    photo.chosen = None;
}

fn propose_anew(photo: &mut Photo) {
    for one in &mut photo.said.photos {
        if matches!(one.outline, OutlineSeen::Placed { .. }) {
            one.outline = OutlineSeen::Card(photo_middle(&one.outline));
        }
    }
    photo.chosen = None;
    photo.tool = ClickTool::Step;
}

/// A place on the card: the middle of the points, where the card is not hollow.
fn photo_middle(outline: &OutlineSeen) -> Option<Place> {
    let OutlineSeen::Placed { points, .. } = outline else { return None };
    let count = points.len().max(1) as f64;
    let sum = points.iter().fold((0.0, 0.0), |a, p| (a.0 + p.at.0, a.1 + p.at.1));
    Some((sum.0 / count, sum.1 / count))
}

/// The points and the one that is chosen.
fn points(photo: &mut Photo, board: &Board, ui: &mut Ui) {
    for (tool, words) in [
        (ClickTool::Step, "Clicks choose a point, drags pull it"),
        (ClickTool::Place, "Clicks add a place of a curve"),
        (ClickTool::Corner, "Clicks add a corner"),
    ] {
        ui.radio_value(&mut photo.tool, tool, words);
    }
    let chosen = photo.chosen;
    let mut gone = None;
    if let OutlineSeen::Placed { points, snap } = &mut photo.now_mut().outline {
        ui.horizontal_wrapped(|ui| {
            let label = "Looked for within, pixels";
            ui.label(label);
            let number = Number { label, limits: 0.0..=60.0, step: 1.0, unit: "", decimals: 1 };
            number_field(ui, &board.palette, &number, snap);
        });
        aside(
            board,
            ui,
            "The card's edge is looked for so near to the line; 0 takes the line as it is.",
        );
        let count = points.len();
        if let Some((Layer::Point, index)) = chosen
            && let Some(point) = points.get_mut(index)
        {
            part(ui, &format!("Point {} of {count}", index + 1));
            place_field(board, ui, "The point in the photo", &mut point.at);
            ui.checkbox(&mut point.corner, "The outline has a corner here");
            if ui.button("Take the point away").clicked() {
                gone = Some(index);
            }
        } else {
            aside(
                board,
                ui,
                format!(
                    "{count} points. Tab goes to them; arrows move one, Enter makes it a corner or a place of a curve, Delete takes it away."
                ),
            );
        }
    }
    if let Some(index) = gone {
        remove_point(photo, index);
    }
}

/// Takes a point away; three are left at least.
pub(super) fn remove_point(photo: &mut Photo, index: usize) {
    if let OutlineSeen::Placed { points, .. } = &mut photo.now_mut().outline
        && points.len() > 3
        && index < points.len()
    {
        points.remove(index);
        photo.chosen = None;
    }
}

/// Sets a point where it was clicked.
pub(super) fn add_point(photo: &mut Photo, at: Place, corner: bool) {
    let closed = photo.shows_whole();
    if let OutlineSeen::Placed { points, .. } = &mut photo.now_mut().outline {
        let new = hangtrue_files::photo::OutlinePoint { at, corner };
        let index = set_point(points, new, closed);
        photo.chosen = Some((Layer::Point, index));
    }
}

/// Says where the card lies.
pub(super) fn point_at_card(photo: &mut Photo, at: Place) {
    if let OutlineSeen::Card(inside) = &mut photo.now_mut().outline {
        *inside = Some(at);
    }
}

impl Photo {
    /// Whether one photo alone shows the edge, all round.
    pub(super) fn shows_whole(&self) -> bool {
        self.said.photos.iter().filter(|p| p.outline != OutlineSeen::Nothing).count() == 1
    }
}

/// The grainline: two clicks.
pub(super) fn grain(photo: &mut Photo, board: &Board, ui: &mut Ui) {
    sentence(ui, "Click the lower end of the grainline on the card, then its upper end.");
    let at = photo.at;
    let next = match photo.said.grain {
        None => "Next: the lower end.",
        Some((_, _, None)) => "Next: the upper end.",
        Some(_) => "Both ends are set; pull them where they belong.",
    };
    ui.colored_label(board.palette.madder, next);
    match &mut photo.said.grain {
        Some((index, from, to)) if *index == at => {
            place_row(board, ui, "Lower end of the grain", from);
            if let Some(to) = to {
                place_row(board, ui, "Upper end of the grain", to);
            }
        }
        Some((index, ..)) => aside(board, ui, format!("It is drawn in photo {}.", *index + 1)),
        None => {}
    }
    ui.horizontal_wrapped(|ui| {
        if photo.said.grain.is_none() && ui.button("Set it without the pointer").clicked() {
            let size = photo.size();
            let x = size.0 / 2.0;
            photo.said.grain = Some((at, (x, size.1 * 0.7), Some((x, size.1 * 0.3))));
        }
        if photo.said.grain.is_some() && ui.button("Draw it anew").clicked() {
            photo.said.grain = None;
            photo.chosen = None;
        }
    });
    if photo.said.grain.is_none() {
        aside(
            board,
            ui,
            "Without a grainline the piece lies as the marks lie, and its grain is taken to run upright.",
        );
    }
    if let Some((_, Err(why))) = &photo.found {
        refused(board, ui, &Fault::plain(why.words.clone()));
    }
}

fn place_row(board: &Board, ui: &mut Ui, label: &str, place: &mut Place) {
    ui.horizontal_wrapped(|ui| {
        ui.label(label);
        place_field(board, ui, &format!("{label} in the photo"), place);
    });
}

/// Sets an end of the grainline where it was clicked.
pub(super) fn click_grain(photo: &mut Photo, at: Place) {
    let here = photo.at;
    match &mut photo.said.grain {
        Some((photo, _, to @ None)) if *photo == here => *to = Some(at),
        Some((_, _, Some(_))) => {}
        grain => *grain = Some((here, at, None)),
    }
}
