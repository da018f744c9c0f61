//! What leaves the desk for a folder or for somebody else: the fitting journal as a
//! PDF, and the project without its photos.

use crate::desk::desk::Desk;
use crate::desk::files::{self, Asked};
use egui::{Context, Ui};
use hangtrue_files::print::report_pdf;
use hangtrue_files::save::write_whole;
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

/// Opens the window.
pub(crate) fn open(desk: &mut Desk, what: What) {
    desk.give.open = Some(what);
}

/// Shows the window when it is open.
pub(crate) fn window(desk: &mut Desk, ctx: &Context) {
    let Some(what) = desk.give.open else { return };
    let (mut save, mut typed, mut leave) = (false, false, false);
    let shut = files::modal(ctx, "give", |ui| {
        match what {
            What::Journal => journal_choices(desk, ui),
            What::Project => project_choices(desk, ui),
        }
        ui.horizontal_wrapped(|ui| {
            save = ui.button("Write it…").clicked();
            typed = ui.button("Write it by typing a place…").clicked();
            leave = ui.button("Leave it").clicked();
        });
    });
    if shut || save || typed || leave {
        desk.give.open = None;
    }
    if save {
        files::ask(desk, what.asked());
    } else if typed {
        desk.files.typed = Some((what.asked(), String::new(), None));
    }
}

fn journal_choices(desk: &mut Desk, ui: &mut Ui) {
    ui.heading("The fitting journal");
    ui.label("Each round on pages of its own: what was pinned and changed, how the lines hung, what was seen and decided. One PDF to keep in a folder.");
    let photos = &desk.document().journal.photos;
    let ticked = photos.iter().filter(|p| p.in_journal).count();
    let words = format!("With the photos that are ticked for it ({ticked} of {})", photos.len());
    let can = ticked > 0 && desk.files.path().is_some();
    desk.give.with_photos &= can;
    ui.add_enabled(can, egui::Checkbox::new(&mut desk.give.with_photos, words))
        .on_disabled_hover_text("Photos are added and ticked at the stage Toile.");
}

fn project_choices(desk: &mut Desk, ui: &mut Ui) {
    ui.heading("Hand the project on");
    ui.label("The project in a file of its own, without the photos. The body's measures, the pins and how the lines hung stay in it.");
    ui.checkbox(&mut desk.give.without_name, "Without the name of the person");
    ui.checkbox(&mut desk.give.without_notes, "Without the notes of the fitting");
}

/// Writes the journal.
pub(crate) fn write_journal(desk: &mut Desk, path: &Path) {
    let photos = desk.files.path().filter(|_| desk.give.with_photos);
    let made =
        journal::journal(&desk.replay, photos).map_err(|e| e.to_string()).and_then(|report| {
            let pdf = report_pdf(&report).map_err(|e| e.to_string())?;
            write_whole(path, &pdf).map_err(|e| e.to_string())
        });
    let with = desk.give.with_photos;
    match made {
        Ok(()) => desk.tell(format!(
            "journal written to “{}”, {} photos.",
            path.display(),
            if with { "with the ticked" } else { "without" }
        )),
        Err(why) => desk.tell_fault(why),
    }
}

/// Writes the project without its photos; never over the project itself.
pub(crate) fn hand_on(desk: &mut Desk, path: &Path) {
    if desk.files.path().is_some_and(|own| same_file(own, path)) {
        return desk.tell_fault(
            "this is the file of the project itself, which keeps its photos; choose another place.",
        );
    }
    let mut document = desk.document().without_photos();
    if desk.give.without_name {
        document.client.clear();
    }
    if desk.give.without_notes {
        document = document.without_notes();
    }
    match project::save(path, &document) {
        Ok(()) => desk.tell(format!("written to “{}” without photos.", path.display())),
        Err(why) => desk.tell_fault(why.to_string()),
    }
}

/// Whether two places are one file, however they are written.
fn same_file(a: &Path, b: &Path) -> bool {
    let whole = |p: &Path| p.canonicalize().unwrap_or_else(|_| p.to_owned());
    whole(a) == whole(b)
}
