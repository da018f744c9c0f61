//! The photo, large: looking round in it, clicking, and what is drawn over it.

use super::detail::{Detail, detail, seen_area};
use super::handle::{self, Handle, Shape};
use super::look::{self, Through, WHOLE};
use super::photo::{ClickTool, Layer, Photo, Step};
use super::{marks, outline};
use crate::board::Board;
use crate::kit::over_photo;
use egui::{Align2, Color32, Context, Painter, Pos2, Rect, Stroke, Ui, pos2, vec2};
use hangtrue_files::photo::{OutlineSeen, Picture, Place, SeenSeam, line_through};
use hangtrue_pattern::units::{INCH, Unit, show_length};

/// Shows the photo that is looked at.
pub(super) fn show(photo: &mut Photo, board: &Board, ui: &mut Ui) {
    let words = "The photo: arrow keys move it, plus and minus zoom, F shows all of it";
    let (canvas, response, painter) = crate::kit::look_round::canvas(ui, &board.palette, words);
    let Some(picture) = photo.slots[photo.at].picture.clone() else {
        return waiting(photo, board, ui, canvas);
    };
    fit_when_new(photo, canvas);
    look_round(photo, ui, &response, canvas);
    draw_picture(photo, ui.ctx(), &painter, canvas, &picture);
    let size = photo.size();
    let look = photo.slots[photo.at].look;
    // The straight picture is lent out while handles change what is said.
    let above = if photo.straight_on { photo.slots[photo.at].above.take() } else { None };
    let through = Through { canvas, look, straight: above.as_ref().map(|a| &a.0), size };
    draw_used(photo, board, &painter, &through);
    draw_outline(photo, board, &painter, &through);
    draw_grain(photo, board, &painter, &through);
    let glass = handles(photo, board, ui, &through);
    click(photo, &response, &through);
    let hovered = response.hover_pos().filter(|_| picks(photo) && !response.dragged());
    let glass = glass.or_else(|| hovered.and_then(|at| Some((through.on_photo(at)?, at))));
    if let Some((place, at)) = glass {
        photo.loupe.draw(ui.ctx(), &painter, &board.palette, (&picture, place), at);
    }
    if let Some(above) = above {
        scale_bar(board, &painter, canvas, look.scale / above.0.mm_per_pixel());
        photo.slots[photo.at].above = Some(above);
    }
    working(photo, board, ui, canvas);
}

impl Photo {
    /// Width and height of the photo looked at, pixels.
    pub(super) fn size(&self) -> (f64, f64) {
        self.slots[self.at]
            .picture
            .as_ref()
            .map_or((1.0, 1.0), |p| (p.width() as f64, p.height() as f64))
    }

    /// The same of what is shown of it.
    fn shown_size(&self) -> (f64, f64) {
        match self.above() {
            Some((straight, _)) => {
                (straight.picture.width() as f64, straight.picture.height() as f64)
            }
            None => self.size(),
        }
    }
}

/// Whether a click in the photo sets something.
fn picks(photo: &Photo) -> bool {
    match photo.step {
        Step::Known | Step::Take => false,
        Step::Marks => true,
        Step::Outline => {
            !matches!(photo.now().outline, OutlineSeen::Placed { .. })
                || photo.tool != ClickTool::Step
        }
        Step::Grain => true,
    }
}

/// A photo that is not read yet, or cannot be.
fn waiting(photo: &mut Photo, board: &Board, ui: &mut Ui, canvas: Rect) {
    let place = Rect::from_center_size(canvas.center(), vec2(canvas.width().min(520.0), 180.0));
    let name = photo.now().file.clone();
    let index = photo.at;
    let mut again = false;
    ui.scope_builder(egui::UiBuilder::new().max_rect(place), |ui| {
        egui::Frame::new().fill(board.palette.card).inner_margin(16.0).corner_radius(6.0).show(
            ui,
            |ui| {
                let slot = &mut photo.slots[index];
                if let Some(loading) = &slot.loading {
                    ui.label(format!("{}: “{name}”…", loading.words));
                    progress(ui, loading.part, 280.0);
                    if ui.button("Give up reading it").clicked() {
                        slot.loading = None;
                        slot.fault = Some("reading it was given up".into());
                    }
                } else {
                    let why = slot.fault.clone().unwrap_or_default();
                    crate::kit::say::fault(board, ui, &format!("“{name}”: {why}"));
                    again = ui.button("Read it again").clicked();
                }
            },
        );
    });
    if again {
        photo.load(ui.ctx(), index);
    }
}

