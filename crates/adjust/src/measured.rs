//! Pins as they were measured on the cloth, made into a pinch.
//!
//! A maker lays the tape along the pinched line and reads, at each pin or pair of
//! hash marks, how far it lies from a seam and how much cloth is taken there. The
//! line is not shortened by a pinch that is taken square to it, so places on the
//! cloth are places along the line on paper. Between two places the amount goes
//! smoothly from one to the other and never beyond (monotone cubic, see
//! [`hangtrue_geometry::Profile`]); from the outermost place to a seam without an
//! amount it runs out to nothing.

use crate::{ChangeError, Pinch, PinchPath, Station, StationPlace};
use hangtrue_pattern::words::Length;
use hangtrue_pattern::{Pattern, PatternError, Piece};

/// Where a pin was measured.
#[derive(Debug, Clone, PartialEq)]
pub enum MeasuredPlace {
    /// A share of the way along the line, 0 to 1; from the seam of that name, or
    /// from where the line starts.
    Share(f64, Option<String>),
    /// So far from a seam, mm.
    From(String, f64),
    /// So far from the seams at both ends of the line, mm: each checks the other.
    FromBoth([(String, f64); 2]),
}

/// One place as measured.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredPin {
    /// Where.
    pub place: MeasuredPlace,
    /// How much, mm; negative is let out.
    pub amount: f64,
}

/// What an amount is the measure of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Counted {
    /// All the cloth taken, from hash mark to hash mark.
    #[default]
    Whole,
    /// The depth of the fold, from the pins to the folded edge: half of it.
    FoldDepth,
}

/// The two distances from both seams may miss the length of the line by so much,
/// mm: 1/4 in, what a tape on a pinned toile is read to (common practice, no
/// published source).
pub const TAPE_AGREES: f64 = 6.35;

impl Pinch {
    /// The pinch that was measured, on a piece of the pattern the toile was cut
    /// from. Seams may be named as such or by the seam they are sewn into.
    ///
    /// # Errors
    /// [`ChangeError::TapesDisagree`] when the distances from both seams miss the
    /// length of the line by more than [`TAPE_AGREES`]; otherwise as
    /// [`Pinch::lay`].
    pub fn as_measured(
        name: &str,
        piece: &str,
        path: PinchPath,
        pins: &[MeasuredPin],
        counted: Counted,
        pattern: &Pattern,
    ) -> Result<Self, ChangeError> {
        let mut pinch =
            Self { name: name.to_owned(), piece: piece.to_owned(), path, stations: Vec::new() };
        let (line, ends) = pinch.lay_path(pattern)?;
        let length = line.length();
        let on = pattern.piece(piece)?;
        let start = ends[0].seam.as_str();
        for pin in pins {
            let at = match &pin.place {
                MeasuredPlace::Share(share, None) => StationPlace::Share(*share),
                MeasuredPlace::Share(share, Some(seam)) => {
                    match pinch.end_called(pattern, on, &ends, length, seam)? {
                        seam if seam == start => StationPlace::Share(*share),
                        _ => StationPlace::Share(1.0 - share),
                    }
                }
                MeasuredPlace::From(seam, distance) => {
                    let seam = pinch.end_called(pattern, on, &ends, length, seam)?;
                    StationPlace::From(seam.to_owned(), *distance)
                }
                MeasuredPlace::FromBoth([first, second]) => {
                    let seam = pinch.end_called(pattern, on, &ends, length, &first.0)?;
                    let other = pinch.end_called(pattern, on, &ends, length, &second.0)?;
                    let (a, b) = (first.1, second.1);
                    let miss = a + b - length;
                    let agree = seam != other && miss.abs() <= TAPE_AGREES && a + b > 0.0;
                    if !agree {
                        return Err(ChangeError::TapesDisagree {
                            pinch: name.to_owned(),
                            first: (Length(a), seam.to_owned()),
                            second: (Length(b), other.to_owned()),
                            length: Length(length),
                            most: Length(TAPE_AGREES),
                        });
                    }
                    // What the tape gave or took is spread over both readings.
                    StationPlace::From(seam.to_owned(), a * length / (a + b))
                }
            };
            let amount = match counted {
                Counted::Whole => pin.amount,
                Counted::FoldDepth => 2.0 * pin.amount,
            };
            pinch.stations.push(Station { at, amount });
        }
        pinch.lay(pattern)?;
        Ok(pinch)
    }

    /// The seam at an end of the line that the maker calls so.
    fn end_called<'a>(
        &self,
        pattern: &'a Pattern,
        piece: &'a Piece,
        ends: &'a [hangtrue_pattern::LineEnd; 2],
        length: f64,
        words: &str,
    ) -> Result<&'a str, ChangeError> {
        let seam = seam_called(pattern, piece, words)?;
        ends.iter().map(|e| e.seam.as_str()).find(|s| *s == seam).ok_or_else(|| {
            ChangeError::StationOffPath {
                pinch: self.name.clone(),
                asked: Length(0.0),
                length: Length(length),
                why: format!(
                    "measured from the {seam}, which the path does not meet; it runs from the {} to the {}",
                    ends[0].seam, ends[1].seam
                ),
            }
        })
    }
}

