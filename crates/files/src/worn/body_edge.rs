//! Snapping the ends of a traced line to the edge of the body.

use crate::photo::{Look, Picture, Tone, Way};
use hangtrue_geometry::{Point, Vec2};

/// An edge is looked for so far to either side of a click, pixels.
const REACH: f64 = 7.0;

/// Light is smoothed over this, pixels.
const BLUR: f64 = 0.7;

/// An edge where the light changes less than this per pixel is none: cloth before a
/// wall as light as itself. Less shows in the mean of many rows than in one.
const CLEAR: f64 = 0.012;

/// Rows above and below a click whose light is averaged along the edge, pixels:
/// clear of the drawn line, which ends there.
const ROWS: std::ops::RangeInclusive<i32> = 6..=20;

/// The most a body's edge is taken to lean, pixels across for each row, and the
/// steps in which its lean is looked for.
const LEAN: f64 = 0.12;
const LEAN_STEPS: i32 = 12;

/// The place moved level to the edge of the body near it; none where no edge shows.
/// `body` is a place on the body to the same side: the light changes on the rounded
/// cloth beside the edge too, so the edge is what is met first from outside.
///
/// Over the few rows beside a line the edge is straight, but leans. The rows are
/// laid over each other along a lean and averaged, so that folds, noise and the
/// weave of the cloth are lost and the edge is not; the lean under which the edge is
/// sharpest is that of the body.
pub fn body_edge(picture: &Picture, click: Point, body: Point) -> Option<Point> {
    let look = Look { tone: Tone::BRIGHTNESS, reach: REACH, blur: BLUR, way: Way::Either };
    let inwards = Vec2::new(if body.x < click.x { -1.0 } else { 1.0 }, 0.0);
    let rows: Vec<f64> = ROWS.flat_map(|r| [f64::from(-r), f64::from(r)]).collect();
    let leans = (-LEAN_STEPS..=LEAN_STEPS).map(|i| LEAN * f64::from(i) / f64::from(LEAN_STEPS));
    let edges = leans.filter_map(|lean| {
        let along: Vec<Vec2> = rows.iter().map(|r| Vec2::new(lean * r, *r)).collect();
        look.first_of_mean(picture, click, inwards, &along)
    });
    let sharpest = edges.max_by(|a, b| a.slope.abs().total_cmp(&b.slope.abs()))?;
    (sharpest.slope.abs() >= CLEAR).then(|| click + inwards * sharpest.offset)
}
