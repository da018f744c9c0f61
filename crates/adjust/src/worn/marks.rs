//! What a maker has marked on a photo so far. Half-done marking is kept as well, so
//! everything may be missing.

use super::{Horizon, KnownLength, LegSeen, Level, View, WornError, length_along_grain};
use hangtrue_geometry::Point;
use hangtrue_pattern::{Leg, Pattern, names};
use serde::{Deserialize, Serialize};

/// The marks on a photo. Places in pixels of the kept photo from its upper left
/// corner, y down; lengths in mm.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct PhotoMarks {
    /// What tells level.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub level: Option<LevelBy>,
    /// The places of the level mark, two when it is whole.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub level_at: Vec<Point>,
    /// Height of the lens above the floor, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lens_height: Option<f64>,
    /// A place on the floor under the middle of the body.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub heels: Option<Point>,
    /// The camera is believed to have looked straight ahead; heels and lens height
    /// are not needed then, and the reading is less sure.
    #[serde(skip_serializing_if = "crate::usual::is_usual")]
    pub straight_ahead: bool,
    /// From the lens to the middle of the body, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub distance: Option<f64>,
    /// What tells the scale; proposed from the lines when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub known: Option<KnownMark>,
    /// The lines, as clicked.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub lines: Vec<LineMark>,
}

/// What the level is told by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LevelBy {
    /// A plumb line or the side of a door frame.
    Plumb,
    /// A level floor edge or skirting, square to the view.
    Floor,
    /// The camera's own level, which is unsure.
    Camera,
}

/// Two lines and where the grain crosses them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KnownMark {
    /// The upper line.
    pub upper: (String, LegSeen),
    /// Where the grain crosses it.
    pub upper_at: Point,
    /// The lower line.
    pub lower: (String, LegSeen),
    /// Where the grain crosses it.
    pub lower_at: Point,
    /// The length between them, mm; taken from the pattern when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Option<f64>,
}

/// A line clicked along.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LineMark {
    /// The line's name in the pattern.
    pub name: String,
    /// The leg, or both.
    pub leg: LegSeen,
    /// Clicks from edge to edge: from the inseam to the side on one leg, from the
    /// left of the photo to its right over both.
    pub points: Vec<Point>,
    /// Round the body there, mm; taken from the pattern when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub girth: Option<f64>,
}

/// A mark without which a photo cannot be read, and what to do about it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum MarkMissing {
    /// From which side.
    #[error("it is not said which side of the wearer is seen; choose the left or the right side")]
    WhichSide,
    /// No level at all.
    #[error(
        "the level is not set; click the upper and the lower end of a plumb line or door frame, or two places on a level floor edge, or believe the camera"
    )]
    Level,
    /// Half a level.
    #[error("the level has one place only; click its second one")]
    SecondOfLevel,
    /// How far the camera stood.
    #[error("the distance from the lens to the body is not said; pace it or tape it and write it")]
    Distance,
    /// How high the lens was.
    #[error(
        "the height of the lens above the floor is not said; write it, or believe that the camera looked straight ahead"
    )]
    LensHeight,
    /// Where the heels stand.
    #[error(
        "the heels are not marked; click where they stand on the floor, or believe that the camera looked straight ahead"
    )]
    Heels,
    /// No line.
    #[error("no line is traced; choose a line and click along it from edge to edge")]
    Line,
    /// Only one line that the grain crosses.
    #[error(
        "one line alone tells no scale; trace a second one, so that the length between them along the grain is known"
    )]
    SecondLine,
}

/// Fewer places than this make no line.
pub const FEWEST_PLACES: usize = 3;

impl LineMark {
    /// Whether it has places enough to be read.
    pub fn is_whole(&self) -> bool {
        self.points.len() >= FEWEST_PLACES
    }