fn fit_when_new(photo: &mut Photo, canvas: Rect) {
    let state = Some((canvas, photo.above().is_some()));
    let size = photo.shown_size();
    let slot = &mut photo.slots[photo.at];
    if slot.fitted != state {
        // A canvas that only grew or shrank keeps what is looked at.
        let same_picture = slot.fitted.is_some_and(|f| f.1 == state.is_some_and(|s| s.1));
        if !same_picture {
            look::fit(&mut slot.look, canvas, size);
        }
        slot.fitted = state;
    }
}

fn look_round(photo: &mut Photo, ui: &Ui, response: &egui::Response, canvas: Rect) {
    let size = photo.shown_size();
    let look = &mut photo.slots[photo.at].look;
    if response.dragged() {
        look.pan(response.drag_delta());
    }
    let asked = crate::kit::look_round::asked(ui, response, canvas);
    look.take(canvas, &asked);
    if asked.fit {
        look::fit(look, canvas, size);
    }
}

fn draw_picture(
    photo: &mut Photo,
    ctx: &Context,
    painter: &Painter,
    canvas: Rect,
    picture: &Picture,
) {
    let size = photo.shown_size();
    if let Some((_, texture)) = photo.above() {
        let rect = look::rect(&photo.slots[photo.at].look, canvas, size);
        painter.image(texture.id(), rect, WHOLE, Color32::WHITE);
        return;
    }
    let slot = &mut photo.slots[photo.at];
    let rect = look::rect(&slot.look, canvas, size);
    let Some(texture) = &slot.texture else { return };
    painter.image(texture.id(), rect, WHOLE, Color32::WHITE);
    // Nearer than the copy on the screen is fine, the photo itself is shown.
    let is_copy = texture.size()[0] < picture.width();
    let fine = slot.look.scale * size.0 / texture.size()[0] as f64;
    if is_copy && fine > 1.2 {
        let area = seen_area(&slot.look, canvas, picture);
        if let Some([left, top, wide, high]) = area {
            let holds = |d: &Detail| {
                let [l, t, w, h] = d.area;
                l <= left && t <= top && l + w >= left + wide && t + h >= top + high
            };
            if slot.detail.as_ref().is_none_or(|d| !holds(d)) {
                slot.detail = detail(ctx, picture, [left, top, wide, high]);
            }
        }
        if let Some(detail) = &slot.detail {
            let [left, top, wide, high] = detail.area.map(|v| v as f64);
            let min = look::on_screen(&slot.look, canvas, (left, top));
            let max = look::on_screen(&slot.look, canvas, (left + wide, top + high));
            let rect = Rect::from_min_max(min, max);
            painter.image(detail.texture.id(), rect, WHOLE, Color32::WHITE);
        }
    }
}

/// The colour of a seam; neighbours differ, the last and the first too.
fn seam_colour(board: &Board, index: usize, count: usize) -> Color32 {
    let inks = board.palette.on_paper();
    let colours = [inks.madder, inks.indigo, inks.ochre, inks.sage];
    let closes = index > 0 && index + 1 == count && index.is_multiple_of(4);
    if closes { inks.ink } else { colours[index % 4] }
}

/// A line over a photo, light under dark, so that it is seen on any ground.
fn over(painter: &Painter, line: Vec<Pos2>, wide: f32, colour: Color32, paper: Color32) {
    if line.len() < 2 {
        return;
    }
    over_photo::whole(painter, line, Stroke::new(wide + 2.6, paper), Stroke::new(wide, colour));
}

