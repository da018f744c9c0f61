//! Where the allowances of two seams meet: cut for how they are sewn.
//!
//! The seam that is sewn first has its allowance cut off square to its own line of
//! sewing, at the height where that line, drawn on, leaves the other allowance. On a
//! trued pattern the corners of the two pieces are supplementary, so that height is the
//! same on both, and the ends of the two allowances meet when the seam is sewn (common
//! practice, no published source). Two seams of which neither is sewn first are mitred:
//! both cut edges run on until they cross.

use crate::names::POCKET_OPENING;
use hangtrue_geometry::{Chain, GeometryError, Line, Point, Vec2, tolerance};
use hangtrue_pattern::names;

/// A square end reaches no farther beyond the corner than this many widths of the other
/// allowance: a sharper corner is mitred.
const FARTHEST: f64 = 3.0;

/// Which seam is sewn before which: the lower first. The yoke, then the opening of a pocket,
/// side seam and inseam, then the crotch seam through both legs, then the waist (common
/// practice, no published source).
pub(crate) fn order_of_sewing(seam: &str) -> u8 {
    match seam {
        names::YOKE_SEAM => 0,
        names::SIDE | names::INSEAM | POCKET_OPENING => 1,
        names::WAIST => 3,
        _ => 2,
    }
}

/// A corner between two cut edges that follow each other round the outline.
pub(crate) struct Corner {
    /// The corner on the sew line.
    pub at: Point,
    /// Direction of travel in which the sew line arrives, and in which it leaves.
    pub directions: (Vec2, Vec2),
    /// The allowances of the seam that arrives and of the one that leaves, mm.
    pub widths: (f64, f64),
    /// Their places in the order of sewing.
    pub order: (u8, u8),
}

impl Corner {
    /// The cut edge before the corner and the one behind it made one.
    pub fn joined(&self, before: &Chain, after: &Chain) -> Result<Chain, GeometryError> {
        let squared = match self.order {
            (first, second) if first < second && self.widths.0 > 0.0 => {
                square_end(before, after, self.at, self.directions.0, self.widths.1)?
            }
            (first, second) if first > second && self.widths.1 > 0.0 => {
                let (before, after) = (before.reversed(), after.reversed());
                let back = -self.directions.1;
                square_end(&after, &before, self.at, back, self.widths.0)?.map(|c| c.reversed())
            }
            _ => None,
        };
        match squared {
            Some(joined) => Ok(joined),
            None if self.widths.0 <= 0.0 && self.widths.1 > 0.0 => run_on(before, after),
            None if self.widths.1 <= 0.0 && self.widths.0 > 0.0 => {
                run_on(&after.reversed(), &before.reversed()).map(|joined| joined.reversed())
            }
            None => before.mitred(after),
        }
    }
}

/// An edge without allowance runs on straight until it meets the cut edge of the other,
/// which may have begun behind that place.
fn run_on(bare: &Chain, other: &Chain) -> Result<Chain, GeometryError> {
    let longer = bare.lengthened(FARTHEST * bare.end().distance(other.start()).max(1.0))?;
    let beyond = bare.length() - 1e-6;
    let met = longer.crossings(other).into_iter().filter(|c| c.here > beyond);
    match met.min_by(|a, b| a.here.total_cmp(&b.here)) {
        Some(c) if c.there > 1e-6 => {
            let (kept, rest) = (longer.part(0.0, c.here)?, other.part(c.there, other.length())?);
            let rest = rest.with_ends(kept.end(), rest.end());
            kept.then(&rest)
        }
        _ => bare.mitred(other),
    }
}

/// The edge sewn first with its end cut off square, then the other from there on; none
/// where the other does not come to the drawn-on line.
fn square_end(
    first: &Chain,
    other: &Chain,
    corner: Point,
    along: Vec2,
    width: f64,
) -> Result<Option<Chain>, GeometryError> {
    let ray = Line::new(corner, corner + along);
    let most = FARTHEST * width.max(1.0);
    let near = |c: &hangtrue_geometry::Crossing| (-1e-6..=most).contains(&c.there);
    let start = other.start();
    let met = other.crossings_with_line(ray).into_iter().find(near);
    let (meets, rest) = match met {
        Some(c) if c.here > 1e-6 => (c.point, other.part(c.here, other.length())?),
        Some(c) => (c.point, other.clone()),
        None => {
            let back = Line::new(start, start - other.start_direction());
            let Some(meets) = back.crossing_point(ray) else { return Ok(None) };
            let behind = (meets - start).dot(other.start_direction()) <= 1e-9;
            let reach = (meets - corner).dot(along);
            if !behind || !(-1e-6..=most).contains(&reach) {
                return Ok(None);
            }
            (meets, Chain::line(meets, start).then(other)?)
        }
    };
    let square = first.end() + along * (meets - first.end()).dot(along);
    let ahead = (square - first.end()).dot(first.end_direction()) >= -1e-9;
    if !ahead {
        return Ok(None);
    }
    let mut joined = first.clone();
    for (to, least) in [(square, tolerance::OFFSET), (meets, tolerance::SAME_POINT)] {
        if joined.end().distance(to) > least {
            joined = joined.then(&Chain::line(joined.end(), to))?;
        }
    }
    joined.then(&rest).map(Some)
}
