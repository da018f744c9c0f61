//! Words and keys, and the settings of the desk with the measuring of the
//! screen.

use super::keys::KEYS;
use crate::board::Board;
use crate::board::requests::{Request, Requests};
use crate::kit::field::one_line;
use crate::kit::length_field::name_field;
use crate::kit::modal::{Edge, modal};
use crate::kit::say::aside;
use crate::kit::scroll::scrolled;
use crate::kit::text_size::text_size_row;
use crate::kit::theme::bold;
use egui::{Context, Id, ScrollArea, Sense, Stroke, Ui, vec2};
use hangtrue_adjust::glossary::look_up;
use hangtrue_pattern::words::capital;

/// Width and height of an identification card, mm: ISO/IEC 7810, format ID-1.
/// Bank cards have this format.
const CARD: (f64, f64) = (85.60, 53.98);

/// Which of the windows are open.
#[derive(Debug, Default)]
pub(crate) struct Help {
    pub open: bool,
    pub settings: bool,
    /// The keys are shown; else the words.
    keys: bool,
    /// What is looked for in the words.
    wanted: String,
    /// It was opened just now.
    opened: bool,
}

impl Help {
    /// Opens it with nothing looked for yet, or shuts it.
    pub fn turn(&mut self) {
        *self = Self { open: !self.open, opened: true, ..Self::default() };
    }

    /// Opens it at a word.
    pub fn open_at(&mut self, word: String) {
        *self = Self { open: true, wanted: word, opened: true, ..Self::default() };
    }
}

/// Shows what is open.
pub(crate) fn show(own: &mut Help, board: &Board, requests: &mut Requests, ctx: &Context) {
    if own.open {
        own.open = !modal(ctx, "help", Edge::Note, WIDE, |ui| help(own, board, ui));
    }
    if own.settings {
        let mut done = false;
        let shut = modal(ctx, "settings", Edge::Note, 640.0, |ui| {
            done = settings(board, requests, ui);
        });
        if done || shut {
            own.settings = false;
            requests.ask_for(Request::KeepSettings);
        }
    }
}

/// The words list, searched, or the list of keys.
fn help(own: &mut Help, board: &Board, ui: &mut Ui) {
    ui.set_width(WIDE.min(ui.ctx().content_rect().width() - 80.0));
    ui.heading("Help");
    ui.horizontal_wrapped(|ui| {
        ui.radio_value(&mut own.keys, false, "Words");
        ui.radio_value(&mut own.keys, true, "Keys");
        if ui.button("Close").clicked() {
            ui.close();
        }
    });
    if own.keys {
        return keys(board, ui);
    }
    ui.horizontal(|ui| {
        ui.label("Look for");
        let field = ui.add(one_line(&mut own.wanted).desired_width(f32::INFINITY));
        name_field(ui, &field, "Look for a word");
        if std::mem::take(&mut own.opened) {
            field.request_focus();
        }
    });
    let found = look_up(&own.wanted);
    if found.is_empty() {
        ui.label(format!("“{}” is not in the list.", own.wanted.trim()));
    }
    let list = tall(ui).auto_shrink([false, true]);
    scrolled(ui, list, true, |ui| {
        for term in found {
            ui.label(bold(capital(term.word)));
            ui.add(egui::Label::new(term.means).wrap());
            ui.add_space(4.0);
        }
        aside(board, ui, "The same list in a terminal: hangtrue words");
    });
}

/// How wide the window is, points of the screen.
const WIDE: f32 = 620.0;

/// Up to these letters keys and what they do stand side by side.
const TWO_COLUMNS: f32 = 1.4;

/// A list as high as the screen has room for: the window lies in its middle, and what
/// stands above the list needs the rest.
fn tall(ui: &Ui) -> ScrollArea {
    let high = (ui.ctx().content_rect().height() - 260.0).max(120.0);
    ScrollArea::vertical().max_height(high).min_scrolled_height(high)
}

