//! A class: the sheets of every pupil of a list, printed into a folder beside the desk.

use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::places::whole;
use crate::board::requests::Requests;
use crate::kit::choice::one_of;
use crate::kit::field::one_line;
use crate::kit::job::{Heard, Job};
use crate::kit::length_field::name_field;
use crate::kit::modal::{Edge, modal};
use crate::kit::say::{aside, fault};
use egui::{Context, Label, ProgressBar, ScrollArea, Ui};
use hangtrue_adjust::{AllowanceSet, Closure, CuttingPlan, PaperName, Usual, WaistFinish};
use hangtrue_files::class::{ClassDone, ClassList, ClassWork, Pupil, blank_list, run_class};
use hangtrue_files::print::{Paper, Reduced, TileOptions};
use hangtrue_files::read;
use hangtrue_files::save::{Over, write_output};
use hangtrue_pattern::Plan;
use hangtrue_pattern::units::{Unit, show_length};
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// The window and what is chosen in it.
pub(crate) struct Class {
    open: bool,
    list: String,
    /// Another folder than the one beside the list.
    folder: Option<String>,
    reduced: Option<Reduced>,
    paper: Option<PaperName>,
    cutting: CuttingPlan,
    projects: bool,
    work: Option<Work>,
    done: Option<Result<ClassDone, String>>,
}

/// A class being printed.
struct Work {
    job: Job<Result<ClassDone, String>>,
    stop: Arc<AtomicBool>,
}

impl Default for Class {
    fn default() -> Self {
        Self {
            open: false,
            list: String::new(),
            folder: None,
            reduced: None,
            paper: None,
            cutting: CuttingPlan { set: Some(AllowanceSet::None), ..CuttingPlan::default() },
            projects: false,
            work: None,
            done: None,
        }
    }
}

const SIZES: [(Option<Reduced>, &str); 3] = [
    (None, "Full size"),
    (Some(Reduced::Half), "Half scale, not for cutting"),
    (Some(Reduced::Quarter), "Quarter scale, not for cutting"),
];

impl Class {
    /// Opens the window.
    pub fn open(&mut self) {
        self.open = true;
        self.done = None;
    }

    /// The list was chosen in the system's dialog.
    pub fn list_is(&mut self, path: &Path) {
        self.list = path.display().to_string();
        self.done = None;
    }

    /// The folder as it stands: beside the list, called after it.
    fn folder(&self) -> String {
        let beside = || {
            let list = Path::new(self.list.trim());
            let stem = list.file_stem()?.to_string_lossy().into_owned();
            Some(list.with_file_name(format!("{stem} sheets")).display().to_string())
        };
        self.folder.clone().or_else(beside).unwrap_or_default()
    }
}

