//! Marking an open photo: the level, how the camera stood, the lines, and the known
//! length. What is missing is said where it belongs.

use super::photo_table;
use super::photos::{PhotoState, Ready};
use super::state::{Toile, Tool, edit_marks, toile_of};
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::length_field::{name_field, optional_length_field};
use crate::kit::on_its_own::on_its_own;
use crate::kit::say::{aside, fault, part, row};
use egui::{Button, Ui};
use hangtrue_adjust::worn::{
    FEWEST_PLACES, KnownMark, LegSeen, LevelBy, LineMark, MarkMissing, PhotoMarks, View,
};
use hangtrue_adjust::{PhotoView, RoundPhoto};
use hangtrue_files::worn::{MarksError, leg_words};
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::words::capital;
use hangtrue_pattern::{Pattern, names};
use std::sync::Arc;

pub(super) fn show(
    own: &mut Toile,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    photo: &RoundPhoto,
) {
    ui.horizontal_wrapped(|ui| {
        if ui.button("Back to the photos").clicked() {
            own.open = None;
            own.tool = Tool::Look;
            requests.fit();
        }
        ui.label(crate::kit::theme::bold(format!("{}, {}", photo.file, photo.view.word())));
    });
    let ready = match own.look(board, ui.ctx(), &photo.file) {
        PhotoState::Reading => {
            ui.label("The photo is being read…");
            return;
        }
        PhotoState::Failed(why) => return fault(board, ui, &why),
        PhotoState::Ready(ready) => ready,
    };
    let Some(pattern) = toile_of(board, photo) else {
        return fault(
            board,
            ui,
            "the toile of this photo has no pattern; turn to Body in the row of stages",
        );
    };
    let read = own.read_marks(board, photo, &ready);
    let missing = match &read {
        Some(Err(MarksError::Missing(what))) => Some(*what),
        _ => None,
    };
    on_its_own(ui, "in a few words", |ui| {
        if let Some(Ok(read)) = &read {
            super::readings::summary(board, ui, read);
        }
    });
    which_side(board, requests, ui, photo, missing);
    level(own, board, requests, ui, photo, missing);
    camera(own, board, requests, ui, photo, missing);
    lines(own, board, requests, ui, photo, (&pattern, &ready), missing);
    known(own, board, requests, ui, photo, &pattern);
    if let Some(Err(MarksError::Worn(why))) = &read {
        fault(board, ui, &why.in_unit(board.unit()));
    }
    if let Some(Ok(read)) = &read {
        super::readings::show(board, ui, photo, read);
    }
}

/// What is missing next, in the part of the card where it is set.
fn say(board: &Board, ui: &mut Ui, missing: Option<MarkMissing>, here: &[MarkMissing]) {
    if let Some(what) = missing.filter(|m| here.contains(m)) {
        let words = format!("Next: {what}.");
        ui.add(egui::Label::new(egui::RichText::new(words).color(board.palette.madder)).wrap());
    }
}

fn marks_of(photo: &RoundPhoto) -> PhotoMarks {
    photo.marks.clone().unwrap_or_default()
}

/// A button that takes a tool in hand, or lays it down.
fn tool_button(own: &mut Toile, ui: &mut Ui, tool: Tool, words: &str, name: &str) -> bool {
    let taken = own.tool == tool;
    let button = ui.add(Button::new(words).selected(taken));
    name_field(ui, &button, name);
    if button.clicked() {
        own.tool = if taken { Tool::Look } else { tool };
    }
    button.clicked() && !taken
}

/// A way to set the place in hand without the pointer.
fn in_the_middle(own: &mut Toile, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    if ui.button("Put one in the middle of the view").clicked() {
        photo_table::put_in_the_middle(own, board, requests);
    }
    aside(
        board,
        ui,
        "Click on the photo, or put a place in the middle and move it there: Tab comes to it, arrows move it by a pixel (by a tenth with Shift), Delete takes it away.",
    );
}

