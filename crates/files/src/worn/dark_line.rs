//! Snapping a clicked line to the dark line drawn on the cloth.

use crate::median::median;
use crate::photo::{Picture, Tone};
use hangtrue_geometry::Point;

/// A line followed in a picture.
#[derive(Debug, Clone, PartialEq)]
pub struct DarkLine {
    /// Places along its middle, pixels, in the order of the clicks.
    pub points: Vec<Point>,
    /// How sure a place is: one standard deviation, pixels.
    pub sigma: f64,
}

/// Places are looked for every so many pixels across: close, because near its edge
/// a body turns away within few pixels.
const STEP: f64 = 1.0;

/// A profile is read at every such part of a pixel.
const FINE: f64 = 0.5;

/// What a jump of one fine step from one place to the next costs, in contrasts.
const JUMP: f32 = 0.004;

/// A dip less than so many times the picture's noise is no drawn line.
const SEEN: f32 = 4.0;

/// A dip of less than this share of the usual one is not the line.
const CLEAR: f32 = 0.4;

/// At most so far do two neighbouring places lie apart, fine steps.
const REACH: usize = 6;

/// No middle is believed surer than this, pixels.
const SUREST: f64 = 0.1;

/// The middle of the dark line near the clicks, within `reach` pixels above and
/// below them and about `thick` pixels thick; none where no drawn line shows. The
/// lines that are read run across the picture, so it is looked for straight up
/// and down; the places along are chosen together, so that a speck or a fold
/// does not draw one aside.
pub fn follow_dark_line(
    picture: &Picture,
    clicks: &[Point],
    reach: f64,
    thick: f64,
) -> Option<DarkLine> {
    let base = even_across(clicks)?;
    let half = (reach / FINE).ceil() as usize;
    let dips: Vec<Vec<f32>> =
        base.iter().map(|p| dip_profile(picture, *p, half, thick.max(1.0))).collect();
    let chosen = best_way(&near_base(&dips, half))?;
    let middle = |mut dips: Vec<f64>| median(&mut dips).unwrap_or(0.0) as f32;
    let depth = middle(chosen.iter().zip(&dips).map(|(i, d)| f64::from(d[*i])).collect());
    let noise = middle(dips.iter().flatten().map(|d| f64::from(d.abs())).collect());
    if depth <= SEEN * noise.max(1e-4) {
        return None;
    }
    let seen = |k: usize| dips[k][chosen[k]] >= CLEAR * depth;
    let middle = |k: usize| {
        let offset = (peak(&dips[k], chosen[k]) - half as f64) * FINE;
        Point::new(base[k].x, base[k].y + offset)
    };
    let mut points: Vec<Point> = (0..base.len()).filter(|k| seen(*k)).map(middle).collect();
    let sigma = unevenness(&points).max(SUREST);
    // Where the cloth turns out of sight the line is too thin to be seen, or the
    // click lies beside the body: the ends stand as they were clicked.
    if points.len() < 4 {
        return None;
    }
    if !seen(0) {
        points.insert(0, base[0]);
    }
    if !seen(base.len() - 1) {
        points.push(base[base.len() - 1]);
    }
    Some(DarkLine { points, sigma })
}

/// At the limit of where the line is looked for, a dip must be deeper by this share of the
/// usual one: a person who clicks along a line is not that far off everywhere.
const PULL: f32 = 0.5;

/// The profiles, each place less for lying far from where the clicks put the line.
fn near_base(dips: &[Vec<f32>], half: usize) -> Vec<Vec<f32>> {
    let deepest = |d: &Vec<f32>| f64::from(d.iter().copied().fold(0.0, f32::max));
    let usual = median(&mut dips.iter().map(deepest).collect::<Vec<f64>>()).unwrap_or(0.0) as f32;
    let less = |i: usize| PULL * usual * ((i as f32 - half as f32) / half as f32).powi(2);
    dips.iter().map(|d| d.iter().enumerate().map(|(i, dip)| dip - less(i)).collect()).collect()
}

