//! Ink on paper: pieces, lines, notches, grain and names, as they lie on the
//! table.

use super::ground::Ground;
use super::labels::{Label, Plate, labels_of};
use crate::board::Board;
use crate::board::lay::Lay;
use crate::kit::sheet::{DrawnPiece, Sheets, drawn, on_screen};
use crate::kit::theme::{Palette, heading_family};
use crate::kit::view::pos;
use egui::epaint::TextShape;
use egui::{
    Align2, Color32, FontFamily, FontId, Painter, Rect, Shape, Stroke, TextStyle, Ui, vec2,
};
use hangtrue_geometry::Affine;
use hangtrue_pattern::markings::{LineMarking, Markings};
use hangtrue_pattern::{Pattern, Piece};

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

impl Pens {
    /// The ink of a reference line.
    pub(super) fn line_colour(&self, line: &LineMarking<'_>) -> Color32 {
        match (line.is_stale(), line.to_cloth) {
            (true, _) => self.on_paper.ochre,
            (false, true) => self.on_paper.indigo,
            (false, false) => self.palette.ink_soft,
        }
    }
}

/// The soft shadow of a sheet: how far it falls and how dark each layer is.
const SHADOW: [(f32, u8); 5] = [(1.5, 26), (3.0, 20), (5.0, 15), (7.5, 10), (10.5, 6)];

/// Draws all pieces of a pattern, with no words where the screen is kept free for handles.
pub(crate) fn draw_pieces(
    painter: &Painter,
    board: &Board,
    ground: &Ground,
    (sheets, old): (&Sheets, Option<&Sheets>),
    kept_free: &[Plate],
    pens: &Pens,
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
        let markings = Markings::of(pattern, piece, &lines);
        draw_inside(painter, piece, place, pens);
        for line in &markings.lines {
            draw_line(painter, line, place, pens);
        }
        draw_ink(painter, sheet, place, pens);
        draw_notches(painter, &markings, place, pens);
        let size_of = |words: &str, font: &FontId| {
            painter.layout_no_wrap(words.to_owned(), font.clone(), Color32::BLACK).size()
        };
        let of = (&markings, sheet);
        for label in labels_of(of, (place, ground.scale), (kept_free, pens), &size_of) {
            draw_label(painter, &label, pens);
        }
    }
}

/// Words at the place they were given.
fn draw_label(painter: &Painter, label: &Label, pens: &Pens) {
    let plate = &label.plate;
    if label.backed {
        let rect = Rect::from_center_size(plate.centre, plate.half * 2.0);
        painter.rect_filled(rect, 3.0, pens.palette.paper);
    }
    let lines = label.lines.iter().map(|(words, font, colour)| {
        (painter.layout_no_wrap(words.clone(), font.clone(), *colour), *colour)
    });
    let lines: Vec<_> = lines.collect();
    let high: f32 = lines.iter().map(|l| l.0.size().y).sum();
    let mut down = plate.half.y - high / 2.0;
    for (galley, colour) in lines {
        let size = galley.size();
        let at = plate.begin() + plate.along * (plate.half.x - size.x / 2.0) + plate.down() * down;
        painter.add(TextShape::new(at, galley, colour).with_angle(plate.along.angle()));
        down += size.y;
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
        let words = format!("{}, mirrored", sheet.piece);
        let ink = pens.palette.ink_soft;
        painter.text(middle, Align2::CENTER_CENTER, words, pens.small.clone(), ink);
    }
}

fn draw_paper(painter: &Painter, sheet: &DrawnPiece, place: Affine, pens: &Pens) {
    let dark = if pens.palette.evening { 2.0 } else { 1.0 };
    for (fall, alpha) in SHADOW {
        let colour = Color32::from_black_alpha((f32::from(alpha) * dark) as u8);
        let mut mesh = sheet.paper.mesh(place, colour);
        mesh.translate(vec2(fall * 0.7, fall));
        painter.add(Shape::mesh(mesh));
    }
    painter.add(Shape::mesh(sheet.paper.mesh(place, pens.palette.paper)));
}

fn draw_ink(painter: &Painter, sheet: &DrawnPiece, place: Affine, pens: &Pens) {
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

fn draw_inside(painter: &Painter, piece: &Piece, place: Affine, pens: &Pens) {
    let soft = Stroke::new(1.2, pens.palette.ink_soft);
    let (low, high) = (pos(place * piece.grain.from), pos(place * piece.grain.to));
    painter.line_segment([low, high], soft);
    let along = (high - low).normalized() * 9.0;
    let across = along.rot90() * 0.45;
    for (tip, back) in [(high, -along), (low, along)] {
        painter.line_segment([tip, tip + back + across], soft);
        painter.line_segment([tip, tip + back - across], soft);
    }
    for inner in &piece.inner {
        painter.add(Shape::line(on_screen(&drawn(&inner.chain, 0.1), place), soft));
    }
}

/// A reference line: long dashes in indigo when it goes to the cloth, dots in
/// soft ink when it stays on paper; a stale one says so.
fn draw_line(painter: &Painter, line: &LineMarking<'_>, place: Affine, pens: &Pens) {
    let points = on_screen(&drawn(&line.placed.chain, 0.1), place);
    let pen = Stroke::new(1.7, pens.line_colour(line));
    if line.to_cloth {
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

/// How long a notch is drawn, points of the screen.
pub(super) const NOTCH: f64 = 9.0;

fn draw_notches(painter: &Painter, markings: &Markings<'_>, place: Affine, pens: &Pens) {
    let pen = Stroke::new(1.8, pens.palette.ink);
    for (at, inward) in markings.notches.iter().flat_map(|notch| &notch.strokes) {
        let foot = place * *at;
        let unit = (place * (*at + *inward) - foot).normalize();
        painter.line_segment([pos(foot), pos(foot + unit * NOTCH)], pen);
    }
}
