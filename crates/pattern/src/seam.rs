//! A seam: the sewn edge of a piece between two corners, with the darts that
//! open into it.

use crate::PatternError;
use hangtrue_geometry::{
    Affine, Chain, Crossing, GeometryError, Line, Nearest, Point, Vec2, angle_between, turn_about,
};
use serde::{Deserialize, Serialize};

/// One of the two ends of a seam, in the direction the outline runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub enum End {
    /// Where the seam starts.
    #[default]
    Start,
    /// Where it ends.
    End,
}

impl End {
    /// The other end.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Start => Self::End,
            Self::End => Self::Start,
        }
    }
}

/// Which way a dart's cloth is pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Fold {
    /// Towards the start of the seam it opens into.
    ToStart,
    /// Towards the end of the seam it opens into.
    ToEnd,
}

/// A dart: a wedge taken out between two parts of a seam. Its legs run from the
/// ends of those parts to the apex.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Dart {
    /// Name, unique on the piece.
    pub name: String,
    /// The point where the dart ends inside the piece, mm.
    pub apex: Point,
    /// Which way it is pressed; decides the shape of its cap.
    pub fold: Fold,
}

/// A seam runs from one corner of a piece to the next. It is kept as the parts
/// that are sewn; between two parts lies the mouth of a dart. The sewn length is
/// therefore the sum of the parts, with nothing to subtract.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seam {
    /// Name, unique on the piece.
    pub name: String,
    /// Name of the corner where the seam starts.
    pub starts_at: String,
    /// The sewn parts, in order; one more than there are darts.
    pub parts: Vec<Chain>,
    /// The darts; `darts[i]` lies between `parts[i]` and `parts[i + 1]`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub darts: Vec<Dart>,
}

/// A place on a seam.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeamPoint {
    /// Sewn distance from the start of the seam, mm.
    pub position: f64,
    /// Index of the part it lies on.
    pub part: usize,
    /// Distance along that part, mm.
    pub within: f64,
    /// The place, mm.
    pub point: Point,
    /// Unit direction of travel there.
    pub direction: Vec2,
}

impl Seam {
    /// A seam without darts.
    pub fn plain(name: &str, starts_at: &str, chain: Chain) -> Self {
        Self {
            name: name.to_owned(),
            starts_at: starts_at.to_owned(),
            parts: vec![chain],
            darts: Vec::new(),
        }
    }

    /// The first point.
    pub fn start(&self) -> Point {
        self.parts[0].start()
    }

    /// The last point.
    pub fn end(&self) -> Point {
        self.parts[self.parts.len() - 1].end()
    }

    /// The point at one of the ends.
    pub fn end_point(&self, end: End) -> Point {
        match end {
            End::Start => self.start(),
            End::End => self.end(),
        }
    }

    /// The sewn length, mm: darts closed.
    pub fn sewn_length(&self) -> f64 {
        self.parts.iter().map(Chain::length).sum()
    }

    /// The straight width of the mouth of dart `index`, mm.
    pub fn intake(&self, index: usize) -> f64 {
        self.parts[index].end().distance(self.parts[index + 1].start())
    }

    /// The angle at the apex of dart `index`, radians, positive.
    pub fn dart_angle(&self, index: usize) -> f64 {
        self.closing_turn(index).abs()
    }

    /// The two leg lengths of dart `index`, mm.
    pub fn leg_lengths(&self, index: usize) -> (f64, f64) {
        let apex = self.darts[index].apex;
        (self.parts[index].end().distance(apex), self.parts[index + 1].start().distance(apex))
    }

    /// The turn about the apex, radians, that lays the second leg of dart
    /// `index` on its first: the closing of the dart.
    pub fn closing_turn(&self, index: usize) -> f64 {
        let apex = self.darts[index].apex;
        angle_between(self.parts[index + 1].start() - apex, self.parts[index].end() - apex)
    }

    /// The rigid moves that close the darts: `moves[k]` carries `parts[k]` to
    /// where it is sewn, with the first part held.
    pub fn closing_moves(&self) -> Vec<Affine> {
        let mut moves = vec![Affine::IDENTITY];
        for (index, dart) in self.darts.iter().enumerate() {
            let closed = moves[index] * turn_about(dart.apex, self.closing_turn(index));
            moves.push(closed);
        }
        moves
    }

    /// The parts as they lie when the darts are sewn, the first part held.
    pub fn sewn_parts(&self) -> Vec<Chain> {
        let moves = self.closing_moves();
        self.parts.iter().zip(moves).map(|(part, m)| part.moved(m)).collect()
    }

