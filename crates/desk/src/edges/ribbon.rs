//! The ribbon along the top: a woven tape with the stages of a round stitched on
//! it. How a stage stands is told by its word, its stitch and its colour.

use super::files_menu;
use crate::board::Board;
use crate::board::next::fitting_is_done;
use crate::board::requests::{Request, Requests, Window};
use crate::board::stage::{Stage, Standing};
use crate::kit::length_field::name_field;
use crate::kit::panels::Panels;
use crate::kit::theme::{Palette, bold_family, heading_family};
use egui::{
    Color32, FontId, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, TextStyle, Ui, WidgetInfo,
    pos2, vec2,
};
use std::path::Path;

/// Shows the ribbon, the sentence that says what comes next, and the row of what
/// concerns the whole project.
pub(crate) fn show(own_folder: Option<&Path>, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let palette = board.palette;
    ui.add_space(6.0);
    let row = egui::Frame::new().inner_margin(egui::Margin::symmetric(12, 0));
    row.show(ui, |ui| ui.horizontal_wrapped(|ui| project_row(own_folder, board, requests, ui)));
    ui.add_space(2.0);
    let next = board.next();
    let next_on_tape = tape(board, requests, ui, &next);
    if board.notice.is_some() || !next_on_tape {
        row.show(ui, |ui| next_row(board, requests, ui, next));
    }
    if let Some(why) = &board.unkept {
        ui.colored_label(
            palette.ochre,
            format!("No safety copy of unsaved work can be made: {why}. Save it now."),
        );
    }
    ui.add_space(6.0);
}

/// What was done last, or what comes next.
fn next_row(
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    (stage, sentence): (Stage, String),
) {
    let palette = board.palette;
    ui.horizontal_wrapped(|ui| {
        if let Some(notice) = board.notice.clone() {
            let (colour, word) = if notice.is_fault {
                (palette.ochre, "Not done:")
            } else {
                (palette.sage, "Done:")
            };
            ui.colored_label(colour, crate::kit::theme::bold(word));
            ui.label(&notice.text);
            if ui.button("Close").clicked() {
                requests.ask_for(Request::HushNotice);
            }
            // On a low screen there is room for one of them.
            if panels(board, ui).low {
                return;
            }
        }
        if stage == board.stage {
            ui.label(crate::kit::theme::bold("Next, here:"));
        } else {
            ui.label(crate::kit::theme::bold("Next:"));
            if ui.link(stage.name()).on_hover_text("Turn to this stage (Ctrl+0)").clicked() {
                requests.go_to(stage);
            }
        }
        ui.label(sentence);
        if fitting_is_done(&board.standings) && ui.button("Close this fitting…").clicked() {
            requests.ask_for(Request::Turn(Window::Closing));
        }
    });
}

/// The title's share of a low screen's width at the most.
const TITLE_SHARE: f32 = 0.22;