/// Places every [`STEP`] across on the way between the clicks. None when the clicks do not
/// go one way across.
///
/// A body turns away towards its edges, so a line that hangs in a bow falls ever more
/// steeply there in the photo. Along the cloth it does not: the way is therefore drawn
/// smoothly over how far round a round body a place would lie, not over how far across.
fn even_across(clicks: &[Point]) -> Option<Vec<Point>> {
    let (first, last) = (clicks.first()?, clicks.last()?);
    let way = (last.x - first.x).signum();
    if clicks.len() < 2 || clicks.windows(2).any(|p| (p[1].x - p[0].x) * way <= 0.0) {
        return None;
    }
    let across = last.x - first.x;
    let round = |x: f64| (1.0 - 2.0 * (x - first.x) / across).clamp(-1.0, 1.0).acos();
    let places: Vec<(f64, f64)> = clicks.iter().map(|p| (round(p.x), p.y)).collect();
    let slope = |i: usize| {
        let (a, b) = (places[i.saturating_sub(1)], places[(i + 1).min(places.len() - 1)]);
        let between = |a: (f64, f64), b: (f64, f64)| (b.1 - a.1) / (b.0 - a.0).max(1e-9);
        if i == 0 || i + 1 == places.len() {
            return between(a, b);
        }
        // The slope of the parabola through the place and its two neighbours.
        let here = places[i];
        let (before, after) = (here.0 - a.0, b.0 - here.0);
        (between(a, here) * after + between(here, b) * before) / (before + after)
    };
    let at = |x: f64| {
        let here = round(x);
        let next = places.partition_point(|p| p.0 < here).clamp(1, places.len() - 1);
        let (a, b) = (places[next - 1], places[next]);
        let long = (b.0 - a.0).max(1e-9);
        let t = (here - a.0) / long;
        // A cubic with the places' slopes (Hermite).
        let y = a.1 * (1.0 + 2.0 * t) * (1.0 - t).powi(2)
            + b.1 * t * t * (3.0 - 2.0 * t)
            + long * (slope(next - 1) * t * (1.0 - t).powi(2) - slope(next) * t * t * (1.0 - t));
        Point::new(x, y)
    };
    let count = ((last.x - first.x).abs() / STEP).ceil().max(2.0) as usize;
    Some((0..=count).map(|i| at(first.x + across * i as f64 / count as f64)).collect())
}

/// How much darker than its surroundings each height is, as light.
fn dip_profile(picture: &Picture, at: Point, half: usize, thick: f64) -> Vec<f32> {
    // Within half the thickness is the line; as much beyond is the cloth beside it.
    let inner = (thick / 2.0 / FINE).round().max(1.0) as i64;
    let outer = 2 * inner + 2;
    let margin = outer as usize;
    let light: Vec<f32> = (0..=2 * (half + margin))
        .map(|i| {
            let y = at.y + (i as f64 - (half + margin) as f64) * FINE;
            picture.light_at(Tone::BRIGHTNESS, Point::new(at.x, y))
        })
        .collect();
    let mean = |from: i64, to: i64| {
        let part = &light[from as usize..=to as usize];
        part.iter().sum::<f32>() / part.len() as f32
    };
    (0..=2 * half)
        .map(|i| {
            let c = (i + margin) as i64;
            let beside = (mean(c - outer, c - inner - 1) + mean(c + inner + 1, c + outer)) / 2.0;
            beside - mean(c - inner, c + inner)
        })
        .collect()
}

/// The way through the profiles that is darkest and jumps least: dynamic
/// programming over all heights.
fn best_way(dips: &[Vec<f32>]) -> Option<Vec<usize>> {
    let heights = dips.first()?.len();
    let mut best = dips[0].clone();
    let mut from: Vec<Vec<usize>> = Vec::with_capacity(dips.len());
    for dip in &dips[1..] {
        let mut next = vec![f32::NEG_INFINITY; heights];
        let mut came = vec![0; heights];
        for (i, value) in next.iter_mut().enumerate() {
            let low = i.saturating_sub(REACH);
            for (j, so_far) in best[low..(i + REACH + 1).min(heights)].iter().enumerate() {
                let from = low + j;
                let jump = (i as f32 - from as f32).powi(2) * JUMP;
                if so_far - jump > *value {
                    (*value, came[i]) = (so_far - jump, from);
                }
            }
            *value += dip[i];
        }
        from.push(came);
        best = next;
    }
    let mut at = (0..heights).max_by(|a, b| best[*a].total_cmp(&best[*b]))?;
    let mut way = vec![at];
    for came in from.iter().rev() {
        at = came[at];
        way.push(at);
    }
    way.reverse();
    Some(way)
}

