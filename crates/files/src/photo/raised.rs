//! A card that does not lie in the plane of its marks: it is thick, or its edge curls.
//!
//! A place that stands h above the plane is seen where the plane lies further out from the
//! foot of the camera, by h times the distance from that foot over the height of the lens.
//! No mark in the plane shows it, so the maker says how high it may be, and what that moves
//! is added to what is told.

use super::Expected;
use super::job::{LensKind, PhotoJob};
use super::join::OutlinePlace;
use super::view::CardPhoto;
use hangtrue_geometry::Point;
use hangtrue_geometry::camera::Eye;

/// The shortest focal lengths that are usual, in half diagonals of the picture: 24 mm
/// beside a picture of 36 by 24 mm for a telephone, 16 mm for a wide lens (memory). The
/// shorter it is, the nearer the lens was, and the more a height moves.
const USUAL: f64 = 1.1;
const WIDE: f64 = 0.74;

impl LensKind {
    /// None for a scanner, which looks straight down everywhere.
    fn shortest(self) -> Option<f64> {
        match self {
            Self::Scanner => None,
            Self::Camera => Some(USUAL),
            Self::Wide => Some(WIDE),
        }
    }
}

/// How far the edge may be moved by standing so high above the plane, mm: root of the mean
/// square round the outline, and at the worst place.
pub(crate) fn moved(
    photos: &[PhotoJob],
    views: &[CardPhoto],
    outline: &[OutlinePlace],
    raised: f64,
) -> Expected {
    let eye = |(photo, view): (&PhotoJob, &CardPhoto)| -> Option<(Point, f64)> {
        let Eye { foot, height } = view.ground.camera.eye(photo.lens.shortest()?)?;
        Some((view.laying.to_table * foot, height))
    };
    let eyes: Vec<Option<(Point, f64)>> = photos.iter().zip(views).map(eye).collect();
    let off = |place: &OutlinePlace| {
        let (foot, height) = eyes.get(place.photo).copied().flatten()?;
        // What stands as high as the lens is not seen at all.
        let share = raised / (height - raised).max(0.1 * height);
        Some(((place.on.at - foot).dot(place.on.out) * share).abs())
    };
    let off: Vec<f64> = outline.iter().filter_map(off).collect();
    let mean = off.iter().map(|o| o * o).sum::<f64>() / outline.len().max(1) as f64;
    Expected { rms: mean.sqrt(), worst: off.iter().copied().fold(0.0, f64::max) }
}
