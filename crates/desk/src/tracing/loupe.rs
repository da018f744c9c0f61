//! A glass near the pointer: the pixels of the photo round a place, large.

use crate::kit::theme::Palette;
use egui::{
    Color32, ColorImage, Context, Painter, Pos2, Rect, Stroke, StrokeKind, TextureHandle,
    TextureOptions, vec2,
};
use hangtrue_files::photo::{Picture, Place};

/// Pixels to each side of the place.
const HALF: i64 = 12;
/// Points of the screen for a pixel.
const POINTS: f32 = 7.0;
/// Points between the place and the glass.
const AWAY: f32 = 34.0;

/// What the glass shows.
#[derive(Default)]
pub(super) struct Loupe {
    shown: Option<((i64, i64), TextureHandle)>,
}

impl Loupe {
    /// Draws the glass for a place of the photo that is at `at` on the screen.
    pub fn draw(
        &mut self,
        ctx: &Context,
        painter: &Painter,
        palette: &Palette,
        (picture, place): (&Picture, Place),
        at: Pos2,
    ) {
        let middle = (place.0.floor() as i64, place.1.floor() as i64);
        if self.shown.as_ref().is_none_or(|s| s.0 != middle) {
            let image = cut(picture, middle);
            match &mut self.shown {
                Some((old, texture)) => {
                    *old = middle;
                    texture.set(image, TextureOptions::NEAREST);
                }
                None => {
                    let texture = ctx.load_texture("loupe", image, TextureOptions::NEAREST);
                    self.shown = Some((middle, texture));
                }
            }
        }
        let Some((_, texture)) = &self.shown else { return };
        let side = (2 * HALF + 1) as f32 * POINTS;
        let glass = beside(painter.clip_rect(), at, side);
        painter.rect_filled(glass.expand(4.0), 6.0, palette.card);
        painter.image(texture.id(), glass, super::look::WHOLE, Color32::WHITE);
        painter.rect_stroke(glass, 2.0, Stroke::new(1.5, palette.text_soft), StrokeKind::Outside);
        // Where in the middle pixel the place lies.
        let inside = vec2(
            (place.0 - middle.0 as f64) as f32 - 0.5,
            (place.1 - middle.1 as f64) as f32 - 0.5,
        );
        let cross = glass.center() + inside * POINTS;
        for (colour, wide) in [(Color32::WHITE, 3.0), (palette.on_paper().madder, 1.2)] {
            let pen = Stroke::new(wide, colour);
            for (near, far) in [(4.0, 26.0)] {
                for way in [vec2(1.0, 0.0), vec2(-1.0, 0.0), vec2(0.0, 1.0), vec2(0.0, -1.0)] {
                    painter.line_segment([cross + way * near, cross + way * far], pen);
                }
            }
        }
    }
}

/// Beside the place, within what is seen.
fn beside(within: Rect, at: Pos2, side: f32) -> Rect {
    let room = within.shrink(8.0);
    let right = at.x + AWAY + side <= room.right();
    let x = if right { at.x + AWAY } else { at.x - AWAY - side };
    let above = at.y - AWAY - side >= room.top();
    let y = if above { at.y - AWAY - side } else { at.y + AWAY };
    Rect::from_min_size(egui::pos2(x, y), vec2(side, side))
}

fn cut(picture: &Picture, (x, y): (i64, i64)) -> ColorImage {
    let side = (2 * HALF + 1) as usize;
    let (wide, high) = (picture.width() as i64, picture.height() as i64);
    let pixel = |i: usize| {
        let (px, py) = (x - HALF + (i % side) as i64, y - HALF + (i / side) as i64);
        if !(0..wide).contains(&px) || !(0..high).contains(&py) {
            return Color32::GRAY;
        }
        let at = 3 * (py * wide + px) as usize;
        let p = &picture.pixels()[at..at + 3];
        Color32::from_rgb(p[0], p[1], p[2])
    };
    ColorImage::new([side, side], (0..side * side).map(pixel).collect())
}