/// The seam of a piece by its own name or by that of the join it is sewn in: the
/// side, the side seam, the centre back.
///
/// # Errors
/// [`PatternError::NoSeam`] with the seams there are.
pub fn seam_called<'a>(
    pattern: &'a Pattern,
    piece: &'a Piece,
    words: &str,
) -> Result<&'a str, PatternError> {
    let words = words.trim();
    let words = words.strip_prefix("the ").unwrap_or(words);
    match piece.seam(words) {
        Ok(seam) => Ok(&seam.name),
        Err(none) => {
            let called = |j: &&hangtrue_pattern::Join| {
                j.name == words || pattern.join_before_parting(j) == Some(words)
            };
            let joins = pattern.joins.iter().filter(called);
            let mut sides = joins.filter_map(|j| j.side_on(&piece.name));
            sides.next().map(|s| s.seam.as_str()).ok_or(none)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use hangtrue_pattern::Leg;
    use hangtrue_pattern::names::*;

    fn measured(pins: &[MeasuredPin], counted: Counted) -> Result<Pinch, ChangeError> {
        let path = PinchPath::Line(THIGH.into());
        Pinch::as_measured("seat", BACK, path, pins, counted, &sample::pattern())
    }

    fn pin(place: MeasuredPlace, amount: f64) -> MeasuredPin {
        MeasuredPin { place, amount }
    }

    fn from(seam: &str, distance: f64) -> MeasuredPlace {
        MeasuredPlace::From(seam.into(), distance)
    }

    fn length() -> f64 {
        sample::pattern().place_line(BACK, THIGH).unwrap().chain.length()
    }

    #[test]
    fn a_place_is_the_same_however_it_is_measured() {
        let length = length();
        let places = [
            from(INSEAM, 0.3 * length),
            from("the inseam", 0.3 * length),
            from("side seam", 0.7 * length),
            MeasuredPlace::Share(0.3, Some(INSEAM.into())),
            MeasuredPlace::Share(0.7, Some("side seam".into())),
            MeasuredPlace::FromBoth([(SIDE.into(), 0.7 * length), (INSEAM.into(), 0.3 * length)]),
        ];
        for place in places {
            let words = format!("{place:?}");
            let laid = measured(&[pin(place, 6.0)], Counted::Whole).unwrap();
            let laid = laid.lay(&sample::pattern()).unwrap();
            let seam = |i: usize| laid.ends[i].seam.as_str();
            let from_inseam =
                if seam(0) == INSEAM { laid.stations[1].0 } else { length - laid.stations[1].0 };
            assert!((from_inseam - 0.3 * length).abs() < 1e-9, "{words}");
        }
    }

    #[test]
    fn a_fold_takes_twice_its_depth() {
        let pins = [pin(MeasuredPlace::Share(0.5, None), 4.75)];
        assert_eq!(measured(&pins, Counted::FoldDepth).unwrap().stations[0].amount, 9.5);
        assert_eq!(measured(&pins, Counted::Whole).unwrap().stations[0].amount, 4.75);
    }

    #[test]
    fn a_tape_read_a_little_off_is_spread_and_one_read_wrong_is_refused() {
        let length = length();
        let both = |off: f64| {
            let place = MeasuredPlace::FromBoth([
                (SIDE.into(), 0.5 * length + off),
                (INSEAM.into(), 0.5 * length + off),
            ]);
            measured(&[pin(place, 6.0)], Counted::Whole)
        };
        let StationPlace::From(_, at) = both(2.0).unwrap().stations[0].at else { panic!() };
        assert!((at - 0.5 * length).abs() < 1e-9);
        let refused = both(20.0).unwrap_err();
        assert!(matches!(refused, ChangeError::TapesDisagree { .. }), "{refused}");
        let twice = MeasuredPlace::FromBoth([(SIDE.into(), length), (SIDE.into(), 0.0)]);
        assert!(measured(&[pin(twice, 6.0)], Counted::Whole).is_err());
    }

    #[test]
    fn between_two_pins_the_amount_stays_between_theirs() {
        let amounts = [3.0, 9.5, 9.5, 4.0];
        let pins: Vec<MeasuredPin> = amounts
            .iter()
            .enumerate()
            .map(|(i, a)| pin(MeasuredPlace::Share(0.2 * (i as f64 + 1.0), None), *a))
            .collect();
        let laid = measured(&pins, Counted::Whole).unwrap().lay(&sample::pattern()).unwrap();
        let profile = laid.profile().unwrap();
        for w in laid.stations.windows(2) {
            let (low, high) = (w[0].1.min(w[1].1), w[0].1.max(w[1].1));
            for i in 0..=20 {
                let amount = profile.at(w[0].0 + (w[1].0 - w[0].0) * f64::from(i) / 20.0);
                assert!((low - 1e-9..=high + 1e-9).contains(&amount), "{low} {amount} {high}");
            }
        }
    }

    #[test]
    fn a_seam_the_line_does_not_meet_and_one_that_is_not_there_are_told_apart() {
        let far = measured(&[pin(from(WAIST, 10.0), 5.0)], Counted::Whole).unwrap_err();
        assert!(matches!(far, ChangeError::StationOffPath { .. }), "{far}");
        let none = measured(&[pin(from("armhole", 10.0), 5.0)], Counted::Whole).unwrap_err();
        assert!(matches!(none, ChangeError::Pattern(PatternError::NoSeam { .. })), "{none}");
    }

    #[test]
    fn the_same_measures_lie_at_the_same_seams_on_both_legs() {
        let apart = sample::pattern().apart().unwrap();
        let pins = [pin(MeasuredPlace::Share(0.3, None), 3.0), pin(from("side seam", 90.0), 5.0)];
        let laid = Leg::BOTH.map(|leg| {
            let piece = format!("back {}", leg.word());
            let path = PinchPath::Line(THIGH.into());
            let pinch =
                Pinch::as_measured("seat", &piece, path, &pins, Counted::Whole, &apart).unwrap();
            pinch.lay(&apart).unwrap()
        });
        for (a, b) in laid[0].stations.iter().zip(&laid[1].stations) {
            assert!((a.0 - b.0).abs() < 1e-9 && a.1 == b.1);
        }
        assert_eq!(laid[0].ends[0].seam, laid[1].ends[0].seam);
    }
}