    /// Puts a place in where it belongs along the line: places go one way across.
    pub fn put_in(&mut self, place: Point) {
        let rightwards = match (self.points.first(), self.points.last()) {
            (Some(first), Some(last)) if self.points.len() > 1 => last.x > first.x,
            (Some(only), _) => place.x > only.x,
            _ => true,
        };
        let before = |p: &Point| if rightwards { p.x < place.x } else { p.x > place.x };
        let at = self.points.partition_point(before);
        self.points.insert(at, place);
    }

    /// Turns the places so that they run from the inseam to the side on one leg,
    /// from the photo's left to its right over both or from the side. From behind,
    /// the wearer's left is at the photo's left.
    pub fn put_in_order(&mut self, view: View) {
        self.points.sort_by(|a, b| a.x.total_cmp(&b.x));
        let side_at_left =
            matches!((view, self.leg), (View::Back, LegSeen::Left) | (View::Front, LegSeen::Right));
        if side_at_left {
            self.points.reverse();
        }
    }

    /// The height of the straights between the clicks at a place across; the ends
    /// run on level.
    fn height_at(&self, x: f64) -> Option<f64> {
        let between = |p: &[Point]| (x - p[0].x) * (x - p[1].x) <= 0.0;
        if let Some(pair) = self.points.windows(2).find(|p| between(p)) {
            let t = (x - pair[0].x) / (pair[1].x - pair[0].x);
            return Some(pair[0].y + if t.is_finite() { t * (pair[1].y - pair[0].y) } else { 0.0 });
        }
        let (first, last) = (self.points.first()?, self.points.last()?);
        Some(if (x - first.x).abs() < (x - last.x).abs() { first.y } else { last.y })
    }

    fn middle_across(&self) -> Option<f64> {
        Some((self.points.first()?.x + self.points.last()?.x) / 2.0)
    }
}

impl PhotoMarks {
    /// Whether nothing is marked.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// A line by name and leg.
    pub fn line(&self, name: &str, leg: LegSeen) -> Option<&LineMark> {
        self.lines.iter().find(|l| l.name == name && l.leg == leg)
    }

    /// The same, to be changed; begun when it is not there.
    pub fn line_mut(&mut self, name: &str, leg: LegSeen) -> &mut LineMark {
        let at = self.lines.iter().position(|l| l.name == name && l.leg == leg);
        let at = at.unwrap_or_else(|| {
            self.lines.push(LineMark {
                name: name.to_owned(),
                leg,
                points: Vec::new(),
                girth: None,
            });
            self.lines.len() - 1
        });
        &mut self.lines[at]
    }

    /// The level, when it is whole.
    ///
    /// # Errors
    /// [`MarkMissing::Level`], [`MarkMissing::SecondOfLevel`].
    pub fn whole_level(&self) -> Result<Level, MarkMissing> {
        match (self.level, self.level_at.as_slice()) {
            (None, _) | (Some(LevelBy::Plumb | LevelBy::Floor), []) => Err(MarkMissing::Level),
            (Some(LevelBy::Camera), _) => Ok(Level::Camera),
            (_, [_]) => Err(MarkMissing::SecondOfLevel),
            (Some(LevelBy::Plumb), [a, b, ..]) => Ok(Level::Plumb(*a, *b)),
            (Some(LevelBy::Floor), [a, b, ..]) => Ok(Level::Floor(*a, *b)),
        }
    }

    /// What tells how high the lens looks, when it is said.
    ///
    /// # Errors
    /// [`MarkMissing::LensHeight`], [`MarkMissing::Heels`].
    pub fn whole_horizon(&self) -> Result<Horizon, MarkMissing> {
        if self.straight_ahead {
            return Ok(Horizon::Middle);
        }
        let lens_height = self.lens_height.ok_or(MarkMissing::LensHeight)?;
        let heels = self.heels.ok_or(MarkMissing::Heels)?;
        Ok(Horizon::Floor { lens_height, heels })
    }

