//! A part of a large photo, every pixel of it, for looking closely.

use super::look::on_picture;
use super::work::image_of;
use crate::kit::view::PanZoom;
use egui::{Context, Rect, TextureFilter, TextureHandle, TextureOptions};
use hangtrue_files::photo::Picture;

/// How a picture is shown: smaller than it is, its pixels are blended.
pub(super) const SHOWN: TextureOptions =
    TextureOptions { mipmap_mode: Some(TextureFilter::Linear), ..TextureOptions::LINEAR };

/// A part of a large photo, every pixel of it.
pub(super) struct Detail {
    /// Left, top, width and height, pixels of the photo.
    pub area: [usize; 4],
    pub texture: TextureHandle,
}

/// The pixels of the photo that are on the screen: left, top, width, height.
pub(super) fn seen_area(look: &PanZoom, canvas: Rect, picture: &Picture) -> Option<[usize; 4]> {
    let (from, to) = (on_picture(look, canvas, canvas.min), on_picture(look, canvas, canvas.max));
    let inside = |v: f64, most: usize| v.clamp(0.0, most as f64) as usize;
    let (left, top) = (inside(from.0, picture.width()), inside(from.1, picture.height()));
    let right = inside(to.0.ceil(), picture.width());
    let low = inside(to.1.ceil(), picture.height());
    (right > left && low > top).then_some([left, top, right - left, low - top])
}

/// Cuts a part of the photo, with some room round it for looking about.
pub(super) fn detail(
    ctx: &Context,
    picture: &Picture,
    [left, top, wide, high]: [usize; 4],
) -> Option<Detail> {
    /// More pixels than this take longer than a picture on the screen may.
    const MOST: usize = 6_000_000;
    let (room_x, room_y) = (wide / 4, high / 4);
    let (x, y) = (left.saturating_sub(room_x), top.saturating_sub(room_y));
    let right = (left + wide + room_x).min(picture.width());
    let low = (top + high + room_y).min(picture.height());
    let (wide, high) = (right - x, low - y);
    let most = ctx.input(|i| i.max_texture_side);
    if wide * high > MOST || wide.max(high) > most {
        return None;
    }
    let mut pixels = Vec::with_capacity(wide * high * 3);
    for row in y..low {
        let at = 3 * (row * picture.width() + x);
        pixels.extend_from_slice(&picture.pixels()[at..at + 3 * wide]);
    }
    let part = Picture::from_pixels(wide, high, pixels)?;
    let texture = ctx.load_texture("photo near", image_of(&part), TextureOptions::LINEAR);
    Some(Detail { area: [x, y, wide, high], texture })
}
