//! What is drawn and written on a piece, in mm, with no pen and no page. The screen, paper,
//! drawings sent out and small pictures are all drawn from this, so that none can show what
//! another does not.

use crate::{Dart, Fold, NotchKind, Pattern, PatternError, Piece, PlacedLine, Seam};
use hangtrue_geometry::{BezPath, Chain, Point, Vec2};

/// Between the two strokes of a double notch, mm.
const DOUBLE: f64 = 5.0;

/// The markings of one piece, mm in the frame of the piece.
///
/// ```
/// use hangtrue_pattern::{Markings, Measure, Measures, Plan, draft};
///
/// let measures: Measures = [
///     (Measure::WaistGirth, 760.0),
///     (Measure::HipGirth, 1000.0),
///     (Measure::WaistHeight, 1040.0),
///     (Measure::InsideLegHeight, 780.0),
///     (Measure::CrotchLength, 680.0),
/// ]
/// .into_iter()
/// .collect();
/// let pattern = draft(&measures, &Plan::default())?.pattern;
/// let (lines, _) = pattern.place_lines();
/// let back = Markings::of(&pattern, &pattern.pieces[0], &lines);
/// // Both darts, each from mouth to point to mouth with legs that are equal.
/// assert_eq!(back.darts.len(), 2);
/// let [first, apex, second] = back.darts[0].legs;
/// assert!((first.distance(apex) - second.distance(apex)).abs() < 1e-6);
/// // A double notch is two strokes.
/// assert!(back.notches.iter().any(|notch| notch.strokes.len() == 2));
/// assert!(back.faults.is_empty());
/// # Ok::<(), hangtrue_pattern::DraftError>(())
/// ```
#[derive(Debug, Clone)]
pub struct Markings<'a> {
    /// The piece: its grain and inner lines are drawn as they are.
    pub piece: &'a Piece,
    /// The darts.
    pub darts: Vec<DartMarking<'a>>,
    /// The notches that can be drawn.
    pub notches: Vec<NotchMarking<'a>>,
    /// The reference lines.
    pub lines: Vec<LineMarking<'a>>,
    /// The corners.
    pub corners: Vec<CornerMarking<'a>>,
    /// What cannot be drawn, in words.
    pub faults: Vec<String>,
}

/// A dart.
#[derive(Debug, Clone)]
pub struct DartMarking<'a> {
    /// Its name.
    pub name: &'a str,
    /// From mouth to point to mouth, mm.
    pub legs: [Point; 3],
    /// To which side the cloth is pressed.
    pub fold: Fold,
    /// The seam and the index of the dart in it.
    pub of: (&'a Seam, usize),
}

impl DartMarking<'_> {
    fn of<'a>(seam: &'a Seam, index: usize, dart: &'a Dart) -> DartMarking<'a> {
        let legs = [seam.parts[index].end(), dart.apex, seam.parts[index + 1].start()];
        DartMarking { name: &dart.name, legs, fold: dart.fold, of: (seam, index) }
    }

    /// The two legs as one line.
    pub fn path(&self) -> BezPath {
        let [first, apex, second] = self.legs;
        let mut path = BezPath::new();
        path.move_to(first);
        path.line_to(apex);
        path.line_to(second);
        path
    }

    /// The middle of the mouth: from the point to there the dart is folded.
    pub fn mouth(&self) -> Point {
        self.legs[0].midpoint(self.legs[2])
    }

    /// The edge of the folded dart.
    ///
    /// # Errors
    /// As [`Seam::cap`].
    pub fn cap(&self) -> Result<Chain, PatternError> {
        self.of.0.cap(self.of.1)
    }
}

/// A notch.
#[derive(Debug, Clone)]
pub struct NotchMarking<'a> {
    /// Its name.
    pub name: &'a str,
    /// The seam it lies on.
    pub seam: &'a Seam,
    /// Its middle on the sew line, with the unit direction into the piece.
    pub middle: (Point, Vec2),
    /// Where a stroke starts on the sew line, with the unit direction into the piece: one
    /// place, or two for a double notch.
    pub strokes: Vec<(Point, Vec2)>,
}

