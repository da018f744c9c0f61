//! This round: every change in its order, what became of it, and the rounds as
//! dividers between them.

use super::closing::{self, Closing};
use super::compare;
use crate::board::Board;
use crate::board::requests::{Request, Requests};
use crate::kit::field::one_line;
use crate::kit::panels::Panels;
use crate::kit::say::told;
use crate::kit::scroll::{follow, is_region, scrolled};
use crate::kit::theme::bold;
use egui::{Frame, Key, Margin, Rect, RichText, ScrollArea, Sense, Stroke, Ui};
use hangtrue_adjust::reading::{droop_words, place_words};
use hangtrue_adjust::{Applied, Change, CloseRound, TODAYS_PATTERN};
use hangtrue_pattern::words::InUnit;

/// What is being done in the list.
#[derive(Debug, Clone, Default)]
pub(crate) struct List {
    renaming: Option<(usize, String)>,
    closing: Option<Closing>,
    /// The change that is being carried to another place by the pointer.
    carried: Option<usize>,
    /// Height of what stands below the list, points.
    foot: f32,
    /// How many changes there were in the picture before.
    counted: Option<usize>,
    /// Closed rounds, by name, whose changes are shown.
    unfolded: Vec<String>,
}

impl List {
    /// Opens the form that closes the open round.
    pub fn close_fitting(&mut self, board: &Board) {
        if !board.document().changes.is_empty() {
            self.closing = Some(Closing::now(board));
        }
    }

    /// Shows the changes of a closed round, or folds them away.
    fn fold(&mut self, round: &str) {
        match self.unfolded.iter().position(|u| *u == round) {
            Some(at) => drop(self.unfolded.remove(at)),
            None => self.unfolded.push(round.to_owned()),
        }
    }
}

/// Shows the list.
pub(crate) fn show(own: &mut List, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    // On a low screen all of it is scrolled as one.
    if Panels::of(ui.ctx().content_rect().size(), board.settings.letters).low {
        let area = ScrollArea::vertical().id_salt("list").auto_shrink([false, false]);
        return scrolled(ui, area, true, |ui| {
            head(board, ui);
            // However long the list is, what is done with the whole of it is in sight.
            with_all(own, board, requests, ui);
            entries(own, board, requests, ui);
            ui.add_space(20.0);
        });
    }
    head(board, ui);
    // What is done with the whole list stands below it and stays in sight, however long
    // the list is.
    let room = ui.available_height();
    let high = (room - own.foot - ui.spacing().item_spacing.y).max(room * LEAST_LIST);
    let list = ScrollArea::vertical().id_salt("changes").auto_shrink([false, false]);
    scrolled(ui, list.max_height(high).min_scrolled_height(0.0), false, |ui| {
        is_region(ui, REGION);
        entries(own, board, requests, ui);
    });
    let area = ScrollArea::vertical().id_salt("below the list").auto_shrink([false, true]);
    let area = area.max_height(ui.available_height()).min_scrolled_height(0.0);
    let shown = area.show(ui, |ui| {
        is_region(ui, REGION);
        with_all(own, board, requests, ui);
        follow(ui);
    });
    /// A hair, so that no edge is cut off.
    const HAIR: f32 = 4.0;
    let foot = shown.content_size.y + HAIR;
    if (foot - own.foot).abs() > 0.5 {
        own.foot = foot;
        ui.ctx().request_discard("what stands below the list is another height");
    }
}

/// What a screen reader calls the list and what stands below it.
const REGION: &str = "List";

/// What it is, and what is being tried.
fn head(board: &Board, ui: &mut Ui) {
    ui.heading("This fitting");
    if board.document().changes.is_empty() {
        ui.label("No change yet. What you mark, pin and true is listed here in its order.");
    }
    if board.trial.is_some() {
        trying(board, ui);
    }
}

/// The changes in their order, and the slider through them.
fn entries(own: &mut List, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let count = board.document().changes.len();
    // What was just accepted comes into sight.
    let is_longer = own.counted.replace(count).is_some_and(|before| before < count);
    let mut places = Vec::new();
    for index in 0..count {
        if is_folded(own, board, index) {
            continue;
        }
        let place = ui.scope(|ui| entry(own, board, requests, ui, index)).response.rect;
        if is_longer && index + 1 == count {
            ui.scroll_to_rect(place, Some(egui::Align::BOTTOM));
        }
        places.push((index, place));
    }
    carry(own, board, requests, ui, &places);
    look_back(board, requests, ui, count);
}

