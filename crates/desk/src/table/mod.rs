//! The table with the pieces on it: looking round, pointing, and what is under
//! the pointer.

pub(crate) mod draw_path;
pub(crate) mod hold;
pub(crate) mod lens;
pub(crate) mod objects;
pub(crate) mod paint;
pub(crate) mod pencil;
pub(crate) mod point_at;
pub(crate) mod print_table;
pub(crate) mod tape;

use crate::desk::desk::{Desk, Shown};
use crate::table::paint::{Pens, draw_ghost, draw_pieces};
use crate::board::stage::Stage;
use crate::kit::{look_round, weave as cloth};
use crate::toile::{pair_table as photo_pair, photo_table};
use egui::{Rect, Role, Sense, Ui, WidgetInfo, vec2};
use std::sync::Arc;

/// Shows the table.
pub(crate) fn show(desk: &mut Desk, ui: &mut Ui) {
    if desk.stage == Stage::Toile && (photo_table::show(desk, ui) || photo_pair::show(desk, ui)) {
        return;
    }
    let whole = ui.available_rect_before_wrap();
    let (band, canvas) = whole.split_left_right_at_x(whole.left() + tape::width(ui));
    let response = ui.allocate_rect(canvas, Sense::click_and_drag());
    response.widget_info(|| {
        WidgetInfo::labeled(
            Role::Canvas,
            true,
            "Cutting table: arrow keys move it, plus and minus zoom, F shows all",
        )
    });
    if desk.canvas != canvas {
        desk.fit_wanted |= desk.all_in_view;
        desk.canvas = canvas;
    }
    tape::hang(desk, ui, band);
    let painter = ui.painter_at(canvas);
    let evening = desk.palette.evening;
    if desk.cloth.as_ref().is_none_or(|c| c.0 != evening) {
        desk.cloth = Some((evening, cloth::weave(ui.ctx(), &desk.palette)));
    }
    if let Some((_, cloth)) = &desk.cloth {
        cloth::lay_cloth(&painter, cloth, canvas);
    }
    let shown = match desk.shown() {
        Ok(shown) => shown,
        Err(why) => return tell_empty(desk, ui, canvas, &why.to_string()),
    };
    if desk.fit_wanted {
        fit(desk, &shown, canvas);
        // The tapes were drawn before; they follow in the next picture.
        ui.ctx().request_repaint();
    }
    let before = desk.view;
    look_round(desk, ui, &response, canvas);
    desk.all_in_view &= desk.view == before || desk.fit_wanted;
    if desk.stage == Stage::Print && print_table::show(desk, ui, canvas) {
        return;
    }
    let to_screen = desk.view.to_screen(canvas);
    let sheets = desk.store.get(&shown.new, desk.view.scale);
    let pens = Pens::new(&desk.palette, desk.settings.letters, ui);
    let old = shown.old.clone().filter(|o| !Arc::ptr_eq(&o.0, &shown.new));
    let old = old.map(|(old, _)| {
        let sheets = desk.store.get(&old, desk.view.scale);
        (old, sheets)
    });
    if let Some((_, old_sheets)) = &old {
        draw_ghost(&painter, &desk.lay, old_sheets, to_screen, &pens, false);
    }
    let older = old.as_ref().map(|o| &*o.1);
    draw_pieces(&painter, desk, &shown.new, &sheets, to_screen, &pens, older);
    let taken = draw_path::take(desk, ui, &shown, to_screen, &response)
        || point_at::take(desk, ui, &shown, to_screen, &response);
    if !taken {
        objects::show(desk, ui, &shown, to_screen, &response);
    }
    if desk.stage == Stage::Block {
        pencil::show(desk, ui, &shown, to_screen);
    }
    lens::show(desk, ui, &shown, to_screen, &pens);
    hold::show(desk, ui, &shown, to_screen, &pens);
    let above = match &shown.banner {
        Some(words) => banner(desk, ui, canvas, words),
        None => 0.0,
    };
    if (above - desk.words_above).abs() > 0.5 {
        desk.words_above = above;
        if desk.all_in_view {
            desk.fit_wanted = true;
            ui.ctx().request_repaint();
        }
    }
}

