//! Parts with their places.

use crate::{Bed, Faults, Part, Shape};
use hangtrue_adjust::LaidPiece;
use hangtrue_geometry::{Affine, Point, Rect, Vec2};

/// Where a part lies, mm: its box's lower left corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Along the cloth.
    pub x: f64,
    /// Across the cloth.
    pub y: f64,
    /// Turned by half.
    pub turned: bool,
    /// Half of it, its middle on the fold.
    pub on_fold: bool,
}

/// The parts of one cloth, some or all of them with a place.
#[derive(Debug, Clone, PartialEq)]
pub struct Lay {
    /// What they lie on.
    pub bed: Bed,
    /// The parts.
    pub parts: Vec<Part>,
    /// The place of each part; none where it has not been laid.
    pub places: Vec<Option<Place>>,
}

impl Lay {
    /// The parts with the places that were kept for them; what was kept for parts that are no
    /// longer cut is left out.
    pub fn kept(bed: Bed, parts: Vec<Part>, kept: &[LaidPiece]) -> Self {
        let places = parts
            .iter()
            .map(|part| {
                let its = |k: &&LaidPiece| k.piece == part.piece && k.copy == part.copy;
                kept.iter().find(its).map(|k| Place {
                    x: k.x,
                    y: k.y,
                    turned: k.turned,
                    on_fold: k.on_fold && part.may_lie_on_fold(),
                })
            })
            .collect();
        Self { bed, parts, places }
    }

    /// What is kept of it with a project.
    pub fn to_keep(&self) -> Vec<LaidPiece> {
        self.laid()
            .map(|(index, _, place)| LaidPiece {
                piece: self.parts[index].piece.clone(),
                copy: self.parts[index].copy,
                x: kept_to(place.x),
                y: kept_to(place.y),
                turned: place.turned,
                on_fold: place.on_fold,
            })
            .collect()
    }

    /// Every part that is laid: its index, its shape as it lies, its place.
    pub fn laid(&self) -> impl Iterator<Item = (usize, &Shape, Place)> {
        self.places.iter().enumerate().filter_map(|(index, place)| {
            let place = (*place)?;
            Some((index, self.parts[index].shape(place.turned, place.on_fold), place))
        })
    }

    /// The corners of a laid part on the cloth.
    pub fn corners(&self, index: usize) -> Option<Vec<Point>> {
        let place = self.places[index]?;
        let by = Vec2::new(place.x, place.y);
        let shape = self.parts[index].shape(place.turned, place.on_fold);
        Some(shape.corners.iter().map(|p| *p + by).collect())
    }

    /// From a piece as it is drawn to its place on the cloth.
    pub fn to_cloth(&self, index: usize) -> Option<Affine> {
        let place = self.places[index]?;
        let shape = self.parts[index].shape(place.turned, place.on_fold);
        Some(Affine::translate((place.x, place.y)) * shape.from_piece)
    }

    /// The box of a laid part on the cloth.
    pub fn bounds(&self, index: usize) -> Option<Rect> {
        let place = self.places[index]?;
        let size = self.parts[index].shape(place.turned, place.on_fold).size;
        Some(Rect::from_origin_size((place.x, place.y), (size.x, size.y)))
    }

    /// The length of cloth that is laid, mm.
    pub fn length(&self) -> f64 {
        self.laid().map(|(_, shape, place)| place.x + shape.size.x).fold(0.0, f64::max)
    }

    /// The area of the pieces that come of it, mm².
    pub fn area_of_pieces(&self) -> f64 {
        self.laid().map(|(i, ..)| self.parts[i].area * self.parts[i].count() as f64).sum()
    }

    /// The area of the cloth it takes, selvedges and both layers with it, mm².
    pub fn area_of_cloth(&self) -> f64 {
        self.length() * self.bed.across * self.bed.layers()
    }

    /// What part of the cloth the pieces fill; none where nothing is laid.
    pub fn filled(&self) -> Option<f64> {
        let cloth = self.area_of_cloth();
        (cloth > 0.0).then(|| self.area_of_pieces() / cloth)
    }

    /// What is wrong with it.
    pub fn faults(&self) -> Faults {
        crate::fault::faults(self)
    }
}

/// Places are kept to a hundredth of a millimetre.
fn kept_to(mm: f64) -> f64 {
    (mm * 100.0).round() / 100.0
}
