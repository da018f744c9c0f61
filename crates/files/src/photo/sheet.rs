//! A sheet of paper of known size: its four corners from its four sides.

use super::edge::{Look, Way, even_steps, follow};
use super::mark::{BEST, FoundMark};
use super::{Picture, Tone};
use crate::median::median;
use hangtrue_geometry::{Point, Vec2};
use nalgebra::{Matrix3, Vector3};
use serde::{Deserialize, Serialize};

/// A sheet lying in the plane of the card.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum SheetSize {
    /// ISO 216: 841 × 1189 mm.
    A0,
    /// ISO 216: 594 × 841 mm.
    A1,
    /// ISO 216: 420 × 594 mm.
    A2,
    /// ISO 216: 297 × 420 mm.
    A3,
    /// ISO 216: 210 × 297 mm.
    A4,
    /// ISO 216: 148 × 210 mm.
    A5,
    /// ANSI/ASME Y14.1 size A: 8 1/2 × 11 in.
    Letter,
    /// Measured by the maker: width and height, mm.
    Measured(f64, f64),
}

/// How far a bought sheet may be from its size, standard deviation in mm at each
/// corner. ISO 216 allows ±2 mm on sides of 150 to 600 mm (memory); office paper
/// is cut nearer than that (common practice, no published source).
pub const BOUGHT_SHEET: f64 = 0.25;
/// The same for a sheet the maker measured, mm.
pub const MEASURED_SHEET: f64 = 0.15;

impl SheetSize {
    /// Width and height as the sheet stands, mm.
    pub fn size(self) -> (f64, f64) {
        match self {
            Self::A0 => (841.0, 1189.0),
            Self::A1 => (594.0, 841.0),
            Self::A2 => (420.0, 594.0),
            Self::A3 => (297.0, 420.0),
            Self::A4 => (210.0, 297.0),
            Self::A5 => (148.0, 210.0),
            Self::Letter => (215.9, 279.4),
            Self::Measured(width, height) => (width, height),
        }
    }

    /// Standard deviation of a corner, mm.
    pub fn sigma(self) -> f64 {
        if matches!(self, Self::Measured(..)) { MEASURED_SHEET } else { BOUGHT_SHEET }
    }

    /// The sheet of that name: A4, Letter, 300x500 (mm).
    pub fn of_name(name: &str) -> Option<Self> {
        let known = [
            ("a0", Self::A0),
            ("a1", Self::A1),
            ("a2", Self::A2),
            ("a3", Self::A3),
            ("a4", Self::A4),
            ("a5", Self::A5),
            ("letter", Self::Letter),
        ];
        let name = name.trim().to_lowercase();
        if let Some((_, sheet)) = known.iter().find(|(n, _)| *n == name) {
            return Some(*sheet);
        }
        let (width, height) = name.split_once(['x', '×'])?;
        let side = |t: &str| t.trim().parse::<f64>().ok().filter(|v| (10.0..10_000.0).contains(v));
        Some(Self::Measured(side(width)?, side(height)?))
    }

    /// The corners in the plane, mm: from the one at the origin along the width,
    /// and round counter-clockwise.
    pub fn corners(self) -> [Point; 4] {
        let (w, h) = self.size();
        [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)].map(Point::from)
    }
}

/// How far the middle of a sheet's side may lie off the straight line of its
/// corners, standard deviation in mm (common practice, no published source).
pub(crate) const STRAIGHT: f64 = 0.15;

/// A sheet found: its corners, and places along each side from corner to corner
/// with their standard deviation across it, pixels.
pub(crate) struct FoundSheet {
    pub(crate) corners: [FoundMark; 4],
    pub(crate) sides: Vec<Vec<(Point, f64)>>,
}

