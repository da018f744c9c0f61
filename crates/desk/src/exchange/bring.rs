//! Bringing a drawing in: it is read beside the desk, drawn, and listed with what
//! is not kept; its scale is confirmed against a length the maker knows; only then
//! it becomes one change of the project, or a new one.

use super::modal;
use crate::cards::{aside, fault, part};
use crate::desk::Desk;
use crate::length_field::{bare_length_field, name_id};
use crate::picture::{fitted, frame};
use crate::sheet::{Sheets, on_screen};
use crate::theme::Palette;
use egui::{Button, ComboBox, Context, Painter, ScrollArea, Shape, Stroke, Ui};
use hangtrue_adjust::{BringIn, Change};
use hangtrue_files::exchange::{
    BringOptions, Brought, ExchangeError, FileUnit, Kind, KnownLength, bring_file,
};
use hangtrue_geometry::Affine;
use hangtrue_pattern::units::{Unit, show_length, words_in};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// A file being looked at.
pub(crate) struct Bring {
    file: PathBuf,
    options: BringOptions,
    reading: Option<Receiver<Result<Looked, Refused>>>,
    looked: Option<Result<Looked, Refused>>,
    /// Which of the file's lengths is compared.
    of: usize,
    /// The maker has said that the length is right.
    confirmed: bool,
    replace: bool,
}

/// A file that could be read, made ready for drawing.
struct Looked {
    brought: Brought,
    sheets: Sheets,
}

/// Why a file cannot be brought in, and whether its unit is all that is missing.
struct Refused {
    words: String,
    asks_unit: bool,
}

/// Whether a file is a drawing to bring in.
pub(crate) fn takes(path: &Path) -> bool {
    Kind::of(path).is_some()
}

/// Reads a file and shows it; nothing of the project is changed.
pub(crate) fn look_at(desk: &mut Desk, file: PathBuf) {
    let mut bring = Bring {
        file,
        options: BringOptions::default(),
        reading: None,
        looked: None,
        of: 0,
        confirmed: false,
        replace: false,
    };
    bring.read();
    desk.exchange.bring = Some(bring);
}

impl Bring {
    fn read(&mut self) {
        let (tell, told) = channel();
        let (file, options) = (self.file.clone(), self.options.clone());
        std::thread::spawn(move || {
            let looked = bring_file(&file, &options)
                .map(|brought| Looked { sheets: Sheets::of(&brought.pattern, 0.3), brought });
            // Nobody waits any more when the window was shut.
            let _ = tell.send(looked.map_err(|why| Refused {
                asks_unit: matches!(why, ExchangeError::NoUnit),
                words: why.to_string(),
            }));
        });
        self.reading = Some(told);
    }

    fn name(&self) -> String {
        self.file.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned())
    }

    fn hear(&mut self, ctx: &Context) {
        let Some(told) = &self.reading else { return };
        match told.try_recv() {
            Ok(looked) => {
                self.looked = Some(looked);
                self.reading = None;
            }
            Err(TryRecvError::Disconnected) => {
                let words = "the file could not be read; try another".into();
                self.looked = Some(Err(Refused { words, asks_unit: false }));
                self.reading = None;
            }
            Err(TryRecvError::Empty) => {
                ctx.request_repaint_after(std::time::Duration::from_millis(50));
            }
        }
    }
}

/// What was pressed.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Pressed {
    Into,
    New,
    Leave,
}

/// Shows the file being looked at.
pub(super) fn window(desk: &mut Desk, ctx: &Context) {
    let Some(mut bring) = desk.exchange.bring.take() else { return };
    bring.hear(ctx);
    let mut pressed = None;
    let shut = modal(ctx, "bring in", 860.0, |ui| pressed = show(desk, &mut bring, ui));
    match pressed {
        Some(Pressed::Into) => bring_into(desk, &bring),
        Some(Pressed::New) => start_new(desk, &bring),
        Some(Pressed::Leave) => {}
        None if shut => {}
        None => desk.exchange.bring = Some(bring),
    }
}

fn show(desk: &Desk, bring: &mut Bring, ui: &mut Ui) -> Option<Pressed> {
    ui.heading(format!("Bring in “{}”", bring.name()));
    aside(desk, ui, "The project on the table is not changed until you bring the pieces in.");
    let high = ui.ctx().content_rect().height() - 190.0;
    let high = high.max(200.0);
    ScrollArea::vertical().max_height(high).min_scrolled_height(high).show(ui, |ui| {
        if bring.reading.is_some() {
            ui.label("Reading…");
        }
        match bring.looked.take() {
            Some(Ok(looked)) => {
                ui.columns(2, |columns| {
                    left(&mut columns[0], |ui| {
                        draw(desk, ui, &looked);
                        scale(desk, ui, bring, &looked.brought);
                    });
                    left(&mut columns[1], |ui| {
                        clash(desk, ui, bring, &looked.brought);
                        list(desk, ui, &looked.brought);
                    });
                });
                bring.looked = Some(Ok(looked));
            }
            Some(Err(refused)) => {
                fault(desk, ui, &words_in(&refused.words, desk.unit()));
                if refused.asks_unit || bring.options.unit.is_some() {
                    choose_unit(ui, bring);
                }
                bring.looked = Some(Err(refused));
            }
            None => {}
        }
    });
    ui.separator();
    buttons(desk, bring, ui)
}

