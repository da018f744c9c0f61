//! The cloth in place of the cutting table: its pieces are pulled by the pointer and moved
//! and turned by keys; what lies over another is hatched and named at once.

use super::card::put;
use super::lies_on_table;
use super::state::{Held, LayRoom};
use super::work;
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::look_round;
use crate::kit::sheet::fill;
use crate::kit::theme::bold_family;
use egui::{
    Align2, FontId, Key, Painter, Pos2, Rect, Response, Shape, Stroke, StrokeKind, TextStyle, Ui,
    pos2, vec2,
};
use hangtrue_geometry::{Affine, BezPath, Point, Vec2, winding};
use hangtrue_lay::{Faults, Lay, Place};
use hangtrue_pattern::units::show_length;

/// Points left free round the cloth.
const ROUND: f32 = 46.0;
/// How far a key moves a piece, mm: alone, and with Shift.
const STEPS: (f64, f64) = (10.0, 1.0);
/// How near an edge or another place a pulled piece comes to be put right on it, points.
const CATCHES: f64 = 6.0;

/// From the cloth to the screen.
#[derive(Clone, Copy)]
struct View {
    scale: f64,
    left: f64,
    foot: f64,
}

impl View {
    fn of(lay: &Lay, canvas: Rect) -> Self {
        let long = lay.length().max(lay.bed.across);
        let room =
            (f64::from(canvas.width() - 2.0 * ROUND), f64::from(canvas.height() - 2.4 * ROUND));
        let scale = (room.0 / long).min(room.1 / lay.bed.across).max(1e-3);
        let high = lay.bed.across * scale;
        let foot = f64::from(canvas.center().y) + high / 2.0;
        Self { scale, left: f64::from(canvas.left() + ROUND), foot }
    }

    fn at(self, p: Point) -> Pos2 {
        pos2((self.left + self.scale * p.x) as f32, (self.foot - self.scale * p.y) as f32)
    }

    fn affine(self) -> Affine {
        Affine::new([self.scale, 0.0, 0.0, -self.scale, self.left, self.foot])
    }

    fn on_cloth(self, p: Pos2) -> Point {
        Point::new(
            (f64::from(p.x) - self.left) / self.scale,
            (self.foot - f64::from(p.y)) / self.scale,
        )
    }
}

/// Shows it; false when it is not to be shown.
pub(crate) fn show_on_table(
    own: &mut LayRoom,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) -> bool {
    if !lies_on_table(own, board) {
        return false;
    }
    work::look(own, board, requests, ui.ctx());
    let words = "The pieces on the cloth: pull one, or take it in hand and move it by arrow keys";
    let (canvas, response, painter) = look_round::canvas(ui, &board.palette, words);
    let Some((lay, faults)) = own.shown.as_ref().and_then(|s| s.lay.clone().ok()) else {
        look_round::hint(
            &board.palette,
            ui,
            &painter,
            canvas,
            "Nothing can be laid yet: see beside.",
        );
        return true;
    };
    // While a piece is pulled the view does not move under it.
    let still = own.held.map(|held| {
        let mut still = lay.clone();
        still.places[held.part] = own.pulled_from();
        still
    });
    let wrong = match faults.all.len() {
        0 => "nothing over another".to_owned(),
        1 => "1 thing to put right".to_owned(),
        n => format!("{n} things to put right"),
    };
    let length = show_length(lay.length(), board.unit());
    let words = match lay.laid().next() {
        Some(_) => format!("{length} of cloth · {wrong}"),
        None => "Nothing is laid yet".to_owned(),
    };
    let free = look_round::above_hint(&board.palette, ui, &painter, canvas, &words);
    let view = View::of(still.as_ref().unwrap_or(&lay), free);
    pulled(own, requests, &response, (&lay, view));
    by_keys(own, requests, ui, &response, &lay);
    cloth(board, ui, &painter, view, &lay);
    for (index, ..) in lay.laid() {
        piece(own, board, ui, &painter, view, (&lay, &faults, index));
    }
    name_under_pointer(&response, view, &lay);
    let ink = board.palette.on_paper().madder;
    for (a, b) in &faults.shown {
        painter.line_segment([view.at(*a), view.at(*b)], Stroke::new(1.6, ink));
    }
    look_round::hint(&board.palette, ui, &painter, canvas, &words);
    true
}

impl LayRoom {
    /// Where the part in the hand lay before.
    fn pulled_from(&self) -> Option<Place> {
        let held = self.held?;
        let kept = &self.shown.as_ref()?.cloth.pieces;
        let lay = self.shown.as_ref()?.lay.as_ref().ok()?;
        Lay::kept(lay.0.bed, lay.0.parts.clone(), kept).places.get(held.part).copied().flatten()
    }
}

/// The piece that lies uppermost at a place of the screen.
fn under(lay: &Lay, view: View, p: Pos2) -> Option<usize> {
    let at = view.on_cloth(p);
    let hit = |index: &usize| {
        lay.corners(*index).is_some_and(|corners| winding(&path_of(&corners), at) != 0)
    };
    (0..lay.parts.len()).rev().find(hit)
}