/// What was found: the seams in colours, their corners and their names.
fn draw_outline(photo: &Photo, board: &Board, painter: &Painter, through: &Through) {
    let paper = board.palette.paper;
    if let OutlineSeen::Placed { points, .. } = &photo.now().outline
        && matches!(photo.step, Step::Outline)
    {
        let line = through.line(&line_through(points, photo.shows_whole()));
        painter.extend(egui::Shape::dashed_line(&line, Stroke::new(1.2, paper), 5.0, 4.0));
    }
    let wanted = matches!(photo.step, Step::Outline | Step::Grain | Step::Take);
    if wanted {
        draw_doubtful(photo, board, painter, through);
    }
    let found = photo.found.as_ref().and_then(|f| f.1.as_ref().ok());
    let Some(seams) = found.and_then(|f| f.seen.get(photo.at)).filter(|_| wanted) else { return };
    let names = &photo.said.seams;
    for (index, seam) in seams.iter().enumerate() {
        let colour = seam_colour(board, index, seams.len());
        for run in &seam.runs {
            over(painter, through.line(run), 2.2, colour, paper);
        }
    }
    let middle = middle_of(seams.iter().filter_map(|s| Some(middle_of_line(s, through)?.0)));
    for (index, seam) in seams.iter().enumerate() {
        let colour = seam_colour(board, index, seams.len());
        let corner = seam.runs.first().and_then(|r| r.first()).and_then(|p| through.on_screen(*p));
        let by_hand = matches!(photo.now().outline, OutlineSeen::Placed { .. });
        if let Some(at) = corner.filter(|_| !by_hand || photo.step != Step::Outline) {
            let rect = Rect::from_center_size(at, vec2(9.0, 9.0));
            painter.rect_filled(rect, 1.0, paper);
            let pen = Stroke::new(2.0, board.palette.on_paper().ink);
            painter.rect_stroke(rect, 1.0, pen, egui::StrokeKind::Outside);
        }
        let name = if names.len() == seams.len() { &names[index] } else { &seam.name };
        // The name lies outside of the line, where it hides none of its points.
        if let Some((at, along)) = middle_of_line(seam, through) {
            let square = vec2(-along.y, along.x);
            let way = if square.dot(at - middle) < 0.0 { -square } else { square };
            let (off, anchor) = outside(way);
            handle::tag(board, painter, at + off, anchor, name, colour);
        }
    }
}

/// What is doubtful of the outline, and what was found of a refused one: in ochre,
/// ringed.
fn draw_doubtful(photo: &Photo, board: &Board, painter: &Painter, through: &Through) {
    let (ochre, paper) = (board.palette.ochre, board.palette.paper);
    let ring = |at: Place| {
        if let Some(at) = through.on_screen(at) {
            painter.circle_stroke(at, 15.0, Stroke::new(4.6, paper));
            painter.circle_stroke(at, 15.0, Stroke::new(2.4, ochre));
        }
    };
    match photo.found.as_ref().map(|f| &f.1) {
        Some(Ok(found)) => {
            for doubt in found.traced.doubts.iter().filter(|d| d.photo == photo.at) {
                over(painter, through.line(&doubt.seen), 6.0, ochre, paper);
                if let Some(at) = doubt.seen.get(doubt.seen.len() / 2) {
                    ring(*at);
                }
            }
        }
        Some(Err(why)) => {
            if let Some((_, found)) = why.so_far.as_ref().filter(|f| f.0 == photo.at) {
                over(painter, through.line(&found.line), 2.0, ochre, paper);
                if let Some(at) = found.fault {
                    ring(at);
                }
            }
        }
        None => {}
    }
}

/// The mean of places of the screen.
fn middle_of(places: impl Iterator<Item = Pos2>) -> Pos2 {
    let (sum, count) =
        places.fold((egui::Vec2::ZERO, 0.0), |(sum, n), p| (sum + p.to_vec2(), n + 1.0));
    (sum / f32::max(count, 1.0)).to_pos2()
}

