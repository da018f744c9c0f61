//! Dots as marks: the middle of a round spot, whatever its size. A place pointed at
//! on a dot's rim would else be taken for a corner there.

use super::mark::{BEST, FoundMark, MarkLook, Patch};
use crate::median::median;
use hangtrue_geometry::{Point, Vec2};

/// A spot must stand out from what lies round it by so much light, full scale 1.
const CLEAR: f64 = 0.04;
/// The least area of a dot, pixels.
const SMALLEST: usize = 12;
/// How well a spot must fill the ellipse of its own spread: a round one does, a square
/// to 0.955, a cross or a stroke far less.
const ROUND: f64 = 0.972;
const ROUND_WHEN_SAID: f64 = 0.93;
/// A round dot looks no narrower than this however the photo is tilted.
const NARROW: f64 = 0.45;

/// The middle of the dot that lies at a place, if there is one.
pub(super) fn dot(patch: &Patch, look: MarkLook, near: Point, reach: f64) -> Option<FoundMark> {
    let round = median(&mut patch.rim())?;
    let seed = patch.strongest(near, reach, round)?;
    let level = patch.value(seed)?;
    let contrast = round - level;
    if contrast.abs() < CLEAR.max(6.0 * patch.noise) {
        return None;
    }
    let share = |v: f64| (round - v) / contrast;
    let spot = patch.connected(seed, &|v| share(v) > 0.5)?;
    if spot.len() < SMALLEST {
        return None;
    }
    // The middle level of the spot itself, not its darkest pixel.
    let mut values: Vec<f64> = spot.iter().filter_map(|c| patch.value(*c)).collect();
    let contrast = round - median(&mut values)?;
    let share = |v: f64| ((round - v) / contrast).clamp(0.0, 1.0);
    let spot = patch.connected(seed, &|v| share(v) > 0.5)?;
    let (middle, spread) = moments(&spot);
    let (a, b) = (spread[0] + spread[2], spread[0] - spread[2]);
    let root = (b * b / 4.0 + spread[1] * spread[1]).sqrt();
    let (most, least) = (a / 2.0 + root, a / 2.0 - root);
    // A pixel is itself spread by a twelfth.
    let fill = spot.len() as f64 / (4.0 * std::f64::consts::PI * (most * least).max(1e-9).sqrt());
    let enough = if look == MarkLook::Dot { ROUND_WHEN_SAID } else { ROUND };
    if fill < enough || least < NARROW * NARROW * most {
        return None;
    }
    let radius = most.sqrt() * 2.0;
    let (mut sum, mut at) = (0.0, Vec2::ZERO);
    for cell in patch.around_cells(middle, radius + 3.0) {
        let Some(value) = patch.value(cell) else { continue };
        let weight = share(value);
        // What is faint is the noise of the ground.
        if weight > 0.1 {
            sum += weight;
            at += patch.middle_of(cell).to_vec2() * weight;
        }
    }
    let at = (at / sum.max(1e-9)).to_point();
    if at.distance(near) > reach.max(radius) + 1.0 {
        return None;
    }
    let sigma = BEST.hypot(patch.noise / contrast.abs());
    Some(FoundMark { at, sigma, strength: contrast * contrast })
}

/// The mean of some cells and the spread about it: xx, xy, yy.
fn moments(cells: &[(i64, i64)]) -> (Point, [f64; 3]) {
    let n = cells.len() as f64;
    let place = |c: &(i64, i64)| Vec2::new(c.0 as f64 + 0.5, c.1 as f64 + 0.5);
    let mean = cells.iter().fold(Vec2::ZERO, |a, c| a + place(c)) / n;
    let twelfth = 1.0 / 12.0;
    let mut spread = [twelfth, 0.0, twelfth];
    for cell in cells {
        let off = place(cell) - mean;
        spread[0] += off.x * off.x / n;
        spread[1] += off.x * off.y / n;
        spread[2] += off.y * off.y / n;
    }
    (mean.to_point(), spread)
}

impl Patch {
    /// The light of a pixel of the picture; none outside.
    fn value(&self, (x, y): (i64, i64)) -> Option<f64> {
        let (x, y) = (usize::try_from(x - self.left).ok()?, usize::try_from(y - self.top).ok()?);
        (x < self.side && y < self.side).then(|| self.light[y * self.side + x])
    }

    fn middle_of(&self, (x, y): (i64, i64)) -> Point {
        Point::new(x as f64 + 0.5, y as f64 + 0.5)
    }

    /// The light of the outermost pixels.
    fn rim(&self) -> Vec<f64> {
        let end = self.side - 1;
        let on = |i: &usize| {
            let (x, y) = (i % self.side, i / self.side);
            x == 0 || y == 0 || x == end || y == end
        };
        (0..self.light.len()).filter(on).map(|i| self.light[i]).collect()
    }

    /// The pixels whose middle lies within so much of a place.
    fn around_cells(&self, at: Point, reach: f64) -> Vec<(i64, i64)> {
        let half = reach.ceil() as i64 + 1;
        let (cx, cy) = (at.x.floor() as i64, at.y.floor() as i64);
        (cy - half..=cy + half)
            .flat_map(|y| (cx - half..=cx + half).map(move |x| (x, y)))
            .filter(|c| self.middle_of(*c).distance(at) <= reach)
            .collect()
    }

    /// The pixel in reach that is most unlike what lies round.
    fn strongest(&self, near: Point, reach: f64, round: f64) -> Option<(i64, i64)> {
        let off = |c: &(i64, i64)| self.value(*c).map_or(0.0, |v| (v - round).abs());
        let cells = self.around_cells(near, reach * 0.75);
        cells.into_iter().max_by(|a, b| off(a).total_cmp(&off(b)))
    }

    /// The pixels joined to one by others for which something holds; none when they run
    /// to the rim.
    fn connected(&self, seed: (i64, i64), holds: &dyn Fn(f64) -> bool) -> Option<Vec<(i64, i64)>> {
        let mut met = vec![false; self.light.len()];
        let mut all = Vec::new();
        let mut open = vec![seed];
        let last = self.side as i64 - 1;
        while let Some((x, y)) = open.pop() {
            let (i, k) = (x - self.left, y - self.top);
            if i <= 0 || k <= 0 || i >= last || k >= last {
                return None;
            }
            let index = k as usize * self.side + i as usize;
            if met[index] || !holds(self.light[index]) {
                continue;
            }
            met[index] = true;
            all.push((x, y));
            open.extend([(x + 1, y), (x - 1, y), (x, y + 1), (x, y - 1)]);
        }
        Some(all)
    }
}