    /// The place at a sewn distance from the given end; distances outside the
    /// seam are held at its ends.
    pub fn place(&self, from: End, distance: f64) -> SeamPoint {
        let position = match from {
            End::Start => distance,
            End::End => self.sewn_length() - distance,
        };
        let position = position.max(0.0);
        let mut left = position;
        for (index, part) in self.parts.iter().enumerate() {
            let length = part.length();
            if left <= length || index + 1 == self.parts.len() {
                let within = left.min(length);
                let (point, direction) = part.place_at(within);
                let position = position - left + within;
                return SeamPoint { position, part: index, within, point, direction };
            }
            left -= length;
        }
        // A seam always has a part; this is its start.
        SeamPoint {
            position: 0.0,
            part: 0,
            within: 0.0,
            point: self.start(),
            direction: self.parts[0].start_direction(),
        }
    }

    /// The sewn distance from `from` of a position measured from the start, mm.
    pub fn distance_from(&self, from: End, position: f64) -> f64 {
        match from {
            End::Start => position,
            End::End => self.sewn_length() - position,
        }
    }

    /// The place of the seam nearest to `p`, and its distance, mm.
    pub fn nearest(&self, p: Point) -> (SeamPoint, f64) {
        self.nearest_within(p, f64::INFINITY)
            .unwrap_or_else(|| (self.place(End::Start, 0.0), self.start().distance(p)))
    }

    /// The place of the seam nearest to `p`, and its distance, if it is nearer
    /// than `reach` mm.
    pub fn nearest_within(&self, p: Point, reach: f64) -> Option<(SeamPoint, f64)> {
        let mut best: Option<(usize, Nearest)> = None;
        for (index, part) in self.parts.iter().enumerate() {
            let least = best.map_or(reach, |b| b.1.distance);
            if let Some(near) = part.nearest_within(p, least) {
                best = Some((index, near));
            }
        }
        let (part, near) = best?;
        let before: f64 = self.parts[..part].iter().map(Chain::length).sum();
        let place = SeamPoint {
            position: before + near.position,
            part,
            within: near.position,
            point: near.point,
            direction: near.direction,
        };
        Some((place, near.distance))
    }

    /// Where an endless line crosses the sewn parts: `here` is the sewn position
    /// from the start of the seam.
    pub fn crossings_with_line(&self, line: Line) -> Vec<Crossing> {
        self.gather(|part| part.crossings_with_line(line))
    }

    /// Where a chain crosses the sewn parts: `here` is the sewn position from
    /// the start of the seam, `there` the position along the chain.
    pub fn crossings(&self, chain: &Chain) -> Vec<Crossing> {
        self.gather(|part| part.crossings(chain))
    }

    fn gather(&self, mut of: impl FnMut(&Chain) -> Vec<Crossing>) -> Vec<Crossing> {
        let mut before = 0.0;
        let mut found = Vec::new();
        for part in &self.parts {
            for crossing in of(part) {
                found.push(Crossing { here: crossing.here + before, ..crossing });
            }
            before += part.length();
        }
        found
    }

    /// The edge as one chain, dart mouths bridged by straight lines: the outline
    /// of the flat paper before the dart caps are drawn.
    ///
    /// # Errors
    /// [`GeometryError`] when the parts cannot be chained.
    pub fn edge(&self) -> Result<Chain, GeometryError> {
        let mut edge = self.parts[0].clone();
        for part in &self.parts[1..] {
            if edge.end().distance(part.start()) > hangtrue_geometry::tolerance::SAME_POINT {
                edge = edge.then(&Chain::line(edge.end(), part.start()))?;
            }
            edge = edge.then(part)?;
        }
        Ok(edge)
    }

    /// The seam moved as a whole, darts included.
    #[must_use]
    pub fn moved(&self, by: Affine) -> Self {
        Self {
            parts: self.parts.iter().map(|p| p.moved(by)).collect(),
            darts: self.darts.iter().map(|d| Dart { apex: by * d.apex, ..d.clone() }).collect(),
            ..self.clone()
        }
    }

