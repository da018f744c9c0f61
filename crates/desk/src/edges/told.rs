//! What was done last, or what comes next and why: in a row under the stages, and on a
//! low screen at the foot of the table.

use crate::board::Board;
use crate::board::next::fitting_is_done;
use crate::board::requests::{Notice, Request, Requests, Window};
use crate::board::stage::Stage;
use crate::kit::scroll::scrolled;
use crate::kit::theme::bold;
use egui::text::LayoutJob;
use egui::{Align, Color32, FontSelection, Label, RichText, ScrollArea, Ui};

/// The share of the window's height that what is told has at its foot at the most.
const MOST: f32 = 0.32;

/// Room for the button that closes a message, points at letters of 100 %.
const CLOSE: f32 = 72.0;

/// Both, in a row.
pub(super) fn in_a_row(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    ui.horizontal_wrapped(|ui| {
        if let Some(notice) = &board.notice {
            done(board, requests, ui, notice);
        }
        next(board, requests, ui, true);
    });
}

/// One of them, at the foot of a low screen: there is room for no more. What is longer is
/// scrolled.
pub(crate) fn at_foot(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let most = ui.ctx().content_rect().height() * MOST;
    let area = ScrollArea::vertical().id_salt("told").auto_shrink([false, true]);
    // The panel becomes as high as what is told, up to that.
    let area = area.max_height(most).min_scrolled_height(most);
    scrolled(ui, area, false, |ui| {
        // In lines of its own: in a row with others a place of a file, which has no blanks,
        // ran over the edge.
        match &board.notice {
            Some(notice) => {
                let said = in_one(board, ui, notice);
                if notice.leads.is_some() {
                    ui.add(Label::new(said).wrap());
                    ui.horizontal_wrapped(|ui| answers(requests, ui, notice));
                } else {
                    // The one short answer stands beside: the table keeps its height.
                    ui.horizontal_top(|ui| {
                        let wide = ui.available_width() - CLOSE * board.settings.letters;
                        ui.vertical(|ui| {
                            ui.set_width(wide.max(CLOSE));
                            ui.add(Label::new(said).wrap());
                        });
                        answers(requests, ui, notice);
                    });
                }
            }
            // The row of stages has the button.
            None => {
                ui.horizontal_wrapped(|ui| next(board, requests, ui, false));
            }
        }
    });
}

/// What was done last, or why it was not.
fn done(board: &Board, requests: &mut Requests, ui: &mut Ui, notice: &Notice) {
    let (colour, word) = head(board, notice);
    ui.colored_label(colour, bold(word));
    ui.add(Label::new(&notice.text).wrap());
    answers(requests, ui, notice);
}

fn head(board: &Board, notice: &Notice) -> (Color32, &'static str) {
    match notice.is_fault {
        true => (board.palette.ochre, "Not done:"),
        false => (board.palette.sage, "Done:"),
    }
}

/// The message with its head, as one text.
fn in_one(board: &Board, ui: &Ui, notice: &Notice) -> LayoutJob {
    let (colour, word) = head(board, notice);
    let mut job = LayoutJob::default();
    let mut add = |text: RichText| {
        text.append_to(&mut job, ui.style(), FontSelection::Default, Align::Center);
    };
    add(bold(word).color(colour));
    add(RichText::new(format!(" {}", notice.text)).color(board.palette.text));
    job
}

fn answers(requests: &mut Requests, ui: &mut Ui, notice: &Notice) {
    if let Some(leads) = notice.leads
        && ui.button(leads.words()).clicked()
    {
        requests.ask_for(Request::Follow(leads));
    }
    if ui.button("Close").clicked() {
        requests.ask_for(Request::HushNotice);
    }
}

/// What comes next, and why; `turns`: with a link that turns there.
fn next(board: &Board, requests: &mut Requests, ui: &mut Ui, turns: bool) {
    let (stage, sentence): (Stage, String) = board.next();
    if stage == board.stage {
        ui.label(bold("Next, here:"));
    } else {
        ui.label(bold("Next:"));
        if !turns {
            ui.label(format!("{}.", stage.name()));
        } else if ui.link(stage.name()).on_hover_text("Turn to this stage (Ctrl+0)").clicked() {
            requests.go_to(stage);
        }
    }
    ui.add(Label::new(sentence).wrap());
    if fitting_is_done(&board.standings) && ui.button("Close this fitting…").clicked() {
        requests.ask_for(Request::Turn(Window::Closing));
    }
}
