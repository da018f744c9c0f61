//! A photo in place of the cutting table: looked round in, marked by pointer and
//! keys, with what was read drawn over it.

use super::photos::{PhotoState, Ready};
use super::state::{Toile, Tool, edit_marks, photo_of, toile_of};
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::tag::{ring, tag};
use crate::kit::view::{PanZoom, pos};
use crate::kit::{look_round, over_photo};
use crate::toile::overlay::{LaidPhoto, paint};
use egui::{
    Align2, Key, Pos2, Rect, Response, Role, Sense, Shape, Stroke, Ui, WidgetInfo, pos2, vec2,
};
use hangtrue_adjust::RoundPhoto;
use hangtrue_adjust::worn::{KnownMark, LegSeen, LevelBy, PhotoMarks};
use hangtrue_files::worn::{body_edge, dark_line_at, leg_words};
use hangtrue_geometry::{Affine, Point, Rect as PaperRect, Vec2};
use std::sync::Arc;

/// A marked place that can be moved.
#[derive(Debug, Clone, PartialEq, Eq)]
enum MarkedPlace {
    Level(usize),
    Heels,
    Place(String, LegSeen, usize),
    Upper,
    Lower,
}

/// Shows the photo; false when none is open.
pub(super) fn show(own: &mut Toile, board: &Board, requests: &mut Requests, ui: &mut Ui) -> bool {
    let Some(photo) = own.open.clone().and_then(|f| photo_of(board, &f)) else {
        return false;
    };
    let words = "Photo of the toile: arrow keys move it, plus and minus zoom, F shows all";
    let (canvas, response, painter) = look_round::canvas(ui, &board.palette, words);
    own.canvas = Some(canvas);
    let ready = match own.look(board, ui.ctx(), &photo.file) {
        PhotoState::Ready(ready) => ready,
        PhotoState::Reading => {
            tell(board, ui, canvas, "The photo is being read…");
            return true;
        }
        PhotoState::Failed(why) => {
            tell(board, ui, canvas, &why);
            return true;
        }
    };
    look_round(own, ui, &response, canvas, ready.size());
    let to_screen = on_screen(own.view, canvas);
    lay(&painter, &ready, to_screen);
    let read = own.read_marks(board, &photo, &ready).and_then(Result::ok);
    match &read {
        Some(read) => {
            let laid = LaidPhoto { to_screen };
            paint(board, ui, &painter, read, &laid);
        }
        None => traced_so_far(own, board, &painter, &photo, &ready, to_screen),
    }
    marks(own, board, requests, ui, &photo, &ready, to_screen);
    click(own, board, requests, ui, (&photo, &ready), &response, to_screen);
    hint(own, board, ui, &painter, canvas);
    true
}

/// From pixels of the photo, y down, to the screen.
pub(super) fn on_screen(view: PanZoom, canvas: Rect) -> Affine {
    view.to_screen(canvas) * Affine::scale_non_uniform(1.0, -1.0)
}

/// The photo itself.
pub(super) fn lay(painter: &egui::Painter, ready: &Ready, to_screen: Affine) {
    let (width, height) = ready.size();
    let corner = |x: f64, y: f64| pos(to_screen * Point::new(x, y));
    let mut mesh = egui::Mesh::with_texture(ready.texture.id());
    let corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
    for (u, v) in corners {
        mesh.vertices.push(egui::epaint::Vertex {
            pos: corner(u * width, v * height),
            uv: pos2(u as f32, v as f32),
            color: egui::Color32::WHITE,
        });
    }
    mesh.indices = vec![0, 1, 2, 0, 2, 3];
    painter.add(Shape::mesh(mesh));
}

/// Words in the middle where no photo can be shown.
pub(super) fn tell(board: &Board, ui: &mut Ui, canvas: Rect, words: &str) {
    let place = Rect::from_center_size(canvas.center(), vec2(canvas.width().min(460.0), 120.0));
    ui.scope_builder(egui::UiBuilder::new().max_rect(place), |ui| {
        let plate =
            egui::Frame::new().fill(board.palette.card).inner_margin(14.0).corner_radius(6.0);
        plate.show(ui, |ui| ui.add(egui::Label::new(words).wrap()));
    });
}

