//! A new client: name or code, the few measures a block needs with a figure beside
//! them, and where the project is saved.

use super::Welcome;
use super::place::FilePlace;
use crate::about::{self, Topic};
use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::{Request, Requests};
use crate::kit::field::one_line;
use crate::kit::length_field::name_field;
use crate::kit::measure_row::{
    Rows, figure_at_foot, figure_with_words, involves, label, measure_row,
};
use crate::kit::say::{aside, fault, part};
use crate::kit::theme::bold;
use crate::kit::unit_choice::unit_row;
use egui::{
    Align, Button, CollapsingHeader, Context, Frame, Key, Label, Layout, Margin, Modifiers, Panel,
    Response, Ui,
};
use hangtrue_adjust::Document;
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{DraftError, Measure, MeasureError, Measures, Plan, draft};
use std::path::PathBuf;

/// What is written on the form.
#[derive(Debug, Clone)]
pub(super) struct Form {
    client: String,
    title: String,
    measures: Measures,
    /// What is wrong with the measures, and whether they were asked to be drafted.
    wrong: Vec<DraftError>,
    asked: bool,
    pub place: FilePlace,
    /// A file that was named and is not there yet.
    missing: Option<PathBuf>,
    /// Why the project could not be begun.
    pub refused: Option<String>,
    /// It was shown before; the first time the cursor is put into its first field.
    shown: bool,
}

impl Default for Form {
    fn default() -> Self {
        Self {
            client: String::new(),
            title: "Trousers".into(),
            measures: Measures::default(),
            wrong: Vec::new(),
            asked: false,
            place: FilePlace::default(),
            missing: None,
            refused: None,
            shown: false,
        }
    }
}

impl Form {
    /// The project is to lie in that file, which is not there yet.
    pub fn is_to_lie_in(&mut self, file: PathBuf) {
        self.place.chosen(file.clone());
        self.missing = Some(file);
    }
}

/// How high the figure beside the fields is, and what stands under it, points.
const FIGURE: f32 = 430.0;
const BELOW_FIGURE: f32 = 120.0;

pub(super) fn show(own: &mut Welcome, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    ui.horizontal_wrapped(|ui| {
        ui.heading("A new client");
        let back = if board.blank { "Other ways to begin" } else { "Back to the table" };
        if ui.button(back).clicked() {
            if board.blank { own.open() } else { own.close() }
        }
        about::switch(&mut own.about, ui);
        let sheet = ui.button("Save a measuring sheet to write on…");
        if sheet.on_hover_text("These measures on paper, with where each is taken").clicked() {
            requests.ask(Asked::SaveMeasuring);
        }
    });
    if own.about {
        about::text(Topic::NewClient, board, requests, ui);
    }
    let form = &mut own.client;
    if let Some(missing) = &form.missing {
        let words = format!("“{}” is not there yet: begin it here.", missing.display());
        ui.add(Label::new(bold(words)).wrap());
    }
    let mut unit = board.unit_to_begin();
    if unit_row(ui, &mut unit) {
        requests.ask_for(Request::Unit(unit));
    }
    let rows = Rows { palette: board.palette, unit, letters: board.settings.letters };
    ui.add_space(4.0);
    if is_narrow(ui.ctx(), board) {
        fields(form, board, rows, ui);
    } else {
        ui.columns(2, |columns| {
            left(&mut columns[0], |ui| fields(form, board, rows, ui));
            // The figure goes along with the fields that are in view.
            let scrolled = (columns[1].clip_rect().top() - columns[1].min_rect().top()).max(0.0);
            let lowest = (columns[0].min_rect().height() - FIGURE - BELOW_FIGURE).max(0.0);
            columns[1].add_space(scrolled.min(lowest));
            left(&mut columns[1], |ui| figure_with_words(ui, rows, FIGURE));
        });
    }
    place(form, board, requests, ui);
    let draft = Button::new(bold("Draft the block"));
    let by_key = ui.input_mut(|i| i.consume_key(Modifiers::COMMAND, Key::Enter));
    if ui.add(draft).on_hover_text("Ctrl+Enter").clicked() || by_key {
        begin(form, board, unit, requests);
    }
    // Under the button, which stays where it was pressed.
    if let Some(why) = &form.refused {
        fault(board, ui, why);
    }
}

/// Whether two columns of these letters do not fit beside each other.
fn is_narrow(ctx: &Context, board: &Board) -> bool {
    ctx.content_rect().width() < 760.0 * board.settings.letters
}

/// Where a measure is taken, under a page of one column.
pub(super) fn foot(board: &Board, ui: &mut Ui) {
    if !is_narrow(ui.ctx(), board) {
        return;
    }
    let unit = board.unit_to_begin();
    let rows = Rows { palette: board.palette, unit, letters: board.settings.letters };
    let frame = Frame::new().fill(board.palette.card).inner_margin(Margin::symmetric(18, 8));
    let panel = Panel::bottom("where it is taken").frame(frame).resizable(false);
    panel.show(ui, |ui| figure_at_foot(ui, rows));
}

