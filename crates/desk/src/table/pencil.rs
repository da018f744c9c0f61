//! Drawing by hand on the table: the points and handles of one seam, to be pulled
//! by the pointer or nudged by keys. The drawing itself is done by the engine, a
//! change for each spot.

use super::ground::Ground;
use crate::board::Board;
use crate::board::requests::{Request, Requests};
use crate::board::trial::Trial;
use crate::kit::length_field::step_of;
use crate::kit::tag::tag;
use crate::kit::view::pos;
use egui::{Key, Pos2, Rect, Role, Sense, Stroke, Ui, WidgetInfo, vec2};
use hangtrue_adjust::draw::{Handle, MoveCorner, MoveHandle, MovePoint, SetGrain};
use hangtrue_adjust::{Change, Draw};
use hangtrue_geometry::{Affine, PathSeg, Point, Vec2};
use hangtrue_pattern::{Grain, Pattern, Piece};

/// A spot of a seam that can be moved.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Spot {
    Corner(String),
    /// The point that ends this segment of this part.
    Point(usize, usize),
    Handle(usize, usize, Handle),
    /// An end of the grainline: the upper or the lower.
    Grain(bool),
}

/// The pencil: whether it is out, and where it works.
#[derive(Debug, Clone, Default)]
pub(crate) struct Pencil {
    pub on: bool,
    pub piece: String,
    pub seam: String,
    pub chosen: Option<Spot>,
    /// Whether the comb of the seam's bending is shown.
    pub comb: bool,
    /// A spot being pulled, and where the pointer alone has it.
    pub pulled: Option<(Spot, Point)>,
}

impl Spot {
    /// What it is called.
    pub fn words(&self, pencil: &Pencil) -> String {
        let on = format!("of the {} of the {}", pencil.seam, pencil.piece);
        match self {
            Self::Corner(name) => format!("corner {name} of the {}", pencil.piece),
            Self::Point(part, segment) => format!("point {}.{} {on}", part + 1, segment + 1),
            Self::Handle(part, segment, which) => {
                let which = if *which == Handle::First { "first" } else { "second" };
                format!("{which} handle of curve {}.{} {on}", part + 1, segment + 1)
            }
            Self::Grain(upper) => {
                let end = if *upper { "upper" } else { "lower" };
                format!("{end} end of the grain of the {}", pencil.piece)
            }
        }
    }

    /// The step of the pencil that moves it.
    pub fn moved(&self, pencil: &Pencil, grain: Grain, to: Point) -> Draw {
        let (piece, seam) = (pencil.piece.clone(), pencil.seam.clone());
        match self.clone() {
            Self::Corner(corner) => Draw::MoveCorner(MoveCorner { piece, corner, to }),
            Self::Point(part, segment) => {
                Draw::MovePoint(MovePoint { piece, seam, part, segment, to })
            }
            Self::Handle(part, segment, handle) => Draw::MoveHandle(MoveHandle {
                piece,
                seam,
                part,
                segment,
                handle,
                to,
                smooth: true,
            }),
            Self::Grain(true) => Draw::SetGrain(SetGrain { piece, from: grain.from, to }),
            Self::Grain(false) => Draw::SetGrain(SetGrain { piece, from: to, to: grain.to }),
        }
    }
}

/// The spots of the seam the pencil works on: the spot, its place, and for a
/// handle the place it hangs from.
pub(crate) fn spots(pencil: &Pencil, pattern: &Pattern) -> Vec<(Spot, Point, Option<Point>)> {
    let Ok(piece) = pattern.piece(&pencil.piece) else { return Vec::new() };
    let Ok(index) = piece.seam_index(&pencil.seam) else { return Vec::new() };
    let seam = &piece.seams[index];
    let next = &piece.seams[(index + 1) % piece.seams.len()];
    let mut found = vec![
        (Spot::Corner(seam.starts_at.clone()), seam.start(), None),
        (Spot::Corner(next.starts_at.clone()), seam.end(), None),
    ];
    for (part, chain) in seam.parts.iter().enumerate() {
        let segments = chain.segments();
        for (segment, curve) in segments.iter().enumerate() {
            if let PathSeg::Cubic(c) = curve {
                let handle = |which| Spot::Handle(part, segment, which);
                found.push((handle(Handle::First), c.p1, Some(c.p0)));
                found.push((handle(Handle::Second), c.p2, Some(c.p3)));
            }
            if segment + 1 < segments.len() {
                let end = match curve {
                    PathSeg::Line(l) => l.p1,
                    PathSeg::Quad(q) => q.p2,
                    PathSeg::Cubic(c) => c.p3,
                };
                found.push((Spot::Point(part, segment), end, None));
            }
        }
    }
    found.push((Spot::Grain(true), piece.grain.to, None));
    found.push((Spot::Grain(false), piece.grain.from, None));
    found
}

