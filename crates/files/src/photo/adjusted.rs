//! A traced outline as points a hand can move: what the desk shows to be pulled.

use super::job::{OutlinePoint, OutlineSeen, Place, USUAL_REACH, point};
use super::outline::BORDER;
use super::{PhotoError, Traced};
use hangtrue_geometry::{Chain, Point, Vec2};

/// The edge may leave the straight line between two points by so much, pixels of a
/// photo of the usual size; the line drawn round through them stays much nearer.
const SAGITTA: f64 = 3.0;
/// Points are not set nearer to each other than this, pixels of such a photo.
const NEAREST: f64 = 24.0;
/// Half the diagonal of such a photo, pixels: a hand pulls points on a screen, not
/// in the pixels of a larger photo.
const USUAL_SIZE: f64 = 750.0;
/// An edge is cut in halves at most so often.
const DEEPEST: u32 = 8;

/// The outline of a traced card as points placed by hand in one of its photos:
/// the corners, and between them as many points as the curves need. The edge is
/// then looked for near the line through them.
///
/// # Errors
/// [`PhotoError::Asked`] when the photo is none of the job, or shows no edge, or
/// more than one stretch of it.
pub fn points_to_place(traced: &Traced, photo: usize) -> Result<OutlineSeen, PhotoError> {
    let ring = seen_ring(traced, photo)?;
    let file = &traced.photos[photo].file;
    let asked = |why: &str| PhotoError::Asked(format!("{file}: {why}").into());
    let n = ring.len();
    let Some(first_hidden) = ring.iter().position(Option::is_none) else {
        let mut points: Vec<OutlinePoint> = ring.into_iter().flatten().collect();
        // Of several photos none is closed by itself: the last point is the first.
        if traced.photos.len() > 1
            && let Some(&first) = points.first()
        {
            points.push(first);
        }
        return Ok(OutlineSeen::Placed { points, snap: USUAL_REACH });
    };
    let turned: Vec<Option<OutlinePoint>> = (0..n).map(|i| ring[(first_hidden + i) % n]).collect();
    let mut stretches = turned.split(Option::is_none).filter(|s| s.len() >= 2);
    let (first, more) = (stretches.next(), stretches.next());
    match (first, more) {
        (Some(only), None) => {
            let points = only.iter().flatten().copied().collect();
            Ok(OutlineSeen::Placed { points, snap: USUAL_REACH })
        }
        (None, _) => Err(asked("it shows no edge of the card, so no points can be placed in it")),
        (Some(_), Some(_)) => Err(asked(
            "it shows more than one stretch of the card's edge, so its points cannot be placed by hand; place them in the other photos, or take a photo that shows one stretch",
        )),
    }
}

/// The points all round; none where the photo does not show them.
fn seen_ring(traced: &Traced, photo: usize) -> Result<Vec<Option<OutlinePoint>>, PhotoError> {
    let solved = traced
        .photos
        .get(photo)
        .ok_or_else(|| PhotoError::Asked(format!("there is no photo number {photo}").into()))?;
    let frame = solved.ground.camera.frame();
    let margin = BORDER + 2.0;
    let seen = |at: Point| {
        solved.sees(at).filter(|p| {
            let inside = |v: f64, most: f64| v >= margin && v <= most - margin;
            inside(p.x, frame.width) && inside(p.y, frame.height)
        })
    };
    let pixel = (frame.half_diagonal() / USUAL_SIZE).max(1.0);
    let mut ring = Vec::new();
    for edge in &traced.edges {
        let mut between = Vec::new();
        halved(edge, (0.0, edge.length()), &seen, (pixel, 0), &mut between);
        let start = seen(edge.start());
        ring.push(start.map(|p| OutlinePoint { at: (p.x, p.y), corner: true }));
        ring.extend(
            between.into_iter().map(|p| p.map(|p| OutlinePoint { at: (p.x, p.y), corner: false })),
        );
    }
    Ok(ring)
}

/// Places between two lengths of an edge where it leaves its chord.
fn halved(
    edge: &Chain,
    (from, to): (f64, f64),
    seen: &dyn Fn(Point) -> Option<Point>,
    (pixel, depth): (f64, u32),
    into: &mut Vec<Option<Point>>,
) {
    let at = |share: f64| seen(edge.point_at(from + (to - from) * share));
    let middle = at(0.5);
    let straight = match (at(0.0), at(1.0)) {
        (Some(a), Some(b)) => {
            let chord = b - a;
            let long = chord.hypot();
            let off = |p: Option<Point>| {
                p.map_or(f64::INFINITY, |p| (p - a).cross(chord).abs() / long.max(1e-9))
            };
            let bow = [0.25, 0.5, 0.75].into_iter().map(|s| off(at(s))).fold(0.0, f64::max);
            long < 2.0 * NEAREST * pixel || bow < SAGITTA * pixel
        }
        // Where the photo ends, the edge is followed in short steps.
        _ => (to - from) < NEAREST,
    };
    if straight || depth >= DEEPEST {
        return;
    }
    let half = from + (to - from) / 2.0;
    halved(edge, (from, half), seen, (pixel, depth + 1), into);
    into.push(middle);
    halved(edge, (half, to), seen, (pixel, depth + 1), into);
}

/// Sets a point into the outline between the two it lies nearest to; tells where
/// in the list it stands.
pub fn set_point(points: &mut Vec<OutlinePoint>, new: OutlinePoint, closed: bool) -> usize {
    let at = point(new.at);
    let n = points.len();
    let gaps = if closed { n } else { n.saturating_sub(1) };
    let off = |i: usize| distance_to(at, point(points[i].at), point(points[(i + 1) % n].at));
    let nearest = (0..gaps).min_by(|&a, &b| off(a).total_cmp(&off(b)));
    let place = nearest.map_or(n, |i| i + 1);
    points.insert(place, new);
    place
}

fn distance_to(p: Point, a: Point, b: Point) -> f64 {
    let along: Vec2 = b - a;
    let share = ((p - a).dot(along) / along.hypot2().max(1e-12)).clamp(0.0, 1.0);
    p.distance(a + along * share)
}

/// The line through points placed by hand, as it is drawn before the edge is
/// looked for near it: round at plain points, sharp at corners; pixels.
pub fn line_through(points: &[OutlinePoint], closed: bool) -> Vec<Place> {
    if points.len() < 2 {
        return points.iter().map(|p| p.at).collect();
    }
    super::outline::through(points, closed).into_iter().map(|p| (p.x, p.y)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_point_is_set_where_it_lies_nearest() {
        let corner = |x, y| OutlinePoint { at: (x, y), corner: true };
        let square =
            vec![corner(0.0, 0.0), corner(100.0, 0.0), corner(100.0, 100.0), corner(0.0, 100.0)];
        let new = OutlinePoint { at: (104.0, 40.0), corner: false };
        let mut closed = square.clone();
        assert_eq!(set_point(&mut closed, new, true), 2);
        assert_eq!(closed[2], new);
        let last = OutlinePoint { at: (-3.0, 50.0), corner: false };
        assert_eq!(set_point(&mut square.clone(), last, true), 4);
        // Open, the side from the last to the first is none.
        let mut open = square.clone();
        assert_eq!(set_point(&mut open, last, false), 1, "the upper side is the nearest left");
        assert_eq!(set_point(&mut Vec::new(), new, true), 0);
    }
}
