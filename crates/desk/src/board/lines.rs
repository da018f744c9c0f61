//! A reference line to begin with, and opening one on its card.

use super::Board;
use super::requests::Requests;
use super::stage::Stage;
use super::trial::Trial;
use hangtrue_adjust::{Change, MarkLine};
use hangtrue_pattern::units::{Unit, round_in};
use hangtrue_pattern::{End, Purpose, ReferenceLine, Rule, names, rule};

/// A new line for the card, by the rule most used.
pub(crate) fn new_line(piece: &str, unit: Unit) -> ReferenceLine {
    ReferenceLine {
        name: "high hip".into(),
        piece: piece.to_owned(),
        rule: Rule::EqualDepth(rule::EqualDepth {
            first: (names::SIDE.into(), End::End),
            second: (names::CROTCH.into(), End::Start),
            depth: round_in(unit, (90.0, 3.5)),
        }),
        purpose: Purpose::Cloth("to be read on the body".into()),
        last: None,
        cloth: None,
    }
}

/// Opens a line on its card.
pub(crate) fn edit_line(board: &Board, requests: &mut Requests, line: ReferenceLine) {
    let at = mark_of(board, &line);
    let name = format!("{} on the {}", line.name, line.piece);
    let is_tried = board.trial.as_ref().is_some_and(|d| marks(&d.change, &line));
    let line = ReferenceLine { last: None, cloth: None, ..line };
    let change = Change::MarkLine(MarkLine { line });
    let trial = match at.and_then(|at| Trial::again(board.document(), at)) {
        Some(again) => Trial { change, ..again },
        None => Trial::new(&name, change),
    };
    requests.go_to(Stage::Lines);
    if is_tried { requests.try_out(trial) } else { requests.begin(trial) }
}

fn marks(change: &Change, line: &ReferenceLine) -> bool {
    matches!(change, Change::MarkLine(m) if m.line.name == line.name && m.line.piece == line.piece)
}

/// The change that marked a line last, if a change did.
pub(crate) fn mark_of(board: &Board, line: &ReferenceLine) -> Option<usize> {
    board.document().changes.iter().rposition(|e| marks(&e.change, line))
}
