//! Placing reference lines by their rules.

use crate::{End, Leg, Pattern, PatternError, Piece, Place, ReferenceLine, Rule, Seam, SeamPlace};
use hangtrue_geometry::{Chain, Line, Point, Vec2};
use hangtrue_geometry::{
    words,
    words::{Length, Words},
};

/// Where a placed line meets a seam.
#[derive(Debug, Clone, PartialEq)]
pub struct LineEnd {
    /// The seam.
    pub seam: String,
    /// Sewn position from the start of the seam, mm.
    pub position: f64,
    /// The place, mm.
    pub point: Point,
}

/// A reference line as it lies on its piece now.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedLine {
    /// The line's name.
    pub name: String,
    /// The piece.
    pub piece: String,
    /// Where it runs.
    pub chain: Chain,
    /// Where it meets the outline, in order along the line: usually two.
    pub ends: Vec<LineEnd>,
    /// Why the line could not be placed anew, if it could not: it then lies
    /// where it last lay.
    pub stale: Option<String>,
}

/// A line meets a seam when it ends this near to it, mm.
const ON_SEAM: f64 = 1e-3;

impl Pattern {
    /// Places every line by its rule. A line whose rule cannot be met lies where
    /// it last lay, with the reason in [`PlacedLine::stale`]; one that never lay
    /// anywhere is left out of the list and reported in the second value.
    pub fn place_lines(&self) -> (Vec<PlacedLine>, Vec<PatternError>) {
        let mut placed = Vec::with_capacity(self.lines.len());
        let mut unplaced = Vec::new();
        for line in &self.lines {
            match self.place_line(&line.piece, &line.name) {
                Ok(ok) => placed.push(ok),
                Err(why) => match (&line.last, self.piece(&line.piece)) {
                    (Some(last), Ok(piece)) => placed.push(PlacedLine {
                        name: line.name.clone(),
                        piece: line.piece.clone(),
                        chain: last.clone(),
                        ends: ends_on(piece, last),
                        stale: Some(why.to_string()),
                    }),
                    _ => unplaced.push(why),
                },
            }
        }
        (placed, unplaced)
    }

    /// Places one line by its rule.
    ///
    /// # Errors
    /// [`PatternError::LineNotPlaced`] with the reason, or a missing name.
    pub fn place_line(&self, piece: &str, name: &str) -> Result<PlacedLine, PatternError> {
        let chain = self.place_chain(piece, name)?;
        let ends = ends_on(self.piece(piece)?, &chain);
        Ok(PlacedLine { name: name.to_owned(), piece: piece.to_owned(), chain, ends, stale: None })
    }

    /// Where one line runs by its rule, without looking where it meets the outline.
    ///
    /// # Errors
    /// As [`Self::place_line`].
    pub fn place_chain(&self, piece: &str, name: &str) -> Result<Chain, PatternError> {
        self.chain_of(self.line(piece, name)?, self.piece(piece)?, 0)
    }

    /// Remembers where every line lies now, for the day its rule cannot be met.
    pub fn remember_lines(&mut self) {
        let placed: Vec<Option<Chain>> =
            self.lines.iter().map(|l| self.place_chain(&l.piece, &l.name).ok()).collect();
        for (line, found) in self.lines.iter_mut().zip(placed) {
            line.last = found.or(line.last.take());
        }
    }

