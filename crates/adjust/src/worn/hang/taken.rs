//! What is taken of the photo and the maker that may be a little wrong, and how the
//! camera stands for it.

use super::super::{Horizon, LegSeen, Level, Section, Stand, TracedLine, WornError, WornPhoto};
use hangtrue_geometry::{Point, bracketed_root};
use hangtrue_pattern::words::Length;
use serde::Serialize;

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
    /// The depth of a body that is no true ellipse, share; more where leg is pressed to leg.
    pub const DEPTH: f64 = 0.1;
    pub const PRESSED_DEPTH: f64 = 0.18;
    /// How much squarer or sharper than an ellipse its section is, as the exponent of a
    /// superellipse.
    pub const SQUARE: f64 = 0.12;
    /// A drawn line's own width and the cloth's small waves, mm.
    pub const LINE: f64 = 0.4;
    /// Cloth in folds stands off the section or in, mm: as much as the lens looks down on
    /// it that is taken for height.
    pub const FOLD: f64 = 2.0;
    /// Near an edge, within [`SLANT_LONG`] of it, the line is followed worse, mm.
    pub const SLANT: f64 = 1.0;
}

/// How far from an edge the line is followed worse, share.
pub(super) const SLANT_LONG: f64 = 0.06;

/// What makes a place unsure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Cause {
    /// The level of the photo.
    Level,
    /// How high the lens looked, and from how far.
    Lens,
    /// How long a pixel is.
    Scale,
    /// How deep the body is there, which no photo shows.
    Depth,
    /// Where the edge of the body is.
    Edges,
    /// How well the line itself shows: folds, shadows, what covers it.
    Followed,
    /// Where the seam lies beyond the edge of sight.
    Seam,
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
    /// Standard deviations added to the depth.
    pub(super) depth: f64,
    /// Added to the exponent of the section.
    pub(super) square: f64,
}

impl Taken {
    /// What the photo says, as it stands.
    pub(super) fn of(photo: &WornPhoto) -> Self {
        Self {
            roll: 0.0,
            tilt: 0.0,
            distance: photo.distance,
            lens_height: 0.0,
            heels: 0.0,
            upper: 0.0,
            lower: 0.0,
            length: photo.known.length,
            depth: 0.0,
            square: 0.0,
        }
    }
}

/// A change of [`Taken`] by one standard deviation, and what is unsure.
pub(super) type Step = (Cause, Box<dyn Fn(&mut Taken, f64)>);

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
        (Cause::Level, Box::new(move |t, way| t.roll += way * roll)),
        (Cause::Lens, Box::new(move |t, way| t.distance += way * distance)),
        (Cause::Scale, Box::new(move |t, way| t.length += way * length)),
        (Cause::Scale, Box::new(move |t, way| t.upper += way * upper)),
        (Cause::Scale, Box::new(move |t, way| t.lower += way * lower)),
        (Cause::Depth, Box::new(|t, way| t.depth += way)),
        (Cause::Depth, Box::new(|t, way| t.square += way * sigma::SQUARE)),
    ];
    match photo.horizon {
        Horizon::Middle => {
            steps.push((Cause::Lens, Box::new(|t, way| t.tilt += way * sigma::STRAIGHT_AHEAD)));
        }
        Horizon::Floor { .. } => {
            steps.push((Cause::Lens, Box::new(|t, way| t.lens_height += way * sigma::LENS_HEIGHT)));
            steps.push((Cause::Lens, Box::new(|t, way| t.heels += way * sigma::HEELS)));
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
    let with_girth = |girth| Section::seen_between(a.min(b), a.max(b), taken.distance, girth);
    let section = match with_girth(line.girth) {
        Some(section) => section,
        // An edge that was missed by a little: its depth is a guess, and that is doubted.
        None => {
            let section = with_girth(WIDER * line.girth)?;
            section.shaped(FLATTEST * section.half_width, section.square)
        }
    };
    let (deep, unsure) = match line.pressed {
        false => (section.half_depth, sigma::DEPTH),
        // What is pressed flat between the legs is not seen: the girth lets the rest seem
        // deeper than it is.
        true => (section.half_depth.min(PRESSED_DEPTH * section.half_width), sigma::PRESSED_DEPTH),
    };
    let square = if line.leg == LegSeen::Both { SEAT_SQUARE } else { LEG_SQUARE };
    let deep = deep * (1.0 + unsure * taken.depth).max(0.2);
    Some(section.shaped(deep, square + taken.square))
}

/// A line is seen so many times wider than its girth lets it be before it is refused, and
/// is then taken to be so flat, share of half its width.
const WIDER: f64 = 1.15;
const FLATTEST: f64 = 0.5;

/// A leg that is pressed to the other is no deeper than this share of the half width that
/// is seen (measured from outside: 83 mm deep where an ellipse of the girth was 103).
const PRESSED_DEPTH: f64 = 0.95;

/// The squareness of a leg and of the seat: 2 is an ellipse (the seat was seen to be squarer).
const LEG_SQUARE: f64 = 2.0;
const SEAT_SQUARE: f64 = 2.2;

/// The height of a place on a section, mm above the lens. Without a section (the
/// search for the scale is still far off) it is taken at the body's middle.
pub(super) fn height(stand: &Stand, section: Option<&Section>, distance: f64, place: Point) -> f64 {
    let sight = stand.sight(place);
    sight.y * section.map_or(distance, |s| s.near_side(sight.x))
}