/// What the tool in hand does, at the foot of the photo.
fn hint(own: &Toile, board: &Board, ui: &Ui, painter: &egui::Painter, canvas: Rect) {
    let words = match &own.tool {
        Tool::Look => return,
        Tool::Level(LevelBy::Floor) => "Click two places on the floor edge".to_owned(),
        Tool::Level(_) => "Click the upper and the lower end of the plumb line".to_owned(),
        Tool::Heels => "Click where the heels stand on the floor".to_owned(),
        Tool::Trace(name, leg) => format!("Click along the {name} line, {}", leg_words(*leg)),
        Tool::Upper => "Click where the grain crosses the upper line".to_owned(),
        Tool::Lower => "Click where the grain crosses the lower line".to_owned(),
    };
    let words = format!("{words} · Escape puts this away");
    let font = egui::TextStyle::Body.resolve(ui.style());
    let galley = painter.layout(words, font, board.palette.text, canvas.width() - 40.0);
    let at =
        Align2::CENTER_BOTTOM.anchor_size(canvas.center_bottom() - vec2(0.0, 12.0), galley.size());
    painter.rect_filled(at.expand2(vec2(10.0, 5.0)), 5.0, board.palette.card);
    painter.galley(at.min, galley, board.palette.text);
}

/// Wheel, keys and pulling, as on the table.
fn look_round(own: &mut Toile, ui: &Ui, response: &Response, canvas: Rect, (w, h): (f64, f64)) {
    let card = own;
    if card.fit_wanted {
        card.view.fit(canvas, 0.0, PaperRect::new(0.0, -h, w, 0.0));
        card.fit_wanted = false;
    }
    if response.dragged() {
        card.view.pan(response.drag_delta());
    }
    let asked = look_round::asked(ui, response, canvas);
    card.view.take(canvas, &asked);
    if asked.fit {
        card.fit_wanted = true;
        ui.ctx().request_repaint();
    }
    if ui.ctx().text_edit_focused() {
        return;
    }
    if ui.input(|i| i.key_pressed(Key::Escape)) {
        card.tool = Tool::Look;
    }
}

/// Lines that are clicked already while the photo cannot be read yet.
fn traced_so_far(
    own: &mut Toile,
    board: &Board,
    painter: &egui::Painter,
    photo: &RoundPhoto,
    ready: &Arc<Ready>,
    to_screen: Affine,
) {
    let Some(marks) = &photo.marks else { return };
    let inks = board.palette.on_paper();
    for line in &marks.lines {
        let followed = if line.is_whole() {
            own.photos.followed(line, ready).traced.points.clone()
        } else {
            line.points.clone()
        };
        let run: Vec<Pos2> = followed.iter().map(|p| pos(to_screen * *p)).collect();
        let halo = Stroke::new(4.0, inks.paper.gamma_multiply(0.7));
        over_photo::whole(painter, run, halo, Stroke::new(1.8, inks.madder));
    }
}

/// The places that can be moved now. While one kind is set, the others lie still,
/// so that a click beside one of them is not taken for it.
fn spots(own: &Toile, board: &Board, photo: &RoundPhoto) -> Vec<(MarkedPlace, Point)> {
    let Some(marks) = &photo.marks else { return Vec::new() };
    let tool = &own.tool;
    let any = *tool == Tool::Look;
    let mut spots: Vec<(MarkedPlace, Point)> = Vec::new();
    if any || matches!(tool, Tool::Level(_)) {
        spots.extend(marks.level_at.iter().enumerate().map(|(i, p)| (MarkedPlace::Level(i), *p)));
    }
    if any && !marks.straight_ahead || *tool == Tool::Heels {
        spots.extend(marks.heels.map(|p| (MarkedPlace::Heels, p)));
    }
    if any || matches!(tool, Tool::Upper | Tool::Lower) {
        let known = known_of(board, photo);
        let both =
            known.map(|k| [(MarkedPlace::Upper, k.upper_at), (MarkedPlace::Lower, k.lower_at)]);
        spots.extend(both.into_iter().flatten());
    }
    if let Tool::Trace(name, leg) = tool
        && let Some(line) = marks.line(name, *leg)
    {
        let places = line.points.iter().enumerate();
        spots.extend(places.map(|(i, p)| (MarkedPlace::Place(name.clone(), *leg, i), *p)));
    }
    spots
}

