//! Patterns from and to other people's tools: bringing a drawing in, tracing a
//! piece from a photo, and sending the pattern out.

mod bring;
pub(crate) mod give;
mod send;
pub(crate) mod take_in;

pub(crate) use bring::{look_at, takes};
pub(crate) use crate::tracing::{
    add as add_photo, ask_leaving as ask_leaving_photo, go_on as go_on_with_photo,
    is_open as photo_is_open, is_unsaved as photo_is_unsaved, keys as photo_keys,
    left_behind as photo_left_behind, open as open_photo, save_job, save_straight,
    show as show_photo, takes as takes_photo,
};
pub(crate) use send::{open as open_send, write as write_sent};

use crate::desk::desk::Desk;
use egui::{Context, Ui};

/// What is being brought in, and how the pattern is sent out.
#[derive(Default)]
pub(crate) struct Exchange {
    bring: Option<bring::Bring>,
    pub photo: Option<Box<crate::tracing::Photo>>,
    send: send::Send,
}

/// The windows that are open.
pub(crate) fn windows(desk: &mut Desk, ctx: &Context) {
    bring::window(desk, ctx);
    send::window(desk, ctx);
}

/// A window over the desk; true when it is to be shut.
pub(crate) fn modal(ctx: &Context, name: &str, width: f32, add: impl FnOnce(&mut Ui)) -> bool {
    egui::Modal::new(egui::Id::unique(name))
        .show(ctx, |ui| {
            ui.set_width(width.min(ctx.content_rect().width() - 60.0));
            add(ui);
        })
        .should_close()
}
