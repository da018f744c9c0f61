//! Reading reference lines as sewn: pieces laid on each other across a seam
//! without stretching, and what a line does there.

use crate::ChangeError;
use hangtrue_geometry::{Affine, Vec2, angle_between, lay_along};
use hangtrue_pattern::{End, Join, JoinSide, LineEnd, Pattern, PlacedLine, SeamPoint};
use hangtrue_pattern::{
    units::{Unit, show_length},
    words,
    words::{InUnit, Length, Words},
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
    /// How much the line turns at the seam, degrees: 0 when straight; positive when it
    /// is lowest at the seam (it dips), negative when it is highest there (it peaks).
    pub kink: f64,
    /// How much lines square to the grain turn there, degrees: what both seams lean
    /// together. A leg hangs on its grain, so a toile that fits has that much, and what
    /// differs from it is the line. None at a mirror join, where nothing is to turn.
    pub kink_at_home: Option<f64>,
}

/// A step below this reads as none, mm.
pub const STEP_SEEN: f64 = 0.5;

/// A bend is told by how far the line stands off, so far from the seam, mm.
pub const BESIDE_SEAM: f64 = 100.0;

/// A bend below this reads as none, mm: the thickness of a marked line.
pub const BEND_SEEN: f64 = 1.0;

/// A bend this near to that at home is that at home, mm (our own choice).
const BEND_NEAR_HOME: f64 = 3.0;

/// What catches the eye on a toile, mm: three times a marked line (our own choice).
const STANDS_OUT: f64 = 3.0;

/// How a line bends at a seam.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bend {
    /// Straight on.
    Straight,
    /// As lines square to the grain do there, because both seams lean: it would bend so
    /// on a toile that fits.
    AtHome,
    /// It is lowest at the seam: so far off straight, [`BESIDE_SEAM`] from it, mm.
    Dips(f64),
    /// It is highest at the seam, likewise.
    Peaks(f64),
}

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
            words!["steps ", Length(self.step.abs()), self.way()]
        };
        words![step, ", ", self.bent()]
    }

    /// What of it would catch the eye on the toile: a step, a bend that a tapered leg does
    /// not make; none where the line goes on as any straight line does there.
    pub fn stands_out(&self) -> Option<Words> {
        let steps = self.step.abs() >= STANDS_OUT;
        let bends = matches!(self.bend(), Bend::Dips(mm) | Bend::Peaks(mm) if mm >= STANDS_OUT);
        let stepped = || words!["steps ", Length(self.step.abs()), self.way()];
        let what = match (steps, bends) {
            (false, false) => return None,
            (true, false) => stepped(),
            (false, true) => self.bent(),
            (true, true) => words![stepped(), ", ", self.bent()],
        };
        Some(words![format!("{} at the {}: ", self.line, self.join), what])
    }

    fn way(&self) -> &'static str {
        if self.step > 0.0 { " lower" } else { " higher" }
    }

    /// How the line bends at the seam, in words.
    pub fn bent(&self) -> Words {
        match self.bend() {
            Bend::Straight => "straight on".into(),
            Bend::AtHome => "bends as on any tapered leg".into(),
            Bend::Dips(mm) => words!["dips ", Length(mm)],
            Bend::Peaks(mm) => words!["peaks ", Length(mm)],
        }
    }

    /// How the line bends at the seam.
    pub fn bend(&self) -> Bend {
        let bend = bend_of(self.kink);
        let from_home = self.kink_at_home.map(|home| bend - bend_of(home));
        match from_home {
            _ if bend.abs() < BEND_SEEN => Bend::Straight,
            Some(off) if off.abs() < BEND_NEAR_HOME => Bend::AtHome,
            _ if bend > 0.0 => Bend::Dips(bend),
            _ => Bend::Peaks(-bend),
        }
    }
}

