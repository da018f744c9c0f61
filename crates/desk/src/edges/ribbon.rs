//! The ribbon along the top: a woven tape with the stages of a round stitched on
//! it. How a stage stands is told by its word, its stitch and its colour.

use super::{files_menu, told};
use crate::board::Board;
use crate::board::requests::{Request, Requests, Window};
use crate::board::stage::{Stage, Standing};
use crate::kit::drop_down::{drop_down, item};
use crate::kit::length_field::{name_field, name_id};
use crate::kit::panels::Panels;
use crate::kit::theme::{Palette, bold, bold_family, heading_family};
use egui::{
    Color32, ComboBox, FontId, Label, Painter, Pos2, Rect, RichText, Role, Sense, Shape, Stroke,
    TextStyle, Ui, WidgetInfo, pos2, vec2,
};
use std::path::Path;

/// Shows the ribbon, the sentence that says what comes next, and the row of what
/// concerns the whole project.
pub(crate) fn show(own_folder: Option<&Path>, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let palette = board.palette;
    let low = panels(board, ui).low;
    ui.add_space(if low { 3.0 } else { 6.0 });
    let row = egui::Frame::new().inner_margin(egui::Margin::symmetric(12, 0));
    row.show(ui, |ui| ui.horizontal_wrapped(|ui| project_row(own_folder, board, requests, ui)));
    if low {
        row.show(ui, |ui| ui.horizontal(|ui| folded(board, requests, ui)));
    } else {
        ui.add_space(2.0);
        tape(board, requests, ui);
        row.show(ui, |ui| told::in_a_row(board, requests, ui));
    }
    if let Some(why) = &board.unkept {
        ui.colored_label(
            palette.ochre,
            format!("No safety copy of unsaved work can be made: {why}. Save it now."),
        );
    }
    ui.add_space(if low { 3.0 } else { 6.0 });
}

/// The row of stages of a low screen: one list, and what comes next.
fn folded(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let standing = board.standings.iter().find(|s| s.0 == board.stage);
    let word = standing.map_or("", |s| s.0.word(&s.1));
    let open = board.stage;
    let tall = ui.ctx().content_rect().height() - ui.cursor().bottom() - UNDER_LIST;
    let list = ComboBox::from_id_salt("stages").selected_text(bold(open.name())).height(tall);
    let shown = drop_down(ui, list, |ui| {
        for (stage, standing) in &board.standings {
            let words = format!("{}, {}", stage.name(), stage.word(standing));
            if item(ui, *stage == open, words).clicked() {
                requests.go_to(*stage);
            }
        }
    });
    name_id(ui, shown.response.id, &format!("Stage: {}, {word}", open.name()));
    let (stage, sentence) = board.next();
    let words = match stage == open {
        true => "Next, here".to_owned(),
        false => format!("Next: {}", stage.name()),
    };
    // Why stands under the table, to be read.
    let next = ui.button(bold(&words).color(board.palette.indigo));
    name_field(ui, &next, &format!("{words}: {sentence}"));
    if next.clicked() {
        requests.go_to(stage);
    }
    let whole = whose(board);
    let title = RichText::new(&whole).family(heading_family());
    ui.add(Label::new(title).truncate()).on_hover_text(&whole);
}

/// Points left free below the list of stages.
const UNDER_LIST: f32 = 90.0;

/// For whom it is, and what.
fn whose(board: &Board) -> String {
    let document = board.document();
    match document.client.trim() {
        "" => document.title.clone(),
        client => format!("{client}, {}", document.title),
    }
}

fn project_row(own_folder: Option<&Path>, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let palette = board.palette;
    let Panels { one_place, low, .. } = panels(board, ui);
    let part = |ui: &mut Ui| {
        if !low {
            ui.separator();
        }
    };
    if !low {
        // Where there is room for one of them, it is for whom.
        let whole = if one_place { whose(board) } else { board.document().title.clone() };
        ui.heading(whole);
        if !one_place && !board.document().client.is_empty() {
            ui.colored_label(palette.text_soft, format!("for {}", board.document().client));
        }
        how_saved(board, ui);
        part(ui);
    }
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
        the_desk(board, requests, ui);
        return;
    }
    let words = if board.list_in_front {
        format!("Back to {}", board.stage.name())
    } else {
        "Show the changes".to_owned()
    };
    let short = if board.list_in_front { "Back" } else { "Changes" };
    let button = ui.button(if low { short } else { &words });
    name_field(ui, &button, &words);
    if button.clicked() {
        requests.ask_for(Request::Turn(Window::List));
    }
    ui.menu_button("More", |ui| {
        // A key that presses closes the menu as a click does.
        if the_desk(board, requests, ui) {
            ui.close();
        }
    });
    if low {
        how_saved(board, ui);
    }
}

/// How the project stands in its file.
fn how_saved(board: &Board, ui: &mut Ui) {
    let palette = board.palette;
    let (saved, colour) = match (board.is_unsaved(), board.filed.path()) {
        (true, _) => ("not saved", palette.ochre),
        (false, Some(_)) if board.filed.differs => ("file changed elsewhere", palette.ochre),
        (false, Some(_)) => ("saved", palette.sage),
        (false, None) => ("in no file yet", palette.text_soft),
    };
    ui.colored_label(colour, saved);
}

/// How the screen is shared.
fn panels(board: &Board, ui: &Ui) -> Panels {
    Panels::of(ui.ctx().content_rect().size(), board.settings.letters)
}

/// What concerns the desk and not the project; whether one of it was pressed.
fn the_desk(board: &Board, requests: &mut Requests, ui: &mut Ui) -> bool {
    let evening = board.settings.evening;
    let lamp = ui.button(if evening { "Light" } else { "Dark" }).clicked();
    let settings = ui.button("Settings").clicked();
    let help = ui.button("Help").on_hover_text("Words and keys (F1 or ?)").clicked();
    for (pressed, request) in [
        (lamp, Request::Evening(!evening)),
        (settings, Request::Turn(Window::Settings)),
        (help, Request::Turn(Window::Help)),
    ] {
        if pressed {
            requests.ask_for(request);
        }
    }
    lamp || settings || help
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

/// The stages on their tape.
fn tape(board: &Board, requests: &mut Requests, ui: &mut Ui) {
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
