//! What on the table can be pointed at or reached by keys: corners, lines and
//! places on seams, and the tag that tells about them.

use crate::desk::desk::{Desk, Shown};
use crate::board::draft::Draft;
use crate::kit::length_field::step_of;
use crate::table::pencil::{self, Pencil, Spot};
use crate::board::stage::Stage;
use crate::kit::view::pos;
use egui::{
    Align2, EventFilter, FontId, Key, Painter, Pos2, Rect, Response, Role, Sense, Stroke, Ui,
    WidgetInfo, vec2,
};
use hangtrue_adjust::{Change, MarkLine};
use hangtrue_geometry::{Affine, Point};
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::{Pattern, Piece, Place, Purpose, ReferenceLine, Rule};

/// How near the pointer must come to a seam, points of the screen.
const NEAR: f64 = 14.0;
/// Half the size of a corner's or line's handle, points of the screen.
const HANDLE: f32 = 9.0;

/// Shows corners and lines as things that can be focused, and the tag of what is
/// pointed at.
pub(crate) fn show(
    desk: &mut Desk,
    ui: &mut Ui,
    shown: &Shown,
    to_screen: Affine,
    table: &Response,
) {
    let mut told = false;
    for piece in &shown.new.pieces {
        let place = to_screen * desk.lay.affine(&piece.name);
        for (name, at) in piece.corners() {
            let response = focusable(
                ui,
                ("corner", piece.name.as_str(), name),
                pos(place * at),
                Sense::FOCUSABLE,
            );
            let mut words = corner_words(desk, shown, piece, name, at);
            let movable = desk.stage == Stage::Block && !desk.cards.pencil.on;
            if movable && response.has_focus() {
                words += "\nArrow keys move it.";
                let pencil = Pencil { piece: piece.name.clone(), ..Pencil::default() };
                let spot = Spot::Corner(name.to_owned());
                pencil::nudge(desk, ui, &response, &pencil, &spot, at);
            }
            response.widget_info(|| WidgetInfo::labeled(Role::GraphicsSymbol, true, &words));
            if response.has_focus() || (response.hovered() && desk.view.scale > 0.2) {
                ring(ui, desk, response.rect.center());
                tag(ui, desk, response.rect.center(), &words);
                told = true;
            }
        }
    }
    told |= show_lines(desk, ui, shown, to_screen);
    let pointer = table.hover_pos().filter(|_| !table.dragged() && !told);
    if let Some(pointer) = pointer {
        tell_nearest_seam(desk, ui, shown, to_screen, pointer);
    }
}

fn focusable(ui: &Ui, name: (&str, &str, &str), at: Pos2, sense: Sense) -> Response {
    let rect = Rect::from_center_size(at, vec2(2.0 * HANDLE, 2.0 * HANDLE));
    ui.interact(rect, ui.scope_id().with(name), sense)
}

fn corner_words(desk: &Desk, shown: &Shown, piece: &Piece, name: &str, at: Point) -> String {
    let moved = shown.old.as_ref().and_then(|(old, old_name)| {
        let was = old.piece(&piece.name).ok()?.corner(name).ok()?;
        let far = was.distance(at);
        (far > 0.05).then(|| format!(", moved {} from {old_name}", show_length(far, desk.unit())))
    });
    format!("{}, corner {name}{}", piece.name, moved.unwrap_or_default())
}

fn show_lines(desk: &mut Desk, ui: &mut Ui, shown: &Shown, to_screen: Affine) -> bool {
    let (placed, _) = shown.new.place_lines();
    let mut told = false;
    for line in placed {
        let place = to_screen * desk.lay.affine(&line.piece);
        let at = pos(place * line.chain.point_at(line.chain.length() * 0.38));
        let key = ("line", line.piece.as_str(), line.name.as_str());
        let response = focusable(ui, key, at, Sense::click());
        let Ok(found) = shown.new.line(&line.piece, &line.name) else { continue };
        let words = format!(
            "{} line on the {}: {}",
            line.name,
            line.piece,
            found.rule.sentence(desk.unit())
        );
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &words));
        let found = found.clone();
        if response.hovered() || response.has_focus() {
            ring(ui, desk, at);
            let hint =
                if response.has_focus() { " Up and down move it." } else { " Click to set it." };
            tag(ui, desk, at, &(words + hint));
            told = true;
        }
        if response.clicked() {
            edit_line(desk, found.clone());
            response.request_focus();
        }
        nudge_line(desk, ui, &response, found);
    }
    told
}

/// Opens a line on its card.
pub(crate) fn edit_line(desk: &mut Desk, line: ReferenceLine) {
    let at = mark_of(desk, &line);
    let name = format!("{} on the {}", line.name, line.piece);
    let line = ReferenceLine { last: None, ..line };
    let change = Change::MarkLine(MarkLine { line });
    let draft = match at.and_then(|at| Draft::again(desk.document(), at)) {
        Some(again) => Draft { change, ..again },
        None => Draft::new(&name, change),
    };
    desk.stage = Stage::Lines;
    desk.set_draft(Some(draft));
}

/// The change that marked a line last, if a change did.
fn mark_of(desk: &Desk, line: &ReferenceLine) -> Option<usize> {
    desk.document().changes.iter().rposition(|e| {
        matches!(&e.change, Change::MarkLine(m) if m.line.name == line.name && m.line.piece == line.piece)
    })
}

