//! Draws a settled toile from back, side and front: flat shading, z-buffer.

use hangtrue_drape::{Position, Settled};
use image::{Rgb, RgbImage};

const SCALE: f64 = 0.75;
const WIDE: u32 = 420;
const HIGH: u32 = 900;

struct Viewpoint {
    turn: f64,
    left: f64,
    depth: Vec<f64>,
}

fn spin(p: &Position, turn: f64) -> Position {
    let (s, c) = turn.sin_cos();
    Position::new(p.x * c - p.y * s, p.x * s + p.y * c, p.z)
}

impl Viewpoint {
    fn triangle(&mut self, image: &mut RgbImage, corners: [Position; 3], base: [f64; 3]) {
        let p = corners.map(|c| spin(&c, self.turn));
        let n = (p[1] - p[0]).cross(&(p[2] - p[0])).normalize();
        // Seen along +y from in front of the picture (−y towards the eye).
        let light = Position::new(-0.4, -0.75, 0.5).normalize();
        let shade = 0.35 + 0.65 * n.dot(&light).abs();
        let q = p.map(|c| {
            (self.left + f64::from(WIDE) / 2.0 + c.x * SCALE, f64::from(HIGH) - 30.0 - c.z * SCALE)
        });
        let low = |f: fn(&(f64, f64)) -> f64| {
            q.iter().map(f).fold(f64::INFINITY, f64::min).floor().max(0.0) as u32
        };
        let high = |f: fn(&(f64, f64)) -> f64| q.iter().map(f).fold(0.0, f64::max).ceil() as u32;
        let area = (q[1].0 - q[0].0) * (q[2].1 - q[0].1) - (q[2].0 - q[0].0) * (q[1].1 - q[0].1);
        for y in low(|p| p.1)..=high(|p| p.1).min(HIGH - 1) {
            for x in low(|p| p.0)..=high(|p| p.0).min(3 * WIDE - 1) {
                let (fx, fy) = (f64::from(x) + 0.5, f64::from(y) + 0.5);
                let s = |a: usize, b: usize| {
                    ((q[b].0 - q[a].0) * (fy - q[a].1) - (fx - q[a].0) * (q[b].1 - q[a].1)) / area
                };
                let (w0, w1, w2) = (s(1, 2), s(2, 0), s(0, 1));
                if w0 < 0.0 || w1 < 0.0 || w2 < 0.0 {
                    continue;
                }
                let d = w0 * p[0].y + w1 * p[1].y + w2 * p[2].y;
                let at = (y * 3 * WIDE + x) as usize;
                if d < self.depth[at] {
                    self.depth[at] = d;
                    image.put_pixel(x, y, Rgb(base.map(|c| (c * shade) as u8)));
                }
            }
        }
    }

    fn line(&mut self, image: &mut RgbImage, a: Position, b: Position, colour: [u8; 3]) {
        for k in 0..=60 {
            let p = spin(&(a + (b - a) * (f64::from(k) / 60.0)), self.turn);
            let x = (self.left + f64::from(WIDE) / 2.0 + p.x * SCALE) as i64;
            let y = (f64::from(HIGH) - 30.0 - p.z * SCALE) as i64;
            for (dx, dy) in [(0, 0), (0, 1)] {
                let (x, y) = (x + dx, y + dy);
                if x < 0 || y < 0 || x >= i64::from(3 * WIDE) || y >= i64::from(HIGH) {
                    continue;
                }
                let at = (y * i64::from(3 * WIDE) + x) as usize;
                if p.y - 6.0 < self.depth[at] {
                    image.put_pixel(x as u32, y as u32, Rgb(colour));
                }
            }
        }
    }
}

pub fn draw(told: &Settled, lines: &[(String, Vec<Position>)], out: &str) {
    let mut image = RgbImage::from_pixel(3 * WIDE, HIGH, Rgb([248, 246, 240]));
    let pi = std::f64::consts::PI;
    for (k, turn) in [(0.0, 0.0), (1.0, -pi / 2.0), (2.0, pi)] {
        let mut view = Viewpoint {
            turn,
            left: k * f64::from(WIDE),
            depth: vec![f64::INFINITY; (3 * WIDE * HIGH) as usize],
        };
        for mirror in [1.0, -1.0] {
            let turn_over = |p: &Position| Position::new(p.x * mirror, p.y, p.z);
            for t in &told.first.sewn.cloth.triangles {
                let c = t.map(|v| turn_over(&told.first.places[v]));
                view.triangle(&mut image, c, [225.0, 215.0, 190.0]);
            }
            // The body below the hem and above the waist, on a coarse net.
            let shape = &told.body.shape;
            for z in (0..110).map(|k| f64::from(k) * 10.0) {
                let m = (shape.leg.x.at(z), shape.leg.y.at(z));
                if z > told.body.waist + 30.0 {
                    break;
                }
                let (a, b) = (
                    hangtrue_drape::body::tape::section(shape, m, z),
                    hangtrue_drape::body::tape::section(shape, m, z + 10.0),
                );
                for i in 0..a.len() {
                    let j = (i + 1) % a.len();
                    let p = |v: &nalgebra::Vector2<f64>, z: f64| {
                        turn_over(&Position::new(v.x.max(0.0), v.y, z))
                    };
                    view.triangle(
                        &mut image,
                        [p(&a[i], z), p(&a[j], z), p(&b[i], z + 10.0)],
                        [200.0, 150.0, 130.0],
                    );
                    view.triangle(
                        &mut image,
                        [p(&a[j], z), p(&b[j], z + 10.0), p(&b[i], z + 10.0)],
                        [200.0, 150.0, 130.0],
                    );
                }
            }
            for (_, line) in lines {
                for w in line.windows(2) {
                    view.line(&mut image, turn_over(&w[0]), turn_over(&w[1]), [200, 30, 30]);
                    let level = |p: &Position| {
                        Position::new(p.x, p.y, line[0].z.max(line[line.len() - 1].z))
                    };
                    let _ = level;
                }
            }
        }
    }
    image.save(out).unwrap();
}
