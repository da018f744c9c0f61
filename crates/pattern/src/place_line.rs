//! Placing reference lines by their rules.

use crate::Shared;
use crate::cloth_line::fitted_to_outline;
use crate::rule::{Site, ends_on};
use crate::{Pattern, PatternError, Piece, ReferenceLine, Rule};
use hangtrue_geometry::{Chain, Point, Vec2};
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
        self.by_rule_of(self.line(piece, name)?, self.piece(piece)?, 0)
    }

    /// Whether a placed line is traced to the cloth; else it stays on paper.
    pub fn goes_to_cloth(&self, placed: &PlacedLine) -> bool {
        self.line(&placed.piece, &placed.name).is_ok_and(|line| line.purpose.to_cloth())
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
                if self.lines.is_laid(*number) {
                    return None;
                }
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

    pub(crate) fn chain_of(
        &self,
        line: &ReferenceLine,
        piece: &Piece,
        depth: usize,
    ) -> Result<Chain, PatternError> {
        match &line.cloth {
            Some(chain) => fitted_to_outline(piece, chain)
                .map_err(|why| Site { pattern: self, piece, line: &line.name, depth }.said(why)),
            None => self.by_rule_of(line, piece, depth),
        }
    }

    fn by_rule_of(
        &self,
        line: &ReferenceLine,
        piece: &Piece,
        depth: usize,
    ) -> Result<Chain, PatternError> {
        line.rule.placed(&Site { pattern: self, piece, line: &line.name, depth })
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

    /// Whether a line of that rule may lie elsewhere now. A line that ends at whatever
    /// seam it meets may have any that moved in its way.
    fn touches(&self, rule: &Rule) -> bool {
        let Self::Seams(moved) = self else { return true };
        rule.seams_alone().is_none_or(|seams| seams.iter().any(|seam| moved.contains(*seam)))
    }
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
    use crate::{End, Place, rule};

    fn pattern_with(rule: Rule) -> Pattern {
        Pattern {
            pieces: vec![plain_back().into()],
            joins: vec![].into(),
            lines: vec![ReferenceLine {
                name: HIP_BALANCE.into(),
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
        pattern_with(rule).place_line(BACK, HIP_BALANCE)
    }

    #[test]
    fn square_to_grain_is_level() {
        let line = placed(Rule::Below(rule::Below {
            place: Place::Corner(CROTCH_POINT.into()),
            drop: 50.8,
        }))
        .unwrap();
        assert!((line.chain.start().y + 50.8).abs() < 1e-9);
        assert!((line.chain.end().y + 50.8).abs() < 1e-9);
        let seams: Vec<&str> = line.ends.iter().map(|e| e.seam.as_str()).collect();
        assert_eq!(seams, [INSEAM, SIDE]);
    }

    #[test]
    fn equal_depth_is_equally_deep_on_both_seams() {
        let depth = 139.7;
        let rule = Rule::EqualDepth(rule::EqualDepth {
            first: (SIDE.into(), End::End),
            second: (CROTCH.into(), End::Start),
            depth,
        });
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
        let line = placed(Rule::ParallelTo(rule::ParallelTo { seam: HEM.into(), distance: 40.0 }))
            .unwrap();
        assert!((line.chain.start().y + 660.0).abs() < 1e-6);
        assert_eq!(line.ends.len(), 2);
    }

    #[test]
    fn a_rule_that_cannot_be_met_keeps_the_last_place_and_says_so() {
        let level =
            |drop| Rule::Below(rule::Below { place: Place::Corner(CROTCH_POINT.into()), drop });
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
        let below =
            |drop| Rule::Below(rule::Below { place: Place::Corner(CROTCH_POINT.into()), drop });
        let mut pattern = pattern_with(below(50.0));
        let first = pattern.lines[0].clone();
        let mut add = |name: &str, rule| {
            pattern.lines.push(ReferenceLine { name: name.into(), rule, ..first.clone() });
        };
        add(KNEE, below(450.0));
        add(
            THIGH,
            Rule::Between(rule::Between {
                first: HIP_BALANCE.into(),
                second: KNEE.into(),
                fraction: 0.3,
            }),
        );
        add(
            "even",
            Rule::EqualDepth(rule::EqualDepth {
                first: (SIDE.into(), End::End),
                second: (CROTCH.into(), End::Start),
                depth: 100.0,
            }),
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
        lower.rule =
            Rule::Below(rule::Below { place: Place::Corner(CROTCH_POINT.into()), drop: 60.0 });
        after.lines.remove(BACK, HIP_BALANCE);
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
        let rule = Rule::Between(rule::Between {
            first: HIP_BALANCE.into(),
            second: HIP_BALANCE.into(),
            fraction: 0.5,
        });
        assert!(placed(rule).unwrap_err().to_string().contains("itself"));
    }

    #[test]
    fn between_goes_by_seam_lengths() {
        let mut pattern = pattern_with(Rule::Below(rule::Below {
            place: Place::Corner(CROTCH_POINT.into()),
            drop: 50.0,
        }));
        let mut low = pattern.lines[0].clone();
        low.name = KNEE.into();
        low.rule =
            Rule::Below(rule::Below { place: Place::Corner(CROTCH_POINT.into()), drop: 450.0 });
        let mut mid = low.clone();
        mid.name = THIGH.into();
        mid.rule = Rule::Between(rule::Between {
            first: HIP_BALANCE.into(),
            second: KNEE.into(),
            fraction: 0.25,
        });
        pattern.lines.extend([low, mid]);
        let line = pattern.place_line(BACK, THIGH).unwrap();
        assert!((line.chain.start().y + 150.0).abs() < 1e-6);
    }
}
