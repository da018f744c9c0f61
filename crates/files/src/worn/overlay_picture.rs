//! The overlay drawn into a picture, letters and all.

use super::ReadPhoto;
use super::overlay::{Drawn, Way, overlay};
use crate::photo::{PhotoError, Picture};
use crate::print::{Weight, letters_path};
use hangtrue_geometry::{Point, Rect};
use hangtrue_pattern::units::Unit;
use tiny_skia::{FillRule, Paint, Path, PathBuilder, Pixmap, Stroke, StrokeDash, Transform};

/// Letters this share of the picture's longer side: to be looked at on a screen.
pub const FOR_SCREEN: f64 = 1.0 / 85.0;

/// Larger ones, to be read where the photo is printed as large as a hand.
pub const FOR_PRINT: f64 = 1.0 / 46.0;

/// Ink: the line, the level, droop, rise, letters, the plate, and the halo round
/// lines. Red, green, blue, and how dense of 255.
const LINE: [u8; 4] = [168, 50, 45, 255];
const FAINT: [u8; 4] = [168, 50, 45, 120];
const LEVEL: [u8; 4] = [44, 74, 124, 255];
const INK: [u8; 4] = [42, 37, 34, 255];
const PLATE: [u8; 4] = [251, 246, 233, 235];
const HALO: [u8; 4] = [251, 246, 233, 200];

/// The picture with what was read drawn over it; its longer side at most `longest`
/// pixels, the letters so large as a share of it ([`FOR_SCREEN`], [`FOR_PRINT`]).
///
/// # Errors
/// [`PhotoError`] when there is no memory for the drawing.
pub fn overlaid(
    picture: &Picture,
    read: &ReadPhoto,
    unit: Unit,
    longest: usize,
    letters: f64,
) -> Result<Picture, PhotoError> {
    let (small, by) = picture.reduced(longest);
    let no_room = || {
        PhotoError::Asked(
            "the drawing over the photo could not be made: there is no memory for it".into(),
        )
    };
    let (width, height) = (small.width() as u32, small.height() as u32);
    let mut page = Pixmap::new(width, height).ok_or_else(no_room)?;
    for (to, from) in page.data_mut().chunks_exact_mut(4).zip(small.pixels().chunks_exact(3)) {
        to[..3].copy_from_slice(from);
        to[3] = 255;
    }
    let letter = letters * picture.width().max(picture.height()) as f64;
    let mut sketch = Sketch { page, by: by as f64, letter };
    let drawn = overlay(read, unit, letter);
    for part in &drawn {
        sketch.lines(part);
    }
    for part in &drawn {
        sketch.arrows(part);
    }
    for part in &drawn {
        if let Drawn::Plate { place, words, way, .. } = part {
            sketch.plate(*place, words, *way);
        }
    }
    let pixels: Vec<u8> =
        sketch.page.data().chunks_exact(4).flat_map(|p| [p[0], p[1], p[2]]).collect();
    Picture::from_pixels(small.width(), small.height(), pixels).ok_or_else(no_room)
}

/// The bytes of a PNG file of the picture: pixels and nothing else.
///
/// # Errors
/// [`PhotoError`] when it cannot be written.
pub fn as_png(picture: &Picture) -> Result<Vec<u8>, PhotoError> {
    use image::ImageEncoder;
    let mut bytes = Vec::new();
    let (width, height) = (picture.width() as u32, picture.height() as u32);
    image::codecs::png::PngEncoder::new(&mut bytes)
        .write_image(picture.pixels(), width, height, image::ExtendedColorType::Rgb8)
        .map_err(|e| PhotoError::Asked(format!("the drawing could not be made: {e}").into()))?;
    Ok(bytes)
}

/// The page being drawn on; places come in pixels of the whole photo.
struct Sketch {
    page: Pixmap,
    /// How many times smaller the page is.
    by: f64,
    /// Size of the letters, pixels of the photo.
    letter: f64,
}

impl Sketch {
    fn at(&self, p: Point) -> (f32, f32) {
        ((p.x / self.by) as f32, (p.y / self.by) as f32)
    }

    /// A width in letter sizes, in pixels of the page.
    fn wide(&self, letters: f64) -> f32 {
        ((letters * self.letter / self.by) as f32).max(0.8)
    }

    fn run(&self, points: &[Point]) -> Option<Path> {
        let mut path = PathBuilder::new();
        for (i, p) in points.iter().enumerate() {
            let (x, y) = self.at(*p);
            if i == 0 { path.move_to(x, y) } else { path.line_to(x, y) }
        }
        path.finish()
    }

