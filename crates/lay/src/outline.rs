//! Outlines of pieces as polygons, for placing alone: nothing is measured on them.

use hangtrue_geometry::{Affine, Chain, PathEl, Point, Rect};

/// A polygon follows its cut line within this, mm.
pub const FOLLOWED_WITHIN: f64 = 0.05;
/// Two pieces are laid at least so far apart, mm: more than both polygons may be off
/// together, so that no true cut line crosses another.
pub const CLEAR: f64 = 0.3;

/// The corners of a polygon that follows a closed line within [`FOLLOWED_WITHIN`].
pub(crate) fn polygon(line: &Chain, to: Affine) -> Vec<Point> {
    let mut corners: Vec<Point> = Vec::new();
    // Half of it is the flattening's, which is a near bound and no strict one.
    kurbo::flatten(to * line.to_path(), FOLLOWED_WITHIN / 2.0, |element| {
        if let PathEl::MoveTo(p) | PathEl::LineTo(p) = element
            && corners.last().is_none_or(|last| last.distance(p) > 1e-9)
        {
            corners.push(p);
        }
    });
    while corners.len() > 1 && corners[0].distance(corners[corners.len() - 1]) <= 1e-9 {
        corners.pop();
    }
    corners
}

/// The box round some corners.
pub(crate) fn bounds(corners: &[Point]) -> Rect {
    corners.iter().map(|&p| Rect::from_points(p, p)).reduce(|a, b| a.union(b)).unwrap_or_default()
}

/// The area of a polygon, mm².
pub(crate) fn area(corners: &[Point]) -> f64 {
    let twice: f64 = edges(corners).map(|(a, b)| a.to_vec2().cross(b.to_vec2())).sum();
    twice.abs() / 2.0
}

/// The edges, the last back to the first corner.
pub(crate) fn edges(corners: &[Point]) -> impl Iterator<Item = (Point, Point)> {
    let next = corners.iter().skip(1).chain(corners.first());
    corners.iter().copied().zip(next.copied())
}

/// From a place to the nearest of a polygon's edges, mm.
pub(crate) fn distance_to(corners: &[Point], p: Point) -> f64 {
    edges(corners)
        .map(|(a, b)| {
            let (along, from) = (b - a, p - a);
            let share = (from.dot(along) / along.hypot2().max(1e-18)).clamp(0.0, 1.0);
            (from - along * share).hypot()
        })
        .fold(f64::INFINITY, f64::min)
}

/// The part of a polygon at and above y = 0.
pub(crate) fn above_level(corners: &[Point]) -> Vec<Point> {
    let mut kept = Vec::new();
    for (a, b) in edges(corners) {
        if a.y >= 0.0 {
            kept.push(a);
        }
        if (a.y >= 0.0) != (b.y >= 0.0) {
            let share = a.y / (a.y - b.y);
            kept.push(Point::new(a.x + share * (b.x - a.x), 0.0));
        }
    }
    kept
}
