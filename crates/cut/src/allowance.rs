//! Seam allowance: the cut line outside the sew line.

use crate::CutError;
use crate::corner::{Corner, order_of_sewing};
use crate::turn_up::{height_of_turn_up, turned_up};
use hangtrue_geometry::words::Length;
use hangtrue_geometry::{BezPath, Chain, GeometryError, Line, PathSeg, tolerance};
use hangtrue_pattern::{End, PatternError, Piece, Seam, names};

/// The widest allowance that can be drawn, mm.
const WIDEST: f64 = 100.0;

/// How much cloth is left outside the seams, mm.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Allowance {
    /// On every seam not named below, mm.
    pub all: f64,
    /// Seams that differ.
    pub seams: Vec<SeamAllowance>,
}

/// The allowance of one seam.
#[derive(Debug, Clone, PartialEq)]
pub struct SeamAllowance {
    /// The piece; none for the seam of that name on every piece.
    pub piece: Option<String>,
    /// The seam.
    pub seam: String,
    /// The allowance, mm.
    pub width: f64,
    /// More at one end, run out to the width at the other.
    pub inlay: Option<Inlay>,
}

/// Cloth left at one end of a seam to be let out; it runs out smoothly over the whole seam.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inlay {
    /// The end of the seam.
    pub at: End,
    /// The allowance there, mm.
    pub width: f64,
}

/// The allowance along one seam, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Width {
    /// Where the seam starts.
    pub start: f64,
    /// Where it ends.
    pub end: f64,
}

impl Width {
    /// The same all along.
    pub fn even(width: f64) -> Self {
        Self { start: width, end: width }
    }

    /// The allowance at a part of the seam, 0 at its start and 1 at its end, and its slope.
    pub fn at(self, part: f64) -> (f64, f64) {
        // Level at both ends, so that the corners are those of an even allowance.
        let u = part.clamp(0.0, 1.0);
        let more = self.end - self.start;
        (self.start + more * u * u * (3.0 - 2.0 * u), more * 6.0 * u * (1.0 - u))
    }

    /// The wider end.
    pub fn most(self) -> f64 {
        self.start.max(self.end)
    }
}

impl Allowance {
    /// The same allowance all round, mm.
    pub fn all_round(width: f64) -> Self {
        Self { all: width, seams: Vec::new() }
    }

    /// The same allowance with the seam of that name different on every piece.
    #[must_use]
    pub fn with(mut self, seam: &str, width: f64) -> Self {
        let seam = seam.to_owned();
        self.seams.push(SeamAllowance { piece: None, seam, width, inlay: None });
        self
    }

    /// The allowance along a seam: the last entry that names it.
    pub fn along(&self, piece: &str, seam: &str) -> Width {
        let names_it = |s: &&SeamAllowance| {
            s.seam == seam && s.piece.as_deref().is_none_or(|named| named == piece)
        };
        let Some(own) = self.seams.iter().rev().find(names_it) else {
            return Width::even(self.all);
        };
        let mut width = Width::even(own.width);
        match own.inlay {
            Some(inlay) if inlay.at == End::Start => width.start = inlay.width,
            Some(inlay) => width.end = inlay.width,
            None => {}
        }
        width
    }

    /// Whether the piece has no allowance at any seam.
    pub fn is_none_on(&self, piece: &Piece) -> bool {
        piece.seams.iter().all(|s| self.along(&piece.name, &s.name).most() <= 0.0)
    }

    /// Refuses a width that cannot be drawn.
    ///
    /// # Errors
    /// [`CutError::AllowanceAmount`] with the seam.
    pub fn check(&self) -> Result<(), CutError> {
        let named = self.seams.iter().flat_map(|s| {
            let inlay = s.inlay.map(|i| i.width);
            std::iter::once(s.width).chain(inlay).map(|w| (s.seam.as_str(), w))
        });
        for (seam, asked) in std::iter::once(("other seams", self.all)).chain(named) {
            if !(0.0..=WIDEST).contains(&asked) {
                let seam = seam.to_owned();
                return Err(CutError::AllowanceAmount {
                    seam,
                    asked: Length(asked),
                    most: Length(WIDEST),
                });
            }
        }
        Ok(())
    }
}

/// The seam as it lies on paper: its parts with the dart caps between them.
pub fn seam_with_caps(seam: &Seam) -> Result<Chain, PatternError> {
    let joining = |source| PatternError::Geometry {
        what: format!("drawing the darts of the {}", seam.name),
        source,
    };
    let mut edge = seam.parts[0].clone();
    for (index, part) in seam.parts.iter().enumerate().skip(1) {
        // Legs are equal only to a tolerance; the cap is drawn from end to end.
        let cap = seam.cap(index - 1)?.with_ends(edge.end(), part.start());
        edge = edge.then(&cap).and_then(|e| e.then(part)).map_err(joining)?;
    }
    Ok(edge)
}