/// A column with room for the scroll bar, its words not spread to its width.
fn left(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    let wide = ui.available_width() - 12.0;
    ui.with_layout(egui::Layout::top_down(egui::Align::LEFT), |ui| {
        ui.set_max_width(wide);
        add(ui);
    });
}

fn buttons(desk: &Desk, bring: &Bring, ui: &mut Ui) -> Option<Pressed> {
    let ready = matches!(&bring.looked, Some(Ok(_))) && bring.reading.is_none() && bring.confirmed;
    let mut pressed = None;
    ui.horizontal_wrapped(|ui| {
        let open = desk.replay.current().is_ok();
        let into = ui.add_enabled(ready && open, Button::new("Bring the pieces in"));
        let why = "First confirm the scale against a length you know";
        if into.on_disabled_hover_text(why).clicked() {
            pressed = Some(Pressed::Into);
        }
        let saved = !desk.is_unsaved();
        let new = ui.add_enabled(ready && saved, Button::new("Start a new project with them"));
        let why = if saved { why } else { "First save the work on the table" };
        if new.on_disabled_hover_text(why).clicked() {
            pressed = Some(Pressed::New);
        }
        if ui.button("Leave it").clicked() {
            pressed = Some(Pressed::Leave);
        }
    });
    pressed
}

/// The pieces side by side, as they would lie on the table.
fn draw(desk: &Desk, ui: &mut Ui, looked: &Looked) {
    const GAP: f64 = 60.0;
    let names: Vec<&str> = looked.sheets.sheets.iter().map(|s| s.piece.as_str()).collect();
    let words = format!("The pieces of the file: {}", names.join(", "));
    let (rect, painter) = frame(ui, &desk.palette, 300.0, &words);
    let mut x = 0.0;
    let mut moves = Vec::new();
    let mut whole: Option<hangtrue_geometry::Rect> = None;
    for sheet in &looked.sheets.sheets {
        let by = hangtrue_geometry::Vec2::new(x - sheet.bounds.x0, -sheet.bounds.y0);
        let laid = sheet.bounds + by;
        whole = Some(whole.map_or(laid, |w| w.union(laid)));
        x += sheet.bounds.width() + GAP;
        moves.push(by);
    }
    let Some(whole) = whole else { return };
    let view = fitted(whole, rect.shrink(10.0));
    for ((sheet, by), piece) in
        looked.sheets.sheets.iter().zip(moves).zip(&looked.brought.pattern.pieces)
    {
        let place = view * Affine::translate(by);
        paint(&painter, &desk.palette, sheet, piece, place);
        let at = crate::view::pos(place * sheet.bounds.center());
        let font = egui::TextStyle::Body.resolve(ui.style());
        painter.text(at, egui::Align2::CENTER_CENTER, &sheet.piece, font, desk.palette.ink);
    }
}

fn paint(
    painter: &Painter,
    palette: &Palette,
    sheet: &crate::sheet::Sheet,
    piece: &hangtrue_pattern::Piece,
    place: Affine,
) {
    painter.add(Shape::mesh(sheet.paper.mesh(place, palette.paper)));
    let ink = Stroke::new(1.4, palette.ink);
    painter.add(Shape::line(on_screen(&sheet.outline, place), ink));
    for leg in &sheet.darts {
        painter.add(Shape::line(on_screen(leg, place), ink));
    }
    let soft = Stroke::new(1.0, palette.ink_soft);
    for line in &piece.inner {
        let points = on_screen(&crate::sheet::drawn(&line.chain, 0.3), place);
        painter.extend(Shape::dashed_line(&points, soft, 6.0, 4.0));
    }
    let grain = on_screen(&[piece.grain.from, piece.grain.to], place);
    painter.add(Shape::line(grain, soft));
}

fn choose_unit(ui: &mut Ui, bring: &mut Bring) {
    ui.label("What are the numbers of the file?");
    let mut unit = bring.options.unit;
    ui.horizontal_wrapped(|ui| {
        for (words, one) in [
            ("Millimetres", FileUnit::Mm),
            ("Centimetres", FileUnit::Cm),
            ("Inches", FileUnit::Inch),
            ("Pixels of 1/96 in", FileUnit::Px),
        ] {
            ui.radio_value(&mut unit, Some(one), words);
        }
    });
    if unit != bring.options.unit {
        bring.options.unit = unit;
        bring.confirmed = false;
        bring.read();
    }
}