/// What is done with the whole list.
fn with_all(own: &mut List, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    // A pattern nothing was done to has nothing to be compared with.
    if !board.document().changes.is_empty() {
        compare::show(board, requests, ui);
    }
    closing::show(&mut own.closing, board, requests, ui);
}

/// The share of the height that is the list's in any case.
const LEAST_LIST: f32 = 0.4;

/// The closing of the round that a change belongs to; none in the open round.
fn round_of(board: &Board, index: usize) -> Option<(&str, usize)> {
    board.document().rounds().find(|r| r.1 >= index)
}

/// Changes of a closed round are folded away, unless one of them is looked at or
/// could not be made.
fn is_folded(own: &List, board: &Board, index: usize) -> bool {
    let Some((name, end)) = round_of(board, index).filter(|r| r.1 != index) else { return false };
    let begin = board.document().rounds().filter(|r| r.1 < end).last().map_or(0, |r| r.1 + 1);
    let within = |at: &usize| (begin..end).contains(at);
    let states = board.replay.states();
    let failed =
        states.iter().take(end).skip(begin).any(|s| matches!(s.applied, Applied::Failed(_)));
    let looked_at = board.selected.as_ref().is_some_and(within)
        || board.trial.as_ref().and_then(|d| d.at.as_ref()).is_some_and(within);
    !failed && !looked_at && !own.unfolded.iter().any(|u| u == name)
}

/// While a change is carried, shows where it would come to lie; puts it there
/// when it is let go.
fn carry(
    own: &mut List,
    board: &Board,
    requests: &mut Requests,
    ui: &Ui,
    places: &[(usize, Rect)],
) {
    let Some(from) = own.carried else { return };
    let Some(pointer) = ui.input(|i| i.pointer.interact_pos()) else { return };
    let (Some(first), Some(last)) = (places.first(), places.last()) else { return };
    // It is laid before the first one whose middle lies below the pointer.
    let below = places.iter().find(|p| p.1.center().y > pointer.y);
    let (before, y) = below.map_or((last.0 + 1, last.1.bottom()), |p| (p.0, p.1.top()));
    let to = if before > from { before - 1 } else { before };
    let wide = first.1.x_range();
    if to != from {
        let pen = Stroke::new(3.0, board.palette.madder);
        ui.painter().hline(wide, y - 1.0, pen);
    }
    if ui.input(|i| i.pointer.any_released()) {
        own.carried = None;
        if to != from {
            carry_to(board, requests, from, to);
        }
    }
}

/// A slider through the changes: the pattern as it was after each.
fn look_back(board: &Board, requests: &mut Requests, ui: &mut Ui, count: usize) {
    if count == 0 {
        return;
    }
    ui.add_space(8.0);
    ui.label(bold("Look back"));
    let mut at = board.selected.map_or(count + 1, |s| s + 1);
    ui.spacing_mut().slider_width = (ui.available_width() - 8.0).max(60.0);
    let slider = ui.add(egui::Slider::new(&mut at, 1..=count + 1).show_value(false));
    crate::kit::length_field::name_field(ui, &slider, "Look back through the changes");
    if slider.changed() {
        requests.turn_away();
        requests.ask_for(Request::Compare(None));
        requests.ask_for(Request::Select((at <= count).then(|| at - 1)));
    }
    let words = board.selected.and_then(|s| board.document().changes.get(s));
    ui.small(words.map_or(TODAYS_PATTERN.to_owned(), |e| format!("after “{}”", e.name)));
}

fn trying(board: &Board, ui: &mut Ui) {
    let Some(trial) = &board.trial else { return };
    Frame::new()
        .stroke(Stroke::new(1.5, board.palette.madder))
        .inner_margin(Margin::same(8))
        .corner_radius(5.0)
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.label(bold(&trial.name));
            let words = match trial.at {
                None => "being tried, not accepted yet".to_owned(),
                Some(at) => format!("number {} being edited, not accepted yet", at + 1),
            };
            ui.colored_label(board.palette.madder, words);
        });
}

