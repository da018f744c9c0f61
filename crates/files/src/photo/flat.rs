//! The card as seen from straight above, as dark as it is against its surroundings:
//! what lines on it are looked for in.

use super::outline::BORDER;
use super::view::CardPhoto;
use super::{Picture, Tone};
use hangtrue_geometry::{Point, Vec2};
use rayon::prelude::*;

/// The side of a cell, mm.
const CELL: (f64, f64) = (0.25, 0.8);
/// The most cells, so that a large card does not fill the machine.
const MOST: f64 = 6_000_000.0;
/// Nearer to the card's edge than this no line is looked for, mm and pixels.
const MARGIN: (f64, f64) = (1.2, 2.5);
/// What is even over so much of the card is its own colour, mm.
const EVEN: f64 = 7.0;
/// Darker than this all is noise.
const DARK: f32 = 0.02;

/// How dark each cell of the card is: natural logarithms of its light, the card's
/// own taken off; NaN off the card.
pub(crate) struct Flat {
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// The side of a cell, mm.
    pub(crate) cell: f64,
    origin: Point,
    pub(crate) dark: Vec<f32>,
}

impl Flat {
    /// What lies within a closed outline of the common table.
    pub(crate) fn of(picture: &Picture, view: &CardPhoto, outline: &[Point]) -> Option<Self> {
        let first = *outline.first()?;
        let (low, high) = outline.iter().fold((first, first), |(a, b), p| {
            (Point::new(a.x.min(p.x), a.y.min(p.y)), Point::new(b.x.max(p.x), b.y.max(p.y)))
        });
        let own = view.laying.to_table.inverse() * low.midpoint(high);
        let pixel = 1.0 / view.ground.camera.scale_at(own)?;
        let area = (high.x - low.x) * (high.y - low.y);
        let cell = pixel.clamp(CELL.0, CELL.1).max((area / MOST).sqrt());
        let width = ((high.x - low.x) / cell).ceil() as usize + 1;
        let height = ((high.y - low.y) / cell).ceil() as usize + 1;
        let inside = spans(outline, (low, cell, width, height));
        let samples = (cell / pixel).round().clamp(1.0, 4.0) as usize;
        let light = |x: usize, y: usize| -> f32 {
            let mut sum = 0.0;
            for k in 0..samples * samples {
                let part = |i: usize| (i as f64 + 0.5) / samples as f64;
                let at = Point::new(
                    low.x + (x as f64 + part(k % samples)) * cell,
                    low.y + (y as f64 + part(k / samples)) * cell,
                );
                let Some(seen) = view.sees(at, BORDER) else { return f32::NAN };
                sum += picture.light_at(Tone::BRIGHTNESS, seen);
            }
            (sum / (samples * samples) as f32 + DARK).ln()
        };
        let mut dark = vec![f32::NAN; width * height];
        dark.par_chunks_mut(width).enumerate().for_each(|(y, row)| {
            for (from, to) in &inside[y] {
                for (x, cell) in row.iter_mut().enumerate().take(*to).skip(*from) {
                    *cell = light(x, y);
                }
            }
        });
        let mut flat = Self { width, height, cell, origin: low, dark };
        flat.wear(outline, MARGIN.0.max(MARGIN.1 * pixel));
        flat.level();
        Some(flat)
    }

    /// The place of the table in the middle of a cell, moved by parts of a cell.
    pub(crate) fn place(&self, x: f64, y: f64) -> Point {
        self.origin + Vec2::new(x + 0.5, y + 0.5) * self.cell
    }

    /// How dark a place of the table is; none off the card.
    pub(crate) fn at(&self, p: Point) -> Option<f64> {
        let off = (p - self.origin) / self.cell;
        let (x, y) = (off.x - 0.5, off.y - 0.5);
        let (i, k) = (x.floor(), y.floor());
        if i < 0.0 || k < 0.0 || i as usize + 1 >= self.width || k as usize + 1 >= self.height {
            return None;
        }
        let (s, t) = (x - i, y - k);
        let at = |dx: usize, dy: usize| {
            f64::from(self.dark[(k as usize + dy) * self.width + i as usize + dx])
        };
        let row = |dy: usize| at(0, dy) * (1.0 - s) + at(1, dy) * s;
        let value = row(0) * (1.0 - t) + row(1) * t;
        value.is_finite().then_some(value)
    }

    /// The cell a place lies in.
    pub(crate) fn cell_of(&self, p: Point) -> Option<usize> {
        let off = (p - self.origin) / self.cell;
        let on = off.x >= 0.0 && off.y >= 0.0;
        let (x, y) = (off.x as usize, off.y as usize);
        (on && x < self.width && y < self.height).then_some(y * self.width + x)
    }

