//! The drafted block: a front and a back trouser from one body's measures. The
//! rules and their sources are in `docs/block.md`.

mod assemble;
mod crotch;
mod error;
mod levels;
mod plan;
mod report;
mod shaping;
mod side;
mod solve;
mod waist;

pub use error::DraftError;
pub use plan::{LegRoom, Plan};
pub use report::{Draft, DraftNote, DraftReport, PieceReport, Solved};

use crate::measures::{Measure, MeasureError, Measures};
use crate::{Pattern, PatternError};
use crotch::{CrotchSide, Frame, Station};
use hangtrue_geometry::bracketed_root;
use hangtrue_geometry::{
    words,
    words::{Length, Words},
};
use levels::Levels;
use solve::secant;

/// Drafts a front and a back.
///
/// The total crotch seam, the hip at the hip line and the sewn waist are the
/// measure plus its ease; the two inseams and the two side seams are equal; every
/// crotch curve bends one way. How it is done is in `docs/block.md`.
///
/// # Errors
/// [`DraftError`]: measures that are missing, absurd or contradict each other, a
/// plan entry outside its limits, or measures no trouser-shaped block can be
/// closed on, each by name.
pub fn draft(measures: &Measures, plan: &Plan) -> Result<Draft, DraftError> {
    measures.check()?;
    plan.check()?;
    let target = Targets::new(measures, plan)?;
    let levels = Levels::new(measures, plan)?;
    let (station, back, front) = solve_crotch(measures, plan, &target, &levels)?;
    let target = target.tapered(plan, station.extension);
    let frames = frames(measures, plan, &target, &levels, station.leaned)?;
    let levels = levels.lowered(station.lowered);
    let shaped =
        shaping::shape(measures, &target, &levels, (&frames.0, &frames.1), (&back, &front))?;
    let pattern = assemble::pattern(&levels, &back, &front, &shaped).map_err(|e| match e {
        DraftError::Pattern(PatternError::SelfCrossing { .. }) => {
            disagree(measures, Measure::CrotchLength, Measure::InsideLegHeight, e.to_string())
        }
        other => other,
    })?;
    check_darts(measures, &pattern)?;
    let drawn = report::Drawn {
        target: &target,
        levels: &levels,
        lowered: station.lowered,
        frames: (&frames.0, &frames.1),
        crotch: (&back, &front),
        shaped: (&shaped.0, &shaped.1),
    };
    let report = report::report(measures, plan, &pattern, &drawn)?;
    check_taper(measures, plan, &report)?;
    Ok(Draft { pattern, report })
}

/// A dart that ends beside its piece cannot be sewn.
fn check_darts(measures: &Measures, pattern: &Pattern) -> Result<(), DraftError> {
    for piece in &pattern.pieces {
        let darts = piece.seams.iter().flat_map(|seam| &seam.darts);
        if let Some(dart) = darts.into_iter().find(|dart| !piece.contains(dart.apex)) {
            let why = words!["the ", &dart.name, " would end outside the ", &piece.name, " piece"];
            return Err(disagree(measures, Measure::WaistGirth, Measure::WaistHeight, why));
        }
    }
    Ok(())
}

/// A leg that widens from crotch to knee is no trouser leg.
fn check_taper(measures: &Measures, plan: &Plan, report: &DraftReport) -> Result<(), DraftError> {
    let (knee, leg) = (report.knee.drafted, report.thigh.drafted);
    match plan.knee_width {
        _ if knee < leg => Ok(()),
        Some(value) => {
            Err(DraftError::Plan { what: "knee width", value, low: plan::LEAST_KNEE, high: leg })
        }
        None => {
            let why = words![
                "the leg would be ",
                (Length(knee), 0),
                " at the knee and ",
                (Length(leg), 0),
                " at the crotch"
            ];
            Err(disagree(measures, Measure::KneeGirth, Measure::ThighGirth, why))
        }
    }
}

/// What the block has to come to, mm.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Targets {
    pub crotch: f64,
    /// The back's part of it, when that or the front's was taken.
    pub crotch_back: Option<f64>,
    pub hip: f64,
    pub waist: f64,
    pub thigh: f64,
    pub knee: f64,
    pub hem: f64,
    pub hip_back: f64,
    pub hip_front: f64,
    pub waist_back: f64,
    pub waist_front: f64,
}

