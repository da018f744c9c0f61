//! A project whose pattern comes out otherwise than when it was saved: told, and kept as it
//! was where that is wanted.

use crate::board::stage::Seen;
use crate::desk::state::Desk;
use crate::kit::modal::{Edge, QUESTION, modal};
use egui::{Context, Label};
use hangtrue_files::project::{SavedOtherwise, save_as_it_was};
use hangtrue_pattern::words::{InUnit, Words};

/// Asks what is to become of the pattern as it was.
pub(super) fn ask_otherwise(desk: &mut Desk, ctx: &Context) {
    let Some(found) = desk.files.otherwise.clone() else { return };
    let (mut keep, mut go_on) = (false, false);
    let name = desk.board.filed.name().unwrap_or_default();
    let at = found.at.words().in_unit(desk.board.unit());
    let shut = modal(ctx, "otherwise", Edge::Note, QUESTION, |ui| {
        ui.heading("This pattern comes out otherwise today");
        let words = format!(
            "“{name}” was saved by another Hangtrue, or its text was changed by hand. Today’s pattern differs from the saved one, most at the {at}. What was printed or cut before is as it was saved."
        );
        ui.add(Label::new(words).wrap());
        ui.horizontal_wrapped(|ui| {
            keep = ui
                .button("Keep the old one beside")
                .on_hover_text("As it was saved it gets a file of its own; here today’s goes on.")
                .clicked();
            go_on = ui.button("Go on with today’s").clicked();
        });
    });
    if keep || go_on || shut {
        desk.files.otherwise = None;
        if keep {
            keep_beside(desk, found);
        }
        nothing_is_of_it_yet(desk);
    }
}

/// What was printed and looked at was the pattern as it was saved, not today's.
fn nothing_is_of_it_yet(desk: &mut Desk) {
    desk.board.seen = Seen::default();
    let mut document = (**desk.board.history.now()).clone();
    if document.printing.printed.is_some() {
        // The mark of no pattern.
        document.printing.printed = Some(String::new());
        desk.board.history.push(document, "what was printed is of another pattern");
    }
    desk.board.dirty = true;
}

fn keep_beside(desk: &mut Desk, found: SavedOtherwise) {
    let Some(project) = desk.board.filed.path() else { return };
    match save_as_it_was(project, desk.board.document(), found.pattern) {
        Ok(held) => desk.say(format!(
            "the pattern as it was saved lies in “{}”; here today’s goes on.",
            held.file().display()
        )),
        Err(why) => desk.say_fault(Words::why(why)),
    }
}
