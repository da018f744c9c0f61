//! Patterns from and to other people's tools: bringing a drawing in, and sending
//! the pattern out.

mod bring;
mod send;

pub(crate) use bring::{look_at, takes};
pub(crate) use send::{open as open_send, write as write_sent};

use crate::desk::Desk;
use egui::{Context, Ui};

/// What is being brought in, and how the pattern is sent out.
#[derive(Default)]
pub(crate) struct Exchange {
    bring: Option<bring::Bring>,
    send: send::Send,
}

/// The windows that are open.
pub(crate) fn windows(desk: &mut Desk, ctx: &Context) {
    bring::window(desk, ctx);
    send::window(desk, ctx);
}

/// A window over the desk; true when it is to be shut.
fn modal(ctx: &Context, name: &str, width: f32, add: impl FnOnce(&mut Ui)) -> bool {
    egui::Modal::new(egui::Id::unique(name))
        .show(ctx, |ui| {
            ui.set_width(width.min(ctx.content_rect().width() - 60.0));
            add(ui);
        })
        .should_close()
}