/// Shows the spots and takes what is done to them.
pub(crate) fn show(
    own: &mut Pencil,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    ground: &Ground,
) {
    let pencil = own.clone();
    if !pencil.on {
        return;
    }
    let place = ground.place(board, &pencil.piece);
    let inks = board.palette.on_paper();
    if pencil.comb {
        comb(ui, &pencil, &ground.shown.new, place, &inks);
    }
    for (spot, at, hub) in spots(&pencil, &ground.shown.new) {
        let here = pos(place * at);
        let rect = Rect::from_center_size(here, vec2(20.0, 20.0));
        let id = ui.scope_id().with(("spot", format!("{spot:?}")));
        let response = ui.interact(rect, id, Sense::click_and_drag());
        let words = spot.words(&pencil);
        response.widget_info(|| WidgetInfo::labeled(Role::GraphicsSymbol, true, &words));
        if let Some(hub) = hub {
            let hub = pos(place * hub);
            ui.painter().line_segment([hub, here], Stroke::new(1.2, inks.indigo));
        }
        let busy = response.hovered() || response.has_focus() || response.dragged();
        draw_spot(ui, &spot, here, busy, &inks);
        let mut said = "";
        if response.dragged() {
            let (to, snapped) = pulled_to(own, ui, &response, &spot, at, place, &ground.shown.new);
            said = snapped;
            try_move(board, requests, &pencil, &spot, to);
        }
        if response.drag_stopped() {
            own.pulled = None;
            requests.ask_for(Request::AcceptOrLeave);
        }
        if response.clicked() || response.dragged() {
            own.chosen = Some(spot.clone());
            response.request_focus();
        }
        if response.has_focus() {
            own.chosen = Some(spot.clone());
            nudge(board, requests, ui, &response, &pencil, &spot, at);
        }
        if busy {
            tag(ui, &board.palette, ground.canvas, here, &format!("{words}{said}"));
        }
    }
}

/// Teeth of the comb on each part of the seam.
const TEETH: usize = 72;
/// A tooth is this long for a curvature of 1/mm, mm: 30 mm where the radius is
/// 100 mm.
const TOOTH: f64 = 3000.0;
/// No tooth is longer, mm.
const LONGEST: f64 = 120.0;

/// A tooth square to the seam, as long as the seam bends there: a fair curve has
/// a comb without dents.
fn comb(
    ui: &Ui,
    pencil: &Pencil,
    pattern: &Pattern,
    place: Affine,
    inks: &crate::kit::theme::Palette,
) {
    let seam = pattern.piece(&pencil.piece).and_then(|p| p.seam(&pencil.seam));
    let Ok(seam) = seam else { return };
    let pen = Stroke::new(1.0, inks.sage);
    for chain in &seam.parts {
        let length = chain.length();
        let tips: Vec<Pos2> = (0..=TEETH)
            .map(|i| {
                let s = length * i as f64 / TEETH as f64;
                let (at, along) = chain.place_at(s);
                let tooth = (chain.curvature_at(s) * TOOTH).clamp(-LONGEST, LONGEST);
                // Away from the hollow side.
                let tip = at + Vec2::new(along.y, -along.x) * tooth;
                ui.painter().line_segment([pos(place * at), pos(place * tip)], pen);
                pos(place * tip)
            })
            .collect();
        ui.painter().add(egui::Shape::line(tips, Stroke::new(1.8, inks.sage)));
    }
}

fn draw_spot(ui: &Ui, spot: &Spot, at: Pos2, busy: bool, inks: &crate::kit::theme::Palette) {
    let size = if busy { 7.0 } else { 5.0 };
    let pen = Stroke::new(2.0, inks.indigo);
    match spot {
        Spot::Handle(..) => {
            ui.painter().circle_filled(at, size, inks.paper);
            ui.painter().circle_stroke(at, size, pen);
        }
        Spot::Grain(_) => {
            let tips = [vec2(0.0, -size), vec2(size, 0.0), vec2(0.0, size), vec2(-size, 0.0)];
            let diamond = tips.map(|t| at + t * 1.3).to_vec();
            ui.painter().add(egui::Shape::convex_polygon(diamond, inks.paper, pen));
        }
        Spot::Point(..) | Spot::Corner(_) => {
            let square = Rect::from_center_size(at, vec2(2.0 * size, 2.0 * size));
            ui.painter().rect_filled(square, 1.0, inks.indigo);
        }
    }
}

