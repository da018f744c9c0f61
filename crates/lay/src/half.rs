//! What is cut on the fold as it lies there: the half that lies on the cloth, open along the
//! fold.

use crate::Lay;
use hangtrue_cut::{Cloth, CutPiece, CutSet};
use hangtrue_geometry::{Affine, Chain, GeometryError, Line, Point, Vec2};
use hangtrue_pattern::words;
use hangtrue_pattern::{End, Grain, InnerLine, Piece, Seam};

/// The edge of a half along the fold: neither sewn nor cut.
pub const FOLD_EDGE: &str = "fold";
/// What comes so near the fold lies on it, mm.
const ON_FOLD: f64 = 1e-6;

/// Whether a half is drawn with its edge along the fold, or open there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AtFold {
    /// A closed outline, one of its edges called [`FOLD_EDGE`].
    Closed,
    /// The lines that are sewn and cut, and nothing along the fold.
    Open,
}

/// The fold as it runs over a piece as it is drawn.
struct Fold {
    line: Line,
    /// Square to it, towards the half that lies on the cloth.
    up: Vec2,
}

impl Lay {
    /// The pieces as they are drawn where they lie: for that cloth, and what is on the fold as
    /// the half that lies there. One that cannot be halved is drawn whole.
    #[must_use]
    pub fn as_laid(&self, set: &CutSet, of: Cloth, at_fold: AtFold) -> CutSet {
        let mut laid = set.for_cloth(of);
        for (index, ..) in self.laid().filter(|(_, _, place)| place.on_fold) {
            let name = &self.parts[index].piece;
            let Some(fold) = self.to_cloth(index).and_then(Fold::of) else { continue };
            let at = laid.pattern.pieces.iter().position(|piece| piece.name == *name);
            let known = laid.pieces.iter().position(|known| known.name == *name);
            let Some((at, known)) = at.zip(known) else { continue };
            let halved = fold.half(&laid.pattern.pieces[at], &laid.pieces[known], at_fold);
            if let Ok(Some((piece, cut))) = halved {
                laid.pattern.pieces[at] = piece.into();
                laid.pieces[known] = cut;
            }
        }
        laid
    }
}

impl Fold {
    /// The line at y = 0 on the cloth, seen from the piece.
    fn of(to_cloth: Affine) -> Option<Self> {
        if to_cloth.determinant().abs() < 1e-9 {
            return None;
        }
        let back = to_cloth.inverse();
        let line = Line::new(back * Point::ORIGIN, back * Point::new(1.0, 0.0));
        let up = (back * Point::new(0.0, 1.0) - line.p0).normalize();
        Some(Self { line, up })
    }

    fn above(&self, p: Point) -> f64 {
        (p - self.line.p0).dot(self.up)
    }

    /// The stretches of a line that lie on the cloth, from where to where along it.
    fn stretches(&self, chain: &Chain) -> Vec<(f64, f64)> {
        let whole = chain.length();
        let mut stops: Vec<f64> =
            chain.crossings_with_line(self.line).into_iter().map(|c| c.here).collect();
        stops.extend([0.0, whole]);
        stops.sort_by(f64::total_cmp);
        let lies = |w: &&[f64]| {
            w[1] - w[0] > ON_FOLD && self.above(chain.point_at(0.5 * (w[0] + w[1]))) > ON_FOLD
        };
        stops.windows(2).filter(lies).map(|w| (w[0], w[1])).fold(Vec::new(), joined)
    }

