//! The table with the pieces on it: looking round, pointing, and what is under
//! the pointer.

pub(crate) mod draw_path;
pub(crate) mod ground;
pub(crate) mod hold;
mod labels;
pub(crate) mod lens;
pub(crate) mod objects;
pub(crate) mod paint;
pub(crate) mod pencil;
pub(crate) mod point_at;
pub(crate) mod print_table;
pub(crate) mod state;
pub(crate) mod tape;
pub(crate) mod tools;
pub(crate) mod ways_out;

use crate::board::Board;
use crate::board::requests::{Request, Requests};
use crate::board::stage::Stage;
use crate::kit::{look_round, weave};
use egui::{Rect, Response, Role, Sense, Ui, WidgetInfo, vec2};
use ground::Ground;
use paint::{Pens, draw_ghost, draw_pieces};
use state::Table;
use std::sync::Arc;
use tools::Tools;
use ways_out::accept_or_leave;

/// Shows the table.
pub(crate) fn show(
    (own, tools): (&mut Table, &mut Tools),
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) {
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
    own.lies_in(canvas, ui.input(|i| i.pointer.any_down()));
    tape::hang(own, board, ui, band);
    let painter = ui.painter_at(canvas);
    let evening = board.palette.evening;
    let cloth = match own.cloth.take() {
        Some(cloth) if cloth.0 == evening => cloth,
        _ => (evening, weave::weave(ui.ctx(), &board.palette)),
    };
    weave::lay_cloth(&painter, &cloth.1, canvas);
    own.cloth = Some(cloth);
    let shown = match board.shown() {
        Ok(shown) => shown,
        Err(why) => return tell_empty(board, ui, canvas, &why.to_string()),
    };
    if own.fit_wanted && !own.is_held() {
        own.fit(board, &shown, canvas);
        // The tapes were drawn before; they follow in the next picture.
        ui.ctx().request_repaint();
    }
    let before = own.view;
    let may_pan = !tools.path.drawing;
    look_round(own, board, requests, ui, &response, (canvas, may_pan));
    own.all_in_view &= own.view == before || own.fit_wanted;
    if board.stage == Stage::Print && print_table::show(&own.view, board, ui, canvas) {
        return;
    }
    let ground = Ground {
        shown: &shown,
        to_screen: own.view.to_screen(canvas),
        canvas,
        scale: own.view.scale,
        words_above: own.words_above,
    };
    draw(board, ui, &ground, &painter);
    use_tools(tools, board, requests, ui, &ground, &response);
    let above = match &shown.banner {
        Some(words) => banner(board, requests, ui, canvas, words),
        None => 0.0,
    };
    if own.lie_words_over(above) {
        ui.ctx().request_repaint();
    }
}

/// The pieces, and the older version under them.
fn draw(board: &Board, ui: &Ui, ground: &Ground, painter: &egui::Painter) {
    let (shown, scale) = (ground.shown, ground.scale);
    let sheets = board.sheets(&shown.new, scale);
    let pens = Pens::new(&board.palette, board.settings.letters, ui);
    let old = shown.old.as_ref().filter(|o| !Arc::ptr_eq(&o.0, &shown.new));
    let old = old.map(|(old, _)| board.sheets(old, scale));
    if let Some(old) = &old {
        draw_ghost(painter, &board.lay, old, ground.to_screen, &pens, false);
    }
    let free = lens::handle_places(board, ground);
    draw_pieces(painter, board, ground, (&sheets, old.as_deref()), &free, &pens);
}

/// The tools: one that is in hand has the pointer before what lies on the table.
fn use_tools(
    tools: &mut Tools,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    ground: &Ground,
    response: &Response,
) {
    let taken = draw_path::take(&mut tools.path, board, requests, ui, ground, response)
        || point_at::take(&mut tools.pointing, board, requests, ui, ground, response);
    if !taken {
        objects::show(&tools.pencil, board, requests, ui, ground, response);
    }
    if board.stage == Stage::Block {
        pencil::show(&mut tools.pencil, board, requests, ui, ground);
    }
    let pens = Pens::new(&board.palette, board.settings.letters, ui);
    lens::show(&mut tools.lens, board, requests, ui, ground, &pens);
    hold::show(&mut tools.hold, board, requests, ui, ground, &pens);
}

/// What the canvas says when there is nothing to draw.
fn tell_empty(board: &Board, ui: &mut Ui, canvas: Rect, why: &str) {
    let place = Rect::from_center_size(canvas.center(), vec2(canvas.width().min(520.0), 200.0));
    ui.scope_builder(egui::UiBuilder::new().max_rect(place), |ui| {
        egui::Frame::new().fill(board.palette.card).inner_margin(16.0).corner_radius(6.0).show(
            ui,
            |ui| {
                ui.heading("There is nothing to cut yet");
                ui.colored_label(board.palette.ochre, why);
                ui.label(
                    "Turn to Body in the row of stages and set the measure that disagrees right.",
                );
            },
        );
    });
}

/// Words over the table; returns how far down they reach.
fn banner(board: &Board, requests: &mut Requests, ui: &mut Ui, canvas: Rect, words: &str) -> f32 {
    let place =
        Rect::from_min_size(canvas.min + vec2(12.0, 12.0), vec2(canvas.width() - 24.0, 30.0));
    let over = ui.scope_builder(egui::UiBuilder::new().max_rect(place), |ui| {
        egui::Frame::new().fill(board.palette.card).inner_margin(8.0).corner_radius(5.0).show(
            ui,
            |ui| {
                ui.horizontal_wrapped(|ui| {
                    // Large letters need the room; the list says it as well.
                    if board.trial.is_none() || board.settings.letters < 1.45 {
                        ui.label(words);
                    }
                    if board.trial.is_some() {
                        accept_or_leave(board, requests, ui);
                    } else if ui.button("Back to today’s pattern").clicked() {
                        requests.show_now();
                    }
                });
            },
        );
    });
    over.response.rect.bottom() - canvas.top()
}

fn look_round(
    own: &mut Table,
    board: &Board,
    requests: &mut Requests,
    ui: &Ui,
    response: &Response,
    (canvas, may_pan): (Rect, bool),
) {
    if response.dragged() && may_pan {
        own.view.pan(response.drag_delta());
    }
    let asked = look_round::asked(ui, response, canvas);
    own.view.take(canvas, &asked);
    if asked.fit {
        own.fit_wanted = true;
        ui.ctx().request_repaint();
    }
    if look_round::typed(ui, "t") {
        own.true_size(board, requests);
    }
    if look_round::typed(ui, "m") {
        requests.ask_for(Request::Mates(!board.settings.mates));
    }
}