/// Where no width is chosen the knee has at least this part of the leg's width at
/// the crotch, the hem at least this part of the knee's (handbook proportion from
/// memory).
const TAPER: (f64, f64) = (0.64, 0.80);

impl Targets {
    fn new(measures: &Measures, plan: &Plan) -> Result<Self, DraftError> {
        let need = |m| need(measures, m);
        let hip = need(Measure::HipGirth)? + plan.hip_ease;
        let waist = need(Measure::WaistGirth)? + plan.waist_ease;
        let thigh = need(Measure::ThighGirth)? + plan.thigh_ease;
        let chosen = |width: Option<f64>, m, ease: f64| match width {
            Some(width) => Ok::<_, DraftError>(width),
            None => Ok(need(m)? + ease),
        };
        let knee = chosen(plan.knee_width, Measure::KneeGirth, plan.knee_ease)?;
        let hem = chosen(plan.hem_width, Measure::HeelGirth, plan.hem_ease)?;
        let crotch_length = need(Measure::CrotchLength)?;
        // The ease is shared as the body's crotch length is.
        let with_ease = |part: f64| part * (1.0 + plan.crotch_ease / crotch_length);
        Ok(Self {
            crotch: crotch_length + plan.crotch_ease,
            crotch_back: measures.get_or_derived(Measure::CrotchLengthBack).map(with_ease),
            hip,
            waist,
            thigh,
            knee,
            hem,
            hip_back: hip / 4.0 + plan.back_wider_hip / 2.0,
            hip_front: hip / 4.0 - plan.back_wider_hip / 2.0,
            waist_back: waist / 4.0 - plan.front_wider_waist / 2.0,
            waist_front: waist / 4.0 + plan.front_wider_waist / 2.0,
        })
    }

    /// Knee and hem widened, where the plan does not choose them, to taper from a
    /// leg with these crotch extensions.
    fn tapered(&self, plan: &Plan, extension: f64) -> Self {
        let mut sized = *self;
        if plan.knee_width.is_none() {
            sized.knee = sized.knee.max(TAPER.0 * (self.hip / 2.0 + extension));
        }
        if plan.hem_width.is_none() {
            sized.hem = sized.hem.max(TAPER.1 * sized.knee);
        }
        sized
    }
}

/// Lean of the centre back, degrees: at equal waist and hip, for each mm the hip
/// exceeds the waist, and its limits (handbook proportion from memory: a fuller
/// seat leans more).
const LEAN: (f64, f64, f64, f64) = (6.0, 0.02, 4.0, 12.0);

/// The centre front takes this part of the front's waist shaping, at most this
/// much inward and outward, mm (common practice).
const FRONT_CENTRE: (f64, f64, f64) = (0.2, 10.0, 25.0);

/// Steepest lean of the centre front, radians.
const FRONT_LEAN: f64 = 0.12;

fn frames(
    measures: &Measures,
    plan: &Plan,
    target: &Targets,
    levels: &Levels,
    leaned: f64,
) -> Result<(Frame, Frame), DraftError> {
    let over = need(measures, Measure::HipGirth)? - need(measures, Measure::WaistGirth)?;
    let lean = (LEAN.0 + LEAN.1 * over).clamp(LEAN.2, LEAN.3).to_radians() + leaned;
    let taken = FRONT_CENTRE.0 * (target.hip_front - target.waist_front);
    let taken = taken.clamp(-FRONT_CENTRE.2, FRONT_CENTRE.1);
    let front_lean = (taken / (levels.waist - levels.hip)).atan().clamp(-FRONT_LEAN, FRONT_LEAN);
    let half = |width: f64, sign: f64| width / 4.0 + sign * plan.back_wider_leg / 4.0;
    let frame = |hip_width, lean, sign| Frame {
        hip_width,
        lean,
        knee: half(target.knee, sign),
        hem: half(target.hem, sign),
    };
    Ok((frame(target.hip_back, lean, 1.0), frame(target.hip_front, front_lean, -1.0)))
}

