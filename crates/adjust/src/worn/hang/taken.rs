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
    /// Its squareness, where it is told.
    pub const SQUARE: f64 = 0.25;
    /// A drawn line's own width and the cloth's small waves, mm.
    pub const LINE: f64 = 0.4;
    /// Cloth in folds stands off the section or in, mm.
    pub const FOLD: f64 = 1.5;
    /// An end near which all places lie off the line, mm.
    pub const OFF_LINE: f64 = 4.0;
    /// Where a seam lies beyond the edge of sight: shares of the line.
    pub const AT_INNER: f64 = 0.03;
    pub const AT_SIDE: f64 = 0.025;
    /// The same at an inner end that lies against the other leg.
    pub const AT_PRESSED: f64 = 0.06;
}

/// Cloth worn lies in small folds: it is so much longer than the section it lies on,
/// share. Ours, no published source.
const SLACK: f64 = 0.01;

/// So much of the line lies between the widest place of the body and the edge of sight,
/// share: half the depth over the distance, about.
const TANGENT: f64 = 0.01;

/// How far the depth of an ellipse of the girth is believed, share: folds, cloth that
/// stands off and a flat inner side all make the girth longer than the section.
const GIRTH_DEPTH: f64 = 0.12;

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
    /// Added to what lies beyond the edges of sight, in standard deviations.
    pub(super) inner: f64,
    pub(super) side: f64,
    /// Added to the squareness.
    pub(super) square: f64,
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
        Box::new(|t, way| t.depth += way),
    ];
    if photo.lines.iter().any(|l| l.body.is_some()) {
        steps.push(Box::new(|t, way| t.inner += way));
        steps.push(Box::new(|t, way| t.side += way));
        steps.push(Box::new(|t, way| t.square += way * sigma::SQUARE));
    }
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
///
/// Where the depth is known besides the girth, both are weighed by how sure they are.
/// Where leg is pressed to leg the girth says nothing of it: what lies between the legs is
/// not seen.
pub(super) fn section(stand: &Stand, line: &TracedLine, taken: &Taken) -> Option<Section> {
    let (first, last) = (line.points.first()?, line.points.last()?);
    let (a, b) = (stand.sight(*first).x, stand.sight(*last).x);
    let section = Section::seen_between(a.min(b), a.max(b), taken.distance, line.girth);
    let Some(body) = line.body else {
        let mut section = section?;
        section.half_depth *= 1.0 + taken.depth * sigma::DEPTH;
        return Some(section);
    };
    // A fold or a pressed leg may be seen wider than its girth lets an ellipse be.
    let section = section.or_else(|| {
        Section::seen_between(a.min(b), a.max(b), taken.distance, WIDER * line.girth)
    })?;
    let known = body.depth * section.half_width;
    let (of_body, of_girth) = (body.sure.powi(-2), GIRTH_DEPTH.powi(-2));
    let girth = if body.pressed { 0.0 } else { of_girth };
    let weight = girth / (girth + of_body);
    let depth = weight * section.half_depth + (1.0 - weight) * known;
    let sure = section.half_width / (girth + of_body).sqrt();
    let depth = (depth + taken.depth * sure).max(LEAST_DEPTH * section.half_width);
    Some(section.shaped(depth, (body.square + taken.square).max(LEAST_SQUARE)))
}

/// A line is seen this much wider than its girth lets expect before it is refused, times.
const WIDER: f64 = 1.25;

/// No body is flatter or less square than this.
const LEAST_DEPTH: f64 = 0.2;
const LEAST_SQUARE: f64 = 1.6;

/// How much of a line lies beyond the edges of sight, shares of its length from seam to
/// seam: at its first and at its last end. Less than nought where the seam is in sight.
///
/// The pattern knows how long the line is on its piece and how much of the girth that is:
/// half the girth is seen, about. Where leg is pressed to leg, what is not seen of the
/// inner end is what is left.
pub(super) fn hidden(line: &TracedLine, seen: f64, taken: &Taken) -> [f64; 2] {
    let Some(body) = line.body.filter(|b| b.length > 0.0) else { return [0.0; 2] };
    let even = 0.5 * (1.0 - 0.5 * line.girth / body.length) + TANGENT;
    let side = even + taken.side * sigma::AT_SIDE;
    if line.leg == LegSeen::Both {
        return [even + taken.inner * sigma::AT_SIDE, side];
    }
    let inner = match body.pressed {
        false => even + taken.inner * sigma::AT_INNER,
        true => {
            let left = 1.0 - even - (1.0 + SLACK) * seen / body.length;
            left.max(even) + taken.inner * sigma::AT_PRESSED
        }
    };
    [inner, side].map(|share| share.clamp(-MOST_HIDDEN, MOST_HIDDEN))
}

/// No more than this of a line is out of sight at an end, share.
const MOST_HIDDEN: f64 = 0.2;

/// The height of a place on a section, mm above the lens. Without a section (the
/// search for the scale is still far off) it is taken at the body's middle.
pub(super) fn height(stand: &Stand, section: Option<&Section>, distance: f64, place: Point) -> f64 {
    let sight = stand.sight(place);
    sight.y * section.map_or(distance, |s| s.near_side(sight.x))
}