/// A reference line.
#[derive(Debug, Clone, Copy)]
pub struct LineMarking<'a> {
    /// Where it lies.
    pub placed: &'a PlacedLine,
    /// Whether it is traced to the cloth; else it stays on paper.
    pub to_cloth: bool,
}

impl LineMarking<'_> {
    /// Whether its rule could not be met.
    pub fn is_stale(&self) -> bool {
        self.placed.stale.is_some()
    }

    /// Its name with what must be known about it, where there is little room.
    pub fn short_words(&self) -> String {
        let stale = if self.is_stale() { " (stale)" } else { "" };
        let told = self.to_cloth || self.placed.name.contains("paper");
        format!("{}{stale}{}", self.placed.name, if told { "" } else { " (paper only)" })
    }

    /// The same in full, for who has only the sheet.
    pub fn words(&self) -> String {
        let kind = if self.to_cloth { " · to the cloth" } else { " · paper only" };
        let stale = if self.is_stale() { " · OLD PLACE, its rule cannot be met" } else { "" };
        format!("{}{kind}{stale}", self.placed.name)
    }
}

/// A corner.
#[derive(Debug, Clone, Copy)]
pub struct CornerMarking<'a> {
    /// Its name.
    pub name: &'a str,
    /// The place, mm.
    pub at: Point,
    /// The unit directions into the piece from the seam that arrives and the one that leaves.
    pub inward: (Vec2, Vec2),
}

/// What stands by the grainline.
pub const GRAIN_WORD: &str = "grain";

/// How many to cut of a piece that serves both legs.
pub const CUT_PAIR: &str = "cut 1 pair";

/// How many to cut of a piece for one leg; turned over it would be the other leg's.
pub const CUT_ONE: &str = "cut 1, this side up";

/// The same where there is little room.
pub const CUT_ONE_SHORT: &str = "cut 1";

impl<'a> Markings<'a> {
    /// The markings of a piece of the pattern; `placed` are its lines as
    /// [`Pattern::place_lines`] gives them, those of other pieces among them or not.
    pub fn of(pattern: &Pattern, piece: &'a Piece, placed: &'a [PlacedLine]) -> Self {
        let mut faults = Vec::new();
        let mut notches = Vec::with_capacity(piece.notches.len());
        for index in 0..piece.notches.len() {
            match notch_marking(piece, index) {
                Ok(notch) => notches.push(notch),
                Err(fault) => faults.push(fault),
            }
        }
        // A line that lies nowhere is not among the placed; its reason is passed on.
        for line in pattern.lines.iter().filter(|l| l.piece == piece.name && l.last.is_none()) {
            if let Err(why) = pattern.place_chain(&line.piece, &line.name) {
                faults.push(format!("“{}” of the {} is not drawn: {why}", line.name, piece.name));
            }
        }
        let own = placed.iter().filter(|line| line.piece == piece.name);
        let marking = |placed| LineMarking { placed, to_cloth: pattern.goes_to_cloth(placed) };
        Self {
            piece,
            darts: darts_of(piece).collect(),
            notches,
            lines: own.map(marking).collect(),
            corners: corners_of(piece).collect(),
            faults,
        }
    }
}

/// The darts of a piece.
pub fn darts_of(piece: &Piece) -> impl Iterator<Item = DartMarking<'_>> {
    piece.darts().map(|(seam, index, dart)| DartMarking::of(seam, index, dart))
}

/// The outline cut open along the legs of the darts, closed: what is left of the piece when
/// no dart is sewn.
pub fn outline_with_darts(piece: &Piece) -> BezPath {
    let mut path = BezPath::new();
    for seam in &piece.seams {
        for (index, part) in seam.parts.iter().enumerate() {
            if path.elements().is_empty() {
                path.move_to(part.start());
            } else {
                path.line_to(part.start());
            }
            part.append_to(&mut path);
            if let Some(dart) = seam.darts.get(index) {
                path.line_to(dart.apex);
            }
        }
    }
    path.close_path();
    path
}

/// The unit direction into the piece, square to the direction of travel along its edge.
pub fn inward_of(direction: Vec2, piece: &Piece) -> Vec2 {
    Vec2::new(-direction.y, direction.x) * piece.orientation()
}

