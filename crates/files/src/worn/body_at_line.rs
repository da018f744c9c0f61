//! What is known of the body at a line of a photo: how deep and how square it is there,
//! how long the line is from seam to seam, and whether leg is pressed to leg.

use super::name_in_reading;
use hangtrue_adjust::Document;
use hangtrue_adjust::reading::HangLine;
use hangtrue_adjust::worn::{BodyAtLine, LegSeen, LineMark, View, length_on_piece};
use hangtrue_drape::body::{Body, build, tape};
use hangtrue_pattern::{Measure, Measures, Pattern};

/// From its widest to its nearest as a share of half its width, how sure (one standard
/// deviation), and how square: our own estimates, no published source.
const USUAL: [(HangLine, View, [f64; 3]); 6] = [
    (HangLine::Hip, View::Back, [0.70, 0.09, 2.3]),
    (HangLine::Hip, View::Front, [0.62, 0.09, 2.3]),
    (HangLine::Thigh, View::Back, [0.97, 0.13, 2.2]),
    (HangLine::Thigh, View::Front, [0.97, 0.13, 2.2]),
    (HangLine::Knee, View::Back, [1.0, 0.13, 2.1]),
    (HangLine::Knee, View::Front, [1.0, 0.13, 2.1]),
];

/// How sure the depth of a body of the wearer's own measures is, share.
const OF_MEASURES: f64 = 0.1;

/// The inner ends of two legs' lines that lie nearer than this touch: a share of the
/// line's own width.
const TOUCHING: f64 = 0.05;

/// What is known at a line; none where the pattern does not have it, or from the side.
pub(super) fn body_at_line(
    pattern: &Pattern,
    wearer: Option<&Wearer>,
    view: View,
    mark: &LineMark,
    all: &[LineMark],
) -> Option<BodyAtLine> {
    let line = name_in_reading(&mark.name)?;
    let length = length_on_piece(pattern, &mark.name, mark.leg, view).ok()?;
    let (_, _, [depth, sure, square]) =
        USUAL.into_iter().find(|(of, from, _)| (*of, *from) == (line, view))?;
    let [depth, sure] = wearer
        .and_then(|wearer| wearer.depth_at(line, view))
        .map_or([depth, sure], |depth| [depth, OF_MEASURES]);
    Some(BodyAtLine { depth, sure, square, length, pressed: is_pressed(mark, all) })
}

/// Whether the inner ends of both legs' lines lie against each other.
fn is_pressed(mark: &LineMark, all: &[LineMark]) -> bool {
    let other = match mark.leg {
        LegSeen::Left => LegSeen::Right,
        LegSeen::Right => LegSeen::Left,
        LegSeen::Both => return false,
    };
    let fellow = all.iter().find(|l| l.name == mark.name && l.leg == other);
    let ends = |l: &LineMark| Some((*l.points.first()?, *l.points.last()?));
    let Some(((inner, side), (beside, _))) = ends(mark).zip(fellow.and_then(ends)) else {
        return false;
    };
    (inner - beside).hypot() < TOUCHING * (side - inner).hypot()
}

/// The wearer as far as the measures tell.
#[derive(Debug, Clone)]
pub struct Wearer {
    measures: Measures,
    body: Body,
}

/// The thigh line lies about so far under the fork, mm.
const UNDER_FORK: f64 = 40.0;

impl Wearer {
    /// The wearer of a project; none when measures are not known or contradict.
    pub fn of(document: &Document) -> Option<Self> {
        let (figure, measures) = (&document.figure, document.worn_by()?);
        let body = build(measures, &figure.breadths, &figure.handles).ok()?;
        Some(Self { measures: measures.clone(), body })
    }

    /// How high a line lies above the floor, mm, about.
    pub fn height_of(&self, line: HangLine) -> Option<f64> {
        let height = |m| self.measures.get_or_derived(m);
        match line {
            HangLine::Hip => height(Measure::HipHeight),
            HangLine::Thigh => Some(height(Measure::InsideLegHeight)? - UNDER_FORK),
            HangLine::Knee => height(Measure::KneeHeight),
            HangLine::Waist => height(Measure::WaistHeight),
            HangLine::Hem => None,
        }
    }

    /// The depth of the body at a line, as it faces the lens: a share of half its width
    /// there.
    fn depth_at(&self, line: HangLine, view: View) -> Option<f64> {
        let (z, shape) = (self.height_of(line)?, &self.body.shape);
        let seat = matches!(line, HangLine::Hip | HangLine::Waist);
        let middle = (if seat { 0.0 } else { shape.leg.x.at(z) }, shape.leg.y.at(z));
        let points: Vec<_> =
            tape::section(shape, middle, z).into_iter().filter(|p| seat || p.x > 0.0).collect();
        let widest = points.iter().copied().reduce(|a, b| if b.x > a.x { b } else { a })?;
        let inner = points.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
        let away = if view == View::Front { 1.0 } else { -1.0 };
        let near = points.iter().map(|p| away * (p.y - widest.y)).fold(0.0, f64::max);
        let share = near / (0.5 * (widest.x - inner));
        share.is_finite().then_some(share)
    }
}
