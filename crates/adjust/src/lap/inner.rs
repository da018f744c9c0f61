//! Lines drawn inside a piece go with the cloth they lie on when the piece is lapped.

use super::{CutEnd, Plan};
use crate::{ChangeError, LaidPinch};
use hangtrue_geometry::{Chain, Point, Vec2};
use hangtrue_pattern::{End, InnerLine};

/// A stretch shorter than this is no stretch, mm.
const NO_STRETCH: f64 = 1e-6;

/// The inner lines of the piece as they lie after it is laid together. One that lies
/// in the fold from end to end lies along the staying edge then.
pub(super) fn carried_lines(
    plan: &Plan<'_>,
    laid: &LaidPinch,
    share: f64,
) -> Result<Vec<InnerLine>, ChangeError> {
    if plan.piece.inner.is_empty() {
        return Ok(Vec::new());
    }
    let cloth = Cloth::new(plan, laid, share);
    let carried = |line: &InnerLine| -> Result<InnerLine, ChangeError> {
        Ok(InnerLine { chain: cloth.carried(&line.chain)?, ..line.clone() })
    };
    plan.piece.inner.iter().map(carried).collect()
}

/// Where a place of the piece lies.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Lies {
    /// On the side that stays.
    Stays,
    /// On a strip of the side that moves.
    Moves(usize),
    /// In the fold, which is gone afterwards.
    Folded,
}

struct Cloth<'a> {
    plan: &'a Plan<'a>,
    laid: &'a LaidPinch,
    share: f64,
    moving_is_right: bool,
    /// Both edges of the fold, the path, and the second cuts.
    borders: Vec<Chain>,
    /// Each second cut: its station, where it begins, where it leads.
    cuts: Vec<(usize, Point, Vec2)>,
}

impl<'a> Cloth<'a> {
    fn new(plan: &'a Plan<'a>, laid: &'a LaidPinch, share: f64) -> Self {
        let (left, right) = laid.fold_edges(share);
        let mut borders = vec![laid.path.clone()];
        for edge in [left, right] {
            borders.extend(edge.windows(2).map(|w| Chain::line(w[0], w[1])));
        }
        let mut cuts = Vec::new();
        for &(station, end) in &plan.cuts {
            let from = laid.station_point(station);
            let to = match end {
                CutEnd::Dart(seam, dart) => {
                    let parts = &plan.piece.seams[seam].parts;
                    parts[dart].end().midpoint(parts[dart + 1].start())
                }
                CutEnd::Seam(seam, at) => plan.piece.seams[seam].place(End::Start, at).point,
            };
            cuts.push((station, from, to - from));
            borders.push(Chain::line(from, to));
        }
        borders.retain(|border| border.length() > NO_STRETCH);
        let moving_is_right = plan.forward == (plan.piece.orientation() > 0.0);
        Self { plan, laid, share, moving_is_right, borders, cuts }
    }

    /// A line as it lies afterwards: each stretch goes with its cloth, and where two
    /// stretches do not meet any more the line runs through the middle of the step.
    fn carried(&self, chain: &Chain) -> Result<Chain, ChangeError> {
        let what = || ChangeError::geometry("following the cloth");
        let mut at: Vec<f64> = self
            .borders
            .iter()
            .flat_map(|border| chain.crossings(border))
            .map(|crossing| crossing.here)
            .chain([0.0, chain.length()])
            .collect();
        at.sort_by(f64::total_cmp);
        let mut whole: Option<Chain> = None;
        for pair in at.windows(2).filter(|w| w[1] - w[0] > NO_STRETCH) {
            let stretch = chain.part(pair[0], pair[1]).map_err(what())?;
            let stretch = match self.lies(stretch.point_at(0.5 * stretch.length())) {
                Lies::Folded => continue,
                Lies::Stays => stretch,
                Lies::Moves(strip) => stretch.moved(self.plan.moves[strip]),
            };
            whole = Some(match whole {
                None => stretch,
                Some(before) => {
                    let middle = before.end().midpoint(stretch.start());
                    let before = before.with_ends(before.start(), middle);
                    let next = stretch.with_ends(middle, stretch.end());
                    before.then(&next).map_err(what())?
                }
            });
        }
        match whole {
            Some(whole) => Ok(whole),
            None => self.along_fold(chain),
        }
    }

    /// What is pinned at a place along the path, mm, straight between the stations.
    fn amount_at(&self, along: f64) -> f64 {
        let stations = &self.laid.stations;
        let after = stations.partition_point(|s| s.0 < along).clamp(1, stations.len() - 1);
        let ((a, from), (b, to)) = (stations[after - 1], stations[after]);
        let share = ((along - a) / (b - a)).clamp(0.0, 1.0);
        self.share * (from + share * (to - from))
    }

    fn lies(&self, place: Point) -> Lies {
        let near = self.laid.path.nearest(place);
        let along = self.laid.path.direction_at(near.position);
        // Plus to the left of the path.
        let off = along.cross(place - near.point);
        if off.abs() < 0.5 * self.amount_at(near.position) {
            return Lies::Folded;
        }
        if (off < 0.0) != self.moving_is_right {
            return Lies::Stays;
        }
        let passed = self.cuts.iter().filter(|(station, from, to)| {
            let along = self.laid.path.direction_at(self.laid.stations[*station].0);
            to.cross(place - *from) * to.cross(along) > 0.0
        });
        Lies::Moves(passed.map(|cut| cut.0).max().unwrap_or(0))
    }

    /// The staying edge of the fold between the places nearest to both ends.
    fn along_fold(&self, chain: &Chain) -> Result<Chain, ChangeError> {
        let what = || ChangeError::geometry("following the cloth");
        let path = &self.laid.path;
        let [a, b] = [chain.start(), chain.end()].map(|p| path.nearest(p).position);
        let between = self.laid.stations.iter().map(|s| s.0);
        let mut places: Vec<f64> = between.filter(|s| *s > a.min(b) && *s < a.max(b)).collect();
        places.extend([a, b]);
        places.sort_by(f64::total_cmp);
        places.dedup_by(|x, y| (*x - *y).abs() < NO_STRETCH);
        let staying = if self.moving_is_right { 0.5 } else { -0.5 };
        let edge = |s: f64| {
            let along = path.direction_at(s);
            path.point_at(s) + Vec2::new(-along.y, along.x) * (staying * self.amount_at(s))
        };
        let mut lines = places.windows(2).map(|w| Chain::line(edge(w[0]), edge(w[1])));
        let Some(first) = lines.next() else { return Ok(chain.clone()) };
        let whole = lines.try_fold(first, |whole, next| whole.then(&next)).map_err(what())?;
        Ok(if a > b { whole.reversed() } else { whole })
    }
}