fn known_of(board: &Board, photo: &RoundPhoto) -> Option<KnownMark> {
    let pattern = toile_of(board, photo)?;
    photo.marks.as_ref()?.known_or_proposed(photo.view.seen_from()?, &pattern).ok()
}

fn words_of(spot: &MarkedPlace, marks: &PhotoMarks) -> String {
    match spot {
        MarkedPlace::Level(i) if marks.level == Some(LevelBy::Floor) => {
            format!("{} place on the floor edge", if *i == 0 { "first" } else { "second" })
        }
        MarkedPlace::Level(i) => {
            format!("{} end of the plumb line", if *i == 0 { "first" } else { "second" })
        }
        MarkedPlace::Heels => "heels".to_owned(),
        MarkedPlace::Place(name, leg, i) => {
            format!("place {} of {name}, {}", i + 1, leg_words(*leg))
        }
        MarkedPlace::Upper => "upper place of the known length".to_owned(),
        MarkedPlace::Lower => "lower place of the known length".to_owned(),
    }
}

/// A place is gripped this near, points of the screen: near, so that the next place
/// can be clicked beside it.
const GRIP: f32 = 13.0;

/// Shows the places and takes what is done to them.
fn marks(
    own: &mut Toile,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    photo: &RoundPhoto,
    ready: &Arc<Ready>,
    to_screen: Affine,
) {
    let Some(all) = &photo.marks else { return };
    let canvas = own.canvas.unwrap_or(Rect::NOTHING);
    let inks = board.palette.on_paper();
    level_line(ui, all, to_screen, &inks);
    for (spot, at) in spots(own, board, photo) {
        let here = pos(to_screen * at);
        let rect = Rect::from_center_size(here, vec2(GRIP, GRIP));
        let id = ui.scope_id().with(("mark", format!("{spot:?}")));
        let response = ui.interact(rect, id, Sense::click_and_drag());
        let words = words_of(&spot, all);
        response.widget_info(|| WidgetInfo::labeled(Role::GraphicsSymbol, true, &words));
        let busy = response.hovered() || response.has_focus() || response.dragged();
        draw_spot(ui, &spot, here, busy, &inks);
        if response.dragged() {
            let scale = to_screen.as_coeffs()[0];
            let d = response.drag_delta();
            let by = Vec2::new(f64::from(d.x), f64::from(d.y)) / scale;
            let free = own.pulled.unwrap_or(at) + by;
            own.pulled = Some(free);
            let to = snapped(ui, &spot, other_end(&spot, all), free, ready);
            move_to(board, requests, photo, &spot, to);
        }
        if response.drag_stopped() {
            own.pulled = None;
        }
        if response.clicked() || response.dragged() {
            response.request_focus();
        }
        if response.has_focus() {
            ring(ui, &board.palette, here);
            look_round::keep_arrows(ui, &response);
            nudge(board, requests, ui, photo, &spot, at);
        }
        if busy {
            tag(ui, &board.palette, canvas, here, &words);
        }
    }
}

fn level_line(ui: &Ui, marks: &PhotoMarks, to_screen: Affine, inks: &crate::kit::theme::Palette) {
    if let [a, b, ..] = marks.level_at[..] {
        let run = [pos(to_screen * a), pos(to_screen * b)];
        ui.painter().line_segment(run, Stroke::new(3.5, inks.paper.gamma_multiply(0.6)));
        ui.painter().extend(Shape::dashed_line(&run, Stroke::new(1.6, inks.indigo), 9.0, 5.0));
    }
}