/// The corners of a sheet from where the maker pointed, in the same order: each
/// side is followed along the paper's edge and neighbouring sides are crossed.
///
/// # Errors
/// Says in words which side cannot be seen.
pub(crate) fn find_sheet(
    picture: &Picture,
    near: [Point; 4],
    reach: f64,
) -> Result<FoundSheet, &'static str> {
    const UNSEEN: &str = "a side of the sheet cannot be followed; lay it on a darker or lighter ground, or use the corners as pointed";
    if near.iter().any(|p| !picture.holds(*p, 0.0)) {
        return Err("a corner lies outside the picture");
    }
    let mut sides = Vec::with_capacity(4);
    for i in 0..4 {
        sides.push(side(picture, near[i], near[(i + 1) % 4], reach).ok_or(UNSEEN)?);
    }
    let mut corners = [FoundMark { at: Point::ORIGIN, sigma: 0.0, strength: 0.0 }; 4];
    for (i, corner) in corners.iter_mut().enumerate() {
        let (before, after) = (&sides[(i + 3) % 4], &sides[i]);
        let found = crossed(before, after, near[i]).ok_or(UNSEEN)?;
        if found.at.distance(near[i]) > 3.0 * reach {
            return Err("a corner of the sheet lies far from where you pointed; point at it again");
        }
        *corner = found;
    }
    Ok(FoundSheet { corners, sides: sides.into_iter().map(|s| s.seen).collect() })
}

/// Neighbouring places share pixels: about three count as one.
const SHARED: f64 = 3.0;

/// A side as a shallow parabola over its chord: a lens bends straight sides.
struct Side {
    from: Point,
    along: Vec2,
    up: Vec2,
    length: f64,
    bow: Vector3<f64>,
    variance: Matrix3<f64>,
    /// Places along it, each the mean of many.
    seen: Vec<(Point, f64)>,
}

impl Side {
    fn row(t: f64) -> Vector3<f64> {
        Vector3::new(1.0, t, t * t)
    }

    /// The place at t (0 to 1 from corner to corner).
    fn at(&self, t: f64) -> Point {
        self.from + self.along * (t * self.length) + self.up * self.bow.dot(&Self::row(t))
    }

    fn slope(&self, t: f64) -> Vec2 {
        self.along * self.length + self.up * (self.bow[1] + 2.0 * t * self.bow[2])
    }

    /// The places gathered into even parts of the side, strays left out.
    fn gathered(&self, points: &[(f64, f64)]) -> Vec<(Point, f64)> {
        const PARTS: usize = 40;
        let off = |p: &(f64, f64)| p.1 - self.bow.dot(&Self::row(p.0));
        let mut sizes: Vec<f64> = points.iter().map(|p| off(p).abs()).collect();
        // 1.4826: the standard deviation of a normal spread by its median size.
        let spread = (1.4826 * median(&mut sizes).unwrap_or(0.0)).max(0.02);
        let mut parts = [(0.0, 0.0, 0.0); PARTS];
        for p in points.iter().filter(|p| off(p).abs() <= 3.0 * spread) {
            let part = &mut parts[((p.0 * PARTS as f64) as usize).min(PARTS - 1)];
            *part = (part.0 + 1.0, part.1 + p.0, part.2 + off(p));
        }
        let mean = |(count, t, off): (f64, f64, f64)| {
            let at = self.at(t / count) + self.up * (off / count);
            (at, spread * (SHARED / count).sqrt())
        };
        parts.into_iter().filter(|p| p.0 >= 3.0).map(mean).collect()
    }

    fn sigma(&self, t: f64) -> f64 {
        (Self::row(t).transpose() * self.variance * Self::row(t))[0].max(0.0).sqrt()
    }
}

