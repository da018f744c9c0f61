//! The crotch seam: a straight centre seam and one hook, and the one-parameter
//! family of both by which the seam is brought to its length.
//!
//! Everything is drawn in the front's frame: side seam at the left, centre seam
//! at the right, crease at x = 0, crotch level at y = 0.

use super::levels::Levels;
use super::solve::secant;
use hangtrue_geometry::{Chain, CubicBez, Line, PathSeg, Point, Vec2, hermite};

/// What is fixed for a piece before its crotch seam is drawn.
#[derive(Debug, Clone, Copy)]
pub(super) struct Frame {
    /// Width at the hip line, mm.
    pub hip_width: f64,
    /// Lean of the centre seam, radians, positive when its top leans to the side.
    pub lean: f64,
    /// Half the width at the knee, mm.
    pub knee: f64,
    /// Half the width at the hem, mm.
    pub hem: f64,
}

/// The quantities that move together to bring the crotch seam to its length.
#[derive(Debug, Clone, Copy)]
pub(super) struct Station {
    /// Both crotch extensions together, mm.
    pub extension: f64,
    /// How far the hook's handles reach to the corner of its tangents, 0 to 1.
    pub fullness: f64,
    /// The part of the centre seam the hook takes up, 0 to 1.
    pub reach: f64,
    /// Centre back above the waist level, mm.
    pub back_raise: f64,
    /// Centre front above the waist level, mm (negative: below).
    pub front_raise: f64,
    /// How far the crotch level is lowered, mm.
    pub lowered: f64,
    /// Added to the lean of the centre back, radians.
    pub leaned: f64,
}

impl Station {
    fn mix(&self, other: &Self, t: f64) -> Self {
        let mix = |a: f64, b: f64| a + (b - a) * t;
        Self {
            extension: mix(self.extension, other.extension),
            fullness: mix(self.fullness, other.fullness),
            reach: mix(self.reach, other.reach),
            back_raise: mix(self.back_raise, other.back_raise),
            front_raise: mix(self.front_raise, other.front_raise),
            lowered: mix(self.lowered, other.lowered),
            leaned: mix(self.leaned, other.leaned),
        }
    }
}

/// The place at parameter `s` on the broken path through the stations; station
/// `i` lies at `s = i`.
pub(super) fn along(stations: &[Station], s: f64) -> Station {
    let last = stations.len() - 1;
    let index = (s.max(0.0) as usize).min(last - 1);
    stations[index].mix(&stations[index + 1], s - index as f64)
}

/// One piece's crotch seam and inseam, in the front's frame.
#[derive(Debug, Clone)]
pub(super) struct CrotchSide {
    pub crotch: Chain,
    pub inseam: Chain,
    /// Crotch extension beyond the centre line at the crotch level, mm.
    pub extension: f64,
    /// Direction of the centre seam towards the waist.
    pub centre_up: Vec2,
    /// Length of the inseam from crotch point to knee, mm.
    pub to_knee: f64,
}

impl CrotchSide {
    pub(super) fn waist_centre(&self) -> Point {
        self.crotch.start()
    }

    pub(super) fn crotch_point(&self) -> Point {
        self.crotch.end()
    }
}

/// The back's part of the angle the two hooks have to make up for the slant of
/// the two inseams: the smaller, so that the long back hook stays low (solved:
/// any split makes the hooks meet smoothly; this one is our choice).
const BACK_PART: f64 = 0.42;

/// The inseam is deepest within its chord at this part of the way from the crotch
/// point to the knee (common practice: hollow just under the fork, running straight
/// to the knee).
const HOLLOW_AT: f64 = 0.30;

/// Depth of the hollow as a part of the length to the knee, for each radian the
/// seam turns from its chord to the straight lower leg (our choice; what comes of it is in
/// the figures of `docs/block.md`).
const HOLLOW_DEPTH: f64 = 0.125;

/// Start of the inseam turned beyond its chord by this part of the turn that is
/// left to the knee: as little as takes it to the hollow bending one way (solved on a
/// grid; it is twice the hollow's depth over its place, as for a parabola).
const HOLLOW_START: f64 = 0.835;