fn notch_marking(piece: &Piece, index: usize) -> Result<NotchMarking<'_>, String> {
    let notch = &piece.notches[index];
    let seam = piece
        .seam(&notch.seam)
        .map_err(|_| format!("the notch “{}” lies on a seam that is not there", notch.name))?;
    let length = seam.sewn_length();
    if !(0.0..=length).contains(&notch.distance) {
        return Err(format!("the notch “{}” lies past the end of the {}", notch.name, seam.name));
    }
    let place = |off: f64| {
        let at = seam.place(notch.from, (notch.distance + off).clamp(0.0, length));
        (at.point, inward_of(at.direction, piece))
    };
    let strokes = match notch.kind {
        NotchKind::Single => vec![place(0.0)],
        NotchKind::Double => vec![place(-DOUBLE / 2.0), place(DOUBLE / 2.0)],
    };
    Ok(NotchMarking { name: &notch.name, seam, middle: place(0.0), strokes })
}

fn corners_of(piece: &Piece) -> impl Iterator<Item = CornerMarking<'_>> {
    piece.seams.iter().enumerate().map(|(index, seam)| {
        let before = &piece.seams[(index + piece.seams.len() - 1) % piece.seams.len()];
        let arriving = before.parts[before.parts.len() - 1].end_direction();
        let leaving = seam.parts[0].start_direction();
        let inward = (inward_of(arriving, piece), inward_of(leaving, piece));
        CornerMarking { name: &seam.starts_at, at: seam.start(), inward }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measures::{Measure, Measures};
    use crate::{Notch, Plan, draft};

    fn block() -> Pattern {
        let measures: Measures = [
            (Measure::WaistGirth, 760.0),
            (Measure::HipGirth, 1000.0),
            (Measure::WaistHeight, 1040.0),
            (Measure::InsideLegHeight, 780.0),
            (Measure::CrotchLength, 680.0),
        ]
        .into_iter()
        .collect();
        draft(&measures, &Plan::default()).unwrap().pattern
    }

    /// Every dart, notch, line and corner is there once, and into the piece is into it.
    #[test]
    fn nothing_of_a_piece_is_left_out() {
        let pattern = block();
        let (placed, _) = pattern.place_lines();
        for piece in &pattern.pieces {
            let markings = Markings::of(&pattern, piece, &placed);
            assert_eq!(markings.darts.len(), piece.darts().count());
            assert_eq!(markings.notches.len(), piece.notches.len());
            assert_eq!(markings.corners.len(), piece.seams.len());
            let own = pattern.lines.iter().filter(|l| l.piece == piece.name).count();
            assert_eq!(markings.lines.len(), own);
            assert!(markings.faults.is_empty(), "{:?}", markings.faults);
            for notch in &markings.notches {
                for (at, inward) in notch.strokes.iter().chain([&notch.middle]) {
                    assert!(piece.contains(*at + *inward * 0.5), "{}", notch.name);
                }
            }
            // Open along the darts it has lost the triangles between the legs.
            let lost: f64 = markings
                .darts
                .iter()
                .map(|d| ((d.legs[0] - d.legs[1]).cross(d.legs[2] - d.legs[1]) / 2.0).abs())
                .sum();
            let open = Chain::new(outline_with_darts(piece).segments().collect()).unwrap();
            let open = open.area_about_origin().abs();
            assert!((piece.signed_area().abs() - lost - open).abs() < 1e-3 * open);
        }
    }

    #[test]
    fn a_notch_that_lies_nowhere_is_told() {
        let mut pattern = block();
        let piece = &mut *pattern.pieces[0];
        let there = piece.notches[0].clone();
        piece.notches = vec![
            Notch { seam: "hood".into(), ..there.clone() },
            Notch { distance: 9e4, ..there.clone() },
            Notch { kind: NotchKind::Double, ..there },
        ];
        let markings = Markings::of(&pattern, &pattern.pieces[0], &[]);
        assert!(markings.faults[0].contains("not there"), "{:?}", markings.faults);
        assert!(markings.faults[1].contains("past the end"), "{:?}", markings.faults);
        let [double] = &markings.notches[..] else { panic!("one notch is left") };
        let apart = double.strokes[0].0.distance(double.strokes[1].0);
        assert!((apart - DOUBLE).abs() < 0.01, "{apart}");
    }
}