/// How near a spot must come to be drawn level or plumb, points of the screen.
const DRAWN: f64 = 5.0;

/// Where a pull brings the spot; it is drawn level or plumb with a corner of its
/// piece.
fn pulled_to(
    own: &mut Pencil,
    ui: &Ui,
    response: &egui::Response,
    spot: &Spot,
    at: Point,
    place: Affine,
    pattern: &Pattern,
) -> (Point, &'static str) {
    let scale = place.as_coeffs()[0];
    let by = crate::kit::pull::pulled_on_paper(ui, response, place);
    let free = own.pulled.clone().filter(|p| p.0 == *spot).map_or(at, |p| p.1) + by;
    own.pulled = Some((spot.clone(), free));
    let Ok(piece) = pattern.piece(&own.piece) else { return (free, "") };
    snapped(piece, spot, free, DRAWN / scale)
}

fn snapped(piece: &Piece, spot: &Spot, free: Point, reach: f64) -> (Point, &'static str) {
    if let Spot::Grain(upper) = spot {
        let other = if *upper { piece.grain.from } else { piece.grain.to };
        if (other.x - free.x).abs() < reach {
            return (Point::new(other.x, free.y), " · plumb");
        }
    }
    let others = piece.corners().filter(|c| !matches!(spot, Spot::Corner(name) if name == c.0));
    for (_, corner) in others {
        if (corner.y - free.y).abs() < reach {
            return (Point::new(free.x, corner.y), " · level with a corner");
        }
        if (corner.x - free.x).abs() < reach {
            return (Point::new(corner.x, free.y), " · plumb with a corner");
        }
    }
    (free, "")
}

/// Lays the move on the table. A move of the same spot right after another is the
/// same step going on.
pub(crate) fn try_move(
    board: &Board,
    requests: &mut Requests,
    pencil: &Pencil,
    spot: &Spot,
    to: Point,
) {
    let Some(grain) = grain_of(board, &pencil.piece) else { return };
    let draw = spot.moved(pencil, grain, to);
    let change = Change::Draw(draw.clone());
    let last = board.document().changes.len().checked_sub(1);
    let again = last
        .and_then(|at| Trial::again(board.document(), at))
        .filter(|d| matches!(&d.change, Change::Draw(old) if same_spot(old, &draw)));
    let trial = match again {
        Some(again) => Trial { change, ..again },
        None => Trial::new(&draw.words(), change),
    };
    requests.show_now();
    requests.try_out(trial);
}

fn grain_of(board: &Board, piece: &str) -> Option<Grain> {
    let pattern = board.replay.current().ok()?;
    pattern.piece(piece).ok().map(|p| p.grain)
}

/// Whether two steps move the same spot.
fn same_spot(a: &Draw, b: &Draw) -> bool {
    match (a, b) {
        (Draw::MoveCorner(a), Draw::MoveCorner(b)) => a.piece == b.piece && a.corner == b.corner,
        (Draw::MovePoint(a), Draw::MovePoint(b)) => {
            (&a.piece, &a.seam, a.part, a.segment) == (&b.piece, &b.seam, b.part, b.segment)
        }
        (Draw::MoveHandle(a), Draw::MoveHandle(b)) => {
            (&a.piece, &a.seam, a.part, a.segment, a.handle)
                == (&b.piece, &b.seam, b.part, b.segment, b.handle)
        }
        (Draw::SetGrain(a), Draw::SetGrain(b)) => a.piece == b.piece,
        _ => false,
    }
}

/// Arrow keys on a spot move it by one step of the tape.
pub(crate) fn nudge(
    board: &Board,
    requests: &mut Requests,
    ui: &Ui,
    response: &egui::Response,
    pencil: &Pencil,
    spot: &Spot,
    at: Point,
) {
    crate::kit::look_round::keep_arrows(ui, response);
    let pressed = |key| f64::from(u8::from(ui.input(|i| i.key_pressed(key))));
    let by = Vec2::new(
        pressed(Key::ArrowRight) - pressed(Key::ArrowLeft),
        pressed(Key::ArrowUp) - pressed(Key::ArrowDown),
    );
    if by != Vec2::ZERO {
        try_move(board, requests, pencil, spot, at + by * step_of(board.unit()));
        requests.ask_for(Request::AcceptOrLeave);
    }
}
