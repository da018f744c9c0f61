//! A pinch to begin with.

use super::Board;
use super::requests::Requests;
use super::trial::Trial;
use hangtrue_adjust::{Change, Method, Pinch, PinchChange, PinchPath, Station, StationPlace};
use hangtrue_pattern::SeamPlace;

/// Whether no amount was written down yet.
pub(crate) fn is_empty(pinch: &Pinch) -> bool {
    pinch.stations.iter().all(|station| station.amount == 0.0)
}

/// A name that no change and no waiting pinch has: a second pinch of a line does
/// not answer the first.
pub(crate) fn free_name(board: &Board, name: &str) -> String {
    let document = board.document();
    let taken = |n: &str| {
        document.pinned.iter().any(|p| p.name == n) || document.changes.iter().any(|e| e.name == n)
    };
    let numbered = (2..100).map(|n| format!("{name} {n}"));
    let mut names = std::iter::once(name.to_owned()).chain(numbered);
    names.find(|n| !taken(n)).unwrap_or_else(|| name.to_owned())
}

/// A pinch straight across a piece, its amount still to be measured.
pub(crate) fn across(board: &Board, piece: &str, from: SeamPlace, to: SeamPlace) -> Pinch {
    let stations = vec![Station { at: StationPlace::Share(0.5), amount: 0.0 }];
    let name = free_name(board, &format!("{piece} pinch"));
    Pinch { name, piece: piece.to_owned(), path: PinchPath::Across { from, to }, stations }
}

/// Lays a pinch on the table, answered by the method that needs least.
pub(crate) fn lay(board: &Board, requests: &mut Requests, pinch: Pinch) {
    let [method, ..] = Method::all(board.unit());
    let name = pinch.name.clone();
    requests.show_now();
    requests.begin(Trial::new(&name, Change::Pinch(PinchChange { pinch, method })));
}
