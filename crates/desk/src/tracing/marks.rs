//! The marks: clicked, told where they lie, and solved.

use super::fields::{count_field, place_field, refused, sentence};
use super::photo::{ClickTool, Layer, Photo};
use super::said::Kind;
use crate::board::Board;
use crate::kit::drop_down::{drop_down, pick};
use crate::kit::field::one_line;
use crate::kit::length_field::{name_id, optional_length_field};
use crate::kit::number_field::{Number, number_field};
use crate::kit::say::{aside, fault, part};
use egui::{ComboBox, Grid, Ui};
use hangtrue_files::photo::{MarkLook, Place, ReadWithin, SeenMark, SolvedPhoto, UsedMark};
use hangtrue_pattern::units::show_fine;
use hangtrue_pattern::words::InUnit;

pub(super) fn show(photo: &mut Photo, board: &Board, ui: &mut Ui) {
    let kind = photo.now().kind;
    sentence(ui, kind.to_do());
    let several = photo.slots.len() > 1;
    if kind == Kind::Shared {
        photo.tool = ClickTool::Shared;
    } else if several {
        ui.radio_value(&mut photo.tool, ClickTool::Step, "Clicks set marks of known size");
        ui.radio_value(
            &mut photo.tool,
            ClickTool::Shared,
            "Clicks set marks that other photos show too",
        );
    }
    if kind != Kind::Shared {
        ui.colored_label(board.palette.madder, photo.now().next());
        list(photo, board, ui);
        if photo.now().wants_mark() && ui.button("Set one without the pointer").clicked() {
            add(photo, middle(photo));
        }
        let exact = match kind {
            Kind::Sheet => Some("Use the corners exactly as I clicked them"),
            Kind::Grid => Some("Use only the crossings I clicked"),
            _ => None,
        };
        if let Some(words) = exact {
            ui.checkbox(&mut photo.now_mut().exact, words);
        }
        ui.horizontal_wrapped(|ui| {
            let label = "Looked for round a click, pixels";
            ui.label(label);
            let reach = &mut photo.now_mut().reach;
            let number = Number { label, limits: 2.0..=200.0, step: 1.0, unit: "", decimals: 0 };
            number_field(ui, &board.palette, &number, reach);
        });
        if kind == Kind::Distances {
            distances(photo, board, ui);
        }
    }
    if several {
        shared(photo, board, ui);
    }
    ui.add_space(6.0);
    let ready = photo.work.is_none();
    if ui.add_enabled(ready, egui::Button::new("Work out the size")).clicked() {
        photo.solve(ui.ctx());
    }
    outcome(photo, board, ui);
}

/// What came of the marks.
fn outcome(photo: &mut Photo, board: &Board, ui: &mut Ui) {
    if let Some(lacking) = &photo.lacking {
        let words = if photo.slots.len() > 1 {
            format!("photo {}: {}", lacking.photo + 1, lacking.words)
        } else {
            lacking.words.clone()
        };
        fault(board, ui, &words);
    }
    if let Some((job, solved)) = &photo.solved {
        match solved {
            _ if !photo.same_marks(job) => {
                aside(board, ui, "The marks have changed: work out the size again.");
            }
            Err(why) => {
                refused(board, ui, why);
                if let Some(at) = &why.at
                    && at.photo != photo.at
                {
                    aside(board, ui, format!("It is about photo {}.", at.photo + 1));
                }
            }
            Ok(all) => {
                if let Some(solved) = all.get(photo.at) {
                    part(ui, "Size worked out");
                    summary(board, ui, solved, photo.within.get(photo.at));
                    straight_toggle(photo, ui);
                }
            }
        }
    }
}

/// Turns to the picture from straight above and back.
pub(super) fn straight_toggle(photo: &mut Photo, ui: &mut Ui) {
    if photo.solved_now().is_some() {
        let mut on = photo.straight_on;
        if ui.checkbox(&mut on, "Look straight down").changed() {
            photo.turn_straight(ui.ctx(), on);
        }
    }
}

fn summary(board: &Board, ui: &mut Ui, solved: &SolvedPhoto, within: Option<&ReadWithin>) {
    let left = solved.ground.camera.residuals();
    let fine = |mm: f64| show_fine(mm, board.unit());
    let mut words = format!("{} marks are used. ", solved.ground.marks.len());
    if left.spare == 0 {
        words += "No mark is to spare, so none is checked by the others.";
    } else {
        words += &format!(
            "They lie within {} (root mean square) of where the camera puts them, the worst {}.",
            fine(left.rms),
            fine(left.worst)
        );
    }
    sentence(ui, &words);
    if let Some(within) = within {
        let marks = fine(within.marks);
        let mut words = format!("Expect a place among the marks to be right within {marks}");
        if within.photo.is_finite() {
            let photo = fine(within.photo);
            words += &format!(", the farthest corner of the photo within {photo}");
        }
        sentence(ui, &(words + " (95 in 100), as far as the marks are right."));
    }
    for note in &solved.ground.notes {
        aside(board, ui, note.in_unit(board.unit()));
    }
}

