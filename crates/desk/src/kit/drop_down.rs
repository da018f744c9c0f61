//! A list that drops down. It opens at what is chosen, and the key that chooses from it
//! closes it again.

use super::scroll::follow;
use egui::{ComboBox, Id, InnerResponse, Key, Response, Ui, WidgetText};

/// Whether the list that is being drawn was opened in this picture.
fn just_opened(ui: &Ui) -> Id {
    Id::unique("drop down opened").with(ui.layer_id().id)
}

/// Pictures in which a list that was opened finds its size.
const UNSEEN: u64 = 3;

/// Shows the list.
pub(crate) fn drop_down<R>(
    ui: &mut Ui,
    list: ComboBox,
    add: impl FnOnce(&mut Ui) -> R,
) -> InnerResponse<Option<R>> {
    let mut chose = false;
    let shown = list.show_ui(ui, |ui| {
        let (seen, opened) = (Id::unique("drop down seen").with(ui.layer_id().id), just_opened(ui));
        let now = ui.ctx().cumulative_frame_nr();
        let before: Option<(u64, u64)> = ui.data(|d| d.get_temp(seen));
        let since = before.filter(|b| b.1 + 1 >= now).map_or(now, |b| b.0);
        // The first pictures are not seen: what is in them is only measured.
        let is_new = now < since + UNSEEN;
        ui.data_mut(|d| {
            d.insert_temp(seen, (since, now));
            d.insert_temp(opened, is_new);
        });
        let added = add(ui);
        // The keys go beyond what is seen of a long list.
        follow(ui);
        let focused = ui.memory(|m| m.focused()).and_then(|id| ui.ctx().read_response(id));
        let within = focused.is_some_and(|r| r.layer_id == ui.layer_id());
        let pressed = ui.input(|i| i.key_pressed(Key::Enter) || i.key_pressed(Key::Space));
        chose = within && pressed && since < now;
        if chose {
            ui.close();
        }
        added
    });
    if chose {
        shown.response.request_focus();
    }
    shown
}

/// One of the list; what is chosen has the focus when the list opens.
pub(crate) fn item(ui: &mut Ui, is_chosen: bool, words: impl Into<WidgetText>) -> Response {
    let words = words.into();
    let response = ui.selectable_label(is_chosen, words);
    let opened = just_opened(ui);
    if is_chosen && ui.data(|d| d.get_temp(opened)).unwrap_or(false) {
        response.request_focus();
        ui.ctx().request_repaint();
    }
    response
}

/// One of the list that sets a value.
pub(crate) fn pick<T: PartialEq>(ui: &mut Ui, value: &mut T, one: T, words: impl Into<WidgetText>) {
    if item(ui, *value == one, words).clicked() {
        *value = one;
    }
}
