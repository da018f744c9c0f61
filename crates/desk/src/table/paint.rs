//! Ink on paper: pieces, lines, notches, grain and names, as they lie on the
//! table.

use super::ground::Ground;
use crate::board::Board;
use crate::board::lay::Lay;
use crate::kit::sheet::{Sheet, Sheets, drawn, on_screen};
use crate::kit::theme::{Palette, heading_family};
use crate::kit::view::pos;
use egui::epaint::TextShape;
use egui::{
    Align2, Color32, FontFamily, FontId, Painter, Pos2, Shape, Stroke, TextStyle, Ui, pos2, vec2,
};
use hangtrue_geometry::{Affine, Point, Vec2};
use hangtrue_pattern::{NotchKind, Pattern, Piece, PlacedLine};

/// Colours and sizes of what is drawn on the table.
#[derive(Debug, Clone)]
pub(crate) struct Pens {
    pub palette: Palette,
    pub on_paper: Palette,
    pub name: FontId,
    pub small: FontId,
}

impl Pens {
    pub(crate) fn new(palette: &Palette, letters: f32, ui: &Ui) -> Self {
        let small = TextStyle::Small.resolve(ui.style());
        Self {
            palette: *palette,
            on_paper: palette.on_paper(),
            name: FontId::new(24.0 * letters, heading_family()),
            small: FontId::new(small.size, FontFamily::Proportional),
        }
    }
}

/// The soft shadow of a sheet: how far it falls and how dark each layer is.
const SHADOW: [(f32, u8); 5] = [(1.5, 26), (3.0, 20), (5.0, 15), (7.5, 10), (10.5, 6)];

/// Draws all pieces of a pattern.
pub(crate) fn draw_pieces(
    painter: &Painter,
    board: &Board,
    ground: &Ground,
    sheets: &Sheets,
    pens: &Pens,
    old: Option<&Sheets>,
) {
    let (lay, pattern) = (&board.lay, &*ground.shown.new);
    let to_screen = ground.to_screen;
    for sheet in &sheets.sheets {
        let place = to_screen * lay.affine(&sheet.piece);
        draw_paper(painter, sheet, place, pens);
    }
    draw_mates(painter, lay, pattern, sheets, to_screen, pens);
    // The older line lies under the new ink: it is seen only where it differs.
    if let Some(old) = old {
        draw_ghost(painter, lay, old, to_screen, pens, true);
    }
    let (lines, _) = pattern.place_lines();
    for (piece, sheet) in pattern.pieces.iter().zip(&sheets.sheets) {
        let place = to_screen * lay.affine(&piece.name);
        draw_inside(painter, piece, place, pens, ground.scale);
        for line in lines.iter().filter(|l| l.piece == piece.name) {
            draw_line(painter, pattern, line, place, pens);
        }
        draw_ink(painter, sheet, place, pens);
        draw_notches(painter, piece, place, pens);
        for line in lines.iter().filter(|l| l.piece == piece.name) {
            draw_line_name(painter, pattern, line, place, pens);
        }
        if ground.scale > 0.42 {
            draw_seam_names(painter, piece, place, pens);
        }
        draw_name(painter, piece, sheet, place, pens);
    }
}

/// The other leg: each piece mirrored, in thinner ink, with its lines.
fn draw_mates(
    painter: &Painter,
    lay: &Lay,
    pattern: &Pattern,
    sheets: &Sheets,
    to_screen: Affine,
    pens: &Pens,
) {
    let (lines, _) = pattern.place_lines();
    let soft = Stroke::new(1.4, pens.palette.ink_soft);
    for sheet in &sheets.sheets {
        let Some(mate) = lay.mate(&sheet.piece) else { continue };
        let place = to_screen * mate;
        draw_paper(painter, sheet, place, pens);
        painter.add(Shape::line(on_screen(&sheet.outline, place), soft));
        for leg in &sheet.darts {
            painter.add(Shape::line(leg.map(|p| pos(place * p)).to_vec(), soft));
        }
        for line in lines.iter().filter(|l| l.piece == sheet.piece) {
            let points = on_screen(&drawn(&line.chain, 0.1), place);
            let pen = Stroke::new(1.2, pens.on_paper.indigo);
            painter.extend(Shape::dashed_line(&points, pen, 9.0, 5.0));
        }
        let middle = pos(place * sheet.bounds.center());
        let words = format!("{}, its mate", sheet.piece);
        let ink = pens.palette.ink_soft;
        painter.text(middle, Align2::CENTER_CENTER, words, pens.small.clone(), ink);
    }
}

fn draw_paper(painter: &Painter, sheet: &Sheet, place: Affine, pens: &Pens) {
    let dark = if pens.palette.evening { 2.0 } else { 1.0 };
    for (fall, alpha) in SHADOW {
        let colour = Color32::from_black_alpha((f32::from(alpha) * dark) as u8);
        let mut mesh = sheet.paper.mesh(place, colour);
        mesh.translate(vec2(fall * 0.7, fall));
        painter.add(Shape::mesh(mesh));
    }
    painter.add(Shape::mesh(sheet.paper.mesh(place, pens.palette.paper)));
}

