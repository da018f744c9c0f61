//! Bringing a drawing in: it is read beside the desk, drawn, and listed with what
//! is not kept; its scale is confirmed against a length the maker knows; only then
//! it becomes one change of the project, or a new one.

use super::take_in;
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::job::{Job, heard};
use crate::kit::length_field::{bare_length_field, name_id};
use crate::kit::modal::{Edge, modal};
use crate::kit::say::{aside, fault, part};
use crate::kit::scroll::scrolled;
use crate::kit::sheet::Sheets;
use egui::{Button, ComboBox, Context, ScrollArea, Ui};
use hangtrue_files::exchange::{
    BringOptions, Brought, ExchangeError, FileUnit, Kind, KnownLength, bring_file,
};
use hangtrue_pattern::units::{Unit, show_length};
use hangtrue_pattern::words::InUnit;
use std::path::{Path, PathBuf};

/// A file being looked at.
pub(crate) struct Bring {
    file: PathBuf,
    options: BringOptions,
    reading: Option<Job<Result<Looked, Refused>>>,
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
pub(crate) fn look_at(own: &mut Option<Bring>, ctx: &Context, file: PathBuf) {
    let mut bring = Bring {
        file,
        options: BringOptions::default(),
        reading: None,
        looked: None,
        of: 0,
        confirmed: false,
        replace: false,
    };
    bring.read(ctx);
    *own = Some(bring);
}

impl Bring {
    fn read(&mut self, ctx: &Context) {
        let (file, options) = (self.file.clone(), self.options.clone());
        self.reading = Some(Job::begin(ctx, "Reading", move |_| {
            let brought = bring_file(&file, &options).map_err(|why| Refused {
                asks_unit: matches!(why, ExchangeError::NoUnit),
                words: why.to_string(),
            })?;
            Ok(Looked { sheets: Sheets::of(&brought.pattern, 0.3), brought })
        }));
    }

    fn name(&self) -> String {
        self.file.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned())
    }

    fn hear(&mut self, ctx: &Context) {
        if let Some(looked) = heard(&mut self.reading, ctx) {
            self.looked = Some(looked.unwrap_or_else(|| {
                let words = "the file could not be read; try another".into();
                Err(Refused { words, asks_unit: false })
            }));
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
pub(super) fn window(
    own: &mut Option<Bring>,
    board: &Board,
    requests: &mut Requests,
    ctx: &Context,
) {
    let Some(mut bring) = own.take() else { return };
    bring.hear(ctx);
    let mut pressed = None;
    let shut =
        modal(ctx, "bring in", Edge::Thin, 860.0, |ui| pressed = show(board, &mut bring, ui));
    match pressed {
        Some(Pressed::Into) => bring_into(board, requests, &bring),
        Some(Pressed::New) => start_new(board, requests, &bring),
        Some(Pressed::Leave) => {}
        None if shut => {}
        None => *own = Some(bring),
    }
}

fn show(board: &Board, bring: &mut Bring, ui: &mut Ui) -> Option<Pressed> {
    ui.heading(format!("Bring in “{}”", bring.name()));
    aside(board, ui, "The project on the table is not changed until you bring the pieces in.");
    let high = ui.ctx().content_rect().height() - 190.0;
    let high = high.max(200.0);
    let area = ScrollArea::vertical().max_height(high).min_scrolled_height(high);
    scrolled(ui, area, true, |ui| {
        if bring.reading.is_some() {
            ui.label("Reading…");
        }
        match bring.looked.take() {
            Some(Ok(looked)) => {
                ui.columns(2, |columns| {
                    left(&mut columns[0], |ui| {
                        let words = ("The pieces of the file", 300.0);
                        let (pattern, sheets) = (&looked.brought.pattern, &looked.sheets);
                        take_in::draw(board, ui, pattern, sheets, words);
                        scale(board, ui, bring, &looked.brought);
                    });
                    left(&mut columns[1], |ui| {
                        if !board.blank {
                            let pattern = &looked.brought.pattern;
                            take_in::clash(board, ui, pattern, &mut bring.replace);
                        }
                        list(board, ui, &looked.brought);
                    });
                });
                bring.looked = Some(Ok(looked));
            }
            Some(Err(refused)) => {
                fault(board, ui, &refused.words);
                if refused.asks_unit || bring.options.unit.is_some() {
                    choose_unit(ui, bring);
                }
                bring.looked = Some(Err(refused));
            }
            None => {}
        }
    });
    ui.separator();
    buttons(board, bring, ui)
}

/// A column with room for the scroll bar, its words not spread to its width.
fn left(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    let wide = ui.available_width() - 12.0;
    ui.with_layout(egui::Layout::top_down(egui::Align::LEFT), |ui| {
        ui.set_max_width(wide);
        add(ui);
    });
}

fn buttons(board: &Board, bring: &Bring, ui: &mut Ui) -> Option<Pressed> {
    let ready = matches!(&bring.looked, Some(Ok(_))) && bring.reading.is_none() && bring.confirmed;
    let mut pressed = None;
    let saved = !board.is_unsaved();
    ui.horizontal_wrapped(|ui| {
        let open = board.replay.current().is_ok();
        // Before a project is chosen there is none to bring pieces into.
        if !board.blank {
            let into = ui.add_enabled(ready && open, Button::new("Bring the pieces in"));
            if into.clicked() {
                pressed = Some(Pressed::Into);
            }
        }
        let new = ui.add_enabled(ready && saved, Button::new("Start a new project with them"));
        if new.clicked() {
            pressed = Some(Pressed::New);
        }
        if ui.button("Discard").clicked() {
            pressed = Some(Pressed::Leave);
        }
    });
    // Why they are closed is read, not only pointed at.
    if !ready {
        aside(board, ui, "First confirm the scale against a length you know.");
    } else if !saved {
        aside(board, ui, "To start a new project with them, first save the work on the table.");
    }
    pressed
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
        bring.read(ui.ctx());
    }
}

/// One length of the file against what the maker knows of it.
fn scale(board: &Board, ui: &mut Ui, bring: &mut Bring, brought: &Brought) {
    let unit = board.unit();
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
        if bare_length_field(ui, &board.palette, "True length", &mut truly, unit)
            && truly > 0.0
            && (truly - chosen.mm).abs() > 1e-9
        {
            bring.options.known = Some(KnownLength { mm: truly, of: chosen.of.clone() });
            bring.confirmed = false;
            bring.read(ui.ctx());
        }
    });
    ui.checkbox(&mut bring.confirmed, "I know this length, and it is right");
    aside(
        board,
        ui,
        "Measure one line on the card or on the original with a tape. Is it another length? Write the true one, and everything is scaled by it.",
    );
}