    fn stroke(&mut self, points: &[Point], colour: [u8; 4], width: f32, dash: Option<f32>) {
        let Some(path) = self.run(points) else { return };
        let dash = dash.and_then(|d| StrokeDash::new(vec![d, d * 0.6], 0.0));
        let stroke = Stroke { width, dash, ..Stroke::default() };
        self.page.stroke_path(&path, &paint(colour), &stroke, Transform::identity(), None);
    }

    fn fill(&mut self, path: &Path, colour: [u8; 4]) {
        let place = Transform::identity();
        self.page.fill_path(path, &paint(colour), FillRule::Winding, place, None);
    }

    fn lines(&mut self, part: &Drawn) {
        let (fine, halo) = (self.wide(0.12), self.wide(0.34));
        match part {
            Drawn::Level(points) => {
                self.stroke(points, HALO, halo * 0.8, None);
                self.stroke(points, LEVEL, fine, Some(self.wide(0.6)));
            }
            Drawn::Line(points) => {
                self.stroke(points, HALO, halo, None);
                self.stroke(points, LINE, fine * 1.3, None);
            }
            Drawn::Faint(points) => self.stroke(points, FAINT, fine, Some(self.wide(0.25))),
            Drawn::Arrow { .. } | Drawn::Plate { .. } => {}
        }
    }

    /// Arrows, and the leaders of the plates: under every plate.
    fn arrows(&mut self, part: &Drawn) {
        match part {
            Drawn::Arrow { from, to, way } => self.arrow(*from, *to, *way),
            Drawn::Plate { place, tells_of, way, .. } => {
                let edge = colour_of(way.unwrap_or(Way::Level));
                let fine = self.wide(0.06);
                self.stroke(&[leader_from(place, *tells_of), *tells_of], edge, fine, None);
            }
            _ => {}
        }
    }

    /// A shaft and a head; the head is never longer than the arrow.
    fn arrow(&mut self, from: Point, to: Point, way: Way) {
        let colour = colour_of(way);
        let along = to - from;
        let length = along.hypot();
        if length < 1e-6 {
            return;
        }
        let (fine, halo) = (self.wide(0.16), self.wide(0.4));
        self.stroke(&[from, to], HALO, halo, None);
        self.stroke(&[from, to], colour, fine, None);
        let unit = along / length;
        let square = hangtrue_geometry::Vec2::new(-unit.y, unit.x);
        let head = (0.7 * self.letter).min(length);
        let back = to - unit * head;
        let tips = [to, back + square * (head * 0.5), back - square * (head * 0.5)];
        if let Some(path) = self.run(&tips) {
            self.fill(&path, colour);
        }
    }

    fn plate(&mut self, place: Rect, words: &str, way: Option<Way>) {
        let edge = colour_of(way.unwrap_or(Way::Level));
        let fine = self.wide(0.06);
        let corners = [
            Point::new(place.x0, place.y0),
            Point::new(place.x1, place.y0),
            Point::new(place.x1, place.y1),
            Point::new(place.x0, place.y1),
            Point::new(place.x0, place.y0),
        ];
        if let Some(path) = self.run(&corners) {
            self.fill(&path, PLATE);
        }
        self.stroke(&corners, edge, fine, None);
        let at = Point::new(place.x0 + 0.4 * self.letter, place.y0 + 1.08 * self.letter);
        if let Some(path) = self.letters(words, at) {
            self.fill(&path, INK);
        }
    }

    /// The letters of a line of words whose foot line begins at `at`.
    fn letters(&self, words: &str, at: Point) -> Option<Path> {
        let to = |p: Point| self.at(Point::new(at.x + p.x * self.letter, at.y - p.y * self.letter));
        letters_path(words, Weight::Regular, to)
    }
}

/// Where the leader of a plate leaves it.
fn leader_from(place: &Rect, tells_of: Point) -> Point {
    let y = if tells_of.y < place.y0 { place.y0 } else { place.y1 };
    Point::new(tells_of.x.clamp(place.x0, place.x1), y)
}

fn colour_of(way: Way) -> [u8; 4] {
    match way {
        Way::Droop => LINE,
        Way::Rise => LEVEL,
        Way::Level => INK,
    }
}

fn paint(colour: [u8; 4]) -> Paint<'static> {
    let mut paint = Paint { anti_alias: true, ..Paint::default() };
    let [r, g, b, a] = colour;
    paint.set_color_rgba8(r, g, b, a);
    paint
}
