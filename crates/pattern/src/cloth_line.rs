//! A line that lies on the cloth, brought to the outline as that runs now.

use crate::Piece;
use hangtrue_geometry::{Chain, GeometryError, Line, PathSeg, Point, Vec2};

/// An end nearer to the outline than this lies on it, mm.
const ON_OUTLINE: f64 = 1e-6;

/// The line with both ends brought to the outline: cut where it leaves the piece, or
/// drawn on straight to the edge. An end with no edge before or behind it stays.
///
/// # Errors
/// [`GeometryError`] when nothing of the line lies on the piece.
pub fn fitted_to_outline(piece: &Piece, chain: &Chain) -> Result<Chain, GeometryError> {
    if let [PathSeg::Line(line)] = chain.segments() {
        return Ok(straight_fitted(piece, *line));
    }
    let one = end_fitted(piece, chain)?;
    Ok(end_fitted(piece, &one.reversed())?.reversed())
}

/// The same for a straight line: what it meets is looked for once for both ends.
fn straight_fitted(piece: &Piece, line: Line) -> Chain {
    let along = line.p1 - line.p0;
    let length = along.hypot();
    let edges: Vec<f64> = edges_along(piece, line).collect();
    let after =
        moved_by(edges.iter().map(|edge| edge - length), length, || piece.contains(line.p1));
    let before = moved_by(edges.iter().map(|edge| -edge), length, || piece.contains(line.p0));
    let along = along.normalize();
    Chain::line(line.p0 - along * before, line.p1 + along * after)
}

/// How far an end has to go on to lie on the outline, less than nought back, mm. The
/// `edges` are how far ahead of it the outline is met, `length` how far it may go back.
fn moved_by(
    edges: impl Iterator<Item = f64> + Clone,
    length: f64,
    is_inside: impl FnOnce() -> bool,
) -> f64 {
    if edges.clone().any(|edge| edge.abs() <= ON_OUTLINE) {
        return 0.0;
    }
    let found = if is_inside() {
        edges.filter(|edge| *edge > 0.0).min_by(f64::total_cmp)
    } else {
        let behind = -length + ON_OUTLINE..0.0;
        edges.filter(|edge| behind.contains(edge)).max_by(f64::total_cmp)
    };
    found.unwrap_or(0.0)
}

/// How far along an endless line from its start the outline is met, mm.
fn edges_along(piece: &Piece, line: Line) -> impl Iterator<Item = f64> {
    let parts = piece.seams.iter().flat_map(|seam| &seam.parts);
    parts.flat_map(move |part| part.distances_along_line(line))
}

/// The same for the far end of a curved line alone.
fn end_fitted(piece: &Piece, chain: &Chain) -> Result<Chain, GeometryError> {
    let end = chain.end();
    if piece.nearest_within(end, ON_OUTLINE).is_some() {
        return Ok(chain.clone());
    }
    if piece.contains(end) {
        return match first_edge(piece, end, chain.end_direction()) {
            Some(edge) => chain.then(&Chain::line(end, edge)),
            None => Ok(chain.clone()),
        };
    }
    let outline = piece.seams.iter().flat_map(|seam| seam.crossings(chain));
    match outline.map(|crossing| crossing.there).max_by(f64::total_cmp) {
        Some(at) if at > ON_OUTLINE => chain.part(0.0, at),
        _ => Ok(chain.clone()),
    }
}

/// Where a ray first meets the outline.
fn first_edge(piece: &Piece, from: Point, towards: Vec2) -> Option<Point> {
    let edges = edges_along(piece, Line::new(from, from + towards));
    let first = edges.filter(|edge| *edge > ON_OUTLINE).min_by(f64::total_cmp)?;
    Some(from + towards * first)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::piece::tests::plain_back;

    #[test]
    fn a_line_is_cut_or_drawn_on_to_the_outline() {
        let piece = plain_back();
        let outline = |p: Point| piece.nearest_within(p, 1e-3).is_some();
        let middle = piece.grain.from.midpoint(piece.grain.to);
        for reach in [10.0, 5_000.0] {
            let across = Vec2::new(reach, 0.3 * reach);
            let line = Chain::line(middle - across, middle + across);
            let fitted = fitted_to_outline(&piece, &line).unwrap();
            assert!(outline(fitted.start()) && outline(fitted.end()), "{reach}");
            let way = (fitted.end() - fitted.start()).normalize();
            assert!((way - across.normalize()).hypot() < 1e-9);
            let again = fitted_to_outline(&piece, &fitted).unwrap();
            assert!(again.start().distance(fitted.start()) < 1e-6);
        }
    }

    /// A straight line and the same line as a bent one with a straight bend end at the
    /// same places.
    #[test]
    fn straight_lines_end_where_others_end() {
        let piece = plain_back();
        let middle = piece.grain.from.midpoint(piece.grain.to);
        for step in 0..24 {
            let towards = Vec2::from_angle(f64::from(step) * 0.26);
            for reach in [5.0, 60.0, 900.0] {
                let from = middle + towards * (f64::from(step) * 40.0 - 400.0);
                let straight = Chain::line(from, from + towards * reach);
                let bent = Chain::line(from, from.midpoint(straight.end()));
                let bent = bent.then(&Chain::line(bent.end(), straight.end())).unwrap();
                let [one, two] = [straight, bent].map(|c| fitted_to_outline(&piece, &c).unwrap());
                assert!(one.start().distance(two.start()) < 1e-6, "{step} {reach}");
                assert!(one.end().distance(two.end()) < 1e-6, "{step} {reach}");
            }
        }
    }
}
