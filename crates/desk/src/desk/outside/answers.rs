//! Asks what is to be done about a file that somebody else wrote, and does it.

use super::found::{OnDisk, Question};
use crate::board::asked::Asked;
use crate::board::filed::Filed;
use crate::desk::files::{dialog, saving};
use crate::desk::state::Desk;
use crate::kit::modal::{Edge, QUESTION, modal};
use crate::kit::theme::bold;
use egui::{Context, Ui};
use hangtrue_adjust::Difference;
use hangtrue_files::project;
use std::path::Path;

#[derive(Clone, Copy)]
enum Answer {
    TakeTheirs,
    KeepBoth,
    Elsewhere,
    NotNow,
}

/// Asks what is to be done.
pub(crate) fn window(desk: &mut Desk, ctx: &Context) {
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
            dialog::ask(desk, ctx, Asked::SaveAs);
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
    match project::save_beside(&theirs, "mine", desk.board.document()) {
        Ok(held) => {
            saving::is_saved_at(desk, held.clone());
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