/// What the readings of lines that go to the cloth come to: that nothing stands out, or
/// what will show on a toile that fits. Lines that stay on paper are not looked at.
pub fn what_stands_out(readings: &[SeamReading], unit: Unit) -> String {
    let on_cloth: Vec<&SeamReading> = readings.iter().filter(|r| r.on_cloth).collect();
    let crossings = on_cloth.len();
    if crossings == 0 {
        return "No line that goes to the cloth crosses a seam.".into();
    }
    // Each is shown by itself: they are not set against each other.
    let out = on_cloth.iter().filter_map(|r| r.stands_out());
    let out: Vec<String> = out.map(|words| words.in_unit(unit)).collect();
    if out.is_empty() {
        return format!(
            "Nothing stands out: at each of the {crossings} places where a line on the cloth crosses a seam it goes on straight or as on any tapered leg, within {}. Nothing is to be done here.",
            show_length(STANDS_OUT, unit)
        );
    }
    format!(
        "At {} of {crossings} places a line shows its seam: {}. A toile that fits shows it too: do not take it for the body’s doing.",
        out.len(),
        out.join("; ")
    )
}

/// How far a line stands off straight [`BESIDE_SEAM`] from a seam at which it turns by
/// `kink` degrees, half to each side, mm.
fn bend_of(kink: f64) -> f64 {
    BESIDE_SEAM * (0.5 * kink.to_radians()).tan()
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
                None => Some(read_mirror(pattern, join, (line, end))?),
                Some(side) => {
                    let mate = lines.iter().find(|l| l.piece == side.piece && l.name == line.name);
                    let mate = mate.and_then(|m| end_on(m, &side.seam).map(|e| (m, e)));
                    match mate {
                        Some(mate) => Some(read_pair(pattern, join, side, [(line, end), mate])?),
                        None => None,
                    }
                }
            };
            readings.extend(reading);
        }
    }
    Ok(readings)
}

fn end_on<'a>(line: &'a PlacedLine, seam: &str) -> Option<&'a LineEnd> {
    line.ends.iter().find(|e| e.seam == seam)
}

/// Where a line meets a side of a join.
struct Meeting {
    /// From the matched end, mm.
    distance: f64,
    /// Between the line (into the piece) and the seam (away from the matched end),
    /// radians.
    angle: f64,
    /// The same for a line square to the grain.
    square: f64,
}

fn meeting(
    pattern: &Pattern,
    side: &JoinSide,
    line: &PlacedLine,
    end: &LineEnd,
) -> Result<Meeting, ChangeError> {
    let piece = pattern.piece(&side.piece)?;
    let seam = piece.seam(&side.seam)?;
    let away = away_from(side.from, seam.place(End::Start, end.position));
    let (inward, across) = (line.inward_at(end.point), piece.grain.square());
    let across = if across.dot(inward) < 0.0 { -across } else { across };
    Ok(Meeting {
        distance: seam.distance_from(side.from, end.position),
        angle: angle_between(away, inward).abs(),
        square: angle_between(away, across).abs(),
    })
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
    (line, end): (&PlacedLine, &LineEnd),
) -> Result<SeamReading, ChangeError> {
    let Meeting { distance, angle, .. } = meeting(pattern, &join.first, line, end)?;
    Ok(SeamReading {
        line: line.name.clone(),
        on_cloth: pattern.goes_to_cloth(line),
        join: join.name.clone(),
        piece: join.first.piece.clone(),
        onto: format!("{}, mirrored", join.first.piece),
        meets: (distance, distance),
        step: 0.0,
        kink: (2.0 * angle).to_degrees() - 180.0,
        kink_at_home: None,
    })
}

