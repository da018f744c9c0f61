//! The hem's allowance, cut so that it meets the leg when it is turned up: the edges beside
//! it are the leg's own cut edges mirrored at the fold (common practice, no published
//! source). Mitred on, they would follow the taper, and the turned-up hem would be too
//! small for the leg above it. A turn-up is folded three times: up at the hem, down again at
//! its top, and what is left of the hem's allowance up inside the leg.

use hangtrue_geometry::{Affine, Chain, GeometryError, Line, Point, Vec2};
use hangtrue_pattern::{InnerLine, Piece, names};

/// How high a piece is turned up over the outside of its leg, mm; nought where it is not.
pub(crate) fn height_of_turn_up(piece: &Piece) -> f64 {
    let Ok(hem) = piece.seam(names::HEM) else { return 0.0 };
    let line = piece.inner.iter().find(|line| line.name == names::TURN_UP);
    line.map_or(0.0, |line| {
        let middle = line.chain.point_at(0.5 * line.chain.length());
        hem.nearest(middle).1
    })
}

/// Where the cloth of a turn-up is folded: at the hem, at its top, and at the hem again.
pub(crate) fn folds_of_turn_up(piece: &Piece) -> Vec<InnerLine> {
    let (up, hem) = (height_of_turn_up(piece), piece.seam(names::HEM));
    let (true, Ok(hem)) = (up > 0.0, hem) else { return Vec::new() };
    let places = [("fold up at the hem", 0.0), ("top of the turn-up", up), ("fold in", 2.0 * up)];
    let fold = |(name, below): (&str, f64)| {
        let chain = hem.parts[0].offset(-below * piece.orientation()).ok()?;
        Some(InnerLine { name: name.to_owned(), chain })
    };
    places.into_iter().filter_map(fold).collect()
}

/// The cut edges before, on and after a hem, so that each two meet or cross.
pub(crate) struct TurnedUp {
    pub before: Chain,
    pub hem: Chain,
    pub after: Chain,
}

/// The cut edges `before` and `after` a hem brought on below its fold by their mirror
/// images, and the hem's own cut edge lengthened to meet them. `fold` is the hem on the
/// sew line, `up` the height of a turn-up, `width` the hem's allowance, mm.
///
/// # Errors
/// [`GeometryError`] when an edge does not come to the fold.
pub(crate) fn turned_up(
    fold: &Chain,
    (up, width): (f64, f64),
    (before, hem, after): (&Chain, &Chain, &Chain),
) -> Result<TurnedUp, GeometryError> {
    let at_start = Line::new(fold.start(), fold.start() + fold.start_direction());
    let at_end = Line::new(fold.end(), fold.end() - fold.end_direction());
    Ok(TurnedUp {
        before: mirrored_on(before, at_start, (up, width))?,
        hem: lengthened(hem, LONGER * (width + up))?,
        after: mirrored_on(&after.reversed(), at_end, (up, width))?.reversed(),
    })
}

/// The hem's edge is sought this many widths beside its ends: a mirrored edge runs no
/// flatter than that on any leg.
const LONGER: f64 = 2.0;

/// An edge runs on so far past the last fold at the least, mm, so that it crosses a hem
/// without allowance.
const PAST: f64 = 5.0;

/// The edge as far as the fold, then back up mirrored: as far as twice the width needs. With
/// a turn-up it goes to and fro once more before that.
fn mirrored_on(edge: &Chain, fold: Line, (up, width): (f64, f64)) -> Result<Chain, GeometryError> {
    let to_fold = brought_to(edge, fold)?;
    let mirror = Affine::reflect(fold.p0, fold.p1 - fold.p0);
    let below = to_fold.reversed().moved(mirror);
    let needed = (LONGER * width).max(PAST).min(below.length());
    if up <= 0.0 {
        return to_fold.then(&below.part(0.0, needed)?);
    }
    // Down: out of the leg, square to the fold.
    let across = (fold.p1 - fold.p0).normalize();
    let square = Vec2::new(-across.y, across.x);
    let down = if square.dot(to_fold.end_direction()) < 0.0 { -square } else { square };
    let top = Line::new(fold.p0 + down * up, fold.p1 + down * up);
    let folded = brought_to_first(&below, top)?;
    let back = folded.reversed().moved(Affine::reflect(top.p0, top.p1 - top.p0));
    // Inside, the allowance lies on the leg again, twice the height lower on the paper.
    let inside = below.moved(Affine::translate(down * (2.0 * up)));
    let inside = inside.part(0.0, needed)?;
    let inside = inside.with_ends(back.end(), inside.end());
    to_fold.then(&folded)?.then(&back)?.then(&inside)
}

/// The edge cut where it first meets the endless line.
fn brought_to_first(edge: &Chain, line: Line) -> Result<Chain, GeometryError> {
    match edge.crossings_with_line(line).first() {
        Some(met) => edge.part(0.0, met.here),
        None => brought_to(edge, line),
    }
}
/// The edge cut where it meets the endless line, or drawn on straight to it.
fn brought_to(edge: &Chain, line: Line) -> Result<Chain, GeometryError> {
    // Only near its end: far up, a curved edge may meet the line of a slanting hem again.
    let near = edge.length() / 2.0;
    let met = edge.crossings_with_line(line).into_iter().rfind(|c| c.here > near);
    if let Some(met) = met {
        return edge.part(0.0, met.here);
    }
    let ahead = Line::new(edge.end(), edge.end() + edge.end_direction());
    match ahead.crossing_point(line) {
        Some(meets) if (meets - edge.end()).dot(edge.end_direction()) > 0.0 => {
            edge.then(&Chain::line(edge.end(), meets))
        }
        _ => Ok(edge.clone()),
    }
}

/// The chain drawn on straight at both ends.
fn lengthened(chain: &Chain, by: f64) -> Result<Chain, GeometryError> {
    let on = |from: Point, along: Vec2| from + along * by;
    let first = on(chain.start(), -chain.start_direction());
    let last = on(chain.end(), chain.end_direction());
    Chain::line(first, chain.start()).then(chain)?.then(&Chain::line(chain.end(), last))
}
