//! What there is to sew.

use crate::widths::base_name;
use crate::{Cloth, CutSet};
use hangtrue_adjust::{CuttingPlan, Document, FrontPocket, WaistFinish};
use hangtrue_pattern::words::{Length, Words};
use hangtrue_pattern::{Leg, Piece, names, words};

/// The pieces of a set and what was chosen for them.
pub(crate) struct There<'a> {
    pub set: &'a CutSet,
    pub plan: &'a CuttingPlan,
}

impl<'a> There<'a> {
    pub fn of(set: &'a CutSet, document: &'a Document) -> Self {
        Self { set, plan: &document.cutting }
    }

    /// The pieces of the pattern that are backs, or fronts.
    pub fn bodies(&self, base: &str) -> Vec<&'a Piece> {
        let pieces = self.set.pattern.pieces.iter().map(|p| &**p);
        pieces.filter(|p| base_name(p) == base && self.is_of_pattern(&p.name)).collect()
    }

    /// Names of backs and fronts.
    pub fn legs(&self) -> Vec<String> {
        let of = |base| self.bodies(base).into_iter().map(|p| p.name.clone());
        of(names::BACK).chain(of(names::FRONT)).collect()
    }

    /// Pieces of the pattern that are neither back nor front.
    pub fn others(&self) -> Vec<String> {
        let pieces = self.set.pieces.iter().filter(|p| p.is_of_pattern);
        let legs = self.legs();
        pieces.map(|p| p.name.clone()).filter(|name| !legs.contains(name)).collect()
    }

    fn is_of_pattern(&self, name: &str) -> bool {
        self.set.piece(name).is_some_and(|known| known.is_of_pattern)
    }

    /// The made pieces called so: alone, or with a leg or a piece of the body behind it.
    pub fn made(&self, base: &str) -> Vec<String> {
        let bodies = [names::BACK, names::FRONT];
        let is_one = |name: &str| {
            let Some(rest) = name.strip_prefix(base) else { return false };
            let Some(behind) = rest.strip_prefix(' ') else { return rest.is_empty() };
            Leg::BOTH.iter().any(|leg| behind == leg.word())
                || bodies.iter().any(|body| behind.starts_with(body))
        };
        let pieces = self.set.pieces.iter().filter(|p| !p.is_of_pattern && p.copy_of.is_none());
        pieces.map(|p| p.name.clone()).filter(|name| is_one(name)).collect()
    }

    /// The made pieces called by any of these names.
    pub fn all_made(&self, bases: &[&str]) -> Vec<String> {
        bases.iter().flat_map(|base| self.made(base)).collect()
    }

    /// The pieces that are cut in that cloth too.
    pub fn of_cloth(&self, cloth: Cloth) -> Vec<String> {
        let pieces = self.set.pieces.iter();
        let of = pieces.filter(|p| p.to_cut.iter().any(|cut| cut.cloth == cloth));
        of.map(|p| p.name.clone()).collect()
    }

    /// The pieces of cloth that are cut in another too, by itself or not.
    pub fn backed_with(&self, cloth: Cloth) -> Vec<String> {
        let pieces = self.set.pieces.iter();
        let of = pieces.filter(|p| p.to_cut.iter().any(|cut| cut.cloth == cloth));
        of.map(|p| p.copy_of.as_ref().unwrap_or(&p.name).clone()).collect()
    }

    /// Whether a piece is there for another cloth than its own.
    fn is_copy(&self, name: &str) -> bool {
        self.set.piece(name).is_some_and(|known| known.copy_of.is_some())
    }

    /// Names without those of pieces that are there for another cloth.
    pub fn without_copies(&self, names: &[String]) -> Vec<String> {
        names.iter().filter(|name| !self.is_copy(name)).cloned().collect()
    }

    /// The pieces with darts that are sewn down, or with pleats.
    pub fn with_darts(&self, pleats: bool) -> Vec<String> {
        let has = |piece: &&Piece| {
            let mut darts = piece.seams.iter().flat_map(|seam| &seam.darts);
            darts.any(|dart| names::is_pleat(&dart.name) == pleats)
        };
        let pieces = self.set.pattern.pieces.iter().map(|p| &**p);
        pieces.filter(|p| has(p) && !self.is_copy(&p.name)).map(|p| p.name.clone()).collect()
    }

    /// The pieces with a turn-up.
    pub fn with_turn_up(&self) -> Vec<String> {
        let has = |piece: &&Piece| piece.inner.iter().any(|line| line.name == names::TURN_UP);
        let pieces = self.set.pattern.pieces.iter().map(|p| &**p);
        pieces.filter(|p| has(p) && !self.is_copy(&p.name)).map(|p| p.name.clone()).collect()
    }

    /// The front is cut away for a pocket whose facing shows in the opening.
    pub fn is_cut_away(&self) -> bool {
        matches!(self.plan.pockets.front, FrontPocket::Slant | FrontPocket::Jeans)
    }

    pub fn is_banded(&self) -> bool {
        matches!(self.plan.waist, WaistFinish::Straight { .. } | WaistFinish::Shaped { .. })
    }

    /// How far in from the cut edge a seam is sewn, after a comma.
    pub fn in_from_edge(&self, base: &str, seam: &str) -> Words {
        let Some(piece) = self.bodies(base).into_iter().next() else { return Words::default() };
        let along = self.set.allowance.along(&piece.name, seam);
        let (most, least) = (along.most(), along.start.min(along.end));
        if most <= 0.0 {
            words![", along the edge itself: it was cut without allowance"]
        } else if most > least {
            words![
                ", on the line; the allowance is ",
                width(most),
                " and runs out to ",
                width(least)
            ]
        } else {
            words![", ", width(most), " in from the edge"]
        }
    }
}

/// A width, without decimals where it has none.
pub(crate) fn width(mm: f64) -> Words {
    if mm.fract() == 0.0 { words![(Length(mm), 0)] } else { words![Length(mm)] }
}

/// “back and front”, “a, b and c”.
pub(crate) fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}
