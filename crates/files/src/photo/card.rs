//! The card told from the table.
//!
//! On a small copy of the picture the light of the bare table is a surface (a
//! polynomial of second degree, fitted to the border and then to all of the
//! table), and so is that of the card; a pixel belongs to the nearer. Uneven
//! light bends both surfaces alike. Thin lines of a cutting mat are taken off by
//! opening the shape; the edge itself is found later, in the full picture.

use super::edge::softened;
use super::{Picture, Tone};
use crate::median::median;
use hangtrue_geometry::Point;
use nalgebra::{Matrix3, SMatrix, SVector, Vector3};
use std::collections::VecDeque;

/// The longest side of the small copy, pixels.
const SMALL: usize = 720;
/// The card must stand out from the table by this many times the unevenness.
const CLEAR: f64 = 2.5;
/// Opening: lines up to twice this wide are no card, pixels of the small copy.
const OPEN: usize = 3;
/// The smallest and the largest share of the picture a card may take.
const SHARE: (f64, f64) = (0.01, 0.97);
/// The ground as far from the card as this is what its edge is seen against,
/// pixels of the small copy.
const NEAR: usize = 8;
/// How much of the noise's variance is left in an edge smoothed along its length.
const NOISE_LEFT: f64 = 0.25;
/// Rounds of fitting the two surfaces.
const ROUNDS: usize = 5;

/// The card as first seen.
#[derive(Debug, Clone)]
pub(crate) struct RoughCard {
    /// The outline in pixels of the full picture, closed, card to the left on
    /// the screen.
    pub(crate) ring: Vec<Point>,
    /// Whether the card is lighter than the table in the tone.
    pub(crate) lighter: bool,
    /// The colours in which it stands out.
    pub(crate) tone: Tone,
    /// How far the outline may be off, pixels of the full picture.
    pub(crate) within: f64,
}

/// Finds the card that lies under a place of the picture.
///
/// # Errors
/// Says in words why there is none, with the ring of what was found, if any.
pub(crate) fn find_card(
    picture: &Picture,
    inside: Point,
) -> Result<RoughCard, (&'static str, Vec<Point>)> {
    if !picture.holds(inside, 0.0) {
        return Err(("the place you gave on the card lies outside the picture", Vec::new()));
    }
    let (small, by) = picture.reduced(SMALL);
    let seed = ((inside.x / by as f64) as usize, (inside.y / by as f64) as usize);
    let seed = (seed.0.min(small.width() - 1), seed.1.min(small.height() - 1));
    let (tone, field) = clearest(&small, seed).ok_or(
        ("the card cannot be told from the table; lay it on a ground that is clearly darker or lighter, or place the points by hand", Vec::new()),
    )?;
    let (mask, lighter) = card_mask(&field, seed).ok_or(
        ("the card cannot be told from the table here; point at the middle of the card, or place the points by hand", Vec::new()),
    )?;
    let tone = for_the_edge(picture, (&small, by), &mask, tone);
    let lighter = lighter_in(&small, &mask, tone).unwrap_or(lighter);
    let share = mask.on.iter().filter(|on| **on).count() as f64 / mask.on.len() as f64;
    let ring = mask.ring().unwrap_or_default();
    let ring: Vec<Point> = softened(&ring, true, 2)
        .into_iter()
        .map(|p| (p.to_vec2() * by as f64).to_point())
        .collect();
    if !(SHARE.0..=SHARE.1).contains(&share) {
        return Err((
            "what was found there is far too small or as large as the picture; point at the middle of the card, or place the points by hand",
            ring,
        ));
    }
    if ring.is_empty() {
        return Err(("no outline could be followed; place the points by hand", ring));
    }
    Ok(RoughCard { ring, lighter, tone, within: 2.5 * by as f64 })
}

/// The light of one tone on the small copy.
struct Field {
    width: usize,
    height: usize,
    light: Vec<f64>,
}

impl Field {
    fn of(picture: &Picture, tone: Tone) -> Self {
        let (width, height) = (picture.width(), picture.height());
        let at = |i: usize| f64::from(picture.light(tone, (i % width) as i64, (i / width) as i64));
        Self { width, height, light: (0..width * height).map(at).collect() }
    }

