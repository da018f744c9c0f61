//! What was asked of a block and what was drawn, measured on the finished pieces.

use super::crotch::{CrotchSide, Frame};
use super::levels::Levels;
use super::shaping::Shaped;
use super::{DraftError, Plan, Targets};
use crate::measures::{Measure, Measures};
use crate::{Pattern, PatternError, Piece, names};
use hangtrue_geometry::words::Length;
use hangtrue_geometry::{Affine, Line, bends_one_way, tolerance};
use serde::Serialize;

/// A drafted block and its report.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// Back and front, with their joins.
    pub pattern: Pattern,
    /// What was asked and what was drawn.
    pub report: DraftReport,
}

/// A quantity the draft was solved for, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Solved {
    /// Measure plus ease.
    pub target: f64,
    /// As measured on the finished pieces.
    pub drafted: f64,
}

impl Solved {
    /// Drafted less target, mm.
    pub fn error(&self) -> f64 {
        self.drafted - self.target
    }
}

/// One piece, measured, mm and degrees.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PieceReport {
    /// Crotch seam, waist to crotch point.
    pub crotch: f64,
    /// Sewn waist of the piece.
    pub waist: f64,
    /// Width at the piece's hip line (through its hip notch), square to the grain.
    pub hip: f64,
    /// Width at the crotch point, square to the grain.
    pub thigh: f64,
    /// Width at the knee.
    pub knee: f64,
    /// Width at the hem.
    pub hem: f64,
    /// Inseam.
    pub inseam: f64,
    /// Side seam.
    pub side: f64,
    /// Intake of each waist dart.
    pub darts: Vec<f64>,
    /// Crotch extension beyond the centre line at the crotch level.
    pub extension: f64,
    /// Lean of the centre seam from the grain, degrees, positive towards the side.
    pub centre_lean: f64,
    /// Centre of the waist above the waist level (negative: below).
    pub centre_raise: f64,
    /// Crotch point below the crotch level.
    pub crotch_drop: f64,
    /// Whether the crotch seam bends one way only.
    pub one_way: bool,
    /// How far the crotch curve lies beyond the straight centre seam at the hip line:
    /// so much of the piece's width there is the curve's.
    pub curve_at_hip: f64,
    /// Radius of the crotch curve at its tightest place.
    pub least_radius: f64,
}

/// What was asked and what was drawn.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DraftReport {
    /// Both crotch seams together.
    pub crotch: Solved,
    /// Sewn waist of the whole garment.
    pub waist: Solved,
    /// Hip line of the whole garment.
    pub hip: Solved,
    /// One leg round the knee.
    pub knee: Solved,
    /// One leg round the hem.
    pub hem: Solved,
    /// One leg at the crotch point; the target is the least wanted.
    pub thigh: Solved,
    /// The girth of the thigh, taken or derived.
    pub thigh_girth: f64,
    /// The back's part of the crotch seam, when it or the front's was taken: the
    /// target is its part of the crotch length with its share of the ease.
    pub back_crotch: Option<Solved>,
    /// The back.
    pub back: PieceReport,
    /// The front.
    pub front: PieceReport,
    /// Waist level above the crotch level.
    pub waist_level: f64,
    /// Hip line above the crotch level.
    pub hip_level: f64,
    /// How far the crotch level lies below the body's crotch beyond the rise ease,
    /// because the crotch length asks for it.
    pub crotch_lowered: f64,
    /// Things the maker should know.
    pub notes: Vec<DraftNote>,
}

/// Something the maker should know; the block is sound all the same.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub enum DraftNote {
    /// The foot does not pass the hem.
    HemUnderHeel {
        /// Hem round one leg, mm.
        hem: f64,
        /// Heel girth, mm.
        heel: f64,
    },
    /// The leg is close at the calf.
    CloseAtCalf {
        /// Width round the leg at the knee, mm.
        leg: f64,
        /// Calf girth, mm.
        calf: f64,
    },
    /// The leg at the crotch is narrower than thigh and least ease.
    CloseAtThigh {
        /// Leg at the crotch point, mm.
        leg: f64,
        /// Thigh girth and least ease, mm.
        wanted: f64,
    },
    /// The leg at the crotch is far wider than the thigh.
    WideAtThigh {
        /// Over the thigh girth, mm.
        ease: f64,
    },
    /// The crotch level had to be lowered to make room for the crotch length.
    CrotchLowered {
        /// By so much more than the rise ease, mm.
        by: f64,
    },
    /// The back's part of the crotch length could not be drawn.
    SplitMissed {
        /// With its ease, mm.
        wanted: f64,
        /// As drawn, mm.
        drawn: f64,
    },
    /// A crotch curve is tight.
    TightCurve {
        /// On this piece.
        piece: &'static str,
        /// Its least radius, mm.
        radius: f64,
    },
    /// The side seam leans far above the hip line.
    SideFlares {
        /// From the upright, degrees.
        degrees: f64,
    },
    /// The front waist rises between its ends.
    FrontWaistRises {
        /// Above the straight, mm.
        by: f64,
    },
    /// The seated rise does not fit the height of waist over crotch.
    SeatedRiseDiffers {
        /// Sitting, mm.
        seated: f64,
        /// Standing: waist height less inside leg height, mm.
        standing: f64,
    },
    /// The waist lies lower or higher in the middle than at the side.
    WaistTilts {
        /// At the centre front, above the side (negative: below), mm.
        front: Option<f64>,
        /// At the centre back.
        back: Option<f64>,
    },
    /// The hip line could not be drawn at the measured hip height.
    HipLineMoved {
        /// Above the measured height (negative: below), mm.
        up: f64,
    },
}

