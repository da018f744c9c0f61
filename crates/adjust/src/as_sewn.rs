//! Reading reference lines as sewn: pieces laid on each other across a seam
//! without stretching, and what a line does there.

use crate::ChangeError;
use hangtrue_geometry::{Affine, Vec2, angle_between, lay_along};
use hangtrue_pattern::{End, Join, JoinSide, LineEnd, Pattern, PlacedLine, SeamPoint};
use hangtrue_pattern::{
    words,
    words::{Angle, Length, Words},
};
use serde::Serialize;

/// What a line does where it crosses a sewn seam.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SeamReading {
    /// The line.
    pub line: String,
    /// Whether it is traced to the cloth, or stays on paper.
    pub on_cloth: bool,
    /// The join it crosses.
    pub join: String,
    /// The piece it comes from.
    pub piece: String,
    /// The piece it goes on to; the mirror image for a mirror join.
    pub onto: String,
    /// Distance from the matched end at which it meets the seam, on the first
    /// piece and on the second, mm.
    pub meets: (f64, f64),
    /// How much lower it goes on in the second piece, mm along the seam: 0 when
    /// the line is continuous.
    pub step: f64,
    /// How much the line bends at the seam, degrees: 0 when straight; positive
    /// for a V (lowest at the seam), negative for a peak.
    pub kink: f64,
}

/// A step below this reads as none, mm.
pub const STEP_SEEN: f64 = 0.5;

/// A kink below this reads as none, degrees.
pub const KINK_SEEN: f64 = 0.5;

impl SeamReading {
    /// The reading in words: where, and what the line does there.
    pub fn words(&self) -> Words {
        words![format!("{} at the {}: ", self.line, self.join), self.found()]
    }

    /// What the line does at the seam, in words.
    pub fn found(&self) -> Words {
        let step = if self.step.abs() < STEP_SEEN {
            Words::from("meets")
        } else {
            let way = if self.step > 0.0 { "lower" } else { "higher" };
            words!["goes on ", Length(self.step.abs()), " ", way]
        };
        let kink = if self.kink.abs() < KINK_SEEN {
            Words::from("straight")
        } else {
            let shape = if self.kink > 0.0 { "a V" } else { "a peak" };
            words!["with ", shape, " of ", Angle(self.kink.abs())]
        };
        words![step, ", ", kink]
    }
}

/// Reads every placed line at every join it crosses. A line that has no
/// namesake on the other piece at that seam is left out.
///
/// # Errors
/// [`ChangeError`] when a join names what is not there.
pub fn read_as_sewn(pattern: &Pattern) -> Result<Vec<SeamReading>, ChangeError> {
    let (lines, _) = pattern.place_lines();
    let mut readings = Vec::new();
    for join in &pattern.joins {
        for line in lines.iter().filter(|l| l.piece == join.first.piece) {
            let Some(end) = end_on(line, &join.first.seam) else { continue };
            let reading = match &join.second {
                None => Some(read_mirror(pattern, join, line, end)?),
                Some(side) => {
                    let mate = lines.iter().find(|l| l.piece == side.piece && l.name == line.name);
                    let mate = mate.and_then(|m| end_on(m, &side.seam).map(|e| (m, e)));
                    match mate {
                        Some(mate) => Some(read_pair(pattern, join, side, (line, end), mate)?),
                        None => None,
                    }
                }
            };
            readings.extend(reading);
        }
    }
    Ok(readings)
}

fn on_cloth(pattern: &Pattern, placed: &PlacedLine) -> bool {
    pattern.line(&placed.piece, &placed.name).is_ok_and(|l| l.purpose.to_cloth())
}

fn end_on<'a>(line: &'a PlacedLine, seam: &str) -> Option<&'a LineEnd> {
    line.ends.iter().find(|e| e.seam == seam)
}

/// Where a line meets a side of a join: distance from the matched end, mm, and
/// the angle, radians, between the line (into the piece) and the seam (away from
/// the matched end).
fn meeting(
    pattern: &Pattern,
    side: &JoinSide,
    line: &PlacedLine,
    end: &LineEnd,
) -> Result<(f64, f64), ChangeError> {
    let seam = pattern.piece(&side.piece)?.seam(&side.seam)?;
    let distance = seam.distance_from(side.from, end.position);
    let away = away_from(side.from, seam.place(End::Start, end.position));
    Ok((distance, angle_between(away, line.inward_at(end.point)).abs()))
}

/// The direction of the seam away from the given end.
fn away_from(end: End, at: SeamPoint) -> Vec2 {
    match end {
        End::Start => at.direction,
        End::End => -at.direction,
    }
}

fn read_mirror(
    pattern: &Pattern,
    join: &Join,
    line: &PlacedLine,
    end: &LineEnd,
) -> Result<SeamReading, ChangeError> {
    let (distance, angle) = meeting(pattern, &join.first, line, end)?;
    Ok(SeamReading {
        line: line.name.clone(),
        on_cloth: on_cloth(pattern, line),
        join: join.name.clone(),
        piece: join.first.piece.clone(),
        onto: format!("{}, mirrored", join.first.piece),
        meets: (distance, distance),
        step: 0.0,
        kink: (2.0 * angle).to_degrees() - 180.0,
    })
}