    /// A pixel's place from −1 to 1 each way.
    fn place(&self, i: usize) -> (f64, f64) {
        let x = (i % self.width) as f64 / self.width as f64 * 2.0 - 1.0;
        let y = (i / self.width) as f64 / self.height as f64 * 2.0 - 1.0;
        (x, y)
    }

    fn border(&self) -> Vec<usize> {
        let deep = (self.width.min(self.height) / 40).max(2);
        let on = |i: &usize| {
            let (x, y) = (i % self.width, i / self.width);
            x < deep || y < deep || x + deep >= self.width || y + deep >= self.height
        };
        (0..self.light.len()).filter(on).collect()
    }

    fn patch(&self, seed: (usize, usize)) -> Vec<usize> {
        let half = (self.width.min(self.height) / 60).max(2);
        let span = |c: usize, end: usize| c.saturating_sub(half)..=(c + half).min(end - 1);
        span(seed.1, self.height)
            .flat_map(|y| span(seed.0, self.width).map(move |x| (x, y)))
            .map(|(x, y)| y * self.width + x)
            .collect()
    }
}

/// A surface of light: a polynomial of second degree.
#[derive(Clone, Copy)]
struct Surface(SVector<f64, 6>);

impl Surface {
    fn row((x, y): (f64, f64)) -> SVector<f64, 6> {
        SVector::from([1.0, x, y, x * x, x * y, y * y])
    }

    fn at(&self, place: (f64, f64)) -> f64 {
        self.0.dot(&Self::row(place))
    }

    /// Fitted to the pixels, those that stick out given little weight; also
    /// gives the spread of the rest.
    fn fit(field: &Field, pixels: &[usize]) -> Option<(Self, f64)> {
        let step = (pixels.len() / 20_000).max(1);
        let sample: Vec<usize> = pixels.iter().copied().step_by(step).collect();
        let mut surface: Option<Self> = None;
        let mut spread = 0.0;
        for _ in 0..6 {
            let mut a = SMatrix::<f64, 6, 6>::identity() * 1e-6;
            let mut b = SVector::<f64, 6>::zeros();
            for &i in &sample {
                let row = Self::row(field.place(i));
                let off = surface.map_or(0.0, |s| field.light[i] - s.at(field.place(i)));
                let weight = if spread > 0.0 { weight(off / spread) } else { 1.0 };
                a += row * row.transpose() * weight;
                b += row * (field.light[i] * weight);
            }
            let fitted = Self(a.cholesky()?.solve(&b));
            let mut off: Vec<f64> = sample
                .iter()
                .map(|&i| (field.light[i] - fitted.at(field.place(i))).abs())
                .collect();
            spread = 1.4826 * median(&mut off)?;
            spread = spread.max(1e-4);
            surface = Some(fitted);
        }
        Some((surface?, spread))
    }
}

/// The weight of a value that lies so many spreads off (Tukey's biweight, memory).
fn weight(off: f64) -> f64 {
    const OUT: f64 = 4.0;
    let part = 1.0 - (off / OUT).powi(2);
    if part > 0.0 { part * part } else { 0.0 }
}

/// The tone in which the card stands out most; brightness unless a colour is
/// much clearer.
fn clearest(small: &Picture, seed: (usize, usize)) -> Option<(Tone, Field)> {
    let tones = [
        (Tone::BRIGHTNESS, 1.5),
        (Tone([1.0, 0.0, 0.0]), 1.0),
        (Tone([0.0, 1.0, 0.0]), 1.0),
        (Tone([0.0, 0.0, 1.0]), 1.0),
    ];
    let mut best: Option<(f64, Tone, Field)> = None;
    for (tone, favour) in tones {
        let field = Field::of(small, tone);
        let (table, rough) = Surface::fit(&field, &field.border())?;
        let mut patch: Vec<f64> = field.patch(seed).iter().map(|&i| field.light[i]).collect();
        let card = median(&mut patch)?;
        let mut off: Vec<f64> = patch.iter().map(|v| (v - card).abs()).collect();
        let grain = 1.4826 * median(&mut off)?;
        let at_seed = table.at(field.place(seed.1 * field.width + seed.0));
        let clear = (card - at_seed).abs() / rough.hypot(grain).max(2e-3);
        if clear >= CLEAR && best.as_ref().is_none_or(|b| clear * favour > b.0) {
            best = Some((clear * favour, tone, field));
        }
    }
    best.map(|(_, tone, field)| (tone, field))
}