fn draw_ink(painter: &Painter, sheet: &Sheet, place: Affine, pens: &Pens) {
    let ink = Stroke::new(2.0, pens.palette.ink);
    for (_, parts) in &sheet.seams {
        for part in parts {
            painter.add(Shape::line(on_screen(part, place), ink));
        }
    }
    let thin = Stroke::new(1.3, pens.palette.ink);
    for leg in &sheet.darts {
        let [a, apex, b] = leg.map(|p| pos(place * p));
        painter.line_segment([a, apex], thin);
        painter.line_segment([apex, b], thin);
        painter.circle_stroke(apex, 2.5, thin);
    }
    for cap in &sheet.caps {
        painter.add(Shape::line(on_screen(cap, place), thin));
    }
}

/// The older version: its paper under the new one, or its broken outline over it.
pub(crate) fn draw_ghost(
    painter: &Painter,
    lay: &Lay,
    old: &Sheets,
    to_screen: Affine,
    pens: &Pens,
    over: bool,
) {
    for sheet in &old.sheets {
        let place = to_screen * lay.affine(&sheet.piece);
        if over {
            let pen = Stroke::new(1.6, pens.on_paper.indigo);
            let line = on_screen(&sheet.outline, place);
            if pens.palette.evening {
                // Indigo is lost on dark cloth unless something pale lies under it.
                let pale = Stroke::new(3.4, pens.palette.indigo.gamma_multiply(0.5));
                painter.add(Shape::line(line.clone(), pale));
            }
            painter.extend(Shape::dashed_line(&line, pen, 9.0, 5.0));
            for leg in &sheet.darts {
                painter.extend(Shape::dashed_line(&leg.map(|p| pos(place * p)), pen, 5.0, 4.0));
            }
        } else {
            let paper = pens.palette.paper.gamma_multiply(0.45);
            painter.add(Shape::mesh(sheet.paper.mesh(place, paper)));
        }
    }
}

fn draw_inside(painter: &Painter, piece: &Piece, place: Affine, pens: &Pens, scale: f64) {
    let soft = Stroke::new(1.2, pens.palette.ink_soft);
    let (low, high) = (pos(place * piece.grain.from), pos(place * piece.grain.to));
    painter.line_segment([low, high], soft);
    let along = (high - low).normalized() * 9.0;
    let across = along.rot90() * 0.45;
    for (tip, back) in [(high, -along), (low, along)] {
        painter.line_segment([tip, tip + back + across], soft);
        painter.line_segment([tip, tip + back - across], soft);
    }
    if scale > 0.3 {
        let middle = low + (high - low) * 0.12;
        turned_text(
            painter,
            "grain",
            middle + vec2(-3.0, 0.0),
            low,
            high,
            pens,
            pens.palette.ink_soft,
        );
    }
    for inner in &piece.inner {
        painter.add(Shape::line(on_screen(&drawn(&inner.chain, 0.1), place), soft));
    }
}

/// A reference line: long dashes in indigo when it goes to the cloth, dots in
/// soft ink when it stays on paper; a stale one says so.
fn draw_line(painter: &Painter, pattern: &Pattern, line: &PlacedLine, place: Affine, pens: &Pens) {
    let points = on_screen(&drawn(&line.chain, 0.1), place);
    let cloth = pattern.line(&line.piece, &line.name).is_ok_and(|l| l.purpose.to_cloth());
    let pen = Stroke::new(1.7, line_colour(line, cloth, pens));
    if cloth {
        painter.extend(Shape::dashed_line_with_offset(
            &points,
            pen,
            &[16.0, 3.0],
            &[4.0, 4.0],
            0.0,
        ));
    } else {
        painter.extend(Shape::dashed_line(&points, pen, 2.0, 4.0));
    }
}

/// The name of a line stands on it, the paper under it left free.
fn draw_line_name(
    painter: &Painter,
    pattern: &Pattern,
    line: &PlacedLine,
    place: Affine,
    pens: &Pens,
) {
    let (first, last) = (pos(place * line.chain.start()), pos(place * line.chain.end()));
    let cloth = pattern.line(&line.piece, &line.name).is_ok_and(|l| l.purpose.to_cloth());
    let colour = line_colour(line, cloth, pens);
    let stale = if line.stale.is_some() { " (stale)" } else { "" };
    let told = line.name.contains("paper");
    let paper = if cloth || told { "" } else { " (paper only)" };
    let words = format!("{}{stale}{paper}", line.name);
    let galley = painter.layout_no_wrap(words, pens.small.clone(), colour);
    if galley.size().x > first.distance(last) * 0.8 {
        return;
    }
    let middle = first + (last - first) * 0.62;
    let label = Align2::CENTER_BOTTOM.anchor_size(middle + vec2(0.0, -3.0), galley.size());
    painter.rect_filled(label.expand2(vec2(3.0, 0.0)), 3.0, pens.palette.paper);
    painter.galley(label.min, galley, colour);
}

