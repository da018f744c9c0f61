//! A lay on paper and as a file: as a small picture with its measures, and at full size.

mod full;
mod picture;
mod told;

pub use full::{LayFile, full_size};
pub use picture::{PICTURE_SIZE, lay_picture, picture_file};
pub use told::{caution, how_it_lies, told};

use hangtrue_adjust::ClothLay;
use hangtrue_cut::{Cloth, CutSet};
use hangtrue_lay::{Lay, Needed};
use hangtrue_pattern::units::Unit;

/// A lay with what is told of it.
#[derive(Debug, Clone)]
pub struct OnCloth<'a> {
    /// The pieces that are cut.
    pub set: &'a CutSet,
    /// Of which cloth.
    pub of: Cloth,
    /// What is chosen for it.
    pub cloth: &'a ClothLay,
    /// Where everything lies.
    pub lay: &'a Lay,
    /// The length needed.
    pub needed: Needed,
    /// What is made.
    pub title: &'a str,
    /// Lines that stand under the name of each piece.
    pub label: Vec<String>,
    /// How lengths are shown.
    pub unit: Unit,
}