fn which_side(
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    photo: &RoundPhoto,
    missing: Option<MarkMissing>,
) {
    say(board, ui, missing, &[MarkMissing::WhichSide]);
    if photo.view.seen_from().is_some() {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        for view in [PhotoView::LeftSide, PhotoView::RightSide] {
            if ui.button(capital(view.word())).clicked() {
                let file = photo.file.clone();
                requests.edit("from where the photo is seen", move |d| {
                    if let Some(photo) = d.journal.photo_mut(&file) {
                        photo.view = view;
                    }
                });
            }
        }
    });
}

fn level(
    own: &mut Toile,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    photo: &RoundPhoto,
    missing: Option<MarkMissing>,
) {
    let marks = marks_of(photo);
    part(ui, "1  Level");
    say(board, ui, missing, &[MarkMissing::Level, MarkMissing::SecondOfLevel]);
    ui.horizontal_wrapped(|ui| {
        let ways = [(LevelBy::Plumb, "Plumb line"), (LevelBy::Floor, "Floor edge")];
        for (by, words) in ways {
            if tool_button(
                own,
                ui,
                Tool::Level(by),
                words,
                &format!("Level by a {}", words.to_lowercase()),
            ) && marks.level != Some(by)
            {
                edit_marks(requests, &photo.file, "what tells level", false, move |m| {
                    m.level = Some(by);
                    m.level_at.clear();
                });
            }
        }
        let believed = marks.level == Some(LevelBy::Camera);
        let button = ui.add(Button::new("Camera's own").selected(believed));
        name_field(ui, &button, "Believe the camera's own level");
        if button.clicked() && !believed {
            own.tool = Tool::Look;
            edit_marks(requests, &photo.file, "what tells level", false, move |m| {
                m.level = Some(LevelBy::Camera);
                m.level_at.clear();
            });
        }
    });
    let words = match (marks.level, marks.level_at.len()) {
        (Some(LevelBy::Camera), _) => {
            "The camera's own level is believed: unsure by about 1°, and so is every slope read."
        }
        (Some(LevelBy::Plumb), 2..) => {
            "Set by a plumb line, the side of a door frame or a corner of the room."
        }
        (Some(LevelBy::Floor), 2..) => "Set by a level floor edge or skirting, square to the view.",
        (Some(LevelBy::Plumb), _) => {
            "Click its upper and its lower end, as far apart as they are seen."
        }
        (Some(LevelBy::Floor), _) => {
            "Click two places on it, left and right, as far apart as they are seen."
        }
        (None, _) => "Once for each photo.",
    };
    aside(board, ui, words);
    if matches!(own.tool, Tool::Level(_)) {
        in_the_middle(own, board, requests, ui);
    }
}

fn camera(
    own: &mut Toile,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    photo: &RoundPhoto,
    missing: Option<MarkMissing>,
) {
    let (marks, unit, palette) = (marks_of(photo), board.unit(), board.palette);
    let file = &photo.file;
    part(ui, "2  Where the camera stood");
    say(board, ui, missing, &[MarkMissing::Distance, MarkMissing::LensHeight, MarkMissing::Heels]);
    let field = |ui: &mut Ui, label: &str, value: Option<f64>| {
        let mut new = value;
        ui.horizontal_wrapped(|ui| {
            ui.label(label);
            optional_length_field(ui, &palette, label, &mut new, unit, "not said");
        });
        (new != value).then_some(new)
    };
    let distance = field(ui, "Lens to the body's middle", marks.distance);
    let height = if marks.straight_ahead {
        None
    } else {
        field(ui, "Lens above the floor", marks.lens_height)
    };
    if let Some(distance) = distance {
        edit_marks(requests, file, "the distance to the lens", true, move |m| {
            m.distance = distance
        });
    }
    if let Some(height) = height {
        edit_marks(requests, file, "the height of the lens", true, move |m| m.lens_height = height);
    }
    if !marks.straight_ahead {
        let words = if marks.heels.is_some() { "Move the heels" } else { "Mark the heels" };
        ui.horizontal_wrapped(|ui| {
            tool_button(own, ui, Tool::Heels, words, words);
            ui.small(if marks.heels.is_some() {
                "marked"
            } else {
                "on the floor, between both feet"
            });
        });
        if own.tool == Tool::Heels {
            in_the_middle(own, board, requests, ui);
        }
    }
    let mut ahead = marks.straight_ahead;
    if ui.checkbox(&mut ahead, "Not measured: it looked about straight ahead (less sure)").changed()
    {
        edit_marks(requests, file, "where the camera looked", false, move |m| {
            m.straight_ahead = ahead
        });
    }
}

