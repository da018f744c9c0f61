//! Two photos side by side, before and after: level made level, one scale, and one
//! line of both at the same height.

use super::state::{Toile, photo_of};
use crate::board::Board;
use crate::kit::look_round;
use crate::kit::view::PanZoom;
use crate::toile::overlay::{LaidPhoto, paint};
use crate::toile::photo_table::{lay, tell};
use crate::toile::photos::{PhotoState, Ready};
use egui::{Align2, Rect, Role, Sense, Ui, WidgetInfo, pos2, vec2};
use hangtrue_adjust::worn::{Hang, LegSeen};
use hangtrue_files::worn::ReadPhoto;
use hangtrue_geometry::{Affine, Point, Vec2};
use std::sync::Arc;

/// A photo of the pair that was read.
struct Half {
    file: String,
    round: String,
    ready: Arc<Ready>,
    read: Arc<ReadPhoto>,
}

/// Shows the pair; false when none is to be shown.
pub(super) fn show(own: &mut Toile, board: &Board, ui: &mut Ui) -> bool {
    let Some((before, after)) = own.pair.both() else { return false };
    let canvas = ui.available_rect_before_wrap();
    let response = ui.allocate_rect(canvas, Sense::click_and_drag());
    let words = format!("Before and after: {before} and {after}, side by side");
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, &words));
    own.canvas = Some(canvas);
    ui.painter_at(canvas).rect_filled(canvas, 0.0, board.palette.table);
    let (left, right) = canvas.split_left_right_at_fraction(0.5);
    let halves: Vec<Result<Half, String>> =
        [&before, &after].into_iter().map(|file| half(own, board, ui, file)).collect();
    let [Ok(first), Ok(second)] = &halves[..] else {
        for (half, place) in halves.iter().zip([left, right]) {
            if let Err(why) = half {
                tell(board, ui, place, why);
            }
        }
        return true;
    };
    look_round(own, ui, &response, canvas);
    let Some((one, other)) = same_line(&first.read, &second.read) else {
        let why = "these two photos have no line in common; trace one line on both";
        tell(board, ui, canvas, why);
        return true;
    };
    let sizes = [(first, one), (second, other)].map(|(half, hang)| extent(half, hang));
    for (half, hang, place, word) in [(first, one, left, "Before"), (second, other, right, "After")]
    {
        let laid = placed(own, half, hang, place, &sizes);
        let painter = ui.painter_at(place.shrink(2.0));
        lay(&painter, &half.ready, laid.to_screen);
        paint(board, ui, &painter, &half.read, &laid);
        label(board, ui, &painter, place, &format!("{word}: {}, {}", half.file, half.round));
    }
    true
}

fn half(own: &mut Toile, board: &Board, ui: &Ui, file: &str) -> Result<Half, String> {
    let photo = photo_of(board, file).ok_or("the photo is no longer in the project")?;
    let ready = match own.look(board, ui.ctx(), file) {
        PhotoState::Ready(ready) => ready,
        PhotoState::Reading => return Err("The photo is being read…".into()),
        PhotoState::Failed(why) => return Err(why),
    };
    let read = match own.read_marks(board, &photo, &ready) {
        Some(Ok(read)) => read,
        Some(Err(why)) => return Err(format!("{file} cannot be read yet: {why}")),
        None => return Err("the toile has no pattern".into()),
    };
    let round = if photo.round == hangtrue_adjust::OPEN_ROUND {
        "this fitting".into()
    } else {
        photo.round
    };
    Ok(Half { file: file.to_owned(), round, ready, read })
}

/// The line that both have: the one over both legs first, it is seen whole.
fn same_line<'a>(one: &'a ReadPhoto, other: &'a ReadPhoto) -> Option<(&'a Hang, &'a Hang)> {
    let mut pairs = one.hangs.iter().flat_map(|a| {
        let same = |b: &&Hang| b.line == a.line && b.leg == a.leg;
        other.hangs.iter().find(same).map(|b| (a, b))
    });
    let first = pairs.next()?;
    if first.0.leg == LegSeen::Both {
        return Some(first);
    }
    pairs.find(|p| p.0.leg == LegSeen::Both).or(Some(first))
}

