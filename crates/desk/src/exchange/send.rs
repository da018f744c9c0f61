//! Sending the pattern out, as one of the list of exports.

use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::Requests;
use crate::kit::length_field::bare_length_field;
use crate::kit::modal::{Edge, modal};
use crate::kit::say::aside;
use egui::{Context, Ui};
use hangtrue_files::exports::{EXPORTS, Export, Sending};
use hangtrue_files::print::{Allowance, ProjectorOptions};
use hangtrue_files::save::{Over, write_output};
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{Pattern, names};
use std::path::Path;

/// What is chosen.
pub(crate) struct Send {
    open: bool,
    export: &'static Export,
    with_name: bool,
    with_allowance: bool,
    allowance: f64,
    hem: f64,
    line: f64,
    inverted: bool,
    with_grid: bool,
    grid: Option<f64>,
}

impl Default for Send {
    fn default() -> Self {
        Self {
            open: false,
            export: &EXPORTS[0],
            with_name: false,
            with_allowance: false,
            allowance: 15.0,
            hem: 40.0,
            line: ProjectorOptions::default().line,
            inverted: false,
            with_grid: true,
            grid: None,
        }
    }
}

impl Send {
    /// Opens the window.
    pub fn open(&mut self) {
        self.open = true;
    }
}

/// Shows the window when it is open.
pub(super) fn window(own: &mut Send, board: &Board, requests: &mut Requests, ctx: &Context) {
    if !own.open {
        return;
    }
    let mut pressed = None;
    let shut = modal(ctx, "send out", Edge::Thin, 520.0, |ui| pressed = show(own, board, ui));
    if shut || pressed.is_some() {
        own.open = false;
    }
    let asked = Asked::Send(own.export);
    match pressed {
        Some(Pressed::Save) => requests.ask(asked),
        Some(Pressed::Type) => requests.type_place(asked),
        _ => {}
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Pressed {
    Save,
    Type,
    Leave,
}

fn show(own: &mut Send, board: &Board, ui: &mut Ui) -> Option<Pressed> {
    let (unit, palette) = (board.unit(), board.palette);
    ui.heading("Send the pattern out");
    let send = &mut *own;
    for export in EXPORTS {
        ui.radio_value(&mut send.export, export, export.name);
    }
    ui.separator();
    ui.checkbox(&mut send.with_name, "With the name of the person");
    ui.checkbox(&mut send.with_allowance, "With seam allowance");
    let length = |ui: &mut Ui, label: &str, value: &mut f64| {
        ui.horizontal(|ui| {
            ui.label(label);
            bare_length_field(ui, &palette, label, value, unit);
        });
    };
    if send.with_allowance {
        length(ui, "Allowance sent on seams", &mut send.allowance);
        length(ui, "Allowance sent on the hem", &mut send.hem);
    }
    if send.export.for_projector {
        length(ui, "No line thinner than", &mut send.line);
        ui.checkbox(&mut send.inverted, "Light lines on black");
        ui.checkbox(&mut send.with_grid, "A grid to measure on the table");
        if send.with_grid {
            send.grid = send.grid.or(ProjectorOptions::usual(unit).grid);
            if let Some(grid) = &mut send.grid {
                length(ui, "Side of its squares", grid);
            }
        }
    }
    aside(board, ui, own.export.before_cutting);
    let mut pressed = None;
    ui.horizontal_wrapped(|ui| {
        if ui.button("Save it…").clicked() {
            pressed = Some(Pressed::Save);
        }
        if ui.button("Save it by typing a place…").clicked() {
            pressed = Some(Pressed::Type);
        }
        if ui.button("Cancel").clicked() {
            pressed = Some(Pressed::Leave);
        }
    });
    pressed
}

impl Send {
    /// Writes the pattern as it was chosen; gives what is told of it.
    pub fn write(&self, board: &Board, path: &Path) -> Result<String, String> {
        let Ok(pattern) = board.replay.current() else {
            return Err("there is no pattern to send out yet".into());
        };
        let sent = self.export.made(&self.sending(board, pattern));
        let sent = sent.map_err(|e| e.in_unit(board.unit()))?;
        write_output(path, &sent.bytes, Over::Replace).map_err(|e| e.to_string())?;
        let notes: String = sent.notes.iter().map(|n| format!(" Note: {n}.")).collect();
        Ok(format!("written to “{}”.{notes}", path.display()))
    }

    fn sending<'a>(&self, board: &'a Board, pattern: &'a Pattern) -> Sending<'a> {
        let document = board.document();
        // The name leaves the house only when asked.
        let name = (self.with_name && !document.client.is_empty())
            .then(|| format!("for: {}", document.client));
        let usual = ProjectorOptions::usual(board.unit()).grid;
        let grid = self.grid.or(usual).filter(|_| self.with_grid);
        Sending {
            pattern,
            title: &document.title,
            label: name.into_iter().collect(),
            allowance: self
                .with_allowance
                .then(|| Allowance::all_round(self.allowance).with(names::HEM, self.hem)),
            set: None,
            unit: board.unit(),
            projector: ProjectorOptions { line: self.line, inverted: self.inverted, grid },
        }
    }
}