/// A small piece has no room for its name: it is read where the pointer rests.
fn name_under_pointer(response: &Response, view: View, lay: &Lay) {
    let part = response.hover_pos().and_then(|p| under(lay, view, p));
    if let Some(part) = part.filter(|_| !response.dragged()) {
        response.show_tooltip_text(lay.parts[part].name());
    }
}

/// What the pointer does.
fn pulled(own: &mut LayRoom, requests: &mut Requests, response: &Response, on: (&Lay, View)) {
    let (lay, view) = on;
    let under = |p: Pos2| under(lay, view, p);
    if response.clicked() {
        response.request_focus();
        own.chosen = response.interact_pointer_pos().and_then(under);
    }
    if response.drag_started() {
        response.request_focus();
        let pressed = response.ctx.input(|i| i.pointer.press_origin());
        let part = pressed.and_then(under);
        own.chosen = part.or(own.chosen);
        own.held = part.zip(pressed).and_then(|(part, pressed)| {
            let place = lay.places[part]?;
            let by = Point::new(place.x, place.y) - view.on_cloth(pressed);
            Some(Held { part, place, by })
        });
    }
    let Some(mut held) = own.held else { return };
    if let (true, Some(pointer)) = (response.dragged(), response.interact_pointer_pos()) {
        // From where it was pressed: what it went before it counted as a pull is not lost.
        let corner = view.on_cloth(pointer) + held.by;
        (held.place.x, held.place.y) = (corner.x, corner.y);
        own.held = Some(held);
    }
    if response.drag_stopped() {
        own.held = None;
        let place = caught(lay, held, view);
        put(own, requests, lay, (held.part, place), true);
    }
}

/// Let go near an edge of the cloth it lies right on it.
fn caught(lay: &Lay, held: Held, view: View) -> Place {
    let near = CATCHES / view.scale;
    let mut place = held.place;
    let wide = lay.parts[held.part].shape(place.turned, place.on_fold).size.y;
    if place.on_fold {
        // Pulled off the fold it lies whole.
        place.on_fold = place.y.abs() <= 2.0 * near;
    }
    if place.on_fold {
        place.y = 0.0;
    } else {
        for edge in [lay.bed.low, lay.bed.high - wide] {
            if (place.y - edge).abs() <= near {
                place.y = edge;
            }
        }
    }
    if place.x.abs() <= near {
        place.x = 0.0;
    }
    place
}

/// What the keys do with the piece in hand.
fn by_keys(own: &mut LayRoom, requests: &mut Requests, ui: &Ui, response: &Response, lay: &Lay) {
    if !response.has_focus() {
        return;
    }
    look_round::keep_arrows(ui, response);
    let Some((index, mut place)) = own.chosen.and_then(|i| Some((i, (*lay.places.get(i)?)?)))
    else {
        return;
    };
    let before = place;
    let step = if ui.input(|i| i.modifiers.shift) { STEPS.1 } else { STEPS.0 };
    for (key, by) in [
        (Key::ArrowLeft, Vec2::new(-step, 0.0)),
        (Key::ArrowRight, Vec2::new(step, 0.0)),
        (Key::ArrowUp, Vec2::new(0.0, step)),
        (Key::ArrowDown, Vec2::new(0.0, -step)),
    ] {
        let free = ui.input(|i| !i.modifiers.command && !i.modifiers.alt);
        if free && ui.input(|i| i.key_pressed(key)) {
            place.x += by.x;
            place.y += if place.on_fold { 0.0 } else { by.y };
        }
    }
    if ui.input(|i| i.modifiers.is_none() && i.key_pressed(Key::T)) {
        place.turned = !place.turned;
    }
    if place != before {
        put(own, requests, lay, (index, place), false);
    }
}

/// The cloth with its edges and their names.
fn cloth(board: &Board, ui: &Ui, painter: &Painter, view: View, lay: &Lay) {
    let bed = &lay.bed;
    let long = lay.length().max(bed.across);
    let inks = board.palette.on_paper();
    let corner = |x: f64, y: f64| view.at(Point::new(x, y));
    let whole = Rect::from_two_pos(corner(0.0, 0.0), corner(long, bed.across));
    painter.rect_filled(whole, 0.0, board.palette.field);
    painter.rect_stroke(whole, 0.0, Stroke::new(1.0, board.palette.edge), StrokeKind::Outside);
    let thin = Stroke::new(1.0, board.palette.edge);
    let low = if bed.folded { None } else { Some(bed.low) };
    for y in low.into_iter().chain([bed.high]) {
        painter.extend(Shape::dashed_line(&[corner(0.0, y), corner(long, y)], thin, 4.0, 4.0));
    }
    if bed.folded {
        let fold = [corner(0.0, 0.0), corner(long, 0.0)];
        painter.line_segment(fold, Stroke::new(3.0, inks.indigo));
    }
    let font = TextStyle::Small.resolve(ui.style());
    let say = |at: Pos2, align, words: &str| {
        painter.text(at, align, words, font.clone(), board.palette.text);
    };
    let foot = if bed.folded { "fold" } else { "selvedge" };
    say(corner(0.0, 0.0) + vec2(2.0, 3.0), Align2::LEFT_TOP, foot);
    say(corner(0.0, bed.across) + vec2(2.0, -3.0), Align2::LEFT_BOTTOM, "selvedge");
    let across = show_length(bed.across, board.unit());
    say(whole.right_top() + vec2(0.0, -3.0), Align2::RIGHT_BOTTOM, &format!("{across} across"));
    // Where nothing is laid yet there is no end of it.
    if lay.length() > 0.0 {
        let [end, top] = [0.0, bed.across].map(|y| corner(lay.length(), y));
        let pen = Stroke::new(1.6, board.palette.text);
        painter.extend(Shape::dashed_line(&[end, top], pen, 8.0, 4.0));
        let length = show_length(lay.length(), board.unit());
        say(end + vec2(0.0, 3.0), Align2::RIGHT_TOP, &length);
    }
}