impl hangtrue_geometry::words::InUnit for DraftNote {}

impl std::fmt::Display for DraftNote {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::HemUnderHeel { hem, heel } => write!(
                f,
                "the hem of {:.0} does not pass the heel girth of {:.0}: plan a placket or a wider hem",
                Length(*hem),
                Length(*heel)
            ),
            Self::CloseAtCalf { leg, calf } => write!(
                f,
                "the leg of {:.0} below the knee is close on the calf of {:.0}",
                Length(*leg),
                Length(*calf)
            ),
            Self::CloseAtThigh { leg, wanted } => write!(
                f,
                "the leg is {:.0} round at the crotch, less than the {:.0} of thigh and ease: the crotch length leaves no more",
                Length(*leg),
                Length(*wanted)
            ),
            Self::WideAtThigh { ease } => write!(
                f,
                "the leg is {:.0} wider than the thigh at the crotch, because the crotch length is long for the height from crotch to waist: take both again before cutting",
                Length(*ease)
            ),
            Self::CrotchLowered { by } => write!(
                f,
                "the crotch level hangs {:.0} lower than planned: the crotch length is long for the height from crotch to waist",
                Length(*by)
            ),
            Self::SplitMissed { wanted, drawn } => write!(
                f,
                "the back’s part of the crotch seam is {:.0}, not {:.0} as its measure asks: farther the waist and the fork cannot be shifted; measure back and front crotch length again, with the waist tape where the waistband will sit",
                Length(*drawn),
                Length(*wanted)
            ),
            Self::TightCurve { piece, radius } => write!(
                f,
                "the crotch curve of the {piece} turns within a radius of {:.0}: there is little length for it; more crotch length or a roomier leg rounds it",
                Length(*radius)
            ),
            Self::SideFlares { degrees } => write!(
                f,
                "the side seam leans {degrees:.0}° above the hip line, because the waist is large for the hip: look at it on the body first"
            ),
            Self::FrontWaistRises { by } => write!(
                f,
                "the front waist rises {:.0} between side and centre: mark on the body where the band sits, and true it there",
                Length(*by)
            ),
            Self::SeatedRiseDiffers { seated, standing } => write!(
                f,
                "the seated rise of {:.0} and the height of waist over crotch, standing, of {:.0} should be about the same: take both again before cutting",
                Length(*seated),
                Length(*standing)
            ),
            Self::WaistTilts { front, back } => {
                let said = [("front", front), ("back", back)].into_iter().filter_map(|(at, up)| {
                    let up = (*up)?;
                    let way = if up > 0.0 { "higher" } else { "lower" };
                    Some(format!("{:.0} {way} at the centre {at}", Length(up.abs())))
                });
                let said = said.collect::<Vec<_>>().join(" and ");
                write!(
                    f,
                    "on the body the waist lies {said} than at the side: the block is not drawn by that. Tie a tape round the waist of the toile, mark along it, and bring the paper to the mark by the corrections “tilted front waist” and “sway back”"
                )
            }
            Self::HipLineMoved { up } => write!(
                f,
                "the hip line is drawn {:.0} {} the measured hip height, to leave room for the crotch curve below it and the darts above",
                Length(up.abs()),
                if *up > 0.0 { "above" } else { "below" }
            ),
        }
    }
}

/// Joints of the crotch seam smoother than this count as smooth, radians.
const SMOOTH_JOIN: f64 = 1e-7;

/// What was solved, to be measured.
pub(super) struct Drawn<'a> {
    pub target: &'a Targets,
    pub levels: &'a Levels,
    pub lowered: f64,
    pub frames: (&'a Frame, &'a Frame),
    pub crotch: (&'a CrotchSide, &'a CrotchSide),
    pub shaped: (&'a Shaped, &'a Shaped),
}