fn project_row(own_folder: Option<&Path>, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let palette = board.palette;
    let Panels { one_place, low, .. } = panels(board, ui);
    let size = if low { TextStyle::Body } else { TextStyle::Heading };
    // Where there is room for one of them, it is for whom.
    let document = board.document();
    let whole = match (one_place, document.client.trim()) {
        (false, _) | (true, "") => document.title.clone(),
        (true, client) => format!("{client}, {}", document.title),
    };
    let title =
        egui::RichText::new(&whole).family(heading_family()).size(size.resolve(ui.style()).size);
    if low {
        // What is pressed has the room; the whole title is the window's.
        let wide = ui.available_width() * TITLE_SHARE;
        let high = ui.spacing().interact_size.y;
        ui.allocate_ui(vec2(wide, high), |ui| {
            ui.add(egui::Label::new(title).truncate()).on_hover_text(&whole)
        });
    } else {
        ui.label(title);
    }
    if !one_place && !board.document().client.is_empty() {
        ui.colored_label(palette.text_soft, format!("for {}", board.document().client));
    }
    let (saved, colour) = match (board.is_unsaved(), board.filed.path()) {
        (true, _) => ("not saved", palette.ochre),
        (false, Some(_)) if board.filed.differs => ("file changed elsewhere", palette.ochre),
        (false, Some(_)) => ("saved", palette.sage),
        (false, None) => ("in no file yet", palette.text_soft),
    };
    ui.colored_label(colour, saved);
    let part = |ui: &mut Ui| {
        if !low {
            ui.separator();
        }
    };
    part(ui);
    files_menu::show((own_folder, low), board, requests, ui);
    part(ui);
    let undo = board.history.undo_words().map(str::to_owned);
    let redo = board.history.redo_words().map(str::to_owned);
    let undo_button = ui.add_enabled(undo.is_some(), egui::Button::new("Undo"));
    if undo_button.on_hover_text(undo.unwrap_or_default() + "  (Ctrl+Z)").clicked() {
        requests.ask_for(Request::Undo);
    }
    let redo_button = ui.add_enabled(redo.is_some(), egui::Button::new("Redo"));
    if redo_button.on_hover_text(redo.unwrap_or_default() + "  (Ctrl+Shift+Z)").clicked() {
        requests.ask_for(Request::Redo);
    }
    part(ui);
    if !one_place {
        return the_desk(board, requests, ui);
    }
    let words = if board.list_in_front { "Show the card" } else { "Show the list" };
    let short = if board.list_in_front { "Card" } else { "List" };
    let button = ui.button(if low { short } else { words });
    name_field(ui, &button, words);
    if button.clicked() {
        requests.ask_for(Request::Turn(Window::List));
    }
    ui.menu_button("Desk", |ui| the_desk(board, requests, ui));
}

/// How the screen is shared.
fn panels(board: &Board, ui: &Ui) -> Panels {
    Panels::of(ui.ctx().content_rect().size(), board.settings.letters)
}

/// What concerns the desk and not the project.
fn the_desk(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let lamp = if board.settings.evening { "Light" } else { "Dark" };
    if ui.button(lamp).clicked() {
        requests.ask_for(Request::Evening(!board.settings.evening));
    }
    if ui.button("Desk settings").clicked() {
        requests.ask_for(Request::Turn(Window::Settings));
    }
    if ui.button("Help").on_hover_text("Words and keys (F1 or ?)").clicked() {
        requests.ask_for(Request::Turn(Window::Help));
    }
}

/// How the stages are laid out on the tape.
#[derive(Debug, Clone, Copy)]
struct Layout {
    columns: usize,
    rows: usize,
    /// The word of how a stage stands is left to its stitch, and to whoever points at it
    /// or hears it: there is no room for it.
    short: bool,
    /// Height of a row, points.
    high: f32,
}

/// All in one row with their words when they fit; else without words; else in as few
/// rows as it needs, so that no word runs into its neighbour.
fn layout(board: &Board, ui: &Ui, body: f32) -> Layout {
    /// Room beside the words, points.
    const BESIDE: f32 = 20.0;
    let wide_of = |words: &str, size: f32, family: egui::FontFamily| {
        let font = FontId::new(size, family);
        ui.painter().layout_no_wrap(words.to_owned(), font, Color32::BLACK).size().x
    };
    let name = |s: &(Stage, Standing)| wide_of(s.0.name(), body * 1.06, bold_family());
    let word = |s: &(Stage, Standing)| {
        let words = wide_of(s.0.word(&s.1), body * 0.78, egui::FontFamily::Proportional);
        // The stitch stands before it.
        words + body * 1.7 + 5.0
    };
    let stages = &board.standings;
    let most = |of: &dyn Fn(&(Stage, Standing)) -> f32| stages.iter().map(of).fold(1.0, f32::max);
    let (names, count) = (most(&name) + BESIDE, stages.len());
    let full = most(&word).max(most(&name)) + BESIDE;
    let room = ui.available_width() - 24.0;
    if full * count as f32 <= room {
        return Layout { columns: count, rows: 1, short: false, high: body * 3.3 };
    }
    let fit = ((room / names).floor() as usize).clamp(1, count);
    let rows = count.div_ceil(fit);
    Layout { columns: count.div_ceil(rows), rows, short: true, high: body * 2.3 }
}

