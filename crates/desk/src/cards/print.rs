//! Print: paper, sheets, and the sheet for marking the toile.

use super::{aside, fault, part};
use crate::desk::desk::Desk;
use crate::desk::files::{self, Asked};
use crate::kit::length_field::bare_length_field;
use egui::{ComboBox, Ui};
use hangtrue_files::print::{
    self, Allowance, Block, DrawOptions, Paper, Printed, Report, TileOptions, print_pattern,
};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Pattern, names};
use std::path::Path;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, channel};
use std::time::Instant;

/// What is chosen, and the sheets it comes to.
pub(crate) struct PrintCard {
    options: Options,
    sheets: Option<Sheets>,
    work: Option<Work>,
}

/// Sheets worked out: for which pattern and choices, and what came of it.
type Sheets = (Arc<Pattern>, Options, Result<Arc<Printed>, String>);

/// Sheets being worked out beside the desk.
struct Work {
    begun: Instant,
    pattern: Arc<Pattern>,
    options: Options,
    told: Receiver<Result<Printed, String>>,
}

#[derive(Debug, Clone, PartialEq)]
struct Options {
    paper: Paper,
    roll: f64,
    tiles: TileOptions,
    with_allowance: bool,
    allowance: f64,
    hem: f64,
    seam_names: bool,
    unit: Unit,
    title: String,
    client: String,
}

impl Default for PrintCard {
    fn default() -> Self {
        let options = Options {
            paper: Paper::A4,
            roll: 914.4,
            tiles: TileOptions::default(),
            with_allowance: false,
            allowance: 15.0,
            hem: 40.0,
            seam_names: true,
            unit: Unit::default(),
            title: String::new(),
            client: String::new(),
        };
        Self { options, sheets: None, work: None }
    }
}

impl PrintCard {
    /// The sheets as they would be printed now, if they are worked out.
    pub fn printed(&self) -> Option<Arc<Printed>> {
        self.sheets.as_ref()?.2.as_ref().ok().cloned()
    }
}

/// Shows the card.
pub(super) fn show(desk: &mut Desk, ui: &mut Ui) {
    let Ok(pattern) = desk.replay.current().cloned() else { return };
    choose(desk, ui);
    desk.cards.print.options.unit = desk.unit();
    desk.cards.print.options.title = desk.document().title.clone();
    desk.cards.print.options.client = desk.document().client.clone();
    work_out(desk, ui, &pattern);
    part(ui, "The sheets");
    match desk.cards.print.sheets.as_ref().map(|s| s.2.clone()) {
        Some(Ok(printed)) => {
            let grid = &printed.grid;
            let skipped = grid.tiles.len() - grid.sheets();
            let skipped = match skipped {
                0 => "none of them blank".to_owned(),
                n => format!("{n} blank ones skipped"),
            };
            ui.add(egui::Label::new(format!(
                "{} pages: {} sheets in {} rows of {}, {skipped}. The first page has the test squares: measure them before cutting. Close shears and rotary cutter between cuts.",
                printed.pages, grid.sheets(), grid.rows, grid.columns
            )).wrap());
            for note in &printed.notes {
                aside(desk, ui, note);
            }
            if ui.button("Save the sheets as PDF…").clicked() {
                files::ask(desk, Asked::SavePdf);
            }
            if ui.button("Save the sheets by typing a place…").clicked() {
                desk.files.typed = Some((Asked::SavePdf, String::new(), None));
            }
        }
        Some(Err(why)) => fault(desk, ui, &why),
        None => {
            if let Some(work) = &desk.cards.print.work {
                ui.horizontal(|ui| {
                    ui.spinner();
                    let so_far = work.begun.elapsed().as_secs_f32();
                    ui.label(format!("Working the sheets out… {so_far:.1} s"));
                });
            }
            if desk.cards.print.work.is_some() && ui.button("Do not wait").clicked() {
                desk.cards.print.work = None;
                desk.go_to(crate::board::stage::Stage::Walk);
            }
        }
    }
    part(ui, "Marking the toile");
    marking(desk, ui, &pattern);
}