/// The mix of colours in which the card stands out most from all that lies round
/// it: in some the lines of a mat are as dark as the mat. Brightness unless
/// another is much clearer. The clearest is in closed form: the step from table to
/// card divided by the unrest of the table (Fisher's discriminant 1936, memory).
fn for_the_edge(
    picture: &Picture,
    (small, by): (&Picture, usize),
    mask: &Mask,
    first: Tone,
) -> Tone {
    /// How much clearer another mix has to be.
    const CLEARER: f64 = 1.3;
    let (inner, outer, near) = (mask.worn(3), mask.grown(3), mask.grown(NEAR));
    let sample = |keep: &dyn Fn(usize) -> bool| -> Vec<usize> {
        let all: Vec<usize> = (0..mask.on.len()).filter(|&i| keep(i)).collect();
        let step = (all.len() / 4000).max(1);
        all.into_iter().step_by(step).collect()
    };
    let colours = |of: &[usize]| -> Vec<Vector3<f64>> {
        let colour = |i: &usize| {
            let (x, y) = ((i % mask.width) as i64, (i / mask.width) as i64);
            let one = |k: usize| {
                let mut pure = [0.0; 3];
                pure[k] = 1.0;
                f64::from(small.light(Tone(pure), x, y))
            };
            Vector3::new(one(0), one(1), one(2))
        };
        of.iter().map(colour).collect()
    };
    let (on_card, on_ground) = (sample(&|i| inner.on[i]), sample(&|i| near.on[i] && !outer.on[i]));
    let full = |of: &[usize]| -> Vec<(i64, i64)> {
        of.iter().map(|i| ((i % mask.width * by) as i64, (i / mask.width * by) as i64)).collect()
    };
    let (a, b) = (noise(picture, &full(&on_card)), noise(picture, &full(&on_ground)));
    let noise = (a + b) / 2.0 * NOISE_LEFT;
    let (card, ground) = (colours(&on_card), colours(&on_ground));
    if card.len() < 30 || ground.len() < 30 {
        return first;
    }
    let (there, here) = (mean(&card), mean(&ground));
    let step = there - here;
    let mut unrest = Matrix3::from_diagonal(&noise);
    for colour in &ground {
        let off = colour - here;
        unrest += off * off.transpose() / ground.len() as f64;
    }
    let clear = |tone: &Vector3<f64>| tone.dot(&step).abs() / (tone.dot(&(unrest * tone))).sqrt();
    let Some(best) = unrest.cholesky().map(|u| u.solve(&step)) else { return first };
    let plain = Vector3::from(first.0.map(f64::from));
    // The strongest colour whole, so that what counts as faint stays the same.
    let most = best.amax();
    if clear(&best) > CLEARER * clear(&plain) && most > 0.0 {
        let [r, g, b]: [f64; 3] = (best / most).into();
        Tone([r as f32, g as f32, b as f32])
    } else {
        first
    }
}

fn mean(colours: &[Vector3<f64>]) -> Vector3<f64> {
    colours.iter().sum::<Vector3<f64>>() / colours.len().max(1) as f64
}

/// The variance of the three colours from pixel to pixel: mixed second differences
/// do not see light that changes evenly, and the middle one does not see the lines.
fn noise(picture: &Picture, at: &[(i64, i64)]) -> Vector3<f64> {
    /// No picture has less, full scale 1.
    const LEAST: f64 = 1e-3;
    Vector3::from_fn(|k, _| {
        let mut pure = [0.0; 3];
        pure[k] = 1.0;
        let light = |x, y| f64::from(picture.light(Tone(pure), x, y));
        let mixed = |&(x, y): &(i64, i64)| {
            (light(x, y) - light(x + 1, y) - light(x, y + 1) + light(x + 1, y + 1)).abs() / 2.0
        };
        let mut sizes: Vec<f64> = at.iter().map(mixed).collect();
        // 1.4826: the standard deviation of a normal spread by its median size.
        (1.4826 * median(&mut sizes).unwrap_or(0.0)).max(LEAST).powi(2)
    })
}

