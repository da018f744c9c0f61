//! What on the table can be pointed at or reached by keys: corners, lines and
//! places on seams, and the tag that tells about them.

use super::ground::Ground;
use crate::board::lines::edit_line;
use crate::board::requests::Requests;
use crate::board::stage::Stage;
use crate::board::{Board, Shown};
use crate::kit::length_field::step_of;
use crate::kit::pull::to_steps;
use crate::kit::tag::{HANDLE, ring, tag};
use crate::kit::view::pos;
use crate::table::pencil::{self, Pencil, Spot};
use egui::{EventFilter, Key, Pos2, Rect, Response, Role, Sense, Ui, WidgetInfo, vec2};
use hangtrue_adjust::{length_through, pulled_length, with_pulled_length};
use hangtrue_geometry::{Affine, Point};
use hangtrue_pattern::rule::Pulled;
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::{Piece, PlacedLine, ReferenceLine};

/// How near the pointer must come to a seam, points of the screen.
const NEAR: f64 = 14.0;

/// Shows corners and lines as things that can be focused, and the tag of what is
/// pointed at.
pub(crate) fn show(
    in_hand: &Pencil,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    ground: &Ground,
    table: &Response,
) {
    let mut told = false;
    // Elsewhere a corner is only pointed at: it would stand in the way of who goes by keys.
    let sense = match board.stage {
        Stage::Block | Stage::Lines => Sense::FOCUSABLE,
        _ => Sense::hover(),
    };
    for piece in &ground.shown.new.pieces {
        let place = ground.place(board, &piece.name);
        for (name, at) in piece.corners() {
            let response =
                focusable(ui, ("corner", piece.name.as_str(), name), pos(place * at), sense);
            let mut words = corner_words(board, ground.shown, piece, name, at);
            let movable = board.stage == Stage::Block && !in_hand.on;
            if movable && response.has_focus() {
                words += "\nArrow keys move it.";
                let pencil = Pencil { piece: piece.name.clone(), ..Pencil::default() };
                let spot = Spot::Corner(name.to_owned());
                pencil::nudge(board, requests, ui, &response, &pencil, &spot, at);
            }
            response.widget_info(|| WidgetInfo::labeled(Role::GraphicsSymbol, true, &words));
            if response.has_focus() || (response.hovered() && ground.scale > 0.2) {
                ring(ui, &board.palette, response.rect.center());
                tag(ui, &board.palette, ground.canvas, response.rect.center(), &words);
                told = true;
            }
        }
    }
    told |= show_lines(board, requests, ui, ground);
    let pointer = table.hover_pos().filter(|_| !table.dragged() && !told);
    if let Some(pointer) = pointer {
        tell_nearest_seam(board, ui, ground, pointer);
    }
}

fn focusable(ui: &Ui, name: (&str, &str, &str), at: Pos2, sense: Sense) -> Response {
    let rect = Rect::from_center_size(at, vec2(2.0 * HANDLE, 2.0 * HANDLE));
    ui.interact(rect, ui.scope_id().with(name), sense)
}

fn corner_words(board: &Board, shown: &Shown, piece: &Piece, name: &str, at: Point) -> String {
    let moved = shown.old.as_ref().and_then(|(old, old_name)| {
        let was = old.piece(&piece.name).ok()?.corner(name).ok()?;
        let far = was.distance(at);
        (far > 0.05).then(|| format!(", moved {} from {old_name}", show_length(far, board.unit())))
    });
    format!("{}, corner {name}{}", piece.name, moved.unwrap_or_default())
}

/// How near the pointer must come to a line to take it, points of the screen.
const NEAR_LINE: f32 = 9.0;

/// Where a line is taken: under the pointer when that is near, else at one place.
fn hold_of(line: &PlacedLine, place: Affine, pointer: Option<Pos2>) -> Pos2 {
    let rest = || pos(place * line.chain.point_at(line.chain.length() * 0.38));
    let near = pointer.and_then(|p| {
        let on_paper = place.inverse() * Point::new(f64::from(p.x), f64::from(p.y));
        let at = pos(place * line.chain.nearest(on_paper).point);
        (at.distance(p) < NEAR_LINE).then_some(at)
    });
    near.unwrap_or_else(rest)
}

fn show_lines(board: &Board, requests: &mut Requests, ui: &mut Ui, ground: &Ground) -> bool {
    let (placed, _) = ground.shown.new.place_lines();
    let pointer = ui.input(|i| i.pointer.hover_pos()).filter(|p| ground.canvas.contains(*p));
    let mut told = false;
    for line in placed {
        let place = ground.place(board, &line.piece);
        let at = hold_of(&line, place, pointer);
        let key = ("line", line.piece.as_str(), line.name.as_str());
        let response = focusable(ui, key, at, Sense::click_and_drag());
        let Ok(found) = ground.shown.new.line(&line.piece, &line.name) else { continue };
        let mut words = format!(
            "{} line on the {}: {}",
            line.name,
            line.piece,
            found.rule.sentence(board.unit())
        );
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &words));
        let found = found.clone();
        if response.dragged()
            && let Some(pointer) = pointer
        {
            words += pull_line(board, requests, ui, ground, place, &found, pointer);
        }
        if response.hovered() || response.has_focus() || response.dragged() {
            ring(ui, &board.palette, at);
            let hint = match (response.dragged(), pulled_length(&found.rule), response.has_focus())
            {
                (true, ..) => "",
                (_, None, _) => {
                    " It hangs from fixed places, so it is not pulled: click it, and set it on its card."
                }
                (_, _, true) => " Up and down move it.",
                _ => " Click to set it, or pull it.",
            };
            tag(ui, &board.palette, ground.canvas, at, &(words + hint));
            told = true;
        }
        if response.clicked() {
            edit_line(board, requests, found.clone());
            response.request_focus();
        }
        nudge_line(board, requests, ui, &response, found);
    }
    told
}

