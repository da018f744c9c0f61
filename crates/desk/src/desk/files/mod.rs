//! Projects in and out of files: open, save, save as, recent files, a file
//! dropped on the table, and what was not saved the last time.

mod answer;
pub(super) mod asking;
pub(super) mod dialog;
pub(super) mod heard;
mod leaving;
pub(super) mod opening;
mod otherwise;
pub(super) mod photos;
mod places;
mod recover;
pub(super) mod saving;
mod typed;
mod writing;

use super::state::Desk;
use asking::Leaving;
use egui::Context;

/// The small windows about files: a place to type, unsaved work, work that was
/// left behind.
pub(crate) fn windows(desk: &mut Desk, ctx: &Context) {
    if ctx.input(|i| i.viewport().close_requested())
        && !desk.files.may_close
        && desk.board.is_unsaved()
    {
        ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
        desk.files.leaving = Some(Leaving::Close);
    }
    let closes = ctx.input(|i| i.viewport().close_requested()) && !desk.files.may_close;
    if closes && let Some(photo) = desk.tracing.as_mut().filter(|p| p.is_unsaved()) {
        ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
        desk.files.leaving = None;
        photo.ask_leaving();
    }
    typed::type_place(desk, ctx);
    typed::ask_over(desk, ctx);
    leaving::ask_leaving(desk, ctx);
    super::outside::answers::window(desk, ctx);
    otherwise::ask_otherwise(desk, ctx);
    leaving::go_on(desk, ctx);
    recover::offer_recovery(desk, ctx);
}
