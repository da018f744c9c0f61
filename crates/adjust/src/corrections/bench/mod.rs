//! The work bench of a correction: the pattern with its grain upright, the few
//! moves all corrections are made of, and what is done at the end of each.

mod ends;
mod hang;
mod leg;
mod levels;
mod waist;

use super::shape::Stretch;
use crate::take::sort_measures;
use crate::{ChangeError, FlatMeasure, Outcome};
pub(crate) use ends::{slide_end, tie};
use hangtrue_geometry::{Affine, Vec2, angle_between};
use hangtrue_pattern::words::Words;
use hangtrue_pattern::{Grain, InnerLine, Pattern, Piece};
pub(crate) use waist::{LEAST_INTAKE, MOST_GROWTH};

/// The pattern under a correction.
#[derive(Clone)]
pub(crate) struct Bench<'a> {
    before: &'a Pattern,
    /// The pattern as it came, grain upright.
    start: Pattern,
    /// The pattern as it stands, grain upright.
    now: Pattern,
    /// The turn that made each piece upright.
    turns: Vec<Affine>,
    stretches: Vec<(String, Stretch)>,
    promised: Vec<FlatMeasure>,
    notes: Vec<Words>,
}

impl<'a> Bench<'a> {
    pub(crate) fn new(before: &'a Pattern) -> Self {
        let mut start = before.clone();
        let turns: Vec<Affine> = before
            .pieces
            .iter()
            .map(|p| {
                let turn = angle_between(p.grain.direction(), Vec2::new(0.0, 1.0));
                if turn.abs() < 1e-12 { Affine::IDENTITY } else { Affine::rotate(turn) }
            })
            .collect();
        for (piece, &turn) in start.pieces.iter_mut().zip(&turns) {
            lay(piece, turn);
        }
        Self {
            before,
            now: start.clone(),
            start,
            turns,
            stretches: vec![],
            promised: vec![],
            notes: vec![],
        }
    }

    /// What some work would give; the bench itself is left as it is.
    pub(crate) fn tried<T>(
        &self,
        work: impl FnOnce(&mut Self) -> Result<T, ChangeError>,
    ) -> Result<T, ChangeError> {
        work(&mut self.clone())
    }

    /// The piece as it stands.
    pub(crate) fn piece(&self, name: &str) -> Result<&Piece, ChangeError> {
        Ok(self.now.piece(name)?)
    }

    /// The turn by which a piece was laid upright.
    pub(crate) fn turn_of(&self, name: &str) -> Result<Affine, ChangeError> {
        self.piece(name)?;
        let index = self.now.pieces.iter().position(|p| p.name == name);
        Ok(index.map_or(Affine::IDENTITY, |index| self.turns[index]))
    }

    /// The piece as it stands, to change.
    pub(crate) fn piece_mut(&mut self, name: &str) -> Result<&mut Piece, ChangeError> {
        Ok(self.now.piece_mut(name)?)
    }

    /// Promises the sewn lengths of seams of a piece.
    pub(crate) fn promise(&mut self, piece: &str, seams: &[&str]) {
        self.promised.extend(seams.iter().map(|s| FlatMeasure::seam(piece, s)));
    }

    /// Promises any other measure.
    pub(crate) fn promise_measure(&mut self, measure: FlatMeasure) {
        self.promised.push(measure);
    }

    /// By how much a measure has grown as the pattern stands, in mm where it is a length;
    /// none where it cannot be taken or by no more than rounding.
    pub(crate) fn grown(&self, measure: &FlatMeasure) -> Option<f64> {
        let (_, changed) = sort_measures(&self.start, &self.now, &[]);
        changed.into_iter().find(|c| c.measure == *measure).map(|c| c.change())
    }

    /// By how much a seam has grown as the pattern stands, mm.
    pub(crate) fn seam_grown(&self, piece: &str, seam: &str) -> Result<f64, ChangeError> {
        let length =
            |of: &Pattern| Ok::<_, ChangeError>(of.piece(piece)?.seam(seam)?.sewn_length());
        Ok(length(&self.now)? - length(&self.start)?)
    }

    /// A remark for the maker.
    pub(crate) fn note(&mut self, words: impl Into<Words>) {
        self.notes.push(words.into());
    }

    /// Lets the mating seams match as they did, hangs notches and level lines
    /// anew, turns the pieces back, checks them, and takes the measures.
    pub(crate) fn finish(mut self) -> Result<Outcome, ChangeError> {
        self.match_joins()?;
        self.hang_notches()?;
        self.hang_lines()?;
        for (piece, turn) in self.now.pieces.iter_mut().zip(&self.turns) {
            if *turn != Affine::IDENTITY {
                lay(piece, turn.inverse());
            }
        }
        self.now.check().map_err(ChangeError::BreaksPattern)?;
        let (kept, changed) = sort_measures(self.before, &self.now, &self.promised);
        let outcome = Outcome { kept, changed, notes: self.notes, ..Outcome::plain(self.now) };
        outcome.hold_to_promise()
    }
}

fn lay(piece: &mut Piece, turn: Affine) {
    if turn == Affine::IDENTITY {
        return;
    }
    for seam in &mut piece.seams {
        *seam = seam.moved(turn);
    }
    piece.grain = Grain { from: turn * piece.grain.from, to: turn * piece.grain.to };
    let lines = piece.inner.iter();
    piece.inner = lines.map(|l| InnerLine { chain: l.chain.moved(turn), ..l.clone() }).collect();
}
