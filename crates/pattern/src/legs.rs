//! Left and right apart: one pattern for both legs, or pieces of their own for
//! each.
//!
//! A piece that serves both legs is drawn for the wearer's right one; the cloth
//! is cut twice, once from the paper turned over. Once parted, the piece of the
//! right leg is what was drawn and the piece of the left leg is its mirror image
//! (x to −x), drawn as it lies right side up: so a left and a right piece are
//! sewn to each other, walked and printed like any two pieces, and none is turned
//! over. Mirroring only changes signs, so parting loses no digit.

use crate::{Join, JoinSide, Pattern, PatternError, Piece, ReferenceLine, Shared};
use hangtrue_geometry::Affine;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;

/// A leg of the wearer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Leg {
    /// The wearer's left.
    #[serde(alias = "Left")]
    Left,
    /// The wearer's right.
    #[serde(alias = "Right")]
    Right,
}

impl Leg {
    /// Both legs, in the order they stand in a parted pattern.
    pub const BOTH: [Self; 2] = [Self::Left, Self::Right];

    /// The other leg.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// `left` or `right`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }

    /// The name with the leg behind it: `back left`.
    fn named(self, name: &str) -> String {
        format!("{name} {}", self.word())
    }
}

/// What a piece for one leg alone was parted from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Parted {
    /// The leg it is cut for.
    pub leg: Leg,
    /// The name it had when it served both legs, and gets back.
    pub from: String,
}

/// The reflection that makes a left piece of a right one and back.
const OTHER_WAY_UP: Affine = Affine::new([-1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);

impl Piece {
    /// The leg the piece is cut for alone; none when it serves both.
    pub fn leg(&self) -> Option<Leg> {
        self.parted.as_ref().map(|p| p.leg)
    }

    /// The mirror image of the piece: as its paper lies when turned over.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let mut piece = self.clone();
        for seam in &mut piece.seams {
            *seam = seam.moved(OTHER_WAY_UP);
        }
        piece.grain.from = OTHER_WAY_UP * piece.grain.from;
        piece.grain.to = OTHER_WAY_UP * piece.grain.to;
        for line in &mut piece.inner {
            line.chain = line.chain.moved(OTHER_WAY_UP);
        }
        piece
    }

    /// The piece as it lies for that leg, given as it lies for the right one, or
    /// the other way round.
    fn laid_for(&self, leg: Leg) -> Self {
        match leg {
            Leg::Left => self.mirrored(),
            Leg::Right => self.clone(),
        }
    }

    fn is_of(&self, leg: Leg, base: &str) -> bool {
        self.parted.as_ref().is_some_and(|p| p.leg == leg && p.from == base)
    }
}

impl ReferenceLine {
    /// The line as it lies on the piece laid for that leg; see [`Piece::mirrored`].
    fn laid_for(&self, leg: Leg, piece: &str) -> Self {
        let mut line = Self { piece: piece.to_owned(), ..self.clone() };
        if leg == Leg::Left {
            line.last = line.last.map(|chain| chain.moved(OTHER_WAY_UP));
            line.cloth = line.cloth.map(|chain| chain.moved(OTHER_WAY_UP));
            for point in line.rule.points() {
                *point = OTHER_WAY_UP * *point;
            }
        }
        line
    }
}

impl Pattern {
    /// Whether any piece is for one leg alone.
    pub fn is_apart(&self) -> bool {
        self.pieces.iter().any(|p| p.parted.is_some())
    }

    /// Whether there was a piece of that name before the legs were parted.
    pub fn was_parted_from(&self, name: &str) -> bool {
        self.pieces.iter().any(|p| p.parted.as_ref().is_some_and(|p| p.from == name))
    }

    /// The name of the piece for that leg which was parted from `base`.
    pub fn piece_for(&self, leg: Leg, base: &str) -> Option<&str> {
        self.pieces.iter().find(|p| p.is_of(leg, base)).map(|p| p.name.as_str())
    }

    /// Whether the join sews a piece of the left leg to one of the right: the
    /// centre back, the centre front.
    pub fn joins_legs(&self, join: &Join) -> bool {
        let leg = |side: &JoinSide| self.piece(&side.piece).ok().and_then(Piece::leg);
        let second = join.second.as_ref().and_then(leg);
        second.is_some_and(|second| leg(&join.first) == Some(second.other()))
    }

