//! A smooth curve through many measured places.

use super::distances;
use super::spline::{Smoothed, Spline, smoothed};
use crate::{Chain, GeometryError, PathSeg, Point, Vec2, tolerance};
use kurbo::{CubicBez, ParamCurve, ParamCurveDeriv};

/// How near the curve must come, and how much is smoothed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitTolerance {
    /// The curve may lie this far from the smoothed places, mm.
    pub within: f64,
    /// The smoothed line bends no more often than once in this arc length, mm.
    pub window: f64,
}

/// A curve fitted.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// The curve.
    pub chain: Chain,
    /// The farthest a smoothed place lies from it, mm.
    pub off: f64,
    /// How far single places lie from the smoothed line, standard deviation
    /// across it, mm.
    pub scatter: f64,
    /// How many places decide one number of the smoothed line: what is left of the
    /// scatter in it is scatter/√together.
    pub together: f64,
}

/// The curve through places in order, from the first to the last of them exactly.
/// It is smoothed by the spline of as many spans as the places speak for, and drawn
/// with few cubics, smooth where they join (Schneider 1990,
/// memory); what is straight within the tolerance becomes a line.
///
/// # Errors
/// [`GeometryError`] with fewer than two places or one that is not a number.
pub fn curve_through(places: &[Point], fit: FitTolerance) -> Result<Fitted, GeometryError> {
    if places.len() < 2 {
        return Err(GeometryError::Empty);
    }
    if let Some(index) = places.iter().position(|p| !p.is_finite()) {
        return Err(GeometryError::NotFinite { index });
    }
    let length = distances(places)[places.len() - 1];
    let Smoothed { spline, scatter, together } = smoothed(places, fit.window);
    let knots = knots_of(&spline, length, fit.window);
    let (first, last) = (places[0], places[places.len() - 1]);
    if first.distance(last) > tolerance::SAME_POINT {
        let straight = Chain::line(first, last);
        let off = farthest(&straight, &knots);
        if off <= fit.within {
            return Ok(Fitted { chain: straight, off, scatter, together });
        }
    }
    let segments: Vec<PathSeg> = fewest(&knots, fit.within)
        .into_iter()
        .filter(|c| c.p0.distance(c.p3) > tolerance::SAME_POINT)
        .map(PathSeg::Cubic)
        .collect();
    let chain = Chain::new(segments)?;
    let off = farthest(&chain, &knots);
    Ok(Fitted { chain, off, scatter, together })
}

/// A place of the smoothed line and the direction there.
#[derive(Debug, Clone, Copy)]
struct Knot {
    at: Point,
    direction: Vec2,
}

/// Even places of a smooth line. Two in the window keep all that it lets through.
fn knots_of(spline: &Spline, length: f64, window: f64) -> Vec<Knot> {
    let count = ((2.0 * length / window).ceil() as usize).clamp(8, 4000);
    let knot = |k: usize| {
        let (at, slope) = spline.at(k as f64 / count as f64);
        let direction = if slope.hypot() > 0.0 { slope.normalize() } else { Vec2::new(1.0, 0.0) };
        Knot { at, direction }
    };
    (0..=count).map(knot).collect()
}

/// As few cubics as keep within the tolerance, and then as near as so many can be.
fn fewest(knots: &[Knot], within: f64) -> Vec<CubicBez> {
    let mut best = cubics(knots, within);
    let (mut low, mut high) = (0.0, within);
    for _ in 0..6 {
        let middle = f64::midpoint(low, high);
        let tighter = cubics(knots, middle);
        if tighter.len() <= best.len() {
            (best, high) = (tighter, middle);
        } else {
            low = middle;
        }
    }
    best
}

/// As few cubics as reach from knot to knot within the tolerance, each as long
/// as it can be.
fn cubics(knots: &[Knot], within: f64) -> Vec<CubicBez> {
    let last = knots.len() - 1;
    let mut all = Vec::new();
    let mut from = 0;
    while from < last {
        let reaches = |to: usize| one_cubic(&knots[from..=to]).filter(|c| c.1 <= within);
        // From one knot to the next a cubic always reaches.
        let (mut good, mut bad) = (from + 1, last + 1);
        if reaches(last).is_some() {
            good = last;
        }
        while good < last && bad - good > 1 {
            let middle = good.midpoint(bad);
            if middle <= last && reaches(middle).is_some() {
                good = middle;
            } else {
                bad = middle;
            }
        }
        let fitted = reaches(good).or_else(|| one_cubic(&knots[from..=good]));
        all.extend(fitted.map(|c| c.0));
        from = good;
    }
    all
}