    /// Takes away what is near the outline.
    fn wear(&mut self, outline: &[Point], margin: f64) {
        let reach = (margin / self.cell).ceil() as i64;
        for (i, a) in outline.iter().enumerate() {
            let b = outline[(i + 1) % outline.len()];
            let count = (a.distance(b) / self.cell).ceil().max(1.0) as usize;
            for k in 0..count {
                let Some(cell) = self.cell_of(a.lerp(b, k as f64 / count as f64)) else { continue };
                let (x, y) = ((cell % self.width) as i64, (cell / self.width) as i64);
                for dy in -reach..=reach {
                    for dx in -reach..=reach {
                        let (x, y) = (x + dx, y + dy);
                        let on = x >= 0 && y >= 0 && dx * dx + dy * dy <= reach * reach;
                        if on && (x as usize) < self.width && (y as usize) < self.height {
                            self.dark[y as usize * self.width + x as usize] = f32::NAN;
                        }
                    }
                }
            }
        }
    }

    /// Takes off what is even round each cell: means of squares, of what lies on the
    /// card, twice, so that a line does not draw it down.
    fn level(&mut self) {
        let half = (EVEN / self.cell).round().max(2.0) as usize;
        let first = self.means(half, None);
        let means = self.means(half, Some(&first));
        for (cell, mean) in self.dark.iter_mut().zip(means) {
            *cell = mean - *cell;
        }
    }

    /// The mean round each cell; where one is given, of what is not far off it.
    fn means(&self, half: usize, about: Option<&[f32]>) -> Vec<f32> {
        const FAR: f32 = 0.12;
        let counted = |i: usize| {
            let value = self.dark[i];
            let near = about.is_none_or(|m| (value - m[i]).abs() < FAR);
            if value.is_finite() && near { (f64::from(value), 1.0) } else { (0.0, 0.0) }
        };
        let (w, h) = (self.width, self.height);
        let mut rows = vec![(0.0f64, 0.0f64); w * h];
        rows.par_chunks_mut(w).enumerate().for_each(|(y, row)| {
            let mut sum = (0.0, 0.0);
            for x in 0..w + half {
                if x < w {
                    let more = counted(y * w + x);
                    sum = (sum.0 + more.0, sum.1 + more.1);
                }
                if x > 2 * half {
                    let less = counted(y * w + x - 2 * half - 1);
                    sum = (sum.0 - less.0, sum.1 - less.1);
                }
                if x >= half {
                    row[x - half] = sum;
                }
            }
        });
        let mut out = vec![0.0f32; w * h];
        let mut sums = vec![(0.0f64, 0.0f64); w];
        for y in 0..h + half {
            for x in 0..w {
                if y < h {
                    sums[x] = (sums[x].0 + rows[y * w + x].0, sums[x].1 + rows[y * w + x].1);
                }
                if y > 2 * half {
                    let less = rows[(y - 2 * half - 1) * w + x];
                    sums[x] = (sums[x].0 - less.0, sums[x].1 - less.1);
                }
                if y >= half {
                    let own = sums[x];
                    let here = (y - half) * w + x;
                    out[here] = if own.1 > 0.5 {
                        (own.0 / own.1) as f32
                    } else {
                        about.map_or(0.0, |m| m[here])
                    };
                }
            }
        }
        out
    }
}

/// Which cells of each row lie within a closed line.
fn spans(
    outline: &[Point],
    (low, cell, width, height): (Point, f64, usize, usize),
) -> Vec<Vec<(usize, usize)>> {
    let mut met: Vec<Vec<f64>> = vec![Vec::new(); height];
    for (i, a) in outline.iter().enumerate() {
        let b = outline[(i + 1) % outline.len()];
        let row = |y: f64| (y - low.y) / cell - 0.5;
        let (from, to) = (row(a.y.min(b.y)).ceil().max(0.0), row(a.y.max(b.y)).ceil());
        for y in from as usize..(to.max(0.0) as usize).min(height) {
            let at = low.y + (y as f64 + 0.5) * cell;
            if (a.y > at) != (b.y > at) {
                met[y].push(a.x + (b.x - a.x) * (at - a.y) / (b.y - a.y));
            }
        }
    }
    let cells = |x: f64| ((x - low.x) / cell).clamp(0.0, width as f64).round() as usize;
    met.into_iter()
        .map(|mut row| {
            row.sort_by(f64::total_cmp);
            row.chunks_exact(2).map(|pair| (cells(pair[0]), cells(pair[1]))).collect()
        })
        .collect()
}
