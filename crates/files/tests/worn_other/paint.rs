//! The photo: rays to the cloth near the lines, two lights, shadow between the legs, a
//! wall with a pattern, a soft lens, noise and the JPEG of a telephone.

use super::Dice;
use super::lens::{V, dot, unit};
use super::scene::{Drawn, Scene};
use hangtrue_adjust::reading::HangLine;
use hangtrue_files::photo::encoded;

/// Rows above and below a line, and columns beyond its ends, that are painted.
const ROWS: i64 = 30;
const BEYOND: f64 = 45.0;

/// The wall behind, mm.
const WALL: f64 = -500.0;

struct Look {
    cloth: f64,
    ink: f64,
    pen: f64,
    lamp: V,
    lamps: f64,
    wall: f64,
    stripes: (f64, f64, f64),
    seam: f64,
    shade: f64,
}

impl Look {
    fn new(dice: &mut Dice) -> Self {
        let lamp = unit([dice.between(-1.0, 1.0), dice.between(0.2, 1.2), dice.between(0.5, 1.5)]);
        let plain = dice.chance(0.4);
        let contrast = if plain { 0.0 } else { dice.between(0.05, 0.45) };
        let turn = if dice.chance(0.5) { 0.0 } else { std::f64::consts::FRAC_PI_2 };
        Self {
            cloth: dice.between(0.5, 0.85),
            ink: dice.between(0.45, 0.85),
            pen: dice.between(1.1, 1.8),
            lamp,
            lamps: dice.between(0.3, 0.7),
            wall: dice.between(0.08, 0.8),
            stripes: (contrast, dice.between(40.0, 160.0), turn),
            seam: dice.between(0.0, 0.25),
            shade: dice.between(0.3, 0.8),
        }
    }

    /// Stripes or courses of bricks.
    fn wall(&self, p: V) -> f64 {
        let (contrast, wide, turn) = self.stripes;
        let along = p[0] * turn.cos() + p[1] * turn.sin();
        let dark = (along / wide).rem_euclid(1.0) < 0.35;
        self.wall * if dark { 1.0 - contrast } else { 1.0 }
    }
}

/// Which pixels are painted: those near a line.
fn near_lines(scene: &Scene) -> Vec<bool> {
    let (width, height) = scene.lens.size;
    let mut near = vec![false; width * height];
    for drawn in &scene.lines {
        let cloth = &scene.parts[drawn.part];
        let mut places: Vec<(f64, f64)> = (-28..=188)
            .map(|i| {
                let share = f64::from(i) / 160.0;
                scene.lens.seen(cloth.place(drawn.angle(share), drawn.height(share), true))
            })
            .collect();
        places.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (first, last) = (places[0], places[places.len() - 1]);
        let beyond = [(first.0 - BEYOND, first.1), (last.0 + BEYOND, last.1)];
        places.insert(0, beyond[0]);
        places.push(beyond[1]);
        for pair in places.windows(2) {
            for x in pair[0].0.max(0.0) as i64..=pair[1].0.min(width as f64 - 1.0) as i64 {
                let y = 0.5 * (pair[0].1 + pair[1].1);
                for y in (y as i64 - ROWS).max(0)..=(y as i64 + ROWS).min(height as i64 - 1) {
                    near[y as usize * width + x as usize] = true;
                }
            }
        }
    }
    near
}

fn cloth_light(scene: &Scene, look: &Look, at: V, part: usize) -> f64 {
    let cloth = &scene.parts[part];
    let (angle, out) = cloth.facing(at);
    let lit = look.lamps * dot(out, look.lamp).max(0.0)
        + (1.0 - look.lamps) * (0.6 + 0.4 * out[1].abs().max(out[2]));
    let mut light = look.cloth * (0.25 + 0.75 * lit);
    if part < 2 {
        let gap = at[0].abs();
        let dark = if scene.touching { 0.85 } else { 0.5 };
        light *= 1.0 - look.shade * dark * (-gap / 14.0).exp();
    } else {
        light *= 1.0 - look.seam * f64::from(u8::from(at[0].abs() < 0.9));
    }
    let pixel = scene.distance / scene.lens.focal;
    let mut cover: f64 = 0.0;
    for drawn in scene.lines.iter().filter(|d| d.part == part) {
        // Each half of the seat has its own line.
        if part == 2 && (drawn.ends.1 > 0.0) != (angle > 0.0) {
            continue;
        }
        let off = at[1] - drawn.height(drawn.share(angle));
        if off.abs() < 8.0 {
            cover = cover.max(((look.pen - off.abs()) / pixel + 0.5).clamp(0.0, 1.0));
        }
    }
    light * (1.0 - look.ink * cover)
}

