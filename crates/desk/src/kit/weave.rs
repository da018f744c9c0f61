//! The cloth over the table: a plain weave drawn once as a small tile.

use crate::kit::theme::Palette;
use egui::{Color32, ColorImage, Mesh, Rect, TextureHandle, TextureOptions, TextureWrapMode, pos2};

/// Threads each way in the tile.
const TILE: usize = 64;
/// Points of the screen that one thread is wide.
const THREAD: f32 = 2.0;

/// The woven tile in the colours of the palette.
pub fn weave(ctx: &egui::Context, palette: &Palette) -> TextureHandle {
    let mut image = ColorImage::filled([TILE, TILE], palette.table);
    // Slubs: threads a little thicker or paler than their neighbours. A fixed
    // mixing of the index stands in for chance, so the cloth looks the same
    // every day.
    let slub = |thread: usize, salt: usize| {
        let mixed = (thread * 2_654_435_761 + salt * 40_503) >> 7;
        (mixed % 9) as i32 - 4
    };
    for y in 0..TILE {
        for x in 0..TILE {
            let warp_on_top = (x + y) % 2 == 0;
            let lift = if warp_on_top { 4 + slub(x, 1) } else { -4 + slub(y, 2) };
            image.pixels[y * TILE + x] = shifted(palette.table, lift);
        }
    }
    let options = TextureOptions { wrap_mode: TextureWrapMode::Repeat, ..TextureOptions::LINEAR };
    ctx.load_texture("cloth of the table", image, options)
}

fn shifted(c: Color32, by: i32) -> Color32 {
    let s = |v: u8| (i32::from(v) + by).clamp(0, 255) as u8;
    Color32::from_rgb(s(c.r()), s(c.g()), s(c.b()))
}

/// Lays the cloth over a part of the screen. The weave belongs to the screen and
/// does not grow with the paper, so it never fights with the ink.
pub fn lay_cloth(painter: &egui::Painter, cloth: &TextureHandle, over: Rect) {
    let tile = TILE as f32 * THREAD;
    let uv = Rect::from_min_max(
        pos2(over.min.x / tile, over.min.y / tile),
        pos2(over.max.x / tile, over.max.y / tile),
    );
    let mut mesh = Mesh::with_texture(cloth.id());
    mesh.add_rect_with_uv(over, uv, Color32::WHITE);
    painter.add(mesh);
}