/// Measures the finished pieces.
pub(super) fn report(
    measures: &Measures,
    plan: &Plan,
    pattern: &Pattern,
    drawn: &Drawn<'_>,
) -> Result<DraftReport, DraftError> {
    let (target, levels) = (drawn.target, drawn.levels);
    let (of_back, of_front) = drawn.shaped;
    let back =
        measure(pattern.piece(names::BACK)?, levels, of_back.hip, drawn.frames.0, drawn.crotch.0)?;
    let front = measure(
        pattern.piece(names::FRONT)?,
        levels,
        of_front.hip,
        drawn.frames.1,
        drawn.crotch.1,
    )?;
    let solved = |target, drafted| Solved { target, drafted };
    let mut report = DraftReport {
        crotch: solved(target.crotch, back.crotch + front.crotch),
        waist: solved(target.waist, 2.0 * (back.waist + front.waist)),
        hip: solved(target.hip, 2.0 * (back.hip + front.hip)),
        knee: solved(target.knee, back.knee + front.knee),
        hem: solved(target.hem, back.hem + front.hem),
        thigh: solved(target.thigh, back.thigh + front.thigh),
        thigh_girth: target.thigh - plan.thigh_ease,
        back_crotch: target.crotch_back.map(|wanted| solved(wanted, back.crotch)),
        back,
        front,
        waist_level: levels.waist,
        hip_level: levels.hip,
        crotch_lowered: drawn.lowered,
        notes: Vec::new(),
    };
    report.notes = notes(measures, plan, &report);
    let rise = waist_rise(pattern.piece(names::FRONT)?)?;
    report.notes.extend(shape_notes(&report, drawn, rise));
    Ok(report)
}

/// A back crotch seam that misses its part by more is told, mm.
const SPLIT_MISSED: f64 = 5.0;

/// A crotch curve tighter than this is told, mm.
const TIGHT: f64 = 15.0;

/// A side seam that leans more above the hip line is told, degrees.
const FLARE: f64 = 15.0;

/// A front waist that rises more above the straight between its ends is told, mm.
const HUMP: f64 = 6.0;

/// What the drawing had to give way in.
fn shape_notes(report: &DraftReport, drawn: &Drawn<'_>, rise: f64) -> Vec<DraftNote> {
    let mut notes = Vec::new();
    if let Some(back) = report.back_crotch
        && back.error().abs() > SPLIT_MISSED
    {
        notes.push(DraftNote::SplitMissed { wanted: back.target, drawn: back.drafted });
    }
    for (piece, of) in [(names::BACK, &report.back), (names::FRONT, &report.front)] {
        if of.least_radius < TIGHT {
            notes.push(DraftNote::TightCurve { piece, radius: of.least_radius });
        }
    }
    let lean = |shaped: &Shaped| shaped.side.leans_most.to_degrees();
    let lean = lean(drawn.shaped.0).max(lean(drawn.shaped.1));
    if lean > FLARE {
        notes.push(DraftNote::SideFlares { degrees: lean });
    }
    if rise > HUMP {
        notes.push(DraftNote::FrontWaistRises { by: rise });
    }
    notes
}

/// How far the front waist with its darts closed rises above the straight between its
/// ends, mm. (The front lies as it was drawn, side at the left.)
fn waist_rise(front: &Piece) -> Result<f64, PatternError> {
    let sewn = front.seam(names::WAIST)?.sewn_parts();
    let ends = sewn.first().zip(sewn.last()).map(|(a, b)| (a.start(), b.end()));
    let (start, end) = ends.unwrap_or_default();
    let turn = Affine::rotate(-(end - start).atan2()) * Affine::translate(-start.to_vec2());
    Ok(sewn.iter().map(|part| part.moved(turn).bounds().y1).fold(0.0, f64::max))
}

fn measure(
    piece: &Piece,
    levels: &Levels,
    hip: f64,
    frame: &Frame,
    crotch: &CrotchSide,
) -> Result<PieceReport, PatternError> {
    let seam = piece.seam(names::CROTCH)?;
    let waist = piece.seam(names::WAIST)?;
    let point = seam.end();
    let darts = (0..waist.darts.len()).map(|i| waist.intake(i)).collect();
    Ok(PieceReport {
        crotch: seam.sewn_length(),
        waist: waist.sewn_length(),
        hip: width_at(piece, hip),
        thigh: side_reach(piece, point.y).map_or(0.0, |x| (point.x - x).abs()),
        knee: width_at(piece, levels.knee),
        hem: piece.seam(names::HEM)?.sewn_length(),
        inseam: piece.seam(names::INSEAM)?.sewn_length(),
        side: piece.seam(names::SIDE)?.sewn_length(),
        darts,
        extension: crotch.extension,
        centre_lean: frame.lean.to_degrees(),
        centre_raise: crotch.waist_centre().y - levels.waist,
        crotch_drop: -crotch.crotch_point().y,
        curve_at_hip: curve_at(crotch, hip),
        least_radius: crotch.crotch.tightest_radius(LOOKS),
        one_way: seam.parts.iter().all(|part| bends_one_way(part, SMOOTH_JOIN)),
    })
}

