//! A pinch: cloth pinned out (or let out) along a path across a piece.

use crate::ChangeError;
use hangtrue_geometry::{Chain, Point, Profile, Vec2};
use hangtrue_pattern::words::Length;
use hangtrue_pattern::{LineEnd, Pattern, PatternError, SeamPlace};
use serde::{Deserialize, Serialize};

/// The caution where someone is about to pin on a body (common practice, no published
/// source).
pub const PINS_ON_A_BODY: &str = "Safety pins when the wearer sits or bends, points away from the body, none held in the mouth. Count them in, and out before the toile comes off. Ask before you pin at crotch or inseam, and say so before you reach across the wearer.";

/// Where along its path a station lies.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum StationPlace {
    /// A share of the path from its start, 0 to 1.
    Share(f64),
    /// So far along the path from the seam of that name, mm: as a tape measures
    /// it on the cloth.
    From(String, f64),
}

/// An amount pinned at a place of the path.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Station {
    /// The place.
    pub at: StationPlace,
    /// Cloth taken, square to the path, both sides of the fold together, mm;
    /// negative is let out.
    pub amount: f64,
}

/// The path of a pinch.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum PinchPath {
    /// Along a reference line of the piece.
    Line(String),
    /// Straight between two places on seams.
    Across {
        /// Where it starts.
        from: SeamPlace,
        /// Where it ends.
        to: SeamPlace,
    },
}

/// Cloth pinned out along a path across a piece. Where the path meets a seam
/// without a station, the pinch has run out: the amount there is 0.
///
/// ```
/// use hangtrue_adjust::{Change, MarkLine, Pinch, UsualDepths, usual_lines};
/// use hangtrue_pattern::{Measure, Measures, Plan, draft, names};
///
/// // A body of our own invention, mm.
/// let mut body = Measures::new();
/// for (measure, mm) in [
///     (Measure::WaistGirth, 740.0),
///     (Measure::HipGirth, 990.0),
///     (Measure::WaistHeight, 1040.0),
///     (Measure::InsideLegHeight, 775.0),
///     (Measure::CrotchLength, 690.0),
/// ] {
///     body.set(measure, mm);
/// }
/// let mut pattern = draft(&body, &Plan::default())?.pattern;
/// for line in usual_lines(&pattern, UsualDepths::default())? {
///     pattern = Change::MarkLine(MarkLine { line }).apply(&pattern)?.pattern;
/// }
/// // 12 mm pinned in the middle of the back's thigh line, nothing at the seams.
/// let pinch = Pinch::in_the_middle("seat pinch", names::BACK, names::THIGH, 12.0);
/// let laid = pinch.lay(&pattern)?;
/// let (_, most) = laid.largest();
/// assert_eq!(most, 12.0);
/// let (first, last) = (laid.stations[0], laid.stations[laid.stations.len() - 1]);
/// assert_eq!((first.1, last.1), (0.0, 0.0));
/// assert!((last.0 - laid.path.length()).abs() < 1e-6);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pinch {
    /// Name the maker knows it by.
    pub name: String,
    /// The piece it was pinned on.
    pub piece: String,
    /// Where it runs.
    pub path: PinchPath,
    /// The amounts as measured.
    pub stations: Vec<Station>,
}

/// A pinch laid on the piece as it is now.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidPinch {
    /// The path, from seam to seam.
    pub path: Chain,
    /// Where the path starts and ends on the outline.
    pub ends: [LineEnd; 2],
    /// `(position along the path, amount)`, mm, both ends included.
    pub stations: Vec<(f64, f64)>,
}

/// A pinch may fold the cloth by no more than this between two stations, as a
/// slope of amount over distance: 0.4 is about 22°. Steeper folds cannot be
/// pinned flat (common practice, no published source).
pub const STEEPEST: f64 = 0.4;

/// Two stations closer than this are the same, mm.
const SAME_STATION: f64 = 0.5;

impl Pinch {
    /// Whether it lets cloth out, by its largest amount.
    pub fn lets_out(&self) -> bool {
        let most = |a: f64, b: &Station| if b.amount.abs() > a.abs() { b.amount } else { a };
        self.stations.iter().fold(0.0, most) < 0.0
    }

    /// Lays the pinch on its piece.
    ///
    /// # Errors
    /// [`ChangeError`] when it has no amount, its path does not run from seam to
    /// seam inside the piece, stations are out of order, or it is too steep.
    pub fn lay(&self, pattern: &Pattern) -> Result<LaidPinch, ChangeError> {
        let (path, ends) = self.lay_path(pattern)?;
        let stations = self.lay_stations(&path, &ends)?;
        if stations.iter().all(|s| s.1 == 0.0) {
            return Err(ChangeError::EmptyPinch { pinch: self.name.clone() });
        }
        self.check_steepness(&stations)?;
        Ok(LaidPinch { path, ends, stations })
    }

