//! Print: paper, sheets, and the sheet for marking the toile.

use super::print_cutting::{choose_cutting, length};
use super::print_papers::{Papers, handouts, sewing};
pub(crate) use super::print_papers::{save_handout, save_sewing};
use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::{Request, Requests};
use crate::board::stage::Stage;
use crate::kit::drop_down::{drop_down, item};
use crate::kit::job::{Heard, Job};
use crate::kit::length_field::name_id;
use crate::kit::on_its_own::on_its_own;
use crate::kit::say::{aside, fault, part, told};
use crate::lay::plan_of;
use egui::{ComboBox, Ui};
use hangtrue_adjust::{AllowanceSet, Document, OPEN_ROUND, PaperName, Usual};
use hangtrue_cut::{SewingOrder, SewnAs, pieces_to_cut, sewing_order};
use hangtrue_files::print::people::{
    HOW_TO_MARK, fitting_sheet, marking_sheet, marks_to_carry, measuring_sheet,
};
use hangtrue_files::print::{
    DrawOptions, Paper, Printed, TileOptions, fitting_label, print_pattern,
};
use hangtrue_files::save::{Over, write_output};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::words::InUnit;
use std::path::Path;
use std::sync::Arc;

/// What is chosen, and the sheets it comes to.
#[derive(Default)]
pub(crate) struct PrintCard {
    worked_out: Option<WorkedOut>,
    papers: Papers,
    work: Option<Work>,
}

/// Sheets worked out: for which pattern and choices, and what came of it.
type WorkedOut = (Arc<Pattern>, Options, Result<Sheets, String>);

/// The sheets, the list of the pieces on them, and what the maker is told of the plan.
#[derive(Clone)]
struct Sheets {
    printed: Arc<Printed>,
    pieces: Arc<[String]>,
    notes: Arc<[String]>,
    /// What is marked through besides the lines.
    marks: Arc<[String]>,
    orders: OrdersOf,
}

/// The order of sewing for each thing that is sewn.
pub(super) type OrdersOf = Arc<[SewingOrder]>;

/// Sheets being worked out beside the desk.
struct Work {
    pattern: Arc<Pattern>,
    options: Options,
    job: Job<Result<Sheets, String>>,
}

/// What the sheets are made with.
#[derive(Debug, Clone, PartialEq)]
struct Options {
    paper: Paper,
    tiles: TileOptions,
    /// The cutting plan and what the allowances hang from, and nothing else.
    plan: Document,
    seam_names: bool,
    unit: Unit,
    title: String,
    /// What stands on every piece and sheet: client, fitting, day.
    label: Vec<String>,
}

impl Options {
    /// As they are chosen for the project.
    fn of(board: &Board) -> Self {
        let document = board.document();
        let (printing, usual) = (&document.printing, Usual::of(board.unit()));
        let roll = printing.roll.unwrap_or(usual.roll);
        Self {
            paper: Paper::of(printing.paper.unwrap_or(usual.paper), roll),
            tiles: TileOptions {
                margin: printing.margin.unwrap_or(usual.margin),
                overlap: printing.overlap.unwrap_or(usual.overlap),
                unit: board.unit(),
            },
            plan: plan_of(document),
            seam_names: !printing.without_names,
            unit: board.unit(),
            title: document.title.clone(),
            label: fitting_label(document, OPEN_ROUND, &board.today),
        }
    }
}

/// Shows the card.
pub(super) fn show(own: &mut PrintCard, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let Ok(pattern) = board.replay.current().cloned() else { return };
    on_its_own(ui, "paper", |ui| choose_paper(board, requests, ui));
    work_out(own, requests, ui, &pattern, Options::of(board));
    // What most come for stands before what few change. What changes when the sheets are
    // worked out is a part of its own: what stands below is pressed all the same.
    let worked_out = own.worked_out.as_ref().map(|s| s.2.clone());
    let sheets = worked_out.as_ref().and_then(|w| w.as_ref().ok());
    on_its_own(ui, "the sheets", |ui| the_sheets(own, board, requests, ui, worked_out.as_ref()));
    part(ui, "What is cut");
    on_its_own(ui, "what is cut", |ui| choose_cut(board, requests, ui));
    on_its_own(ui, "the pieces", |ui| sheets.map(|sheets| the_pieces(board, ui, sheets)));
    on_its_own(ui, "sewing", |ui| {
        let orders = sheets.map(|sheets| &sheets.orders);
        orders.map(|orders| sewing(&mut own.papers, board, requests, ui, orders))
    });
    handouts(&mut own.papers, board, requests, ui);
    part(ui, "Marking the toile");
    let marks = sheets.map_or(&[][..], |sheets| &sheets.marks);
    marking(board, requests, ui, (&pattern, marks));
    part(ui, "For the fitting");
    at_the_fitting(board, requests, ui);
}