    /// The half of a piece; none where it has a dart or the fold meets it more than twice.
    fn half(
        &self,
        piece: &Piece,
        known: &CutPiece,
        at_fold: AtFold,
    ) -> Result<Option<(Piece, CutPiece)>, GeometryError> {
        let (mut half, mut cut) = (piece.clone(), known.clone());
        half.seams.clear();
        half.notches.clear();
        for seam in &piece.seams {
            let ([part], true) = (&seam.parts[..], seam.darts.is_empty()) else { return Ok(None) };
            match self.stretches(part)[..] {
                [] => {}
                [(from, to)] => self.take(&mut half, piece, seam, (from, to))?,
                _ => return Ok(None),
            }
        }
        if at_fold == AtFold::Closed && !close(&mut half) {
            return Ok(None);
        }
        let Some(edge) = self.open_cut(&known.cut)? else { return Ok(None) };
        cut.cut = match at_fold {
            AtFold::Open => edge,
            AtFold::Closed => edge.then(&Chain::line(edge.end(), edge.start()))?,
        };
        half.inner = self.lines(&piece.inner)?;
        half.grain = self.grain(&piece.grain);
        cut.folds = self.lines(&known.folds)?;
        cut.snips.retain(|snip| self.above(snip.at) > -ON_FOLD);
        cut.drills.retain(|drill| self.above(drill.at) > -ON_FOLD);
        cut.hints.push(words!["half of it, its middle on the fold"]);
        Ok(Some((half, cut)))
    }

    /// The part of a seam that lies on the cloth, with its notches.
    fn take(
        &self,
        half: &mut Piece,
        piece: &Piece,
        seam: &Seam,
        (from, to): (f64, f64),
    ) -> Result<(), GeometryError> {
        let whole = seam.parts[0].length();
        half.seams.push(Seam { parts: vec![seam.parts[0].part(from, to)?], ..seam.clone() });
        for notch in piece.notches.iter().filter(|notch| notch.seam == seam.name) {
            let at = match notch.from {
                End::Start => notch.distance,
                End::End => whole - notch.distance,
            };
            if (from - ON_FOLD..=to + ON_FOLD).contains(&at) {
                let distance = if notch.from == End::Start { at - from } else { to - at };
                half.notches.push(hangtrue_pattern::Notch { distance, ..notch.clone() });
            }
        }
        Ok(())
    }

    /// The cut line of the half, from the fold round to the fold.
    fn open_cut(&self, cut: &Chain) -> Result<Option<Chain>, GeometryError> {
        let part = |(from, to): (f64, f64)| cut.part(from, to);
        match self.stretches(cut)[..] {
            [one] => part(one).map(Some),
            // The line begins somewhere on the half: its end runs on into its beginning.
            [first, last] if first.0 < ON_FOLD && cut.length() - last.1 < ON_FOLD => {
                part(last)?.then(&part(first)?).map(Some)
            }
            _ => Ok(None),
        }
    }

    fn lines(&self, lines: &[InnerLine]) -> Result<Vec<InnerLine>, GeometryError> {
        let mut kept = Vec::new();
        for line in lines {
            for (from, to) in self.stretches(&line.chain) {
                kept.push(InnerLine { chain: line.chain.part(from, to)?, ..line.clone() });
            }
        }
        Ok(kept)
    }

    /// The grain, brought to this half where it is drawn on the other.
    fn grain(&self, grain: &Grain) -> Grain {
        let across = |p: Point| p - self.up * (2.0 * self.above(p));
        if self.above(grain.from.midpoint(grain.to)) > ON_FOLD {
            return *grain;
        }
        Grain { from: across(grain.from), to: across(grain.to) }
    }
}

/// Stretches that follow on each other made one.
fn joined(mut found: Vec<(f64, f64)>, next: (f64, f64)) -> Vec<(f64, f64)> {
    match found.last_mut() {
        Some(last) if next.0 - last.1 < ON_FOLD => last.1 = next.1,
        _ => found.push(next),
    }
    found
}

/// Closes an outline along the fold; false where it does not lack just that edge.
fn close(half: &mut Piece) -> bool {
    let count = half.seams.len();
    let lacks =
        |i: &usize| half.seams[*i].end().distance(half.seams[(i + 1) % count].start()) > ON_FOLD;
    let gaps: Vec<usize> = (0..count).filter(lacks).collect();
    let [gap] = gaps[..] else { return false };
    let (from, to) = (half.seams[gap].end(), half.seams[(gap + 1) % count].start());
    half.seams.insert(gap + 1, Seam::plain(FOLD_EDGE, "end of the fold", Chain::line(from, to)));
    true
}