/// Handles from the hollow and from the knee, as parts of the length between crotch
/// point and knee: with them the turn into the lower leg is as even as one that bends
/// one way can be, to the eye no corner at the knee (solved on a grid for a turn of 0.2
/// radians; the least radius over the survey is in `docs/block.md`).
const KNEE_HANDLES: (f64, f64) = (0.48, 0.12);

/// The handle on the centre seam reaches farther to the corner than the one at
/// the crotch point by twice this, so that the bend spreads over the longer arm.
const LOPSIDED: f64 = 0.06;

/// The crotch curve is no tighter than this part of its extension, and need be no
/// rounder than so many mm: a tighter one is a beak that no hand sews (our choice).
const LEAST_RADIUS: (f64, f64) = (0.42, 22.0);

/// The round hook a beak is drawn towards: its part of the centre seam in parts of
/// the extension, and its fullness (a quarter circle has 0.55).
const ROUND: (f64, f64) = (1.25, 0.56);

/// The round hook takes up no more of the centre seam than this part.
const MOST_REACH: f64 = 0.85;

/// Looks at a hook for its tightest place.
const LOOKS: u32 = 48;

/// Steps towards the round hook: each takes what is still lacking in proportion.
const ROUNDINGS: usize = 4;

/// The round hook counts as at least this much rounder than need be.
const ROUNDER: f64 = 1.05;

/// Lowest the back crotch point may lie below the crotch level, and highest
/// above it, mm.
const DROP: (f64, f64) = (-220.0, 80.0);

/// Accuracy of the match of the two inseams, mm.
const MATCH: f64 = 1e-9;

/// Both pieces' crotch seams and inseams at one station; none where no convex
/// hook can be drawn or the inseams cannot be matched.
pub(super) fn both(
    frames: (&Frame, &Frame),
    levels: &Levels,
    station: &Station,
    back_share: f64,
) -> Option<(CrotchSide, CrotchSide)> {
    let (back, front) = frames;
    let levels = &levels.lowered(station.lowered);
    let back_extension = station.extension * back_share;
    let back = CreasedPiece::new(back, levels, back_extension, levels.waist + station.back_raise);
    let front = CreasedPiece::new(
        front,
        levels,
        station.extension - back_extension,
        levels.waist + station.front_raise,
    );
    let (front_inseam, front_to_knee) = front.inseam(levels, 0.0)?;
    let target = front_to_knee;
    let drop = secant(|y| Some(back.inseam(levels, y)?.1 - target), 0.0, DROP, MATCH)?;
    let (back_inseam, back_to_knee) = back.inseam(levels, drop)?;
    let slants = back.slant(levels, drop) + front.slant(levels, 0.0);
    let back_dip = BACK_PART * slants;
    let front_dip = slants - back_dip;
    let back_seam = back.crotch(drop, back_dip, station)?;
    let front_seam = front.crotch(0.0, front_dip, station)?;
    Some((
        CrotchSide {
            crotch: back_seam,
            inseam: back_inseam,
            extension: back.extension,
            centre_up: back.up(),
            to_knee: back_to_knee,
        },
        CrotchSide {
            crotch: front_seam,
            inseam: front_inseam,
            extension: front.extension,
            centre_up: front.up(),
            to_knee: front_to_knee,
        },
    ))
}

/// A piece laid about its crease.
struct CreasedPiece {
    frame: Frame,
    extension: f64,
    /// Height of the waist at the centre.
    top: f64,
    /// Where the centre line meets the crotch level.
    foot: f64,
    /// Slant of the leg below the knee.
    below: f64,
}

impl CreasedPiece {
    /// The crease halves the piece between side seam and crotch point (common
    /// practice).
    fn new(frame: &Frame, levels: &Levels, extension: f64, top: f64) -> Self {
        let lean = frame.lean.tan();
        let foot = 0.5 * (frame.hip_width + levels.hip * lean - extension);
        let below = (frame.knee - frame.hem).atan2(levels.knee - levels.hem);
        Self { frame: *frame, extension, top, foot, below }
    }