/// The lines of the pattern that can be traced in this view, from the top.
fn names_of(pattern: &Pattern, view: PhotoView) -> Vec<String> {
    let (placed, _) = pattern.place_lines();
    let seen = |piece: &str| match view {
        PhotoView::Back => piece.starts_with(names::BACK),
        PhotoView::Front => piece.starts_with(names::FRONT),
        _ => true,
    };
    let on_cloth =
        |name: &str| pattern.lines.iter().any(|l| l.name == name && l.purpose.to_cloth());
    let of_view = |strict: bool| {
        let mut found: Vec<(f64, String)> = Vec::new();
        let lines = placed.iter().filter(|l| on_cloth(&l.name));
        for line in lines.filter(|l| !strict || seen(&l.piece)) {
            if !found.iter().any(|f| f.1 == line.name) {
                found.push((line.chain.start().y, line.name.clone()));
            }
        }
        found.sort_by(|a, b| b.0.total_cmp(&a.0));
        found.into_iter().map(|f| f.1).collect::<Vec<String>>()
    };
    // Pieces of other names are seen from anywhere.
    let strict = of_view(true);
    if strict.is_empty() { of_view(false) } else { strict }
}

fn lines(
    own: &mut Toile,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    photo: &RoundPhoto,
    (pattern, ready): (&Pattern, &Arc<Ready>),
    missing: Option<MarkMissing>,
) {
    let marks = marks_of(photo);
    part(ui, "3  The lines as they hang");
    say(board, ui, missing, &[MarkMissing::Line, MarkMissing::SecondLine]);
    let mut all = names_of(pattern, photo.view);
    for line in &marks.lines {
        if !all.contains(&line.name) {
            all.push(line.name.clone());
        }
    }
    aside(
        board,
        ui,
        "Left and right are the wearer's own; from the front their left is at the photo's right.",
    );
    if all.is_empty() {
        fault(
            board,
            ui,
            "no line is marked on the pattern; mark the lines at Lines and draw them on the cloth",
        );
    }
    for name in all {
        ui.horizontal_wrapped(|ui| {
            ui.label(capital(&name));
            for leg in [LegSeen::Left, LegSeen::Right, LegSeen::Both] {
                let count = marks.line(&name, leg).map_or(0, |l| l.points.len());
                let short = leg_words(leg).trim_end_matches(" leg").trim_end_matches(" legs");
                let words = match count {
                    0 => short.to_owned(),
                    n if n < FEWEST_PLACES => format!("{short}: {n}…"),
                    n => format!("{short}: {n}"),
                };
                let called = format!("Trace {name}, {}", leg_words(leg));
                tool_button(own, ui, Tool::Trace(name.clone(), leg), &words, &called);
            }
        });
    }
    let Tool::Trace(name, leg) = own.tool.clone() else {
        return aside(
            board,
            ui,
            "Choose a line and a leg, then click along the line from one edge of the body to the other.",
        );
    };
    let title = format!("{}, {}", capital(&name), leg_words(leg));
    ui.label(crate::kit::theme::bold(title));
    let way = match leg {
        LegSeen::Both => "Click from one side of the body to the other",
        _ => "Click from where the line comes into sight to where it goes out of sight",
    };
    aside(
        board,
        ui,
        format!(
            "{way}: three places at least. They are drawn to the dark line, the two ends to the edge of the body; hold Shift to leave them where you click."
        ),
    );
    in_the_middle(own, board, requests, ui);
    let Some(line) = marks.line(&name, leg) else { return };
    as_found(own, board, ui, line, ready);
    girth(board, requests, ui, photo, line, pattern);
    if ui.button("Take this line off").clicked() {
        let words = format!("taking {name} off the photo");
        edit_marks(requests, &photo.file, &words, false, move |m| {
            m.lines.retain(|l| !(l.name == name && l.leg == leg));
        });
    }
}