/// Paints it and writes it as a JPEG.
pub fn photograph(scene: &Scene, dice: &mut Dice) -> Vec<u8> {
    let look = Look::new(dice);
    let (width, height) = scene.lens.size;
    let near = near_lines(scene);
    let legs_end = scene.drawn(HangLine::Thigh, hangtrue_adjust::reading::Leg::Left);
    let mut light = vec![look.wall as f32; width * height];
    for y in 0..height {
        for x in (0..width).filter(|x| near[y * width + x]) {
            let way = scene.lens.way(x as f64 + 0.5, y as f64 + 0.5);
            let eye = scene.lens.eye;
            let hits = scene.parts.iter().enumerate().filter_map(|(i, c)| {
                // The legs end under the seat; far above or below that a part is not looked for.
                let legs_end = legs_end.side + 55.0;
                let about = eye[1] - way[1] / way[2] * eye[2] - legs_end;
                if about.abs() > 250.0 && (i < 2) == (about > 0.0) {
                    return None;
                }
                let hit = c.met(eye, way)?;
                ((i < 2) == (hit[1] < legs_end)).then_some((i, hit))
            });
            let first = hits.max_by(|a, b| a.1[2].total_cmp(&b.1[2]));
            light[y * width + x] = match first {
                Some((part, at)) => cloth_light(scene, &look, at, part),
                None => {
                    let t = (WALL - eye[2]) / way[2];
                    look.wall([0, 1, 2].map(|k| eye[k] + t * way[k]))
                }
            } as f32;
        }
    }
    let noise = dice.between(0.004, 0.02);
    let soft = softened(&light, &near, width);
    let mut pixels = Vec::with_capacity(3 * width * height);
    for i in 0..width * height {
        let speck = if near[i] { dice.normal(noise) as f32 } else { 0.0 };
        pixels.extend([1.0, 0.97, 0.9].map(|tint| encoded(tint * soft[i] + speck)));
    }
    jpeg(&pixels, (width, height), dice.count(75, 92) as u8)
}

/// A soft lens: each pixel with its neighbours, 1 2 1.
fn softened(light: &[f32], near: &[bool], width: usize) -> Vec<f32> {
    let mut soft = light.to_vec();
    for (from, step) in [(light.to_vec(), 1), (Vec::new(), width)] {
        let from = if from.is_empty() { soft.clone() } else { from };
        for i in step..light.len() - step {
            if near[i] {
                soft[i] = 0.25 * from[i - step] + 0.5 * from[i] + 0.25 * from[i + step];
            }
        }
    }
    soft
}

/// The JPEG of a telephone.
fn jpeg(pixels: &[u8], (width, height): (usize, usize), quality: u8) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, quality);
    encoder
        .encode(pixels, width as u32, height as u32, image::ExtendedColorType::Rgb8)
        .expect("its size is right");
    bytes
}

/// A line that goes on across the photo by less than this share of what it does where the
/// cloth faces the lens is out of sight.
const GONE: f64 = 0.03;

/// The line as a person sees it: places from its left to its right in the photo, where
/// it goes out of sight at the ends. Its share of the way, and the place.
pub fn in_sight(scene: &Scene, drawn: &Drawn) -> Vec<(f64, (f64, f64))> {
    let cloth = &scene.parts[drawn.part];
    let mut places: Vec<(f64, (f64, f64))> = (-28..=188)
        .map(|i| {
            let share = f64::from(i) / 160.0;
            let at = cloth.place(drawn.angle(share), drawn.height(share), true);
            (share, scene.lens.seen(at))
        })
        .collect();
    // Out of sight from where the cloth turns so far away, or is pressed against the other
    // leg, that the line hardly goes on across the photo.
    let across: Vec<f64> = places.windows(2).map(|p| (p[1].1.0 - p[0].1.0).abs()).collect();
    let widest = across.iter().copied().fold(0.0, f64::max);
    let middle = places.iter().position(|p| p.0 >= 0.5).unwrap_or(0);
    let way = (places[middle + 1].1.0 - places[middle].1.0).signum();
    let goes_on =
        |i: usize| (places[i + 1].1.0 - places[i].1.0) * way > 0.0 && across[i] > GONE * widest;
    let mut first = middle;
    // The other half of the seat has its own line from the centre on.
    let centre = |i: usize| drawn.part == 2 && places[i].0 <= 1e-9;
    while first > 0 && !centre(first) && goes_on(first - 1) {
        first -= 1;
    }
    let mut last = middle;
    while last < across.len() && goes_on(last) {
        last += 1;
    }
    let (first, last) = if way > 0.0 { (first, last) } else { (last, first) };
    places = places[first.min(last)..=first.max(last)].to_vec();
    if first > last {
        places.reverse();
    }
    places
}
