//! The allowance along each seam: from the named set, then the maker's own widths.

use crate::{Allowance, CutError, Inlay, SeamAllowance};
use hangtrue_adjust::{AllowanceSet, CuttingPlan, Document, Usual};
use hangtrue_geometry::units::Unit;
use hangtrue_pattern::{End, Leg, Pattern, Piece, names};

/// The allowance the project has chosen for the seams of a pattern: by the plan's set, or
/// where none is chosen by the two widths kept with its printing.
pub fn allowance_of(pattern: &Pattern, document: &Document) -> Allowance {
    let (plan, printing) = (&document.cutting, &document.printing);
    let mut allowance = match plan.set {
        Some(set) => of_set(pattern, set, document.unit),
        None if printing.with_allowance => {
            let usual = Usual::of(document.unit);
            Allowance::all_round(printing.allowance.unwrap_or(usual.allowance))
                .with(names::HEM, printing.hem.unwrap_or(usual.hem))
        }
        None => Allowance::default(),
    };
    allowance.seams.extend(of_both_legs(plan, pattern));
    allowance
}

/// The maker's own widths; one for a piece that was parted since is for both legs.
pub(crate) fn of_both_legs(plan: &CuttingPlan, pattern: &Pattern) -> Vec<SeamAllowance> {
    let mut all = Vec::with_capacity(plan.widths.len());
    for own in &plan.widths {
        let entry = |piece: Option<String>| SeamAllowance {
            piece,
            seam: own.seam.clone(),
            width: own.width,
            inlay: None,
        };
        match &own.piece {
            Some(piece) if pattern.piece(piece).is_err() && pattern.was_parted_from(piece) => {
                let legs = Leg::BOTH.into_iter().filter_map(|leg| pattern.piece_for(leg, piece));
                all.extend(legs.map(|leg| entry(Some(leg.to_owned()))));
            }
            piece => all.push(entry(piece.clone())),
        }
    }
    all
}

/// The name a piece had before the legs were parted.
pub(crate) fn base_name(piece: &Piece) -> &str {
    piece.parted.as_ref().map_or(&piece.name, |parted| &parted.from)
}

fn of_set(pattern: &Pattern, set: AllowanceSet, unit: Unit) -> Allowance {
    let w = set.widths(unit);
    let mut allowance = Allowance::all_round(w.seams)
        .with(names::WAIST, w.waist)
        .with(names::CROTCH, w.crotch)
        .with(names::SIDE, w.side)
        .with(names::HEM, w.hem);
    for piece in pattern.pieces.iter().filter(|p| base_name(p) == names::BACK) {
        let Ok(crotch) = piece.seam(names::CROTCH) else { continue };
        let at = if crotch.starts_at == names::CROTCH_POINT { End::End } else { End::Start };
        allowance.seams.push(SeamAllowance {
            piece: Some(piece.name.clone()),
            seam: names::CROTCH.to_owned(),
            width: w.crotch,
            inlay: (w.centre_back != w.crotch).then_some(Inlay { at, width: w.centre_back }),
        });
    }
    allowance
}

/// Refuses a width for a seam that no piece has, as it is cut or in the pattern.
pub(crate) fn check_named(plan: &CuttingPlan, patterns: [&Pattern; 2]) -> Result<(), CutError> {
    for own in &plan.widths {
        let mut pieces = patterns.iter().flat_map(|pattern| &pattern.pieces);
        let is_there = pieces.any(|p| {
            own.piece.as_deref().is_none_or(|named| named == p.name || named == base_name(p))
                && p.seams.iter().any(|s| s.name == own.seam)
        });
        if !is_there {
            let named = match &own.piece {
                Some(piece) => format!("the {} of the {piece}", own.seam),
                None => format!("the {}", own.seam),
            };
            return Err(CutError::NoSuchSeam { named });
        }
    }
    Ok(())
}
