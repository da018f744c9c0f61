//! The table as seen from straight above: a photo resampled through its camera,
//! every pixel the same number of millimetres.

use super::job::{Place, point};
use super::outline::BORDER;
use super::{PhotoError, Picture, SolvedPhoto, Tone, encoded};
use hangtrue_geometry::{Affine, Point, Rect, Vec2};
use rayon::prelude::*;

/// The most pixels of a straight picture, so that a slanting photo does not fill
/// the machine.
const MOST: f64 = 24_000_000.0;
/// Where a photo shows less than this share of what it shows at its marks, it is
/// left out: towards the horizon everything is smeared.
const SMEARED: f64 = 0.25;
/// What lies outside the photo, steps of 256.
const OUTSIDE: u8 = 200;
/// Places looked at each way to find how far the photo reaches.
const LOOKED_AT: usize = 48;

/// A photo as seen from straight above.
#[derive(Debug, Clone)]
pub struct Straight {
    /// The pixels.
    pub picture: Picture,
    /// Pixels to a metre, the same each way.
    pub per_metre: u32,
    /// From its pixels to the common table, mm.
    to_table: Affine,
    solved: SolvedPhoto,
}

impl Straight {
    /// The side of a pixel, mm.
    pub fn mm_per_pixel(&self) -> f64 {
        1000.0 / f64::from(self.per_metre)
    }

    /// Where a place of the straight picture, pixels, lies on the table, mm.
    pub fn on_table(&self, seen: Point) -> Point {
        self.to_table * seen
    }

    /// Where a place of the table, mm, is seen in the straight picture, pixels.
    pub fn sees(&self, table: Point) -> Point {
        self.to_table.inverse() * table
    }

    /// Where a place of the photo, pixels, is seen in the straight picture.
    pub fn of_photo(&self, seen: Place) -> Option<Place> {
        let own = self.solved.ground.camera.to_plane(point(seen))?;
        let at = self.sees(self.solved.to_table * own);
        Some((at.x, at.y))
    }

    /// Where a place of the straight picture is seen in the photo, pixels.
    pub fn to_photo(&self, seen: Place) -> Option<Place> {
        self.solved.sees(self.on_table(point(seen))).map(|p| (p.x, p.y))
    }

    /// As a PNG that says how large its pixels are (`pHYs`, ISO/IEC 15948
    /// §11.3.5.3, memory), so that it prints at its actual size.
    ///
    /// # Errors
    /// [`PhotoError::Asked`] when it cannot be written.
    pub fn png(&self) -> Result<Vec<u8>, PhotoError> {
        let wrong = |why: &dyn std::fmt::Display| {
            PhotoError::Asked(format!("the straight picture could not be made: {why}").into())
        };
        let side = |v: usize| u32::try_from(v).map_err(|e| wrong(&e));
        let mut bytes = Vec::new();
        let size = (side(self.picture.width())?, side(self.picture.height())?);
        let mut encoder = png::Encoder::new(&mut bytes, size.0, size.1);
        encoder.set_color(png::ColorType::Rgb);
        encoder.set_depth(png::BitDepth::Eight);
        encoder.set_pixel_dims(Some(png::PixelDimensions {
            xppu: self.per_metre,
            yppu: self.per_metre,
            unit: png::Unit::Meter,
        }));
        let mut writer = encoder.write_header().map_err(|e| wrong(&e))?;
        writer.write_image_data(self.picture.pixels()).map_err(|e| wrong(&e))?;
        writer.finish().map_err(|e| wrong(&e))?;
        Ok(bytes)
    }
}