fn entry(own: &mut List, board: &Board, requests: &mut Requests, ui: &mut Ui, index: usize) {
    let palette = board.palette;
    let entry = board.document().changes[index].clone();
    let state = board.replay.states().get(index).map(|s| s.applied.clone());
    let selected = board.selected == Some(index);
    if let Change::CloseRound(close) = &entry.change {
        divider(own, board, requests, ui, (index, &entry.name, close));
        return;
    }
    let edge = if selected { palette.text } else { palette.rule };
    Frame::new()
        .fill(if selected { palette.field } else { palette.card })
        .stroke(Stroke::new(if selected { 2.0 } else { 1.0 }, edge))
        .inner_margin(Margin::symmetric(7, 5))
        .corner_radius(5.0)
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.spacing_mut().item_spacing.y = 3.0;
            if !rename_field(own, board, requests, ui, index) {
                let words = bold(format!("{}. {}", index + 1, entry.name));
                let title = egui::Button::selectable(selected, words).wrap();
                let title = ui.add(title.sense(Sense::click_and_drag()));
                if title.drag_started() {
                    own.carried = Some(index);
                }
                let hint = "Look at what it changed; pull it up or down to do it earlier or later";
                if title.on_hover_text(hint).clicked() {
                    look_at(board, requests, index);
                }
            }
            if selected || matches!(entry.change, Change::Pinch(_)) {
                ui.add(
                    egui::Label::new(egui::RichText::new(entry.change.words(board.unit())).small())
                        .wrap(),
                );
            }
            match &state {
                Some(Applied::Done(effect)) => {
                    let broken = effect.kept.iter().filter(|k| !k.kept()).count();
                    let words = match (effect.kept.len(), broken) {
                        (0, _) => "made".into(),
                        (n, 0) => format!("made; the {n} lengths it is to keep are kept"),
                        (n, b) => format!("made; {b} of {n} lengths it is to keep change"),
                    };
                    ui.colored_label(palette.sage, egui::RichText::new(words).small());
                    for cost in &effect.costs {
                        told(board, ui, cost.short().in_unit(board.unit()), cost.takes_much());
                    }
                }
                Some(Applied::Off) => {
                    ui.colored_label(
                        palette.text_soft,
                        egui::RichText::new("switched off").small(),
                    );
                }
                Some(Applied::Failed(why)) => {
                    let words = egui::RichText::new(format!(
                        "could not be made: {}",
                        why.in_unit(board.unit())
                    ))
                    .small();
                    ui.add(egui::Label::new(words.color(palette.ochre)).wrap());
                }
                None => {}
            }
            if selected {
                entry_buttons(own, board, requests, ui, index, entry.on, &entry.name);
            }
        });
}

fn entry_buttons(
    own: &mut List,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    index: usize,
    on: bool,
    name: &str,
) {
    let last = board.document().changes.len() - 1;
    ui.horizontal_wrapped(|ui| {
        if ui.button("Edit again").clicked() {
            requests.ask_for(Request::EditAgain(index));
        }
        if ui.button(if on { "Switch off" } else { "Switch on" }).clicked() {
            switch(board, requests, index);
        }
        if ui.button("Rename").clicked() {
            own.renaming = Some((index, name.to_owned()));
        }
        if ui.add_enabled(index > 0, egui::Button::new("Earlier")).clicked() {
            carry_to(board, requests, index, index - 1);
        }
        if ui.add_enabled(index < last, egui::Button::new("Later")).clicked() {
            carry_to(board, requests, index, index + 1);
        }
        if ui.button("Remove").clicked() {
            remove(board, requests, index);
        }
    });
}

fn rename_field(
    own: &mut List,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    index: usize,
) -> bool {
    let Some((at, mut text)) = own.renaming.clone().filter(|r| r.0 == index) else {
        return false;
    };
    let field = ui.add(one_line(&mut text).desired_width(f32::INFINITY));
    crate::kit::length_field::name_field(ui, &field, "New name of the change");
    if field.lost_focus() {
        own.renaming = None;
        if ui.input(|i| i.key_pressed(Key::Enter)) {
            rename(board, requests, at, &text);
        }
    } else {
        own.renaming = Some((at, text));
        if ui.memory(|m| m.focused().is_none()) {
            field.request_focus();
        }
    }
    true
}