/// What is on the sheets, and what is told of it.
fn the_pieces(board: &Board, ui: &mut Ui, sheets: &Sheets) {
    part(ui, "The pieces");
    for piece in sheets.pieces.iter() {
        ui.add(egui::Label::new(piece).wrap());
    }
    for note in sheets.notes.iter() {
        aside(board, ui, note);
    }
}

/// How many sheets there are, and saving them.
fn the_sheets(
    own: &mut PrintCard,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    worked_out: Option<&Result<Sheets, String>>,
) {
    part(ui, "The sheets");
    match worked_out {
        Some(Ok(Sheets { printed, .. })) => {
            let grid = &printed.grid;
            let skipped = grid.tiles.len() - grid.sheets();
            let skipped = match skipped {
                0 => "none of them blank".to_owned(),
                1 => "a blank one left out".to_owned(),
                n => format!("{n} blank ones left out"),
            };
            ui.add(egui::Label::new(format!(
                "{} pages: {} sheets in {} rows of {}, {skipped}. The first page has the test squares: measure them before cutting. Close shears and rotary cutter between cuts.",
                printed.pages, grid.sheets(), grid.rows, grid.columns
            )).wrap());
            on_its_own(ui, "notes", |ui| {
                for note in &printed.notes {
                    aside(board, ui, note);
                }
            });
            on_its_own(ui, "no allowance", |ui| without_allowance(board, requests, ui));
            if ui.button("Save the sheets as PDF…").clicked() {
                requests.ask(Asked::SavePdf);
            }
        }
        Some(Err(why)) => fault(board, ui, why),
        None => {
            if let Some(work) = &own.work {
                ui.horizontal_wrapped(|ui| {
                    ui.spinner();
                    let so_far = work.job.elapsed().as_secs_f32();
                    ui.label(format!("Working the sheets out… {so_far:.1} s"));
                });
            }
            if own.work.is_some() && ui.button("Do not wait").clicked() {
                own.work = None;
                requests.go_to(Stage::AsSewn);
            }
        }
    }
}

/// Says it where the pieces have no seam allowance, and adds what a toile usually has.
fn without_allowance(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let document = board.document();
    let chosen = document.cutting.set;
    let is_bare = match chosen {
        None => !document.printing.with_allowance,
        Some(set) => set == AllowanceSet::None,
    };
    if !is_bare {
        return;
    }
    told(
        board,
        ui,
        "No seam allowance is drawn: the line on paper is the one you sew.".into(),
        true,
    );
    if chosen.is_none() && ui.button("Add the allowances of a toile").clicked() {
        requests.edit("the allowances of a toile", |d| d.cutting.set = Some(AllowanceSet::Toile));
    }
}

/// The paper and how the sheets lie on it, kept with the project.
fn choose_paper(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let mut printing = board.document().printing.clone();
    let usual = Usual::of(board.unit());
    let paper = printing.paper.unwrap_or(usual.paper);
    let name = paper.name();
    ui.horizontal_wrapped(|ui| {
        ui.label("Paper");
        let shown =
            drop_down(ui, ComboBox::from_id_salt("paper").selected_text(name).width(170.0), |ui| {
                for one in PaperName::ALL {
                    if item(ui, one == paper, one.name()).clicked() {
                        printing.paper = Some(one);
                    }
                }
            });
        name_id(ui, shown.response.id, &format!("Paper: {name}"));
    });
    if paper == PaperName::Roll {
        length(board, ui, "Width of the roll", &mut printing.roll, usual.roll);
    }
    length(board, ui, "Edge left free", &mut printing.margin, usual.margin);
    length(board, ui, "Sheets overlap by", &mut printing.overlap, usual.overlap);
    if printing != board.document().printing {
        requests.edit_on("how it is printed", move |d| d.printing = printing);
    }
}

/// What is cut and what stands on it, kept with the project.
fn choose_cut(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let mut printing = board.document().printing.clone();
    let usual = Usual::of(board.unit());
    let cutting = choose_cutting(board, requests, ui);
    // A set of the plan takes the place of the two widths.
    if cutting.set.is_none() {
        ui.checkbox(&mut printing.with_allowance, "Add seam allowance");
    }
    if printing.with_allowance && cutting.set.is_none() {
        length(board, ui, "Allowance on seams", &mut printing.allowance, usual.allowance);
        length(board, ui, "Allowance on the hem", &mut printing.hem, usual.hem);
    }
    let mut names = !printing.without_names;
    ui.checkbox(&mut names, "Write the names of seams and corners");
    printing.without_names = !names;
    if printing != board.document().printing {
        requests.edit_on("how it is printed", move |d| d.printing = printing);
    }
}

