//! The two ways out of a change that is being tried.

use crate::board::Board;
use crate::board::requests::{Request, Requests};
use egui::{Button, Ui};

/// Shows both.
pub(crate) fn accept_or_leave(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let fault = board.trial_fault();
    let accept = ui.add_enabled(fault.is_none(), Button::new("Accept"));
    if accept
        .on_hover_text("Ctrl+Enter")
        .on_disabled_hover_text(fault.unwrap_or_default())
        .clicked()
    {
        requests.ask_for(Request::Accept);
    }
    if ui.button("Discard").on_hover_text("Escape").clicked() {
        requests.leave_trial();
    }
}
