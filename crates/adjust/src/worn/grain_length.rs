//! What the pattern knows of a worn line: how far apart two lines are along the
//! grain, and how large round the garment is at one.

use super::{LegSeen, WornError};
use hangtrue_geometry::{Line, Vec2};
use hangtrue_pattern::{Leg, Pattern};

/// The length along the grain of a piece, at its grainline, between two lines
/// marked on it, mm.
///
/// # Errors
/// [`WornError::NotInPattern`] when a line is not there or does not cross the
/// grain.
pub fn length_along_grain(
    pattern: &Pattern,
    piece: &str,
    upper: &str,
    lower: &str,
) -> Result<f64, WornError> {
    let not = |e: hangtrue_pattern::PatternError| WornError::NotInPattern(e.to_string());
    let grain = pattern.piece(piece).map_err(not)?.grain;
    let along = (grain.to - grain.from) / (grain.to - grain.from).hypot();
    // A grainline is drawn shorter than the piece; it runs on in the cloth.
    let bounds = pattern.piece(piece).map_err(not)?.bounds();
    let reach: Vec2 = along * (bounds.width() + bounds.height());
    let grainline = Line::new(grain.from - reach, grain.to + reach);
    let crossing = |name: &str| -> Result<f64, WornError> {
        let chain = pattern.place_chain(piece, name).map_err(not)?;
        let crossings = chain.crossings_with_line(grainline);
        let place = crossings.first().ok_or_else(|| {
            WornError::NotInPattern(format!(
                "the line “{name}” does not cross the grain of the {piece}; choose lines that run across it"
            ))
        })?;
        Ok((place.point - grain.from).dot(along))
    };
    Ok((crossing(upper)? - crossing(lower)?).abs())
}

/// Round the garment at a line, mm: back and front of one leg together, or of
/// both.
///
/// # Errors
/// [`WornError::NotInPattern`] when no piece has the line.
pub fn girth_at(pattern: &Pattern, line: &str, leg: LegSeen) -> Result<f64, WornError> {
    let (placed, _) = pattern.place_lines();
    // Apart, the left and the right are pieces of their own.
    let is_on = |piece: &str| match pattern.piece(piece).ok().and_then(|p| p.leg()) {
        None | Some(_) if leg == LegSeen::Both => true,
        None => true,
        Some(of) => (of == Leg::Left) == (leg == LegSeen::Left),
    };
    let lengths: f64 =
        placed.iter().filter(|l| l.name == line && is_on(&l.piece)).map(|l| l.chain.length()).sum();
    if lengths <= 0.0 {
        return Err(WornError::NotInPattern(format!(
            "no line “{line}” is marked on the pattern; mark it, or say the girth there"
        )));
    }
    Ok(if leg == LegSeen::Both && !pattern.is_apart() { 2.0 * lengths } else { lengths })
}