/// How far each mark lies from where the camera puts it, mm; none when it was not
/// used, or is not solved.
fn offs(photo: &Photo) -> Vec<Option<f64>> {
    let solved = photo.solved_now().and_then(|s| s.get(photo.at));
    let reach = 3.0 * photo.now().reach;
    let off = |seen: Place| {
        let far = |m: &UsedMark| (m.seen.x - seen.0).hypot(m.seen.y - seen.1);
        let near = solved?.ground.marks.iter().min_by(|a, b| far(a).total_cmp(&far(b)))?;
        (far(near) < reach).then(|| near.off.hypot())
    };
    photo.now().marks.iter().map(|m| off(m.seen)).collect()
}

fn list(photo: &mut Photo, board: &Board, ui: &mut Ui) {
    let (unit, palette) = (board.unit(), board.palette);
    let kind = photo.now().kind;
    let at_fault = photo.refused_now().and_then(|f| f.at.clone());
    let offs = offs(photo);
    let checked = photo
        .solved_now()
        .and_then(|s| s.get(photo.at))
        .is_some_and(|s| s.ground.camera.residuals().spare > 0);
    let (mut gone, mut chosen) = (None, None);
    let at = photo.at;
    for (index, mark) in photo.said.photos[at].marks.iter_mut().enumerate() {
        let is_chosen = photo.chosen == Some((Layer::Mark, index));
        ui.horizontal_wrapped(|ui| {
            let name = format!("Mark {}", mark.name);
            if ui.selectable_label(is_chosen, &name).clicked() {
                chosen = Some(index);
            }
            place_field(board, ui, &format!("{name} in the photo"), &mut mark.seen);
            if cross(ui, &format!("Take mark {} away", mark.name)) {
                gone = Some(index);
            }
            if let Some(off) = offs[index].filter(|_| checked) {
                ui.colored_label(palette.sage, format!("off {}", show_fine(off, board.unit())));
            }
            if at_fault.as_ref().is_some_and(|f| f.photo == at && f.mark == Some(index)) {
                ui.colored_label(palette.ochre, "look at this one");
            }
        });
        let more = match kind {
            Kind::Grid => index > 0,
            Kind::Places | Kind::Distances => true,
            Kind::Sheet | Kind::Shared => false,
        };
        if !more {
            continue;
        }
        ui.indent(("mark", index), |ui| match kind {
            Kind::Grid => {
                ui.horizontal_wrapped(|ui| {
                    ui.label("Lines to the right");
                    count_field(
                        board,
                        ui,
                        &format!("Columns of {}", mark.name),
                        &mut mark.crossing.0,
                    );
                    ui.label("up");
                    count_field(board, ui, &format!("Rows of {}", mark.name), &mut mark.crossing.1);
                });
            }
            Kind::Places => {
                ui.horizontal_wrapped(|ui| {
                    let (right, up) = (&mut mark.place.0, &mut mark.place.1);
                    for (words, value) in [("right", right), ("up", up)] {
                        ui.label(words);
                        let label = format!("Mark {} lies {words} by", mark.name);
                        optional_length_field(ui, &palette, &label, value, unit, "how far");
                    }
                });
                look_choice(ui, &format!("Look of mark {}", mark.name), &mut mark.look);
            }
            Kind::Distances => {
                look_choice(ui, &format!("Look of mark {}", mark.name), &mut mark.look);
            }
            _ => {}
        });
    }
    if let Some(index) = chosen {
        photo.chosen = Some((Layer::Mark, index));
    }
    if let Some(index) = gone {
        photo.now_mut().remove_mark(index);
        photo.chosen = None;
    }
}

/// A small button that takes a thing away; a screen reader says which.
fn cross(ui: &mut Ui, label: &str) -> bool {
    let button = ui.button("×").on_hover_text(label);
    name_id(ui, button.id, label);
    button.clicked()
}

