//! A whole pattern: its pieces, how they are joined, and its reference lines.

use crate::{Join, Lines, PatternError, Piece, ReferenceLine, Shared, names};
use serde::{Deserialize, Serialize};
use std::collections::HashSet;

/// A pattern at one moment: what a document computes after each change.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pattern {
    /// The pieces; one that a change leaves alone is not copied.
    pub pieces: Vec<Shared<Piece>>,
    /// Which seam sews to which.
    pub joins: Shared<Vec<Join>>,
    /// Reference lines, by rule.
    #[serde(default, skip_serializing_if = "Lines::is_empty")]
    pub lines: Lines,
}

impl Pattern {
    /// The piece of that name.
    ///
    /// # Errors
    /// [`PatternError::NoPiece`] with the names there are.
    pub fn piece(&self, name: &str) -> Result<&Piece, PatternError> {
        let found = self.pieces.iter().find(|p| p.name == name);
        found.map(|p| &**p).ok_or_else(|| self.no_piece(name))
    }

    /// The piece of that name, to change.
    ///
    /// # Errors
    /// [`PatternError::NoPiece`] with the names there are.
    pub fn piece_mut(&mut self, name: &str) -> Result<&mut Piece, PatternError> {
        match self.pieces.iter().position(|p| p.name == name) {
            Some(index) => Ok(&mut self.pieces[index]),
            None => Err(self.no_piece(name)),
        }
    }

    fn no_piece(&self, name: &str) -> PatternError {
        let known: Vec<&str> = self.pieces.iter().map(|p| p.name.as_str()).collect();
        PatternError::NoPiece { name: name.to_owned(), known: known.join(", ") }
    }

    /// The reference line of that name on that piece.
    ///
    /// # Errors
    /// [`PatternError::NoLine`] with the names there are.
    pub fn line(&self, piece: &str, name: &str) -> Result<&ReferenceLine, PatternError> {
        let renamed = || names::other_names(name).find_map(|n| self.lines.named(piece, n));
        self.lines.named(piece, name).or_else(renamed).ok_or_else(|| {
            let on_piece = self.lines.iter().filter(|l| l.piece == piece);
            let known: Vec<&str> = on_piece.map(|l| l.name.as_str()).collect();
            PatternError::NoLine {
                piece: piece.to_owned(),
                name: name.to_owned(),
                known: if known.is_empty() { "(none yet)".into() } else { known.join(", ") },
            }
        })
    }

    /// The joins that touch a seam.
    pub fn joins_of<'a>(&'a self, piece: &'a str, seam: &'a str) -> impl Iterator<Item = &'a Join> {
        self.joins.iter().filter(move |j| j.sides().any(|s| s.piece == piece && s.seam == seam))
    }

    /// Checks every piece, that every join names seams there are, and that every
    /// reference line names a piece there is.
    ///
    /// # Errors
    /// The first [`PatternError`] found.
    pub fn check(&self) -> Result<(), PatternError> {
        for piece in &self.pieces {
            piece.check()?;
        }
        for side in self.joins.iter().flat_map(Join::sides) {
            self.piece(&side.piece)?.seam(&side.seam)?;
        }
        let there: HashSet<&str> = self.pieces.iter().map(|p| p.name.as_str()).collect();
        for line in self.lines.iter() {
            if !there.contains(line.piece.as_str()) {
                let known: Vec<&str> = self.pieces.iter().map(|p| p.name.as_str()).collect();
                return Err(PatternError::LineOnNoPiece {
                    line: line.name.clone(),
                    piece: line.piece.clone(),
                    known: known.join(", "),
                });
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Place, Purpose, Rule, names, piece::tests::plain_back, rule};

    #[test]
    fn a_line_on_a_piece_that_is_not_there_is_refused_by_name() {
        let through = Place::Corner(names::CROTCH_POINT.into());
        let line = |piece: &str| ReferenceLine {
            name: "thigh".into(),
            piece: piece.into(),
            rule: Rule::SquareToGrain(rule::SquareToGrain { through: through.clone() }),
            purpose: Purpose::Cloth(String::new()),
            last: None,
            cloth: None,
        };
        let mut pattern = Pattern {
            pieces: vec![plain_back().into()],
            lines: vec![line(names::BACK)].into(),
            ..Pattern::default()
        };
        pattern.check().unwrap();
        pattern.lines.push(line("yoke"));
        let fault = pattern.check().unwrap_err();
        assert!(matches!(fault, PatternError::LineOnNoPiece { .. }), "{fault}");
        assert!(fault.to_string().contains("yoke"), "{fault}");
    }
}
