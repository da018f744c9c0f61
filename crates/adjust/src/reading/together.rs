//! Places of one line that are off together: of a photo, what makes one place unsure (where
//! the seam lies, the level, the scale) makes the others so too.

use super::droop::{Droop, MOST_DROOP, SAME_PLACE};

/// A line as it was read of one photo.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ReadTogether {
    /// Its places, those too that are too unsure to be told by themselves.
    pub places: Vec<Droop>,
    /// How they may be off together, row by row: squares of their ±, and what two of them
    /// share of it, mm².
    pub spread: Vec<Vec<f64>>,
}

fn same_place(a: &Droop, b: &Droop) -> bool {
    (a.line, a.view, a.leg) == (b.line, b.view, b.leg) && (a.at - b.at).abs() < SAME_PLACE
}

/// The droops, and of the lines that were read together the places besides that are not
/// told by themselves; sorted along their lines.
pub(super) fn with_untold(droops: &[Droop], together: &[ReadTogether]) -> Vec<Droop> {
    let mut all = droops.to_vec();
    for place in together.iter().flat_map(|t| &t.places) {
        let sound = place.mm.abs() <= MOST_DROOP && place.error > 0.0 && place.error < MOST_DROOP;
        if sound && !all.iter().any(|d| same_place(d, place)) {
            all.push(*place);
        }
    }
    all.sort_by(|a, b| a.at.total_cmp(&b.at));
    all
}

/// What two droops share of their ±, for each with each.
#[derive(Debug, Clone, Default)]
pub(super) struct Margins {
    /// Of each droop its line and its row there.
    rows: Vec<Option<(usize, usize)>>,
    spreads: Vec<Vec<Vec<f64>>>,
}

impl Margins {
    pub(super) fn of(droops: &[Droop], together: &[ReadTogether]) -> Self {
        let row = |d: &Droop| {
            let of_line = |t: &ReadTogether| t.places.iter().position(|p| is_read_so(p, d));
            together.iter().enumerate().find_map(|(line, t)| Some((line, of_line(t)?)))
        };
        Self {
            rows: droops.iter().map(row).collect(),
            spreads: together.iter().map(|t| t.spread.clone()).collect(),
        }
    }

    /// What the droops at these places of the list share, mm²; of droops that were not read
    /// together nothing.
    pub(super) fn shared(&self, a: usize, b: usize) -> f64 {
        match (self.rows.get(a), self.rows.get(b)) {
            (Some(Some((line, i))), Some(Some((other, j)))) if line == other => {
                let row = self.spreads.get(*line).and_then(|s| s.get(*i));
                row.and_then(|r| r.get(*j)).copied().unwrap_or(0.0)
            }
            _ => 0.0,
        }
    }
}

/// Whether the droop is that very one, and not one that was measured otherwise there.
fn is_read_so(place: &Droop, droop: &Droop) -> bool {
    same_place(place, droop) && (place.mm - droop.mm).abs() < 1e-9
}
