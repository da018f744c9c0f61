//! What one of its cloths needs in another shape than the first becomes a piece of its own,
//! so that its paper is cut round as it is. Lining is whole where the cloth is cut away for
//! a pocket, it has no turn-up and nothing cut on; and a cloth that shrinks or stretches
//! otherwise is cut as much larger or smaller. Common practice, no published source.

use crate::making::{Making, Makings, Wide};
use crate::names as made;
use crate::shrunk::ClothLoss;
use crate::turn_up::height_of_turn_up;
use crate::{Cloth, Drill, ToCut};
use hangtrue_pattern::words::Words;
use hangtrue_pattern::{Join, JoinSide, Leg, Piece, words};

/// What is lined, as it is before pockets are cut into it.
pub(crate) struct Whole {
    pieces: Vec<(Piece, Vec<Drill>)>,
    joins: Vec<Join>,
}

impl Whole {
    /// As the pieces stand now.
    pub fn of(makings: &Makings) -> Self {
        let lined = makings.pieces.iter().filter(|making| making.is_cut_of(Cloth::Lining));
        Self {
            pieces: lined.map(|making| (making.piece.clone(), making.marks.clone())).collect(),
            joins: makings.joins.clone(),
        }
    }

    /// Gives each cloth that needs it a piece of its own, behind the piece it is of.
    pub fn part(self, makings: &mut Makings, loss: &ClothLoss) {
        let mut named: Vec<(String, String)> = Vec::new();
        let mut pieces = Vec::with_capacity(makings.pieces.len());
        for mut making in std::mem::take(&mut makings.pieces) {
            let mut own = Vec::new();
            if let Some(lining) = self.lining(&mut making, loss) {
                named.push((making.piece.name.clone(), lining.piece.name.clone()));
                own.push(lining);
            }
            own.extend(of_other_loss(&mut making, loss));
            pieces.push(making);
            pieces.extend(own);
        }
        makings.pieces = pieces;
        let joins = self.joins.iter().filter_map(|join| self.joined(join, &named));
        makings.joins.extend(joins);
    }

    /// The lining of a piece, where it is another than its cloth.
    fn lining(&self, making: &mut Making, loss: &ClothLoss) -> Option<Making> {
        let (whole, marks) = self.pieces.iter().find(|(p, _)| p.name == making.piece.name)?;
        let mut hints: Vec<Words> = Vec::new();
        if making.piece.seam(made::POCKET_OPENING).is_ok() {
            hints.push(words!["whole, not cut away for the pocket"]);
        }
        if height_of_turn_up(whole) > 0.0 {
            hints.push(words!["without the turn-up"]);
        }
        if !making.growths.is_empty() {
            hints.push(words!["without what is cut on for the opening"]);
        }
        if hints.is_empty() && !loss.is_other(Cloth::Lining, making.drawn_for()) {
            return None;
        }
        let cut = making.taken_out(Cloth::Lining)?;
        let of = &whole.name;
        // Each seam as wide as that of the cloth it is sewn to.
        let as_cloth = whole.seams.iter().map(|seam| {
            let same = making.widths.iter().find(|(name, _)| *name == seam.name);
            let (piece, name) = (of.clone(), seam.name.clone());
            let own = Wide::PartOf { piece, seam: name, part: (0.0, 1.0) };
            (seam.name.clone(), same.map_or(own, |(_, wide)| wide.clone()))
        });
        let widths = as_cloth.collect();
        let mut piece = whole.clone();
        piece.name = named(of, Cloth::Lining);
        piece.parted = None;
        piece.inner.clear();
        Some(Making {
            piece,
            to_cut: vec![cut],
            folds: Vec::new(),
            hints,
            of: making.of.clone(),
            widths,
            growths: Vec::new(),
            marks: marks.clone(),
            copy_of: Some(of.clone()),
        })
    }

    /// A join between pieces of the cloth as it is between those of the lining.
    fn joined(&self, join: &Join, named: &[(String, String)]) -> Option<Join> {
        let lined = |side: &JoinSide| self.pieces.iter().any(|(p, _)| p.name == side.piece);
        let new = |name: &str| named.iter().find(|(of, _)| of == name).map(|(_, own)| own.clone());
        if !join.sides().all(lined) || !join.sides().any(|side| new(&side.piece).is_some()) {
            return None;
        }
        let side = |side: &JoinSide| JoinSide {
            piece: new(&side.piece).unwrap_or_else(|| side.piece.clone()),
            ..side.clone()
        };
        Some(Join {
            name: format!("{} of the lining", join.name),
            first: side(&join.first),
            second: join.second.as_ref().map(side),
            ease: join.ease,
        })
    }
}

/// The same piece for each of its cloths that loses something else than the first.
fn of_other_loss(making: &mut Making, loss: &ClothLoss) -> Vec<Making> {
    let first = making.drawn_for();
    let cloths: Vec<Cloth> = making.to_cut.iter().map(|cut| cut.cloth).collect();
    let others = cloths.into_iter().filter(|cloth| loss.is_other(*cloth, first));
    let mut own = Vec::new();
    for cloth in others {
        let Some(cut) = making.taken_out(cloth) else { continue };
        let mut copy = making.clone();
        let as_cloth = copy.piece.seams.iter().map(|seam| {
            let (piece, part) = (making.piece.name.clone(), (0.0, 1.0));
            let wide = Wide::PartOf { piece, seam: seam.name.clone(), part };
            let same = making.widths.iter().find(|(name, _)| *name == seam.name);
            (seam.name.clone(), same.map_or(wide, |(_, wide)| wide.clone()))
        });
        copy.widths = as_cloth.collect();
        copy.copy_of = Some(copy.piece.name.clone());
        copy.piece.name = named(&copy.piece.name, cloth);
        copy.piece.parted = None;
        copy.to_cut = vec![cut];
        own.push(copy);
    }
    own
}

/// The name of a piece in another cloth: “front lining”, “front lining left”.
fn named(piece: &str, cloth: Cloth) -> String {
    let leg = Leg::BOTH
        .into_iter()
        .find_map(|leg| piece.strip_suffix(leg.word()).map(|name| (name.trim_end(), leg.word())));
    match leg {
        Some((name, leg)) => format!("{name} {} {leg}", cloth.word()),
        None => format!("{piece} {}", cloth.word()),
    }
}

impl Making {
    fn is_cut_of(&self, cloth: Cloth) -> bool {
        self.to_cut.iter().any(|cut| cut.cloth == cloth)
    }

    /// The cloth it is drawn for: the first.
    fn drawn_for(&self) -> Cloth {
        self.to_cut.first().map_or(Cloth::Main, |cut| cut.cloth)
    }

    /// Takes a cloth off what the piece is cut of.
    fn taken_out(&mut self, cloth: Cloth) -> Option<ToCut> {
        let at = self.to_cut.iter().position(|cut| cut.cloth == cloth)?;
        Some(self.to_cut.remove(at))
    }
}
