//! What each cloth loses after it is cut, and the pieces as they are cut for it.

use crate::{Cloth, CutError, CutPiece, CutSet};
use hangtrue_adjust::{CuttingPlan, OwnShrinkage, Shrinkage};
use hangtrue_geometry::Affine;
use hangtrue_pattern::Piece;
use hangtrue_pattern::words;
use hangtrue_pattern::words::Words;

/// What every cloth loses after it is cut.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ClothLoss {
    pub cloth: Shrinkage,
    pub own: OwnShrinkage,
}

impl ClothLoss {
    /// As the plan says.
    ///
    /// # Errors
    /// [`CutError::Shrinkage`] with the percentage that cannot be meant.
    pub fn of_plan(plan: &CuttingPlan) -> Result<Self, CutError> {
        let loss = Self { cloth: plan.shrinkage, own: plan.own_shrinkage };
        for cloth in Cloth::ALL {
            if let Some((of, percent)) = loss.of(cloth).fault() {
                return Err(CutError::Shrinkage { cloth: cloth.word(), of, percent });
            }
        }
        Ok(loss)
    }

    /// What that cloth loses.
    fn of(&self, cloth: Cloth) -> Shrinkage {
        own_shrinkage(&self.own, cloth).unwrap_or(self.cloth)
    }

    /// What stands on a piece that is drawn for one of its cloths.
    fn told_for(&self, drawn_for: Cloth) -> Option<Words> {
        let loss = self.of(drawn_for);
        let word = drawn_for.word();
        (!loss.is_none())
            .then(|| words![format!("drawn as it is cut, for {word} that "), loss.told()])
    }

    /// Whether a cloth loses something else than another.
    pub fn is_other(&self, cloth: Cloth, than: Cloth) -> bool {
        self.of(cloth) != self.of(than)
    }
}

/// What was chosen for a cloth by itself.
pub fn own_shrinkage(chosen: &OwnShrinkage, cloth: Cloth) -> Option<Shrinkage> {
    match cloth {
        Cloth::Main => None,
        Cloth::Lining => chosen.lining,
        Cloth::Interfacing => chosen.interfacing,
        Cloth::Pocketing => chosen.pocketing,
    }
}

/// Chooses what a cloth loses: of the cloth of the trousers, or of another by itself; none
/// where that is to be cut for the same loss.
pub fn choose_shrinkage(plan: &mut CuttingPlan, cloth: Cloth, chosen: Option<Shrinkage>) {
    match cloth {
        Cloth::Main => plan.shrinkage = chosen.unwrap_or_default(),
        Cloth::Lining => plan.own_shrinkage.lining = chosen,
        Cloth::Interfacing => plan.own_shrinkage.interfacing = chosen,
        Cloth::Pocketing => plan.own_shrinkage.pocketing = chosen,
    }
}

impl CutPiece {
    /// The cloth the piece is drawn for: the first of those it is cut from. The others lose the
    /// same; one that does not has a piece of its own.
    pub fn drawn_for(&self) -> Cloth {
        self.to_cut.first().map_or(Cloth::Main, |cut| cut.cloth)
    }
}

impl CutSet {
    /// The same pieces as they are drawn for one cloth, as large as it asks.
    #[must_use]
    pub fn for_cloth(&self, cloth: Cloth) -> Self {
        let mut set = self.clone();
        let loss = self.loss();
        set.pieces.iter_mut().for_each(|known| known.draw_for(&loss, cloth));
        set
    }

    /// What a cloth loses after it is cut.
    pub fn shrinkage_of(&self, cloth: Cloth) -> Shrinkage {
        self.loss().of(cloth)
    }

    fn loss(&self) -> ClothLoss {
        ClothLoss { cloth: self.shrinkage, own: self.own_shrinkage }
    }

    /// From the piece as it is sewn to the piece as it is cut: so much longer along its grain
    /// and wider across it as the cloth it is drawn for will lose.
    pub fn to_cloth(&self, piece: &Piece) -> Affine {
        let times = self.piece(&piece.name).map_or((1.0, 1.0), |known| known.times);
        to_cloth(times, piece)
    }
}

impl CutPiece {
    /// Draws it for a cloth, and says so in its last hint.
    pub(crate) fn draw_for(&mut self, loss: &ClothLoss, cloth: Cloth) {
        self.times = loss.of(cloth).times();
        if self.tells_loss {
            self.hints.pop();
        }
        let told = loss.told_for(cloth);
        self.tells_loss = told.is_some();
        self.hints.extend(told);
    }
}

/// Longer along the grain and wider across it, about the grainline's lower end.
fn to_cloth((long, wide): (f64, f64), piece: &Piece) -> Affine {
    if (long, wide) == (1.0, 1.0) {
        return Affine::IDENTITY;
    }
    let turn = Affine::rotate(piece.grain.direction().atan2());
    let home = Affine::translate(piece.grain.from.to_vec2());
    let stretch = Affine::scale_non_uniform(long, wide);
    home * turn * stretch * turn.inverse() * home.inverse()
}
