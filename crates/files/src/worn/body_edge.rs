//! Snapping the ends of a traced line to the edge of the body.

use crate::photo::{Look, Picture, Tone, Way};
use hangtrue_geometry::{Point, Vec2};

/// An edge is looked for so far to either side of a click, pixels.
const REACH: f64 = 7.0;

/// Light is smoothed over this, pixels.
const BLUR: f64 = 1.2;

/// An edge where the light changes less than this per pixel is none: cloth before a
/// wall as light as itself.
const CLEAR: f64 = 0.02;

/// Rows above and below a click in which the edge is looked for, pixels: clear of
/// the drawn line, which ends there.
const ROWS: [f64; 6] = [-14.0, -11.0, -8.0, 8.0, 11.0, 14.0];

/// The place moved level to the edge of the body near it; none where no edge shows.
/// The middle of what several rows tell: a fold in one of them does no harm.
pub fn body_edge(picture: &Picture, click: Point) -> Option<Point> {
    let look = Look { tone: Tone::BRIGHTNESS, reach: REACH, blur: BLUR, way: Way::Either };
    let mut offsets: Vec<f64> = ROWS
        .iter()
        .filter_map(|row| look.nearest(picture, click + Vec2::new(0.0, *row), Vec2::new(1.0, 0.0)))
        .filter(|edge| edge.slope.abs() >= CLEAR)
        .map(|edge| edge.offset)
        .collect();
    if offsets.len() < ROWS.len() / 2 {
        return None;
    }
    // The middle two: a body that leans moves the upper rows one way and the lower
    // rows the other.
    offsets.sort_by(f64::total_cmp);
    let last = offsets.len() - 1;
    let offset = f64::midpoint(offsets[last / 2], offsets[last.div_ceil(2)]);
    Some(click + Vec2::new(offset, 0.0))
}
