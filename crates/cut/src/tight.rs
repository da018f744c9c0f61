//! Whether trousers that nothing opens can be drawn on: their waist has to pass the hips.

use crate::sewn_edge;
use hangtrue_adjust::{Closure, Document, WaistFinish};
use hangtrue_geometry::Line;
use hangtrue_geometry::words::{Length, Words};
use hangtrue_pattern::measures::Measure;
use hangtrue_pattern::{Leg, Pattern, Piece, names, words};

/// By how much the sewn waist of trousers that nothing opens is narrower than the hips, mm;
/// none where something opens them, where the waist passes, or where the hips are not known.
/// The hips are those that were measured, or as wide as the pattern is at its hip notches.
pub(crate) fn narrower_than_hips(pattern: &Pattern, document: &Document) -> Option<f64> {
    if document.cutting.closure != Closure::None {
        return None;
    }
    let piece = |leg, base| pattern.piece(pattern.piece_for(leg, base).unwrap_or(base)).ok();
    let (mut waist, mut at_notches) = (0.0, Some(0.0));
    for leg in Leg::BOTH {
        for base in [names::BACK, names::FRONT] {
            let piece = piece(leg, base)?;
            waist += sewn_edge(piece).ok()?.length();
            at_notches = at_notches.and_then(|hips| Some(hips + width_at_hip(piece)?));
        }
    }
    let measured = document.worn_by().and_then(|measures| measures.get(Measure::HipGirth));
    let less = measured.or(at_notches)? - waist;
    (less > 0.0).then_some(less)
}

/// The width of a piece at its hip notch, mm.
fn width_at_hip(piece: &Piece) -> Option<f64> {
    let notch = piece.notches.iter().find(|n| n.name == names::HIP && n.seam == names::SIDE)?;
    let at = piece.seam(names::SIDE).ok()?.place(notch.from, notch.distance).point;
    piece.width_along(Line::new(at, at + piece.grain.square()))
}

/// What is told of it where pieces are chosen to be sewn; a casing tells it by itself.
pub(crate) fn told(less: f64, document: &Document) -> Option<Words> {
    let plan = &document.cutting;
    let is_chosen = plan.set.is_some() || plan.waist != WaistFinish::None;
    let by_casing = matches!(plan.waist, WaistFinish::Casing { .. });
    (is_chosen && !by_casing).then(|| {
        words![
            "Nothing opens the trousers, and their waist is ",
            Length(less),
            " narrower than the hips: choose a fly or a zip. A toile can be left open at the centre back and pinned shut."
        ]
    })
}
