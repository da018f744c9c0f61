//! What comes from outside the window: a file dropped on it, the answer of the system's
//! own dialog.

use super::answer::take_chosen;
use super::dialog::{TOO_FAST, type_instead};
use super::opening::open_asking;
use super::photos::{add_photo, take_photo};
use crate::desk::state::Desk;
use crate::kit::job::Heard;
use crate::{exchange, tracing};
use egui::Context;

/// Takes a file that was dropped on the desk, and what a dialog answered.
pub(crate) fn take_dropped(desk: &mut Desk, ctx: &Context) {
    let dropped = ctx.input(|i| i.raw.dropped_files.clone());
    if let Some(file) = dropped.first() {
        let path = file.path().to_owned();
        if desk.tracing.is_some() {
            if tracing::takes(&path) {
                add_photo(desk, ctx, &path);
            }
        } else if exchange::bring::takes(&path) {
            exchange::bring::look_at(&mut desk.exchange.bring, ctx, path);
        } else if tracing::takes(&path) {
            take_photo(desk, ctx, path);
        } else {
            open_asking(desk, path);
        }
    }
    let Some((asked, job)) = &mut desk.files.dialog else { return };
    let (asked, heard, shown) = (*asked, job.hear(ctx), job.elapsed());
    if matches!(heard, Heard::Waiting) {
        return;
    }
    desk.files.dialog = None;
    match heard {
        Heard::Waiting => {}
        Heard::Done(Some(path)) => take_chosen(desk, ctx, asked, path),
        Heard::Done(None) if shown < TOO_FAST => type_instead(desk, asked),
        Heard::Done(None) => desk.files.then = None,
        Heard::BrokeOff => type_instead(desk, asked),
    }
}
