//! How far the traced lines hang from level, with how sure that is.

mod curve;
mod figures;
mod on_body;
mod seams;
mod shares;
mod spots;
mod taken;
mod told;

use super::stand::check_level;
use super::{Horizon, LegSeen, Stand, TracedLine, View, WornError, WornPhoto};
use curve::Curve;
use figures::{below_last, sag, turn, within};
use hangtrue_geometry::Point;
use hangtrue_pattern::{
    words,
    words::{Length, Words},
};
use on_body::lay_on_body;
use serde::Serialize;
use shares::{at, between, share};
use spots::{spots_of, unsure_of};
use taken::{Taken, section, stand, steps};

pub use taken::Cause;
pub use told::MOST_ERROR;

/// A value and how far the truth may lie from it: within ± `error` in about 95 of
/// 100 (two standard deviations).
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Within {
    /// The value.
    pub value: f64,
    /// Two standard deviations.
    pub error: f64,
}

/// A place along a line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct HangStation {
    /// How far along the line, 0 at its first edge, 1 at its last.
    pub share: f64,
    /// Where it is in the photo, pixels.
    pub place: Point,
    /// Where the level through the side seam, or the last edge where nothing is known of it,
    /// is seen above or below that place.
    pub level: Point,
    /// How many times longer the cloth is than it looks there, because it turns
    /// away: 1 where it faces the lens.
    pub turned: f64,
    /// How far it hangs below the last edge (the side, on one leg), mm.
    pub below_last: Within,
    /// How far it hangs below the straight between the two edges, mm: a droop;
    /// negative for a rise.
    pub sag: Within,
    /// The same from seam to seam, for the reading: how far it hangs below the side seam at
    /// the same share of the way from seam to seam. Where the seams lie, the pattern's
    /// lengths say; what of it is out of sight is drawn on from what is seen.
    pub below_side: Within,
    /// Why it is not told: what makes it more unsure than [`MOST_ERROR`]; none where it is.
    pub not_told: Option<Cause>,
}

/// How a line hangs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Hang {
    /// The line.
    pub line: String,
    /// The leg.
    pub leg: LegSeen,
    /// From where it was seen.
    pub view: View,
    /// Places at even shares of the seen length.
    pub stations: Vec<HangStation>,
    /// How far the first edge hangs below the last, mm.
    pub fall: Within,
    /// The slope of the straight between the edges, degrees: positive when the
    /// first edge is the lower.
    pub slope: Within,
    /// How much the line turns at its middle, degrees: positive for a V.
    pub turn: Within,
    /// What a pixel is at the line's middle, mm.
    pub mm_per_pixel: Within,
    /// How much of the bend seen was no droop but the roundness of the body, mm.
    pub roundness: f64,
    /// How much longer the line is than it looks, times, at its most turned-away
    /// place that is read: what foreshortening hides.
    pub foreshortened: f64,
    /// How deep the body is taken to be, as a share of how wide it is seen: what its
    /// girth leaves.
    pub depth: f64,
    /// Which shares of the places near the first and the last end lie off the line's curve:
    /// a fold, a shadow or another line.
    pub off_at_ends: [f64; 2],
    /// How far the line lies below the lens, mm; less than nought above it.
    pub below_lens: f64,
    /// How the stations may be off together below the side seam: products of the ±, mm²,
    /// row by row. A bow of the line is surer than each of its places.
    #[serde(skip)]
    pub together: Vec<Vec<f64>>,
    /// How long it is along the cloth from edge to edge of sight, mm.
    pub seen: f64,
}

/// A leg or a seat is about so deep as a share of its width (memory, with room).
const LIKELY_DEPTH: std::ops::RangeInclusive<f64> = 0.55..=1.5;

/// A coarser photo cannot show a droop of a few mm, mm a pixel.
const COARSE: f64 = 1.0;

impl Hang {
    /// What is doubtful about how the line was marked or photographed, in words.
    pub fn doubts(&self) -> Vec<Words> {
        let mut doubts = Vec::new();
        if !LIKELY_DEPTH.contains(&self.depth) {
            let way = if self.depth > 1.0 { "narrower" } else { "wider" };
            doubts.push(words![
                "The ",
                &self.line,
                " line is seen ",
                way,
                " than its girth lets expect: look whether its ends lie at the edge of the body, and measure the distance to the lens again."
            ]);
        }
        if self.mm_per_pixel.value > COARSE {
            doubts.push(words![
                "A pixel is ",
                Length(self.mm_per_pixel.value),
                " at the ",
                &self.line,
                " line: take the photo from nearer or with more pixels, under ",
                (Length(COARSE), 0),
                ", to see droops of a few mm."
            ]);
        }
        doubts
    }
}