/// Writes an empty list to fill in; gives what is told of it.
pub(crate) fn save_blank(board: &Board, path: &Path) -> Result<String, String> {
    write_output(path, blank_list(board.unit_to_begin()).as_bytes(), Over::Replace)
        .map_err(|why| why.to_string())?;
    Ok(format!("written to “{}”: fill in a line for every pupil.", path.display()))
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Pressed {
    Choose,
    Blank,
    Print,
    Stop,
    Close,
}

/// Shows the window when it is open.
pub(super) fn window(own: &mut Class, board: &Board, requests: &mut Requests, ctx: &Context) {
    hear(own, ctx);
    if !own.open {
        return;
    }
    let mut pressed = None;
    let shut = modal(ctx, "class", Edge::Thin, 560.0, |ui| pressed = show(own, board, ui));
    match pressed {
        Some(Pressed::Choose) => requests.ask(Asked::ClassList),
        Some(Pressed::Blank) => requests.ask(Asked::SaveClassList),
        Some(Pressed::Print) => begin(own, board, ctx),
        Some(Pressed::Stop) => {
            if let Some(work) = &own.work {
                work.stop.store(true, Ordering::Relaxed);
            }
        }
        Some(Pressed::Close) => own.open = false,
        // What goes on is stopped by its own button, not by a slip.
        None if shut && own.work.is_none() => own.open = false,
        None => {}
    }
}

fn hear(own: &mut Class, ctx: &Context) {
    let Some(work) = &mut own.work else { return };
    match work.job.hear(ctx) {
        Heard::Done(done) => (own.done, own.work) = (Some(done), None),
        Heard::BrokeOff => {
            own.done = Some(Err("the printing broke off".into()));
            own.work = None;
        }
        Heard::Waiting => {}
    }
}

fn show(own: &mut Class, board: &Board, ui: &mut Ui) -> Option<Pressed> {
    ui.heading("A class");
    let words = "A block for every pupil of a list, drafted and printed into one folder. What is wrong with one line is told at the end and hurts no other.";
    ui.add(Label::new(words).wrap());
    if let Some(work) = &own.work {
        return going_on(work, ui);
    }
    let mut pressed = choices(own, board, ui);
    match &own.done {
        Some(Ok(done)) => told(done, board, ui),
        Some(Err(why)) => fault(board, ui, why),
        None => {}
    }
    ui.horizontal_wrapped(|ui| {
        let can = !own.list.trim().is_empty();
        if ui.add_enabled(can, egui::Button::new("Print the class")).clicked() {
            pressed = Some(Pressed::Print);
        }
        if ui.button("Close").clicked() {
            pressed = Some(Pressed::Close);
        }
    });
    pressed
}

fn going_on(work: &Work, ui: &mut Ui) -> Option<Pressed> {
    ui.add(ProgressBar::new(work.job.part as f32));
    ui.add(Label::new(&work.job.words).wrap());
    ui.button("Stop after this one").clicked().then_some(Pressed::Stop)
}

fn choices(own: &mut Class, board: &Board, ui: &mut Ui) -> Option<Pressed> {
    let mut pressed = None;
    ui.label("The list, a CSV with a pupil a line");
    let field = ui.add(one_line(&mut own.list).desired_width(f32::INFINITY));
    name_field(ui, &field, "The class list");
    if field.changed() {
        own.done = None;
    }
    ui.horizontal_wrapped(|ui| {
        if ui.button("Choose the list…").clicked() {
            pressed = Some(Pressed::Choose);
        }
        if ui.button("Save an empty list…").clicked() {
            pressed = Some(Pressed::Blank);
        }
    });
    ui.label("The folder for the sheets");
    let mut folder = own.folder();
    let field = ui.add(one_line(&mut folder).desired_width(f32::INFINITY));
    name_field(ui, &field, "The folder for the sheets");
    if field.changed() {
        own.folder = Some(folder);
    }
    for (reduced, words) in SIZES {
        ui.radio_value(&mut own.reduced, reduced, words);
    }
    let mut paper = own.paper.unwrap_or(Usual::of(board.unit_to_begin()).paper);
    ui.horizontal_wrapped(|ui| {
        ui.label("Paper:");
        for one in PaperName::ALL {
            if ui.radio_value(&mut paper, one, one.name()).clicked() {
                own.paper = Some(one);
            }
        }
        if paper == PaperName::Roll {
            let usual = Usual::of(board.unit_to_begin()).roll;
            ui.label(format!("{} wide", show_length(usual, board.unit_to_begin())));
        }
    });
    what_is_cut(&mut own.cutting, board.unit_to_begin(), ui);
    ui.checkbox(&mut own.projects, "Save a project for every pupil too");
    aside(board, ui, "Close shears and cover a rotary blade between cuts.");
    pressed
}

/// What is cut for every pupil, chosen as for a project at Print.
fn what_is_cut(plan: &mut CuttingPlan, unit: Unit, ui: &mut Ui) {
    one_of(ui, "Allowances", &mut plan.set, &AllowanceSet::ALL.map(|set| (Some(set), set.name())));
    let finishes = WaistFinish::choices(plan.closure, unit);
    one_of(ui, "Waist finish", &mut plan.waist, &finishes);
    let mut closure = plan.closure;
    one_of(ui, "Opened by", &mut closure, &Closure::ALL.map(|one| (one, one.name())));
    plan.open_by(closure);
    plan.waist = plan.waist.opened(closure, unit);
}

fn told(done: &ClassDone, board: &Board, ui: &mut Ui) {
    ui.add(Label::new(format!("{}.", done.told())).wrap());
    let refused = done.pupils.iter().filter_map(|p| Some((p, p.made.as_ref().err()?)));
    let refused: Vec<(&Pupil, &String)> = refused.collect();
    if refused.is_empty() {
        return;
    }
    ScrollArea::vertical().max_height(140.0).id_salt("refused").show(ui, |ui| {
        for (pupil, why) in refused {
            aside(board, ui, format!("{} (line {}), refused: {why}", pupil.name, pupil.line));
        }
    });
}

fn begin(own: &mut Class, board: &Board, ctx: &Context) {
    let unit = board.unit_to_begin();
    let place = |typed: &str| whole(Path::new(typed.trim()), board.filed.path(), &board.settings);
    let (list, folder) = (place(&own.list), place(&own.folder()));
    let usual = Usual::of(unit);
    let work = ClassWork {
        plan: Plan::usual(unit),
        unit,
        cutting: own.cutting.clone(),
        paper: Paper::of(own.paper.unwrap_or(usual.paper), usual.roll),
        tiles: TileOptions { margin: usual.margin, overlap: usual.overlap, unit },
        reduced: own.reduced,
        title: "Trousers".into(),
        today: board.today.clone(),
        projects: own.projects,
        over: Over::Never,
    };
    let stop = Arc::new(AtomicBool::new(false));
    let asked = stop.clone();
    let job = Job::begin(ctx, "Reading the list", move |teller| {
        let mut heard = |pupil: &Pupil, done: usize, of: usize| {
            let words = format!("{done} of {of}: {}", pupil.name);
            teller.doing(&words, done as f64 / of as f64);
            !teller.given_up() && !asked.load(Ordering::Relaxed)
        };
        print(&list, (&work, unit), &folder, &mut heard)
    });
    (own.work, own.done) = (Some(Work { job, stop }), None);
}

fn print(
    list: &Path,
    (work, unit): (&ClassWork, Unit),
    folder: &Path,
    heard: &mut dyn FnMut(&Pupil, usize, usize) -> bool,
) -> Result<ClassDone, String> {
    let table = read::bytes(list, read::LARGEST_TABLE).map_err(|why| why.to_string())?;
    let list = ClassList::read(&table, None, unit).map_err(|why| why.to_string())?;
    run_class(list, work, folder, heard).map_err(|why| why.to_string())
}