fn read_pair(
    pattern: &Pattern,
    join: &Join,
    side: &JoinSide,
    [first, second]: [(&PlacedLine, &LineEnd); 2],
) -> Result<SeamReading, ChangeError> {
    let mine = meeting(pattern, &join.first, first.0, first.1)?;
    let its = meeting(pattern, side, second.0, second.1)?;
    let (d1, d2) = (mine.distance, its.distance);
    // Ease is spread evenly, so a place of the longer side sews to its share.
    let whole = pattern.piece(&join.first.piece)?.seam(&join.first.seam)?.sewn_length();
    let sewn = d1 * (whole - join.ease) / whole;
    Ok(SeamReading {
        line: first.0.name.clone(),
        on_cloth: pattern.goes_to_cloth(first.0),
        join: join.name.clone(),
        piece: join.first.piece.clone(),
        onto: side.piece.clone(),
        meets: (d1, d2),
        step: d2 - sewn,
        kink: (mine.angle + its.angle).to_degrees() - 180.0,
        kink_at_home: Some((mine.square + its.square).to_degrees() - 180.0),
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
    use hangtrue_pattern::{Place, Rule, SeamPlace, rule};

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
            pattern.lines.retain(|l| l.name == HIP_BALANCE && l.piece == BACK);
            pattern.lines[0].rule = Rule::SquareToGrain(rule::SquareToGrain {
                through: Place::Point(Point::new(0.0, 130.0)),
            });
            let readings = read_as_sewn(&pattern).unwrap();
            let at_centre = readings.iter().find(|r| r.join == "centre back").unwrap();
            assert!((at_centre.kink - 2.0 * lean.to_degrees()).abs() < 1e-9, "{}", at_centre.kink);
            assert_eq!(at_centre.step, 0.0);
        }
    }

    /// Lines square to the grain turn by what both seams lean: read off the seams, not
    /// off the lines. A line that is tilted differs from that by its tilt.
    #[test]
    fn lines_square_to_the_grain_bend_as_at_home_and_tilted_ones_do_not() {
        let mut pattern = sample::pattern();
        let at = |pattern: &Pattern, join: &str| {
            let readings = read_as_sewn(pattern).unwrap();
            readings.into_iter().find(|r| r.line == THIGH && r.join == join).unwrap()
        };
        for join in ["side seam", "inseam"] {
            let reading = at(&pattern, join);
            let lean = |piece: &str, position: f64| {
                let seam = if join == "inseam" { INSEAM } else { SIDE };
                let piece = pattern.piece(piece).unwrap();
                let from = if join == "inseam" { End::Start } else { End::End };
                let way = piece.seam(seam).unwrap().place(from, position).direction;
                way.x.abs().atan2(way.y.abs()).to_degrees()
            };
            let both = lean(&reading.piece, reading.meets.0) + lean(&reading.onto, reading.meets.1);
            assert!((reading.kink.abs() - both).abs() < 1e-6, "{reading:?} {both}");
            let home = reading.kink_at_home.unwrap();
            assert!((home - reading.kink).abs() < 1e-9, "{reading:?}");
            assert!(matches!(reading.bend(), Bend::AtHome | Bend::Straight), "{reading:?}");
        }
        let place = |seam: &str, from, distance| SeamPlace { seam: seam.into(), from, distance };
        let through = Rule::Through(rule::Through {
            first: place(INSEAM, End::Start, 80.0),
            second: place(SIDE, End::End, 400.0),
        });
        pattern.lines.change_where(
            |line| line.piece == BACK && line.name == THIGH,
            |line| line.rule = through.clone(),
        );
        let reading = at(&pattern, "side seam");
        assert!(matches!(reading.bend(), Bend::Dips(_) | Bend::Peaks(_)), "{reading:?}");
        // 100 mm beside a seam at which it turns by 6° it stands 5.24 mm off.
        let dips = SeamReading { kink: 6.0, kink_at_home: None, ..reading };
        assert!(matches!(dips.bend(), Bend::Dips(mm) if (mm - 5.240_78).abs() < 1e-5));
    }

    #[test]
    fn equal_depths_meet_at_the_side_seam_and_unequal_step() {
        let mut pattern = sample::pattern();
        let step = |p: &Pattern| {
            let all = read_as_sewn(p).unwrap();
            all.iter().find(|r| r.line == HIP_BALANCE && r.join == "side seam").unwrap().step
        };
        assert!(step(&pattern).abs() < 1e-9);
        pattern.lines.change_where(
            |line| line.piece == FRONT && line.name == HIP_BALANCE,
            |line| {
                if let Rule::EqualDepth(rule::EqualDepth { depth, .. }) = &mut line.rule {
                    *depth += 6.0;
                }
            },
        );
        assert!((step(&pattern) - 6.0).abs() < 1e-6);
        let readings = read_as_sewn(&pattern).unwrap();
        let told = what_stands_out(&readings, Unit::Mm);
        assert!(told.contains("hip balance at the side seam: steps 6.0 mm lower"), "{told}");
        assert!(!told.contains("Nothing"), "{told}");
        let is_usual = |r: &SeamReading| r.stands_out().is_none();
        let usual: Vec<SeamReading> = readings.into_iter().filter(is_usual).collect();
        assert!(what_stands_out(&usual, Unit::Mm).contains("Nothing stands out"));
        assert!(what_stands_out(&[], Unit::Mm).contains("No line"));
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
