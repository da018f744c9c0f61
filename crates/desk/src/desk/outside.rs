//! When somebody else writes the file of the project that lies on the desk: it is
//! noticed, told, and nothing of either is lost.

use super::at_desks::AtDesk;
use super::files;
use super::state::Desk;
use crate::board::asked::Asked;
use crate::board::filed::Filed;
use crate::kit::modal::{Edge, QUESTION, modal};
use crate::kit::theme::bold;
use crate::kit::watch::Watch;
use egui::{Context, Ui};
use hangtrue_adjust::{Difference, Document, differences};
use hangtrue_files::project::{self, Held, ProjectError, Standing};
use hangtrue_files::save::SaveError;
use std::path::{Path, PathBuf};

/// What is known of others at the file.
#[derive(Default)]
pub(super) struct Outside {
    watch: Option<Watch>,
    at_desk: Option<AtDesk>,
    question: Option<Question>,
    /// What was found and put off; asked of again only when it is something else.
    put_off: Option<OnDisk>,
}

/// What lies where the project lay.
#[derive(Debug, Clone, PartialEq)]
enum OnDisk {
    /// Another project, or this one as somebody else saved it.
    Theirs(Box<Document>, Held),
    /// Something that is no project.
    Unreadable(String),
    /// Nothing.
    Gone,
}

struct Question {
    found: OnDisk,
    differences: Option<[Vec<Difference>; 2]>,
    /// The differences are shown.
    shown: bool,
}

impl Outside {
    /// Whether an answer is waited for.
    pub fn asks(&self) -> bool {
        self.question.is_some()
    }
}

fn found(held: &Held) -> OnDisk {
    if held.standing() == Standing::Gone {
        return OnDisk::Gone;
    }
    match project::open(held.file()) {
        Ok((document, held)) => OnDisk::Theirs(Box::new(document), held),
        Err(why) => OnDisk::Unreadable(why.to_string()),
    }
}

/// Looks whether somebody else wrote the file, and whether the project lies on a
/// second desk.
pub(super) fn look(desk: &mut Desk, ctx: &Context) {
    let Some(held) = desk.board.filed.held().cloned() else {
        desk.outside = Outside::default();
        return;
    };
    if desk.outside.watch.as_ref().is_none_or(|w| w.file() != held.file()) {
        desk.outside.watch = Some(Watch::begin(ctx, held.file()));
        desk.outside.put_off = None;
        // It may have been written between the reading and now.
        notice(desk, &held);
    }
    mark_at_desk(desk, held.file());
    if desk.outside.watch.as_ref().is_some_and(Watch::take_changed) {
        notice(desk, &held);
    }
}

fn notice(desk: &mut Desk, held: &Held) {
    if held.standing() == Standing::AsRead {
        // Put right by whoever wrote it.
        desk.outside.question = None;
        desk.board.filed.differs = false;
        return;
    }
    let found = found(held);
    if desk.outside.put_off.as_ref() != Some(&found) {
        ask(desk, found);
    }
}

fn mark_at_desk(desk: &mut Desk, project: &Path) {
    let Some(own) = desk.own_folder.as_deref() else { return };
    if desk.outside.at_desk.as_ref().is_some_and(|a| a.project() == project) {
        return;
    }
    // The mark of the project before goes first.
    desk.outside.at_desk = None;
    let at_desk = AtDesk::mark(own, project);
    if at_desk.is_elsewhere() {
        desk.say_fault(format!(
            "“{}” lies on another desk too. Work on it at one of them: what one saves, the other has to take before it can save.",
            project.display()
        ));
    }
    desk.outside.at_desk = Some(at_desk);
}

/// Saving was refused: the file is not the one that was read.
pub(super) fn ask_again(desk: &mut Desk) {
    if let Some(held) = desk.board.filed.held().cloned() {
        ask(desk, found(&held));
    }
}

fn ask(desk: &mut Desk, found: OnDisk) {
    desk.board.filed.differs = true;
    let mine = desk.board.document();
    let differences = match &found {
        OnDisk::Theirs(theirs, _) => Some(match desk.board.filed.saved() {
            Some(read) => [differences(read, theirs), differences(read, mine)],
            // What it was when it was read is not known any more.
            None => [differences(mine, theirs), differences(theirs, mine)],
        }),
        _ => None,
    };
    desk.outside.put_off = None;
    desk.outside.question = Some(Question { found, differences, shown: false });
}

#[derive(Clone, Copy)]
enum Answer {
    TakeTheirs,
    KeepBoth,
    Elsewhere,
    NotNow,
}

/// Asks what is to be done.
pub(super) fn window(desk: &mut Desk, ctx: &Context) {
    let Some(mut question) = desk.outside.question.take() else { return };
    let mut answer = None;
    let unsaved = desk.board.is_unsaved();
    let name = desk.board.filed.name().unwrap_or_default();
    let shut = modal(ctx, "outside", Edge::Note, QUESTION, |ui| {
        heading(&question.found, &name, unsaved, ui);
        if question.shown
            && let Some([theirs, mine]) = &question.differences
        {
            list("Theirs, since it was read here:", theirs, ui);
            list("Yours, since it was read here:", mine, ui);
        }
        ui.horizontal_wrapped(|ui| answer = buttons(&mut question, ui));
    });
    match answer.or(shut.then_some(Answer::NotNow)) {
        None => desk.outside.question = Some(question),
        Some(Answer::TakeTheirs) => take_theirs(desk, question.found),
        Some(Answer::KeepBoth) => keep_both(desk),
        Some(Answer::Elsewhere) => {
            desk.outside.put_off = Some(question.found);
            files::ask(desk, ctx, Asked::SaveAs);
        }
        Some(Answer::NotNow) => {
            desk.outside.put_off = Some(question.found);
            desk.files.give_up_leaving();
        }
    }
}