/// Looks straight down on the table of a solved photo. The picture is turned by
/// quarters so that up stays up as nearly as it can. `per_metre` pixels to a
/// metre; none takes as many as the photo shows at its marks.
///
/// # Errors
/// [`PhotoError::Asked`] for a scale that cannot be used.
pub fn straight(
    picture: &Picture,
    solved: &SolvedPhoto,
    per_metre: Option<u32>,
) -> Result<Straight, PhotoError> {
    let asked = |why: &str| PhotoError::Asked(format!("{}: {why}", solved.file).into());
    let nowhere = || asked("its table cannot be looked at from above");
    let finest = finest_scale(solved).ok_or_else(nowhere)?;
    let up = quarter(solved, picture.frame().centre()).ok_or_else(nowhere)?;
    let area = area(picture, solved, up, finest).ok_or_else(nowhere)?;
    let most = (MOST / (area.width() * area.height())).sqrt() * 1000.0;
    let per_metre = match per_metre {
        Some(given) if !(20..=40_000).contains(&given) || f64::from(given) > most => {
            return Err(asked(&format!(
                "{given} pixels to a metre cannot be used; give 20 to {:.0}",
                most.min(40_000.0).floor()
            )));
        }
        Some(given) => given,
        None => (finest * 1000.0).ceil().min(most.floor()).clamp(20.0, 40_000.0) as u32,
    };
    let mm = 1000.0 / f64::from(per_metre);
    let (width, height) = (
        (area.width() / mm).ceil().max(1.0) as usize,
        (area.height() / mm).ceil().max(1.0) as usize,
    );
    let to_table =
        up.inverse() * Affine::translate((area.x0, area.y1)) * Affine::scale_non_uniform(mm, -mm);
    let back = solved.to_table.inverse() * to_table;
    let mut pixels = vec![OUTSIDE; width * height * 3];
    pixels.par_chunks_mut(width * 3).enumerate().for_each(|(y, row)| {
        for (x, pixel) in row.as_chunks_mut::<3>().0.iter_mut().enumerate() {
            let at = back * Point::new(x as f64 + 0.5, y as f64 + 0.5);
            let seen = solved.ground.camera.to_picture(at);
            if let Some(seen) = seen.filter(|p| picture.holds(*p, 0.0)) {
                *pixel = COLOURS.map(|tone| encoded(picture.light_at(tone, seen)));
            }
        }
    });
    let picture = Picture::from_pixels(width, height, pixels).ok_or_else(nowhere)?;
    Ok(Straight { picture, per_metre, to_table, solved: solved.clone() })
}

const COLOURS: [Tone; 3] = [Tone([1.0, 0.0, 0.0]), Tone([0.0, 1.0, 0.0]), Tone([0.0, 0.0, 1.0])];

/// Pixels per mm at the marks, the finest.
fn finest_scale(solved: &SolvedPhoto) -> Option<f64> {
    let camera = &solved.ground.camera;
    let at_marks = solved.ground.marks.iter().filter_map(|m| camera.scale_at(m.place));
    at_marks.reduce(f64::max).filter(|s| *s > 0.0)
}

/// The turn by quarters that brings what is up in the photo nearest to up.
fn quarter(solved: &SolvedPhoto, centre: Point) -> Option<Affine> {
    let lay = |p: Point| solved.ground.camera.to_plane(p).map(|p| solved.to_table * p);
    let up: Vec2 = lay(centre - Vec2::new(0.0, 1.0))? - lay(centre)?;
    let off = std::f64::consts::FRAC_PI_2 - up.atan2();
    let quarters = (off / std::f64::consts::FRAC_PI_2).round();
    Some(Affine::rotate(quarters * std::f64::consts::FRAC_PI_2))
}

/// The box of the turned table that the photo shows clearly, mm.
fn area(picture: &Picture, solved: &SolvedPhoto, up: Affine, finest: f64) -> Option<Rect> {
    let camera = &solved.ground.camera;
    let (w, h) = (picture.width() as f64, picture.height() as f64);
    let margin = BORDER.min(w / 8.0).min(h / 8.0);
    let mut all: Option<Rect> = None;
    for i in 0..=LOOKED_AT {
        for k in 0..=LOOKED_AT {
            let share =
                |i: usize, side: f64| margin + (side - 2.0 * margin) * i as f64 / LOOKED_AT as f64;
            let Some(own) = camera.to_plane(Point::new(share(i, w), share(k, h))) else { continue };
            if camera.scale_at(own).is_none_or(|s| s < SMEARED * finest) {
                continue;
            }
            let at = up * (solved.to_table * own);
            all = Some(all.map_or(Rect::from_points(at, at), |r| r.union_pt(at)));
        }
    }
    all.filter(|r| r.width() > 1.0 && r.height() > 1.0)
}
