//! Pieces from elsewhere laid into the pattern: one change, however many pieces.

use crate::take::changed_measures;
use crate::{ChangeError, Outcome};
use hangtrue_pattern::{Join, JoinSide, Pattern, PatternError, Piece, Shared};
use serde::{Deserialize, Serialize};

/// Brings pieces into the pattern, from a file or traced from a picture.
///
/// A piece under a new name is added; one under a name that is there takes that
/// piece's place when `replace` says so, and is refused when it does not. Joins
/// and reference lines of a replaced piece stay as far as the new piece has the
/// seams they name.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BringIn {
    /// Where the pieces come from, in words: the name of the file.
    pub from: String,
    /// The pieces.
    pub pieces: Vec<Shared<Piece>>,
    /// Joins between them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub joins: Vec<Join>,
    /// Whether a piece takes the place of one that has its name.
    #[serde(default)]
    pub replace: bool,
}

impl BringIn {
    /// The change for all pieces and joins of a pattern. Pieces whose names are
    /// taken replace those when `replace` is set, and get a free name when not.
    pub fn of(from: &str, pieces: &Pattern, into: &Pattern, replace: bool) -> Self {
        let mut brought = pieces.clone();
        if !replace {
            for index in 0..brought.pieces.len() {
                let old = brought.pieces[index].name.clone();
                let new = free_name(&old, &brought, index, into);
                for side in brought.joins.iter_mut().flat_map(sides_mut) {
                    if side.piece == old {
                        side.piece.clone_from(&new);
                    }
                }
                brought.pieces[index].name = new;
            }
        }
        Self {
            from: from.to_owned(),
            pieces: brought.pieces,
            joins: brought.joins.into_inner(),
            replace,
        }
    }

    /// Applies the change.
    ///
    /// # Errors
    /// [`ChangeError::NothingBrought`] without pieces, [`ChangeError::NameTaken`]
    /// for a name that is there and not to be replaced,
    /// [`ChangeError::BreaksPattern`] for a piece that is not sound.
    pub(crate) fn apply(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        if self.pieces.is_empty() {
            return Err(ChangeError::NothingBrought { from: self.from.clone() });
        }
        let mut after = pattern.clone();
        for (index, piece) in self.pieces.iter().enumerate() {
            self.lay_in(&mut after, index, piece)?;
        }
        let mut notes = Vec::new();
        drop_hanging_joins(&mut after, &mut notes);
        for join in &self.joins {
            add_join(&mut after, join, &mut notes);
        }
        after.check().map_err(ChangeError::BreaksPattern)?;
        notes.extend(stale_lines(&after, &self.pieces));
        let changed = changed_measures(pattern, &after);
        Ok(Outcome {
            changed,
            notes: notes.into_iter().map(Into::into).collect(),
            ..Outcome::plain(after)
        })
    }

    fn lay_in(
        &self,
        after: &mut Pattern,
        index: usize,
        piece: &Shared<Piece>,
    ) -> Result<(), ChangeError> {
        let taken = || ChangeError::NameTaken { name: piece.name.clone() };
        let twice = self.pieces[..index].iter().any(|p| p.name == piece.name);
        if twice || piece.name.trim().is_empty() {
            return Err(taken());
        }
        match after.pieces.iter_mut().find(|p| p.name == piece.name) {
            None => after.pieces.push(piece.clone()),
            Some(there) if self.replace => {
                // A piece for one leg stays one for that leg.
                let parted = piece.parted.clone().or_else(|| there.parted.clone());
                *there = piece.clone();
                there.parted = parted;
            }
            Some(_) => return Err(taken()),
        }
        Ok(())
    }

    /// The change in a few words.
    pub fn words(&self) -> String {
        let names: Vec<&str> = self.pieces.iter().map(|p| p.name.as_str()).collect();
        format!("Bring in {} from {}", names.join(", "), self.from)
    }
}

fn sides_mut(join: &mut Join) -> impl Iterator<Item = &mut JoinSide> {
    std::iter::once(&mut join.first).chain(join.second.as_mut())
}

fn free_name(name: &str, brought: &Pattern, own: usize, into: &Pattern) -> String {
    let among = |n: &str| brought.pieces.iter().enumerate().any(|(i, p)| i != own && p.name == n);
    let taken = |n: &str| into.pieces.iter().any(|p| p.name == n) || among(n);
    let mut free = name.to_owned();
    let mut number = 2;
    while taken(&free) {
        free = format!("{name} {number}");
        number += 1;
    }
    free
}

fn has(pattern: &Pattern, side: &JoinSide) -> bool {
    pattern.piece(&side.piece).is_ok_and(|p| p.seam(&side.seam).is_ok())
}

/// Joins whose seams went with a replaced piece are taken away, and said so.
fn drop_hanging_joins(after: &mut Pattern, notes: &mut Vec<String>) {
    let joins = std::mem::take(&mut after.joins);
    for join in joins.into_inner() {
        if join.sides().all(|side| has(after, side)) {
            after.joins.push(join);
        } else {
            notes.push(format!(
                "the seam “{}” is taken away, because a seam it names is not on the new piece",
                join.name
            ));
        }
    }
}