    /// The cap of dart `index`: the corner points the cut edge runs through
    /// across the mouth, from the first leg to the second, so that the dart's
    /// cloth reaches the seam when the dart is pressed the way it folds.
    ///
    /// The dart is closed about its apex; the trued edge on the side it is
    /// pressed towards is followed under the fold from the stitched legs to the
    /// fold line (the middle of the dart), and that stretch is mirrored back on
    /// both halves. The cap is thus the mirror image of the trued edge in the
    /// two legs; it is exact where the edge is straight and, on a curved edge, a
    /// chain of the edge's own segments.
    ///
    /// # Errors
    /// [`PatternError`] when the neighbouring part is shorter than the fold.
    pub fn cap(&self, index: usize) -> Result<Chain, PatternError> {
        let dart = &self.darts[index];
        let (first, second) = (self.parts[index].end(), self.parts[index + 1].start());
        let turn = self.closing_turn(index);
        // The edge the fold lies on, leaving the closed dart, laid in the frame
        // of its own leg.
        let (neighbour, leg, into_mouth) = match dart.fold {
            Fold::ToStart => (self.parts[index].reversed(), first, -turn / 2.0),
            Fold::ToEnd => (self.parts[index + 1].clone(), second, turn / 2.0),
        };
        let fold_line = Line::new(dart.apex, turn_about(dart.apex, -into_mouth) * leg);
        let crossing = neighbour
            .crossings_with_line(fold_line)
            .into_iter()
            .find(|c| c.here > hangtrue_geometry::tolerance::SAME_POINT);
        let tip_length = crossing.map_or(0.0, |c| c.here);
        let what = || format!("drawing the cap of the {}", dart.name);
        if tip_length <= hangtrue_geometry::tolerance::SAME_POINT {
            return Ok(Chain::line(first, second));
        }
        let under = neighbour.part(0.0, tip_length).map_err(PatternError::geometry(what()))?;
        // Folded under, the cloth next to the leg lies mirrored in that leg.
        let near_half = under.moved(mirror_in(dart.apex, leg - dart.apex));
        let far_half = near_half.moved(mirror_in(dart.apex, near_half.end() - dart.apex));
        let cap = match dart.fold {
            Fold::ToStart => near_half.then(&far_half.reversed()),
            Fold::ToEnd => far_half.then(&near_half.reversed()),
        };
        cap.map_err(PatternError::geometry(what()))
    }
}

/// The reflection in the line through `through` along `along`.
pub(crate) fn mirror_in(through: Point, along: Vec2) -> Affine {
    Affine::reflect(through, along)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A straight edge with a dart drawn so that each part meets its leg at a
    /// right angle.
    fn with_dart(fold: Fold) -> Seam {
        let apex = Point::new(100.0, -90.0);
        let leg = 90.0;
        let half: f64 = 0.1;
        let a = apex + Vec2::new(-half.sin(), half.cos()) * leg;
        let b = apex + Vec2::new(half.sin(), half.cos()) * leg;
        let out_a = Vec2::new(-half.cos(), -half.sin()) * 80.0;
        let out_b = Vec2::new(half.cos(), -half.sin()) * 80.0;
        Seam {
            name: "waist".into(),
            starts_at: "side".into(),
            parts: vec![Chain::line(a + out_a, a), Chain::line(b, b + out_b)],
            darts: vec![Dart { name: "dart".into(), apex, fold }],
        }
    }

    #[test]
    fn sewn_length_leaves_the_dart_out() {
        let seam = with_dart(Fold::ToStart);
        assert!((seam.sewn_length() - 160.0).abs() < 1e-9);
        assert!((seam.intake(0) - 2.0 * 90.0 * 0.1f64.sin()).abs() < 1e-9);
        assert!((seam.dart_angle(0) - 0.2).abs() < 1e-12);
    }

    #[test]
    fn closing_the_dart_makes_one_straight_edge() {
        let sewn = with_dart(Fold::ToStart).sewn_parts();
        assert!(sewn[0].end().distance(sewn[1].start()) < 1e-9);
        let turn = angle_between(sewn[0].end_direction(), sewn[1].start_direction());
        assert!(turn.abs() < 1e-9);
    }

    #[test]
    fn the_cap_peaks_on_the_fold_line_and_ends_on_the_legs() {
        for fold in [Fold::ToStart, Fold::ToEnd] {
            let seam = with_dart(fold);
            let cap = seam.cap(0).unwrap();
            assert!(cap.start().distance(seam.parts[0].end()) < 1e-6);
            assert!(cap.end().distance(seam.parts[1].start()) < 1e-6);
            // Closed form: the edge square to the leg meets the fold line at
            // leg / cos(half angle).
            let peak = cap.segments()[0].to_cubic().p3;
            assert!((peak.x - 100.0).abs() < 1e-9, "{fold:?} {peak:?}");
            assert!((peak.y - (-90.0 + 90.0 / 0.1f64.cos())).abs() < 1e-9);
        }
    }

    #[test]
    fn a_place_before_the_seam_is_its_start() {
        let seam = with_dart(Fold::ToStart);
        let held = seam.place(End::Start, -12.0);
        assert_eq!((held.position, held.point), (0.0, seam.start()));
        let held = seam.place(End::End, -12.0);
        assert!((held.position - seam.sewn_length()).abs() < 1e-9);
    }

    #[test]
    fn places_run_over_the_dart() {
        let seam = with_dart(Fold::ToStart);
        let p = seam.place(End::End, 30.0);
        assert_eq!(p.part, 1);
        assert!((p.position - 130.0).abs() < 1e-9);
        assert!((seam.nearest(p.point).0.position - 130.0).abs() < 1e-6);
    }
}