fn heading(found: &OnDisk, name: &str, unsaved: bool, ui: &mut Ui) {
    let wrapped = |ui: &mut Ui, words: String| {
        ui.add(egui::Label::new(words).wrap());
    };
    match found {
        OnDisk::Theirs(..) => {
            ui.heading("Somebody else saved this project");
            wrapped(
                ui,
                format!(
                    "“{name}” was saved from elsewhere since it was read here: at another desk, or by a command."
                ),
            );
        }
        OnDisk::Unreadable(why) => {
            ui.heading("The file of this project was changed");
            wrapped(ui, format!("What lies there now cannot be read: {why}."));
        }
        OnDisk::Gone => {
            ui.heading("The file of this project is gone");
            wrapped(ui, format!("“{name}” is no longer where it was read."));
        }
    }
    if unsaved {
        wrapped(ui, "Your own changes are not in it. They stay on the desk.".into());
    }
}

fn list(words: &str, differences: &[Difference], ui: &mut Ui) {
    /// More are counted, not shown.
    const MOST: usize = 8;
    ui.label(bold(words));
    if differences.is_empty() {
        ui.label("• nothing");
    }
    for difference in differences.iter().take(MOST) {
        ui.add(egui::Label::new(format!("• {}", difference.words())).wrap());
    }
    if let more @ 1.. = differences.len().saturating_sub(MOST) {
        ui.label(format!("• and {more} more"));
    }
}

fn buttons(question: &mut Question, ui: &mut Ui) -> Option<Answer> {
    let mut answer = None;
    let mut offer = |ui: &mut Ui, words: &str, hint: &str, means: Answer| {
        if ui.button(words).on_hover_text(hint).clicked() {
            answer = Some(means);
        }
    };
    match &question.found {
        OnDisk::Theirs(..) => {
            offer(
                ui,
                "Take theirs",
                "Theirs comes on the desk; undo brings yours back.",
                Answer::TakeTheirs,
            );
            offer(
                ui,
                "Keep both",
                "Yours is saved in a file of its own beside theirs.",
                Answer::KeepBoth,
            );
        }
        OnDisk::Unreadable(_) => {
            offer(
                ui,
                "Keep both",
                "Yours is saved in a file of its own beside it.",
                Answer::KeepBoth,
            );
        }
        OnDisk::Gone => {
            offer(ui, "Save it elsewhere…", "Choose a place for yours.", Answer::Elsewhere);
        }
    }
    if question.differences.is_some() {
        let words = if question.shown { "Hide what differs" } else { "See what differs" };
        if ui.button(words).clicked() {
            question.shown = !question.shown;
        }
    }
    offer(ui, "Not now", "Nothing is saved. It is asked again when you save.", Answer::NotNow);
    answer
}

/// Theirs comes on the desk as one step, so that undo brings back what lay there.
fn take_theirs(desk: &mut Desk, found: OnDisk) {
    let OnDisk::Theirs(theirs, held) = found else { return };
    desk.set_trial(None);
    desk.board.filed = Filed::new(Some(held), &theirs);
    desk.board.history.push(*theirs, "what somebody else saved");
    desk.board.dirty = true;
    desk.say("what somebody else saved is on the desk. Undo brings yours back.");
}

/// Mine goes into a file of its own beside theirs, and lies there from now on.
fn keep_both(desk: &mut Desk) {
    let Some(theirs) = desk.board.filed.path().map(Path::to_owned) else { return };
    match save_beside(&theirs, desk.board.document()) {
        Ok(held) => {
            files::is_saved_at(desk, held.clone());
            desk.say(format!(
                "yours is saved in “{}” and is what you go on with; theirs stays in “{}”.",
                held.file().display(),
                theirs.display()
            ));
        }
        Err(why) => {
            desk.files.give_up_leaving();
            desk.say_fault(hangtrue_pattern::words::Words::why(why));
        }
    }
}

/// Saves under the first free name after theirs.
fn save_beside(theirs: &Path, document: &Document) -> Result<Held, ProjectError> {
    let mut number = 1;
    loop {
        match project::save_new(&beside(theirs, number), document) {
            Err(ProjectError::Save(SaveError::Exists { .. } | SaveError::IsProject { .. })) => {
                number += 1;
            }
            done => return done,
        }
    }
}

fn beside(theirs: &Path, number: usize) -> PathBuf {
    let stem = theirs.file_stem().unwrap_or_default().to_string_lossy();
    let ending = theirs.extension().unwrap_or_default().to_string_lossy();
    let count = if number > 1 { format!(" {number}") } else { String::new() };
    theirs.with_file_name(format!("{stem} (mine{count}).{ending}"))
}
