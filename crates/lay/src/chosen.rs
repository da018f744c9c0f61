//! What a project has chosen for each of its cloths.

use crate::{Bed, Lay, LayError, parts_to_lay};
use hangtrue_adjust::{ClothLay, Document, UsualLay};
use hangtrue_cut::{Cloth, CutSet};

/// What is chosen for a cloth, or the usual.
pub fn chosen(document: &Document, of: Cloth) -> ClothLay {
    let lays = &document.lays;
    let usual = UsualLay::of(document.unit);
    let (chosen, width) = match of {
        Cloth::Main => (&lays.cloth, usual.cloth),
        Cloth::Lining => (&lays.lining, usual.lining),
        Cloth::Interfacing => (&lays.interfacing, usual.interfacing),
        Cloth::Pocketing => (&lays.pocketing, usual.pocketing),
    };
    chosen.clone().unwrap_or_else(|| usual.lay(width))
}

/// Keeps what is chosen for a cloth.
pub fn choose(document: &mut Document, of: Cloth, cloth: ClothLay) {
    let lays = &mut document.lays;
    let chosen = match of {
        Cloth::Main => &mut lays.cloth,
        Cloth::Lining => &mut lays.lining,
        Cloth::Interfacing => &mut lays.interfacing,
        Cloth::Pocketing => &mut lays.pocketing,
    };
    *chosen = Some(cloth);
}

/// The pieces of a cloth where they were put; those that were not are without a place.
///
/// # Errors
/// [`LayError`] with what of the cloth cannot be meant, or which piece is too wide for it.
pub fn kept_lay(set: &CutSet, of: Cloth, cloth: &ClothLay) -> Result<Lay, LayError> {
    let bed = Bed::of(cloth)?;
    let parts = parts_to_lay(set, of, &bed)?;
    Ok(Lay::kept(bed, parts, &cloth.pieces))
}