    /// The name of a join without the leg that parting put behind it; none for a
    /// join that is not of one leg alone.
    pub fn join_before_parting<'a>(&self, join: &'a Join) -> Option<&'a str> {
        let leg = self.leg_of_join(join)?;
        let ending = format!(" {}", leg.word());
        Some(join.name.strip_suffix(&ending).unwrap_or(&join.name))
    }

    /// The leg that all sides of the join lie on.
    fn leg_of_join(&self, join: &Join) -> Option<Leg> {
        let mut legs = join.sides().map(|s| self.piece(&s.piece).ok().and_then(Piece::leg));
        let first = legs.next()??;
        legs.all(|l| l == Some(first)).then_some(first)
    }

    /// The pattern with pieces of their own for left and right: every piece, its
    /// lines and notches, and every join, once for each leg; a seam that was sewn
    /// to its own mirror image is sewn left to right.
    ///
    /// # Errors
    /// [`PatternError::AlreadyApart`], or [`PatternError::NameInUse`] when a piece
    /// is already called what a new one would be.
    pub fn apart(&self) -> Result<Self, PatternError> {
        if let Some(piece) = self.pieces.iter().find(|p| p.parted.is_some()) {
            return Err(PatternError::AlreadyApart { piece: piece.name.clone() });
        }
        let mut apart = Self::default();
        for piece in &self.pieces {
            for leg in Leg::BOTH {
                let name = leg.named(&piece.name);
                if self.pieces.iter().any(|p| p.name == name) {
                    return Err(PatternError::NameInUse { name });
                }
                let parted = Some(Parted { leg, from: piece.name.clone() });
                apart.pieces.push(Piece { name, parted, ..piece.laid_for(leg) }.into());
            }
        }
        let for_leg =
            |side: &JoinSide, leg: Leg| JoinSide { piece: leg.named(&side.piece), ..side.clone() };
        for join in &self.joins {
            match &join.second {
                None => apart.joins.push(Join {
                    first: for_leg(&join.first, Leg::Left),
                    second: Some(for_leg(&join.first, Leg::Right)),
                    ..join.clone()
                }),
                Some(second) => apart.joins.extend(Leg::BOTH.map(|leg| Join {
                    name: leg.named(&join.name),
                    first: for_leg(&join.first, leg),
                    second: Some(for_leg(second, leg)),
                    ease: join.ease,
                })),
            }
        }
        for line in &self.lines {
            apart.lines.extend(Leg::BOTH.map(|leg| line.laid_for(leg, &leg.named(&line.piece))));
        }
        Ok(apart)
    }

    /// One leg of a parted pattern, as if it served both: its pieces under the
    /// names they had before, laid for the right leg, the centre seams sewn to
    /// their own mirror image. A change made on it and laid back by
    /// [`Self::with_leg`] is a change of that leg alone.
    #[must_use]
    pub fn one_leg(&self, leg: Leg) -> Self {
        let base = |piece: &str| {
            let parted = self.piece(piece).ok().and_then(|p| p.parted.as_ref());
            parted.filter(|p| p.leg == leg).map(|p| p.from.clone())
        };
        let mut one = Self::default();
        for piece in self.pieces.iter().filter(|p| p.leg() == Some(leg)) {
            let name = base(&piece.name).unwrap_or_default();
            one.pieces.push(Piece { name, parted: None, ..piece.laid_for(leg) }.into());
        }
        for join in &self.joins {
            let side =
                |side: &JoinSide| base(&side.piece).map(|piece| JoinSide { piece, ..side.clone() });
            if self.joins_legs(join) {
                if let Some(first) = join.sides().find_map(side) {
                    one.joins.push(Join { first, second: None, ..join.clone() });
                }
            } else if let (Some(first), Some(second)) =
                (side(&join.first), join.second.as_ref().and_then(side))
            {
                let name = self.join_before_parting(join).unwrap_or(&join.name).to_owned();
                one.joins.push(Join { name, first, second: Some(second), ease: join.ease });
            }
        }
        for line in &self.lines {
            if let Some(name) = base(&line.piece) {
                one.lines.push(line.laid_for(leg, &name));
            }
        }
        one
    }

    /// The parted pattern with that leg as it is in `one`, a changed
    /// [`Self::one_leg`]. The other leg stays as it is, to the last digit.
    #[must_use]
    pub fn with_leg(&self, leg: Leg, one: &Self) -> Self {
        let name_of = |base: &str| {
            self.piece_for(leg, base).map_or_else(|| leg.named(base), ToOwned::to_owned)
        };
        let side = |s: &JoinSide| JoinSide { piece: name_of(&s.piece), ..s.clone() };
        let mut new_pieces = one.pieces.iter().map(|p| {
            Shared::from(Piece {
                name: name_of(&p.name),
                parted: Some(Parted { leg, from: p.name.clone() }),
                ..p.laid_for(leg)
            })
        });
        let mut new_lines =
            one.lines.iter().map(|l| Shared::from(l.laid_for(leg, &name_of(&l.piece))));
        let ours = |piece: &str| self.piece(piece).is_ok_and(|p| p.leg() == Some(leg));
        let mut after = Self {
            pieces: in_their_places(self.pieces.iter(), |p| p.leg() == Some(leg), &mut new_pieces),
            lines: in_their_places(self.lines.shared(), |l| ours(&l.piece), &mut new_lines),
            joins: Vec::with_capacity(self.joins.len()).into(),
        };
        let mut used = vec![false; one.joins.len()];
        for join in &self.joins {
            let across = self.joins_legs(join);
            let name = match (across, self.leg_of_join(join)) {
                (true, _) => join.name.as_str(),
                (false, Some(l)) if l == leg => self.join_before_parting(join).unwrap_or_default(),
                _ => {
                    after.joins.push(join.clone());
                    continue;
                }
            };
            let found = one.joins.iter().position(|j| j.name == name && j.is_mirror() == across);
            let Some(index) = found else { continue };
            used[index] = true;
            let changed = &one.joins[index];
            let mut join = Join { ease: changed.ease, ..join.clone() };
            match (&changed.second, &mut join.second) {
                (None, Some(second)) if ours(&second.piece) => *second = side(&changed.first),
                (None, _) => join.first = side(&changed.first),
                (Some(second), _) => {
                    (join.first, join.second) = (side(&changed.first), Some(side(second)));
                }
            }
            after.joins.push(join);
        }
        for join in one.joins.iter().zip(used).filter(|(_, used)| !used).map(|(j, _)| j) {
            match &join.second {
                Some(second) => after.joins.push(Join {
                    name: leg.named(&join.name),
                    first: side(&join.first),
                    second: Some(side(second)),
                    ease: join.ease,
                }),
                None => after.joins.extend(self.sewn_across(leg, join, side(&join.first))),
            }
        }
        after
    }

    /// A seam newly sewn to its mirror image, as a join of left and right; none
    /// when the other leg has no such seam.
    fn sewn_across(&self, leg: Leg, join: &Join, ours: JoinSide) -> Option<Join> {
        let twin = self.piece_for(leg.other(), &join.first.piece)?;
        self.piece(twin).ok()?.seam(&join.first.seam).ok()?;
        let theirs = JoinSide { piece: twin.to_owned(), ..join.first.clone() };
        let (first, second) = match leg {
            Leg::Left => (ours, theirs),
            Leg::Right => (theirs, ours),
        };
        Some(Join { first, second: Some(second), ..join.clone() })
    }

    /// The pattern itself, or parted when `other` is apart and it is not: so that
    /// the two can be compared piece by piece.
    pub fn apart_like(&self, other: &Self) -> Cow<'_, Self> {
        if other.is_apart()
            && !self.is_apart()
            && let Ok(apart) = self.apart()
        {
            return Cow::Owned(apart);
        }
        Cow::Borrowed(self)
    }
}

/// The list with the items that are replaced taken out and the new ones in their
/// places in order; what is over stands at the end.
fn in_their_places<'a, T: Clone + 'a, List: FromIterator<T> + Extend<T>>(
    old: impl Iterator<Item = &'a T>,
    replaced: impl Fn(&T) -> bool,
    new: &mut impl Iterator<Item = T>,
) -> List {
    let mut list: List = old
        .filter_map(|item| if replaced(item) { new.next() } else { Some(item.clone()) })
        .collect();
    list.extend(new);
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Projects write a leg as it is said; older ones wrote it with a capital.
    #[test]
    fn a_leg_is_read_however_it_was_written() {
        for (leg, written) in [(Leg::Left, "left"), (Leg::Right, "right")] {
            assert_eq!(ron::to_string(&leg).unwrap(), written);
            let older = format!("{leg:?}");
            assert_eq!(ron::from_str::<Leg>(written).unwrap(), leg);
            assert_eq!(ron::from_str::<Leg>(&older).unwrap(), leg);
        }
    }
}