/// What the canvas says when there is nothing to draw.
fn tell_empty(desk: &Desk, ui: &mut Ui, canvas: Rect, why: &str) {
    let place = Rect::from_center_size(canvas.center(), vec2(canvas.width().min(520.0), 200.0));
    ui.scope_builder(egui::UiBuilder::new().max_rect(place), |ui| {
        egui::Frame::new().fill(desk.palette.card).inner_margin(16.0).corner_radius(6.0).show(
            ui,
            |ui| {
                ui.heading("There is nothing to cut yet");
                ui.colored_label(desk.palette.ochre, why);
                ui.label("Turn to Body on the ribbon and set the measure that disagrees right.");
            },
        );
    });
}

/// Words over the table; returns how far down they reach.
fn banner(desk: &mut Desk, ui: &mut Ui, canvas: Rect, words: &str) -> f32 {
    let place =
        Rect::from_min_size(canvas.min + vec2(12.0, 12.0), vec2(canvas.width() - 24.0, 30.0));
    let over = ui.scope_builder(egui::UiBuilder::new().max_rect(place), |ui| {
        egui::Frame::new().fill(desk.palette.card).inner_margin(8.0).corner_radius(5.0).show(
            ui,
            |ui| {
                ui.horizontal_wrapped(|ui| {
                    // Large letters need the room; the list says it as well.
                    if desk.draft.is_none() || desk.settings.letters < 1.45 {
                        ui.label(words);
                    }
                    if desk.draft.is_some() {
                        accept_or_leave(desk, ui);
                    } else if ui.button("Back to now").clicked() {
                        desk.show_now();
                    }
                });
            },
        );
    });
    over.response.rect.bottom() - canvas.top()
}

/// The two ways out of a change that is being tried.
pub(crate) fn accept_or_leave(desk: &mut Desk, ui: &mut Ui) {
    let fault = crate::cards::draft_fault(desk);
    let accept = ui.add_enabled(fault.is_none(), egui::Button::new("Accept"));
    if accept
        .on_hover_text("Ctrl+Enter")
        .on_disabled_hover_text(fault.unwrap_or_default())
        .clicked()
    {
        desk.accept_draft();
    }
    if ui.button("Leave it").on_hover_text("Escape").clicked() {
        desk.set_draft(None);
    }
}

/// Shows everything on the table.
pub(crate) fn fit(desk: &mut Desk, shown: &Shown, canvas: Rect) {
    let all = if desk.stage == Stage::Print { print_table::bounds(desk) } else { None };
    if let Some(all) = all.or_else(|| desk.lay.bounds(&shown.new)) {
        desk.view.fit(canvas, desk.words_above, all);
    }
    desk.fit_wanted = false;
    desk.all_in_view = true;
}

fn look_round(desk: &mut Desk, ui: &Ui, response: &egui::Response, canvas: Rect) {
    if response.dragged() && !desk.cards.pinch.drawing {
        desk.view.pan(response.drag_delta());
    }
    let asked = look_round::asked(ui, response, canvas);
    desk.view.take(canvas, &asked);
    if asked.fit {
        desk.fit_wanted = true;
        ui.ctx().request_repaint();
    }
    if look_round::typed(ui, "t") {
        true_size(desk);
    }
    if look_round::typed(ui, "m") {
        desk.set_mates(!desk.settings.mates);
        ui.ctx().request_repaint();
    }
}

/// Points per mm of a screen that was never measured: 96 points to the inch, as
/// CSS has it.
const UNMEASURED: f64 = 96.0 / 25.4;

/// Shows everything as large as it is.
pub(crate) fn true_size(desk: &mut Desk) {
    desk.view.scale = desk.settings.points_per_mm.unwrap_or(UNMEASURED);
    desk.all_in_view = false;
    if desk.settings.points_per_mm.is_none() {
        desk.tell(
            "shown at about true size. Measure the screen once in the desk settings to make it exact.",
        );
    }
}
