//! This round: every change in its order, what became of it, and the rounds as
//! dividers between them.

use crate::desk::Desk;
use crate::draft::Draft;
use crate::theme::bold;
use egui::{Frame, Key, Margin, Rect, RichText, ScrollArea, Sense, Stroke, TextEdit, Ui};
use hangtrue_adjust::{Applied, Change, CloseRound};
use hangtrue_pattern::words::InUnit;

/// What is being done in the list.
#[derive(Debug, Clone, Default)]
pub(crate) struct RoundsList {
    renaming: Option<(usize, String)>,
    closing: Option<Closing>,
    /// The change that is being carried to another place by the pointer.
    carried: Option<usize>,
    /// Closed rounds, by name, whose changes are shown.
    unfolded: Vec<String>,
}

/// The form of a round that is being closed, or that was and is written anew.
#[derive(Debug, Clone)]
struct Closing {
    /// The index of the closed round; none for one being closed now.
    at: Option<usize>,
    name: String,
    date: String,
    note: String,
}

/// What was asked of the list; done after it is drawn.
enum Asked {
    Look(usize),
    Again(usize),
    Switch(usize),
    Remove(usize),
    Move(usize, usize),
    Rename(usize, String),
    Unfold(String),
}

/// Shows the list.
pub(crate) fn show(desk: &mut Desk, ui: &mut Ui) {
    ui.heading("This round");
    let count = desk.document().changes.len();
    if count == 0 {
        ui.label("No change yet. What you mark, pin and true is listed here in its order.");
    }
    if desk.draft.is_some() {
        trying(desk, ui);
    }
    let mut asked = None;
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        let mut places = Vec::new();
        for index in 0..count {
            if is_folded(desk, index) {
                continue;
            }
            let place = ui.scope(|ui| entry(desk, ui, index, &mut asked)).response.rect;
            places.push((index, place));
        }
        carry(desk, ui, &places, &mut asked);
        look_back(desk, ui, count);
        ui.add_space(8.0);
        close_round(desk, ui);
        compare(desk, ui);
    });
    if let Some(asked) = asked {
        answer(desk, asked);
    }
}

/// The closing of the round that a change belongs to; none in the open round.
fn round_of(desk: &Desk, index: usize) -> Option<(&str, usize)> {
    desk.document().rounds().find(|r| r.1 >= index)
}

/// Changes of a closed round are folded away, unless one of them is looked at or
/// could not be made.
fn is_folded(desk: &Desk, index: usize) -> bool {
    let Some((name, end)) = round_of(desk, index).filter(|r| r.1 != index) else { return false };
    let begin = desk.document().rounds().filter(|r| r.1 < end).last().map_or(0, |r| r.1 + 1);
    let within = |at: &usize| (begin..end).contains(at);
    let states = desk.replay.states();
    let failed =
        states.iter().take(end).skip(begin).any(|s| matches!(s.applied, Applied::Failed(_)));
    let looked_at = desk.selected.as_ref().is_some_and(within)
        || desk.draft.as_ref().and_then(|d| d.at.as_ref()).is_some_and(within);
    !failed && !looked_at && !desk.rounds.unfolded.iter().any(|u| u == name)
}

/// While a change is carried, shows where it would come to lie; puts it there
/// when it is let go.
fn carry(desk: &mut Desk, ui: &Ui, places: &[(usize, Rect)], asked: &mut Option<Asked>) {
    let Some(from) = desk.rounds.carried else { return };
    let Some(pointer) = ui.input(|i| i.pointer.interact_pos()) else { return };
    let (Some(first), Some(last)) = (places.first(), places.last()) else { return };
    // It is laid before the first one whose middle lies below the pointer.
    let below = places.iter().find(|p| p.1.center().y > pointer.y);
    let (before, y) = below.map_or((last.0 + 1, last.1.bottom()), |p| (p.0, p.1.top()));
    let to = if before > from { before - 1 } else { before };
    let wide = first.1.x_range();
    if to != from {
        let pen = Stroke::new(3.0, desk.palette.madder);
        ui.painter().hline(wide, y - 1.0, pen);
    }
    if ui.input(|i| i.pointer.any_released()) {
        desk.rounds.carried = None;
        if to != from {
            *asked = Some(Asked::Move(from, to));
        }
    }
}