/// Accuracy of the search along the family, in its parameter.
const STATION: f64 = 1e-12;

/// Finds the two crotch seams: together as long as they have to be, and, where the
/// back's or the front's part was taken, parted as near to that as can be drawn.
fn solve_crotch(
    measures: &Measures,
    plan: &Plan,
    target: &Targets,
    levels: &Levels,
) -> Result<Crotch, DraftError> {
    let at = |split: f64, to: f64| solve_total(measures, plan, target, levels, split, to);
    let usual = at(0.0, STATION)?;
    let Some(wanted) = target.crotch_back else { return Ok(usual) };
    let over = |made: &Crotch| made.1.crotch.length() - wanted;
    let first = over(&usual);
    if first.abs() <= SPLIT_MATCH {
        return Ok(usual);
    }
    // Towards a longer back or a shorter one, as far as it can be drawn.
    let end = if first < 0.0 { 1.0 } else { -1.0 };
    let parts = (0..SPLIT_ENDS).map(|i| end * (1.0 - f64::from(i) / f64::from(SPLIT_ENDS)));
    let farthest = parts.into_iter().find_map(|split| Some((split, at(split, STATION).ok()?)));
    let Some((split, made)) = farthest else { return Ok(usual) };
    if (over(&made) < 0.0) == (first < 0.0) {
        return Ok(made);
    }
    let miss = |split: f64| at(split, ROUGH_STATION).ok().map(|made| over(&made));
    let guess = split * first / (first - over(&made));
    let limits = (split.min(0.0), split.max(0.0));
    let found = secant(miss, guess, limits, SPLIT_MATCH);
    found.map_or(Ok(usual), |split| at(split, STATION))
}

/// Accuracy of the back's part of the crotch seam where it can be drawn, mm.
const SPLIT_MATCH: f64 = 0.05;

/// Ends of the split looked at until one can be drawn.
const SPLIT_ENDS: u32 = 10;

/// Accuracy along the family while the split is looked for.
const ROUGH_STATION: f64 = 1e-6;

/// A station of the family with the back's and the front's crotch seam on it.
type Crotch = (Station, CrotchSide, CrotchSide);

/// Finds the place in the family where the two crotch seams together are as long
/// as they have to be; the family is moved by `split`, −1 to 1, to a longer back.
fn solve_total(
    measures: &Measures,
    plan: &Plan,
    target: &Targets,
    levels: &Levels,
    split: f64,
    accuracy: f64,
) -> Result<Crotch, DraftError> {
    let start = frames(measures, plan, target, levels, 0.0)?;
    let (stations, share) = family(plan, target, levels, &start, split);
    let at = |s: f64| {
        let station = crotch::along(&stations, s);
        let sized = target.tapered(plan, station.extension);
        let frames = frames(measures, plan, &sized, levels, station.leaned).ok()?;
        crotch::both((&frames.0, &frames.1), levels, &station, share)
    };
    let excess = |s: f64| {
        at(s).map_or(f64::NAN, |(b, f)| b.crotch.length() + f.crotch.length() - target.crotch)
    };
    let last = last_drawn(|s| at(s).is_some(), (stations.len() - 1) as f64);
    let (least, most) = (excess(0.0), excess(last));
    if least > 0.0 {
        let by_thigh = stations[0].extension > LEAST_EXTENSION * target.hip + 1.0;
        let other = if by_thigh { Measure::ThighGirth } else { Measure::WaistHeight };
        let why = words![
            "the shortest crotch seam that can be drawn is ",
            (Length(least), 0),
            " too long"
        ];
        return Err(disagree(measures, Measure::CrotchLength, other, why));
    }
    if most < 0.0 {
        let why = words![
            "the longest crotch seam that can be drawn is ",
            (Length(-most), 0),
            " too short"
        ];
        return Err(disagree(measures, Measure::CrotchLength, Measure::WaistHeight, why));
    }
    let not_drawn = || {
        let why = "no smooth crotch curve can be drawn on them";
        disagree(measures, Measure::CrotchLength, Measure::InsideLegHeight, why)
    };
    let s = bracketed_root(excess, 0.0, last, accuracy).map_err(|_| not_drawn())?;
    let (back, front) = at(s).ok_or_else(not_drawn)?;
    Ok((crotch::along(&stations, s), back, front))
}

