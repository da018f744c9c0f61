//! Pictures of the desk without a screen or a graphics card: the triangles egui
//! hands out, filled pixel by pixel on the processor. The same numbers give the
//! same picture on every machine.

use egui::epaint::{Mesh, Primitive, TextureId, Vertex};
use egui::{Color32, ColorImage, ImageData, Pos2, Rect, TextureWrapMode, TexturesDelta, pos2};
use egui_kittest::TestRenderer;
use image::RgbaImage;
use std::collections::HashMap;

/// A texture: its pixels and whether it is laid edge to edge again and again.
struct Texture {
    image: ColorImage,
    repeats: bool,
}

/// Draws what egui shows.
#[derive(Default)]
pub struct Rasteriser {
    textures: HashMap<TextureId, Texture>,
    /// Whether a texture laid again and again is drawn as its mean colour: the
    /// weave would make a kept picture ten times as large.
    plain_cloth: bool,
}

impl Rasteriser {
    /// One that draws cloth as it is, or as its mean colour.
    pub fn new(plain_cloth: bool) -> Self {
        Self { plain_cloth, ..Self::default() }
    }
}

impl TestRenderer for Rasteriser {
    fn handle_delta(&mut self, delta: &mut TexturesDelta) {
        for (id, deltas) in std::mem::take(&mut delta.set) {
            for part in deltas {
                let ImageData::Color(image) = &part.image;
                match part.pos {
                    None => {
                        let repeats = part.options.wrap_mode == TextureWrapMode::Repeat;
                        let image = if repeats && self.plain_cloth {
                            mean_of(image)
                        } else {
                            (**image).clone()
                        };
                        self.textures.insert(id, Texture { image, repeats });
                    }
                    Some(at) => {
                        if let Some(texture) = self.textures.get_mut(&id) {
                            paste(&mut texture.image, image, at);
                        }
                    }
                }
            }
        }
        for id in std::mem::take(&mut delta.free) {
            self.textures.remove(&id);
        }
    }

    fn render(
        &mut self,
        ctx: &egui::Context,
        output: &egui::FullOutput,
    ) -> Result<RgbaImage, String> {
        let scale = ctx.pixels_per_point();
        let size = ctx.content_rect().size() * scale;
        let mut canvas = Canvas::new(size.x.round() as usize, size.y.round() as usize);
        for clipped in ctx.tessellate(output.shapes.clone(), scale) {
            let Primitive::Mesh(mesh) = &clipped.primitive else {
                return Err("the desk draws no callbacks".into());
            };
            let Some(texture) = self.textures.get(&mesh.texture_id) else {
                return Err(format!("no texture {:?}", mesh.texture_id));
            };
            let clip = Rect::from_min_max(
                (clipped.clip_rect.min.to_vec2() * scale).to_pos2(),
                (clipped.clip_rect.max.to_vec2() * scale).to_pos2(),
            );
            canvas.fill_mesh(mesh, texture, clip, scale);
        }
        Ok(canvas.into_image())
    }
}

fn mean_of(image: &ColorImage) -> ColorImage {
    let count = image.pixels.len() as u64;
    let mean = |part: usize| {
        (image.pixels.iter().map(|p| u64::from(p.to_array()[part])).sum::<u64>() / count) as u8
    };
    ColorImage::filled([1, 1], Color32::from_rgb(mean(0), mean(1), mean(2)))
}

fn paste(onto: &mut ColorImage, image: &ColorImage, at: [usize; 2]) {
    let wide = onto.size[0];
    for y in 0..image.size[1] {
        let from = &image.pixels[y * image.size[0]..][..image.size[0]];
        onto.pixels[(at[1] + y) * wide + at[0]..][..image.size[0]].copy_from_slice(from);
    }
}

impl Texture {
    /// The colour at a place, blended from the four pixels round it.
    fn at(&self, uv: Pos2) -> [f32; 4] {
        let [wide, high] = self.image.size;
        let (x, y) = (uv.x * wide as f32 - 0.5, uv.y * high as f32 - 0.5);
        let (left, top) = (x.floor(), y.floor());
        let (right_share, low_share) = (x - left, y - top);
        let pixel = |x: f32, y: f32| {
            let (x, y) = (x as i64, y as i64);
            let (x, y) = if self.repeats {
                (x.rem_euclid(wide as i64), y.rem_euclid(high as i64))
            } else {
                (x.clamp(0, wide as i64 - 1), y.clamp(0, high as i64 - 1))
            };
            parts(self.image.pixels[y as usize * wide + x as usize])
        };
        if right_share == 0.0 && low_share == 0.0 {
            return pixel(left, top);
        }
        let upper = mix(pixel(left, top), pixel(left + 1.0, top), right_share);
        let lower = mix(pixel(left, top + 1.0), pixel(left + 1.0, top + 1.0), right_share);
        mix(upper, lower, low_share)
    }
}

