//! The menu of files: projects opened and saved, and what goes in and out.

use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::{Request, Requests, Window};
use crate::kit::menu::row;
use crate::kit::scroll::scrolled;
use crate::tracing::unfinished::left_behind;
use egui::{ScrollArea, Ui};
use std::path::Path;

/// The buttons of the project row.
pub(super) fn show(
    (own_folder, low): (Option<&Path>, bool),
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) {
    let top = ui.cursor().top() + ui.spacing().interact_size.y;
    ui.menu_button("Files", |ui| {
        ui.set_min_width(260.0);
        // On a low screen the menu is longer than the screen: it is scrolled.
        let high = (ui.ctx().content_rect().bottom() - top - BELOW).max(120.0);
        let area = ScrollArea::vertical().max_height(high).min_scrolled_height(high);
        scrolled(ui, area, true, |ui| rows((own_folder, board), requests, ui));
    });
    // The menu has it too, where there is no room for it here.
    if !low && ui.button("Save").on_hover_text("Ctrl+S").clicked() {
        requests.ask_for(Request::Save);
    }
}

/// Points left free below the menu.
const BELOW: f32 = 24.0;

fn rows((own_folder, board): (Option<&Path>, &Board), requests: &mut Requests, ui: &mut Ui) {
    if row(ui, "New client…", "Ctrl+N") {
        requests.ask_for(Request::Turn(Window::NewClient));
    }
    if row(ui, "Open…", "Ctrl+O") {
        requests.ask(Asked::Open);
    }
    if row(ui, "Save", "Ctrl+S") {
        requests.ask_for(Request::Save);
    }
    if row(ui, "Save as…", "Ctrl+Shift+S") {
        requests.ask(Asked::SaveAs);
    }
    let any = !board.document().changes.is_empty();
    if any && row(ui, "Close this fitting…", "") {
        requests.ask_for(Request::Turn(Window::Closing));
    }
    ui.separator();
    if row(ui, "Bring in a drawing…", "") {
        requests.ask(Asked::Bring);
    }
    if row(ui, "Piece from a photo…", "Ctrl+I") {
        requests.ask(Asked::Photo);
    }
    let left = own_folder.and_then(left_behind);
    if let Some(left) = left
        && row(ui, "Go on with the photo that was not finished", "")
    {
        requests.ask_for(Request::GoOnTracing(left));
    }
    if row(ui, "Send the pattern out…", "") {
        requests.ask_for(Request::Turn(Window::Send));
    }
    ui.separator();
    if row(ui, "Print a class from a list…", "") {
        requests.ask_for(Request::Turn(Window::Class));
    }
    if row(ui, "Write the fitting journal…", "") {
        requests.ask_for(Request::Turn(Window::Journal));
    }
    if row(ui, "Hand the project on without photos…", "") {
        requests.ask_for(Request::Turn(Window::HandOn));
    }
    ui.separator();
    if row(ui, "Quit", "Ctrl+Q") {
        ui.ctx().send_viewport_cmd(egui::ViewportCommand::Close);
    }
    let recent = board.settings.recent.clone();
    if !recent.is_empty() {
        ui.separator();
        ui.label("Opened lately");
        for file in recent {
            let name = file.file_name().map(|n| n.to_string_lossy().into_owned());
            let folder = file.parent().map(|f| f.display().to_string()).unwrap_or_default();
            if row(ui, &format!("{} — {folder}", name.unwrap_or_default()), "") {
                requests.ask_for(Request::Open(file));
            }
        }
    }
}
