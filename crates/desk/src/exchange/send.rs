//! Sending the pattern out, as one of the list of exports.

use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::Requests;
use crate::kit::length_field::bare_length_field;
use crate::kit::modal::{Edge, modal};
use crate::kit::say::aside;
use egui::{Context, Ui};
use hangtrue_adjust::{OPEN_ROUND, Usual};
use hangtrue_cut::{CutSet, pieces_to_cut};
use hangtrue_files::exports::{EXPORTS, Export, Sending};
use hangtrue_files::print::{Allowance, ProjectorOptions, sent_label};
use hangtrue_files::save::{Over, write_output};
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{Pattern, names};
use std::path::Path;

/// What is chosen.
pub(crate) struct Send {
    open: bool,
    export: &'static Export,
    with_name: bool,
    edge: CutEdge,
    /// Another width than the usual one of the unit, mm.
    allowance: Option<f64>,
    hem: Option<f64>,
    line: f64,
    inverted: bool,
    with_grid: bool,
    grid: Option<f64>,
}

/// What lies round the sew line of what is sent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum CutEdge {
    /// Nothing: the sew line is the only outline.
    SewLine,
    /// One width on seams and another on the hem.
    TwoWidths,
    /// All pieces of the cutting plan with its allowances.
    CuttingPlan,
}

impl CutEdge {
    const ALL: [(Self, &str); 3] = [
        (Self::SewLine, "Sew lines only, no seam allowance"),
        (Self::TwoWidths, "With seam allowance"),
        (Self::CuttingPlan, "All pieces to cut, as chosen at “Print”"),
    ];
}

impl Default for Send {
    fn default() -> Self {
        Self {
            open: false,
            export: &EXPORTS[0],
            with_name: false,
            edge: CutEdge::SewLine,
            allowance: None,
            hem: None,
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
    if pressed == Some(Pressed::Save) {
        requests.ask(Asked::Send(own.export));
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Pressed {
    Save,
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
    for (edge, words) in CutEdge::ALL {
        ui.radio_value(&mut send.edge, edge, words);
    }
    let length = |ui: &mut Ui, label: &str, value: &mut f64| {
        ui.horizontal(|ui| {
            ui.label(label);
            bare_length_field(ui, &palette, label, value, unit);
        });
    };
    if send.edge == CutEdge::TwoWidths {
        let usual = Usual::of(unit);
        length(ui, "Allowance sent on seams", send.allowance.get_or_insert(usual.allowance));
        length(ui, "Allowance sent on the hem", send.hem.get_or_insert(usual.hem));
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
        let set = (self.edge == CutEdge::CuttingPlan)
            .then(|| pieces_to_cut(pattern, board.document()))
            .transpose()
            .map_err(|e| e.in_unit(board.unit()))?;
        let pattern = set.as_ref().map_or(&**pattern, |set| &set.pattern);
        let sent = self.export.made(&self.sending(board, pattern, set.as_ref()));
        let sent = sent.map_err(|e| e.in_unit(board.unit()))?;
        write_output(path, &sent.bytes, Over::Replace).map_err(|e| e.to_string())?;
        let notes: String = sent.notes.iter().map(|n| format!(" Note: {n}.")).collect();
        Ok(format!("written to “{}”.{notes}", path.display()))
    }

    fn sending<'a>(
        &self,
        board: &'a Board,
        pattern: &'a Pattern,
        set: Option<&'a CutSet>,
    ) -> Sending<'a> {
        let (document, unit) = (board.document(), board.unit());
        let (usual, of_projector) = (Usual::of(unit), ProjectorOptions::usual(unit).grid);
        let grid = self.grid.or(of_projector).filter(|_| self.with_grid);
        let widths = || {
            let all = Allowance::all_round(self.allowance.unwrap_or(usual.allowance));
            all.with(names::HEM, self.hem.unwrap_or(usual.hem))
        };
        Sending {
            pattern,
            title: &document.title,
            // The name leaves the house only when asked.
            label: sent_label(document, OPEN_ROUND, &board.today, self.with_name),
            allowance: (self.edge == CutEdge::TwoWidths).then(widths),
            set,
            unit,
            projector: ProjectorOptions { line: self.line, inverted: self.inverted, grid },
        }
    }
}