fn add_join(after: &mut Pattern, join: &Join, notes: &mut Vec<String>) {
    let seams = |j: &Join| {
        let mut names: Vec<(String, String)> =
            j.sides().map(|s| (s.piece.clone(), s.seam.clone())).collect();
        names.sort();
        names
    };
    if after.joins.iter().any(|there| seams(there) == seams(join)) {
        return;
    }
    if !join.sides().all(|side| has(after, side)) {
        notes.push(format!("the seam “{}” names a seam that is not there", join.name));
        return;
    }
    let mut join = join.clone();
    let base = join.name.clone();
    let mut number = 2;
    while after.joins.iter().any(|there| there.name == join.name) {
        join.name = format!("{base} {number}");
        number += 1;
    }
    after.joins.push(join);
}

/// The lines on the new pieces whose rules cannot be met there.
fn stale_lines(after: &Pattern, pieces: &[Shared<Piece>]) -> Vec<String> {
    let on_new = |piece: &str| pieces.iter().any(|p| p.name == piece);
    let lines = after.lines.iter().filter(|l| on_new(&l.piece));
    let fault = |why: PatternError, name: &str, piece: &str| {
        format!("the {name} line of the {piece} has no place on the new piece: {why}")
    };
    lines
        .filter_map(|l| {
            let placed = after.place_line(&l.piece, &l.name);
            placed.err().map(|why| fault(why, &l.name, &l.piece))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Applied, Change, Document, Replay, Start, sample};
    use hangtrue_pattern::names;
    use hangtrue_pattern::units::Unit;

    fn document() -> Document {
        Document {
            title: "Trousers".into(),
            client: "nobody".into(),
            unit: Unit::Mm,
            start: Start::Pieces(sample::pattern()),
            pinned: vec![],
            changes: vec![],
            journal: crate::Journal::default(),
            printing: Default::default(),
            cutting: Default::default(),
            lays: Default::default(),
            figure: Default::default(),
        }
    }

    #[test]
    fn pieces_under_free_names_are_added_as_one_change() {
        let mut document = document();
        let before = Replay::new(document.clone()).current().unwrap().clone();
        let brought = BringIn::of("a.dxf", &before, &before, false);
        document.push("brought", Change::BringIn(brought));
        let mut replay = Replay::new(document.clone());
        let after = replay.current().unwrap().clone();
        assert_eq!(after.pieces.len(), 2 * before.pieces.len());
        assert!(after.piece("back 2").is_ok());
        assert_eq!(after.joins.len(), 2 * before.joins.len(), "joins follow the names");
        assert!(after.joins.iter().any(|j| j.sides().all(|s| s.piece.ends_with(" 2"))));
        // One step back is the document before.
        document.changes.pop();
        replay.update(document);
        assert_eq!(*replay.current().unwrap(), before);
    }

    #[test]
    fn a_name_that_is_there_is_replaced_only_when_asked() {
        let before = sample::pattern();
        let mut short = before.piece(names::BACK).unwrap().clone();
        short.inner.clear();
        short.notches.clear();
        let change = |replace| {
            Change::BringIn(BringIn {
                from: "a.svg".into(),
                pieces: vec![short.clone().into()],
                joins: vec![],
                replace,
            })
        };
        let refused = change(false).apply(&before);
        assert!(matches!(refused, Err(ChangeError::NameTaken { .. })), "{refused:?}");
        let outcome = change(true).apply(&before).unwrap();
        assert_eq!(outcome.pattern.pieces.len(), before.pieces.len());
        assert!(outcome.pattern.piece(names::BACK).unwrap().notches.is_empty());
        assert_eq!(outcome.pattern.joins, before.joins);
    }

    #[test]
    fn a_join_without_its_seam_is_taken_away_and_said() {
        let before = sample::pattern();
        let mut other = before.piece(names::BACK).unwrap().clone();
        for (number, seam) in other.seams.iter_mut().enumerate() {
            seam.name = format!("seam {number}");
        }
        other.notches.clear();
        let change = Change::BringIn(BringIn {
            from: "a.svg".into(),
            pieces: vec![other.into()],
            joins: vec![],
            replace: true,
        });
        let outcome = change.apply(&before).unwrap();
        let lost = before.joins.len() - outcome.pattern.joins.len();
        assert!(lost > 0);
        let told = outcome.notes.iter().filter(|n| n.contains("taken away")).count();
        assert_eq!(told, lost, "{:?}", outcome.notes);
    }

    #[test]
    fn nothing_and_unsound_pieces_are_refused_and_replay_goes_on() {
        let mut document = document();
        let mut broken = sample::pattern().pieces.remove(0);
        broken.name = "broken".into();
        broken.seams.remove(0);
        for pieces in [vec![], vec![broken]] {
            let brought = BringIn { from: "a.svg".into(), pieces, joins: vec![], replace: false };
            document.push("bad", Change::BringIn(brought));
        }
        let replay = Replay::new(document);
        for state in replay.states() {
            assert!(matches!(state.applied, Applied::Failed(_)), "{:?}", state.applied);
        }
        assert_eq!(replay.current().unwrap(), replay.start().unwrap());
    }
}