/// The middle of the dip about a height: its centre of darkness above half depth.
fn peak(dip: &[f32], at: usize) -> f64 {
    // The way may lie a step beside the very darkest.
    let near = at.saturating_sub(3)..(at + 4).min(dip.len());
    let top = near.max_by(|a, b| dip[*a].total_cmp(&dip[*b])).unwrap_or(at);
    let floor = dip[top] / 2.0;
    let (mut low, mut high) = (top, top);
    while low > 0 && dip[low - 1] > floor {
        low -= 1;
    }
    while high + 1 < dip.len() && dip[high + 1] > floor {
        high += 1;
    }
    let (mut sum, mut moment) = (0.0, 0.0);
    for (i, depth) in dip.iter().enumerate().take(high + 1).skip(low) {
        let weight = f64::from(depth - floor);
        sum += weight;
        moment += weight * i as f64;
    }
    if sum > 0.0 { moment / sum } else { top as f64 }
}

/// How unevenly places follow each other: the scatter about the straight between
/// the two neighbours, robustly; √(3/2) is the scatter of that difference for
/// places with a scatter of 1, and 0.6745 the middle of a normal one.
fn unevenness(points: &[Point]) -> f64 {
    let mut off: Vec<f64> =
        points.windows(3).map(|p| ((p[0].y + p[2].y) / 2.0 - p[1].y).abs()).collect();
    median(&mut off).unwrap_or(0.0) / 0.6745 / 1.5_f64.sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::encoded;

    /// A grey picture with a dark line along y(x), 6 px thick, and a wavy shade.
    fn picture(y: impl Fn(f64) -> f64, noise: f32) -> Picture {
        let (width, height) = (400, 200);
        let mut pixels = Vec::new();
        let mut seed = 7u32;
        for row in 0..height {
            for column in 0..width {
                let (px, py) = (f64::from(column) + 0.5, f64::from(row) + 0.5);
                let off = (py - y(px)).abs();
                let ink = (3.5 - off).clamp(0.0, 1.0) as f32;
                seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                let speck = (seed >> 8) as f32 / 8_388_608.0 - 1.0;
                let shade = 0.6 + 0.2 * (px / 90.0).sin() as f32 - 0.001 * py as f32;
                let light = shade * (1.0 - 0.7 * ink) + noise * speck;
                pixels.extend([encoded(light); 3]);
            }
        }
        Picture::from_pixels(width as usize, height as usize, pixels).unwrap()
    }

    #[test]
    fn careless_clicks_are_drawn_to_the_middle_of_the_line() {
        let truth = |x: f64| 100.0 + 20.0 * (x / 150.0).sin();
        let picture = picture(truth, 0.05);
        for way in [1.0, -1.0] {
            let mut clicks: Vec<Point> = [(20.0, 4.0), (120.0, -7.0), (230.0, 6.0), (380.0, -5.0)]
                .map(|(x, off)| Point::new(x, truth(x) + off))
                .to_vec();
            if way < 0.0 {
                clicks.reverse();
            }
            let found = follow_dark_line(&picture, &clicks, 16.0, 6.0).unwrap();
            let square: f64 = found.points.iter().map(|p| (p.y - truth(p.x)).powi(2)).sum();
            let rms = (square / found.points.len() as f64).sqrt();
            assert!(rms < 0.5, "{rms}");
            assert!(found.sigma < 1.0, "{}", found.sigma);
            assert_eq!(found.points[0].x, clicks[0].x);
        }
    }

    #[test]
    fn no_line_is_found_where_none_is_drawn() {
        let picture = picture(|_| -50.0, 0.05);
        let clicks = [Point::new(20.0, 100.0), Point::new(380.0, 100.0)];
        assert_eq!(follow_dark_line(&picture, &clicks, 16.0, 6.0), None);
        let back = [Point::new(20.0, 100.0), Point::new(80.0, 100.0), Point::new(40.0, 100.0)];
        assert_eq!(follow_dark_line(&picture, &back, 16.0, 6.0), None);
        assert_eq!(follow_dark_line(&picture, &[], 16.0, 6.0), None);
    }
}