/// How many places of a line are told.
pub const SHARES: usize = 9;

/// How all the lines of the photo hang.
///
/// The seams hold two lines apart by what the pattern says; in the middle a line
/// that droops comes nearer to the one below it, and the cloth between them falls
/// into folds. The known length is seen in the middle, so it is shortened by the
/// droop found there, and the photo read again until that no longer changes.
///
/// # Errors
/// [`WornError`] when marks are missing or cannot be.
pub fn hangs(photo: &WornPhoto) -> Result<Vec<Hang>, WornError> {
    stand_and_hangs(photo).map(|(_, hangs)| hangs)
}

/// The same, and how the camera stood.
///
/// # Errors
/// As [`hangs`].
pub fn stand_and_hangs(photo: &WornPhoto) -> Result<(Stand, Vec<Hang>), WornError> {
    check(photo)?;
    let mut as_seen = photo.clone();
    for _ in 0..AGAIN {
        let found = hangs_once(&as_seen, false)?.1;
        let droop = droop_at(&found, &photo.known.upper, photo.known.upper_at)
            - droop_at(&found, &photo.known.lower, photo.known.lower_at);
        as_seen.known.length = photo.known.length - droop;
    }
    hangs_once(&as_seen, true)
}

/// Times the photo is read again; each time the error is less by about the droop
/// over the known length.
const AGAIN: usize = 4;

/// How far a line hangs below its ends where the grain crosses it, mm: between the
/// stations beside that place.
fn droop_at(hangs: &[Hang], name: &(String, LegSeen), place: Point) -> f64 {
    let Some(hang) = hangs.iter().find(|h| h.line == name.0 && h.leg == name.1) else {
        return 0.0;
    };
    let between = |p: &&[HangStation]| (p[0].place.x - place.x) * (p[1].place.x - place.x) <= 0.0;
    hang.stations.windows(2).find(between).map_or(0.0, |p| {
        let way = p[1].place.x - p[0].place.x;
        let t = if way == 0.0 { 0.0 } else { (place.x - p[0].place.x) / way };
        p[0].sag.value + t * (p[1].sag.value - p[0].sag.value)
    })
}

/// How they hang with the known length as it stands; how far that may be off is reckoned
/// only when it is asked for.
fn hangs_once(photo: &WornPhoto, with_errors: bool) -> Result<(Stand, Vec<Hang>), WornError> {
    let taken = Taken::of(photo);
    let stand = stand(photo, &taken)?;
    let steps = if with_errors { steps(photo) } else { Vec::new() };
    let moved: Vec<Moved> = steps
        .iter()
        .map(|(cause, step)| {
            let both = [1.0, -1.0].map(|way| {
                let mut other = taken;
                step(&mut other, way);
                // A step that no camera could have taken says nothing.
                taken::stand(photo, &other).map_or((stand, taken), |s| (s, other))
            });
            (*cause, both)
        })
        .collect();
    let hangs = photo.lines.iter().map(|line| hang(photo, line, (stand, taken), &moved));
    Ok((stand, hangs.collect::<Result<_, _>>()?))
}

/// How the camera would stand and what would be taken, were something one standard
/// deviation more or less.
type Moved = (Cause, [(Stand, Taken); 2]);

fn hang(
    photo: &WornPhoto,
    line: &TracedLine,
    base: (Stand, Taken),
    moved: &[Moved],
) -> Result<Hang, WornError> {
    let laid = lay_on_body(line, (&base.0, &base.1), [0.0; 2])?;
    let unsure = unsure_of(line, &base, &laid, moved);
    let curve = through(line, &laid, &unsure)?;
    let on_body = section(&base.0, line, &base.1);
    let told = told::LineAssessment::of(line, &curve, &laid);
    let level_at = |place: Point| {
        let x = base.0.sight(place).x;
        let z = on_body.as_ref().map_or(base.1.distance, |s| s.near_side(x));
        base.0.seen(x * z, told.side, z)
    };
    let turned_at = |place: Point| {
        let x = base.0.sight(place).x;
        on_body.as_ref().map_or(1.0, |s| s.turned(x))
    };
    let stations = (0..SHARES)
        .map(|i| {
            let place = place_of(line, &laid.shares, share(i));
            HangStation {
                share: share(i),
                place,
                level: level_at(place),
                turned: turned_at(place),
                below_last: within(&curve, &below_last(i)),
                sag: within(&curve, &sag(i)),
                below_side: told.below_side(i),
                not_told: told.why_not(i),
            }
        })
        .collect();
    let fall = within(&curve, &below_last(0));
    let degrees = |w: Within, run: f64| Within {
        value: w.value.atan2(run).to_degrees(),
        error: w.error.atan2(run).to_degrees(),
    };
    // How the flat heights would hang below their own ends, less how the laid ones do.
    let flat = |i: usize| {
        let of = |heights: &[f64]| {
            let told = |s: f64| at(&between(&laid.shares, s), heights);
            told(0.0) + share(i) * (told(1.0) - told(0.0)) - told(share(i))
        };
        (of(&laid.flat) - of(&laid.heights)).abs()
    };
    Ok(Hang {
        line: line.name.clone(),
        leg: line.leg,
        view: photo.view,
        stations,
        fall,
        slope: degrees(fall, laid.across),
        turn: degrees(within(&curve, &turn(laid.across)), 1.0),
        mm_per_pixel: spots::pixel(&laid, line, moved),
        roundness: (0..SHARES).map(flat).fold(0.0, f64::max),
        foreshortened: laid.foreshortened,
        depth: on_body.map_or(1.0, |s| s.half_depth / s.half_width),
        off_at_ends: curve.off_at_ends,
        below_lens: -laid.heights.iter().sum::<f64>() / laid.heights.len() as f64,
        together: told.together.row_iter().map(|r| r.iter().copied().collect()).collect(),
        seen: laid.seen,
    })
}