/// A slider through the changes: the pattern as it was after each.
fn look_back(desk: &mut Desk, ui: &mut Ui, count: usize) {
    if count == 0 {
        return;
    }
    ui.add_space(8.0);
    ui.label(bold("Look back"));
    let mut at = desk.selected.map_or(count + 1, |s| s + 1);
    ui.spacing_mut().slider_width = (ui.available_width() - 8.0).max(60.0);
    let slider = ui.add(egui::Slider::new(&mut at, 1..=count + 1).show_value(false));
    crate::length_field::name_field(ui, &slider, "Look back through the changes");
    if slider.changed() {
        desk.set_draft(None);
        desk.compared = None;
        desk.selected = (at <= count).then(|| at - 1);
    }
    let words = desk.selected.and_then(|s| desk.document().changes.get(s));
    ui.small(words.map_or("now".to_owned(), |e| format!("after “{}”", e.name)));
}

fn trying(desk: &Desk, ui: &mut Ui) {
    let Some(draft) = &desk.draft else { return };
    Frame::new()
        .stroke(Stroke::new(1.5, desk.palette.madder))
        .inner_margin(Margin::same(8))
        .corner_radius(5.0)
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.label(bold(&draft.name));
            let words = match draft.at {
                None => "being tried, not accepted yet".to_owned(),
                Some(at) => format!("number {} being edited, not accepted yet", at + 1),
            };
            ui.colored_label(desk.palette.madder, words);
        });
}

fn entry(desk: &mut Desk, ui: &mut Ui, index: usize, asked: &mut Option<Asked>) {
    let palette = desk.palette;
    let entry = desk.document().changes[index].clone();
    let state = desk.replay.states().get(index).map(|s| s.applied.clone());
    let selected = desk.selected == Some(index);
    if let Change::CloseRound(close) = &entry.change {
        divider(desk, ui, index, &entry.name, close, asked);
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
            if !rename_field(desk, ui, index, asked) {
                let words = bold(format!("{}. {}", index + 1, entry.name));
                let title = egui::Button::selectable(selected, words).wrap();
                let title = ui.add(title.sense(Sense::click_and_drag()));
                if title.drag_started() {
                    desk.rounds.carried = Some(index);
                }
                let hint = "Look at what it changed; pull it up or down to do it earlier or later";
                if title.on_hover_text(hint).clicked() {
                    *asked = Some(Asked::Look(index));
                }
            }
            if selected || matches!(entry.change, Change::Pinch(_)) {
                ui.add(
                    egui::Label::new(egui::RichText::new(entry.change.words(desk.unit())).small())
                        .wrap(),
                );
            }
            match &state {
                Some(Applied::Done(effect)) => {
                    let broken = effect.kept.iter().filter(|k| !k.kept()).count();
                    let words = match (effect.kept.len(), broken) {
                        (0, _) => "made".into(),
                        (n, 0) => format!("made; all {n} measures kept"),
                        (n, b) => format!("made; {b} of {n} measures not kept"),
                    };
                    ui.colored_label(palette.sage, egui::RichText::new(words).small());
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
                        why.in_unit(desk.unit())
                    ))
                    .small();
                    ui.add(egui::Label::new(words.color(palette.ochre)).wrap());
                }
                None => {}
            }
            if selected {
                entry_buttons(desk, ui, index, entry.on, &entry.name, asked);
            }
        });
}

fn entry_buttons(
    desk: &mut Desk,
    ui: &mut Ui,
    index: usize,
    on: bool,
    name: &str,
    asked: &mut Option<Asked>,
) {
    let last = desk.document().changes.len() - 1;
    ui.horizontal_wrapped(|ui| {
        if ui.button("Edit again").clicked() {
            *asked = Some(Asked::Again(index));
        }
        if ui.button(if on { "Switch off" } else { "Switch on" }).clicked() {
            *asked = Some(Asked::Switch(index));
        }
        if ui.button("Rename").clicked() {
            desk.rounds.renaming = Some((index, name.to_owned()));
        }
        if ui.add_enabled(index > 0, egui::Button::new("Earlier")).clicked() {
            *asked = Some(Asked::Move(index, index - 1));
        }
        if ui.add_enabled(index < last, egui::Button::new("Later")).clicked() {
            *asked = Some(Asked::Move(index, index + 1));
        }
        if ui.button("Remove").clicked() {
            *asked = Some(Asked::Remove(index));
        }
    });
}