/// The sew line: the closed outline with dart caps.
pub fn sew_line(piece: &Piece) -> Result<BezPath, PatternError> {
    let edges = edges_with_caps(piece)?;
    let mut path = BezPath::new();
    path.move_to(edges[0].start());
    for edge in &edges {
        edge.append_to(&mut path);
    }
    path.close_path();
    Ok(path)
}

fn edges_with_caps(piece: &Piece) -> Result<Vec<Chain>, PatternError> {
    piece.seams.iter().map(seam_with_caps).collect()
}

/// The cut line: every seam offset outwards by its allowance, exactly, and the corners made
/// for how they are sewn (`corner.rs`); beside a hem the cut edges are mirrored at its fold.
///
/// # Errors
/// [`CutError`] when a cap or the line cannot be drawn.
pub fn cut_line(piece: &Piece, allowance: &Allowance) -> Result<BezPath, CutError> {
    let mut path = cut_chain(piece, allowance)?.to_path();
    path.close_path();
    Ok(path)
}

/// The cut line as a chain that ends where it starts, in the middle of the first seam.
///
/// # Errors
/// [`CutError`] when a cap or the line cannot be drawn.
pub fn cut_chain(piece: &Piece, allowance: &Allowance) -> Result<Chain, CutError> {
    let wrong = |why: String| CutError::AllowanceShape { piece: piece.name.clone(), why };
    let edges = edges_with_caps(piece)?;
    let widths: Vec<Width> =
        piece.seams.iter().map(|seam| allowance.along(&piece.name, &seam.name)).collect();
    let mut offsets = Vec::with_capacity(edges.len());
    for ((seam, edge), width) in piece.seams.iter().zip(&edges).zip(&widths) {
        let out = outside(edge, *width, piece.orientation());
        offsets.push(out.map_err(|e| wrong(format!("along the {}, {e}", seam.name)))?);
    }
    turn_hems_up(piece, &widths, &mut offsets).map_err(|e| wrong(format!("at the hem, {e}")))?;
    // The ring is opened in the middle of the first seam, so that every corner
    // lies between two seams that follow each other.
    let (last, mut ring) = {
        let half = offsets[0].length() / 2.0;
        offsets[0].split_at(half).map_err(|e| wrong(e.to_string()))?
    };
    let following = offsets.iter().skip(1).chain([&last]);
    for (index, next) in (1..).zip(following) {
        let corner = corner_of(piece, &edges, &widths, index % edges.len());
        ring = corner.joined(&ring, next).map_err(|e| wrong(e.to_string()))?;
    }
    let grown = ring.area_about_origin().abs();
    // With the caps of the darts: one may lie inside the straight across its mouth.
    let sewn = edges.iter().map(Chain::area_about_origin).sum::<f64>().abs();
    if grown.is_nan() || grown + AREA_ROUNDED < sewn {
        return Err(wrong("the line would fold over itself".into()));
    }
    without_slivers(&ring).map_err(|e| wrong(e.to_string()))
}

/// What the joining of edges whose ends meet only to a tolerance takes off an area, mm²: a
/// line that folds over itself loses hundreds of times as much.
const AREA_ROUNDED: f64 = 1.0;

/// Segments shorter than this are what rounding leaves where two edges are brought
/// together, mm.
const SLIVER: f64 = 5e-3;

/// The chain with its slivers taken up by what follows them.
fn without_slivers(ring: &Chain) -> Result<Chain, GeometryError> {
    let long = ring.segments().iter().zip(ring.lengths()).filter(|(_, length)| **length > SLIVER);
    let mut segments: Vec<PathSeg> = long.map(|(segment, _)| *segment).collect();
    let mut before = ring.start();
    for segment in &mut segments {
        match segment {
            PathSeg::Line(l) => l.p0 = before,
            PathSeg::Quad(q) => q.p0 = before,
            PathSeg::Cubic(c) => c.p0 = before,
        }
        before = kurbo::ParamCurve::end(segment);
    }
    if before.distance(ring.end()) > tolerance::SAME_POINT {
        segments.push(PathSeg::Line(Line::new(before, ring.end())));
    }
    Chain::new(segments)
}

