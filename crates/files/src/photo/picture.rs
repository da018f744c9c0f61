//! A picture read: its size looked at before it is decoded, turned upright, and
//! nothing kept of where, when and with what it was taken.

use super::{PhotoError, jpeg_end, limits};
use crate::read;
use hangtrue_geometry::Point;
use hangtrue_geometry::camera::Frame;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageError, ImageFormat, ImageReader, Limits};
use std::io::Cursor;
use std::path::Path;
use std::sync::OnceLock;

/// A picture upright: red, green and blue, 8 bits each, rows from the top. The
/// centre of the first pixel is at (0.5, 0.5). It holds pixels and nothing else.
#[derive(Clone, PartialEq)]
pub struct Picture {
    width: usize,
    height: usize,
    pixels: Vec<u8>,
    /// The file kept the colours at less than their full size.
    coarse_colours: bool,
}

impl std::fmt::Debug for Picture {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Picture({} × {})", self.width, self.height)
    }
}

impl Picture {
    /// Reads a PNG or JPEG file.
    ///
    /// # Errors
    /// [`PhotoError`] when it cannot be read, is too large, or is damaged.
    pub fn open(path: &Path) -> Result<Self, PhotoError> {
        Self::from_bytes(&read::bytes(path, limits::LARGEST_PNG)?)
    }

    /// Reads the bytes of a PNG or JPEG file. The size in the header is checked
    /// before any pixel is decoded.
    ///
    /// # Errors
    /// [`PhotoError`] when they are no such picture, too large, or damaged.
    pub fn from_bytes(bytes: &[u8]) -> Result<Self, PhotoError> {
        let format = image::guess_format(bytes).map_err(|_| PhotoError::UnknownKind)?;
        let most = match format {
            ImageFormat::Jpeg => limits::LARGEST_JPEG,
            ImageFormat::Png => limits::LARGEST_PNG,
            _ => return Err(PhotoError::UnknownKind),
        };
        let size = bytes.len() as u64;
        if size > most {
            return Err(PhotoError::FileTooLarge { size, most });
        }
        if format == ImageFormat::Jpeg && !jpeg_end::is_whole(bytes) {
            return Err(PhotoError::BrokenOff);
        }
        let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
        let mut allowed = Limits::default();
        allowed.max_image_width = Some(limits::LONGEST_SIDE);
        allowed.max_image_height = Some(limits::LONGEST_SIDE);
        allowed.max_alloc = Some(limits::MOST_BYTES);
        reader.limits(allowed);
        let mut decoder = reader.into_decoder().map_err(|e| refused(&e, stated_size(bytes)))?;
        check_size(decoder.dimensions(), decoder.total_bytes())?;
        // The one thing read of what the camera noted; a note that cannot be
        // read is no reason to refuse the picture.
        let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
        let decoded =
            DynamicImage::from_decoder(decoder).map_err(|e| refused(&e, stated_size(bytes)))?;
        let mut upright = on_white(decoded);
        upright.apply_orientation(orientation);
        let upright = upright.into_rgb8();
        let (width, height) = (upright.width() as usize, upright.height() as usize);
        let coarse_colours = format == ImageFormat::Jpeg && coarse_colours(bytes);
        Ok(Self { width, height, pixels: upright.into_raw(), coarse_colours })
    }

    /// A picture of pixels already in hand: red, green, blue, rows from the top.
    /// None when their number is not width × height × 3.
    pub fn from_pixels(width: usize, height: usize, pixels: Vec<u8>) -> Option<Self> {
        let fits = width.checked_mul(height)?.checked_mul(3)? == pixels.len();
        (fits && width > 0 && height > 0).then_some(Self {
            width,
            height,
            pixels,
            coarse_colours: false,
        })
    }

    /// Width, pixels.
    pub fn width(&self) -> usize {
        self.width
    }

    /// Height, pixels.
    pub fn height(&self) -> usize {
        self.height
    }

    /// The pixels: red, green, blue, rows from the top.
    pub fn pixels(&self) -> &[u8] {
        &self.pixels
    }

    /// The size for the camera.
    pub fn frame(&self) -> Frame {
        Frame { width: self.width as f64, height: self.height as f64 }
    }

    /// Whether a place lies in the picture, `margin` pixels from its border.
    pub fn holds(&self, p: Point, margin: f64) -> bool {
        p.x >= margin
            && p.y >= margin
            && p.x <= self.width as f64 - margin
            && p.y <= self.height as f64 - margin
    }