fn divider(
    own: &mut List,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    (index, name, close): (usize, &str, &CloseRound),
) {
    let selected = board.selected == Some(index);
    ui.add_space(4.0);
    ui.separator();
    let words = bold(format!("Fitting closed: {name}"));
    if ui.add(egui::Button::selectable(selected, words).wrap()).clicked() {
        look_at(board, requests, index);
    }
    let note = if close.note.is_empty() { "no note" } else { &close.note };
    ui.add(egui::Label::new(RichText::new(format!("{} — {note}", close.date)).small()).wrap());
    ui.horizontal_wrapped(|ui| {
        let begin = board.document().rounds().filter(|r| r.1 < index).last().map_or(0, |r| r.1 + 1);
        let folded = is_folded(own, board, begin);
        let words = match (folded, index - begin) {
            (_, 0) => None,
            (true, 1) => Some("Show its change".to_owned()),
            (true, n) => Some(format!("Show its {n} changes")),
            (false, _) => Some(format!("Fold “{name}” away")),
        };
        if words.is_some_and(|w| ui.button(w).clicked()) {
            own.fold(name);
            // Looking at one of its changes would hold it open.
            requests.ask_for(Request::Select(None));
        }
        if selected && ui.button("Write it anew").clicked() {
            own.closing = Some(Closing::again(index, name, close));
        }
        if selected && ui.button("Open this fitting again").clicked() {
            remove(board, requests, index);
        }
    });
    if selected {
        written(board, ui, name);
    }
    if own.closing.as_ref().is_some_and(|c| c.is_of(index)) {
        closing::form(&mut own.closing, board, requests, ui);
    }
    ui.separator();
    ui.add_space(4.0);
}

/// What was written down of the toile of a closed round.
fn written(board: &Board, ui: &mut Ui, round: &str) {
    let journal = &board.document().journal;
    let (unit, small) = (board.unit(), |words: String| RichText::new(words).small());
    let droops = journal.droops_of(round).map(|d| {
        let hangs = droop_words(d.mm, unit);
        let (view, line, leg) = (d.view.piece(), d.line.name(), d.leg.word());
        format!("{view} {line}, {leg} leg, {}: {hangs}", place_words(d.line, d.at))
    });
    let seen = journal.signs_of(round).into_iter().filter(|l| l.seen);
    let photos = journal.photos_of(round).map(|p| format!("photo {}", p.file));
    let all: Vec<String> = droops.chain(seen.map(|l| l.words())).chain(photos).collect();
    if all.is_empty() {
        ui.label(small("Nothing was written down of its toile.".into()));
        return;
    }
    ui.label(small("Written down of its toile:".into()).strong());
    for words in all {
        ui.add(egui::Label::new(small(words)).wrap());
    }
}

fn name_of(board: &Board, index: usize) -> &str {
    &board.document().changes[index].name
}

/// Looks at a change, or no more.
fn look_at(board: &Board, requests: &mut Requests, index: usize) {
    requests.turn_away();
    requests.ask_for(Request::Compare(None));
    let other = (board.selected != Some(index)).then_some(index);
    requests.ask_for(Request::Select(other));
}

fn switch(board: &Board, requests: &mut Requests, index: usize) {
    let words = format!("switching “{}”", name_of(board, index));
    requests.edit(&words, move |d| d.changes[index].on = !d.changes[index].on);
}

fn remove(board: &Board, requests: &mut Requests, index: usize) {
    let words = format!("removing “{}”", name_of(board, index));
    requests.edit(&words, move |d| {
        d.remove(index);
    });
    requests.ask_for(Request::Select(None));
}

fn carry_to(board: &Board, requests: &mut Requests, from: usize, to: usize) {
    let words = format!("moving “{}”", name_of(board, from));
    requests.edit(&words, move |d| {
        let entry = d.changes.remove(from);
        d.changes.insert(to, entry);
    });
    requests.ask_for(Request::Select(Some(to)));
}

fn rename(board: &Board, requests: &mut Requests, index: usize, new: &str) {
    let new = new.trim().to_owned();
    if let Some(why) = board.document().name_fault(Some(index), &new) {
        requests.tell_fault(why);
    } else if !new.is_empty() && new != name_of(board, index) {
        requests.edit("a name", move |d| d.rename(index, &new));
    }
}