/// Where a line hangs in the middle, pixels.
fn middle(hang: &Hang) -> Point {
    hang.stations.get(hang.stations.len() / 2).map_or(Point::ORIGIN, |s| s.level)
}

/// How far the photo reaches from the line, mm: left and right, up, down.
fn extent(half: &Half, hang: &Hang) -> [f64; 3] {
    let (at, mm) = (middle(hang), hang.mm_per_pixel.value);
    let (width, height) = half.ready.size();
    [at.x.max(width - at.x) * mm, at.y * mm, (height - at.y) * mm]
}

/// One scale for both, so that the larger one fits, and the line at one height.
fn placed(own: &Toile, half: &Half, hang: &Hang, place: Rect, sizes: &[[f64; 3]; 2]) -> LaidPhoto {
    let most = |i: usize| sizes[0][i].max(sizes[1][i]);
    let (wide, above, below) = (2.0 * most(0), most(1), most(2));
    let room = place.shrink2(vec2(10.0, 44.0));
    let fits = (f64::from(room.width()) / wide).min(f64::from(room.height()) / (above + below));
    let card = own;
    let (zoom, shift) = (card.view.scale, card.view.centre);
    let points_per_mm = fits * zoom;
    let top = f64::from(room.center().y) - (above + below) / 2.0 * points_per_mm;
    let centre =
        Point::new(f64::from(place.center().x) + shift.x, top + above * points_per_mm + shift.y);
    let scale = points_per_mm * hang.mm_per_pixel.value;
    let roll = half.read.stand.roll;
    let to_screen = Affine::translate(centre.to_vec2())
        * Affine::scale(scale)
        * Affine::rotate(-roll)
        * Affine::translate(-middle(hang).to_vec2());
    LaidPhoto { to_screen }
}

/// Wheel and keys move and zoom both alike.
fn look_round(own: &mut Toile, ui: &Ui, response: &egui::Response, canvas: Rect) {
    let card = own;
    let fresh = std::mem::take(&mut card.fit_wanted);
    if fresh || look_round::typed(ui, "f") {
        card.view = PanZoom::default().at(Point::ORIGIN, 1.0);
    }
    let wheel = look_round::wheel(ui, response, canvas);
    let at = wheel.as_ref().map_or_else(|| canvas.center(), |w| w.at);
    let factor = look_round::typed_zoom(ui).or(wheel.map(|w| w.factor)).unwrap_or(1.0);
    // About the middle of the half that is pointed at.
    let half = canvas.width() / 2.0;
    let x = canvas.left() + if at.x < canvas.center().x { half / 2.0 } else { half * 1.5 };
    let from = at - pos2(x, canvas.center().y);
    let from = Vec2::new(f64::from(from.x), f64::from(from.y));
    let new = (card.view.scale * factor).clamp(0.3, 20.0);
    let factor = new / card.view.scale;
    card.view.scale = new;
    let moved = card.view.centre.to_vec2();
    card.view.centre = (from + (moved - from) * factor).to_point();
    if response.dragged() {
        let d = response.drag_delta();
        card.view.centre += Vec2::new(f64::from(d.x), f64::from(d.y));
    }
}

fn label(board: &Board, ui: &Ui, painter: &egui::Painter, place: Rect, words: &str) {
    let font = egui::TextStyle::Body.resolve(ui.style());
    let galley = painter.layout(words.to_owned(), font, board.palette.text, place.width() - 40.0);
    let at = Align2::CENTER_TOP.anchor_size(place.center_top() + vec2(0.0, 10.0), galley.size());
    painter.rect_filled(at.expand2(vec2(9.0, 4.0)), 4.0, board.palette.card);
    painter.galley(at.min, galley, board.palette.text);
}
