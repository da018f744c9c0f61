//! The ribbon along the top: a woven tape with the stages of a round stitched on
//! it. How a stage stands is told by its word, its stitch and its colour.

use crate::desk::desk::Desk;
use crate::board::stage::{Stage, Standing, next_stage};
use crate::kit::theme::{Palette, bold_family, heading_family};
use egui::{
    Color32, FontId, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, TextStyle, Ui, WidgetInfo,
    pos2, vec2,
};

/// Shows the ribbon, the sentence that says what comes next, and the row of what
/// concerns the whole project.
pub(crate) fn show(desk: &mut Desk, ui: &mut Ui) {
    let palette = desk.palette;
    ui.add_space(6.0);
    let row = egui::Frame::new().inner_margin(egui::Margin::symmetric(12, 0));
    row.show(ui, |ui| ui.horizontal_wrapped(|ui| project_row(desk, ui)));
    ui.add_space(2.0);
    tape(desk, ui);
    let (stage, mut sentence) = next_stage(&desk.standings);
    if let (Stage::Pinch, Some(waiting)) = (stage, desk.document().pinned.first()) {
        sentence = format!("Answer “{}”, which was measured on the toile.", waiting.name);
    }
    row.show(ui, |ui| next_row(desk, ui, stage, sentence));
    if let Some(why) = &desk.recovery.fault {
        ui.colored_label(
            palette.ochre,
            format!("No safety copy of unsaved work can be made: {why}. Save it now."),
        );
    }
    ui.add_space(6.0);
}

/// What was done last, or what comes next.
fn next_row(desk: &mut Desk, ui: &mut Ui, stage: Stage, sentence: String) {
    let palette = desk.palette;
    ui.horizontal_wrapped(|ui| {
        let told = desk.notice.clone();
        match told {
            Some(notice) => {
                let (colour, word) = if notice.is_fault {
                    (palette.ochre, "Not done:")
                } else {
                    (palette.sage, "Done:")
                };
                ui.colored_label(colour, crate::kit::theme::bold(word));
                ui.label(&notice.text);
                if ui.button("Close").clicked() {
                    desk.notice = None;
                }
            }
            None => {
                ui.colored_label(palette.madder, crate::kit::theme::bold("Next:"));
                if ui.link(stage.name()).on_hover_text("Turn to this stage").clicked() {
                    desk.go_to(stage);
                }
                ui.label(sentence);
            }
        }
    });
}

fn project_row(desk: &mut Desk, ui: &mut Ui) {
    let palette = desk.palette;
    let title = egui::RichText::new(&desk.document().title)
        .family(heading_family())
        .size(TextStyle::Heading.resolve(ui.style()).size);
    ui.label(title);
    ui.colored_label(palette.text_soft, format!("for {}", desk.document().client));
    let (saved, colour) = match (desk.is_unsaved(), desk.files.path()) {
        (true, _) => ("not saved", palette.ochre),
        (false, Some(_)) => ("saved", palette.sage),
        (false, None) => ("in no file yet", palette.text_soft),
    };
    ui.colored_label(colour, saved);
    ui.separator();
    crate::desk::files::menu(desk, ui);
    ui.separator();
    let undo = desk.history.undo_words().map(str::to_owned);
    let redo = desk.history.redo_words().map(str::to_owned);
    let undo_button = ui.add_enabled(undo.is_some(), egui::Button::new("Undo"));
    if undo_button.on_hover_text(undo.unwrap_or_default() + "  (Ctrl+Z)").clicked() {
        desk.undo();
    }
    let redo_button = ui.add_enabled(redo.is_some(), egui::Button::new("Redo"));
    if redo_button.on_hover_text(redo.unwrap_or_default() + "  (Ctrl+Shift+Z)").clicked() {
        desk.redo();
    }
    ui.separator();
    let lamp = if desk.settings.evening { "Day table" } else { "Evening lamp" };
    if ui.button(lamp).clicked() {
        desk.set_evening(!desk.settings.evening);
    }
    if ui.button("Desk settings").clicked() {
        desk.settings_open = !desk.settings_open;
    }
    if ui.button("Keys").on_hover_text("F1 or ?").clicked() {
        desk.help_open = !desk.help_open;
    }
}

fn tape(desk: &mut Desk, ui: &mut Ui) {
    let palette = desk.palette;
    let body = TextStyle::Body.resolve(ui.style()).size;
    let height = body * 3.3;
    let (band, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    let painter = ui.painter_at(band);
    draw_band(&painter, band, &palette);
    let count = Stage::ALL.len() as f32;
    let wide = (band.width() - 24.0) / count;
    for (index, (stage, standing)) in desk.standings.clone().into_iter().enumerate() {
        let left = band.left() + 12.0 + wide * index as f32;
        let place = Rect::from_min_size(pos2(left, band.top() + 5.0), vec2(wide, height - 10.0));
        let id = ui.scope_id().with(("stage", index));
        let response = ui.interact(place, id, Sense::click());
        let open = desk.stage == stage;
        response.widget_info(|| {
            let label = format!("{}, {}", stage.name(), standing.word());
            WidgetInfo::selected(Role::Tab, true, open, label)
        });
        draw_stage(&painter, place, stage, &standing, open, &response, &palette, body);
        let response = match &standing {
            Standing::Stale(why) => response.on_hover_text(why.clone()),
            _ => response.on_hover_text(stage.to_do()),
        };
        if response.clicked() {
            desk.go_to(stage);
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

#[allow(clippy::too_many_arguments)] // one picture, drawn in one place
fn draw_stage(
    painter: &Painter,
    place: Rect,
    stage: Stage,
    standing: &Standing,
    open: bool,
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
        Standing::Next => palette.madder,
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
    let word = FontId::new(body * 0.78, egui::FontFamily::Proportional);
    let low = label.bottom() - body * 0.58;
    // Without a stitch before it the word stands in the middle.
    let aside = if *standing == Standing::AsNeeded { 0.0 } else { body * 0.9 };
    let drawn = painter.text(
        pos2(middle.x + aside, low),
        egui::Align2::CENTER_CENTER,
        standing.word(),
        word,
        palette.text,
    );
    let stitch_end = drawn.left() - 5.0;
    stitch(painter, pos2(stitch_end - body * 1.7, low), pos2(stitch_end, low), standing, colour);
}

/// The stitch of a standing: done is a whole row of backstitch, next a row of
/// cross stitch, later a few running stitches, stale a zigzag.
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
        Standing::Next | Standing::Stale(_) => {
            let steps = 4;
            let step = (b.x - a.x) / steps as f32;
            for i in 0..steps {
                let x = a.x + step * i as f32;
                let (low, high) = (a.y + 3.5, a.y - 3.5);
                if matches!(standing, Standing::Next) {
                    painter.line_segment([pos2(x, low), pos2(x + step * 0.8, high)], pen);
                    painter.line_segment([pos2(x, high), pos2(x + step * 0.8, low)], pen);
                } else {
                    let (from, to) = if i % 2 == 0 { (low, high) } else { (high, low) };
                    painter.line_segment([pos2(x, from), pos2(x + step, to)], pen);
                }
            }
        }
    }
}
