//! Drawing by hand: which seam the pencil works on, exact places, and the steps
//! that are not a pull: points, corners, darts, notches, names, joins.

use crate::board::Board;
use crate::board::requests::{Request, Requests};
use crate::board::trial::Trial;
use crate::kit::choice::choice;
use crate::kit::field::one_line;
use crate::kit::length_field::{length_field, name_field};
use crate::kit::say::{aside, part};
use crate::table::pencil::{Pencil, Spot, spots, try_move};
use egui::Ui;
use hangtrue_adjust::draw::{
    AddDart, BendSegment, InsertPoint, RemoveDart, RemoveNotch, RemovePoint, RenameCorner,
    RenamePiece, RenameSeam, SetGrain, SetNotch, Sew, SplitSeam, Unsew,
};
use hangtrue_adjust::{Change, Draw};
use hangtrue_geometry::Point;
use hangtrue_pattern::units::{Unit, round_in, show_change};
use hangtrue_pattern::words::capital;
use hangtrue_pattern::{End, Fold, Join, JoinSide, Notch, NotchKind, Pattern, Piece};

/// What is typed in the forms of the pencil.
#[derive(Debug, Clone, Default)]
pub(crate) struct PencilForm {
    at: f64,
    name: String,
    other_name: String,
    intake: f64,
    length: f64,
    mate: (String, String),
    /// Whether the lengths to begin with were laid out in inches; none before that.
    in_inches: Option<bool>,
}

impl PencilForm {
    /// Lengths to begin with, round in the unit of the project.
    fn begin_in(&mut self, unit: Unit) {
        let inches = unit.denominator().is_some();
        if self.in_inches.replace(inches) != Some(inches) {
            self.at = round_in(unit, (100.0, 4.0));
            self.intake = round_in(unit, (20.0, 0.75));
            self.length = round_in(unit, (90.0, 3.5));
        }
    }
}

/// Shows the part of the card that draws.
pub(super) fn show(
    (own, hand): (&mut PencilForm, &mut Pencil),
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) {
    own.begin_in(board.unit());
    part(ui, "Draw by hand");
    let mut on = hand.on;
    ui.checkbox(&mut on, "Take the pencil");
    hand.on = on;
    let Ok(pattern) = board.replay.current().cloned() else { return };
    if !on {
        aside(
            board,
            ui,
            "Points, curves, darts, notches and names of the pieces are drawn with the pencil.",
        );
        return;
    }
    choose_seam(hand, ui, &pattern);
    ui.checkbox(&mut hand.comb, "Show the comb of its bending");
    let pencil = hand.clone();
    let Ok(piece) = pattern.piece(&pencil.piece) else { return };
    exact_place(board, requests, ui, &pencil, &pattern);
    steps_of_spot(own, hand, board, requests, ui, &pencil, piece);
    steps_of_seam(own, board, requests, ui, &pencil, piece, &pattern);
    grain(hand, board, requests, ui, piece);
}

/// The grain: its ends are pulled or typed like other spots.
fn grain(hand: &mut Pencil, board: &Board, requests: &mut Requests, ui: &mut Ui, piece: &Piece) {
    part(ui, "Grain");
    let ends = piece.grain;
    let lean = ends.direction().x.asin().to_degrees();
    let words = if lean.abs() < 0.05 {
        format!("The grain of the {} is upright.", piece.name)
    } else {
        format!("The grain of the {} leans {}°.", piece.name, show_change(lean, 1))
    };
    ui.label(words);
    aside(board, ui, "Pull its ends on the table: the diamonds at the arrows.");
    ui.horizontal_wrapped(|ui| {
        for (words, upper) in [("Set its upper end", true), ("Set its lower end", false)] {
            if ui.button(words).clicked() {
                hand.chosen = Some(Spot::Grain(upper));
            }
        }
        if ui.add_enabled(lean.abs() > 1e-9, egui::Button::new("Make it upright")).clicked() {
            let x = (ends.from.x + ends.to.x) / 2.0;
            let (from, to) = (Point::new(x, ends.from.y), Point::new(x, ends.to.y));
            step(requests, Draw::SetGrain(SetGrain { piece: piece.name.clone(), from, to }));
        }
    });
}

fn choose_seam(pencil: &mut Pencil, ui: &mut Ui, pattern: &Pattern) {
    let pieces: Vec<String> = pattern.pieces.iter().map(|p| p.name.clone()).collect();
    if !pieces.contains(&pencil.piece) {
        pencil.piece = pieces.first().cloned().unwrap_or_default();
    }
    choice(ui, "Piece", &mut pencil.piece, &pieces);
    let Ok(piece) = pattern.piece(&pencil.piece) else { return };
    let seams: Vec<String> = piece.seams.iter().map(|s| s.name.clone()).collect();
    if !seams.contains(&pencil.seam) {
        pencil.seam = seams.first().cloned().unwrap_or_default();
        pencil.chosen = None;
    }
    choice(ui, "Seam", &mut pencil.seam, &seams);
}

