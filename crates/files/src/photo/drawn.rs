//! What the strokes on a card are to the sewer: two that start at the edge and meet
//! are a dart, one with the head of an arrow is the grain, others are lines.

use super::flat::Flat;
use super::stroke::Stroke;
use hangtrue_geometry::{Chain, Point, Vec2, turned};

/// What is drawn on the card, on the common table, mm.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum DrawnLine {
    /// The legs of a dart: mouth, point, mouth.
    Dart([Point; 3]),
    /// The grain, and whether an arrow was seen.
    Grain([Point; 2], bool),
    /// Another line.
    Line([Point; 2]),
}

/// A line that ends nearer to the outline than this is drawn to it, mm.
const TO_EDGE: f64 = 6.0;
/// The legs of a dart end nearer to each other than this, mm.
const MEET: f64 = 6.0;
/// Between the legs of a dart lies an angle of so much (3° to 50°).
const OPEN: (f64, f64) = (0.05, 0.87);
/// Drawn legs differ by no more than this, mm.
const LEGS: f64 = 3.0;
/// Darts are no shorter and no longer, mm.
const DART: (f64, f64) = (25.0, 260.0);
/// Parts of a curve turn by so much from one to the next (3° to 35°).
const CURVE: (f64, f64) = (0.05, 0.6);
/// What is no part of a dart is a line when it is so long, mm.
const LINE: f64 = 25.0;
/// A grainline without an arrow runs over such a share of the piece.
const GRAIN: f64 = 0.45;

/// What is drawn, and how many parts of curves were left out.
pub(crate) fn drawn(flat: &Flat, strokes: &[Stroke], edges: &[Chain]) -> (Vec<DrawnLine>, usize) {
    let ends: Vec<[Option<OnEdge>; 2]> = strokes
        .iter()
        .map(|s| [on_edge(edges, s.from, -s.way()), on_edge(edges, s.to, s.way())])
        .collect();
    let mut used = vec![false; strokes.len()];
    let mut all = Vec::new();
    for i in 0..strokes.len() {
        for k in i + 1..strokes.len() {
            if used[i] || used[k] {
                continue;
            }
            if let Some(dart) = dart((&strokes[i], &ends[i]), (&strokes[k], &ends[k])) {
                (used[i], used[k]) = (true, true);
                all.push(DrawnLine::Dart(dart));
            }
        }
    }
    let curved = parts_of_curves(strokes, &used);
    let left_out = curved.iter().filter(|c| **c).count();
    let free: Vec<usize> = (0..strokes.len())
        .filter(|i| !used[*i] && !curved[*i] && strokes[*i].length() >= LINE)
        .collect();
    let arrows: Vec<bool> = free.iter().map(|i| has_arrow(flat, &strokes[*i])).collect();
    let grain = grain_of(strokes, (&free, &arrows), edges);
    for i in free {
        let stroke = &strokes[i];
        let end = |k: usize, p: Point| ends[i][k].map_or(p, |e| e.at);
        if Some(i) == grain.map(|g| g.0) {
            all.push(DrawnLine::Grain([stroke.from, stroke.to], grain.is_some_and(|g| g.1)));
        } else {
            all.push(DrawnLine::Line([end(0, stroke.from), end(1, stroke.to)]));
        }
    }
    (all, left_out)
}

/// Where a line met the outline, and on which of its edges.
#[derive(Debug, Clone, Copy)]
struct OnEdge {
    at: Point,
    edge: usize,
}

/// The place where a line that goes on meets the outline, if it is near.
fn on_edge(edges: &[Chain], from: Point, way: Vec2) -> Option<OnEdge> {
    let to = from + way * (1.5 * TO_EDGE);
    let back = from - way * 1.0;
    let mut best: Option<(f64, OnEdge)> = None;
    for (edge, chain) in edges.iter().enumerate() {
        if chain.nearest_within(from, 1.5 * TO_EDGE).is_none() {
            continue;
        }
        // Along the line, by halves: where the outline is met.
        if let Some(at) = met(chain, back, to) {
            let off = at.distance(from);
            if off <= 1.5 * TO_EDGE && best.is_none_or(|b| off < b.0) {
                best = Some((off, OnEdge { at, edge }));
            }
        }
    }
    best.map(|b| b.1)
}

/// The first place of a short straight way at which it crosses a curve.
fn met(chain: &Chain, from: Point, to: Point) -> Option<Point> {
    let side = |p: Point| {
        let near = chain.nearest_within(p, 30.0)?;
        let (at, way) = chain.place_at(near.position);
        Some((way.cross(p - at), near.position))
    };
    let inside = |pos: f64| pos > 1e-6 && pos < chain.length() - 1e-6;
    const STEPS: usize = 24;
    let mut before = (from, side(from)?);
    for i in 1..=STEPS {
        let p = from.lerp(to, i as f64 / STEPS as f64);
        let here = side(p)?;
        if before.1.0 * here.0 <= 0.0 && inside(here.1) {
            let (mut a, mut b) = (before.0, p);
            for _ in 0..50 {
                let m = a.midpoint(b);
                if side(m)?.0 * before.1.0 > 0.0 { a = m } else { b = m }
            }
            return Some(a.midpoint(b));
        }
        before = (p, here);
    }
    None
}