/// The middle of the longest part of a seam on the screen, and the way of the line
/// there.
fn middle_of_line(seam: &SeenSeam, through: &Through) -> Option<(Pos2, egui::Vec2)> {
    let run = seam.runs.iter().max_by_key(|r| r.len())?;
    let at = |i: usize| through.on_screen(*run.get(i)?);
    let half = run.len() / 2;
    let (before, after) = (at(half.saturating_sub(3))?, at((half + 3).min(run.len() - 1))?);
    Some((at(half)?, after - before))
}

/// Where a name lies beside a line, when outside is that way.
fn outside(way: egui::Vec2) -> (egui::Vec2, Align2) {
    const AWAY: f32 = 14.0;
    match (way.x.abs() > way.y.abs(), way.x > 0.0, way.y > 0.0) {
        (true, true, _) => (vec2(AWAY, 0.0), Align2::LEFT_CENTER),
        (true, false, _) => (vec2(-AWAY, 0.0), Align2::RIGHT_CENTER),
        (false, _, true) => (vec2(0.0, AWAY), Align2::CENTER_TOP),
        (false, _, false) => (vec2(0.0, -AWAY), Align2::CENTER_BOTTOM),
    }
}

/// A small cross at every mark that was found and used.
fn draw_used(photo: &Photo, board: &Board, painter: &Painter, through: &Through) {
    let solved = photo.solved_now().and_then(|s| s.get(photo.at));
    let Some(solved) = solved.filter(|_| photo.step == Step::Marks) else { return };
    for mark in &solved.ground.marks {
        let Some(at) = through.on_screen((mark.seen.x, mark.seen.y)) else { continue };
        for (wide, colour) in [(3.0, board.palette.paper), (1.2, board.palette.on_paper().indigo)] {
            for way in [vec2(4.0, 0.0), vec2(0.0, 4.0)] {
                painter.line_segment([at - way, at + way], Stroke::new(wide, colour));
            }
        }
    }
}

/// The grainline, with an arrow at its upper end.
fn draw_grain(photo: &Photo, board: &Board, painter: &Painter, through: &Through) {
    let Some((index, from, Some(to))) = photo.said.grain else { return };
    if index != photo.at || !matches!(photo.step, Step::Grain | Step::Take) {
        return;
    }
    let (Some(from), Some(to)) = (through.on_screen(from), through.on_screen(to)) else { return };
    let (ink, paper) = (board.palette.on_paper().indigo, board.palette.paper);
    over(painter, vec![from, to], 2.0, ink, paper);
    let way = (from - to).normalized() * 14.0;
    let aside = vec2(-way.y, way.x) * 0.4;
    over(painter, vec![to + way + aside, to, to + way - aside], 2.0, ink, paper);
}

/// Shows the handles of the step and takes what is done to them; gives where the
/// glass is wanted.
fn handles(photo: &mut Photo, board: &Board, ui: &Ui, through: &Through) -> Option<(Place, Pos2)> {
    let list = listed(photo, board);
    let mut glass = None;
    for (layer, index, handle) in list {
        let id = ui.scope_id().with(("photo handle", photo.at, layer as u8, index));
        let shown = handle::show(board, ui, through, id, &handle);
        glass = shown.glass.or(glass);
        match shown.done {
            None => {}
            Some(handle::Touch::Chosen) => photo.chosen = Some((layer, index)),
            Some(handle::Touch::Moved(place)) => {
                photo.chosen = Some((layer, index));
                set(photo, layer, index, place);
                ui.ctx().request_repaint();
            }
            Some(handle::Touch::Removed) => {
                remove(photo, layer, index);
                break;
            }
            Some(handle::Touch::Turned) => turn(photo, layer, index),
        }
    }
    glass
}