fn draw_spot(ui: &Ui, spot: &MarkedPlace, at: Pos2, busy: bool, inks: &crate::kit::theme::Palette) {
    let size = if busy { 7.0 } else { 5.0 };
    let painter = ui.painter();
    let halo = Stroke::new(4.0, inks.paper);
    match spot {
        MarkedPlace::Place(..) => {
            painter.circle_filled(at, size - 1.0, inks.paper);
            painter.circle_stroke(at, size - 1.0, Stroke::new(2.0, inks.madder));
        }
        MarkedPlace::Level(_) => {
            painter.rect_filled(Rect::from_center_size(at, vec2(2.0, 2.0) * size), 1.0, inks.paper);
            let inner = Rect::from_center_size(at, vec2(2.0, 2.0) * (size - 1.5));
            painter.rect_filled(inner, 1.0, inks.indigo);
        }
        MarkedPlace::Heels => {
            for pen in [halo, Stroke::new(2.0, inks.indigo)] {
                painter.line_segment([at - vec2(9.0, 0.0), at + vec2(9.0, 0.0)], pen);
                painter.line_segment([at - vec2(0.0, 9.0), at], pen);
            }
        }
        MarkedPlace::Upper | MarkedPlace::Lower => {
            for pen in [halo, Stroke::new(2.0, inks.sage)] {
                painter.line_segment([at - vec2(size, size), at + vec2(size, size)], pen);
                painter.line_segment([at - vec2(size, -size), at + vec2(size, -size)], pen);
            }
        }
    }
}

/// The other end of the line, for a place that ends it.
fn other_end(spot: &MarkedPlace, marks: &PhotoMarks) -> Option<Point> {
    let MarkedPlace::Place(name, leg, i) = spot else { return None };
    let points = &marks.line(name, *leg)?.points;
    let last = points.len().checked_sub(1).filter(|last| *last > 0)?;
    match *i {
        0 => points.get(last).copied(),
        i if i == last => points.first().copied(),
        _ => None,
    }
}

/// A place of a line is drawn to the dark line; one that ends it, to the edge of the
/// body towards its other end. Shift leaves it where it is.
fn snapped(ui: &Ui, spot: &MarkedPlace, other: Option<Point>, free: Point, ready: &Ready) -> Point {
    if !matches!(spot, MarkedPlace::Place(..)) || ui.input(|i| i.modifiers.shift) {
        return free;
    }
    let edge = other.and_then(|body| body_edge(&ready.picture, free, body));
    match edge {
        // Near the edge the line is too thin to be told by itself.
        Some(edge) => edge,
        None => dark_line_at(&ready.picture, free).unwrap_or(free),
    }
}

/// To a tenth of a pixel: no click is surer, and the project's file stays readable.
fn to_tenths(p: Point) -> Point {
    Point::new((p.x * 10.0).round() / 10.0, (p.y * 10.0).round() / 10.0)
}

fn move_to(
    board: &Board,
    requests: &mut Requests,
    photo: &RoundPhoto,
    spot: &MarkedPlace,
    to: Point,
) {
    let to = to_tenths(to);
    let words = words_of(spot, &photo.marks.clone().unwrap_or_default());
    let (known, spot) = (known_of(board, photo), spot.clone());
    edit_marks(requests, &photo.file, &format!("moving the {words}"), true, move |m| match &spot {
        MarkedPlace::Level(i) => {
            if let Some(place) = m.level_at.get_mut(*i) {
                *place = to;
            }
        }
        MarkedPlace::Heels => m.heels = Some(to),
        MarkedPlace::Place(name, leg, i) => {
            if let Some(place) = m.line_mut(name, *leg).points.get_mut(*i) {
                *place = to;
            }
        }
        MarkedPlace::Upper => m.known = known.map(|k| KnownMark { upper_at: to, ..k }),
        MarkedPlace::Lower => m.known = known.map(|k| KnownMark { lower_at: to, ..k }),
    });
}

/// Arrows move a place by a pixel of the photo, a tenth with Shift; Delete takes it
/// away.
fn nudge(
    board: &Board,
    requests: &mut Requests,
    ui: &Ui,
    photo: &RoundPhoto,
    spot: &MarkedPlace,
    at: Point,
) {
    let pressed = |key| f64::from(u8::from(ui.input(|i| i.key_pressed(key))));
    let step = if ui.input(|i| i.modifiers.shift) { 0.1 } else { 1.0 };
    let by = Vec2::new(
        pressed(Key::ArrowRight) - pressed(Key::ArrowLeft),
        pressed(Key::ArrowDown) - pressed(Key::ArrowUp),
    );
    if by != Vec2::ZERO {
        move_to(board, requests, photo, spot, at + by * step);
    }
    if ui.input(|i| i.key_pressed(Key::Delete) || i.key_pressed(Key::Backspace)) {
        let words =
            format!("taking away the {}", words_of(spot, &photo.marks.clone().unwrap_or_default()));
        let spot = spot.clone();
        edit_marks(requests, &photo.file, &words, false, move |m| match &spot {
            MarkedPlace::Level(i) => {
                if *i < m.level_at.len() {
                    m.level_at.remove(*i);
                }
            }
            MarkedPlace::Heels => m.heels = None,
            MarkedPlace::Place(name, leg, i) => {
                let line = m.line_mut(name, *leg);
                if *i < line.points.len() {
                    line.points.remove(*i);
                }
                m.lines.retain(|l| !l.points.is_empty());
            }
            MarkedPlace::Upper | MarkedPlace::Lower => m.known = None,
        });
    }
}

