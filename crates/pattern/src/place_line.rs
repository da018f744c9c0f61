//! Placing reference lines by their rules.

use crate::Shared;
use crate::cloth_line::fitted_to_outline;
use crate::{End, Leg, Pattern, PatternError, Piece, Place, ReferenceLine, Rule, Seam, SeamPlace};
use hangtrue_geometry::{Chain, Line, Point, Vec2};
use hangtrue_geometry::{
    words,
    words::{Length, Words},
};
use std::collections::{HashMap, HashSet};

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
        for line in self.lines.iter() {
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

    /// Where one line runs by its rule, also when it lies elsewhere on the cloth.
    ///
    /// # Errors
    /// As [`Self::place_line`].
    pub fn chain_by_rule(&self, piece: &str, name: &str) -> Result<Chain, PatternError> {
        let line = self.line(piece, name)?;
        match &line.cloth {
            None => self.chain_of(line, self.piece(piece)?, 0),
            Some(_) => {
                let by_rule = ReferenceLine { cloth: None, ..line.clone() };
                self.chain_of(&by_rule, self.piece(piece)?, 0)
            }
        }
    }

    /// Remembers where every line lies now, for the day its rule cannot be met.
    pub fn remember_lines(&mut self) {
        self.remember(|_| true);
    }

    /// Remembers where the lines lie now, when they were remembered in `before` and
    /// the pattern is a change of it: only lines that are new, that hang from a seam
    /// which moved, or between such lines are looked at. Returns how many.
    pub fn remember_moved_lines(&mut self, before: &Self) -> usize {
        let moved: HashMap<String, Moved> = self
            .pieces
            .iter()
            .enumerate()
            .filter_map(|(index, piece)| {
                let in_place = before.pieces.get(index).filter(|p| p.name == piece.name);
                let was = in_place.or_else(|| before.pieces.iter().find(|p| p.name == piece.name));
                Moved::of(piece, was).map(|moved| (piece.name.clone(), moved))
            })
            .collect();
        if moved.is_empty() {
            return self.remember_those(false, |_| false);
        }
        self.remember_those(true, |l| {
            moved.get(&l.piece).is_some_and(|m| l.cloth.is_some() || m.touches(&l.rule))
        })
    }

    fn remember(&mut self, moved: impl Fn(&ReferenceLine) -> bool) {
        self.remember_those(true, moved);
    }

    fn remember_those(&mut self, any_moved: bool, moved: impl Fn(&ReferenceLine) -> bool) -> usize {
        let to_place = self.lines.to_place(any_moved, moved);
        let pieces: HashMap<&str, &Piece> =
            self.pieces.iter().rev().map(|p| (p.name.as_str(), &**p)).collect();
        let placed: Vec<Option<Chain>> = to_place
            .iter()
            .map(|number| {
                let line = self.lines.numbered(*number)?;
                let piece = pieces.get(line.piece.as_str())?;
                let line = self.lines.named(&line.piece, &line.name)?;
                self.chain_of(line, piece, 0).ok()
            })
            .collect();
        for (number, found) in to_place.iter().zip(placed) {
            if let Some(chain) = found {
                self.lines.set_last(*number, chain);
            }
        }
        self.lines.all_placed();
        to_place.len()
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
        if let Some(chain) = &line.cloth {
            return fitted_to_outline(piece, chain).map_err(said).map_err(cannot);
        }
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

/// What moved on a piece.
enum Moved {
    /// Its grain, the order of its seams, or the whole piece is new.
    All,
    /// Seams of these names.
    Seams(HashSet<String>),
}

impl Moved {
    /// What moved since the piece was as in `was`; none when nothing did.
    fn of(piece: &Shared<Piece>, was: Option<&Shared<Piece>>) -> Option<Self> {
        let Some(was) = was else { return Some(Self::All) };
        if piece.is_same(was) {
            return None;
        }
        let same_order = piece.seams.len() == was.seams.len()
            && piece.seams.iter().zip(&was.seams).all(|(a, b)| a.name == b.name);
        if !same_order || piece.grain != was.grain || piece.parted != was.parted {
            return Some(Self::All);
        }
        let pairs = piece.seams.iter().zip(&was.seams);
        let moved: HashSet<String> =
            pairs.filter(|(a, b)| a != b).map(|(a, _)| a.name.clone()).collect();
        (!moved.is_empty()).then_some(Self::Seams(moved))
    }

    /// Whether a line of that rule may lie elsewhere now. A level line and one inside
    /// an edge end at whatever seam they meet, so any seam that moved may have come
    /// in their way. A line between two others goes by them.
    fn touches(&self, rule: &Rule) -> bool {
        let Self::Seams(moved) = self else { return true };
        match rule {
            Rule::EqualDepth { first, second, .. } => {
                moved.contains(&first.0) || moved.contains(&second.0)
            }
            Rule::Through { first, second } => {
                moved.contains(&first.seam) || moved.contains(&second.seam)
            }
            Rule::SquareToGrain { .. }
            | Rule::Below { .. }
            | Rule::ParallelTo { .. }
            | Rule::Between { .. } => true,
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
            pieces: vec![plain_back().into()],
            joins: vec![].into(),
            lines: vec![ReferenceLine {
                name: FULL_HIP.into(),
                piece: BACK.into(),
                rule,
                purpose: Purpose::Cloth("it is read on the body".into()),
                last: None,
                cloth: None,
            }]
            .into(),
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

    /// A pattern whose lines hang from corner, side and hem, and between two.
    fn many_lines() -> Pattern {
        let below = |drop| Rule::Below { place: Place::Corner(CROTCH_POINT.into()), drop };
        let mut pattern = pattern_with(below(50.0));
        let first = pattern.lines[0].clone();
        let mut add = |name: &str, rule| {
            pattern.lines.push(ReferenceLine { name: name.into(), rule, ..first.clone() });
        };
        add(KNEE, below(450.0));
        add(THIGH, Rule::Between { first: FULL_HIP.into(), second: KNEE.into(), fraction: 0.3 });
        add(
            "even",
            Rule::EqualDepth {
                first: (SIDE.into(), End::End),
                second: (CROTCH.into(), End::Start),
                depth: 100.0,
            },
        );
        pattern
    }

    #[test]
    fn only_lines_that_may_have_moved_are_placed() {
        let mut before = many_lines();
        assert_eq!(before.remember_moved_lines(&Pattern::default()), 4);
        let mut after = before.clone();
        assert_eq!(after.remember_moved_lines(&before), 0);
        // A new line alone is placed, and nothing else.
        let new = ReferenceLine { name: "new".into(), ..before.lines[0].clone() };
        after.lines.push(new);
        assert_eq!(after.remember_moved_lines(&before), 1);
        // Notches move no line.
        after.piece_mut(BACK).unwrap().notches.clear();
        assert_eq!(after.remember_moved_lines(&before), 0);
        // A seam: level lines and what lies between them, not the line hung from others.
        let marked = after.clone();
        let seam = after.piece_mut(BACK).unwrap().seam_mut(INSEAM).unwrap();
        seam.parts = seam.parts.iter().map(|c| c.reversed().reversed()).collect();
        seam.name = "inner leg".into();
        seam.name = INSEAM.into();
        let unmoved = after.remember_moved_lines(&marked);
        assert_eq!(unmoved, 0, "seams that are equal did not move");
        // A line replaced: it and the one between.
        let mut lower = after.lines[0].clone();
        lower.rule = Rule::Below { place: Place::Corner(CROTCH_POINT.into()), drop: 60.0 };
        after.lines.remove(BACK, FULL_HIP);
        after.lines.push(lower);
        assert_eq!(after.remember_moved_lines(&marked), 2);
        let mut anew = after.clone();
        anew.remember_lines();
        assert_eq!(anew, after);
        let at = |p: &Pattern| p.line(BACK, THIGH).unwrap().last.clone().unwrap().start().y;
        assert!((at(&after) - at(&marked)).abs() > 1.0);
    }

    #[test]
    fn a_line_is_found_by_its_name_whatever_was_done_to_the_list() {
        let mut pattern = many_lines();
        let copy = pattern.clone();
        pattern.lines[1].name = "lowest".into();
        assert!(pattern.line(BACK, KNEE).is_err() && pattern.line(BACK, "lowest").is_ok());
        pattern.lines.push(copy.lines[1].clone());
        assert!(pattern.line(BACK, KNEE).is_ok() && pattern.line(BACK, "lowest").is_ok());
        assert!(pattern.lines.remove(BACK, "lowest") && !pattern.lines.remove(BACK, "lowest"));
        assert_eq!((pattern.lines.len(), copy.lines.len()), (4, 4));
        assert_eq!(pattern.lines.pop().unwrap().name, KNEE);
        assert!(pattern.line(BACK, KNEE).is_err() && copy.line(BACK, KNEE).is_ok());
        let text = ron::to_string(&copy).unwrap();
        assert_eq!(ron::from_str::<Pattern>(&text).unwrap(), copy);
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