fn rename_field(desk: &mut Desk, ui: &mut Ui, index: usize, asked: &mut Option<Asked>) -> bool {
    let Some((at, mut text)) = desk.rounds.renaming.clone().filter(|r| r.0 == index) else {
        return false;
    };
    let field = ui.add(TextEdit::singleline(&mut text).desired_width(f32::INFINITY));
    crate::length_field::name_field(ui, &field, "New name of the change");
    if field.lost_focus() {
        desk.rounds.renaming = None;
        if ui.input(|i| i.key_pressed(Key::Enter)) {
            *asked = Some(Asked::Rename(at, text));
        }
    } else {
        desk.rounds.renaming = Some((at, text));
        if ui.memory(|m| m.focused().is_none()) {
            field.request_focus();
        }
    }
    true
}

fn divider(
    desk: &mut Desk,
    ui: &mut Ui,
    index: usize,
    name: &str,
    close: &CloseRound,
    asked: &mut Option<Asked>,
) {
    let selected = desk.selected == Some(index);
    ui.add_space(4.0);
    ui.separator();
    let words = bold(format!("Round closed: {name}"));
    if ui.add(egui::Button::selectable(selected, words).wrap()).clicked() {
        *asked = Some(Asked::Look(index));
    }
    let note = if close.note.is_empty() { "no note" } else { &close.note };
    ui.add(egui::Label::new(RichText::new(format!("{} — {note}", close.date)).small()).wrap());
    ui.horizontal_wrapped(|ui| {
        let begin = desk.document().rounds().filter(|r| r.1 < index).last().map_or(0, |r| r.1 + 1);
        let folded = is_folded(desk, begin);
        let words = match (folded, index - begin) {
            (_, 0) => None,
            (true, 1) => Some("Show its change".to_owned()),
            (true, n) => Some(format!("Show its {n} changes")),
            (false, _) => Some(format!("Fold “{name}” away")),
        };
        if words.is_some_and(|w| ui.button(w).clicked()) {
            *asked = Some(Asked::Unfold(name.to_owned()));
        }
        if selected && ui.button("Write it anew").clicked() {
            let (date, note) = (close.date.clone(), close.note.clone());
            desk.rounds.closing = Some(Closing { at: Some(index), name: name.into(), date, note });
        }
        if selected && ui.button("Open this round again").clicked() {
            *asked = Some(Asked::Remove(index));
        }
    });
    if desk.rounds.closing.as_ref().is_some_and(|c| c.at == Some(index)) {
        closing_form(desk, ui);
    }
    ui.separator();
    ui.add_space(4.0);
}

fn answer(desk: &mut Desk, asked: Asked) {
    let name = |desk: &Desk, i: usize| desk.document().changes[i].name.clone();
    match asked {
        Asked::Look(index) => {
            desk.set_draft(None);
            desk.compared = None;
            desk.selected = if desk.selected == Some(index) { None } else { Some(index) };
        }
        Asked::Again(index) => edit_again(desk, index),
        Asked::Switch(index) => {
            let words = format!("switching “{}”", name(desk, index));
            desk.edit(&words, |d| d.changes[index].on = !d.changes[index].on);
        }
        Asked::Remove(index) => {
            let words = format!("removing “{}”", name(desk, index));
            desk.edit(&words, |d| {
                d.remove(index);
            });
            desk.selected = None;
        }
        Asked::Move(from, to) => {
            let words = format!("moving “{}”", name(desk, from));
            desk.edit(&words, |d| {
                let entry = d.changes.remove(from);
                d.changes.insert(to, entry);
            });
            desk.selected = Some(to);
        }
        Asked::Unfold(round) => {
            let unfolded = &mut desk.rounds.unfolded;
            match unfolded.iter().position(|u| *u == round) {
                Some(at) => drop(unfolded.remove(at)),
                None => unfolded.push(round),
            }
            // Looking at one of its changes would hold it open.
            desk.selected = None;
        }
        Asked::Rename(index, new) => {
            let new = new.trim().to_owned();
            if !new.is_empty() && new != name(desk, index) {
                desk.edit("a name", |d| d.rename(index, &new));
            }
        }
    }
}

/// Opens a change on the card where it was made.
pub(crate) fn edit_again(desk: &mut Desk, index: usize) {
    let mut draft = Draft::again(desk.document(), index);
    if let (Some(draft), Ok(before)) = (&mut draft, desk.replay.after(index)) {
        draft.change = crate::cards::legs::named_on_leg(before, draft.change.clone());
    }
    desk.selected = None;
    desk.compared = None;
    if let Some(draft) = &draft {
        desk.stage = crate::cards::stage_of(&draft.change);
    }
    desk.set_draft(draft);
}