/// A column whose words are not spread to its width.
fn left(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    ui.with_layout(Layout::top_down(Align::LEFT), add);
}

fn line(ui: &mut Ui, label: &str, text: &mut String, letters: f32) -> Response {
    ui.horizontal_wrapped(|ui| {
        let size = egui::vec2(170.0 * letters, 22.0);
        let row = Layout::left_to_right(Align::Center);
        ui.allocate_ui_with_layout(size, row, |ui| {
            ui.set_min_width(size.x);
            ui.add(Label::new(label).wrap());
        });
        let field = ui.add(one_line(text).desired_width(220.0));
        name_field(ui, &field, label);
        field
    })
    .inner
}

fn fields(form: &mut Form, board: &Board, rows: Rows, ui: &mut Ui) {
    let first = line(ui, "Client’s name or code", &mut form.client, rows.letters);
    if !std::mem::replace(&mut form.shown, true) {
        first.request_focus();
    }
    aside(
        board,
        ui,
        "It stands on what you print for your own table. A code says nothing to others.",
    );
    line(ui, "What is made", &mut form.title, rows.letters);
    part(ui, "Measures that are needed");
    let before = form.measures.clone();
    for measure in Measure::REQUIRED {
        row(form, rows, measure, ui);
    }
    let more = Measure::ALL.into_iter().filter(|m| m.is_optional());
    let (drawing, kept): (Vec<Measure>, Vec<Measure>) =
        more.clone().partition(|m| m.draws_the_block());
    let listed = |of: &[Measure]| of.iter().map(|m| m.name()).collect::<Vec<_>>().join(", ");
    let more_measures = CollapsingHeader::new("Add more measures now").show_background(true);
    more_measures.show(ui, |ui| {
        for measure in more {
            row(form, rows, measure, ui);
        }
    });
    let words = format!(
        "These may be added later, at “Body”; until then they follow from the others by the proportions of many bodies: {}. These are kept with the project and set against the others, and draw nothing: {}.",
        listed(&drawing),
        listed(&kept)
    );
    aside(board, ui, words);
    if form.measures != before {
        form.refused = None;
        form.look(rows.unit);
    }
}

fn row(form: &mut Form, rows: Rows, measure: Measure, ui: &mut Ui) {
    let of_row = |w: &&DraftError| form.shows(w) && involves(w, measure);
    let wrong = form.wrong.iter().find(of_row).cloned();
    measure_row(ui, rows, measure, &mut form.measures, wrong.as_ref(), "needed");
}

impl Form {
    /// Looks what is wrong with the measures as they stand.
    fn look(&mut self, unit: Unit) {
        let faults = self.measures.faults();
        self.wrong = faults.into_iter().map(DraftError::from).collect();
        if self.wrong.is_empty() {
            self.wrong.extend(draft(&self.measures, &Plan::usual(unit)).err());
        }
    }

    /// A measure that is missing is a fault only once a block was asked for.
    fn shows(&self, wrong: &DraftError) -> bool {
        self.asked || !matches!(wrong, DraftError::Measures(MeasureError::Missing { .. }))
    }
}

fn place(form: &mut Form, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    part(ui, "Save it as");
    let mut text = form.place.text(&board.settings, &form.client);
    ui.horizontal_wrapped(|ui| {
        let wide = (ui.available_width() - 160.0 * board.settings.letters).max(200.0);
        let field = ui.add(one_line(&mut text).desired_width(wide));
        name_field(ui, &field, "File of the project");
        if field.changed() {
            form.refused = None;
            form.place.typed(text.clone());
        }
        if ui.button("Another place…").clicked() {
            requests.ask(Asked::BeginAs);
        }
    });
}

/// What keeps the block from being drafted, all of it at once.
fn all_in_words(wrong: &[DraftError], unit: Unit) -> String {
    let said = wrong.iter().map(|wrong| match wrong.measure().map(label) {
        Some(measure) => format!("Look at “{measure}”: {}.", wrong.in_unit(unit)),
        None => wrong.in_unit(unit),
    });
    said.collect::<Vec<_>>().join("\n")
}

fn begin(form: &mut Form, board: &Board, unit: Unit, requests: &mut Requests) {
    form.asked = true;
    form.look(unit);
    if !form.wrong.is_empty() {
        form.refused = Some(all_in_words(&form.wrong, unit));
        return;
    }
    let place = form.place.text(&board.settings, &form.client);
    let place = Some(place.trim()).filter(|p| !p.is_empty()).map(PathBuf::from);
    let (client, title) = (form.client.trim(), form.title.trim());
    let document =
        Document::from_measures(title, client, unit, form.measures.clone(), Plan::usual(unit));
    requests.ask_for(Request::Begun(Box::new(document), place));
}