/// The stages on their tape; whether what comes next is on it too.
fn tape(board: &Board, requests: &mut Requests, ui: &mut Ui, next: &(Stage, String)) -> bool {
    let palette = board.palette;
    let body = TextStyle::Body.resolve(ui.style()).size;
    let laid = layout(board, ui, body);
    let height = laid.high * laid.rows as f32;
    let (band, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    let painter = ui.painter_at(band);
    draw_band(&painter, band, &palette);
    let wide = (band.width() - 24.0) / laid.columns as f32;
    for (index, (stage, standing)) in board.standings.clone().into_iter().enumerate() {
        let (row, column) = (index / laid.columns, index % laid.columns);
        let left = band.left() + 12.0 + wide * column as f32;
        let top = band.top() + laid.high * row as f32;
        let inset = if laid.short { 2.0 } else { 5.0 };
        let place =
            Rect::from_min_size(pos2(left, top + inset), vec2(wide, laid.high - 2.0 * inset));
        let id = ui.scope_id().with(("stage", index));
        let response = ui.interact(place, id, Sense::click());
        let open = board.stage == stage;
        response.widget_info(|| {
            let label = format!("{}, {}", stage.name(), stage.word(&standing));
            WidgetInfo::selected(Role::Tab, true, open, label)
        });
        let drawn = (stage, &standing, open, laid.short);
        draw_stage(&painter, place, drawn, &response, &palette, body);
        let response = match &standing {
            Standing::Stale(why) => response.on_hover_text(why.clone()),
            _ if laid.short => {
                response.on_hover_text(format!("{}: {}", stage.word(&standing), stage.to_do()))
            }
            _ => response.on_hover_text(stage.to_do()),
        };
        if response.clicked() {
            requests.go_to(stage);
        }
    }
    // Stages in several rows of a low screen leave a place free for what comes next.
    let last = laid.columns * laid.rows;
    let free = laid.rows > 1 && last > board.standings.len() && panels(board, ui).low;
    if free {
        let corner = pos2(band.right() - 12.0 - wide, band.bottom() - laid.high);
        let place = Rect::from_min_size(corner, vec2(wide, laid.high)).shrink(2.0);
        next_cell(board, requests, ui, place, next);
    }
    free
}

/// What comes next, as small as a stage; the sentence stands over it when it is pointed at.
fn next_cell(
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    place: Rect,
    (stage, sentence): &(Stage, String),
) {
    let palette = board.palette;
    let here = *stage == board.stage;
    let words = if here { "Next, here".to_owned() } else { format!("Next: {}", stage.name()) };
    let response = ui.interact(place, ui.scope_id().with("next on tape"), Sense::click());
    let spoken = format!("{words}: {sentence}");
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &spoken));
    let body = TextStyle::Body.resolve(ui.style()).size;
    let set = |size: f32| {
        let font = FontId::new(size, bold_family());
        ui.painter().layout_no_wrap(words.clone(), font, palette.indigo)
    };
    let whole = set(body);
    let room = place.width() - 8.0;
    let set = if whole.size().x > room { set(body * room / whole.size().x) } else { whole };
    let at = place.center() - set.size() / 2.0;
    if response.has_focus() || response.hovered() {
        let edge = Stroke::new(2.0, palette.indigo);
        ui.painter().rect_stroke(place, 4.0, edge, egui::StrokeKind::Inside);
    }
    ui.painter().galley(at, set, palette.indigo);
    if response.has_focus() {
        response.show_tooltip_text(sentence);
    }
    if response.on_hover_text(sentence).clicked() {
        requests.go_to(*stage);
    }
}

fn ribbon_colour(palette: &Palette) -> Color32 {
    if palette.evening {
        Color32::from_rgb(0x3a, 0x33, 0x2d)
    } else {
        Color32::from_rgb(0xe9, 0xdd, 0xc4)
    }
}