/// Whether the card is lighter than the ground round it in a tone.
fn lighter_in(small: &Picture, mask: &Mask, tone: Tone) -> Option<bool> {
    let (inner, outer, near) = (mask.worn(3), mask.grown(3), mask.grown(NEAR));
    let middle = |keep: &dyn Fn(usize) -> bool| {
        let light = |i: usize| {
            f64::from(small.light(tone, (i % mask.width) as i64, (i / mask.width) as i64))
        };
        let mut all: Vec<f64> =
            (0..mask.on.len()).filter(|&i| keep(i)).step_by(5).map(light).collect();
        median(&mut all)
    };
    Some(middle(&|i| inner.on[i])? > middle(&|i| near.on[i] && !outer.on[i])?)
}

/// The shape of the card: every pixel nearer to the card's surface than to the
/// table's, opened, the part under the seed, its holes filled.
fn card_mask(field: &Field, seed: (usize, usize)) -> Option<(Mask, bool)> {
    let at_seed = seed.1 * field.width + seed.0;
    let (mut table, _) = Surface::fit(field, &field.border())?;
    let mut patch: Vec<f64> = field.patch(seed).iter().map(|&i| field.light[i]).collect();
    let here = median(&mut patch)?;
    let there = table.at(field.place(at_seed));
    // Light falls on card and table alike, so the card's surface is first taken
    // to be the table's, times what the card is brighter.
    let mut card = if there > 0.01 {
        Surface(table.0 * (here / there))
    } else {
        Surface(SVector::from([here, 0.0, 0.0, 0.0, 0.0, 0.0]))
    };
    let lighter = here > there;
    let mut mask = None;
    for _ in 0..ROUNDS {
        let on = (0..field.light.len()).map(|i| {
            let place = field.place(i);
            let half = (table.at(place) + card.at(place)) / 2.0;
            (field.light[i] > half) == lighter
        });
        let raw = Mask { width: field.width, height: field.height, on: on.collect() };
        let shape = raw.opened(OPEN).part_at(seed)?.filled();
        let inner = shape.worn(3);
        let pixels: Vec<usize> = (0..inner.on.len()).filter(|&i| inner.on[i]).collect();
        let outer = shape.grown(3);
        let ground: Vec<usize> = (0..outer.on.len()).filter(|&i| !outer.on[i]).collect();
        if pixels.len() < 100 || ground.len() < 100 {
            return None;
        }
        card = Surface::fit(field, &pixels)?.0;
        table = Surface::fit(field, &ground)?.0;
        mask = Some(shape);
    }
    mask.map(|m| (m, lighter))
}

/// A black and white picture.
#[derive(Clone)]
struct Mask {
    width: usize,
    height: usize,
    on: Vec<bool>,
}

impl Mask {
    fn get(&self, x: i64, y: i64) -> bool {
        (0..self.width as i64).contains(&x)
            && (0..self.height as i64).contains(&y)
            && self.on[y as usize * self.width + x as usize]
    }

    /// Every pixel that has a pixel `on` within a square of `by` around it; a
    /// row and then a column at a time.
    fn spread(&self, by: usize, on: bool) -> Vec<bool> {
        let pass = |from: &[bool], across: bool| -> Vec<bool> {
            let (w, h) = (self.width, self.height);
            let (lines, length) = if across { (h, w) } else { (w, h) };
            let index = |line: usize, k: usize| if across { line * w + k } else { k * w + line };
            let mut to = vec![false; from.len()];
            for line in 0..lines {
                // How far back the last wanted pixel lies.
                let mut since = usize::MAX;
                let mut ahead = vec![usize::MAX; length];
                for k in (0..length).rev() {
                    let next = ahead.get(k + 1).copied().unwrap_or(usize::MAX);
                    ahead[k] = if from[index(line, k)] { 0 } else { next.saturating_add(1) };
                }
                for k in 0..length {
                    since = if from[index(line, k)] {
                        0
                    } else {
                        since.saturating_add(usize::from(k > 0))
                    };
                    to[index(line, k)] = since <= by || ahead[k] <= by;
                }
            }
            to
        };
        let wanted: Vec<bool> = self.on.iter().map(|v| *v == on).collect();
        pass(&pass(&wanted, true), false)
    }

    fn grown(&self, by: usize) -> Self {
        Self { on: self.spread(by, true), ..*self }
    }

    /// Beyond the picture the card is taken to go on.
    fn worn(&self, by: usize) -> Self {
        let off = self.spread(by, false);
        Self { on: off.into_iter().map(|v| !v).collect(), ..*self }
    }

    fn opened(&self, by: usize) -> Self {
        self.worn(by).grown(by)
    }