/// The chosen spot's place to be typed.
fn exact_place(
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    pencil: &Pencil,
    pattern: &Pattern,
) {
    let Some(spot) = &pencil.chosen else {
        aside(
            board,
            ui,
            "Pull a point or handle on the table, or go to it with Tab and use the arrow keys.",
        );
        return;
    };
    let Some((_, at, _)) = spots(pencil, pattern).into_iter().find(|s| s.0 == *spot) else {
        return;
    };
    ui.label(capital(&spot.words(pencil)));
    let (palette, unit) = (board.palette, board.unit());
    let mut to = at;
    let across = length_field(ui, &palette, "Across", &mut to.x, unit);
    let up = length_field(ui, &palette, "Up", &mut to.y, unit);
    if across || up {
        try_move(board, requests, pencil, spot, to);
        requests.ask_for(Request::AcceptOrLeave);
    }
}

/// Lays a step on the table.
fn step(requests: &mut Requests, draw: Draw) {
    requests.show_now();
    requests.begin(Trial::new(&draw.words(), Change::Draw(draw)));
}

// A button inside a guard would be drawn only sometimes.
#[allow(clippy::collapsible_match)]
fn steps_of_spot(
    own: &mut PencilForm,
    hand: &mut Pencil,
    _board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    pencil: &Pencil,
    piece: &Piece,
) {
    let (name, seam) = (piece.name.clone(), pencil.seam.clone());
    match pencil.chosen.clone() {
        Some(Spot::Point(at, segment)) => {
            if ui.button("Take this point away").clicked() {
                let taken = RemovePoint { piece: name, seam, part: at, segment };
                hand.chosen = None;
                step(requests, Draw::RemovePoint(taken));
            }
        }
        Some(Spot::Handle(at, segment, _)) => {
            if ui.button("Make this stretch straight").clicked() {
                let bend = BendSegment { piece: name, seam, part: at, segment, curved: false };
                hand.chosen = None;
                step(requests, Draw::BendSegment(bend));
            }
        }
        Some(Spot::Corner(corner)) => {
            name_row(ui, "New name of the corner", &mut own.other_name);
            let new = own.other_name.trim().to_owned();
            if ui.add_enabled(!new.is_empty(), egui::Button::new("Call the corner so")).clicked() {
                step(requests, Draw::RenameCorner(RenameCorner { piece: name, corner, name: new }));
            }
        }
        Some(Spot::Grain(_)) | None => {}
    }
    straight_stretches(requests, ui, pencil, piece);
}

/// A straight stretch has no handles to take hold of, so each has a button.
fn straight_stretches(requests: &mut Requests, ui: &mut Ui, pencil: &Pencil, piece: &Piece) {
    let Ok(seam) = piece.seam(&pencil.seam) else { return };
    for (index, chain) in seam.parts.iter().enumerate() {
        for (segment, curve) in chain.segments().iter().enumerate() {
            let straight = matches!(curve, hangtrue_geometry::PathSeg::Line(_));
            let words = format!("Make stretch {}.{} a curve", index + 1, segment + 1);
            if straight && ui.button(words).clicked() {
                let (piece, seam) = (piece.name.clone(), seam.name.clone());
                let bend = BendSegment { piece, seam, part: index, segment, curved: true };
                step(requests, Draw::BendSegment(bend));
            }
        }
    }
}

fn name_row(ui: &mut Ui, label: &str, text: &mut String) {
    ui.horizontal_wrapped(|ui| {
        ui.label(label);
        let field = ui.add(one_line(text).desired_width(150.0));
        name_field(ui, &field, label);
    });
}

