//! The sheet as a picture: back, side and front beside each other, with their words.

use super::plates::{Plate, ROWS, Reach, plates};
use crate::photo::{PhotoError, Picture};
use crate::print::{Weight, letters_path};
use hangtrue_drape::LABEL;
use hangtrue_drape::picture::{Canvas, FINE, Scene, Viewpoint};
use hangtrue_pattern::units::Unit;
use tiny_skia::{Color, FillRule, Paint, Path, PathBuilder, Pixmap, Rect, Stroke, Transform};

/// What is told on a sheet.
#[derive(Debug, Clone)]
pub struct HangSheet<'a> {
    /// What it is a picture of.
    pub title: &'a str,
    /// What makes it doubtful, in the person's unit.
    pub doubts: &'a [String],
    /// How lengths are shown.
    pub unit: Unit,
}

/// Paper, ink, a softer ink, and the edge of plates.
const PAPER: [u8; 4] = [251, 246, 233, 255];
const GROUND: [u8; 4] = [159, 174, 182, 255];
const INK: [u8; 4] = [42, 37, 34, 255];
const SOFT: [u8; 4] = [102, 92, 82, 255];
const RED: [u8; 4] = [168, 50, 45, 255];

/// Pixels: a panel, the letters, the margin round, and the room over the panels.
const PANEL: (usize, usize) = (640, 1010);
const LETTER: f64 = 21.0;
const MARGIN: f64 = 24.0;
const HEAD: f64 = 112.0;
/// A row of a plate, in letters.
const ROW: f64 = 1.18;

/// The three views, and how each is called.
const VIEWS: [(Viewpoint, &str); 3] = [
    (Viewpoint::BACK, "From the back"),
    (Viewpoint::SIDE, "From the wearer’s right side"),
    (Viewpoint::FRONT, "From the front"),
];

/// Draws the sheet.
///
/// # Errors
/// [`PhotoError`] when there is no memory for it.
pub fn hang_sheet(scene: &Scene, sheet: &HangSheet<'_>) -> Result<Picture, PhotoError> {
    let no_room =
        || PhotoError::Asked("the picture could not be made: there is no memory for it".into());
    let (wide, high) = (PANEL.0 as f64, PANEL.1 as f64);
    let width = 3.0 * wide + 4.0 * MARGIN;
    let doubts = wrapped(sheet.doubts, width - 2.0 * MARGIN);
    let row = 1.32 * LETTER;
    let foot = 2.4 * row + doubts.len() as f64 * row;
    let height = HEAD + high + foot + MARGIN;
    let page = Pixmap::new(width as u32, height as u32).ok_or_else(no_room)?;
    let mut drawing = Drawing { page };
    drawing.page.fill(Color::from_rgba8(PAPER[0], PAPER[1], PAPER[2], 255));
    drawing.text(sheet.title, (MARGIN, 48.0), 1.5 * LETTER, Weight::Bold, INK);
    drawing.text(LABEL, (MARGIN, 86.0), 1.08 * LETTER, Weight::Bold, RED);
    for (k, (view, name)) in VIEWS.into_iter().enumerate() {
        let left = MARGIN + k as f64 * (wide + MARGIN);
        drawing.panel(scene, view, (left, HEAD), sheet.unit);
        drawing.text(name, (left + 16.0, HEAD + 34.0), LETTER, Weight::Bold, INK);
    }
    let mut foot = HEAD + high + 1.3 * row;
    let key = "Red: the marked lines on the cloth. Blue, broken: level between their ends. Words tell three places of each line (dots); ± is what other starts and meshes make of it, or the least that is claimed.";
    for line in wrapped(&[key.to_owned()], width - 2.0 * MARGIN) {
        drawing.text(&line, (MARGIN, foot), 0.86 * LETTER, Weight::Regular, SOFT);
        foot += row;
    }
    for line in &doubts {
        drawing.text(line, (MARGIN, foot), 0.86 * LETTER, Weight::Regular, SOFT);
        foot += row;
    }
    let pixels: Vec<u8> =
        drawing.page.data().chunks_exact(4).flat_map(|p| [p[0], p[1], p[2]]).collect();
    Picture::from_pixels(width as usize, height as usize, pixels).ok_or_else(no_room)
}

/// Words broken so that each line fits.
fn wrapped(texts: &[String], width: f64) -> Vec<String> {
    let fits = |line: &str| crate::print::width_of(line, Weight::Regular, 0.86 * LETTER) < width;
    let mut lines = Vec::new();
    for text in texts {
        let mut line = String::new();
        for word in text.split(' ') {
            let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
            if fits(&longer) || line.is_empty() {
                line = longer;
            } else {
                lines.push(std::mem::replace(&mut line, word.to_owned()));
            }
        }
        lines.push(line);
    }
    lines
}

struct Drawing {
    page: Pixmap,
}