    /// The known length as marked, or else as proposed: between the two lines of
    /// one leg that lie furthest apart along the grain, each at the middle of its
    /// clicks, where the grain is taken to run.
    ///
    /// # Errors
    /// [`MarkMissing::Line`], [`MarkMissing::SecondLine`].
    pub fn known_or_proposed(
        &self,
        view: View,
        pattern: &Pattern,
    ) -> Result<KnownMark, MarkMissing> {
        if let Some(known) = &self.known {
            return Ok(known.clone());
        }
        let whole: Vec<&LineMark> = self.lines.iter().filter(|l| l.is_whole()).collect();
        if whole.is_empty() {
            return Err(MarkMissing::Line);
        }
        let pairs = whole.iter().flat_map(|upper| whole.iter().map(move |lower| (*upper, *lower)));
        let proposed = pairs.filter_map(|(upper, lower)| {
            let known = proposed_between(upper, lower)?;
            let one_leg = upper.leg == lower.leg && upper.leg != LegSeen::Both;
            let apart = known.clone().with_length(view, pattern).ok()?.length;
            (apart > 0.0).then_some(((one_leg, apart), known))
        });
        let best = proposed.max_by(|a, b| a.0.0.cmp(&b.0.0).then(a.0.1.total_cmp(&b.0.1)));
        best.map(|(_, known)| known).ok_or(MarkMissing::SecondLine)
    }

    /// Everything moves with the picture when so many rows are cut off above.
    pub fn move_up(&mut self, rows: f64) {
        let places = self.level_at.iter_mut().chain(self.heels.as_mut());
        let known = self.known.iter_mut().flat_map(|k| [&mut k.upper_at, &mut k.lower_at]);
        let lines = self.lines.iter_mut().flat_map(|l| l.points.iter_mut());
        for place in places.chain(known).chain(lines) {
            place.y -= rows;
        }
    }
}

/// The length between two lines where they are whole and lie under each other; over
/// both legs the place is taken under or over that of the single leg.
fn proposed_between(upper: &LineMark, lower: &LineMark) -> Option<KnownMark> {
    let legs_fit =
        upper.leg == lower.leg || upper.leg == LegSeen::Both || lower.leg == LegSeen::Both;
    let x_of = |line: &LineMark, other: &LineMark| {
        let own =
            if line.leg == LegSeen::Both && other.leg != LegSeen::Both { other } else { line };
        own.middle_across()
    };
    let at = |line: &LineMark, x: f64| line.height_at(x).map(|y| Point::new(x, y));
    let upper_at = at(upper, x_of(upper, lower)?)?;
    let lower_at = at(lower, x_of(lower, upper)?)?;
    (legs_fit && upper_at.y < lower_at.y).then(|| KnownMark {
        upper: (upper.name.clone(), upper.leg),
        upper_at,
        lower: (lower.name.clone(), lower.leg),
        lower_at,
        length: None,
    })
}

/// The piece whose grain is seen.
fn grain_piece(view: View, leg: LegSeen, pattern: &Pattern) -> &str {
    let piece = if view == View::Front { names::FRONT } else { names::BACK };
    let leg = if leg == LegSeen::Right { Leg::Right } else { Leg::Left };
    pattern.piece_for(leg, piece).unwrap_or(piece)
}

