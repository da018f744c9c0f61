//! A small window that lies over the desk until it is answered.

use super::scroll::scrolled;
use egui::{Context, Id, Modal, ScrollArea, Ui};

/// How the window is edged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Edge {
    /// As wide as a note.
    Note,
    /// Thin, for windows that need the room.
    Thin,
}

/// What a question is as wide as, points of the screen.
pub(crate) const QUESTION: f32 = 440.0;

/// Shows the window, no wider than that and than the screen, and scrolled where it is
/// higher; true when it is to be shut.
pub(crate) fn modal(
    ctx: &Context,
    name: &str,
    edge: Edge,
    width: f32,
    add: impl FnOnce(&mut Ui),
) -> bool {
    /// Points left free beside it.
    const FREE: f32 = 60.0;
    let modal = Modal::new(Id::unique(name));
    let modal = match edge {
        Edge::Note => modal.frame(super::theme::note_frame(ctx)),
        Edge::Thin => modal,
    };
    modal
        .show(ctx, |ui| {
            ui.set_width(width.min(ctx.content_rect().width() - FREE));
            let high = ctx.content_rect().height() - FREE;
            // It grows to what it holds, as far as the screen goes.
            let area = ScrollArea::vertical().auto_shrink([false, true]);
            scrolled(ui, area.max_height(high).min_scrolled_height(high), true, add);
        })
        .should_close()
}
