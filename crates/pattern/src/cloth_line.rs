//! A line that lies on the cloth, brought to the outline as that runs now.

use crate::Piece;
use hangtrue_geometry::{Chain, GeometryError, Line, Point, Vec2};

/// An end nearer to the outline than this lies on it, mm.
const ON_OUTLINE: f64 = 1e-6;

/// The line with both ends brought to the outline: cut where it leaves the piece, or
/// drawn on straight to the edge. An end with no edge before or behind it stays.
///
/// # Errors
/// [`GeometryError`] when nothing of the line lies on the piece.
pub fn fitted_to_outline(piece: &Piece, chain: &Chain) -> Result<Chain, GeometryError> {
    let one = end_fitted(piece, chain)?;
    Ok(end_fitted(piece, &one.reversed())?.reversed())
}

/// The same for the far end alone.
fn end_fitted(piece: &Piece, chain: &Chain) -> Result<Chain, GeometryError> {
    let end = chain.end();
    if piece.nearest_within(end, ON_OUTLINE).is_some() {
        return Ok(chain.clone());
    }
    if piece.contains(end) {
        return match first_edge(piece, end, chain.end_direction()) {
            Some(edge) => lengthened_to(chain, edge),
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
    let crossings = piece.crossings_with_line(Line::new(from, from + towards));
    crossings.iter().find(|c| c.2 > ON_OUTLINE).map(|c| from + towards * c.2)
}

/// The chain drawn on straight to a point ahead; a straight line stays one line.
fn lengthened_to(chain: &Chain, to: Point) -> Result<Chain, GeometryError> {
    match chain.segments() {
        [hangtrue_geometry::PathSeg::Line(_)] => Ok(Chain::line(chain.start(), to)),
        _ => chain.then(&Chain::line(chain.end(), to)),
    }
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
}