/// The farthest place in the family that can still be drawn, in steps.
fn last_drawn(drawn: impl Fn(f64) -> bool, last: f64) -> f64 {
    const STEP: f64 = 0.05;
    let mut s = last;
    while s > STEP && !drawn(s) {
        s -= STEP;
    }
    s
}

/// Extensions together, as parts of the hip with ease: least and most.
const LEAST_EXTENSION: f64 = 0.09;
const MOST_EXTENSION: f64 = 0.36;

/// A waist over this part of the hip is a belly; the centre front is raised by this
/// part of what is over, at most so many mm, before the fork is widened (common
/// practice; the amounts are ours. 0.89 is the median of ANSUR II without ease).
const BELLY: (f64, f64, f64) = (0.89, 0.2, 30.0);

/// A measured split of the crotch length moves the back's share of the extensions by
/// at most this, and the centre back against the centre front up or down by at most
/// this many mm each (our choice: what a tilted waist of a standing body shows).
const SPLIT_MOVES: (f64, f64) = (0.13, 35.0);

/// The stations of the family, least crotch seam first, and the back's share of
/// the extensions.
fn family(
    plan: &Plan,
    target: &Targets,
    levels: &Levels,
    frames: &(Frame, Frame),
    split: f64,
) -> (Vec<Station>, f64) {
    let across = target.hip / 2.0 + levels.hip * (frames.0.lean.tan() + frames.1.lean.tan());
    let bare = target.thigh - plan.thigh_ease.max(0.0) - across;
    let floor = (target.thigh - across).max(LEAST_EXTENSION * target.hip);
    let [wanted, full] = plan.leg_room.extensions().map(|(part, ease)| {
        let over_thigh = target.thigh - plan.thigh_ease + ease - across;
        (part * target.hip).min(over_thigh)
    });
    let wanted = wanted.max(floor);
    let full = full.max(1.1 * wanted);
    let belly = (BELLY.1 * (target.waist - BELLY.0 * target.hip)).clamp(0.0, BELLY.2);
    let station = |extension, hook: (f64, f64), raise: (f64, f64), lowered, leaned: f64| Station {
        extension,
        fullness: hook.0,
        reach: hook.1,
        back_raise: raise.0 + split * SPLIT_MOVES.1,
        front_raise: raise.1 - split * SPLIT_MOVES.1,
        lowered,
        leaned: leaned.to_radians(),
    };
    let least = bare.max(LEAST_EXTENSION * target.hip);
    let most = (1.3 * full).max(MOST_EXTENSION * target.hip);
    let stations = vec![
        station(least, (0.30, 0.85), (0.0, -30.0), 0.0, 0.0),
        station(floor, (0.45, 0.62), (12.0, -15.0), 0.0, 0.0),
        station(wanted, (0.60, 0.40), (28.0, -6.0 + belly), 0.0, 0.0),
        station(full, (0.66, 0.36), (45.0, 4.0 + belly), 12.0, 2.0),
        station(most, (0.78, 0.28), (90.0, 40.0 + belly), 70.0, 7.0),
    ];
    let share = plan.back_share + split * SPLIT_MOVES.0;
    (stations, share.clamp(plan::BACK_SHARE.0, plan::BACK_SHARE.1))
}

/// The measure, taken or derived.
fn need(measures: &Measures, measure: Measure) -> Result<f64, DraftError> {
    let value = measures.get_or_derived(measure);
    value.ok_or(DraftError::Measures(MeasureError::Missing { measure }))
}

fn disagree(
    measures: &Measures,
    measure: Measure,
    other: Measure,
    why: impl Into<Words>,
) -> DraftError {
    let value = |m| measures.get_or_derived(m).unwrap_or(f64::NAN);
    DraftError::Disagree {
        measure,
        value: Length(value(measure)),
        other,
        other_value: Length(value(other)),
        why: why.into(),
    }
}