/// The handles of the step.
fn listed(photo: &Photo, board: &Board) -> Vec<(Layer, usize, Handle)> {
    let inks = board.palette.on_paper();
    let mut list = Vec::new();
    let mut add = |layer, index, (words, tag): (String, &str), at, (shape, colour)| {
        let chosen = photo.chosen == Some((layer, index));
        let tag = tag.to_owned();
        list.push((layer, index, Handle { words, tag, at, shape, colour, chosen }));
    };
    let now = photo.now();
    match photo.step {
        Step::Known | Step::Marks => {
            let fault = photo.refused_now().and_then(|f| f.at.clone());
            let fault = fault.filter(|f| f.photo == photo.at).and_then(|f| f.mark);
            for (index, mark) in now.marks.iter().enumerate() {
                let colour = if fault == Some(index) { inks.ochre } else { inks.madder };
                let words = format!("mark {} on the photo", mark.name);
                add(Layer::Mark, index, (words, &mark.name), mark.seen, (Shape::Ring, colour));
            }
            for (index, mark) in now.shared.iter().enumerate() {
                let words = format!("shared mark {} on the photo", mark.name);
                add(
                    Layer::Shared,
                    index,
                    (words, &mark.name),
                    mark.seen,
                    (Shape::Ring, inks.indigo),
                );
            }
        }
        Step::Outline => match &now.outline {
            OutlineSeen::Placed { points, .. } => {
                for (index, point) in points.iter().enumerate() {
                    let (what, shape) = if point.corner {
                        ("a corner", Shape::Square)
                    } else {
                        ("a place of a curve", Shape::Round)
                    };
                    let words = format!("point {} on the photo, {what}", index + 1);
                    add(Layer::Point, index, (words, ""), point.at, (shape, inks.ink));
                }
            }
            OutlineSeen::Card(Some(at)) => {
                let words = "the place on the card".to_owned();
                add(Layer::Point, 0, (words, "the card"), *at, (Shape::Ring, inks.indigo));
            }
            _ => {}
        },
        Step::Grain => {
            if let Some((index, from, to)) = photo.said.grain
                && index == photo.at
            {
                let words = "lower end of the grain on the photo".to_owned();
                add(Layer::Grain, 0, (words, "lower end"), from, (Shape::Ring, inks.indigo));
                if let Some(to) = to {
                    let words = "upper end of the grain on the photo".to_owned();
                    add(Layer::Grain, 1, (words, "upper end"), to, (Shape::Ring, inks.indigo));
                }
            }
        }
        Step::Take => {}
    }
    list
}

fn set(photo: &mut Photo, layer: Layer, index: usize, place: Place) {
    let grain = &mut photo.said.grain;
    match (layer, index) {
        (Layer::Grain, 0) => *grain = grain.map(|g| (g.0, place, g.2)),
        (Layer::Grain, _) => *grain = grain.map(|g| (g.0, g.1, Some(place))),
        _ => {}
    }
    let now = photo.now_mut();
    match layer {
        Layer::Mark => {
            if let Some(mark) = now.marks.get_mut(index) {
                mark.seen = place;
            }
        }
        Layer::Shared => {
            if let Some(mark) = now.shared.get_mut(index) {
                mark.seen = place;
            }
        }
        Layer::Point => match &mut now.outline {
            OutlineSeen::Placed { points, .. } => {
                if let Some(point) = points.get_mut(index) {
                    point.at = place;
                }
            }
            OutlineSeen::Card(inside) => *inside = Some(place),
            OutlineSeen::Nothing => {}
        },
        Layer::Grain => {}
    }
}

fn remove(photo: &mut Photo, layer: Layer, index: usize) {
    match layer {
        Layer::Mark => photo.now_mut().remove_mark(index),
        Layer::Shared => {
            if index < photo.now().shared.len() {
                photo.now_mut().shared.remove(index);
            }
        }
        Layer::Point => match &mut photo.now_mut().outline {
            OutlineSeen::Card(inside) => *inside = None,
            _ => outline::remove_point(photo, index),
        },
        Layer::Grain => photo.said.grain = None,
    }
    photo.chosen = None;
}

