//! Sending the pattern out: as SVG, as DXF, a sheet a piece, or one page for a
//! projector.

use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::Requests;
use crate::kit::length_field::bare_length_field;
use crate::kit::modal::{Edge, modal};
use crate::kit::say::aside;
use egui::{Context, Ui};
use hangtrue_files::exchange::{DxfForm, SendOptions, dxf_of, svg_of};
use hangtrue_files::print::{
    Allowance, DrawOptions, ProjectorOptions, piece_sheets, projector_page,
};
use hangtrue_files::save::{Over, write_output};
use hangtrue_pattern::units::{INCH, Unit};
use hangtrue_pattern::{Pattern, names};
use std::path::Path;

/// As what the pattern is sent out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Form {
    #[default]
    Svg,
    Sewn,
    Plain,
    Pieces,
    Projector,
}

impl Form {
    const ALL: [Self; 5] = [Self::Svg, Self::Sewn, Self::Plain, Self::Pieces, Self::Projector];

    fn words(self) -> &'static str {
        match self {
            Self::Svg => "SVG: for drawing programs, layers as groups",
            Self::Sewn => "DXF for sewing rooms: a block a piece, numbered layers",
            Self::Plain => "DXF for drawing programs: exact curves, named layers",
            Self::Pieces => "PDF, a sheet a piece: for a plotter or a print shop",
            Self::Projector => "PDF, one page for a projector over the table",
        }
    }

    fn asked(self) -> Asked {
        match self {
            Self::Svg => Asked::SendSvg,
            Self::Sewn | Self::Plain => Asked::SendDxf,
            Self::Pieces | Self::Projector => Asked::SendPdf,
        }
    }
}

/// What is chosen.
pub(crate) struct Send {
    open: bool,
    form: Form,
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
            form: Form::default(),
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
    let asked = own.form.asked();
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
    for form in Form::ALL {
        ui.radio_value(&mut send.form, form, form.words());
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
    if send.form == Form::Projector {
        length(ui, "No line thinner than", &mut send.line);
        ui.checkbox(&mut send.inverted, "Light lines on black");
        ui.checkbox(&mut send.with_grid, "A grid to measure on the table");
        if send.with_grid {
            let mut grid = send.grid.unwrap_or_else(|| usual_grid(unit));
            length(ui, "Side of its squares", &mut grid);
            send.grid = Some(grid);
        }
    }
    aside(
        board,
        ui,
        match own.form {
            Form::Projector => {
                "Lay a tape on the table both ways: the outer frame must measure what is written under it before you cut."
            }
            Form::Pieces => "Print at 100 %, and measure the square on each sheet before you cut.",
            _ => {
                "All lengths are true mm. Where it is opened, measure one line you know before you cut."
            }
        },
    );
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

fn usual_grid(unit: Unit) -> f64 {
    if matches!(unit, Unit::Mm | Unit::Cm) { 50.0 } else { 2.0 * INCH }
}

impl Send {
    /// Writes the pattern as it was chosen; gives what is told of it.
    pub fn write(&self, board: &Board, path: &Path) -> Result<String, String> {
        let Ok(pattern) = board.replay.current() else {
            return Err("there is no pattern to send out yet".into());
        };
        let (bytes, notes) = made(self, board, pattern)?;
        write_output(path, &bytes, Over::Replace).map_err(|e| e.to_string())?;
        let notes: String = notes.iter().map(|n| format!(" Note: {n}.")).collect();
        Ok(format!("written to “{}”.{notes}", path.display()))
    }
}

fn made(send: &Send, board: &Board, pattern: &Pattern) -> Result<(Vec<u8>, Vec<String>), String> {
    let document = board.document();
    let allowance = send
        .with_allowance
        .then(|| Allowance::all_round(send.allowance).with(names::HEM, send.hem));
    // The name leaves the house only when asked.
    let name = (send.with_name && !document.client.is_empty())
        .then(|| format!("for: {}", document.client));
    let label: Vec<String> = name.into_iter().collect();
    let options = SendOptions {
        allowance: allowance.clone(),
        title: document.title.clone(),
        // One body's pattern has no size of a table; a girth of that body is as
        // private as its name.
        size: String::new(),
        label: label.clone(),
    };
    let draw = DrawOptions { unit: board.unit(), allowance, label, ..DrawOptions::default() };
    let dxf = |form| dxf_of(pattern, &options, form).map_err(|e| e.to_string());
    match send.form {
        Form::Svg => svg_of(pattern, &options)
            .map(|(text, notes)| (text.into_bytes(), notes))
            .map_err(|e| e.to_string()),
        Form::Sewn => dxf(DxfForm::Sewn),
        Form::Plain => dxf(DxfForm::Plain),
        Form::Pieces => piece_sheets(pattern, &draw, &document.title)
            .map(|p| (p.pdf, p.notes))
            .map_err(|e| e.to_string()),
        Form::Projector => {
            let grid =
                send.with_grid.then(|| send.grid.unwrap_or_else(|| usual_grid(board.unit())));
            let projector = ProjectorOptions { line: send.line, inverted: send.inverted, grid };
            projector_page(pattern, &draw, &projector, &document.title)
                .map(|p| (p.pdf, p.notes))
                .map_err(|e| e.to_string())
        }
    }
}