/// A twill tape: slanted ribs and a stitch along each edge.
fn draw_band(painter: &Painter, band: Rect, palette: &Palette) {
    let ground = ribbon_colour(palette);
    painter.rect_filled(band, 0.0, ground);
    let rib = Stroke::new(1.0, palette.rule.gamma_multiply(0.35));
    let mut x = band.left() - band.height();
    while x < band.right() {
        painter
            .line_segment([pos2(x, band.bottom()), pos2(x + band.height() * 0.5, band.top())], rib);
        x += 5.0;
    }
    let thread = Stroke::new(1.3, palette.text_soft);
    for y in [band.top() + 3.0, band.bottom() - 3.0] {
        let ends = [pos2(band.left(), y), pos2(band.right(), y)];
        painter.extend(Shape::dashed_line(&ends, thread, 7.0, 4.0));
    }
}

fn draw_stage(
    painter: &Painter,
    place: Rect,
    (stage, standing, open, short): (Stage, &Standing, bool, bool),
    response: &egui::Response,
    palette: &Palette,
    body: f32,
) {
    let label = place.shrink2(vec2(5.0, 3.0));
    if open {
        painter.rect_filled(label, 4.0, palette.field);
        painter.rect_stroke(label, 4.0, Stroke::new(1.5, palette.text), egui::StrokeKind::Inside);
    }
    if response.has_focus() || response.hovered() {
        painter.rect_stroke(label, 4.0, Stroke::new(2.0, palette.indigo), egui::StrokeKind::Inside);
    }
    let colour = match standing {
        Standing::Done => palette.sage,
        Standing::Next => palette.indigo,
        Standing::Later | Standing::AsNeeded => palette.text_soft,
        Standing::Stale(_) => palette.ochre,
    };
    let name = FontId::new(body * 1.06, bold_family());
    let middle = label.center();
    painter.text(
        pos2(middle.x, label.top() + body * 0.78),
        egui::Align2::CENTER_CENTER,
        stage.name(),
        name,
        palette.text,
    );
    if short {
        // The stitch keeps clear of the frame of the stage that is open.
        let low = label.bottom() - 4.0 - 0.1 * body;
        let half = body * 1.2;
        return stitch(
            painter,
            pos2(middle.x - half, low),
            pos2(middle.x + half, low),
            standing,
            colour,
        );
    }
    let word = FontId::new(body * 0.78, egui::FontFamily::Proportional);
    let low = label.bottom() - body * 0.58;
    // Without a stitch before it the word stands in the middle.
    let aside = if *standing == Standing::AsNeeded { 0.0 } else { body * 0.9 };
    let drawn = painter.text(
        pos2(middle.x + aside, low),
        egui::Align2::CENTER_CENTER,
        stage.word(standing),
        word,
        palette.text,
    );
    let stitch_end = drawn.left() - 5.0;
    stitch(painter, pos2(stitch_end - body * 1.7, low), pos2(stitch_end, low), standing, colour);
}

/// The stitch of a standing: done is a whole row of backstitch, next a thread that ends
/// in a needle, later a few running stitches, stale a zigzag.
fn stitch(painter: &Painter, a: Pos2, b: Pos2, standing: &Standing, colour: Color32) {
    let pen = Stroke::new(2.2, colour);
    match standing {
        Standing::Done => {
            painter.line_segment([a, b], pen);
        }
        Standing::AsNeeded => {}
        Standing::Later => {
            painter.extend(Shape::dashed_line(&[a, b], Stroke::new(1.5, colour), 3.0, 6.0));
        }
        Standing::Next => {
            let neck = pos2(b.x - 0.35 * (b.x - a.x), a.y);
            painter.extend(Shape::dashed_line(&[a, neck], pen, 5.0, 3.0));
            let half = 3.5;
            let needle = vec![pos2(neck.x, a.y - half), b, pos2(neck.x, a.y + half)];
            painter.add(Shape::convex_polygon(needle, colour, Stroke::NONE));
        }
        Standing::Stale(_) => {
            let steps = 4;
            let step = (b.x - a.x) / steps as f32;
            for i in 0..steps {
                let x = a.x + step * i as f32;
                let (low, high) = (a.y + 3.5, a.y - 3.5);
                let (from, to) = if i % 2 == 0 { (low, high) } else { (high, low) };
                painter.line_segment([pos2(x, from), pos2(x + step, to)], pen);
            }
        }
    }
}