/// One length of the file against what the maker knows of it.
fn scale(desk: &Desk, ui: &mut Ui, bring: &mut Bring, brought: &Brought) {
    let unit = desk.unit();
    part(ui, "Is the scale right?");
    if bring.options.unit.is_some() {
        choose_unit(ui, bring);
    }
    let name = |of: &Option<String>| match of {
        Some(name) => format!("“{name}”"),
        None => "the tallest outline, its height".to_owned(),
    };
    let of = bring.of.min(brought.lengths.len().saturating_sub(1));
    let Some(chosen) = brought.lengths.get(of) else { return };
    let shown = ComboBox::from_id_salt("known length")
        .selected_text(name(&chosen.of))
        .width(ui.available_width() - 20.0)
        .show_ui(ui, |ui| {
            for (index, length) in brought.lengths.iter().enumerate() {
                let words = format!("{}: {}", name(&length.of), show_length(length.mm, unit));
                if ui.selectable_label(index == of, words).clicked() {
                    bring.of = index;
                    bring.confirmed = false;
                }
            }
        });
    name_id(ui, shown.response.id, &format!("Length you know: {}", name(&chosen.of)));
    let mut truly = chosen.mm;
    ui.horizontal(|ui| {
        ui.label("It measures");
        if bare_length_field(ui, &desk.palette, "True length", &mut truly, unit)
            && truly > 0.0
            && (truly - chosen.mm).abs() > 1e-9
        {
            bring.options.known = Some(KnownLength { mm: truly, of: chosen.of.clone() });
            bring.confirmed = false;
            bring.read();
        }
    });
    ui.checkbox(&mut bring.confirmed, "I know this length, and it is right");
    aside(
        desk,
        ui,
        "Measure one line on the card or on the original with a tape. Is it another length? Write the true one, and everything is scaled by it.",
    );
}

fn list(desk: &Desk, ui: &mut Ui, brought: &Brought) {
    part(ui, "Kept");
    for piece in &brought.pattern.pieces {
        let bounds = piece.bounds();
        let seams: Vec<&str> = piece.seams.iter().map(|s| s.name.as_str()).collect();
        let words = format!(
            "{}: {} by {}; seams: {}; darts: {}, notches: {}, inner lines: {}",
            piece.name,
            show_length(bounds.width(), desk.unit()),
            show_length(bounds.height(), desk.unit()),
            shortened(&seams),
            piece.darts().count(),
            piece.notches.len(),
            piece.inner.len()
        );
        ui.add(egui::Label::new(words).wrap());
    }
    for join in &brought.pattern.joins {
        aside(desk, ui, format!("the join “{}”, proposed by the names of the seams", join.name));
    }
    part(ui, "Not kept");
    if brought.lost.is_empty() {
        aside(desk, ui, "Everything in the file is kept.");
    }
    for loss in &brought.lost {
        ui.add(egui::Label::new(format!("{} × {}", loss.count, loss.what)).wrap());
    }
    if !brought.notes.is_empty() {
        part(ui, "To look at");
    }
    for note in &brought.notes {
        ui.add(egui::Label::new(words_in(note, desk.unit())).wrap());
    }
}

/// The first names, and how many more there are.
fn shortened(names: &[&str]) -> String {
    const SHOWN: usize = 8;
    let first = names[..names.len().min(SHOWN)].join(", ");
    match names.len().checked_sub(SHOWN) {
        None | Some(0) => first,
        Some(more) => format!("{first} and {more} more"),
    }
}

/// What becomes of pieces whose names are on the table already.
fn clash(desk: &Desk, ui: &mut Ui, bring: &mut Bring, brought: &Brought) {
    let Ok(current) = desk.replay.current() else { return };
    let taken: Vec<&str> = brought
        .pattern
        .pieces
        .iter()
        .map(|p| p.name.as_str())
        .filter(|n| current.piece(n).is_ok())
        .collect();
    if taken.is_empty() {
        return;
    }
    part(ui, "On the table already");
    ui.label(taken.join(", "));
    ui.radio_value(&mut bring.replace, false, "Lay the new ones beside them, numbered");
    ui.radio_value(&mut bring.replace, true, "Let the new ones take their place");
}

fn bring_into(desk: &mut Desk, bring: &Bring) {
    let (Some(Ok(looked)), Ok(current)) = (&bring.looked, desk.replay.current().cloned()) else {
        return;
    };
    let name = bring.name();
    let change = BringIn::of(&name, &looked.brought.pattern, &current, bring.replace);
    let words = change.words();
    let change = Change::BringIn(change);
    match change.apply(&current) {
        Err(why) => desk.tell_fault(why.to_string()),
        Ok(outcome) => {
            desk.set_draft(None);
            desk.show_now();
            desk.edit(&words, |d| d.push(&format!("brought in {name}"), change));
            desk.fit_wanted = true;
            let notes: String = outcome.notes.iter().map(|n| format!(" Note: {n}.")).collect();
            desk.tell(format!("{words}. Undo takes all of it back.{notes}"));
        }
    }
}

fn start_new(desk: &mut Desk, bring: &Bring) {
    let Some(Ok(looked)) = &bring.looked else { return };
    let unit: Unit = desk.unit();
    let name = bring.name();
    let stem = bring.file.file_stem().map_or(name.clone(), |s| s.to_string_lossy().into_owned());
    let document = looked.brought.clone().document(&stem, "", unit);
    desk.put(document, None);
    desk.files.never_saved();
    desk.tell(format!("a new project was started with {name}. Save it to keep it."));
}