    pub(crate) fn lay_path(&self, pattern: &Pattern) -> Result<(Chain, [LineEnd; 2]), ChangeError> {
        let piece = pattern.piece(&self.piece)?;
        let leaves = |why: &str| ChangeError::PathLeavesPiece {
            pinch: self.name.clone(),
            piece: self.piece.clone(),
            why: why.to_owned(),
        };
        let (chain, ends) = match &self.path {
            PinchPath::Line(name) => {
                let line = pattern.place_line(&self.piece, name)?;
                (line.chain, line.ends)
            }
            PinchPath::Across { from, to } => {
                let mut ends = Vec::new();
                for place in [from, to] {
                    let seam = piece.seam(&place.seam)?;
                    let length = seam.sewn_length();
                    if !(0.0..=length).contains(&place.distance) {
                        return Err(ChangeError::Pattern(PatternError::PastSeamEnd {
                            piece: self.piece.clone(),
                            seam: place.seam.clone(),
                            asked: Length(place.distance),
                            length: Length(length),
                        }));
                    }
                    let found = seam.place(place.from, place.distance);
                    ends.push(LineEnd {
                        seam: place.seam.clone(),
                        position: found.position,
                        point: found.point,
                    });
                }
                (Chain::line(ends[0].point, ends[1].point), ends)
            }
        };
        let [a, b] = <[LineEnd; 2]>::try_from(ends)
            .map_err(|_| leaves("its path does not meet the outline at both ends"))?;
        if a.seam == b.seam {
            return Err(leaves("both its ends lie on the same seam"));
        }
        let length = chain.length();
        let inside = |share: f64| piece.contains(chain.point_at(share * length));
        if ![0.02, 0.25, 0.5, 0.75, 0.98].into_iter().all(inside) {
            return Err(leaves("part of its path lies outside the outline"));
        }
        Ok((chain, [a, b]))
    }

    fn lay_stations(
        &self,
        path: &Chain,
        ends: &[LineEnd; 2],
    ) -> Result<Vec<(f64, f64)>, ChangeError> {
        let length = path.length();
        let off = |asked: f64, why: &str| ChangeError::StationOffPath {
            pinch: self.name.clone(),
            asked: Length(asked),
            length: Length(length),
            why: why.to_owned(),
        };
        let mut stations = Vec::with_capacity(self.stations.len() + 2);
        for station in &self.stations {
            let at = match &station.at {
                StationPlace::Share(share) => share * length,
                StationPlace::From(seam, distance) if *seam == ends[0].seam => *distance,
                StationPlace::From(seam, distance) if *seam == ends[1].seam => length - distance,
                StationPlace::From(seam, distance) => {
                    let why = format!(
                        "measured from the {seam}, which the path does not meet; it runs from the {} to the {}",
                        ends[0].seam, ends[1].seam
                    );
                    return Err(off(*distance, &why));
                }
            };
            if !(at.is_finite() && station.amount.is_finite()) {
                return Err(off(at, "not a number"));
            }
            if !(-SAME_STATION..=length + SAME_STATION).contains(&at) {
                return Err(off(at, "outside it"));
            }
            stations.push((at.clamp(0.0, length), station.amount));
        }
        stations.sort_by(|a, b| a.0.total_cmp(&b.0));
        if let Some(w) = stations.windows(2).find(|w| w[1].0 - w[0].0 < SAME_STATION) {
            return Err(off(w[1].0, "given twice"));
        }
        let Some((&first, &last)) = stations.first().zip(stations.last()) else {
            return Err(ChangeError::EmptyPinch { pinch: self.name.clone() });
        };
        if first.0 > SAME_STATION {
            stations.insert(0, (0.0, 0.0));
        } else {
            stations[0].0 = 0.0;
        }
        if last.0 < length - SAME_STATION {
            stations.push((length, 0.0));
        } else if let Some(end) = stations.last_mut() {
            end.0 = length;
        }
        Ok(stations)
    }

    fn check_steepness(&self, stations: &[(f64, f64)]) -> Result<(), ChangeError> {
        for w in stations.windows(2) {
            let distance = w[1].0 - w[0].0;
            let rise = (w[1].1 - w[0].1).abs();
            if rise / distance > STEEPEST {
                return Err(ChangeError::AmountTooLarge {
                    pinch: self.name.clone(),
                    amount: Length(rise),
                    distance: Length(distance),
                    angle: 2.0 * (rise / (2.0 * distance)).atan().to_degrees(),
                    most: Length(STEEPEST * distance),
                });
            }
        }
        Ok(())
    }

    /// A pinch of one amount in the middle of a reference line, running out at
    /// both seams.
    pub fn in_the_middle(name: &str, piece: &str, line: &str, amount: f64) -> Self {
        Self {
            name: name.to_owned(),
            piece: piece.to_owned(),
            path: PinchPath::Line(line.to_owned()),
            stations: vec![Station { at: StationPlace::Share(0.5), amount }],
        }
    }
}