    fn chain_of(
        &self,
        line: &ReferenceLine,
        piece: &Piece,
        depth: usize,
    ) -> Result<Chain, PatternError> {
        let cannot = |why: Words| PatternError::LineNotPlaced {
            piece: piece.name.clone(),
            line: line.name.clone(),
            why,
        };
        match &line.rule {
            Rule::SquareToGrain { through } => {
                level_through(piece, place_point(piece, through)?, through).map_err(cannot)
            }
            Rule::Below { place, drop } => {
                let p = place_point(piece, place)? - piece.grain.direction() * *drop;
                level_through(piece, p, place).map_err(cannot)
            }
            Rule::EqualDepth { first, second, depth } => {
                let a = on_seam(piece, &first.0, first.1, *depth)?;
                let b = on_seam(piece, &second.0, second.1, *depth)?;
                Ok(Chain::line(a, b))
            }
            Rule::Through { first, second } => {
                let a = on_seam(piece, &first.seam, first.from, first.distance)?;
                let b = on_seam(piece, &second.seam, second.from, second.distance)?;
                Ok(Chain::line(a, b))
            }
            Rule::ParallelTo { seam, distance } => {
                parallel_inside(piece, piece.seam(seam)?, *distance).map_err(cannot)
            }
            Rule::Between { first, second, fraction } => {
                // A line may hang from lines that hang from lines; a loop ends here.
                const DEEPEST: usize = 8;
                if depth >= DEEPEST {
                    return Err(cannot("it hangs from itself".into()));
                }
                let a = self.line(&piece.name, first)?;
                let b = self.line(&piece.name, second)?;
                let a = self.chain_of(a, piece, depth + 1)?;
                let b = self.chain_of(b, piece, depth + 1)?;
                between(piece, &a, &b, *fraction).map_err(cannot)
            }
        }
    }
}

/// The point a place means on a piece.
fn place_point(piece: &Piece, place: &Place) -> Result<Point, PatternError> {
    match place {
        Place::Corner(name) => piece.corner(name),
        Place::Point(p) => Ok(*p),
        Place::Apex(name) => {
            let (seam, index) = piece.dart(name)?;
            Ok(seam.darts[index].apex)
        }
        Place::Seam(SeamPlace { seam, from, distance }) => on_seam(piece, seam, *from, *distance),
    }
}

fn on_seam(piece: &Piece, seam: &str, from: End, distance: f64) -> Result<Point, PatternError> {
    let found = piece.seam(seam)?;
    let length = found.sewn_length();
    if !(0.0..=length).contains(&distance) {
        return Err(PatternError::PastSeamEnd {
            piece: piece.name.clone(),
            seam: seam.to_owned(),
            asked: Length(distance),
            length: Length(length),
        });
    }
    Ok(found.place(from, distance).point)
}

/// The stretch of the line square to the grain through `p` that lies inside the
/// piece and nearest to `p`.
fn level_through(piece: &Piece, p: Point, place: &Place) -> Result<Chain, Words> {
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
        format!(
            "level with {} there is no cloth of this piece",
            place.words(crate::units::Unit::Mm)
        )
    })?;
    Ok(Chain::line(p + across * a, p + across * b))
}

/// The edge of a seam offset into the piece and cut where it leaves the piece.
fn parallel_inside(piece: &Piece, seam: &Seam, distance: f64) -> Result<Chain, Words> {
    let edge = seam.edge().map_err(said)?;
    let inside = edge.offset(distance * piece.orientation()).map_err(said)?;
    // Lengthen both ends so that the line reaches its neighbours, then cut.
    let reach = distance.abs() * 2.0 + 50.0;
    let long = inside
        .lengthened(reach)
        .and_then(|c| c.reversed().lengthened(reach))
        .map_err(said)?
        .reversed();
    let mut cuts: Vec<f64> =
        piece.seams.iter().flat_map(|s| s.crossings(&long)).map(|c| c.there).collect();
    cuts.sort_by(f64::total_cmp);
    let stretches = cuts.windows(2).filter(|w| piece.contains(long.point_at(0.5 * (w[0] + w[1]))));
    let longest = stretches.max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])));
    let w = longest.ok_or_else(|| {
        words![Length(distance), " inside the ", &seam.name, " there is no cloth"]
    })?;
    long.part(w[0], w[1]).map_err(said)
}

/// The geometry's reason.
fn said(why: impl std::error::Error) -> Words {
    why.to_string().into()
}

/// The straight line between the fractional places of two lines on the seams
/// both meet.
fn between(piece: &Piece, a: &Chain, b: &Chain, fraction: f64) -> Result<Chain, Words> {
    let (ends_a, ends_b) = (ends_on(piece, a), ends_on(piece, b));
    let mut points = Vec::new();
    for end in &ends_a {
        let Some(mate) = ends_b.iter().find(|e| e.seam == end.seam) else { continue };
        let seam = piece.seam(&end.seam).map_err(said)?;
        let at = end.position + fraction * (mate.position - end.position);
        points.push(seam.place(End::Start, at).point);
    }
    match points[..] {
        [p, q, ..] => Ok(Chain::line(p, q)),
        _ => Err("the two lines it lies between do not meet the same two seams".into()),
    }
}