fn line_colour(line: &PlacedLine, cloth: bool, pens: &Pens) -> Color32 {
    match (&line.stale, cloth) {
        (Some(_), _) => pens.on_paper.ochre,
        (None, true) => pens.on_paper.indigo,
        (None, false) => pens.palette.ink_soft,
    }
}

/// How long a notch is drawn, points of the screen.
const NOTCH: f64 = 9.0;

fn draw_notches(painter: &Painter, piece: &Piece, place: Affine, pens: &Pens) {
    for notch in &piece.notches {
        let Ok(seam) = piece.seam(&notch.seam) else { continue };
        let at = seam.place(notch.from, notch.distance);
        let inward = Vec2::new(-at.direction.y, at.direction.x) * piece.orientation();
        let on = |p: Point| place * p;
        let tick = |shift: f64| {
            let a = on(at.point + at.direction * shift);
            let unit = (on(at.point + inward) - on(at.point)).normalize();
            painter
                .line_segment([pos(a), pos(a + unit * NOTCH)], Stroke::new(1.8, pens.palette.ink));
        };
        match notch.kind {
            NotchKind::Single => tick(0.0),
            NotchKind::Double => {
                tick(-2.5);
                tick(2.5);
            }
        }
    }
}

fn draw_seam_names(painter: &Painter, piece: &Piece, place: Affine, pens: &Pens) {
    for seam in &piece.seams {
        let at = seam.place(hangtrue_pattern::End::Start, seam.sewn_length() * 0.5);
        let inward = Vec2::new(-at.direction.y, at.direction.x) * piece.orientation();
        let unit = place * (at.point + inward) - place * at.point;
        let a = pos(place * at.point + unit.normalize() * 5.0);
        let along = place * (at.point + at.direction) - place * at.point;
        let b = a + vec2(along.x as f32, along.y as f32) * 50.0;
        inward_text(painter, &seam.name, a, b, vec2(unit.x as f32, unit.y as f32), pens);
    }
}

/// Words along a seam, standing on its inner side.
fn inward_text(painter: &Painter, words: &str, a: Pos2, b: Pos2, inward: egui::Vec2, pens: &Pens) {
    let galley =
        painter.layout_no_wrap(words.to_owned(), pens.small.clone(), pens.palette.ink_soft);
    let mut along = (b - a).normalized();
    // Words are read from left to right, and upwards on an upright seam.
    if along.x < -0.05 || (along.x.abs() <= 0.05 && along.y > 0.0) {
        along = -along;
    }
    let size = galley.size();
    let down = vec2(-along.y, along.x);
    let away = if down.dot(inward) > 0.0 { vec2(0.0, 0.0) } else { -down * size.y };
    let start = a - along * size.x * 0.5 + away;
    let angle = along.angle();
    painter.add(TextShape::new(start, galley, pens.palette.ink_soft).with_angle(angle));
}

fn turned_text(
    painter: &Painter,
    words: &str,
    at: Pos2,
    low: Pos2,
    high: Pos2,
    pens: &Pens,
    colour: Color32,
) {
    let galley = painter.layout_no_wrap(words.to_owned(), pens.small.clone(), colour);
    let along = (high - low).normalized();
    let up = galley.size().y;
    painter.add(
        TextShape::new(at + vec2(along.y, -along.x) * (up + 6.0), galley, colour)
            .with_angle(along.angle()),
    );
}

/// A name may be so many letter heights long for each letter of it, as a share of
/// the width of its piece.
const NAME_ROOM: f32 = 1.0;

/// The name stands on the grain like a printed label; the paper under it is left
/// free.
fn draw_name(painter: &Painter, piece: &Piece, sheet: &Sheet, place: Affine, pens: &Pens) {
    let b = sheet.bounds;
    let width = (b.width() * place.as_coeffs()[0]) as f32;
    if width < 60.0 {
        return;
    }
    let grain = piece.grain.from.lerp(piece.grain.to, 0.36);
    let at = pos(place * grain);
    // Letters of 200 % still leave the piece to be seen.
    let room = (width * 0.25).min(NAME_ROOM * width / piece.name.chars().count().max(1) as f32);
    let large = FontId::new(pens.name.size.min(room), pens.name.family.clone());
    let name =
        painter.layout_no_wrap(crate::kit::words::capital(&piece.name), large, pens.palette.ink);
    let small = FontId::new(pens.small.size.min(width * 0.2), pens.small.family.clone());
    let words = if piece.leg().is_some() { "cut 1" } else { "cut 1 pair" };
    let cut = painter.layout_no_wrap(words.to_owned(), small, pens.palette.ink_soft);
    let size = vec2(name.size().x.max(cut.size().x), name.size().y + cut.size().y);
    let label = egui::Rect::from_center_size(at, size + vec2(12.0, 6.0));
    painter.rect_filled(label, 3.0, pens.palette.paper);
    let line =
        |galley: &std::sync::Arc<egui::Galley>, top: f32| pos2(at.x - galley.size().x / 2.0, top);
    painter.galley(line(&name, label.top() + 3.0), name.clone(), pens.palette.ink);
    let low = label.top() + 3.0 + name.size().y;
    painter.galley(line(&cut, low), cut.clone(), pens.palette.ink_soft);
}
