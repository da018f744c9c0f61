//! What is scrolled keeps to the keys: it follows the focus, and Page Up and Page Down
//! move it where nothing in it can be focused.

use egui::{Id, Key, Modifiers, ScrollArea, Ui, vec2};

/// Share of the height that one press of a page key moves.
const PAGE: f32 = 0.85;

/// A field that was clicked has the cursor after so many seconds.
const JUST_CLICKED: f32 = 0.5;

/// Points kept free above and below what the focus came to: what comes next is seen.
const FREE: f32 = 56.0;

/// Shows what is scrolled. Page keys move it while the focus is in it, and else the
/// `first` of its window.
pub(crate) fn scrolled<R>(
    ui: &mut Ui,
    area: ScrollArea,
    first: bool,
    add: impl FnOnce(&mut Ui) -> R,
) -> R {
    area.show(ui, |ui| {
        if first {
            is_region(ui, REGION);
        }
        let shown = add(ui);
        let within = follow(ui);
        take_pages(ui, within || first);
        shown
    })
    .inner
}

/// What a screen reader calls the part of the window that is scrolled by the page keys.
const REGION: &str = "Panel";

/// A screen reader knows it as a part of the window, as large as what is seen of it.
pub(crate) fn is_region(ui: &Ui, name: &str) {
    let seen = ui.clip_rect();
    ui.ctx().accesskit_node_builder(ui.unique_id(), |node| {
        node.set_role(egui::Role::Region);
        node.set_label(name);
        let (x0, y0) = (f64::from(seen.left()), f64::from(seen.top()));
        let (x1, y1) = (f64::from(seen.right()), f64::from(seen.bottom()));
        node.set_bounds(egui::accesskit::Rect { x0, y0, x1, y1 });
    });
}

/// Brings what the focus came to by a key into view; gives whether the focus is in it.
pub(crate) fn follow(ui: &Ui) -> bool {
    let key = Id::unique("where the focus was").with(ui.scope_id());
    let focused = ui.memory(|m| m.focused());
    let before: Option<Id> = ui.data(|d| d.get_temp(key)).flatten();
    ui.data_mut(|d| d.insert_temp(key, focused));
    let Some(response) = focused.and_then(|id| ui.ctx().read_response(id)) else { return false };
    let within =
        response.layer_id == ui.layer_id() && ui.min_rect().contains(response.rect.center());
    let is_cut = response.interact_rect.height() + 0.5 < response.rect.height();
    // Under the pointer nothing moves away.
    let by_key = ui.input(|i| !i.pointer.any_down() && !i.pointer.any_released());
    if within && is_cut && by_key && focused != before {
        ui.scroll_to_rect(response.rect.expand(FREE), None);
    }
    within
}

fn take_pages(ui: &Ui, mine: bool) {
    let in_front = ui.memory(|m| m.is_above_modal_layer(ui.layer_id()));
    let high = ui.clip_rect().height();
    if !in_front || !mine || egui::Popup::is_any_open(ui.ctx()) {
        return;
    }
    let pressed = |key| ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    // Keys that come with a click belong to the field that was clicked.
    let clicked = ui.input(|i| i.pointer.time_since_last_click() < JUST_CLICKED);
    if !clicked && !ui.ctx().text_edit_focused() {
        // Farther than any panel is long.
        const ALL: f32 = 1e6;
        match (pressed(Key::Home), pressed(Key::End)) {
            (true, false) => ui.scroll_with_delta(vec2(0.0, ALL)),
            (false, true) => ui.scroll_with_delta(vec2(0.0, -ALL)),
            _ => {}
        }
    }
    let by = match (pressed(Key::PageUp), pressed(Key::PageDown)) {
        (true, false) => high,
        (false, true) => -high,
        _ => return,
    };
    ui.scroll_with_delta(vec2(0.0, PAGE * by));
}