    /// The light of a tone at a pixel; outside the picture that of its border.
    pub fn light(&self, tone: Tone, x: i64, y: i64) -> f32 {
        let x = x.clamp(0, self.width as i64 - 1) as usize;
        let y = y.clamp(0, self.height as i64 - 1) as usize;
        let at = 3 * (y * self.width + x);
        let table = linear_table();
        let [r, g, b] = tone.0;
        r * table[self.pixels[at] as usize]
            + g * table[self.pixels[at + 1] as usize]
            + b * table[self.pixels[at + 2] as usize]
    }

    /// The light between pixels, bilinear.
    pub fn light_at(&self, tone: Tone, p: Point) -> f32 {
        let (x, y) = (p.x - 0.5, p.y - 0.5);
        let (left, top) = (x.floor(), y.floor());
        let (fx, fy) = ((x - left) as f32, (y - top) as f32);
        let (left, top) = (left as i64, top as i64);
        let upper = self.light(tone, left, top) * (1.0 - fx) + self.light(tone, left + 1, top) * fx;
        let lower =
            self.light(tone, left, top + 1) * (1.0 - fx) + self.light(tone, left + 1, top + 1) * fx;
        upper * (1.0 - fy) + lower * fy
    }

    /// Whether colours are seen less sharply than brightness: the file says so, or
    /// colour changes far less from pixel to pixel than brightness does.
    pub(crate) fn has_coarse_colours(&self) -> bool {
        /// Of full colours the two change alike, of colours at half their size a fifth.
        const COARSE: f64 = 0.4;
        /// With less noise than this nothing can be told, steps of 256.
        const NOISY: f64 = 0.4;
        if self.coarse_colours {
            return true;
        }
        let (mut bright, mut red) = (Vec::new(), Vec::new());
        let step = (self.width * self.height / 40_000).max(1);
        for i in (0..self.width * self.height).step_by(step) {
            let (x, y) = (i % self.width, i / self.width);
            if x + 1 >= self.width || y + 1 >= self.height {
                continue;
            }
            let of = |x: usize, y: usize| {
                let p = &self.pixels[3 * (y * self.width + x)..][..3];
                let luma = luma([p[0], p[1], p[2]]);
                (luma, 0.713 * (f64::from(p[0]) - luma))
            };
            let all = [of(x, y), of(x + 1, y), of(x, y + 1), of(x + 1, y + 1)];
            let mixed = |v: [f64; 4]| ((v[0] - v[1] - v[2] + v[3]) / 2.0).abs();
            bright.push(mixed(all.map(|v| v.0)));
            red.push(mixed(all.map(|v| v.1)));
        }
        let usual = |mut of: Vec<f64>| 1.4826 * crate::median::median(&mut of).unwrap_or(0.0);
        let (bright, red) = (usual(bright), usual(red));
        bright > NOISY && red < COARSE * bright
    }

    /// The picture in the grey that files keep at full size whatever they do to the
    /// colours.
    pub(crate) fn grey(&self) -> Self {
        let grey = self.pixels.as_chunks::<3>().0.iter();
        let pixels = grey.flat_map(|p| [luma(*p).round() as u8; 3]).collect();
        Self { width: self.width, height: self.height, pixels, coarse_colours: false }
    }

    /// The picture made smaller by a whole number, for showing or for a first
    /// look; pixels are averaged as light. Also gives the number.
    pub fn reduced(&self, longest: usize) -> (Self, usize) {
        let by = self.width.max(self.height).div_ceil(longest.max(1)).max(1);
        if by == 1 {
            return (self.clone(), 1);
        }
        let (width, height) = ((self.width / by).max(1), (self.height / by).max(1));
        let table = linear_table();
        let mut pixels = Vec::with_capacity(width * height * 3);
        for y in 0..height {
            for x in 0..width {
                let mut sum = [0f32; 3];
                let mut count = 0f32;
                for yy in y * by..((y + 1) * by).min(self.height) {
                    for xx in x * by..((x + 1) * by).min(self.width) {
                        let at = 3 * (yy * self.width + xx);
                        for (s, p) in sum.iter_mut().zip(&self.pixels[at..at + 3]) {
                            *s += table[*p as usize];
                        }
                        count += 1.0;
                    }
                }
                pixels.extend(sum.map(|s| encoded(s / count)));
            }
        }
        (Self { width, height, pixels, coarse_colours: self.coarse_colours }, by)
    }
}