fn list(board: &Board, ui: &mut Ui, brought: &Brought) {
    part(ui, "Kept");
    for piece in &brought.pattern.pieces {
        let bounds = piece.bounds();
        let seams: Vec<&str> = piece.seams.iter().map(|s| s.name.as_str()).collect();
        let words = format!(
            "{}: {} by {}; seams: {}; darts: {}, notches: {}, inner lines: {}",
            piece.name,
            show_length(bounds.width(), board.unit()),
            show_length(bounds.height(), board.unit()),
            shortened(&seams),
            piece.darts().count(),
            piece.notches.len(),
            piece.inner.len()
        );
        ui.add(egui::Label::new(words).wrap());
    }
    for join in &brought.pattern.joins {
        aside(board, ui, format!("the seam “{}”, proposed by the names of the seams", join.name));
    }
    part(ui, "Not kept");
    if brought.lost.is_empty() {
        aside(board, ui, "Everything in the file is kept.");
    }
    for loss in &brought.lost {
        ui.add(egui::Label::new(format!("{} × {}", loss.count, loss.what)).wrap());
    }
    if !brought.notes.is_empty() {
        part(ui, "To look at");
    }
    for note in &brought.notes {
        ui.add(egui::Label::new(note.in_unit(board.unit())).wrap());
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

fn bring_into(board: &Board, requests: &mut Requests, bring: &Bring) {
    let Some(Ok(looked)) = &bring.looked else { return };
    let (name, pattern) = (bring.name(), &looked.brought.pattern);
    take_in::bring_into(board, requests, ("brought in", &name), pattern, bring.replace);
}

fn start_new(board: &Board, requests: &mut Requests, bring: &Bring) {
    let Some(Ok(looked)) = &bring.looked else { return };
    let unit: Unit = board.unit();
    let name = bring.name();
    let stem = bring.file.file_stem().map_or(name.clone(), |s| s.to_string_lossy().into_owned());
    let document = looked.brought.clone().document(&stem, "", unit);
    take_in::start_new(requests, document, &name);
}