/// The cubic with the directions of the first and the last knot that comes
/// nearest to those between, and how far the farthest of them lies from it, mm.
fn one_cubic(knots: &[Knot]) -> Option<(CubicBez, f64)> {
    let (first, last) = (knots.first()?, knots.last()?);
    let chord = first.at.distance(last.at);
    let (u, v) = (first.direction, last.direction);
    let cubic =
        |a: f64, b: f64| CubicBez::new(first.at, first.at + u * a, last.at - v * b, last.at);
    if knots.len() == 2 {
        return Some((cubic(chord / 3.0, chord / 3.0), 0.0));
    }
    let between = &knots[1..knots.len() - 1];
    let whole: Vec<Point> = knots.iter().map(|k| k.at).collect();
    let gone = distances(&whole);
    let length = gone[gone.len() - 1];
    if length <= tolerance::SAME_POINT {
        return None;
    }
    let mut at: Vec<f64> = gone[1..gone.len() - 1].iter().map(|g| g / length).collect();
    let mut best: Option<(CubicBez, f64)> = None;
    for _ in 0..8 {
        let (a, b) = handles(between, &at, first, last).unwrap_or((length / 3.0, length / 3.0));
        // Handles turned back or far out make loops and bumps.
        let usable = |h: f64| (0.02 * length..=1.5 * length).contains(&h);
        let (a, b) = if usable(a) && usable(b) { (a, b) } else { (length / 3.0, length / 3.0) };
        let curve = cubic(a, b);
        for (t, knot) in at.iter_mut().zip(between) {
            *t = nearer(&curve, knot.at, *t);
        }
        let off = at.iter().zip(between).map(|(t, k)| curve.eval(*t).distance(k.at));
        let off = off.fold(0.0, f64::max);
        if best.is_none_or(|b| off < b.1) {
            best = Some((curve, off));
        }
    }
    best
}

/// The lengths of the two handles by least squares; none when they are not
/// determined.
fn handles(between: &[Knot], at: &[f64], first: &Knot, last: &Knot) -> Option<(f64, f64)> {
    let (mut uu, mut uv, mut vv, mut pu, mut pv) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (knot, &t) in between.iter().zip(at) {
        let s = 1.0 - t;
        let (b0, b1, b2, b3) = (s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t);
        let base = first.at.to_vec2() * (b0 + b1) + last.at.to_vec2() * (b2 + b3);
        let off = knot.at.to_vec2() - base;
        let (u, v) = (first.direction * b1, last.direction * -b2);
        uu += u.dot(u);
        uv += u.dot(v);
        vv += v.dot(v);
        pu += off.dot(u);
        pv += off.dot(v);
    }
    let turn = uu * vv - uv * uv;
    (turn > 1e-9 * uu * vv).then(|| ((pu * vv - pv * uv) / turn, (pv * uu - pu * uv) / turn))
}

/// One of Newton's steps towards the parameter nearest to a place.
fn nearer(curve: &CubicBez, p: Point, t: f64) -> f64 {
    let (first, second) = (curve.deriv(), curve.deriv().deriv());
    let away = curve.eval(t) - p;
    let (d1, d2) = (first.eval(t).to_vec2(), second.eval(t).to_vec2());
    let slope = d1.dot(d1) + away.dot(d2);
    if slope <= 0.0 {
        return t;
    }
    (t - away.dot(d1) / slope).clamp(0.0, 1.0)
}

fn farthest(chain: &Chain, knots: &[Knot]) -> f64 {
    knots.iter().map(|k| chain.nearest(k.at).distance).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    const FIT: FitTolerance = FitTolerance { within: 0.1, window: 8.0 };

    #[test]
    fn a_noisy_straight_edge_is_a_line() {
        let places: Vec<Point> = (0..800)
            .map(|i| Point::new(f64::from(i), 0.06 * f64::from(i * 7919 % 13 - 6) / 6.0))
            .collect();
        let fitted = curve_through(&places, FIT).unwrap();
        assert_eq!(fitted.chain.segments().len(), 1);
        assert!(matches!(fitted.chain.segments()[0], PathSeg::Line(_)));
        assert!((0.02..0.06).contains(&fitted.scatter), "{}", fitted.scatter);
    }

    #[test]
    fn a_noisy_quarter_circle_takes_few_cubics_and_keeps_its_length() {
        let radius = 180.0;
        let places: Vec<Point> = (0..=500)
            .map(|i| {
                let a = f64::from(i) / 500.0 * std::f64::consts::FRAC_PI_2;
                let r = radius + 0.08 * f64::from(i * 7919 % 13 - 6) / 6.0;
                Point::new(r * a.cos(), r * a.sin())
            })
            .collect();
        let fitted = curve_through(&places, FIT).unwrap();
        assert!(fitted.chain.segments().len() <= 3, "{}", fitted.chain.segments().len());
        assert!(fitted.off <= 0.12, "{}", fitted.off);
        for i in 0..=100 {
            let r = fitted.chain.point_at(fitted.chain.length() * f64::from(i) / 100.0);
            assert!((r.to_vec2().hypot() - radius).abs() < 0.15);
        }
        let quarter = radius * std::f64::consts::FRAC_PI_2;
        assert!((fitted.chain.length() - quarter).abs() < 0.3);
    }

    #[test]
    fn too_few_and_unsound_places_are_refused() {
        assert_eq!(curve_through(&[Point::ORIGIN], FIT), Err(GeometryError::Empty));
        let bad = [Point::ORIGIN, Point::new(f64::NAN, 0.0)];
        assert_eq!(curve_through(&bad, FIT), Err(GeometryError::NotFinite { index: 1 }));
        assert!(curve_through(&[Point::ORIGIN, Point::new(3.0, 4.0)], FIT).is_ok());
        let _ = curve_through(&[Point::ORIGIN; 9], FIT);
    }
}