fn parts(c: Color32) -> [f32; 4] {
    c.to_array().map(|v| f32::from(v) / 255.0)
}

fn mix(a: [f32; 4], b: [f32; 4], share: f32) -> [f32; 4] {
    std::array::from_fn(|i| a[i] + (b[i] - a[i]) * share)
}

/// Ink, premultiplied, over what lies under it.
fn over(ink: [f32; 4], under: [f32; 4]) -> [f32; 4] {
    if ink[3] == 1.0 {
        return ink;
    }
    std::array::from_fn(|i| ink[i] + under[i] * (1.0 - ink[3]))
}

struct Canvas {
    wide: usize,
    high: usize,
    pixels: Vec<[f32; 4]>,
}

impl Canvas {
    fn new(wide: usize, high: usize) -> Self {
        Self { wide, high, pixels: vec![[0.0, 0.0, 0.0, 1.0]; wide * high] }
    }

    fn fill_mesh(&mut self, mesh: &Mesh, texture: &Texture, clip: Rect, scale: f32) {
        for corners in mesh.indices.chunks_exact(3) {
            let corner = |i: usize| mesh.vertices[corners[i] as usize];
            self.fill_triangle([corner(0), corner(1), corner(2)], texture, clip, scale);
        }
    }

    /// Fills every pixel whose middle lies in the triangle; a middle on an edge
    /// belongs to the triangle on one side of it only.
    fn fill_triangle(&mut self, corners: [Vertex; 3], texture: &Texture, clip: Rect, scale: f32) {
        let mut corners = corners;
        let at = |v: &Vertex| (v.pos.to_vec2() * scale).to_pos2();
        let turn = side(at(&corners[0]), at(&corners[1]), at(&corners[2]));
        if turn == 0.0 || !turn.is_finite() {
            return;
        }
        if turn < 0.0 {
            corners.swap(1, 2);
        }
        let area = turn.abs();
        let [a, b, c] = [at(&corners[0]), at(&corners[1]), at(&corners[2])];
        let bounds = Rect::from_points(&[a, b, c]).intersect(clip);
        if !bounds.is_positive() {
            return;
        }
        let first = |v: f32| (v - 0.5).ceil().max(0.0) as usize;
        let past = |v: f32, most: usize| (((v - 0.5).floor() + 1.0).max(0.0) as usize).min(most);
        let flat = corners.iter().all(|v| v.uv == corners[0].uv).then(|| texture.at(corners[0].uv));
        // Most of a picture is grounds of one colour.
        let even = flat.filter(|_| corners.iter().all(|v| v.color == corners[0].color));
        let even = even.map(|texel| {
            let colour = parts(corners[0].color);
            std::array::from_fn(|i| colour[i] * texel[i])
        });
        for y in first(bounds.min.y)..past(bounds.max.y, self.high) {
            for x in first(bounds.min.x)..past(bounds.max.x, self.wide) {
                let p = pos2(x as f32 + 0.5, y as f32 + 0.5);
                let shares = [side(b, c, p), side(c, a, p), side(a, b, p)];
                let edges = [(b, c), (c, a), (a, b)];
                let inside = shares
                    .iter()
                    .zip(edges)
                    .all(|(s, (from, to))| *s > 0.0 || (*s == 0.0 && belongs(from, to)));
                if !inside {
                    continue;
                }
                let under = &mut self.pixels[y * self.wide + x];
                if let Some(ink) = even {
                    *under = over(ink, *under);
                    continue;
                }
                let shares = shares.map(|s| s / area);
                let blend = |value: fn(&Vertex) -> f32| -> f32 {
                    (0..3).map(|i| value(&corners[i]) * shares[i]).sum()
                };
                let texel =
                    flat.unwrap_or_else(|| texture.at(pos2(blend(|v| v.uv.x), blend(|v| v.uv.y))));
                let ink: [f32; 4] = std::array::from_fn(|i| {
                    let ink: f32 =
                        (0..3).map(|k| f32::from(corners[k].color.to_array()[i]) * shares[k]).sum();
                    ink / 255.0 * texel[i]
                });
                *under = over(ink, *under);
            }
        }
    }

    fn into_image(self) -> RgbaImage {
        let bytes = self.pixels.iter().flat_map(|p| {
            let byte = |v: f32| (v * 255.0).round().clamp(0.0, 255.0) as u8;
            [byte(p[0]), byte(p[1]), byte(p[2]), 255]
        });
        RgbaImage::from_vec(self.wide as u32, self.high as u32, bytes.collect()).unwrap()
    }
}

/// Twice the area of the triangle, plus when it turns as the screen's axes do.
fn side(a: Pos2, b: Pos2, p: Pos2) -> f32 {
    (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)
}

/// Whether the points of an edge belong to the triangle to its right: those of
/// upper and left edges do.
fn belongs(from: Pos2, to: Pos2) -> bool {
    (from.y == to.y && to.x > from.x) || to.y < from.y
}
