//! What is said beside a prediction, in words for whoever shows it.

use crate::predict::{Prediction, Settled};
use hangtrue_geometry::words;
use hangtrue_geometry::words::{Length, Words};
use hangtrue_pattern::{Pattern, Piece, names};

/// What stands beside every prediction.
pub const LABEL: &str = "Predicted, not seen: no real toile has been compared with it yet.";

/// A body whose fork was moved by more than this is told of, mm.
const MOVED: f64 = 5.0;

/// Whether a piece is laid in a pleat.
pub fn is_pleated(piece: &Piece) -> bool {
    piece.darts().any(|(_, _, dart)| names::is_pleat(&dart.name))
}

/// What is said of a pattern with pleats: they are sewn here as darts are.
pub fn pleat_doubt(pattern: &Pattern) -> Option<Words> {
    pattern.pieces.iter().any(|piece| is_pleated(piece)).then(|| {
        words!["The pleats are sewn shut here from the waist to their end. In the garment only their top is: lines of a pleated piece will hang otherwise."]
    })
}

/// What makes a prediction doubtful: pleats, a waist that slipped, what was guessed of the body,
/// and an earlier rest it began from.
pub fn doubts(pattern: &Pattern, told: &Prediction, settled: &Settled) -> Vec<Words> {
    let mut said = Vec::from_iter(pleat_doubt(pattern));
    if settled.first.slipped {
        said.push(words!["The waist does not stay at its level: the cloth pulls it further than its band holds. Mend the waist before lines are read."]);
    }
    for guess in &settled.body.guessed {
        said.push(words![
            "The body’s ",
            guess.what,
            " was not taken; ",
            Length(guess.value),
            " is guessed from its girths, ± ",
            Length(guess.off),
            "."
        ]);
    }
    let (lowered, raised) = (settled.body.lowered, settled.body.hip_raised);
    if lowered.abs() > MOVED {
        let way = if lowered > 0.0 { "lower" } else { "higher" };
        said.push(words![
            "The body’s fork lies ",
            Length(lowered.abs()),
            " ",
            way,
            " than the inside leg height says, so that the crotch length finds room."
        ]);
    }
    if raised > MOVED {
        said.push(words![
            "The body’s hip lies ",
            Length(raised),
            " higher than measured, because the fork had to be raised."
        ]);
    }
    if settled.others.is_empty() && !told.began_earlier {
        said.push(words!["It was worked out from one start on one mesh: the ± is the least that is ever claimed, and others may differ by twice as much."]);
    }
    if told.began_earlier {
        said.push(words!["Begun from where the toile lay before the change, so the ± is wide: a fold may have stayed that a fresh start would not make. Work it out afresh before two are weighed against each other."]);
    }
    said
}
