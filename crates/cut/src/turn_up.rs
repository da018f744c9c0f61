//! The hem's allowance, cut so that it meets the leg when it is turned up: the edges beside
//! it are the leg's own cut edges mirrored at the fold (common practice, no published
//! source). Mitred on, they would follow the taper, and the turned-up hem would be too
//! small for the leg above it.

use hangtrue_geometry::{Affine, Chain, GeometryError, Line, Point, Vec2};

/// The cut edges before, on and after a hem, so that each two meet or cross.
pub(crate) struct TurnedUp {
    pub before: Chain,
    pub hem: Chain,
    pub after: Chain,
}

/// The cut edges `before` and `after` a hem brought on below its fold by their mirror
/// images, and the hem's own cut edge lengthened to meet them. `fold` is the hem on the
/// sew line, `width` its allowance, mm.
///
/// # Errors
/// [`GeometryError`] when an edge does not come to the fold.
pub(crate) fn turned_up(
    fold: &Chain,
    width: f64,
    (before, hem, after): (&Chain, &Chain, &Chain),
) -> Result<TurnedUp, GeometryError> {
    let at_start = Line::new(fold.start(), fold.start() + fold.start_direction());
    let at_end = Line::new(fold.end(), fold.end() - fold.end_direction());
    Ok(TurnedUp {
        before: mirrored_on(before, at_start, width)?,
        hem: lengthened(hem, LONGER * width)?,
        after: mirrored_on(&after.reversed(), at_end, width)?.reversed(),
    })
}

/// The hem's edge is sought this many widths beside its ends: a mirrored edge runs no
/// flatter than that on any leg.
const LONGER: f64 = 2.0;

/// The edge as far as the fold, then back up mirrored: as far as twice the width needs.
fn mirrored_on(edge: &Chain, fold: Line, width: f64) -> Result<Chain, GeometryError> {
    let to_fold = brought_to(edge, fold)?;
    let mirror = Affine::reflect(fold.p0, fold.p1 - fold.p0);
    let below = to_fold.reversed().moved(mirror);
    let needed = (LONGER * width).min(below.length());
    to_fold.then(&below.part(0.0, needed)?)
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