fn path_of(corners: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    for (index, p) in corners.iter().enumerate() {
        if index == 0 { path.move_to(*p) } else { path.line_to(*p) }
    }
    path.close_path();
    path
}

/// A piece with its name, its upper end, and whether something is wrong with it.
fn piece(
    own: &LayRoom,
    board: &Board,
    ui: &Ui,
    painter: &Painter,
    view: View,
    (lay, faults, index): (&Lay, &Faults, usize),
) {
    let Some(corners) = lay.corners(index) else { return };
    let inks = board.palette.on_paper();
    let path = path_of(&corners);
    let mut paper = inks.paper;
    if own.held.is_some_and(|h| h.part == index) {
        // What lies under a pulled piece is seen through it.
        paper = paper.gamma_multiply(0.75);
    }
    painter.add(fill(&path, 0.5).mesh(view.affine(), paper));
    let mut edge: Vec<Pos2> = corners.iter().map(|p| view.at(*p)).collect();
    edge.extend(edge.first().copied());
    let wrong = faults.names(index);
    let chosen = own.chosen == Some(index);
    let width: f32 = if chosen { 2.6 } else { 1.2 };
    if wrong {
        let pen = Stroke::new(width.max(2.0), inks.madder);
        painter.extend(Shape::dashed_line(&edge, pen, 6.0, 4.0));
    } else {
        painter.add(Shape::line(edge, Stroke::new(width, inks.ink)));
    }
    name(board, ui, painter, view, (lay, index, wrong));
}

/// The name of a piece, as full and large as stands on it, and its arrow. What has no room
/// for its name has none: it is said where the pointer rests and in the list beside.
fn name(
    board: &Board,
    ui: &Ui,
    painter: &Painter,
    view: View,
    (lay, index, wrong): (&Lay, usize, bool),
) {
    let Some(bounds) = lay.bounds(index) else { return };
    let (part, inks) = (&lay.parts[index], board.palette.on_paper());
    let on_screen = view.affine().transform_rect_bbox(bounds);
    let mut names = vec![part.name()];
    if part.face_down {
        names.push(format!("{}, face down", part.name()));
    }
    if wrong {
        names.iter_mut().for_each(|name| *name += ": to put right");
    }
    let small = TextStyle::Small.resolve(ui.style()).size;
    let sizes = NAME_SIZES.map(|share| share * small);
    let sizes = sizes.into_iter().filter(|size| *size >= LEAST_NAME.min(small));
    let mut tried = names.iter().rev().flat_map(|name| {
        sizes.clone().map(move |size| (name.clone(), FontId::new(size, bold_family())))
    });
    let laid = tried.find_map(|(name, font)| {
        let laid = painter.layout_no_wrap(name, font, inks.ink);
        let (wide, high) = (f64::from(laid.size().x), f64::from(laid.size().y));
        (wide < on_screen.width() && high < on_screen.height()).then_some(laid)
    });
    let Some(laid) = laid else { return };
    // A low piece has room for its name alone.
    if on_screen.height() > NAME_AND_ARROW * f64::from(laid.size().y) {
        arrow(board, painter, view, (lay, index));
    }
    let at = view.at(bounds.center()) - 0.5 * laid.size();
    painter.galley(at, laid, inks.ink);
}

/// The sizes a name is tried in, in parts of small letters, and the least, points.
const NAME_SIZES: [f32; 4] = [1.0, 0.8, 0.65, 0.5];
const LEAST_NAME: f32 = 9.0;

/// So many times as high as its name is a piece that has room for an arrow too.
const NAME_AND_ARROW: f64 = 4.5;

/// An arrow towards the piece's upper end.
fn arrow(board: &Board, painter: &Painter, view: View, (lay, index): (&Lay, usize)) {
    let Some(bounds) = lay.bounds(index) else { return };
    let turned = lay.places[index].is_some_and(|p| p.turned);
    let middle = bounds.center();
    let half = (0.16 * bounds.width()).min(90.0) * if turned { -1.0 } else { 1.0 };
    let level = middle.y - 0.2 * bounds.height();
    let (from, to) = (Point::new(middle.x - half, level), Point::new(middle.x + half, level));
    let (a, b) = (view.at(from), view.at(to));
    painter.arrow(a, b - a, Stroke::new(1.2, board.palette.on_paper().ink_soft));
}