impl Drawing {
    fn panel(&mut self, scene: &Scene, view: Viewpoint, at: (f64, f64), unit: Unit) {
        let (wide, high) = (PANEL.0 as f64, PANEL.1 as f64);
        if let Some(rect) = Rect::from_xywh(at.0 as f32, at.1 as f32, wide as f32, high as f32) {
            self.page.fill_rect(rect, &paint(GROUND), Transform::identity(), None);
        }
        let tall = (ROWS as f64 * ROW + 0.4) * LETTER;
        let reach = Reach { width: wide, height: high, plate: 11.8 * LETTER, high: tall };
        let mut frame = scene.frame(view, (wide, high * 0.94), 30.0);
        // The figure makes room for the plates at its right.
        let told = !plates(scene, &frame, reach, unit).is_empty();
        frame.middle = (if told { 0.35 } else { 0.5 } * wide, 0.52 * high);
        let canvas = scene.draw(&frame, PANEL, FINE, false);
        self.lay(&canvas, at);
        for plate in plates(scene, &frame, reach, unit) {
            self.plate(&plate, reach, at);
        }
    }

    /// Lays pixels over the page.
    fn lay(&mut self, canvas: &Canvas, at: (f64, f64)) {
        let wide = self.page.width() as usize;
        let (left, top) = (at.0 as usize, at.1 as usize);
        let data = self.page.data_mut();
        for y in 0..canvas.height {
            for x in 0..canvas.width {
                let from = 4 * (y * canvas.width + x);
                let to = 4 * ((y + top) * wide + x + left);
                let dense = u32::from(canvas.rgba[from + 3]);
                for k in 0..3 {
                    let (new, old) = (u32::from(canvas.rgba[from + k]), u32::from(data[to + k]));
                    data[to + k] = ((new * dense + old * (255 - dense)) / 255) as u8;
                }
            }
        }
    }

    fn plate(&mut self, plate: &Plate, reach: Reach, at: (f64, f64)) {
        let corner = (at.0 + plate.at.0, at.1 + plate.at.1);
        let tells_of = (at.0 + plate.tells_of.0, at.1 + plate.tells_of.1);
        let edge = if plate.right { corner.0 } else { corner.0 + reach.plate };
        self.line((edge, corner.1 + 0.5 * reach.high), tells_of, RED, 1.5);
        for place in &plate.places {
            let (x, y) = (at.0 + place.0, at.1 + place.1);
            if let Some(dot) = PathBuilder::from_circle(x as f32, y as f32, 5.0) {
                self.fill(&dot, RED);
            }
        }
        let rect = Rect::from_xywh(
            corner.0 as f32,
            corner.1 as f32,
            reach.plate as f32,
            reach.high as f32,
        );
        if let Some(rect) = rect {
            self.page.fill_rect(rect, &paint(PAPER), Transform::identity(), None);
            let path = PathBuilder::from_rect(rect);
            let stroke = Stroke { width: 1.5, ..Stroke::default() };
            self.page.stroke_path(&path, &paint(RED), &stroke, Transform::identity(), None);
        }
        let inside = corner.0 + 0.45 * LETTER;
        self.text(&plate.name, (inside, corner.1 + 1.05 * LETTER), LETTER, Weight::Bold, INK);
        for (k, words) in plate.words.iter().enumerate() {
            let foot = corner.1 + (1.05 + ROW * (k + 1) as f64) * LETTER;
            self.text(words, (inside, foot), 0.92 * LETTER, Weight::Regular, INK);
        }
    }

    fn line(&mut self, a: (f64, f64), b: (f64, f64), colour: [u8; 4], width: f32) {
        let mut path = PathBuilder::new();
        path.move_to(a.0 as f32, a.1 as f32);
        path.line_to(b.0 as f32, b.1 as f32);
        if let Some(path) = path.finish() {
            let stroke = Stroke { width, ..Stroke::default() };
            self.page.stroke_path(&path, &paint(colour), &stroke, Transform::identity(), None);
        }
    }

    fn fill(&mut self, path: &Path, colour: [u8; 4]) {
        let place = Transform::identity();
        self.page.fill_path(path, &paint(colour), FillRule::Winding, place, None);
    }

    /// A line of words whose foot begins at `at`.
    fn text(&mut self, words: &str, at: (f64, f64), size: f64, weight: Weight, colour: [u8; 4]) {
        let to =
            |p: hangtrue_geometry::Point| ((at.0 + p.x * size) as f32, (at.1 - p.y * size) as f32);
        if let Some(path) = letters_path(words, weight, to) {
            self.fill(&path, colour);
        }
    }
}

fn paint(colour: [u8; 4]) -> Paint<'static> {
    let mut paint = Paint { anti_alias: true, ..Paint::default() };
    let [r, g, b, a] = colour;
    paint.set_color_rgba8(r, g, b, a);
    paint
}