fn read_pair(
    pattern: &Pattern,
    join: &Join,
    side: &JoinSide,
    first: (&PlacedLine, &LineEnd),
    second: (&PlacedLine, &LineEnd),
) -> Result<SeamReading, ChangeError> {
    let (d1, a1) = meeting(pattern, &join.first, first.0, first.1)?;
    let (d2, a2) = meeting(pattern, side, second.0, second.1)?;
    // Ease is spread evenly, so a place of the longer side sews to its share.
    let whole = pattern.piece(&join.first.piece)?.seam(&join.first.seam)?.sewn_length();
    let sewn = d1 * (whole - join.ease) / whole;
    Ok(SeamReading {
        line: first.0.name.clone(),
        on_cloth: on_cloth(pattern, first.0),
        join: join.name.clone(),
        piece: join.first.piece.clone(),
        onto: side.piece.clone(),
        meets: (d1, d2),
        step: d2 - sewn,
        kink: (a1 + a2).to_degrees() - 180.0,
    })
}

/// The rigid move that lays the second piece of a join against the first at the
/// given sewn distance from the matched end, as the seam is sewn; for a mirror
/// join the reflection that makes the other half. For drawing the toile flat on
/// both sides of one seam.
///
/// # Errors
/// [`ChangeError`] when the join names what is not there.
pub fn laid_across(pattern: &Pattern, join: &Join, distance: f64) -> Result<Affine, ChangeError> {
    let place = |side: &JoinSide| -> Result<(SeamPoint, Vec2), ChangeError> {
        let at = pattern.piece(&side.piece)?.seam(&side.seam)?.place(side.from, distance);
        Ok((at, away_from(side.from, at)))
    };
    let (first, along) = place(&join.first)?;
    match &join.second {
        None => Ok(Affine::reflect(first.point, along)),
        Some(side) => {
            let (second, its_along) = place(side)?;
            Ok(lay_along(second.point, its_along, first.point, along))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use hangtrue_geometry::{Chain, Point};
    use hangtrue_pattern::names::*;
    use hangtrue_pattern::{Place, Rule};

    /// Closed form: on a straight centre back leaning by θ from the grain, a
    /// line square to the grain makes a V of 2θ; a line square to the seam none.
    #[test]
    fn a_leaning_centre_back_makes_a_v_of_twice_the_lean() {
        for lean in [0.02, 0.1, 0.15, 0.25] {
            let mut pattern = sample::pattern();
            let piece = pattern.piece_mut(BACK).unwrap();
            let crotch = piece.seam_mut(CROTCH).unwrap();
            let (top, end) = (crotch.start(), crotch.end());
            let low = top + Vec2::new(-f64::sin(lean), -f64::cos(lean)) * 150.0;
            crotch.parts = vec![Chain::line(top, low).then(&Chain::line(low, end)).unwrap()];
            pattern.lines.retain(|l| l.name == FULL_HIP && l.piece == BACK);
            pattern.lines[0].rule =
                Rule::SquareToGrain { through: Place::Point(Point::new(0.0, 130.0)) };
            let readings = read_as_sewn(&pattern).unwrap();
            let at_centre = readings.iter().find(|r| r.join == "centre back").unwrap();
            assert!((at_centre.kink - 2.0 * lean.to_degrees()).abs() < 1e-9, "{}", at_centre.kink);
            assert_eq!(at_centre.step, 0.0);
        }
    }

    #[test]
    fn equal_depths_meet_at_the_side_seam_and_unequal_step() {
        let mut pattern = sample::pattern();
        let step = |p: &Pattern| {
            let all = read_as_sewn(p).unwrap();
            all.iter().find(|r| r.line == FULL_HIP && r.join == "side seam").unwrap().step
        };
        assert!(step(&pattern).abs() < 1e-9);
        let front = pattern.lines.named_mut(FRONT, FULL_HIP).unwrap();
        if let Rule::EqualDepth { depth, .. } = &mut front.rule {
            *depth += 6.0;
        }
        assert!((step(&pattern) - 6.0).abs() < 1e-6);
    }

    #[test]
    fn laying_across_matches_the_seam_and_its_mirror() {
        let pattern = sample::pattern();
        for join in &pattern.joins {
            let m = laid_across(&pattern, join, 100.0).unwrap();
            let first = pattern.piece(&join.first.piece).unwrap().seam(&join.first.seam).unwrap();
            let target = first.place(join.first.from, 100.0).point;
            let side = join.second.as_ref().unwrap_or(&join.first);
            let seam = pattern.piece(&side.piece).unwrap().seam(&side.seam).unwrap();
            let p = seam.place(side.from, 100.0).point;
            assert!((m * p).distance(target) < 1e-9, "{}", join.name);
            // Without stretching: the determinant is ±1.
            let flips = if join.is_mirror() { -1.0 } else { 1.0 };
            assert!((m.determinant() - flips).abs() < 1e-12);
        }
    }
}