/// Where the ends of a line lie on the outline.
fn ends_on(piece: &Piece, chain: &Chain) -> Vec<LineEnd> {
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

impl PlacedLine {
    /// The unit direction of the line at one of its ends, pointing into the piece.
    pub fn inward_at(&self, p: Point) -> Vec2 {
        if p.distance(self.chain.start()) <= p.distance(self.chain.end()) {
            self.chain.start_direction()
        } else {
            -self.chain.end_direction()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Purpose;
    use crate::names::*;
    use crate::piece::tests::plain_back;

    fn pattern_with(rule: Rule) -> Pattern {
        Pattern {
            pieces: vec![plain_back()],
            joins: vec![],
            lines: vec![ReferenceLine {
                name: FULL_HIP.into(),
                piece: BACK.into(),
                rule,
                purpose: Purpose::Cloth("it is read on the body".into()),
                last: None,
            }],
        }
    }

    fn placed(rule: Rule) -> Result<PlacedLine, PatternError> {
        pattern_with(rule).place_line(BACK, FULL_HIP)
    }

    #[test]
    fn square_to_grain_is_level() {
        let line =
            placed(Rule::Below { place: Place::Corner(CROTCH_POINT.into()), drop: 50.8 }).unwrap();
        assert!((line.chain.start().y + 50.8).abs() < 1e-9);
        assert!((line.chain.end().y + 50.8).abs() < 1e-9);
        let seams: Vec<&str> = line.ends.iter().map(|e| e.seam.as_str()).collect();
        assert_eq!(seams, [INSEAM, SIDE]);
    }

    #[test]
    fn equal_depth_is_equally_deep_on_both_seams() {
        let depth = 139.7;
        let rule = Rule::EqualDepth {
            first: (SIDE.into(), End::End),
            second: (CROTCH.into(), End::Start),
            depth,
        };
        let line = placed(rule).unwrap();
        let piece = plain_back();
        for end in &line.ends {
            let seam = piece.seam(&end.seam).unwrap();
            let from = if end.seam == SIDE { End::End } else { End::Start };
            assert!((seam.distance_from(from, end.position) - depth).abs() < 1e-6);
        }
    }

    #[test]
    fn a_parallel_line_keeps_its_distance() {
        let line = placed(Rule::ParallelTo { seam: HEM.into(), distance: 40.0 }).unwrap();
        assert!((line.chain.start().y + 660.0).abs() < 1e-6);
        assert_eq!(line.ends.len(), 2);
    }

    #[test]
    fn a_rule_that_cannot_be_met_keeps_the_last_place_and_says_so() {
        let level = |drop| Rule::Below { place: Place::Corner(CROTCH_POINT.into()), drop };
        let mut pattern = pattern_with(level(50.0));
        pattern.remember_lines();
        pattern.lines[0].rule = level(5000.0);
        let (placed, unplaced) = pattern.place_lines();
        assert!(unplaced.is_empty());
        assert!(placed[0].stale.is_some());
        assert!((placed[0].chain.start().y + 50.0).abs() < 1e-9);
    }

    #[test]
    fn a_line_hung_from_itself_is_refused() {
        let rule = Rule::Between { first: FULL_HIP.into(), second: FULL_HIP.into(), fraction: 0.5 };
        assert!(placed(rule).unwrap_err().to_string().contains("itself"));
    }

    #[test]
    fn between_goes_by_seam_lengths() {
        let mut pattern =
            pattern_with(Rule::Below { place: Place::Corner(CROTCH_POINT.into()), drop: 50.0 });
        let mut low = pattern.lines[0].clone();
        low.name = KNEE.into();
        low.rule = Rule::Below { place: Place::Corner(CROTCH_POINT.into()), drop: 450.0 };
        let mut mid = low.clone();
        mid.name = THIGH.into();
        mid.rule = Rule::Between { first: FULL_HIP.into(), second: KNEE.into(), fraction: 0.25 };
        pattern.lines.extend([low, mid]);
        let line = pattern.place_line(BACK, THIGH).unwrap();
        assert!((line.chain.start().y + 150.0).abs() < 1e-6);
    }
}