    /// The connected part that holds the seed, or the part nearest to it.
    fn part_at(&self, seed: (usize, usize)) -> Option<Self> {
        let seed = seed.1 * self.width + seed.0;
        if !self.on[seed] {
            return None;
        }
        Some(self.flood(std::iter::once(seed), true))
    }

    /// All pixels of one kind joined to the given ones, edge to edge.
    fn flood(&self, from: impl Iterator<Item = usize>, kind: bool) -> Self {
        let mut on = vec![false; self.on.len()];
        let mut queue: VecDeque<usize> = VecDeque::new();
        for i in from {
            if self.on[i] == kind && !on[i] {
                on[i] = true;
                queue.push_back(i);
            }
        }
        while let Some(i) = queue.pop_front() {
            let (x, y) = (i % self.width, i / self.width);
            let mut visit = |ok: bool, j: usize| {
                if ok && self.on[j] == kind && !on[j] {
                    on[j] = true;
                    queue.push_back(j);
                }
            };
            visit(x > 0, i.wrapping_sub(1));
            visit(x + 1 < self.width, i + 1);
            visit(y > 0, i.wrapping_sub(self.width));
            visit(y + 1 < self.height, i + self.width);
        }
        Self { on, ..*self }
    }

    /// The shape without holes: all that the outside cannot reach.
    fn filled(&self) -> Self {
        let (w, h) = (self.width, self.height);
        let border = (0..w * h).filter(|i| {
            let (x, y) = (i % w, i / w);
            x == 0 || y == 0 || x + 1 == w || y + 1 == h
        });
        let outside = self.flood(border, false);
        Self { on: outside.on.into_iter().map(|v| !v).collect(), ..*self }
    }

    /// The outline along the cracks between pixels, shape to the left on the
    /// screen.
    fn ring(&self) -> Option<Vec<Point>> {
        let first = self.on.iter().position(|v| *v)?;
        let start = ((first % self.width) as i64 + 1, (first / self.width) as i64);
        let (mut at, mut go) = (start, (-1i64, 0i64));
        let begun = go;
        let mut ring = Vec::new();
        // A ring is no longer than four cracks a pixel.
        for _ in 0..4 * self.on.len() {
            ring.push(Point::new(at.0 as f64, at.1 as f64));
            at = (at.0 + go.0, at.1 + go.1);
            // The pixels ahead, to the left and to the right of travel.
            let left = (go.1, -go.0);
            let ahead = |side: (i64, i64)| {
                let x = (2 * at.0 + go.0 + side.0 - 1).div_euclid(2);
                let y = (2 * at.1 + go.1 + side.1 - 1).div_euclid(2);
                self.get(x, y)
            };
            let (on_left, on_right) = (ahead(left), ahead((-left.0, -left.1)));
            if !on_left {
                go = left;
            } else if on_right {
                go = (-left.0, -left.1);
            }
            if at == start && go == begun {
                return (ring.len() >= 8).then_some(ring);
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mask(rows: &[&str]) -> Mask {
        let on = rows.iter().flat_map(|r| r.chars().map(|c| c == '#')).collect();
        Mask { width: rows[0].len(), height: rows.len(), on }
    }

    #[test]
    fn a_ring_runs_round_the_shape_with_the_shape_to_its_left() {
        let shape = mask(&["......", ".###..", ".####.", "......"]);
        let ring = shape.ring().unwrap();
        assert_eq!(ring.len(), 12);
        // On the screen (y down) a shape to the left is walked counter-clockwise:
        // the shoelace sum of y-down coordinates is negative.
        let n = ring.len();
        let twice: f64 = (0..n).map(|i| ring[i].to_vec2().cross(ring[(i + 1) % n].to_vec2())).sum();
        assert_eq!(twice, -2.0 * 7.0);
    }

    #[test]
    fn opening_takes_off_a_thin_line_and_filling_closes_a_hole() {
        let shape = mask(&[
            "...........",
            ".#####.....",
            ".#####.....",
            ".##.###....",
            ".##########",
            ".#####.....",
            "...........",
        ]);
        let filled = shape.filled();
        assert!(filled.get(3, 3) && !filled.get(0, 0));
        let opened = filled.opened(1);
        assert!(!opened.get(9, 4) && opened.get(3, 3) && opened.get(1, 1));
    }
}