fn keys(board: &Board, ui: &mut Ui) {
    scrolled(ui, tall(ui), true, |ui| {
        // Two columns of large letters leave no room to the second.
        if board.settings.letters > TWO_COLUMNS {
            for (key, does) in KEYS {
                ui.add(egui::Label::new(bold(key)).wrap());
                ui.add(egui::Label::new(does).wrap());
                ui.add_space(6.0);
            }
            return;
        }
        egui::Grid::new("keys").num_columns(2).spacing([22.0, 6.0]).show(ui, |ui| {
            for (key, does) in KEYS {
                ui.label(bold(key));
                ui.add(egui::Label::new(does).wrap());
                ui.end_row();
            }
        });
    });
}

fn settings(board: &Board, requests: &mut Requests, ui: &mut Ui) -> bool {
    let wide = ui.ctx().content_rect().width() - 80.0;
    ui.set_width(640.0_f32.min(wide));
    ui.heading("Settings");
    if let Some(letters) = text_size_row(ui, board.settings.letters) {
        requests.ask_for(Request::Letters(letters));
    }
    let mut typed = board.settings.type_places;
    let words = "Type the place of a file instead of choosing it in the system’s window";
    if ui.checkbox(&mut typed, words).changed() {
        requests.ask_for(Request::TypePlaces(typed));
    }
    ui.separator();
    ui.label(bold("Measure the screen"));
    ui.label(
        "Hold a bank card against the screen and make the frame exactly as wide, or type how wide the frame is by your own ruler. Actual size is then exact on this screen.",
    );
    let mut points = board.settings.points_per_mm.unwrap_or(96.0 / 25.4);
    let most = (f64::from(ui.available_width()) - 4.0) / CARD.0;
    let slider =
        egui::Slider::new(&mut points, 1.5..=most.max(2.0)).show_value(false).step_by(0.005);
    ui.spacing_mut().slider_width = (ui.available_width() - 10.0).max(100.0);
    let slid = ui.add(slider);
    name_field(ui, &slid, "Width of the frame");
    let size = vec2((CARD.0 * points) as f32, (CARD.1 * points) as f32);
    let (frame, _) = ui.allocate_exact_size(size, Sense::hover());
    // The corners of the card are rounded: ISO/IEC 7810 gives 3.18 mm (memory).
    let round = (3.18 * points) as f32;
    ui.painter().rect_filled(frame, round, board.palette.field);
    ui.painter().rect_stroke(
        frame,
        round,
        Stroke::new(1.5, board.palette.madder),
        egui::StrokeKind::Inside,
    );
    ui.painter().text(
        frame.center(),
        egui::Align2::CENTER_CENTER,
        "a bank card fits here exactly\n85.60 mm × 53.98 mm",
        egui::FontId::proportional(15.0),
        board.palette.text_soft,
    );
    // Showing the slider rounds its number; only a person's hand counts.
    if slid.changed() && (slid.dragged() || slid.has_focus()) {
        requests.ask_for(Request::ScreenMeasured(points));
    }
    by_ruler(board, requests, ui, f64::from(size.x));
    ui.separator();
    ui.horizontal(|ui| {
        let card = ui.button("The card fits: keep this");
        if card.clicked() {
            requests.ask_for(Request::ScreenMeasured(points));
        }
        card.clicked() | ui.button("Close").clicked()
    })
    .inner
}

/// The width of the frame as a ruler on the screen gives it. It is used only when
/// the button is pressed, because the frame changes then.
fn by_ruler(board: &Board, requests: &mut Requests, ui: &mut Ui, frame: f64) {
    let id = Id::unique("width by ruler");
    let mut wide: f64 = ui.data(|d| d.get_temp(id)).unwrap_or(CARD.0);
    let (palette, unit) = (board.palette, board.unit());
    ui.horizontal_wrapped(|ui| {
        ui.label("By my ruler the frame is");
        crate::kit::length_field::bare_length_field(
            ui,
            &palette,
            "Width by my ruler",
            &mut wide,
            unit,
        );
        let fits = (20.0..400.0).contains(&wide);
        if ui.add_enabled(fits, egui::Button::new("wide: use that")).clicked() {
            requests.ask_for(Request::ScreenMeasured(frame / wide));
            wide = CARD.0;
        }
    });
    ui.data_mut(|d| d.insert_temp(id, wide));
}
