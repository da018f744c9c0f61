//! How a project is begun: a new client by the few measures that are needed, a
//! pattern that is there already, or the example.

mod choices;
mod client;
mod place;

use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::scroll::scrolled;
use egui::{CentralPanel, Frame, Margin, ScrollArea, Ui};
use std::path::PathBuf;

/// What is shown of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Page {
    /// The three ways to begin.
    Choices,
    /// The form of a new client.
    Client,
}

/// What it keeps between two pictures.
#[derive(Default)]
pub(crate) struct Welcome {
    page: Option<Page>,
    client: client::Form,
    /// What the page is, is shown at its head.
    about: bool,
}

impl Welcome {
    /// The three ways to begin.
    pub fn open(&mut self) {
        self.page = Some(Page::Choices);
    }

    /// The form of a new client, empty.
    pub fn new_client(&mut self) {
        self.client = client::Form::default();
        self.page = Some(Page::Client);
    }

    /// The form for a project that is to lie in that file, which is not there yet.
    pub fn begin_at(&mut self, file: PathBuf) {
        self.new_client();
        self.client.is_to_lie_in(file);
    }

    /// The place for the project's file that was chosen in the system's dialog.
    pub fn lies_in(&mut self, file: PathBuf) {
        self.client.place.chosen(file);
    }

    /// What keeps the project from being begun, to be said on the form.
    pub fn refused(&mut self, why: String) {
        self.client.refused = Some(why);
    }

    /// Shows or hides what the page is.
    pub fn turn_about(&mut self) {
        self.about = !self.about;
    }

    pub fn is_open(&self) -> bool {
        self.page.is_some()
    }

    pub fn close(&mut self) {
        *self = Self::default();
    }
}

/// Points the page is wide at the most, at letters of 100 %.
const WIDEST: f32 = 1080.0;

/// Shows the page that is open, in place of the table.
pub(crate) fn show(own: &mut Welcome, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let frame = Frame::new().fill(board.palette.card).inner_margin(Margin::same(18));
    if own.page == Some(Page::Client) {
        client::foot(board, ui);
    }
    CentralPanel::default().frame(frame).show(ui, |ui| {
        let page = own.page;
        let area = ScrollArea::vertical().id_salt(page.map(|p| p as u8));
        scrolled(ui, area.auto_shrink([false, false]), true, |ui| {
            let widest = WIDEST * board.settings.letters;
            let margin = ((ui.available_width() - widest) / 2.0).max(0.0);
            ui.horizontal_top(|ui| {
                ui.add_space(margin);
                ui.vertical(|ui| {
                    ui.set_max_width(ui.available_width().min(widest));
                    match page {
                        Some(Page::Choices) => choices::show(own, board, requests, ui),
                        Some(Page::Client) => client::show(own, board, requests, ui),
                        None => {}
                    }
                });
            });
        });
    });
}