    /// How far the inseam turns from its chord to the lower leg with its crotch point
    /// at height `y`, radians.
    fn turn(&self, levels: &Levels, y: f64) -> f64 {
        let across = self.foot + self.extension - self.frame.knee;
        across.atan2(y - levels.knee) - self.below
    }

    /// Slant of the inseam's start from the vertical, radians.
    fn slant(&self, levels: &Levels, y: f64) -> f64 {
        self.below + (1.0 + HOLLOW_START) * self.turn(levels, y)
    }

    fn up(&self) -> Vec2 {
        Vec2::new(-self.frame.lean.sin(), self.frame.lean.cos())
    }

    fn point(&self, y: f64) -> Point {
        Point::new(self.foot + self.extension, y)
    }

    /// The inseam with its crotch point at height `y`, and its length to the knee:
    /// hollow under the fork, nearly straight on to the knee, straight below. It
    /// bends one way from the crotch point to the knee.
    fn inseam(&self, levels: &Levels, y: f64) -> Option<(Chain, f64)> {
        let (top, knee) = (self.point(y), Point::new(self.frame.knee, levels.knee));
        let hem = Point::new(self.frame.hem, levels.hem);
        let downward = |slant: f64| Vec2::new(-slant.sin(), -slant.cos());
        let chord = knee - top;
        let (length, along) = (chord.hypot(), chord.normalize());
        let turn = self.turn(levels, y);
        let inward = Vec2::new(along.y, -along.x);
        let hollow = top + chord * HOLLOW_AT + inward * (HOLLOW_DEPTH * turn * length);
        let upper = hermite(top, downward(self.slant(levels, y)), hollow, along);
        let lower = CubicBez::new(
            hollow,
            hollow + along * (KNEE_HANDLES.0 * length),
            knee - downward(self.below) * (KNEE_HANDLES.1 * length),
            knee,
        );
        let thigh = Chain::cubic(upper).then(&Chain::cubic(lower)).ok()?;
        let length = thigh.length();
        Some((thigh.then(&Chain::line(knee, hem)).ok()?, length))
    }

    /// Centre seam and hook; the hook arrives dipping `dip` below level.
    ///
    /// The handles lie on the two sides of the corner of the tangents, so the
    /// control polygon is convex and the curvature of one sign.
    fn crotch(&self, y: f64, dip: f64, station: &Station) -> Option<Chain> {
        let up = self.up();
        let arrive = Vec2::new(dip.cos(), -dip.sin());
        let lean = self.frame.lean.tan();
        let side = (self.extension + y * lean) / (dip.cos() - dip.sin() * lean);
        let point = self.point(y);
        let corner = point - arrive * side;
        let room = (self.top - corner.y) / up.y;
        if side < 1.0 || room < 1.0 {
            return None;
        }
        let waist = corner + up * room;
        let (reach, fullness) = (station.reach * room, station.fullness);
        let (round_reach, round_fullness) = ((ROUND.0 * side).min(MOST_REACH * room), ROUND.1);
        // From the hook that is asked for, 0, to a round one, 1.
        let hook_at = |t: f64| {
            let reach = reach + t * (round_reach - reach);
            let fullness = fullness + t * (round_fullness - fullness);
            let (by_seam, by_point) = (fullness + LOPSIDED, fullness - LOPSIDED);
            let handle_up = corner + up * (reach * (1.0 - by_seam));
            let handle_side = corner + arrive * (side * (1.0 - by_point));
            CubicBez::new(corner + up * reach, handle_up, handle_side, point)
        };
        let floor = (LEAST_RADIUS.0 * side).min(LEAST_RADIUS.1);
        let radius = |t: f64| Chain::cubic(hook_at(t)).tightest_radius(LOOKS);
        // In proportion, so that a little more of anything never makes the seam jump.
        let round = radius(1.0).max(ROUNDER * floor);
        let mut t = 0.0;
        for _ in 0..ROUNDINGS {
            let tight = radius(t);
            if tight >= floor {
                break;
            }
            t += (1.0 - t) * (floor - tight) / (round - tight);
        }
        let hook = hook_at(t);
        let start = hook.p0;
        Chain::new(vec![PathSeg::Line(Line::new(waist, start)), PathSeg::Cubic(hook)]).ok()
    }
}