fn nudge_line(desk: &mut Desk, ui: &Ui, response: &Response, mut line: ReferenceLine) {
    if !response.has_focus() {
        return;
    }
    let filter = EventFilter { vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|m| m.set_focus_lock_filter(response.id, filter));
    let key = |key| ui.input(|i| i.key_pressed(key));
    let by = match (key(Key::ArrowDown), key(Key::ArrowUp)) {
        (true, false) => step_of(desk.unit()),
        (false, true) => -step_of(desk.unit()),
        _ => return,
    };
    let piece = desk.replay.current().ok().and_then(|p| p.piece(&line.piece).ok().cloned());
    let moved = match &mut line.rule {
        Rule::SquareToGrain { through: Place::Seam(at) } => {
            // A place counted from the lower end goes down when it comes nearer.
            let falls = piece.and_then(|p| {
                let seam = p.seam(&at.seam).ok()?;
                Some(seam.end_point(at.from).y > seam.end_point(at.from.other()).y)
            });
            at.distance += if falls == Some(true) { by } else { -by };
            return edit_line(desk, line);
        }
        Rule::EqualDepth { depth, .. } => Some(depth),
        Rule::Below { drop, .. } => Some(drop),
        Rule::ParallelTo { distance, .. } => Some(distance),
        Rule::Between { .. } | Rule::SquareToGrain { .. } | Rule::Through { .. } => None,
    };
    match moved {
        Some(value) => {
            *value += by;
            edit_line(desk, line);
        }
        None => desk.tell("this line hangs from fixed places; open it on its card to move it."),
    }
}

/// The nearest seam under the pointer: its name, the running length from either
/// end, and how far it moved.
fn tell_nearest_seam(desk: &Desk, ui: &Ui, shown: &Shown, to_screen: Affine, pointer: Pos2) {
    let Some((piece, seam, found)) = nearest(desk, &shown.new, to_screen, pointer) else { return };
    let at = pos(to_screen * desk.lay.affine(&piece.name) * found.point);
    let unit = desk.unit();
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
    if let Some((old, name)) = &shown.old
        && let Ok(was) = old.piece(&piece.name)
        && let Some((_, _, far)) = was.nearest(found.point)
    {
        words += &format!("\n{} off the line {name}", show_length(far, unit));
    }
    ring(ui, desk, at);
    tag(ui, desk, at, &words);
}

pub(crate) fn nearest<'a>(
    desk: &Desk,
    pattern: &'a Pattern,
    to_screen: Affine,
    pointer: Pos2,
) -> Option<(&'a Piece, usize, hangtrue_pattern::SeamPoint)> {
    let on_table = to_screen.inverse() * Point::new(f64::from(pointer.x), f64::from(pointer.y));
    let all = pattern.pieces.iter().filter_map(|piece| {
        let on_piece = on_table - desk.lay.shift(&piece.name);
        let reach = NEAR / desk.view.scale;
        if !piece.bounds().inflate(reach, reach).contains(on_piece) {
            return None;
        }
        piece.nearest(on_piece).map(|(seam, place, far)| (piece, seam, place, far))
    });
    let best = all.min_by(|a, b| a.3.total_cmp(&b.3))?;
    (best.3 * desk.view.scale < NEAR).then_some((best.0, best.1, best.2))
}

fn over(ui: &Ui) -> Painter {
    ui.painter().clone()
}

pub(crate) fn ring(ui: &Ui, desk: &Desk, at: Pos2) {
    let painter = over(ui);
    painter.circle_filled(at, 4.5, desk.palette.on_paper().madder);
    painter.circle_stroke(at, HANDLE, Stroke::new(2.0, desk.palette.on_paper().madder));
}

/// A paper tag with words beside a place.
pub(crate) fn tag(ui: &Ui, desk: &Desk, at: Pos2, words: &str) {
    let painter = over(ui);
    let font = FontId::proportional(egui::TextStyle::Small.resolve(ui.style()).size);
    let galley = painter.layout(words.to_owned(), font, desk.palette.text, 300.0);
    let size = galley.size() + vec2(18.0, 12.0);
    let mut place = Align2::LEFT_TOP.anchor_size(at + vec2(16.0, 14.0), size);
    let canvas = desk.canvas.shrink(4.0);
    if place.right() > canvas.right() {
        place = place.translate(vec2(-(size.x + 32.0), 0.0));
    }
    if place.bottom() > canvas.bottom() {
        place = place.translate(vec2(0.0, -(size.y + 28.0)));
    }
    painter.rect_filled(place.translate(vec2(2.0, 3.0)), 5.0, egui::Color32::from_black_alpha(60));
    painter.rect_filled(place, 5.0, desk.palette.card);
    painter.rect_stroke(place, 5.0, Stroke::new(1.0, desk.palette.rule), egui::StrokeKind::Inside);
    painter.galley(place.min + vec2(9.0, 6.0), galley, desk.palette.text);
}

/// A new line for the card, by the rule most used.
pub(crate) fn new_line(piece: &str) -> ReferenceLine {
    use hangtrue_pattern::{End, names};
    ReferenceLine {
        name: "high hip".into(),
        piece: piece.to_owned(),
        rule: Rule::EqualDepth {
            first: (names::SIDE.into(), End::End),
            second: (names::CROTCH.into(), End::Start),
            depth: 88.9,
        },
        purpose: Purpose::Cloth("to be read on the body".into()),
        last: None,
    }
}
