//! Where marks lie, from the distances between them.

use super::PhotoError;
use hangtrue_geometry::Point;
use nalgebra::{DMatrix, DVector};

/// A distance taken with a tape or ruler, standard deviation in mm (common
/// practice, no published source).
pub const TAPED: f64 = 0.5;
/// A distance further than this from what the others make it is wrong, mm.
pub const WRONG: f64 = 4.0;

/// Marks laid out by their distances, the first at the origin and the second to
/// its right, as seen in the picture.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LaidOut {
    /// The places, mm.
    pub(crate) places: Vec<Point>,
    /// Standard deviation of each, each way, mm.
    pub(crate) sigma: f64,
}

/// One measured distance: index of two marks, mm.
pub(crate) type Distance = (usize, usize, f64);

/// Least squares over the places of the marks, started from the picture, which
/// also tells left from right.
pub(crate) fn lay_out(
    photo: &str,
    names: &[String],
    seen: &[Point],
    distances: &[Distance],
) -> Result<LaidOut, PhotoError> {
    let n = seen.len();
    let needed = (2 * n).saturating_sub(3);
    let loose = || PhotoError::LooseDistances {
        photo: photo.to_owned(),
        given: distances.len(),
        marks: n,
        needed,
    };
    if n < 2 || distances.len() < needed {
        return Err(loose());
    }
    let start = from_picture(seen, distances).ok_or_else(loose)?;
    // Unknown: all coordinates but the first mark's and the second's height.
    let index = |mark: usize, axis: usize| match (mark, axis) {
        (0, _) | (1, 1) => None,
        (1, 0) => Some(0),
        (m, a) => Some(2 * m - 3 + a),
    };
    let mut at = start;
    let mut normal = DMatrix::<f64>::zeros(needed, needed);
    let mut left = DVector::<f64>::zeros(distances.len());
    for _ in 0..100 {
        let mut by = DMatrix::<f64>::zeros(distances.len(), needed);
        for (row, &(a, b, measured)) in distances.iter().enumerate() {
            let v = at[b] - at[a];
            let length = v.hypot().max(1e-9);
            left[row] = measured - length;
            for (axis, part) in [v.x / length, v.y / length].into_iter().enumerate() {
                if let Some(i) = index(a, axis) {
                    by[(row, i)] -= part;
                }
                if let Some(i) = index(b, axis) {
                    by[(row, i)] += part;
                }
            }
        }
        normal = by.transpose() * &by;
        let down = by.transpose() * &left;
        // A hair of damping keeps a far start from jumping.
        let damped = &normal + DMatrix::identity(needed, needed) * 1e-9;
        let step = damped.cholesky().ok_or_else(loose)?.solve(&down);
        for (mark, place) in at.iter_mut().enumerate() {
            place.x += index(mark, 0).map_or(0.0, |i| step[i]);
            place.y += index(mark, 1).map_or(0.0, |i| step[i]);
        }
        if step.norm() < 1e-10 {
            break;
        }
    }
    let values = normal.clone().symmetric_eigenvalues();
    if values.min() < 1e-4 || at.iter().any(|p| !p.is_finite()) {
        return Err(loose());
    }
    let worst = (0..distances.len()).max_by(|&a, &b| left[a].abs().total_cmp(&left[b].abs()));
    if let Some(worst) = worst.filter(|&w| left[w].abs() > WRONG) {
        let (a, b, _) = distances[worst];
        let (from, to) = (names[a].clone(), names[b].clone());
        return Err(PhotoError::WrongDistance {
            photo: photo.to_owned(),
            from,
            to,
            off: left[worst].abs(),
        });
    }
    let spare = distances.len() - needed;
    let seen_spread =
        if spare == 0 { TAPED } else { (left.norm_squared() / spare as f64).sqrt().max(TAPED) };
    let variance = normal.try_inverse().ok_or_else(loose)?.trace() / (2 * n) as f64;
    Ok(LaidOut { places: at, sigma: seen_spread * variance.sqrt() })
}

/// The picture turned and scaled to the measured size: a start, and the side
/// from which the marks are seen.
fn from_picture(seen: &[Point], distances: &[Distance]) -> Option<Vec<Point>> {
    let measured: f64 = distances.iter().map(|d| d.2).sum();
    let pixels: f64 = distances.iter().map(|&(a, b, _)| seen[a].distance(seen[b])).sum();
    let scale = measured / pixels;
    if !scale.is_finite() || scale <= 0.0 {
        return None;
    }
    let up = |p: Point| Point::new(p.x, -p.y);
    let along = up(seen[1]) - up(seen[0]);
    let turn = -along.atan2();
    let place = |p: &Point| {
        let v = (up(*p) - up(seen[0])) * scale;
        hangtrue_geometry::turned(v, turn).to_point()
    };
    Some(seen.iter().map(place).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names() -> Vec<String> {
        ["A", "B", "C", "D"].map(str::to_owned).to_vec()
    }

    /// A table seen askew: places in mm and roughly where the picture has them.
    fn table() -> (Vec<Point>, Vec<Point>) {
        let places = [(0.0, 0.0), (700.0, 0.0), (720.0, 1150.0), (-30.0, 1100.0)].map(Point::from);
        let seen = [(300.0, 2500.0), (2200.0, 2600.0), (1900.0, 400.0), (500.0, 350.0)];
        (places.to_vec(), seen.map(Point::from).to_vec())
    }

    fn all(places: &[Point]) -> Vec<Distance> {
        let pairs = (0..4).flat_map(|a| (a + 1..4).map(move |b| (a, b)));
        pairs.map(|(a, b)| (a, b, places[a].distance(places[b]))).collect()
    }

    #[test]
    fn six_distances_give_four_places() {
        let (places, seen) = table();
        let laid = lay_out("photo", &names(), &seen, &all(&places)).unwrap();
        for (a, b) in laid.places.iter().zip(&places) {
            assert!(a.distance(*b) < 1e-6, "{a:?} {b:?}");
        }
        assert!(laid.sigma > 0.1 && laid.sigma < 1.0, "{}", laid.sigma);
    }

    #[test]
    fn sides_alone_are_loose_and_a_wrong_distance_is_named() {
        let (places, seen) = table();
        let mut distances = all(&places);
        let sides: Vec<Distance> =
            distances.iter().copied().filter(|d| (d.1 - d.0) % 2 == 1).collect();
        assert_eq!(sides.len(), 4);
        let loose = lay_out("photo", &names(), &seen, &sides).unwrap_err();
        assert!(matches!(loose, PhotoError::LooseDistances { needed: 5, .. }), "{loose}");
        distances[2].2 += 60.0;
        let wrong = lay_out("photo", &names(), &seen, &distances).unwrap_err();
        assert!(matches!(wrong, PhotoError::WrongDistance { .. }), "{wrong}");
    }
}