fn click(
    own: &mut Toile,
    board: &Board,
    requests: &mut Requests,
    ui: &Ui,
    (photo, ready): (&RoundPhoto, &Arc<Ready>),
    response: &Response,
    to_screen: Affine,
) {
    if !response.clicked() {
        return;
    }
    let Some(at) = response.interact_pointer_pos() else { return };
    let at = to_screen.inverse() * Point::new(f64::from(at.x), f64::from(at.y));
    let (width, height) = ready.size();
    if !(0.0..=width).contains(&at.x) || !(0.0..=height).contains(&at.y) {
        return;
    }
    let mut at = at;
    if let Tool::Trace(name, leg) = &own.tool {
        let line = photo.marks.as_ref().and_then(|m| m.line(name, *leg));
        let points = line.map_or(&[][..], |l| &l.points);
        // A place outside of all others ends the line; the farthest is its other end.
        let left = points.iter().all(|p| p.x > at.x);
        let outermost = left || points.iter().all(|p| p.x < at.x);
        let away = |p: &&Point| (p.x - at.x).abs();
        let other = points.iter().max_by(|a, b| away(a).total_cmp(&away(b)));
        let spot = MarkedPlace::Place(name.clone(), *leg, 0);
        at = snapped(ui, &spot, other.copied().filter(|_| outermost), at, ready);
    }
    put(own, board, requests, photo, at);
}

/// Puts a place in the middle of what is looked at, for the tool in hand.
pub(super) fn put_in_the_middle(own: &mut Toile, board: &Board, requests: &mut Requests) {
    let Some(photo) = own.open.clone().and_then(|f| photo_of(board, &f)) else {
        return;
    };
    let centre = own.view.centre;
    put(own, board, requests, &photo, Point::new(centre.x.round(), (-centre.y).round()));
}

/// Sets a place for the tool in hand.
fn put(own: &mut Toile, board: &Board, requests: &mut Requests, photo: &RoundPhoto, at: Point) {
    let at = to_tenths(at);
    let tool = own.tool.clone();
    let known = known_of(board, photo);
    let view = photo.view.seen_from();
    let words = match &tool {
        Tool::Look => return,
        Tool::Level(_) => "a place of the level".to_owned(),
        Tool::Heels => "the heels".to_owned(),
        Tool::Trace(name, leg) => format!("a place on {name}, {}", leg_words(*leg)),
        Tool::Upper | Tool::Lower => "the known length".to_owned(),
    };
    let placed = photo.marks.as_ref().map_or(0, |m| m.level_at.len());
    let done = match tool {
        Tool::Heels | Tool::Upper | Tool::Lower => true,
        // The second place of the level is the last; a third begins anew.
        Tool::Level(_) => placed == 1,
        Tool::Trace(..) | Tool::Look => false,
    };
    edit_marks(requests, &photo.file, &words, false, move |m| match &tool {
        Tool::Look => {}
        Tool::Level(by) => {
            m.level = Some(*by);
            if m.level_at.len() >= 2 {
                m.level_at.clear();
            }
            m.level_at.push(at);
        }
        Tool::Heels => m.heels = Some(at),
        Tool::Trace(name, leg) => {
            let line = m.line_mut(name, *leg);
            line.put_in(at);
            if let Some(view) = view {
                line.put_in_order(view);
            }
        }
        Tool::Upper => m.known = known.map(|k| KnownMark { upper_at: at, ..k }),
        Tool::Lower => m.known = known.map(|k| KnownMark { lower_at: at, ..k }),
    });
    if done {
        own.tool = Tool::Look;
    }
}
