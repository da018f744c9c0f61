//! Pinch: what was left over on the toile, taken up as a pinch along that line. The amount
//! is asked for, with what was left over beside it.

use crate::board::pinches;
use crate::board::requests::Requests;
use crate::board::stage::{Stage, is_pinch};
use crate::board::{Board, next};
use crate::kit::say::{aside, part};
use egui::{Button, Ui};
use hangtrue_adjust::reading::{LineRead, Offer, offers, place_words};
use hangtrue_adjust::{Change, Pinch, PinchPath, Station};
use hangtrue_pattern::units::show_measured;
use hangtrue_pattern::{Leg, Pattern};

/// A pinch that was begun from the toile, and what was left over there.
#[derive(Debug, Clone)]
pub(super) struct Begun {
    offer: Offer,
    /// The pinch with its amounts as they were left over.
    proposed: Pinch,
}

/// Offers what was left over; gives the pinch that one press begins, with no amount yet.
pub(super) fn show(
    lines: &[LineRead],
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    pattern: &Pattern,
) -> Option<(Begun, Pinch)> {
    let offers: Vec<Offer> =
        offers(lines).into_iter().filter(|o| !is_pinched(board, pattern, o)).collect();
    if offers.is_empty() {
        comes_first(board, requests, ui);
        return None;
    }
    part(ui, "From the toile");
    aside(
        board,
        ui,
        "These lines hung lower than on a toile that fits. Take one up: line and places are set, and the amount is asked for. What was left over stands beside it; what you pinned is what counts.",
    );
    let mut taken = None;
    for offer in offers {
        let words = format!("From the toile: {}", offer.words(board.unit()));
        if ui.add(Button::new(words).wrap()).clicked() {
            taken = begin(board, pattern, offer);
        }
    }
    cause(board, requests, ui);
    taken
}

/// What has to be settled before anything is pinned by what the lines say.
fn comes_first(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let Some(next::Say::First { cause }) = board.seen.causes.as_ref().map(|c| &c.say) else {
        return;
    };
    part(ui, "From the toile");
    aside(
        board,
        ui,
        format!("First “{cause}”: what hangs over along the lines means nothing yet."),
    );
    if ui.button("See what to do").clicked() {
        requests.go_to(Stage::Toile);
    }
}

/// What the lines may mean, where that was shown.
fn cause(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let Some(next::Say::Cause { cause, .. }) = board.seen.causes.as_ref().map(|c| &c.say) else {
        return;
    };
    aside(board, ui, format!("What was measured fits “{cause}” best."));
    if ui.button("See what that may mean").clicked() {
        requests.go_to(Stage::Toile);
    }
}

/// The piece on which it is pinned: of one leg, when it is of one and they are parted.
fn piece_of(pattern: &Pattern, offer: &Offer) -> String {
    let view = offer.view.piece();
    let leg = match offer.legs.as_slice() {
        [leg] if pattern.is_apart() => Some(*leg),
        _ => None,
    };
    let own = leg.and_then(|leg| pattern.piece_for(leg, view));
    own.unwrap_or(view).to_owned()
}

/// Whether a pinch of this fitting runs along that line already.
fn is_pinched(board: &Board, pattern: &Pattern, offer: &Offer) -> bool {
    let document = board.document();
    let along = |pinch: &Pinch| {
        let line = matches!(&pinch.path, PinchPath::Line(l) if Some(l.as_str()) == offer.marked());
        line && (pinch.piece == offer.view.piece() || pinch.piece == piece_of(pattern, offer))
    };
    let begin = document.rounds().last().map_or(0, |r| r.1 + 1);
    let made = document.changes.iter().skip(begin).filter(|e| is_pinch(&e.change));
    let mut made = made.filter_map(|e| match e.change.plain() {
        Change::Pinch(made) => Some(&made.pinch),
        _ => None,
    });
    made.any(along) || document.pinned.iter().any(along)
}

fn begin(board: &Board, pattern: &Pattern, offer: Offer) -> Option<(Begun, Pinch)> {
    let one = if pattern.is_apart() { pattern.one_leg(Leg::Right) } else { pattern.clone() };
    let name = pinches::free_name(board, &format!("{} pinch", offer.line.name()));
    let view = offer.view.piece();
    let mut proposed = offer.pinch(&one, view, &name)?;
    proposed.piece = piece_of(pattern, &offer);
    let none = |s: &Station| Station { amount: 0.0, ..s.clone() };
    let empty =
        Pinch { stations: proposed.stations.iter().map(none).collect(), ..proposed.clone() };
    Some((Begun { offer, proposed }, empty))
}

impl Begun {
    fn is_of(&self, pinch: &Pinch) -> bool {
        self.proposed.name == pinch.name && self.proposed.path == pinch.path
    }
}

/// What was left over on the toile, beside the amounts that are asked for; one press writes
/// it down.
pub(super) fn beside(begun: Option<&Begun>, board: &Board, ui: &mut Ui, pinch: &mut Pinch) {
    let Some(begun) = begun.filter(|b| b.is_of(pinch)) else { return };
    let unit = board.unit();
    let said = begun.offer.places.iter().map(|p| {
        let place = place_words(begun.offer.line, p.at);
        format!("{place} {}", show_measured(p.left_over, unit))
    });
    let said: Vec<String> = said.collect();
    aside(board, ui, format!("Left over on the toile: {}.", said.join(", ")));
    if pinches::is_empty(pinch) && ui.button("That is what was pinned").clicked() {
        pinch.stations = begun.proposed.stations.clone();
    }
}
