//! Finding a dart of the waist.

use crate::ChangeError;
use hangtrue_pattern::Piece;
use hangtrue_pattern::names::WAIST;
use hangtrue_pattern::words::Length;

/// The waist beside a dart is at least this long, mm.
pub(super) const LEAST_BESIDE: f64 = 14.0;

/// The index in the waist of the dart of that name, or of the one nearest the
/// centre.
///
/// # Errors
/// [`ChangeError::Unknown`] with the darts there are.
pub(super) fn of_dart(piece: &Piece, name: Option<&str>) -> Result<usize, ChangeError> {
    let darts = &piece.seam(WAIST)?.darts;
    let found = match name {
        Some(name) => darts.iter().position(|d| d.name == name),
        None => darts.len().checked_sub(1),
    };
    found.ok_or_else(|| {
        let known: Vec<&str> = darts.iter().map(|d| d.name.as_str()).collect();
        ChangeError::Unknown {
            kind: "dart",
            name: name.unwrap_or("any").to_owned(),
            known: if known.is_empty() {
                format!("none in the waist of the {}", piece.name)
            } else {
                known.join(", ")
            },
        }
    })
}

pub(super) fn no_room(dart: &str, asked: f64, low: f64, high: f64) -> ChangeError {
    ChangeError::OutOfReach {
        what: format!("the room along the waist for the {dart}"),
        asked: Length(asked),
        low: Length(low),
        high: Length(high),
    }
}
