//! The solved seams put together as two pieces with notches, darts and joins.

use super::DraftError;
use super::crotch::CrotchSide;
use super::levels::Levels;
use super::shaping::Shaped;
use crate::{Dart, End, Grain, Join, JoinSide, Notch, NotchKind, Pattern, Piece, Seam, names};
use hangtrue_geometry::{Affine, Chain, Line, Point};

/// The grain reaches this part of the way from the crotch level to the waist.
const GRAIN_TOP: f64 = 0.6;

/// Back and front as a pattern; every piece is checked.
pub(super) fn pattern(
    levels: &Levels,
    back: &CrotchSide,
    front: &CrotchSide,
    shaped: &(Shaped, Shaped),
) -> Result<Pattern, DraftError> {
    let mirror = Affine::new([-1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);
    let marks = Marks {
        hip_on_side: shaped.1.side.above_hip,
        knee_on_side: shaped.1.side.above_knee,
        knee_on_inseam: front.to_knee,
    };
    let pieces = vec![
        piece(names::BACK, mirror, levels, back, &shaped.0, &marks),
        piece(names::FRONT, Affine::IDENTITY, levels, front, &shaped.1, &marks),
    ];
    let pattern = Pattern {
        pieces: pieces.into_iter().map(Into::into).collect(),
        joins: joins().into(),
        ..Pattern::default()
    };
    pattern.check()?;
    Ok(pattern)
}

/// Sewn distances of the notches that meet, mm.
struct Marks {
    hip_on_side: f64,
    knee_on_side: f64,
    knee_on_inseam: f64,
}

fn piece(
    name: &str,
    turn: Affine,
    levels: &Levels,
    crotch: &CrotchSide,
    shaped: &Shaped,
    marks: &Marks,
) -> Piece {
    let waist = Seam {
        name: names::WAIST.to_owned(),
        starts_at: names::WAIST_SIDE.to_owned(),
        parts: shaped.waist.clone(),
        darts: shaped.darts.iter().map(Dart::clone).collect(),
    };
    let hem = Chain::line(crotch.inseam.end(), shaped.side.chain.start());
    let seams = [
        waist,
        Seam::plain(names::CROTCH, names::WAIST_CENTRE, crotch.crotch.clone()),
        Seam::plain(names::INSEAM, names::CROTCH_POINT, crotch.inseam.clone()),
        Seam::plain(names::HEM, names::HEM_INSEAM, hem),
        Seam::plain(names::SIDE, names::HEM_SIDE, shaped.side.chain.clone()),
    ];
    Piece {
        name: name.to_owned(),
        seams: seams.iter().map(|s| s.moved(turn)).collect(),
        grain: Grain {
            from: Point::new(0.0, 0.9 * levels.hem),
            to: Point::new(0.0, GRAIN_TOP * levels.waist),
        },
        notches: notches(name, shaped.hip, crotch, marks),
        inner: Vec::new(),
        parted: None,
    }
}

fn notches(name: &str, hip: f64, crotch: &CrotchSide, marks: &Marks) -> Vec<Notch> {
    let notch = |name: &str, seam: &str, from, distance, kind| Notch {
        name: name.to_owned(),
        seam: seam.to_owned(),
        from,
        distance,
        kind,
    };
    let kind = if name == names::BACK { NotchKind::Double } else { NotchKind::Single };
    let level = Line::new((0.0, hip), (1.0, hip));
    let on_crotch = crotch.crotch.crossings_with_line(level).first().map(|c| c.here);
    let mut notches = vec![
        notch("hip", names::SIDE, End::End, marks.hip_on_side, NotchKind::Single),
        notch("knee", names::SIDE, End::End, marks.knee_on_side, NotchKind::Single),
        notch("knee", names::INSEAM, End::Start, marks.knee_on_inseam, NotchKind::Single),
    ];
    if let Some(distance) = on_crotch {
        notches.push(notch(names::SEAT, names::CROTCH, End::Start, distance, kind));
    }
    notches
}

fn joins() -> Vec<Join> {
    let pair = |name: &str, seam, from| Join {
        name: name.to_owned(),
        first: JoinSide::new(names::BACK, seam, from),
        second: Some(JoinSide::new(names::FRONT, seam, from)),
        ease: 0.0,
    };
    let mirror = |name: &str, piece| Join {
        name: name.to_owned(),
        first: JoinSide::new(piece, names::CROTCH, End::Start),
        second: None,
        ease: 0.0,
    };
    vec![
        pair("side seam", names::SIDE, End::End),
        pair("inseam", names::INSEAM, End::Start),
        mirror("centre back", names::BACK),
        mirror("centre front", names::FRONT),
    ]
}