impl LaidPinch {
    /// The smooth amount between the stations: what the pins hold.
    ///
    /// # Errors
    /// [`ChangeError::Geometry`] never for a laid pinch; kept typed all the same.
    pub fn profile(&self) -> Result<Profile, ChangeError> {
        Profile::new(&self.stations).map_err(ChangeError::geometry("laying the pinch"))
    }

    /// The station with the largest amount either way: its index and amount, mm.
    pub fn largest(&self) -> (usize, f64) {
        let mut best = (0, 0.0f64);
        for (index, &(_, amount)) in self.stations.iter().enumerate() {
            if amount.abs() > best.1.abs() {
                best = (index, amount);
            }
        }
        best
    }

    /// The station as a point on the path.
    pub fn station_point(&self, index: usize) -> Point {
        self.path.point_at(self.stations[index].0)
    }

    /// The two edges of the fold at each station: half the amount to the left
    /// and half to the right of the path, square to it. `share` scales the
    /// amounts.
    pub fn fold_edges(&self, share: f64) -> (Vec<Point>, Vec<Point>) {
        let square = |s: f64| {
            let d = self.path.direction_at(s);
            Vec2::new(-d.y, d.x)
        };
        let edge = |side: f64| {
            let at =
                |&(s, w): &(f64, f64)| self.path.point_at(s) + square(s) * (side * 0.5 * share * w);
            self.stations.iter().map(at).collect()
        };
        (edge(1.0), edge(-1.0))
    }

    /// The angle that is too much at each inner station, radians: what the two
    /// folds beside it take there together. Positive must be lapped out by a
    /// second cut, negative opened.
    ///
    /// Half of the amount w lies on each side of the path, so over a distance d
    /// a change of amount Δw folds by 2·atan(Δw / 2d); for small amounts that is
    /// Δ(dw/ds), and for w = 10 mm in the middle of 280 mm it differs from
    /// atan(w/d) taken all on one side by 0.01°.
    pub fn excess_angles(&self, share: f64) -> Vec<f64> {
        let fold = |w: &[(f64, f64)]| {
            let d = w[1].0 - w[0].0;
            2.0 * (share * (w[1].1 - w[0].1) / (2.0 * d)).atan()
        };
        self.stations.windows(3).map(|w| fold(&w[..2]) - fold(&w[1..])).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use hangtrue_pattern::names::*;

    #[test]
    fn a_pinch_without_end_stations_runs_out_at_the_seams() {
        let pattern = sample::pattern();
        let laid = Pinch::in_the_middle("p", BACK, THIGH, 9.525).lay(&pattern).unwrap();
        assert_eq!(laid.stations.len(), 3);
        assert_eq!(laid.stations[0], (0.0, 0.0));
        assert_eq!(laid.stations[2].1, 0.0);
        assert_eq!(laid.largest(), (1, 9.525));
    }

    #[test]
    fn the_excess_angle_is_the_two_folds_together() {
        let pattern = sample::pattern();
        let laid = Pinch::in_the_middle("p", BACK, THIGH, 10.0).lay(&pattern).unwrap();
        let half = laid.path.length() / 2.0;
        let small_angle = 2.0 * (10.0 / half).atan();
        let exact = laid.excess_angles(1.0)[0];
        assert!((exact - 4.0 * (5.0 / half).atan()).abs() < 1e-12);
        assert!((exact - small_angle).abs().to_degrees() < 0.02);
    }

    #[test]
    fn refusals_say_why() {
        let pattern = sample::pattern();
        let steep = Pinch::in_the_middle("p", BACK, THIGH, 90.0).lay(&pattern).unwrap_err();
        assert!(matches!(steep, ChangeError::AmountTooLarge { .. }));
        let empty = Pinch::in_the_middle("p", BACK, THIGH, 0.0).lay(&pattern).unwrap_err();
        assert!(matches!(empty, ChangeError::EmptyPinch { .. }));
        let mut far = Pinch::in_the_middle("p", BACK, THIGH, 5.0);
        far.stations[0].at = StationPlace::From(SIDE.into(), 900.0);
        assert!(matches!(far.lay(&pattern), Err(ChangeError::StationOffPath { .. })));
        let mut other = Pinch::in_the_middle("p", BACK, THIGH, 5.0);
        other.stations[0].at = StationPlace::From(WAIST.into(), 10.0);
        assert!(other.lay(&pattern).unwrap_err().to_string().contains("does not meet"));
        let mut nan = Pinch::in_the_middle("p", BACK, THIGH, 5.0);
        nan.stations[0].amount = f64::NAN;
        assert!(nan.lay(&pattern).is_err());
    }

    #[test]
    fn a_station_is_found_from_either_seam() {
        let pattern = sample::pattern();
        let mut a = Pinch::in_the_middle("p", BACK, THIGH, 5.0);
        a.stations[0].at = StationPlace::From(SIDE.into(), 100.0);
        let laid = a.lay(&pattern).unwrap();
        assert!((laid.stations[1].0 - (laid.path.length() - 100.0)).abs() < 1e-9);
    }
}