/// Pulls a line to the pointer: the number of its rule follows, in whole steps of the
/// tape; near the number of the same line on another piece it takes that. Returns
/// words for what it was drawn to.
fn pull_line(
    board: &Board,
    requests: &mut Requests,
    ui: &Ui,
    ground: &Ground,
    place: Affine,
    line: &ReferenceLine,
    pointer: Pos2,
) -> &'static str {
    let to = place.inverse() * Point::new(f64::from(pointer.x), f64::from(pointer.y));
    if pulled_length(&line.rule).is_none() {
        return " It hangs from fixed places: click it, and set it on its card.";
    }
    let Some(length) = length_through(&ground.shown.new, line, to) else {
        return " It cannot come there.";
    };
    let others = ground.shown.new.lines.iter().filter(|l| {
        l.name == line.name
            && l.piece != line.piece
            && std::mem::discriminant(&l.rule) == std::mem::discriminant(&line.rule)
    });
    let alike = others.filter_map(|l| pulled_length(&l.rule));
    let reach = f64::from(NEAR_LINE) / ground.scale;
    let drawn = alike.into_iter().find(|l| (l - length).abs() < reach.min(DRAWN));
    let fine = ui.input(|i| i.modifiers.shift);
    let (length, words) = match drawn {
        Some(alike) if !fine => (alike, " · as on the other piece"),
        _ => (to_steps(length, board.unit()), " · to a whole step of the tape"),
    };
    if pulled_length(&line.rule) != Some(length) {
        let rule = with_pulled_length(&line.rule, length);
        edit_line(board, requests, ReferenceLine { rule, ..line.clone() });
    }
    words
}

/// How near a line must come to the number of another to be drawn to it, mm.
const DRAWN: f64 = 4.0;

fn nudge_line(
    board: &Board,
    requests: &mut Requests,
    ui: &Ui,
    response: &Response,
    mut line: ReferenceLine,
) {
    if !response.has_focus() {
        return;
    }
    let filter = EventFilter { vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|m| m.set_focus_lock_filter(response.id, filter));
    let key = |key| ui.input(|i| i.key_pressed(key));
    let by = match (key(Key::ArrowDown), key(Key::ArrowUp)) {
        (true, false) => step_of(board.unit()),
        (false, true) => -step_of(board.unit()),
        _ => return,
    };
    let piece = board.replay.current().ok().and_then(|p| p.piece(&line.piece).ok().cloned());
    match line.rule.pulled() {
        Some(Pulled::Length(value)) => *value += by,
        Some(Pulled::Place(at)) => {
            // A place counted from the lower end goes down when it comes nearer.
            let falls = piece.and_then(|p| {
                let seam = p.seam(&at.seam).ok()?;
                Some(seam.end_point(at.from).y > seam.end_point(at.from.other()).y)
            });
            at.distance += if falls == Some(true) { by } else { -by };
        }
        None => {
            requests.tell("this line hangs from fixed places; open it on its card to move it.");
            return;
        }
    }
    edit_line(board, requests, line);
}

/// The nearest seam under the pointer: its name, the running length from either
/// end, and how far it moved.
fn tell_nearest_seam(board: &Board, ui: &Ui, ground: &Ground, pointer: Pos2) {
    let Some((piece, seam, found)) = nearest(board, ground, pointer) else { return };
    let at = pos(ground.place(board, &piece.name) * found.point);
    let unit = board.unit();
    let length = piece.seams[seam].sewn_length();
    let next = &piece.seams[(seam + 1) % piece.seams.len()].starts_at;
    let mut words = format!(
        "{} of the {}\n{} from {}\n{} from {}",
        piece.seams[seam].name,
        piece.name,
        show_length(found.position, unit),
        piece.seams[seam].starts_at,
        show_length(length - found.position, unit),
        next,
    );
    if let Some((old, name)) = &ground.shown.old
        && let Ok(was) = old.piece(&piece.name)
        && let Some((_, _, far)) = was.nearest(found.point)
    {
        words += &format!("\n{} off the line {name}", show_length(far, unit));
    }
    ring(ui, &board.palette, at);
    tag(ui, &board.palette, ground.canvas, at, &words);
}

/// The piece, the seam and the place on it that lie nearest to the pointer.
pub(crate) fn nearest<'a>(
    board: &Board,
    ground: &Ground<'a>,
    pointer: Pos2,
) -> Option<(&'a Piece, usize, hangtrue_pattern::SeamPoint)> {
    let on_table =
        ground.to_screen.inverse() * Point::new(f64::from(pointer.x), f64::from(pointer.y));
    let all = ground.shown.new.pieces.iter().filter_map(|piece| {
        let on_piece = on_table - board.lay.shift(&piece.name);
        let reach = NEAR / ground.scale;
        if !piece.bounds().inflate(reach, reach).contains(on_piece) {
            return None;
        }
        piece.nearest(on_piece).map(|(seam, place, far)| (piece, seam, place, far))
    });
    let best = all.min_by(|a, b| a.3.total_cmp(&b.3))?;
    (best.3 * ground.scale < NEAR).then_some((best.0, best.1, best.2))
}