impl KnownMark {
    /// With its length, from the pattern where none is said.
    ///
    /// # Errors
    /// [`WornError::NotInPattern`].
    pub fn with_length(self, view: View, pattern: &Pattern) -> Result<KnownLength, WornError> {
        // A line over both legs says nothing of the leg.
        let leg = if self.upper.1 == LegSeen::Both { self.lower.1 } else { self.upper.1 };
        let piece = grain_piece(view, leg, pattern);
        let length = match self.length {
            Some(length) => length,
            None => length_along_grain(pattern, piece, &self.upper.0, &self.lower.0)?,
        };
        Ok(KnownLength {
            upper: self.upper,
            upper_at: self.upper_at,
            lower: self.lower,
            lower_at: self.lower_at,
            length,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{UsualDepths, sample, usual_lines};
    use hangtrue_pattern::{Place, Rule, rule};

    fn marked() -> Pattern {
        let mut pattern = sample::pattern();
        pattern.lines = usual_lines(&pattern, UsualDepths::default()).unwrap().into();
        let thigh = pattern.lines.iter().find(|l| l.name == names::THIGH && l.piece == names::BACK);
        let mut knee = thigh.unwrap().clone();
        knee.name = names::KNEE.into();
        let place = Place::Corner(names::CROTCH_POINT.into());
        knee.rule = Rule::Below(rule::Below { place, drop: 330.0 });
        pattern.lines.push(knee);
        pattern
    }

    fn line(name: &str, leg: LegSeen, y: f64) -> LineMark {
        let points = [500.0, 440.0, 380.0].map(|x| Point::new(x, y)).to_vec();
        LineMark { name: name.into(), leg, points, girth: None }
    }

    #[test]
    fn what_is_missing_is_said_one_after_the_other() {
        let pattern = marked();
        let mut marks = PhotoMarks::default();
        assert!(marks.is_empty());
        assert_eq!(marks.whole_level(), Err(MarkMissing::Level));
        marks.level = Some(LevelBy::Plumb);
        marks.level_at.push(Point::new(10.0, 10.0));
        assert_eq!(marks.whole_level(), Err(MarkMissing::SecondOfLevel));
        marks.level_at.push(Point::new(10.0, 900.0));
        assert!(marks.whole_level().is_ok());
        assert_eq!(marks.whole_horizon(), Err(MarkMissing::LensHeight));
        marks.lens_height = Some(1000.0);
        assert_eq!(marks.whole_horizon(), Err(MarkMissing::Heels));
        marks.straight_ahead = true;
        assert_eq!(marks.whole_horizon(), Ok(Horizon::Middle));
        let known = |marks: &PhotoMarks| marks.known_or_proposed(View::Back, &pattern);
        assert_eq!(known(&marks), Err(MarkMissing::Line));
        marks.lines.push(line("thigh", LegSeen::Left, 400.0));
        assert_eq!(known(&marks), Err(MarkMissing::SecondLine));
        marks.lines.push(line("knee", LegSeen::Right, 700.0));
        assert_eq!(known(&marks), Err(MarkMissing::SecondLine), "legs differ");
        marks.lines.push(line("knee", LegSeen::Left, 700.0));
        marks.lines.push(line("hip balance", LegSeen::Both, 300.0));
        let found = known(&marks).unwrap();
        assert_eq!((&*found.upper.0, &*found.lower.0), ("thigh", "knee"), "one leg comes first");
        assert_eq!(found.upper_at, Point::new(440.0, 400.0));
        assert!(found.with_length(View::Back, &pattern).unwrap().length > 100.0);
        let text = crate::ron_text::written(&marks).unwrap();
        assert_eq!(crate::ron_text::read::<PhotoMarks>(&text).unwrap(), marks);
        assert_eq!(crate::ron_text::read::<PhotoMarks>("()").unwrap(), PhotoMarks::default());
    }

    #[test]
    fn places_go_one_way_and_from_the_inseam_to_the_side() {
        let mut mark = line("thigh", LegSeen::Left, 400.0);
        mark.points.clear();
        for x in [420.0, 500.0, 380.0, 450.0] {
            mark.put_in(Point::new(x, 400.0));
        }
        let across = |m: &LineMark| m.points.iter().map(|p| p.x).collect::<Vec<_>>();
        assert_eq!(across(&mark), [380.0, 420.0, 450.0, 500.0]);
        mark.put_in_order(View::Back);
        assert_eq!(across(&mark), [500.0, 450.0, 420.0, 380.0]);
        mark.put_in(Point::new(430.0, 400.0));
        assert_eq!(across(&mark), [500.0, 450.0, 430.0, 420.0, 380.0]);
        mark.put_in_order(View::Front);
        assert_eq!(mark.points[0].x, 380.0);
        let mut marks = PhotoMarks { lines: vec![mark], ..PhotoMarks::default() };
        marks.heels = Some(Point::new(1.0, 900.0));
        marks.move_up(100.0);
        assert_eq!((marks.heels.unwrap().y, marks.lines[0].points[0].y), (800.0, 300.0));
    }
}