fn choose(desk: &mut Desk, ui: &mut Ui) {
    let (palette, unit) = (desk.palette, desk.unit());
    let options = &mut desk.cards.print.options;
    let roll = Paper::Roll { width_mm: options.roll };
    ui.horizontal_wrapped(|ui| {
        ui.label("Paper");
        let shown = ComboBox::from_id_salt("paper")
            .selected_text(options.paper.name())
            .width(170.0)
            .show_ui(ui, |ui| {
                for paper in [Paper::A4, Paper::Letter, Paper::A3, Paper::A0, roll] {
                    ui.selectable_value(&mut options.paper, paper, paper.name());
                }
            });
        crate::kit::length_field::name_id(
            ui,
            shown.response.id,
            &format!("Paper: {}", options.paper.name()),
        );
    });
    if matches!(options.paper, Paper::Roll { .. }) {
        crate::kit::length_field::length_field(
            ui,
            &palette,
            "Width of the roll",
            &mut options.roll,
            unit,
        );
        options.paper = Paper::Roll { width_mm: options.roll };
    }
    for (label, value) in [
        ("Edge left free", &mut options.tiles.margin),
        ("Sheets overlap by", &mut options.tiles.overlap),
    ] {
        ui.horizontal(|ui| {
            ui.label(label);
            bare_length_field(ui, &palette, label, value, unit);
        });
    }
    ui.checkbox(&mut options.with_allowance, "Add seam allowance");
    if options.with_allowance {
        for (label, value) in [
            ("Allowance on seams", &mut options.allowance),
            ("Allowance on the hem", &mut options.hem),
        ] {
            ui.horizontal(|ui| {
                ui.label(label);
                bare_length_field(ui, &palette, label, value, unit);
            });
        }
    }
    ui.checkbox(&mut options.seam_names, "Write the names of seams and corners");
}

/// Works the sheets out beside the desk when the pattern or a choice changed.
fn work_out(desk: &mut Desk, ui: &Ui, pattern: &Arc<Pattern>) {
    let card = &mut desk.cards.print;
    if let Some(work) = &card.work {
        match work.told.try_recv() {
            Ok(result) => {
                card.sheets =
                    Some((work.pattern.clone(), work.options.clone(), result.map(Arc::new)));
                card.work = None;
                desk.fit_wanted = true;
            }
            Err(std::sync::mpsc::TryRecvError::Disconnected) => card.work = None,
            Err(std::sync::mpsc::TryRecvError::Empty) => {}
        }
    }
    let card = &mut desk.cards.print;
    let fresh = |p: &Arc<Pattern>, o: &Options| Arc::ptr_eq(p, pattern) && *o == card.options;
    let done = card.sheets.as_ref().is_some_and(|s| fresh(&s.0, &s.1));
    let under_way = card.work.as_ref().is_some_and(|w| fresh(&w.pattern, &w.options));
    if done || under_way {
        return;
    }
    let (tell, told) = channel();
    let (pattern, options) = (pattern.clone(), card.options.clone());
    let begun = Instant::now();
    card.work = Some(Work { begun, pattern: pattern.clone(), options: options.clone(), told });
    let ctx = ui.ctx().clone();
    std::thread::spawn(move || {
        let printed = sheets_of(&pattern, &options);
        // Nobody waits any more when another choice was made meanwhile.
        let _ = tell.send(printed);
        ctx.request_repaint();
    });
}

fn sheets_of(pattern: &Pattern, options: &Options) -> Result<Printed, String> {
    let allowance = options
        .with_allowance
        .then(|| Allowance::all_round(options.allowance).with(names::HEM, options.hem));
    let draw = DrawOptions {
        unit: options.unit,
        allowance,
        label: vec![options.client.clone()],
        seam_names: options.seam_names,
        corner_names: options.seam_names,
        ..DrawOptions::default()
    };
    print_pattern(pattern, &draw, options.paper, &options.tiles, &options.title)
        .map_err(|e| e.to_string())
}