fn steps_of_seam(
    own: &mut PencilForm,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    pencil: &Pencil,
    piece: &Piece,
    pattern: &Pattern,
) {
    let (palette, unit) = (board.palette, board.unit());
    let Ok(index) = piece.seam_index(&pencil.seam) else { return };
    let start = piece.seams[index].starts_at.clone();
    part(ui, "On this seam");
    let form = &mut *own;
    length_field(ui, &palette, &format!("At, from {start}"), &mut form.at, unit);
    name_row(ui, "Name", &mut form.name);
    let form = form.clone();
    let (on, seam, at, name) =
        (piece.name.clone(), pencil.seam.clone(), form.at, form.name.trim().to_owned());
    let named = !name.is_empty();
    ui.horizontal_wrapped(|ui| {
        if ui.button("Set a point there").clicked() {
            step(
                requests,
                Draw::InsertPoint(InsertPoint { piece: on.clone(), seam: seam.clone(), at }),
            );
        }
        let button =
            |ui: &mut Ui, words: &str| ui.add_enabled(named, egui::Button::new(words)).clicked();
        if button(ui, "Notch there") {
            let kind = NotchKind::Single;
            let notch = Notch {
                name: name.clone(),
                seam: seam.clone(),
                from: End::Start,
                distance: at,
                kind,
            };
            step(requests, Draw::SetNotch(SetNotch { piece: on.clone(), notch }));
        }
        if button(ui, "Corner there") {
            let (piece, seam) = (on.clone(), seam.clone());
            let rest = format!("{seam} after {name}");
            let split = SplitSeam { piece, seam, at, corner: name.clone(), name: rest };
            step(requests, Draw::SplitSeam(split));
        }
        if button(ui, "Dart there") {
            let (piece, seam) = (on.clone(), seam.clone());
            let (intake, length, fold) = (form.intake, form.length, Fold::ToEnd);
            let dart = AddDart { piece, seam, name: name.clone(), at, intake, length, fold };
            step(requests, Draw::AddDart(dart));
        }
        if button(ui, "Call the seam so") {
            let (piece, seam) = (on.clone(), seam.clone());
            step(requests, Draw::RenameSeam(RenameSeam { piece, seam, name: name.clone() }));
        }
        if button(ui, "Call the piece so") {
            step(
                requests,
                Draw::RenamePiece(RenamePiece { piece: on.clone(), name: name.clone() }),
            );
        }
    });
    if !named {
        crate::kit::say::aside(palette, ui, "For all but the point, write a name first.");
    }
    let form = &mut *own;
    length_field(ui, &palette, "Intake of a new dart", &mut form.intake, unit);
    length_field(ui, &palette, "Length of a new dart", &mut form.length, unit);
    take_away(requests, ui, pencil, piece);
    sewing(own, requests, ui, pencil, pattern);
}

fn take_away(requests: &mut Requests, ui: &mut Ui, pencil: &Pencil, piece: &Piece) {
    let on = || piece.name.clone();
    ui.horizontal_wrapped(|ui| {
        for (seam, _, dart) in piece.darts() {
            if seam.name == pencil.seam
                && ui.button(format!("Take the {} out", dart.name)).clicked()
            {
                step(
                    requests,
                    Draw::RemoveDart(RemoveDart { piece: on(), dart: dart.name.clone() }),
                );
            }
        }
        for notch in piece.notches.iter().filter(|n| n.seam == pencil.seam) {
            if ui.button(format!("Take the notch {} off", notch.name)).clicked() {
                let (seam, notch) = (notch.seam.clone(), notch.name.clone());
                step(requests, Draw::RemoveNotch(RemoveNotch { piece: on(), seam, notch }));
            }
        }
    });
}

/// Which seam this one is sewn to.
fn sewing(
    own: &mut PencilForm,
    requests: &mut Requests,
    ui: &mut Ui,
    pencil: &Pencil,
    pattern: &Pattern,
) {
    part(ui, "Sewn to");
    let joined = pattern.joins_of(&pencil.piece, &pencil.seam).next().cloned();
    if let Some(join) = joined {
        let other = join.sides().find(|s| s.piece != pencil.piece || s.seam != pencil.seam);
        let to = other.map_or("its own mirror image".into(), |s| {
            format!("the {} of the {}", s.seam, s.piece)
        });
        ui.label(format!("{to}, as the {}.", join.name));
        if ui.button(format!("Take the {} apart", join.name)).clicked() {
            step(requests, Draw::Unsew(Unsew { join: join.name }));
        }
        return;
    }
    let free: Vec<(String, String)> = pattern
        .pieces
        .iter()
        .flat_map(|p| p.seams.iter().map(move |s| (p.name.clone(), s.name.clone())))
        .filter(|(p, s)| pattern.joins_of(p, s).next().is_none())
        .filter(|(p, s)| *p != pencil.piece || *s != pencil.seam)
        .collect();
    let words: Vec<String> = free.iter().map(|(p, s)| format!("{s} of the {p}")).collect();
    let mate = &own.mate;
    let mut chosen = if mate.1.is_empty() {
        "choose a seam".to_owned()
    } else {
        format!("{} of the {}", mate.1, mate.0)
    };
    choice(ui, "the other seam", &mut chosen, &words);
    if let Some(at) = words.iter().position(|w| *w == chosen) {
        own.mate = free[at].clone();
        // Two seams that are sewn face each other, so they run the same way from
        // ends of the same name only when drawn as the block is.
        for (label, end) in [("Sew start to start", End::Start), ("Sew start to end", End::End)] {
            if ui.button(label).clicked() {
                let (piece, seam) = own.mate.clone();
                let join = Join {
                    name: format!("{} with {seam}", pencil.seam),
                    first: JoinSide::new(&pencil.piece, &pencil.seam, End::Start),
                    second: Some(JoinSide::new(&piece, &seam, end)),
                    ease: 0.0,
                };
                step(requests, Draw::Sew(Sew { join }));
            }
        }
    }
}
