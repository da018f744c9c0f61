//! What leaves the desk for a folder or for somebody else: the fitting journal as a
//! PDF, and the project without its photos.

use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::Requests;
use crate::kit::modal::{Edge, QUESTION, modal};
use crate::kit::say::aside;
use egui::{Context, Ui};
use hangtrue_files::print::report_pdf;
use hangtrue_files::save::{Over, is_same_file, write_output};
use hangtrue_files::{journal, project};
use std::path::Path;

/// The window and what is chosen in it.
#[derive(Debug, Default)]
pub(crate) struct Give {
    open: Option<What>,
    with_photos: bool,
    without_name: bool,
    without_notes: bool,
}

/// What is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum What {
    /// The fitting journal.
    Journal,
    /// The project without its photos.
    Project,
}

impl What {
    fn asked(self) -> Asked {
        match self {
            Self::Journal => Asked::SaveJournal,
            Self::Project => Asked::HandOn,
        }
    }
}

impl Give {
    /// Opens the window.
    pub fn open(&mut self, what: What) {
        self.open = Some(what);
    }
}

/// Shows the window when it is open.
pub(super) fn window(own: &mut Give, board: &Board, requests: &mut Requests, ctx: &Context) {
    let Some(what) = own.open else { return };
    let (mut save, mut leave) = (false, false);
    let shut = modal(ctx, "give", Edge::Note, QUESTION, |ui| {
        match what {
            What::Journal => journal_choices(own, board, ui),
            What::Project => project_choices(own, ui),
        }
        ui.horizontal_wrapped(|ui| {
            save = ui.button("Write it…").clicked();
            leave = ui.button("Cancel").clicked();
        });
    });
    if shut || save || leave {
        own.open = None;
    }
    if save {
        requests.ask(what.asked());
    }
}

fn journal_choices(own: &mut Give, board: &Board, ui: &mut Ui) {
    ui.heading("The fitting journal");
    ui.label("Each fitting on pages of its own: what was pinned and changed, how the lines hung, what was seen and decided. One PDF to keep in a folder.");
    let photos = &board.document().journal.photos;
    let ticked = photos.iter().filter(|p| p.in_journal).count();
    let words = format!("With the photos that are ticked for it ({ticked} of {})", photos.len());
    let can = ticked > 0 && board.filed.path().is_some();
    own.with_photos &= can;
    ui.add_enabled(can, egui::Checkbox::new(&mut own.with_photos, words));
    if !can {
        aside(board, ui, "Photos are added and ticked at the stage Toile.");
    }
}

fn project_choices(own: &mut Give, ui: &mut Ui) {
    ui.heading("Hand the project on");
    ui.label("The project in a file of its own, without the photos. The body's measures, the pins and how the lines hung stay in it.");
    ui.checkbox(&mut own.without_name, "Without the name of the person");
    ui.checkbox(&mut own.without_notes, "Without the notes of the fitting");
}

impl Give {
    /// Writes the journal; gives what is told of it.
    pub fn write_journal(&self, board: &Board, path: &Path) -> Result<String, String> {
        let photos = board.filed.path().filter(|_| self.with_photos);
        let report = journal::journal(&board.replay, photos).map_err(|e| e.to_string())?;
        let pdf = report_pdf(&report).map_err(|e| e.to_string())?;
        write_output(path, &pdf, Over::Replace).map_err(|e| e.to_string())?;
        let photos = if self.with_photos { "with the ticked" } else { "without" };
        Ok(format!("journal written to “{}”, {photos} photos.", path.display()))
    }

    /// Writes the project without its photos; never over the project itself.
    pub fn hand_on(&self, board: &Board, path: &Path) -> Result<String, String> {
        if board.filed.path().is_some_and(|own| is_same_file(own, path)) {
            return Err(
                "this is the file of the project itself, which keeps its photos; choose another place."
                    .into(),
            );
        }
        let mut document = board.document().without_photos();
        if self.without_name {
            document.client.clear();
        }
        if self.without_notes {
            document = document.without_notes();
        }
        project::save_new_over(path, &document, Over::Replace).map_err(|why| why.to_string())?;
        Ok(format!("written to “{}” without photos.", path.display()))
    }
}
