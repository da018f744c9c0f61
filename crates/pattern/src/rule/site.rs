//! The piece a line is placed on.

use crate::place_line::LineEnd;
use crate::{End, Leg, Pattern, PatternError, Piece, Place, SeamPlace};
use hangtrue_geometry::words;
use hangtrue_geometry::words::{Length, Words};
use hangtrue_geometry::{Chain, Line, Point};

/// A line meets a seam when it ends this near to it, mm.
pub(super) const ON_SEAM: f64 = 1e-3;

/// Where a rule is placed: a piece and the other lines on it.
pub(crate) struct Site<'a> {
    /// The pattern.
    pub pattern: &'a Pattern,
    /// The piece the line lies on.
    pub piece: &'a Piece,
    /// The line's name.
    pub line: &'a str,
    /// How many lines hang from each other down to this one.
    pub depth: usize,
}

impl Site<'_> {
    /// The line cannot be placed, and why.
    pub fn cannot(&self, why: impl Into<Words>) -> PatternError {
        PatternError::LineNotPlaced {
            piece: self.piece.name.clone(),
            line: self.line.to_owned(),
            why: why.into(),
        }
    }

    /// The geometry's reason why it cannot.
    pub fn said(&self, why: impl std::error::Error) -> PatternError {
        self.cannot(why.to_string())
    }

    /// The point a place means.
    pub fn point(&self, place: &Place) -> Result<Point, PatternError> {
        match place {
            Place::Corner(name) => self.piece.corner(name),
            Place::Point(p) => Ok(*p),
            Place::Apex(name) => {
                let (seam, index) = self.piece.dart(name)?;
                Ok(seam.darts[index].apex)
            }
            Place::Seam(SeamPlace { seam, from, distance }) => self.on_seam(seam, *from, *distance),
        }
    }

    /// The point on a seam at a sewn distance from one of its ends, mm.
    pub fn on_seam(&self, seam: &str, from: End, distance: f64) -> Result<Point, PatternError> {
        let found = self.piece.seam(seam)?;
        let length = found.sewn_length();
        if !(0.0..=length).contains(&distance) {
            return Err(PatternError::PastSeamEnd {
                piece: self.piece.name.clone(),
                seam: seam.to_owned(),
                asked: Length(distance),
                length: Length(length),
            });
        }
        Ok(found.place(from, distance).point)
    }

    /// The stretch of the line square to the grain through `p` that lies inside the
    /// piece and nearest to `p`, the point of `place` or below it.
    pub fn level_through(&self, p: Point, place: &Place) -> Result<Chain, PatternError> {
        let piece = self.piece;
        // On both legs a level line starts at the same seam.
        let across = piece.grain.square() * if piece.leg() == Some(Leg::Left) { -1.0 } else { 1.0 };
        let level = Line::new(p, p + across);
        let crossings = piece.crossings_with_line(level);
        let middle_inside = |a: f64, b: f64| piece.contains(p + across * (0.5 * (a + b)));
        let stretches: Vec<(f64, f64)> = crossings
            .windows(2)
            .map(|w| (w[0].2, w[1].2))
            .filter(|&(a, b)| b - a > ON_SEAM && middle_inside(a, b))
            .collect();
        let distance = |&(a, b): &(f64, f64)| {
            if a <= ON_SEAM && b >= -ON_SEAM { 0.0 } else { a.abs().min(b.abs()) }
        };
        let best = stretches.into_iter().min_by(|a, b| distance(a).total_cmp(&distance(b)));
        let (a, b) = best.ok_or_else(|| {
            self.cannot(words!["level with ", place.said(), " there is no cloth of this piece"])
        })?;
        Ok(Chain::line(p + across * a, p + across * b))
    }

    /// The longest stretch of a line that lies inside the piece; none when none does.
    pub fn within(&self, long: &Chain) -> Result<Option<Chain>, PatternError> {
        let seams = self.piece.seams.iter();
        let mut cuts: Vec<f64> = seams.flat_map(|s| s.crossings(long)).map(|c| c.there).collect();
        cuts.sort_by(f64::total_cmp);
        let inside = |w: &&[f64]| self.piece.contains(long.point_at(0.5 * (w[0] + w[1])));
        let stretches = cuts.windows(2).filter(inside);
        let longest = stretches.max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])));
        longest.map(|w| long.part(w[0], w[1])).transpose().map_err(|why| self.said(why))
    }

    /// Where another line of the piece runs by its rule.
    pub fn other(&self, line: &str) -> Result<Chain, PatternError> {
        let line = self.pattern.line(&self.piece.name, line)?;
        self.pattern.chain_of(line, self.piece, self.depth + 1)
    }
}

/// Where the ends of a line lie on the outline.
pub(crate) fn ends_on(piece: &Piece, chain: &Chain) -> Vec<LineEnd> {
    let mut ends = Vec::new();
    for p in [chain.start(), chain.end()] {
        if let Some((index, place, _)) = piece.nearest_within(p, ON_SEAM) {
            ends.push(LineEnd {
                seam: piece.seams[index].name.clone(),
                position: place.position,
                point: place.point,
            });
        }
    }
    ends
}