/// The curve through a line; what is unsure moves places along it as well, which counts by
/// how steep it is there, so the curve is drawn again with its own slope.
fn through(
    line: &TracedLine,
    laid: &on_body::LineOnBody,
    unsure: &spots::Unsures,
) -> Result<Curve, WornError> {
    let none = || WornError::TooFewPlaces { line: line.name.clone(), count: line.points.len() };
    let (spots, members) = spots_of(line, laid);
    let moves = |slope: &dyn Fn(f64) -> f64| unsure.moves(laid, &members, slope);
    let level = moves(&|_| 0.0);
    let mut curve = Curve::through(line.leg, spots.clone(), level).ok_or_else(none)?;
    if !unsure.is_empty() {
        for _ in 0..SLOPES {
            let moves = moves(&|s| curve.slope(s));
            curve = Curve::through(line.leg, spots.clone(), moves).ok_or_else(none)?;
        }
    }
    Ok(curve)
}

/// The curve is drawn again so often.
const SLOPES: usize = 2;

/// The place of a share in the photo.
fn place_of(line: &TracedLine, shares: &[f64], share: f64) -> Point {
    let weights = between(shares, share);
    let sum =
        |of: fn(&Point) -> f64| weights.iter().zip(&line.points).map(|(w, p)| w * of(p)).sum();
    Point::new(sum(|p| p.x), sum(|p| p.y))
}

/// Refuses marks that cannot be.
fn check(photo: &WornPhoto) -> Result<(), WornError> {
    let reason = |what, value: f64, low, high| {
        let fits = value.is_finite() && (low..=high).contains(&value);
        if fits { Ok(()) } else { Err(WornError::OutOfReason { what, value, low, high }) }
    };
    reason("width of the picture, pixels,", photo.size.0, 50.0, 1e5)?;
    reason("height of the picture, pixels,", photo.size.1, 50.0, 1e5)?;
    reason("rows cut off above, pixels,", photo.cut_above, 0.0, 1e5)?;
    reason("distance to the lens, mm,", photo.distance, 700.0, 20_000.0)?;
    reason("known length, mm,", photo.known.length, 30.0, 2000.0)?;
    check_level(&photo.level)?;
    if let Horizon::Floor { lens_height, heels } = photo.horizon {
        reason("height of the lens, mm,", lens_height, 0.0, 3000.0)?;
        reason("place of the heels, pixels,", heels.x + heels.y, -1e6, 1e6)?;
    }
    if (photo.known.upper_at - photo.known.lower_at).hypot() < 20.0 {
        return Err(WornError::TooNear { what: "the known length" });
    }
    for line in &photo.lines {
        reason("girth at a line, mm,", line.girth, 100.0, 3000.0)?;
        reason("sureness of a line, pixels,", line.sigma, 0.0, 50.0)?;
        reason("sureness of its edges, pixels,", line.edge_sigma, 0.0, 50.0)?;
        if line.points.len() < 3 {
            let count = line.points.len();
            return Err(WornError::TooFewPlaces { line: line.name.clone(), count });
        }
        for p in &line.points {
            reason("place on a line, pixels,", p.x, -1e6, 1e6)?;
            reason("place on a line, pixels,", p.y, -1e6, 1e6)?;
        }
        let way = line.points[line.points.len() - 1].x - line.points[0].x;
        let on = line.points.windows(2).all(|p| (p[1].x - p[0].x) * way > 0.0);
        if !on {
            return Err(WornError::NotAlong { line: line.name.clone() });
        }
    }
    Ok(())
}