fn side(picture: &Picture, a: Point, b: Point, reach: f64) -> Option<Side> {
    let length = a.distance(b);
    if length < 20.0 {
        return None;
    }
    let along = (b - a) / length;
    let up = Vec2::new(-along.y, along.x);
    // Near a corner the other side is in the window.
    let margin = (2.0 * reach / length).clamp(0.03, 0.2);
    let mut line = vec![a.lerp(b, margin), a.lerp(b, 1.0 - margin)];
    let mut way = Way::Either;
    let mut side = None;
    for (reach, blur) in [(reach, 2.0), (reach.min(4.0), 1.2), (3.0, 1.2)] {
        let look = Look { tone: Tone::BRIGHTNESS, reach, blur, way };
        let steps = even_steps(&line, false, 1.0);
        let places = follow(picture, &look, &steps, false, true, 0.75);
        if places.len() < 12 || places.len() * 2 < steps.len() {
            return None;
        }
        if way == Way::Either {
            way = usual_way(picture, &look, &places);
        }
        let points: Vec<(f64, f64)> =
            places.iter().map(|p| ((p.at - a).dot(along) / length, (p.at - a).dot(up))).collect();
        let (bow, variance) = parabola(&points)?;
        let mut fitted = Side { from: a, along, up, length, bow, variance, seen: Vec::new() };
        fitted.seen = fitted.gathered(&points);
        line = (0..=40)
            .map(|i| {
                let t = margin + (1.0 - 2.0 * margin) * f64::from(i) / 40.0;
                fitted.at(t)
            })
            .collect();
        side = Some(fitted);
    }
    side
}

/// Whether the light mostly rises or falls outward along the places.
fn usual_way(picture: &Picture, look: &Look, places: &[super::edge::EdgePlace]) -> Way {
    let rising = places
        .iter()
        .filter(|p| look.nearest(picture, p.at, p.out).is_some_and(|e| e.slope > 0.0))
        .count();
    if 2 * rising > places.len() { Way::Rises } else { Way::Falls }
}

/// The least-squares parabola, far points left out, with its covariance.
fn parabola(points: &[(f64, f64)]) -> Option<(Vector3<f64>, Matrix3<f64>)> {
    let mut keep: Vec<(f64, f64)> = points.to_vec();
    for _ in 0..4 {
        let (mut a, mut b) = (Matrix3::zeros(), Vector3::zeros());
        for &(t, v) in &keep {
            let row = Side::row(t);
            a += row * row.transpose();
            b += row * v;
        }
        let inverse = a.try_inverse()?;
        let bow = inverse * b;
        let off = |p: &(f64, f64)| p.1 - bow.dot(&Side::row(p.0));
        let n = keep.len() as f64;
        let spread = (keep.iter().map(|p| off(p).powi(2)).sum::<f64>() / (n - 3.0).max(1.0)).sqrt();
        let near: Vec<(f64, f64)> =
            points.iter().filter(|p| off(p).abs() <= (2.5 * spread).max(0.1)).copied().collect();
        if near.len() == keep.len() {
            return Some((bow, inverse * (SHARED * spread * spread)));
        }
        keep = near;
        if keep.len() < 8 {
            return None;
        }
    }
    let (mut a, mut b) = (Matrix3::zeros(), Vector3::zeros());
    for &(t, v) in &keep {
        let row = Side::row(t);
        a += row * row.transpose();
        b += row * v;
    }
    let inverse = a.try_inverse()?;
    let bow = inverse * b;
    let left: f64 = keep.iter().map(|p| (p.1 - bow.dot(&Side::row(p.0))).powi(2)).sum();
    let n = keep.len() as f64;
    Some((bow, inverse * (SHARED * left / (n - 3.0).max(1.0))))
}

/// Where the end of one side crosses the start of the next: Newton's method.
fn crossed(before: &Side, after: &Side, near: Point) -> Option<FoundMark> {
    let (mut s, mut t) = (1.0, 0.0);
    for _ in 0..20 {
        let gap = after.at(t) - before.at(s);
        let (u, v) = (before.slope(s), after.slope(t));
        let turn = u.cross(v);
        if turn.abs() < 0.05 * u.hypot() * v.hypot() {
            return None;
        }
        let (ds, dt) = (gap.cross(v) / turn, gap.cross(u) / turn);
        s += ds;
        t += dt;
        if ds.abs() + dt.abs() < 1e-12 {
            break;
        }
    }
    let at = before.at(s);
    if !at.is_finite() || at.distance(near) > 1e4 {
        return None;
    }
    let sine = before.slope(s).normalize().cross(after.slope(t).normalize()).abs();
    let sigma = before.sigma(s).hypot(after.sigma(t)) / sine / std::f64::consts::SQRT_2;
    Some(FoundMark { at, sigma: sigma.max(BEST), strength: 0.0 })
}
