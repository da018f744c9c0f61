//! Pixels with a depth: triangles and lines are laid in, the nearest stays.

use crate::cloth::Position;

/// Red, green, blue.
pub type Colour = [u8; 3];

/// Pixels, and how near to the eye what lies in each is.
#[derive(Debug, Clone)]
pub struct Canvas {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// Red, green, blue and how dense, row by row from the top; not multiplied.
    pub rgba: Vec<u8>,
    depth: Vec<f32>,
    /// Which line drew a pixel last: a line draws none twice.
    drawn: Vec<u32>,
    lines: u32,
}

/// A corner of a triangle: where it falls, and how light it is.
#[derive(Debug, Clone, Copy)]
pub(super) struct Corner {
    /// Right and down in pixels, and mm towards the eye.
    pub at: [f64; 3],
    /// 0 dark, 1 light.
    pub light: f64,
}

impl Canvas {
    /// Nothing in it.
    pub fn new(width: usize, height: usize) -> Self {
        let count = width * height;
        let depth = vec![f32::NEG_INFINITY; count];
        Self { width, height, rgba: vec![0; 4 * count], depth, drawn: vec![0; count], lines: 0 }
    }

    fn put(&mut self, index: usize, colour: Colour, dense: f64) {
        let pixel = &mut self.rgba[4 * index..4 * index + 4];
        let under = f64::from(pixel[3]) / 255.0;
        let whole = dense + under * (1.0 - dense);
        for (old, new) in pixel.iter_mut().zip(colour) {
            let mixed = f64::from(new) * dense + f64::from(*old) * under * (1.0 - dense);
            *old = (mixed / whole.max(1e-9)).round() as u8;
        }
        pixel[3] = (255.0 * whole).round() as u8;
    }

    /// Lays a triangle in. `dense` under 1 lets what lies behind it shine through.
    pub(super) fn triangle(&mut self, corners: [Corner; 3], tone: &Tone, dense: f64) {
        let [a, b, c] = corners.map(|c| c.at);
        let whole = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
        if whole.abs() < 1e-12 || !whole.is_finite() {
            return;
        }
        let range = |k: usize, most: usize| {
            let low = a[k].min(b[k]).min(c[k]).floor().max(0.0) as usize;
            let high = a[k].max(b[k]).max(c[k]).ceil().max(0.0) as usize;
            low..high.min(most)
        };
        let (across, down) = (range(0, self.width), range(1, self.height));
        for y in down {
            for x in across.clone() {
                let p = [x as f64 + 0.5, y as f64 + 0.5];
                let share = |q: [f64; 3], r: [f64; 3]| {
                    ((q[0] - p[0]) * (r[1] - p[1]) - (r[0] - p[0]) * (q[1] - p[1])) / whole
                };
                let (s, t) = (share(b, c), share(c, a));
                let u = 1.0 - s - t;
                if s < 0.0 || t < 0.0 || u < 0.0 {
                    continue;
                }
                let depth = (s * a[2] + t * b[2] + u * c[2]) as f32;
                let index = y * self.width + x;
                if depth <= self.depth[index] {
                    continue;
                }
                self.depth[index] = depth;
                let light = s * corners[0].light + t * corners[1].light + u * corners[2].light;
                self.put(index, tone.at(light), dense);
            }
        }
    }

    /// Draws a run of places as a line so many pixels wide, where nothing lies nearer to
    /// the eye by more than `through` mm. With `dash` it is broken: so many pixels drawn,
    /// and half as many not.
    pub(super) fn run(
        &mut self,
        places: &[[f64; 3]],
        (colour, wide): (Colour, f64),
        through: f64,
        dash: Option<f64>,
    ) {
        let mut along = 0.0;
        self.lines += 1;
        for pair in places.windows(2) {
            let [a, b] = [pair[0], pair[1]];
            let long = (b[0] - a[0]).hypot(b[1] - a[1]);
            let steps = (2.0 * long).ceil().clamp(1.0, 10_000.0) as usize;
            for k in 0..=steps {
                let t = k as f64 / steps as f64;
                let here = along + t * long;
                if dash.is_some_and(|d| here % (1.5 * d) > d) {
                    continue;
                }
                let at = [0, 1, 2].map(|i| a[i] + t * (b[i] - a[i]));
                self.dot(at, (colour, wide), through);
            }
            along += long;
        }
    }

    fn dot(&mut self, at: [f64; 3], (colour, wide): (Colour, f64), through: f64) {
        let reach = 0.5 * wide;
        let range = |v: f64, most: usize| {
            let low = (v - reach).floor().max(0.0) as usize;
            let high = (v + reach).ceil().max(0.0) as usize;
            low..high.min(most)
        };
        for y in range(at[1], self.height) {
            for x in range(at[0], self.width) {
                let (dx, dy) = (x as f64 + 0.5 - at[0], y as f64 + 0.5 - at[1]);
                let index = y * self.width + x;
                let hidden = f64::from(self.depth[index]) > at[2] + through;
                if dx * dx + dy * dy <= reach * reach && !hidden && self.drawn[index] != self.lines
                {
                    self.drawn[index] = self.lines;
                    self.put(index, colour, 1.0);
                }
            }
        }
    }

    /// The picture with a pixel for each square of `by` times `by`.
    pub(super) fn coarser(&self, by: usize) -> Self {
        let mut small = Self::new(self.width / by, self.height / by);
        for y in 0..small.height {
            for x in 0..small.width {
                let mut sums = [0_u32; 4];
                for (dy, dx) in (0..by).flat_map(|dy| (0..by).map(move |dx| (dy, dx))) {
                    let index = 4 * ((y * by + dy) * self.width + x * by + dx);
                    let dense = u32::from(self.rgba[index + 3]);
                    for (sum, part) in sums.iter_mut().zip(&self.rgba[index..index + 3]) {
                        *sum += u32::from(*part) * dense;
                    }
                    sums[3] += dense;
                }
                let index = 4 * (y * small.width + x);
                for k in 0..3 {
                    small.rgba[index + k] = (sums[k] / sums[3].max(1)) as u8;
                }
                small.rgba[index + 3] = (sums[3] / (by * by) as u32) as u8;
            }
        }
        small
    }
}

/// How something looks from dark to light.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tone {
    /// In the shade, and lit.
    pub shade: Colour,
    /// Lit.
    pub lit: Colour,
}

impl Tone {
    fn at(&self, light: f64) -> Colour {
        let t = light.clamp(0.0, 1.0);
        let mut mixed = [0; 3];
        for (k, out) in mixed.iter_mut().enumerate() {
            let (dark, lit) = (f64::from(self.shade[k]), f64::from(self.lit[k]));
            *out = (dark + t * (lit - dark)).round() as u8;
        }
        mixed
    }
}

/// How light a surface is that faces so, with the eye at `near`, `right` and `up` of it:
/// one lamp high at the left, and a little light from everywhere.
pub(super) fn light(normal: &Position, [right, up, near]: &[Position; 3]) -> f64 {
    let lamp = (near * 0.62 - right * 0.62 + up * 0.48).normalize();
    // Both sides of cloth are seen: the one turned to the eye is lit.
    let facing = if normal.dot(near) < 0.0 { -normal } else { *normal };
    let lit = facing.dot(&lamp).max(0.0);
    let round = facing.dot(near).max(0.0);
    0.12 + 0.66 * lit + 0.22 * round
}