/// A mix of the three colours, as light: what edges are looked for in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tone(pub [f32; 3]);

impl Tone {
    /// As bright as the eye sees it (ITU-R BT.709 weights, memory).
    pub const BRIGHTNESS: Self = Self([0.2126, 0.7152, 0.0722]);
}

/// Light from 0 to 1 for each of the 256 steps of a channel (IEC 61966-2-1,
/// memory): an edge lies where the *light* is half way.
fn linear_table() -> &'static [f32; 256] {
    static TABLE: OnceLock<[f32; 256]> = OnceLock::new();
    TABLE.get_or_init(|| {
        std::array::from_fn(|i| {
            let v = i as f32 / 255.0;
            if v <= 0.040_45 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
        })
    })
}

/// A step of a channel for light from 0 to 1.
pub fn encoded(light: f32) -> u8 {
    let light = light.clamp(0.0, 1.0);
    let v =
        if light <= 0.003_130_8 { light * 12.92 } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 };
    (v * 255.0).round() as u8
}

/// Luma of the steps of a pixel (ITU-R BT.601 weights, as JFIF has them, memory).
fn luma([r, g, b]: [u8; 3]) -> f64 {
    0.299 * f64::from(r) + 0.587 * f64::from(g) + 0.114 * f64::from(b)
}

/// Whether the frame header of a JPEG (ITU-T T.81 B.2.2, memory) samples the second
/// or third component less often than the first.
fn coarse_colours(bytes: &[u8]) -> bool {
    let mut at = 2;
    while let Some(&[0xff, kind, high, low]) = bytes.get(at..at + 4) {
        if kind == 0xff {
            at += 1;
            continue;
        }
        let frame = (0xc0..=0xcf).contains(&kind) && !matches!(kind, 0xc4 | 0xc8 | 0xcc);
        if frame {
            let sampling = |i: usize| bytes.get(at + 11 + 3 * i).copied();
            let three = bytes.get(at + 9) == Some(&3);
            return three
                && sampling(0).zip(sampling(1)).is_some_and(|(luma, colour)| {
                    luma >> 4 > colour >> 4 || luma & 15 > colour & 15
                });
        }
        if kind == 0xda {
            return false;
        }
        at += 2 + usize::from(u16::from_be_bytes([high, low]));
    }
    false
}

fn check_size((width, height): (u32, u32), bytes: u64) -> Result<(), PhotoError> {
    let pixels = u64::from(width) * u64::from(height);
    if width.max(height) > limits::LONGEST_SIDE
        || pixels > limits::MOST_PIXELS
        || bytes > limits::MOST_BYTES
    {
        return Err(too_many(width, height));
    }
    if width.min(height) < limits::SHORTEST_SIDE {
        return Err(PhotoError::TooSmall { width, height });
    }
    Ok(())
}

fn too_many(width: u32, height: u32) -> PhotoError {
    PhotoError::TooManyPixels { width, height, most: limits::MOST_PIXELS / 1_000_000 }
}

/// What the reader refused, in words.
fn refused(error: &ImageError, size: Option<(u32, u32)>) -> PhotoError {
    match (error, size) {
        (ImageError::Limits(_), Some((width, height))) => too_many(width, height),
        _ => PhotoError::Damaged,
    }
}

/// The size a header states, read without limits and without decoding.
fn stated_size(bytes: &[u8]) -> Option<(u32, u32)> {
    ImageReader::new(Cursor::new(bytes)).with_guessed_format().ok()?.into_dimensions().ok()
}

/// What is see-through lies on white paper.
fn on_white(picture: DynamicImage) -> DynamicImage {
    if !picture.color().has_alpha() {
        return DynamicImage::ImageRgb8(picture.into_rgb8());
    }
    let seen = picture.into_rgba8();
    let mut flat = image::RgbImage::new(seen.width(), seen.height());
    for (to, from) in flat.pixels_mut().zip(seen.pixels()) {
        let [r, g, b, a] = from.0.map(u16::from);
        to.0 = [r, g, b].map(|c| ((c * a + 255 * (255 - a)) / 255) as u8);
    }
    DynamicImage::ImageRgb8(flat)
}