/// Writes the sheets as they are shown.
pub(crate) fn save_pdf(desk: &mut Desk, path: &Path) {
    let Some(printed) = desk.cards.print.printed() else {
        return desk
            .tell_fault("the sheets are not worked out yet; turn to Print and wait a moment");
    };
    write(desk, path, &printed.pdf);
    desk.seen.printed = desk.replay.current().ok().cloned();
    desk.dirty = true;
}

fn write(desk: &mut Desk, path: &Path, bytes: &[u8]) {
    let path =
        if path.extension().is_none() { path.with_extension("pdf") } else { path.to_owned() };
    match hangtrue_files::save::write_whole(&path, bytes) {
        Ok(()) => desk.tell(format!("written to “{}”.", path.display())),
        Err(why) => desk.tell_fault(why.to_string()),
    }
}

/// What to do with the lines that go to the cloth.
const MARKING: [&str; 6] = [
    "Mark before the paper is lifted, both layers at once, so that left and right leg carry the same marks.",
    "Wax transfer paper: one sheet under the lower layer with its wax up, one over the upper layer with its wax down; then run the tracing wheel along the line.",
    "Mark the grain in short lengths.",
    "Lines named as paper only stay on the paper.",
    "Roll the tracing wheel away from the hand that holds the paper.",
    super::pinch::PINS,
];

fn marking(desk: &mut Desk, ui: &mut Ui, pattern: &Pattern) {
    for line in pattern.lines.iter().filter(|l| l.purpose.to_cloth()) {
        ui.label(format!("• {} on the {}", line.name, line.piece));
    }
    for words in MARKING {
        aside(desk, ui, words);
    }
    if ui.button("Save the marking sheet as PDF…").clicked() {
        files::ask(desk, Asked::SaveMarking);
    }
    if ui.button("Save the marking sheet by typing a place…").clicked() {
        desk.files.typed = Some((Asked::SaveMarking, String::new(), None));
    }
}

/// Writes the sheet that lies beside the toile while it is marked.
pub(crate) fn save_marking(desk: &mut Desk, path: &Path) {
    let Ok(pattern) = desk.replay.current().cloned() else { return };
    match marking_pdf(desk, &pattern) {
        Ok(pdf) => write(desk, path, &pdf),
        Err(why) => desk.tell_fault(why),
    }
}

fn marking_pdf(desk: &Desk, pattern: &Pattern) -> Result<Vec<u8>, String> {
    let mut blocks = vec![Block::Heading("Lines that go to the cloth".into())];
    for line in pattern.lines.iter().filter(|l| l.purpose.to_cloth()) {
        blocks.push(Block::Paragraph(format!(
            "{} on the {}: {} It is there because it {}.",
            crate::kit::words::capital(&line.name),
            line.piece,
            line.rule.sentence(desk.unit()),
            line.purpose.reason()
        )));
    }
    let on_paper: Vec<String> = pattern
        .lines
        .iter()
        .filter(|l| !l.purpose.to_cloth())
        .map(|l| format!("{} on the {}", l.name, l.piece))
        .collect();
    if !on_paper.is_empty() {
        blocks.push(Block::Paragraph(format!("Paper only: {}.", on_paper.join(", "))));
    }
    blocks.push(Block::Heading("How to mark".into()));
    blocks.extend(MARKING.map(|words| Block::Paragraph(words.into())));
    let report = Report {
        paper: Paper::A4,
        title: format!("Marking {}", desk.document().title),
        client: desk.document().client.clone(),
        blocks,
        foot: crate::kit::words::today(),
    };
    print::report_pdf(&report).map_err(|e| e.to_string())
}