/// Works the sheets out beside the desk when the pattern or a choice changed.
fn work_out(
    own: &mut PrintCard,
    requests: &mut Requests,
    ui: &Ui,
    pattern: &Arc<Pattern>,
    options: Options,
) {
    if let Some(work) = &mut own.work {
        match work.job.hear(ui.ctx()) {
            Heard::Done(result) => {
                let printed = result.as_ref().ok().map(|sheets| sheets.printed.clone());
                requests.ask_for(Request::Printed(printed));
                own.worked_out = Some((work.pattern.clone(), work.options.clone(), result));
                own.work = None;
                requests.fit();
            }
            Heard::BrokeOff => own.work = None,
            Heard::Waiting => {}
        }
    }
    let fresh = |p: &Arc<Pattern>, o: &Options| Arc::ptr_eq(p, pattern) && *o == options;
    let done = own.worked_out.as_ref().is_some_and(|s| fresh(&s.0, &s.1));
    let under_way = own.work.as_ref().is_some_and(|w| fresh(&w.pattern, &w.options));
    if done || under_way {
        return;
    }
    let pattern = pattern.clone();
    let (of, by) = (pattern.clone(), options.clone());
    let job = Job::begin(ui.ctx(), "Working the sheets out", move |_| sheets_of(&of, &by));
    own.work = Some(Work { pattern, options, job });
}

fn sheets_of(pattern: &Pattern, options: &Options) -> Result<Sheets, String> {
    let set = pieces_to_cut(pattern, &options.plan).map_err(|e| e.in_unit(options.unit))?;
    let draw = DrawOptions {
        unit: options.unit,
        set: Some(&set),
        label: options.label.clone(),
        seam_names: options.seam_names,
        corner_names: options.seam_names,
        ..DrawOptions::default()
    };
    let printed = print_pattern(&set.pattern, &draw, options.paper, &options.tiles, &options.title)
        .map_err(|e| e.in_unit(options.unit))?;
    let listed = set.pieces.iter().map(|piece| {
        let how: Vec<String> = piece.to_cut.iter().map(ToString::to_string).collect();
        format!("{} {}: {}", piece.number, piece.name, how.join(", "))
    });
    Ok(Sheets {
        printed: Arc::new(printed),
        pieces: listed.collect(),
        marks: marks_to_carry(&set).into(),
        orders: SewnAs::ALL
            .map(|sewn_as| sewing_order(&set, &options.plan, sewn_as))
            .into_iter()
            .collect(),
        notes: set.notes.iter().map(|note| note.in_unit(options.unit)).collect(),
    })
}

/// Writes the sheets as they are shown; gives what is told of it.
pub(crate) fn save_pdf(board: &Board, path: &Path) -> Result<String, String> {
    let Some(printed) = &board.printed else {
        return Err("the sheets are not worked out yet; turn to Print and wait a moment".into());
    };
    write(path, &printed.pdf)
}

pub(super) fn write(path: &Path, bytes: &[u8]) -> Result<String, String> {
    write_output(path, bytes, Over::Replace).map_err(|why| why.to_string())?;
    Ok(format!("written to “{}”.", path.display()))
}

fn marking(
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    (pattern, marks): (&Pattern, &[String]),
) {
    for line in pattern.lines.iter().filter(|l| l.purpose.to_cloth()) {
        ui.label(format!("• {} on the {}", line.name, line.piece));
    }
    on_its_own(ui, "marks to carry", |ui| {
        for mark in marks {
            ui.label(format!("• {mark}"));
        }
    });
    for words in HOW_TO_MARK {
        aside(board, ui, words);
    }
    if ui.button("Save the marking sheet as PDF…").clicked() {
        requests.ask(Asked::SaveMarking);
    }
}

/// The sheet that is taken to the fitting.
fn at_the_fitting(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let words = "One paper for the fitting room: the lines with what they do on a toile that fits, the folds to look for, and the pins, with boxes to write in. It is typed in at “Toile” and “Pinch”, in the same order.";
    aside(board, ui, words);
    if ui.button("Save the fitting sheet as PDF…").clicked() {
        requests.ask(Asked::SaveFitting);
    }
}

/// Writes the sheet that lies beside the toile while it is marked; gives what is told
/// of it.
pub(crate) fn save_marking(board: &Board, path: &Path) -> Result<String, String> {
    let pattern = board.replay.current().map_err(|why| why.to_string())?;
    let sheet = marking_sheet(board.document(), pattern, &board.today);
    write(path, &sheet.map_err(|e| e.in_unit(board.unit()))?)
}

/// Writes the sheet that measures are written on.
pub(crate) fn save_measuring(board: &Board, path: &Path) -> Result<String, String> {
    write(path, &measuring_sheet(board.unit()).map_err(|e| e.in_unit(board.unit()))?)
}

/// Writes the sheet that is taken to the fitting of the toile as it was cut.
pub(crate) fn save_fitting(board: &Board, path: &Path) -> Result<String, String> {
    let cut = board.replay.toile(OPEN_ROUND).map_err(|why| why.in_unit(board.unit()))?;
    let sheet = fitting_sheet(board.document(), cut, &board.today);
    write(path, &sheet.map_err(|e| e.in_unit(board.unit()))?)
}
