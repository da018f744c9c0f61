//! The marked lines of a settled toile as the reading takes them: how each hangs on a
//! toile that fits, in place of the closed form.

use crate::hanging::{CLAIMED, cloth_lines, places_along};
use crate::predict::{CLAIMED_ON, Prediction, Settled};
use crate::told::is_pleated;
use hangtrue_adjust::HOME_ERROR;
use hangtrue_adjust::reading::{HangLine, PieceView, SettledHome, SettledPlace};
use hangtrue_pattern::{Leg, Pattern, PlacedLine};

/// Places of a line, from its inner end.
const PLACES: usize = 21;

/// The lines of a settled toile, on both legs. None where the waist gave way: such a toile
/// is not one that fits. Nor are lines of a pleated piece taken: it is sewn shut here.
pub fn settled_homes(pattern: &Pattern, settled: &Settled, told: &Prediction) -> Vec<SettledHome> {
    if settled.first.slipped {
        return Vec::new();
    }
    // What starts and meshes differ by says nothing of a real toile, so no less is
    // claimed than of the closed form at the least.
    let least = HOME_ERROR.max(if told.began_earlier { CLAIMED_ON } else { CLAIMED });
    let lines = cloth_lines(pattern);
    let mut homes = Vec::new();
    for line in HangLine::ALL {
        for view in PieceView::ALL {
            for leg in Leg::BOTH {
                let piece = pattern.piece_for(leg, view.piece()).unwrap_or(view.piece());
                let pleated = pattern.piece(piece).is_ok_and(is_pleated);
                let placed = lines.iter().find(|l| l.piece == piece && l.name == line.name());
                let placed = placed.filter(|_| !pleated);
                let places = placed.and_then(|l| places_of(pattern, l, settled, least));
                homes.extend(places.map(|places| SettledHome { line, view, leg, places }));
            }
        }
    }
    homes
}

fn places_of(
    pattern: &Pattern,
    line: &PlacedLine,
    settled: &Settled,
    least: f64,
) -> Option<Vec<SettledPlace>> {
    let shares: Vec<f64> = (0..PLACES).map(|i| i as f64 / (PLACES - 1) as f64).collect();
    let below = |rest: &crate::predict::Rest| -> Option<Vec<f64>> {
        let places = places_along(pattern, line, &shares, &rest.sewn, &rest.places)?;
        let side = places.last()?.z;
        Some(places.iter().map(|p| side - p.z).collect())
    };
    let first = below(&settled.first)?;
    let others: Vec<Vec<f64>> = settled.others.iter().filter_map(below).collect();
    let place = |(i, at): (usize, &f64)| {
        let differs = others.iter().map(|o| (o[i] - first[i]).abs());
        let spread = differs.fold(least, f64::max);
        // Droops are taken from the side, where nothing is in doubt.
        let error = if i + 1 == PLACES { 0.0 } else { spread };
        SettledPlace { at: *at, below_side: first[i], error }
    };
    Some(shares.iter().enumerate().map(place).collect())
}