/// Makes a corner a place of a curve, or the other way.
fn turn(photo: &mut Photo, layer: Layer, index: usize) {
    if let (Layer::Point, OutlineSeen::Placed { points, .. }) =
        (layer, &mut photo.now_mut().outline)
        && let Some(point) = points.get_mut(index)
    {
        point.corner = !point.corner;
    }
}

/// Takes a click beside the handles.
fn click(photo: &mut Photo, response: &egui::Response, through: &Through) {
    if !response.clicked() {
        return;
    }
    // A press of Enter on the photo itself comes without a place.
    let Some(place) = response.interact_pointer_pos().and_then(|at| through.on_photo(at)) else {
        return;
    };
    match (photo.step, photo.tool) {
        (Step::Marks, ClickTool::Shared) => marks::add_shared(photo, place),
        (Step::Marks, _) => marks::add(photo, place),
        (Step::Outline, ClickTool::Place) => outline::add_point(photo, place, false),
        (Step::Outline, ClickTool::Corner) => outline::add_point(photo, place, true),
        (Step::Outline, _) => {
            photo.chosen = None;
            outline::point_at_card(photo, place);
        }
        (Step::Grain, _) => outline::click_grain(photo, place),
        (Step::Known | Step::Take, _) => {}
    }
}

/// What is being worked out, and a way to give it up.
fn working(photo: &mut Photo, board: &Board, ui: &mut Ui, canvas: Rect) {
    let Some(work) = &photo.work else { return };
    let (words, part) = (work.words.clone(), work.part);
    let place = Rect::from_min_size(
        pos2(canvas.left() + 12.0, canvas.top() + 12.0),
        vec2((canvas.width() - 24.0).min(560.0), 40.0),
    );
    let mut give_up = false;
    ui.scope_builder(egui::UiBuilder::new().max_rect(place), |ui| {
        egui::Frame::new().fill(board.palette.card).inner_margin(8.0).corner_radius(5.0).show(
            ui,
            |ui| {
                ui.horizontal_wrapped(|ui| {
                    ui.label(format!("{}…", hangtrue_pattern::words::capital(&words)));
                    progress(ui, part, 120.0);
                    give_up = ui.button("Give it up").clicked();
                });
            },
        );
    });
    if give_up {
        photo.work = None;
        photo.outline_wanted = false;
    }
}

/// How much of it is done, as far as that is known.
fn progress(ui: &mut Ui, part: f64, wide: f32) {
    if part > 0.0 {
        ui.add(egui::ProgressBar::new(part as f32).desired_width(wide));
    } else {
        ui.spinner();
    }
}

/// A bar of a round length, for a picture from straight above.
fn scale_bar(board: &Board, painter: &Painter, canvas: Rect, points_per_mm: f64) {
    let unit = board.unit();
    const INCHES: [f64; 6] = [1.0, 2.0, 4.0, 8.0, 12.0, 24.0];
    const MM: [f64; 6] = [10.0, 20.0, 50.0, 100.0, 200.0, 500.0];
    let rounds = match unit {
        Unit::Mm | Unit::Cm => MM,
        _ => INCHES.map(|i| i * INCH),
    };
    let fits = |mm: &&f64| **mm * points_per_mm <= 180.0;
    let mm = rounds.iter().rev().find(fits).copied().unwrap_or(rounds[0]);
    let long = (mm * points_per_mm) as f32;
    let at = pos2(canvas.left() + 20.0, canvas.bottom() - 22.0);
    let slip = Rect::from_min_max(at - vec2(8.0, 26.0), at + vec2(long.max(70.0) + 8.0, 10.0));
    painter.rect_filled(slip, 4.0, board.palette.paper);
    let ink = board.palette.on_paper().ink;
    painter.line_segment([at, at + vec2(long, 0.0)], Stroke::new(3.0, ink));
    let font = egui::FontId::proportional(13.5 * board.settings.letters);
    let words = show_length(mm, unit);
    painter.text(at - vec2(0.0, 6.0), Align2::LEFT_BOTTOM, words, font, ink);
}