/// The dart that two strokes are the legs of.
fn dart(
    (a, a_ends): (&Stroke, &[Option<OnEdge>; 2]),
    (b, b_ends): (&Stroke, &[Option<OnEdge>; 2]),
) -> Option<[Point; 3]> {
    for i in 0..2 {
        for k in 0..2 {
            let (Some(p), Some(q)) = (a_ends[i], b_ends[k]) else { continue };
            // A line from edge to edge is the leg of no dart.
            if a_ends[1 - i].is_some() || b_ends[1 - k].is_some() || p.edge != q.edge {
                continue;
            }
            let inner = |s: &Stroke, mouth: usize| if mouth == 0 { s.to } else { s.from };
            let (u, v) = (inner(a, i), inner(b, k));
            let point = crossing(a, b)?;
            let (first, second) = (point - p.at, point - q.at);
            let (one, other) = (first.hypot(), second.hypot());
            let angle = first.cross(second).atan2(first.dot(second)).abs();
            let sound = point.distance(u) <= MEET
                && point.distance(v) <= MEET
                && (OPEN.0..OPEN.1).contains(&angle)
                && (one - other).abs() <= LEGS
                && (DART.0..DART.1).contains(&one)
                && (DART.0..DART.1).contains(&other);
            if sound {
                return Some([p.at, point, q.at]);
            }
        }
    }
    None
}

/// Where the endless lines of two strokes cross.
fn crossing(a: &Stroke, b: &Stroke) -> Option<Point> {
    let (u, v) = (a.way(), b.way());
    let turn = u.cross(v);
    (turn.abs() > 0.02).then(|| a.from + u * ((b.from - a.from).cross(v) / turn))
}

/// Strokes that go on in another at a small turn are parts of a drawn curve: to offer
/// them as straight would be wrong.
fn parts_of_curves(strokes: &[Stroke], used: &[bool]) -> Vec<bool> {
    let mut curved = vec![false; strokes.len()];
    for i in 0..strokes.len() {
        for k in i + 1..strokes.len() {
            if used[i] || used[k] {
                continue;
            }
            for (a, way) in
                [(strokes[i].from, -strokes[i].way()), (strokes[i].to, strokes[i].way())]
            {
                for (b, on) in
                    [(strokes[k].from, strokes[k].way()), (strokes[k].to, -strokes[k].way())]
                {
                    let turn = way.cross(on).atan2(way.dot(on)).abs();
                    if a.distance(b) < 6.0 && (CURVE.0..CURVE.1).contains(&turn) {
                        (curved[i], curved[k]) = (true, true);
                    }
                }
            }
        }
    }
    curved
}

/// Whether the head of an arrow is drawn at an end.
fn has_arrow(flat: &Flat, stroke: &Stroke) -> bool {
    let ends = [(stroke.from, stroke.way()), (stroke.to, -stroke.way())];
    ends.into_iter().any(|(at, back)| {
        // The end of the stroke itself is found to a mm or two only.
        [-2.0, -1.0, 0.0, 1.0, 2.0].iter().any(|shift| {
            let tip = at + back * *shift;
            let barb = |side: f64| {
                (0..8).any(|k| {
                    let turn = side * (0.3 + 0.08 * f64::from(k));
                    is_dark(flat, tip, turned(back, turn), stroke.dark)
                })
            };
            barb(1.0) && barb(-1.0)
        })
    })
}

/// Whether a short stroke as dark as the line runs from a place.
fn is_dark(flat: &Flat, from: Point, way: Vec2, dark: f64) -> bool {
    const LONG: (f64, f64) = (2.5, 5.5);
    const BESIDE: f64 = 1.3;
    let across = Vec2::new(-way.y, way.x);
    let mut all = Vec::new();
    let mut t = LONG.0;
    while t <= LONG.1 {
        let at = |off: f64| flat.at(from + way * t + across * off);
        let (Some(on), Some(a), Some(b)) = (at(0.0), at(BESIDE), at(-BESIDE)) else { return false };
        all.push(on - a.max(b));
        t += 0.5;
    }
    all.iter().filter(|v| **v > 0.35 * dark).count() * 5 >= all.len() * 4
}

/// Which of the free strokes is the grain, and whether by its arrow.
fn grain_of(
    strokes: &[Stroke],
    (free, arrows): (&[usize], &[bool]),
    edges: &[Chain],
) -> Option<(usize, bool)> {
    // Strokes are listed by length, so the first is the longest.
    let long = |i: &usize| strokes[*i].length() > 2.0 * LINE;
    if let Some((i, _)) = free.iter().zip(arrows).find(|(i, arrow)| **arrow && long(i)) {
        return Some((*i, true));
    }
    let (axis, extent) = longest_axis(edges)?;
    let along = |i: &&usize| {
        let s = &strokes[**i];
        s.length() > GRAIN * extent && s.way().cross(axis).abs() < 0.21
    };
    let mut like = free.iter().filter(along);
    match (like.next(), like.next()) {
        (Some(only), None) => Some((*only, false)),
        _ => None,
    }
}

/// The way a piece is longest, and how long it is.
fn longest_axis(edges: &[Chain]) -> Option<(Vec2, f64)> {
    let places: Vec<Point> = edges
        .iter()
        .flat_map(|e| (0..40).map(move |i| e.point_at(e.length() * f64::from(i) / 40.0)))
        .collect();
    let n = places.len() as f64;
    if places.is_empty() {
        return None;
    }
    let middle = places.iter().fold(Vec2::ZERO, |a, p| a + p.to_vec2()) / n;
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for p in &places {
        let off = p.to_vec2() - middle;
        xx += off.x * off.x;
        xy += off.x * off.y;
        yy += off.y * off.y;
    }
    let axis = Vec2::from_angle(0.5 * (2.0 * xy).atan2(xx - yy));
    let along = places.iter().map(|p| p.to_vec2().dot(axis));
    let (low, high) =
        along.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
    Some((axis, high - low))
}
