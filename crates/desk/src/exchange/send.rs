//! Sending the pattern out: as SVG, as DXF, a sheet a piece, or one page for a
//! projector.

use super::modal;
use crate::cards::aside;
use crate::desk::desk::Desk;
use crate::desk::files::{self, Asked};
use crate::kit::length_field::bare_length_field;
use egui::{Context, Ui};
use hangtrue_files::exchange::{DxfForm, SendOptions, dxf_of, svg_of};
use hangtrue_files::print::{
    Allowance, DrawOptions, ProjectorOptions, piece_sheets, projector_page,
};
use hangtrue_files::save::write_whole;
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

/// Opens the window.
pub(crate) fn open(desk: &mut Desk) {
    desk.exchange.send.open = true;
}

/// Shows the window when it is open.
pub(crate) fn window(desk: &mut Desk, ctx: &Context) {
    if !desk.exchange.send.open {
        return;
    }
    let mut pressed = None;
    let shut = modal(ctx, "send out", 520.0, |ui| pressed = show(desk, ui));
    if shut || pressed.is_some() {
        desk.exchange.send.open = false;
    }
    let asked = desk.exchange.send.form.asked();
    match pressed {
        Some(Pressed::Save) => files::ask(desk, asked),
        Some(Pressed::Type) => desk.files.typed = Some((asked, String::new(), None)),
        _ => {}
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Pressed {
    Save,
    Type,
    Leave,
}

fn show(desk: &mut Desk, ui: &mut Ui) -> Option<Pressed> {
    let (unit, palette) = (desk.unit(), desk.palette);
    ui.heading("Send the pattern out");
    let send = &mut desk.exchange.send;
    for form in Form::ALL {
        ui.radio_value(&mut send.form, form, form.words());
    }
    ui.separator();
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
        desk,
        ui,
        match desk.exchange.send.form {
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
        if ui.button("Leave it").clicked() {
            pressed = Some(Pressed::Leave);
        }
    });
    pressed
}

fn usual_grid(unit: Unit) -> f64 {
    if matches!(unit, Unit::Mm | Unit::Cm) { 50.0 } else { 2.0 * INCH }
}

/// Writes the pattern as it was chosen.
pub(crate) fn write(desk: &mut Desk, asked: Asked, path: &Path) {
    let Ok(pattern) = desk.replay.current().cloned() else {
        return desk.tell_fault("there is no pattern to send out yet");
    };
    let path = if path.extension().is_none() {
        path.with_extension(asked.ending())
    } else {
        path.to_owned()
    };
    let made = made(desk, &pattern).and_then(|(bytes, notes)| {
        write_whole(&path, &bytes).map_err(|e| e.to_string())?;
        Ok(notes)
    });
    match made {
        Ok(notes) => {
            let notes: String = notes.iter().map(|n| format!(" Note: {n}.")).collect();
            desk.tell(format!("written to “{}”.{notes}", path.display()));
        }
        Err(why) => desk.tell_fault(why),
    }
}

fn made(desk: &Desk, pattern: &Pattern) -> Result<(Vec<u8>, Vec<String>), String> {
    let (send, document) = (&desk.exchange.send, desk.document());
    let allowance = send
        .with_allowance
        .then(|| Allowance::all_round(send.allowance).with(names::HEM, send.hem));
    let options = SendOptions {
        allowance: allowance.clone(),
        title: document.title.clone(),
        size: document.client.clone(),
        label: Vec::new(),
    };
    let draw = DrawOptions {
        unit: desk.unit(),
        allowance,
        label: vec![document.client.clone()],
        ..DrawOptions::default()
    };
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
            let grid = send.with_grid.then(|| send.grid.unwrap_or_else(|| usual_grid(desk.unit())));
            let projector = ProjectorOptions { line: send.line, inverted: send.inverted, grid };
            projector_page(pattern, &draw, &projector, &document.title)
                .map(|p| (p.pdf, p.notes))
                .map_err(|e| e.to_string())
        }
    }
}
