//! What is laid: every piece of a cloth as often as it is cut.

use crate::outline::{above_level, area, bounds, distance_to, polygon};
use crate::{Bed, LayError};
use hangtrue_cut::{Cloth, CutPiece, CutSet, Quantity};
use hangtrue_geometry::words::Length;
use hangtrue_geometry::{Affine, Point, Vec2};
use hangtrue_pattern::{Piece, names};

/// How near a piece must come to its own mirror image to be cut on the fold, mm.
const SYMMETRIC_WITHIN: f64 = 0.1;

/// Through how many layers a part is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Layers {
    /// The cloth lies open.
    Open,
    /// Through both layers of a folded cloth: it and its mirror image.
    Both,
    /// Through the upper layer alone; what lies below it is left over.
    Upper,
}

/// A part as it may lie, its box's lower left corner at the origin, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// Its corners.
    pub corners: Vec<Point>,
    /// From the piece as it is drawn to here.
    pub from_piece: Affine,
    /// Length and width.
    pub size: Vec2,
    /// How far along a print must meet the other legs.
    pub mark: Option<f64>,
}

/// One thing to lay.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// The piece.
    pub piece: String,
    /// Which of its copies, from one.
    pub copy: usize,
    /// Laid face down: cut from the right side of the cloth it is the mirror image.
    pub face_down: bool,
    /// Through how many layers it is cut.
    pub layers: Layers,
    /// The area of one piece, mm².
    pub area: f64,
    upright: Shape,
    turned: Shape,
    halves: Option<[Shape; 2]>,
}

impl Part {
    /// The shape it has when it lies so. Where it cannot lie on the fold it lies whole.
    pub fn shape(&self, turned: bool, on_fold: bool) -> &Shape {
        match (&self.halves, on_fold) {
            (Some(halves), true) => &halves[usize::from(turned)],
            _ if turned => &self.turned,
            _ => &self.upright,
        }
    }

    /// Whether it may be cut on the fold.
    pub fn may_lie_on_fold(&self) -> bool {
        self.halves.is_some()
    }

    /// How many pieces come of it.
    pub fn count(&self) -> usize {
        if self.layers == Layers::Both { 2 } else { 1 }
    }

    /// “back”, or “back 2” for a second copy.
    pub fn name(&self) -> String {
        if self.copy == 1 { self.piece.clone() } else { format!("{} {}", self.piece, self.copy) }
    }
}

/// Everything that is laid on one cloth: on an open one each piece and its mirror image, on a
/// folded one each pair once.
///
/// # Errors
/// [`LayError`] when nothing is cut from that cloth, or a piece is too wide for it.
pub fn parts_to_lay(set: &CutSet, of: Cloth, bed: &Bed) -> Result<Vec<Part>, LayError> {
    let mut parts = Vec::new();
    let set = &set.for_cloth(of);
    for known in &set.pieces {
        let Some(cut) = known.to_cut.iter().find(|cut| cut.cloth == of) else { continue };
        let piece = set
            .pattern
            .piece(&known.name)
            .map_err(|why| LayError::Cut(hangtrue_cut::CutError::from(why)))?;
        for (index, (face_down, layers)) in laid_how(cut.quantity, bed).into_iter().enumerate() {
            let part = part((set, known, piece), index + 1, face_down, layers)?;
            fits(&part, bed)?;
            parts.push(part);
        }
    }
    if parts.is_empty() {
        let (of, instead) = match of {
            Cloth::Main => ("the cloth", "draft or bring in a pattern first"),
            Cloth::Lining => ("lining", "choose in the cutting plan that back and front are lined"),
            Cloth::Interfacing => (
                "interfacing",
                "choose a waist piece, and in the cutting plan that it is interfaced",
            ),
            Cloth::Pocketing => ("pocketing", "choose a pocket in the cutting plan"),
        };
        return Err(LayError::Nothing { of, instead });
    }
    Ok(parts)
}

/// For each part: whether it lies face down, and through how many layers it is cut.
///
/// A folded cloth lies right sides together, so its upper layer shows the wrong side: a piece
/// that is cut of it alone lies face down. Of a pair either half may be the upper one.
fn laid_how(quantity: Quantity, bed: &Bed) -> Vec<(bool, Layers)> {
    let both = (false, Layers::Both);
    match (quantity, bed.folded) {
        (Quantity::One, false) => vec![(false, Layers::Open)],
        (Quantity::One, true) => vec![(true, Layers::Upper)],
        (Quantity::Pair, false) => vec![(false, Layers::Open), (true, Layers::Open)],
        (Quantity::Pair, true) => vec![both],
        (Quantity::TwoPairs, false) => {
            [false, true, false, true].map(|down| (down, Layers::Open)).to_vec()
        }
        (Quantity::TwoPairs, true) => vec![both, both],
    }
}