/// What the picture shows of the line in hand.
fn as_found(own: &mut Toile, board: &Board, ui: &mut Ui, line: &LineMark, ready: &Arc<Ready>) {
    if !line.is_whole() {
        let words = format!("{} of {FEWEST_PLACES} places at least", line.points.len());
        return aside(board, ui, words);
    }
    let found = own.photos.followed(line, ready);
    let (good, words) = if found.on_dark_line {
        (true, "The drawn line is followed in the picture.")
    } else {
        (false, "No drawn line shows near these places, so they are taken as they are: less sure.")
    };
    let colour = if good { board.palette.sage } else { board.palette.ochre };
    let text = egui::RichText::new(words).small().color(colour);
    ui.add(egui::Label::new(text).wrap());
    let ends = found.on_edge.iter().filter(|e| **e).count();
    let words = match ends {
        2 => "Both ends lie on the edge of the body.",
        1 => {
            "One end lies on the edge of the body; the other shows no clear edge and stands where you clicked."
        }
        _ => "No clear edge of the body shows at the ends: they stand where you clicked.",
    };
    aside(board, ui, words);
}

/// Round the body at the line in hand, when it is known otherwise than the pattern
/// says.
fn girth(
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    photo: &RoundPhoto,
    line: &LineMark,
    pattern: &Pattern,
) {
    let by_pattern = hangtrue_adjust::worn::girth_at(pattern, &line.name, line.leg);
    let hint =
        by_pattern.map_or_else(|_| "not known".to_owned(), |mm| show_length(mm, board.unit()));
    let mut girth = line.girth;
    let (palette, unit) = (board.palette, board.unit());
    ui.horizontal_wrapped(|ui| {
        ui.label("Round there");
        optional_length_field(
            ui,
            &palette,
            "Round the toile at this line",
            &mut girth,
            unit,
            &hint,
        );
    });
    if girth != line.girth {
        let (name, leg) = (line.name.clone(), line.leg);
        edit_marks(requests, &photo.file, "round the toile at a line", true, move |m| {
            m.line_mut(&name, leg).girth = girth;
        });
    }
}

/// The length that tells the scale: between two lines, where the grain crosses them.
fn known(
    own: &mut Toile,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    photo: &RoundPhoto,
    pattern: &Pattern,
) {
    let marks = marks_of(photo);
    let view = photo.view.seen_from().unwrap_or(View::Back);
    let Ok(known) = marks.known_or_proposed(view, pattern) else { return };
    part(ui, "4  The known length");
    let is_own = marks.known.is_some();
    match known.clone().with_length(view, pattern) {
        Ok(length) => {
            let KnownMark { upper, lower, .. } = &known;
            let words = format!("{} to {}, {}", upper.0, lower.0, leg_words(lower.1));
            row(ui, &words, &show_length(length.length, board.unit()));
        }
        Err(why) => fault(board, ui, &why.in_unit(board.unit())),
    }
    aside(
        board,
        ui,
        if is_own {
            "At your two places. It tells how large a pixel is."
        } else {
            "Along the grain, proposed in the middle of both lines. It tells how large a pixel is; move its places where the grain is drawn elsewhere."
        },
    );
    ui.horizontal_wrapped(|ui| {
        tool_button(
            own,
            ui,
            Tool::Upper,
            "Upper place",
            "Move the upper place of the known length",
        );
        tool_button(
            own,
            ui,
            Tool::Lower,
            "Lower place",
            "Move the lower place of the known length",
        );
        if is_own && ui.button("Propose it again").clicked() {
            edit_marks(requests, &photo.file, "the known length", false, move |m| m.known = None);
        }
    });
    let mut length = known.length;
    let (palette, unit) = (board.palette, board.unit());
    ui.horizontal_wrapped(|ui| {
        ui.label("It measures");
        optional_length_field(
            ui,
            &palette,
            "Known length",
            &mut length,
            unit,
            "as the pattern says",
        );
    });
    if length != known.length {
        edit_marks(requests, &photo.file, "the known length", true, move |m| {
            m.known = Some(KnownMark { length, ..known });
        });
    }
}
