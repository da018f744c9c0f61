//! A whole pattern: its pieces, how they are joined, and its reference lines.

use crate::{Join, PatternError, Piece, ReferenceLine};
use serde::{Deserialize, Serialize};

/// A pattern at one moment: what a document computes after each change.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pattern {
    /// The pieces.
    pub pieces: Vec<Piece>,
    /// Which seam sews to which.
    pub joins: Vec<Join>,
    /// Reference lines, by rule.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lines: Vec<ReferenceLine>,
}

impl Pattern {
    /// The piece of that name.
    ///
    /// # Errors
    /// [`PatternError::NoPiece`] with the names there are.
    pub fn piece(&self, name: &str) -> Result<&Piece, PatternError> {
        self.pieces.iter().find(|p| p.name == name).ok_or_else(|| self.no_piece(name))
    }

    /// The piece of that name, to change.
    ///
    /// # Errors
    /// [`PatternError::NoPiece`] with the names there are.
    pub fn piece_mut(&mut self, name: &str) -> Result<&mut Piece, PatternError> {
        let missing = self.no_piece(name);
        self.pieces.iter_mut().find(|p| p.name == name).ok_or(missing)
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
        let on_piece = || self.lines.iter().filter(|l| l.piece == piece);
        on_piece().find(|l| l.name == name).ok_or_else(|| {
            let known: Vec<&str> = on_piece().map(|l| l.name.as_str()).collect();
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
        for line in &self.lines {
            if self.piece(&line.piece).is_err() {
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
    use crate::{Place, Purpose, Rule, names, piece::tests::plain_back};

    #[test]
    fn a_line_on_a_piece_that_is_not_there_is_refused_by_name() {
        let through = Place::Corner(names::CROTCH_POINT.into());
        let line = |piece: &str| ReferenceLine {
            name: "thigh".into(),
            piece: piece.into(),
            rule: Rule::SquareToGrain { through: through.clone() },
            purpose: Purpose::Cloth(String::new()),
            last: None,
        };
        let mut pattern =
            Pattern { pieces: vec![plain_back()], joins: vec![], lines: vec![line(names::BACK)] };
        pattern.check().unwrap();
        pattern.lines.push(line("yoke"));
        let fault = pattern.check().unwrap_err();
        assert!(matches!(fault, PatternError::LineOnNoPiece { .. }), "{fault}");
        assert!(fault.to_string().contains("yoke"), "{fault}");
    }
}