/// The edge moved out by its allowance.
pub(crate) fn outside(
    edge: &Chain,
    width: Width,
    orientation: f64,
) -> Result<Chain, GeometryError> {
    if width.most() <= 0.0 {
        return Ok(edge.clone());
    }
    if width.start == width.end {
        return edge.offset(-width.start * orientation);
    }
    let length = edge.length();
    edge.offset_by(|s| {
        let (w, slope) = width.at(s / length);
        (-w * orientation, -slope / length * orientation)
    })
}

/// The corner where seam `index` starts.
fn corner_of(piece: &Piece, edges: &[Chain], widths: &[Width], index: usize) -> Corner {
    let before = (index + edges.len() - 1) % edges.len();
    let (arrives, leaves) = (&piece.seams[before].name, &piece.seams[index].name);
    // Beside a hem the edges are mirrored already and only have to meet.
    let beside_hem = [arrives, leaves].iter().any(|seam| *seam == names::HEM);
    let order =
        if beside_hem { (0, 0) } else { (order_of_sewing(arrives), order_of_sewing(leaves)) };
    Corner {
        at: edges[index].start(),
        directions: (edges[before].end_direction(), edges[index].start_direction()),
        widths: (widths[before].end, widths[index].start),
        order,
    }
}

/// Lets the edges beside each hem run on as they must to meet the leg when it is turned up.
fn turn_hems_up(
    piece: &Piece,
    widths: &[Width],
    offsets: &mut [Chain],
) -> Result<(), GeometryError> {
    let count = offsets.len();
    for (index, seam) in piece.seams.iter().enumerate().filter(|(_, s)| s.name == names::HEM) {
        let (up, width) = (height_of_turn_up(piece), widths[index].start);
        if (width <= 0.0 && up <= 0.0) || count < 3 {
            continue;
        }
        if up > 0.0 {
            let below = Width::even(2.0 * up + width);
            offsets[index] = outside(&seam.parts[0], below, piece.orientation())?;
        }
        let (before, after) = ((index + count - 1) % count, (index + 1) % count);
        let edges = (&offsets[before], &offsets[index], &offsets[after]);
        let turned = turned_up(&seam.parts[0], (up, width), edges)?;
        offsets[before] = turned.before;
        offsets[index] = turned.hem;
        offsets[after] = turned.after;
    }
    Ok(())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)] // a test stops at the first fault
mod tests {
    use super::*;
    use hangtrue_geometry::Point;
    use hangtrue_pattern::Grain;
    use kurbo::Shape;

    fn rectangle(width: f64, height: f64) -> Piece {
        let p = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)].map(Point::from);
        let names = ["hem", "inseam", "waist", "side"];
        let seam = |i: usize| {
            Seam::plain(names[i], &format!("corner {i}"), Chain::line(p[i], p[(i + 1) % 4]))
        };
        Piece {
            name: "back".into(),
            seams: (0..4).map(seam).collect(),
            grain: Grain { from: Point::new(50.0, 10.0), to: Point::new(50.0, 60.0) },
            notches: vec![],
            inner: vec![],
            parted: None,
        }
    }

    #[test]
    fn a_rectangle_grows_by_its_allowances() {
        // Closed form: width + both sides, height + hem + waist; mitred corners
        // keep it a rectangle.
        let allowance = Allowance::all_round(15.0).with("hem", 40.0).with("waist", 10.0);
        let path = cut_line(&rectangle(100.0, 70.0), &allowance).unwrap();
        let bounds = path.bounding_box();
        assert!((bounds.width() - 130.0).abs() < 1e-6);
        assert!((bounds.height() - 120.0).abs() < 1e-6);
        assert!((path.area().abs() - 130.0 * 120.0).abs() < 1e-6);
    }

    #[test]
    fn no_allowance_is_the_sew_line() {
        let piece = rectangle(100.0, 70.0);
        let path = cut_line(&piece, &Allowance::default()).unwrap();
        assert!((path.area().abs() - 7000.0).abs() < 1e-9);
    }

    #[test]
    fn an_absurd_allowance_is_refused_by_seam() {
        for width in [-1.0, f64::NAN, 500.0] {
            let fault = Allowance::all_round(10.0).with("hem", width).check().unwrap_err();
            assert!(fault.to_string().contains("hem"), "{fault}");
        }
    }

    #[test]
    fn the_piece_may_be_named() {
        let mut allowance = Allowance::all_round(10.0).with("hem", 40.0);
        allowance.seams.push(SeamAllowance {
            piece: Some("front".into()),
            seam: "hem".into(),
            width: 30.0,
            inlay: None,
        });
        assert_eq!(allowance.along("back", "hem"), Width::even(40.0));
        assert_eq!(allowance.along("front", "hem"), Width::even(30.0));
        assert_eq!(allowance.along("front", "side"), Width::even(10.0));
    }
}