/// Looks at a crotch curve for its tightest place.
const LOOKS: u32 = 64;

/// How far the crotch seam lies beyond its straight centre at a level, mm.
fn curve_at(crotch: &CrotchSide, y: f64) -> f64 {
    let level = Line::new((0.0, y), (1.0, y));
    let (top, up) = (crotch.waist_centre(), crotch.centre_up);
    let centre = top.x + (y - top.y) * up.x / up.y;
    crotch.crotch.crossings_with_line(level).first().map_or(0.0, |c| c.point.x - centre)
}

/// The width of a piece at a level, mm.
fn width_at(piece: &Piece, y: f64) -> f64 {
    piece.width_along(Line::new((0.0, y), (1.0, y))).unwrap_or(0.0)
}

/// Where a level line meets the side seam.
fn side_reach(piece: &Piece, y: f64) -> Option<f64> {
    let level = Line::new((0.0, y), (1.0, y));
    let seam = piece.seam(names::SIDE).ok()?;
    seam.crossings_with_line(level).first().map(|c| c.point.x)
}

/// Ease below which a leg counts as close on the calf, mm.
const CALF_EASE: f64 = 20.0;

/// Thigh ease above this is told, mm: more than the roomy leg is meant to have.
const WIDE_THIGH: f64 = 210.0;

/// Sitting, the waist is about as high over the seat as it is standing over the crotch
/// (common practice, no published source); what differs by more is told, mm. Ours.
const SEATED: f64 = 40.0;

/// Moves smaller than this are not worth a remark, mm.
const REMARK: f64 = 10.0;

/// What the measures that draw nothing say of the others.
fn compared(measures: &Measures) -> Vec<DraftNote> {
    let mut notes = Vec::new();
    let waist = measures.get(Measure::WaistHeight);
    let standing = waist.zip(measures.get(Measure::InsideLegHeight)).map(|(a, b)| a - b);
    if let Some((seated, standing)) = measures.get(Measure::SeatedRise).zip(standing)
        && (seated - standing).abs() > SEATED
    {
        notes.push(DraftNote::SeatedRiseDiffers { seated, standing });
    }
    let over_side = |measure| {
        let up = measures.get(measure)? - waist?;
        (up.abs() >= REMARK).then_some(up)
    };
    let (front, back) = (over_side(Measure::WaistHeightFront), over_side(Measure::WaistHeightBack));
    if front.is_some() || back.is_some() {
        notes.push(DraftNote::WaistTilts { front, back });
    }
    notes
}

fn notes(measures: &Measures, plan: &Plan, report: &DraftReport) -> Vec<DraftNote> {
    let mut notes = Vec::new();
    let (hem, knee, thigh) = (report.hem.drafted, report.knee.drafted, report.thigh);
    if let Some(heel) = measures.get_or_derived(Measure::HeelGirth)
        && hem < heel
    {
        notes.push(DraftNote::HemUnderHeel { hem, heel });
    }
    if let Some(calf) = measures.get_or_derived(Measure::CalfGirth)
        && knee < calf + CALF_EASE
    {
        notes.push(DraftNote::CloseAtCalf { leg: knee, calf });
    }
    if thigh.error() < -tolerance::SAME_POINT {
        notes.push(DraftNote::CloseAtThigh { leg: thigh.drafted, wanted: thigh.target });
    }
    let ease = thigh.drafted - report.thigh_girth;
    if ease > WIDE_THIGH {
        notes.push(DraftNote::WideAtThigh { ease });
    }
    notes.extend(compared(measures));
    if report.crotch_lowered > REMARK {
        notes.push(DraftNote::CrotchLowered { by: report.crotch_lowered });
    }
    let crotch = measures.get_or_derived(Measure::InsideLegHeight).map(|h| h - plan.rise_ease);
    if let Some((hip, crotch)) = measures.get_or_derived(Measure::HipHeight).zip(crotch) {
        let up = report.hip_level - report.crotch_lowered - (hip - crotch);
        if up.abs() > REMARK {
            notes.push(DraftNote::HipLineMoved { up });
        }
    }
    notes
}
