//! A piece drawn half beside its mirror line (layer 6 of ASTM D6673, memory) laid
//! open.

use super::loops::{Ends, with_ends};
use hangtrue_geometry::{Affine, Chain, PathSeg, Point, Vec2};

/// Places this near to the mirror line lie on it, mm.
const ON_LINE: f64 = 0.05;

/// The mirror image about a straight line; none for a line that is not straight.
fn mirrored_about(line: &Chain) -> Option<Affine> {
    let (a, along) = (line.start(), line.end() - line.start());
    let length = along.hypot();
    if !length.is_finite() || length <= ON_LINE {
        return None;
    }
    let d = along / length;
    let off = |p: Point| d.cross(p - a).abs();
    let straight = line.segments().iter().all(|s| {
        matches!(s, PathSeg::Line(_)) && off(s.start_of()) < ON_LINE && off(s.end_of()) < ON_LINE
    });
    if !straight {
        return None;
    }
    let turned =
        [d.x * d.x - d.y * d.y, 2.0 * d.x * d.y, 2.0 * d.x * d.y, d.y * d.y - d.x * d.x, 0.0, 0.0];
    Some(Affine::translate(a.to_vec2()) * Affine::new(turned) * Affine::translate(-a.to_vec2()))
}

/// The whole outline of a half, and the map from one half to the other; none when
/// the mirror line is no edge of the outline.
pub(crate) fn laid_open(half: &Chain, line: &Chain) -> Option<(Chain, Affine)> {
    let mirror = mirrored_about(line)?;
    let along: Vec2 = line.end() - line.start();
    let on = |p: Point| (mirror * p).distance(p) < 2.0 * ON_LINE;
    let edge = |s: &PathSeg| {
        let (a, b) = (s.start_of(), s.end_of());
        matches!(s, PathSeg::Line(_)) && on(a) && on(b) && (b - a).dot(along).abs() > 0.0
    };
    let segments = half.segments();
    let count = segments.len();
    let last = (0..count).find(|&i| edge(&segments[i]) && !edge(&segments[(i + 1) % count]))?;
    let turned: Vec<PathSeg> = (1..=count).map(|i| segments[(last + i) % count]).collect();
    let kept = turned.iter().take_while(|s| !edge(s)).count();
    if kept == 0 || !turned[kept..].iter().all(edge) {
        return None;
    }
    let mut whole = turned[..kept].to_vec();
    let (from, to) = (whole.first()?.start_of(), whole.last()?.end_of());
    let mut other: Vec<PathSeg> = whole.iter().rev().map(|s| mirror * s.reverse()).collect();
    // The ends lie on the line only to within a tolerance; they are made to meet.
    if let Some(first) = other.first_mut() {
        *first = with_ends(*first, to, first.end_of());
    }
    if let Some(last) = other.last_mut() {
        *last = with_ends(*last, last.start_of(), from);
    }
    whole.extend(other);
    Chain::new(whole).ok().map(|chain| (chain, mirror))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn closed(points: &[(f64, f64)]) -> Chain {
        let n = points.len();
        let side = |i: usize| {
            let (a, b) = (Point::from(points[i]), Point::from(points[(i + 1) % n]));
            PathSeg::Line(hangtrue_geometry::Line::new(a, b))
        };
        Chain::new((0..n).map(side).collect()).unwrap()
    }

    #[test]
    fn a_half_on_a_slanted_fold_is_laid_open() {
        // A right triangle on its leg becomes one twice as wide.
        let turn = Affine::rotate(0.4);
        let half = closed(&[(0.0, 0.0), (60.0, 0.0), (0.0, 200.0)]).moved(turn);
        let fold = Chain::line(Point::ORIGIN, Point::new(0.0, 200.0)).moved(turn);
        let (whole, _) = laid_open(&half, &fold).unwrap();
        let slant = 60.0f64.hypot(200.0);
        assert!((whole.length() - 2.0 * (60.0 + slant)).abs() < 1e-9);
        assert!(whole.start().distance(whole.end()) < 1e-9);
    }

    #[test]
    fn a_line_inside_the_piece_or_a_bent_one_lays_nothing_open() {
        let half = closed(&[(0.0, 0.0), (60.0, 0.0), (60.0, 90.0), (0.0, 90.0)]);
        let inside = Chain::line(Point::new(30.0, 0.0), Point::new(30.0, 90.0));
        assert!(laid_open(&half, &inside).is_none());
        let bent = closed(&[(0.0, 0.0), (0.0, 90.0), (9.0, 90.0)]);
        assert!(laid_open(&half, &bent).is_none());
    }
}
