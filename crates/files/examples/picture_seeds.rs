//! Writes the seeds of the fuzz target `picture`: a dark card on a light table,
//! some 90 pixels high, in each of the kinds that are read.
//!
//! `cargo run -p hangtrue-files --example picture_seeds -- tests/fuzz/seeds/picture`

use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::PngEncoder;
use image::{DynamicImage, ImageBuffer, ImageEncoder, Luma, Rgba};
use std::error::Error;
use std::path::Path;

const SIZE: (u32, u32) = (72, 92);

/// The light of the card: a leg narrower below, a mark in the upper left corner.
fn light(x: u32, y: u32) -> u8 {
    let leg = (14 + y / 8..60 - y / 10).contains(&x) && (12..82).contains(&y);
    let mark = (x < 20) ^ (y < 20) && x.abs_diff(20) < 7 && y.abs_diff(20) < 7;
    if leg || mark { 40 } else { 215 }
}

fn grey() -> DynamicImage {
    ImageBuffer::from_fn(SIZE.0, SIZE.1, |x, y| Luma([light(x, y)])).into()
}

fn see_through() -> DynamicImage {
    let pixel = |x, y| Rgba([light(x, y), 60, 90, 255 - light(x, y)]);
    ImageBuffer::from_fn(SIZE.0, SIZE.1, pixel).into()
}

/// A TIFF directory with the orientation alone (EXIF 2.3, memory).
fn orientation(value: u8) -> Vec<u8> {
    let mut note = b"II*\0\x08\0\0\0\x01\0".to_vec();
    note.extend([0x12, 0x01, 3, 0, 1, 0, 0, 0, value, 0, 0, 0, 0, 0, 0, 0]);
    note
}

fn png(picture: &DynamicImage) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut bytes = Vec::new();
    picture.write_with_encoder(PngEncoder::new(&mut bytes))?;
    Ok(bytes)
}

fn jpeg(
    picture: &DynamicImage,
    quality: u8,
    turned: Option<u8>,
) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut bytes = Vec::new();
    let mut encoder = JpegEncoder::new_with_quality(&mut bytes, quality);
    if let Some(value) = turned {
        encoder.set_exif_metadata(orientation(value))?;
    }
    picture.write_with_encoder(encoder)?;
    Ok(bytes)
}

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args().nth(1).ok_or("give the folder to write to")?;
    let colour = DynamicImage::ImageRgb8(grey().into_rgb8());
    let deep = DynamicImage::ImageRgb16(grey().into_rgb16());
    for (name, bytes) in [
        ("grey.png", png(&grey())?),
        ("colour.png", png(&colour)?),
        ("deep.png", png(&deep)?),
        ("see-through.png", png(&see_through())?),
        ("grey.jpg", jpeg(&grey(), 60, None)?),
        ("colour.jpg", jpeg(&colour, 40, None)?),
        ("turned-3.jpg", jpeg(&colour, 30, Some(3))?),
        ("turned-6.jpg", jpeg(&colour, 30, Some(6))?),
        ("turned-5.jpg", jpeg(&grey(), 30, Some(5))?),
    ] {
        println!("{name}: {} bytes", bytes.len());
        std::fs::write(Path::new(&folder).join(name), bytes)?;
    }
    Ok(())
}
