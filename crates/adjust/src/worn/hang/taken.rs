//! What is taken of the photo and the maker that may be a little wrong, and how the
//! camera stands for it.

use super::super::{Horizon, LegSeen, Level, Section, Stand, TracedLine, WornError, WornPhoto};
use hangtrue_geometry::{Point, bracketed_root};
use hangtrue_pattern::words::Length;

/// What the maker can be wrong by, one standard deviation each. Our own
/// estimates; no published source.
pub(super) mod sigma {
    /// A click, pixels.
    pub const CLICK: f64 = 2.0;
    /// No edge of a body is surer than this, pixels.
    pub const EDGE: f64 = 0.4;
    /// The camera's own level and its looking straight ahead, radians.
    pub const CAMERA_LEVEL: f64 = 0.0175;
    pub const STRAIGHT_AHEAD: f64 = 0.026;
    /// Distance from the lens to the middle of the body, share.
    pub const DISTANCE: f64 = 0.02;
    /// Height of the lens, mm.
    pub const LENS_HEIGHT: f64 = 15.0;
    /// The heels stand before or behind the middle of the body, mm.
    pub const HEELS: f64 = 25.0;
    /// A length along the grain, worn: share (folds, stretch, slant).
    pub const LENGTH: f64 = 0.015;
    /// The depth of a body that is no true ellipse, share.
    pub const DEPTH: f64 = 0.1;
    /// A drawn line's own width and the cloth's small waves, mm.
    pub const LINE: f64 = 0.4;
}

/// Everything that is not sure, as it is taken.
#[derive(Debug, Clone, Copy)]
pub(super) struct Taken {
    pub(super) roll: f64,
    pub(super) tilt: f64,
    pub(super) distance: f64,
    pub(super) lens_height: f64,
    pub(super) heels: f64,
    pub(super) upper: f64,
    pub(super) lower: f64,
    pub(super) length: f64,
    pub(super) depth: f64,
}

/// A change of [`Taken`] by one standard deviation.
pub(super) type Step = Box<dyn Fn(&mut Taken, f64)>;

/// The things that may be wrong in this photo.
pub(super) fn steps(photo: &WornPhoto) -> Vec<Step> {
    let click_roll = |a: Point, b: Point| sigma::CLICK * std::f64::consts::SQRT_2 / (b - a).hypot();
    let roll = match photo.level {
        Level::Plumb(a, b) | Level::Floor(a, b) => click_roll(a, b),
        Level::Camera => sigma::CAMERA_LEVEL,
    };
    let sure = |name: &(String, LegSeen)| {
        photo.line(&name.0, name.1).map_or(sigma::CLICK, |l| l.sigma.max(1.0))
    };
    let (upper, lower) = (sure(&photo.known.upper), sure(&photo.known.lower));
    let distance = photo.distance * sigma::DISTANCE;
    let length = photo.known.length * sigma::LENGTH;
    let mut steps: Vec<Step> = vec![
        Box::new(move |t, way| t.roll += way * roll),
        Box::new(move |t, way| t.distance += way * distance),
        Box::new(move |t, way| t.length += way * length),
        Box::new(move |t, way| t.upper += way * upper),
        Box::new(move |t, way| t.lower += way * lower),
        Box::new(|t, way| t.depth += way * sigma::DEPTH),
    ];
    match photo.horizon {
        Horizon::Middle => steps.push(Box::new(|t, way| t.tilt += way * sigma::STRAIGHT_AHEAD)),
        Horizon::Floor { .. } => {
            steps.push(Box::new(|t, way| t.lens_height += way * sigma::LENS_HEIGHT));
            steps.push(Box::new(|t, way| t.heels += way * sigma::HEELS));
        }
    }
    steps
}

/// The photo with what is taken in place of what was marked.
pub(super) fn as_taken(photo: &WornPhoto, taken: &Taken) -> WornPhoto {
    let mut other = photo.clone();
    other.distance = taken.distance;
    if let Horizon::Floor { lens_height, heels } = photo.horizon {
        // The heels stand off the middle: their sight belongs to another distance.
        let off = taken.distance / (taken.distance + taken.heels);
        let lens_height = (lens_height + taken.lens_height) * off;
        other.horizon = Horizon::Floor { lens_height, heels };
    }
    other.known.length = taken.length;
    other.known.upper_at.y += taken.upper;
    other.known.lower_at.y += taken.lower;
    other
}

/// Focal lengths tried, as shares of what they would be were the body flat and the
/// camera level.
pub(super) const FOCAL: (f64, f64) = (0.6, 1.6);

/// The camera that sees the known length as long as it is.
pub(super) fn stand(photo: &WornPhoto, taken: &Taken) -> Result<Stand, WornError> {
    let photo = as_taken(photo, taken);
    let ends =
        [(&photo.known.upper, photo.known.upper_at), (&photo.known.lower, photo.known.lower_at)];
    let ends: Vec<(&TracedLine, Point)> = ends
        .into_iter()
        .map(|(name, at)| {
            let line = photo.line(&name.0, name.1);
            line.map(|l| (l, at)).ok_or_else(|| WornError::LineNotTraced { line: name.0.clone() })
        })
        .collect::<Result<_, _>>()?;
    let with = |focal: f64| Stand::new(&photo, focal, taken.roll, taken.tilt);
    let apart = |focal: f64| {
        let stand = with(focal);
        let heights: Vec<f64> = ends
            .iter()
            .map(|(line, at)| {
                height(&stand, section(&stand, line, taken).as_ref(), photo.distance, *at)
            })
            .collect();
        heights[0] - heights[1] - photo.known.length
    };
    let seen = photo.known.lower_at.y - photo.known.upper_at.y;
    let flat = seen * photo.distance / photo.known.length;
    let no_scale = || WornError::NoScale {
        distance: Length(photo.distance),
        length: Length(photo.known.length),
    };
    if flat <= 0.0 {
        return Err(no_scale());
    }
    let (low, high) = (FOCAL.0 * flat, FOCAL.1 * flat);
    bracketed_root(apart, low, high, 1e-6).map(with).map_err(|_| no_scale())
}

/// The body at a line; None when no ellipse is that wide and that little round.
pub(super) fn section(stand: &Stand, line: &TracedLine, taken: &Taken) -> Option<Section> {
    let (first, last) = (line.points.first()?, line.points.last()?);
    let (a, b) = (stand.sight(*first).x, stand.sight(*last).x);
    let mut section = Section::seen_between(a.min(b), a.max(b), taken.distance, line.girth)?;
    section.half_depth *= taken.depth;
    Some(section)
}

/// The height of a place on a section, mm above the lens. Without a section (the
/// search for the scale is still far off) it is taken at the body's middle.
pub(super) fn height(stand: &Stand, section: Option<&Section>, distance: f64, place: Point) -> f64 {
    let sight = stand.sight(place);
    sight.y * section.map_or(distance, |s| s.near_side(sight.x))
}
