//! Lines whose ends meet, linked into longer lines and closed outlines.

use hangtrue_geometry::{Chain, PathSeg, Point};
use std::collections::HashMap;

/// Ends nearer than this are taken to meet, mm. Drawings are kept to a few
/// decimals; a sewing line never leaves a gap this small on purpose.
pub(crate) const MEET: f64 = 0.02;

/// Whether the line ends where it starts.
pub(crate) fn is_closed(chain: &Chain) -> bool {
    chain.start().distance(chain.end()) <= MEET && chain.bounds().width() > 10.0 * MEET
}

/// A segment with its ends laid on the given points.
pub(crate) fn with_ends(segment: PathSeg, start: Point, end: Point) -> PathSeg {
    match segment {
        PathSeg::Line(_) => PathSeg::Line(hangtrue_geometry::Line::new(start, end)),
        PathSeg::Quad(q) => PathSeg::Quad(hangtrue_geometry::QuadBez::new(start, q.p1, end)),
        PathSeg::Cubic(c) => {
            PathSeg::Cubic(hangtrue_geometry::CubicBez::new(start, c.p1, c.p2, end))
        }
    }
}

/// The closed line with its last point laid exactly on its first.
pub(crate) fn closed_exactly(chain: &Chain) -> Option<Chain> {
    let mut segments = chain.segments().to_vec();
    let first = segments.first()?.start_of();
    let last = segments.pop()?;
    segments.push(with_ends(last, last.start_of(), first));
    Chain::new(segments).ok()
}

/// The ends of a segment.
pub(crate) trait Ends {
    fn start_of(&self) -> Point;
    fn end_of(&self) -> Point;
}

impl Ends for PathSeg {
    fn start_of(&self) -> Point {
        match self {
            Self::Line(l) => l.p0,
            Self::Quad(q) => q.p0,
            Self::Cubic(c) => c.p0,
        }
    }

    fn end_of(&self) -> Point {
        match self {
            Self::Line(l) => l.p1,
            Self::Quad(q) => q.p2,
            Self::Cubic(c) => c.p3,
        }
    }
}

/// Of lines that end in one place at most so many are looked at.
const MOST_AT_A_POINT: usize = 256;

type Cell = (i64, i64);

/// Ends sorted into squares, so that a long list is linked in one pass.
struct Ground {
    cells: HashMap<Cell, Vec<usize>>,
}

fn cell(p: Point) -> Cell {
    let side = 4.0 * MEET;
    ((p.x / side).floor() as i64, (p.y / side).floor() as i64)
}

impl Ground {
    fn of(lines: &[Chain]) -> Self {
        let mut cells: HashMap<Cell, Vec<usize>> = HashMap::new();
        for (index, line) in lines.iter().enumerate() {
            for end in [line.start(), line.end()] {
                cells.entry(cell(end)).or_default().push(index);
            }
        }
        Self { cells }
    }

    /// The nearest unused line with an end at `p`.
    fn at(&mut self, p: Point, lines: &[Chain], used: &[bool]) -> Option<usize> {
        let (x, y) = cell(p);
        let mut best: Option<(usize, f64)> = None;
        for near in (-1..=1).flat_map(|dx| (-1..=1).map(move |dy| (x + dx, y + dy))) {
            let Some(here) = self.cells.get_mut(&near) else { continue };
            while here.last().is_some_and(|&i| used[i]) {
                here.pop();
            }
            for &index in here.iter().rev().take(MOST_AT_A_POINT).filter(|&&i| !used[i]) {
                let line = &lines[index];
                let gap = line.start().distance(p).min(line.end().distance(p));
                if gap <= MEET && best.is_none_or(|b| gap < b.1) {
                    best = Some((index, gap));
                }
            }
        }
        best.map(|b| b.0)
    }
}

/// Links lines end to end, turning those drawn the other way; lines that are
/// closed already are left alone.
pub(crate) fn linked(lines: &[Chain]) -> Vec<Chain> {
    let mut ground = Ground::of(lines);
    let mut used: Vec<bool> = lines.iter().map(is_closed).collect();
    let mut out: Vec<Chain> =
        lines.iter().zip(&used).filter(|(_, u)| **u).map(|(l, _)| l.clone()).collect();
    for first in 0..lines.len() {
        if used[first] {
            continue;
        }
        used[first] = true;
        let mut segments = lines[first].segments().to_vec();
        // Forwards from the end, then the other way from the start.
        for _ in 0..2 {
            grow(&mut segments, lines, &mut ground, &mut used);
            segments = segments.iter().rev().map(PathSeg::reverse).collect();
        }
        out.extend(Chain::new(segments).ok());
    }
    out
}

fn grow(segments: &mut Vec<PathSeg>, lines: &[Chain], ground: &mut Ground, used: &mut [bool]) {
    while let (Some(first), Some(last)) = (segments.first(), segments.last()) {
        let (start, end) = (first.start_of(), last.end_of());
        if segments.len() > 1 && start.distance(end) <= MEET {
            return;
        }
        let Some(next) = ground.at(end, lines, used) else { return };
        used[next] = true;
        let line = &lines[next];
        let forwards = line.start().distance(end) <= line.end().distance(end);
        let line = if forwards { line.clone() } else { line.reversed() };
        let mut from = end;
        for &segment in line.segments() {
            let to = segment.end_of();
            segments.push(with_ends(segment, from, to));
            from = to;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_sides_in_any_order_and_direction_close() {
        let p = [(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0)].map(Point::from);
        let sides = [
            Chain::line(p[2], p[1]),
            Chain::line(p[0], p[1]),
            Chain::line(p[0], p[3]),
            Chain::line(p[3], p[2]),
        ];
        let out = linked(&sides);
        assert_eq!(out.len(), 1);
        assert!(is_closed(&out[0]));
        assert!((out[0].length() - 300.0).abs() < 1e-9);
    }

    #[test]
    fn a_gap_wider_than_the_tolerance_stays_open() {
        let a = Chain::line((0.0, 0.0).into(), (100.0, 0.0).into());
        let b = Chain::line((100.1, 0.0).into(), (100.0, 50.0).into());
        assert_eq!(linked(&[a, b]).len(), 2);
    }
}
