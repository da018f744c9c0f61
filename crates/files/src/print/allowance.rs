//! Seam allowance: the cut line outside the sew line.

use super::PrintError;
use super::turn_up::turned_up;
use hangtrue_geometry::words::Length;
use hangtrue_geometry::{BezPath, Chain, GeometryError};
use hangtrue_pattern::{PatternError, Piece, Seam, names};

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
}

impl Allowance {
    /// The same allowance all round, mm.
    pub fn all_round(width: f64) -> Self {
        Self { all: width, seams: Vec::new() }
    }

    /// The same allowance with the seam of that name different on every piece.
    #[must_use]
    pub fn with(mut self, seam: &str, width: f64) -> Self {
        self.seams.push(SeamAllowance { piece: None, seam: seam.to_owned(), width });
        self
    }

    /// The allowance of a seam, mm: the last entry that names it.
    pub fn of(&self, piece: &str, seam: &str) -> f64 {
        let names_it = |s: &&SeamAllowance| {
            s.seam == seam && s.piece.as_deref().is_none_or(|named| named == piece)
        };
        self.seams.iter().rev().find(names_it).map_or(self.all, |s| s.width)
    }

    pub(crate) fn check(&self) -> Result<(), PrintError> {
        let named = self.seams.iter().map(|s| (s.seam.as_str(), s.width));
        for (seam, asked) in std::iter::once(("other seams", self.all)).chain(named) {
            if !(0.0..=WIDEST).contains(&asked) {
                let seam = seam.to_owned();
                return Err(PrintError::AllowanceAmount {
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
pub(crate) fn seam_with_caps(seam: &Seam) -> Result<Chain, PatternError> {
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
pub(crate) fn sew_line(piece: &Piece) -> Result<BezPath, PatternError> {
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

/// The cut line: every seam offset outwards by its allowance, exactly, and the
/// corners mitred; beside a hem the cut edges are mirrored at its fold.
pub(crate) fn cut_line(piece: &Piece, allowance: &Allowance) -> Result<BezPath, PrintError> {
    let wrong = |why: String| PrintError::AllowanceShape { piece: piece.name.clone(), why };
    let mut offsets = Vec::with_capacity(piece.seams.len());
    for (seam, edge) in piece.seams.iter().zip(edges_with_caps(piece)?) {
        let width = allowance.of(&piece.name, &seam.name);
        let out = if width > 0.0 { edge.offset(-width * piece.orientation()) } else { Ok(edge) };
        offsets.push(out.map_err(|e| wrong(format!("along the {}, {e}", seam.name)))?);
    }
    turn_hems_up(piece, allowance, &mut offsets).map_err(|e| wrong(format!("at the hem, {e}")))?;
    // The ring is opened in the middle of the first seam, so that every corner
    // lies between two seams that follow each other.
    let (last, mut ring) = {
        let half = offsets[0].length() / 2.0;
        offsets[0].split_at(half).map_err(|e| wrong(e.to_string()))?
    };
    for next in offsets.iter().skip(1).chain(std::iter::once(&last)) {
        ring = ring.mitred(next).map_err(|e| wrong(e.to_string()))?;
    }
    let mut path = ring.to_path();
    path.close_path();
    let grown = kurbo::Shape::area(&path).abs();
    if grown.is_nan() || grown + 1e-6 < piece.signed_area().abs() {
        return Err(wrong("the line would fold over itself".into()));
    }
    Ok(path)
}

/// Lets the edges beside each hem run on as they must to meet the leg when it is turned up.
fn turn_hems_up(
    piece: &Piece,
    allowance: &Allowance,
    offsets: &mut [Chain],
) -> Result<(), GeometryError> {
    let count = offsets.len();
    for (index, seam) in piece.seams.iter().enumerate().filter(|(_, s)| s.name == names::HEM) {
        let width = allowance.of(&piece.name, &seam.name);
        if width <= 0.0 || count < 3 {
            continue;
        }
        let (before, after) = ((index + count - 1) % count, (index + 1) % count);
        let edges = (&offsets[before], &offsets[index], &offsets[after]);
        let turned = turned_up(&seam.parts[0], width, edges)?;
        offsets[before] = turned.before;
        offsets[index] = turned.hem;
        offsets[after] = turned.after;
    }
    Ok(())
}

#[cfg(test)]
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
        });
        assert_eq!(allowance.of("back", "hem"), 40.0);
        assert_eq!(allowance.of("front", "hem"), 30.0);
        assert_eq!(allowance.of("front", "side"), 10.0);
    }
}