fn look_choice(ui: &mut Ui, label: &str, look: &mut MarkLook) {
    let words = |look: MarkLook| match look {
        MarkLook::Crossing => "two lines that cross",
        MarkLook::Dot => "a round dot",
        MarkLook::AsPointed => "exactly where I clicked",
    };
    let shown = drop_down(
        ui,
        ComboBox::from_id_salt(label).selected_text(words(*look)).width(190.0),
        |ui| {
            for one in [MarkLook::Crossing, MarkLook::Dot, MarkLook::AsPointed] {
                pick(ui, look, one, words(one));
            }
        },
    );
    name_id(ui, shown.response.id, &format!("{label}: {}", words(*look)));
}

fn distances(photo: &mut Photo, board: &Board, ui: &mut Ui) {
    let names: Vec<String> = photo.now().marks.iter().map(|m| m.name.clone()).collect();
    if names.len() < 2 {
        return;
    }
    part(ui, "Distances");
    let needed = (2 * names.len()).saturating_sub(3);
    let given = photo.now().distances.len();
    aside(
        board,
        ui,
        format!("{given} of at least {needed} are written; one more checks the others."),
    );
    Grid::new("distances").num_columns(2).show(ui, |ui| {
        for (i, a) in names.iter().enumerate() {
            for b in &names[i + 1..] {
                let mut mm = photo.now().distance(a, b);
                let label = format!("{a} to {b}");
                ui.label(&label);
                if optional_length_field(
                    ui,
                    &board.palette,
                    &label,
                    &mut mm,
                    board.unit(),
                    "not measured",
                ) {
                    photo.now_mut().set_distance(a, b, mm);
                }
                ui.end_row();
            }
        }
    });
}

fn shared(photo: &mut Photo, board: &Board, ui: &mut Ui) {
    part(ui, "Marks that other photos show too");
    let next = photo.said.next_shared(photo.at);
    aside(
        board,
        ui,
        format!(
            "At least two, or four when this photo has no marks of known size. Next: click the mark “{next}”."
        ),
    );
    let mut gone = None;
    let at = photo.at;
    for (index, mark) in photo.said.photos[at].shared.iter_mut().enumerate() {
        ui.horizontal_wrapped(|ui| {
            let field = one_line(&mut mark.name).desired_width(60.0);
            let response = ui.add(field);
            let label = format!("Name of shared mark {}", index + 1);
            crate::kit::length_field::name_field(ui, &response, &label);
            place_field(
                board,
                ui,
                &format!("Shared mark {} in the photo", index + 1),
                &mut mark.seen,
            );
            if cross(ui, &format!("Take shared mark {} away", index + 1)) {
                gone = Some(index);
            }
        });
        ui.indent(("shared", index), |ui| {
            look_choice(ui, &format!("Look of shared mark {}", index + 1), &mut mark.look);
        });
    }
    if let Some(index) = gone {
        photo.now_mut().shared.remove(index);
        photo.chosen = None;
    }
    if ui.button("Set a shared mark without the pointer").clicked() {
        add_shared(photo, middle(photo));
    }
}

/// The middle of what is looked at.
fn middle(photo: &Photo) -> Place {
    let slot = &photo.slots[photo.at];
    match (&slot.picture, photo.above()) {
        (Some(picture), Some(_)) => (picture.width() as f64 / 2.0, picture.height() as f64 / 2.0),
        (Some(picture), None) => {
            let inside = |v: f64, most: usize| v.clamp(0.0, most as f64);
            let centre = slot.look.centre;
            (inside(centre.x, picture.width()), inside(-centre.y, picture.height()))
        }
        (None, _) => (0.0, 0.0),
    }
}

/// Sets a mark of known size where it was clicked.
pub(super) fn add(photo: &mut Photo, seen: Place) {
    let proposed = photo.now().marks.len() >= 4 && photo.now().kind == Kind::Grid;
    let solved = photo.solved_now().and_then(|s| s.get(photo.at)).filter(|_| proposed);
    let proposed = solved.and_then(|s| s.crossing_at(seen, photo.now().pitch));
    let before = photo.now().marks.len();
    photo.now_mut().add_mark(seen, proposed);
    if photo.now().marks.len() > before {
        photo.chosen = Some((Layer::Mark, before));
    }
    photo.lacking = None;
}

/// Sets a mark that other photos show too.
pub(super) fn add_shared(photo: &mut Photo, seen: Place) {
    let name = photo.said.next_shared(photo.at);
    let index = photo.now().shared.len();
    photo.now_mut().shared.push(SeenMark { name, seen, look: MarkLook::default() });
    photo.chosen = Some((Layer::Shared, index));
    photo.lacking = None;
}