fn part(
    (set, known, piece): (&CutSet, &CutPiece, &Piece),
    copy: usize,
    face_down: bool,
    layers: Layers,
) -> Result<Part, LayError> {
    let along = Affine::rotate(-piece.grain.direction().atan2());
    let flip = if face_down { Affine::FLIP_Y } else { Affine::IDENTITY };
    let whole = polygon(&known.cut, flip * along * set.to_cloth(piece));
    let around = bounds(&whole);
    if whole.len() < 3 || area(&whole) < 1.0 {
        return Err(LayError::Empty { piece: known.name.clone() });
    }
    let mark = matched(piece);
    let to = flip * along * set.to_cloth(piece);
    let at_origin = Affine::translate(-around.origin().to_vec2());
    let upright = shape(&whole, at_origin, to, mark);
    let by_half = Affine::scale(-1.0);
    let turned = shape(&whole, corner_of(&whole, by_half) * by_half, to, mark);
    let halves = (layers == Layers::Upper).then(|| halves(&whole, to)).flatten();
    let area = known.area();
    Ok(Part { piece: known.name.clone(), copy, face_down, layers, area, upright, turned, halves })
}

/// The move that brings the box of the corners, laid so, to the origin.
fn corner_of(corners: &[Point], laid: Affine) -> Affine {
    let moved: Vec<Point> = corners.iter().map(|&p| laid * p).collect();
    Affine::translate(-bounds(&moved).origin().to_vec2())
}

fn shape(corners: &[Point], laid: Affine, from_piece: Affine, mark: Option<Point>) -> Shape {
    let corners: Vec<Point> = corners.iter().map(|&p| laid * p).collect();
    let from_piece = laid * from_piece;
    let size = bounds(&corners).size().to_vec2();
    Shape { corners, size, from_piece, mark: mark.map(|at| (from_piece * at).x) }
}

/// The two ways half a piece lies on the fold, when it is its own mirror image.
fn halves(whole: &[Point], to: Affine) -> Option<[Shape; 2]> {
    let middle = bounds(whole).center().y;
    let lowered: Vec<Point> = whole.iter().map(|p| Point::new(p.x, p.y - middle)).collect();
    let is_symmetric =
        lowered.iter().all(|p| distance_to(&lowered, Point::new(p.x, -p.y)) <= SYMMETRIC_WITHIN);
    if !is_symmetric {
        return None;
    }
    let half = above_level(&lowered);
    let to = Affine::translate((0.0, -middle)) * to;
    let lie = |end_for_end: Affine| {
        let laid = corner_of(&half, end_for_end) * end_for_end;
        shape(&half, laid, to, None)
    };
    Some([lie(Affine::IDENTITY), lie(Affine::FLIP_X)])
}

/// The place of a leg that must meet the same place of the print on every leg: the end of
/// its hem at the side, which is sewn to the other leg piece's.
fn matched(piece: &Piece) -> Option<Point> {
    let hem = piece.seam(names::HEM).ok()?;
    let at_side = piece.seam(names::SIDE).ok();
    let ends = [hem.start(), hem.end()];
    let Some(side) = at_side else { return Some(ends[0]) };
    let near = |p: &Point| p.distance(side.start()).min(p.distance(side.end()));
    ends.into_iter().min_by(|a, b| near(a).total_cmp(&near(b)))
}

fn fits(part: &Part, bed: &Bed) -> Result<(), LayError> {
    let wide = part.upright.size.y;
    // A part cut on the fold needs half of it.
    let on_fold = part.halves.as_ref().is_some_and(|[half, _]| half.size.y <= bed.high);
    if wide <= bed.free() || on_fold {
        return Ok(());
    }
    let instead = if bed.folded {
        "lay the cloth open, or take a wider one"
    } else {
        "take a wider cloth, or part the piece"
    };
    let (wide, free) = (Length(wide), Length(bed.free()));
    Err(LayError::TooWide { piece: part.piece.clone(), wide, free, instead })
}
