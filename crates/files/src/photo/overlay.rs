//! What was found, drawn over the photo: to look at before it is accepted.

use super::job::{Place, point};
use super::{PhotoError, Picture, SoFar, Traced};
use hangtrue_geometry::Point;

/// The longest side of the drawing, pixels.
const LONGEST: usize = 2000;
/// The outline, and the marks.
const OUTLINE: [u8; 3] = [230, 20, 90];
const MARKS: [u8; 3] = [20, 120, 230];
/// What is doubtful or wrong.
const DOUBT: [u8; 3] = [255, 190, 0];

/// The photo with the outline found and the marks drawn over it, as a PNG no
/// more than 2000 pixels long. It holds nothing but pixels.
///
/// # Errors
/// [`PhotoError::Asked`] when the photo is none of the traced ones.
pub fn overlay(picture: &Picture, traced: &Traced, photo: usize) -> Result<Vec<u8>, PhotoError> {
    let solved = traced
        .photos
        .get(photo)
        .ok_or_else(|| PhotoError::Asked(format!("there is no photo number {photo}").into()))?;
    let (small, by) = picture.reduced(LONGEST);
    let mut page =
        Page { width: small.width(), height: small.height(), pixels: small.pixels().to_vec() };
    let to_page = |p: Point| (p.to_vec2() / by as f64).to_point();
    for edge in &traced.edges {
        let length = edge.length();
        // One place a pixel of the drawing, or nearly.
        let count = (length * 4.0) as usize + 1;
        for i in 0..=count {
            let at = edge.point_at(length * i as f64 / count as f64);
            if let Some(seen) = solved.sees(at) {
                page.dot(to_page(seen), 0.8, OUTLINE);
            }
        }
        if let Some(seen) = solved.sees(edge.start()) {
            page.dot(to_page(seen), 4.0, OUTLINE);
        }
    }
    for mark in &solved.ground.marks {
        page.cross(to_page(mark.seen), MARKS);
    }
    for doubt in traced.doubts.iter().filter(|d| d.photo == photo) {
        for at in &doubt.seen {
            page.dot(to_page(point(*at)), 2.2, DOUBT);
        }
        if let Some(at) = doubt.seen.get(doubt.seen.len() / 2) {
            page.ring(to_page(point(*at)), 22.0, DOUBT);
        }
    }
    page.png()
}

/// The photo with as much of a refused outline as was found, and a ring where the
/// fault is; as a PNG no more than 2000 pixels long.
///
/// # Errors
/// [`PhotoError::Asked`] when it cannot be written.
pub fn overlay_of_refused(picture: &Picture, found: &SoFar) -> Result<Vec<u8>, PhotoError> {
    let (small, by) = picture.reduced(LONGEST);
    let mut page =
        Page { width: small.width(), height: small.height(), pixels: small.pixels().to_vec() };
    let to_page = |p: Place| (point(p).to_vec2() / by as f64).to_point();
    for at in &found.line {
        page.dot(to_page(*at), 1.2, OUTLINE);
    }
    if let Some(at) = found.fault {
        page.ring(to_page(at), 22.0, DOUBT);
    }
    page.png()
}

struct Page {
    width: usize,
    height: usize,
    pixels: Vec<u8>,
}

impl Page {
    fn dot(&mut self, at: Point, radius: f64, colour: [u8; 3]) {
        let reach = radius.ceil() as i64;
        let (cx, cy) = (at.x.floor() as i64, at.y.floor() as i64);
        for y in cy - reach..=cy + reach {
            for x in cx - reach..=cx + reach {
                let off = Point::new(x as f64 + 0.5, y as f64 + 0.5).distance(at);
                if off <= radius {
                    self.set(x, y, colour);
                }
            }
        }
    }

    fn ring(&mut self, at: Point, radius: f64, colour: [u8; 3]) {
        let count = (radius * 8.0) as usize;
        for i in 0..count {
            let (sin, cos) = (std::f64::consts::TAU * i as f64 / count as f64).sin_cos();
            self.dot(Point::new(at.x + radius * cos, at.y + radius * sin), 1.6, colour);
        }
    }

    fn cross(&mut self, at: Point, colour: [u8; 3]) {
        let (cx, cy) = (at.x.floor() as i64, at.y.floor() as i64);
        for k in -6..=6 {
            self.set(cx + k, cy, colour);
            self.set(cx, cy + k, colour);
        }
    }

    fn set(&mut self, x: i64, y: i64, colour: [u8; 3]) {
        if (0..self.width as i64).contains(&x) && (0..self.height as i64).contains(&y) {
            let at = 3 * (y as usize * self.width + x as usize);
            self.pixels[at..at + 3].copy_from_slice(&colour);
        }
    }

    fn png(&self) -> Result<Vec<u8>, PhotoError> {
        use image::ImageEncoder;
        let mut bytes = Vec::new();
        let (width, height) = (self.width as u32, self.height as u32);
        image::codecs::png::PngEncoder::new(&mut bytes)
            .write_image(&self.pixels, width, height, image::ExtendedColorType::Rgb8)
            .map_err(|e| PhotoError::Asked(format!("the drawing could not be made: {e}").into()))?;
        Ok(bytes)
    }
}