fn close_round(desk: &mut Desk, ui: &mut Ui) {
    match &desk.rounds.closing {
        None => {
            let any = !desk.document().changes.is_empty();
            if ui.add_enabled(any, egui::Button::new("Close this round…")).clicked() {
                let name = format!("round {}", desk.document().rounds().count() + 1);
                let (date, note) = (crate::words::today(), String::new());
                desk.rounds.closing = Some(Closing { at: None, name, date, note });
            }
        }
        Some(Closing { at: None, .. }) => {
            ui.separator();
            ui.label(bold("Close this round"));
            closing_form(desk, ui);
        }
        Some(_) => {}
    }
}

/// Name, date and note of a round.
fn closing_form(desk: &mut Desk, ui: &mut Ui) {
    let Some(Closing { at, mut name, mut date, mut note }) = desk.rounds.closing.clone() else {
        return;
    };
    for (label, text, rows) in
        [("Name", &mut name, 1), ("Date", &mut date, 1), ("Note", &mut note, 3)]
    {
        ui.label(label);
        let field = if rows == 1 { TextEdit::singleline(text) } else { TextEdit::multiline(text) };
        let field = ui.add(field.desired_rows(rows).desired_width(f32::INFINITY));
        crate::length_field::name_field(ui, &field, &format!("{label} of the round"));
    }
    let (mut done, mut left) = (false, false);
    ui.horizontal_wrapped(|ui| {
        let words = if at.is_some() { "Keep it like this" } else { "Close it" };
        let named = !name.trim().is_empty();
        done = ui
            .add_enabled(named, egui::Button::new(words))
            .on_disabled_hover_text("Give the round a name first")
            .clicked();
        left = ui.button("Not yet").clicked();
    });
    if left {
        desk.rounds.closing = None;
        return;
    }
    if !done {
        desk.rounds.closing = Some(Closing { at, name, date, note });
        return;
    }
    desk.rounds.closing = None;
    let close = CloseRound { date, note };
    match at {
        None => desk.edit(&format!("closing “{name}”"), |d| d.close_round(&name, close)),
        Some(index) => desk.edit(&format!("the note of “{name}”"), |d| {
            d.rename(index, &name);
            d.changes[index].change = Change::CloseRound(close);
        }),
    }
}

fn compare(desk: &mut Desk, ui: &mut Ui) {
    let mut names: Vec<String> = vec!["start".into()];
    names.extend(desk.document().rounds().map(|r| r.0.to_owned()));
    names.push("now".into());
    ui.add_space(8.0);
    ui.separator();
    ui.label(bold("Compare"));
    let (mut old, mut new) =
        desk.compared.clone().unwrap_or_else(|| ("start".into(), "now".into()));
    let before = (old.clone(), new.clone());
    for (label, chosen) in [("older", &mut old), ("newer", &mut new)] {
        ui.horizontal(|ui| {
            ui.label(label);
            let shown = egui::ComboBox::from_id_salt(label).selected_text(chosen.as_str()).show_ui(
                ui,
                |ui| {
                    for name in &names {
                        ui.selectable_value(chosen, name.clone(), name);
                    }
                },
            );
            crate::length_field::name_id(
                ui,
                shown.response.id,
                &format!("Compare {label}: {chosen}"),
            );
        });
    }
    let is_on = desk.compared.is_some();
    if is_on && before != (old.clone(), new.clone()) {
        desk.compared = Some((old.clone(), new.clone()));
    }
    if ui.button(if is_on { "Stop comparing" } else { "Lay over each other" }).clicked() {
        desk.set_draft(None);
        desk.selected = None;
        desk.compared = if is_on { None } else { Some((old, new)) };
    }
    if is_on {
        distances(desk, ui);
    }
}

/// How far each corner moved between the two rounds.
fn distances(desk: &Desk, ui: &mut Ui) {
    let Ok(shown) = desk.shown() else { return };
    let Some((old, _)) = &shown.old else { return };
    for piece in &shown.new.pieces {
        let Ok(was) = old.piece(&piece.name) else { continue };
        for (name, at) in piece.corners() {
            if let Ok(before) = was.corner(name)
                && before.distance(at) > 0.05
            {
                let far = hangtrue_pattern::units::show_length(before.distance(at), desk.unit());
                ui.small(format!("{}, {name}: {far}", piece.name));
            }
        }
    }
}
