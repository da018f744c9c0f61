//! Patterns and projects from and to other people: bringing a drawing in, sending
//! the pattern out, giving the journal and the project on.

pub(crate) mod bring;
pub(crate) mod class;
pub(crate) mod give;
pub(crate) mod send;
pub(crate) mod take_in;

use crate::board::Board;
use crate::board::requests::Requests;
use egui::Context;

/// What is being brought in, and how the work is sent out.
#[derive(Default)]
pub(crate) struct Exchange {
    pub bring: Option<bring::Bring>,
    pub class: class::Class,
    pub send: send::Send,
    pub give: give::Give,
}

/// The windows that are open.
pub(crate) fn windows(own: &mut Exchange, board: &Board, requests: &mut Requests, ctx: &Context) {
    bring::window(&mut own.bring, board, requests, ctx);
    class::window(&mut own.class, board, requests, ctx);
    send::window(&mut own.send, board, requests, ctx);
    give::window(&mut own.give, board, requests, ctx);
}
